//! What the rib modes share: the load of the air on the part behind the spar, and the rib there.

use crate::physics::design::RibKind;
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::loads::section::{lift_share_ahead, plain_flap};
use crate::physics::strength::Context;
use crate::physics::wing::layout::{Bay, Station};

/// Shear and moment of the aft rib at the spar, limit, and the case.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Aft {
    pub shear_n: f64,
    pub moment_nm: f64,
    pub case: usize,
}

/// A rib behind the spar, over the greatest loads of a bay.
pub struct AftRib<'c> {
    pub bay: usize,
    pub kind: &'c RibKind,
    pub length_m: f64,
    /// Outside depth at the spar and where the aft part ends, m.
    pub depth_m: f64,
    pub end_depth_m: f64,
    pub most_shear: Aft,
    pub most_moment: Aft,
}

/// Root shear and moment of a cantilever of length L under a load falling in a straight line to nothing at its end (W1 in
/// all) and an even load (W2 in all): `V = W1 + W2`, `M = W1 L/3 + W2 L/2`. **Source:** any text.
pub fn cantilever(falling_n: f64, even_n: f64, length_m: f64) -> (f64, f64) {
    (falling_n + even_n, falling_n * length_m / 3.0 + even_n * length_m / 2.0)
}

/// Strain of a rib cap, both caps alike: `M/(h E A)`. **Source:** any text.
pub fn cap_strain(moment_nm: f64, depth_m: f64, cap_ea_n: f64) -> f64 {
    moment_nm / (depth_m.max(0.01) * cap_ea_n.max(1e-9))
}

/// Shear flow of a rib whose depth falls by `slope` per metre outwards from the spar, N/m: `V/h - M/h^2 slope`.
/// **Source:** statics of inclined caps, any text.
pub fn shear_flow_n_m(shear_n: f64, moment_nm: f64, depth_m: f64, slope: f64) -> f64 {
    let h = depth_m.max(0.01);
    shear_n / h - moment_nm / (h * h) * slope
}

/// Every aft rib with its loads.
///
/// Lift of incidence lies as over a flat plate: the share behind the spar, falling to the trailing edge. Section moment
/// (camber, deflected control) is an even load `-4 cm q` per chord, which has that moment about the quarter chord.
/// **Source:** thin-aerofoil theory; split Derived here. **Valid for:** attached flow. **Safe side:** the straight fall has
/// more moment than the flat plate's own.
pub fn each<'c>(c: &'c Context, mut f: impl FnMut(AftRib<'c>)) {
    for bay in 0..c.layout.bays.len() {
        if let Some(r) = at(c, bay) {
            f(r);
        }
    }
}

/// The aft rib at the outer edge of one bay with its loads, as [`each`].
/// Unchecked: no outside check runs it by itself.
pub fn at<'c>(c: &'c Context, bay: usize) -> Option<AftRib<'c>> {
    let b = c.layout.bays.get(bay)?;
    standing(c, bay, &b.outer, c.design.rib_kinds.get(b.edge_kinds[1])?)
}

/// An aft rib of some kind at a station, under the greatest loads of a bay beside it.
pub(super) fn standing<'c>(c: &Context, bay: usize, s: &Station, kind: &'c RibKind) -> Option<AftRib<'c>> {
    let [most_shear, most_moment] = *c.aft_ribs().get(bay)?;
    Some(AftRib {
        bay,
        kind,
        length_m: s.chord_m * (1.0 - s.spar_frac),
        depth_m: s.spar_depth_m.max(0.01),
        end_depth_m: s.hinge_depth_m,
        most_shear,
        most_moment,
    })
}

/// Greatest shear and greatest moment of the aft rib of every bay over all cases; [`each`] says how.
pub(super) fn loads(c: &Context) -> Vec<[Aft; 2]> {
    let (cl_d, cm_d) = plain_flap(1.0 - c.design.hinge_frac);
    let cm_per_rad = cm_d / (cl_d / std::f64::consts::TAU).max(1e-9);
    // Of each case: net pressure by bay, section moment of the deflected control, dynamic pressure.
    let cases: Vec<_> = (c.loads.loads.iter())
        .filter_map(|l| c.loads.cases.get(l.case).map(|k| (l, k)))
        .map(|(l, k)| {
            let turned = cm_per_rad * (k.control_sym_rad + k.control_anti_rad);
            (l.net_pa(), turned, pressure_pa(k.speed_m_s), l.case)
        })
        .collect();
    let of_bay = |(bay, b): (usize, &Bay)| {
        let s = &b.outer;
        let length_m = s.chord_m * (1.0 - s.spar_frac);
        let aft_share = 1.0 - lift_share_ahead(s.spar_frac);
        let control = c.design.controls.iter().any(|k| b.mid.eta >= k.from_eta && b.mid.eta <= k.to_eta);
        let area = s.chord_m * b.length_m;
        let (mut most_shear, mut most_moment) = (Aft::default(), Aft::default());
        let (mut shear, mut moment) = (0.0, 0.0);
        let (turns, behind) = (f64::from(u8::from(control)), area * (1.0 - s.spar_frac));
        for (net_pa, turned, q, case) in &cases {
            let net = net_pa.get(bay).copied().unwrap_or(0.0);
            let even = -4.0 * (b.mid.cm0 + turns * turned) * q;
            let (v, m) = cantilever((net - even) * area * aft_share, even * behind, length_m);
            if v.abs() > shear {
                (shear, most_shear) = (v.abs(), Aft { shear_n: v, moment_nm: m, case: *case });
            }
            if m.abs() > moment {
                (moment, most_moment) = (m.abs(), Aft { shear_n: v, moment_nm: m, case: *case });
            }
        }
        [most_shear, most_moment]
    };
    c.layout.bays.iter().enumerate().map(of_bay).collect()
}
