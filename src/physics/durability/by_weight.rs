//! Contacts whose cause is a part of the weight of the wing, made ready for a weight that comes later.

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::durability::cause::{Cause, Met};
use crate::physics::durability::contacts::Resists;
use crate::physics::durability::events::{EVENTS, Event};
use crate::physics::durability::field::{Codes, SPOTS};
use crate::physics::durability::fragility;
use crate::physics::durability::term::{Chances, Term};

/// Contacts of events whose cause is a part of the weight of the wing, at every spot.
pub(super) const BY_WEIGHT: Codes = {
    let (mut out, mut event) = (0, 0);
    while event < EVENTS.len() {
        if EVENTS[event].cause.by_weight() {
            out |= ((1 << SPOTS) - 1) << (event * SPOTS);
        }
        event += 1;
    }
    out
};

/// A contact as far as it hangs on no weight.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leaning {
    /// Event and spot.
    pub(super) code: usize,
    /// The contact, its severity not yet known.
    pub(super) term: Term,
    stiffness_n_m: f64,
    /// What each state stands, as its logarithm, and one over the spread of severity and resistance together.
    ln_stands: [f64; 3],
    per_beta: [f64; 3],
    /// A state that stands what the one before it does.
    twin: [bool; 3],
    /// What stands more scatters no more: where this state is not reached, none is.
    ends: [bool; 3],
}

impl Leaning {
    pub(super) fn of(here: &Resists, e: &Event, assumed: &Assumptions) -> Self {
        let term = here.term((e, 0), f64::NAN, assumed);
        let twin = |i: usize| i > 0 && term.stands[i].is_finite() && term.stands[i] == term.stands[i - 1];
        let twin: [bool; 3] = std::array::from_fn(twin);
        // Nobody asks for that of a twin.
        let ln = |i: usize| if twin[i] || !term.stands[i].is_finite() { f64::INFINITY } else { term.stands[i].ln() };
        Self {
            code: here.code,
            term,
            stiffness_n_m: here.stiffness_n_m,
            ln_stands: std::array::from_fn(ln),
            per_beta: std::array::from_fn(|i| 1.0 / term.beta(i)),
            twin,
            ends: term.beta_resistance.map(|beta| term.beta_resistance[2] <= beta),
        }
    }

    /// The chances of [`Term::chances`] under a wing.
    pub(super) fn chances(&self, under: &Under) -> Chances {
        let mut out = Chances::default();
        let ln_severity = under.ln_severity(self);
        if ln_severity == f64::NEG_INFINITY {
            return out;
        }
        let mut above = 1.0;
        for i in 0..3 {
            if self.twin[i] {
                (out.p[i], out.slope[i]) = (out.p[i - 1], out.slope[i - 1]);
                continue;
            }
            if self.ln_stands[i] == f64::INFINITY {
                continue;
            }
            let (p, density) = fragility::exceeds((ln_severity - self.ln_stands[i]) * self.per_beta[i]);
            (out.p[i], out.slope[i]) = (p.min(above), density * self.per_beta[i]);
            above = out.p[i];
            if p <= 0.0 && self.ends[i] {
                break;
            }
        }
        out.marked_by(&self.term);
        out
    }
}

/// What every event does under a wing of some weight, as the logarithm of its severity.
pub(super) struct Under<'a> {
    events: &'a [Event; EVENTS.len()],
    half_wing_kg: f64,
    share: f64,
    ln: [f64; EVENTS.len()],
}

impl<'a> Under<'a> {
    pub(super) fn of(events: &'a [Event; EVENTS.len()], half_wing_kg: f64, assumed: &Assumptions) -> Self {
        let mut out = Self { events, half_wing_kg, share: assumed.of(Assumed::Severity), ln: [f64::NAN; EVENTS.len()] };
        for (event, e) in events.iter().enumerate().filter(|(_, e)| e.cause.by_weight()) {
            out.ln[event] = out.ln_on(e, 0.0);
        }
        out
    }

    /// On a place of some stiffness.
    fn ln_on(&self, e: &Event, stiffness_n_m: f64) -> f64 {
        let met = Met { half_wing_kg: self.half_wing_kg, stiffness_n_m, radius_m: 1.0 };
        (e.cause.severity(&met) * self.share).max(0.0).ln()
    }

    /// Only what is set down feels what it stands on.
    fn ln_severity(&self, on: &Leaning) -> f64 {
        let event = on.code / SPOTS;
        let e = &self.events[event];
        if matches!(e.cause, Cause::SetDown { .. }) { self.ln_on(e, on.stiffness_n_m) } else { self.ln[event] }
    }
}
