//! Formulas one by one against another way of the same: numerical solutions, limits, hand sums, measured pairs.

use std::f64::consts::PI;
use std::path::Path;

use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Aerofoil, BackingMaterial, Design, Service};
use thistledown::physics::durability::contact::{FaceOnFoam, edge_load_n_m, plug_load_n};
use thistledown::physics::durability::covering::{ball_n, blunt_n, edge_n_m, give_j, slack_share};
use thistledown::physics::durability::events::Contact;
use thistledown::physics::durability::resistance::stand;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::{Construction, Kind, RESIN_SKIN_M, properties};
use thistledown::physics::laminate::limits::of_ply;
use thistledown::physics::laminate::sandwich;
use thistledown::physics::loads::beam::{Piece, sums};
use thistledown::physics::loads::divergence::{Flap, Torsion, divergence_pa, effectiveness, reversal_pa};
use thistledown::physics::loads::internal::{CaseLoads, Lists, Loads};
use thistledown::physics::material::{Fabric, Fibre, Weave};
use thistledown::physics::strength::caps::strut_ei_nm2;
use thistledown::physics::strength::sizing::{CapHere, Section, bend, torsion};
use thistledown::physics::strength::skins::Bending;
use thistledown::physics::strength::web;
use thistledown::physics::wing::coordinates;
use thistledown::physics::wing::layout::lay_out;
use thistledown::physics::wing::planform::{leading_edge_m, sweep_tan};

fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/marram-{name}.toml"));
    thistledown::scenario::load(&path).unwrap().design
}

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

/// Twist and roll of a half wing of straight-tapered chord and GJ by finite differences: chord 1 - 0.5 y, GJ 1 - 0.7 y,
/// e 0.08 + 0.06 y, control share y. Its rolling moment over the rigid wing's at q.
fn by_differences(q: f64) -> f64 {
    let (n, a, cl, cm) = (4000, 2.0 * PI, 3.0, -0.6);
    let h = 1.0 / f64::from(n);
    let y = |i: usize| (i as f64 + 0.5) * h;
    let gj = |y: f64| 1.0 - 0.7 * y;
    let (chord, e) = (|y: f64| 1.0 - 0.5 * y, |y: f64| 0.08 + 0.06 * y);
    let n = n as usize;
    let (mut diagonal, mut right, mut over) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
    for i in 0..n {
        let (inner, outer) =
            (gj(i as f64 * h) / (h * h), if i + 1 < n { gj((i + 1) as f64 * h) / (h * h) } else { 0.0 });
        let c = chord(y(i));
        diagonal[i] = outer + if i == 0 { 2.0 * inner } else { inner } - q * a * e(y(i)) * c * c;
        right[i] = q * c * c * (e(y(i)) * cl + cm) * y(i);
        over[i] = -outer;
    }
    for i in 1..n {
        let w = over[i - 1] / diagonal[i - 1];
        diagonal[i] -= w * over[i - 1];
        right[i] -= w * right[i - 1];
    }
    let mut twist = vec![0.0; n];
    for i in (0..n).rev() {
        twist[i] = (right[i] - over[i] * twist.get(i + 1).copied().unwrap_or(0.0)) / diagonal[i];
    }
    let (mut bent, mut rigid) = (0.0, 0.0);
    for (i, t) in twist.iter().enumerate() {
        rigid += chord(y(i)) * cl * y(i) * y(i);
        bent += chord(y(i)) * (cl * y(i) + a * t) * y(i);
    }
    bent / rigid
}

#[test]
fn a_tapered_wing_loses_its_control_as_by_finite_differences() {
    // Computed independently: the differences above, 4000 cells, against ten marched stations with everything linear between.
    let y: Vec<f64> = (0..=10).map(|i| f64::from(i) / 10.0).collect();
    let of = |f: fn(f64) -> f64| y.iter().map(|y| f(*y)).collect::<Vec<_>>();
    let (chord, gj, e) = (of(|y| 1.0 - 0.5 * y), of(|y| 1.0 - 0.7 * y), of(|y| 0.08 + 0.06 * y));
    let wing = Torsion { y_m: &y, chord_m: &chord, gj_nm2: &gj, e_frac: &e, slope_per_rad: 2.0 * PI };
    let flap = Flap { share: &y, cl_per_rad: 3.0, cm_per_rad: -0.6, axis_frac: &[] };
    let most = divergence_pa(&wing).unwrap();
    for part in [0.1, 0.3, 0.5] {
        let want = by_differences(part * most);
        assert!((effectiveness(&wing, &flap, part * most).unwrap() - want).abs() < 1e-3, "{part}: {want}");
    }
    let (mut low, mut high) = (0.0, 0.98 * most);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if by_differences(middle) > 0.0 { low = middle } else { high = middle }
    }
    near(reversal_pa(&wing, &flap).unwrap(), low, 1e-3);
}

#[test]
fn a_swept_load_cut_in_the_middle() {
    // Statics by hand: 10 N/m from 1 to 3 m, its line at 0.5 m aft in the middle and 0.2 m further aft each metre out. Cut at 2 m: 10 N,
    // 5 N m, its middle 0.6 m aft; whole: 20 N, 40 N m, 0.5 m aft.
    let p = Piece { from_m: 1.0, to_m: 3.0, load: 10.0, x_m: 0.5, x_slope: 0.2, couple: 0.0 };
    let s = sums(&[0.0, 2.0, 4.0], std::iter::once(p));
    for (got, want) in [(s[1].force, 10.0), (s[1].arm, 5.0), (s[1].fore_aft, 6.0)] {
        near(got, want, 1e-12);
    }
    for (got, want) in [(s[0].force, 20.0), (s[0].arm, 40.0), (s[0].fore_aft, 10.0)] {
        near(got, want, 1e-12);
    }
}

#[test]
fn lines_of_a_swept_tapered_planform() {
    // Geometry by hand: 12 m span, 12 m2, taper 0.5, so chords 1.3333 and 0.6667 m, quarter chord swept 10 degrees. The leading edge at
    // the tip: 0.33333 + 6 tan 10 - 0.16667; slope of the line at k: that of its ends.
    let mut p = demo("mixed").planform;
    (p.span_m, p.area_m2, p.taper, p.sweep_rad) = (12.0, 12.0, 0.5, 10.0_f64.to_radians());
    near(leading_edge_m(&p, 1.0), 1.0 / 3.0 + 6.0 * p.sweep_rad.tan() - 1.0 / 6.0, 1e-12);
    for k in [0.0, 0.25, 0.4, 0.7, 1.0] {
        near(sweep_tan(&p, k), (leading_edge_m(&p, 1.0) + k * 2.0 / 3.0 - k * 4.0 / 3.0) / 6.0, 1e-9);
    }
}

#[test]
fn limits_of_plies_stand_as_those_of_kaw() {
    // Kaw, Mechanics of Composite Materials, 2006 (from memory): carbon and epoxy 1500 MPa along over 181 GPa; across 40 and 246 MPa over
    // 10.3 GPa; 68 MPa in shear over 7.17 GPa. Ratios, for every strain has the same allowance.
    let fibre = Fibre { failure_strain: 1500.0 / 181e3, compression_share: 1.0, ..Fibre::default() };
    let ud = Fabric { weave: Weave::Unidirectional, warp_fraction: 1.0, ..Fabric::default() };
    let k = of_ply(&ud, &fibre);
    for (got, want) in [
        (k.across_tension, 40.0 / 10.3e3),
        (k.across_compression, 246.0 / 10.3e3),
        (k.shear, 68.0 / 7.17e3),
        (k.along_compression, 1500.0 / 181e3),
    ] {
        near(got / k.along_tension, want / (1500.0 / 181e3), 1e-9);
    }
    // Cloth: fibres both ways, resin in shear at 2 % (from memory).
    let cloth = of_ply(&Fabric { weave: Weave::Plain, warp_fraction: 0.5, ..Fabric::default() }, &fibre);
    near(cloth.across_tension, cloth.along_tension, 1e-12);
    near(cloth.shear / cloth.along_tension, 0.020 / (1500.0 / 181e3), 1e-9);
    // A cloth of nearly all warp stands across as one ply of it: resin. One with a fifth across still as cloth.
    let of = |warp: f64| of_ply(&Fabric { weave: Weave::Plain, warp_fraction: warp, ..Fabric::default() }, &fibre);
    near(of(0.95).across_tension, k.across_tension, 1e-12);
    near(of(0.85).across_tension, cloth.across_tension, 1e-12);
}

#[test]
fn surface_resin_is_what_two_thicknesses_leave() {
    // Measured: student aircraft team page, UC Davis: 2 plies 0.216 mm, 4 plies 0.368 mm. The straight line meets no plies at 0.064 mm.
    near(RESIN_SKIN_M, (2.0 * 0.216 - 0.368) * 1e-3, 1e-9);
    // Polyester cloth is as dense as polyester, 1.38-1.40 g/cm3 (from memory); its areal spread is P10 to P90, 2 x 1.2816 wide.
    let d = demo("mixed");
    for c in d.constructions.iter().filter(|c| c.kind == Kind::Covering) {
        let m = &d.library.coverings[c.covering.unwrap().covering];
        let s = properties(
            &Construction { finish: None, tool: usize::MAX, ..c.clone() },
            &d.library,
            &Assumptions::default(),
        );
        near(m.areal_mass_kg_m2 / s.thickness_m, 1390.0, 0.01);
        near(m.areal_high_kg_m2 - m.areal_low_kg_m2, 2.0 * 1.281_55 * s.mass_sd_kg_m2, 1e-3);
    }
}

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
fn sections_thinner_or_thicker_than_any_wing_are_refused() {
    // By hand: an ellipse read back at its own thickness; the message says 2 to 50 %.
    let ellipse = |t: f64| {
        let at = |i: u32| {
            let a = f64::from(i) / 40.0 * 2.0 * PI;
            format!("{:.6} {:.6}", 0.5 + 0.5 * a.cos(), 0.5 * t * a.sin())
        };
        coordinates::read(&(0..=40).map(at).collect::<Vec<_>>().join("\n"))
    };
    assert!(ellipse(0.021).is_ok() && ellipse(0.49).is_ok());
    assert!(ellipse(0.019).is_err() && ellipse(0.55).is_err());
}

#[test]
fn a_station_measured_on_a_thick_plank() {
    // Computed independently: the polynomial of NACA 0015 (closed) integrated in fine steps, spar at 0.30, hinge at 0.78, chord 1 m.
    let mut d = demo("mixed");
    let p = &mut d.planform;
    (p.span_m, p.area_m2, p.taper) = (12.0, 12.0, 1.0);
    (p.sweep_rad, p.washout_rad, p.dihedral_rad) = (0.0, 0.0, 0.1);
    for s in &mut d.sections {
        s.aerofoil = Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.15 };
    }
    let layout = lay_out(&d);
    let half = |x: f64| {
        5.0 * 0.15 * (0.2969 * x.sqrt() - 0.1260 * x - 0.3516 * x * x + 0.2843 * x.powi(3) - 0.1036 * x.powi(4))
    };
    let n = 200_000;
    let (mut area, mut arc) = ([0.0; 2], [0.0; 2]);
    for i in 0..n {
        // Steps crowd at the nose.
        let at = |i: i32| (f64::from(i) / f64::from(n)).powi(2) * 0.78;
        let (a, b) = (at(i), at(i + 1));
        let k = usize::from(f64::midpoint(a, b) > 0.30);
        area[k] += (half(a) + half(b)) * (b - a);
        arc[k] += (b - a).hypot(half(b) - half(a));
    }
    let s = &layout.bays[3].inner;
    near(s.nose_cell_m2, area[0], 2e-3);
    near(s.aft_cell_m2, area[1], 2e-3);
    near(s.nose_upper_m, arc[0], 2e-3);
    near(s.aft_lower_m, arc[1], 2e-3);
    near(s.spar_depth_m, 2.0 * half(0.30), 2e-3);
    near(s.hinge_depth_m, 2.0 * half(0.78), 5e-3);
    // Skins are as long as the slope makes them: a plank with dihedral 0.1 has 1/cos(0.1) times its plan in skin.
    let z = layout.zones.iter().find(|z| z.bay == 3).unwrap();
    near(z.area_m2, z.arc_m * layout.bays[3].length_m / 0.1_f64.cos(), 5e-5);
    // What is neither root nor tip, and those two, are the zone.
    for z in &layout.zones {
        let g = thistledown::physics::durability::term::zone_groups(z);
        near(g[0] + g[1] + g[2] + g[4] + g[5], z.area_m2, 1e-9);
    }
}

#[test]
fn a_cantilever_laid_out_in_bays_bends_and_twists_as_in_tables() {
    // Beam tables (Roark, 7th ed., table 8.1, from memory): end load P L^3/(3 EI), end moment M L^2/(2 EI); end torque T L/GJ.
    let mut d = demo("mixed");
    // A straight spar: no longer than the span.
    (d.planform.sweep_rad, d.planform.taper, d.spar.position_tip) = (0.0, 1.0, d.spar.position_root);
    let layout = lay_out(&d);
    let y: Vec<f64> = layout.stations().map(|s| s.y_m).collect();
    let length = layout.half_span_m;
    let section = Section { ei_nm2: 2e4, ei_out_nm2: 2e4, gj_nm2: 5e3, gj_out_nm2: 5e3, ..Section::default() };
    let sections = vec![section; y.len()];
    let case = |moment: Vec<f64>| {
        CaseLoads::of(0, Lists { moment_nm: &moment, torque_nm: &vec![80.0; y.len()], ..Lists::default() })
    };
    let loads = Loads {
        loads: vec![case(y.iter().map(|y| 50.0 * (length - y)).collect()), case(vec![300.0; y.len()])],
        ..Loads::default()
    };
    let bent = bend(&layout, &sections, &loads);
    near(*bent[0].deflection_m().last().unwrap(), 50.0 * length.powi(3) / 6e4, 1e-9);
    near(*bent[1].deflection_m().last().unwrap(), 300.0 * length * length / 4e4, 1e-9);
    near(*bent[0].twist_rad().last().unwrap(), 80.0 * length / 5e3, 1e-9);
    // Two like cells twist as the one around both, by hand: 4 (A1 + A2)^2 over the walls outside.
    let mut s = Section::default();
    torsion(&mut s, (0.01, 0.01), (3e-8, 1e-8, 3e-8));
    near(s.gj_nm2, 4.0 * 0.02 * 0.02 / 6e-8, 1e-9);
}

#[test]
fn caps_and_webs_by_hand() {
    // By hand: a cap 30 by 3 mm of 120 GPa is 8.1 N m2, and foam of its backing b d^3/12 times its modulus on top.
    let d = demo("mixed");
    let cap = CapHere { thickness_m: 0.003, width_m: 0.03, ea_n: 0.0 };
    let backing = d.spar.upper.backing.unwrap();
    let BackingMaterial::Foam(foam) = backing.material else { panic!("foam") };
    let own = d.library.foams[foam].inplane_modulus_pa * backing.width_m * backing.depth_m.powi(3) / 12.0;
    near(strut_ei_nm2(&d, &d.spar.upper, &cap, 120e9), 8.1 + own, 1e-9);
    // One band: the web is as stiff as its two faces, and as stiff upright as they are by the modulus of each laminate across.
    let e = done(&d);
    let faced = d.spar.web[0].bands[0].construction;
    let s = &e.skins[faced];
    near(web::stiffness(&d, &e.skins, 0.1, 0), s.a.s66, 1e-9);
    let upright = s.outer.e_chord_pa * s.outer.thickness_m + s.inner.e_chord_pa * s.inner.thickness_m;
    near(web::face_stiffness(s).0, upright, 1e-6);
    near(web::face_stiffness(s).1, s.outer.a.s66 + s.inner.a.s66, 1e-9);
    // Each extra ply on both faces of one like ply makes it once more as stiff.
    let plies = d.constructions[faced].outer.len();
    near(web::stiffness(&d, &e.skins, 0.1, plies as u32), 2.0 * s.a.s66, 1e-9);
}

#[test]
fn margins_rest_on_statics() {
    // Statics by hand at each margin: a strip on two edges gives each half its load; a cap is glued along both faces of the web; holes
    // of a lightened rib leave the rest of it; factor of the set 1.5.
    let d = demo("mixed");
    let e = done(&d);
    let of = |key: &str| e.margins.iter().filter(|m| m.mode == key).collect::<Vec<_>>();
    let input = |m: &thistledown::physics::strength::Margin, label: &str| {
        m.inputs.iter().find(|i| i.label == label).unwrap().value
    };
    let mut seen = [0; 4];
    for m in of("core_shear") {
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        near(m.applied, 1.5 * input(m, "pressure") * 0.5 * z.length_m.min(z.arc_m) / input(m, "lever"), 1e-9);
        seen[0] += 1;
    }
    for m in of("cap_web_bond") {
        near(m.applied, 1.5 * input(m, "flow limit") / (0.020 + 0.020), 1e-9);
        near(input(m, "bond width"), 0.040, 1e-12);
        seen[1] += 1;
    }
    let mut solid = d.clone();
    solid.rib_kinds[0].lightening = 0.0;
    let whole = done(&solid);
    for key in ["rib_shear", "rib_buckling"] {
        let strong: Vec<_> = whole.margins.iter().filter(|m| m.mode == key).collect();
        for (a, b) in of(key).iter().zip(strong) {
            assert!(
                key != "rib_shear" || (a.allowable / b.allowable / 0.75 - 1.0).abs() < 1e-9,
                "{} {}",
                a.allowable,
                b.allowable
            );
            assert!(a.allowable < b.allowable);
            seen[2] += 1;
        }
    }
    // Timoshenko and Gere (from memory): a plate whose compression falls in a straight line to nothing at one edge buckles at k 7.81 of
    // the greatest, an even one at 4, so 4/7.81 of the greatest counts; one that does not fall counts whole, in a straight line between.
    for m in of("aft_buckling") {
        let b = &e.layout.bays[m.bay.unwrap()].mid;
        let ratio = b.hinge_depth_m / b.spar_depth_m;
        near(input(m, "share of cap strain"), 4.0 / 7.81 * (1.0 + ratio), 2e-3);
        seen[3] += 1;
    }
    // Nose: mean height over greatest of an elliptic nose is pi/4; a half wave squared weighs its middle, 1.03 to 1.05 by quadrature of
    // noses a sixth to a quarter as thick as long. The share used is not below and at most 5 % above (safe side).
    for m in of("nose_buckling") {
        let b = &e.layout.bays[m.bay.unwrap()].mid;
        let mean = b.nose_cell_m2 / (b.spar_depth_m * b.spar_frac * b.chord_m);
        let weighed = input(m, "share of cap strain") / mean;
        assert!((1.03..1.11).contains(&weighed), "{weighed}");
    }
    assert!(seen.iter().all(|n| *n > 2), "{seen:?}");
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

#[test]
fn a_wing_of_three_stations_rolls_as_the_same_wing_of_three_hundred() {
    // Computed independently: chord, stiffness, axis and control run straight between stations, so the same wing told by many stations in
    // between is the same wing. A strong taper in two long bays, so that the places looked at inside a bay count.
    let whole = ([1.4, 0.9, 0.4], [9000.0, 3000.0, 400.0], [0.15, 0.22, 0.35], [0.0, 0.6, 1.0], [0.10, 0.18, 0.30]);
    let finer = |v: &[f64; 3]| -> Vec<f64> {
        (0..=300)
            .map(|i| (i / 150, (i % 150) as f64 / 150.0))
            .map(|(k, t)| v[k.min(2)] + t * (v[(k + 1).min(2)] - v[k.min(2)]))
            .collect()
    };
    let y = [0.0, 3.0, 6.0];
    // Of the pressure at which it diverges, 412 Pa within one in a hundred either way.
    let effect = |part: f64, fine: bool| {
        let of = |v: &[f64; 3]| if fine { finer(v) } else { v.to_vec() };
        let (y, chord, gj, e, share, axis) =
            (of(&y), of(&whole.0), of(&whole.1), of(&whole.2), of(&whole.3), of(&whole.4));
        let wing = Torsion { y_m: &y, chord_m: &chord, gj_nm2: &gj, e_frac: &e, slope_per_rad: 2.0 * PI };
        let flap = Flap { share: &share, cl_per_rad: 3.0, cm_per_rad: -0.6, axis_frac: &axis };
        near(divergence_pa(&wing).unwrap(), 412.0, 0.01);
        effectiveness(&wing, &flap, part * 412.0).unwrap()
    };
    for part in [0.1, 0.3, 0.5] {
        let (coarse, fine) = (effect(part, false), effect(part, true));
        assert!((coarse - fine).abs() < 1e-3, "{part}: {coarse} {fine}");
    }
}
