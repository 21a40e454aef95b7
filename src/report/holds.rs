//! The hold-here sheet: one A4 page of plain words, places in mm from the root, for whoever helps to carry.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::design::Strip;
use crate::physics::durability::held::{self, Held};
use crate::physics::durability::index::{self, Hands, HoldCheck};
use crate::physics::evaluation::Evaluation;
use crate::physics::strength::Verdict;

/// Lines and columns of an A4 page in a plain typewriter face.
pub const PAGE_LINES: usize = 62;
pub const PAGE_COLUMNS: usize = 80;

/// What a place is for, in words.
pub const fn word(may: Hands) -> &'static str {
    match may {
        Hands::Hold => "HOLD HERE, flat palm",
        Hands::Care => "with care: fingers no, palm lightly",
        Hands::NoTouch => "DO NOT TOUCH",
    }
}

/// A stretch of a strip, mm from the root.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    pub strip: Strip,
    pub from_mm: f64,
    pub to_mm: f64,
    pub may: Hands,
    /// What one palm may bring anywhere on it, N; None where that is not shown or no palm has a place.
    pub palm_n: Option<f64>,
}

impl Stretch {
    /// What it is for, with what one palm may bring.
    fn words(&self) -> String {
        let to = self.palm_n.map(|n| format!("{:.0} N", n.floor()));
        match (self.may, to) {
            (Hands::Hold, Some(to)) => format!("{}, to {to}", word(Hands::Hold)),
            (Hands::Care, Some(to)) => format!("with care: fingers no, palm to {to}"),
            (may, _) => word(may).to_owned(),
        }
    }
}

/// Whether a hold may be used, by both checks: its skin under a lifting palm, and its strength when one person carries the wing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MayLift {
    Yes,
    /// The palm stands, the strength is not computed there.
    NotShown,
    /// Strength falls short, though the palm leaves no mark.
    Short,
    /// The palm itself damages the skin.
    Marks,
}

impl MayLift {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Yes => "stands it",
            Self::NotShown => "stands a palm, strength not shown: ask before lifting here",
            Self::Short => "SHORT OF STRENGTH when the wing is carried by it: do not lift here",
            Self::Marks => "DOES NOT STAND IT: do not lift here",
        }
    }
    /// Nothing says it may not.
    pub const fn may(self) -> bool {
        matches!(self, Self::Yes | Self::NotShown)
    }
}

/// The verdict on a hold: the worse of its skin under a palm and the strength of the zone it lies on.
pub fn may_lift(e: &Evaluation, h: &HoldCheck) -> MayLift {
    if !h.holds {
        return MayLift::Marks;
    }
    let here: Vec<Verdict> = held::strength_at(&e.layout, &e.margins, h.zone).collect();
    if here.contains(&Verdict::Short) {
        MayLift::Short
    } else if here.is_empty() || here.iter().any(|v| matches!(v, Verdict::NotShown(_))) {
        MayLift::NotShown
    } else {
        MayLift::Yes
    }
}

/// Stretches of every strip, root to tip, neighbours of one word joined.
pub fn stretches(design: &Design, e: &Evaluation) -> Vec<Stretch> {
    let held = Held::of(design, e);
    let mut out: Vec<Stretch> = Vec::new();
    for strip in Strip::ALL {
        let first = out.len();
        for (i, z) in e.layout.zones.iter().enumerate().filter(|(_, z)| z.strip == strip) {
            let (Some(bay), Some(may)) = (e.layout.bays.get(z.bay), held.may.get(i).copied()) else { continue };
            let palm_n = held.palm_n.get(i).copied().flatten();
            let (from_mm, to_mm) = (1e3 * bay.inner.y_m, 1e3 * bay.outer.y_m);
            match out[first..].last_mut() {
                Some(l)
                    if l.may == may && l.palm_n.is_some() == palm_n.is_some() && (l.to_mm - from_mm).abs() < 1.0 =>
                {
                    l.to_mm = to_mm;
                    l.palm_n = l.palm_n.zip(palm_n).map(|(a, b)| a.min(b));
                }
                _ => out.push(Stretch { strip, from_mm, to_mm, may, palm_n }),
            }
        }
    }
    out
}

const fn strip_words(s: Strip) -> &'static str {
    match s {
        Strip::NoseUpper => "top, nose to spar",
        Strip::NoseLower => "underside, nose to spar",
        Strip::AftUpper => "top, behind the spar",
        Strip::AftLower => "underside, behind the spar",
        Strip::AftUpperRear => "top, rear part",
        Strip::AftLowerRear => "underside, rear part",
        Strip::ControlUpper => "control, top",
        Strip::ControlLower => "control, underside",
    }
}

/// For other programs: the same as the sheet.
pub fn json(design: &Design, e: &Evaluation) -> Value {
    let d = &e.durability;
    let holds: Vec<Value> = d
        .holds
        .iter()
        .zip(&design.care.holds)
        .map(|(h, hold)| {
            let may = may_lift(e, h);
            json!({
                "name": h.name, "from_root_m": hold.eta * e.layout.half_span_m, "chord": hold.chord, "upper": hold.upper,
                "asked_n": h.asked_n, "stands_n": h.stands_n, "does_first": h.kind.word(), "may": may.may(), "word": may.word(),
            })
        })
        .collect();
    let rests: Vec<Value> = d
        .rests
        .iter()
        .map(|r| json!({"name": r.name, "asked_pa": r.asked_pa, "stands_pa": r.stands_pa, "does_first": r.kind.word(), "holds": r.holds}))
        .collect();
    let places: Vec<Value> = stretches(design, e)
        .iter()
        .map(|s| {
            json!({
                "strip": s.strip.key(), "from_m": 1e-3 * s.from_mm, "to_m": 1e-3 * s.to_mm, "word": word(s.may),
                "palm_n": s.palm_n,
            })
        })
        .collect();
    json!({
        "scenario": design.name, "palm_n": d.lift_n, "hold_safe_share": Held::of(design, e).share,
        "press_safe_share": d.press_safe_share, "holds": holds, "rests": rests, "places": places,
    })
}

/// The sheet.
pub fn sheet(design: &Design, e: &Evaluation) -> String {
    let d = &e.durability;
    let mut out = String::new();
    let _ = writeln!(out, "WHERE TO HOLD: {}", design.name);
    let _ = writeln!(out, "Places in mm along the span from the root; the two halves are alike.\n");
    let _ = writeln!(
        out,
        "Lift with a flat palm. Lifting asks up to {:.0} N ({:.0} kg) of one.",
        d.lift_n,
        d.lift_n / 9.81
    );
    let _ = writeln!(
        out,
        "May be held {:.0} % of the surface, may be pressed with a firm thumb {:.0} %.\n",
        100.0 * Held::of(design, e).share,
        100.0 * d.press_safe_share
    );
    for (h, hold) in d.holds.iter().zip(&design.care.holds) {
        let mm = 1e3 * hold.eta * e.layout.half_span_m;
        let chord = e.layout.zones.get(h.zone).and_then(|z| e.layout.bays.get(z.bay)).map_or(0.0, |b| b.mid.chord_m);
        let side = if hold.upper { "top" } else { "underside" };
        let word = may_lift(e, h).word();
        let _ = writeln!(
            out,
            "Hold: {}: {word}\n      {mm:.0} mm from the root, {:.0} mm behind the nose, {side}",
            h.name,
            1e3 * hold.chord * chord
        );
    }
    if d.holds.is_empty() {
        let _ = writeln!(out, "No holds are marked in this scenario.");
    }
    for r in &design.care.rests {
        let mm = 1e3 * r.eta * e.layout.half_span_m;
        let fails = d.rests.iter().any(|c| c.name == r.name && !c.holds);
        let word = if fails { "; TOO SMALL OR IN THE WRONG PLACE for a rough road" } else { "" };
        let _ =
            writeln!(out, "Rest: {}, {mm:.0} mm from the root, pad of {:.0} cm2{word}", r.name, 1e4 * r.pad_area_m2);
    }
    let _ = writeln!(out, "\n{:<26}{:>7}{:>8}   what", "part of the wing", "from mm", "to mm");
    let all = stretches(design, e);
    let foot = FOOT.len() + UNCALIBRATED.len() + 2;
    let used = out.lines().count() + foot;
    for (i, s) in all.iter().enumerate() {
        if used + i + 1 >= PAGE_LINES && i + 1 < all.len() {
            let _ = writeln!(
                out,
                "and {} more stretches that do not fit on this page: touch nothing not listed",
                all.len() - i
            );
            break;
        }
        let _ = writeln!(out, "{:<26}{:>7.0}{:>8.0}   {}", strip_words(s.strip), s.from_mm, s.to_mm, s.words());
    }
    out.push('\n');
    let own = if index::is_calibrated(&design.library.learnt) { OWN_SAMPLES } else { UNCALIBRATED };
    for line in own.iter().chain(&FOOT) {
        let _ = writeln!(out, "{line}");
    }
    out.lines().map(broken).collect()
}

/// A line broken at words so that none of it falls off the page; what follows stands further in.
pub(super) fn broken(line: &str) -> String {
    let mut out = String::new();
    let mut used = 0;
    for word in line.split_inclusive(' ') {
        let n = word.trim_end().chars().count();
        if used > 0 && used + n > PAGE_COLUMNS {
            out.truncate(out.trim_end().len());
            out.push_str("\n      ");
            used = 6;
        }
        // A single word wider than the page is cut: a name, never a warning.
        let room = PAGE_COLUMNS.saturating_sub(used);
        out.extend(word.chars().take(room));
        used += word.chars().count().min(room);
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

const UNCALIBRATED: [&str; 2] = [
    "Loads are estimates: dents of rigid skins are uncalibrated, no measured case",
    "could be read. Press a sample of your own skin before trusting this sheet.",
];

const OWN_SAMPLES: [&str; 2] = [
    "Loads are estimates, shifted by samples pressed for this wing; places that were",
    "not sampled may stand less. Look at the log of samples before trusting this.",
];

const FOOT: [&str; 4] = [
    "Never lift by the trailing edge or a control. No ratchet straps. Watch for",
    "stones and stubble before setting down. Report every knock, seen or not: the",
    "pilot decides on flight, and a qualified person checks damage. No approval",
    "to fly; loads and limits follow the pilot's own airworthiness rules.",
];
