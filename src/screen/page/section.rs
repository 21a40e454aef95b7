//! Section: the wing at a station, and the lay-up at the map cursor, outside to inside, with weight and thickness.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::design::{Design, WebRun};
use crate::physics::wing::layout::Station;
use crate::report::layup::{self, Layer, stack};
use crate::report::{nose_steps, signed};
use crate::screen::app::App;
use crate::screen::page::{fit, flow, plan, put, put_list, shape, skin_map};

/// The bay the section stands in.
pub fn bay(app: &App) -> usize {
    app.station.min(app.evaluation.layout.bays.len().saturating_sub(1))
}

/// Index of the construction of the cursor's strip at the station.
fn construction(app: &App) -> Option<usize> {
    app.evaluation.layout.zone(app.at.0, bay(app)).map(|z| z.construction)
}

/// The lay-up of the cursor's strip at the station, outside to inside.
pub fn layers(app: &App) -> Vec<Layer> {
    let Some(i) = construction(app) else { return Vec::new() };
    let Some(c) = app.design.constructions.get(i) else { return Vec::new() };
    stack(&app.design, c)
}

/// The station the section stands at.
pub fn station(app: &App) -> Option<Station> {
    app.evaluation.layout.stations().nth(app.station).copied()
}

/// The room of the cross-section between the numbers above and the lay-up below.
pub fn picture(app: &App, area: Rect, s: &Station) -> Rect {
    parts(app, area, s)[1]
}

/// The plan outline where the cross-section leaves it room, then the cross-section, then the lay-up.
fn parts(app: &App, area: Rect, s: &Station) -> [Rect; 3] {
    let used = (numbers(app, s, usize::from(area.width)).len() as u16).min(area.height);
    let rest = area.height - used;
    let stack = (layers(app).len() as u16 + 3).min(rest);
    // A section is an eighth as high as wide, and a little more to breathe; the marks of the station stand above the plan.
    let room = rest - stack;
    let plan = skin_map::plan_rows(app, area.width / 2) + 1;
    let plan = if plan > 3 && room > plan + area.width / 8 { plan } else { 0 };
    let y = area.y + used;
    [
        Rect { y, height: plan, ..area },
        Rect { y: y + plan, height: room - plan, ..area },
        Rect { y: y + room, height: stack, ..area },
    ]
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let Some(s) = station(app) else { return };
    let [outline, picture, below] = parts(app, area, &s);
    put(app, frame, Rect { height: outline.y - area.y, ..area }, numbers(app, &s, usize::from(area.width)));
    if outline.height > 1 {
        from_above(app, frame, outline, &s);
    }
    shape::draw(app, frame, picture, &s);
    lay_up(app, frame, below);
}

/// The wing in plan, with a mark over the station on either half.
fn from_above(app: &App, frame: &mut Frame, area: Rect, s: &Station) {
    plan::draw(app, frame, Rect { y: area.y + 1, height: area.height - 1, ..area });
    let half = app.evaluation.layout.half_span_m.max(1e-9);
    let buffer = frame.buffer_mut();
    for side in [-1.0, 1.0] {
        let share = (1.0 + side * (s.y_m / half).clamp(0.0, 1.0)) / 2.0;
        let column = (share * f64::from(area.width)).floor().min(f64::from(area.width - 1)) as u16;
        buffer.set_string(area.x + column, area.y, "▼", app.theme.key());
    }
}

fn numbers(app: &App, s: &Station, width: usize) -> Vec<Line<'static>> {
    let e = &app.evaluation;
    let mut parts = vec![
        format!("station {} of {}", app.station + 1, e.layout.bays.len() + 1),
        format!("{:.2} m out ({:.3} of the half span)", s.y_m, s.eta),
        format!("chord {:.3} m", s.chord_m),
        format!("thickness {:.1} %", 100.0 * s.thickness_frac),
        format!("twist {} deg", signed(s.twist_rad.to_degrees(), 1)),
        format!("spar at {:.1} %, {:.0} mm deep", 100.0 * s.spar_frac, 1000.0 * s.spar_depth_m),
        format!("hinge at {:.1} %, {:.0} mm deep", 100.0 * app.design.hinge_frac, 1000.0 * s.hinge_depth_m),
        format!("nose radius {:.0} mm", 1000.0 * s.nose_radius_m),
    ];
    let layers = |v: &[u32]| v.get(bay(app)).copied().unwrap_or(0);
    if let Some(section) = e.sections.get(app.station) {
        let (up, low, web) = (layers(&e.sizing.upper), layers(&e.sizing.lower), layers(&e.sizing.web));
        parts.push(format!("cap layers {up} up, {low} low"));
        parts.extend(nose_steps::at(&app.design, e, bay(app)));
        parts.push(web_words(&app.design, s.eta, web));
        parts.extend(posts_words(&app.design, s.eta));
        parts.extend(walls_words(&app.design, e.layout.bays.get(bay(app)).map_or(s.eta, |b| b.mid.eta)));
        parts.push(format!("EI {}", kilo(section.ei_nm2)));
        parts.push(format!("in plane {}", kilo(section.ei_inplane_nm2)));
        parts.push(format!("GJ {}", kilo(section.gj_nm2)));
        parts.push(format!("shear centre {}", aft_of_spar(section.shear_centre_m)));
        parts.push(format!("cap lever {:.0} mm", 1000.0 * section.cap_lever_m));
        parts.push(if section.two_cells { "two cells in torsion" } else { "nose cell alone in torsion" }.to_owned());
    }
    flow(&parts, width)
}

/// What the web is made of at a place, from the top down, and the layers sizing has added.
fn web_words(design: &Design, eta: f64, more: u32) -> String {
    let here = |r: &&WebRun| (r.from_eta..=r.to_eta).contains(&eta);
    let Some(run) = design.spar.web.iter().find(here) else { return "no web here".to_owned() };
    let name = |i: usize| design.constructions.get(i).map_or("", |c| c.name.trim_start_matches("web: "));
    let made = match run.bands.as_slice() {
        [one] => name(one.construction).to_owned(),
        bands => {
            let each = bands.iter().map(|b| format!("{:.0} % {}", 100.0 * b.height_frac, name(b.construction)));
            format!("from the top {}", each.collect::<Vec<_>>().join("; "))
        }
    };
    match more {
        0 => format!("web {made}"),
        1 => format!("web {made}, 1 layer more"),
        n => format!("web {made}, {n} layers more"),
    }
}

/// What closes wing and control along the hinge line; nothing where there is no control.
fn walls_words(design: &Design, eta: f64) -> Option<String> {
    let (_, control) = design.control_at(eta)?;
    let name = |wall: Option<usize>| {
        let made = wall.and_then(|i| design.constructions.get(i));
        made.map_or("none named", |c| c.name.rsplit_once(": ").map_or(c.name.as_str(), |n| n.1))
    };
    let (wing, own) = (name(control.wing_wall), name(control.control_wall));
    Some(if wing == own {
        format!("walls at the hinge: {wing}")
    } else {
        format!("wall ahead of the hinge: {wing}; of the control: {own}")
    })
}

/// Posts between the caps at a place.
fn posts_words(design: &Design, eta: f64) -> Option<String> {
    let p = design.spar.posts.iter().find(|p| (p.from_eta..=p.to_eta).contains(&eta))?;
    let mm = |v: f64| 1000.0 * v;
    Some(format!("posts {:.0} by {:.0} mm every {:.0} mm", mm(p.width_m), mm(p.depth_m), mm(p.pitch_m)))
}

/// A stiffness in kN m2, three figures.
fn kilo(v_nm2: f64) -> String {
    let v = v_nm2 / 1000.0;
    let digits = match v.abs() {
        s if s >= 100.0 => 0,
        s if s >= 10.0 => 1,
        s if s >= 1.0 => 2,
        _ => 3,
    };
    format!("{v:.digits$} kN m2")
}

/// A place against the spar line in words.
fn aft_of_spar(x_m: f64) -> String {
    format!("{:.0} mm {} the spar", 1000.0 * x_m.abs(), if x_m < 0.0 { "ahead of" } else { "behind" })
}

/// The stack, then what a square metre of it weighs by cause.
fn lay_up(app: &App, frame: &mut Frame, area: Rect) {
    let place = format!("{} bay {}", app.at.0.label(), bay(app) + 1);
    let Some((i, c)) = construction(app).and_then(|i| Some((i, app.design.constructions.get(i)?))) else {
        put(app, frame, area, vec![Line::styled(format!("{place}: nothing there; ↑↓ another strip"), app.theme.dim())]);
        return;
    };
    let head = Line::raw(fit(&format!("{place}, outside in: {}", c.name), usize::from(area.width)));
    let width = usize::from(area.width).saturating_sub(32).min(70);
    let mut lines: Vec<Line> = layers(app)
        .into_iter()
        .map(|l| {
            let mm = l.thickness_mm.map_or(String::new(), |v| format!("{v:.2} mm"));
            let g = l.areal_g_m2.map_or(String::new(), |v| format!("{v:.0} g/m2"));
            let dry = if l.dry { " dry" } else { "" };
            Line::raw(format!("  {} {mm:>9} {g:>10}{dry}", fit(&l.what, width)))
        })
        .collect();
    if let Some(skin) = app.evaluation.skins.get(i) {
        let words: Vec<String> = layup::causes(skin).iter().map(|(w, v)| format!("{w} {:.0}", v * 1000.0)).collect();
        let whole = format!("whole {:.2} mm, {:.0} g/m2:", skin.thickness_m * 1000.0, skin.mass.total() * 1000.0);
        lines.extend(flow(&[format!("{whole} {}", words.join(" + "))], usize::from(area.width)));
    }
    put_list(app, frame, area, head, lines, app.line());
}
