//! An evaluation that takes from memory what did not change gives the same bits as one that works everything out.

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use thistledown::mix::layup::put_between;
use thistledown::physics::assumptions::{Assumptions, LIST};
use thistledown::physics::design::{Design, Strip};
use thistledown::physics::evaluation::{Evaluation, Memory, evaluate, evaluate_again};
use thistledown::scenario::dials::dials;
use thistledown::scenario::load;

fn shipped() -> Vec<Design> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut paths: Vec<PathBuf> = std::fs::read_dir(dir).unwrap().map(|e| e.unwrap().path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "toml"));
    paths.sort();
    paths.iter().map(|p| load(p).unwrap().design).collect()
}

/// Every number of an evaluation as it is told apart by its shortest digits: the same words are the same bits, minus
/// nothing and the order of lists among them.
fn bits(e: &Evaluation) -> String {
    format!("{e:?}")
}

/// A wing, what is assumed of it, and a change of either.
#[derive(Debug, Clone)]
struct Wing {
    design: Design,
    assumed: Assumptions,
}

impl Wing {
    fn change(&mut self, (what, which, how): (u8, u32, u32), all: &[Design], layout: &Evaluation) {
        let d = &mut self.design;
        let strips = d.strips.len().max(1);
        let pick = |n: usize| which as usize % n.max(1);
        match what {
            // One bay, or a run of bays, of one strip.
            0..=4 => {
                let strip = d.strips[pick(strips)].strip;
                let bays = &layout.layout.bays;
                let first = (which as usize / strips) % bays.len();
                let last = if what < 4 { first } else { (first + 1 + how as usize % 4).min(bays.len() - 1) };
                let between = (bays[first].inner.eta, bays[last].outer.eta);
                let construction = how as usize % d.constructions.len();
                put_between(d, strip, between, construction);
            }
            // A part of a strip that ends between ribs.
            5 => {
                let strip = d.strips[pick(strips)].strip;
                let from = f64::from(which % 97) / 100.0;
                put_between(d, strip, (from, from + 0.03), how as usize % d.constructions.len());
            }
            6..=8 => {
                let all = dials(d);
                let dial = &all[pick(all.len())];
                let (least, most) = dial.range();
                dial.set(d, least + (most - least) * f64::from(how % 101) / 100.0);
            }
            9 => self.assumed = Assumptions::draw(u64::from(how % 5)),
            10 => {
                self.assumed = Assumptions::default();
                self.assumed.factor[which as usize % LIST.len()] = 0.5 + f64::from(how % 16) / 8.0;
            }
            _ => *d = all[pick(all.len())].clone(),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn what_is_taken_from_memory_is_what_would_be_worked_out(
        first in 0_usize..64,
        changes in prop::collection::vec((0_u8..12, any::<u32>(), any::<u32>()), 1..12),
    ) {
        let all = shipped();
        let mut wing = Wing { design: all[first % all.len()].clone(), assumed: Assumptions::default() };
        let mut memory = Memory::default();
        let mut last = evaluate_again(&wing.design, &wing.assumed, &mut memory);
        for c in changes {
            let before = wing.clone();
            wing.change(c, &all, &last);
            let again = evaluate_again(&wing.design, &wing.assumed, &mut memory);
            let whole = evaluate(&wing.design, &wing.assumed);
            prop_assert!(bits(&again) == bits(&whole), "{c:?} after {before:?}");
            // There and back: what was taken away is found again, or worked out again, to the bit.
            if c.1 % 3 == 0 {
                let back = evaluate_again(&before.design, &before.assumed, &mut memory);
                prop_assert!(bits(&back) == bits(&last), "back from {c:?}");
                wing = before;
            } else {
                last = again;
            }
        }
    }
}

/// Every bay of every strip of every shipped wing once, one after the other, each with another construction.
#[test]
fn every_zone_may_change_and_the_bits_stay() {
    for design in shipped() {
        let mut design = design;
        let (a, mut memory) = (Assumptions::default(), Memory::default());
        let bays = evaluate_again(&design, &a, &mut memory).layout.bays;
        let mut next = 0;
        for (bay, strip) in (0..bays.len()).flat_map(|b| Strip::ALL.map(|s| (b, s))) {
            next = (next + 5) % design.constructions.len();
            put_between(&mut design, strip, (bays[bay].inner.eta, bays[bay].outer.eta), next);
            let again = evaluate_again(&design, &a, &mut memory);
            // To the bit now and then, for it takes its time; as numbers always.
            let whole = evaluate(&design, &a);
            assert!(again == whole, "{} bay {bay}: {}", strip.label(), design.name);
            if next % 4 == 0 {
                assert!(bits(&again) == bits(&whole), "{} bay {bay}: {}", strip.label(), design.name);
            }
        }
    }
}
