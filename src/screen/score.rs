//! The score strip: every score in words, limits not met first, changes against the pin with a triangle.

use crate::physics::design::{Design, Targets};
use crate::physics::evaluation::{Evaluation, WingVerdict};
use crate::physics::loads::lift_range;
use crate::report::text::margin_title;
use crate::screen::app::App;

/// What a score is of; the working opens by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScoreOf {
    Weight,
    Strength,
    Durability,
    Lost,
    Press,
    Stall,
    Sink,
    Glide,
    Hours,
    Cost,
    Ball,
    Unseen,
    Launch,
    Hands,
    SetUp,
    Piece,
}

/// One score as shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Score {
    pub of: ScoreOf,
    pub word: &'static str,
    pub value: String,
    /// Words after the value: its band, place, target.
    pub about: String,
    /// More words, where there is room.
    pub more: String,
    /// A stated limit is not met; the words say by how much.
    pub broken: bool,
    /// It is judged against a stated target or limit.
    pub judged: bool,
    /// Change against the pin, and whether it is smaller than the uncertainty of the value.
    pub change: Option<(String, bool)>,
}

/// A number against a limit, both in the unit shown.
#[derive(Debug, Clone, Copy)]
struct Against {
    value: f64,
    limit: Option<f64>,
    /// More is worse.
    ceiling: bool,
    digits: usize,
}

impl Against {
    fn broken(self) -> bool {
        let Some(limit) = self.limit else { return false };
        let gap = self.value - limit;
        if self.ceiling { gap > 0.0 } else { gap < 0.0 }
    }
    fn words(self) -> String {
        let Some(limit) = self.limit else { return String::new() };
        let gap = self.value - limit;
        let side = match (gap > 0.0, self.ceiling) {
            (true, true) => "over",
            (false, true) => "under",
            (true, false) => "above",
            (false, false) => "below",
        };
        // A gap too small for the digits of the score gets as many as it takes: never "by 0".
        let size = gap.abs();
        let d =
            (self.digits..self.digits + 3).find(|d| size >= 0.5 * 0.1_f64.powi(*d as i32)).unwrap_or(self.digits + 3);
        let limit = format!("{limit:.*}", self.digits);
        if gap == 0.0 { format!("just {limit}") } else { format!("{side} {limit} by {size:.d$}") }
    }
}

/// Where a zone is, in words.
pub fn place(e: &Evaluation, zone: usize) -> String {
    e.layout.zones.get(zone).map_or(String::new(), |z| format!("{} bay {}", z.strip.label(), z.bay + 1))
}

/// All scores: limits not met first, then those with a target, then the others.
pub fn scores(app: &App) -> Vec<Score> {
    let mut all = scores_of(&app.design, &app.evaluation);
    if let Some(pin) = &app.pin {
        for s in &mut all {
            s.change = change(s.of, &app.evaluation, &pin.evaluation);
        }
    }
    all.sort_by_key(|s| (!s.broken, !s.judged));
    all
}

/// The scores of one wing in their own order.
pub fn scores_of(design: &Design, e: &Evaluation) -> Vec<Score> {
    let t = &design.targets;
    let mut out = vec![weight(t, e), strength(design, e), durability(t, e)];
    out.extend(handled(t, e));
    out.extend(flown(t, e));
    out.extend(made(design, e));
    out
}

fn weight(t: &Targets, e: &Evaluation) -> Score {
    let w = &e.weight;
    let a = Against { value: w.budget_kg, limit: t.wing_mass_kg, ceiling: true, digits: 1 };
    let chance = w.chance_of_target.map_or(String::new(), |c| format!(", chance to meet it {:.0} %", 100.0 * c));
    let about = if a.limit.is_some() { format!("{}{chance}", a.words()) } else { String::new() };
    let more = format!("drawn {:.1}, expected {:.1} ({:.1}-{:.1})", w.drawn_kg, w.expected_kg, w.p10_kg, w.p90_kg);
    Score { more, ..score(ScoreOf::Weight, "Weight", format!("{:.2} kg", w.budget_kg), about, a) }
}

fn strength(design: &Design, e: &Evaluation) -> Score {
    let s = &e.strength;
    let least = s.least.and_then(|i| e.margins.get(i));
    let at = least.map_or(String::new(), |m| {
        let bay = m.bay.map_or(String::new(), |b| format!(" bay {}", b + 1));
        let mode =
            if s.verdict == WingVerdict::Short { format!(" {}", margin_title(design, m)) } else { String::new() };
        // Where something is not shown the number is of what is.
        let least = if s.verdict == WingVerdict::NotShown { "least " } else { "" };
        format!("{least}{:+.2}{mode}{bay}", m.rf - 1.0)
    });
    // A short wing names the mode already.
    let named = s.verdict == WingVerdict::Short;
    let mut more = least.filter(|_| !named).map_or(String::new(), |m| format!("least {}", margin_title(design, m)));
    if !s.not_shown.is_empty() {
        let why = lift_range::beyond(design).first().map_or(String::new(), |b| format!(": {}", b.short));
        more = joined(&[&more, &format!("{} not shown{why}", s.not_shown.len())]);
    }
    if s.cases_off > 0 {
        more = joined(&[&more, &format!("{} cases off", s.cases_off)]);
    }
    Score {
        of: ScoreOf::Strength,
        word: "Strength",
        value: s.verdict.word().to_owned(),
        about: at,
        more,
        broken: s.verdict == WingVerdict::Short,
        judged: true,
        change: None,
    }
}

fn durability(t: &Targets, e: &Evaluation) -> Score {
    let d = &e.durability;
    let a = Against { value: d.index, limit: t.durability_index, ceiling: false, digits: 0 };
    let band = format!("({:.0}-{:.0})", d.index_p10, d.index_p90);
    let about = if a.limit.is_some() { format!("{band} {}", a.words()) } else { band };
    score(ScoreOf::Durability, "Durability", format!("{:.1}", d.index), about, a)
}

fn score(of: ScoreOf, word: &'static str, value: String, about: String, a: Against) -> Score {
    Score { of, word, value, about, more: String::new(), broken: a.broken(), judged: a.limit.is_some(), change: None }
}

/// A score whose words are only its limit.
fn plain(of: ScoreOf, word: &'static str, unit: &str, a: Against) -> Score {
    let d = a.digits;
    let value = if unit.is_empty() { format!("{:.d$}", a.value) } else { format!("{:.d$} {unit}", a.value) };
    score(of, word, value, a.words(), a)
}

fn handled(t: &Targets, e: &Evaluation) -> Vec<Score> {
    let d = &e.durability;
    let lost = Against { value: d.outings_lost, limit: t.outings_lost_per_100, ceiling: true, digits: 1 };
    let press = Against { value: d.least_press.value_n, limit: t.press_n, ceiling: false, digits: 0 };
    let mut press = plain(ScoreOf::Press, "Press", "N", press);
    press.about = joined(&[&press.about, &place(e, d.least_press.zone)]);
    let ball = Against { value: d.least_ball.value_n, limit: None, ceiling: false, digits: 0 };
    let mut ball = plain(ScoreOf::Ball, "Ball", "N", ball);
    ball.about = place(e, d.least_ball.zone);
    let unseen = Against { value: d.unseen, limit: None, ceiling: true, digits: 2 };
    vec![press, plain(ScoreOf::Lost, "Lost", "/100", lost), ball, plain(ScoreOf::Unseen, "Unseen", "/100", unseen)]
}

fn joined(parts: &[&str]) -> String {
    parts.iter().filter(|p| !p.is_empty()).copied().collect::<Vec<_>>().join(" ")
}

fn flown(t: &Targets, e: &Evaluation) -> Vec<Score> {
    let f = &e.flight;
    let stall = Against { value: f.stall_m_s * 3.6, limit: t.stall_m_s.map(|v| v * 3.6), ceiling: true, digits: 1 };
    let free = |value, digits| Against { value, limit: None, ceiling: true, digits };
    let band = |b: &crate::physics::flight::speeds::Band, d: usize| format!("({:.d$}-{:.d$})", b.low, b.high);
    let mut sink = plain(ScoreOf::Sink, "Sink", "m/s", free(f.least_sink_m_s.likely, 2));
    sink.about = band(&f.least_sink_m_s, 2);
    let mut glide = plain(ScoreOf::Glide, "Glide", "", free(f.best_glide.likely, 1));
    glide.about = band(&f.best_glide, 1);
    vec![
        plain(ScoreOf::Stall, "Stall", "km/h", stall),
        sink,
        glide,
        plain(ScoreOf::Launch, "Launch run", "m/s", free(f.ground_speed_m_s, 1)),
        plain(ScoreOf::Hands, "In the hands", "N", free(f.hands_n, 0)),
    ]
}

fn made(design: &Design, e: &Evaluation) -> Vec<Score> {
    let (t, w) = (&design.targets, &e.work);
    let top = |value, limit, digits| Against { value, limit, ceiling: true, digits };
    vec![
        plain(ScoreOf::Hours, "Hours", "", top(w.hours, t.hours, 0)),
        plain(ScoreOf::Cost, "Cost", &design.rates.currency, top(w.cost, t.cost, 0)),
        plain(ScoreOf::SetUp, "Set-up", "min", top(w.set_up_minutes, t.set_up_minutes, 0)),
        plain(ScoreOf::Piece, "Longest piece", "m", top(w.largest_piece_m, t.largest_piece_m, 2)),
    ]
}

/// The number behind a score, the digits it is shown with, and half the width of its band.
pub fn number(of: ScoreOf, e: &Evaluation) -> Option<(f64, usize, f64)> {
    let half = |low: f64, high: f64| (high - low).abs() / 2.0;
    let (d, f, w) = (&e.durability, &e.flight, &e.weight);
    Some(match of {
        ScoreOf::Weight => (w.budget_kg, 2, half(w.p10_kg, w.p90_kg)),
        ScoreOf::Strength => {
            let m = e.strength.least.and_then(|i| e.margins.get(i))?;
            (m.rf, 2, 0.0)
        }
        ScoreOf::Durability => (d.index, 1, half(d.index_p10, d.index_p90)),
        ScoreOf::Lost => (d.outings_lost, 1, 0.0),
        ScoreOf::Press => (d.least_press.value_n, 0, 0.0),
        ScoreOf::Ball => (d.least_ball.value_n, 0, 0.0),
        ScoreOf::Unseen => (d.unseen, 2, 0.0),
        ScoreOf::Stall => (f.stall_m_s * 3.6, 1, 0.0),
        ScoreOf::Sink => (f.least_sink_m_s.likely, 2, half(f.least_sink_m_s.low, f.least_sink_m_s.high)),
        ScoreOf::Glide => (f.best_glide.likely, 1, half(f.best_glide.low, f.best_glide.high)),
        ScoreOf::Launch => (f.ground_speed_m_s, 1, 0.0),
        ScoreOf::Hands => (f.hands_n, 0, 0.0),
        ScoreOf::Hours => (e.work.hours, 0, 0.0),
        ScoreOf::Cost => (e.work.cost, 0, 0.0),
        ScoreOf::SetUp => (e.work.set_up_minutes, 0, 0.0),
        ScoreOf::Piece => (e.work.largest_piece_m, 2, 0.0),
    })
}

/// A change against the pin: a triangle and the size; bracketed when smaller than the value's own band.
fn change(of: ScoreOf, e: &Evaluation, pin: &Evaluation) -> Option<(String, bool)> {
    let ((now, digits, half), (then, _, _)) = (number(of, e)?, number(of, pin)?);
    let by = now - then;
    if by.abs() < 0.5 / 10_f64.powf(digits as f64) {
        return None;
    }
    let mark = if by > 0.0 { '▲' } else { '▼' };
    let small = by.abs() < half;
    let words = format!("{mark}{:.digits$}", by.abs());
    Some((if small { format!("({words})") } else { words }, small))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn over_and_under_are_words_and_broken_limits_are_told() {
        let a = Against { value: 43.2, limit: Some(42.0), ceiling: true, digits: 1 };
        assert!(a.broken());
        assert_eq!(a.words(), "over 42.0 by 1.2");
        let b = Against { value: 70.0, limit: Some(60.0), ceiling: false, digits: 0 };
        assert!(!b.broken());
        assert_eq!(b.words(), "above 60 by 10");
        let none = Against { value: 1.0, limit: None, ceiling: true, digits: 0 };
        assert!(!none.broken() && none.words().is_empty());
    }

    #[test]
    fn a_change_smaller_than_its_band_is_bracketed() {
        let mut then = Evaluation::default();
        then.durability.index = 50.0;
        let mut now = then.clone();
        now.durability.index = 53.0;
        (now.durability.index_p10, now.durability.index_p90) = (40.0, 60.0);
        assert_eq!(change(ScoreOf::Durability, &now, &then), Some(("(▲3.0)".to_owned(), true)));
        now.durability.index = 65.0;
        assert_eq!(change(ScoreOf::Durability, &now, &then), Some(("▲15.0".to_owned(), false)));
        assert_eq!(change(ScoreOf::Durability, &then, &then), None);
    }
}
