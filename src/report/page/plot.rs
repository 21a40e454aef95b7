//! A plot: axes with units and ticks, lines told apart by dashes and marks, a key below; its lines say where their numbers stand.

use std::fmt::Write as _;

use super::html::{Doc, esc};
use super::svg::{Anchor, Pen, Point, SMALL, Svg, dashed, fit, ink, width};

const WIDE: f64 = 460.0;
const LEFT: f64 = 58.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 24.0;
const HIGH: f64 = 210.0;

/// Lines in the order they are given: dashes first, hue second.
const PENS: [Pen; 6] = [
    Pen { colour: "#2a78c8", width: 2.2, dash: "" },
    Pen { colour: "#c8662a", width: 2.2, dash: "7 3" },
    Pen { colour: "#3a9a5c", width: 2.2, dash: "2 2.5" },
    Pen { colour: "#8a5cc0", width: 2.2, dash: "10 3 2 3" },
    Pen { colour: "#c04a78", width: 2.2, dash: "4 2" },
    Pen { colour: "#70806a", width: 2.2, dash: "12 3 2 2 2 3" },
];

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// One of the named lines, with its pen.
    Named,
    /// Thin, in the ground, without a name.
    Ground,
}

/// Where numbers of a line stand in JSON and the factor to the unit drawn.
#[derive(Debug, Clone)]
pub(super) struct Path {
    pub(super) at: String,
    pub(super) times: f64,
}

/// A line.
pub(super) struct Line {
    pub(super) name: String,
    pub(super) points: Vec<Point>,
    pub(super) look: Look,
    /// Of x and of y; a `*` stands for every entry of a list.
    pub(super) from: Option<(Path, Path)>,
}

/// Everything of a plot.
pub(super) struct Plot {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) description: String,
    pub(super) x: &'static str,
    pub(super) y: &'static str,
    pub(super) lines: Vec<Line>,
    /// Zero stands on the axis of y.
    pub(super) zero: bool,
    /// Larger is further down.
    pub(super) down: bool,
    /// Ends of y where they are not those of the numbers: what lies beyond is drawn at the end.
    pub(super) ends: Option<(f64, f64)>,
}

/// Numbers of a list of numbers, or of a field of a list of objects by `*`.
pub(super) fn numbers(doc: &Doc, at: &str) -> Vec<f64> {
    let (list, field) = at.split_once("/*").unwrap_or((at, ""));
    let Some(list) = doc.value.pointer(list).and_then(serde_json::Value::as_array) else { return Vec::new() };
    list.iter().map(|v| v.pointer(field).and_then(serde_json::Value::as_f64).unwrap_or(f64::NAN)).collect()
}

impl Line {
    /// A line of two lists in JSON.
    pub(super) fn of(doc: &Doc, name: String, look: Look, (x, y): (Path, Path)) -> Self {
        let points =
            numbers(doc, &x.at).into_iter().zip(numbers(doc, &y.at)).map(|(a, b)| (a * x.times, b * y.times)).collect();
        Self { name, points, look, from: Some((x, y)) }
    }
}

/// A step of 1, 2 or 5 times a power of ten that takes at most so many to cover a length.
fn step(long: f64, most: f64) -> f64 {
    let raw = long / most;
    let power = 10_f64.powf(raw.log10().floor());
    let whole = [1.0, 2.0, 5.0, 10.0].into_iter().find(|s| s * power >= raw * 0.999_999).unwrap_or(10.0);
    whole * power
}

/// From where to where an axis goes, and its step; nothing where there are no numbers.
fn axis(numbers: impl Iterator<Item = f64>, zero: bool, most: f64) -> Option<(f64, f64, f64)> {
    let (mut a, mut b) =
        numbers.filter(|v| v.is_finite()).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
    if !(a.is_finite() && b.is_finite()) {
        return None;
    }
    if zero {
        (a, b) = (a.min(0.0), b.max(0.0));
    }
    if b - a < 1e-9 * a.abs().max(1e-9) {
        b = a + a.abs().max(1.0);
    }
    let s = step(b - a, most);
    Some(((a / s + 1e-9).floor() * s, (b / s - 1e-9).ceil() * s, s))
}

fn tick(v: f64, step: f64) -> String {
    let digits = (-step.log10().floor()).clamp(0.0, 6.0) as usize;
    let v = if v.abs() < step * 1e-6 { 0.0 } else { v };
    format!("{v:.digits$}")
}

impl Plot {
    /// The figure; nothing where there is nothing to draw.
    pub(super) fn html(self) -> String {
        let all = || self.lines.iter().flat_map(|l| &l.points).filter(|p| p.0.is_finite() && p.1.is_finite());
        let Some((x0, x1, xs)) = axis(all().map(|p| p.0), false, 8.0) else { return String::new() };
        let ys = match self.ends {
            Some((a, b)) => Some((a, b, step(b - a, 6.0))),
            None => axis(all().map(|p| p.1), self.zero, 6.0),
        };
        let Some((y0, y1, ys)) = ys else { return String::new() };
        let mut svg = Svg::new(self.id.clone(), (WIDE, 0.0), &self.title, &self.description);
        let right = |x: f64| LEFT + (WIDE - LEFT - RIGHT) * (x - x0) / (x1 - x0);
        let (foot, head) = if self.down { (TOP, TOP + HIGH) } else { (TOP + HIGH, TOP) };
        let up = |y: f64| foot + (head - foot) * (y.clamp(y0, y1) - y0) / (y1 - y0);
        grid(&mut svg, (x0, x1, xs), (y0, y1, ys), &right, &up);
        svg.text((6.0, 13.0), Anchor::Start, 12.0, self.y);
        svg.text((WIDE - RIGHT, TOP + HIGH + 32.0), Anchor::End, 12.0, self.x);
        let named: Vec<&Line> = self.lines.iter().filter(|l| l.look == Look::Named).collect();
        let mut next = 0;
        for l in self.lines.iter().filter(|l| l.look == Look::Ground).chain(named.iter().copied()) {
            let points: Vec<Point> = l.points.iter().map(|p| (right(p.0), up(p.1))).collect();
            let pen = if l.look == Look::Ground {
                dashed(0.6, "1 2")
            } else {
                next += 1;
                PENS[(next - 1) % PENS.len()]
            };
            let marks = l
                .from
                .as_ref()
                .map_or_else(String::new, |from| marks(from, (x0, x1, y0, y1), (right(x0), right(x1), up(y0), up(y1))));
            svg.marked(&points, pen, &marks);
        }
        let end = key(&mut svg, &named);
        svg.high(end);
        svg.done("plot")
    }
}

/// The frame of the plot in numbers, and where x and y of the line stand.
fn marks(from: &(Path, Path), of: (f64, f64, f64, f64), drawn: (f64, f64, f64, f64)) -> String {
    let mut out = String::new();
    for (axis, path) in [("x", &from.0), ("y", &from.1)] {
        let _ = write!(out, " data-json-{axis}=\"{}\" data-times-{axis}=\"{}\"", esc(&path.at), path.times);
    }
    let _ = write!(
        out,
        " data-frame=\"{} {} {} {} {:.3} {:.3} {:.3} {:.3}\"",
        of.0, of.1, of.2, of.3, drawn.0, drawn.1, drawn.2, drawn.3
    );
    out
}

fn grid(svg: &mut Svg, x: (f64, f64, f64), y: (f64, f64, f64), right: &impl Fn(f64) -> f64, up: &impl Fn(f64) -> f64) {
    let ticks = |(from, to, step): (f64, f64, f64)| {
        let n = ((to - from) / step).round().clamp(0.0, 40.0) as usize;
        (0..=n).map(move |i| from + i as f64 * step)
    };
    for v in ticks(y) {
        let at = up(v);
        let pen = if v.abs() < 1e-6 * y.2 { ink(1.2) } else { dashed(0.4, "2 3") };
        svg.line((LEFT, at), (WIDE - RIGHT, at), pen);
        svg.text((LEFT - 6.0, at + 4.0), Anchor::End, SMALL, &tick(v, y.2));
    }
    for v in ticks(x) {
        let at = right(v);
        svg.line((at, TOP + HIGH), (at, TOP + HIGH + 4.0), ink(1.0));
        svg.text((at, TOP + HIGH + 16.0), Anchor::Middle, SMALL, &tick(v, x.2));
    }
    svg.line((LEFT, TOP), (LEFT, TOP + HIGH), ink(1.0));
    svg.line((LEFT, TOP + HIGH), (WIDE - RIGHT, TOP + HIGH), ink(1.0));
}

/// The key under the plot; gives where it ends.
fn key(svg: &mut Svg, named: &[&Line]) -> f64 {
    let mut at = (8.0, TOP + HIGH + 50.0);
    for (i, l) in named.iter().enumerate() {
        let words = fit(&l.name, WIDE - 60.0, SMALL);
        let long = 36.0 + width(&words, SMALL) + 16.0;
        if at.0 > 8.0 && at.0 + long > WIDE {
            at = (8.0, at.1 + 16.0);
        }
        svg.line((at.0, at.1 - 4.0), (at.0 + 30.0, at.1 - 4.0), PENS[i % PENS.len()]);
        svg.text((at.0 + 36.0, at.1), Anchor::Start, SMALL, &words);
        at.0 += long;
    }
    at.1 + 8.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_few() {
        assert_eq!(step(6.7, 8.0), 1.0);
        assert_eq!(step(0.04, 6.0), 0.01);
        assert_eq!(step(1300.0, 6.0), 500.0);
        assert_eq!(axis([3.0, 17.0].into_iter(), true, 6.0), Some((0.0, 20.0, 5.0)));
        assert_eq!(axis(std::iter::empty(), true, 6.0), None);
        assert_eq!(
            (tick(0.30000000004, 0.1), tick(-1e-12, 0.5), tick(250.0, 50.0)),
            ("0.3".into(), "0.0".into(), "250".into())
        );
    }
}
