//! The working of a number: formula, inputs with their units, where it comes from, what decides it.

use crate::physics::design::Strip;
use crate::physics::durability::{contact, index};
use crate::physics::evaluation::Evaluation;
use crate::physics::flight::launch;
use crate::physics::mass::weighed::name_of;
use crate::physics::samples::learnt::Learnt;
use crate::physics::strength::{MODES, Margin, NOT_ASSESSED, Verdict};
use crate::physics::units::GRAVITY_M_S2;
use crate::report::text::{against_target, if_counted, judged_words, margin_title};
use crate::report::{flight as flight_words, four_figures, load, profile, samples, service, spread};
use crate::screen::app::{App, Focus, Page, Sheet};
use crate::screen::page::strength::Entry;
use crate::screen::page::{durability, flight, skin_map, strength, weight, wing};
use crate::screen::score::{ScoreOf, place, scores};

/// Title and lines of the working.
type Working = (String, Vec<String>);

/// The working of what is chosen.
pub fn of_chosen(app: &App) -> Option<Working> {
    match app.page {
        Page::Wing => match app.focus {
            Focus::Dials => of_dial(app),
            Focus::Map => Some(of_zone(app, app.at)),
            Focus::Scores => scores(app).get(app.score).map(|s| of_score(app, s.of)),
        },
        Page::Strength => strength::rows(app).into_iter().nth(app.line()).map(|r| match r {
            Entry::Mode(m) => of_margin(app, m),
            Entry::Case(on) => of_case(app, on),
            Entry::Information(r) => (r.what, r.working),
            Entry::NotAssessed => {
                let what = NOT_ASSESSED.map(|w| format!("  {w}"));
                let lines = [&["no failure mode looks at:".to_owned()], &what[..]].concat();
                ("not assessed at all".to_owned(), lines)
            }
        }),
        Page::Durability => of_event(app),
        Page::Weight => of_part(app),
        Page::Flight => of_flight(app),
        Page::Section => Some(of_zone(app, (app.at.0, super::section::bay(app)))),
        Page::Compare => super::compare::working(app),
        Page::Samples => super::samples::working(app),
        Page::Workshop => match app.sheet {
            Sheet::Proof => super::workshop::working(app),
            Sheet::Scales => super::scales::working(app),
            _ => super::build::working(app),
        },
        Page::Search => super::search::working(app),
    }
}

fn of_dial(app: &App) -> Option<Working> {
    let dial = app.dial()?;
    let mut lines = vec![
        format!("value   {} {}", dial.shown(&app.design), dial.unit),
        format!("range   {}", super::range(dial)),
        format!("key     {}   (for --set and search)", dial.key),
        String::new(),
        "An input: it stands in the scenario file and is worked out from nothing.".to_owned(),
    ];
    if let Some((effect, _)) = app.step_of(&dial.key) {
        lines.push(format!(
            "{}, found by evaluating the whole wing with the dial there",
            wing::step_words(effect, false)
        ));
    }
    Some((dial.label.clone(), lines))
}

fn of_zone(app: &App, (strip, bay): (Strip, usize)) -> Working {
    let lines: Vec<String> = skin_map::zone_words(app, (strip, bay)).iter().map(ToString::to_string).collect();
    // On other pages these keys move something else.
    let mut out: Vec<String> = lines.into_iter().filter(|l| app.page == Page::Wing || !l.starts_with(", . ")).collect();
    out.push(String::new());
    out.push("press: P5 load of an 8 mm thumb pad held 10 s at service temperature that first needs repair".to_owned());
    out.push("ball: the same for a 10 mm hard ball, as a stone".to_owned());
    out.push(contact::SHOWN.to_owned());
    out.push(
        "repair: sum over the events of the ground, rate x share of this zone x chance of damage x hours".to_owned(),
    );
    if let Some(z) = app.evaluation.layout.zone(strip, bay) {
        let radius = if z.radius_m.is_finite() { format!("{:.2} m", z.radius_m) } else { "flat".to_owned() };
        out.push(format!(
            "panel {:.0} mm along the span by {:.0} mm across, radius {radius}",
            z.length_m * 1000.0,
            z.arc_m * 1000.0
        ));
        if let Some(s) = app.evaluation.skins.get(z.construction) {
            if let Some(c) = app.design.constructions.get(z.construction) {
                out.push(spread::HEAD.to_owned());
                out.extend(spread::long(s, c, &app.design.library).iter().map(|w| format!("  {w}")));
                out.push(format!("  {}", spread::BLOWS));
            }
            let words = samples::of_skin(s);
            if !words.is_empty() {
                out.push("from samples, a factor on what is predicted and its spread".to_owned());
                out.extend(words.iter().map(|w| format!("  {w}")));
            }
        }
    }
    (format!("{} bay {}", strip.label(), bay + 1), out)
}

/// The working of a margin: the mode's own words, then the inputs with units.
pub fn of_margin(app: &App, m: &Margin) -> Working {
    let e = &app.evaluation;
    let mode = MODES.iter().find(|o| o.key == m.mode);
    let mut out = Vec::new();
    match m.verdict {
        Verdict::NotShown(why) => {
            out.push(format!("not shown: {why}"));
            if let Some(short) = if_counted(e, m.mode) {
                let bay = short.bay.map_or(String::new(), |b| format!(" in bay {}", b + 1));
                out.push(format!("{}{bay}", short.words()));
            }
        }
        Verdict::Holds | Verdict::Short => {
            let word = if m.verdict == Verdict::Short { "short" } else { "holds" };
            out.push(format!(
                "{word}: allowable {} {} over applied {} {} = {:.3}, margin {:+.3}",
                four_figures(m.allowable),
                m.unit,
                four_figures(m.applied),
                m.unit,
                m.rf,
                m.rf - 1.0
            ));
        }
    }
    let at = [
        m.strip.map(|s| s.label().to_owned()),
        m.bay.map(|b| format!("bay {}", b + 1)),
        m.case.and_then(|c| e.loads.cases.get(c)).map(|c| format!("{} ({})", c.title, c.source)),
    ];
    let at: Vec<String> = at.into_iter().flatten().collect();
    if !at.is_empty() {
        out.push(format!("where      {}", at.join(", ")));
    }
    out.push(format!("judged     {}", judged_words(&app.design, m)));
    out.push(format!("service    {}", service::words(&app.design, m.strip)));
    if let Some(mode) = mode {
        for (word, text) in [
            ("formula", mode.formula),
            ("source", mode.source),
            ("valid for", mode.valid),
            ("safe side", mode.safe_side),
            ("knock-down", mode.knock_down),
        ] {
            if !text.is_empty() {
                out.push(format!("{word:<10} {text}"));
            }
        }
    }
    let mut inputs = m.inputs.iter().peekable();
    if inputs.peek().is_some() {
        out.push("inputs".to_owned());
        out.extend(inputs.map(|i| format!("  {:<34} {} {}", i.label, four_figures(i.value), i.unit)));
    }
    (margin_title(&app.design, m), out)
}

/// The working of the loads of a case.
fn of_case(app: &App, on: usize) -> Working {
    let e = &app.evaluation;
    let case = e.loads.loads.get(on).and_then(|l| e.loads.cases.get(l.case));
    let mut out = vec![format!("formula    {}", load::FORMULA), format!("source     {}", load::SOURCE)];
    if let Some(c) = case {
        out.push(format!("case       {}", c.source));
        out.extend(load::factor(c).into_iter().map(|(word, said)| format!("{word:<10} {said}")));
    }
    out.push("inputs and what they give".to_owned());
    out.extend(load::inputs(e, on).into_iter().map(|(k, v, unit)| format!("  {k:<34} {} {unit}", four_figures(v))));
    (case.map_or_else(String::new, |c| c.title.to_owned()), out)
}

fn of_event(app: &App) -> Option<Working> {
    let rows = durability::rows(app);
    let v = rows.get(app.line())?;
    let mut out = vec![
        format!("{:.1} times per 100 outings", v.per_100_outings),
        format!(
            "marks {:.2}, holes {:.2}, repair {:.2} h, outings lost {:.2}, unseen {:.3}",
            v.marks, v.holes, v.repair_h, v.outings_lost, v.unseen
        ),
        format!("share of all repair hours {:.0} %", 100.0 * v.repair_h / app.evaluation.durability.repair_h.max(1e-9)),
    ];
    if v.soft_h > 0.005 {
        out.push(format!("! {:.2} h of it: {}", v.soft_h, crate::physics::durability::resistance::SOFT_WORDS));
    }
    if let Some(z) = v.worst_zone {
        let on = v.landed_word().map_or(String::new(), |w| {
            let e = &app.evaluation.durability;
            let names: Vec<&str> = match w {
                "rest" => e.rests.iter().filter(|r| r.zone == z).map(|r| r.name.as_str()).collect(),
                _ => e.holds.iter().filter(|h| h.zone == z).map(|h| h.name.as_str()).collect(),
            };
            format!(", on the {w} there ({}): the share that lands where it should", names.join(", "))
        });
        out.push(format!("worst at {}{on}", place(&app.evaluation, z)));
    }
    out.push(String::new());
    out.push("formula    rate x share of each zone x chance that the load passes what the zone stands, x hours of its repair".to_owned());
    if let Some(x) = app.design.care.catalogue.find(v.key) {
        out.push(format!("cause      {}, spread of its logarithm {}", x.cause.words(), x.beta));
        out.push(format!("contact    {}; {}", x.contact.words(), x.where_words()));
    }
    let kind = if v.assumption { "assumption" } else { "source" };
    out.push(format!("{kind:<10} {}", app.design.care.catalogue.source(v.key)));
    out.push(String::new());
    out.extend(crate::report::event::met(&app.design, &app.evaluation, v.key));
    out.push("weakest edges, P5 of a 10 mm hard ball and of a blow:".to_owned());
    let edges = crate::report::event::edges(&app.design, &app.evaluation);
    out.extend(crate::report::event::edge_words(&edges).iter().map(|w| format!("  {w}")));
    Some((v.title.to_owned(), out))
}

fn of_part(app: &App) -> Option<Working> {
    let rows = weight::rows(app);
    let r = rows.get(app.line())?;
    let parts = &app.evaluation.weight.parts;
    let mut own: Vec<_> = parts.iter().filter(|p| p.heading == r.heading && (r.top || name_of(p) == r.name)).collect();
    let over = if own.len() > 1 { format!(", summed over {} places", own.len()) } else { String::new() };
    let mut out = vec![
        format!("drawn {:.3} kg, both halves{over}", r.drawn_kg),
        format!(
            "expected {:.3} kg: drawn x (1 + growth), growth {:.1} %",
            r.expected_kg,
            100.0 * (r.expected_kg / r.drawn_kg.max(1e-12) - 1.0)
        ),
        format!("standard deviation {:.3} kg", r.sd_kg),
        "growth by maturity, or as parts on the scales taught; what is weighed stands for its own drawing, without growth".to_owned(),
        "parts of one material err together, different materials apart".to_owned(),
        String::new(),
    ];
    if own.len() > 1 {
        own.sort_by(|a, b| b.nominal_kg.total_cmp(&a.nominal_kg));
        let most = if own.len() > 24 { ", the heaviest 24" } else { "" };
        out.push(format!("by place, both halves together{most}"));
        let words: Vec<(String, String)> = own
            .iter()
            .take(24)
            .map(|p| (name_of(p).into_owned(), p.bay.map_or(String::new(), |b| format!("bay {}", b + 1))))
            .collect();
        let width = words.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
        for (p, (name, bay)) in own.iter().zip(&words) {
            let name = super::fit(name, width);
            out.push(format!("  {name}  {bay:<7} {:>7.3} kg at {:.2} m out", p.nominal_kg, p.y_m));
        }
    }
    Some((r.name.clone(), out))
}

fn of_flight(app: &App) -> Option<Working> {
    let rows = flight::rows(app);
    let r = rows.get(app.line())?;
    // "  at" belongs to the number above it.
    let named = rows.iter().take(app.line() + 1).rev().find(|o| !o.name.starts_with(' ')).unwrap_or(r);
    let title = if r.name.starts_with(' ') { format!("speed of {}", named.name) } else { r.name.to_string() };
    if [flight::PROFILE, flight::LAMINAR].contains(&r.name.as_ref()) {
        return Some((title, profile::lines(&app.evaluation)));
    }
    let lines = load::speed_lines(&app.design, &app.evaluation);
    let of_speed = [flight::MANOEUVRE, flight::ROUGH, flight::DIVE].into_iter().zip(lines).find(|s| s.0 == r.name);
    Some((title, of_speed.map_or_else(|| of_score(app, r.of).1, |s| s.1)))
}

/// The working of a score.
pub fn of_score(app: &App, of: ScoreOf) -> Working {
    let e = &app.evaluation;
    let (title, lines) = match of {
        ScoreOf::Weight => ("budget weight of the wing", weight_lines(app)),
        ScoreOf::Strength => {
            return match e.strength.least.and_then(|i| e.margins.get(i)) {
                Some(m) => of_margin(app, m),
                None => ("strength".to_owned(), vec!["no margin was computed".to_owned()]),
            };
        }
        ScoreOf::Durability | ScoreOf::Lost | ScoreOf::Unseen => ("durability", durability_lines(e)),
        ScoreOf::Press | ScoreOf::Ball => ("least press and ball load", press_lines(e, &app.design.library.learnt)),
        ScoreOf::Stall => (flight_words::stall_words(app.design.aboard.tailless, &e.flight), stall_lines(app)),
        ScoreOf::Sink | ScoreOf::Glide => ("sink and glide", polar_lines(app)),
        ScoreOf::Launch | ScoreOf::Hands => ("launch and weight in the hands", launch_lines(app)),
        ScoreOf::Hours | ScoreOf::Cost | ScoreOf::SetUp | ScoreOf::Piece => ("work and money", work_lines(app)),
    };
    (title.to_owned(), lines)
}

fn weight_lines(app: &App) -> Vec<String> {
    let w = &app.evaluation.weight;
    vec![
        format!("as drawn {:.3} kg: sum of {} parts at their nominal values, both halves", w.drawn_kg, w.parts.len()),
        format!("expected {:.3} kg: drawn + growth by maturity of each part", w.expected_kg),
        format!(
            "spread: standard deviation {:.3} kg, P10 {:.2}, P50 {:.2}, P90 {:.2}",
            w.sd_kg, w.p10_kg, w.p50_kg, w.p90_kg
        ),
        format!(
            "budget {:.3} kg: the P{:.0} of that spread; limits, loads, strength and stall use it",
            w.budget_kg,
            100.0 * app.design.targets.budget_percentile
        ),
        against_target(&app.design, &app.evaluation),
        "the parts stand on the Weight page (3)".to_owned(),
    ]
}

fn durability_lines(e: &Evaluation) -> Vec<String> {
    let d = &e.durability;
    let mut out = vec![
        "formula    index = 100 / (1 + H / 25 h), H expected repair hours per 100 outings; 25 h is a choice of ours"
            .to_owned(),
        format!("H          {:.2} h (P10 {:.2}, P90 {:.2})", d.repair_h, d.repair_h_p10, d.repair_h_p90),
        format!("index      {:.2} (P10 {:.1}, P90 {:.1})", d.index, d.index_p10, d.index_p90),
        format!(
            "lost       {:.2} outings, unseen damage {:.3}, marks {:.1}, all per 100 outings",
            d.outings_lost, d.unseen, d.marks
        ),
        format!(
            "repairable in the field {:.0} %, mass added by repairs {:.2} kg",
            100.0 * d.field_repairable_share,
            d.mass_added_kg
        ),
        format!("! {:.2} h of H: {}", d.soft_h, crate::physics::durability::resistance::SOFT_WORDS),
        "the events stand on the Durability page (5)".to_owned(),
    ];
    let rests: Vec<String> = d
        .rests_on
        .iter()
        .take(3)
        .filter_map(|(i, s)| {
            crate::physics::assumptions::LIST.get(*i).map(|a| format!("{} ({:.0} %)", a.title, 100.0 * s.abs()))
        })
        .collect();
    if !rests.is_empty() {
        out.push(format!("rests most on {}", rests.join(", ")));
    }
    out
}

fn press_lines(e: &Evaluation, learnt: &Learnt) -> Vec<String> {
    let d = &e.durability;
    vec![
        format!(
            "press {:.1} N, {}, {}",
            d.least_press.value_n,
            d.least_press.kind.word(),
            place(e, d.least_press.zone)
        ),
        format!("ball {:.1} N, {}, {}", d.least_ball.value_n, d.least_ball.kind.word(), place(e, d.least_ball.zone)),
        "press: P5 load of an 8 mm thumb pad held 10 s at service temperature that first makes the zone need repair"
            .to_owned(),
        "ball: the same for a 10 mm hard ball".to_owned(),
        contact::SHOWN.to_owned(),
        format!("durability is {}", index::calibration(learnt)),
        "the least over all zones of the wing; the skin map shows every zone (a and z change its shading)".to_owned(),
    ]
}

fn stall_lines(app: &App) -> Vec<String> {
    let f = &app.evaluation.flight;
    let mut out = vec![
        format!("formula    {}", flight_words::STALL_FORMULA),
        "source     definition of the lift coefficient".to_owned(),
    ];
    out.extend(flight_inputs(app, &["m", "g", "rho", "S", "CLmax"]));
    out.push(format!(
        "the wing alone gives CLmax {:.3}, first section to stall at {:.2} of the half span",
        app.evaluation.lift.cl_max, app.evaluation.lift.cl_max_eta
    ));
    out.push(format!("v          {:.2} m/s = {:.1} km/h", f.stall_m_s, f.stall_m_s * 3.6));
    out
}

/// Inputs of flight by their symbols.
fn flight_inputs(app: &App, only: &[&str]) -> Vec<String> {
    let all = flight_words::inputs(&app.design, &app.evaluation).into_iter();
    let figures = |v: f64| match v.abs() {
        // What is given exactly is shown so.
        _ if v == GRAVITY_M_S2 => v.to_string(),
        size if size < 0.1 => format!("{v:.5}"),
        _ => format!("{v:.4}"),
    };
    all.filter(|i| only.is_empty() || only.contains(&i.0))
        .map(|(symbol, words, v, unit)| {
            let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
            format!("{symbol:<10} {}{unit}, {words}", figures(v))
        })
        .collect()
}

fn polar_lines(app: &App) -> Vec<String> {
    let (f, aboard) = (&app.evaluation.flight, &app.design.aboard);
    let mut out = vec![
        format!("formula    {}", flight_words::FORMULA),
        format!("induced    {}", flight_words::induced(f)),
        format!("source     {}", flight_words::SOURCE),
        format!("profile    {:.0} % of the surface laminar", 100.0 * f.laminar_share),
        format!(
            "pilot      with rigging {:.5} ({:.5}-{:.5}): the band of sink and glide comes mostly from it",
            f.cd_pilot.likely, f.cd_pilot.low, f.cd_pilot.high
        ),
        format!(
            "least sink {:.3} m/s ({:.2}-{:.2}) at {:.1} km/h{}",
            f.least_sink_m_s.likely,
            f.least_sink_m_s.low,
            f.least_sink_m_s.high,
            f.least_sink_speed_m_s * 3.6,
            if f.least_sink_speed_m_s < 1.055 * f.stall_m_s {
                ", as slow as it is flown: 1.05 of the stall"
            } else {
                ""
            }
        ),
        format!("           {}", flight_words::sum(&f.at_least_sink)),
        format!(
            "best glide {:.2} ({:.1}-{:.1}) at {:.1} km/h",
            f.best_glide.likely,
            f.best_glide.low,
            f.best_glide.high,
            f.best_glide_speed_m_s * 3.6
        ),
        format!("           {}", flight_words::sum(&f.at_best_glide)),
        format!(
            "to fly     {:.1} km/h: least (sink + {:.1} m/s of sinking air) / v, the tangent to the polar; still wind",
            f.to_fly_m_s.likely * 3.6,
            aboard.sinking_air_m_s
        ),
        format!(
            "fastest    {:.1} km/h: where the polar meets {:.1} m/s of sink, or the end of the polar",
            f.fastest_m_s.likely * 3.6,
            aboard.given_sink_m_s
        ),
        "inputs".to_owned(),
    ];
    out.extend(flight_inputs(app, &[]).into_iter().filter(|l| !l.starts_with("CLmax")));
    out
}

fn launch_lines(app: &App) -> Vec<String> {
    let f = &app.evaluation.flight;
    let (wing_kg, fixed_kg) = (app.evaluation.weight.budget_kg, app.design.fixed_mass_kg());
    let over = launch::LAUNCH_OVER_STALL;
    vec![
        format!(
            "floats without a pilot at VS sqrt(m_empty/m) = {:.2} m/s: lift equals weight at one CL",
            f.wing_float_m_s
        ),
        format!("launch airspeed {over:.1} VS = {:.2} m/s, an assumption", f.launch_speed_m_s),
        format!(
            "run over the ground: that less the wind, {:.2} m/s in still air, {:.2} m/s in {:.1} m/s",
            f.ground_speed_m_s, f.ground_speed_in_wind_m_s, app.design.aboard.headwind_m_s
        ),
        format!("in the hands at rest m_empty g = {:.0} N", f.hands_n),
        format!(
            "at a run of {:.0} m/s m_empty g - rho/2 v2 S CL = {:.0} N, CL = CLmax/{over:.1}^2 = {:.2}",
            launch::RUN_M_S,
            f.hands_running_n,
            f.cl_max_trimmed / (over * over)
        ),
        "inputs".to_owned(),
        format!("m_empty {:.2} kg: wing {wing_kg:.2} at budget, fixed to it {fixed_kg:.2}", wing_kg + fixed_kg),
        format!("all up m {:.1} kg, VS {:.2} m/s, S {:.2} m2", f.all_up_kg, f.stall_m_s, app.evaluation.layout.area_m2),
    ]
}

fn work_lines(app: &App) -> Vec<String> {
    let (w, money) = (&app.evaluation.work, &app.design.rates.currency);
    let mut out = vec![
        format!("{:.0} hours, {:.0} {money}, {} pieces to make and glue", w.hours, w.cost, w.pieces),
        format!(
            "set-up {:.0} min, longest piece {:.2} m, heaviest {:.1} kg",
            w.set_up_minutes, w.largest_piece_m, w.heaviest_piece_kg
        ),
        "from the scenario's own rates, by area, tool, ribs and joints".to_owned(),
    ];
    out.extend(crate::report::text::lifting_lines(w));
    out.push(String::new());
    out.extend(w.lines.iter().map(|(what, hours, cost)| format!("  {what:<40} {hours:>7.1} h {cost:>9.0} {money}")));
    out
}
