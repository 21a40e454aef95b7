//! The rib that holds a control: what its hinge and its horn bring into it.

use std::f64::consts::{PI, TAU};

use crate::physics::design::Control;
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::loads::section::{MOST_TURNED_RAD, lift_share_ahead, plain_flap};
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, rib_bending, rib_shear, ribs};

pub const MODE: Mode = Mode {
    key: "control_rib",
    title: "control rib load",
    formula: "cap strain (M + P h/2 + R arm)/(h E A) + P/(2 E A) against its limit or that at which it buckles off the rib, P = hinge moment over the horn, R the greatest hinge reaction of a continuous beam, half as much again with two hinges or fewer; at the inboard rib of each control; body (V + R)/h at the spar and R/h at the hinge against its shear",
    source: "thin-aerofoil hinge moment, Houghton and Carpenter, eq. 4.54 and after (b2 read); beam over equal spans, Brockenbrough, Civil Engineering Formulas, table 2.1 (read); two hinges: CS 22.625 (read); cantilever, any text; buckling as rib buckling",
    mark: Mark::Computed,
    valid: "attached flow; the rod runs along the chord to the inboard rib, hinges stand on the surface and evenly along it; hinges and horn as the scenario states, else one at every rib and 60 mm, an assumption; what a bending wing forces on a third hinge is not in it; a control turned beyond 25 degrees is not shown",
    safe_side: "greatest of every case added, a whole bay of the fuller side and the whole hinge on top; no balance ahead of the hinge",
    knock_down: "as rib in bending",
    power: 1.0,
    margins: Some(margins),
};

/// Load of a control, per pressure and chord: normal force over `q c`, hinge moment that closes it over `q c^2`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Hinged {
    pub force: f64,
    pub moment: f64,
}

/// Per radian of incidence of the whole section (lift slope 2 pi): flat plate, `phi = acos(2E - 1)`, E flap over chord.
///
/// `moment = (pi - phi)(cos phi - 1/2) + sin phi (1 - cos phi/2)`.
/// **Source:** integral of the thin-plate load over the flap, derived; Houghton and Carpenter 4.5.1. **Valid for:** attached flow.
pub fn by_incidence(flap_frac: f64) -> Hinged {
    let cos = 2.0 * flap_frac.clamp(0.0, 1.0) - 1.0;
    let phi = cos.acos();
    Hinged {
        force: TAU * (1.0 - lift_share_ahead(1.0 - flap_frac)),
        moment: (PI - phi) * (cos - 0.5) + phi.sin() * (1.0 - 0.5 * cos),
    }
}

/// Per radian of flap at fixed incidence: `force = (2/pi)(pi - phi)^2`,
/// `moment = ((pi - phi)^2 (cos phi - 1/2) + (pi - phi) sin phi + sin^2 phi/2)/pi`.
///
/// **Source:** the moment is -b2 E^2 of Houghton and Carpenter (read); the force derived in the same way.
/// **Valid for:** sealed hinge, small angles; the angle of a plain hinge with gaps already reduced.
pub fn by_flap(flap_frac: f64) -> Hinged {
    let cos = 2.0 * flap_frac.clamp(0.0, 1.0) - 1.0;
    let phi = cos.acos();
    let (left, sin) = (PI - phi, phi.sin());
    Hinged { force: 2.0 / PI * left * left, moment: (left * left * (cos - 0.5) + left * sin + 0.5 * sin * sin) / PI }
}

/// Hinge moment and force of a whole control in the worst case: N m, N, case.
fn worst(c: &Context, k: &Control) -> (f64, f64, usize) {
    let flap = 1.0 - c.design.hinge_frac;
    let (alpha, turn) = (by_incidence(flap), by_flap(flap));
    let tau = (plain_flap(flap).0 / TAU).max(1e-9);
    let mut worst = (0.0, 0.0, 0);
    for l in &c.loads.loads {
        let Some(case) = c.loads.cases.get(l.case) else { continue };
        let q = pressure_pa(case.speed_m_s);
        if q <= 0.0 {
            continue;
        }
        let effective = case.control_sym_rad.abs() + case.control_anti_rad.abs();
        let turned = if case.control_sym_rad + case.control_anti_rad < 0.0 { -effective } else { effective };
        let (mut moment, mut force) = (0.0, 0.0);
        for (bay, b) in
            c.layout.bays.iter().enumerate().filter(|(_, b)| k.from_eta <= b.mid.eta && b.mid.eta <= k.to_eta)
        {
            let net = l.net_pa().get(bay).copied().unwrap_or(0.0) / q;
            let even = -4.0 * b.mid.cm0;
            let plate = (net - even) / TAU - turned;
            let (chord, angle) = (b.mid.chord_m, turned / tau);
            let cn = alpha.force * plate + turn.force * angle + even * flap;
            let ch = alpha.moment * plate + turn.moment * angle + 0.5 * even * flap * flap;
            force += cn * q * chord * b.length_m;
            moment += ch * q * chord * chord * b.length_m;
        }
        if f64::abs(moment) > f64::abs(worst.0) {
            worst = (moment, force, l.case);
        }
    }
    worst
}

/// Greatest reaction of a beam over `hinges` supports of equal pitch under an even load, share of the whole load:
/// one takes all, two half each, three 10/16; then `1.25/(hinges - 1)`, of the pitch.
/// **Source:** Brockenbrough, *Civil Engineering Formulas*, table 2.1. **Safe side:** from four on 8 to 14 % high.
pub fn reaction_share(hinges: f64) -> f64 {
    if hinges >= 2.5 { 1.25 / (hinges - 1.0) } else { 1.0 / hinges.max(1.0) }
}

/// What hinges and what holds them are to stand more where a control has no more than two. **Source:** CS 22.625 (e) (read).
pub fn hinge_factor(hinges: f64) -> f64 {
    if hinges < 2.5 { 1.5 } else { 1.0 }
}

/// Greatest shear flow in the body of a rib that holds a hinge at its end, N/m: `R/h` there, and `(V + R)/h` at the spar with the air's V.
/// **Source:** cantilever, any text. **Safe side:** V whole, though what the control carries of it comes by the hinge; what the
/// slope of caps takes is left out.
pub fn sheared_n_m((air_n, hinge_n): (f64, f64), (depth_m, end_depth_m): (f64, f64)) -> f64 {
    ((air_n + hinge_n) / depth_m).max(hinge_n / end_depth_m)
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for k in &c.design.controls {
        let mut within =
            c.layout.bays.iter().enumerate().filter(|(_, b)| k.from_eta <= b.mid.eta && b.mid.eta <= k.to_eta);
        let Some((bay, b)) = within.next() else { continue };
        let bays = 1 + within.count();
        // The rib between a bay with the control and one without: it bears the fuller of both.
        let Some(kind) = c.design.rib_kinds.get(b.edge_kinds[0]) else { continue };
        let beside = [Some(bay), bay.checked_sub(1)].into_iter().flatten();
        let fuller = |r: &ribs::AftRib| r.most_moment.moment_nm.abs();
        let standing = beside.filter_map(|i| ribs::standing(c, i, &b.inner, kind));
        let Some(r) = standing.max_by(|x, y| fuller(x).total_cmp(&fuller(y))) else { continue };
        let (Some((ea, limit, bare)), Some(body)) = (rib_bending::cap_or_buckling(c, &r), rib_shear::body_n_m(c, &r))
        else {
            continue;
        };
        let (moment, force, case) = worst(c, k);
        let rod = moment.abs() / k.horn_m.max(1e-6);
        let hinges = if k.hinges > 0 { f64::from(k.hinges) } else { bays as f64 + 1.0 };
        let arm = (c.design.hinge_frac - b.inner.spar_frac).max(0.0) * b.inner.chord_m;
        let hinge = force.abs() * reaction_share(hinges) * hinge_factor(hinges);
        let bent = r.most_moment.moment_nm.abs() + rod * b.inner.hinge_depth_m / 2.0 + hinge * arm;
        let strain = ribs::cap_strain(bent * c.ultimate(), r.depth_m, ea) + rod * c.ultimate() / (2.0 * ea);
        let mut worked = margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (strain, limit, "strain"),
            inputs![
                ("hinge moment limit", moment, "N m"),
                ("rod limit", rod, "N"),
                ("hinge limit", hinge, "N"),
                ("hinges", hinges, ""),
                ("M of the rib limit", r.most_moment.moment_nm, "N m"),
                ("depth", r.depth_m, "m"),
                ("cap E A", ea, "N"),
                ("factor", c.ultimate(), ""),
            ],
        );
        rib_bending::bare_edge(&mut worked, bare);
        // Its body hands the hinge on, where it is shallowest, and at the spar with the air on the rib.
        let (v, end_depth_m) = (r.most_shear.shear_n.abs(), r.end_depth_m.max(0.01));
        let flow = sheared_n_m((v, hinge), (r.depth_m, end_depth_m)) * c.ultimate();
        let mut sheared = margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (flow, body, "N/m"),
            inputs![
                ("hinge moment limit", moment, "N m"),
                ("hinge limit", hinge, "N"),
                ("hinges", hinges, ""),
                ("V of the rib limit", v, "N"),
                ("depth at the spar", r.depth_m, "m"),
                ("depth at the hinge", end_depth_m, "m"),
                ("factor", c.ultimate(), ""),
            ],
        );
        if k.up_rad.abs().max(k.down_rad.abs()) > MOST_TURNED_RAD {
            for m in [&mut worked, &mut sheared] {
                m.verdict =
                    Verdict::NotShown("a control turned beyond 25 degrees: its flow parts, its load is not known");
            }
        }
        out.extend([worked, sheared]);
    }
}
