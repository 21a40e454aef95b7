//! Words and numbers as well-formed markup. What a file names is text, never markup; every number says where it stands in
//! the JSON that other programs read.

use std::fmt::Write as _;

use serde_json::Value;

use crate::physics::design::Strip;
use crate::report::four_figures;

/// Text of whatever origin, as content of an element or of a quoted attribute.
pub(super) fn esc(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if is_unfit(c) => out.push('\u{FFFD}'),
            c => out.push(c),
        }
    }
    out
}

/// No character of a page, or one that turns round the reading direction of what follows it.
fn is_unfit(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FFFE}' | '\u{FFFF}')
}

/// A key as part of an id: letters, digits, hyphen and underscore stay, everything else becomes its number.
pub(super) fn id(key: &str) -> String {
    key.chars().fold(String::new(), |mut out, c| {
        if c.is_ascii_alphanumeric() || c == '-' || c == '_' {
            out.push(c);
        } else {
            let _ = write!(out, ".{:x}", u32::from(c));
        }
        out
    })
}

/// How a number is printed: in what unit against that of the JSON, with how many digits.
#[derive(Debug, Clone, Copy)]
pub(super) struct Show {
    times: f64,
    /// None: four figures.
    digits: Option<usize>,
    signed: bool,
}

/// Four figures in the unit of the JSON.
pub(super) const FOUR: Show = Show { times: 1.0, digits: None, signed: false };

impl Show {
    /// So many digits behind the point.
    pub(super) const fn digits(digits: usize) -> Self {
        Self { times: 1.0, digits: Some(digits), signed: false }
    }
    /// In a unit so many times smaller.
    #[must_use]
    pub(super) const fn times(self, times: f64) -> Self {
        Self { times, ..self }
    }
    /// With its sign.
    #[must_use]
    pub(super) const fn signed(self) -> Self {
        Self { signed: true, ..self }
    }
    /// Times the number of the JSON.
    pub(super) const fn by(self) -> f64 {
        self.times
    }
    /// The number as printed; what rounds to nothing has no minus.
    pub(super) fn print(self, v: f64) -> String {
        let v = v * self.times;
        let Some(digits) = self.digits else { return four_figures(v) };
        let v = if v.abs() < 0.5 / 10_f64.powf(digits as f64) { 0.0 } else { v };
        if self.signed { format!("{v:+.digits$}") } else { format!("{v:.digits$}") }
    }
}

/// Units that stay on one line.
pub(super) const KM_H: &str = "<span class=\"whole\">km/h</span>";
pub(super) const M_S: &str = "<span class=\"whole\">m/s</span>";

/// Markup that stays on one line.
pub(super) fn whole(markup: &str) -> String {
    format!("<span class=\"whole\">{markup}</span>")
}

/// A strip by its key in JSON, in the words of the page.
pub(super) fn strip(key: &str) -> String {
    let found = Strip::ALL.into_iter().find(|s| s.key() == key);
    found.map_or_else(|| esc(key), |s| esc(s.label()))
}

/// One part of the path to a number in JSON.
pub(super) fn step(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

/// A JSON document and what it is called on the page: nothing for that of `assess`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Doc<'a> {
    pub(super) name: &'static str,
    pub(super) value: &'a Value,
}

impl Doc<'_> {
    /// The number at a path.
    pub(super) fn get(&self, at: &str) -> Option<f64> {
        self.value.pointer(at)?.as_f64()
    }
    /// The words at a path.
    pub(super) fn str(&self, at: &str) -> &str {
        self.value.pointer(at).and_then(Value::as_str).unwrap_or("")
    }
    /// Entries of the list at a path.
    pub(super) fn len(&self, at: &str) -> usize {
        self.value.pointer(at).and_then(Value::as_array).map_or(0, Vec::len)
    }
    /// The attributes that say where a number or word stands.
    pub(super) fn mark(&self, at: &str, times: f64) -> String {
        let mut out = format!(" data-json=\"{}\"", esc(at));
        if times != 1.0 {
            let _ = write!(out, " data-times=\"{times}\"");
        }
        if !self.name.is_empty() {
            let _ = write!(out, " data-of=\"{}\"", self.name);
        }
        out
    }
    /// A number where it stands, printed.
    pub(super) fn num(&self, at: &str, show: Show) -> String {
        match self.get(at) {
            Some(v) => format!("<span{}>{}</span>", self.mark(at, show.times), esc(&show.print(v))),
            None => format!("<span class=\"dim\"{}>not shown</span>", self.mark(at, 1.0)),
        }
    }
    /// A number that may be left out.
    pub(super) fn num_or(&self, at: &str, show: Show, otherwise: &str) -> String {
        if self.get(at).is_some() { self.num(at, show) } else { esc(otherwise) }
    }
    /// Words where they stand.
    pub(super) fn word(&self, at: &str) -> String {
        format!("<span{}>{}</span>", self.mark(at, 1.0), esc(self.str(at)))
    }
    /// "25 (14-42)".
    pub(super) fn band(&self, at: [&str; 3], show: Show) -> String {
        format!("{} ({} to {})", self.num(at[0], show), self.num(at[1], show), self.num(at[2], show))
    }
}

/// A column of a table: its head, and whether numbers stand in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Col(pub(super) &'static str, pub(super) bool);

/// A column of words.
pub(super) const fn words(head: &'static str) -> Col {
    Col(head, false)
}

/// A column of numbers.
pub(super) const fn numbers(head: &'static str) -> Col {
    Col(head, true)
}

/// A row of cells, markup each; a class, and a line of small print under it.
#[derive(Debug, Clone, Default)]
pub(super) struct Row {
    pub(super) cells: Vec<String>,
    pub(super) class: &'static str,
    pub(super) under: Option<String>,
}

impl From<Vec<String>> for Row {
    fn from(cells: Vec<String>) -> Self {
        Self { cells, ..Self::default() }
    }
}

/// A table with a caption; the first column heads its rows. Nothing without rows.
pub(super) fn table(caption: &str, columns: &[Col], rows: &[Row]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let caption = esc(caption);
    let mut out = format!(
        "<div class=\"scroll\" role=\"region\" aria-label=\"{caption}\" tabindex=\"0\"><table><caption>{caption}</caption>\n<thead><tr>"
    );
    for c in columns {
        let class = if c.1 { " class=\"n\"" } else { "" };
        let _ = write!(out, "<th scope=\"col\"{class}>{}</th>", esc(c.0));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for r in rows {
        let class = if r.class.is_empty() { String::new() } else { format!(" class=\"{}\"", r.class) };
        let _ = write!(out, "<tr{class}>");
        for (i, cell) in r.cells.iter().enumerate() {
            let number = columns.get(i).is_some_and(|c| c.1);
            let class = if number { " class=\"n\"" } else { "" };
            let _ = if i == 0 {
                write!(out, "<th scope=\"row\"{class}>{cell}</th>")
            } else {
                write!(out, "<td{class}>{cell}</td>")
            };
        }
        out.push_str("</tr>\n");
        if let Some(under) = &r.under {
            let _ = writeln!(out, "<tr class=\"under\"><td colspan=\"{}\">{under}</td></tr>", columns.len());
        }
    }
    out.push_str("</tbody></table></div>\n");
    out
}

/// A list of facts: what, and what it is, markup each.
pub(super) fn facts(all: &[(String, String)]) -> String {
    let mut out = "<dl class=\"facts\">\n".to_owned();
    for (what, is) in all {
        let _ = writeln!(out, "<div><dt>{what}</dt><dd>{is}</dd></div>");
    }
    out.push_str("</dl>\n");
    out
}

/// A list of lines, markup each; nothing without any.
pub(super) fn list(lines: &[String]) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let each: String = lines.iter().fold(String::new(), |mut all, l| {
        let _ = writeln!(all, "<li>{l}</li>");
        all
    });
    format!("<ul>\n{each}</ul>\n")
}

/// A list of plain lines.
pub(super) fn plain_list(lines: &[String]) -> String {
    let lines: Vec<String> = lines.iter().map(|l| esc(l.trim())).collect();
    list(&lines)
}

/// A paragraph of plain words.
pub(super) fn para(text: &str) -> String {
    format!("<p>{}</p>\n", esc(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_file_says_is_text() {
        assert_eq!(esc("a<b>&\"c'\n"), "a&lt;b&gt;&amp;&quot;c&#39; ");
        assert_eq!(esc("x\u{0}\u{202E}y"), "x\u{FFFD}\u{FFFD}y");
        assert_eq!(id("a b\"><"), "a.20b.22.3e.3c");
    }

    #[test]
    fn what_rounds_to_nothing_has_no_minus() {
        assert_eq!(Show::digits(1).print(-0.04), "0.0");
        assert_eq!(Show::digits(1).signed().print(-0.04), "+0.0");
        assert_eq!(Show::digits(0).times(1e3).print(0.0126), "13");
        assert_eq!(Show::digits(2).signed().print(-0.28), "-0.28");
    }
}
