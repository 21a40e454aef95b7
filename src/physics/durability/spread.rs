//! How far what a skin stands scatters about its median, from the things it scatters by: foam, cloth, fibre fraction,
//! thickness, stiffness and strain of the face, depth of the core, what it is laid over, covering, wood, and the form itself.
//! Each enters with the power that the resistance has in it; logarithms are normal and independent, so squares add.

use crate::physics::assumptions::{Assumed, LIST};
use crate::physics::durability::contact::{self, FaceOnFoam, UnderBall};
use crate::physics::durability::covering;
use crate::physics::durability::resistance::{Answer, BENDING_GAIN, MARK_M};
use crate::physics::laminate::construction::{Construction, Face, Kind, LOWER_BOUND_ALLOWANCE, Ply, Skin};
use crate::physics::material::{Foam, Library};
use crate::physics::samples::record::{FORMS, Form};

/// A published low-to-high band taken as P10 to P90: so many standard deviations.
const BAND: f64 = 2.563;
/// Standard deviations from a mean to a lower bound taken as P5.
const P95: f64 = 1.645;

/// Spread of one form of damage of one construction: standard deviations of ln resistance.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// What is the same all over one build, and what differs from place to place.
    pub own: f64,
    pub place: f64,
    /// Power with which the crush strength of the foam (its modulus along with it) enters.
    pub foam: f64,
}

/// What a part of the spread was read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum From {
    /// The entry of the library by its index: its own band, mark and source.
    Foam(usize),
    Fabric(usize),
    Process(usize),
    Tool(usize),
    Covering(usize),
    Wood(usize),
    /// An entry of the list of assumptions.
    Assumed(Assumed),
    /// A constant of this file, with these words.
    Stated(&'static str),
}

/// One thing a resistance scatters by: the power with which it enters, its spread over a build and from place to place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    pub title: &'static str,
    pub power: f64,
    pub own: f64,
    pub place: f64,
    pub from: From,
}

impl Part {
    /// What it adds to ln resistance, standard deviation.
    pub fn adds(&self) -> f64 {
        self.power.abs() * self.own.hypot(self.place)
    }
}

/// Half the variance over the build, half from place to place. An assumption: the bands read do not tell them apart.
const fn halved(sd: f64) -> (f64, f64) {
    (sd * std::f64::consts::FRAC_1_SQRT_2, sd * std::f64::consts::FRAC_1_SQRT_2)
}

/// Thickness of one cured ply from place to place, standard deviation of its logarithm; of n plies the root of n less.
/// **Source:** caliper readings of thin coupons, student aircraft team, UC Davis (see DEVELOPERS.md, thin laminates): 0.105
/// pooled over 14 readings of two, three and four plies under a weak bag.
pub const PLY_THICKNESS: f64 = 0.105;
/// Without a bag half as much again. An assumption.
pub const OPEN_GAIN: f64 = 1.5;
/// Breaking strength of a cloth or film from strip to strip, and strain at break, where its entry says nothing. Assumptions.
pub const CLOTH_STRENGTH: f64 = 0.08;
pub const CLOTH_STRAIN: f64 = 0.10;
/// Crush across the grain and shear along it of clear wood. **Source:** average coefficients of variation, Wood Handbook
/// (from memory): 28 % and 14 %.
const WOOD_CRUSH: f64 = 0.28;
const WOOD_SHEAR: f64 = 0.14;

/// Spread of the shared error of a form: its entry in the list of assumptions.
pub fn shared(form: Form) -> f64 {
    LIST[form.assumed() as usize].beta
}

impl Spread {
    /// The whole, with the shared error of the form: independent normal logarithms.
    pub fn whole(&self, form: Form) -> f64 {
        shared(form).hypot(self.own).hypot(self.place)
    }
}

/// Power of crush strength in density. **Source:** bead foam, minima of ASTM D6817 as 8.6 (rho - 6.25) kPa (within 7 %,
/// 11-38 kg/m3); end-grain balsa, linear (Borrega and Gibson 2015, abstract); others 1.5, Gibson and Ashby (from memory).
pub fn density_power(family: &str, density_kg_m3: f64) -> f64 {
    match family {
        "eps" => density_kg_m3 / (density_kg_m3 - 6.25).max(3.0),
        "balsa_endgrain" => 1.0,
        _ => 1.5,
    }
}

/// Spread of the crush strength of a foam: its nominal over its least value taken as P5, or the density band of its sheet
/// through [`density_power`], whichever is wider. **Valid for:** sheets that state either.
pub fn foam_sd(f: &Foam) -> f64 {
    let least = if f.crush_min_pa > 0.0 { (f.crush_pa / f.crush_min_pa).max(1.0).ln() / P95 } else { 0.0 };
    least.max(
        density_power(&f.family, f.density_kg_m3) * band(f.density_low_kg_m3, f.density_high_kg_m3, f.density_kg_m3),
    )
}

fn band(low: f64, high: f64, middle: f64) -> f64 {
    if middle > 0.0 { ((high - low) / BAND / middle).max(0.0) } else { 0.0 }
}

/// What a load on a face on foam hangs on; its logarithm is taken apart by central differences.
#[derive(Debug, Clone, Copy)]
struct Here {
    face: FaceOnFoam,
    thickness_m: f64,
    strain: f64,
}

/// Thumb and stone that powers are taken at, m: the pad and the ball of the press loads.
const PAD_M: f64 = 0.008;
const BALL_M: f64 = 0.010;

fn pad_n(h: &Here) -> f64 {
    contact::pad_load_n(&h.face, PAD_M, MARK_M)
}

fn dent_n(h: &Here) -> f64 {
    UnderBall::of(&h.face).load_n(BALL_M, MARK_M)
}

fn crack_n(h: &Here) -> f64 {
    contact::fracture_load_n(&h.face, BENDING_GAIN * h.strain, (BALL_M, h.thickness_m))
}

fn ball_n(h: &Here) -> f64 {
    dent_n(h).min(crack_n(h))
}

/// Crack over dent from which no step of [`power`] makes the face crack first: each moves their ratio by a few per cent.
const CLEAR: f64 = 1.1;

/// Power of a load in one of the things it hangs on: d ln P/d ln x by central difference.
fn power(load: fn(&Here) -> f64, at: &Here, turn: fn(&mut Here, f64)) -> f64 {
    const STEP: f64 = 0.01;
    let with = |f: f64| {
        let mut h = *at;
        turn(&mut h, f);
        load(&h)
    };
    let (up, down) = (with(1.0 + STEP), with(1.0 / (1.0 + STEP)));
    if up > 0.0 && down > 0.0 { (up / down).ln() / (2.0 * STEP.ln_1p()) } else { 0.0 }
}

/// Every part of the spread of a form beside the shared error of the form. Empty where the construction has no such damage.
pub fn parts(s: &Skin, c: &Construction, lib: &Library, form: Form) -> Vec<Part> {
    match (s.kind, form) {
        (Kind::Sandwich | Kind::OneFaced, Form::Pad | Form::Ball | Form::Plug) => on_foam(s, c, lib, form),
        (Kind::Covering, Form::Covering) => of_covering(s, lib),
        (Kind::Wood, Form::Wood) => of_wood(s, c, lib),
        (Kind::Laminate, Form::Sheet) => {
            // Membrane wrapped on a ball: strength times strain, so the strain twice, the stiffness once.
            let mut out = Vec::with_capacity(6);
            of_face(&mut out, &c.outer, lib, (1.0, 0.0, 0.0));
            strain(&mut out, 2.0);
            over(&mut out, c, lib);
            out
        }
        _ => Vec::new(),
    }
}

fn on_foam(s: &Skin, c: &Construction, lib: &Library, form: Form) -> Vec<Part> {
    let mut out = Vec::with_capacity(8);
    let (face, plies): (&Face, &[Ply]) =
        if s.outer.thickness_m > 0.0 { (&s.outer, &c.outer) } else { (&s.inner, &c.inner) };
    let Some((which, foam)) = s.foam.and_then(|i| lib.foams.get(i).map(|f| (i, f))) else { return out };
    if form == Form::Plug {
        of_face(&mut out, plies, lib, (0.0, 0.0, 1.0));
        over(&mut out, c, lib);
        return out;
    }
    let at = Here {
        face: FaceOnFoam {
            a_n_m: (face.a.s11 * face.a.s22).max(1.0).sqrt(),
            d_nm: (face.d.s11 * face.d.s22).max(1e-9).sqrt(),
            crush_pa: foam.crush_min_pa,
            core_modulus_pa: foam.modulus_pa,
            core_m: s.core_thickness_m,
        },
        thickness_m: face.thickness_m,
        strain: face.strain_tension / LOWER_BOUND_ALLOWANCE,
    };
    let dents = form == Form::Pad || crack_n(&at) > CLEAR * dent_n(&at);
    let load: fn(&Here) -> f64 = match form {
        Form::Pad => pad_n,
        _ if dents => dent_n,
        _ => ball_n,
    };
    // A denser sheet is stronger and stiffer at once.
    let denser = power(load, &at, |h, f| {
        h.face.crush_pa *= f;
        h.face.core_modulus_pa *= f;
    });
    let (own, place) = halved(foam_sd(foam));
    out.push(Part { title: "foam, its sheet", power: denser, own, place, from: From::Foam(which) });
    let a = power(load, &at, |h, f| h.face.a_n_m *= f);
    let d = power(load, &at, |h, f| h.face.d_nm *= f);
    // A dent hangs on the face by its stiffnesses alone.
    let t = if dents { 0.0 } else { power(load, &at, |h, f| h.thickness_m *= f) };
    of_face(&mut out, plies, lib, (a, d, t));
    let cracks = if dents { 0.0 } else { power(load, &at, |h, f| h.strain *= f) };
    if cracks.abs() > 1e-6 {
        strain(&mut out, cracks);
    }
    let deeper = power(load, &at, |h, f| h.face.core_m *= f);
    if let Some(tool) = lib.tools.get(c.tool) {
        let sd = tool.core_depth_sd_m / s.core_thickness_m.max(1e-3);
        out.push(Part { title: "depth of the core", power: deeper, own: 0.0, place: sd, from: From::Tool(c.tool) });
    }
    over(&mut out, c, lib);
    out
}

/// Cloth, fibre fraction, thickness and stiffness of a face, where the load goes with its membrane stiffness, its bending
/// stiffness and its thickness to these powers. Fibre makes the membrane; a wetter ply is a thicker one of as much fibre.
fn of_face(out: &mut Vec<Part>, plies: &[Ply], lib: &Library, (a, d, t): (f64, f64, f64)) {
    let mut n = 0.0;
    let (mut mass, mut mass_sd, mut wet_sd, mut open) = (0.0, 0.0, 0.0, false);
    let (mut cloth, mut process) = (0, 0);
    for p in plies {
        let (Some(f), Some(r)) = (lib.fabrics.get(p.fabric), lib.processes.get(p.process)) else { continue };
        // One roll and one way of wetting out make all plies light or wet together.
        mass += f.areal_mass_kg_m2;
        mass_sd += (f.areal_high_kg_m2 - f.areal_low_kg_m2).max(0.0) / BAND;
        wet_sd += band(r.fvf_low, r.fvf_high, r.fibre_volume_fraction);
        open |= r.bag_pressure_pa <= 0.0;
        (cloth, process) = (p.fabric, p.process);
        n += 1.0;
    }
    if n < 0.5 {
        return;
    }
    let part = |title, power, own, place, from| Part { title, power, own, place, from };
    // E I of a face of fixed fibre mass goes with the square of its thickness.
    let thicker = 2.0 * d + t;
    out.push(part("cloth, mass", a + 3.0 * d + t, mass_sd / mass, 0.0, From::Fabric(cloth)));
    out.push(part("fibre fraction", -thicker, wet_sd / n, 0.0, From::Process(process)));
    let place = PLY_THICKNESS * if open { OPEN_GAIN } else { 1.0 } / n.sqrt();
    out.push(part("ply thickness", thicker, 0.0, place, From::Stated(if open { OPEN_WORDS } else { BAG_WORDS })));
    if a.abs() + d.abs() > 0.0 {
        let own = LIST[Assumed::FaceStiffness as usize].beta;
        out.push(part("stiffness of the face", a + d, own, 0.0, From::Assumed(Assumed::FaceStiffness)));
    }
}

const BAG_WORDS: &str = "0.105 a ply, caliper readings of thin coupons under a weak bag, student team, UC Davis";
const OPEN_WORDS: &str =
    "0.105 a ply, caliper readings of thin coupons, UC Davis, half as much again without a bag (assumption)";

fn strain(out: &mut Vec<Part>, power: f64) {
    let (own, place) = halved((1.0 / LOWER_BOUND_ALLOWANCE).ln() / P95);
    let from = From::Stated("lower bound 0.8 of the mean taken as P5: an allowance of ours, assumption");
    out.push(Part { title: "strain at which it cracks", power, own, place, from });
}

fn over(out: &mut Vec<Part>, c: &Construction, lib: &Library) {
    if let Some(tool) = lib.tools.get(c.tool) {
        let place = tool.face_spread;
        out.push(Part { title: "what it is laid over", power: 1.0, own: 0.0, place, from: From::Tool(c.tool) });
    }
}

fn of_covering(s: &Skin, lib: &Library) -> Vec<Part> {
    let Some((i, m)) = s.covering.and_then(|u| lib.coverings.get(u.covering).map(|m| (u.covering, m))) else {
        return Vec::new();
    };
    let steeper = |f: f64| covering::cone_sine(m.failure_strain * f);
    let sine = (steeper(1.01) / steeper(1.0 / 1.01)).ln() / (2.0 * 0.01_f64.ln_1p());
    let (own, place) = halved(m.strength_spread);
    let word = |v: f64, assumed: f64| From::Stated(if v == assumed { "assumption" } else { "its entry" });
    let part = |title, power, own, place, from| Part { title, power, own, place, from };
    let areal = band(m.areal_low_kg_m2, m.areal_high_kg_m2, m.areal_mass_kg_m2);
    vec![
        part("cloth or film, mass", 1.0, areal, 0.0, From::Covering(i)),
        part("strength of strips", 1.0, own, place, word(m.strength_spread, CLOTH_STRENGTH)),
        part("strain at break", sine, m.strain_spread, 0.0, word(m.strain_spread, CLOTH_STRAIN)),
    ]
}

fn of_wood(s: &Skin, c: &Construction, lib: &Library) -> Vec<Part> {
    let Some((i, w)) = c.wood.and_then(|(i, _)| lib.woods.get(i).map(|w| (i, w))) else { return Vec::new() };
    // A ball is borne by the crush of its mark, or punches the sheet, whichever comes first.
    let crushes = w.crush_perp_pa * MARK_M <= 2.0 * s.thickness_m * w.shear_pa;
    let (own, place) = halved(if crushes { WOOD_CRUSH } else { WOOD_SHEAR });
    let title = if crushes { "crush across the grain" } else { "shear along the grain" };
    let words = "average coefficient of variation of clear wood, Wood Handbook, from memory";
    let mut out = vec![Part { title, power: 1.0, own, place, from: From::Stated(words) }];
    if !crushes {
        out.push(Part { title: "thickness of the sheet", power: 1.0, own: 0.0, place: 0.05, from: From::Wood(i) });
    }
    out
}

/// The spreads of every form of damage of a construction.
pub fn of(s: &Skin, c: &Construction, lib: &Library) -> [Spread; FORMS] {
    Form::ALL.map(|form| {
        let mut out = Spread::default();
        for p in parts(s, c, lib, form) {
            out.own += (p.power * p.own).powi(2);
            out.place += (p.power * p.place).powi(2);
            if matches!(p.from, From::Foam(_)) {
                out.foam = p.power;
            }
        }
        Spread { own: out.own.sqrt(), place: out.place.sqrt(), foam: out.foam }
    })
}

/// How what a skin stands in one form scatters, wherever it is met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scatter {
    /// Spread of the load to a mark or a soft spot, and to a hole: through a face on foam that is a form of its own.
    first: f64,
    through: f64,
    /// Spread of what the panel gives, or of the tension a covering keeps.
    give: f64,
    /// Power of the load in the strength of foam, and share of the spread of the form that samples left.
    pub(super) foam: f64,
    pub(super) kept: f64,
}

impl Scatter {
    pub(super) fn of(s: &Skin, form: Form) -> Self {
        let on_foam = matches!(s.kind, Kind::Sandwich | Kind::OneFaced);
        let give = if s.kind == Kind::Covering { Assumed::CoveringTension } else { Assumed::PanelStiffness };
        let (first, kept) = s.dispersion(form);
        Self {
            first,
            through: if on_foam { s.dispersion(Form::Plug).0 } else { first },
            give: LIST[give as usize].beta,
            foam: s.spread[form as usize].foam,
            kept,
        }
    }

    /// Spread of mark, soft spot and hole that answer so: independent normal logarithms, each with its power.
    pub(super) fn of_states(&self, answers: &[Answer; 3]) -> [f64; 3] {
        std::array::from_fn(|i| {
            let load = answers[i].load * if i == 2 { self.through } else { self.first };
            let give = answers[i].give * self.give;
            (load * load + give * give).sqrt()
        })
    }
}
