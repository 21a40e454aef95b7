//! A station of the wing: everything measured on the true section there.

use crate::physics::design::{Design, Planform, SectionAt};
use crate::physics::kept::{Inputs, Known, To};
use crate::physics::wing::aerofoil::{self, Contour, SIDE};
use crate::physics::wing::layout::Station;
use crate::physics::wing::planform;

/// A section prepared: its contour and thin-aerofoil constants.
#[derive(Debug)]
pub struct Prepared {
    pub eta: f64,
    pub contour: Contour,
    /// Upper and lower surface on the way to the next section, or where there is only one to itself.
    to_next: Option<[Between; 2]>,
    pub thickness: f64,
    pub alpha0_rad: f64,
    pub cm0: f64,
    pub cl_max: f64,
    pub cl_min: f64,
}

/// A surface between two sections, whose points go straight from one to the other: by point, coefficients of powers of
/// the way `w` gone.
#[derive(Debug)]
struct Between {
    /// Square of the length from the point before.
    square: [[f64; SIDE]; 3],
    /// Integral of height over x from the nose.
    under: [[f64; 3]; SIDE],
}

impl Between {
    /// `d = da + w (db - da)`, so `d^2` and `dx (y + y1)/2` are squares of w.
    fn of(a: &[(f64, f64); SIDE], b: &[(f64, f64); SIDE]) -> Self {
        let mut out = Self { square: [[0.0; SIDE]; 3], under: [[0.0; 3]; SIDE] };
        for i in 1..SIDE {
            let (ax, ay) = (a[i].0 - a[i - 1].0, a[i].1 - a[i - 1].1);
            let (bx, by) = (b[i].0 - b[i - 1].0 - ax, b[i].1 - b[i - 1].1 - ay);
            out.square[0][i] = ax * ax + ay * ay;
            out.square[1][i] = 2.0 * (ax * bx + ay * by);
            out.square[2][i] = bx * bx + by * by;
            let (am, bm) = (0.5 * (a[i].1 + a[i - 1].1), 0.5 * (b[i].1 + b[i - 1].1));
            let here = [ax * am, ax * (bm - am) + bx * am, bx * (bm - am)];
            let before = out.under[i - 1];
            out.under[i] = std::array::from_fn(|k| before[k] + here[k]);
        }
        out
    }
}

/// Prepare the sections of a design once.
/// Unchecked: no outside check runs it by itself.
pub fn prepare(sections: &[SectionAt]) -> Vec<Prepared> {
    let contours: Vec<Contour> = sections.iter().map(|s| aerofoil::contour(&s.aerofoil)).collect();
    let to_next: Vec<Option<[Between; 2]>> = contours
        .iter()
        .enumerate()
        .map(|(i, a)| {
            let b = contours.get(i + 1).or_else(|| contours.first().filter(|_| contours.len() == 1))?;
            Some([Between::of(&a.upper, &b.upper), Between::of(&a.lower, &b.lower)])
        })
        .collect();
    let prepared = |((s, contour), to_next): ((&SectionAt, Contour), Option<[Between; 2]>)| {
        let (alpha0, cm0) = aerofoil::thin_aerofoil(&s.aerofoil);
        Prepared {
            eta: s.eta,
            contour,
            to_next,
            thickness: aerofoil::thickness(&s.aerofoil),
            alpha0_rad: s.alpha0_rad.unwrap_or(alpha0),
            cm0: s.cm0.unwrap_or(cm0),
            cl_max: s.cl_max,
            cl_min: s.cl_min,
        }
    };
    sections.iter().zip(contours).zip(to_next).map(prepared).collect()
}

/// One surface, blended between two sections, walked once.
struct Walk {
    /// Arc from the nose to each mark, and height there.
    arc: [f64; 2],
    height: [f64; 2],
    /// Integral of height over x from the nose to each mark.
    under: [f64; 2],
    total_arc: f64,
    /// Radius of the last third of the arc before the first mark.
    radius: f64,
}

fn walk((a, b): (&[(f64, f64); SIDE], &[(f64, f64); SIDE]), between: &Between, w: f64, marks: [f64; 2]) -> Walk {
    let at = |i: usize| (a[i].0 + w * (b[i].0 - a[i].0), a[i].1 + w * (b[i].1 - a[i].1));
    let under = |i: usize| {
        let [u0, u1, u2] = between.under[i];
        u0 + w * (u1 + w * u2)
    };
    let mut arcs = [0.0; SIDE];
    let [s0, s1, s2] = &between.square;
    for (arc, (s0, (s1, s2))) in arcs.iter_mut().zip(s0.iter().zip(s1.iter().zip(s2))) {
        *arc = (s0 + w * (s1 + w * s2)).max(0.0).sqrt();
    }
    for i in 1..SIDE {
        arcs[i] += arcs[i - 1];
    }
    let total_arc = arcs[SIDE - 1];
    let mut out = Walk {
        arc: [total_arc; 2],
        height: [at(SIDE - 1).1; 2],
        under: [under(SIDE - 1); 2],
        total_arc,
        radius: f64::INFINITY,
    };
    let mut i = 1;
    for (next, mark) in marks.into_iter().enumerate() {
        // Points run aft but for the very nose: halve the way to the mark, then step.
        let mut beyond = SIDE;
        while i < beyond {
            let middle = usize::midpoint(i, beyond);
            if at(middle).0 < mark { i = middle + 1 } else { beyond = middle }
        }
        while i < SIDE && !(at(i).0 >= mark && at(i).0 > at(i - 1).0) {
            i += 1;
        }
        if i >= SIDE {
            break;
        }
        let (q, p) = (at(i), at(i - 1));
        let (dx, dy) = (q.0 - p.0, q.1 - p.1);
        let k = ((mark - p.0) / dx).clamp(0.0, 1.0);
        out.arc[next] = arcs[i - 1] + k * (arcs[i] - arcs[i - 1]);
        out.height[next] = p.1 + k * dy;
        out.under[next] = under(i - 1) + k * dx * (p.1 + out.height[next]) / 2.0;
    }
    out.radius = flattest_radius(&arcs, out.arc[0], at);
    out
}

/// Mean radius over the last third of the nose arc: length over turning angle.
fn flattest_radius(arcs: &[f64; SIDE], end: f64, at: impl Fn(usize) -> (f64, f64)) -> f64 {
    let i = arcs.partition_point(|s| *s < end * 2.0 / 3.0).clamp(1, SIDE - 2);
    let j = arcs.partition_point(|s| *s < end).clamp(i + 1, SIDE - 1);
    let angle = |k: usize| {
        let (p, q) = (at(k - 1), at(k));
        (q.1 - p.1).atan2(q.0 - p.0)
    };
    let turn = (angle(j) - angle(i)).abs();
    if turn > 1e-6 { (arcs[j] - arcs[i]) / turn } else { f64::INFINITY }
}

/// All that the stations of a wing hang on.
#[derive(Clone, Copy)]
pub(crate) struct Outline<'a> {
    planform: &'a Planform,
    sections: Known<'a, Vec<Prepared>>,
    /// Chord fraction of the spar at root and tip.
    spar: [f64; 2],
    hinge_frac: f64,
}

impl<'a> Outline<'a> {
    /// Of a design whose sections are prepared.
    pub(crate) const fn of(design: &'a Design, sections: Known<'a, Vec<Prepared>>) -> Self {
        let spar = [design.spar.position_root, design.spar.position_tip];
        Self { planform: &design.planform, sections, spar, hinge_frac: design.hinge_frac }
    }
}

/// A place on an outline.
pub(crate) struct At<'a> {
    pub(crate) outline: Outline<'a>,
    pub(crate) eta: f64,
}

impl Inputs for At<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { outline, eta } = self;
        let Outline { planform, sections, spar, hinge_frac } = outline;
        [eta, hinge_frac].put(to);
        spar.put(to);
        sections.put(to);
        planform.put(to);
    }
}

/// Measure a station.
pub(crate) fn station(at: &At) -> Station {
    let (outline, eta) = (&at.outline, at.eta);
    let (p, prepared) = (outline.planform, outline.sections.value());
    let chord = planform::chord_m(p, eta);
    let j = prepared.partition_point(|s| s.eta <= eta).clamp(1, prepared.len().max(2) - 1);
    let (Some(a), Some(b)) = (prepared.get(j - 1), prepared.get(j).or_else(|| prepared.last())) else {
        return Station::default();
    };
    let w = if b.eta > a.eta { ((eta - a.eta) / (b.eta - a.eta)).clamp(0.0, 1.0) } else { 0.0 };
    let mix = |x: f64, y: f64| x + w * (y - x);
    let spar = outline.spar[0] + eta * (outline.spar[1] - outline.spar[0]);
    let marks = [spar, outline.hinge_frac];
    let Some([upper, lower]) = &a.to_next else { return Station::default() };
    let u = walk((&a.contour.upper, &b.contour.upper), upper, w, marks);
    let l = walk((&a.contour.lower, &b.contour.lower), lower, w, marks);
    let t = mix(a.thickness, b.thickness);
    let half = p.span_m / 2.0;
    // Chord and leading edge run straight and so does the spar's share of the chord: the slope is exact.
    let per_m = |f: &dyn Fn(f64) -> f64| (f(1.0) - f(0.0)) / half.max(1e-9);
    let spar_slope = per_m(&|k| planform::leading_edge_m(p, k))
        + spar * per_m(&|k| planform::chord_m(p, k))
        + chord * (outline.spar[1] - outline.spar[0]) / half.max(1e-9);
    Station {
        eta,
        y_m: eta * p.span_m / 2.0,
        chord_m: chord,
        twist_rad: -p.washout_rad * eta,
        x_le_m: planform::leading_edge_m(p, eta),
        thickness_frac: t,
        spar_frac: spar,
        spar_slope,
        spar_depth_m: chord * (u.height[0] - l.height[0]),
        nose_radius_m: chord * aerofoil::nose_radius(t),
        nose_upper_m: chord * u.arc[0],
        nose_lower_m: chord * l.arc[0],
        aft_upper_m: chord * (u.arc[1] - u.arc[0]),
        aft_lower_m: chord * (l.arc[1] - l.arc[0]),
        control_upper_m: chord * (u.total_arc - u.arc[1]),
        control_lower_m: chord * (l.total_arc - l.arc[1]),
        nose_upper_radius_m: chord * u.radius,
        nose_lower_radius_m: chord * l.radius,
        nose_cell_m2: chord * chord * (u.under[0] - l.under[0]),
        aft_cell_m2: chord * chord * (u.under[1] - u.under[0] - l.under[1] + l.under[0]),
        hinge_depth_m: chord * (u.height[1] - l.height[1]),
        alpha0_rad: mix(a.alpha0_rad, b.alpha0_rad),
        cm0: mix(a.cm0, b.cm0),
        cl_max: mix(a.cl_max, b.cl_max),
        cl_min: mix(a.cl_min, b.cl_min),
    }
}
