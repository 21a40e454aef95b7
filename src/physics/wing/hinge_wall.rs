//! Walls along the hinge line: one closes the wing ahead of a control, one closes the control behind it.

use crate::physics::design::{Control, Design, Strip};
use crate::physics::wing::layout::{Layout, Station};

/// Which of the two a wall closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    Wing,
    Control,
}

impl Side {
    pub const BOTH: [Self; 2] = [Self::Wing, Self::Control];

    /// What the parts list calls the wall.
    pub const fn wall(self) -> &'static str {
        match self {
            Self::Wing => "wing wall",
            Self::Control => "control wall",
        }
    }

    /// What it calls the glue on it.
    pub const fn glue(self) -> &'static str {
        match self {
            Self::Wing => "wing wall bonds",
            Self::Control => "control wall bonds",
        }
    }

    /// What the wall of a control is made of, as drawn; None where the scenario names none.
    pub const fn of(self, control: &Control) -> Option<usize> {
        match self {
            Self::Wing => control.wing_wall,
            Self::Control => control.control_wall,
        }
    }

    /// Whether a skin ends at this wall.
    const fn bounds(self, strip: Strip) -> bool {
        matches!(self, Self::Control) == strip.is_control() && !strip.is_nose()
    }
}

/// A wall within one bay of one half wing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    pub side: Side,
    pub bay: usize,
    /// Which control it belongs to.
    pub control: usize,
    pub construction: usize,
    /// Along the hinge line, m; depth in the middle of the bay, m, outside of the skins.
    pub length_m: f64,
    pub depth_m: f64,
    /// Its middle.
    pub x_m: f64,
    pub y_m: f64,
}

impl Wall {
    /// Length times depth, one half wing, m2.
    pub fn area_m2(&self) -> f64 {
        self.length_m * self.depth_m
    }
}

/// Where the hinge line lies at a station, m aft of the root leading edge.
/// Unchecked: no outside check runs it by itself.
pub fn hinge_m(design: &Design, s: &Station) -> f64 {
    s.x_le_m + design.hinge_frac * s.chord_m
}

/// All walls of a half wing, bay by bay.
///
/// Along the hinge line, `hypot(dy, dx)` of a bay, as deep as the section there: what skins take off is not taken off.
/// **Source:** geometry. **Valid for:** controls that begin and end at ribs, as the layout makes them.
pub fn walls<'a>(design: &'a Design, layout: &'a Layout) -> impl Iterator<Item = Wall> + 'a {
    layout.bays.iter().enumerate().flat_map(move |(bay, b)| {
        let control = design.control_at(b.mid.eta);
        let length_m = b.length_m.hypot(hinge_m(design, &b.outer) - hinge_m(design, &b.inner));
        let made = move |side: Side| {
            let (i, control) = control?;
            let construction = side.of(control)?;
            let (x_m, y_m) = (hinge_m(design, &b.mid), b.mid.y_m);
            Some(Wall { side, bay, control: i, construction, length_m, depth_m: b.mid.hinge_depth_m, x_m, y_m })
        };
        Side::BOTH.into_iter().filter_map(made)
    })
}

/// The side of the hinge line where a skin ends in its bay, if it ends there: an aft skin ahead of a control, or a control's.
/// Unchecked: no outside check runs it by itself.
pub fn ends_at(design: &Design, layout: &Layout, strip: Strip, bay: usize) -> Option<Side> {
    let b = layout.bays.get(bay)?;
    design.control_at(b.mid.eta)?;
    let z = layout.zone(strip, bay)?;
    let at_hinge = strip.is_control() || (z.chord_to - design.hinge_frac).abs() < 1e-9;
    Side::BOTH.into_iter().find(|s| at_hinge && s.bounds(strip))
}
