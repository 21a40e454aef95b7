//! What may take part in a mix, and the rules a person can state about it.

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::{Construction, Kind};
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed;

/// What a chain of choices is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// One strip of skin, bay by bay.
    Skin(Strip),
    /// An upper strip and the lower one below it, alike.
    Pair([Strip; 2]),
    /// The shear web, bay by bay, one construction over its height.
    Web,
    /// The body of all main ribs.
    Ribs,
}

impl Place {
    /// In words.
    pub fn label(self) -> String {
        match self {
            Self::Skin(s) => s.label().to_owned(),
            Self::Pair([a, b]) => format!("{} and {}", a.label(), b.label()),
            Self::Web => "shear web".to_owned(),
            Self::Ribs => "rib bodies".to_owned(),
        }
    }
    /// Strips of skin it decides.
    pub const fn strips(&self) -> &[Strip] {
        match self {
            Self::Skin(s) => std::slice::from_ref(s),
            Self::Pair(both) => both,
            Self::Web | Self::Ribs => &[],
        }
    }
}

/// What becomes of a skin construction of which no sample was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unsampled {
    #[default]
    Allowed,
    LeftOut,
    /// It counts as heavier and as needing more repair by [`PENALTY`].
    Penalised,
}

/// Share by which a penalised construction counts as heavier and as needing more repair. Chosen by us: the growth of a
/// composite part known from layout drawings over one that was weighed.
pub const PENALTY: f64 = 0.19;

impl Unsampled {
    /// All, in the order a scenario names them.
    pub const ALL: [Self; 3] = [Self::Allowed, Self::LeftOut, Self::Penalised];
    /// The word in a scenario.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Allowed => "allowed",
            Self::LeftOut => "left_out",
            Self::Penalised => "penalised",
        }
    }
}

/// The question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ask {
    /// Constructions that may be skins, as indices; empty: every skin construction known to the scenario.
    pub candidates: Vec<usize>,
    /// Places that stay as drawn.
    pub fixed: Vec<Strip>,
    pub web_fixed: bool,
    pub ribs_fixed: bool,
    pub caps_fixed: bool,
    /// Upper and lower of a pair of strips are alike, and both caps of one kind.
    pub upper_as_lower: bool,
    /// Changes of construction along a strip, at most.
    pub most_changes: usize,
    /// Bays a construction runs at least.
    pub shortest_run: usize,
    /// Different skin constructions in the whole wing, at most.
    pub most_constructions: Option<usize>,
    /// Constructions of which a sample was made, as indices, and what becomes of the others.
    pub sampled: Vec<usize>,
    pub unsampled: Unsampled,
    /// Covering only outboard of this share of the half span, thousandths.
    pub covering_outboard_of: u16,
    /// Every point of the front where modes of the whole wing are limited too: a search for each.
    pub every_point: bool,
}

impl Default for Ask {
    fn default() -> Self {
        Self {
            candidates: Vec::new(),
            fixed: Vec::new(),
            web_fixed: false,
            ribs_fixed: false,
            caps_fixed: false,
            upper_as_lower: false,
            most_changes: 2,
            shortest_run: 2,
            most_constructions: None,
            sampled: Vec::new(),
            unsampled: Unsampled::Allowed,
            covering_outboard_of: 0,
            every_point: false,
        }
    }
}

/// Whether a construction may be a skin of a strip: a covering cannot make a nose.
pub fn may_be(c: &Construction, strip: Strip) -> bool {
    is_skin(c) && !(strip.is_nose() && c.kind == Kind::Covering)
}

/// Constructions for webs, ribs and caps are named so.
pub fn is_skin(c: &Construction) -> bool {
    !["web_", "rib_", "cap_"].iter().any(|p| c.key.starts_with(p)) && c.kind != Kind::Open
}

impl Ask {
    /// The chains of the table, each with its candidates.
    pub fn chains(&self, design: &Design) -> Vec<(Place, Vec<usize>)> {
        let skins = |strip: Strip| -> Vec<usize> {
            let tried = |i: &usize| self.unsampled != Unsampled::LeftOut || self.sampled.contains(i);
            let may = |i: &usize| tried(i) && design.constructions.get(*i).is_some_and(|c| may_be(c, strip));
            let all: Vec<usize> = if self.candidates.is_empty() {
                (0..design.constructions.len()).collect()
            } else {
                self.candidates.clone()
            };
            all.into_iter().filter(may).collect()
        };
        let there = |s: Strip| {
            design.strips.iter().any(|x| x.strip == s)
                && !self.fixed.contains(&s)
                && !weighed::skin_is_built(&design.weighed, s)
        };
        let mut out = Vec::new();
        let mut paired: Vec<Strip> = Vec::new();
        for s in Strip::ALL.into_iter().filter(|s| there(*s)) {
            if paired.contains(&s) {
                continue;
            }
            let other = s.across();
            if self.upper_as_lower && there(other) {
                paired.push(other);
                out.push((Place::Pair([s, other]), skins(s)));
            } else {
                out.push((Place::Skin(s), skins(s)));
            }
        }
        let named = |prefix: &str| -> Vec<usize> {
            let all = design.constructions.iter().enumerate();
            all.filter(|(_, c)| c.key.starts_with(prefix) && !c.key.starts_with("rib_cap")).map(|(i, _)| i).collect()
        };
        let banded = design.spar.web.iter().any(|r| r.bands.len() > 1);
        if !self.web_fixed
            && !weighed::is_built(&design.weighed, Heading::Web)
            && !banded
            && !design.spar.web.is_empty()
        {
            out.push((Place::Web, named("web_")));
        }
        if !self.ribs_fixed && !weighed::is_built(&design.weighed, Heading::Ribs) && !design.ribs.is_empty() {
            out.push((Place::Ribs, named("rib_")));
        }
        out
    }
}
