//! Rules a person can state, as operations on the table: cells taken away, runs lengthened, strips put together.

use std::collections::BTreeMap;

use crate::problem::Problem;
use crate::search::table::{Cell, Joint, Strip, Table};

/// One rule. Strips are numbered as in the table, constructions go by name, bays count from 0 at the root.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rule {
    /// The strip stays as it is, whatever other rules say of it. A forbidden cell or joint stays forbidden.
    Fixed { strip: usize, choice: Vec<usize> },
    /// These constructions only from a bay outward (fabric outboard of a rib). All strips when none is named.
    OnlyOutboard { strip: Option<usize>, constructions: Vec<String>, from_bay: usize },
    /// A construction runs at least this many bays, or the whole strip where that is shorter. All when none is named.
    ShortestRun { strip: Option<usize>, construction: Option<String>, bays: usize },
    /// The strips are built the same (upper and lower skin): one choice for all, weights and hours added.
    Same(Vec<usize>),
    /// Left out everywhere (no sample of it has been made).
    LeftOut { construction: String },
    /// Every bay of it counts as heavier and takes more repair (no sample yet, but not left out).
    Penalised { construction: String, mass: u32, repair: u32 },
    /// At most this many changes along every strip.
    MostChanges(usize),
    /// At most this many different constructions in the whole wing.
    MostConstructions(usize),
}

/// A table with rules applied, and the way back to the strips of the table as given.
#[derive(Debug, Clone)]
pub struct Ruled {
    pub table: Table,
    pub most_constructions: Option<usize>,
    strips: usize,
    /// For each strip of the ruled table: strips it stands for, and what its constructions are called in each.
    members: Vec<Vec<(usize, Vec<usize>)>>,
}

impl Ruled {
    /// A design of the ruled table as a design of the table as given.
    pub fn expand(&self, choice: &[Vec<usize>]) -> Vec<Vec<usize>> {
        let mut out = vec![Vec::new(); self.strips];
        for (members, choice) in self.members.iter().zip(choice) {
            for (s, names) in members {
                out[*s] = choice.iter().map(|&k| names[k]).collect();
            }
        }
        out
    }
}

/// Apply rules; every rule that names what is not there is a fault.
pub fn apply(table: &Table, rules: &[Rule]) -> Result<Ruled, Vec<Problem>> {
    let faults = faults(table, rules);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut strips = table.strips().to_vec();
    let mut most_constructions: Option<usize> = None;
    for rule in rules {
        match rule {
            Rule::OnlyOutboard { strip, constructions, from_bay } => {
                for s in chosen(&mut strips, *strip) {
                    clear(s, |s, k, b| b < *from_bay && constructions.contains(&s.candidates[k]));
                }
            }
            Rule::LeftOut { construction } => {
                for s in &mut strips {
                    clear(s, |s, k, _| s.candidates[k] == *construction);
                }
            }
            Rule::ShortestRun { strip, construction, bays } => {
                for s in chosen(&mut strips, *strip) {
                    for (name, run) in s.candidates.iter().zip(&mut s.shortest_run) {
                        if construction.as_ref().is_none_or(|c| c == name) {
                            *run = (*bays).max(1);
                        }
                    }
                }
            }
            Rule::Penalised { construction, mass, repair } => {
                for s in &mut strips {
                    let bays = s.bays;
                    for k in (0..s.candidates.len()).filter(|&k| s.candidates[k] == *construction) {
                        for c in s.cells[k * bays..(k + 1) * bays].iter_mut().flatten() {
                            c.mass = c.mass.saturating_add(*mass);
                            c.repair = c.repair.saturating_add(*repair);
                        }
                    }
                }
            }
            Rule::MostChanges(n) => strips.iter_mut().for_each(|s| s.max_changes = s.max_changes.min(*n)),
            Rule::MostConstructions(n) => {
                most_constructions = Some(most_constructions.map_or(*n, |m| m.min(*n)));
            }
            Rule::Fixed { .. } | Rule::Same(_) => {}
        }
    }
    for rule in rules {
        if let Rule::Fixed { strip, choice } = rule {
            let s = &mut strips[*strip];
            s.cells.clone_from(&table.strips()[*strip].cells);
            clear(s, |_, k, b| choice[b] != k);
            s.shortest_run.fill(1);
            s.max_changes = s.max_changes.max(Strip::changes(choice));
        }
    }
    let own = |s: usize| (s, (0..table.strips()[s].candidates.len()).collect::<Vec<_>>());
    let mut members: Vec<Vec<(usize, Vec<usize>)>> = (0..strips.len()).map(|s| vec![own(s)]).collect();
    let mut taken = vec![false; strips.len()];
    for rule in rules {
        let Rule::Same(list) = rule else { continue };
        let Some((&first, others)) = list.split_first() else { continue };
        for &s in others {
            let (sum, pairs) = together(&strips[first], &strips[s]);
            for (_, names) in &mut members[first] {
                *names = pairs.iter().map(|(a, _)| names[*a]).collect();
            }
            let mut joined = std::mem::take(&mut members[s]);
            for (_, names) in &mut joined {
                *names = pairs.iter().map(|(_, b)| names[*b]).collect();
            }
            members[first].append(&mut joined);
            strips[first] = sum;
            taken[s] = true;
        }
    }
    let kept = |s: &usize| !taken[*s];
    let all = 0..strips.len();
    let members = all.clone().filter(kept).map(|s| members[s].clone()).collect();
    let ruled = Table::new(all.filter(kept).map(|s| strips[s].clone()).collect())?;
    Ok(Ruled { table: ruled, most_constructions, strips: table.strips().len(), members })
}

fn chosen(strips: &mut [Strip], one: Option<usize>) -> impl Iterator<Item = &mut Strip> {
    strips.iter_mut().enumerate().filter(move |(i, _)| one.is_none_or(|o| o == *i)).map(|(_, s)| s)
}

/// Take cells away: construction, bay.
fn clear(s: &mut Strip, gone: impl Fn(&Strip, usize, usize) -> bool) {
    for k in 0..s.candidates.len() {
        for b in 0..s.bays {
            if gone(s, k, b) {
                s.cells[k * s.bays + b] = None;
            }
        }
    }
}

/// Two strips with one choice: the sum of their cells for constructions of the same name, and which those are.
fn together(a: &Strip, b: &Strip) -> (Strip, Vec<(usize, usize)>) {
    let matching = |(i, name): (usize, &String)| b.candidates.iter().position(|n| n == name).map(|j| (i, j));
    let pairs: Vec<(usize, usize)> = a.candidates.iter().enumerate().filter_map(matching).collect();
    let mut classes: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for (i, j) in &pairs {
        let next = classes.len();
        classes.entry((a.class_of[*i], b.class_of[*j])).or_insert(next);
    }
    let mut by_number: Vec<(usize, usize)> = vec![(0, 0); classes.len()];
    classes.iter().for_each(|(pair, n)| by_number[*n] = *pair);
    let cell = |x: Cell, y: Cell| Cell {
        mass: x.mass + y.mass,
        repair: x.repair + y.repair,
        build: x.build + y.build,
        cost: x.cost + y.cost,
        dent: x.dent.min(y.dent),
        yields: [x.yields[0] + y.yields[0], x.yields[1] + y.yields[1]],
    };
    let joint =
        |x: Joint, y: Joint| Joint { mass: x.mass + y.mass, repair: x.repair + y.repair, build: x.build + y.build };
    let mut cells = Vec::new();
    for (i, j) in &pairs {
        cells.extend((0..a.bays).map(|bay| Some(cell(a.cell(*i, bay)?, b.cell(*j, bay)?))));
    }
    let mut joints = Vec::new();
    for bay in 0..a.bays - 1 {
        for from in &by_number {
            for to in &by_number {
                let both = a.joint(bay, from.0, to.0).zip(b.joint(bay, from.1, to.1));
                joints.push(both.map(|(x, y)| joint(x, y)));
            }
        }
    }
    let sum = Strip {
        name: format!("{} and {}", a.name, b.name),
        bays: a.bays,
        candidates: pairs.iter().map(|(i, _)| a.candidates[*i].clone()).collect(),
        max_changes: a.max_changes.min(b.max_changes),
        classes: by_number.len(),
        class_of: pairs.iter().map(|(i, j)| classes[&(a.class_of[*i], b.class_of[*j])]).collect(),
        shortest_run: pairs.iter().map(|(i, j)| a.shortest_run[*i].max(b.shortest_run[*j])).collect(),
        cells,
        joints,
    };
    (sum, pairs)
}

fn faults(table: &Table, rules: &[Rule]) -> Vec<Problem> {
    let strips = table.strips();
    let mut faults = Vec::new();
    let mut fault = |what: String, next: &str| faults.push(Problem::input(what, next));
    let known = |name: &String| strips.iter().any(|s| s.candidates.contains(name));
    let mut paired = vec![false; strips.len()];
    for rule in rules {
        let named: Vec<usize> = match rule {
            Rule::Fixed { strip, .. } => vec![*strip],
            Rule::OnlyOutboard { strip, .. } | Rule::ShortestRun { strip, .. } => strip.iter().copied().collect(),
            Rule::Same(list) => list.clone(),
            _ => Vec::new(),
        };
        if let Some(s) = named.iter().find(|s| **s >= strips.len()) {
            fault(format!("a rule names strip {s} of {}", strips.len()), "strips are counted from 0");
            continue;
        }
        let names: Vec<&String> = match rule {
            Rule::OnlyOutboard { constructions, .. } => constructions.iter().collect(),
            Rule::ShortestRun { construction, .. } => construction.iter().collect(),
            Rule::LeftOut { construction } | Rule::Penalised { construction, .. } => vec![construction],
            _ => Vec::new(),
        };
        for name in names.into_iter().filter(|n| !known(n)) {
            fault(format!("a rule names the construction `{name}`"), "no strip has it");
        }
        match rule {
            Rule::Fixed { strip, choice } => {
                let s = &strips[*strip];
                if choice.len() != s.bays || choice.iter().any(|&k| k >= s.candidates.len()) {
                    fault(
                        format!("strip `{}` is fixed to {} bays", s.name, choice.len()),
                        "name one construction for each bay",
                    );
                }
            }
            Rule::Same(list) => {
                let bays: Vec<usize> = list.iter().map(|&s| strips[s].bays).collect();
                if bays.windows(2).any(|w| w[0] != w[1]) {
                    fault(format!("strips {list:?} cannot be the same"), "they have different numbers of bays");
                }
                let shared = |n: &String| list.iter().all(|&s| strips[s].candidates.contains(n));
                if list.first().is_some_and(|&s| !strips[s].candidates.iter().any(shared)) {
                    fault(format!("strips {list:?} cannot be the same"), "no construction is in all of them");
                }
                for &s in list {
                    if std::mem::replace(&mut paired[s], true) {
                        fault(format!("strip `{}` is in two groups of equal strips", strips[s].name), "name it once");
                    }
                }
            }
            Rule::MostConstructions(0) => fault("at most 0 constructions".to_owned(), "a wing needs 1 at least"),
            _ => {}
        }
    }
    faults
}
