//! The `[[weighed]]` tables: parts of this wing that are made and were laid on the scales.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::skins_of;
use crate::physics::mass::tally::{self, Heading, Part};
use crate::physics::mass::weighed::{Half, Piece, SCALE_ERROR_KG, Weighing, name_of};
use crate::physics::strength::sizing;
use crate::physics::wing::hinge_wall::Side;
use crate::physics::wing::layout;
use crate::scenario::check::{G, KG, q};
use crate::scenario::check_samples::date;
use crate::scenario::reader::{Table, nearest};
use crate::scenario::weighed::piece;

/// All weighings of the file.
pub(super) fn weighed(root: &Table) -> Vec<Weighing> {
    let mut out: Vec<Weighing> = Vec::new();
    for t in root.tables("weighed") {
        let Some(w) = weighing(&t) else { continue };
        if let Some(other) = out.iter().find(|other| w.meets(other)) {
            t.faults.add(
                t.place("of"),
                format!("{} lays \"{}\" on the scales again", t.path, w.piece.words()),
                format!(
                    "\"{}\" ({}) stands further up: {}",
                    other.piece.words(),
                    other.half.key(),
                    if other.piece == w.piece {
                        "keep one of the two, or weigh left and right by themselves"
                    } else {
                        "keep the whole or its parts"
                    }
                ),
            );
            continue;
        }
        out.push(w);
    }
    out
}

fn weighing(t: &Table) -> Option<Weighing> {
    let word = t.need_text("of");
    let piece = match piece(&word) {
        Ok(p) => Some(p),
        Err(next) => {
            if t.has("of") {
                t.faults.add(t.place("of"), format!("{}.of is \"{word}\"", t.path), next);
            }
            None
        }
    };
    let half = t.word("half", &Half::ALL.map(Half::key)).and_then(|i| Half::ALL.get(i).copied());
    let in_kg = t.has("mass_kg") || t.has("mass_lb");
    let mass_kg = if in_kg {
        t.need_quantity(q("mass", KG), 0.0001..=200.0)
    } else {
        t.need_quantity(q("mass", G), 0.1..=200_000.0)
    };
    let scale_error_kg = t.quantity_or(q("scale_error", G), 0.0..=5_000.0, SCALE_ERROR_KG);
    let (date, note) = (date(t), t.text("note").unwrap_or_default());
    t.done();
    Some(Weighing { piece: piece?, half: half.unwrap_or_default(), mass_kg, scale_error_kg, date, note })
}

/// The lines of the parts list a weighing may name: those of the wing as drawn, nothing weighed, with the fewest spar layers.
pub(super) fn lines(d: &Design) -> Vec<Part> {
    let bare = Design { weighed: Vec::new(), ..d.clone() };
    let (layout, assumed) = (layout::lay_out(&bare), Assumptions::default());
    tally::weigh(&bare, &layout, &skins_of(&bare, &assumed), &sizing::least(&bare, &layout), &assumed).parts
}

/// Names that a line may have in some wing.
const NAMES: [&str; 13] = [
    "upper cap",
    "lower cap",
    "cap backing",
    "shear web",
    "posts",
    "root rib",
    "rib",
    "nose ribs",
    "closing rib",
    "joint rib",
    "joint rib, other side",
    "tip rib",
    "splice",
];

/// Whether a name may stand in the list of this wing with its dials elsewhere: one may take away what was weighed.
fn may_be(d: &Design, p: &Piece) -> bool {
    let Some(part) = p.part.as_deref() else { return true };
    let own = match p.heading {
        Heading::Patches => d.patches.iter().any(|x| x.name == part),
        Heading::Joints => d.joints.iter().any(|x| x.name == part),
        Heading::Controls => d.controls.iter().any(|x| x.name == part) || Side::BOTH.iter().any(|s| s.wall() == part),
        Heading::Fittings => d.aboard.masses.iter().any(|x| x.name == part),
        Heading::Protection => d.care.protections.iter().any(|x| x.name == part),
        _ => NAMES.contains(&part),
    };
    own || Strip::ALL.iter().any(|s| part == s.label() || part == format!("{} splice", s.label()))
}

/// Refuse every weighing that names no part there can be; what the wing merely does not have is a warning.
pub(super) fn in_this_wing(root: &Table, d: &mut Design) {
    if d.weighed.is_empty() {
        return;
    }
    let lines = lines(d);
    let mut absent = Vec::new();
    for (t, w) in root.tables("weighed").iter().zip(&d.weighed) {
        match is_there(&w.piece, &lines) {
            Ok(()) => {}
            Err(_) if may_be(d, &w.piece) => {
                absent.push(format!("\"{}\" was weighed and is not in this wing", w.piece.words()));
            }
            Err(next) => t.faults.add(t.place("of"), format!("{}.of is \"{}\"", t.path, w.piece.words()), next),
        }
    }
    d.warnings.extend(absent);
}

/// Whether a piece stands in a parts list; what to write otherwise.
pub(super) fn is_there(p: &Piece, lines: &[Part]) -> Result<(), String> {
    if lines.iter().any(|l| p.covers(l) && l.nominal_kg > 0.0) {
        return Ok(());
    }
    let mut under: Vec<String> = Vec::new();
    for l in lines.iter().filter(|l| l.heading == p.heading && l.nominal_kg > 0.0) {
        let name = name_of(l).into_owned();
        if !under.contains(&name) {
            under.push(name);
        }
    }
    let heading = p.heading.word();
    let near = p.part.as_ref().and_then(|part| nearest(part, under.iter().map(String::as_str)));
    Err(near.map_or_else(
        || format!("this wing has nothing under \"{heading}\"; `workshop FILE --scales` lists its parts"),
        |near| format!("the nearest of this wing is \"{heading}/{near}\"; all under it: {}", under.join(", ")),
    ))
}
