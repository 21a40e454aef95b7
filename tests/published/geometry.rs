//! Sections and planforms against published ordinates and exact formulas.

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Aerofoil, Planform};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::wing::aerofoil::{
    arc, area, contour, flap, half_thickness, nose_radius, thickness, thin_aerofoil,
};
use thistledown::physics::wing::coordinates;
use thistledown::physics::wing::planform::{Chord, aspect_ratio, chord_m, mac_m, mac_y_m, mean, root_chord_m};

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

const NACA2412: Aerofoil = Aerofoil::FourDigit { camber: 0.02, camber_place: 0.4, thickness: 0.12 };

#[test]
fn ordinates_of_0012() {
    // air-01: published in Abbott and von Doenhoff, Theory of Wing Sections, read second-hand: half thickness in % at these stations.
    for (x, y) in [
        (0.0125, 1.894),
        (0.025, 2.615),
        (0.05, 3.555),
        (0.1, 4.683),
        (0.2, 5.737),
        (0.3, 6.002),
        (0.5, 5.294),
        (0.7, 3.664),
        (0.9, 1.448),
        (1.0, 0.126),
    ] {
        near(half_thickness(0.12, x, 0.1015) * 100.0, y, 1e-3);
    }
    assert!(half_thickness(0.15, 1.0, 0.1036).abs() < 1e-12);
    // Nose radius 1.1019 t^2: public encyclopaedia article on the family.
    near(nose_radius(0.12), 0.01586693, 1e-6);
}

#[test]
fn areas_and_arcs_of_2412() {
    // air-06, computed at 400 and more points a side; exact area 0.0817774, upper arc 1.0281416, lower 1.013537.
    let c = contour(&NACA2412);
    near(area(&c), 0.0817774, 5e-4);
    near(arc(&c.upper), 1.0281416, 1e-4);
    near(arc(&c.lower), 1.013537, 1e-4);
    let c = contour(&Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.12 });
    near(area(&c), 0.081706, 5e-4);
}

#[test]
fn thin_aerofoil_constants() {
    // Thin-aerofoil theory for 2412: -2.077 deg and -0.0531 (computed; Abbott and von Doenhoff's theory chapter, from memory).
    let (alpha, cm) = thin_aerofoil(&NACA2412);
    near(alpha.to_degrees(), -2.077, 2e-3);
    near(cm, -0.0531, 3e-3);
    // A 20 % plain flap: 3.4546 and -0.64 per radian (Glauert's thin-aerofoil flap, from memory; the bent mean line integrated
    // numerically gives the same).
    let (cl, cm) = flap(0.2);
    near(cl, 3.4546, 1e-4);
    near(cm, -0.64, 1e-6);
}

#[test]
fn trapezoids() {
    // Computed independently: integrals of chord, chord squared and chord times y over a trapezoid, done by hand. Taper 0.4,
    // 12 m, 12 m2.
    let p = Planform { span_m: 12.0, area_m2: 12.0, taper: 0.4, sweep_rad: 0.0, washout_rad: 0.0, dihedral_rad: 0.0 };
    near(root_chord_m(&p), 1.4285714, 1e-6);
    near(aspect_ratio(&p), 12.0, 1e-12);
    near(mac_m(&p), 2.0 / 3.0 * 1.4285714 * 1.56 / 1.4, 1e-6);
    near(mac_y_m(&p), 2.0 * 1.8 / 1.4, 1e-9);
    near(chord_m(&p, 0.5), 1.0, 1e-9);
    near(thickness(&Aerofoil::FiveDigit { line: 230, thickness: 0.12 }), 0.12, 1e-12);
}

#[test]
fn coordinate_texts_in_both_orders() {
    // Area and arc of 2412 computed independently (Green's theorem on 200001 points a side); here read back from texts.
    let c = contour(&NACA2412);
    let side = |s: &[(f64, f64)]| s.iter().map(|p| format!("{:.6} {:.6}", p.0, p.1)).collect::<Vec<_>>();
    let (mut upper, lower) = (side(&c.upper), side(&c.lower));
    let two = format!("invented title\n81. 81.\n\n{}\n\n{}\n", upper.join("\n"), lower.join("\n"));
    upper.reverse();
    let one = format!("invented title\n{}\n{}\n", upper.join("\n"), lower[1..].join("\n"));
    for text in [one, two] {
        let points = coordinates::read(&text).unwrap();
        let again = contour(&Aerofoil::Points { name: "x".into(), xy: points });
        near(area(&again), 0.0817774, 5e-3);
        near(arc(&again.upper), 1.02814, 5e-3);
    }
    assert!(coordinates::read("no numbers here").is_err());
}

/// Area of a closed polygon.
fn shoelace(p: &[(f64, f64)]) -> f64 {
    p.iter().zip(p.iter().cycle().skip(1)).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
}

#[test]
fn surface_points_of_2412() {
    // air-04: thickness laid off normal to the mean line, computed for the reference with numpy.
    let c = contour(&NACA2412);
    let at = |side: &[(f64, f64)], x: f64| {
        let k = side.windows(2).position(|w| w[0].0 <= x && x <= w[1].0).unwrap();
        let (a, b) = (side[k], side[k + 1]);
        a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1)
    };
    for (x, y) in [(0.04690149, 0.04009905), (0.4, 0.07799785), (0.7012105, 0.05131637)] {
        near(at(&c.upper, x), y, 2e-3);
    }
    for (x, y) in [(0.05309851, -0.03072405), (0.4, -0.03799785), (0.6987895, -0.02131637)] {
        near(at(&c.lower, x), y, 2e-3);
    }
}

#[test]
fn areas_of_open_and_closed_symmetric_sections() {
    // air-05: integral of the open polynomial is 0.685083 t. The contour here is closed (last coefficient 0.1036 for 0.1015), so
    // 5 t 2 (0.1036 - 0.1015)/5 = 0.0042 t less.
    for (t, open) in [(0.12, 0.08221), (0.15, 0.1027625), (0.18, 0.123315)] {
        let n = 4000;
        let sum: f64 = (0..n).map(|i| 2.0 * half_thickness(t, (f64::from(i) + 0.5) / f64::from(n), 0.1015)).sum();
        near(sum / f64::from(n), open, 2e-5);
        let c = contour(&Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: t });
        near(area(&c), open - 0.0042 * t, 5e-4);
    }
}

#[test]
fn nose_and_aft_arcs_of_0012() {
    // air-07: computed for the reference; one side from the nose to x, and on to the trailing edge.
    let c = contour(&Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.12 });
    near(arc(&c.upper), 1.019774, 1e-4);
    for (x, nose) in [(0.1, 0.1160524), (0.25, 0.2666993), (0.4, 0.4167302)] {
        let mut cut: Vec<(f64, f64)> = c.upper.iter().copied().take_while(|p| p.0 < x).collect();
        cut.push((x, half_thickness(0.12, x, 0.1036)));
        near(arc(&cut), nose, 1e-3);
    }
}

#[test]
fn one_polygon_in_two_orders() {
    // air-10: one loop, and two blocks behind a count line. The reader asks for ten points, so every edge of the polygon is
    // halved here first, which changes no area. Area 0.056, thickest 0.08 at a tenth.
    let halved = |p: &[(f64, f64)]| {
        let mut out = vec![p[0]];
        for w in p.windows(2) {
            out.extend([(f64::midpoint(w[0].0, w[1].0), f64::midpoint(w[0].1, w[1].1)), w[1]]);
        }
        out
    };
    let upper = halved(&[(0.0, 0.0), (0.1, 0.05), (0.5, 0.06), (1.0, 0.0)]);
    let lower = halved(&[(0.0, 0.0), (0.1, -0.03), (0.5, -0.02), (1.0, 0.0)]);
    let lines = |p: &[(f64, f64)]| p.iter().map(|p| format!("{} {}", p.0, p.1)).collect::<Vec<_>>().join("\n");
    let back: Vec<_> = upper.iter().rev().copied().collect();
    let loops = coordinates::read(&format!("SECTION A\n{}\n{}", lines(&back), lines(&lower[1..]))).unwrap();
    let blocks = coordinates::read(&format!("SECTION A\n7. 7.\n\n{}\n\n{}", lines(&upper), lines(&lower))).unwrap();
    assert_eq!(loops, blocks);
    near(shoelace(&loops), 0.056, 1e-9);
    let thick = |x: f64| {
        let y = |low: bool| loops.iter().filter(|p| (p.0 - x).abs() < 1e-9).map(move |p| if low { -p.1 } else { p.1 });
        y(false).fold(f64::MIN, f64::max) + y(true).fold(f64::MIN, f64::max)
    };
    near(thick(0.1), 0.08, 1e-9);
    assert!([0.05, 0.3, 0.5, 0.75].iter().all(|x| thick(*x) < 0.08 + 1e-12));
}

#[test]
fn wings_of_several_panels() {
    // plan-02: two swept panels, by quadrature in scipy; seven figures each.
    let (y, chord) = ([0.0, 2.5, 6.5], [1.3, 1.2, 0.5]);
    let (inner, outer) = (2.5 * 4.0_f64.to_radians().tan(), 4.0 * 14.0_f64.to_radians().tan());
    let at = |k: usize, le_m: f64| Chord { y_m: y[k], chord_m: chord[k], le_m };
    let m = mean(&[at(0, 0.0), at(1, inner), at(2, inner + outer)]);
    near(m.area_m2, 13.05, 1e-6);
    near(m.chord_m, 1.066922, 1e-6);
    near(m.y_m, 2.792465, 1e-6);
    near(m.le_m, 0.3565689, 1e-6);
    near(13.0 * 13.0 / m.area_m2, 12.95019, 1e-6);
    near(m.area_m2 / 13.0, 1.003846, 1e-6);
    // plan-03: an ellipse of 13 m by 1.25 m, closed form, by pieces crowded to the tip by the sine, as the case asks. The pieces lie inside
    // the curve and miss (pi/2n)^2/6 of its area, so 4000 of them show all seven figures.
    let ellipse = |n: u32| {
        let eta = |k: u32| (std::f64::consts::FRAC_PI_2 * f64::from(k) / f64::from(n)).sin();
        let chord = |e: f64| Chord { y_m: 6.5 * e, chord_m: 1.25 * (1.0 - e * e).max(0.0).sqrt(), le_m: 0.0 };
        mean(&(0..=n).map(|k| chord(eta(k))).collect::<Vec<_>>())
    };
    let m = ellipse(4000);
    near(m.area_m2, 12.76272, 1e-6);
    near(m.chord_m, 1.061033, 1e-6);
    near(m.y_m, 2.758686, 1e-6);
    near(169.0 / m.area_m2, 13.24169, 1e-6);
    // Statics of a polygon, by hand: n pieces inside a quarter of an ellipse hold half n sin(pi/2n) of its half axes' product.
    for n in [1, 2, 7, 60] {
        let part = f64::from(n) / 2.0 * (std::f64::consts::FRAC_PI_2 / f64::from(n)).sin();
        near(ellipse(n).area_m2, 2.0 * part * 6.5 * 1.25, 1e-12);
    }
}

#[test]
fn sections_between_two_are_measured_on_the_blend_of_both() {
    // Computed independently: points of both sections mixed one by one, cut at spar and hinge, arcs and the areas of polygons summed up.
    let mut d = super::by_hand::plank();
    d.sections[1].aerofoil = Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.10 };
    let e = evaluate(&d, &Assumptions::default());
    let (a, b) = (contour(&d.sections[0].aerofoil), contour(&d.sections[1].aerofoil));
    for bay in [0, 7, 13] {
        let s = &e.layout.bays[bay].mid;
        let mix = |p: &[(f64, f64)], q: &[(f64, f64)]| -> Vec<(f64, f64)> {
            p.iter().zip(q).map(|(p, q)| (p.0 + s.eta * (q.0 - p.0), p.1 + s.eta * (q.1 - p.1))).collect()
        };
        let (upper, lower) = (mix(&a.upper, &b.upper), mix(&a.lower, &b.lower));
        // The surface from the nose to x, and the height there.
        let cut = |side: &[(f64, f64)], x: f64| {
            // The last point ahead of x, so that the very nose may lie a little ahead of its first point.
            let last = side.iter().rposition(|p| p.0 < x).unwrap();
            let (p, q) = (side[last], side[last + 1]);
            let mut out = side[..=last].to_vec();
            out.push((x, p.1 + (q.1 - p.1) * (x - p.0) / (q.0 - p.0)));
            out
        };
        let cell = |x: f64| {
            let mut round = cut(&upper, x);
            round.extend(cut(&lower, x).into_iter().rev());
            shoelace(&round).abs()
        };
        let length = |side: &[(f64, f64)], x: f64| arc(&cut(side, x));
        near(s.nose_upper_m, length(&upper, 0.30), 1e-9);
        near(s.nose_lower_m, length(&lower, 0.30), 1e-9);
        near(s.aft_upper_m, length(&upper, 0.78) - length(&upper, 0.30), 1e-9);
        near(s.aft_lower_m, length(&lower, 0.78) - length(&lower, 0.30), 1e-9);
        near(s.control_upper_m, arc(&upper) - length(&upper, 0.78), 1e-9);
        near(s.control_lower_m, arc(&lower) - length(&lower, 0.78), 1e-9);
        near(s.nose_cell_m2, cell(0.30), 1e-9);
        near(s.aft_cell_m2, cell(0.78) - cell(0.30), 1e-9);
        let depth = |x: f64| cut(&upper, x).last().unwrap().1 - cut(&lower, x).last().unwrap().1;
        near(s.spar_depth_m, depth(0.30), 1e-9);
        near(s.hinge_depth_m, depth(0.78), 1e-9);
    }
}

#[test]
fn strips_cover_the_chord_and_the_tip_is_as_long_as_its_taper_says() {
    // By definition: chords of 2 S/(b (1 + taper)) and of taper times that; strips of a side begin where the one ahead of them ends, from
    // the leading edge to the trailing edge.
    for name in ["marram-mixed", "can-say-divided-aft"] {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"));
        let d = thistledown::scenario::load(&path).unwrap().design;
        let l = evaluate(&d, &Assumptions::default()).layout;
        let root = 2.0 * d.planform.area_m2 / (d.planform.span_m * (1.0 + d.planform.taper));
        near(l.root_chord_m, root, 1e-12);
        near(l.tip_chord_m, d.planform.taper * root, 1e-12);
        for bay in 0..l.bays.len() {
            for upper in [false, true] {
                let mut bands: Vec<(f64, f64)> = l
                    .zones
                    .iter()
                    .filter(|z| z.bay == bay && z.strip.is_upper() == upper)
                    .map(|z| (z.chord_from, z.chord_to))
                    .collect();
                bands.sort_by(|a, b| a.0.total_cmp(&b.0));
                let end = bands.iter().fold(0.0, |at: f64, (from, to)| {
                    assert!((at - from).abs() < 1e-12, "{name} bay {bay}: {bands:?}");
                    *to
                });
                near(end, 1.0, 1e-12);
            }
        }
    }
}
