//! The assumptions a result rests on, as factors on the nominal value, and seeded draws of them.
//! Two designs are compared under the same draw.

/// One uncertain thing: its key, words, lognormal spread, and why that spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assumption {
    pub key: &'static str,
    pub title: &'static str,
    /// Standard deviation of the natural logarithm.
    pub beta: f64,
    pub source: &'static str,
}

/// Indices into [`LIST`] and [`Assumptions::factor`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(usize)]
pub enum Assumed {
    FoamCrush,
    FoamModulus,
    FoamDensity,
    PickUp,
    FibreFraction,
    FinishMass,
    FaceStiffness,
    PadModel,
    BallModel,
    CoveringModel,
    WoodModel,
    PanelStiffness,
    ContactArea,
    Severity,
    HandRate,
    GroundRate,
    TransportRate,
    WeatherRate,
    RepairSandwich,
    RepairOneFaced,
    RepairCovering,
    RepairWood,
    PilotDrag,
    ProfileDrag,
    CoveringTension,
    PlugShear,
    SlackShare,
    RibCut,
    SheetModel,
}

/// Every assumption drawn.
pub const LIST: &[Assumption] = &[
    Assumption {
        key: "foam_crush",
        title: "crush strength of foam",
        beta: 0.20,
        source: "handling reference: foam strength scatter 0.20, assumption",
    },
    Assumption {
        key: "foam_modulus",
        title: "modulus of foam",
        beta: 0.15,
        source: "same foam by two test standards differs 16 %",
    },
    Assumption { key: "foam_density", title: "density of foam", beta: 0.06, source: "data-sheet density band" },
    Assumption {
        key: "pick_up",
        title: "resin taken up by foam",
        beta: 0.25,
        source: "one weighed panel, scatter 25 %",
    },
    Assumption {
        key: "fibre_fraction",
        title: "fibre fraction reached",
        beta: 0.08,
        source: "practice coupon accepted +14/-5 % in mass",
    },
    Assumption { key: "finish_mass", title: "mass of finish", beta: 0.30, source: "range of published coat masses" },
    Assumption { key: "face_stiffness", title: "stiffness of thin faces", beta: 0.10, source: "assumption" },
    Assumption {
        key: "pad_model",
        title: "dent model under a pad",
        beta: 0.25,
        source: "model error 0.25, assumption",
    },
    Assumption {
        key: "ball_model",
        title: "dent model under a hard ball",
        beta: 0.25,
        source: "model error 0.25, assumption",
    },
    Assumption {
        key: "covering_model",
        title: "puncture model of coverings",
        beta: 0.25,
        source: "six puncture tests within 19 %, widened",
    },
    Assumption { key: "wood_model", title: "puncture model of wood sheet", beta: 0.35, source: "assumption" },
    Assumption { key: "panel_stiffness", title: "give of panels between ribs", beta: 0.25, source: "assumption" },
    Assumption {
        key: "contact_area",
        title: "contact area of hands",
        beta: 0.25,
        source: "nothing measured found, assumption",
    },
    Assumption { key: "severity", title: "how hard things are hit", beta: 0.20, source: "assumption" },
    Assumption { key: "hand_rate", title: "how often hands touch", beta: 0.40, source: "assumption" },
    Assumption { key: "ground_rate", title: "how often ground, stones and posts", beta: 0.50, source: "assumption" },
    Assumption { key: "transport_rate", title: "how often straps and racks", beta: 0.40, source: "assumption" },
    Assumption { key: "weather_rate", title: "how often hail and gravel", beta: 0.60, source: "assumption" },
    Assumption { key: "repair_sandwich", title: "hours to repair sandwich", beta: 0.35, source: "assumption" },
    Assumption { key: "repair_one_faced", title: "hours to repair one-faced foam", beta: 0.35, source: "assumption" },
    Assumption { key: "repair_covering", title: "hours to repair coverings", beta: 0.35, source: "assumption" },
    Assumption { key: "repair_wood", title: "hours to repair wood", beta: 0.35, source: "assumption" },
    Assumption {
        key: "pilot_drag",
        title: "drag area of the pilot",
        beta: 0.30,
        source: "wind-tunnel series advises a range",
    },
    Assumption { key: "profile_drag", title: "profile drag build-up", beta: 0.12, source: "10-20 % model uncertainty" },
    Assumption {
        key: "covering_tension",
        title: "tension kept by coverings",
        beta: 0.30,
        source: "no published value found",
    },
    Assumption { key: "plug_shear", title: "load to pierce a face", beta: 0.25, source: "60-100 MPa from memory" },
    Assumption {
        key: "slack_share",
        title: "load that leaves a covering slack",
        beta: 0.20,
        source: "film read, fabric assumed, band 0.5-0.9 of piercing",
    },
    Assumption {
        key: "rib_cut",
        title: "load that cuts a covering on a rib",
        beta: 0.35,
        source: "assumption, band 0.3-0.8 of piercing",
    },
    Assumption {
        key: "sheet_model",
        title: "cracking of bare laminate",
        beta: 0.35,
        source: "membrane form without a measured case, assumption",
    },
];

/// Factors on the nominal values, one for each entry of [`LIST`].
#[derive(Debug, Clone, PartialEq)]
pub struct Assumptions {
    pub factor: [f64; LIST.len()],
}

impl Default for Assumptions {
    fn default() -> Self {
        Self { factor: [1.0; LIST.len()] }
    }
}

impl Assumptions {
    /// The factor on one assumption.
    pub fn of(&self, which: Assumed) -> f64 {
        self.factor[which as usize]
    }

    /// Draw number `seed`: the same for every design, whatever the machine.
    pub fn draw(seed: u64) -> Self {
        let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(0x1234_5678_9ABC_DEF1);
        let mut factor = [1.0; LIST.len()];
        for (f, a) in factor.iter_mut().zip(LIST) {
            *f = (a.beta * normal(&mut state)).exp();
        }
        Self { factor }
    }
}

/// SplitMix64 step. **Source:** G. Steele, D. Lea, C. Flood, *Fast splittable pseudorandom number
/// generators*, OOPSLA 2014 (constants from memory).
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// A standard normal deviate by Box and Muller (1958).
fn normal(state: &mut u64) -> f64 {
    let unit = |s: &mut u64| ((next(s) >> 11) as f64 + 0.5) / (1u64 << 53) as f64;
    let (u, v) = (unit(state), unit(state));
    (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn draws_have_the_stated_spread() {
        let n = 4000;
        for (i, a) in LIST.iter().enumerate() {
            let mean_sq: f64 = (0..n).map(|s| Assumptions::draw(s).factor[i].ln().powi(2)).sum::<f64>() / n as f64;
            assert!((mean_sq.sqrt() / a.beta - 1.0).abs() < 0.08, "{}: {}", a.key, mean_sq.sqrt());
        }
    }

    #[test]
    fn the_list_ends_where_the_names_end() {
        assert_eq!(Assumed::SheetModel as usize + 1, LIST.len());
    }
}
