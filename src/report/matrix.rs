//! Failure modes against load cases: what each case alone leaves of each mode, and on whose word the mode stands.

use std::fmt::Write as _;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::physics::loads::internal::Loads;
use crate::physics::strength::{Context, MODES, Margin, Verdict, checks, margins, sizing};

/// The least reserve factor of a mode under one case: infinite where the case asks nothing of it, or the wing has no such
/// part; None where it is not shown.
fn least(all: &[Margin], mode: &str) -> Option<f64> {
    let of = all.iter().filter(|m| m.mode == mode);
    let (silent, shown): (Vec<&Margin>, Vec<_>) = of.partition(|m| matches!(m.verdict, Verdict::NotShown(_)));
    let none = shown.is_empty() && !silent.is_empty();
    (!none).then(|| shown.iter().map(|m| m.rf).fold(f64::INFINITY, f64::min))
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
    out.push_str("(- nothing applied or no such part, n.s. not shown; below 1.00 is short)\n\ncases\n");
    for (case, _) in &under {
        let _ = writeln!(out, "  {:>2}  {}", case + 1, e.loads.cases.get(*case).map_or("", |c| c.title));
    }
    for block in under.chunks(BESIDE) {
        let _ = write!(out, "\n  {:<22}", "mode");
        for (case, _) in block {
            let _ = write!(out, "{:>7}", case + 1);
        }
        out.push('\n');
        for m in MODES.iter().filter(|m| m.margins.is_some()) {
            let _ = write!(out, "  {:<22}", m.key);
            for (_, all) in block {
                let word = match least(all, m.key) {
                    None => "n.s.".to_owned(),
                    Some(rf) if rf.is_infinite() => "-".to_owned(),
                    Some(rf) if rf >= 99.95 => ">99".to_owned(),
                    Some(rf) => format!("{rf:.2}"),
                };
                let _ = write!(out, "{word:>7}");
            }
            out.push('\n');
        }
    }
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
