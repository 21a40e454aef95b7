//! The one row of vortices against many rows, to the ends of what lift is known for.

use std::f64::consts::TAU;

use thistledown::physics::loads::lattice::{Lattice, STRIPS, TIP_INSET};
use thistledown::physics::loads::lift_range::beyond;

/// Aspect ratio, taper, sweep of the quarter chord in degrees; slope per rad, semispan centroid, aerodynamic centre behind the quarter
/// chord of the mean chord in mean chords.
///
/// **Source:** computed independently by `tests/bench/rows.py`: 4 and 8 rows on 15 and 30 strips, extrapolated; against the airloads
/// reference (vlm-14, many rows at 30 degrees) it gives 4.6764 for 4.676 and 0.4418 for 0.4424.
const MANY: [(f64, f64, f64, [f64; 3]); 19] = [
    (5.0, 0.15, -30.0, [3.6064, 0.38294, -0.0366]),
    (5.0, 0.15, 0.0, [4.0288, 0.40342, -0.0154]),
    (5.0, 0.15, 30.0, [3.8786, 0.41856, 0.0620]),
    (5.0, 1.0, -30.0, [3.6404, 0.42313, 0.1052]),
    (5.0, 1.0, 0.0, [3.9540, 0.43956, -0.0139]),
    (5.0, 1.0, 30.0, [3.6440, 0.45868, -0.0713]),
    (5.0, 1.0, 40.0, [3.3680, 0.46762, -0.0769]),
    (12.0, 0.15, -30.0, [4.5107, 0.37146, 0.0046]),
    (12.0, 0.15, 30.0, [4.7088, 0.41114, 0.1090]),
    (12.0, 0.3, -40.0, [4.0932, 0.38432, 0.1118]),
    (12.0, 0.3, 0.0, [5.1961, 0.41260, -0.0037]),
    (12.0, 0.3, 40.0, [4.2519, 0.43661, 0.1299]),
    (12.0, 1.0, -30.0, [4.4596, 0.43906, 0.2099]),
    (12.0, 1.0, 30.0, [4.4677, 0.47999, -0.0738]),
    (30.0, 0.15, -30.0, [5.0278, 0.36907, 0.0533]),
    (30.0, 0.15, 0.0, [5.8009, 0.38534, -0.0011]),
    (30.0, 0.15, 30.0, [5.1284, 0.39875, 0.1647]),
    (30.0, 1.0, -30.0, [4.9590, 0.46166, 0.3317]),
    (30.0, 1.0, 30.0, [4.9676, 0.49180, -0.0726]),
];

#[test]
fn one_row_lies_by_many_rows_to_the_ends_of_the_range() {
    for (aspect, taper, sweep_deg, [slope, centroid, behind]) in MANY {
        // Half span 1 m.
        let area = 4.0 / aspect;
        let root = area / (1.0 + taper);
        let (tan, narrowing) = (f64::to_radians(sweep_deg).tan(), root * (taper - 1.0));
        let chord = move |y: f64| root + narrowing * y;
        let l = Lattice::new(1.0, area, STRIPS, TIP_INSET, TAU, (chord, move |y: f64| 0.25 * root + tan * y));
        let unit = l.symmetric(&[1.0; STRIPS]);
        let cl = l.lift_coefficient(&unit);
        let mac = 2.0 / 3.0 * root * (1.0 + taper + taper * taper) / (1.0 + taper);
        let quarter = 0.25 * root + tan * (1.0 + 2.0 * taper) / (3.0 * (1.0 + taper));
        let whole = format!("{aspect} {taper} {sweep_deg}");
        assert!((cl / slope - 1.0).abs() < 0.010, "{whole}: slope {cl} {slope}");
        // Half the lift times its place, over q S b/2.
        let place = l.half_moment(&unit) / (0.5 * cl);
        assert!((place / centroid - 1.0).abs() < 0.009, "{whole}: centroid {place} {centroid}");
        let aft = -l.pitching(&unit, quarter, mac) / cl;
        assert!((aft - behind).abs() < 0.027, "{whole}: centre {aft} {behind}");
    }
}

#[test]
fn every_wing_of_the_table_within_the_sweep_that_is_known_is_in_range() {
    // The table above holds one row to many rows at the ends of aspect ratio and taper, and beyond 30 degrees of sweep.
    let mut d = super::by_hand::plank();
    for (aspect, taper, sweep_deg, _) in MANY {
        (d.planform.area_m2, d.planform.taper) = (12.0 * 12.0 / aspect, taper);
        d.planform.sweep_rad = f64::to_radians(sweep_deg);
        assert_eq!(beyond(&d).is_empty(), f64::abs(sweep_deg) <= 30.0, "{aspect} {taper} {sweep_deg}");
    }
    // Of a panel at an angle G to the ground vertical lift is cos G of what stands on it, and its lever 1/cos G of that over the ground: at
    // 5 degrees bending is 0.8 % more.
    assert!((1.0 / 5_f64.to_radians().cos().powi(2) - 1.0 - 0.008).abs() < 5e-4);
    (d.planform.sweep_rad, d.planform.dihedral_rad) = (0.0, 5.1_f64.to_radians());
    assert_eq!(beyond(&d).iter().map(|b| b.short).collect::<Vec<_>>(), ["too much dihedral"]);
}
