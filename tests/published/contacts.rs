//! What a skin stands under contacts, against hand sums, quadrature and least energy.

use std::f64::consts::PI;

use super::handling::near;
use super::statics::{demo, done};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Service;
use thistledown::physics::durability::contact::{FaceOnFoam, edge_load_n_m, plug_load_n};
use thistledown::physics::durability::covering::{ball_n, blunt_n, edge_n_m, give_j, slack_share};
use thistledown::physics::durability::events::Contact;
use thistledown::physics::durability::resistance::stand;
use thistledown::physics::laminate::construction::{Construction, Kind, properties};
use thistledown::physics::laminate::sandwich;
use thistledown::physics::strength::skins::Bending;

#[test]
fn coverings_by_hand_and_by_quadrature() {
    // By hand: cone sine at 5 % strain 1.35 sqrt(1 - 1/1.1025) = 0.41163. Ball of 5 mm on 10 kN/m: 2 pi R N sin^2 = 53.23 N, edge
    // 2 N sin = 8232.6 N/m, blunt 2 pi R N sin = 129.3 N.
    near(ball_n(0.005, 10e3, 0.05), 53.23, 1e-3);
    near(edge_n_m(10e3, 0.05), 8232.6, 1e-3);
    near(blunt_n(0.005, 10e3, 0.05), 129.3, 1e-3);
    // Film yields at 100 of its 200 MPa: a maker's comparison table of films (read).
    near(slack_share(true), 100.0 / 200.0, 1e-12);
    // Computed independently: force summed over the way, the way by bisection. Point load on a clamped round membrane,
    // q = 1/(1.05 - 0.15 nu - 0.16 nu^2) (Komaragiri, Begley and Simmonds 2005; Lee and others, Science 321, 2008, from memory).
    let (stiff, tension, b, r, load): (f64, f64, f64, f64, f64) = (60e3, 250.0, 0.12, 0.01, 90.0);
    let q: f64 = 1.0 / (1.05 - 0.045 - 0.0144);
    let force = |w: f64| 2.0 * PI * tension / (b / r).ln() * w + stiff * q.powi(3) * w.powi(3) / (b * b);
    let (mut low, mut high) = (0.0, 0.1);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if force(middle) < load { low = middle } else { high = middle }
    }
    let n = 20_000;
    let energy: f64 = (0..n).map(|i| force(low * (f64::from(i) + 0.5) / f64::from(n)) * low / f64::from(n)).sum();
    near(give_j(load, stiff, tension, (b, r)), energy, 1e-5);
    // Without stretch it is the spring of the pretension alone: P^2/(2 k).
    let spring = 2.0 * PI * tension / (b / r).ln();
    near(give_j(5.0, 1.0, tension, (b, r)), 25.0 / (2.0 * spring), 1e-3);
}

#[test]
fn an_edge_sinks_with_least_energy() {
    // Computed independently: a face as a triangle of half width L, w deep, on a crushed core: energy A w^4/(4 L^3) + sigma w L, its least
    // over L by search, the load its derivative by differences.
    let f = FaceOnFoam { a_n_m: 4e6, d_nm: 1e-4, crush_pa: 0.3e6, core_modulus_pa: 1e12, core_m: 0.008 };
    let energy = |w: f64| {
        (1..40_000)
            .map(|i| {
                let l = f64::from(i) * 1e-6;
                f.a_n_m * w.powi(4) / (4.0 * l.powi(3)) + f.crush_pa * w * l
            })
            .fold(f64::INFINITY, f64::min)
    };
    for w in [0.3e-3, 1e-3] {
        near(edge_load_n_m(&f, w), (energy(w * 1.001) - energy(w * 0.999)) / (0.002 * w), 2e-3);
    }
    // A plug by hand: 80 MPa, the middle of 60 to 100 from memory, on a rim of 2 pi 5 mm and 0.2 mm deep: 502.7 N.
    near(plug_load_n(0.005, 0.2e-3), 502.65, 1e-4);
}

#[test]
fn plywood_and_sheets_under_contacts_by_hand() {
    // By hand from the wood's own strengths: a soft pad crushes the grain under its area; a hard edge of 3 mm sunk 0.3 mm deep touches
    // 2 sqrt(2 r d - d^2) (Pythagoras); punched through, twice the shear along the grain all round (an assumption).
    let d = demo("mixed");
    let lib = &d.library;
    let (i, w) = lib.woods.iter().enumerate().find(|(_, w)| w.crush_perp_pa > 0.0 && w.shear_pa > 0.0).unwrap();
    let c = Construction { kind: Kind::Wood, wood: Some((i, 0.002)), tool: usize::MAX, ..Construction::default() };
    let a = Assumptions::default();
    let s = properties(&c, lib, &a);
    let at = |c: Contact| stand(&s, lib, c, 1.0, &a);
    let pad = at(Contact::Pad { radius_m: 0.002 });
    near(pad.load[0], w.crush_perp_pa * PI * 4e-6, 1e-9);
    let through = 2.0 * PI * 0.005 * 0.002 * 2.0 * w.shear_pa;
    near(at(Contact::Ball { radius_m: 0.005 }).load[2], through, 1e-9);
    let edge = at(Contact::Edge);
    near(edge.load[0], w.crush_perp_pa * 2.0 * (2.0 * 0.003 * 0.3e-3_f64 - 0.09e-6).sqrt(), 0.03);
    near(edge.load[2], 2.0 * 0.002 * 2.0 * w.shear_pa, 1e-9);
    // Energy: force rises in a straight line to the mark, and is spent over the thickness once through.
    near(pad.local_j[0], 0.5 * pad.load[0] * 0.3e-3, 1e-9);
    near(pad.local_j[2], pad.load[2] * 0.002, 1e-9);
    // A bare sheet under a strap: both sheets pull along the slope, so pressure times width is what a straight edge stands.
    let mut sheet = d.constructions.iter().find(|c| c.kind == Kind::Sandwich).unwrap().clone();
    (sheet.kind, sheet.core, sheet.inner) = (Kind::Laminate, None, Vec::new());
    let s = properties(&sheet, lib, &a);
    let (strap, edge) =
        (stand(&s, lib, Contact::Pressure { radius_m: 0.0125 }, 1.0, &a), stand(&s, lib, Contact::Edge, 1.0, &a));
    near(strap.load[0] * 0.025, edge.load[0], 1e-9);
    // A face under its own bending, by hand: strain of a strip of D under a moment is t/2 over D.
    let strip = Bending::new(&s, 0.2, true);
    near(strip.strain_per_moment(0.0).0, s.outer.thickness_m / 2.0 / s.d.s11, 1e-12);
    // Pinned strip under even pressure (Roark, 7th ed., table 8.1, from memory): p b^2/8: 1 kPa over 0.2 m is 5 N.
    near(strip.moment_n(1000.0), 5.0, 1e-12);
}

#[test]
fn a_hot_core_keeps_what_the_scenario_says_at_55_degrees() {
    // By hand: all of it at 20 C, the stated share at 55 C, half the loss half way, and a half more loss at the most.
    let service = |upper_c: f64| Service { upper_c, hot_core_share: 0.7, ..demo("mixed").service };
    for (c, share) in [(20.0, 1.0), (37.5, 0.85), (55.0, 0.7), (72.5, 0.55), (90.0, 0.55), (0.0, 1.0)] {
        near(service(c).core_share(true), share, 1e-12);
    }
}

#[test]
fn durability_of_the_year_is_a_lognormal_band() {
    // Any normal table: P10 and P90 lie 1.2816 deviations from the middle of the logarithm, whose variance is the sum of its parts.
    // From memory, the table; by hand, the sum.
    let e = done(&demo("mixed"));
    let d = &e.durability;
    let sd = d.rests_on.iter().map(|r| r.1 * r.1).sum::<f64>().sqrt();
    near((d.repair_h_p90 / d.repair_h).ln(), 1.2816 * sd, 1e-4);
    near((d.repair_h / d.repair_h_p10).ln(), 1.2816 * sd, 1e-4);
}

#[test]
fn wrinkles_die_out_where_their_energy_is_least() {
    // Derived from energy, as Hoff and Mautner 1945 did (from memory): a face of sine waves of half length L on a core whose displacement falls
    // straight to nothing at depth W: stress times t = pi2 E t3/(12 L2) + Ez L2/(pi2 W) + G W/3. Its least over L and W, found by trying:
    // the stress is 0.91 (E Ez G)^(1/3), and W the depth.
    for (face_m, face, core, shear) in [(0.2e-3_f64, 55e9, 70e6, 20e6), (0.5e-3, 18e9, 12e6, 6e6)] {
        let depth = sandwich::wrinkling_depth(face_m, face, core, shear);
        let stress = |l: f64, w: f64| {
            PI * PI * face * face_m.powi(2) / (12.0 * l * l) + (core * l * l / (PI * PI * w) + shear * w / 3.0) / face_m
        };
        // For every depth the best length; then the best depth.
        let best = |w: f64| {
            let l = (PI.powi(4) * face * face_m.powi(3) * w / (12.0 * core)).powf(0.25);
            assert!([0.99, 1.01].iter().all(|k| stress(k * l, w) > stress(l, w)));
            stress(l, w)
        };
        let (mut low, mut high) = (0.1 * depth, 10.0 * depth);
        for _ in 0..200 {
            let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if best(a) < best(b) { high = b } else { low = a }
        }
        near(depth, low, 2e-3);
        near(best(low), 0.91 * (face * core * shear).cbrt(), 2e-3);
    }
}
