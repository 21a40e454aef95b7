//! The spread of resistances, taken together from its parts: against readings, hand sums and throws of dice.

use thistledown::physics::assumptions::{Assumed, Assumptions, LIST};
use thistledown::physics::durability::contact::{FaceOnFoam, ball_load_n, pad_load_n, plug_load_n};
use thistledown::physics::durability::events::{Contact, EVENTS};
use thistledown::physics::durability::resistance::{MARK_M, Spot, stand};
use thistledown::physics::durability::spread::{
    From, OPEN_GAIN, PLY_THICKNESS, Spread, density_power, foam_sd, of, parts, shared,
};
use thistledown::physics::durability::term::{Ground, Term};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::laminate::construction::{Construction, Kind, Skin, properties};
use thistledown::physics::material::Library;
use thistledown::physics::samples::record::Form;
use thistledown::physics::samples::rule::Prior;
use thistledown::scenario::library::{Shelf, shelf};

fn near(got: f64, want: f64, share: f64) {
    assert!((got / want - 1.0).abs() <= share, "{got} for {want}");
}

fn made<'a>(shelf: &'a Shelf, key: &str) -> &'a Construction {
    shelf.constructions.iter().find(|c| c.key == key).unwrap()
}

#[test]
fn thickness_of_a_ply_scatters_as_calipers_read() {
    // Coupons of the student aircraft team, UC Davis, inches: (plies, readings). Of n independent plies the scatter is the root
    // of n less than of one; pooled over the readings less one of each coupon.
    let coupons: [(f64, &[f64]); 4] = [
        (4.0, &[0.014, 0.015, 0.0145]),
        (2.0, &[0.0095, 0.008, 0.0085, 0.008]),
        (4.0, &[0.016, 0.016]),
        (2.0, &[0.0085, 0.010]),
    ];
    let (mut squares, mut degrees) = (0.0, 0.0);
    for (plies, read) in coupons {
        let mean = read.iter().sum::<f64>() / read.len() as f64;
        squares += read.iter().map(|t| (t / mean - 1.0).powi(2)).sum::<f64>() * plies;
        degrees += read.len() as f64 - 1.0;
    }
    near(PLY_THICKNESS, (squares / degrees).sqrt(), 0.03);
    // Without a bag no reading was found: never less than with one.
    const { assert!(OPEN_GAIN >= 1.0) };
}

#[test]
fn foams_scatter_as_their_sheets_say() {
    let shelf = shelf();
    let foam = |key: &str| shelf.library.foams.iter().find(|f| f.key == key).unwrap();
    // Hand sums: nominal 0.9, least 0.7 MPa: ln(0.9/0.7)/1.645 = 0.153; density 48-67 about 60: 1.5 x 19/(2.563 x 60) = 0.185.
    near(foam_sd(foam("pvc_60")), 0.1853, 0.002);
    // 0.5 and 0.6 MPa: 0.1108; 43-55 about 48: 1.5 x 12/(2.563 x 48) = 0.1463.
    near(foam_sd(foam("pvc_48")), 0.1463, 0.002);
    // ASTM D6817, least stress at 10 % by density: 40/70/110/135/200/276 kPa at 11.2/14.4/18.4/21.6/28.8/38.4 kg/m3, by chords.
    let rows = [(11.2, 40.0), (14.4, 70.0), (18.4, 110.0), (21.6, 135.0), (28.8, 200.0), (38.4, 276.0_f64)];
    for w in rows.windows(2) {
        let (a, b) = (w[0], w[1]);
        let read = f64::ln(b.1 / a.1) / f64::ln(b.0 / a.0);
        near(density_power("eps", (a.0 * b.0).sqrt()), read, 0.17);
    }
    // Borrega and Gibson 2015 (abstract): strength of balsa along its grain grows linearly with density.
    assert_eq!(density_power("balsa_endgrain", 150.0), 1.0);
}

#[test]
fn loads_scatter_as_dice_thrown_for_foam_and_face_say() {
    // Computed independently: foam, cloth, fibre fraction, thickness, stiffness and depth thrown as lognormal factors, each load
    // worked out from the thrown face on foam itself, against the sum of squares of power times spread.
    let (shelf, a) = (&shelf(), Assumptions::default());
    for key in ["skin_glass_pvc", "nose_carbon_pvc"] {
        let c = made(shelf, key);
        let s = properties(c, &shelf.library, &a);
        let foam = &shelf.library.foams[s.foam.unwrap()];
        let load = |form: Form, f: &FaceOnFoam| match form {
            Form::Pad => pad_load_n(f, 0.008, MARK_M),
            _ => ball_load_n(f, 0.010, MARK_M),
        };
        for form in [Form::Pad, Form::Ball] {
            let all = parts(&s, c, &shelf.library, form);
            let sd = |title: &str| {
                let p = all.iter().find(|p| p.title.starts_with(title)).unwrap();
                p.own.hypot(p.place)
            };
            let mut dice = super::durability::Dice(41);
            let n = 20_000;
            let (mut sum, mut squares) = (0.0, 0.0);
            for _ in 0..n {
                let ((x, cloth), (wet, thick), (stiff, deep), (over, _)) =
                    (dice.normals(), dice.normals(), dice.normals(), dice.normals());
                let k = (sd("foam") * x).exp();
                let mass = (sd("cloth") * cloth).exp();
                let thickness = mass * (sd("ply") * thick - sd("fibre") * wet).exp();
                let stiff = (sd("stiffness") * stiff).exp();
                // E t by the fibre, E t^3 with the thickness squared.
                let f = FaceOnFoam {
                    a_n_m: (s.outer.a.s11 * s.outer.a.s22).sqrt() * mass * stiff,
                    d_nm: (s.outer.d.s11 * s.outer.d.s22).sqrt() * mass * stiff * thickness * thickness,
                    crush_pa: foam.crush_min_pa * k,
                    core_modulus_pa: foam.modulus_pa * k,
                    core_m: s.core_thickness_m * (sd("depth") * deep).exp(),
                };
                let ln = load(form, &f).ln() + sd("what") * over;
                sum += ln;
                squares += ln * ln;
            }
            let mean = sum / f64::from(n);
            let thrown = (squares / f64::from(n) - mean * mean).sqrt();
            let Spread { own, place, .. } = s.spread[form as usize];
            near(own.hypot(place), thrown, 0.04);
            near(s.spread[form as usize].whole(form), shared(form).hypot(thrown), 0.02);
        }
    }
}

#[test]
fn a_pad_on_soft_foam_goes_with_its_crush_strength() {
    // Hand: a slack face adds nothing, so P = sigma pi a^2: power 1 in the foam, and the parts of the face add nothing.
    let (shelf, a) = (&shelf(), Assumptions::default());
    let c = made(shelf, "skin_glass_pvc");
    let s = properties(c, &shelf.library, &a);
    let all = parts(&s, c, &shelf.library, Form::Pad);
    let foam = all.iter().find(|p| matches!(p.from, From::Foam(_))).unwrap();
    near(foam.power, 1.0, 0.08);
    // A covering is pierced in proportion to its strength; nothing else has a power of one there but its mass.
    let cover = made(shelf, "cover_polyester_90");
    let s = properties(cover, &shelf.library, &a);
    let powers: Vec<f64> = parts(&s, cover, &shelf.library, Form::Covering).iter().map(|p| p.power).collect();
    assert_eq!(&powers[..2], [1.0, 1.0]);
    // sin(phi) = 1.35 sqrt(1 - 1/(1 + e)^2): d ln/d ln e = e/((1 + e)^3 (1 - 1/(1 + e)^2)); at 0.2 it is 0.379.
    near(powers[2], 0.2 / (1.2_f64.powi(3) * (1.0 - 1.0 / 1.44)), 0.01);
    // Forms a construction has no damage in have no parts; all spreads come from the parts.
    assert!(parts(&s, cover, &shelf.library, Form::Pad).is_empty());
    let whole = of(&s, cover, &shelf.library)[Form::Covering as usize];
    let squares: f64 = parts(&s, cover, &shelf.library, Form::Covering).iter().map(|p| p.adds().powi(2)).sum();
    near(whole.own.hypot(whole.place), squares.sqrt(), 1e-12);
    near(Prior::of(Form::Covering, &whole).whole(), whole.whole(Form::Covering), 1e-12);
}

#[test]
fn energies_answer_to_loads_as_they_do_when_the_load_is_turned() {
    // Computed independently: every contact of a wing rated again with the load of a form 1 % higher, and with panels 1 % stiffer.
    let text = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join("marram-mixed.toml"),
    )
    .unwrap();
    let d = thistledown::scenario::parse(&text, None).unwrap();
    let plain = Assumptions::default();
    let e = evaluate(&d, &plain);
    let terms = |a: &Assumptions| {
        let ground = Ground::new((&d, &e.layout, &e.skins), e.weight.expected_kg / 2.0, a);
        let mut out: Vec<Term> = Vec::new();
        ground.each(&mut |t, _| out.push(*t));
        out
    };
    let with = |which: &[Assumed]| {
        let mut a = plain.clone();
        which.iter().for_each(|w| a.factor[*w as usize] = 1.01);
        a
    };
    let base = terms(&plain);
    let (loads, panels) = (
        terms(&with(&[Assumed::BallModel, Assumed::CoveringModel, Assumed::PadModel])),
        terms(&with(&[Assumed::PanelStiffness])),
    );
    let (mut blows, mut pressed, mut twice) = (0, 0, 0.0_f64);
    for ((t, more), stiffer) in base.iter().zip(&loads).zip(&panels) {
        // The first state that is there: a mark of a rigid skin, slackening of a covering.
        if !matches!(EVENTS[t.event].contact, Contact::Blow { .. }) {
            // A load answers to itself; where the core shears first it does not turn with the form.
            let got = (more.stands[1] / t.stands[1]).ln() / 1.01_f64.ln();
            if got > 0.5 {
                near(t.answers[1].load, got, 1e-6);
                pressed += 1;
            }
            continue;
        }
        let i = usize::from(t.kind == Kind::Covering);
        if !t.stands[i].is_finite() || !matches!(t.kind, Kind::Sandwich | Kind::Covering) {
            continue;
        }
        let got = (more.stands[i] / t.stands[i]).ln() / 1.01_f64.ln();
        // A crack of the face goes with the load to a dent, and so does its energy; a state taken from another is left out.
        assert!((got - t.answers[i].load).abs() < 0.06, "{}: {got} for {:?}", t.event, t.answers[i]);
        let give = -(stiffer.stands[i] / t.stands[i]).ln() / 1.01_f64.ln();
        if t.kind == Kind::Sandwich {
            assert!((give - t.answers[i].give).abs() < 0.01, "{}: {give} for {:?}", t.event, t.answers[i]);
            // Spread of an energy: root of squares of load times its power and of the give.
            let s = &e.skins[e.layout.zones[t.zone].construction];
            let form = if t.answers[i].load > 1.0 || t.answers[i].give > 0.0 { Some(Form::Ball) } else { None };
            if let Some(f) = form {
                let whole = s.spread[f as usize].whole(f);
                let panel = LIST[Assumed::PanelStiffness as usize].beta;
                near(t.beta_resistance[i], (t.answers[i].load * whole).hypot(t.answers[i].give * panel), 1e-9);
            }
        }
        if t.spot == Spot::Mid && t.answers[i].give > 0.0 {
            blows += 1;
            twice = twice.max(t.answers[i].load);
        }
    }
    // Nine tenths of a drop test on a panel went into the panel: there the energy goes with nearly the square of the load.
    assert!(pressed > 20 && blows > 20 && twice > 1.5 && twice <= 2.0 + 1e-9, "{blows} {twice}");
}

#[test]
fn faces_plugs_and_sheets_go_with_what_they_are_made_of() {
    // Computed independently: the load of a form with its inputs turned by one per cent, against the power its parts state. More cloth is as much
    // more fibre, so E t by once and E t3 by three times; a wetter or thicker ply of the same cloth changes E t3 by the square alone. A plug goes
    // with the thickness; a sheet round a ball with its stiffness once and its strain twice (N 2 pi R times 2 eps).
    let (shelf, a) = (&shelf(), Assumptions::default());
    let power = |parts: &[thistledown::physics::durability::spread::Part], title: &str| {
        parts.iter().find(|p| p.title.starts_with(title)).unwrap_or_else(|| panic!("{title}")).power
    };
    for key in ["skin_glass_pvc", "nose_carbon_pvc"] {
        let c = made(shelf, key);
        let s = properties(c, &shelf.library, &a);
        let foam = &shelf.library.foams[s.foam.unwrap()];
        let face = |cloth: f64, thicker: f64| FaceOnFoam {
            a_n_m: (s.outer.a.s11 * s.outer.a.s22).sqrt() * cloth,
            d_nm: (s.outer.d.s11 * s.outer.d.s22).sqrt() * cloth.powi(3) * thicker * thicker,
            crush_pa: foam.crush_min_pa,
            core_modulus_pa: foam.modulus_pa,
            core_m: s.core_thickness_m,
        };
        for form in [Form::Pad, Form::Ball] {
            let load = |f: &FaceOnFoam| match form {
                Form::Pad => pad_load_n(f, 0.008, MARK_M),
                _ => ball_load_n(f, 0.010, MARK_M),
            };
            let slope = |up: FaceOnFoam, down: FaceOnFoam| (load(&up) / load(&down)).ln() / (2.0 * 1.01_f64.ln());
            let all = parts(&s, c, &shelf.library, form);
            near(power(&all, "cloth"), slope(face(1.01, 1.0), face(1.0 / 1.01, 1.0)), 2e-3);
            let thicker = slope(face(1.0, 1.01), face(1.0, 1.0 / 1.01));
            assert!((power(&all, "ply") - thicker).abs() < 2e-3 * thicker.abs() + 1e-6, "{thicker}");
            assert!((power(&all, "fibre") + thicker).abs() < 2e-3 * thicker.abs() + 1e-6, "{thicker}");
        }
        let plug = parts(&s, c, &shelf.library, Form::Plug);
        near(power(&plug, "ply"), (plug_load_n(0.01, 1.01e-3) / plug_load_n(0.01, 1e-3)).ln() / 1.01_f64.ln(), 1e-9);
        near(power(&plug, "cloth"), 1.0, 1e-9);
        // Of n plies of one process: bands of the fibre fraction together, thickness each by itself.
        let n = c.outer.len() as f64;
        let process = &shelf.library.processes[c.outer[0].process];
        let band = (process.fvf_high - process.fvf_low) / 2.563 / process.fibre_volume_fraction;
        let of = |title: &str| plug.iter().find(|p| p.title.starts_with(title)).unwrap();
        near(of("fibre").own, band, 1e-9);
        near(of("ply").place, PLY_THICKNESS / n.sqrt(), 1e-9);
    }
    // What a face is laid over scatters its loads as they are: squares of independent parts add up.
    let c = made(shelf, "skin_glass_pvc");
    let with = |spread: f64| {
        let mut lib = shelf.library.clone();
        lib.tools[c.tool].face_spread = spread;
        of(&properties(c, &lib, &a), c, &lib)
    };
    for form in [Form::Pad, Form::Ball, Form::Plug] {
        let [rough, even] = [with(0.2), with(0.0)].map(|s| s[form as usize].place.powi(2));
        near(rough - even, 0.2 * 0.2, 1e-9);
    }
    let mut c = made(shelf, "skin_glass_pvc").clone();
    (c.kind, c.core, c.inner) = (Kind::Laminate, None, Vec::new());
    let s = properties(&c, &shelf.library, &a);
    let crack = |stiffer: f64, further: f64| {
        let mut t = s.clone();
        (t.outer.a.s11, t.outer.a.s22) = (stiffer * t.outer.a.s11, stiffer * t.outer.a.s22);
        t.outer.strain_tension *= further;
        stand(&t, &shelf.library, Contact::Ball { radius_m: 0.01 }, 1.0, &a).load[0]
    };
    let all = parts(&s, &c, &shelf.library, Form::Sheet);
    // A bound of 0.8 of the mean (an allowance) taken as the fifth of a hundred: ln(1/0.8)/1.645.
    let bound = all.iter().find(|p| p.title.starts_with("strain")).unwrap();
    near(bound.own.hypot(bound.place), 0.2231 / 1.645, 1e-3);
    near(power(&all, "stiffness"), (crack(1.01, 1.0) / crack(1.0, 1.0)).ln() / 1.01_f64.ln(), 1e-6);
    near(power(&all, "strain"), (crack(1.0, 1.01) / crack(1.0, 1.0)).ln() / 1.01_f64.ln(), 1e-6);
}

#[test]
fn wood_scatters_by_what_gives_first_under_a_ball() {
    // By hand: the ball is borne by the crush of its mark, or punches the sheet, whichever takes less; the spread is that of the one that does.
    let (shelf, a) = (shelf(), Assumptions::default());
    let mut lib = shelf.library.clone();
    let t = 0.002;
    let c = Construction { kind: Kind::Wood, wood: Some((0, t)), ..Construction::default() };
    let mut seen = [0; 2];
    for over in [0.5, 0.9, 1.05, 1.15, 1.5] {
        // Crush that takes so much of what the punched rim does: twice the shear on 2 pi R t, an assumption of the form.
        lib.woods[0].crush_perp_pa = over * 2.0 * t * lib.woods[0].shear_pa / MARK_M;
        let s = properties(&c, &lib, &a);
        let on = stand(&s, &lib, Contact::Ball { radius_m: 0.01 }, 1.0, &a);
        let crushed = on.load[0] < on.load[1];
        let title = parts(&s, &c, &lib, Form::Wood)[0].title;
        assert_eq!(title.starts_with("crush"), crushed, "{over} {title} {:?}", on.load);
        seen[usize::from(crushed)] += 1;
        // Each part's power, against the load with what it names turned by one per cent.
        let load = |s: &Skin, lib: &Library| stand(s, lib, Contact::Ball { radius_m: 0.01 }, 1.0, &a).load[0];
        let slope = |s: &Skin, lib: &Library| (load(s, lib) / on.load[0]).ln() / 1.01_f64.ln();
        let (mut stronger, mut thicker) = (lib.clone(), s.clone());
        let w = &mut stronger.woods[0];
        *(if crushed { &mut w.crush_perp_pa } else { &mut w.shear_pa }) *= 1.01;
        thicker.thickness_m *= 1.01;
        let all = parts(&s, &c, &lib, Form::Wood);
        near(all[0].power, slope(&s, &stronger), 1e-9);
        assert_eq!(all.len(), if crushed { 1 } else { 2 });
        if let Some(p) = all.get(1) {
            near(p.power, slope(&thicker, &lib), 1e-9);
        }
    }
    assert!(seen[0] > 1 && seen[1] > 1, "{seen:?}");
}

#[test]
fn energies_of_a_covering_answer_to_its_tension_as_they_do_when_it_is_turned() {
    // Computed independently: every blow on a covering met again with all coverings one per cent tighter.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-fabric-aft.toml");
    let d = thistledown::scenario::load(&path).unwrap().design;
    let plain = Assumptions::default();
    let e = evaluate(&d, &plain);
    let mut tighter = d.clone();
    for u in tighter.constructions.iter_mut().filter_map(|c| c.covering.as_mut()) {
        u.pretension_n_m *= 1.01;
    }
    let terms = |d: &thistledown::physics::design::Design| {
        let skins: Vec<_> = d.constructions.iter().map(|c| properties(c, &d.library, &plain)).collect();
        let ground = Ground::new((d, &e.layout, &skins), e.weight.expected_kg / 2.0, &plain);
        let mut out: Vec<Term> = Vec::new();
        ground.each(&mut |t, _| out.push(*t));
        out
    };
    let mut seen = 0;
    for (t, more) in terms(&d).iter().zip(&terms(&tighter)) {
        let blow = matches!(EVENTS[t.event].contact, Contact::Blow { .. });
        for i in (0..3).filter(|i| blow && t.kind == Kind::Covering && t.stands[*i].is_finite()) {
            assert_eq!((t.event, t.zone, t.spot), (more.event, more.zone, more.spot));
            let got = (more.stands[i] / t.stands[i]).ln() / 1.01_f64.ln();
            assert!((got - t.answers[i].give).abs() < 0.01 * got.abs() + 1e-4, "{got} for {:?}", t.answers[i]);
            seen += usize::from(got.abs() > 0.05);
        }
    }
    assert!(seen > 20, "{seen}");
}
