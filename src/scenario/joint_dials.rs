//! Dials of the joints: fittings, pins, lugs, the seats of fittings and rear pins.

use crate::physics::design::{Design, Joint, Lug, RearPin, Seat};
use crate::scenario::dials::{Dial, Group, Turn, What};

/// A number of a joint: key in the file, label, unit, range, step, coarse step and digits, and where it stands in the design
/// with its factor to SI; nothing where the scenario does not describe it.
struct Field {
    key: &'static str,
    label: &'static str,
    unit: &'static str,
    range: (f64, f64, f64, f64, usize),
    si: f64,
    of: fn(&mut Joint) -> Option<&mut f64>,
}

/// Range of every field, for reading too.
pub(super) fn range(key: &str) -> std::ops::RangeInclusive<f64> {
    FIELDS.iter().find(|f| f.key == key).map_or(0.0..=0.0, |f| f.range.0..=f.range.1)
}

fn lug(j: &mut Joint, of: fn(&mut Lug) -> &mut f64) -> Option<&mut f64> {
    j.lug.as_mut().map(of)
}

fn seat(j: &mut Joint, of: fn(&mut Seat) -> &mut f64) -> Option<&mut f64> {
    j.seat.as_mut().map(of)
}

fn rear(j: &mut Joint, of: fn(&mut RearPin) -> &mut f64) -> Option<&mut f64> {
    j.rear_pin.as_mut().map(of)
}

const FIELDS: [Field; 15] = [
    Field {
        key: "fittings_kg",
        label: "fittings",
        unit: "kg",
        range: (0.0, 20.0, 0.05, 0.5, 3),
        si: 1.0,
        of: |j| Some(&mut j.fittings_kg),
    },
    Field {
        key: "rear_fitting_chord",
        label: "rear fitting",
        unit: "of chord",
        range: (0.2, 0.98, 0.01, 0.05, 2),
        si: 1.0,
        of: |j| j.rear_fitting_chord.as_mut(),
    },
    Field {
        key: "pin_diameter_mm",
        label: "pin",
        unit: "mm",
        range: (2.0, 60.0, 0.5, 2.0, 2),
        si: 1e-3,
        of: |j| Some(&mut j.pin_diameter_m),
    },
    Field {
        key: "lug_width_mm",
        label: "lug width",
        unit: "mm",
        range: (4.0, 300.0, 1.0, 5.0, 1),
        si: 1e-3,
        of: |j| lug(j, |l| &mut l.width_m),
    },
    Field {
        key: "lug_thickness_mm",
        label: "lug thickness",
        unit: "mm",
        range: (0.5, 60.0, 0.5, 2.0, 2),
        si: 1e-3,
        of: |j| lug(j, |l| &mut l.thickness_m),
    },
    Field {
        key: "lug_end_mm",
        label: "lug end",
        unit: "mm",
        range: (2.0, 300.0, 1.0, 5.0, 1),
        si: 1e-3,
        of: |j| lug(j, |l| &mut l.end_m),
    },
    Field {
        key: "lug_tension_mpa",
        label: "lug breaks at",
        unit: "MPa",
        range: (50.0, 2500.0, 10.0, 100.0, 0),
        si: 1e6,
        of: |j| lug(j, |l| &mut l.tension_pa),
    },
    Field {
        key: "lug_yield_mpa",
        label: "lug yields at",
        unit: "MPa",
        range: (30.0, 2500.0, 10.0, 100.0, 0),
        si: 1e6,
        of: |j| lug(j, |l| &mut l.yield_pa),
    },
    Field {
        key: "seat_length_mm",
        label: "seat length",
        unit: "mm",
        range: (5.0, 1000.0, 5.0, 20.0, 1),
        si: 1e-3,
        of: |j| seat(j, |s| &mut s.length_m),
    },
    Field {
        key: "seat_width_mm",
        label: "seat width",
        unit: "mm",
        range: (5.0, 500.0, 5.0, 20.0, 1),
        si: 1e-3,
        of: |j| seat(j, |s| &mut s.width_m),
    },
    Field {
        key: "seat_crush_mpa",
        label: "seat crushes at",
        unit: "MPa",
        range: (0.1, 500.0, 0.1, 1.0, 2),
        si: 1e6,
        of: |j| seat(j, |s| &mut s.crush_pa),
    },
    Field {
        key: "rear_pin_diameter_mm",
        label: "rear pin",
        unit: "mm",
        range: (2.0, 60.0, 0.5, 2.0, 2),
        si: 1e-3,
        of: |j| rear(j, |r| &mut r.diameter_m),
    },
    Field {
        key: "rear_pin_tension_mpa",
        label: "rear pin breaks at",
        unit: "MPa",
        range: (50.0, 2500.0, 10.0, 100.0, 0),
        si: 1e6,
        of: |j| rear(j, |r| &mut r.tension_pa),
    },
    Field {
        key: "rear_bearing_length_mm",
        label: "rear pin bears on",
        unit: "mm",
        range: (0.5, 100.0, 0.5, 2.0, 2),
        si: 1e-3,
        of: |j| rear(j, |r| &mut r.length_m),
    },
    Field {
        key: "rear_bearing_mpa",
        label: "rear pin borne at",
        unit: "MPa",
        range: (1.0, 2500.0, 5.0, 50.0, 0),
        si: 1e6,
        of: |j| rear(j, |r| &mut r.bearing_pa),
    },
];

/// The value a dial of this file stands at, in the shown unit; None when it is none.
pub(super) fn value(d: &Design, what: What) -> Option<f64> {
    let What::OfJoint(i, k) = what else { return None };
    let (mut j, f) = (d.joints.get(i)?.clone(), FIELDS.get(k)?);
    (f.of)(&mut j).map(|v| *v / f.si)
}

/// Set a dial of this file; false when it is none.
pub(super) fn set(d: &mut Design, what: What, v: f64) -> bool {
    let What::OfJoint(i, k) = what else { return false };
    if let (Some(j), Some(f)) = (d.joints.get_mut(i), FIELDS.get(k))
        && let Some(at) = (f.of)(j)
    {
        *at = v * f.si;
    }
    true
}

/// The dials of the joints this design has.
pub(super) fn push(d: &Design, out: &mut Vec<Dial>) {
    for (i, j) in d.joints.iter().enumerate() {
        let tail = if d.joints.len() > 1 { format!(" {}", i + 1) } else { String::new() };
        for (k, f) in FIELDS.iter().enumerate() {
            if (f.of)(&mut j.clone()).is_none() {
                continue;
            }
            let (least, most, step, coarse, digits) = f.range;
            out.push(Dial {
                key: format!("layout.joint.{}.{}", i + 1, f.key),
                label: format!("Joint{tail}: {}", f.label),
                group: Group::Spar,
                unit: f.unit,
                turn: Turn::Number { least, most, step, coarse, digits },
                what: What::OfJoint(i, k),
            });
        }
    }
}

/// Where a dial of this file stands in the scenario.
pub(super) fn path(what: What) -> Option<[String; 4]> {
    let What::OfJoint(i, k) = what else { return None };
    Some(["layout".to_owned(), "joint".to_owned(), i.to_string(), FIELDS.get(k)?.key.to_owned()])
}
