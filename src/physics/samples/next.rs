//! Which sample to make next: one more panel of a construction, weighed and pressed, and how much narrower the band of the index
//! and the spread of the weight would be for each hour it takes.

use crate::physics::assumptions::{Assumed, Assumptions, LIST};
use crate::physics::design::Design;
use crate::physics::durability::index::{self, Slopes};
use crate::physics::durability::spread::{self, Spread};
use crate::physics::evaluation::Evaluation;
use crate::physics::laminate::construction::{Construction, Kind};
use crate::physics::samples::fit::{OWN_MASS, PIECE_MASS, before, sensitivity};
use crate::physics::samples::learnt::OF_MASS;
use crate::physics::samples::record::{Form, same_stack};
use crate::physics::samples::rule::{Belief, Group, Lesson, Prior};

/// Specimens pressed with each tool, pieces weighed, area of the panel they are cut from, m2. Choices of ours.
pub const SPECIMENS: u32 = 5;
const PIECES: u32 = 3;
const PANEL_M2: f64 = 0.09;
/// Hours to set a panel up, trim and weigh it, and to press one specimen. Assumptions.
const SET_UP_H: f64 = 1.0;
const PRESS_H: f64 = 0.1;

/// A panel that could be made.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    /// Index in `Design::constructions`.
    pub construction: usize,
    /// What it is pressed with, in words.
    pub presses: &'static str,
    pub hours: f64,
    /// Spread of ln repair hours, and standard deviation of the weight in kg: now, and after it.
    pub ln_hours: [f64; 2],
    pub weight_sd_kg: [f64; 2],
}

impl Next {
    /// Index at P10 and P90 for a spread about the present repair hours.
    /// Unchecked: no outside check runs it by itself.
    pub fn band(repair_h: f64, sd: f64) -> [f64; 2] {
        [1.2816, -1.2816].map(|z: f64| index::index(repair_h * (z * sd).exp()))
    }
    /// Share of the band of ln hours taken away for an hour's work.
    pub fn band_per_hour(&self) -> f64 {
        (1.0 - self.ln_hours[1] / self.ln_hours[0].max(1e-12)) / self.hours
    }
    /// Share of the spread of the weight taken away for an hour's work.
    pub fn weight_per_hour(&self) -> f64 {
        (1.0 - self.weight_sd_kg[1] / self.weight_sd_kg[0].max(1e-12)) / self.hours
    }
}

/// What a kind is pressed with, and the forms that tells of.
const fn presses(kind: Kind) -> (&'static str, &'static [Form]) {
    match kind {
        Kind::Sandwich | Kind::OneFaced => ("pad and ball", &[Form::Pad, Form::Ball]),
        Kind::Covering => ("plunger", &[Form::Covering]),
        Kind::Wood => ("ball", &[Form::Wood]),
        Kind::Laminate => ("ball", &[Form::Sheet]),
        Kind::Open => ("", &[]),
    }
}

/// Every construction the skin is made of, the one that narrows the band of the index most for an hour's work first.
pub fn rank(design: &Design, e: &Evaluation) -> Vec<Next> {
    let used = |i: usize| e.layout.zones.iter().any(|z| z.construction == i);
    let on = On { design, e, slopes: index::slopes(design, &e.layout, &e.skins, &e.weight, &Assumptions::default()) };
    let (ln_hours, kg) = (on.ln_hours(None), on.weight_sd_kg(None));
    let mut out: Vec<Next> = design
        .constructions
        .iter()
        .enumerate()
        .filter(|(i, c)| used(*i) && c.kind != Kind::Open)
        .map(|(i, c)| {
            let (words, forms) = presses(c.kind);
            let hours = SET_UP_H
                + PANEL_M2 * e.skins.get(i).map_or(0.0, |s| s.hours_per_m2)
                + PRESS_H * f64::from(SPECIMENS) * forms.len() as f64;
            Next {
                construction: i,
                presses: words,
                hours,
                ln_hours: [ln_hours, on.ln_hours(Some(c))],
                weight_sd_kg: [kg, on.weight_sd_kg(Some(c))],
            }
        })
        .collect();
    out.sort_by(|a, b| b.band_per_hour().total_cmp(&a.band_per_hour()));
    out
}

struct On<'a> {
    design: &'a Design,
    e: &'a Evaluation,
    /// How the repair hours answer to ln of each form's factor, by construction.
    slopes: Vec<Slopes>,
}

impl On<'_> {
    /// Share of the spread of a form that is left of each construction, with one more panel.
    fn kept(&self, form: Form, more: Option<&Construction>) -> Vec<f64> {
        let (learnt, f) = (&self.design.library.learnt, form as usize);
        let prior = |c: &Construction| {
            let at = self.design.constructions.iter().position(|d| same_stack(d, c));
            at.and_then(|i| self.e.skins.get(i))
                .map_or_else(|| Prior::of(form, &Spread::default()), |s| Prior::of(form, &s.spread[f]))
        };
        let mut made: Vec<&Construction> = learnt.own.iter().map(|o| &o.made).collect();
        let mut groups: Vec<(Group, Prior)> =
            learnt.own.iter().map(|o| (o.groups[f], Prior::of(form, &o.before[f]))).collect();
        if let Some(c) = more.filter(|c| presses(c.kind).1.contains(&form)) {
            let specimens = f64::from(SPECIMENS);
            if let Some(i) = made.iter().position(|m| same_stack(m, c)) {
                groups[i].0.specimens += specimens;
            } else {
                made.push(c);
                groups.push((Group { specimens, ..Group::default() }, prior(c)));
            }
        }
        if groups.iter().all(|(g, _)| g.specimens <= 0.0) {
            return vec![1.0; self.design.constructions.len()];
        }
        let lesson = Lesson::of(&groups, spread::shared(form));
        let known = |c: &Construction| {
            let own = made.iter().position(|m| same_stack(m, c)).and_then(|i| lesson.own(i));
            own.unwrap_or_else(|| lesson.about_others.other(&prior(c))).kept
        };
        self.design.constructions.iter().map(known).collect()
    }

    /// Spread of ln repair hours: that of today with the parts of the forms worked out again.
    fn ln_hours(&self, more: Option<&Construction>) -> f64 {
        let d = &self.e.durability;
        let h = d.repair_h.max(1e-9);
        let mut foam = 0.0;
        let mut var = 0.0;
        for form in Form::ALL.into_iter().filter(|f| *f != Form::Plug) {
            let kept = self.kept(form, more);
            let sum: f64 = self.slopes.iter().zip(&kept).map(|(s, k)| s.form[form as usize] * k).sum();
            var += (sum / h * LIST[form.assumed() as usize].beta).powi(2);
            foam += self.slopes.iter().zip(&kept).map(|(s, k)| s.foam[form as usize] * k).sum::<f64>();
        }
        var += (foam / h * LIST[Assumed::FoamCrush as usize].beta).powi(2);
        let again = |i: usize| {
            i == Assumed::FoamCrush as usize || Form::ALL.iter().any(|f| *f != Form::Plug && f.assumed() as usize == i)
        };
        let rest: f64 = d.rests_on.iter().filter(|(i, _)| !again(*i)).map(|(_, s)| s * s).sum();
        (var + rest).sqrt()
    }

    /// Standard deviation of the weight, kg: skins by what is known of their areal mass, all else as it is.
    fn weight_sd_kg(&self, more: Option<&Construction>) -> f64 {
        let scale = self.areal_left(more);
        let mut families: Vec<(usize, f64)> = Vec::new();
        for p in &self.e.weight.parts {
            let sd = p.sd_kg * scale.get(p.family).copied().unwrap_or(1.0);
            match families.iter_mut().find(|f| f.0 == p.family) {
                Some(f) => f.1 += sd,
                None => families.push((p.family, sd)),
            }
        }
        families.iter().map(|f| f.1 * f.1).sum::<f64>().sqrt()
    }

    /// Of each construction: spread of its areal mass with one more panel over that of today.
    fn areal_left(&self, more: Option<&Construction>) -> Vec<f64> {
        let Some(more) = more else { return vec![1.0; self.design.constructions.len()] };
        let lib = &self.design.library;
        let mut made: Vec<&Construction> = lib.learnt.own.iter().map(|o| &o.made).collect();
        let shared = OF_MASS.len();
        let mut now = if lib.learnt.weighed() {
            Belief { mean: vec![0.0; lib.learnt.covariance.len()], covariance: lib.learnt.covariance.clone() }
        } else {
            let mut sd: Vec<f64> = OF_MASS.iter().map(|w| before(*w)).collect();
            sd.extend(made.iter().map(|_| OWN_MASS));
            Belief::about_zero(&sd)
        };
        let which = made.iter().position(|m| same_stack(m, more)).unwrap_or_else(|| {
            now.grow(OWN_MASS);
            made.push(more);
            made.len() - 1
        });
        let weight = |c: &Construction, own: Option<usize>| {
            let (areal, by) = sensitivity(c, lib);
            let mut w = vec![0.0; shared + made.len()];
            w[..shared].copy_from_slice(&by);
            if let Some(i) = own {
                w[shared + i] = areal;
            }
            (w, areal)
        };
        let mut then = now.clone();
        let (w, areal) = weight(more, Some(which));
        then.learn(&w, 0.0, (PIECE_MASS * areal).powi(2) / f64::from(PIECES));
        self.design
            .constructions
            .iter()
            .map(|c| {
                let own = made.iter().position(|m| same_stack(m, c));
                let (w, areal) = weight(c, own);
                let apart = if own.is_none() { (OWN_MASS * areal).powi(2) } else { 0.0 };
                let (a, b) = (now.of(&w).1 + apart, then.of(&w).1 + apart);
                if a > 0.0 { (b / a).sqrt().min(1.0) } else { 1.0 }
            })
            .collect()
    }
}
