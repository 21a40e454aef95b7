//! Spanwise lift by one chordwise row of horseshoe vortices, stored as basic and additional parts.

use std::f64::consts::TAU;
use std::sync::Arc;

use crate::physics::design::{Control, Design};
use crate::physics::kept::{Inputs, To};
use crate::physics::loads::lattice::{Lattice, STRIPS, TIP_INSET};
use crate::physics::loads::section::{HINGE_FACTOR, plain_flap};
use crate::physics::wing::layout::{Layout, Station};

/// Lift over the half span on strips of equal width. Every case is a sum of these.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LiftBasis {
    /// Strip mid, m, and width, m; root to tip.
    pub y_m: Vec<f64>,
    pub dy_m: f64,
    pub chord_m: Vec<f64>,
    /// Quarter-chord line at the strip mids, m aft of the root leading edge, and its slope dx/dy.
    pub x_quarter_m: Vec<f64>,
    pub sweep_slope: f64,
    /// Additional: cl c at CL = 1, m. Basic: cl c at CL = 0 from washout and camber, m.
    pub additional_m: Vec<f64>,
    pub basic_m: Vec<f64>,
    /// cl c for one radian of effective deflection of all controls together, symmetric and antisymmetric, at fixed alpha, m.
    pub control_sym_m: Vec<f64>,
    pub control_anti_m: Vec<f64>,
    /// Share of each strip covered by a control.
    pub control_share: Vec<f64>,
    /// What gives the lift of any other incidence.
    pub lattice: Option<Arc<Lattice>>,
    /// Effective angle (the incidence that gives the same lift) over real deflection: thin-aerofoil tau x hinge factor.
    pub control_effect: f64,
    /// Quarter-chord moment of the section per radian of effective angle.
    pub control_cm_per_rad: f64,
    /// Greatest real deflections of any control, rad.
    pub control_up_rad: f64,
    pub control_down_rad: f64,
    /// Section moment about c/4 by strip.
    pub cm0: Vec<f64>,
    /// Section limits by strip.
    pub section_cl_max: Vec<f64>,
    pub section_cl_min: Vec<f64>,
    /// Lift slope of the wing, per rad, and CL of control_sym per rad.
    pub slope_per_rad: f64,
    pub control_cl_per_rad: f64,
    /// Root angle of attack for zero lift, rad.
    pub alpha_zero_rad: f64,
    /// Induced drag CDi = k[0] CL^2 + k[1] CL + k[2].
    pub induced: [f64; 3],
    /// More induced drag with the controls at effective angle d and the same CL: d (k[0] CL + k[1]) + k[2] d^2.
    pub induced_control: [f64; 3],
    /// Pitching moment about the MAC quarter chord: cm = cm_zero + cm_per_cl CL, lift parts and section parts.
    pub cm_zero: f64,
    pub cm_per_cl: f64,
    pub cm_per_control_rad: f64,
    /// Greatest and least CL before a section reaches its limit, and where (eta).
    pub cl_max: f64,
    pub cl_max_eta: f64,
    pub cl_min: f64,
}

/// Whether two designs have the same air over them, so that one basis serves both: planform, sections, controls and
/// hinge line agree. Ribs, skins, spar and loads do not matter.
pub fn same_air(a: &Design, b: &Design) -> bool {
    a.planform == b.planform
        && a.sections == b.sections
        && a.controls == b.controls
        && a.hinge_frac.to_bits() == b.hinge_frac.to_bits()
}

/// All that the lift hangs on: planform, section values where the ribs stand, controls and hinge line.
pub(crate) struct Air<'a> {
    sweep_rad: f64,
    washout_rad: f64,
    hinge_frac: f64,
    half_span_m: f64,
    area_m2: f64,
    root_chord_m: f64,
    tip_chord_m: f64,
    mac_m: f64,
    mac_x_le_m: f64,
    controls: &'a [Control],
    /// Place, m, and section values at the bay edges, root to tip.
    stations: Vec<(f64, Local)>,
}

impl<'a> Air<'a> {
    /// Over a laid-out design.
    pub(crate) fn over(design: &'a Design, layout: &Layout) -> Self {
        let local =
            |s: &Station| (s.y_m, Local { alpha0_rad: s.alpha0_rad, cm0: s.cm0, cl_max: s.cl_max, cl_min: s.cl_min });
        Self {
            sweep_rad: design.planform.sweep_rad,
            washout_rad: design.planform.washout_rad,
            hinge_frac: design.hinge_frac,
            half_span_m: layout.half_span_m,
            area_m2: layout.area_m2,
            root_chord_m: layout.root_chord_m,
            tip_chord_m: layout.tip_chord_m,
            mac_m: layout.mac_m,
            mac_x_le_m: layout.mac_x_le_m,
            controls: &design.controls,
            stations: layout.stations().map(local).collect(),
        }
    }
}

impl Inputs for Air<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self {
            sweep_rad,
            washout_rad,
            hinge_frac,
            half_span_m,
            area_m2,
            root_chord_m,
            tip_chord_m,
            mac_m,
            mac_x_le_m,
            controls,
            stations,
        } = self;
        [sweep_rad, washout_rad, hinge_frac, half_span_m, area_m2, root_chord_m, tip_chord_m].put(to);
        [mac_m, mac_x_le_m].put(to);
        controls.put(to);
        stations.put(to);
    }
}

impl Inputs for Local {
    fn put<T: To>(&self, to: &mut T) {
        let Self { alpha0_rad, cm0, cl_max, cl_min } = self;
        [alpha0_rad, cm0, cl_max, cl_min].put(to);
    }
}

/// Solve the lattice for the design.
///
/// Angles are counted from each section's own zero-lift line, so camber and washout form the basic load.
/// **Source:** [`Lattice`]; control by thin-aerofoil flap theory times a hinge factor of 0.7 (assumption).
/// **Valid for:** attached flow; section slope 2 pi. The section limit for CLmax ignores flow along a swept span (unchecked).
pub fn basis(design: &Design, layout: &Layout) -> LiftBasis {
    basis_in(&Air::over(design, layout))
}

/// The same of what it hangs on.
pub(crate) fn basis_in(air: &Air) -> LiftBasis {
    if air.stations.len() < 2 || air.half_span_m <= 0.0 || air.area_m2 <= 0.0 {
        return LiftBasis::default();
    }
    let half = air.half_span_m;
    let root = air.root_chord_m;
    let narrowing = (air.tip_chord_m - root) / half;
    let sweep_slope = air.sweep_rad.tan();
    let chord = |y: f64| root + narrowing * y;
    let quarter = |y: f64| 0.25 * root + sweep_slope * y;
    let lattice = Lattice::new(half, air.area_m2, STRIPS, TIP_INSET, TAU, (chord, quarter));
    let sections = at_strips(&air.stations, &lattice.y_m);
    let washout = air.washout_rad;
    let angles: Vec<f64> = lattice.y_m.iter().zip(&sections).map(|(y, s)| -washout * y / half - s.alpha0_rad).collect();
    let control_share = covered(air.controls, &lattice);
    let (cl_d, cm_d) = plain_flap(1.0 - air.hinge_frac);
    let tau = (cl_d / TAU).max(1e-9);
    let mut b = LiftBasis {
        dy_m: lattice.dy_m,
        sweep_slope,
        control_effect: tau * HINGE_FACTOR,
        control_cm_per_rad: cm_d / tau,
        control_up_rad: air.controls.iter().map(|c| c.up_rad.abs()).fold(0.0, f64::max),
        control_down_rad: air.controls.iter().map(|c| c.down_rad.abs()).fold(0.0, f64::max),
        cm0: sections.iter().map(|s| s.cm0).collect(),
        section_cl_max: sections.iter().map(|s| s.cl_max).collect(),
        section_cl_min: sections.iter().map(|s| s.cl_min).collect(),
        ..LiftBasis::default()
    };
    solve(&mut b, &lattice, &angles, &control_share);
    moments(&mut b, &lattice, (air.mac_m, air.mac_x_le_m), &control_share);
    b.control_share = control_share;
    b.y_m.clone_from(&lattice.y_m);
    b.chord_m.clone_from(&lattice.chord_m);
    b.x_quarter_m.clone_from(&lattice.x_quarter_m);
    b.lattice = Some(Arc::new(lattice));
    section_limits(&mut b, half);
    b
}

/// The loads and their induced drag.
fn solve(b: &mut LiftBasis, lattice: &Lattice, angles: &[f64], control_share: &[f64]) {
    let mut additional = lattice.symmetric(&[1.0; STRIPS]);
    let mut basic = lattice.symmetric(angles);
    let slope = lattice.lift_coefficient(&additional);
    let inverse = if slope.abs() > 1e-9 { 1.0 / slope } else { 0.0 };
    for v in &mut additional {
        *v *= inverse;
    }
    let cl_basic = lattice.lift_coefficient(&basic);
    basic.iter_mut().zip(&additional).for_each(|(v, a)| *v -= cl_basic * a);
    b.slope_per_rad = slope;
    b.alpha_zero_rad = -cl_basic * inverse;
    let any = control_share.iter().any(|s| *s > 0.0);
    (b.control_sym_m, b.control_anti_m) = if any {
        (lattice.symmetric(control_share), lattice.antisymmetric(control_share))
    } else {
        (vec![0.0; STRIPS], vec![0.0; STRIPS])
    };
    b.control_cl_per_rad = lattice.lift_coefficient(&b.control_sym_m);
    let shifted: Vec<f64> =
        b.control_sym_m.iter().zip(&additional).map(|(c, a)| c - b.control_cl_per_rad * a).collect();
    let [wake_a, wake_b, wake_c] = lattice.wake([&additional, &basic, &shifted]);
    b.induced = [
        lattice.induced_by(&additional, &wake_a),
        2.0 * lattice.induced_by(&additional, &wake_b),
        lattice.induced_by(&basic, &wake_b),
    ];
    b.induced_control = [
        2.0 * lattice.induced_by(&additional, &wake_c),
        2.0 * lattice.induced_by(&basic, &wake_c),
        lattice.induced_by(&shifted, &wake_c),
    ];
    b.additional_m = additional;
    b.basic_m = basic;
}

/// Pitching moments about the quarter chord of the mean chord.
fn moments(b: &mut LiftBasis, lattice: &Lattice, (mac_m, mac_x_le_m): (f64, f64), control_share: &[f64]) {
    let mac = mac_m.max(1e-9);
    let x = mac_x_le_m + 0.25 * mac;
    let own = |v: &[f64]| -> f64 {
        let sum: f64 = v.iter().zip(&lattice.chord_m).map(|(m, c)| m * c * c).sum();
        2.0 * sum * lattice.dy_m / (lattice.area_m2 * mac)
    };
    b.cm_zero = lattice.pitching(&b.basic_m, x, mac) + own(&b.cm0);
    b.cm_per_cl = lattice.pitching(&b.additional_m, x, mac);
    b.cm_per_control_rad = lattice.pitching(&b.control_sym_m, x, mac) + b.control_cm_per_rad * own(control_share);
}

/// CL at which the first section reaches its limit, up and down.
fn section_limits(b: &mut LiftBasis, half_span_m: f64) {
    let (mut most, mut least) = (f64::INFINITY, f64::NEG_INFINITY);
    for i in 0..b.y_m.len() {
        let (c, a) = (b.chord_m[i], b.additional_m[i]);
        if a <= 1e-9 {
            continue;
        }
        let up = (b.section_cl_max[i] * c - b.basic_m[i]) / a;
        if up < most {
            most = up;
            b.cl_max_eta = b.y_m[i] / half_span_m;
        }
        least = least.max((b.section_cl_min[i] * c - b.basic_m[i]) / a);
    }
    b.cl_max = if most.is_finite() { most } else { 0.0 };
    b.cl_min = if least.is_finite() { least } else { 0.0 };
}

/// Section values that matter to the lift.
#[derive(Debug, Clone, Copy, Default)]
struct Local {
    alpha0_rad: f64,
    cm0: f64,
    cl_max: f64,
    cl_min: f64,
}

/// Section values at the strip mids, linear between stations.
fn at_strips(stations: &[(f64, Local)], y_m: &[f64]) -> Vec<Local> {
    let mut k = 0;
    let last = stations.len() - 2;
    y_m.iter()
        .map(|&y| {
            while k < last && stations[k + 1].0 < y {
                k += 1;
            }
            let ((from, p), (to, q)) = (&stations[k], &stations[k + 1]);
            let width = to - from;
            let t = if width > 0.0 { ((y - from) / width).clamp(0.0, 1.0) } else { 0.0 };
            let mix = |a: f64, b: f64| a + t * (b - a);
            Local {
                alpha0_rad: mix(p.alpha0_rad, q.alpha0_rad),
                cm0: mix(p.cm0, q.cm0),
                cl_max: mix(p.cl_max, q.cl_max),
                cl_min: mix(p.cl_min, q.cl_min),
            }
        })
        .collect()
}

/// Share of each strip covered by a control.
fn covered(controls: &[Control], lattice: &Lattice) -> Vec<f64> {
    let (half, dy) = (lattice.half_span_m, lattice.dy_m);
    (0..lattice.y_m.len())
        .map(|k| {
            let (from, to) = (k as f64 * dy, (k + 1) as f64 * dy);
            let sum: f64 =
                controls.iter().map(|c| (to.min(c.to_eta * half) - from.max(c.from_eta * half)).max(0.0)).sum();
            (sum / dy).min(1.0)
        })
        .collect()
}
