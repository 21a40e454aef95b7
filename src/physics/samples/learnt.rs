//! What samples taught: factors on the assumptions that weights rest on, and for each construction the shift and the spread left
//! of its resistance in each form. Nothing is learnt without samples, and then every number is what it was.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::durability::spread::Spread;
use crate::physics::laminate::construction::{Construction, Skin};
use crate::physics::samples::record::{FORMS, Form, same_stack};
use crate::physics::samples::rule::{Group, Known, Prior, Shared};

/// Assumptions that weighed samples tell of, in the order of [`Learnt::mass`].
pub const OF_MASS: [Assumed; 4] = [Assumed::FibreFraction, Assumed::PickUp, Assumed::FoamDensity, Assumed::FinishMass];

/// A factor: mean of its logarithm, and the share of its spread that is left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    pub mean: f64,
    pub kept: f64,
}

impl Default for Shift {
    fn default() -> Self {
        Self { mean: 0.0, kept: 1.0 }
    }
}

/// What is known of a skin from samples.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OfSkin {
    pub forms: [Option<Known>; FORMS],
    /// Pieces of this very construction were weighed.
    pub weighed: bool,
}

/// A construction that was sampled.
#[derive(Debug, Clone, PartialEq)]
pub struct Own {
    pub made: Construction,
    /// How far what it stands scatters before samples.
    pub before: [Spread; FORMS],
    pub groups: [Group; FORMS],
    pub of_skin: Arc<OfSkin>,
    /// Areal mass over what its parts come to, as a logarithm, beyond the shared factors.
    pub mass: f64,
    /// Pieces weighed.
    pub pieces: u32,
}

/// One prediction against what was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// Which record of the log; the form of a press, None of a weighing.
    pub sample: usize,
    pub form: Option<Form>,
    pub what: String,
    /// N, or kg/m2; before any sample, and of the mean (geometric of loads).
    pub predicted: f64,
    pub measured: f64,
    pub specimens: u32,
    /// Of the logarithm of loads.
    pub sd: Option<f64>,
    /// Inside the range the form was fitted in.
    pub fitted: bool,
    /// Loads within 30 % of the prediction.
    pub within: u32,
    /// A dent or crack of a face on foam.
    pub dent: bool,
}

/// All that the log taught.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Learnt {
    pub mass: [Shift; 4],
    /// Covariance of the four logarithms and of each sampled construction's own mass, weighed constructions only.
    pub covariance: Vec<Vec<f64>>,
    pub own: Vec<Own>,
    /// What is known of constructions that no sample is of, by form.
    pub others: Option<[Option<Shared>; FORMS]>,
    pub against: Vec<Against>,
}

impl Learnt {
    /// Nothing was sampled.
    pub fn is_nothing(&self) -> bool {
        self.own.is_empty()
    }

    /// Something was weighed.
    pub fn weighed(&self) -> bool {
        !self.covariance.is_empty()
    }

    /// The assumptions with what was learnt of masses: the mean of each factor, and its deviation as far as spread is left.
    pub fn assumptions(&self, a: &Assumptions) -> Assumptions {
        let mut out = a.clone();
        if self.weighed() {
            for (which, s) in OF_MASS.iter().zip(&self.mass) {
                let f = &mut out.factor[*which as usize];
                *f = s.mean.exp() * f.powf(s.kept);
            }
        }
        out
    }

    /// The sampled construction of the same stack.
    /// Unchecked: no outside check runs it by itself.
    pub fn own_of(&self, c: &Construction) -> Option<(usize, &Own)> {
        self.own.iter().enumerate().find(|(_, o)| same_stack(&o.made, c))
    }

    /// What is known of a construction that scatters so before samples.
    /// Unchecked: no outside check runs it by itself.
    pub fn of_skin(&self, c: &Construction, before: &[Spread; FORMS]) -> Option<Arc<OfSkin>> {
        if let Some((_, o)) = self.own_of(c) {
            return Some(Arc::clone(&o.of_skin));
        }
        let others = self.others?;
        let known = |f: Form| others[f as usize].map(|s| s.other(&Prior::of(f, &before[f as usize])));
        Some(Arc::new(OfSkin { forms: Form::ALL.map(known), weighed: false }))
    }

    /// Loads to dents of described specimens in the log, and how many lie within 30 % of the prediction before them.
    /// Unchecked: no outside check runs it by itself.
    pub fn dents(&self) -> (u32, u32) {
        let dents = self.against.iter().filter(|a| a.dent);
        dents.fold((0, 0), |(n, k), a| (n + a.specimens, k + a.within))
    }
}

impl Skin {
    /// What is known of it in a form.
    pub fn known(&self, form: Form) -> Option<&Known> {
        self.learnt.as_ref()?.forms[form as usize].as_ref()
    }

    /// The factor on every load of a form. With samples: their mean, and the deviation assumed as far as spread is left, of the
    /// form and of the strength of the foam it was learnt with, by its power.
    pub fn form_factor(&self, form: Form, a: &Assumptions) -> f64 {
        let assumed = a.of(form.assumed());
        let Some(k) = self.known(form) else { return assumed };
        let foam = self.spread[form as usize].foam;
        let foam = if foam == 0.0 { 1.0 } else { a.of(Assumed::FoamCrush).powf(foam) };
        k.shift.exp() * assumed.powf(k.kept) * foam.powf(k.kept - 1.0)
    }

    /// Dispersion of its resistance in a form, and the share of the spread before samples that is left.
    pub fn dispersion(&self, form: Form) -> (f64, f64) {
        self.known(form).map_or((self.spread[form as usize].whole(form), 1.0), |k| (k.beta, k.kept))
    }
}
