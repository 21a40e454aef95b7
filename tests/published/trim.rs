//! A tailless wing flies every case of lift with its controls where statics puts them.
//!
//! Nothing here is taken from a worked example of a trimmed wing: none could be read. Statics and the reference's own lattices stand for it.

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Aerofoil, Design};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::loads::case::{Case, CaseKind};
use thistledown::physics::loads::internal::{CaseLoads, Loads, loads};
use thistledown::physics::loads::lift::{LiftBasis, basis};
use thistledown::physics::loads::section::moment_counted;
use thistledown::physics::loads::trim::{Trim, warning};
use thistledown::physics::mass::tally::Weight;
use thistledown::physics::wing::layout::{Layout, lay_out};

/// The wing of the airloads reference: aspect ratio 12, taper 0.4, flat; controls of a fifth of the chord from the middle to 0.95 of
/// the half span.
fn reference(sweep_deg: f64, camber: f64) -> Design {
    let mut d = plank();
    (d.planform.taper, d.planform.sweep_rad) = (0.4, sweep_deg.to_radians());
    for s in &mut d.sections {
        s.aerofoil = Aerofoil::FourDigit { camber, camber_place: 0.4, thickness: 0.15 };
        (s.alpha0_rad, s.cm0) = (None, None);
    }
    d.hinge_frac = 0.8;
    (d.controls[0].from_eta, d.controls[0].to_eta) = (0.5, 0.95);
    (d.controls[0].up_rad, d.controls[0].down_rad) = (25_f64.to_radians(), 25_f64.to_radians());
    d.aboard.tailless = true;
    d
}

/// Loads of a wing that weighs 40 kg and whose panels weigh nothing: of the air alone.
fn of_air(d: &Design) -> (Layout, LiftBasis, Loads) {
    let layout = lay_out(d);
    let lift = basis(d, &layout);
    let weight = Weight { budget_kg: 40.0, p10_kg: 40.0, drawn_kg: 40.0, ..Weight::default() };
    let loads = loads(d, &layout, &lift, &weight);
    (layout, lift, loads)
}

/// Nose-up moment about the centre of gravity, and about the line of flight at the middle, of one half: the moments about the swept
/// spar turned back.
fn moments(d: &Design, layout: &Layout, l: &CaseLoads) -> (f64, f64) {
    let root = &layout.bays[0].inner;
    let (cos, spar_m) = (root.spar_cos(), root.x_le_m + root.spar_frac * root.chord_m);
    let sin = root.spar_slope * cos;
    let (m, t) = (l.moment_nm()[0], l.torque_nm()[0]);
    let cg_m = layout.mac_x_le_m + d.aboard.cg_mac * layout.mac_m;
    (t * cos - m * sin + l.shear_n()[0] * (cg_m - spar_m), m * cos + t * sin)
}

fn each(l: &Loads) -> impl Iterator<Item = (&Case, &CaseLoads)> {
    l.loads.iter().map(|k| (&l.cases[k.case], k))
}

fn at<'l>(l: &'l Loads, key: &str) -> (&'l Case, &'l CaseLoads) {
    each(l).find(|(c, _)| c.key == key).unwrap()
}

#[test]
fn nothing_turns_a_trimmed_wing_about_its_centre_of_gravity() {
    // Statics: the moment of all air loads about the centre of gravity, summed from the loads along the spar. Swept back, straight and
    // forward, with and without camber and washout.
    for (sweep, camber, washout, cg) in
        [(20.0, 0.0, 0.0, 0.2), (20.0, 0.02, 5.0, 0.15), (0.0, 0.005, 2.0, 0.24), (-25.0, 0.005, 0.0, 0.22)]
    {
        let mut d = reference(sweep, camber);
        (d.planform.washout_rad, d.aboard.cg_mac) = (f64::to_radians(washout), cg);
        let (layout, lift, l) = of_air(&d);
        let mut seen = [0, 0];
        for (c, k) in each(&l) {
            assert!(c.trim.is_none_or(|t| !t.at_stop), "{sweep} {}", c.key);
            let q = 0.5 * 1.225 * c.speed_m_s * c.speed_m_s;
            let size = q * layout.area_m2 * layout.mac_m;
            // Loads count a section moment of 0.025 at least (CS 22.331(d)(2)), trim the section's own.
            let asked = moment_counted(lift.cm0[0]) - lift.cm0[0];
            let pitch = moments(&d, &layout, k).0 - 0.5 * size * asked;
            // Strips tell the mean chord a little otherwise.
            let within = size * (1e-9 + 2e-3 * asked.abs());
            let steady = matches!(c.kind, CaseKind::Manoeuvre | CaseKind::Dive) && c.key != "dive_push";
            if steady && !c.key.contains("_back_") {
                assert!(pitch.abs() < within, "{sweep} {}: {pitch} {within}", c.key);
                assert!(c.control_sym_rad.abs() > 1e-4 || c.n == 0.0, "{}", c.key);
                seen[0] += 1;
            } else if c.kind == CaseKind::Gust || c.key.contains("_back_") {
                // What came after trim acts at the aerodynamic centre: (n - 1)/n of the lift, times its distance from the centre of
                // gravity in mean chords.
                let more = c.cl * (c.n - 1.0) / c.n;
                let want = 0.5 * size * more * (lift.cm_per_cl + cg - 0.25);
                assert!((pitch - want).abs() < within, "{sweep} {}: {pitch} {want}", c.key);
                seen[1] += 1;
            }
        }
        assert_eq!(seen, [9, 16]);
    }
}

#[test]
fn a_trimmed_pull_up_bends_the_root_less_by_the_reference() {
    // Computed independently for the airloads reference (vlm-05 and vlm-11, converged lattices): aerodynamic centre 0.01202 mean chords
    // behind the quarter chord, semispan centroid 0.43441; per rad of effective angle CL 1.7703, cm -0.81232 of the lift, root
    // moment at the same lift 0.1922 q S b/2; the sections' own cm -0.180 per rad of real angle, tau 0.54982. With the centre of
    // gravity at 0.20: d/CL = (0.20 - 0.25 - 0.01202)/(0.81232 + 0.180/0.54982 - 0.01202 x 1.7703) = -0.0555.
    let mut d = reference(20.0, 0.0);
    d.aboard.cg_mac = 0.20;
    let (layout, _, l) = of_air(&d);
    let per_cl = (0.20 - 0.25 - 0.012_02) / (0.812_32 + 0.180 / 0.549_82 - 0.012_02 * 1.7703);
    for key in ["pull_vd_light", "pull_vd_heavy", "push_vd_heavy", "pull_va_heavy"] {
        let (c, k) = at(&l, key);
        // The centre is told to 0.002 mean chords, of 0.062.
        near(c.control_sym_rad / c.cl, per_cl, 0.002 / 0.062);
        let scale = 0.5 * 1.225 * c.speed_m_s * c.speed_m_s * 12.0 * 6.0;
        let want = scale * c.cl * (0.434_41 / 2.0 + 0.1922 * per_cl);
        near(moments(&d, &layout, k).1, want, 0.005);
        // Back where level flight is trimmed there is less to relieve the root: an nth part of it.
        let (_, back) = at(&l, &key.replacen('_', "_back_", 1));
        let want = scale * c.cl * (0.434_41 / 2.0 + 0.1922 * per_cl / c.n);
        near(moments(&d, &layout, back).1, want, 0.005);
    }
    // At rest the root of the same wing bends 5.2 % more than in trim at 4 g.
    d.aboard.tailless = false;
    let (_, _, rest) = of_air(&d);
    let ratio =
        moments(&d, &layout, at(&l, "pull_vd_heavy").1).1 / moments(&d, &layout, at(&rest, "pull_vd_heavy").1).1;
    near(ratio, 1.0 + 0.1922 * per_cl / (0.434_41 / 2.0), 0.005);
}

#[test]
fn the_sections_of_a_trimmed_wing_twist_the_spar() {
    // By hand: on a straight quarter chord the same lift has the same arm, so the torques of a pull-up in trim and with the controls
    // back differ by the couple of the turned sections alone: q cm c^2 over 3 m of a chord of 1 m, less the quarter strip that the lattice leaves out
    // at the tip.
    let mut d = reference(0.0, 0.0);
    (d.planform.taper, d.aboard.cg_mac, d.controls[0].to_eta) = (1.0, 0.22, 1.0);
    let (_, lift, l) = of_air(&d);
    for at_corner in ["va_heavy", "vd_light"] {
        let ((c, trimmed), (b, back)) =
            (at(&l, &format!("pull_{at_corner}")), at(&l, &format!("pull_back_{at_corner}")));
        let q = 0.5 * 1.225 * c.speed_m_s * c.speed_m_s;
        let turned = c.control_sym_rad - b.control_sym_rad;
        assert!(turned < -1e-3 && c.cl.to_bits() == b.cl.to_bits(), "{turned}");
        let couple = q * lift.control_cm_per_rad * turned * (3.0 - 0.25 * 6.0 / 24.25);
        near(trimmed.torque_nm()[0] - back.torque_nm()[0], couple, 1e-6);
        assert!(couple > 0.0, "an elevon that goes up turns its section nose up");
    }
}

#[test]
fn the_corner_of_a_trimmed_wing_is_its_trimmed_stall() {
    // Statics: at VA lift at the trimmed CLmax carries n times the mass, so VA = VS sqrt(n) of the stall that the flight page gives
    // (CS 22.335(a)). A push likewise, and never a slower corner than the wing's own.
    let mut d = reference(20.0, 0.02);
    (d.aboard.cg_mac, d.aboard.pilot_kg, d.planform.washout_rad) = (0.18, d.aboard.heaviest_pilot_kg, 0.05);
    d.limits.as_mut().unwrap().dive_speed_m_s = 60.0;
    let e = evaluate(&d, &Assumptions::default());
    assert!(e.flight.trimmed && e.flight.cl_max_trimmed < e.lift.cl_max);
    let n: f64 = 4.0;
    near(at(&e.loads, "pull_va_heavy").0.speed_m_s, e.flight.stall_m_s * n.sqrt(), 1e-9);
    near(e.loads.manoeuvre_speed_m_s, e.flight.stall_m_s * n.sqrt(), 1e-9);
    near(e.loads.stall_1g_m_s, e.flight.stall_m_s, 1e-9);
    let push = at(&e.loads, "push_va_heavy").0;
    // By hand: at either end of the range in trim one section lies at its limit, and none beyond.
    let trim = Trim::of(&d, &e.lift).unwrap();
    let (most, least) = trim.cl_range(&e.lift);
    near(most, e.flight.cl_max_trimmed, 1e-12);
    near(push.cl, least.max(e.lift.cl_min), 1e-9);
    for (cl, limits, sign) in [(most, &e.lift.section_cl_max, 1.0), (least, &e.lift.section_cl_min, -1.0)] {
        let (l, turned) = (&e.lift, trim.at(cl).asked_rad);
        let local = |i: usize| {
            l.basic_m[i] + (cl - l.control_cl_per_rad * turned) * l.additional_m[i] + turned * l.control_sym_m[i]
        };
        let room = (0..l.y_m.len()).map(|i| sign * (limits[i] - local(i) / l.chord_m[i])).fold(f64::INFINITY, f64::min);
        assert!(room.abs() < 1e-9, "{cl}: {room}");
    }
    d.aboard.tailless = false;
    let e = evaluate(&d, &Assumptions::default());
    near(at(&e.loads, "pull_va_heavy").0.cl, e.lift.cl_max, 1e-9);
}

#[test]
fn controls_that_stop_before_they_trim_say_so() {
    // By hand: at the stop the angle is the travel, 4 degrees times what it brings, and the lift is that of the case all the same.
    let mut d = reference(20.0, 0.02);
    d.aboard.cg_mac = 0.19;
    let told =
        |d: &Design| evaluate(d, &Assumptions::default()).warnings.iter().any(|w| w.contains("stop before they trim"));
    assert!(!told(&{
        let mut free = d.clone();
        free.controls[0].up_rad = 0.78;
        free
    }));
    d.controls[0].up_rad = 4_f64.to_radians();
    assert!(told(&d));
    let (_, lift, l) = of_air(&d);
    let said = warning(&l.cases, &lift).unwrap();
    assert!(said.contains("up, 4 deg is there"), "{said}");
    // A plain flap turned beyond 25 degrees parts its flow, common practice, no source: no more is counted on.
    d.controls[0].down_rad = 0.7;
    let (_, lift, more) = of_air(&d);
    let trim = more.cases[0].trim.unwrap().trim;
    near(trim.down_rad / lift.control_effect, 25_f64.to_radians(), 1e-5);
    assert!(trim.travel_words(&lift, 1.0).starts_with("25 deg counts"));
    // Statics: controls that move together end where the first of them stops.
    let mut two = d.clone();
    two.controls.push(two.controls[0].clone());
    (two.controls[1].from_eta, two.controls[1].to_eta, two.controls[1].up_rad) = (0.3, 0.5, 2_f64.to_radians());
    let (_, lift_of_two, of_two) = of_air(&two);
    near(of_two.cases[0].trim.unwrap().trim.up_rad / lift_of_two.control_effect, 2_f64.to_radians(), 1e-12);
    let (c, k) = at(&l, "pull_vd_heavy");
    let t = c.trim.unwrap();
    assert!(t.at_stop && t.asked_rad < t.flown_rad);
    near(c.control_sym_rad, -4_f64.to_radians() * lift.control_effect, 1e-12);
    let q = 0.5 * 1.225 * c.speed_m_s * c.speed_m_s;
    near(2.0 * k.shear_n()[0], q * 12.0 * c.cl, 1e-6);
    // With a tail, and without a control, nothing is trimmed.
    d.controls.clear();
    assert!(!told(&d) && of_air(&d).2.cases.iter().all(|c| c.trim.is_none()));
}

#[test]
fn a_moved_control_starts_from_trim_and_ends_at_its_stop() {
    // 14 CFR 25.349 (second-hand) at VD: a third of the travel; 14 CFR 23.423(a) at VA: the stop. From trim the wing is already turned.
    let mut d = reference(20.0, 0.02);
    d.aboard.cg_mac = 0.15;
    let (_, lift, l) = of_air(&d);
    let effect = lift.control_effect * 0.8 / 0.7;
    let stop = 25_f64.to_radians() * effect;
    let turned = |key: &str| at(&l, key).0.control_sym_rad;
    let dive = turned("dive_torsion");
    assert!(dive < -1e-3, "camber asks for up elevon: {dive}");
    near(turned("pitch_vd_up"), dive - stop / 3.0, 1e-9);
    // Down goes from rest, which is further than from trim.
    near(turned("dive_push"), stop / 3.0, 1e-9);
    near(turned("pitch_va_up"), -stop, 1e-12);
    let (up, down) = (at(&l, "roll_vd_up").0, at(&l, "roll_vd_down").0);
    near(up.control_sym_rad, up.trim.unwrap().flown_rad, 1e-12);
    assert_eq!(down.control_sym_rad, 0.0);
    // At VA both sides stand at their stops whatever trims the wing.
    assert_eq!(turned("roll_va_up"), 0.0);
    // What would go beyond the stop ends there.
    d.controls[0].up_rad = 3_f64.to_radians();
    let (_, _, l) = of_air(&d);
    near(at(&l, "pitch_vd_up").0.control_sym_rad, -3_f64.to_radians() * effect, 1e-12);
}
