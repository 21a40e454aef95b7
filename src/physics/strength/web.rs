//! The shear web: what it carries in shear and upright, and what it gives the rest.

use crate::physics::design::{Design, WebBand, WebRun};
use crate::physics::laminate::construction::{Face, Skin};
use crate::physics::laminate::sandwich;
use crate::physics::material::Library;
use crate::physics::strength::panel::{self, Panel};
use crate::physics::strength::sizing::Section;
use crate::physics::strength::{Context, Margin, Verdict, inputs, margin, skins, web_core_share};
use crate::physics::wing::layout::Bay;

/// The run a bay belongs to.
pub(super) fn run_at(design: &Design, eta: f64) -> Option<&WebRun> {
    design.spar.web.get(design.spar.web_run(eta)?)
}

/// How much stiffer the extra plies make a band.
fn thicker(design: &Design, construction: usize, extra: u32) -> f64 {
    design.constructions.get(construction).map_or(1.0, |c| {
        let plies = (c.outer.len() + c.inner.len()).max(1) as f64;
        let faces = f64::from(u8::from(!c.outer.is_empty()) + u8::from(!c.inner.is_empty()));
        1.0 + f64::from(extra) * faces / plies
    })
}

/// Shear stiffness G t of the web, N/m: bands in series over the height.
pub fn stiffness(design: &Design, skins: &[Skin], eta: f64, extra: u32) -> f64 {
    let Some(run) = run_at(design, eta) else { return 0.0 };
    let soft: f64 = run
        .bands
        .iter()
        .map(|b| {
            b.height_frac
                / (skins.get(b.construction).map_or(0.0, |s| s.a.s66) * thicker(design, b.construction, extra))
                    .max(1e-9)
        })
        .sum();
    if soft > 0.0 { 1.0 / soft } else { 0.0 }
}

/// Least over the bands of the web at eta of something a band gives; nothing there gives nothing.
fn softest(design: &Design, skins: &[Skin], eta: f64, of: impl Fn(&Skin) -> f64) -> f64 {
    run_at(design, eta).map_or(0.0, |r| {
        let least = r.bands.iter().filter_map(|b| skins.get(b.construction)).map(of).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    })
}

/// Least modulus times thickness of a core, through the height and in shear, N/m, at 20 C.
/// Unchecked: no outside check runs it by itself.
pub fn core_stiffness(library: &Library, s: &Skin) -> (f64, f64) {
    s.foam.and_then(|i| library.foams.get(i)).map_or((0.0, 0.0), |f| {
        (s.core_thickness_m * f.modulus_min_pa.min(f.inplane_modulus_pa), s.core_thickness_m * f.shear_modulus_min_pa)
    })
}

/// Uniaxial E t of both faces along the height (free to draw in along the span), and their G t, N/m.
pub fn face_stiffness(s: &Skin) -> (f64, f64) {
    let mut a = s.outer.a;
    a.plus(&s.inner.a, 1.0);
    (a.inverse().map_or(0.0, |c| if c.s22 > 0.0 { 1.0 / c.s22 } else { 0.0 }), a.s66)
}

/// [`core_stiffness`] of the softest band.
/// Unchecked: no outside check runs it by itself.
pub fn core_upright(design: &Design, skins: &[Skin], eta: f64) -> (f64, f64) {
    let of = |s: &Skin| core_stiffness(&design.library, s);
    (softest(design, skins, eta, |s| of(s).0), softest(design, skins, eta, |s| of(s).1))
}

/// [`face_stiffness`] of the softest band.
/// Unchecked: no outside check runs it by itself.
pub fn faces_upright(design: &Design, skins: &[Skin], eta: f64) -> (f64, f64) {
    (softest(design, skins, eta, |s| face_stiffness(s).0), softest(design, skins, eta, |s| face_stiffness(s).1))
}

/// What core and faces of one metre of web carry upright, N/m, each the softest band, `hot` the share of core properties
/// left.
///
/// Faces up to wrinkling or their strain limit; the core is compressed with them and gives what it has at that strain,
/// its crush strength at most. **Source:** balance of forces at equal strain; wrinkling as in [`sandwich`].
pub(super) fn upright_n_m(design: &Design, skins: &[Skin], eta: f64, hot: f64) -> (f64, f64) {
    let parts = |s: &Skin| -> (f64, f64) {
        let foam = s.foam.and_then(|i| design.library.foams.get(i));
        let strain = |f: &Face| {
            let wrinkle = foam.map_or(f64::INFINITY, |c| {
                sandwich::wrinkling(f.e_chord_pa, c.modulus_pa * hot, c.shear_modulus_pa * hot) / f.e_chord_pa.max(1.0)
            });
            wrinkle.min(f.strain_compression)
        };
        let faces = [&s.outer, &s.inner];
        let most = faces.iter().filter(|f| f.thickness_m > 0.0).map(|f| strain(f)).fold(f64::INFINITY, f64::min);
        let carried =
            if most.is_finite() { faces.iter().map(|f| f.e_chord_pa * f.thickness_m * most).sum() } else { 0.0 };
        let core = foam.map_or(0.0, |c| (c.crush_min_pa * hot).min(c.modulus_min_pa * hot * most) * s.core_thickness_m);
        (core, carried)
    };
    (softest(design, skins, eta, |s| parts(s).0), softest(design, skins, eta, |s| parts(s).1))
}

/// The same of the whole web as a pinned sandwich column over its height, as in [`sandwich`]. **Safe side:** pinned at the
/// caps.
pub(super) fn column_n_m(design: &Design, skins: &[Skin], (eta, height_m): (f64, f64), hot: f64) -> f64 {
    softest(design, skins, eta, |s| {
        let shear = if s.s_n_m.is_finite() { s.s_n_m * hot } else { s.s_n_m };
        sandwich::column(s.d.s22, shear, height_m.max(0.01))
    })
}

/// Shear flow a flat sheet can take in strength, N/m: A66 times the least shear strain of its faces; `k` as stiff as drawn. None
/// where no face says what it stands.
pub(super) fn sheared_n_m(s: &Skin, k: f64) -> Option<f64> {
    let faces = [&s.outer, &s.inner].into_iter().filter(|f| f.thickness_m > 0.0);
    let strain = faces.map(|f| f.strain_shear).fold(f64::INFINITY, f64::min);
    strain.is_finite().then_some(s.a.s66 * k * strain)
}

/// Shear flow at which such a sheet buckles, simply supported, its core with so much left of it at service temperature, N/m.
pub(super) fn buckles_n_m(s: &Skin, k: f64, (length_m, height_m): (f64, f64), core_share: f64) -> f64 {
    let mut d = s.d;
    d.plus(&s.d, k - 1.0);
    let (s_n_m, radius_m) = (s.s_n_m * core_share, f64::INFINITY);
    panel::shear(&Panel { length_m, width_m: height_m, d, a: s.a, s_n_m, radius_m })
}

/// Shear flow the web can take in strength and in buckling, N/m.
/// Unchecked: no outside check runs it by itself.
pub fn allowables(design: &Design, skins: &[Skin], eta: f64, extra: u32, panel_m: (f64, f64)) -> (f64, f64) {
    let Some(run) = run_at(design, eta) else { return (0.0, 0.0) };
    let (mut strength, mut buckle) = (f64::INFINITY, f64::INFINITY);
    for b in &run.bands {
        let Some(s) = skins.get(b.construction) else { continue };
        let k = thicker(design, b.construction, extra);
        strength = strength.min(sheared_n_m(s, k).unwrap_or(f64::INFINITY));
        // A band is not held at its own edges: the whole height buckles.
        buckle = buckle.min(buckles_n_m(s, k, panel_m, web_core_share(design)));
    }
    (if strength.is_finite() { strength } else { 0.0 }, if buckle.is_finite() { buckle } else { 0.0 })
}

/// The web of a bay: extra plies, and the shear flow it can take in strength and in buckling, N/m.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct InBay {
    extra: u32,
    allowed: (f64, f64),
}

/// The web of every bay.
pub(super) fn in_bays(c: &Context) -> Vec<InBay> {
    let of_bay = |(bay, (b, s)): (usize, (&Bay, &Section))| {
        let extra = c.sizing.web.get(bay).copied().unwrap_or(0);
        InBay { extra, allowed: allowables(c.design, c.skins, b.mid.eta, extra, (b.length_m, s.cap_lever_m)) }
    };
    c.layout.bays.iter().zip(c.sections).enumerate().map(of_bay).collect()
}

/// Margins of the web in strength or in buckling.
pub fn in_shear(c: &Context, key: &'static str, strength: bool, out: &mut Vec<Margin>) {
    for (bay, s) in c.sections.iter().enumerate().take(c.layout.bays.len()) {
        let (w, flow) = (c.web(bay), c.most(bay).web_flow);
        let allowed = if strength { w.allowed.0 } else { w.allowed.1 };
        let mut worked = margin(
            key,
            (Some(bay), None, Some(flow.case)),
            (flow.n_m.abs() * c.ultimate(), allowed, "N/m"),
            inputs![
                ("V limit", flow.shear_n, "N"),
                ("T limit", flow.torque_nm, "N m"),
                ("cap lever", s.cap_lever_m, "m"),
                ("factor", c.ultimate(), ""),
                ("extra plies", f64::from(w.extra), ""),
            ],
        );
        let coupled = |b: &WebBand| c.skins.get(b.construction).is_some_and(|s| skins::coupled(&s.d));
        let at = c.layout.bays.get(bay).map_or(0.0, |b| b.mid.eta);
        if !strength && run_at(c.design, at).is_some_and(|r| r.bands.iter().any(coupled)) {
            worked.verdict = Verdict::NotShown("plies couple bending and twist: outside the orthotropic panel formula");
        }
        out.push(worked);
    }
}
