//! `assess --json`. The keys change only with `format`.

use serde_json::{Value, json};

use crate::physics::assumptions::{self, Assumptions};
use crate::physics::design::Design;
use crate::physics::durability::held::Held;
use crate::physics::durability::help::{self, Wing};
use crate::physics::durability::index::{EventResult, Hands};
use crate::physics::durability::resistance;
use crate::physics::evaluation::Evaluation;
use crate::physics::flight::speeds::PolarPoint;
use crate::physics::loads::case::Support;
use crate::physics::mass::tally::Part;
use crate::physics::strength::judged::judged;
use crate::physics::strength::{MODES, Margin, NOT_ASSESSED, Verdict};
use crate::report::service::{core_share, service_c};

/// Infinite and undefined become null: JSON has no word for them.
fn num(value: f64) -> Value {
    if value.is_finite() { json!(value) } else { Value::Null }
}

/// All of an evaluation.
pub fn evaluation(design: &Design, e: &Evaluation) -> Value {
    json!({
        "format": 1,
        "scenario": { "name": design.name, "note": design.note, "caution": super::CAUTIONS },
        "scores": scores(design, e),
        "layout": layout(design, e),
        "constructions": super::layup::json(design, e),
        "weight": { "sd_kg": num(e.weight.sd_kg), "cg_x_m": num(e.weight.cg_x_m), "roll_inertia_kg_m2": num(e.weight.roll_inertia_kg_m2), "by_name": super::parts::json(design, e) },
        "parts": e.weight.parts.iter().map(part).collect::<Vec<_>>(),
        "loads": loads(design, e),
        "margins": e.margins.iter().map(|m| margin(design, m, e)).collect::<Vec<_>>(),
        "durability": durability(design, e),
        "flight": flight(design, e),
        "vibration": super::vibration::json(design, e),
        "samples": super::samples::json(design, e),
        "work": {
            "set_up_minutes": num(e.work.set_up_minutes), "largest_piece_m": num(e.work.largest_piece_m),
            "heaviest_piece_kg": num(e.work.heaviest_piece_kg),
            "lines": e.work.lines.iter().map(|(what, hours, material)| json!({"what": what, "hours": num(*hours), "material": num(*material)})).collect::<Vec<_>>(),
        },
        "assumptions": assumptions::LIST.iter().map(|a| json!({"key": a.key, "title": a.title, "spread": a.beta, "source": a.source})).collect::<Vec<_>>(),
        "warnings": e.warnings,
    })
}

/// The scores other programs rely on.
pub fn scores(design: &Design, e: &Evaluation) -> Value {
    let (w, d, f) = (&e.weight, &e.durability, &e.flight);
    let zone = |i: usize| e.layout.zones.get(i);
    let least = e.strength.least.and_then(|i| e.margins.get(i));
    json!({
        "weight_kg": {
            "as_drawn": num(w.drawn_kg), "expected": num(w.expected_kg), "p10": num(w.p10_kg), "p50": num(w.p50_kg), "p90": num(w.p90_kg),
            "budget": num(w.budget_kg), "target": design.targets.wing_mass_kg, "chance": w.chance_of_target,
        },
        "durability_index": { "value": num(d.index), "p10": num(d.index_p10), "p90": num(d.index_p90) },
        "repair_h_per_100": num(d.repair_h),
        "outings_lost_per_100": num(d.outings_lost),
        "unseen_per_100": num(d.unseen),
        "least_press_n": {
            "value": num(d.least_press.value_n), "kind": d.least_press.kind.word(),
            "strip": zone(d.least_press.zone).map(|z| z.strip.key()), "bay": zone(d.least_press.zone).map(|z| z.bay + 1),
        },
        "least_ball_n": num(d.least_ball.value_n),
        "press_safe_share": num(d.press_safe_share),
        "hold_safe_share": num(Held::of(design, e).share),
        "verdict": e.strength.verdict.word(),
        "least_margin": {
            "value": least.map(|m| num(m.rf - 1.0)), "mode": least.map(|m| m.mode), "bay": least.and_then(|m| m.bay).map(|b| b + 1),
            "judged_at": least.map(|m| judged(design, m).key()),
            "case": least.and_then(|m| m.case).and_then(|c| e.loads.cases.get(c)).map(|c| c.key),
            "short": e.strength.short, "short_as_seen": super::seen::short(design, e), "not_shown": e.strength.not_shown, "cases_off": e.strength.cases_off, "not_assessed": NOT_ASSESSED,
            "accepted": design.accepted.iter().map(|a| json!({
                "mode": a.key, "reason": a.reason,
                "short_if_counted": super::text::if_counted(e, &a.key).map(|s| json!({"places": s.places, "least_margin": num(s.margin), "bay": s.bay.map(|b| b + 1)})),
            })).collect::<Vec<_>>(),
        },
        "stall_m_s": num(f.stall_m_s),
        "least_sink_m_s": num(f.least_sink_m_s.likely),
        "best_glide": num(f.best_glide.likely),
        "launch": { "wing_float_m_s": num(f.wing_float_m_s), "ground_speed_m_s": num(f.ground_speed_m_s), "hands_n": num(f.hands_n) },
        "hours": num(e.work.hours),
        "pieces": e.work.pieces,
        "heaviest_piece": { "kg": num(e.work.heaviest_piece_kg), "lifting_index": e.work.lifting_index.map(num) },
        "cost": { "value": num(e.work.cost), "currency": design.rates.currency },
    })
}

/// Planform and stations of the half wing.
fn layout(design: &Design, e: &Evaluation) -> Value {
    let l = &e.layout;
    let stations: Vec<Value> = l
        .stations()
        .map(|s| {
            json!({
                "y_m": num(s.y_m), "chord_m": num(s.chord_m), "x_le_m": num(s.x_le_m), "twist_rad": num(s.twist_rad),
                "thickness_share": num(s.thickness_frac), "spar_share": num(s.spar_frac), "spar_depth_m": num(s.spar_depth_m),
            })
        })
        .collect();
    json!({
        "half_span_m": num(l.half_span_m), "area_m2": num(l.area_m2), "aspect_ratio": num(l.aspect_ratio), "root_chord_m": num(l.root_chord_m),
        "tip_chord_m": num(l.tip_chord_m), "mean_chord_m": num(l.mac_m), "mean_chord_y_m": num(l.mac_y_m), "mean_chord_x_le_m": num(l.mac_x_le_m),
        "wetted_m2": num(l.wetted_m2), "hinge_share": num(design.hinge_frac), "stations": stations,
    })
}

fn part(p: &Part) -> Value {
    json!({
        "heading": p.heading.word(), "name": p.name, "strip": p.strip.map(crate::physics::design::Strip::key), "bay": p.bay.map(|b| b + 1),
        "nominal_kg": num(p.nominal_kg), "growth": num(p.growth), "sd_kg": num(p.sd_kg), "x_m": num(p.x_m), "y_m": num(p.y_m),
    })
}

fn loads(design: &Design, e: &Evaluation) -> Value {
    let l = &e.loads;
    let stations: Vec<Value> = e.layout.stations().map(|s| num(s.y_m)).collect();
    let all = |v: &[f64]| v.iter().map(|x| num(*x)).collect::<Vec<_>>();
    let cases: Vec<Value> = l
        .loads
        .iter()
        .enumerate()
        .filter_map(|(i, c)| {
            let case = l.cases.get(c.case)?;
            let bent = e.bending.get(i);
            // Held elsewhere than at the root, it is the supports that make the moment there.
            let part = |nm: f64| if case.support == Support::Root { num(nm) } else { Value::Null };
            Some(json!({
                "key": case.key, "title": case.title, "n": num(case.n), "speed_m_s": num(case.speed_m_s), "pilot_kg": num(case.pilot_kg),
                "trim": super::load::trim_json(case), "source": case.source, "formula_n": super::case_words::about(case).formula, "formula": super::load::FORMULA, "method": super::load::SOURCE,
                "inputs": super::load::inputs(e, i).into_iter().map(|(k, v, unit)| (k.to_owned(), json!({"value": num(v), "unit": unit}))).collect::<serde_json::Map<_, _>>(),
                "shear_n": all(c.shear_n()), "moment_nm": all(c.moment_nm()), "torque_nm": all(c.torque_nm()), "inplane_nm": all(c.inplane_nm()),
                "deflection_m": bent.map_or_else(Vec::new, |b| all(b.deflection_m())), "twist_rad": bent.map_or_else(Vec::new, |b| all(b.twist_rad())),
                "air_root_nm": part(c.air_root_nm), "yielding_root_nm": part(c.yielding_root_nm), "relief_root_nm": part(c.relief_root_nm),
            }))
        })
        .collect();
    let off: Vec<Value> =
        l.cases.iter().filter_map(|c| c.excused.as_ref().map(|r| json!({"key": c.key, "reason": r}))).collect();
    let sections: Vec<Value> = e
        .sections
        .iter()
        .map(|s| {
            json!({
                "ei_nm2": num(s.ei_nm2), "ei_inplane_nm2": num(s.ei_inplane_nm2), "gj_nm2": num(s.gj_nm2),
                "shear_centre_aft_of_spar_m": num(s.shear_centre_m), "nose_cell_m2": num(s.nose_cell_m2),
                "aft_cell_m2": num(s.aft_cell_m2), "two_cells": s.two_cells, "cap_lever_m": num(s.cap_lever_m),
                "upper_fibre_m": num(s.upper_fibre_m), "lower_fibre_m": num(s.lower_fibre_m),
                "inplane_cap_fibre_m": num(s.inplane_cap_fibre_m), "inplane_nose_fibre_m": num(s.inplane_nose_fibre_m), "inplane_nose_mean_m": num(s.inplane_nose_mean_m), "inplane_aft_mean_m": num(s.inplane_aft_mean_m),
            })
        })
        .collect();
    let lift = &e.lift;
    json!({
        "limits": design.limits.as_ref().map(|l| json!({
            "key": l.key, "source": l.source, "n_positive": num(l.n_positive), "n_negative": num(l.n_negative), "safety_factor": num(l.safety_factor),
            "extra_factor": num(l.extra_factor), "dive_speed_m_s": num(l.dive_speed_m_s), "gust_m_s": num(l.gust_m_s), "gust_dive_m_s": num(l.gust_dive_m_s),
        })),
        "manoeuvre_speed_m_s": num(l.manoeuvre_speed_m_s), "rough_air_speed_m_s": num(l.rough_air_speed_m_s), "rough_air": super::load::rough_air_json(design, e),
        "lift": {
            "y_m": all(&lift.y_m), "chord_m": all(&lift.chord_m), "additional_m": all(&lift.additional_m), "basic_m": all(&lift.basic_m),
            "section_cl_max": all(&lift.section_cl_max), "cl_max": num(lift.cl_max), "cl_max_at": num(lift.cl_max_eta),
        },
        "stations_m": stations, "sections": sections, "cases": cases, "switched_off": off, "cases_off": l.cases_off, "passes": e.passes, "settled": e.settled,
        "sizing": { "upper": e.sizing.upper, "lower": e.sizing.lower, "web": e.sizing.web, "at_limit": e.sizing.at_limit, "units": {
            "upper": "layers of the cap", "lower": "layers of the cap", "web": "more plies on each face of the web than are drawn" } },
        "nose_steps": super::nose_steps::json(design, e),
    })
}

fn margin(design: &Design, m: &Margin, e: &Evaluation) -> Value {
    let mode = MODES.iter().find(|x| x.key == m.mode);
    let inputs: serde_json::Map<String, Value> =
        m.inputs.iter().map(|i| (i.label.to_owned(), json!({"value": num(i.value), "unit": i.unit}))).collect();
    let (verdict, why) = match m.verdict {
        Verdict::Holds => ("holds", None),
        Verdict::Short => ("short", None),
        Verdict::NotShown(why) => ("not shown", Some(why)),
    };
    json!({
        "mode": m.mode, "bay": m.bay.map(|b| b + 1), "strip": m.strip.map(crate::physics::design::Strip::key),
        "case": m.case.and_then(|c| e.loads.cases.get(c)).map(|c| c.key),
        "margin": num(m.rf - 1.0), "judged_at": judged(design, m).key(), "verdict": verdict, "why": why, "applied": num(m.applied), "allowable": num(m.allowable), "unit": m.unit,
        "service": { "skin_c": num(service_c(design, m.strip)), "core_share": num(core_share(design, m.strip)), "extra_factor": design.limits.as_ref().map(|l| l.extra_factor) },
        "inputs": inputs, "formula": mode.map(|x| x.formula), "source": mode.map(|x| x.source),
    })
}

/// The best single change of each construction, zone and habit, most index first.
fn help(design: &Design, e: &Evaluation) -> Value {
    let wing = Wing { design, layout: &e.layout, skins: &e.skins, weight: &e.weight, now: &e.durability };
    let each = |h: &help::Help| {
        json!({
            "on": h.on.word(), "what": h.what, "index_gain": num(h.index_gain), "repair_h_gain": num(h.repair_h_gain),
            "grams": num(h.grams), "build_h": num(h.build_h), "per_100_g": h.per_100_g(), "per_hour": h.per_hour(),
        })
    };
    let list = help::what_would_help(&wing, &Assumptions::default());
    let [gram, hour, habit] = help::best(&list).map(|h| h.map(each));
    json!({ "weakest": help::weakest(&wing), "most_a_gram": gram, "most_an_hour": hour, "best_habit": habit, "changes": list.iter().map(each).collect::<Vec<_>>() })
}

/// How far what each construction in use stands scatters, and why.
fn spread(design: &Design, e: &Evaluation) -> Value {
    let used = |i: usize| e.layout.zones.iter().any(|z| z.construction == i);
    let each = design.constructions.iter().zip(&e.skins).enumerate().filter(|(i, _)| used(*i));
    Value::Object(each.map(|(_, (c, s))| (c.key.clone(), super::spread::json(s, c, &design.library))).collect())
}

fn durability(design: &Design, e: &Evaluation) -> Value {
    let d = &e.durability;
    let held = Held::of(design, e);
    let zones: Vec<Value> = e
        .layout
        .zones
        .iter()
        .zip(&d.zones)
        .zip(held.may.iter().zip(&held.palm_n))
        .map(|((z, r), (may, palm_n))| {
            json!({
                "strip": z.strip.key(), "bay": z.bay + 1, "area_m2": num(z.area_m2), "press_n": num(r.press_n), "press_kind": r.press_kind.word(),
                "ball_n": num(r.ball_n), "ball_kind": r.ball_kind.word(), "extrapolated": r.extrapolated,
                "press_extrapolated": r.press_extrapolated, "ball_extrapolated": r.ball_extrapolated, "repair_h_per_100": num(r.repair_h),
                "outings_lost_per_100": num(r.outings_lost), "unseen_per_100": num(r.unseen), "hold_safe": *may == Hands::Hold, "palm_safe": r.palm_safe, "palm_n": palm_n.map(num),
            })
        })
        .collect();
    let events: Vec<Value> = d
        .events
        .iter()
        .map(|v| {
            json!({
                "key": v.key, "title": v.title, "per_100_outings": num(v.per_100_outings), "share_on_holds_and_rests": num(v.moved), "marks": num(v.marks), "holes": num(v.holes),
                "repair_h": num(v.repair_h), "outings_lost": num(v.outings_lost), "unseen": num(v.unseen), "soft_spot_h": num(v.soft_h), "worst_at": worst(e, v), "cause": design.care.catalogue.find(v.key).map(|x| x.cause.words()), "source": design.care.catalogue.source(v.key), "assumption": v.assumption,
            })
        })
        .collect();
    let rests: Vec<Value> = d
        .rests_on
        .iter()
        .filter_map(|(i, s)| {
            assumptions::LIST
                .get(*i)
                .map(|a| json!({"key": a.key, "title": a.title, "spread_of_ln_hours": num(*s), "source": a.source}))
        })
        .collect();
    let holds: Vec<Value> = d
        .holds
        .iter()
        .filter_map(|h| {
            let z = e.layout.zones.get(h.zone)?;
            Some(json!({
                "name": h.name, "strip": z.strip.key(), "bay": z.bay + 1, "asked_n": num(h.asked_n), "stands_n": num(h.stands_n),
                "kind": h.kind.word(), "holds": h.holds, "may_be_lifted_by": super::holds::may_lift(e, h).may(),
            }))
        })
        .collect();
    let on: Vec<Value> = d
        .rests
        .iter()
        .filter_map(|r| {
            let z = e.layout.zones.get(r.zone)?;
            Some(json!({
                "name": r.name, "strip": z.strip.key(), "bay": z.bay + 1, "asked_pa": num(r.asked_pa), "stands_pa": num(r.stands_pa),
                "kind": r.kind.word(), "holds": r.holds,
            }))
        })
        .collect();
    json!({
        "rests": on,
        "calibration": crate::physics::durability::index::calibration(&design.library.learnt), "holds": holds,
        "shown_load": crate::physics::durability::contact::SHOWN, "spread": spread(design, e), "edges": edges(design, e),
        "what_would_help": help(design, e),
        "soft_spots": { "dent_m": resistance::SOFT_M, "extrapolated": !resistance::SOFT_FITTED, "repair_h": num(d.soft_h), "why": resistance::SOFT_WORDS },
        "repair_h": num(d.repair_h), "repair_h_p10": num(d.repair_h_p10), "repair_h_p90": num(d.repair_h_p90), "marks": num(d.marks),
        "mass_added_kg": num(d.mass_added_kg), "field_repairable_share": num(d.field_repairable_share), "press_safe_share": num(d.press_safe_share),
        "hold_safe_share": num(held.share), "zones": zones, "events": events, "rests_on": rests,
    })
}

/// Where an event costs most hours, and whether that is a hold or a rest.
fn worst(e: &Evaluation, v: &EventResult) -> Value {
    let at = v.worst_zone.and_then(|z| e.layout.zones.get(z));
    at.map_or(Value::Null, |z| json!({"strip": z.strip.key(), "bay": z.bay + 1, "on": v.landed_word()}))
}

fn edges(design: &Design, e: &Evaluation) -> Vec<Value> {
    super::event::edges(design, e)
        .iter()
        .map(|s| {
            let at = |zone: usize| e.layout.zones.get(zone).map(|z| json!({"strip": z.strip.key(), "bay": z.bay + 1}));
            json!({
                "edge": s.edge.word(), "ball_n": num(s.ball_n), "ball_at": at(s.ball_zone),
                "blow_j": num(s.blow_j), "blow_at": at(s.blow_zone),
            })
        })
        .collect()
}

fn flight(design: &Design, e: &Evaluation) -> Value {
    let f = &e.flight;
    let band = |b: crate::physics::flight::speeds::Band| json!({"low": num(b.low), "likely": num(b.likely), "high": num(b.high)});
    // Where no speed sinks so little there is none.
    let reached = |v: f64| if v > 0.0 { num(v) } else { Value::Null };
    let fastest = json!({"low": reached(f.fastest_m_s.low), "likely": reached(f.fastest_m_s.likely), "high": reached(f.fastest_m_s.high)});
    let point = |p: &PolarPoint| json!({"speed_m_s": num(p.speed_m_s), "sink_m_s": num(p.sink_m_s), "cl": num(p.cl), "cd": num(p.cd)});
    let polar = |points: &[PolarPoint]| points.iter().map(point).collect::<Vec<_>>();
    json!({
        "all_up_kg": num(f.all_up_kg), "cl_max_trimmed": num(f.cl_max_trimmed), "trimmed": f.trimmed,
        "cl_max_is": super::flight::trim_words(design.aboard.tailless, f), "stall_m_s": num(f.stall_m_s), "least_sink_m_s": band(f.least_sink_m_s),
        "least_sink_speed_m_s": num(f.least_sink_speed_m_s), "best_glide": band(f.best_glide), "best_glide_speed_m_s": num(f.best_glide_speed_m_s),
        "to_fly_m_s": band(f.to_fly_m_s), "fastest_m_s": fastest, "ground_speed_in_wind_m_s": num(f.ground_speed_in_wind_m_s),
        "wing_float_m_s": num(f.wing_float_m_s), "launch_speed_m_s": num(f.launch_speed_m_s), "ground_speed_m_s": num(f.ground_speed_m_s),
        "hands_n": num(f.hands_n), "hands_running_n": num(f.hands_running_n), "cd_profile": num(f.cd_profile), "cd_pilot": band(f.cd_pilot),
        "laminar_share": num(f.laminar_share), "profile": super::profile::json(e), "working": super::flight::working_json(design, e), "polar": polar(&f.polar), "polar_low": polar(&f.polar_low), "polar_high": polar(&f.polar_high),
    })
}
