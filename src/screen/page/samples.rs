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

/// A record of the log stands beyond the fit of its form.
fn far(app: &App) -> bool {
    app.design.library.learnt.against.iter().any(|a| !a.fitted)
}

/// The log: all of it where there is room, then what to make next, then what was learnt as far as it goes.
pub fn list(app: &App, area: Rect) -> Rect {
    let n = lines(app) as u16;
    let needed = if n == 0 { empty(usize::from(area.width)).len() as u16 } else { n + 1 };
    Rect { height: needed.max(2).min(area.height.saturating_sub(6).max(3)), ..area }
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width);
    let (next, learnt) = (next_lines(app, width), learnt_lines(app, width));
    let list = list(app, area);
    let top = Rect { height: list.height + u16::from(far(app)), ..list };
    log(app, frame, list);
    if far(app) {
        let words = Line::styled("! beyond what the form was fitted for; used all the same", app.theme.dim());
        put(app, frame, Rect { y: list.y + list.height, height: 1, ..list }, vec![words]);
    }
    let mut y = area.y + top.height;
    let bottom = area.y + area.height;
    for part in [next, learnt] {
        if y + 2 >= bottom || part.is_empty() {
            continue;
        }
        let height = (part.len() as u16 + 1).min(bottom - y);
        let shown = usize::from(height - 1).min(part.len());
        let mut lines: Vec<Line> = part.into_iter().collect();
        if shown < lines.len() {
            let left = lines.len() - shown + 1;
            lines.truncate(shown.saturating_sub(1));
            lines.push(Line::styled(
                format!("… {left} more; Enter on a line of the log tells all of it"),
                app.theme.dim(),
            ));
        }
        put(app, frame, Rect { y: y + 1, height: height - 1, ..area }, lines);
        y += height;
    }
}

/// What a log without samples says.
fn empty(width: usize) -> Vec<Line<'static>> {
    let words = [
        "no sample stands in this scenario: weigh and press one, and type it here with =, or outside with",
        "thistledown samples FILE --add CONSTRUCTION --area-cm2 .. --mass-g .. --with ball --radius-mm .. --loads ..",
    ];
    words.iter().flat_map(|w| flow(&[(*w).to_owned()], width)).collect()
}

fn log(app: &App, frame: &mut Frame, area: Rect) {
    let rows = samples::rows(&app.design);
    if rows.is_empty() {
        put(app, frame, area, empty(usize::from(area.width)));
        return;
    }
    let width = usize::from(area.width);
    let wide = width >= 100;
    let (name, what) = if wide { (22, 28) } else { (18, 22) };
    let head = Line::raw(format!(
        " # {} {} {:>9} {:>9} {:>5} {:>2} {:>4}",
        fit("construction", name),
        fit("what", what),
        "predicted",
        "measured",
        "ratio",
        "n",
        if wide { "scatter" } else { "scat" },
    ));
    let lines = rows
        .iter()
        .map(|r| {
            let mark = if r.fitted { ' ' } else { '!' };
            Line::raw(format!(
                "{:>2} {} {} {:>9} {:>9} {:>5.2}{mark}{:>2} {:>4}",
                r.number,
                fit(&r.construction, name),
                fit(&brief(&r.what, wide), what),
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

/// What was done, shorter where the column is narrow: "ball 10.0 mm, mark".
fn brief(what: &str, wide: bool) -> String {
    if wide || !what.contains(" to a ") {
        return what.to_owned();
    }
    what.replacen(" of ", " ", 1).replacen(" to a ", ", ", 1)
}

fn next_lines(app: &App, width: usize) -> Vec<Line<'static>> {
    let (d, e) = (&app.design, &app.evaluation);
    let h = e.durability.repair_h;
    let band = |sd: f64| {
        let [low, high] = next::Next::band(h, sd);
        format!("{low:.0}-{high:.0}")
    };
    let name = if width >= 100 { 22 } else { 18 };
    let gap = " ".repeat(name - 18);
    let head = format!(
        "next sample, 0.09 m2{gap} {:>14} {:>5} {:>14} {:>13} {:>7}",
        "pressed with", "hours", "index, then", "sd kg, then", "%/hour"
    );
    let mut out = vec![Line::styled(fit(&head, width), app.theme.title())];
    for n in next::rank(d, e) {
        let key = d.constructions.get(n.construction).map_or("", |c| c.key.as_str());
        out.push(Line::raw(format!(
            "{} {:>16} {:>5.1} {:>14} {:>13} {:>7.1}",
            fit(key, name),
            n.presses,
            n.hours,
            format!("{} to {}", band(n.ln_hours[0]), band(n.ln_hours[1])),
            format!("{:.2} to {:.2}", n.weight_sd_kg[0], n.weight_sd_kg[1]),
            100.0 * n.band_per_hour()
        )));
    }
    out.push(Line::styled(
        fit("index band and spread of the weight, now and then; % the band narrows an hour", width),
        app.theme.dim(),
    ));
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
            "formula    resin, pick-up, foam density, finish and the construction's own share are learnt together from \
             how the areal mass answers to each: gain C w/(w C w + r), the conjugate normal law"
                .to_owned(),
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
