//! A drawing as vector graphics inside the page: in the colour of the text, so it follows light, dark and print; kinds of line
//! and hatches carry the meaning, hues only help.

use std::fmt::Write as _;

use super::html::{Doc, Show, esc};

/// A point of the drawing, right and down.
pub(super) type Point = (f64, f64);

/// A kind of line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pen {
    pub(super) colour: &'static str,
    pub(super) width: f64,
    /// Lengths of dashes and gaps; none for a whole line.
    pub(super) dash: &'static str,
}

/// The colour of the text.
pub(super) const INK: &str = "currentColor";

/// Whole lines of the text's colour.
pub(super) const fn ink(width: f64) -> Pen {
    Pen { colour: INK, width, dash: "" }
}

/// Dashed lines of the text's colour.
pub(super) const fn dashed(width: f64, dash: &'static str) -> Pen {
    Pen { colour: INK, width, dash }
}

/// Where a text begins.
#[derive(Debug, Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

impl Anchor {
    const fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// Size of small print in a drawing.
pub(super) const SMALL: f64 = 11.0;

/// About how wide a text of a size is.
pub(super) fn width(text: &str, size: f64) -> f64 {
    0.56 * size * text.chars().count() as f64
}

/// A text cut to a width.
pub(super) fn fit(text: &str, room: f64, size: f64) -> String {
    let most = (room / (0.56 * size)).max(1.0) as usize;
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let cut: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{}\u{2026}", cut.trim_end())
}

/// A drawing under way.
pub(super) struct Svg {
    pub(super) id: String,
    title: String,
    description: String,
    defs: String,
    body: String,
    size: Point,
}

fn sound(points: &[Point]) -> bool {
    points.iter().all(|p| p.0.is_finite() && p.1.is_finite())
}

fn path(points: &[Point], closed: bool) -> String {
    let mut out = String::new();
    for (i, p) in points.iter().enumerate() {
        let _ = write!(out, "{}{:.2} {:.2}", if i == 0 { "M" } else { "L" }, p.0, p.1);
    }
    if closed {
        out.push('Z');
    }
    out
}

fn stroke(pen: Pen) -> String {
    let dash = if pen.dash.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", pen.dash) };
    format!(" stroke=\"{}\" stroke-width=\"{}\"{dash}", pen.colour, pen.width)
}

impl Svg {
    /// An empty drawing, with what a screen reader says of it.
    pub(super) fn new(id: impl Into<String>, size: Point, title: &str, description: &str) -> Self {
        Self {
            id: id.into(),
            title: title.to_owned(),
            description: description.to_owned(),
            defs: String::new(),
            body: String::new(),
            size,
        }
    }
    /// Something others refer to.
    pub(super) fn define(&mut self, markup: &str) {
        self.defs.push_str(markup);
    }
    /// Make the drawing so high.
    pub(super) fn high(&mut self, height: f64) {
        self.size.1 = height;
    }
    /// A straight line.
    pub(super) fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.open(&[from, to], pen);
    }
    /// A line through points.
    pub(super) fn open(&mut self, points: &[Point], pen: Pen) {
        self.marked(points, pen, "");
    }
    /// A line through points that says where they stand in JSON.
    pub(super) fn marked(&mut self, points: &[Point], pen: Pen, marks: &str) {
        if sound(points) && points.len() > 1 {
            let _ = writeln!(
                self.body,
                "<path d=\"{}\" fill=\"none\" stroke-linejoin=\"round\"{}{marks}/>",
                path(points, false),
                stroke(pen)
            );
        }
    }
    /// An area: how it is filled, how dense, and its edge.
    pub(super) fn area(&mut self, points: &[Point], fill: &str, opacity: f64, edge: Option<Pen>) {
        if sound(points) && points.len() > 2 {
            let edge = edge.map_or_else(String::new, stroke);
            let _ = writeln!(
                self.body,
                "<path d=\"{}\" fill=\"{fill}\" fill-opacity=\"{opacity:.2}\"{edge}/>",
                path(points, true)
            );
        }
    }
    /// An upright rectangle between two corners.
    pub(super) fn rect(&mut self, a: Point, b: Point, fill: &str, opacity: f64, edge: Option<Pen>) {
        self.area(&[a, (b.0, a.1), b, (a.0, b.1)], fill, opacity, edge);
    }
    /// A ring, or a dot where it is filled.
    pub(super) fn dot(&mut self, at: Point, radius: f64, pen: Pen, filled: bool) {
        if sound(&[at]) {
            let fill = if filled { pen.colour } else { "none" };
            let _ = writeln!(
                self.body,
                "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius}\" fill=\"{fill}\"{}/>",
                at.0,
                at.1,
                stroke(pen)
            );
        }
    }
    /// Words.
    pub(super) fn text(&mut self, at: Point, anchor: Anchor, size: f64, words: &str) {
        self.markup(at, anchor, size, &esc(words));
    }
    /// Words with paper behind them, for where lines run.
    pub(super) fn label(&mut self, at: Point, anchor: Anchor, size: f64, words: &str) {
        self.paper(at, anchor, size, words);
        self.text(at, anchor, size, words);
    }
    /// Paper behind words.
    fn paper(&mut self, at: Point, anchor: Anchor, size: f64, words: &str) {
        let long = 0.62 * size * words.chars().count() as f64 + 2.0;
        let from = match anchor {
            Anchor::Start => at.0 - 1.0,
            Anchor::Middle => at.0 - long / 2.0,
            Anchor::End => at.0 + 1.0 - long,
        };
        if sound(&[at]) {
            let _ = writeln!(
                self.body,
                "<rect class=\"paper\" x=\"{from:.2}\" y=\"{:.2}\" width=\"{long:.2}\" height=\"{:.2}\" fill=\"#ffffff\" rx=\"2\"/>",
                at.1 - 0.82 * size,
                0.98 * size
            );
        }
    }
    /// A number that says where it stands in JSON, and what follows it.
    pub(super) fn number(
        &mut self,
        (at, anchor, size): (Point, Anchor, f64),
        doc: Doc,
        place: &str,
        show: Show,
        after: &str,
    ) {
        if let Some(v) = doc.get(place) {
            self.paper(at, anchor, size, &format!("{}{after}", show.print(v)));
            let number = format!("<tspan{}>{}</tspan>{}", doc.mark(place, show.by()), show.print(v), esc(after));
            self.markup(at, anchor, size, &number);
        }
    }
    fn markup(&mut self, at: Point, anchor: Anchor, size: f64, markup: &str) {
        if sound(&[at]) {
            let _ = writeln!(
                self.body,
                "<text x=\"{:.2}\" y=\"{:.2}\" font-size=\"{size}\" text-anchor=\"{}\" fill=\"currentColor\">{markup}</text>",
                at.0,
                at.1,
                anchor.word()
            );
        }
    }
    /// Words that run up the page.
    pub(super) fn upright(&mut self, at: Point, size: f64, words: &str) {
        if sound(&[at]) {
            let _ = writeln!(
                self.body,
                "<text transform=\"translate({:.2} {:.2}) rotate(-90)\" font-size=\"{size}\" text-anchor=\"middle\" fill=\"currentColor\">{}</text>",
                at.0,
                at.1,
                esc(words)
            );
        }
    }
    /// The figure with its drawing and caption.
    pub(super) fn done(self, class: &str) -> String {
        let Self { id, title, description, defs, body, size } = self;
        let defs = if defs.is_empty() { String::new() } else { format!("<defs>{defs}</defs>\n") };
        format!(
            "<figure class=\"{class}\">\n<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"{id}\" role=\"img\" aria-labelledby=\"{id}-t {id}-d\" \
             viewBox=\"0 0 {:.0} {:.0}\">\n<title id=\"{id}-t\">{}</title>\n<desc id=\"{id}-d\">{}</desc>\n{defs}{body}</svg>\n\
             <figcaption>{}</figcaption>\n</figure>\n",
            size.0,
            size.1,
            esc(&title),
            esc(&description),
            esc(&title)
        )
    }
}
