//! Parts on the scales: what was weighed takes the place of its estimate, and teaches what parts of the same stuff will weigh.

use std::borrow::Cow;

use crate::physics::design::Strip;
use crate::physics::mass::tally::{Heading, Maturity, Part};
use crate::physics::samples::rule::Belief;

/// Which half of the wing a weighed part belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Half {
    Left,
    Right,
    #[default]
    Both,
}

impl Half {
    pub const ALL: [Self; 3] = [Self::Left, Self::Right, Self::Both];
    pub const fn key(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Both => "both",
        }
    }
}

/// What of the parts list was laid on the scales: a heading, or the part of that name under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    pub heading: Heading,
    /// None: everything under the heading.
    pub part: Option<String>,
}

/// One weighing.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighing {
    pub piece: Piece,
    pub half: Half,
    pub mass_kg: f64,
    /// Standard deviation of the scale, kg.
    pub scale_error_kg: f64,
    pub date: String,
    pub note: String,
}

impl Weighing {
    /// Whether two of them lay the same thing on the scales; left and right of one piece do not.
    pub fn meets(&self, other: &Self) -> bool {
        let halves = self.half == other.half || [self.half, other.half].contains(&Half::Both);
        self.piece.meets(&other.piece) && (self.piece != other.piece || halves)
    }
}

/// Error of the scale when the record says none, kg: two grams, a kitchen scale. An assumption.
pub const SCALE_ERROR_KG: f64 = 0.002;
/// Scatter from one part to its like, the other half or other parts of the same stuff, as a share of the mass. An assumption.
pub const LIKENESS: f64 = 0.03;
/// A mass this far from what is expected, as a share of it, is looked at again before it teaches anything: a slip of the pen, or one
/// half taken for both. A choice of ours.
pub const FAR: f64 = 0.4;
/// First family of parts that were weighed: each errs by its own scale and by nothing else.
const FAMILY: usize = 1_000_000;

/// Name a part goes by: parts of one strip and name are one, whatever the bay.
pub(crate) fn name_of(p: &Part) -> Cow<'_, str> {
    name_on(p.strip, p.name.as_ref())
}

fn name_on(strip: Option<Strip>, name: &str) -> Cow<'_, str> {
    match strip {
        Some(s) if !name.contains(s.label()) => Cow::Owned(format!("{} {name}", s.label())),
        _ => Cow::Borrowed(name),
    }
}

/// The part of that name under a heading, as the parts list calls it.
pub(crate) fn part_of(heading: Heading, strip: Option<Strip>, name: &str) -> Piece {
    Piece { heading, part: Some(name_on(strip, name).into_owned()) }
}

impl Piece {
    /// Whether a line of the parts list is of it.
    pub fn covers(&self, p: &Part) -> bool {
        p.heading == self.heading && self.part.as_ref().is_none_or(|name| *name == name_of(p))
    }

    /// Whether two of them share lines.
    pub fn meets(&self, other: &Self) -> bool {
        self.heading == other.heading && (self.part.is_none() || other.part.is_none() || self.part == other.part)
    }

    /// In words: the heading, and the part under it.
    pub fn words(&self) -> String {
        match &self.part {
            Some(part) => format!("{}/{part}", self.heading.word()),
            None => self.heading.word().to_owned(),
        }
    }
}

/// Whether the skin of a strip, or part of it, was weighed: it is built, and no search changes it.
/// Unchecked: no outside check runs it by itself.
pub fn skin_is_built(weighed: &[Weighing], strip: Strip) -> bool {
    let of =
        |w: &Weighing| w.piece.heading == Heading::Skins && w.piece.part.as_ref().is_none_or(|p| p == strip.label());
    weighed.iter().any(of)
}

/// Whether something under a heading was weighed.
/// Unchecked: no outside check runs it by itself.
pub fn is_built(weighed: &[Weighing], heading: Heading) -> bool {
    weighed.iter().any(|w| w.piece.heading == heading)
}

/// What the weighings of one piece say of both halves: mass, kg, and its standard deviation, kg.
///
/// One half weighed: the other is expected the same, [`LIKENESS`] apart, so the sum is `2 m` with `sqrt((2 s)^2 + (l m)^2)`,
/// s the error of the scale. Both together or one after the other: what the scale says, its errors independent.
/// **Source:** sum of independent errors, any text. **Valid for:** at most one weighing of each half, or one of both.
pub fn both_halves(of: &[&Weighing]) -> (f64, f64) {
    let sum = |f: fn(&Weighing) -> f64| of.iter().map(|w| f(w)).sum::<f64>();
    let (kg, variance) = (sum(|w| w.mass_kg), sum(|w| w.scale_error_kg * w.scale_error_kg));
    if of.len() == 1 && of[0].half != Half::Both {
        return (2.0 * kg, (4.0 * variance + (LIKENESS * kg).powi(2)).sqrt());
    }
    (kg, variance.sqrt())
}

/// A piece that was weighed, with what the list said of it before.
#[derive(Debug, Clone, PartialEq)]
pub struct OnScales {
    pub piece: Piece,
    /// Both halves, kg, and its standard deviation.
    pub kg: f64,
    pub sd_kg: f64,
    /// As drawn, and expected with growth, before it was weighed, kg; nothing: it is not in this wing.
    pub drawn_kg: f64,
    pub expected_kg: f64,
    pub sd_before_kg: f64,
    /// Left less right where both were weighed by themselves, kg.
    pub left_over_kg: Option<f64>,
    /// The half that alone was weighed.
    pub half: Option<Half>,
}

impl OnScales {
    /// [`FAR`] from what was expected: it teaches nothing.
    pub fn is_far(&self) -> bool {
        self.drawn_kg > 0.0 && (self.kg / self.expected_kg - 1.0).abs() > FAR
    }
}

/// Put what was weighed in the place of the estimates, and let it teach the others.
///
/// **Weighed lines** share the mass of their piece as they shared the estimate; growth falls to nothing, and they err by the
/// scale alone ([`both_halves`]). **Other lines** err, in the list, by one standard normal deviate for each family: line i weighs
/// `n (1 + g) + s z`. A weighing is `sum n (1 + g) + sum s z + noise`, noise the scale and [`LIKENESS`] of the mass, so the law of
/// every z follows by [`Belief::learn`]; what it becomes moves the growth, and narrows the spread, of lines of the family.
/// **Source:** conjugate normal law as in `samples/rule.rs`. **Valid for:** normal errors; families that one weighing ties together
/// are taken as independent afterwards.
pub fn put(parts: &mut [Part], weighed: &[Weighing]) -> Vec<OnScales> {
    let mut out: Vec<OnScales> = Vec::new();
    let mut families: Vec<usize> = Vec::new();
    for p in parts.iter() {
        if !families.contains(&p.family) {
            families.push(p.family);
        }
    }
    let mut belief = Belief::about_zero(&vec![1.0; families.len()]);
    for (i, w) in weighed.iter().enumerate() {
        if weighed[..i].iter().any(|before| before.piece == w.piece) {
            continue;
        }
        let of: Vec<&Weighing> = weighed.iter().filter(|other| other.piece == w.piece).collect();
        let (kg, sd_kg) = both_halves(&of);
        let mass = |half: Half| of.iter().find(|w| w.half == half).map(|w| w.mass_kg);
        let mut seen = OnScales {
            piece: w.piece.clone(),
            kg,
            sd_kg,
            drawn_kg: 0.0,
            expected_kg: 0.0,
            sd_before_kg: 0.0,
            left_over_kg: mass(Half::Left).zip(mass(Half::Right)).map(|(l, r)| l - r),
            half: Some(w.half).filter(|half| of.len() == 1 && *half != Half::Both),
        };
        let mut weight = vec![0.0; families.len()];
        for p in parts.iter().filter(|p| w.piece.covers(p)) {
            seen.drawn_kg += p.nominal_kg;
            seen.expected_kg += p.nominal_kg * (1.0 + p.growth);
            if let Some(k) = families.iter().position(|f| *f == p.family) {
                weight[k] += p.sd_kg;
            }
        }
        seen.sd_before_kg = weight.iter().map(|s| s * s).sum::<f64>().sqrt();
        if seen.drawn_kg > 0.0 && !seen.is_far() {
            let noise = sd_kg * sd_kg + (LIKENESS * kg).powi(2);
            belief.learn(&weight, kg - seen.expected_kg, noise);
        }
        out.push(seen);
    }
    for p in parts.iter_mut() {
        if let Some(which) = out.iter().position(|s| s.drawn_kg > 0.0 && s.piece.covers(p)) {
            let s = &out[which];
            let share = p.nominal_kg / s.drawn_kg;
            (p.nominal_kg, p.sd_kg, p.growth) = (share * s.kg, share * s.sd_kg, 0.0);
            (p.family, p.maturity) = (FAMILY + which, Maturity::Weighed);
        } else if let Some(k) = families.iter().position(|f| *f == p.family)
            && p.nominal_kg > 0.0
        {
            let (mean, sd) = (belief.mean[k], belief.covariance[k][k].max(0.0).sqrt());
            p.growth += mean * p.sd_kg / p.nominal_kg;
            p.sd_kg *= sd;
        }
    }
    out
}
