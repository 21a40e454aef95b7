//! What material of the spar costs: caps, backing, web and posts, as they are laid.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::spar::{CapLayers, bands, cap_layers, cap_width_m, price_per_m3, web_height_m};
use crate::physics::strength::sizing::Sizing;
use crate::physics::wing::layout::{Bay, Layout};

/// A stretch of the spar: its own length, m, and the clear height of its web, m.
struct Stretch<'a> {
    bay: &'a Bay,
    layers: [f64; 2],
    web_layers: f64,
    length_m: f64,
    height_m: f64,
}

impl<'a> Stretch<'a> {
    fn of(bay: &'a Bay, which: usize, sizing: &Sizing, caps: &CapLayers) -> Self {
        let n = |v: &[u32]| f64::from(v.get(which).copied().unwrap_or(0));
        let layers = [n(&sizing.upper), n(&sizing.lower)];
        let [upper_m, lower_m] = [layers[0] * caps.upper.thickness_m, layers[1] * caps.lower.thickness_m];
        Self {
            bay,
            layers,
            web_layers: n(&sizing.web),
            length_m: bay.length_m / bay.mid.spar_cos(),
            height_m: web_height_m(&bay.mid, upper_m, lower_m),
        }
    }

    /// The web there, both halves.
    fn web(&self, design: &Design, skins: &[Skin]) -> f64 {
        let bands = bands(design, skins, self.bay.mid.eta, self.web_layers);
        2.0 * self.length_m * self.height_m * bands.map(|b| b.share * b.price_per_m2).sum::<f64>()
    }

    /// Caps, backing and posts there, both halves.
    fn rest(&self, design: &Design, caps: &CapLayers) -> f64 {
        let eta = self.bay.mid.eta;
        let spar = &design.spar;
        let mut area = 0.0;
        for ((cap, layer), n) in [(&spar.upper, &caps.upper), (&spar.lower, &caps.lower)].into_iter().zip(self.layers) {
            area += cap_width_m(cap, eta) * n * layer.price_per_m2;
            area += cap.backing.as_ref().map_or(0.0, |b| b.width_m * b.depth_m * price_per_m3(design, b.material));
        }
        for p in spar.posts.iter().filter(|p| eta >= p.from_eta && eta <= p.to_eta) {
            area += p.width_m * p.depth_m / p.pitch_m * self.height_m * price_per_m3(design, p.material);
        }
        2.0 * self.length_m * area
    }
}

/// Material of the spar with what is wasted, both halves.
///
/// By the bay, in its middle, along the spar: layers times width times the price of a square metre of each cap's own layer; backing and
/// posts by volume; the web by height, share and price of each of its bands with the plies that sizing added. Glue, laps and the
/// foam that ends of layers lie on have no price.
/// **Source:** areas and volumes times prices of the library. Derived here. **Valid for:** any.
pub fn material(design: &Design, layout: &Layout, skins: &[Skin], sizing: &Sizing) -> f64 {
    let caps = cap_layers(design, &Assumptions::default());
    let here = |(i, bay): (usize, &Bay)| {
        let s = Stretch::of(bay, i, sizing, &caps);
        s.web(design, skins) + s.rest(design, &caps)
    };
    layout.bays.iter().enumerate().map(here).sum::<f64>() * (1.0 + design.rates.waste)
}

/// Of it the web, in one bay or in all.
pub fn of_web(wing: (&Design, &Layout, &[Skin]), sizing: &Sizing, bay: Option<usize>) -> f64 {
    let (design, layout, skins) = wing;
    let caps = cap_layers(design, &Assumptions::default());
    let there = layout.bays.iter().enumerate().filter(|(i, _)| bay.is_none_or(|b| b == *i));
    let web = there.map(|(i, bay)| Stretch::of(bay, i, sizing, &caps).web(design, skins));
    web.sum::<f64>() * (1.0 + design.rates.waste)
}
