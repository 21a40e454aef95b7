//! Margins of more than one kind of part: rules of coverings and speeds, what a margin is, what they rest on.

use super::super::by_hand::{input, of, plank};
use super::super::handling::near;
use super::{demo, done};
use thistledown::physics::design::{Design, Strip};
use thistledown::physics::loads::case::CaseKind;
use thistledown::physics::mass::drivers::swings;
use thistledown::physics::strength::Verdict;

#[test]
fn coverings_and_speeds_against_their_rules() {
    // FAA AC 43.13-1B para 2-33: fabric below 70 % of its strength is taken off, so 70 % is what may be counted on.
    let d = demo("mixed");
    let e = done(&d);
    for m in of(&e, "covering_tension") {
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        let used = e.skins[z.construction].covering.unwrap();
        near(m.allowable, 0.70 * d.library.coverings[used.covering].strength_n_m, 1e-9);
        // The tension is a root of T^3 - T0 T^2 = E t p^2 L^2/24 at ultimate pressure.
        let (p, l) = (1.5 * input(m, "pressure limit"), input(m, "rib pitch"));
        let (t, t0) = (m.applied, input(m, "pretension"));
        near(t.powi(3) - t0 * t * t, input(m, "E t") * p * p * l * l / 24.0, 1e-6);
    }
    // 14 CFR 23.629 (from memory): no divergence up to 1.2 times the dive speed.
    near(of(&e, "divergence")[0].applied, 1.2 * 30.0, 1e-9);
    // Glauert's plain flap of 22 %, by hand: t = acos(1 - 2 0.78) = 2.1652, cl 2 (pi - t + sin t) = 3.6099, cm about the quarter chord
    // -sin t (1 - cos t)/2 = -0.6463 a radian; 0.7 of both is left of a hinge (from memory).
    let m = of(&e, "control_reversal")[0];
    near(input(m, "cl per rad"), 0.7 * 3.6099, 1e-3);
    near(input(m, "cm per rad"), -0.7 * 0.6463, 1e-3);
}

#[test]
fn a_margin_holds_from_one_up() {
    // Definition of a reserve: what is allowed over what is applied, holding from one.
    let mut between = 0;
    for name in ["mixed", "fabric-aft", "sandwich-thin", "sandwich-tough", "ribs"] {
        let e = done(&demo(name));
        for m in e.margins.iter().filter(|m| m.applied > 0.0) {
            match m.verdict {
                Verdict::Holds => assert!(m.allowable >= m.applied, "{name} {}", m.mode),
                Verdict::Short => assert!(m.allowable < m.applied, "{name} {}", m.mode),
                Verdict::NotShown(_) => continue,
            }
            between += usize::from((1.0..1.19).contains(&(m.allowable / m.applied)));
        }
        let most = e.loads.root_moment_nm(CaseKind::Manoeuvre);
        let by_case = e.loads.loads.iter().filter(|l| e.loads.cases[l.case].kind == CaseKind::Manoeuvre);
        near(most, by_case.map(|l| l.moment_nm()[0].abs()).fold(0.0, f64::max), 1e-12);
    }
    assert!(between > 5, "{between}");
}

#[test]
fn drivers_are_the_swings_they_are_called() {
    // By hand: what each title says, against the design it was made from.
    let d = demo("mixed");
    let all = swings(&d);
    let get = |title: &str| &all.iter().find(|s| s.title.contains(title)).unwrap_or_else(|| panic!("{title}")).design;
    near(get("span").planform.span_m, 13.9, 1e-12);
    let (limits, was) = (get("load factors").limits.as_ref().unwrap(), d.limits.as_ref().unwrap());
    near(limits.n_positive - was.n_positive, 0.5, 1e-12);
    // The same share of the negative factor: -2 of +4.
    near(limits.n_negative - was.n_negative, -0.5 * 0.5, 1e-12);
    let pitch = |d: &Design| 6.7 / f64::from(d.ribs[0].bays);
    near(pitch(get("rib pitch")) / pitch(&d), 1.10, 0.04);
    for (p, was) in get("fibre").library.processes.iter().zip(&d.library.processes) {
        near(p.fibre_volume_fraction, (was.fibre_volume_fraction + 0.05).min(0.7), 1e-12);
    }
    assert!(get("fibre").library.processes.iter().all(|p| p.fibre_volume_fraction < 0.75));
    for (f, was) in get("pick-up").library.foams.iter().zip(&d.library.foams) {
        near(f.pickup_kg_m2, 1.25 * was.pickup_kg_m2, 1e-12);
    }
    near(get("spar").spar.position_root, 0.33, 1e-12);
    near(get("spar").spar.position_tip, 0.33, 1e-12);
    // What weighs more by itself weighs more in the list.
    let kg = |d: &Design| done(d).weight.drawn_kg;
    assert!(kg(get("one more ply")) > kg(&d) && kg(get("no finish")) < kg(&d) && kg(get("pick-up")) > kg(&d));
}

#[test]
fn what_edges_ribs_and_axes_of_a_plank_rest_on() {
    // By hand. A free end rib is pulled by both surfaces, each at the root of T^3 - T0 T^2 = E t p^2 L^2/24 for one and a half times pressure
    // and pretension; pressure and stiffness as the covering's own margin states them.
    let d = plank();
    let e = done(&d);
    let coverings = of(&e, "covering_tension");
    let (mut pulled, mut along) = (0, 0);
    for m in of(&e, "edge_under_covering") {
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        let c = coverings.iter().find(|c| (c.bay, c.strip) == (m.bay, m.strip)).unwrap();
        let (p, stiff, t0) = (1.5 * input(c, "pressure limit"), input(c, "E t"), 1.5 * input(c, "pretension"));
        let tension = |l: f64| {
            let (mut low, mut high) = (t0, 10.0 * t0 + 1e4);
            for _ in 0..100 {
                let t = f64::midpoint(low, high);
                if t * t * (t - t0) < stiff * p * p * l * l / 24.0 { low = t } else { high = t }
            }
            low
        };
        let pull = input(m, "pull ultimate");
        if m.unit == "strain" {
            // Along the trailing edge: over the arc where that is shorter, else what the way between ribs leaves of it, by 1.2 pitch over arc.
            let (l, arc) = (z.length_m, z.arc_m);
            let most = if arc <= l { tension(arc) } else { t0 + (tension(l) - t0) * (1.2 * l / arc).min(1.0) };
            near(pull, 2.0 * most, 1e-6);
            along += 1;
        } else {
            near(pull, 2.0 * tension(z.length_m), 1e-6);
            pulled += 1;
        }
    }
    assert!(pulled > 0 && along > 5, "{pulled} {along}");
    // A rib with a quarter of its body cut away is three quarters of the foundation of its caps.
    let mut solid = d.clone();
    solid.rib_kinds[0].lightening = 0.0;
    let whole = done(&solid);
    for (a, b) in of(&e, "rib_buckling").into_iter().zip(of(&whole, "rib_buckling")) {
        near(input(a, "foundation"), 0.75 * input(b, "foundation"), 1e-9);
    }
    // The spar at 0.30 stands 0.05 behind the quarter chord, and the shear centre where the section has it.
    let s = &e.sections[0];
    near(input(of(&e, "control_reversal")[0], "axis behind c/4, root"), 0.05 + s.shear_centre_m, 1e-9);
    // In the plane: nose skins 0.15 m ahead of the caps and aft skins 0.24 m behind them, half of these counted; EI of parts about their
    // common centre is the sum over pairs of EA EA distance^2 over all EA (Lagrange); caps 70 mm wide over their own width.
    let root = &e.layout.bays[0].inner;
    let skin = |strip: Strip| e.skins[e.layout.zone(strip, 0).unwrap().construction].a.s11;
    let nose = skin(Strip::NoseUpper) * root.nose_upper_m + skin(Strip::NoseLower) * root.nose_lower_m;
    let caps = s.ea_upper_n + s.ea_lower_n;
    let aft = 0.5 * (skin(Strip::AftUpper) * root.aft_upper_m + skin(Strip::AftLower) * root.aft_lower_m);
    let pairs = nose * caps * 0.15 * 0.15 + caps * aft * 0.24 * 0.24 + nose * aft * 0.39 * 0.39;
    let want = pairs / (nose + caps + aft) + caps * 0.07 * 0.07 / 12.0;
    near(s.ei_inplane_nm2, want, 1e-9);
}

#[test]
fn a_core_is_known_as_hot_as_wings_are_tested_and_no_hotter() {
    // Student flying groups load their wings at 54 C (their pages on load tests, as in the reference cases of air loads): there a core is
    // judged. What is left of one is stated at 55 C; a little beyond nothing of a core is shown, and what needs none still is.
    let shown = |upper_c: f64, key: &str| {
        let mut d = demo("mixed");
        d.service.upper_c = upper_c;
        let e = done(&d);
        let mut all = e.margins.iter().filter(|m| m.mode == key);
        all.any(|m| !matches!(m.verdict, Verdict::NotShown(_)))
    };
    for key in ["nose_buckling", "face_wrinkling", "core_shear"] {
        assert!(shown(54.0, key) && !shown(57.0, key), "{key}");
    }
    assert!(shown(57.0, "cap_tension"));
}
