//! The scores of a wing and the figures of its flight, explained: how each comes about, on whose word, what moves it.

use std::fmt::Write as _;

/// A score or figure: the names it is asked by (the first stands in lists), and what is said of it.
pub struct ScoreWords {
    pub names: &'static [&'static str],
    pub title: &'static str,
    pub formula: &'static str,
    pub source: &'static str,
    /// Keys of a scenario, or what moves it.
    pub edit: &'static str,
    /// Where it is worked out before the eyes.
    pub shown: &'static str,
}

const WING_PAGE: &str = "Enter on the score";
const FLIGHT_PAGE: &str = "page 6, Enter on the line; `assess --json` flight.working";

/// Every one of them.
pub const SCORES: &[ScoreWords] = &[
    ScoreWords {
        names: &["weight", "budget_weight"],
        title: "weight of the wing, both halves, at the percentile you judge by",
        formula: "sum over parts of drawn x (1 + growth), and the percentile of its spread: `explain as_drawn`, `explain expected`, `explain budget`",
        source: "areas and areal masses of the parts; growth and spread of estimates are assumptions",
        edit: "targets.wing_mass_kg, targets.budget_percentile, [[weighed]]",
        shown: "page 3, Enter on a part",
    },
    ScoreWords {
        names: &["strength", "verdict", "least_margin"],
        title: "verdict over all failure modes, bays and load cases, with the least margin",
        formula: "short where any margin is below 0, not shown where any mode is not shown and not accepted, else holds: `explain margin`, `explain not_shown`",
        source: "each mode names its own: `explain MODE`",
        edit: "[limits], [[accepted]], [[cases_off]]",
        shown: "page 4, Enter on a mode",
    },
    ScoreWords {
        names: &["durability"],
        title: "durability in ground handling, 100 is best",
        formula: "100 / (1 + H / 25 h), H expected repair hours per 100 outings: `explain durability_index`",
        source: "events, contacts and resistances each name their own; 25 h is a choice of ours",
        edit: "[care], [[care.event]], targets.durability_index",
        shown: "page 5, Enter on an event",
    },
    ScoreWords {
        names: &["lost", "outings_lost"],
        title: "outings lost to repairs, per 100 outings",
        formula: "sum over events of rate x chance of damage x outings lost to that repair; nothing where it is mended within the outing",
        source: "work at 3 h a day, cure by the clock, outings evenly over the year: assumptions",
        edit: "care.outings_per_year, [[care.event]], targets.outings_lost_per_100",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["press", "least_press"],
        title: "least press of a thumb that any zone stands",
        formula: "the least over all zones of what `explain press_load` explains as `press_load`",
        source: "forms of indentation of each construction: `library KEY`",
        edit: "constructions of the skins, service.upper_c and lower_c, targets.press_n",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["ball", "least_ball"],
        title: "least load of a 10 mm hard ball that any zone stands",
        formula: "as `explain press_load`, with a hard ball of 10 mm in place of the thumb",
        source: "forms of indentation of each construction: `library KEY`",
        edit: "constructions of the skins, service.upper_c and lower_c",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["unseen", "unseen_damage"],
        title: "damage that nobody sees, per 100 outings",
        formula: "sum over events of rate x chance of damage x share of it not seen on inspection",
        source: "shares seen are assumptions of each kind of damage",
        edit: "[[care.event]], constructions of the skins",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["stall", "stall_speed"],
        title: "slowest level flight",
        formula: crate::report::flight::STALL_FORMULA,
        source: "definition of the lift coefficient; CLmax where the first section reaches its own, trimmed where the wing has no tail",
        edit: "aboard.pilot_kg, section.N.cl_max, aboard.cg_mac, planform, targets.stall_m_s",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["greatest_cl", "cl_max"],
        title: "greatest lift coefficient of the wing",
        formula: "the CL at which local lift, CL x additional + basic over the chord, first meets a section's own limit",
        source: "lift over the span by one chordwise row of horseshoe vortices; limits of the sections are yours",
        edit: "section.N.cl_max, planform.washout_deg, aboard.tailless, aboard.cg_mac",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["sink", "least_sink"],
        title: "least sink in still air, no slower than 1.05 of the stall",
        formula: crate::report::flight::FORMULA,
        source: crate::report::flight::SOURCE,
        edit: "aboard.pilot_drag_m2, aboard.rigging_drag_m2, aboard.pilot_kg, constructions of the skins",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["glide", "best_glide"],
        title: "best glide in still air",
        formula: crate::report::flight::FORMULA,
        source: crate::report::flight::SOURCE,
        edit: "aboard.pilot_drag_m2, aboard.rigging_drag_m2, aboard.pilot_kg, constructions of the skins",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["to_fly", "speed_to_fly"],
        title: "speed that loses least height over the ground in sinking air, no wind",
        formula: "least (sink + sinking air) / v: the tangent to the polar",
        source: "geometry of the polar",
        edit: "aboard.sinking_air_m_s",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["fastest"],
        title: "fastest flight at a given sink",
        formula: "where the polar meets the sink given, or the end of the polar",
        source: "geometry of the polar",
        edit: "aboard.given_sink_m_s, limits.dive_speed_m_s (the end of the polar)",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["all_up_mass", "all_up"],
        title: "mass in flight",
        formula: "wing at budget + pilot + kit + what hangs on the wing and is none of it",
        source: "sum",
        edit: "aboard.pilot_kg, aboard.kit_kg, [[aboard.mass]]",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["profile_drag", "wing_profile_drag"],
        title: "profile drag of the wing alone, over its area",
        formula: "sum over bays of area x (cf upper + cf lower) x form x covering / area, at 12 and 24 m/s, a power of speed between; then x (1 + 1.2 (CL - CL best)^2)",
        source: "friction of a plate, laminar then turbulent; transition by finish and by where the rigid skin ends: an assumption",
        edit: "constructions of the skins and where they end along the chord",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["laminar_share"],
        title: "share of the surface whose flow is laminar",
        formula: "sum over bays of area x (transition upper + lower) / 2, over the area; transition as a share of the chord",
        source: "transition by finish and by where the rigid skin ends: an assumption",
        edit: "constructions of the skins and where they end along the chord",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["pilot_drag", "pilot_and_rigging_drag"],
        title: "drag of pilot and rigging, over the wing's area",
        formula: "(drag area of the pilot + of the rigging) / S, low, likely and high",
        source: "given by the scenario",
        edit: "aboard.pilot_drag_m2, aboard.rigging_drag_m2",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["launch", "launch_run", "launch_airspeed"],
        title: "run over the ground that a launch asks",
        formula: "1.1 VS less the headwind, never below 0",
        source: "1.1 is an assumption; what a person runs, 6 m/s, is from memory",
        edit: "aboard.headwind_m_s, and what moves the stall",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["floats", "wing_floats", "wing_floats_alone_at"],
        title: "airspeed at which the wing carries itself and what is fixed to it",
        formula: "VS sqrt(m empty / m all up), m empty the wing at budget and what is fixed to it",
        source: "lift equals weight at the same lift coefficient",
        edit: "aboard.mass.N.mass_kg, and what moves the stall and the weight",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["hands", "in_the_hands"],
        title: "weight in the hands, at rest and at a run of 6 m/s",
        formula: "m g - q S CL, never below 0, m the wing at budget and what is fixed to it; no air at rest; CL = CLmax / 1.1^2 at a run",
        source: "balance of forces; the wing is held at that lift coefficient, its balance fore and aft is left out",
        edit: "aboard.mass.N.mass_kg, and what moves the weight and the stall",
        shown: FLIGHT_PAGE,
    },
    ScoreWords {
        names: &["hours", "building_hours"],
        title: "hours to build it",
        formula: "skins by area and construction, each rib by its kind, the spar by the metre, each joint, fitting out once",
        source: "the scenario's own rates; published hours for such wings are thin",
        edit: "[rates], hours_each of [[ribs.kind]], hours_per_m2 of materials and constructions, targets.hours",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["cost"],
        title: "money for material and hours",
        formula: "material of skins, ribs and spar (caps, backing, web, posts) as they are laid, with rates.waste, a round sum for each joint, and hours x rates.hour_price; glue, patches, edges and fittings are not counted",
        source: "prices of the library and the scenario's own rates",
        edit: "[rates], prices of materials, targets.cost",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["set_up", "set_up_minutes"],
        title: "minutes to rig it",
        formula: "10 min and those of each joint, both sides",
        source: "the scenario's own minutes; 10 is an assumption",
        edit: "set_up_minutes of [[layout.joint]], targets.set_up_minutes",
        shown: WING_PAGE,
    },
    ScoreWords {
        names: &["piece", "longest_piece"],
        title: "longest piece between joints; beside it the heaviest",
        formula: "the greatest distance between neighbouring joints, or joint and tip; twice the first where no joint parts the halves",
        source: "geometry",
        edit: "[[layout.joint]], targets.largest_piece_m",
        shown: WING_PAGE,
    },
];

/// The one asked for by a name.
pub fn find(name: &str) -> Option<&'static ScoreWords> {
    SCORES.iter().find(|s| s.names.contains(&name))
}

/// Explained.
pub fn text(s: &ScoreWords) -> String {
    let mut out = format!("{}: score\n", s.title);
    for (word, text) in [("formula", s.formula), ("source", s.source), ("yours", s.edit), ("worked out", s.shown)] {
        let _ = writeln!(out, "  {word:<11} {text}");
    }
    out
}
