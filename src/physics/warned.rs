//! What must be said of a design as its dials stand, before anything of it is computed.

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Kind;
use crate::physics::loads::internal::Loads;
use crate::physics::loads::lift_range;

/// For people to read.
const KM_H: f64 = 3.6;
/// Least speed over the stall that anybody should fly at in moving air. Common practice, no source.
const MARGIN_OVER_STALL: f64 = 1.2;

/// Its warnings, worked out anew at every evaluation: a dial may bring one on.
pub fn of(d: &Design) -> Vec<String> {
    let mut out = Vec::new();
    let a = &d.aboard;
    let [least, most] = a.pilots_kg();
    if least < a.lightest_pilot_kg || most > a.heaviest_pilot_kg {
        out.push(format!(
            "pilots of {least:.0} to {most:.0} kg are flown: aboard.lightest_pilot_kg and heaviest_pilot_kg leave some of them out, the loads do not"
        ));
    }
    if d.limits.is_none() {
        out.push("no set of limits is chosen: flight loads are not computed".to_owned());
    }
    let lift = lift_range::beyond(d);
    if !lift.is_empty() {
        let said: Vec<&str> = lift.iter().map(|b| b.said.as_str()).collect();
        out.push(format!(
            "{}: the lift is not known there, margins that flight brings on are not shown",
            said.join(", ")
        ));
    }
    beside_nose_steps(d, &mut out);
    open_at_hinge(d, &mut out);
    out
}

/// Controls ahead of which rigid skins end on nothing: no box is closed there.
fn open_at_hinge(d: &Design, out: &mut Vec<String>) {
    let rigid = |strip: Strip, from: f64, to: f64| {
        let mut began = 0.0;
        d.runs(strip).iter().any(|r| {
            let meets = r.to_eta > from && began < to;
            began = r.to_eta;
            let kind = d.constructions.get(r.construction).map_or(Kind::Open, |c| c.kind);
            meets && !matches!(kind, Kind::Covering | Kind::Open)
        })
    };
    let covered = |strip: Strip| {
        let kind = |r: &crate::physics::design::Run| d.constructions.get(r.construction).map(|c| c.kind);
        d.runs(strip).iter().any(|r| kind(r) == Some(Kind::Covering))
    };
    for c in &d.controls {
        let aft =
            [Strip::AftUpper, Strip::AftLower, Strip::AftUpperRear, Strip::AftLowerRear].map(covered).contains(&true);
        let own = [Strip::ControlUpper, Strip::ControlLower].map(covered).contains(&true);
        for (needs, wall, key) in [(aft, c.wing_wall, "wing_wall"), (own, c.control_wall, "control_wall")] {
            if needs && wall.is_none() {
                out.push(format!(
                    "{}: what coverings end at along its hinge is not named, nor weighed: layout.control.{key}",
                    c.name
                ));
            }
        }
    }
    for c in d.controls.iter().filter(|c| c.wing_wall.is_none()) {
        if [Strip::AftUpper, Strip::AftLower].iter().all(|s| rigid(*s, c.from_eta, c.to_eta)) {
            out.push(format!(
                "nothing named closes the aft box ahead of {}: torsion is carried by the nose alone there; layout.control.wing_wall names a wall",
                c.name
            ));
        }
    }
}

/// Of the speeds its loads hold for, once they are known.
pub fn of_speeds(d: &Design, l: &Loads) -> Vec<String> {
    let mut out = Vec::new();
    let Some(set) = &d.limits else { return out };
    let (stall, va, vb, vd) = (l.stall_1g_m_s, l.manoeuvre_speed_m_s, l.rough_air_speed_m_s, l.dive_speed_m_s);
    if vd < MARGIN_OVER_STALL * stall {
        out.push(format!(
            "the dive speed, {:.0} km/h, leaves no room over the stall, {:.0} km/h",
            vd * KM_H,
            stall * KM_H
        ));
    }
    if vd < va {
        out.push(format!(
            "the dive speed, {:.0} km/h, lies below VA, {:.0} km/h: cases at it ask for more lift than the wing has, on the safe side; limits.dive_speed_m_s",
            vd * KM_H,
            va * KM_H
        ));
    }
    if vb < va && set.gust_m_s > 0.0 {
        let slow = if vb < MARGIN_OVER_STALL * stall {
            format!("; with the stall at {:.0} km/h no speed is left for rough air", stall * KM_H)
        } else {
            String::new()
        };
        out.push(format!(
            "in rough air no faster than {:.0} km/h: above it a gust of {:.0} m/s passes the limits; CS 22.335(c) asks at least VA, {:.0} km/h{slow}",
            vb * KM_H,
            set.gust_m_s,
            va * KM_H
        ));
    }
    out
}

/// Runs of the nose in constructions that the steps do not name: no ply is counted there.
fn beside_nose_steps(d: &Design, out: &mut Vec<String>) {
    if d.nose_steps.is_empty() {
        return;
    }
    for strip in [Strip::NoseUpper, Strip::NoseLower] {
        for r in d.runs(strip).iter().filter(|r| !d.nose_steps.contains(&r.construction)) {
            let key = d.constructions.get(r.construction).map_or("", |c| c.key.as_str());
            out.push(format!(
                "{} from {} to {} of the half span is drawn in {key}, which skins.nose_steps does not name: its plies are not sized",
                strip.label(),
                r.from_eta,
                r.to_eta
            ));
        }
    }
}
