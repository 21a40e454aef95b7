//! How sure an order of designs is, and what it rests on: every design is worked out under the same draws of all
//! assumptions, and under each assumption alone at its P5 and its P95.

use crate::physics::assumptions::{Assumptions, LIST};
use crate::physics::design::Design;
use crate::physics::evaluation::{Memory, evaluate_again};

/// Draws behind a sureness.
pub const DRAWS: u64 = 200;

/// Below this share an order is "too close to call".
pub const SURE: f64 = 0.8;

/// Standard deviations from the median to P5 and to P95.
const ENDS: [f64; 2] = [-1.645, 1.645];

/// What designs are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ranked {
    /// Repair hours per 100 outings, so the durability index as well.
    RepairHours,
    /// Expected weight, kg.
    Weight,
}

/// Repair hours and expected weight of one design under one set of assumptions.
type Pair = [f64; 2];

/// One design under its nominal assumptions, under the draws, and under each assumption alone at both its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    nominal: Pair,
    draws: Vec<Pair>,
    ends: Vec<[Pair; 2]>,
}

impl Drawn {
    /// Work a design out; nothing when `stop` says so on the way.
    pub fn of(design: &Design, stop: &dyn Fn() -> bool) -> Option<Self> {
        let mut memory = Memory::default();
        let mut under = |a: &Assumptions| {
            (!stop()).then(|| {
                let e = evaluate_again(design, a, &mut memory);
                [e.durability.repair_h, e.weight.expected_kg]
            })
        };
        let nominal = under(&Assumptions::default())?;
        let draws = (0..DRAWS).map(|seed| under(&Assumptions::draw(seed))).collect::<Option<_>>()?;
        let mut alone = |which: usize, deviations: f64| {
            let mut a = Assumptions::default();
            a.factor[which] = factor_at(which, deviations);
            under(&a)
        };
        let ends = (0..LIST.len()).map(|i| Some([alone(i, ENDS[0])?, alone(i, ENDS[1])?])).collect::<Option<_>>()?;
        Some(Self { nominal, draws, ends })
    }
}

fn factor_at(which: usize, deviations: f64) -> f64 {
    LIST.get(which).map_or(1.0, |a| (a.beta * deviations).exp())
}

/// How far one assumption alone could turn an order round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turns {
    /// Index in `assumptions::LIST`.
    pub assumption: usize,
    /// Share of the gap between the two, in the logarithm, that it takes away at its worse end; 1 or more turns the order.
    pub gap_taken: f64,
    /// The factor on the assumption at that end.
    pub at_factor: f64,
}

impl Turns {
    /// Turns the order round all by itself.
    pub fn alone(&self) -> bool {
        self.gap_taken >= 1.0
    }
}

/// One design against another, the same draws for both.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// Shares of the draws in which it needs fewer repair hours, and is lighter.
    pub more_durable: f64,
    pub lighter: f64,
    /// What each order rests on, the assumption that could turn it furthest first; one that takes nothing away is left out.
    pub durability_on: Vec<Turns>,
    pub weight_on: Vec<Turns>,
}

/// How sure it is that `mine` beats `first`, and what that rests on.
pub fn against(first: &Drawn, mine: &Drawn) -> Against {
    Against {
        more_durable: share(first, mine, Ranked::RepairHours),
        lighter: share(first, mine, Ranked::Weight),
        durability_on: rests_on(first, mine, Ranked::RepairHours),
        weight_on: rests_on(first, mine, Ranked::Weight),
    }
}

/// Share of the draws in which `mine` has less of it than `first`; a draw that ends even counts half.
pub fn share(first: &Drawn, mine: &Drawn, by: Ranked) -> f64 {
    let half = |m: f64, f: f64| if m < f { 1.0 } else { f64::from(u8::from(m == f)) * 0.5 };
    let won: f64 = mine.draws.iter().zip(&first.draws).map(|(m, f)| half(m[by as usize], f[by as usize])).sum();
    won / DRAWS as f64
}

/// Designs in order, the one with least of it first, each with how sure it is to stand above the next.
pub fn order(all: &[Drawn], by: Ranked) -> Vec<(usize, Option<f64>)> {
    let mut at: Vec<usize> = (0..all.len()).collect();
    at.sort_by(|a, b| all[*a].nominal[by as usize].total_cmp(&all[*b].nominal[by as usize]));
    let above = |i: usize| at.get(i + 1).map(|next| share(&all[*next], &all[at[i]], by));
    (0..at.len()).map(|i| (at[i], above(i))).collect()
}

fn rests_on(first: &Drawn, mine: &Drawn, by: Ranked) -> Vec<Turns> {
    let gap = |m: &Pair, f: &Pair| (m[by as usize].max(1e-9) / f[by as usize].max(1e-9)).ln();
    let nominal = gap(&mine.nominal, &first.nominal);
    if nominal.abs() < 1e-9 {
        return Vec::new();
    }
    let worse = |(i, (m, f)): (usize, (&[Pair; 2], &[Pair; 2]))| {
        let taken = [0, 1].map(|end| 1.0 - gap(&m[end], &f[end]) / nominal);
        let end = usize::from(taken[1] > taken[0]);
        Turns { assumption: i, gap_taken: taken[end], at_factor: factor_at(i, ENDS[end]) }
    };
    let mut out: Vec<Turns> = mine.ends.iter().zip(&first.ends).enumerate().map(worse).collect();
    out.retain(|t| t.gap_taken > 1e-6);
    out.sort_by(|a, b| b.gap_taken.total_cmp(&a.gap_taken));
    out
}

/// "more durable, 93 % sure" or "too close to call (61 %)".
pub fn words(share: f64, better: &str, worse: &str) -> String {
    let (sure, word) = if share >= 0.5 { (share, better) } else { (1.0 - share, worse) };
    let percent = sure * 100.0;
    if sure < SURE { format!("too close to call ({percent:.0} %)") } else { format!("{word}, {percent:.0} % sure") }
}

/// "34 % of the gap at x0.72" or "turns it alone at x0.72".
pub fn turn_words(t: &Turns) -> String {
    if t.alone() {
        format!("turns it alone at x{:.2}", t.at_factor)
    } else {
        format!("{:.0} % of the gap at x{:.2}", 100.0 * t.gap_taken, t.at_factor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(nominal: f64, slope: &[f64]) -> Drawn {
        // Hours go with each assumption to the power `slope`, so every share can be worked out by hand.
        let under = |a: &Assumptions| {
            let h: f64 = slope.iter().zip(&a.factor).map(|(s, f)| s * f.ln()).sum();
            [nominal * h.exp(), 40.0]
        };
        let end = |i: usize, z: f64| {
            let mut a = Assumptions::default();
            a.factor[i] = factor_at(i, z);
            under(&a)
        };
        Drawn {
            nominal: under(&Assumptions::default()),
            draws: (0..DRAWS).map(|s| under(&Assumptions::draw(s))).collect(),
            ends: (0..LIST.len()).map(|i| [end(i, ENDS[0]), end(i, ENDS[1])]).collect(),
        }
    }

    #[test]
    fn what_moves_both_alike_turns_nothing() {
        let (a, b) = (drawn(10.0, &[1.0, 0.5]), drawn(20.0, &[1.0, 0.5]));
        let got = against(&a, &b);
        assert_eq!((got.more_durable, got.lighter), (0.0, 0.5));
        assert!(got.durability_on.is_empty() && got.weight_on.is_empty(), "{got:?}");
    }

    #[test]
    fn what_moves_one_alone_turns_the_order_by_its_share_of_the_gap() {
        // Hand sum: the gap is ln 1.2; an assumption of spread b and slope 1 on one side takes 1.645 b/ln 1.2 of it.
        let (a, b) = (drawn(10.0, &[]), drawn(12.0, &[1.0, 0.2]));
        let on = against(&a, &b).durability_on;
        assert_eq!(on.iter().map(|t| t.assumption).collect::<Vec<_>>(), [0, 1]);
        for (t, slope) in on.iter().zip([1.0, 0.2]) {
            let want = 1.645 * slope * LIST[t.assumption].beta / 1.2_f64.ln();
            assert!((t.gap_taken - want).abs() < 1e-9 && t.at_factor < 1.0, "{t:?} {want}");
        }
        assert!(on[0].alone() && !on[1].alone());
        // And the share of draws is that of a normal law: Phi(-ln 1.2/sd), sd 0.202: 0.18.
        assert!((against(&a, &b).more_durable - 0.18).abs() < 0.07);
    }

    #[test]
    fn the_order_says_how_sure_each_is_to_stand_above_the_next() {
        let all = [drawn(30.0, &[]), drawn(10.0, &[]), drawn(20.0, &[])];
        assert_eq!(order(&all, Ranked::RepairHours), [(1, Some(1.0)), (2, Some(1.0)), (0, None)]);
    }

    #[test]
    fn an_order_less_sure_than_four_in_five_is_not_called() {
        assert_eq!(words(0.79, "lighter", "heavier"), "too close to call (79 %)");
        assert_eq!(words(0.1, "lighter", "heavier"), "heavier, 90 % sure");
    }
}
