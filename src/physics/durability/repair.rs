//! What a repair takes. All are assumptions to be replaced by a log.

use crate::physics::assumptions::Assumed;
use crate::physics::laminate::construction::Kind;

/// Work for one damage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repair {
    pub work_h: f64,
    pub cure_h: f64,
    pub mass_g: f64,
    pub left_alone: f64,
    /// Share a preflight misses.
    pub unseen: f64,
}

const fn r(work_h: f64, cure_h: f64, mass_g: f64, left_alone: f64, unseen: f64) -> Repair {
    Repair { work_h, cure_h, mass_g, left_alone, unseen }
}

/// Mark, soft spot, hole of each kind of surface.
/// **Source:** assumptions; that a small dent hides a wider damaged area: Shalbourne club note, 2016.
pub const fn repairs(kind: Kind) -> [Repair; 3] {
    match kind {
        Kind::Sandwich => [r(0.5, 8.0, 3.0, 0.5, 0.0), r(3.0, 16.0, 12.0, 0.0, 0.15), r(5.0, 24.0, 25.0, 0.0, 0.0)],
        Kind::OneFaced => [r(0.3, 6.0, 3.0, 0.6, 0.0), r(1.5, 10.0, 8.0, 0.0, 0.15), r(2.5, 12.0, 15.0, 0.0, 0.0)],
        Kind::Covering => [r(0.05, 0.0, 0.0, 0.95, 0.0), r(0.3, 0.0, 1.0, 0.0, 0.0), r(0.5, 0.5, 2.0, 0.0, 0.0)],
        Kind::Laminate => [r(0.4, 8.0, 3.0, 0.5, 0.0), r(2.0, 16.0, 10.0, 0.0, 0.10), r(3.0, 16.0, 15.0, 0.0, 0.0)],
        Kind::Wood => [r(0.3, 4.0, 3.0, 0.6, 0.0), r(1.5, 12.0, 8.0, 0.0, 0.05), r(2.0, 12.0, 12.0, 0.0, 0.0)],
        Kind::Open => [r(0.0, 0.0, 0.0, 1.0, 0.0); 3],
    }
}

/// A covering torn from rib to rib. **Source:** assumption, 2 to 4 h.
pub const TORN: Repair = r(3.0, 1.0, 10.0, 0.0, 0.0);

/// Done on the field within the outing: 36 minutes of work and an hour of cure at most. An assumption.
pub fn in_the_field(work_h: f64, cure_h: f64) -> bool {
    work_h <= 0.6 && cure_h <= 1.0
}

/// Which assumption scales the hours of a kind.
pub const fn assumption(kind: Kind) -> Assumed {
    match kind {
        Kind::OneFaced => Assumed::RepairOneFaced,
        Kind::Covering => Assumed::RepairCovering,
        Kind::Wood => Assumed::RepairWood,
        Kind::Sandwich | Kind::Laminate | Kind::Open => Assumed::RepairSandwich,
    }
}
