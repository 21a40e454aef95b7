//! Parts on the scales: what they teach, halves and stop-weights, against independent computations and sums by hand.

use std::borrow::Cow;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::design::Strip;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::mass::tally::{Heading, Maturity, Part};
use thistledown::physics::mass::weighed::{Half, LIKENESS, Piece, Weighing, both_halves, put};
use thistledown::physics::workshop::{forecast, win_back};

fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} for {want}");
}

fn part(heading: Heading, family: usize, name: &'static str, kg: f64, growth: f64, sd_kg: f64) -> Part {
    Part {
        heading,
        family,
        name: Cow::Borrowed(name),
        strip: None,
        bay: None,
        nominal_kg: kg,
        growth,
        sd_kg,
        maturity: Maturity::Layout,
        x_m: 0.0,
        y_m: 0.0,
        lump: false,
    }
}

fn weighing(heading: Heading, part: Option<&str>, half: Half, mass_kg: f64, scale_error_kg: f64) -> Weighing {
    let piece = Piece { heading, part: part.map(str::to_owned) };
    Weighing { piece, half, mass_kg, scale_error_kg, date: String::new(), note: String::new() }
}

/// Gelman and others, *Bayesian Data Analysis*, 3rd ed., section 2.5 (from memory): a normal mean with known variance,
/// precisions add, the mean is weighted by them.
#[test]
fn a_weighed_rib_teaches_its_like_by_precisions() {
    let mut parts = vec![
        part(Heading::Ribs, 7, "root rib", 0.200, 0.15, 0.020),
        part(Heading::Ribs, 7, "rib", 1.500, 0.15, 0.150),
        part(Heading::Caps, 9, "upper cap", 2.5, 0.15, 0.1),
    ];
    let (kg, scale) = (0.205, 0.001);
    put(&mut parts, &[weighing(Heading::Ribs, Some("root rib"), Half::Both, kg, scale)]);
    // The error z of all ribs: 0.230 + 0.020 z seen as 0.205.
    let noise = scale * scale + (LIKENESS * kg).powi(2);
    let (seen, sure) = ((kg - 0.230) / 0.020, 0.020 * 0.020 / noise);
    let (mean, sd) = (seen * sure / (1.0 + sure), (1.0 / (1.0 + sure)).sqrt());
    near(parts[1].nominal_kg * (1.0 + parts[1].growth), 1.5 * 1.15 + 0.150 * mean, 1e-12);
    near(parts[1].sd_kg, 0.150 * sd, 1e-12);
    // What was weighed stands for itself, the growth table of a weighed part: none.
    near(parts[0].nominal_kg, kg, 1e-12);
    near(parts[0].sd_kg, scale, 1e-12);
    assert_eq!((parts[0].growth, parts[0].maturity), (0.0, Maturity::Weighed));
    // Caps are another stuff.
    assert_eq!((parts[2].growth, parts[2].sd_kg), (0.15, 0.1));
}

/// Independent computation: the law of both errors on a grid of 0.01 deviations, by Bayes' rule and nothing else.
#[test]
fn two_stuffs_on_the_scales_together_share_what_is_learnt() {
    let lines = [
        part(Heading::Skins, 1, "sandwich", 5.0, 0.10, 0.40),
        part(Heading::Skins, 2, "covering", 1.0, 0.10, 0.15),
        part(Heading::Patches, 1, "of sandwich", 2.0, 0.10, 0.16),
        part(Heading::Edges, 2, "of covering", 0.5, 0.10, 0.07),
    ];
    let (kg, scale) = (7.1, 0.010);
    let mut parts = lines.to_vec();
    put(&mut parts, &[weighing(Heading::Skins, None, Half::Both, kg, scale)]);
    let noise = scale * scale + (LIKENESS * kg).powi(2);
    let at = |i: i32| f64::from(i) * 0.01;
    let (mut all, mut sums) = (0.0, [0.0; 4]);
    for i in -800..=800 {
        for j in -800..=800 {
            let (a, b) = (at(i), at(j));
            let off = kg - (6.6 + 0.40 * a + 0.15 * b);
            let p = (-0.5 * (a * a + b * b + off * off / noise)).exp();
            all += p;
            sums.iter_mut().zip([a, b, a * a, b * b]).for_each(|(s, v)| *s += p * v);
        }
    }
    let [a, b, aa, bb] = sums.map(|s| s / all);
    for (p, line, mean, square) in [(&parts[2], &lines[2], a, aa), (&parts[3], &lines[3], b, bb)] {
        let want = line.nominal_kg * 1.10 + line.sd_kg * mean;
        near(p.nominal_kg * (1.0 + p.growth), want, 1e-6);
        near(p.sd_kg, line.sd_kg * (square - mean * mean).sqrt(), 1e-6);
    }
    // The mass lies on the lines as the estimate did.
    near(parts[0].nominal_kg, kg * 5.0 / 6.0, 1e-12);
}

/// Sum of independent errors by hand: 180 g and 186 g on a scale of 3 g; 180 g of one half alone, the other within 3 %.
#[test]
fn halves_are_added_or_expected_alike() {
    let half = |half, kg| weighing(Heading::Ribs, None, half, kg, 0.003);
    let (left, right) = (half(Half::Left, 0.180), half(Half::Right, 0.186));
    let (kg, sd) = both_halves(&[&left, &right]);
    near(kg, 0.366, 1e-12);
    near(sd, 0.004_242_6, 1e-6);
    let (kg, sd) = both_halves(&[&left]);
    near(kg, 0.360, 1e-12);
    // (6 g)^2 + (5.4 g)^2
    near(sd, 0.008_072_2, 1e-6);
    let (kg, sd) = both_halves(&[&half(Half::Both, 0.364)]);
    near(kg, 0.364, 1e-12);
    near(sd, 0.003, 1e-12);
}

/// Sums by hand: stop-weights add up to what the target leaves, and a wing with every part at its stop-weight on a scale
/// without error is on its target, whatever percentile it is judged by.
#[test]
fn a_wing_of_parts_at_their_stop_weights_is_on_its_target() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let bare = thistledown::scenario::load(&path).unwrap().design;
    let d = Design { weighed: vec![weighing(Heading::Joints, None, Half::Both, 2.31, 0.02)], ..bare };
    let e = evaluate(&d, &Assumptions::default());
    let f = forecast::of(&d, &e);
    let stops: f64 = f.rows.iter().filter_map(|r| r.stop_kg).sum();
    near(stops, f.left_kg.unwrap(), 1e-9);
    let mut done = d.clone();
    done.weighed.extend(f.rows.iter().filter(|r| !r.made).map(|r| {
        let half = Half::Both;
        Weighing {
            piece: r.piece.clone(),
            half,
            mass_kg: r.stop_kg.unwrap(),
            scale_error_kg: 0.0,
            ..d.weighed[0].clone()
        }
    }));
    let built = evaluate(&done, &Assumptions::default());
    near(built.weight.budget_kg, done.targets.wing_mass_kg.unwrap(), 1e-6);
    // Made and to come by hand.
    near(f.made_kg.0, 2.31, 1e-12);
    near(f.made_kg.0 + f.to_come_kg.0, e.weight.expected_kg, 1e-9);
    near(f.made_kg.1.hypot(f.to_come_kg.1), e.weight.sd_kg, 1e-9);
}

/// By hand: of ribs of which the left half alone was weighed, 640 g, that much is made and as much is to come; what was promised is the
/// parts list of the wing as it was drawn, growth in it, and the heading that was promised to be the heaviest comes first.
#[test]
fn half_of_a_part_is_made_and_half_to_come() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let bare = thistledown::scenario::load(&path).unwrap().design;
    let plain = evaluate(&bare, &Assumptions::default());
    let promised = |h: Heading| -> f64 {
        plain.weight.parts.iter().filter(|p| p.heading == h).map(|p| p.nominal_kg * (1.0 + p.growth)).sum()
    };
    let half_kg = 0.45 * promised(Heading::Ribs);
    let d = Design { weighed: vec![weighing(Heading::Ribs, None, Half::Left, half_kg, 0.002)], ..bare };
    let e = evaluate(&d, &Assumptions::default());
    let f = forecast::of(&d, &e);
    near(f.made_kg.0, half_kg, 1e-9);
    near(f.to_come_kg.0, e.weight.expected_kg - half_kg, 1e-9);
    let of_ribs = || f.rows.iter().filter(|r| r.piece.heading == Heading::Ribs);
    near(of_ribs().map(|r| r.expected_kg).sum(), 2.0 * half_kg, 1e-9);
    near(of_ribs().map(|r| r.promised_kg).sum(), promised(Heading::Ribs), 1e-9);
    // Each stop-weight of a rib is its share of what is left by the half that is to come.
    for r in of_ribs() {
        near(r.stop_kg.unwrap(), f.left_kg.unwrap() * 0.5 * r.expected_kg / f.to_come_kg.0, 1e-9);
    }
    let mut headings: Vec<Heading> = f.rows.iter().map(|r| r.piece.heading).collect();
    headings.dedup();
    assert!(headings.windows(2).all(|h| promised(h[0]) >= promised(h[1])), "{headings:?}");
}

/// By hand: 40 % too much and 40 % too little of what was expected are as far off as each other.
#[test]
fn a_mass_is_far_off_on_both_sides_alike() {
    for (kg, far) in [(1.39, false), (1.41, true), (0.61, false), (0.59, true)] {
        let mut parts = vec![part(Heading::Ribs, 7, "rib", 0.8, 0.25, 0.1)];
        let seen = put(&mut parts, &[weighing(Heading::Ribs, None, Half::Both, kg, 0.001)]);
        assert_eq!(seen[0].is_far(), far, "{kg}");
    }
}

/// By hand on a plank whose spar is fixed: without its paint a skin is lighter by its area times the paint, with a core a millimetre
/// thinner by a millimetre of foam; growth in both. A boundary moved is a wing drawn with that boundary.
#[test]
fn what_can_be_won_back_is_what_is_left_out() {
    let d = super::by_hand::plank();
    let e = evaluate(&d, &Assumptions::default());
    let all = win_back::of(&d, &e);
    let (mut paint, mut thinner) = (0, 0);
    for (i, c) in d.constructions.iter().enumerate() {
        let saved = |words: &str| all.iter().find(|s| s.title == format!("{}: {words}", c.name)).map(|s| s.saves_kg);
        let area: f64 = e.layout.zones.iter().filter(|z| z.construction == i).map(|z| 2.0 * z.area_m2).sum();
        // Constructions of ribs, webs and patches are in other lines of the parts list.
        if area == 0.0 || e.layout.zones.iter().filter(|z| z.construction == i).any(|z| z.strip.is_control()) {
            continue;
        }
        let growth = |p: &&Part| p.heading == Heading::Skins && p.family == i;
        let growth = 1.0 + e.weight.parts.iter().find(growth).unwrap().growth;
        if let (Some(kg), Some(finish)) = (saved("no finish"), c.finish) {
            let kg_m2 = d.library.finishes[finish].areal_mass_kg_m2;
            near(kg, area * kg_m2 * growth, 1e-9);
            paint += 1;
        }
        if let (Some(kg), Some(core)) = (saved("core 1 mm thinner"), c.core) {
            near(kg, area * 0.001 * d.library.foams[core.foam].density_kg_m3 * growth, 1e-9);
            thinner += 1;
        }
    }
    assert!(paint >= 2 && thinner >= 2, "{paint} {thinner}");
    let boundary = all.iter().find(|s| s.title.starts_with("boundary of the aft skins")).unwrap();
    let mut moved = d.clone();
    for s in moved.strips.iter_mut().filter(|s| [Strip::AftUpper, Strip::AftLower].contains(&s.strip)) {
        (s.runs[0].to_eta, s.runs[1].from_eta) = (0.45, 0.45);
    }
    near(boundary.saves_kg, e.weight.expected_kg - evaluate(&moved, &Assumptions::default()).weight.expected_kg, 1e-9);
    assert!(all.windows(2).all(|s| s[0].saves_kg >= s[1].saves_kg));
}
