//! `explain`: a term, a score, a load case, a failure mode, an event, an assumption; what is computed and on whose word.

use std::fmt::Write as _;

use clap::Args;

use crate::command::{Outcome, say};
use crate::physics::assumptions;
use crate::physics::design::MayBuckle;
use crate::physics::durability::catalogue::Number;
use crate::physics::durability::events::{EVENTS, Event};
use crate::physics::loads::case::Case;
use crate::physics::strength::{MODES, NOT_ASSESSED, checks};
use crate::physics::unchecked::UNCHECKED;
use crate::problem::Problem;
use crate::report::{self, case_words, score_words};
use crate::scenario;
use crate::survey::space::distance;

/// Explain a term, score, load case, failure mode, event or assumption; without a word, list them all
///
/// Example: thistledown explain web_buckling
#[derive(Debug, Args)]
pub struct ExplainArgs {
    /// The word, or several
    pub word: Vec<String>,
}

/// Terms in plain words.
const TERMS: &[(&str, &str)] = &[
    ("as_drawn", "Weight by nominal values: areas times areal masses, no allowance."),
    ("expected", "As drawn plus the growth that estimates of this maturity commonly see; centre of P10 and P90."),
    (
        "budget",
        "The percentile you judge weight by (default P80). Limits, ground loads and stall use it; relief in flight uses P10.",
    ),
    (
        "spread",
        "How far what a skin stands scatters about its median: the error of the form, foam, cloth, fibre fraction, thickness, stiffness and strain of the face, depth of the core, what it is laid over, covering, wood. Each enters with the power the load has in it; standard deviations of logarithms, squares add. A blow doubles the load's where the panel takes the energy. The scatter of the contact itself stays with the event. `library KEY` shows the parts of a construction; samples narrow them.",
    ),
    (
        "stop_weight",
        "Of a part still to be made, both halves: the mass it must not pass. What the target leaves when the parts on the scales are taken from it, their error at the percentile you judge by with them, is shared among the parts to come in proportion to what is expected of them; with every one at its stop-weight the wing is on its target.",
    ),
    (
        "weighed",
        "A part on the scales, [[weighed]] in the scenario: its mass takes the place of the estimate, without growth, and errs by the scale alone (one half weighed: the other is expected the same within 3 %, an assumption). It teaches parts of the same stuff, as far as they err together, by the conjugate normal law. It keeps its mass whatever a dial does, and a search changes no skin, rib, web or cap that was weighed.",
    ),
    ("holds", "Allowable over applied is at least 1 in every case and bay computed."),
    ("short", "Allowable over applied is below 1 somewhere."),
    (
        "not_shown",
        "Outside a formula's range, a property missing, or not computed. It never counts as holding; a scenario may accept a mode by name with a reason, which every report repeats.",
    ),
    (
        "trim",
        "A tailless wing (aboard.tailless) is balanced by its own controls, all together: effective angle d = d0 + d1 CL with no moment about the centre of gravity (aboard.cg_mac). The stall, least sink and best glide are flown so, and every load case of flight: pull-ups and push-overs trimmed at their lift, and again with the controls back where they trim level flight (pull_back, push_back); gusts find them there and leave them. What the stops do not let it trim is flown at the stop and warned of; beyond 25 degrees no travel counts. With a tail nothing is trimmed.",
    ),
    (
        "lift_range",
        "Where the lift over the span is known: sweep of the quarter chord up to 30 degrees forward or aft, aspect ratio 5 to 30, taper 0.15 to 1, dihedral up to 5 degrees. There one row of vortices was held to many rows (slope within 1 %, centroid within 0.9 %, to 40 degrees of sweep); further swept, what controls and sections do is not known. Beyond, every margin that flight may bring on is not shown; what is short on the ground stays short. Divergence and roll control have ranges of their own.",
    ),
    (
        "margin",
        "Allowable over applied, less 1. Ultimate load is limit load times the safety factor and the extra factor.",
    ),
    (
        "press_load",
        "The P5 load of an 8 mm thumb pad, held 10 s at service temperature, that first makes a zone need repair; beside it the same for a 10 mm hard ball. Across contact sizes the shown load is the running greatest from the smallest fitted contact (a pad of 5 mm): a wider contact never shows less than a smaller one.",
    ),
    (
        "edges",
        "Trailing edge, rib line and boundary joint, each with a resistance of its own. Where a face on foam ends (trailing edge, boundary joint) a hard contact has the free edge of a plate on an elastic foundation: 0.30 of the load at the middle (Westergaard's interior and edge loading). On a rib line and at a boundary joint nothing gives under a blow, and a covering is cut.",
    ),
    (
        "extrapolated",
        "Outside the range a dent form was fitted in (pads of 5-15 mm, balls of 5-25 mm, cores of 5-14 mm, crush 0.07-1.4 MPa): shown with the mark, never in silence.",
    ),
    (
        "soft_spot",
        "A dent of 1 mm in a face on foam, the state between mark and hole: beyond what the dent forms were fitted to (pads 0.5 mm, balls 0.8 mm), so its load and the hours that rest on it are marked ! wherever they are shown.",
    ),
    (
        "sample",
        "A [[sample]] record of what you weighed and pressed. Presses: ln(measured/predicted) is normal, its spread split in the error of the form, what is the same all over a construction, and from place to place (then as seen); learnt together; `explain spread` says where they come from. Weighings move fibre fraction, pick-up, foam density, finish and the construction's own share together.",
    ),
    (
        "uncalibrated",
        "Fewer than 8 measured dents of described thin-faced specimens could be read (none), so no share of hits is given for dents: press samples of your own.",
    ),
    (
        "durability_index",
        "100/(1 + H/25 h), H the expected repair hours per 100 outings. Uncalibrated until your own samples are pressed.",
    ),
    (
        "sureness",
        "Share of draws of all assumptions, the same draw for both designs, in which an order holds; below 80 % it is too close to call.",
    ),
    (
        "front",
        "Designs within all limits that nothing else beats in both budget weight and repair hours, for the grid searched and these assumptions.",
    ),
    (
        "boundary",
        "Where a strip changes construction. Within 20 mm of a rib it stands on the rib; elsewhere a closing rib is added and weighed.",
    ),
    (
        "caps",
        "What a cap may be made of besides what its own table says stands in [[spar.cap]] (material, backing, strains); widths and layers stay with the cap. `use` in [spar.upper_cap] or [spar.lower_cap] takes one; the search tries every pair, each with a table of its own, unless search.fixed names \"caps\". A cap is of one kind from root to tip.",
    ),
    (
        "cut_list",
        "Every blank of the wing, both halves, `workshop --cuts`: from the areas and constructions of the parts list, so what is left in the wing weighs what the parts list says. A blank is a rectangle: the middle line of the panel and its widest place, with trim_mm round a ply (a cap is laid to width), core_trim_mm round a core or a board, turn_mm round a covering. What no roll or sheet holds is cut in lengths that lap by join_lap_mm (cores butt, wood is scarfed at scarf_ratio); the parts list counts the laps of plies as ply laps, by a rule for strips much longer than a roll reaches, so somewhat more than these blanks have. Laps at a change of construction are cut with the skin and counted under splices.",
    ),
    (
        "waste",
        "Of what is bought for the cut list, the share that does not stay in the wing, `workshop --stock`. Blanks are laid by falling length, each on the first shelf with room across the roll or sheet, shelves into sheets by first fit: a plain rule, never shorter than what is needed. A ply at an angle to the roll takes `a |sin| + b |cos|` across it and the next of a row lies `min(b/|sin|, a/|cos|)` further on, so at 45 degrees a blank reaches across the roll and b/(1.41 W) of the cloth beside it is lost. Widths of rolls, sizes of sheets and trims stand in [workshop] and, for one material, in [[workshop.stock]]; defaults are common practice, no source. `rates.waste` is another number: what the costs count.",
    ),
    (
        "resin_batch",
        "What is laid up in one go, `workshop --resin`: a skin of a piece of one half, a cap, a web, the ribs of one kind, a patch, and glue by joint. Resin that stays is that of the cured plies (fibre share of the process) with laps, surface and core filling; mixed is that times resin_waste of the process. Pots: the fewest that are no heavier than pot_g and used up within pot_life_min at wet_out_min_m2. Resin and hardener are split by hardener_parts of [workshop], off the data sheet; without it no split is shown.",
    ),
    (
        "nose_steps",
        "skins.nose_steps names constructions of the nose, fewest torsion plies first; the program counts plies bay by bay. A nose drawn in one of them begins there. Where nose shear, buckling or wrinkling is short a bay goes a step up, then where twist or roll control is missed; what can be spared is taken back, and plies drop off towards the tip. Bays drawn in a construction the list does not name are not sized. The lightest of all is not promised.",
    ),
    (
        "torsion_plies",
        "Plies at 45 degrees in the skins of the nose, which closes the box that carries torsion: `explain nose_steps` says how they are counted, `explain nose_shear` and `explain twist` what they serve.",
    ),
    (
        "torsion_test",
        "`workshop --torsion`: frames clamped on one or two ribs of a half wing, a couple on each, limit load at most. Asked is not the plain torsion T of the Strength page but T + V fV/fT, the torque that gives the nose the shear flow of the case, torsion and shear together (f the flow round the nose for each unit); both stand in the table. No section sees more than is asked there. No approval to fly: a qualified person reviews plan and rig.",
    ),
    (
        "section",
        "A section, `workshop --section`: a short length of the spar made only to be broken, like one bay at its inner edge, held or laid in a rig that brings it moment and shear of its design case together. The sheet tells the load at which each mode should break it, how far it goes and what it weighs; what broke it is entered with --saw and --broke-by. It never flies. Shapes of the wing stand under [[section]] in the file.",
    ),
    (
        "may_buckle",
        "Of a skin, [skins.may_buckle]: what it may buckle under. not_below_ultimate (the nose where nothing is said): it stands every limit load times the safety factor and the extra factor. not_below_limit (all others): it stands limit load, times 1. allowed: no buckling margin is worked out for it; the sums still take the skin as if it had not buckled. nose_buckling and aft_buckling read it; strength after buckling is worked out nowhere.",
    ),
    (
        "pick_up",
        "Resin the open cells of a core face take beyond the ply's own; it adds per face, it never multiplies.",
    ),
];

/// Run it.
pub fn run(args: &ExplainArgs) -> Outcome {
    if args.word.is_empty() {
        say(&all()?)?;
    } else {
        say(&one(&args.word.join(" "))?)?;
    }
    Ok(0)
}

fn unchecked() -> String {
    let mut out = String::from(
        "functions of the physics that no outside check runs by itself (most take part in whole-wing checks):\n",
    );
    for f in UNCHECKED {
        let _ = writeln!(out, "  {f}");
    }
    out
}

/// The load cases on the invented Marram, and what it is called.
fn cases() -> Result<(Vec<Case>, String), Vec<Problem>> {
    let design = scenario::demo()?.design;
    Ok((case_words::all(&design), design.name))
}

fn all() -> Result<String, Vec<Problem>> {
    let mut out = String::from("terms\n");
    for (k, _) in TERMS {
        let _ = writeln!(out, "  {k}");
    }
    out.push_str("  unchecked\n  matrix (failure modes against load cases on the invented Marram)\n");
    out.push_str("scores and figures\n");
    for x in score_words::SCORES {
        let _ = writeln!(out, "  {:<24}{}", x.names.first().unwrap_or(&""), x.title);
    }
    out.push_str("load cases\n");
    for c in cases()?.0 {
        let _ = writeln!(out, "  {:<24}{}", c.key, c.title);
    }
    out.push_str("failure modes (computed unless said)\n");
    for m in MODES {
        let state = match checks::of(m.key).len() {
            _ if m.margins.is_none() => "not shown".to_owned(),
            0 => format!("{}, unchecked", m.mark.word()),
            n => format!("{}, {n} outside checks", m.mark.word()),
        };
        let _ = writeln!(out, "  {:<24}{} [{state}]", m.key, m.title);
    }
    let [first, rest] = report::text::not_assessed();
    let _ = writeln!(out, "{first}\n  {rest}");
    out.push_str("handling events\n");
    for e in EVENTS {
        let _ = writeln!(out, "  {:<24}{}", e.key, e.title);
    }
    out.push_str("assumptions\n");
    for a in assumptions::LIST {
        let _ = writeln!(out, "  {:<24}{}", a.key, a.title);
    }
    Ok(out)
}

/// What a scenario may give of an event.
fn own_numbers(e: &Event) -> String {
    let own: Vec<&str> = Number::ALL.iter().filter(|n| n.of(e).is_some()).map(|n| n.key()).collect();
    format!("[[care.event]] event = \"{}\" with any of: factor, {}, share, source", e.key, own.join(", "))
}

/// All that can be explained, with its title; load cases are given.
fn titles(cases: &[Case]) -> impl Iterator<Item = (&'static str, &'static str)> {
    let terms = TERMS.iter().map(|(k, _)| (*k, ""));
    terms
        .chain(score_words::SCORES.iter().flat_map(|s| s.names.iter().map(|n| (*n, s.title))))
        .chain(cases.iter().map(|c| (c.key, c.title)))
        .chain(MODES.iter().map(|m| (m.key, m.title)))
        .chain(EVENTS.iter().map(|e| (e.key, e.title)))
        .chain(assumptions::LIST.iter().map(|a| (a.key, a.title)))
}

/// Does a key or a title hold what was asked for?
fn holds_word(key: &str, title: &str, asked: &str) -> bool {
    key.contains(asked) || title.to_lowercase().contains(&asked.replace('_', " "))
}

fn one(word: &str) -> Result<String, Vec<Problem>> {
    let key = word.trim().to_lowercase().replace([' ', '-'], "_");
    if key == "unchecked" {
        return Ok(unchecked());
    }
    if key == "not_assessed" {
        return Ok(format!("no failure mode looks at: {}\n", NOT_ASSESSED.join("; ")));
    }
    if key == "matrix" {
        return Ok(report::matrix::text(&scenario::demo()?.design));
    }
    // The words of a policy are explained with it.
    let term = if MayBuckle::ALL.iter().any(|m| m.key() == key) { "may_buckle" } else { key.as_str() };
    if let Some((_, text)) = TERMS.iter().find(|(k, _)| *k == term) {
        return Ok(format!("{term}: {text}\n"));
    }
    if let Some(s) = score_words::find(&key) {
        return Ok(score_words::text(s));
    }
    if let Some(m) = MODES.iter().find(|m| m.key == key) {
        if m.margins.is_none() {
            return Ok(format!("{}: failure mode, not shown\n  why         {}\n", m.title, m.valid));
        }
        let power = if m.power > 0.0 {
            format!("RF goes as load to the power {:.2}", -m.power)
        } else {
            "does not go as a power of load".to_owned()
        };
        return Ok(format!(
            "{}: failure mode\n  formula     {}\n  source      {} [{}]\n  valid for   {}\n  safe side   {}\n  knock-down  {}\n  with load   {power}\n  checked     {}\n",
            m.title,
            m.formula,
            m.source,
            m.mark.word(),
            m.valid,
            m.safe_side,
            m.knock_down,
            checks::words(m.key)
        ));
    }
    if let Some(e) = EVENTS.iter().find(|e| e.key == key) {
        let mark = if e.assumption { "assumption" } else { "derived or read" };
        return Ok(format!(
            "{}: handling event, {mark}\n  per 100 outings {}, an assumption\n  cause       {}, spread of its logarithm {}\n  contact     {}\n  where       {}\n  {}\n  yours       {}\n",
            e.title,
            e.per_100_outings,
            e.cause.words(),
            e.beta,
            e.contact.words(),
            e.where_words(),
            e.source,
            own_numbers(e)
        ));
    }
    if let Some(a) = assumptions::LIST.iter().find(|a| a.key == key) {
        return Ok(format!("{}: assumption, spread of its logarithm {}\n  {}\n", a.title, a.beta, a.source));
    }
    let (cases, wing) = cases()?;
    if let Some(c) = cases.iter().find(|c| c.key == key) {
        return Ok(case_words::text(c, &wing));
    }
    let mut named: Vec<String> = Vec::new();
    for (k, _) in titles(&cases).filter(|(k, title)| !key.is_empty() && holds_word(k, title, &key)) {
        let k = format!("`{k}`");
        if named.len() < 8 && !named.contains(&k) {
            named.push(k);
        }
    }
    if !named.is_empty() {
        let next = format!("these have it in their name: {}", named.join(", "));
        return Err(vec![Problem::input(format!("nothing is explained under `{word}`"), next)]);
    }
    let near = titles(&cases).map(|t| t.0).min_by_key(|n| distance(n, &key)).unwrap_or("");
    Err(vec![Problem::input(format!("nothing is explained under `{word}`"), format!("the nearest is `{near}`"))])
}
