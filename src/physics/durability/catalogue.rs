//! The catalogue of events as one scenario has it: the shipped events, with the numbers a person gives in their place.

use std::f64::consts::PI;

use crate::physics::durability::cause::Cause;
use crate::physics::durability::events::{Contact, EVENTS, Event, GROUPS};
use crate::physics::kept::{Inputs, To};

/// A number of an event that a scenario may give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Number {
    /// Times per 100 outings, one careful owner.
    Per100,
    Spread,
    ForceN,
    ShareOfHalfWing,
    MassG,
    DropMm,
    SpeedMS,
    TensionN,
    WidthMm,
    PadCm2,
    ShockFactor,
    LengthMm,
    RadiusMm,
    HitsPerM2,
}

impl Number {
    pub const ALL: [Self; 14] = [
        Self::Per100,
        Self::Spread,
        Self::ForceN,
        Self::ShareOfHalfWing,
        Self::MassG,
        Self::DropMm,
        Self::SpeedMS,
        Self::TensionN,
        Self::WidthMm,
        Self::PadCm2,
        Self::ShockFactor,
        Self::LengthMm,
        Self::RadiusMm,
        Self::HitsPerM2,
    ];

    /// Its key in a scenario.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Per100 => "per_100_outings",
            Self::Spread => "spread",
            Self::ForceN => "force_n",
            Self::ShareOfHalfWing => "share_of_half_wing",
            Self::MassG => "mass_g",
            Self::DropMm => "drop_mm",
            Self::SpeedMS => "speed_m_s",
            Self::TensionN => "tension_n",
            Self::WidthMm => "width_mm",
            Self::PadCm2 => "pad_area_cm2",
            Self::ShockFactor => "shock_factor",
            Self::LengthMm => "length_mm",
            Self::RadiusMm => "radius_mm",
            Self::HitsPerM2 => "hits_per_m2",
        }
    }

    /// Words and unit.
    /// Unchecked: no outside check runs it by itself.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Per100 => ("times", "/100"),
            Self::Spread => ("spread", ""),
            Self::ForceN => ("force", "N"),
            Self::ShareOfHalfWing => ("share", ""),
            Self::MassG => ("mass", "g"),
            Self::DropMm => ("drop", "mm"),
            Self::SpeedMS => ("speed", "m/s"),
            Self::TensionN => ("tension", "N"),
            Self::WidthMm => ("width", "mm"),
            Self::PadCm2 => ("pad", "cm²"),
            Self::ShockFactor => ("shock", ""),
            Self::LengthMm => ("length", "mm"),
            Self::RadiusMm => ("radius", "mm"),
            Self::HitsPerM2 => ("hits", "/m²"),
        }
    }

    /// Least and greatest value taken, in the unit of its key. Choices of ours, as wide as the forms bear.
    /// Unchecked: no outside check runs it by itself.
    pub const fn range(self) -> (f64, f64) {
        match self {
            Self::Per100 => (0.0, 1e4),
            Self::Spread => (0.05, 1.5),
            Self::ForceN | Self::TensionN => (0.1, 5000.0),
            Self::ShareOfHalfWing => (0.01, 1.0),
            Self::MassG => (0.01, 1e5),
            Self::DropMm => (0.1, 1e4),
            Self::SpeedMS => (0.1, 60.0),
            Self::WidthMm => (5.0, 500.0),
            Self::PadCm2 => (1.0, 5000.0),
            Self::ShockFactor => (1.0, 10.0),
            Self::LengthMm => (1.0, 2000.0),
            Self::RadiusMm => (0.5, 200.0),
            Self::HitsPerM2 => (0.01, 1e4),
        }
    }

    /// Where it stands in an event; None where the event has no such number.
    fn slot(self, e: &mut Event) -> Option<(&mut f64, f64)> {
        match (self, &mut e.cause) {
            (Self::Per100, _) => return Some((&mut e.per_100_outings, 1.0)),
            (Self::Spread, _) => return Some((&mut e.beta, 1.0)),
            (Self::ForceN, Cause::Press { force_n }) => return Some((force_n, 1.0)),
            (
                Self::ShareOfHalfWing,
                Cause::Weight { share }
                | Cause::OnPad { share, .. }
                | Cause::OnEdge { share, .. }
                | Cause::SetDown { share, .. }
                | Cause::Knock { share, .. },
            ) => return Some((share, 1.0)),
            (Self::MassG, Cause::Falls { mass_kg, .. } | Cause::Flies { mass_kg, .. }) => {
                return Some((mass_kg, 1e-3));
            }
            (Self::DropMm, Cause::SetDown { drop_m, .. } | Cause::Falls { drop_m, .. }) => return Some((drop_m, 1e-3)),
            (Self::SpeedMS, Cause::Flies { speed_m_s, .. } | Cause::Knock { speed_m_s, .. }) => {
                return Some((speed_m_s, 1.0));
            }
            (Self::TensionN, Cause::Strap { tension_n, .. }) => return Some((tension_n, 1.0)),
            (Self::WidthMm, Cause::Strap { width_m, .. }) => return Some((width_m, 1e-3)),
            (Self::PadCm2, Cause::OnPad { pad_m2, .. }) => return Some((pad_m2, 1e-4)),
            (Self::ShockFactor, Cause::OnPad { shock, .. }) => return Some((shock, 1.0)),
            (Self::LengthMm, Cause::OnEdge { length_m, .. }) => return Some((length_m, 1e-3)),
            _ => {}
        }
        match (self, &mut e.contact) {
            (
                Self::RadiusMm,
                Contact::Pad { radius_m } | Contact::Ball { radius_m } | Contact::Blow { radius_m, .. },
            ) => Some((radius_m, 1e-3)),
            (Self::HitsPerM2, _) if e.hits_per_m2 > 0.0 => Some((&mut e.hits_per_m2, 1.0)),
            _ => None,
        }
    }

    /// Whether it says how hard an event is, not only how often it comes.
    const fn of_cause(self) -> bool {
        !matches!(self, Self::Per100 | Self::HitsPerM2)
    }

    /// Its value in an event, in the unit of its key.
    /// Unchecked: no outside check runs it by itself.
    pub fn of(self, e: &Event) -> Option<f64> {
        let mut e = *e;
        self.slot(&mut e).map(|(v, unit)| *v / unit)
    }

    fn set(self, e: &mut Event, value: f64) {
        if let Some((v, unit)) = self.slot(e) {
            *v = value * unit;
        }
        // What presses under a strap or a pad is as wide as they are.
        if let Contact::Pressure { radius_m } = &mut e.contact {
            match e.cause {
                Cause::Strap { width_m, .. } if self == Self::WidthMm => *radius_m = width_m / 2.0,
                Cause::OnPad { pad_m2, .. } if self == Self::PadCm2 => *radius_m = (pad_m2 / PI).sqrt(),
                _ => {}
            }
        }
    }
}

/// A number given: which event, and in which entry of the scenario.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Given {
    pub event: usize,
    pub entry: usize,
    pub number: Number,
}

/// The events of one scenario, in the order of [`EVENTS`].
#[derive(Debug, Clone, PartialEq)]
pub struct Catalogue {
    pub events: [Event; EVENTS.len()],
    /// Numbers that the scenario gives.
    pub given: Vec<Given>,
    /// Where its numbers come from, in its own words.
    sources: Vec<(usize, String)>,
}

impl Default for Catalogue {
    fn default() -> Self {
        Self { events: std::array::from_fn(|i| EVENTS[i]), given: Vec::new(), sources: Vec::new() }
    }
}

impl Catalogue {
    /// Give a number of an event. A cause given without a source is an assumption.
    pub fn give(&mut self, given: Given, value: f64) {
        let Some(e) = self.events.get_mut(given.event) else { return };
        given.number.set(e, value);
        e.assumption |= given.number.of_cause();
        if !self.given.contains(&given) {
            self.given.push(given);
        }
    }

    /// Turn a number that was given.
    pub fn turn(&mut self, given: Given, value: f64) {
        if let Some(e) = self.events.get_mut(given.event) {
            given.number.set(e, value);
        }
    }

    /// Give the shares of the groups, which sum to 1.
    pub fn share(&mut self, event: usize, share: [f64; 6]) {
        let sum: f64 = share.iter().sum();
        if let (Some(e), true) = (self.events.get_mut(event), sum > 0.0) {
            e.share = share.map(|s| s / sum);
        }
    }

    /// Say where the numbers given for an event come from.
    pub fn sourced(&mut self, event: usize, source: String) {
        if let Some(e) = self.events.get_mut(event) {
            e.assumption = false;
            self.sources.push((event, source));
        }
    }

    /// What a scenario gives of an event in its own words, None where it gives nothing: "force_n 40 (our log)".
    /// Unchecked: no outside check runs it by itself.
    pub fn own(&self, key: &str) -> Option<String> {
        let i = self.events.iter().position(|e| e.key == key)?;
        let e = &self.events[i];
        let mut own: Vec<String> = self
            .given
            .iter()
            .filter(|g| g.event == i)
            .map(|g| format!("{} {}", g.number.key(), g.number.of(e).map_or(0.0, |v| (v * 1e6).round() * 1e-6)))
            .collect();
        if e.share != EVENTS[i].share {
            let each = GROUPS.iter().zip(e.share).filter(|(_, s)| *s > 0.0).map(|(g, s)| format!("{g} {s:.2}"));
            own.push(format!("share {}", each.collect::<Vec<_>>().join(" ")));
        }
        let said = self.sources.iter().rev().find(|s| s.0 == i).map_or("assumption of this scenario", |s| s.1.as_str());
        (!own.is_empty()).then(|| format!("{} ({said})", own.join(", ")))
    }

    /// Where the numbers of an event come from: the scenario's own before the catalogue's.
    pub fn source(&self, key: &str) -> String {
        let shipped = EVENTS.iter().find(|e| e.key == key).map_or("", |e| e.source);
        self.own(key).map_or_else(|| shipped.to_owned(), |own| format!("{own}; the rest: {shipped}"))
    }

    /// The event of a key.
    pub fn find(&self, key: &str) -> Option<&Event> {
        self.events.iter().find(|e| e.key == key)
    }
}

impl Inputs for Event {
    fn put<T: To>(&self, to: &mut T) {
        let Self {
            key: _,
            title: _,
            contact,
            cause,
            beta,
            per_100_outings,
            share,
            hits_per_m2,
            exposure: _,
            in_use: _,
            assumption: _,
            source: _,
        } = self;
        // Words, and what no scenario changes, go with the place in the list.
        contact.put(to);
        cause.put(to);
        [*beta, *per_100_outings, *hits_per_m2].put(to);
        share.put(to);
    }
}

impl Inputs for Contact {
    fn put<T: To>(&self, to: &mut T) {
        match self {
            Self::Pad { radius_m }
            | Self::Ball { radius_m }
            | Self::Pressure { radius_m }
            | Self::Blow { radius_m, local: _, ice: _ } => radius_m.put(to),
            Self::Edge => 0.0.put(to),
        }
    }
}

impl Inputs for Cause {
    fn put<T: To>(&self, to: &mut T) {
        let numbers: [f64; 3] = match *self {
            Self::Press { force_n } => [force_n, 0.0, 0.0],
            Self::Weight { share } => [share, 0.0, 0.0],
            Self::OnPad { share, shock, pad_m2 } => [share, shock, pad_m2],
            Self::OnEdge { share, length_m } => [share, length_m, 0.0],
            Self::SetDown { share, drop_m } => [share, drop_m, 0.0],
            Self::Falls { mass_kg, drop_m } => [mass_kg, drop_m, 0.0],
            Self::Flies { mass_kg, speed_m_s } => [mass_kg, speed_m_s, 0.0],
            Self::Knock { share, speed_m_s } => [share, speed_m_s, 0.0],
            Self::Strap { tension_n, width_m } => [tension_n, width_m, 0.0],
        };
        numbers.put(to);
    }
}
