//! What the nose skins' give adds to twist and to loss of roll control, against Bredt and Batho's closed cell and against
//! the wing evaluated again with another skin.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::case::CaseKind;
use thistledown::physics::loads::internal::{CaseLoads, Lists, Loads};
use thistledown::physics::strength::softness::{self, give};
use thistledown::scenario;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

/// The mixed demo with a covering on everything behind the spar, so that one cell takes all torque.
fn one_cell() -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let mut d = scenario::load(&path).unwrap().design;
    let film = d.constructions.iter().position(|c| c.key == "cover_film_23").unwrap();
    for s in d.strips.iter_mut().filter(|s| !s.strip.is_nose()) {
        s.runs = vec![Run { from_eta: 0.0, to_eta: 1.0, construction: film }];
    }
    d
}

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

#[test]
fn a_nose_skin_twists_its_bay_as_bredt_and_batho_say() {
    // Rate of twist of one closed cell, T/(4 A^2) * sum of s/(G t): Bredt and Batho, any text (Megson, chapter 18). On a wing
    // without taper every bay adds its length of it, and a skin its own arc over its own stiffness.
    let mut d = one_cell();
    (d.planform.sweep_rad, d.planform.taper, d.spar.position_tip) = (0.0, 1.0, d.spar.position_root);
    let e = done(&d);
    let torque = 80.0;
    let dive = e.loads.cases.iter().position(|c| c.kind == CaseKind::Dive).unwrap();
    let n = e.layout.stations().count();
    let one = CaseLoads::of(dive, Lists { torque_nm: &vec![torque; n], ..Lists::default() });
    let loads = Loads { loads: vec![one], ..e.loads.clone() };
    let [twist, _] = softness::of(&d, (&e.layout, &e.skins, &loads), (&e.sizing, &e.sections));
    let twist = twist.unwrap();
    let mut noses = 0.0;
    for (b, bay) in e.layout.bays.iter().enumerate() {
        let s = &bay.mid;
        let per_arc = torque * bay.length_m / (4.0 * s.nose_cell_m2 * s.nose_cell_m2);
        for (side, strip, arc) in [(0, Strip::NoseUpper, s.nose_upper_m), (1, Strip::NoseLower, s.nose_lower_m)] {
            near(twist.per_give[b][side], per_arc * arc, 1e-4);
            let skin = &e.skins[e.layout.zone(strip, b).unwrap().construction];
            // Shear strain for each unit of flow: one over the sum of G t of its plies.
            near(give(skin), 1.0 / skin.a.s66, 1e-12);
            noses += per_arc * arc * give(skin);
        }
    }
    // The web takes the rest.
    assert!(noses < twist.now && twist.now < 1.6 * noses, "{noses} of {}", twist.now);
}

#[test]
fn a_softer_nose_in_one_bay_adds_what_is_foretold() {
    // Outside reference: the whole wing evaluated again, which knows of no sums over bays.
    let d = one_cell();
    let e = done(&d);
    let [twist, loss] = softness::of(&d, (&e.layout, &e.skins, &e.loads), (&e.sizing, &e.sections));
    let (twist, loss) = (twist.unwrap(), loss.unwrap());
    let rf = |e: &Evaluation, mode: &str| e.margins.iter().find(|m| m.mode == mode).unwrap().rf;
    near(twist.now, twist.most / rf(&e, "twist"), 1e-9);
    near(loss.now, 1.0 - 0.5 * rf(&e, "control_reversal"), 1e-9);
    // Definition of a reserve: what is left over what must be left is one where as much is lost as may be.
    near(1.0 - loss.now, rf(&e, "control_reversal") * (1.0 - loss.most), 1e-9);
    let thin = d.constructions.iter().position(|c| c.key == "skin_thin_xps").unwrap();
    for bay in [2, 7, 12] {
        let mut x = d.clone();
        let (from, to) = (e.layout.bays[bay].inner.eta, e.layout.bays[bay].outer.eta);
        let nose = x.strips.iter_mut().find(|s| s.strip == Strip::NoseUpper).unwrap();
        let own = nose.runs[0].construction;
        assert_eq!(nose.runs.len(), 1);
        let run = |from_eta, to_eta, construction| Run { from_eta, to_eta, construction };
        nose.runs = vec![run(0.0, from, own), run(from, to, thin), run(to, 1.0, own)];
        let after = done(&x);
        let more = give(&after.skins[thin]) - give(&e.skins[own]);
        let [twist_after, loss_after] =
            softness::of(&x, (&after.layout, &after.skins, &after.loads), (&after.sizing, &after.sections));
        // Weight and lift of the other wing differ a little too.
        near(twist_after.unwrap().now - twist.now, twist.per_give[bay][0] * more, 0.1);
        near(loss_after.unwrap().now - loss.now, loss.per_give[bay][0] * more, 0.1);
    }
}
