//! A sample: a piece of a construction that was made, weighed, pressed.

use crate::physics::assumptions::Assumed;
use crate::physics::durability::events::Contact;
use crate::physics::laminate::construction::{Construction, Kind};

/// The forms a resistance is predicted by; each has a model error of its own, shared by all constructions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A face on foam under a soft pad, and under a hard ball or blow.
    Pad,
    Ball,
    /// A plug pushed out of a face.
    Plug,
    Covering,
    Wood,
    Sheet,
}

/// How many forms there are.
pub const FORMS: usize = 6;

impl Form {
    pub const ALL: [Self; FORMS] = [Self::Pad, Self::Ball, Self::Plug, Self::Covering, Self::Wood, Self::Sheet];

    /// The form a kind of surface answers a contact by.
    pub const fn of(kind: Kind, c: Contact) -> Self {
        match (kind, c) {
            (Kind::Covering, _) => Self::Covering,
            (Kind::Wood, _) => Self::Wood,
            (Kind::Laminate, _) => Self::Sheet,
            (_, Contact::Pad { .. } | Contact::Pressure { .. }) => Self::Pad,
            _ => Self::Ball,
        }
    }

    /// The assumption that is its error.
    pub const fn assumed(self) -> Assumed {
        match self {
            Self::Pad => Assumed::PadModel,
            Self::Ball => Assumed::BallModel,
            Self::Plug => Assumed::PlugShear,
            Self::Covering => Assumed::CoveringModel,
            Self::Wood => Assumed::WoodModel,
            Self::Sheet => Assumed::SheetModel,
        }
    }

    pub const fn word(self) -> &'static str {
        match self {
            Self::Pad => "dents under pads",
            Self::Ball => "dents under hard balls",
            Self::Plug => "piercing of faces",
            Self::Covering => "piercing of coverings",
            Self::Wood => "pressing of wood",
            Self::Sheet => "cracking of bare laminate",
        }
    }
}

/// What it is pressed with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tool {
    /// A soft pad: thumb, or a flat disc faced with rubber.
    Pad,
    /// A hard ball.
    Ball,
    /// A hard rod with a flat end, through a covering.
    Plunger,
}

impl Tool {
    pub const ALL: [Self; 3] = [Self::Pad, Self::Ball, Self::Plunger];
    pub const fn key(self) -> &'static str {
        match self {
            Self::Pad => "pad",
            Self::Ball => "ball",
            Self::Plunger => "plunger",
        }
    }
    /// The contact of a radius; a flat rod pulls a covering into the same cone as a blunt pad.
    pub const fn contact(self, radius_m: f64) -> Contact {
        match self {
            Self::Ball => Contact::Ball { radius_m },
            Self::Pad | Self::Plunger => Contact::Pad { radius_m },
        }
    }
}

/// What it was pressed to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reached {
    /// The first lasting mark (of a sheet: its first crack).
    Mark,
    /// Pierced.
    Hole,
}

impl Reached {
    pub const ALL: [Self; 2] = [Self::Mark, Self::Hole];
    pub const fn key(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::Hole => "hole",
        }
    }
    /// Index of the state in a `Stand`.
    pub const fn state(self) -> usize {
        match self {
            Self::Mark => 0,
            Self::Hole => 2,
        }
    }
}

/// Pieces of one construction weighed together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighed {
    /// Area of one piece, and the mean mass of one.
    pub area_m2: f64,
    pub mass_kg: f64,
    pub pieces: u32,
    /// With the finish and fairing of the construction.
    pub finished: bool,
}

impl Weighed {
    /// Mean areal mass, kg/m2.
    pub fn areal_kg_m2(&self) -> f64 {
        self.mass_kg / self.area_m2
    }
}

/// Temperature of a press that names none, deg C. Common practice, no source.
pub const WARM_C: f64 = 20.0;

/// One load for each specimen pressed alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Press {
    pub tool: Tool,
    pub radius_m: f64,
    pub reached: Reached,
    pub loads_n: Vec<f64>,
    /// Temperature while pressed, deg C.
    pub at_c: f64,
}

/// One record of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// The construction by its key, and as it stood when the log was read, made by the process the record names.
    pub construction: String,
    pub made: Construction,
    /// Another process than the construction's own.
    pub other_process: bool,
    pub how: String,
    pub date: String,
    pub note: String,
    pub weighed: Option<Weighed>,
    pub presses: Vec<Press>,
}

/// The same stack, whatever it is called and painted with: what is learnt of one holds for the other.
pub fn same_stack(a: &Construction, b: &Construction) -> bool {
    a.kind == b.kind
        && a.outer == b.outer
        && a.core == b.core
        && a.inner == b.inner
        && a.wood == b.wood
        && a.covering.map(|u| u.covering) == b.covering.map(|u| u.covering)
}
