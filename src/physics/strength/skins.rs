//! What the modes of rigid skins share: zones, the strain beside the spar, torsion, pressure, bending of a bay.

use crate::physics::design::{MayBuckle, Strip};
use crate::physics::laminate::construction::{Face, Kind, Skin, Stiffness};
use crate::physics::strength::by_bay::{greater, hardest};
use crate::physics::strength::panel::{self, Panel};
use crate::physics::strength::sizing::Section;
use crate::physics::strength::{Context, Flow, Margin, Verdict, inputs, margin, web};
use crate::physics::wing::layout::Zone;

/// Zones of a kind of strip with their rigid skin.
pub fn rigid<'c>(c: &'c Context, want: fn(Strip) -> bool) -> impl Iterator<Item = (&'c Zone, &'c Skin)> {
    c.layout
        .zones
        .iter()
        .filter(move |z| want(z.strip))
        .filter_map(|z| c.skins.get(z.construction).map(|s| (z, s)))
        .filter(|(_, s)| !matches!(s.kind, Kind::Covering | Kind::Open))
}

/// Compressive strain of a zone per unit of each moment, 1/(N m).
#[derive(Debug, Clone, Copy, Default)]
struct Per {
    /// Of the moment that bends the tip up, beside the spar; negative below.
    bent: f64,
    /// Of the moment that bends the wing backward in its plane: over the middle of the strip, negative in the nose; and at the leading
    /// edge.
    mean: f64,
    edge: f64,
}

impl Per {
    fn of(s: &Section, strip: Strip) -> Self {
        let fibre = if strip.is_upper() { s.upper_fibre_m } else { -s.lower_fibre_m };
        let (mean, edge) = if strip.is_nose() {
            (-s.inplane_nose_mean_m, -s.inplane_nose_fibre_m)
        } else {
            (s.inplane_aft_mean_m, 0.0)
        };
        let over = |fibre_m: f64| fibre_m / s.ei_inplane_nm2.max(1e-9);
        Self { bent: fibre / s.ei_nm2.max(1e-9), mean: over(mean), edge: over(edge) }
    }
    /// Of bending in the plane, where it compresses.
    fn in_plane(&self, mz: f64) -> f64 {
        greater(mz * self.mean, 0.0)
    }
}

/// Compressive strain of a strip, limit, with its case: beside the spar, of bending up or down and, over the middle of the strip, of bending
/// in the plane of the wing; or at the leading edge, of bending in the plane alone. What that takes off elsewhere is not counted: how
/// much of the aft skins carries it is an allowance.
/// Nothing for what is no rigid nose or aft skin.
/// Unchecked: no outside check runs it by itself.
pub fn compressive(c: &Context, z: &Zone) -> (f64, usize) {
    c.compressed(z)
}

pub(super) fn worked_out(c: &Context, z: &Zone) -> (f64, usize) {
    let Some(s) = c.sections.get(z.bay) else { return (0.0, 0) };
    let (per, here) = (Per::of(s, z.strip), c.here(z.bay));
    let (strain, which) = hardest(&here, |m, mz, _, _| greater(m * per.bent + per.in_plane(mz), mz * per.edge));
    (strain, here.cases.get(which).copied().unwrap_or(0))
}

/// Greatest shear flow in a strip, limit, of shear and torsion together.
pub(super) fn flow(c: &Context, z: &Zone) -> Flow {
    let most = c.most(z.bay);
    if z.strip.is_nose() { most.nose_flow } else { most.aft_flow }
}

/// Rigid skins in shear: strain of the greatest flow against the least of the faces. Aft skins where they close a box.
pub(super) fn in_shear(c: &Context, key: &'static str, want: fn(Strip) -> bool, out: &mut Vec<Margin>) {
    let boxed = |z: &Zone| z.strip.is_nose() || c.sections.get(z.bay).is_some_and(|s| s.two_cells);
    for (z, s) in rigid(c, want).filter(|(z, _)| boxed(z)) {
        let flow = flow(c, z);
        let allowed = web::sheared_n_m(s, 1.0).unwrap_or(0.0);
        let strain = allowed / s.a.s66.max(1e-12);
        out.push(margin(
            key,
            at(z, flow.case),
            (flow.n_m.abs() * c.ultimate(), allowed, "N/m"),
            inputs![
                ("V limit", flow.shear_n, "N"),
                ("T limit", flow.torque_nm, "N m"),
                ("A66", s.a.s66, "N/m"),
                ("strain limit", strain, ""),
            ],
        ));
    }
}

/// Place of a margin on a zone.
pub fn at(z: &Zone, case: usize) -> (Option<usize>, Option<Strip>, Option<usize>) {
    (Some(z.bay), Some(z.strip), Some(case))
}

/// Greatest local pressure on a strip, limit, with its case.
/// Unchecked: no outside check runs it by itself.
pub fn pressure(c: &Context, z: &Zone) -> (f64, usize) {
    let most = c.most(z.bay);
    if z.strip.is_nose() { most.nose_pa } else { most.aft_pa }
}

/// Between spar and hinge line, rigid part.
pub fn is_aft(s: Strip) -> bool {
    matches!(s, Strip::AftUpper | Strip::AftLower)
}

/// Nose and aft strips.
pub fn not_control(s: Strip) -> bool {
    s.is_nose() || is_aft(s)
}

/// Coupling D16/(D11^3 D22)^(1/4) and D26/(D11 D22^3)^(1/4) above which the panel formulas are not used. An allowance.
const COUPLING_ALLOWANCE: f64 = 0.2;

/// Twist coupling of a laminate too strong for the orthotropic panel formulas.
pub(super) fn coupled(d: &Stiffness) -> bool {
    let (a, b) = (d.s11.max(1e-12), d.s22.max(1e-12));
    d.s16.abs() > COUPLING_ALLOWANCE * (a * a * a * b).sqrt().sqrt()
        || d.s26.abs() > COUPLING_ALLOWANCE * (a * b * b * b).sqrt().sqrt()
}

/// Buckling of strips in compression and shear of one and the same case, whichever is worst. `share`: even strain that buckles a
/// zone alike, over the strain beside the spar.
/// Unchecked: no outside check runs it by itself.
pub fn buckling(
    c: &Context,
    key: &'static str,
    want: fn(Strip) -> bool,
    share: fn(&Context, usize) -> f64,
    out: &mut Vec<Margin>,
) {
    for (z, s) in rigid(c, want) {
        let policy =
            c.design.strips.iter().find(|x| x.strip == z.strip).map_or(MayBuckle::NotBelowUltimate, |x| x.may_buckle);
        if policy == MayBuckle::Allowed {
            continue;
        }
        let Some(section) = c.sections.get(z.bay) else { continue };
        let factor = if policy == MayBuckle::NotBelowUltimate { c.ultimate() } else { c.design.extra_factor() };
        let (per, share, here) = (Per::of(section, z.strip), share(c, z.bay), c.here(z.bay));
        let (per_v, per_t) = if z.strip.is_nose() {
            (section.nose_flow_per_n, section.nose_flow_per_nm)
        } else {
            (section.aft_flow_per_n, section.aft_flow_per_nm)
        };
        let stiff = s.a.s11 * factor;
        let loads = |m: f64, mz: f64, v: f64, t: f64| {
            let across = per.in_plane(mz);
            [
                greater(m * per.bent * share + across, 0.0) * stiff,
                across * stiff,
                (v * per_v + t * per_t).abs() * factor,
            ]
        };
        let stands = c.panel(&Panel {
            length_m: z.length_m,
            width_m: z.arc_m,
            d: s.d,
            a: s.a,
            s_n_m: s.s_n_m * c.core_share(z.strip),
            radius_m: z.radius_m,
        });
        let (n, ns) = (stands.compression_n_m, stands.shear_n_m);
        let (over_n, over_ns) = (1.0 / n.max(1e-9), 1.0 / ns.max(1e-9));
        // The same over what it stands, shear twice, all factors taken together.
        let (over_n, over_ns) = (stiff * over_n, 2.0 * factor * over_ns);
        let (bent, mean) = (per.bent * share * over_n, per.mean * over_n);
        let (sheared, twisted) = (per_v * over_ns, per_t * over_ns);
        let (_, which) = hardest(&here, |m, mz, v, t| {
            let rc = greater(m * bent + greater(mz * mean, 0.0), 0.0);
            let rs = v * sheared + t * twisted;
            rc + (rc * rc + rs * rs).sqrt()
        });
        let of = |list: &[f64]| list.get(which).copied().unwrap_or(0.0);
        let [nx, across, q] = loads(of(here.moment_nm), of(here.inplane_nm), of(here.shear_n), of(here.torque_nm));
        let case = here.cases.get(which).copied().unwrap_or(0);
        let rf = panel::combined(nx / n.max(1e-9), q / ns.max(1e-9));
        let applied = nx.max(q).max(1e-9);
        let mut m = margin(
            key,
            at(z, case),
            (applied, applied * rf, "N/m"),
            inputs![
                ("compression", nx, "N/m"),
                ("of it of bending in plane", across, "N/m"),
                ("shear", q, "N/m"),
                ("N crit", n, "N/m"),
                ("shear crit", ns, "N/m"),
                ("length", z.length_m, "m"),
                ("width", z.arc_m, "m"),
                ("share of cap strain", share, ""),
                ("factor", factor, ""),
            ],
        );
        if coupled(&s.d) {
            m.verdict = Verdict::NotShown("plies couple bending and twist: outside the orthotropic panel formula");
        }
        out.push(m);
    }
}

/// A strip of skin bent between its nearer supports: the bending goes along the span or along the chord.
#[derive(Debug, Clone, Copy)]
pub struct Bending<'a> {
    skin: &'a Skin,
    /// Distance of the supports, m.
    pub span_m: f64,
    along_span: bool,
}

/// How a zone bends under pressure: over the shorter of rib pitch and arc.
/// Unchecked: no outside check runs it by itself.
pub fn bending<'a>(z: &Zone, skin: &'a Skin) -> Bending<'a> {
    Bending::new(skin, z.length_m.min(z.arc_m), z.length_m <= z.arc_m)
}

impl<'a> Bending<'a> {
    /// A strip of skin over a span, bent along the span of the wing or along the chord.
    pub fn new(skin: &'a Skin, span_m: f64, along_span: bool) -> Self {
        Self { skin, span_m, along_span }
    }

    /// Moment per width of a pinned strip under pressure, N: `p b^2/8`. **Source:** any text; a plate carries less.
    pub fn moment_n(&self, pressure_pa: f64) -> f64 {
        pressure_pa * self.span_m * self.span_m / 8.0
    }

    fn modulus_pa(&self, f: &Face) -> f64 {
        if self.along_span { f.e_span_pa } else { f.e_chord_pa }
    }

    /// Bending stiffness per width in this direction, coupling taken out, N m.
    /// Unchecked: no outside check runs it by itself.
    pub fn d_nm(&self) -> f64 {
        (if self.along_span { self.skin.d.s11 } else { self.skin.d.s22 }).max(1e-12)
    }

    /// Distance of the neutral axis from the middle of the face of a one-faced skin, m: `Ec c (c + t)/2 / (Ef t + Ec c)`.
    /// **Source:** parallel axes; reference case one face on foam.
    fn neutral_m(&self, core_pa: f64) -> f64 {
        let (f, c) = (&self.skin.outer, self.skin.core_thickness_m);
        let (ef, ec) = (self.modulus_pa(f) * f.thickness_m, core_pa * c);
        ec * (c + f.thickness_m) / 2.0 / (ef + ec).max(1e-9)
    }

    /// Greatest strain of a face and greatest strain of a bare core surface, per moment per width, 1/N.
    ///
    /// Sandwich `1/(d t E)` of the weaker face; one-faced `(zn + t/2)/D*` and, at the bare side,
    /// `(t/2 + c - zn)/D*`; bare laminate `(t/2)/D`.
    /// **Source:** beam theory; Metal Foams guide for thin faces. **Valid for:** moment per width in one direction.
    pub fn strain_per_moment(&self, core_pa: f64) -> (f64, f64) {
        let (s, o) = (self.skin, &self.skin.outer);
        match s.kind {
            Kind::Sandwich => {
                let weak = [&s.outer, &s.inner]
                    .map(|f| self.modulus_pa(f) * f.thickness_m)
                    .into_iter()
                    .fold(f64::INFINITY, f64::min);
                (1.0 / (s.lever_m * weak).max(1e-12), 0.0)
            }
            Kind::OneFaced => {
                let zn = self.neutral_m(core_pa);
                let half = o.thickness_m / 2.0;
                ((zn + half) / self.d_nm(), (half + s.core_thickness_m - zn) / self.d_nm())
            }
            _ => (o.thickness_m / 2.0 / self.d_nm(), 0.0),
        }
    }
}

/// Shear stress of a core under a shear force per width, Pa: `V/d`. **Source:** Allen 1969 (from memory), thin faces.
pub fn core_shear_pa(shear_n_m: f64, lever_m: f64) -> f64 {
    shear_n_m / lever_m.max(1e-6)
}
