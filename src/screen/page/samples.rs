//! Samples: the log against what was predicted, what was learnt from it, and which sample to make next.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::samples::learnt::Against;
use crate::physics::samples::next;
use crate::physics::samples::rule::{self, Prior};
use crate::report::samples;
use crate::screen::app::App;
use crate::screen::page::{fit, flow, put, put_list};

/// How many lines can be chosen: the weighings and presses of the log.
pub fn lines(app: &App) -> usize {
    app.design.library.learnt.against.len()
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width);
    let next = next_lines(app, width);
    let learnt = learnt_lines(app, width);
    let n = lines(app) as u16;
    // The log first, then what to make next, then what was learnt as far as there is room.
    let needed = if n == 0 { empty(width).len() as u16 } else { n + 1 };
    let list = needed.max(3).min(area.height.saturating_sub(4).max(3));
    let top = Rect { height: list.min(area.height), ..area };
    log(app, frame, top);
    let mut y = area.y + top.height;
    let bottom = area.y + area.height;
    for part in [next, learnt] {
        if y + 2 >= bottom || part.is_empty() {
            continue;
        }
        let height = (part.len() as u16 + 1).min(bottom - y - 1);
        let shown = usize::from(height).min(part.len());
        let mut lines: Vec<Line> = part.into_iter().collect();
        if shown < lines.len() {
            let left = lines.len() - shown + 1;
            lines.truncate(shown.saturating_sub(1));
            lines.push(Line::styled(
                format!("… {left} more; Enter on a line of the log tells all of it"),
                app.theme.dim(),
            ));
        }
        put(app, frame, Rect { y: y + 1, height: height.min(bottom - y - 1), ..area }, lines);
        y += height + 1;
    }
}

/// What a log without samples says.
fn empty(width: usize) -> Vec<Line<'static>> {
    let words = [
        "no sample stands in this scenario: weigh and press one, and write it as [[sample]], or with".to_owned(),
        "`thistledown samples FILE --add CONSTRUCTION --area-cm2 .. --mass-g .. --with ball ..`".to_owned(),
    ];
    flow(&words, width)
}

fn log(app: &App, frame: &mut Frame, area: Rect) {
    let rows = samples::rows(&app.design);
    if rows.is_empty() {
        put(app, frame, area, empty(usize::from(area.width)));
        return;
    }
    let width = usize::from(area.width);
    let (name, what) = if width >= 100 { (22, 28) } else { (18, 22) };
    let far = rows.iter().any(|r| !r.fitted);
    let note = if far { "  ! beyond the fit" } else { "" };
    let head = Line::raw(format!(
        " # {} {} {:>9} {:>9} {:>5} {:>2} {:>4}{}",
        fit("construction", name),
        fit("what", what),
        "predicted",
        "measured",
        "ratio",
        "n",
        "scat",
        if width >= 100 { note } else { "" }
    ));
    let lines = rows
        .iter()
        .map(|r| {
            let mark = if r.fitted { ' ' } else { '!' };
            Line::raw(format!(
                "{:>2} {} {} {:>9} {:>9} {:>5.2}{mark}{:>2} {:>4}",
                r.number,
                fit(&r.construction, name),
                fit(&r.what, what),
                r.predicted,
                r.measured,
                r.ratio,
                r.specimens,
                r.scatter
            ))
        })
        .collect();
    put_list(app, frame, area, head, lines, app.line());
}

fn next_lines(app: &App, width: usize) -> Vec<Line<'static>> {
    let (d, e) = (&app.design, &app.evaluation);
    let h = e.durability.repair_h;
    let band = |sd: f64| {
        let [low, high] = next::Next::band(h, sd);
        format!("{low:.0}-{high:.0}")
    };
    let name = if width >= 100 { 22 } else { 18 };
    let head = format!(
        "next sample, 0.09 m2 {:>14} {:>6} {:>6} {:>6} {:>11} {:>7}",
        "pressed with", "hours", "index", "to", "sd kg", "%/h"
    );
    let mut out = vec![Line::styled(fit(&head, width), app.theme.title())];
    for n in next::rank(d, e) {
        let key = d.constructions.get(n.construction).map_or("", |c| c.key.as_str());
        out.push(Line::raw(format!(
            "{} {:>16} {:>6.1} {:>6} {:>6} {:>4.2} to {:>4.2} {:>6.1}",
            fit(key, name),
            n.presses,
            n.hours,
            band(n.ln_hours[0]),
            band(n.ln_hours[1]),
            n.weight_sd_kg[0],
            n.weight_sd_kg[1],
            100.0 * n.band_per_hour()
        )));
    }
    out
}

fn learnt_lines(app: &App, width: usize) -> Vec<Line<'static>> {
    let words = samples::learnt_words(&app.design);
    if words.is_empty() {
        return Vec::new();
    }
    let mut out =
        vec![Line::styled("what was learnt: a factor on the prediction, and its spread".to_owned(), app.theme.title())];
    for w in words {
        out.extend(flow(&[w], width));
    }
    out
}

/// The working of the chosen line: the record, its prediction, the spread before, what the specimens say, what is left.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    let learnt = &app.design.library.learnt;
    let mut all: Vec<&Against> = learnt.against.iter().collect();
    all.sort_by_key(|a| a.sample);
    let a = all.get(app.line())?;
    let s = app.design.samples.get(a.sample)?;
    let mut out = Vec::new();
    let record = [&s.date, &s.how, &s.note].into_iter().filter(|w| !w.is_empty()).cloned().collect::<Vec<_>>();
    if !record.is_empty() {
        out.push(format!("record     {}", record.join("; ")));
    }
    let (unit, scale) = if a.form.is_some() { ("N", 1.0) } else { ("g/m2", 1e3) };
    out.push(format!("predicted  {:.1} {unit} before any sample", scale * a.predicted));
    out.push(format!(
        "measured   {:.1} {unit}, {:.3} of it, {} specimens",
        scale * a.measured,
        a.measured / a.predicted,
        a.specimens
    ));
    if !a.fitted {
        out.push(format!("extrapolated: {}; it is used all the same", samples::FAR));
    }
    let Some(form) = a.form else {
        out.push(String::new());
        out.extend(samples::mass_words(&app.design));
        out.push(
            "formula    resin, pick-up, foam density, finish and the construction's own share are learnt together from"
                .to_owned(),
        );
        out.push(
            "           how the areal mass answers to each: gain C w/(w C w + r), the conjugate normal law".to_owned(),
        );
        out.push(
            "assumption piece to piece 3 %, the construction's own share 3 %; the four spreads as `explain` has them"
                .to_owned(),
        );
        return Some((format!("{}, weighed", s.construction), out));
    };
    let loads =
        s.presses.iter().filter(|p| a.what.starts_with(p.tool.key()) && p.loads_n.len() == a.specimens as usize);
    if let Some(p) = loads.clone().find(|p| a.what.contains(&format!("{:.1} mm", p.radius_m * 1e3))) {
        let each: Vec<String> = p.loads_n.iter().map(|n| format!("{n:.0}")).collect();
        out.push(format!("loads      {} N, at {:.0} C", each.join(", "), p.at_c));
    }
    out.push(String::new());
    if let Some((_, o)) = learnt.own_of(&s.made) {
        let p = Prior::of(form, &o.before[form as usize]);
        out.push(format!(
            "before     spread {:.2} of the logarithm: form {:.2}, construction {:.2}, from place to place {:.2}",
            p.whole(),
            p.shared,
            p.own,
            p.place
        ));
        out.push("           the parts stand in the working of a zone on the map and under `library KEY`".to_owned());
    }
    if let Some(sd) = a.sd {
        let k = rule::tolerance_factor(a.specimens, 0.9, 0.95);
        out.push(format!("scatter    {sd:.3} as seen here"));
        out.push(format!(
            "alone      nine places in ten stand {:.0} N, with 95 % confidence: mean - {k:.2} sd (CMH-17, B-basis)",
            a.measured * (-k * sd).exp()
        ));
    }
    if let Some(k) = learnt.own_of(&s.made).and_then(|(_, o)| o.of_skin.forms[form as usize]) {
        out.push(format!("now        {}: {}", form.word(), samples::known_words(&k)));
    }
    if let Some(k) = learnt.others.and_then(|o| o[form as usize]) {
        out.push(format!("others     {}", samples::others_words(form, &k)));
    }
    out.push(String::new());
    out.push(format!("rule       {}", samples::RULE));
    Some((format!("{}, {}", s.construction, a.what), out))
}
