//! An evaluation that takes from memory what did not change gives the same bits as one that works everything out.

use std::path::{Path, PathBuf};
use std::sync::Arc;

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

fn pick_mut<T>(of: &mut [T], which: u32) -> &mut T {
    let n = of.len();
    &mut of[which as usize % n]
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
            // What things are made of: materials of the library, plies and core of a construction.
            12 => {
                let l = Arc::make_mut(&mut d.library);
                let factor = 0.6 + f64::from(how % 9) / 10.0;
                match how % 4 {
                    0 => pick_mut(&mut l.foams, which).crush_min_pa *= factor,
                    1 => pick_mut(&mut l.foams, which).modulus_pa *= factor,
                    2 => pick_mut(&mut l.coverings, which).stiffness_n_m *= factor,
                    _ => pick_mut(&mut l.fibres, which).modulus_pa *= factor,
                }
            }
            13 => {
                let c = pick_mut(&mut d.constructions, which);
                match (how % 3, c.outer.first().copied(), c.core.as_mut()) {
                    (0, Some(ply), _) if c.outer.len() < 4 => c.outer.push(ply),
                    (1, _, _) if c.outer.len() > 1 => c.outer.truncate(c.outer.len() - 1),
                    (_, _, Some(core)) => core.thickness_m *= 0.7 + f64::from(how % 7) / 10.0,
                    _ => {}
                }
            }
            // How the wing is treated, how warm it gets, and where it is held.
            14 => match how % 5 {
                0 => d.care.hits_left_alone = !d.care.hits_left_alone,
                1 => d.care.outings_per_year = f64::from(10 + which % 100),
                2 => d.service.upper_c = f64::from(20 + which % 40),
                3 => d.care.holds.truncate(d.care.holds.len() / 2),
                _ => d.care.rests.truncate(d.care.rests.len() / 2),
            },
            15 => match how % 4 {
                0 => d.spar.bond_width_m *= 1.0 + f64::from(which % 5) / 10.0,
                1 => d.targets.budget_percentile = 0.5 + f64::from(which % 5) / 11.0,
                2 => d.rates.growth = f64::from(which % 5) / 10.0,
                // With and without a tail.
                _ => (d.aboard.tailless, d.aboard.cg_mac) = (!d.aboard.tailless, 0.1 + f64::from(which % 5) / 20.0),
            },
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
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn what_is_taken_from_memory_is_what_would_be_worked_out(
        first in 0_usize..64,
        changes in prop::collection::vec((0_u8..17, any::<u32>(), any::<u32>()), 1..16),
    ) {
        let all = shipped();
        let mut wing = Wing { design: all[first % all.len()].clone(), assumed: Assumptions::default() };
        let mut memory = Memory::default();
        let mut last = evaluate_again(&wing.design, &wing.assumed, &mut memory);
        let mut undo = vec![(wing.clone(), bits(&last))];
        for c in changes {
            let before = wing.clone();
            wing.change(c, &all, &last);
            let again = evaluate_again(&wing.design, &wing.assumed, &mut memory);
            let whole = evaluate(&wing.design, &wing.assumed);
            prop_assert!(bits(&again) == bits(&whole), "{c:?} after {before:?}");
            last = again;
            undo.push((wing.clone(), bits(&last)));
            // There and back, one step or many: what was taken away is found again, or worked out again, to the bit.
            if c.1 % 3 == 0 {
                undo.truncate(1 + c.2 as usize % undo.len());
                let (then, was) = undo.last().unwrap();
                wing = then.clone();
                last = evaluate_again(&wing.design, &wing.assumed, &mut memory);
                prop_assert!(bits(&last) == *was, "back from {c:?}");
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
