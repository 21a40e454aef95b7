//! Twist at dive speed and loss of roll control as two sums the search may limit: what every nose construction adds in
//! every bay, worked out around one wing. The full evaluation has the last word; a design it finds short of either is what
//! they are worked out around next.

use crate::mix::ask::Place;
use crate::mix::limits::up;
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::Structure;
use crate::physics::laminate::construction::Skin;
use crate::physics::strength::softness::{self, Softness, give};

/// Modes of the whole wing kept as sums, in the order of [`crate::search::Cell::yields`].
pub const MODES: [&str; 2] = ["twist", "control_reversal"];

/// Ticks of a limit: rounding up in some forty cells is a thousandth at most.
const LIMIT_TICKS: f64 = 1e5;
/// A tenth of a limit.
pub const TENTH: u64 = 10_000;
/// A cell this many limits high stands in no design; it need not be told how much it is over.
const HIGH: u32 = 400_000;

/// What is limited, and by how much.
#[derive(Debug, Clone, Default)]
pub struct Yields {
    soft: [Option<Softness>; 2],
    pub limits: [Option<u64>; 2],
}

impl Yields {
    /// Around a wing. Only what the places of the table decide is a sum; all else stays as it is there.
    pub fn around(design: &Design, base: &Structure, places: &[Place]) -> Self {
        let soft = softness::of(design, (&base.layout, &base.skins, &base.loads), (&base.sizing, &base.sections));
        let decided = |s: Strip| places.iter().any(|p| p.strips().contains(&s));
        let limits = soft.each_ref().map(|s| {
            let s = s.as_ref()?;
            let own = base.layout.zones.iter().filter(|z| z.strip.is_nose() && decided(z.strip));
            let mut own = own.map(|z| adds(s, z.strip, z.bay, base.skins.get(z.construction)?)).peekable();
            own.peek()?;
            let sum: Option<f64> = own.sum();
            Some(((s.most - s.now + sum?) / tick(s)).max(0.0) as u64)
        });
        Self { soft, limits }
    }

    /// What a construction adds in a bay of a place, in ticks of the limits.
    pub fn of(&self, place: Place, bay: usize, skin: &Skin) -> [u32; 2] {
        self.soft.each_ref().map(|s| {
            let Some(s) = s else { return 0 };
            let sum: Option<f64> = place.strips().iter().map(|strip| adds(s, *strip, bay, skin)).sum();
            sum.and_then(|v| up(v, tick(s))).map_or(HIGH, |n| n.min(HIGH))
        })
    }

    /// Whether a mode is kept as a sum.
    pub fn limited(&self, mode: &str) -> bool {
        MODES.iter().zip(&self.limits).any(|(m, l)| *m == mode && l.is_some())
    }
}

fn tick(s: &Softness) -> f64 {
    s.most / LIMIT_TICKS
}

/// What a skin adds in a bay of a strip; none where it has no stiffness in shear.
fn adds(s: &Softness, strip: Strip, bay: usize, skin: &Skin) -> Option<f64> {
    let side = match strip {
        Strip::NoseUpper => 0,
        Strip::NoseLower => 1,
        _ => return Some(0.0),
    };
    let per_give = s.per_give.get(bay).map_or(0.0, |p| p[side]);
    Some(per_give * give(skin)).filter(|v| v.is_finite())
}
