//! Edges of skins: free edges of a face on foam, rib lines, boundary joints.

use std::path::Path;

use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::durability::care;
use thistledown::physics::durability::edges::{Edge, weakest};
use thistledown::physics::durability::events::{Contact, EVENTS};
use thistledown::physics::durability::foundation::{free_edge_share, thick_face_stress_pa};
use thistledown::physics::durability::resistance::{self, Spot};
use thistledown::physics::durability::term::{Ground, panel_of};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::Kind;
use thistledown::scenario::load;

fn wing(name: &str) -> (Design, Evaluation) {
    let d = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"))).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    (d, e)
}

/// Complex numbers as pairs: all that the half plane below needs.
type C = (f64, f64);

fn times(a: C, b: C) -> C {
    (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
}

fn root(a: C) -> C {
    let size = a.0.hypot(a.1);
    let re = f64::midpoint(size, a.0).max(0.0).sqrt();
    (re, a.1.signum() * (0.5 * (size - a.0)).max(0.0).sqrt())
}

/// Deflection at the free edge of a half plane on a Winkler foundation under a point load there, over P/(k ell^2):
/// independent of the closed form, by Fourier transform along the edge. For each wave number s the plate decays as
/// exp(-x sqrt(s^2 + i)) and its conjugate; moment and Kirchhoff shear at the edge give the rest.
fn half_plane(nu: f64) -> f64 {
    let at = |s: f64| {
        let r = root((s * s, 1.0));
        let r2 = times(r, r);
        let r3 = times(r2, r);
        // Moment: r^2 - nu s^2; shear: -(r^3 - (2 - nu) s^2 r). Amplitudes c and its conjugate, moment nil and shear 1.
        let m = (r2.0 - nu * s * s, r2.1);
        let v = (-(r3.0 - (2.0 - nu) * s * s * r.0), -(r3.1 - (2.0 - nu) * s * s * r.1));
        // c m + conj = 0 puts c along i conj(m); then 2 Re(c v) = 1.
        let along = times((0.0, 1.0), (m.0, -m.1));
        let shear = 2.0 * times(along, v).0;
        (2.0 * along.0 / shear).abs()
    };
    let n = 20_000;
    let sum: f64 = (0..n)
        .map(|i| {
            let u = (f64::from(i) + 0.5) / f64::from(n);
            let s = u / (1.0 - u);
            // It falls with the third power of s: what is beyond is nothing.
            if s > 200.0 { 0.0 } else { at(s) / (1.0 - u).powi(2) }
        })
        .sum();
    sum / f64::from(n) / std::f64::consts::PI
}

#[test]
fn a_free_edge_stands_what_the_half_plane_says() {
    // Computed independently: the half plane by Fourier transform, above.
    for nu in [0.0, 0.1, 0.15, 0.3] {
        let want = 0.125 / half_plane(nu);
        println!("free edge over middle, nu {nu}: Fourier {want:.4}, closed {:.4}", free_edge_share(nu));
        near(free_edge_share(nu), want, 8e-3);
    }
    // Huang, Pavement Analysis and Design, 1993 (from memory): edge 0.431 P/(k ell^2), interior P/(8 k ell^2), nu 0.15.
    near(free_edge_share(0.15), 0.125 / 0.431, 1e-3);
    // Out of its range the thick-face form gives nothing: a thumb on a face of 0.2 mm.
    assert_eq!(thick_face_stress_pa(50.0, (0.008, 0.0002), 0.0015, 0.1), None);
}

#[test]
fn each_kind_of_edge_has_a_resistance_of_its_own() {
    // Own property: shares put together, not held against a source.
    let (d, e) = wing("marram-mixed");
    let a = Assumptions::default();
    let g = Ground::new((&d, &e.layout, &e.skins), 20.0, &a);
    let all = weakest(&g);
    assert_eq!(all.iter().map(|s| s.edge).collect::<Vec<_>>(), Edge::ALL);
    // A sandwich at its joint against its middle: hard things at the free edge's share, soft ones the same, blows with
    // nothing that gives.
    let zone = (0..e.layout.zones.len())
        .find(|i| g.joints[*i] > 0.0 && e.skins[e.layout.zones[*i].construction].kind == Kind::Sandwich)
        .unwrap();
    let (z, s) = (&e.layout.zones[zone], &e.skins[e.layout.zones[zone].construction]);
    let at = |c: Contact, spot: Spot| {
        let stand = resistance::stand(s, &d.library, c, 1.0, &a);
        resistance::here(s, &d.library, c, &stand, (spot, &panel_of(z)), &a)[0]
    };
    let ball = Contact::Ball { radius_m: 0.01 };
    near(at(ball, Spot::Joint), free_edge_share(0.1) * at(ball, Spot::Mid), 1e-12);
    let pad = Contact::Pad { radius_m: 0.008 };
    assert_eq!(at(pad, Spot::Joint), at(pad, Spot::Mid));
    let blow = Contact::Blow { radius_m: 0.01, local: false, ice: false };
    assert!(at(blow, Spot::Joint) < at(blow, Spot::Rib) && at(blow, Spot::Rib) < at(blow, Spot::Mid));
    near(at(blow, Spot::Joint), free_edge_share(0.1) * at(blow, Spot::Rib), 1e-9);
    // A wing of one kind of skin has no boundary joint.
    let (d, e) = wing("marram-sandwich-thin");
    let g = Ground::new((&d, &e.layout, &e.skins), 20.0, &a);
    assert!(g.joints.iter().all(|j| *j == 0.0));
    assert!(weakest(&g).iter().all(|s| s.edge != Edge::BoundaryJoint));
    // One divided along the span has its joint there.
    let (d, e) = wing("can-say-divided-aft");
    let g = Ground::new((&d, &e.layout, &e.skins), 20.0, &a);
    assert!(weakest(&g).iter().any(|s| s.edge == Edge::BoundaryJoint));
}

#[test]
fn a_joint_takes_events_from_its_zones_and_makes_none() {
    let (d, e) = wing("marram-mixed");
    let a = Assumptions::default();
    let g = Ground::new((&d, &e.layout, &e.skins), 20.0, &a);
    let mut each = vec![[0.0; 2]; EVENTS.len()];
    g.each(&mut |t, _| {
        each[t.event][0] += t.per_100;
        each[t.event][1] += if t.spot == Spot::Joint { t.per_100 } else { 0.0 };
    });
    let mut at_joints = 0;
    for (v, [all, joint]) in EVENTS.iter().zip(&each).filter(|(v, _)| v.hits_per_m2 == 0.0) {
        near(*all, care::rate(&d, v, &a), 1e-9);
        let hard = matches!(v.contact, Contact::Ball { .. } | Contact::Blow { .. } | Contact::Edge);
        assert!((*joint > 0.0 && *joint < 0.1 * all) == hard || (hard && v.key == "tip_strike"), "{}: {joint}", v.key);
        at_joints += usize::from(*joint > 0.0);
    }
    assert!(at_joints >= 6, "{at_joints}");
}

#[test]
fn a_wider_contact_never_shows_less() {
    let (d, e) = wing("marram-mixed");
    let a = Assumptions::default();
    let mut compared = 0;
    for s in e.skins.iter().filter(|s| s.kind != Kind::Open) {
        let row = |contact: &dyn Fn(f64) -> Contact, sizes: &[f64]| {
            let loads: Vec<f64> = sizes
                .iter()
                .map(|r| {
                    let load = resistance::stand(s, &d.library, contact(*r), 1.0, &a).load;
                    load.into_iter().fold(f64::INFINITY, f64::min)
                })
                .collect();
            assert!(loads.windows(2).all(|w| w[1] >= w[0]), "{:?}: {loads:?}", s.kind);
            loads.len()
        };
        compared += row(
            &|radius_m| Contact::Pad { radius_m },
            &[0.005, 0.0055, 0.006, 0.007, 0.008, 0.01, 0.0125, 0.015, 0.03],
        );
        compared += row(&|radius_m| Contact::Ball { radius_m }, &[0.005, 0.006, 0.008, 0.01, 0.015, 0.02, 0.025]);
    }
    assert!(compared >= 60, "{compared}");
}
