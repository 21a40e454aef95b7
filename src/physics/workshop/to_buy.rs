//! What to buy for the cut list: length of roll and number of sheets of each material, and how much of it is waste.

use crate::physics::design::{CapMaterial, Design};
use crate::physics::workshop::cuts::{Cut, CutList, Stuff, sheet_of};
use crate::physics::workshop::nest::{self, Laid};
use crate::physics::workshop::outline::{Sheet, step_m, turned_m};

/// A material in one thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    pub stuff: Stuff,
    /// m; 0 of cloth and covering.
    pub thickness_m: f64,
    pub from: Sheet,
    /// Blanks of it.
    pub blanks: u32,
    /// Roll to buy, m, or sheets.
    pub roll_m: f64,
    pub sheets: u32,
    /// Bought, and left of it in the wing with its laps, m2; blanks that are too large are in neither.
    pub bought_m2: f64,
    pub used_m2: f64,
    /// Of that: laps between lengths of one ply, m2.
    pub join_m2: f64,
    /// Bought and left of it in the wing, kg.
    pub bought_kg: f64,
    pub used_kg: f64,
    /// At the price of the library; None for what has none.
    pub price: Option<f64>,
    /// Blanks that no roll or sheet of this size holds.
    pub too_large: u32,
}

impl Material {
    /// Share of what is bought that ends as waste; None where nothing is bought.
    pub fn waste(&self) -> Option<f64> {
        (self.bought_m2 > 0.0).then(|| 1.0 - self.used_m2 / self.bought_m2)
    }
}

/// Pieces nearer than this to along or across the roll are laid one by one, others in rows, rad.
const SQUARE_RAD: f64 = 0.02;

/// How the blanks of one line lie on a roll: each by itself, pairs of trapezes head to tail where that is narrower, or a row of them
/// at their angle for each column that the roll has room for.
fn laid(cut: &Cut, width_m: f64, pairs: bool) -> Vec<Laid> {
    let (b, n) = (&cut.blank, cut.count);
    let angle = cut.angle_rad;
    let (s, c) = (angle.sin().abs(), angle.cos().abs());
    let (across_m, along_m) = turned_m(b.length_m, b.width_m, angle);
    if s > SQUARE_RAD && c > SQUARE_RAD {
        let columns = ((width_m + 1e-9) / across_m).floor().clamp(1.0, f64::from(n)) as u32;
        let step_m = step_m(b.length_m, b.width_m, angle);
        let row = |in_it: u32| Laid { across_m, along_m: along_m + f64::from(in_it.saturating_sub(1)) * step_m };
        let longer = n % columns;
        return (0..columns).map(|i| row(n / columns + u32::from(i < longer))).collect();
    }
    if pairs && b.pair_m.0 > 0.0 {
        let pair = turned_m(b.pair_m.1, b.pair_m.0, angle);
        if pair.0 <= width_m + 1e-9 {
            let mut out = vec![Laid { across_m: pair.0, along_m: pair.1 }; (n / 2) as usize];
            out.extend((n % 2 == 1).then_some(Laid { across_m, along_m }));
            return out;
        }
    }
    vec![Laid { across_m, along_m }; n as usize]
}

/// Each way of laying the blanks of a material, the shorter taken.
fn roll(cuts: &[&Cut], width_m: f64) -> f64 {
    let by = |pairs: bool| {
        let all: Vec<Laid> = cuts.iter().flat_map(|c| laid(c, width_m, pairs)).collect();
        nest::roll_m(&all, width_m)
    };
    by(true).min(by(false))
}

/// Blanks on sheets, the long way along the sheet.
fn on_sheets(cuts: &[&Cut], [length_m, width_m]: [f64; 2]) -> u32 {
    let by = |pairs: bool| {
        let all: Vec<Laid> = cuts.iter().flat_map(|c| laid(c, width_m, pairs)).collect();
        // A pair is longer by its slant; where no sheet holds it the two lie apart.
        if pairs && all.iter().any(|l| l.along_m > length_m + 1e-9) {
            return u32::MAX;
        }
        nest::sheets(&all, [length_m, width_m])
    };
    by(true).min(by(false))
}

/// kg/m2 and price of a square metre.
fn areal(design: &Design, stuff: Stuff, thickness_m: f64, cuts: &[&Cut]) -> (f64, Option<f64>) {
    let lib = &design.library;
    let as_cut = || {
        let (kg, m2) = cuts.iter().fold((0.0, 0.0), |a, c| (a.0 + c.net_kg, a.1 + c.net_m2));
        if m2 > 0.0 { kg / m2 } else { 0.0 }
    };
    match stuff {
        Stuff::Cloth(i) => lib.fabrics.get(i).map_or((0.0, None), |f| (f.areal_mass_kg_m2, Some(f.price_per_m2))),
        Stuff::Covering(i) => lib.coverings.get(i).map_or((0.0, None), |f| (f.areal_mass_kg_m2, Some(f.price_per_m2))),
        Stuff::Foam(i) => (as_cut(), lib.foams.get(i).map(|f| f.price_per_m3 * thickness_m)),
        Stuff::Wood(i) => (as_cut(), lib.woods.get(i).map(|w| w.price_per_m3 * thickness_m)),
        Stuff::Strip(upper) => {
            let cap = if upper { &design.spar.upper } else { &design.spar.lower };
            let price = match cap.material {
                CapMaterial::Pultruded { price_per_kg, .. } => Some(as_cut() * price_per_kg),
                CapMaterial::Plies(_) | CapMaterial::Wood { .. } => None,
            };
            (as_cut(), price)
        }
    }
}

/// Everything to buy, by kind and key.
pub fn of(design: &Design, list: &CutList) -> Vec<Material> {
    let mut kinds: Vec<(Stuff, f64)> = Vec::new();
    for c in &list.cuts {
        if !kinds.iter().any(|k| k.0 == c.stuff && (k.1 - c.thickness_m).abs() < 1e-6) {
            kinds.push((c.stuff, c.thickness_m));
        }
    }
    kinds.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let is_of = |c: &&Cut, k: &(Stuff, f64)| c.stuff == k.0 && (c.thickness_m - k.1).abs() < 1e-6;
    kinds.iter().map(|k| one(design, *k, &list.cuts.iter().filter(|c| is_of(c, k)).collect::<Vec<_>>())).collect()
}

fn one(design: &Design, (stuff, thickness_m): (Stuff, f64), cuts: &[&Cut]) -> Material {
    let from = sheet_of(design, stuff);
    let fits = |c: &&&Cut| match from {
        Sheet::Roll(w) => turned_m(c.blank.length_m, c.blank.width_m, c.angle_rad).0 <= w + 1e-9,
        Sheet::Flat([l, w]) => c.blank.length_m <= l + 1e-9 && c.blank.width_m <= w + 1e-9,
        Sheet::Any => true,
    };
    let held: Vec<&Cut> = cuts.iter().filter(fits).copied().collect();
    let (mut roll_m, mut sheets) = (0.0, 0);
    let bought_m2 = match from {
        Sheet::Roll(w) => {
            roll_m = roll(&held, w);
            roll_m * w
        }
        Sheet::Flat(s) => {
            sheets = on_sheets(&held, s);
            f64::from(sheets) * s[0] * s[1]
        }
        Sheet::Any => {
            roll_m = held.iter().map(|c| f64::from(c.count) * c.blank.length_m).sum();
            held.iter().map(|c| f64::from(c.count) * c.blank.length_m * c.blank.width_m).sum()
        }
    };
    let (areal, price) = areal(design, stuff, thickness_m, cuts);
    let sum = |f: &dyn Fn(&Cut) -> f64| held.iter().map(|c| f(c)).sum::<f64>();
    Material {
        stuff,
        thickness_m,
        from,
        blanks: cuts.iter().map(|c| c.count).sum(),
        roll_m,
        sheets,
        bought_m2,
        used_m2: sum(&|c| c.net_m2 + c.lap[0] + c.join[0]),
        join_m2: sum(&|c| c.join[0]),
        bought_kg: bought_m2 * areal,
        used_kg: sum(&|c| c.net_kg + c.lap[1] + c.join[1]),
        price: price.map(|p| p * bought_m2),
        too_large: cuts.iter().filter(|c| !fits(c)).map(|c| c.count).sum(),
    }
}
