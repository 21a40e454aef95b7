//! What a square metre of skin, web or rib is made of, and the properties that follow.

use std::f64::consts::FRAC_PI_4;
use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::durability::spread::{self, Spread};
use crate::physics::laminate::limits;
use crate::physics::laminate::ply::{self, Lamina};
use crate::physics::laminate::sandwich;
use crate::physics::laminate::stack::{self, Layer};
use crate::physics::material::Library;
use crate::physics::samples::fit;
use crate::physics::samples::learnt::OfSkin;
use crate::physics::samples::record::FORMS;

/// One ply of cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ply {
    pub fabric: usize,
    pub process: usize,
    /// Angle of the roll direction to the span, rad.
    pub angle_rad: f64,
}

/// A core between or under faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Core {
    pub foam: usize,
    pub thickness_m: f64,
    pub filling: usize,
}

/// A covering as used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoveringUse {
    pub covering: usize,
    pub fastening: usize,
    /// Pretension in service, N/m.
    pub pretension_n_m: f64,
}

/// The kinds of surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Kind {
    #[default]
    Sandwich,
    OneFaced,
    Laminate,
    Wood,
    Covering,
    /// Nothing there.
    Open,
}

/// Every kind, in the order of the enumeration.
pub const KINDS: [Kind; 6] = [Kind::Sandwich, Kind::OneFaced, Kind::Laminate, Kind::Wood, Kind::Covering, Kind::Open];

impl Kind {
    /// The letter the skin map shows.
    pub const fn letter(self) -> char {
        match self {
            Self::Sandwich => 'S',
            Self::OneFaced => 'O',
            Self::Laminate => 'L',
            Self::Wood => 'W',
            Self::Covering => 'F',
            Self::Open => '-',
        }
    }
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sandwich => "sandwich",
            Self::OneFaced => "one-faced foam",
            Self::Laminate => "bare laminate",
            Self::Wood => "wood",
            Self::Covering => "covering",
            Self::Open => "open",
        }
    }
}

/// A construction as the person states it. Outside first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Construction {
    pub key: String,
    pub name: String,
    pub kind: Kind,
    /// Outer face, outermost ply first.
    pub outer: Vec<Ply>,
    pub core: Option<Core>,
    /// Inner face, outermost ply first.
    pub inner: Vec<Ply>,
    /// A sheet of wood and its thickness, m.
    pub wood: Option<(usize, f64)>,
    pub covering: Option<CoveringUse>,
    pub finish: Option<usize>,
    pub tool: usize,
    pub bagged: bool,
}

/// In-plane or bending stiffness of an orthotropic sheet (11 along the span).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stiffness {
    pub s11: f64,
    pub s12: f64,
    pub s22: f64,
    pub s66: f64,
    pub s16: f64,
    pub s26: f64,
}

/// One face by itself.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Face {
    pub thickness_m: f64,
    pub areal_mass_kg_m2: f64,
    /// Membrane stiffness, N/m.
    pub a: Stiffness,
    /// Bending stiffness about the face's own middle, N m.
    pub d: Stiffness,
    /// Young's modulus along the span and across it, Pa.
    pub e_span_pa: f64,
    pub e_chord_pa: f64,
    /// Young's modulus at 45 degrees (for wrinkling in shear), Pa.
    pub e_45_pa: f64,
    pub g_pa: f64,
    pub nu: f64,
    /// Laminate strain limits along the span (lower bound).
    pub strain_tension: f64,
    pub strain_compression: f64,
    /// Engineering shear strain limit (lower bound).
    pub strain_shear: f64,
}

/// Lines of areal mass, kg/m2, that add to the whole.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ArealMass {
    pub fibre: f64,
    pub resin: f64,
    pub core: f64,
    pub pickup: f64,
    pub covering: f64,
    pub wood: f64,
    pub fairing: f64,
    pub finish: f64,
}

impl ArealMass {
    /// The whole, kg/m2.
    pub fn total(&self) -> f64 {
        self.fibre + self.resin + self.core + self.pickup + self.covering + self.wood + self.fairing + self.finish
    }
}

/// Everything the rest needs to know of a construction. Index-matched with `Design::constructions`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Skin {
    pub kind: Kind,
    pub mass: ArealMass,
    /// Standard deviation of the areal mass, kg/m2.
    pub mass_sd_kg_m2: f64,
    pub thickness_m: f64,
    pub outer: Face,
    pub inner: Face,
    /// Membrane stiffness of the whole, N/m (zero for coverings: they carry no shear here).
    pub a: Stiffness,
    /// Reduced bending stiffness D - B A^-1 B of the whole, N m.
    pub d: Stiffness,
    /// Transverse shear stiffness per width, N/m (infinite sheets without core: f64::INFINITY).
    pub s_n_m: f64,
    /// Distance between face middles, m.
    pub lever_m: f64,
    pub core_thickness_m: f64,
    /// Foam index, when there is a core.
    pub foam: Option<usize>,
    /// Wood sheet index.
    pub wood: Option<usize>,
    pub covering: Option<CoveringUse>,
    /// Hours to make one square metre, and material cost.
    pub hours_per_m2: f64,
    pub cost_per_m2: f64,
    pub smooth: bool,
    /// How far what it stands scatters, by form of damage.
    pub spread: [Spread; FORMS],
    /// What samples taught of it.
    pub learnt: Option<Arc<OfSkin>>,
}

/// What a maker should be told of a construction.
#[derive(Debug, Clone, PartialEq)]
pub struct Warning {
    pub construction: String,
    pub text: String,
}

/// Surface resin of a bare laminate cured against film, m, both surfaces together.
/// **Source:** student team coupons, glass t = 0.064 + 0.076 n mm (see DEVELOPERS.md, thin laminates).
pub const RESIN_SKIN_M: f64 = 0.000_064;

/// Lower bound on laminate strain over the mean, an allowance of ours for hand-laid thin skins.
pub const LOWER_BOUND_ALLOWANCE: f64 = 0.8;

/// Properties of a construction under given assumptions.
///
/// Faces by laminate theory, sandwich by A, B, D of faces and core with D* = D - B A^-1 B and S = Gc d^2/c.
/// Mass is plies + core + pick-up of each face + fairing + finish; pick-up adds, it never multiplies.
pub fn properties(c: &Construction, lib: &Library, assumed: &Assumptions) -> Skin {
    if lib.learnt.is_nothing() {
        let mut skin = nominal(c, lib, assumed);
        skin.spread = spread::of(&skin, c, lib);
        return skin;
    }
    let mut skin = nominal(c, lib, &lib.learnt.assumptions(assumed));
    skin.spread = spread::of(&skin, c, lib);
    fit::put_on(&mut skin, c, lib);
    skin
}

/// The same as if no sample had been made.
pub fn nominal(c: &Construction, lib: &Library, assumed: &Assumptions) -> Skin {
    let mut skin = Skin { kind: c.kind, s_n_m: f64::INFINITY, ..Skin::default() };
    let tool = lib.tools.get(c.tool);
    skin.smooth = tool.is_some_and(|t| t.smooth);
    match c.kind {
        Kind::Open => return skin,
        Kind::Covering => covering(&mut skin, c, lib),
        Kind::Wood => wood_sheet(&mut skin, c, lib),
        Kind::Sandwich | Kind::OneFaced | Kind::Laminate => layered(&mut skin, c, lib, assumed),
    }
    let mut var = skin.mass_sd_kg_m2 * skin.mass_sd_kg_m2;
    if let Some(f) = c.finish.and_then(|i| lib.finishes.get(i)) {
        skin.mass.finish = f.areal_mass_kg_m2 * assumed.of(Assumed::FinishMass);
        var += ((f.areal_high_kg_m2 - f.areal_low_kg_m2) / BAND).powi(2);
        skin.hours_per_m2 += f.hours_per_m2;
    }
    if let Some(t) = tool {
        skin.mass.fairing = t.fairing_kg_m2;
        var += (0.3 * t.fairing_kg_m2).powi(2);
        skin.hours_per_m2 += t.hours_per_m2;
    }
    skin.mass_sd_kg_m2 = var.sqrt();
    skin
}

/// A published low-to-high band taken as P10 to P90: 2.563 standard deviations.
const BAND: f64 = 2.563;

/// Cutting, fastening and tightening a square metre of covering, hours. Assumption, no source.
const COVERING_H_M2: f64 = 0.6;

fn covering(skin: &mut Skin, c: &Construction, lib: &Library) {
    let Some(u) = c.covering else { return };
    skin.hours_per_m2 += COVERING_H_M2;
    skin.covering = Some(u);
    if let Some(m) = lib.coverings.get(u.covering) {
        skin.mass.covering = m.areal_mass_kg_m2;
        skin.mass_sd_kg_m2 = (m.areal_high_kg_m2 - m.areal_low_kg_m2) / BAND;
        skin.thickness_m = m.areal_mass_kg_m2 / 1390.0;
        skin.cost_per_m2 = m.price_per_m2;
    }
}

fn wood_sheet(skin: &mut Skin, c: &Construction, lib: &Library) {
    let Some((i, t)) = c.wood else { return };
    let Some(w) = lib.woods.get(i) else { return };
    let lamina = Lamina { e1_pa: w.modulus_pa, e2_pa: w.cross_modulus_pa, g12_pa: w.shear_modulus_pa, nu12: 0.1 };
    let abd = stack::abd(&[Layer { q_pa: stack::reduced(lamina), thickness_m: t }]);
    skin.wood = Some(i);
    skin.thickness_m = t;
    skin.mass.wood = w.density_kg_m3 * t;
    skin.mass_sd_kg_m2 = 0.06 * skin.mass.wood;
    skin.a = abd.a;
    skin.d = abd.d;
    skin.cost_per_m2 = w.price_per_m3 * t;
    skin.outer = Face {
        thickness_m: t,
        areal_mass_kg_m2: skin.mass.wood,
        a: abd.a,
        d: abd.d,
        e_span_pa: w.modulus_pa,
        e_chord_pa: w.cross_modulus_pa,
        e_45_pa: stack::effective(&stack::turned(abd.a, FRAC_PI_4), t).e1_pa,
        g_pa: w.shear_modulus_pa,
        nu: 0.1,
        strain_tension: LOWER_BOUND_ALLOWANCE * w.tension_pa / w.modulus_pa,
        strain_compression: LOWER_BOUND_ALLOWANCE * w.compression_pa / w.modulus_pa,
        strain_shear: LOWER_BOUND_ALLOWANCE * w.shear_pa / w.shear_modulus_pa,
    };
}

/// What the plies of a face add up to beside its stiffness.
#[derive(Default)]
struct FaceSum {
    fibre: f64,
    resin: f64,
    var: f64,
    hours: f64,
    cost: f64,
}

impl FaceSum {
    /// Of two faces alike.
    fn twice(self) -> Self {
        Self {
            fibre: 2.0 * self.fibre,
            resin: 2.0 * self.resin,
            var: 2.0 * self.var,
            hours: 2.0 * self.hours,
            cost: 2.0 * self.cost,
        }
    }
}

fn layered(skin: &mut Skin, c: &Construction, lib: &Library, assumed: &Assumptions) {
    let mut sum = FaceSum::default();
    skin.outer = face(&c.outer, lib, assumed, &mut sum);
    if c.inner == c.outer {
        skin.inner = skin.outer;
        sum = sum.twice();
    } else {
        skin.inner = face(&c.inner, lib, assumed, &mut sum);
    }
    skin.mass.fibre = sum.fibre;
    skin.mass.resin = sum.resin;
    skin.hours_per_m2 += sum.hours;
    skin.cost_per_m2 += sum.cost;
    let Some((core, foam)) = c.core.and_then(|k| lib.foams.get(k.foam).map(|f| (k, f))) else {
        bare(skin, lib);
        skin.mass_sd_kg_m2 = sum.var.sqrt();
        return;
    };
    let filling = lib.fillings.get(core.filling);
    let (ratio, added) = filling.map_or((1.0, 0.0), |f| (f.pickup_ratio, f.added_kg_m2));
    let faces = f64::from(u8::from(!c.outer.is_empty()) + u8::from(!c.inner.is_empty()));
    let pick = faces * (foam.pickup_kg_m2 * ratio * assumed.of(Assumed::PickUp) + added);
    skin.foam = Some(core.foam);
    skin.core_thickness_m = core.thickness_m;
    skin.mass.core = foam.density_kg_m3 * core.thickness_m * assumed.of(Assumed::FoamDensity);
    skin.mass.pickup = pick;
    let sd_core = (foam.density_high_kg_m3 - foam.density_low_kg_m3) / BAND * core.thickness_m;
    let sd_pick = faces * ratio * (foam.pickup_high_kg_m2 - foam.pickup_low_kg_m2) / BAND;
    skin.mass_sd_kg_m2 = (sum.var + sd_core * sd_core + sd_pick * sd_pick).sqrt();
    skin.hours_per_m2 += 0.3 + filling.map_or(0.0, |f| f.hours_per_m2) * faces;
    skin.cost_per_m2 += foam.price_per_m3 * core.thickness_m;
    let k = assumed.of(Assumed::FoamModulus);
    let e = foam.inplane_modulus_pa * k;
    let lamina = Lamina { e1_pa: e, e2_pa: e, g12_pa: foam.shear_modulus_pa * k, nu12: 0.3 };
    let layers = [
        Layer { q_pa: per_thickness(&skin.outer), thickness_m: skin.outer.thickness_m },
        Layer { q_pa: stack::reduced(lamina), thickness_m: core.thickness_m },
        Layer { q_pa: per_thickness(&skin.inner), thickness_m: skin.inner.thickness_m },
    ];
    let abd = stack::abd(&layers);
    skin.thickness_m = abd.thickness_m;
    skin.a = abd.a;
    skin.d = stack::reduced_bending(&abd);
    skin.lever_m = core.thickness_m + (skin.outer.thickness_m + skin.inner.thickness_m) / 2.0;
    skin.s_n_m = sandwich::shear_stiffness(foam.shear_modulus_pa * k, skin.lever_m, core.thickness_m);
    if faces < 1.5 {
        skin.s_n_m = 5.0 / 6.0 * foam.shear_modulus_pa * k * core.thickness_m;
    }
}

fn per_thickness(f: &Face) -> Stiffness {
    let mut q = Stiffness::default();
    if f.thickness_m > 0.0 {
        q.plus(&f.a, 1.0 / f.thickness_m);
    }
    q
}

/// A laminate without core: the surface resin skin is added to thickness and mass, not to stiffness.
fn bare(skin: &mut Skin, lib: &Library) {
    skin.a = skin.outer.a;
    skin.d = skin.outer.d;
    skin.thickness_m = skin.outer.thickness_m + RESIN_SKIN_M;
    skin.mass.resin += RESIN_SKIN_M * lib.resin().map_or(1150.0, |r| r.density_kg_m3);
}

fn face(plies: &[Ply], lib: &Library, assumed: &Assumptions, sum: &mut FaceSum) -> Face {
    let Some(resin) = lib.resin() else { return Face::default() };
    let stiff = assumed.of(Assumed::FaceStiffness);
    let (mut layers, mut stands) = (Vec::with_capacity(plies.len()), Vec::with_capacity(plies.len()));
    let mut f = Face::default();
    for p in plies.iter().take(MOST_PLIES) {
        let (Some(cloth), Some(process)) = (lib.fabrics.get(p.fabric), lib.processes.get(p.process)) else { continue };
        let Some(fibre) = lib.fibres.get(cloth.fibre) else { continue };
        let cured = ply::cure(cloth, fibre, resin, process, assumed.of(Assumed::FibreFraction));
        let mut q = Stiffness::default();
        q.plus(&stack::turned(stack::reduced(cured.lamina), p.angle_rad), stiff);
        layers.push(Layer { q_pa: q, thickness_m: cured.thickness_m });
        stands.push((p.angle_rad, limits::of_ply(cloth, fibre)));
        f.areal_mass_kg_m2 += cured.fibre_kg_m2 + cured.resin_kg_m2;
        sum.fibre += cured.fibre_kg_m2;
        sum.resin += cured.resin_kg_m2;
        let sd_cloth = (cloth.areal_high_kg_m2 - cloth.areal_low_kg_m2) / BAND;
        let sd_resin = cured.resin_kg_m2 * (process.fvf_high - process.fvf_low) / BAND / process.fibre_volume_fraction;
        sum.var += sd_cloth * sd_cloth + sd_resin * sd_resin;
        sum.hours += process.hours_per_m2;
        sum.cost += ply::price_per_m2(cloth, process, resin, &cured);
    }
    if layers.is_empty() {
        return Face::default();
    }
    let abd = stack::abd(&layers);
    let e = stack::effective(&abd.a, abd.thickness_m);
    f.thickness_m = abd.thickness_m;
    f.a = abd.a;
    f.d = stack::reduced_bending(&abd);
    f.e_span_pa = e.e1_pa;
    f.e_chord_pa = e.e2_pa;
    f.e_45_pa = stack::effective(&stack::turned(abd.a, FRAC_PI_4), abd.thickness_m).e1_pa;
    f.g_pa = e.g12_pa;
    f.nu = e.nu12;
    (f.strain_tension, f.strain_compression, f.strain_shear) = limits::of_face(&abd.a, &stands).unwrap_or_default();
    f
}

/// Most plies a face may have; the reader refuses more.
pub const MOST_PLIES: usize = 40;

/// Warnings a maker expects: crushed under the bag, solvent, heat, ply too thin to be closed, shrink temperature.
/// Unchecked: no outside check runs it by itself.
pub fn warnings(c: &Construction, lib: &Library) -> Vec<Warning> {
    let mut out = Vec::new();
    let mut say = |text: String| out.push(Warning { construction: c.key.clone(), text });
    let foam = c.core.and_then(|k| lib.foams.get(k.foam));
    let processes = || c.outer.iter().chain(&c.inner).filter_map(|p| lib.processes.get(p.process));
    let pressure = processes().map(|p| p.bag_pressure_pa).fold(0.0, f64::max);
    if let Some(f) = foam {
        if c.bagged && pressure > f.crush_min_pa {
            say(format!(
                "crushed by the process: bag pressure {:.0} kPa is above the crush strength of {} ({:.0} kPa)",
                pressure / 1e3,
                f.name,
                f.crush_min_pa / 1e3
            ));
        }
        let cure = processes().map(|p| p.cure_c).fold(0.0, f64::max);
        if cure > f.max_process_c {
            say(format!("cured at {cure:.0} C, but {} stands only {:.0} C", f.name, f.max_process_c));
        }
        if f.solvent_sensitive {
            say(format!(
                "{} dissolves in petrol, styrene and strong solvents: test every paint and glue on scrap",
                f.name
            ));
        }
    }
    if c.bagged && lib.tools.get(c.tool).is_some_and(|t| !t.bag_possible) {
        say("a bag cannot be drawn on this tool".to_owned());
    }
    for face in [&c.outer, &c.inner] {
        let areal: f64 = face.iter().filter_map(|p| lib.fabrics.get(p.fabric)).map(|f| f.areal_mass_kg_m2).sum();
        if !face.is_empty() && areal < 0.04 {
            say(format!("a face of {:.0} g/m2 is too thin to be closed: expect pinholes", areal * 1e3));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_weighs_nothing() {
        let s = properties(
            &Construction { kind: Kind::Open, ..Construction::default() },
            &Library::default(),
            &Assumptions::default(),
        );
        assert_eq!(s.mass.total(), 0.0);
    }
}
