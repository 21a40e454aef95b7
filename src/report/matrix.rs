//! Failure modes against load cases: what each case alone leaves of each mode, and on whose word the mode stands.

use std::fmt::Write as _;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::physics::loads::internal::Loads;
use crate::physics::strength::judged::{Judged, judged};
use crate::physics::strength::{Context, MODES, Margin, Verdict, checks, covering_sag, holds, margins, sizing};

/// What one case alone leaves of a mode, in a word.
fn word(all: &[Margin], mode: &str) -> String {
    let of = all.iter().filter(|m| m.mode == mode);
    let (silent, shown): (Vec<&Margin>, Vec<_>) = of.partition(|m| matches!(m.verdict, Verdict::NotShown(_)));
    if !silent.is_empty() && shown.is_empty() {
        let other = |m: &&Margin| [holds::NO_CASE, covering_sag::NO_CASE].map(Verdict::NotShown).contains(&m.verdict);
        return if silent.iter().all(other) { "." } else { "n.s." }.to_owned();
    }
    factor(shown.iter().map(|m| m.rf).fold(f64::INFINITY, f64::min))
}

/// A reserve factor, infinite where nothing is applied or the wing has no such part.
fn factor(rf: f64) -> String {
    match rf {
        rf if rf.is_infinite() => "-".to_owned(),
        rf if rf >= 99.95 => ">99".to_owned(),
        rf => format!("{rf:.2}"),
    }
}

/// Modes that no load case brings on: they hang on the dive speed, and one number is all there is.
fn by_speed(design: &Design, all: &[Margin], out: &mut String) {
    out.push_str("\nof no load case, at the dive speed\n");
    for m in all.iter().filter(|m| judged(design, m) == Judged::DiveSpeed) {
        let _ = writeln!(out, "  {:<22}{:>7}", m.mode, word(std::slice::from_ref(m), m.mode));
    }
}

/// Cases side by side in one block of the table.
const BESIDE: usize = 10;

/// The matrix of a wing in words, its spar as all cases together size it.
pub fn text(design: &Design) -> String {
    let e = evaluate(design, &Assumptions::default());
    let alone = |l: &crate::physics::loads::internal::CaseLoads| {
        let loads = Loads { loads: vec![l.clone()], ..e.loads.clone() };
        let bending = sizing::bend(&e.layout, &e.sections, &loads);
        margins(&Context::new(design, (&e.layout, &e.skins, &loads), (&e.sizing, &e.sections, &bending)))
    };
    let under: Vec<(usize, Vec<Margin>)> = e.loads.loads.iter().map(|l| (l.case, alone(l))).collect();
    let mut out = format!("least reserve factor of each failure mode under each load case alone: {}\n", design.name);
    out.push_str("(below 1.00 is short; - nothing applied or no such part; . judged under other cases only; n.s. not shown)\n\ncases\n");
    let speed: Vec<&str> =
        e.margins.iter().filter(|m| judged(design, m) == Judged::DiveSpeed).map(|m| m.mode).collect();
    for (case, _) in &under {
        let _ = writeln!(out, "  {:>2}  {}", case + 1, e.loads.cases.get(*case).map_or("", |c| c.title));
    }
    for block in under.chunks(BESIDE) {
        let _ = write!(out, "\n  {:<22}", "mode");
        for (case, _) in block {
            let _ = write!(out, "{:>7}", case + 1);
        }
        out.push('\n');
        for m in MODES.iter().filter(|m| m.margins.is_some() && !speed.contains(&m.key)) {
            let _ = write!(out, "  {:<22}", m.key);
            for (_, all) in block {
                let _ = write!(out, "{:>7}", word(all, m.key));
            }
            out.push('\n');
        }
    }
    by_speed(design, &e.margins, &mut out);
    out.push_str("\nwhat each mode stands on\n");
    for m in MODES {
        if m.margins.is_none() {
            let _ = writeln!(out, "  {:<22} not shown: {}", m.key, m.valid);
            continue;
        }
        let n = checks::of(m.key).len();
        let _ = writeln!(out, "  {:<22} {}, {n} outside checks: {}", m.key, m.mark.word(), m.formula);
    }
    out
}
