//! Caps and web sized by whole plies: how many hold the loads in each bay, and how they can be laid.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Cap, Design};
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::along::Along;
use crate::physics::loads::internal::Loads;
use crate::physics::mass::spar::{CapLayers, cap_layers, cap_width_m};
use crate::physics::strength::caps::{self, Bed, Held};
use crate::physics::strength::sizing::{Sizing, bounds, clear_depth_m};
use crate::physics::strength::{stretches, web};
use crate::physics::wing::layout::{Bay, Layout};

/// Whole layers that hold the cap and web modes under the loads, none fewer than `from`, laid as a person can: cap layers from the root
/// outwards or the tip inwards, plies of the web over stretches of bays.
/// Unchecked: no outside check runs it by itself.
pub fn size(design: &Design, layout: &Layout, skins: &[Skin], loads: &Loads, from: &Sizing) -> Sizing {
    Sizer::of(design, layout, skins).size(&Along::of(loads), from)
}

/// The spar of a wing, made ready to be sized under loads that grow from pass to pass.
pub struct Sizer<'a> {
    design: &'a Design,
    skins: &'a [Skin],
    layers: CapLayers,
    /// Ultimate over limit.
    factor: f64,
    bays: Vec<BaySpar<'a>>,
    /// Flow round the nose cell alone for each unit of torque, by bay, 1/m2.
    per_nm: Vec<f64>,
    /// Greatest moments up and down or greatest flow, levers and what goes by them, by bay: room that is used again.
    room: [Vec<f64>; 3],
}

/// A bay while it is sized. What caps and web of some layers hold is kept until other layers are asked for.
struct BaySpar<'a> {
    bay: &'a Bay,
    depth_m: f64,
    bed: Bed,
    /// Most layers of upper cap, lower cap and web.
    most: [u32; 3],
    caps: Option<((u32, u32), Held)>,
    web: Option<(u32, f64, (f64, f64))>,
}

impl<'a> Sizer<'a> {
    /// Of a laid-out wing.
    pub fn of(design: &'a Design, layout: &'a Layout, skins: &'a [Skin]) -> Self {
        let spar = &design.spar;
        let most = |eta: f64| [&spar.upper.layers, &spar.lower.layers, &spar.web_layers].map(|l| bounds(l, eta).1);
        let beds = caps::beds(design, skins, layout);
        let one = |((i, bay), bed): ((usize, &'a Bay), Bed)| BaySpar {
            bay,
            depth_m: clear_depth_m(layout, skins, &bay.inner, i),
            bed,
            most: most(bay.mid.eta),
            caps: None,
            web: None,
        };
        let cell_m2 = |b: &Bay| b.inner.spar_cos() * b.inner.nose_cell_m2;
        Self {
            design,
            skins,
            layers: cap_layers(design, &Assumptions::default()),
            factor: design.ultimate(),
            bays: layout.bays.iter().enumerate().zip(beds).map(one).collect(),
            per_nm: layout.bays.iter().map(|b| 1.0 / (2.0 * cell_m2(b)).max(1e-6)).collect(),
            room: [Vec::new(), Vec::new(), Vec::new()],
        }
    }

    /// The layers that hold these loads, none fewer than `from`.
    /// Unchecked: no outside check runs it by itself.
    pub fn size(&mut self, loads: &Along, from: &Sizing) -> Sizing {
        let mut out = from.clone();
        self.size_caps(loads, &mut out);
        self.size_web(loads, &mut out);
        out
    }

    fn size_caps(&mut self, loads: &Along, out: &mut Sizing) {
        let [mut up_nm, mut down_nm, spare] = self.take_room();
        let n = self.bays.len();
        for [_, moment_nm, _] in loads.cases() {
            // Lists cut to one length, so that several bays are gone through at once.
            let n = n.min(moment_nm.len());
            for ((up, down), m) in up_nm[..n].iter_mut().zip(&mut down_nm[..n]).zip(&moment_nm[..n]) {
                *up = if *m > *up { *m } else { *up };
                *down = if *m < *down { *m } else { *down };
            }
        }
        for (_, p) in loads.peaks().iter().filter(|(_, p)| p.bay < n) {
            up_nm[p.bay] = up_nm[p.bay].max(p.moment_nm);
            down_nm[p.bay] = down_nm[p.bay].min(p.moment_nm);
        }
        // Layers laid where they are not needed may ask for others in turn.
        loop {
            let mut beyond = (0, 0);
            for bay in (0..n).rev() {
                let ultimate_nm = (up_nm[bay] * self.factor, down_nm[bay] * self.factor);
                beyond = self.size_cap_bay(bay, ultimate_nm, (beyond, out));
            }
            if !self.lay_caps(out) {
                break;
            }
        }
        self.room = [up_nm, down_nm, spare];
    }

    /// Layers of the caps of one bay, looked for from those of the next bay outboard.
    fn size_cap_bay(
        &mut self,
        bay: usize,
        ultimate_nm: (f64, f64),
        (beyond, out): ((u32, u32), &mut Sizing),
    ) -> (u32, u32) {
        let [most_u, most_l, _] = self.bays[bay].most;
        let (from_u, from_l) = (out.upper[bay].min(most_u), out.lower[bay].min(most_l));
        let (mut u, mut l) = (from_u.max(beyond.0).min(most_u), from_l.max(beyond.1).min(most_l));
        let (mut ru, mut rl) = self.held(bay, (u, l)).reserves(ultimate_nm);
        while (ru < 1.0 && u < most_u) || (rl < 1.0 && l < most_l) {
            u += u32::from(ru < 1.0 && u < most_u);
            l += u32::from(rl < 1.0 && l < most_l);
            (ru, rl) = self.held(bay, (u, l)).reserves(ultimate_nm);
        }
        out.at_limit |= ru < 1.0 || rl < 1.0;
        // A layer fewer holds hardly more than its share.
        let spare = |r: f64, n: u32| r * f64::from(n.saturating_sub(1)) >= f64::from(n);
        loop {
            let less = match (u > from_u && spare(ru, u), l > from_l && spare(rl, l)) {
                (true, _) => (u - 1, l),
                (_, true) => (u, l - 1),
                _ => break,
            };
            let (with_u, with_l) = self.held(bay, less).reserves(ultimate_nm);
            if with_u < 1.0 || with_l < 1.0 {
                break;
            }
            ((u, l), (ru, rl)) = (less, (with_u, with_l));
        }
        (out.upper[bay], out.lower[bay]) = (u, l);
        (u, l)
    }

    /// Cap layers as they can be laid; whether any was added.
    fn lay_caps(&self, out: &mut Sizing) -> bool {
        let spar = &self.design.spar;
        let lay = |n: &mut [u32], cap: &Cap, which: usize| {
            let area_m2 = |b: &Bay| cap_width_m(cap, b.mid.eta) * b.length_m / b.mid.spar_cos();
            stretches::of_cap(n, |bay| self.bays[bay].most[which], |bay| area_m2(self.bays[bay].bay))
        };
        let upper = lay(&mut out.upper, &spar.upper, 0);
        lay(&mut out.lower, &spar.lower, 1) || upper
    }

    /// Room for three numbers of each bay, nothing in it.
    fn take_room(&mut self) -> [Vec<f64>; 3] {
        let mut room = std::mem::take(&mut self.room);
        for list in &mut room {
            list.clear();
            list.resize(self.bays.len(), 0.0);
        }
        room
    }

    /// The web between caps that are sized: torsion with the nose cell alone, the greater flow.
    fn size_web(&mut self, loads: &Along, out: &mut Sizing) {
        let room = self.take_room();
        let lever = |(bay, b): (usize, &BaySpar)| {
            let n = |v: &[u32]| f64::from(v.get(bay).copied().unwrap_or(0));
            let (upper, lower) = (&self.layers.upper, &self.layers.lower);
            (b.depth_m - (n(&out.upper) * upper.thickness_m + n(&out.lower) * lower.thickness_m) / 2.0).max(0.01)
        };
        let [mut flow_n_m, mut lever_m, mut per_n] = room;
        for ((lever_m, per_n), of) in lever_m.iter_mut().zip(&mut per_n).zip(self.bays.iter().enumerate()) {
            *lever_m = lever(of);
            *per_n = 1.0 / *lever_m;
        }
        for [shear_n, _, torque_nm] in loads.cases() {
            let n = flow_n_m.len().min(shear_n.len()).min(torque_nm.len());
            let of_bay = shear_n[..n].iter().zip(&torque_nm[..n]).zip(per_n[..n].iter().zip(&self.per_nm[..n]));
            for (most, ((v, t), (of_shear, of_torque))) in flow_n_m[..n].iter_mut().zip(of_bay) {
                let flow = v.abs() * of_shear + t.abs() * of_torque;
                *most = if flow > *most { flow } else { *most };
            }
        }
        for (_, p) in loads.peaks().iter().filter(|(_, p)| p.bay < self.bays.len()) {
            let flow = p.shear_n.abs() * per_n[p.bay] + p.torque_nm.abs() * self.per_nm[p.bay];
            flow_n_m[p.bay] = flow_n_m[p.bay].max(flow);
        }
        for bay in 0..self.bays.len() {
            let (most, ultimate_n_m) = (self.bays[bay].most[2], (flow_n_m[bay] * self.factor).max(1e-9));
            let mut extra = out.web[bay].min(most);
            while extra < most && self.web(bay, extra, lever_m[bay]) / ultimate_n_m < 1.0 {
                extra += 1;
            }
            out.web[bay] = extra;
        }
        stretches::of_web(&mut out.web, |bay| self.bays[bay].most[2]);
        self.room = [flow_n_m, lever_m, per_n];
    }

    /// What the caps of a bay hold with so many layers.
    fn held(&mut self, bay: usize, n: (u32, u32)) -> Held {
        let b = &mut self.bays[bay];
        match b.caps {
            Some((of, held)) if of == n => held,
            _ => {
                let held = Held::of(self.design, &self.layers, (b.bay.inner.eta, b.depth_m), n, &b.bed);
                b.caps.insert((n, held)).1
            }
        }
    }

    /// Shear flow that the web of a bay can take, N/m.
    fn web(&mut self, bay: usize, extra: u32, lever_m: f64) -> f64 {
        let b = &mut self.bays[bay];
        let (strength, buckle) = match b.web {
            Some((of, on, allowed)) if of == extra && on == lever_m => allowed,
            _ => {
                let panel_m = (b.bay.length_m, lever_m);
                let allowed = web::allowables(self.design, self.skins, b.bay.mid.eta, extra, panel_m);
                b.web.insert((extra, lever_m, allowed)).2
            }
        };
        strength.min(buckle)
    }
}
