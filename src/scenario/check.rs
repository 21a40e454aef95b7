//! From the text of a scenario to a checked `Design`: the parts of the file in the order a person writes them.

use std::path::Path;
use std::sync::Arc;

use crate::mix::ask::may_be;
use crate::physics::design::{
    Aboard, Aerofoil, Design, Excused, LimitSet, MayBuckle, Patch, Planform, PointMass, Run, SectionAt, Strip,
    StripSkin, Targets,
};
use crate::physics::laminate::construction::Kind;
use crate::physics::loads::case;
use crate::physics::samples::fit;
use crate::physics::strength::MODES;
use crate::physics::units;
use crate::physics::wing::{coordinates, planform};
use crate::physics::workshop::seen;
use crate::problem::Problem;
use crate::scenario::ask::{self, SearchAsk};
use crate::scenario::check_care;
use crate::scenario::check_layout;
use crate::scenario::check_proof;
use crate::scenario::check_samples;
use crate::scenario::check_spar;
use crate::scenario::check_stock;
use crate::scenario::check_weighed;
use crate::scenario::library::{Shelf, extend, index_of, plies, shelf};
use crate::scenario::reader::{Faults, Quantity, Table, parse};

pub(super) const M: &[(&str, f64)] = &[("m", 1.0), ("ft", units::FOOT_M)];
pub(super) const MM: &[(&str, f64)] = &[("mm", 1e-3), ("in", units::INCH_M)];
pub(super) const KG: &[(&str, f64)] = &[("kg", 1.0), ("lb", units::POUND_KG)];
pub(super) const G: &[(&str, f64)] = &[("g", 1e-3), ("oz", units::OUNCE_KG)];
pub(super) const M2: &[(&str, f64)] = &[("m2", 1.0), ("ft2", units::FOOT_M * units::FOOT_M)];
pub(super) const SPEED: &[(&str, f64)] = &[("m_s", 1.0), ("km_h", 1.0 / 3.6), ("kt", 1852.0 / 3600.0)];
pub(super) const DEG: f64 = std::f64::consts::PI / 180.0;

pub(super) fn q<'q>(name: &'q str, units: &'q [(&'q str, f64)]) -> Quantity<'q> {
    Quantity { name, units }
}

/// The constructions a scenario uses, picked off the shelf as they are named.
pub(super) struct Picked<'s> {
    pub shelf: &'s Shelf,
}

impl Picked<'_> {
    /// Index of the construction a key names; the nearest name otherwise.
    pub(super) fn find(&self, t: &Table, key: &str) -> Option<usize> {
        let word = t.text(key)?;
        index_of(t, t.place(key), &word, &self.shelf.constructions, |c| &c.key)
    }
}

/// Check the whole text.
pub fn check(text: &str, file: Option<&Path>) -> Result<(Design, SearchAsk), Vec<Problem>> {
    let faults = Faults::new(text, file);
    let table = parse(text, &faults);
    if !faults.is_empty() {
        return Err(faults.into_problems());
    }
    let root = Table::new(&faults, &table, 0, "");
    let design = whole(&root, file);
    let asked = ask::read(&root);
    root.done();
    let ask = if faults.is_empty() { ask::checked(&asked, &design, &root) } else { SearchAsk::default() };
    if faults.is_empty() { Ok((design, ask)) } else { Err(faults.into_problems()) }
}

fn whole(root: &Table, file: Option<&Path>) -> Design {
    if root.whole("format", 1..=1).is_none() && !root.has("format") {
        root.faults.add(0, "format is missing", "begin the file with format = 1");
    }
    let mut own = shelf().clone();
    if let Some(m) = root.table("materials") {
        extend(&mut own, &m);
        m.done();
    }
    let picked = Picked { shelf: &own };
    for refused in ["strut", "struts", "wire", "wires"] {
        if root.has(refused) {
            root.get(refused);
            root.faults.add(
                root.place(refused),
                "this wing has struts or wires",
                "only a cantilever wing with one main spar can be computed",
            );
        }
    }
    let planform = planform_of(root);
    let name = root.need_text("name");
    let note = root.text("note").unwrap_or_default();
    let rib_table = root.table("ribs");
    let end_rib_nm = rib_table.as_ref().and_then(|t| t.number("end_moment_n_m", 0.1..=5000.0));
    let (rib_kinds, ribs) =
        rib_table.as_ref().map_or_else(|| check_layout::missing_ribs(root), |t| check_layout::ribs(t, &picked));
    let layout = root.table("layout");
    let (hinge_frac, divide_upper, divide_lower) = layout.as_ref().map_or((0.78, None, None), |l| {
        (
            l.number_or("hinge_chord", 0.5..=0.95, 0.78),
            l.number("divide_upper_chord", 0.2..=0.95),
            l.number("divide_lower_chord", 0.2..=0.95),
        )
    });
    let controls = layout.as_ref().map_or_else(Vec::new, |l| check_layout::controls(l, &picked));
    let joints = layout.as_ref().map_or_else(Vec::new, |l| check_layout::joints(l, &rib_kinds));
    if let Some(l) = &layout {
        l.done();
    }
    let spar = check_spar::spar(root, &picked, hinge_frac);
    let (strips, nose_steps) = strips(root, &picked);
    let mut d = Design {
        name,
        note,
        library: Arc::new(own.library.clone()),
        constructions: own.constructions.clone(),
        sections: sections(root, file),
        planform,
        hinge_frac,
        divide_upper,
        divide_lower,
        strips,
        nose_steps,
        spar,
        rib_kinds,
        ribs,
        end_rib_nm,
        patches: patches(root, &own, &planform),
        joints,
        controls,
        seams: check_spar::seams(root),
        aboard: aboard(root),
        limits: limits(root),
        cases_off: excused(root, "cases_off", "case"),
        accepted: excused(root, "accepted", "mode"),
        service: check_care::service(root),
        care: check_care::care(root),
        targets: targets(root),
        rates: check_spar::rates(root, &own),
        stock: check_stock::stock(root, &own),
        samples: check_samples::samples(root, &own),
        weighed: check_weighed::weighed(root),
        proofs: check_proof::proofs(root),
        warnings: Vec::new(),
    };
    if d.rates.resin != d.library.resin_used {
        Arc::make_mut(&mut d.library).resin_used = d.rates.resin;
    }
    if !d.samples.is_empty() {
        let learnt = fit::fit(&d.samples, &d.library, &d.service);
        Arc::make_mut(&mut d.library).learnt = learnt;
    }
    d.warnings = seen::warnings(&d.proofs);
    if root.faults.is_empty() {
        check_weighed::in_this_wing(root, &mut d);
    }
    d
}

fn planform_of(root: &Table) -> Planform {
    let Some(t) = root.table("planform") else {
        root.faults.add(0, "[planform] is missing", "give span_m, area_m2 and taper");
        return Planform {
            span_m: 12.0,
            area_m2: 12.0,
            taper: 0.5,
            sweep_rad: 0.0,
            washout_rad: 0.0,
            dihedral_rad: 0.0,
        };
    };
    let p = Planform {
        span_m: t.need_quantity(q("span", M), 3.0..=40.0),
        area_m2: t.need_quantity(q("area", M2), 2.0..=80.0),
        taper: t.number_or("taper", 0.15..=1.0, 0.5),
        sweep_rad: t.number_or("sweep_deg", -30.0..=40.0, 0.0) * DEG,
        washout_rad: t.number_or("washout_deg", -5.0..=15.0, 0.0) * DEG,
        dihedral_rad: t.number_or("dihedral_deg", -10.0..=15.0, 0.0) * DEG,
    };
    t.done();
    p
}

fn sections(root: &Table, file: Option<&Path>) -> Vec<SectionAt> {
    let mut out: Vec<SectionAt> = Vec::new();
    for t in root.tables("section") {
        let aerofoil = aerofoil(&t, file);
        out.push(SectionAt {
            eta: t.number_or("at", 0.0..=1.0, 0.0),
            aerofoil,
            cl_max: t.number_or("cl_max", 0.5..=2.5, 1.4),
            cl_min: t.number_or("cl_min", -2.0..=-0.2, -0.8),
            cm0: t.number("cm0", -0.3..=0.2),
            alpha0_rad: t.number("zero_lift_deg", -12.0..=6.0).map(|a| a * DEG),
        });
        t.done();
    }
    out.sort_by(|a, b| a.eta.total_cmp(&b.eta));
    if out.is_empty() {
        root.faults.add(0, "no [[section]] is given", "give at least one, like family = \"4412\" at = 0.0");
        out.push(SectionAt {
            eta: 0.0,
            aerofoil: Aerofoil::FourDigit { camber: 0.04, camber_place: 0.4, thickness: 0.15 },
            cl_max: 1.4,
            cl_min: -0.8,
            cm0: None,
            alpha0_rad: None,
        });
    }
    out
}

fn aerofoil(t: &Table, file: Option<&Path>) -> Aerofoil {
    if let Some(name) = t.text("coordinates") {
        let path = file.and_then(Path::parent).map_or_else(|| Path::new(&name).to_owned(), |d| d.join(&name));
        let read = std::fs::read_to_string(&path)
            .map_err(|e| e.to_string())
            .and_then(|text| coordinates::read(&text).map_err(|e| e.0));
        match read {
            Ok(xy) => return Aerofoil::Points { name, xy },
            Err(why) => t.faults.add(
                t.place("coordinates"),
                format!("{}: {why}", path.display()),
                "give a two-column coordinate file",
            ),
        }
    }
    let digits = if t.has("family") { t.text("family").unwrap_or_default() } else { "4415".to_owned() };
    let number = |s: &str| s.parse::<u16>().ok();
    let found = match digits.len() {
        4 => number(&digits[..1]).zip(number(&digits[1..2])).zip(number(&digits[2..])).map(|((m, p), t)| {
            Aerofoil::FourDigit {
                camber: f64::from(m) / 100.0,
                camber_place: f64::from(p) / 10.0,
                thickness: f64::from(t) / 100.0,
            }
        }),
        5 => number(&digits[..3])
            .filter(|l| [210, 220, 230, 240, 250].contains(l))
            .zip(number(&digits[3..]))
            .map(|(line, t)| Aerofoil::FiveDigit { line, thickness: f64::from(t) / 100.0 }),
        _ => None,
    };
    let thick = |a: &Aerofoil| match a {
        Aerofoil::FourDigit { thickness, .. } | Aerofoil::FiveDigit { thickness, .. } => {
            (0.05..=0.30).contains(thickness)
        }
        Aerofoil::Points { .. } => true,
    };
    found.filter(thick).unwrap_or_else(|| {
        t.faults.add(
            t.place("family"),
            format!("\"{digits}\" is no section known here"),
            "write four digits like \"4415\", five like \"23015\", or coordinates = \"file\"; 5 to 30 % thick",
        );
        Aerofoil::FourDigit { camber: 0.04, camber_place: 0.4, thickness: 0.15 }
    })
}

/// Where a run ends, and whether it says so: one that is missing or outside the span is a fault told once, and is read on
/// as one that leaves room for the next.
pub(super) fn end_of(t: &Table, from_eta: f64, last: bool) -> (f64, bool) {
    if !t.has("to") {
        let _ = t.need("to", 0.0..=1.0);
    } else if let Some(to) = t.number("to", 0.0..=1.0) {
        return (to, true);
    }
    (if last { 1.0 } else { f64::midpoint(from_eta, 1.0) }, false)
}

/// Runs must cover 0 to 1 without gap or overlap.
pub(super) fn covers(t: &Table, runs: impl Iterator<Item = (f64, f64)>, what: &str) {
    let mut at = 0.0;
    for (from, to) in runs {
        if (from - at).abs() > 1e-6 {
            let word = if from > at { "leave a gap" } else { "overlap" };
            t.faults.add(
                t.at,
                format!("the {what} {word} at {from} of the half span"),
                format!("begin the next where the last ended, at {at}"),
            );
        }
        at = to;
    }
    if (at - 1.0).abs() > 1e-6 {
        t.faults.add(t.at, format!("the {what} end at {at} of the half span"), "the last must end at 1.0, the tip");
    }
}

fn strips(root: &Table, picked: &Picked) -> (Vec<StripSkin>, Vec<usize>) {
    let Some(t) = root.table("skins") else {
        root.faults.add(0, "[skins] is missing", "give nose_upper, nose_lower, aft_upper, aft_lower");
        return (Vec::new(), Vec::new());
    };
    let mut out = Vec::new();
    for strip in Strip::ALL {
        let runs_at = t.tables(strip.key());
        if runs_at.is_empty() {
            if !strip.is_control() && !matches!(strip, Strip::AftUpperRear | Strip::AftLowerRear) && !t.has(strip.key())
            {
                t.faults.add(
                    t.at,
                    format!("skins.{} is missing", strip.key()),
                    "give a list of { to = 1.0, use = \"...\" }",
                );
            }
            continue;
        }
        let mut may_buckle = if strip.is_nose() { MayBuckle::NotBelowUltimate } else { MayBuckle::NotBelowLimit };
        let mut runs: Vec<Run> = Vec::new();
        let mut from_eta = 0.0;
        for (i, r) in runs_at.iter().enumerate() {
            let (to_eta, known) = end_of(r, from_eta, i + 1 == runs_at.len());
            let construction = picked.find(r, "use");
            if !r.has("use") {
                r.faults.add(r.at, format!("{} names no construction", r.path), "write use = \"skin_glass_pvc\"");
            }
            if let Some(i) = r.word("may_buckle", &MayBuckle::ALL.map(MayBuckle::key)) {
                may_buckle = MayBuckle::ALL[i];
            }
            if known && to_eta <= from_eta {
                r.faults.add(
                    r.place("to"),
                    format!("{} ends at {to_eta}, not outboard of {from_eta}", r.path),
                    "each `to` must be greater than the one before",
                );
            }
            runs.push(Run { from_eta, to_eta, construction: construction.unwrap_or(0) });
            from_eta = to_eta;
            r.done();
        }
        covers(&t, runs.iter().map(|r| (r.from_eta, r.to_eta)), &format!("runs of {}", strip.key()));
        out.push(StripSkin { strip, runs, may_buckle });
    }
    let steps = nose_steps(&t, picked);
    t.done();
    (out, steps)
}

/// The constructions a nose is sized through.
fn nose_steps(t: &Table, picked: &Picked) -> Vec<usize> {
    let (all, mut out) = (&picked.shelf.constructions, Vec::new());
    let named = t.texts("nose_steps");
    for (at, word) in &named {
        let Some(i) = index_of(t, *at, word, all, |c| &c.key) else { continue };
        if !may_be(&all[i], Strip::NoseUpper) {
            t.faults.add(*at, format!("{word} cannot make a nose"), "name skins that are rigid");
        } else if out.contains(&i) {
            t.faults.add(
                *at,
                format!("{word} stands in skins.nose_steps twice"),
                "name each construction once, fewest plies first",
            );
        } else {
            out.push(i);
        }
    }
    let plies = |i: usize| all[i].outer.len() + all[i].inner.len();
    for w in out.windows(2).filter(|w| plies(w[1]) < plies(w[0])) {
        let words = format!("skins.nose_steps: {} has fewer plies than {} before it", all[w[1]].key, all[w[0]].key);
        t.faults.add(t.place("nose_steps"), words, "put the fewest torsion plies first");
    }
    let empty = t.get("nose_steps").and_then(|v| v.get_ref().as_array()).is_some_and(|l| l.is_empty());
    if empty {
        let next = "name two or more constructions, fewest torsion plies first, or leave it out";
        t.faults.add(t.place("nose_steps"), "skins.nose_steps names none", next);
    }
    if named.len() == 1 {
        t.faults.add(
            named[0].0,
            "skins.nose_steps names one construction",
            "name two or more, fewest torsion plies first",
        );
    }
    out
}

fn patches(root: &Table, own: &Shelf, p: &Planform) -> Vec<Patch> {
    let mut out = Vec::new();
    for t in root.tables("patch") {
        let from_eta = t.need("from", 0.0..=1.0);
        let to_eta = t.need("to", 0.0..=1.0);
        let chord = planform::chord_m(p, f64::midpoint(from_eta, to_eta)).max(0.05);
        let ahead = |key: &str, mm: &str, default: f64| {
            t.number(key, 0.0..=1.0)
                .or_else(|| t.number(mm, 0.0..=3000.0).map(|v| (v / 1000.0 / chord).min(1.0)))
                .unwrap_or(default)
        };
        out.push(Patch {
            name: t.text("name").unwrap_or_else(|| "patch".to_owned()),
            upper: t.word("surface", &["upper", "lower"]) != Some(1),
            from_eta,
            to_eta,
            chord_from: ahead("chord_from", "chord_from_mm", 0.0),
            chord_to: ahead("chord_to", "chord_to_mm", 0.1),
            extra_plies: plies(&t, "plies", &own.library),
            core: crate::scenario::library::find(&t, "core", &own.library.foams, |f| &f.key),
            hold: t.flag("hold", false),
        });
        t.done();
    }
    out
}

fn aboard(root: &Table) -> Aboard {
    let empty = Aboard {
        pilot_kg: 78.0,
        lightest_pilot_kg: 60.0,
        heaviest_pilot_kg: 95.0,
        kit_kg: 12.0,
        masses: Vec::new(),
        tailless: false,
        cg_mac: 0.3,
        pilot_drag_m2: [0.06, 0.10, 0.18],
        rigging_drag_m2: 0.02,
        headwind_m_s: 3.0,
        sinking_air_m_s: 1.0,
        given_sink_m_s: 2.0,
    };
    let Some(t) = root.table("aboard") else { return empty };
    let pilot = t.quantity_or(q("pilot", KG), 30.0..=200.0, empty.pilot_kg);
    let drag = t.numbers("pilot_drag_m2", 0.005..=1.5);
    let pilot_drag_m2 = match drag.as_slice() {
        [a, b, c] if a <= b && b <= c => [*a, *b, *c],
        [] => empty.pilot_drag_m2,
        _ => {
            t.faults.add(
                t.place("pilot_drag_m2"),
                "aboard.pilot_drag_m2 must be three numbers",
                "low, likely, high, like [0.06, 0.1, 0.18]",
            );
            empty.pilot_drag_m2
        }
    };
    let a = Aboard {
        pilot_kg: pilot,
        lightest_pilot_kg: t.quantity_or(q("lightest_pilot", KG), 30.0..=200.0, pilot - 15.0),
        heaviest_pilot_kg: t.quantity_or(q("heaviest_pilot", KG), 30.0..=200.0, pilot + 15.0),
        kit_kg: t.quantity_or(q("kit", KG), 0.0..=100.0, empty.kit_kg),
        tailless: t.flag("tailless", false),
        cg_mac: t.number_or("cg_mac", -0.5..=1.0, 0.3),
        headwind_m_s: t.number_or("headwind_m_s", 0.0..=20.0, empty.headwind_m_s),
        sinking_air_m_s: t.number_or("sinking_air_m_s", 0.0..=10.0, empty.sinking_air_m_s),
        given_sink_m_s: t.number_or("given_sink_m_s", 0.2..=10.0, empty.given_sink_m_s),
        rigging_drag_m2: t.quantity_or(q("rigging_drag", M2), 0.0..=1.0, empty.rigging_drag_m2),
        pilot_drag_m2,
        masses: t
            .tables("mass")
            .iter()
            .map(|m| {
                let x = PointMass {
                    name: m.need_text("name"),
                    mass_kg: m.need_quantity(q("mass", KG), 0.0..=200.0),
                    x_m: m.quantity_or(q("x", M), -5.0..=10.0, 0.3),
                    y_m: m.quantity_or(q("y", M), 0.0..=20.0, 0.0),
                    wing: m.flag("wing", false),
                };
                m.done();
                x
            })
            .collect(),
    };
    t.done();
    a
}

fn limits(root: &Table) -> Option<LimitSet> {
    let t = root.table("limits")?;
    let shipped = check_care::shipped_limits();
    let words: Vec<&str> = shipped.iter().map(|l| l.key.as_str()).collect();
    let set = t.word("set", &words).and_then(|i| shipped.get(i).cloned());
    let base = set.clone().or_else(|| shipped.first().cloned())?;
    let own = !t.has("set");
    let l = LimitSet {
        n_positive: t.number_or("n_positive", 1.0..=12.0, base.n_positive),
        n_negative: t.number_or("n_negative", -8.0..=0.0, base.n_negative),
        safety_factor: t.number_or("safety_factor", 1.5..=4.0, base.safety_factor),
        extra_factor: t.number_or("extra_factor", 1.0..=3.0, base.extra_factor),
        dive_speed_m_s: t.quantity_or(q("dive_speed", SPEED), 10.0..=90.0, base.dive_speed_m_s),
        gust_m_s: t.number_or("gust_m_s", 0.0..=20.0, base.gust_m_s),
        gust_dive_m_s: t.number_or("gust_dive_m_s", 0.0..=20.0, base.gust_dive_m_s),
        key: if own { "own".to_owned() } else { base.key },
        source: t.text("source").unwrap_or(if own { "stated in the scenario".to_owned() } else { base.source }),
    };
    t.done();
    Some(l)
}

fn excused(root: &Table, key: &str, word: &str) -> Vec<Excused> {
    let mut out = Vec::new();
    for t in root.tables(key) {
        let e = Excused { key: t.need_text(word), reason: t.need_text("reason") };
        if word == "mode" {
            known_name(&t, word, &e.key, "failure mode", MODES.iter().map(|m| m.key));
        } else if !case::KEYS.iter().any(|k| case::is_of(k, &e.key)) {
            known_name(&t, word, &e.key, "load case", case::KEYS.iter().copied());
        }
        if e.reason.trim().len() < 4 {
            t.faults.add(t.at, format!("{} needs a reason", t.path), "say why; every report repeats it");
        }
        out.push(e);
        t.done();
    }
    out
}

/// A name must be one of a list; the nearest is given otherwise.
pub(super) fn known_name<'n>(t: &Table, key: &str, word: &str, what: &str, names: impl Iterator<Item = &'n str>) {
    let names: Vec<&str> = names.collect();
    if !names.contains(&word) && t.has(key) {
        let near = crate::scenario::reader::nearest(word, names).unwrap_or("");
        let next = format!("the nearest valid name is \"{near}\"");
        t.faults.add(t.place(key), format!("no {what} is called \"{word}\""), next);
    }
}

fn targets(root: &Table) -> Targets {
    let mut out = Targets { budget_percentile: 0.8, ..Targets::default() };
    let Some(t) = root.table("targets") else { return out };
    out.wing_mass_kg = t.quantity(q("wing_mass", KG), 3.0..=300.0);
    out.stall_m_s = t.quantity(q("stall", SPEED), 3.0..=40.0);
    out.durability_index = t.number("durability_index", 0.0..=100.0);
    out.outings_lost_per_100 = t.number("outings_lost_per_100", 0.0..=1000.0);
    out.press_n = t.number("press_n", 0.0..=5000.0);
    out.tip_deflection_frac = t.number("tip_deflection_frac", 0.005..=0.6);
    out.twist_rad = t.number("twist_deg", 0.1..=30.0).map(|a| a * DEG);
    out.hours = t.number("hours", 1.0..=100_000.0);
    out.cost = t.number("cost", 1.0..=1e7);
    out.set_up_minutes = t.number("set_up_minutes", 1.0..=1000.0);
    out.largest_piece_m = t.quantity(q("largest_piece", M), 0.5..=30.0);
    out.heaviest_piece_kg = t.quantity(q("heaviest_piece", KG), 0.5..=200.0);
    out.budget_percentile = t.number_or("budget_percentile", 0.05..=0.99, 0.8);
    t.done();
    out
}

/// Kinds a strip of skin may be made of.
pub fn skin_kinds() -> [Kind; 5] {
    [Kind::Sandwich, Kind::OneFaced, Kind::Laminate, Kind::Wood, Kind::Covering]
}
