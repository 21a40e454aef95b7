//! Durability held together: sampled against closed form, monotone, nothing lost where nothing is.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::durability::contact::{
    FaceOnFoam, ball_fitted, ball_load_n, pad_fitted, pad_load_n, pad_load_shown_n,
};
use thistledown::physics::durability::events::{EVENTS, Exposure};
use thistledown::physics::durability::repair::{Repair, TORN, repairs};
use thistledown::physics::durability::term::{Chances, Ground, Term};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::scenario::load;

fn wing(name: &str) -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"))).unwrap().design
}

/// SplitMix64 (Steele, Lea, Flood 2014) and Box and Muller 1958, apart from the program's own.
pub(super) struct Dice(pub(super) u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (((z ^ (z >> 31)) >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }
    pub(super) fn normals(&mut self) -> (f64, f64) {
        let (u, v) = (self.unit(), self.unit());
        let (s, c) = (std::f64::consts::TAU * v).sin_cos();
        let r = (-2.0 * u.ln()).sqrt();
        (r * c, r * s)
    }
}

pub(super) fn terms(d: &Design, e: &Evaluation) -> Vec<(Term, Chances)> {
    let a = Assumptions::default();
    let ground = Ground::new((d, &e.layout, &e.skins), e.weight.expected_kg / 2.0, &a);
    let mut out = Vec::new();
    ground.each(&mut |t, c| out.push((*t, *c)));
    out
}

#[test]
fn closed_form_counts_agree_with_a_million_sampled_outings() {
    // Computed independently: severity and resistance thrown event by event with dice of the test's own, against the closed form.
    let d = wing("marram-fabric-aft");
    let e = evaluate(&d, &Assumptions::default());
    let mut dice = Dice(20_251);
    let mut sampled = vec![[0.0_f64; 2]; EVENTS.len()];
    // Repair time by event, h, and their squares: a mark, a soft spot, a hole or a tear is mended, the worst alone.
    let mut spent = vec![[0.0_f64; 2]; EVENTS.len()];
    let left_alone = d.care.hits_left_alone;
    for (t, c) in terms(&d, &e) {
        // Events that can hardly ever do anything are not thrown: together they are below what the sampling can see.
        if t.per_100 * c.p[0] < 1e-6 {
            continue;
        }
        let times = t.per_100 * 1e4;
        let throws = times.floor() as u64 + u64::from(dice.unit() < times.fract());
        let gap = |state: usize| (t.stands[state] / t.severity).ln();
        let (mark, soft, hole) = (gap(usize::from(t.stands[0].is_infinite())), gap(1), gap(2));
        let took = |r: Repair| r.work_h * if left_alone { 1.0 - r.left_alone } else { 1.0 };
        let work = repairs(t.kind).map(took);
        let covering = t.stands[0].is_infinite();
        for _ in 0..throws {
            let (s, r) = dice.normals();
            let margin = t.beta_resistance.map(|beta| t.beta_severity * s - beta * r);
            let (first, soft, hole) = (margin[usize::from(covering)] > mark, margin[1] > soft, margin[2] > hole);
            sampled[t.event][0] += f64::from(u8::from(first));
            sampled[t.event][1] += f64::from(u8::from(hole));
            let h = if hole {
                if dice.unit() < t.tears { took(TORN) } else { work[2] }
            } else if soft {
                work[1]
            } else if first && !covering {
                work[0]
            } else {
                0.0
            };
            spent[t.event][0] += h;
            spent[t.event][1] += h * h;
        }
    }
    let mut compared = 0;
    for (r, s) in e.durability.events.iter().zip(&sampled) {
        for (closed, got) in [(r.marks, s[0]), (r.holes, s[1])] {
            let want = closed * 1e4;
            assert!((got - want).abs() < 5.0 * want.sqrt() + 2.0, "{}: sampled {got}, closed form {want:.1}", r.key);
            compared += usize::from(want > 100.0);
        }
    }
    assert!(compared > 15, "only {compared} counts large enough to compare");
    let mut compared = 0;
    for (r, [sum, squares]) in e.durability.events.iter().zip(&spent) {
        let want = r.repair_h * 1e4;
        assert!((sum - want).abs() < 5.0 * squares.sqrt() + 10.0, "{}: sampled {sum} h, closed form {want:.1}", r.key);
        compared += usize::from(want > 300.0);
    }
    assert!(compared > 10, "only {compared} sums of repair time large enough to compare");
}

#[test]
fn inside_the_fitted_box_denser_cores_and_thicker_faces_never_mark_sooner() {
    // Own property, not held against a source.
    let mut dice = Dice(7);
    let mut tried = 0;
    while tried < 3000 {
        let mut between = |low: f64, high: f64| low + (high - low) * dice.unit();
        // One family: crush strength and modulus grow together with density (PVC: about density to 1.3 and 1.2).
        let density = between(0.5, 1.5);
        let at = |density: f64, t: f64, core_m: f64, e: f64| FaceOnFoam {
            a_n_m: e * t,
            d_nm: e * t.powi(3) / 12.0,
            crush_pa: 0.7e6 * density.powf(1.3),
            core_modulus_pa: 60e6 * density.powf(1.2),
            core_m,
        };
        let (t, core, e) = (between(0.05e-3, 0.25e-3), between(0.005, 0.013), between(18e9, 60e9));
        let (pad, ball) = (between(0.005, 0.015), between(0.005, 0.025));
        let (dent, more) = (between(0.1e-3, 0.5e-3), between(1.0, 1.3));
        let base = at(density, t, core, e);
        for better in [at(density * more, t, core, e), at(density, t * more, core, e)] {
            if pad_fitted(&base, pad) && pad_fitted(&better, pad) {
                let (a, b) = (pad_load_n(&base, pad, dent), pad_load_n(&better, pad, dent));
                assert!(b >= 0.98 * a, "pad {pad}: {a} to {b}, {base:?}, {better:?}");
                tried += 1;
            }
            if ball_fitted(&base, ball) && ball_fitted(&better, ball) {
                let (a, b) = (ball_load_n(&base, ball, dent), ball_load_n(&better, ball, dent));
                assert!(b >= 0.98 * a, "ball {ball}: {a} to {b}, {base:?}, {better:?}");
                tried += 1;
            }
        }
        // Across sizes the shown load never falls.
        let sizes = [0.005, 0.006, 0.008, 0.010, 0.0125, 0.015];
        for w in sizes.windows(2) {
            assert!(pad_load_shown_n(&base, w[1], dent) >= pad_load_shown_n(&base, w[0], dent) - 1e-9);
            assert!(ball_load_n(&base, w[1], dent) >= ball_load_n(&base, w[0], dent));
        }
    }
}

#[test]
fn discipline_moves_lifts_to_the_holds_and_deletes_none() {
    // Own property.
    let mut d = wing("marram-mixed");
    let count = |d: &Design| {
        let e = evaluate(d, &Assumptions::default());
        let all = terms(d, &e);
        let lifts = all.iter().filter(|(t, _)| EVENTS[t.event].exposure == Exposure::Lift);
        (lifts.map(|(t, _)| t.per_100).sum::<f64>(), e)
    };
    d.care.discipline = 0.0;
    let (none, _) = count(&d);
    d.care.discipline = 1.0;
    let (full, e) = count(&d);
    assert!((none / full - 1.0).abs() < 1e-9, "{none} lifts became {full}");
    // All of them land in the zone of the one hold.
    let hold = e.durability.holds[0].zone;
    let elsewhere: f64 = terms(&d, &e)
        .iter()
        .filter(|(t, _)| EVENTS[t.event].exposure == Exposure::Lift && t.zone != hold)
        .map(|(t, _)| t.per_100)
        .sum();
    assert_eq!(elsewhere, 0.0);
}

#[test]
fn protection_left_on_the_ground_meets_nothing_in_use() {
    let mut d = wing("can-say-travel-cover");
    let stop = |key: &str| vec![(key.to_owned(), 0.5)];
    let rate = |d: &Design, key: &str| {
        let e = evaluate(d, &Assumptions::default());
        e.durability.events.iter().find(|v| v.key == key).unwrap().per_100_outings
    };
    for (key, left_helps) in [("tip_strike", false), ("tie_down_strap", true)] {
        d.care.protections[0].stops = Vec::new();
        let bare = rate(&d, key);
        d.care.protections[0].stops = stop(key);
        d.care.protections[0].flown = true;
        assert!((rate(&d, key) / bare - 0.5).abs() < 1e-12);
        d.care.protections[0].flown = false;
        assert!((rate(&d, key) / bare - if left_helps { 0.5 } else { 1.0 }).abs() < 1e-12);
    }
}

#[test]
fn hours_add_up_over_zones_and_events_and_open_zones_lose_nothing() {
    // Own property.
    for name in ["marram-mixed", "marram-sandwich-thin", "can-say-divided-aft"] {
        let mut d = wing(name);
        let e = evaluate(&d, &Assumptions::default());
        let zones: f64 = e.durability.zones.iter().map(|z| z.repair_h).sum();
        assert!((zones / e.durability.repair_h - 1.0).abs() < 1e-9, "{name}");
        // With a construction taken away its zones have nothing to lose.
        let gone = e.layout.zones[0].construction;
        d.constructions[gone] = thistledown::physics::laminate::construction::Construction {
            kind: thistledown::physics::laminate::construction::Kind::Open,
            ..Default::default()
        };
        let e = evaluate(&d, &Assumptions::default());
        for (z, r) in e.layout.zones.iter().zip(&e.durability.zones).filter(|(z, _)| z.construction == gone) {
            assert!(r.repair_h == 0.0 && r.marks == 0.0 && r.unseen == 0.0, "{:?}", z.strip);
        }
    }
}
