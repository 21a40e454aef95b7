//! The `[[proof]]` tables: what was seen in proof loads and in sections that were broken, beside what was computed for them.

use crate::physics::mass::weighed::Half;
use crate::physics::workshop::seen::{BALANCE, LEVEL_RAD, Pair, RULE_M, Seen, Test};
use crate::physics::workshop::test_section::SCATTER;
use crate::scenario::check::{DEG, MM, q};
use crate::scenario::check_samples::date;
use crate::scenario::reader::Table;

const DEGREES: &[(&str, f64)] = &[("deg", DEG)];
const NEWTON: &[(&str, f64)] = &[("n", 1.0)];

/// A quantity that is read: its units and range, the reading where the record says none, and how far seen may lie off computed.
pub(super) struct Read {
    pub(super) units: &'static [(&'static str, f64)],
    most: f64,
    apart: f64,
    pub(super) next: &'static str,
}

impl Read {
    /// Least and most that can be read, in the first unit.
    pub(super) fn range(&self) -> [f64; 2] {
        // Divided, not multiplied: so the limits print without noise.
        [self.most / 1e4, self.most]
    }

    /// Whether seen over computed can be.
    pub(super) fn near(&self, ratio: f64) -> bool {
        (1.0 / self.apart..=self.apart).contains(&ratio)
    }
}

pub(super) const LENGTH: Read = Read {
    units: MM,
    most: 5000.0,
    apart: 3.5,
    next: "mm from the empty rig; computed_mm stands on the sheet beside the step that was laid",
};
pub(super) const TURN: Read =
    Read { units: DEGREES, most: 45.0, apart: 3.5, next: "degrees; computed_deg stands on the sheet beside the step" };
pub(super) const LOAD: Read = Read {
    units: NEWTON,
    most: 1e6,
    apart: 20.0,
    next: "all loads together in N; computed_n is the likely load of the mode that broke it",
};

/// All records of the file.
pub(super) fn proofs(root: &Table) -> Vec<Seen> {
    let mut out: Vec<Seen> = Vec::new();
    for t in root.tables("proof") {
        let Some(new) = proof(&t) else { continue };
        if let Some(i) = out.iter().position(|old| *old == new) {
            let next = "keep one; a second reading of the same step has another value, date or note";
            t.faults.add(t.at, format!("{} says the same as proof[{}]", t.path, i + 1), next);
            continue;
        }
        out.push(new);
    }
    out
}

/// Computed and seen of one quantity; a fault where one of the two is missing.
fn pair(t: &Table, r: &Read, reading: impl Fn(f64) -> f64, must: bool) -> Option<Pair> {
    let (unit, _) = r.units.first().copied()?;
    let [least, most] = r.range();
    let given = |name: &str| r.units.iter().any(|(u, _)| t.has(&format!("{name}_{u}")));
    let range = || least..=most;
    if !must && !given("computed") && !given("seen") {
        for name in ["computed", "seen", "read_within"] {
            t.quantity(q(name, r.units), range());
        }
        return None;
    }
    let read = |name: &str| {
        if given(name) {
            return t.quantity(q(name, r.units), range());
        }
        t.need_quantity(q(name, r.units), range());
        None
    };
    let (computed, seen) = (read("computed"), read("seen"));
    let within = t.quantity(q("read_within", r.units), 0.0..=0.2 * r.most);
    let (computed, seen) = (computed?, seen?);
    let reading = within.unwrap_or_else(|| reading(seen));
    if !r.near(seen / computed) {
        let what = format!("{} saw {:.2} times what was computed", t.path, seen / computed);
        t.faults.add(t.place(&format!("seen_{unit}")), what, r.next);
        return None;
    }
    Some(Pair { computed, seen, reading })
}

fn proof(t: &Table) -> Option<Seen> {
    if !t.has("test") {
        t.faults.add(
            t.at,
            format!("{} does not say of which test", t.path),
            "write test = \"bags\", \"torsion\" or \"section\"",
        );
    }
    let test = t.word("test", &Test::ALL.map(Test::key)).and_then(|i| Test::ALL.get(i).copied());
    let step = t.number_or("step", 0.05..=2.0, 1.0);
    let half = t.word("half", &Half::ALL.map(Half::key)).and_then(|i| Half::ALL.get(i).copied());
    let (date, note) = (date(t), t.text("note").unwrap_or_default());
    let test = test?;
    let gave = match test {
        Test::Bags => pair(t, &LENGTH, |_| RULE_M, true),
        Test::Torsion => pair(t, &TURN, |_| LEVEL_RAD, true),
        Test::Section => pair(t, &LENGTH, |_| RULE_M, false),
    };
    let broke = if test == Test::Section { broke(t, gave.is_some()) } else { None };
    t.done();
    if gave.is_none() && broke.is_none() {
        return None;
    }
    Some(Seen { test, step, half: half.unwrap_or_default(), gave, broke, date, note })
}

/// The load that broke a section, and its mode.
fn broke(t: &Table, gave: bool) -> Option<(Pair, &'static str)> {
    let modes = SCATTER.map(|s| s.mode);
    let mode = t.word("broke_by", &modes).and_then(|i| modes.get(i).copied());
    let load = pair(t, &LOAD, |seen| BALANCE * seen, t.has("broke_by"));
    if load.is_some() && !t.has("broke_by") {
        let next = format!(
            "write broke_by, one of {}; leave computed_n and seen_n out where it did not break",
            modes.join(", ")
        );
        t.faults.add(t.place("seen_n"), format!("{} does not say what broke", t.path), next);
    }
    let any = |keys: &[&str]| keys.iter().any(|k| t.has(k));
    if !gave
        && load.is_none()
        && !any(&["broke_by", "computed_n", "seen_n", "computed_mm", "seen_mm", "computed_in", "seen_in"])
    {
        let next = "give computed_mm and seen_mm of the load point, or computed_n, seen_n and broke_by";
        t.faults.add(t.at, format!("{} says nothing that was seen", t.path), next);
    }
    Some((load?, mode?))
}
