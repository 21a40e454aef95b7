//! The loads of all cases turned round, bay by bay: most modes look for the worst case of a place.

use crate::physics::loads::internal::Loads;

/// Limit loads of one case at the inner edge of a bay.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Here {
    /// Index into `Loads::cases`.
    pub case: usize,
    pub shear_n: f64,
    pub torque_nm: f64,
    pub moment_nm: f64,
    pub inplane_nm: f64,
}

/// All of them, case after case within a bay.
#[derive(Debug, Clone, Default)]
pub(super) struct ByBay {
    cases: usize,
    all: Vec<Here>,
}

impl ByBay {
    /// The loads on so many bays.
    pub(super) fn of(loads: &Loads, bays: usize) -> Self {
        let cases = loads.loads.len();
        let mut all = Vec::with_capacity(bays * cases);
        for bay in 0..bays {
            all.extend(loads.loads.iter().map(|l| {
                let get = |along: &[f64]| along.get(bay).copied().unwrap_or(0.0);
                Here {
                    case: l.case,
                    shear_n: get(l.shear_n()),
                    torque_nm: get(l.torque_nm()),
                    moment_nm: get(l.moment_nm()),
                    inplane_nm: get(l.inplane_nm()),
                }
            }));
        }
        Self { cases, all }
    }

    /// Every case in a bay; none beyond the last.
    pub(super) fn at(&self, bay: usize) -> &[Here] {
        self.all.get(bay * self.cases..(bay + 1) * self.cases).unwrap_or_default()
    }
}
