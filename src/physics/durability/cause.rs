//! What makes an event as hard as it is: severity from mass, drop, speed, tension and the zone met.

/// Gravity, m/s2.
const G_M_S2: f64 = 9.81;

/// The cause of an event; `share` is a share of the present mass of the half wing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// A hand, body or thing presses with this force, N.
    Press { force_n: f64 },
    /// A share of the half wing rests on one contact.
    Weight { share: f64 },
    /// The same on a pad of this area, times a shock factor (severity in Pa).
    OnPad { share: f64, shock: f64, pad_m2: f64 },
    /// The same on a hard edge of this length (severity in N/m).
    OnEdge { share: f64, length_m: f64 },
    /// A share of the half wing is let down the last bit on to something hard.
    SetDown { share: f64, drop_m: f64 },
    /// A thing falls on the wing (severity in J).
    Falls { mass_kg: f64, drop_m: f64 },
    /// A thing flies against the wing.
    Flies { mass_kg: f64, speed_m_s: f64 },
    /// A share of the half wing runs against something.
    Knock { share: f64, speed_m_s: f64 },
    /// A strap over a curved skin (severity in Pa).
    Strap { tension_n: f64, width_m: f64 },
}

/// What the cause meets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Met {
    pub half_wing_kg: f64,
    /// Stiffness of zone and contact together, N/m.
    pub stiffness_n_m: f64,
    /// Radius of the skin under a strap, m.
    pub radius_m: f64,
}

impl Cause {
    /// Median severity, in the unit of the contact.
    ///
    /// m g; m g h; m v^2/2; T/(R b); set down: m g (1 + sqrt(1 + 2 h k/(m g))), a mass let down on a spring. **Derived**, exact
    /// for a linear spring.
    pub fn severity(self, met: &Met) -> f64 {
        let weight = |share: f64| share * met.half_wing_kg * G_M_S2;
        match self {
            Self::Press { force_n } => force_n,
            Self::Weight { share } => weight(share),
            Self::OnPad { share, shock, pad_m2 } => weight(share) * shock / pad_m2.max(1e-6),
            Self::OnEdge { share, length_m } => weight(share) / length_m,
            Self::SetDown { share, drop_m } => {
                let w = weight(share).max(1e-6);
                w * (1.0 + (1.0 + 2.0 * drop_m * met.stiffness_n_m / w).sqrt())
            }
            Self::Falls { mass_kg, drop_m } => mass_kg * G_M_S2 * drop_m,
            Self::Flies { mass_kg, speed_m_s } => 0.5 * mass_kg * speed_m_s * speed_m_s,
            Self::Knock { share, speed_m_s } => 0.5 * share * met.half_wing_kg * speed_m_s * speed_m_s,
            Self::Strap { tension_n, width_m } => tension_n / (met.radius_m * width_m),
        }
    }

    /// Whether the weight of the wing takes part in it.
    pub const fn by_weight(self) -> bool {
        match self {
            Self::Weight { .. }
            | Self::OnPad { .. }
            | Self::OnEdge { .. }
            | Self::SetDown { .. }
            | Self::Knock { .. } => true,
            Self::Press { .. } | Self::Falls { .. } | Self::Flies { .. } | Self::Strap { .. } => false,
        }
    }

    /// The same cause on a pad of another area; what rests on no pad stays as it is.
    #[must_use]
    pub const fn on_pad(self, area_m2: f64) -> Self {
        match self {
            Self::OnPad { share, shock, .. } => Self::OnPad { share, shock, pad_m2: area_m2 },
            other => other,
        }
    }

    /// The cause in words.
    pub fn words(self) -> String {
        let part = |share: f64| format!("{:.0} % of the half wing", 100.0 * share);
        match self {
            Self::Press { force_n } => format!("pressed with {force_n:.0} N"),
            Self::Weight { share } => format!("{} on one contact", part(share)),
            Self::OnPad { share, shock, pad_m2 } => {
                format!("{} on a pad of {:.0} cm2, times {shock} for shocks", part(share), 1e4 * pad_m2)
            }
            Self::OnEdge { share, length_m } => format!("{} on {:.0} mm of edge", part(share), 1e3 * length_m),
            Self::SetDown { share, drop_m } => format!("{} let down the last {:.0} mm", part(share), 1e3 * drop_m),
            Self::Falls { mass_kg, drop_m } => format!("{:.0} g falling {drop_m:.2} m", 1e3 * mass_kg),
            Self::Flies { mass_kg, speed_m_s } => format!("{:.2} g at {speed_m_s:.1} m/s", 1e3 * mass_kg),
            Self::Knock { share, speed_m_s } => format!("{} at {speed_m_s:.1} m/s", part(share)),
            Self::Strap { tension_n, width_m } => format!("strap of {:.0} mm at {tension_n:.0} N", 1e3 * width_m),
        }
    }
}
