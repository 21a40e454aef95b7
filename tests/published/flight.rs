//! Envelope, ground statics, friction and performance against the check cases of the flight reference.

use std::f64::consts::PI;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::flight::friction::{form_factor, laminar, mixed, reynolds, turbulent, turbulent_length};
use thistledown::physics::flight::launch::float_speed_m_s;
use thistledown::physics::flight::polar::{fastest_at_sink_m_s, least, parabolic, speed_to_fly_m_s};
use thistledown::physics::flight::profile::{Surface, profile, section_drag, transition};
use thistledown::physics::laminate::construction::Kind;
use thistledown::physics::lifting::{Grip, Lift, TO_THE_ROOF, advised_kg, lifting_index};
use thistledown::physics::loads::beam::{Piece, Sums, sums};
use thistledown::physics::loads::envelope::{
    gust_alleviation, gust_cap, gust_per_speed, least_dive_speed_m_s, pressure_pa, speed_for_lift_m_s,
};
use thistledown::physics::loads::limits::shipped;
use thistledown::physics::loads::section::{lift_share_ahead, plain_flap, trapezoid_torque_nm};
use thistledown::physics::units::{AIR_DENSITY_KG_M3, GRAVITY_M_S2, POUND_KG};

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, rel {}", (got / want - 1.0).abs());
}

#[test]
fn speed_to_fly_is_where_the_tangent_from_the_air_meets_the_polar() {
    // Sink a V^3 + b/V: d/dV of (sink + w)/V = 0 gives 2 a V^4 - w V - 2 b = 0; w = 0 is best glide. Any text on performance.
    let (a, b) = (3.2e-5, 7.9);
    let points: Vec<(f64, f64)> = (0..24)
        .map(|i| {
            let v = 11.0 + 22.0 * f64::from(i) / 23.0;
            (v, a * v.powi(3) + b / v)
        })
        .collect();
    for w in [0.0, 0.5, 1.0, 1.5] {
        let mut v: f64 = 20.0;
        for _ in 0..50 {
            v -= (2.0 * a * v.powi(4) - w * v - 2.0 * b) / (8.0 * a * v.powi(3) - w);
        }
        near(speed_to_fly_m_s(&points, w), v, 2e-3);
    }
    near(speed_to_fly_m_s(&points, 0.0), (b / a).powf(0.25), 2e-3);
    // The polar read at 1.4 m/s of sink, found again by halving.
    let (mut low, mut high) = (15.0_f64, 33.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if a * middle.powi(3) + b / middle > 1.4 { high = middle } else { low = middle }
    }
    near(fastest_at_sink_m_s(&points, 1.4).unwrap(), low, 2e-3);
    assert_eq!(fastest_at_sink_m_s(&points, 0.1), None);
    assert_eq!(fastest_at_sink_m_s(&points, 50.0), Some(33.0));
    assert_eq!(fastest_at_sink_m_s(&[], 1.0), None);
    assert!(speed_to_fly_m_s(&[], 1.0).abs() < 1e-12);
}

#[test]
fn gust_load_factor() {
    // env-01: CS 22.341(a) terms, k of 14 CFR 23.341, worked example.
    let (mu, k) = gust_alleviation(145.0, 12.0, 1.0, 5.33);
    near(mu, 3.701293, 1e-6);
    near(k, 0.3618522, 1e-6);
    let dn = 24.0 * gust_per_speed(145.0, 12.0, 1.0, 5.33, 15.0);
    near(dn, 3.588886, 1e-6);
    // env-10: the speed at which +4/-2 is reached.
    near(3.0 / gust_per_speed(145.0, 12.0, 1.0, 5.33, 15.0), 20.06194, 1e-6);
    // env-05: CS 22.341(b), expression from memory.
    near(gust_cap(15.0, 11.5), 2.126654, 1e-6);
    near(gust_cap(20.0, 11.5), 3.780718, 1e-6);
    // Megson, Aircraft Structures for Engineering Students, gust chapter (a public copy of an earlier edition): without alleviation it is the sharp-edged gust rho V a u/(2 W/S) of a textbook.
    near(dn / k, 1.225 * 24.0 * 5.33 * 15.0 / (2.0 * 145.0 * GRAVITY_M_S2 / 12.0), 1e-9);
}

#[test]
fn stall_and_corner_speeds() {
    // env-02: VA = VS1 sqrt(n1), CS 22.335(a); CLmin of CS 22.331(d)(1). perf-01: V = sqrt(2 m g/(rho S CL)).
    near(speed_for_lift_m_s(1.0, 145.0, 12.0, 1.4), 11.75538, 1e-6);
    near(speed_for_lift_m_s(5.3, 145.0, 12.0, 1.4), 27.06292, 1e-6);
    near(speed_for_lift_m_s(-1.0, 145.0, 12.0, -0.8), 15.55091, 1e-6);
    near(speed_for_lift_m_s(-2.65, 145.0, 12.0, -0.8), 25.31504, 1e-6);
    near(speed_for_lift_m_s(1.0, 145.0, 12.0, 1.2), 12.69726, 1e-6);
    near(speed_for_lift_m_s(1.0, 145.0, 12.0, 1.6), 10.99615, 1e-6);
    // perf-03: FAA-H-8083-13B chapter 5: 40 kt at 540 lb goes to about 50 kt at 840 lb, 60 at 800 to 73 at 1200.
    let ratio = |a: f64, b: f64| speed_for_lift_m_s(1.0, b, 12.0, 1.0) / speed_for_lift_m_s(1.0, a, 12.0, 1.0);
    near(40.0 * ratio(540.0, 840.0), 50.0, 0.01);
    near(60.0 * ratio(800.0, 1200.0), 73.0, 0.01);
}

#[test]
fn least_dive_speed_of_the_code() {
    // env-03: CS 22.335(f), category U, 18 (W/S / CDmin)^(1/3) km/h with W/S in daN/m2: 179.2454 km/h for 145 kg on 12 m2 and CDmin
    // 0.012, held to its last figure. The terms were read at the UK CAA; there the formula is a picture, so 18 and the exponent
    // stay from memory, and no more can be asked of this case than that both stand in it as remembered.
    let rule_m_s = least_dive_speed_m_s(145.0 * GRAVITY_M_S2 / 12.0, 0.012);
    near(rule_m_s * 3.6, 179.2454, 3e-7);
    // The one point cannot part coefficient from exponent: a cube root doubles for eight times the loading or an eighth of the drag,
    // and 1 daN/m2 at a drag coefficient of one gives the coefficient bare.
    near(least_dive_speed_m_s(8.0 * 118.0, 0.012), 2.0 * least_dive_speed_m_s(118.0, 0.012), 1e-12);
    near(least_dive_speed_m_s(118.0, 0.0015), 2.0 * least_dive_speed_m_s(118.0, 0.012), 1e-12);
    near(least_dive_speed_m_s(10.0, 1.0), 5.0, 1e-12);
    assert!(least_dive_speed_m_s(100.0, 0.0) == 0.0);
    // The shipped set rounds to the next whole m/s.
    near(shipped("cs22_utility").unwrap().dive_speed_m_s, rule_m_s.ceil(), 1e-12);
    // A wing of that set is told when its own loading and drag ask more, by a thousandth; one of another set is not.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let mut d = thistledown::scenario::load(&path).unwrap().design;
    let mut told = |key: &str, dive: f64| {
        let mut set = shipped(key).unwrap();
        set.dive_speed_m_s = dive;
        d.limits = Some(set);
        let e = thistledown::physics::evaluation::evaluate(&d, &Assumptions::default());
        let cd = e.flight.polar_low.iter().map(|p| p.cd).fold(f64::INFINITY, f64::min);
        let least = 18.0 / 3.6 * (e.flight.all_up_kg * GRAVITY_M_S2 / e.layout.area_m2 / 10.0 / cd).cbrt();
        (e.flight.warnings.iter().any(|w| w.contains("22.335(f)")), least)
    };
    // The spar is sized for the dive speed, so weight and what is asked follow it: near enough in a few steps.
    let mut least = 50.0;
    for _ in 0..4 {
        least = told("cs22_utility", least).1;
    }
    let (below, above) = (told("cs22_utility", 0.999 * least), told("cs22_utility", 1.001 * least));
    near(below.1, above.1, 2e-4);
    assert!(below.0 && !above.0, "{least}");
    assert!(!told("foot_launched", 0.6 * least).0);
}

#[test]
fn shipped_limits_are_those_of_their_sources() {
    // env-04: CS 22.337 category U n1 5.3 and n4 -2.65 (read second-hand), factor 1.5, ultimate 7.95.
    let u = shipped("cs22_utility").unwrap();
    assert_eq!((u.n_positive, u.n_negative, u.safety_factor), (5.3, -2.65, 1.5));
    near(u.n_positive * u.safety_factor, 7.95, 1e-9);
    // CS 22.333(c): gusts of 15 m/s at rough-air and 7.5 m/s at dive speed (second-hand).
    assert_eq!((u.gust_m_s, u.gust_dive_m_s), (15.0, 7.5));
    // Stated by a flying school (hangglidingschool.com, "How strong is a hang glider?"): +6/-3, which is +4/-2 limit times 1.5.
    let f = shipped("foot_launched").unwrap();
    assert_eq!((f.n_positive * f.safety_factor, f.n_negative * f.safety_factor), (6.0, -3.0));
    assert!(f.source.contains("assumption") && u.source.contains("second-hand"));
    assert!(shipped("none").is_none());
}

#[test]
fn section_torsion() {
    // env-06: T = q cm (b/2)(cr^2 + cr ct + ct^2)/3; and the same through the beam kernel.
    let q = pressure_pa(25.0);
    near(q, 382.8125, 1e-6);
    near(trapezoid_torque_nm(q, -0.05, 6.0, 1.4, 0.6), -120.9688, 1e-6);
    let n = 400;
    let h = 6.0 / f64::from(n);
    let pieces = (0..n).rev().map(|i| {
        let y = (f64::from(i) + 0.5) * h;
        let c = 1.4 - 0.8 * y / 6.0;
        Piece { from_m: y - 0.5 * h, to_m: y + 0.5 * h, couple: -0.05 * q * c * c, ..Piece::default() }
    });
    near(sums(&[0.0, 3.0, 6.0], pieces)[0].couple, -120.9688, 1e-5);
    // env-07: thin-aerofoil flap theory (Glauert).
    for (e, lift, moment) in [(0.15, 3.019083, -0.6070214), (0.2, 3.45459, -0.64), (0.25, 3.826446, -0.6495191)] {
        let (l, m) = plain_flap(e);
        near(l, lift, 1e-6);
        near(m, moment, 1e-6);
    }
    // env-09: share of sqrt((1-x)/x) ahead of x.
    for (x, share) in [(0.1, 0.3958187), (0.25, 0.6089978), (0.5, 0.8183099)] {
        near(lift_share_ahead(x), share, 1e-6);
    }
}

/// A load per span as fine steps.
fn spread(half: f64, n: u32, load: impl Fn(f64) -> f64) -> Vec<Piece> {
    let h = half / f64::from(n);
    (0..n)
        .rev()
        .map(|i| {
            let y = (f64::from(i) + 0.5) * h;
            Piece { from_m: y - 0.5 * h, to_m: y + 0.5 * h, load: load(y), ..Piece::default() }
        })
        .collect()
}

#[test]
fn root_bending() {
    // lift-08: ellipse M = L b/(3 pi), 145 kg at 5.3. env-08: relief of a 42 kg wing with its mass centred at 0.40.
    let lift = 5.3 * 145.0 * GRAVITY_M_S2;
    near(lift, 7536.410525, 1e-6);
    let ellipse = |y: f64| lift / 2.0 * 4.0 / (PI * 6.0) * (1.0 - y * y / 36.0).sqrt();
    let air = sums(&[0.0, 6.0], spread(6.0, 4000, ellipse).into_iter())[0];
    near(air.arm, 9595.656, 1e-5);
    // A mass that falls linearly from root to tip with its centre at 0.4: (1 + 2 L)/(3 (1 + L)) = 0.4 gives L = 0.25.
    let root = 21.0 / 6.0 * 2.0 / 1.25;
    let mass = sums(&[0.0, 6.0], spread(6.0, 4000, |y| root * (1.0 - 0.75 * y / 6.0)).into_iter())[0];
    near(mass.force, 21.0, 1e-6);
    near(5.3 * GRAVITY_M_S2 * mass.arm, 2619.552, 1e-5);
    near(air.plus(-5.3 * GRAVITY_M_S2, &mass).arm, 6976.104, 1e-5);
    // lift-09: centroid of a trapezoid of load.
    for (taper, want) in [(1.0, 7500.0), (0.5, 6666.667), (3.0 / 7.0, 6500.0), (0.0, 5000.0)] {
        let w = 2500.0 / 6.0 * 2.0 / (1.0 + taper);
        let s = sums(&[0.0, 6.0], spread(6.0, 3000, |y| w * (1.0 - (1.0 - taper) * y / 6.0)).into_iter())[0];
        near(s.arm, want, 1e-6);
    }
}

#[test]
fn ground_statics() {
    // gnd-01: cantilever over a car roof, 3.5 kg/m, 2.5 m, factor 3 (an assumption).
    let w = 3.0 * 3.5 * GRAVITY_M_S2;
    let piece = Piece { from_m: 0.0, to_m: 2.5, load: w, ..Piece::default() };
    let s = sums(&[0.0, 2.5], std::iter::once(piece))[0];
    near(s.arm, 321.7807, 1e-6);
    near(s.force, 257.4246, 1e-6);
    // gnd-02: two supports at an inset; sagging positive. Half of a 6 m beam from its middle.
    let w = 3.5 * GRAVITY_M_S2;
    for (inset, middle, support) in [(0.0, 154.4547, 0.0), (0.2071067812, 26.50024, -26.50024), (0.25, 0.0, -38.61368)]
    {
        let at = 3.0 - 6.0 * inset;
        let piece = Piece { from_m: 0.0, to_m: 3.0, load: -w, ..Piece::default() };
        let mut s = sums(&[0.0, at, 3.0], std::iter::once(piece));
        let up = -s[0].force;
        s[0].point(0.0, up, at, 0.0);
        assert!((s[0].arm - middle).abs() < 1e-4, "{} {middle}", s[0].arm);
        assert!((s[1].arm - support).abs() < 1e-4, "{} {support}", s[1].arm);
    }
    // gnd-03: one end lifted: reaction and middle moment of 21 kg over 6 m.
    let piece = Piece { from_m: 0.0, to_m: 3.0, load: -w, ..Piece::default() };
    let mut s: Sums = sums(&[0.0, 3.0], std::iter::once(piece))[0];
    near(-s.force, 102.9698, 1e-6);
    let up = -s.force;
    s.point(0.0, up, 3.0, 0.0);
    near(s.arm, 154.4547, 1e-6);
    // gnd-05: L = q S CL on a car at 30 m/s.
    near(pressure_pa(30.0), 551.25, 1e-6);
    near(pressure_pa(30.0) * 6.0 * 0.3 / (21.0 * GRAVITY_M_S2), 4.818159, 1e-6);
}

#[test]
fn flat_plate_friction() {
    // perf-05: Blasius and Prandtl-Schlichting.
    for (re, lam, turb) in
        [(3e5, 0.002424585, 0.005656481), (1e6, 0.001328, 0.004470758), (3e6, 0.0007667212, 0.003669828)]
    {
        near(laminar(re), lam, 1e-6);
        near(turbulent(re), turb, 1e-6);
    }
    // perf-06: momentum thickness matched at transition, solved independently.
    for (xt, length, cf) in
        [(0.25, 0.09079488, 0.003883507), (0.5, 0.1417261, 0.00312103), (0.7, 0.1756272, 0.002452442)]
    {
        near(turbulent_length(1e6, 0.664 * xt / f64::sqrt(1e6 * xt)), length, 1e-5);
        near(mixed(1e6, xt), cf, 1e-5);
    }
    // perf-07: form factor from memory (Hoerner).
    for (t, f) in [(0.1, 1.206), (0.12, 1.252442), (0.15, 1.330375), (0.18, 1.422986)] {
        near(form_factor(t), f, 1e-6);
    }
    // perf-04: NACA Report 824 symbols page; its viscosity and the 1976 atmosphere lie 0.3 % apart.
    near(reynolds(100.0, 1.0), 6_865_000.0, 0.003);
    near(reynolds(44.704, 0.3048), 935_400.0, 0.003);
}

#[test]
fn section_drag_near_the_tables() {
    // sec-01: NACA 0012 at zero lift, Sheldahl and Klimas SAND80-2114 (a synthesised table): within 25 %, with the
    // transition of a smooth section.
    // Below Re 0.5e6, outside the stated validity, the build-up is high (safe side): 25.2 % at 0.36e6.
    let low = section_drag(0.36e6, [0.5, 0.6], 0.12) / 0.0079;
    assert!(low > 1.0 && low < 1.27, "{low}");
    for (re, cd) in [(0.7e6, 0.0067), (1e6, 0.0065), (2e6, 0.0064)] {
        near(section_drag(re, [0.5, 0.6], 0.12), cd, 0.25);
    }
    // Computed independently, momentum thickness matched at transition by a bracketing solver: 15 % section at Re 9e5: 0.0081 with 0.5/0.6, 0.0106 with 0.25/0.25.
    near(section_drag(9e5, [0.5, 0.6], 0.15), 0.0081, 0.01);
    near(section_drag(9e5, [0.25, 0.25], 0.15), 0.0106, 0.01);
}

#[test]
fn transition_ends_with_the_rigid_skin() {
    // Own property (an assumption, no source): not aft of the rigid edge less 0.02.
    let s = |rigid_to, smooth| transition(&Surface { rigid_to, smooth, covered: 0.0, upper: true });
    near(s(0.25, true), 0.23, 1e-9);
    near(s(0.8, true), 0.50, 1e-9);
    assert!(s(0.8, false) < s(0.25, true) && s(0.0, true) < s(0.8, false));
}

#[test]
fn the_laminar_share_is_the_mean_of_both_sides() {
    // By definition: of a wing of one rigid skin all over, what is laminar above and below, each as its surface says, halved.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-sandwich-tough.toml");
    let d = thistledown::scenario::load(&path).unwrap().design;
    let skins = thistledown::physics::evaluation::skins_of(&d, &Assumptions::default());
    for smooth in [true, false] {
        let mut layout = thistledown::physics::wing::layout::lay_out(&d);
        let rigid = |s: &thistledown::physics::laminate::construction::Skin| s.foam.is_some() && s.smooth == smooth;
        let Some(skin) = skins.iter().position(rigid) else { panic!("no skin is smooth: {smooth}") };
        layout.zones.iter_mut().for_each(|z| z.construction = skin);
        let of = |upper| transition(&Surface { rigid_to: 1.0, smooth, covered: 0.0, upper });
        near(profile(&layout, &skins).laminar_share, (of(true) + of(false)) / 2.0, 1e-9);
    }
}

#[test]
fn drag_of_a_plank_is_that_of_its_section() {
    // By hand: one chord of 1 m and one section all along, one rigid skin: the section's own drag at 12 m/s, as fast as the profile is worked out at.
    // Covered behind the spar on one side it has half of what a covering adds on both, which is never less than nothing; the likely profile
    // drag is neither raised nor lowered.
    let d = super::by_hand::plank();
    let e = thistledown::physics::evaluation::evaluate(&d, &Assumptions::default());
    let skin = |kind| e.skins.iter().position(|s| s.kind == kind).unwrap();
    let (rigid, cover) = (skin(Kind::Sandwich), skin(Kind::Covering));
    let smooth = e.skins[rigid].smooth;
    let section = |cd: f64, ends: [f64; 2]| {
        let at = |upper: bool, rigid_to| transition(&Surface { rigid_to, smooth, covered: 0.0, upper });
        let sides = [at(true, ends[0]), at(false, ends[1])];
        cd / section_drag(reynolds(12.0, 1.0), sides, e.layout.bays[0].mid.thickness_frac)
    };
    let cd = |covered: [bool; 2]| {
        let mut layout = e.layout.clone();
        for z in &mut layout.zones {
            let under = covered[usize::from(!z.strip.is_upper())] && !z.strip.is_nose();
            z.construction = if under { cover } else { rigid };
        }
        profile(&layout, &e.skins).cd
    };
    near(section(cd([false; 2]), [1.0; 2]), 1.0, 1e-9);
    let (one, both) = (section(cd([true, false]), [0.3, 1.0]), section(cd([true; 2]), [0.3; 2]));
    assert!(both >= 1.0, "{both}");
    near(both - 1.0, 2.0 * (one - 1.0), 1e-9);
    let v = e.flight.best_glide_speed_m_s;
    let cl = 2.0 * e.flight.all_up_kg * GRAVITY_M_S2 / (AIR_DENSITY_KG_M3 * v * v * 12.0);
    near(e.flight.cd_profile, profile(&e.layout, &e.skins).at(v, cl), 1e-6);
}

#[test]
fn parabolic_polar() {
    // perf-02: CD0 0.018, e 0.92, AR 12, 145 kg, 12 m2, small angles. perf-09: ratios of any parabolic polar.
    let k = PI * 0.92 * 12.0;
    let (cl_glide, glide, cl_sink) = parabolic(0.018, k);
    near(cl_glide, 0.7901249, 1e-6);
    near(glide, 21.94791, 1e-6);
    near(cl_sink, 1.368536, 1e-6);
    let loading = 2.0 * 145.0 * GRAVITY_M_S2 / (AIR_DENSITY_KG_M3 * 12.0);
    let cd_cl = |v: f64| {
        let cl = loading / (v * v);
        (0.018 + cl * cl / k) / cl
    };
    let (v_glide, inverse) = least(8.0, 32.0, cd_cl);
    let (v_sink, sink) = least(8.0, 32.0, |v| v * cd_cl(v));
    near(v_glide, 15.64778, 2e-3);
    near(1.0 / inverse, 21.94791, 1e-5);
    near(v_glide * inverse, 0.7129508, 2e-3);
    near(v_sink, 11.88974, 2e-3);
    near(sink, 0.6255307, 1e-5);
    near(v_sink / v_glide, 0.7598357, 3e-3);
    near(sink / (v_glide * inverse), 0.8773827, 3e-3);
    near(1.0 / cd_cl(v_sink) / glide, 0.8660254, 3e-3);
}

#[test]
fn pilot_drag_area() {
    // perf-10: wing 0.010, AR 12, e 0.92, S 12.
    for (f, e) in [(0.05, 24.73977), (0.1, 21.74747), (0.2, 18.03205), (0.4, 14.1455)] {
        near(parabolic(0.01 + f / 12.0, PI * 0.92 * 12.0).1, e, 1e-6);
    }
}

#[test]
fn published_light_sailplane() {
    // perf-08: 335 lb, 44 ft, best glide 25 (builders' page), 100 ft/min (encyclopaedia quoting the designer).
    let weight = 335.0 * POUND_KG * GRAVITY_M_S2;
    let span = 44.0 * 0.3048;
    let v = (4.0 * weight * 25.0 / (AIR_DENSITY_KG_M3 * PI * 0.95 * span * span)).sqrt();
    // Any area gives the same answer: take 14 m2 and find the least sink numerically.
    let k = PI * 0.95 * span * span / 14.0;
    let cd0 = k / (4.0 * 25.0 * 25.0);
    let loading = 2.0 * weight / (AIR_DENSITY_KG_M3 * 14.0);
    let sink = |v: f64| {
        let cl = loading / (v * v);
        v * (cd0 + cl * cl / k) / cl
    };
    near(least(6.0, 25.0, sink).1, 0.51, 0.1);
    near(v, 15.05, 1e-3);
}

#[test]
fn launch_and_conversions() {
    // lau-02: 42 of 145 kg, 12 m2, CL 1.4.
    near(float_speed_m_s(11.75538, 42.0, 145.0), 6.326701, 1e-6);
    near(speed_for_lift_m_s(1.0, 42.0, 12.0, 1.4), 6.326701, 1e-6);
    // lau-01: 14 CFR 103.1: 155 lb and 254 lb.
    near(155.0 * POUND_KG, 70.30682, 1e-6);
    near(254.0 * POUND_KG, 115.2125, 1e-6);
}

#[test]
fn lifting_by_hand() {
    // The manual rounds its factors to two digits, and those of inches are together up to 6 % above those of metres. gnd-04: NIOSH 94-110, product of table values: reach 0.83, height 0.78, way 0.85, grip 0.90 of 23 kg: 11.39 kg. Those are a lift
    // of 1.5 m from the floor, 0.3 m ahead, without handles.
    let most = advised_kg(&TO_THE_ROOF).unwrap();
    near(most, 11.39, 0.008);
    near(lifting_index(2.0 * most, &TO_THE_ROOF).unwrap(), 2.0, 1e-12);
    // The manual's example of stock for a punch press (from memory), 44 lb: from 15 to 63 in, 23 in ahead: 16.3 lb with a fair grip at the
    // start, index 2.7; its place of rest, judged from 63 in: 14.5 lb, 3.0. A fair grip is a good one from 30 in up.
    let inch = 0.0254;
    let press =
        Lift { reach_m: 23.0 * inch, from_m: 15.0 * inch, to_m: 63.0 * inch, turned_rad: 0.0, grip: Grip::Fair };
    near(advised_kg(&press).unwrap() / POUND_KG, 16.3, 0.05);
    near(lifting_index(44.0 * POUND_KG, &press).unwrap(), 2.7, 0.05);
    let rest = Lift { from_m: press.to_m, to_m: press.from_m, ..press };
    near(advised_kg(&rest).unwrap() / POUND_KG, 14.5, 0.05);
    near(lifting_index(44.0 * POUND_KG, &rest).unwrap(), 3.0, 0.07);
    // Read in four sources: 23 kg at the most, at knuckle height, close, with handles; 0.71 of it turned by 90 degrees, 0.57 by 135.
    for (from_m, as_good) in [(0.70, 0.95), (0.80, 1.0)] {
        let at = |grip| advised_kg(&Lift { from_m, to_m: 1.2, grip, ..press }).unwrap();
        near(at(Grip::Fair) / at(Grip::Good), as_good, 1e-12);
    }
    let best = Lift { reach_m: 0.2, from_m: 0.75, to_m: 0.9, turned_rad: 0.0, grip: Grip::Good };
    near(advised_kg(&best).unwrap(), 23.0, 1e-9);
    for (degrees, share) in [(90.0_f64, 0.71), (135.0, 0.57)] {
        near(advised_kg(&Lift { turned_rad: degrees.to_radians(), ..best }).unwrap(), 23.0 * share, 0.005);
    }
    // Nothing beyond the range: reach 63 cm, 175 cm up, 135 degrees.
    for (inside, beyond) in [
        (Lift { reach_m: 0.62, ..best }, Lift { reach_m: 0.64, ..best }),
        (Lift { from_m: 1.74, to_m: 1.0, ..best }, Lift { from_m: 1.76, to_m: 1.0, ..best }),
        (Lift { from_m: 0.0, to_m: 1.74, ..best }, Lift { from_m: 0.0, to_m: 1.76, ..best }),
        (Lift { turned_rad: 2.35, ..best }, Lift { turned_rad: 2.37, ..best }),
    ] {
        assert!(advised_kg(&inside).is_some() && advised_kg(&beyond).is_none(), "{beyond:?}");
    }
}

/// Friction by hand: the plate turbulent from the start that has the momentum thickness of the laminar run at its end, found by
/// halving, and what is left of the chord (0.455/log10(Re)^2.58; Blasius 0.664).
fn friction_by_hand(re: f64, xt: f64) -> f64 {
    let drag = |length: f64| 0.455 * length / (re * length).log10().powf(2.58);
    let want = 2.0 * 0.664 * xt / (re * xt).sqrt();
    let (mut low, mut high): (f64, f64) = (1e-4, 1.0);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if drag(middle) < want { low = middle } else { high = middle }
    }
    drag(low + 1.0 - xt)
}

#[test]
fn profile_drag_and_laminar_share_follow_from_the_bays_shown() {
    let d = thistledown::scenario::demo().unwrap().design;
    let e = thistledown::physics::evaluation::evaluate(&d, &thistledown::physics::assumptions::Assumptions::default());
    let v = thistledown::report::json::evaluation(&d, &e);
    let p = &v["flight"]["profile"];
    let (mut area, mut sums, mut laminar) = (0.0, [0.0; 2], 0.0);
    let bays = thistledown::physics::flight::profile::bays(&e.layout, &e.skins);
    assert_eq!(bays.len(), p["bays"].as_array().unwrap().len());
    for (b, shown) in bays.iter().zip(p["bays"].as_array().unwrap()) {
        let at = |k: &str| shown[k].as_f64().unwrap();
        let t = at("thickness_share");
        let form = 1.0 + 2.0 * t + 60.0 * t.powi(4);
        for (i, speed) in [12.0, 24.0].into_iter().enumerate() {
            // Air at sea level: 1.4607e-5 m2/s, standard atmosphere.
            let re = speed * at("chord_m") / 1.4607e-5;
            let cf = [friction_by_hand(re, at("transition_upper")), friction_by_hand(re, at("transition_lower"))];
            for (cf, told) in cf.iter().zip(b.friction[i]) {
                assert!((told / cf - 1.0).abs() < 2e-3, "{told} against {cf}: {shown}");
            }
            let cd = at("covering") * (cf[0] + cf[1]) * form;
            assert!((b.cd[i] / cd - 1.0).abs() < 2e-3, "{} against {cd}", b.cd[i]);
            sums[i] += b.area_m2 * b.cd[i];
        }
        area += b.area_m2;
        laminar += b.area_m2 * 0.5 * (at("transition_upper") + at("transition_lower"));
    }
    let number = |k: &str| p[k].as_f64().unwrap();
    assert!((number("cd_12") / (sums[0] / area) - 1.0).abs() < 1e-9);
    assert!((number("power") - (sums[0] / sums[1]).log2()).abs() < 1e-9);
    assert!((e.flight.laminar_share - laminar / area).abs() < 1e-9);
    // What the page shows is that at best glide.
    let (f, glide) = (&e.flight, e.flight.at_best_glide);
    let off = glide.cl - number("cl_best");
    let cd = number("cd_12") * (glide.speed_m_s / 12.0).powf(-number("power")) * (1.0 + 1.2 * off * off);
    assert!((f.cd_profile / cd - 1.0).abs() < 1e-9, "{} against {cd}", f.cd_profile);
    let told = thistledown::report::profile::lines(&e).join("\n");
    assert!(told.contains(&format!("{:.5}", f.cd_profile)) && told.contains("by bay"), "{told}");
}
