//! Laps between the lengths of one ply: a roll at an angle to a panel, or narrower than it, reaches only so far, and what goes on
//! lies double there. It is cut, wetted and stays in the wing.

use std::borrow::Cow;

use crate::physics::design::{Design, WebBand};
use crate::physics::laminate::construction::{Construction, Ply, Skin};
use crate::physics::laminate::ply;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::stock::Size;
use crate::physics::wing::layout::{Layout, Zone};

/// What a ply is laid from: width of its roll, what is left for trimming on each side, lap of one length on the next, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roll {
    pub roll_m: f64,
    pub trim_m: f64,
    pub lap_m: f64,
}

/// Most lengths side by side. A choice.
const MOST_STRIPS: u32 = 30;

/// Area of the laps of a ply over its own area, in a strip as wide and much longer than a length of the roll: `l/(a - l) + (n - 1) l/b`
/// with `a = (W - b' |cos|)/|sin|` what the roll W reaches along the strip in n lengths side by side, each `b'` wide with trims, b the
/// width of the strip, l the lap; of all n that with the fewest lengths. Along the roll (sin 0) a length never ends.
///
/// **Derived here:** the box round a turned rectangle (`workshop::outline::turned_m`). **Valid for:** strips of even width; where no
/// length fits, 0. **Safe side:** a last length is counted like the others, so a strip of few lengths has fewer laps than this says.
pub fn lap_share(width_m: f64, angle_rad: f64, from: Roll) -> f64 {
    share(width_m, (angle_rad.sin().abs(), angle_rad.cos().abs()), from)
}

fn share(width_m: f64, (sin, cos): (f64, f64), from: Roll) -> f64 {
    let (whole_m, lap_m) = (width_m + 2.0 * from.trim_m, from.lap_m);
    if !(width_m > 0.0 && lap_m > 0.0) {
        return 0.0;
    }
    // Lengths for each metre of strip, and their laps over the area.
    let mut best: Option<(f64, f64)> = None;
    for n in 1..=MOST_STRIPS {
        let m = f64::from(n);
        let each_m = (whole_m + (m - 1.0) * lap_m) / m;
        let left_m = from.roll_m - each_m * cos;
        let beside = (m - 1.0) * lap_m / width_m;
        let found = if sin < 1e-9 {
            (left_m >= 0.0).then_some((m, beside))
        } else {
            let reach_m = left_m / sin;
            (reach_m > 2.0 * lap_m).then(|| (m / (reach_m - lap_m), lap_m / (reach_m - lap_m) + beside))
        };
        match (found, best) {
            (Some(f), Some(b)) if f.0 >= b.0 => break,
            (Some(f), _) => best = Some(f),
            (None, Some(_)) => break,
            (None, None) => {}
        }
    }
    best.map_or(0.0, |b| b.1)
}

/// A ply of a construction: its share of the dry cloth, sine and cosine of its angle, its roll.
#[derive(Debug, Clone, Copy)]
struct OfPly {
    of_cloth: f64,
    turned: (f64, f64),
    from: Roll,
}

/// The laps of the constructions of skins and web, worked out once.
#[derive(Debug)]
pub(crate) struct Laps {
    plies: Vec<Vec<OfPly>>,
}

impl Laps {
    pub(crate) fn of(design: &Design, layout: &Layout) -> Self {
        let mut plies = vec![Vec::new(); design.constructions.len()];
        let webs = design.spar.web.iter().flat_map(|r| &r.bands).map(|b| b.construction);
        for i in layout.zones.iter().map(|z| z.construction).chain(webs) {
            if let (Some(of), Some(c)) = (plies.get_mut(i), design.constructions.get(i))
                && of.is_empty()
            {
                *of = of_plies(design, c);
            }
        }
        Self { plies }
    }

    fn share(&self, construction: usize, width_m: f64) -> f64 {
        let plies = self.plies.get(construction).map_or(&[][..], Vec::as_slice);
        plies.iter().map(|p| p.of_cloth * share(width_m, p.turned, p.from)).sum()
    }

    /// Fibre and resin of the laps of a panel of this width, kg for each m2 of it.
    fn areal_kg_m2(&self, construction: usize, s: &Skin, width_m: f64) -> f64 {
        let cloth = s.mass.fibre + s.mass.resin;
        if cloth > 0.0 { cloth * self.share(construction, width_m) } else { 0.0 }
    }

    /// Of a zone, both halves, kg.
    pub(crate) fn of_zone_kg(&self, z: &Zone, skins: &[Skin]) -> f64 {
        let Some(s) = skins.get(z.construction) else { return 0.0 };
        2.0 * z.area_m2 * self.areal_kg_m2(z.construction, s, z.arc_m)
    }

    /// Of the web of a bay with so many plies more on each face than are drawn, both halves, kg.
    pub(crate) fn of_web_kg(
        &self,
        (design, skins): (&Design, &[Skin]),
        eta: f64,
        (length_m, height_m): (f64, f64),
        extra: f64,
    ) -> f64 {
        let Some(run) = design.spar.web_run(eta).and_then(|i| design.spar.web.get(i)) else { return 0.0 };
        let of = |b: &WebBand| {
            let (c, width_m) = (b.construction, height_m * b.height_frac);
            let Some(s) = skins.get(c) else { return 0.0 };
            2.0 * length_m * width_m * (self.areal_kg_m2(c, s, width_m) + self.extra_kg_m2(design, c, (extra, width_m)))
        };
        run.bands.iter().map(of).sum()
    }

    /// Of plies laid more than drawn on each face of a web, kg for each m2 of it.
    fn extra_kg_m2(&self, design: &Design, construction: usize, (extra, width_m): (f64, f64)) -> f64 {
        if extra <= 0.0 {
            return 0.0;
        }
        let Some(c) = design.constructions.get(construction) else { return 0.0 };
        let firsts = [(&c.outer, 0), (&c.inner, c.outer.len())];
        let each = firsts.into_iter().filter_map(|(face, at)| {
            let of = self.plies.get(construction)?.get(at)?;
            Some(wet_kg_m2(design, face.first()?) * share(width_m, of.turned, of.from))
        });
        extra * each.sum::<f64>()
    }
}

/// Fibre and resin of one ply, kg/m2.
fn wet_kg_m2(design: &Design, p: &Ply) -> f64 {
    let lib = &design.library;
    let (Some(cloth), Some(process), Some(resin)) =
        (lib.fabrics.get(p.fabric), lib.processes.get(p.process), lib.resin())
    else {
        return 0.0;
    };
    lib.fibres.get(cloth.fibre).map_or(0.0, |fibre| {
        let cured = ply::cure(cloth, fibre, resin, process, 1.0);
        cured.fibre_kg_m2 + cured.resin_kg_m2
    })
}

fn of_plies(design: &Design, c: &Construction) -> Vec<OfPly> {
    let areal = |fabric: usize| design.library.fabrics.get(fabric).map_or(0.0, |f| f.areal_mass_kg_m2);
    let dry: f64 = c.outer.iter().chain(&c.inner).map(|p| areal(p.fabric)).sum();
    let each = c.outer.iter().chain(&c.inner).map(|p| OfPly {
        of_cloth: if dry > 0.0 { areal(p.fabric) / dry } else { 0.0 },
        turned: (p.angle_rad.sin().abs(), p.angle_rad.cos().abs()),
        from: Roll {
            // Cloth in sheets is cut like a roll as wide as the sheet.
            roll_m: match design.stock.of_cloth(&design.library, p.fabric) {
                Size::Roll(w) | Size::Sheet([_, w]) => w,
            },
            trim_m: design.stock.trim_m,
            lap_m: design.stock.join_lap_m,
        },
    });
    each.collect()
}

/// Laps of the plies of skins.
pub(crate) fn zones(list: &mut List, laps: &Laps, layout: &Layout, skins: &[Skin]) {
    for z in &layout.zones {
        let Some(bay) = layout.bays.get(z.bay) else { continue };
        let kg = laps.of_zone_kg(z, skins);
        if kg > 0.0 {
            let m = &bay.mid;
            list.add(Heading::Bonds, FAMILY, Cow::Borrowed(NAME), kg)
                .spread(SPREAD)
                .at(m.x_le_m + m.chord_m * f64::midpoint(z.chord_from, z.chord_to), m.y_m)
                .zone(z.strip, z.bay);
        }
    }
}

/// What the lines are called, the family they err with, and how far: a lap is as wide as hands lay it. An assumption, as of splices.
pub(crate) const NAME: &str = "ply laps";
pub(crate) const FAMILY: usize = 4004;
pub(crate) const SPREAD: f64 = 0.3;
