//! The rule that learns from samples, against tables and independent computations.

use thistledown::physics::assumptions::{Assumed, Assumptions};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::laminate::construction;
use thistledown::physics::samples::fit;
use thistledown::physics::samples::next::{Next, rank};
use thistledown::physics::samples::record::{Form, Weighed};
use thistledown::physics::samples::rule::{
    Belief, Group, Prior, posterior, scatter, student_quantile, tolerance_factor,
};

/// Spreads that the independent computations below were made with.
const SHARED: f64 = 0.25;
const SPECIMEN: f64 = 0.15;
const WHOLE: f64 = 0.32;

fn own_sd() -> f64 {
    (WHOLE * WHOLE - SHARED * SHARED - SPECIMEN * SPECIMEN).sqrt()
}

fn prior() -> Prior {
    Prior { shared: SHARED, own: own_sd(), place: SPECIMEN }
}

fn known(groups: &[Group]) -> Vec<thistledown::physics::samples::rule::Known> {
    let all: Vec<(Group, Prior)> = groups.iter().map(|g| (*g, prior())).collect();
    posterior(&all, &prior())
}

fn near(got: f64, want: f64, share: f64) {
    assert!((got / want - 1.0).abs() <= share, "{got} for {want}");
}

#[test]
fn one_sided_tolerance_factors() {
    // CMH-17 (MIL-HDBK-17-1), one-sided tolerance factors of the normal law, B-basis (90 %, 95 % confidence), read as they are
    // transcribed in the tests of a public statistics package; A-basis (99 %, 95 %) from memory.
    for (n, b) in [
        (2, 20.581),
        (3, 6.157),
        (4, 4.163),
        (5, 3.408),
        (6, 3.007),
        (7, 2.756),
        (8, 2.583),
        (9, 2.454),
        (10, 2.355),
        (11, 2.276),
        (12, 2.211),
        (13, 2.156),
        (36, 1.725),
        (70, 1.582),
        (105, 1.521),
    ] {
        near(tolerance_factor(n, 0.90, 0.95), b, 0.002);
    }
    for (n, a) in [(5, 5.741), (10, 3.981), (20, 3.295)] {
        near(tolerance_factor(n, 0.99, 0.95), a, 0.002);
    }
}

#[test]
fn quantiles_of_the_law_of_student() {
    // Any table of t, one-sided 95 %.
    for (nu, t) in [(1.0, 6.314), (2.0, 2.920), (4.0, 2.132), (9.0, 1.833), (29.0, 1.699)] {
        near(student_quantile(0.95, nu), t, 0.001);
    }
}

#[test]
fn groups_of_specimens_add_up() {
    // Hand sum: logarithms 0, 0.2 | 0.4: means 0.1 and 0.4, squares 0.02 and 0; together mean 0.2, squares 0.08.
    let (a, b) = (Group::of(&[1.0, 0.2_f64.exp()]), Group::of(&[0.4_f64.exp()]));
    let all = a.with(b);
    near(a.mean, 0.1, 1e-12);
    near(a.squares, 0.02, 1e-12);
    near(all.mean, 0.2, 1e-12);
    near(all.squares, 0.08, 1e-12);
    near(all.sd().unwrap(), 0.2, 1e-12);
    assert!(b.sd().is_none());
    // The assumed scatter counts as four degrees of freedom: (4 x 0.15^2 + 0.02)/(4 + 1).
    let (over, degrees) = scatter(&[(a, prior()), (b, prior())]);
    near(over * SPECIMEN, ((4.0 * SPECIMEN * SPECIMEN + 0.02) / 5.0_f64).sqrt(), 1e-12);
    assert_eq!(degrees, 5.0);
}

#[test]
fn one_construction_pressed_is_the_conjugate_normal_law() {
    // Gelman and others, Bayesian Data Analysis, section 2.5 (from memory): precision weights of prior and mean.
    let (n, mean) = (6.0, 0.15);
    let prior = SHARED * SHARED + own_sd() * own_sd();
    let g = Group { specimens: n, mean, squares: 5.0 * SPECIMEN * SPECIMEN };
    let noise = SPECIMEN * SPECIMEN / n;
    let var = 1.0 / (1.0 / prior + 1.0 / noise);
    let known = known(&[g]);
    near(known[0].shift, var / noise * mean, 1e-12);
    near(known[0].kept, (var / prior).sqrt(), 1e-12);
    // 4 + 5 degrees: t 1.833 over 1.645.
    near(known[0].beta, var.sqrt().hypot(SPECIMEN * 1.833 / 1.645), 1e-4);
    // Of another construction the shared part alone is learnt: SHARED^2/prior of the shift.
    near(known[1].shift / known[0].shift, SHARED * SHARED / prior, 1e-12);
}

#[test]
fn a_surprise_teaches_doubt_as_well() {
    // Birge's ratio (Phys. Rev. 40, 1932, from memory): chi square of one mean over one, and the spread before samples times its root;
    // then precision weights as above. Measured twice what was predicted.
    let (n, mean) = (3.0, std::f64::consts::LN_2);
    let prior = SHARED * SHARED + own_sd() * own_sd();
    let noise = SPECIMEN * SPECIMEN / n;
    let square = mean * mean / (prior + noise);
    assert!(square > 4.0, "{square}");
    let known = known(&[Group { specimens: n, mean, squares: 2.0 * SPECIMEN * SPECIMEN }]);
    let var = 1.0 / (1.0 / (square * prior) + 1.0 / noise);
    near(known[0].shift, var / noise * mean, 1e-12);
    near(known[0].kept, (var / prior).sqrt(), 1e-12);
    // Of one never pressed: the shared part widened and learnt from, its own widened.
    let (shared, own) = (square * SHARED * SHARED, square * own_sd() * own_sd());
    let left = shared - shared * shared / (shared + own + noise);
    near(known[1].kept, ((left + own) / prior).sqrt(), 1e-12);
    // As sure of it as before nobody is after such a surprise.
    assert!(known[1].kept > 0.9, "{}", known[1].kept);
}

#[test]
fn three_constructions_are_learnt_together() {
    // Independent computation: the joint normal law of [shared, own 1, own 2, own 3, own of a fourth] conditioned on the three
    // means by one inversion of the 3 x 3 covariance of what was seen (Gauss elimination in Python), specimens 5, 3, 2, means 0.10, -0.05, 0.175,
    // scatter 0.15: shifts and variances of the three and of one never pressed.
    let g = |specimens: f64, mean: f64| Group { specimens, mean, squares: (specimens - 1.0) * SPECIMEN * SPECIMEN };
    let known = known(&[g(5.0, 0.10), g(3.0, -0.05), g(2.0, 0.175)]);
    let want = [
        (0.092476302, 0.003884147),
        (-0.015847991, 0.005904509),
        (0.131171991, 0.007960183),
        (0.063384670, 0.024713857),
    ];
    let prior = SHARED * SHARED + own_sd() * own_sd();
    for (k, (shift, var)) in known.iter().zip(want) {
        near(k.shift, shift, 1e-6);
        near(k.kept * k.kept * prior, var, 1e-6);
    }
}

#[test]
fn a_belief_learns_a_sum_of_unknowns() {
    // Hand sum: two unknowns of sd 3 and 4, their sum seen as 10 with sd 5: gains 9/50 and 16/50.
    let mut b = Belief::about_zero(&[3.0, 4.0]);
    b.learn(&[1.0, 1.0], 10.0, 25.0);
    near(b.mean[0], 1.8, 1e-12);
    near(b.mean[1], 3.2, 1e-12);
    let (mean, var) = b.of(&[1.0, 1.0]);
    near(mean, 5.0, 1e-12);
    near(var, 12.5, 1e-12);
}

#[test]
fn a_panel_answers_to_resin_foam_and_pick_up() {
    // Hand sums: core mass goes with the density of the foam, pick-up with its factor, resin with 1/Vf - 1 of the cloth's volume.
    let shelf = thistledown::scenario::library::shelf();
    let c = shelf.constructions.iter().find(|c| c.key == "skin_glass_pvc").unwrap();
    let skin = thistledown::physics::laminate::construction::nominal(
        c,
        &shelf.library,
        &thistledown::physics::assumptions::Assumptions::default(),
    );
    let (areal, by) = fit::sensitivity(c, &shelf.library);
    near(areal, skin.mass.total(), 1e-12);
    near(by[2], skin.mass.core, 1e-4);
    near(by[1], skin.mass.pickup, 1e-4);
    let resin = shelf.library.resin().unwrap().density_kg_m3;
    let more: f64 = c
        .outer
        .iter()
        .chain(&c.inner)
        .map(|p| {
            let cloth = &shelf.library.fabrics[p.fabric];
            let vf = shelf.library.processes[p.process].fibre_volume_fraction;
            -cloth.areal_mass_kg_m2 / shelf.library.fibres[cloth.fibre].density_kg_m3 * resin / vf
        })
        .sum();
    near(by[0], more, 0.06);
    near(Weighed { area_m2: 0.04, mass_kg: 0.0345, pieces: 3, finished: false }.areal_kg_m2(), 0.8625, 1e-12);
}

fn sampled() -> thistledown::physics::design::Design {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-samples.toml");
    thistledown::scenario::load(&path).unwrap().design
}

#[test]
fn loads_within_thirty_per_cent_are_counted_by_hand() {
    // By hand: predictions of 0.6 and 1.4 times the load lie outside thirty per cent of it, 0.75, 0.85 and 1.0 times within.
    let d = sampled();
    let predicted: Vec<f64> =
        d.library.learnt.against.iter().filter(|a| a.form.is_some()).map(|a| a.predicted).collect();
    let mut log = d.samples.clone();
    let presses = log.iter_mut().flat_map(|s| &mut s.presses);
    for (p, n) in presses.zip(&predicted) {
        p.loads_n = [0.6, 0.75, 0.85, 1.0, 1.4].map(|k| n / k).to_vec();
    }
    let learnt = fit::fit(&log, &d.library.without_samples(), &d.service);
    let pressed: Vec<_> = learnt.against.iter().filter(|a| a.form.is_some()).collect();
    assert_eq!(pressed.len(), predicted.len());
    assert!(pressed.len() > 4 && pressed.iter().all(|a| (a.specimens, a.within) == (5, 3)), "{pressed:#?}");
}

#[test]
fn a_construction_weighed_often_weighs_what_the_scale_said() {
    // The conjugate normal law with noise that has gone (Gelman and others, from memory): what was seen without error is what is true.
    let mut d = sampled();
    let c = d.constructions.iter().find(|c| c.key == "skin_glass_pvc").unwrap().clone();
    let bare = d.library.without_samples();
    let plain = construction::nominal(&c, &bare, &Assumptions::default()).mass.total();
    d.samples.retain(|s| s.construction == "skin_glass_pvc");
    d.samples.truncate(1);
    for share in [0.95, 1.08] {
        let areal = share * plain;
        d.samples[0].presses.clear();
        d.samples[0].weighed = Some(Weighed { area_m2: 1.0, mass_kg: areal, pieces: 1_000_000, finished: true });
        let mut lib = bare.clone();
        lib.learnt = fit::fit(&d.samples, &bare, &d.service);
        near(construction::properties(&c, &lib, &Assumptions::default()).mass.total(), areal, 1e-3);
    }
}

#[test]
fn what_samples_taught_shifts_loads_and_narrows_what_is_left() {
    // By definition: at the middle of every assumption a load is shifted by the mean that was learnt and by nothing else; an assumption turned
    // moves it as far as its spread is left, and foam, which a form answers to with some power, by that power as far as it is left.
    let d = sampled();
    let a = Assumptions::default();
    let mut denser = a.clone();
    denser.factor[Assumed::FoamCrush as usize] = 1.1;
    let (mut seen, mut foams) = (0, 0);
    for c in &d.constructions {
        let s = construction::properties(c, &d.library, &a);
        for form in Form::ALL {
            let Some(k) = s.known(form) else { continue };
            let at = |a: &Assumptions| s.form_factor(form, a);
            near(at(&a), k.shift.exp(), 1e-12);
            let mut turned = a.clone();
            turned.factor[form.assumed() as usize] = 1.3;
            near((at(&turned) / at(&a)).ln(), k.kept * 1.3_f64.ln(), 1e-9);
            let foam = s.spread[form as usize].foam;
            let moved = (at(&denser) / at(&a)).ln() + foam * 1.1_f64.ln();
            assert!((moved - foam * k.kept * 1.1_f64.ln()).abs() < 1e-12, "{moved} {foam} {}", k.kept);
            near(s.dispersion(form).0, k.beta, 1e-12);
            seen += 1;
            foams += usize::from(foam > 0.0);
        }
    }
    assert!(seen > 6 && foams > 2, "{seen} {foams}");
    // Without a sample all of the spread is left.
    let bare = d.library.without_samples();
    for c in &d.constructions {
        let s = construction::properties(c, &bare, &a);
        for form in Form::ALL {
            assert_eq!(s.dispersion(form), (s.spread[form as usize].whole(form), 1.0));
        }
    }
}

#[test]
fn what_a_sample_would_bring_starts_from_the_spread_of_today() {
    // By hand: independent parts add up by their squares. Repair hours rest on the list of assumptions; the weight on families of parts, each
    // wholly of one error. Without a log nothing has narrowed either yet. A gain is what goes of the spread, for each hour.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let d = thistledown::scenario::load(&path).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let today = e.durability.rests_on.iter().map(|(_, s)| s * s).sum::<f64>().sqrt();
    let mut families = std::collections::BTreeMap::new();
    for p in &e.weight.parts {
        *families.entry(p.family).or_insert(0.0) += p.sd_kg;
    }
    let kg = families.values().map(|s: &f64| s * s).sum::<f64>().sqrt();
    let all = rank(&d, &e);
    assert!(all.len() > 3);
    for n in &all {
        near(n.ln_hours[0], today, 1e-6);
        near(n.weight_sd_kg[0], kg, 1e-9);
        assert!(n.ln_hours[1] < n.ln_hours[0] && n.weight_sd_kg[1] <= n.weight_sd_kg[0] + 1e-12);
    }
    let n = Next { ln_hours: [0.5, 0.4], weight_sd_kg: [1.0, 0.7], hours: 2.0, ..all[0].clone() };
    near(n.band_per_hour(), 0.1, 1e-12);
    near(n.weight_per_hour(), 0.15, 1e-12);
}
