//! The plain assessment: the same facts as the screen, line by line.

use std::fmt::Write as _;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::held::Held;
use crate::physics::durability::help::{self, Wing};
use crate::physics::evaluation::{Evaluation, WingVerdict};
use crate::physics::lifting::{TO_THE_ROOF, advised_kg};
use crate::physics::mass::tally::Heading;
use crate::physics::strength::judged::{Judged, judged, may_buckle};
use crate::physics::strength::{MODES, Margin, NOT_ASSESSED, Verdict};
use crate::physics::work::Work;

/// The title of a failure mode.
pub fn mode_title(key: &str) -> &str {
    MODES.iter().find(|m| m.key == key).map_or(key, |m| m.title)
}

/// The title of a margin's mode, with what it is judged at where that is not ultimate load.
pub fn margin_title(design: &Design, m: &Margin) -> String {
    let beside = judged(design, m).beside().map_or(String::new(), |at| format!(", {at}"));
    format!("{}{beside}", mode_title(m.mode))
}

/// What a margin is judged at, and on whose word.
pub fn judged_words(design: &Design, m: &Margin) -> String {
    match (judged(design, m), may_buckle(design, m)) {
        (Judged::Limit, Some(policy)) => {
            format!("at limit load, as this strip may buckle above it (may_buckle = \"{}\")", policy.key())
        }
        (Judged::Limit, None) => "at limit load, as the mode says".to_owned(),
        (Judged::Ultimate, _) => {
            let factor = design.ultimate();
            format!("at ultimate load, limit load times {factor:.2}")
        }
        (Judged::LevelFlight, _) => "in level flight: a limit of shape, not of strength".to_owned(),
        (Judged::DiveSpeed, _) => "at the dive speed, under no load case".to_owned(),
    }
}

/// Everything a person wants first, in plain lines.
pub fn assessment(design: &Design, e: &Evaluation) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{}", design.name);
    if !design.note.is_empty() {
        let _ = writeln!(out, "{}", design.note);
    }
    weight(&mut out, design, e);
    strength(&mut out, design, e);
    durability(&mut out, design, e);
    sampled(&mut out, design, e);
    flight(&mut out, design, e);
    for w in &e.warnings {
        let _ = writeln!(out, "warning    {w}");
    }
    let _ = writeln!(out, "\n{}", super::CAUTIONS);
    out
}

/// "over by 1.2, chance 31 %" against the weight target.
pub fn against_target(design: &Design, e: &Evaluation) -> String {
    let w = &e.weight;
    let Some(target) = design.targets.wing_mass_kg else { return "no target".to_owned() };
    let gap = w.budget_kg - target;
    let word = if gap > 0.0 { "over" } else { "under" };
    let chance = w.chance_of_target.map_or(String::new(), |c| format!(", chance to meet it {:.0} %", c * 100.0));
    format!("target {target:.1}: {word} by {:.1}{chance}", gap.abs())
}

fn weight(out: &mut String, design: &Design, e: &Evaluation) {
    let w = &e.weight;
    let _ = writeln!(out, "\nweight, kg (whole wing, both halves)");
    let _ = writeln!(
        out,
        "  as drawn {:.1}   expected {:.1} (P10 {:.1}, P90 {:.1})   budget {:.1}   {}",
        w.drawn_kg,
        w.expected_kg,
        w.p10_kg,
        w.p90_kg,
        w.budget_kg,
        against_target(design, e)
    );
    for heading in Heading::ALL {
        let kg: f64 = w.parts.iter().filter(|p| p.heading == heading).map(|p| p.nominal_kg).sum();
        if kg > 0.0 {
            let _ = writeln!(out, "  {:<20}{kg:>7.2}   {:>4.1} %", heading.word(), 100.0 * kg / w.drawn_kg.max(1e-9));
        }
    }
    // From nothing up: the sum of no masses at all is minus zero.
    let hung = design.aboard.masses.iter().filter(|m| !m.wing).fold(0.0, |sum, m| sum + m.mass_kg);
    let _ = writeln!(
        out,
        "  not wing: hung masses {hung:.1}, pilot {:.0}, kit {:.0}",
        design.aboard.pilot_kg, design.aboard.kit_kg
    );
}

/// What it means that no set of limits is chosen.
pub fn without_limits(verdict: WingVerdict) -> &'static str {
    if verdict == WingVerdict::Short {
        "no set of limits chosen: flight cases are not computed, and it is short without them"
    } else {
        "no set of limits chosen: flight cases are not computed and the verdict is not shown"
    }
}

fn strength(out: &mut String, design: &Design, e: &Evaluation) {
    let s = &e.strength;
    let _ = writeln!(out, "\nstrength: {}   cases {} on, {} off", s.verdict.word(), e.loads.loads.len(), s.cases_off);
    match &design.limits {
        Some(l) => {
            let _ = writeln!(
                out,
                "  limits {} (n {:+.2}/{:+.2}, factor {:.2} x {:.2}, dive {:.1} m/s): {}",
                l.key, l.n_positive, l.n_negative, l.safety_factor, l.extra_factor, l.dive_speed_m_s, l.source
            );
        }
        None => {
            let _ = writeln!(out, "  {}", without_limits(s.verdict));
        }
    }
    for m in worst_of_each_mode(e) {
        let _ = writeln!(out, "  {}", margin_line(m, design, e));
    }
    for line in super::seen::short(design, e) {
        let _ = writeln!(out, "  {line}");
    }
    let not_shown: Vec<&str> = s.not_shown.iter().map(|k| mode_title(k)).collect();
    if !not_shown.is_empty() {
        let _ = writeln!(out, "  not shown: {}", not_shown.join("; "));
    }
    for a in &design.accepted {
        let short = if_counted(e, &a.key).map_or_else(String::new, |s| format!("; {}", s.words()));
        let _ = writeln!(out, "  accepted as not shown: {}{short} ({})", mode_title(&a.key), a.reason);
    }
    for c in e.loads.cases.iter().filter(|c| c.excused.is_some()) {
        let _ = writeln!(out, "  case off: {} ({})", c.title, c.excused.as_deref().unwrap_or(""));
    }
    let [first, rest] = not_assessed();
    let _ = writeln!(out, "  {first}\n    {rest}");
    let information = super::vibration::rows(design, e);
    if !information.is_empty() {
        let _ = writeln!(out, "  for information, {}:", crate::physics::vibration::NO_CLEARANCE);
    }
    for r in information {
        let _ = writeln!(out, "{}", format!("    {:<44}{:>14}   {}", r.what, r.value, r.place).trim_end());
    }
    let words = |v: &[u32]| v.iter().map(u32::to_string).collect::<Vec<_>>().join(" ");
    let _ =
        writeln!(out, "  cap layers root to tip: upper {} | lower {}", words(&e.sizing.upper), words(&e.sizing.lower));
    if e.sizing.web.iter().any(|n| *n > 0) {
        let _ = writeln!(out, "  web plies more on each face, root to tip: {}", words(&e.sizing.web));
    }
    if let Some(steps) = super::nose_steps::words(design, e) {
        let _ = writeln!(out, "  {steps}");
    }
}

/// What no mode looks at, on two lines of a narrow screen.
pub fn not_assessed() -> [String; 2] {
    let (first, rest) = NOT_ASSESSED.split_at(3);
    [format!("not assessed: {},", first.join(", ")), rest.join(", ")]
}

/// What a mode that is not shown would be short of if it counted: so many places, and the least margin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IfCounted {
    pub places: usize,
    pub margin: f64,
    pub bay: Option<usize>,
}

impl IfCounted {
    /// The same in a few words: "2 would be short, -0.76".
    pub fn brief(&self) -> String {
        format!("{} would be short, {:+.2}", self.places, self.margin)
    }
    /// "if it counted, one place would be -0.76".
    pub fn words(&self) -> String {
        match self.places {
            1 => format!("if it counted, one place would be {:+.2}", self.margin),
            n => format!("if it counted, {n} places would be short, the least {:+.2}", self.margin),
        }
    }
}

/// Where a mode is not shown and was worked out all the same, what of it is short.
pub fn if_counted(e: &Evaluation, mode: &str) -> Option<IfCounted> {
    let worked_out =
        |m: &&Margin| matches!(m.verdict, Verdict::NotShown(_)) && m.applied > 0.0 && m.allowable.is_finite();
    let short = || e.margins.iter().filter(|m| m.mode == mode && m.rf < 1.0).filter(worked_out);
    let least = short().min_by(|a, b| a.rf.total_cmp(&b.rf))?;
    Some(IfCounted { places: short().count(), margin: least.rf - 1.0, bay: least.bay })
}

/// The least margin of each computed mode, least first.
pub fn worst_of_each_mode(e: &Evaluation) -> Vec<&Margin> {
    let mut worst: Vec<&Margin> = Vec::new();
    for m in e.margins.iter().filter(|m| !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite()) {
        match worst.iter_mut().find(|w| w.mode == m.mode) {
            Some(w) if m.rf < w.rf => *w = m,
            Some(_) => {}
            None => worst.push(m),
        }
    }
    worst.sort_by(|a, b| a.rf.total_cmp(&b.rf));
    worst
}

/// One margin in words.
pub fn margin_line(m: &Margin, design: &Design, e: &Evaluation) -> String {
    let verdict = match m.verdict {
        Verdict::Holds => "holds",
        Verdict::Short => "SHORT",
        Verdict::NotShown(_) => "not shown",
    };
    let strip = m.strip.map_or(String::new(), |s| format!(" {}", s.label()));
    let bay = m.bay.map_or(String::new(), |b| format!(" bay {}", b + 1));
    let at = [judged(design, m).beside(), m.case.and_then(|c| e.loads.cases.get(c)).map(|c| c.title)];
    let at = at.into_iter().flatten().collect::<Vec<_>>().join(", ");
    format!("{verdict:<10}{:<44}margin {:>+7.2} {strip}{bay}  {at}", mode_title(m.mode), m.rf - 1.0)
}

fn durability(out: &mut String, design: &Design, e: &Evaluation) {
    let d = &e.durability;
    let at = |zone: usize| {
        e.layout.zones.get(zone).map_or(String::new(), |z| format!("{} bay {}", z.strip.label(), z.bay + 1))
    };
    let _ = writeln!(out, "\ndurability in ground handling, per 100 outings");
    let _ = writeln!(
        out,
        "  index {:.0} (P10 {:.0}, P90 {:.0})   repair {:.1} h   outings lost {:.1}   unseen damage {:.2}   field-repairable {:.0} %",
        d.index,
        d.index_p10,
        d.index_p90,
        d.repair_h,
        d.outings_lost,
        d.unseen,
        100.0 * d.field_repairable_share
    );
    let _ = writeln!(
        out,
        "  least press {:.0} N, {}, {}   least ball {:.0} N, {}, {}   may be pressed {:.0} %, held {:.0} % of the surface",
        d.least_press.value_n,
        d.least_press.kind.word(),
        at(d.least_press.zone),
        d.least_ball.value_n,
        d.least_ball.kind.word(),
        at(d.least_ball.zone),
        100.0 * d.press_safe_share,
        100.0 * Held::of(design, e).share
    );
    let edges = super::event::edges(design, e);
    if !edges.is_empty() {
        let _ = writeln!(out, "  edges, hard ball and blow: {}", super::event::edge_words(&edges).join("   "));
    }
    let _ = writeln!(out, "  {}", crate::physics::durability::index::calibration(&design.library.learnt));
    let _ = writeln!(
        out,
        "  ! {:.1} h of the repair hours: {}",
        d.soft_h,
        crate::physics::durability::resistance::SOFT_WORDS
    );
    for line in super::care::lines(design, e) {
        let _ = writeln!(out, "  {line}");
    }
    let mut events: Vec<_> = d.events.iter().collect();
    events.sort_by(|a, b| b.repair_h.total_cmp(&a.repair_h));
    for v in events.iter().take(5).filter(|v| v.repair_h > 0.005) {
        let _ = writeln!(out, "  {:<44}{:>6.1} marks {:>7.2} h", v.title, v.marks, v.repair_h);
    }
    for line in what_would_help(design, e).iter().take(13) {
        let _ = writeln!(out, "  {line}");
    }
}

/// The log in short: each record against its prediction, and what to make next.
fn sampled(out: &mut String, design: &Design, e: &Evaluation) {
    let rows = super::samples::rows(design);
    if rows.is_empty() {
        return;
    }
    let _ = writeln!(out, "\nsamples, measured over predicted (`thistledown samples FILE` tells all)");
    for r in rows {
        let mark = if r.fitted { String::new() } else { format!("  ! {}", super::samples::FAR) };
        let words = format!("{}, {}", r.construction, r.what);
        let _ = writeln!(out, "  {words:<46} {:>9} over {:>9} {:>5.2}{mark}", r.measured, r.predicted, r.ratio);
    }
    for w in super::samples::next_words(design, e).iter().take(1) {
        let _ = writeln!(out, "  next: {w}");
    }
}

/// The weakest limit in words, then the single changes that would help most, a line each.
pub fn what_would_help(design: &Design, e: &Evaluation) -> Vec<String> {
    let wing = Wing { design, layout: &e.layout, skins: &e.skins, weight: &e.weight, now: &e.durability };
    let all = help::what_would_help(&wing, &Assumptions::default());
    let mut out = vec![help::weakest(&wing)];
    let [gram, hour, habit] = help::best(&all);
    let most = |what: &str, h: Option<&help::Help>, gain: String| {
        h.map(|h| format!("most {what}: {gain}  {}: {}", h.on.word(), h.what))
    };
    let per = |v: Option<f64>, unit: &str| v.map_or(String::new(), |v| format!("{v:+.2} index {unit}"));
    out.extend(most("a gram", gram, per(gram.and_then(help::Help::per_100_g), "a 100 g")));
    out.extend(most("an hour", hour, per(hour.and_then(help::Help::per_hour), "an hour of building")));
    out.extend(most("a habit", habit, per(habit.map(|h| h.index_gain), "")));
    out.push("what would help most, one change at a time".to_owned());
    for h in all {
        let cost = match (h.per_100_g(), h.per_hour()) {
            (None, None) => "costs nothing to build".to_owned(),
            (Some(g), None) => format!("{:+.0} g, {g:+.2} a 100 g", h.grams),
            (None, Some(t)) => format!("{:+.1} h, {t:+.2} an hour", h.build_h),
            (Some(g), Some(t)) => format!("{:+.0} g, {:+.1} h, {g:+.2} a 100 g, {t:+.2} an hour", h.grams, h.build_h),
        };
        out.push(format!("  {:+6.2} index  {}: {} ({cost})", h.index_gain, h.on.word(), h.what));
    }
    out
}

fn flight(out: &mut String, design: &Design, e: &Evaluation) {
    let f = &e.flight;
    let _ = writeln!(out, "\nflight at {:.0} kg all up, budget weight", f.all_up_kg);
    let _ = writeln!(
        out,
        "  stall {:.1} km/h   least sink {:.2} m/s ({:.2}-{:.2})   best glide {:.1} ({:.1}-{:.1}) at {:.0} km/h",
        f.stall_m_s * 3.6,
        f.least_sink_m_s.likely,
        f.least_sink_m_s.low,
        f.least_sink_m_s.high,
        f.best_glide.likely,
        f.best_glide.low,
        f.best_glide.high,
        f.best_glide_speed_m_s * 3.6
    );
    let a = &design.aboard;
    let _ = writeln!(
        out,
        "  to fly where the air sinks {:.1} m/s: {:.0} km/h ({:.0}-{:.0})   fastest at {:.1} m/s sink: {}",
        a.sinking_air_m_s,
        f.to_fly_m_s.likely * 3.6,
        f.to_fly_m_s.low * 3.6,
        f.to_fly_m_s.high * 3.6,
        a.given_sink_m_s,
        if f.fastest_m_s.likely > 0.0 {
            format!(
                "{:.0} km/h ({:.0}-{:.0})",
                f.fastest_m_s.likely * 3.6,
                f.fastest_m_s.low * 3.6,
                f.fastest_m_s.high * 3.6
            )
        } else {
            "none, it sinks more".to_owned()
        }
    );
    let _ = writeln!(
        out,
        "  floats without a pilot at {:.1} m/s   launch run in still air {:.1} m/s, in {:.1} m/s of wind {:.1} m/s   in the hands {:.0} N",
        f.wing_float_m_s, f.ground_speed_m_s, a.headwind_m_s, f.ground_speed_in_wind_m_s, f.hands_n
    );
    let w = &e.work;
    let _ = writeln!(
        out,
        "\nwork: {:.0} hours, {} pieces, {:.0} {}, set-up {:.0} min, largest piece {:.2} m, heaviest {:.1} kg",
        w.hours, w.pieces, w.cost, design.rates.currency, w.set_up_minutes, w.largest_piece_m, w.heaviest_piece_kg
    );
    for said in lifting_lines(w) {
        let _ = writeln!(out, "  {said}");
    }
}

/// The heaviest piece against what one person is advised to lift, for information; two lines.
pub fn lifting_lines(w: &Work) -> Vec<String> {
    let (Some(index), Some(most)) = (w.lifting_index, advised_kg(&TO_THE_ROOF)) else { return Vec::new() };
    let said = if index <= 1.0 {
        "no more"
    } else if index <= 3.0 {
        "get help"
    } else {
        "never alone"
    };
    vec![
        format!("heaviest piece alone, floor to roof: {index:.1} of the advised {most:.1} kg, {said}"),
        "  (lifting equation NIOSH 94-110: boxes at work, one person, no wind)".to_owned(),
    ]
}
