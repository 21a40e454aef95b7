//! Resin by batch: what is laid up in one go, the resin it needs with what stays in pot and bag, and the pots it is mixed in.

use crate::physics::stock::Stock;
use crate::physics::workshop::cuts::{CutList, Other};

/// One lay-up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Batch {
    pub name: String,
    /// How many alike; every number below is of one.
    pub times: u32,
    /// Glue for a joint, not resin for plies.
    pub glue: bool,
    /// Dry fibre, kg, and area of all its plies, m2, laps included.
    pub fibre_kg: f64,
    pub ply_m2: f64,
    /// Resin that stays in plies and on their surface, in laps between lengths, and what fills the face of the core, kg.
    pub stays_kg: f64,
    pub filling_kg: f64,
    /// Mixed, kg: with what is lost.
    pub mixed_kg: f64,
    /// Time to wet the plies out, minutes.
    pub minutes: f64,
    /// Pots, all alike.
    pub pots: u32,
}

impl Batch {
    /// Mass of one pot, kg.
    pub fn pot_kg(&self) -> f64 {
        if self.pots > 0 { self.mixed_kg / f64::from(self.pots) } else { 0.0 }
    }
}

/// Resin for a mass of fibre: `f (1 - w)/w`, w the share of the fibre in the laminate by mass.
/// **Source:** balance of mass; worked as 6 kg of glass at 30 % in a supplier's note on hand lay-up (boytek.com.tr). **Valid for:** 0 < w < 1.
pub fn resin_kg(fibre_kg: f64, fibre_mass_fraction: f64) -> f64 {
    if fibre_mass_fraction > 0.0 { fibre_kg * (1.0 - fibre_mass_fraction) / fibre_mass_fraction } else { 0.0 }
}

/// Resin and hardener of a mixed mass: `m 100/(100 + h)` and `m h/(100 + h)`, h parts of hardener to 100 of resin by mass.
/// **Source:** rule of mixing by mass. **Valid for:** h as the data sheet of the resin says.
pub fn split_kg(mixed_kg: f64, hardener_parts: f64) -> (f64, f64) {
    let whole = 100.0 + hardener_parts;
    (mixed_kg * 100.0 / whole, mixed_kg * hardener_parts / whole)
}

/// The fewest pots of which none is heavier than the largest allowed and none takes longer to use up than it stays workable.
/// **Derived.** **Valid for:** largest pot and pot life above 0; both are choices that the maker of the resin must bear out.
pub fn pots(mixed_kg: f64, minutes: f64, stock: &Stock) -> u32 {
    if mixed_kg <= 0.0 {
        return 0;
    }
    let by = |amount: f64, most: f64| if most > 0.0 { (amount / most - 1e-9).ceil().clamp(1.0, 1e6) } else { 1.0 };
    by(mixed_kg, stock.pot_kg).max(by(minutes, stock.pot_life_min)) as u32
}

/// All lay-ups, in the order of the cut list.
pub fn of(stock: &Stock, list: &CutList) -> Vec<Batch> {
    let mut out: Vec<Batch> = Vec::new();
    for (i, l) in list.lay_ups.iter().enumerate() {
        let mut b = Batch { name: l.name.clone(), times: l.times, glue: l.glue, ..Batch::default() };
        for c in list.cuts.iter().filter(|c| c.lay_up == Some(i)) {
            let area_m2 = c.net_m2 + c.lap[0] + c.join[0];
            if c.resin_kg_m2 > 0.0 {
                b.fibre_kg += c.net_kg + c.lap[1] + c.join[1];
                b.ply_m2 += area_m2;
                b.stays_kg += area_m2 * c.resin_kg_m2;
                b.mixed_kg += area_m2 * c.resin_kg_m2 * c.resin_waste;
            }
        }
        for u in list.uses.iter().filter(|u| u.lay_up == Some(i)) {
            if u.what == Other::PickUp {
                b.filling_kg += u.kg;
            } else {
                b.stays_kg += u.kg;
            }
            b.mixed_kg += u.kg * u.resin_waste;
        }
        let n = f64::from(l.times.max(1));
        for kg in [&mut b.fibre_kg, &mut b.ply_m2, &mut b.stays_kg, &mut b.filling_kg, &mut b.mixed_kg] {
            *kg /= n;
        }
        b.minutes = b.ply_m2 * stock.wet_out_min_m2;
        b.pots = pots(b.mixed_kg, b.minutes, stock);
        if b.mixed_kg > 0.0 {
            out.push(b);
        }
    }
    out
}
