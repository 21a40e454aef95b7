//! Long lines broken in words, what follows hung under the text: a label and its column stay on the left alone; a sentence without a
//! label goes on a little further in, so that the next one is seen to begin.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Units that stay on the line of their number.
const UNITS: [&str; 12] = ["%", "mm", "m", "m2", "kg", "g", "g/m2", "N", "N m", "h", "km/h", "m/s"];

/// Would a break here part a number from its unit?
pub fn parts_a_unit(before: &str, after: &str) -> bool {
    let unit = after.trim_end_matches([',', ';', '.', ':', ')']);
    before.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&unit)
}

/// Labels that fill their column, so that a single blank parts them from their text.
const LABELS_OF_TEN: [&str; 4] = ["knock-down", "assumption", "least sink", "best glide"];

/// How much further in a sentence without a label goes on.
pub const FURTHER_IN: usize = 2;

/// Where the lines that follow begin: under the text after a label, else a little further in than the line itself.
fn hang(text: &[char], width: usize) -> usize {
    let own = text.iter().take_while(|c| **c == ' ').count();
    let rest = &text[own..];
    let gap = (0..rest.len().saturating_sub(2)).find(|i| rest[*i] == ' ' && rest[i + 1] == ' ');
    // Words with a number among them are the first of several statements, no label.
    let number = |i: &usize| rest[..*i].windows(2).any(|w| w[0] == ' ' && (w[1].is_ascii_digit() || w[1] == '('));
    let gap = gap.filter(|i| !number(i));
    let labelled = LABELS_OF_TEN.iter().any(|l| text.len() > 11 && text.iter().take(10).copied().eq(l.chars()));
    if labelled && width >= 28 {
        return 11;
    }
    let under = gap.map(|i| own + i + rest[i..].iter().take_while(|c| **c == ' ').count());
    // A column far to the right would leave no room for words.
    under.filter(|u| *u * 5 <= width * 2).unwrap_or(own + FURTHER_IN).min(width / 2)
}

/// Break plain text for a terminal of that width, line by line.
pub fn text(whole: &str, width: usize) -> String {
    let mut out = String::new();
    for l in whole.lines() {
        for part in line(&Line::raw(l), width) {
            out.push_str(part.to_string().trim_end());
            out.push('\n');
        }
    }
    out
}

/// Break one line.
pub fn line(whole: &Line<'_>, width: usize) -> Vec<Line<'static>> {
    let styled: Vec<(char, Style)> =
        whole.spans.iter().flat_map(|s| s.content.chars().map(|c| (c, s.style)).collect::<Vec<_>>()).collect();
    let text: Vec<char> = styled.iter().map(|(c, _)| *c).collect();
    let width = width.max(8);
    let hang = hang(&text, width);
    let mut out = Vec::new();
    let mut from = 0;
    loop {
        let room = if out.is_empty() { width } else { width - hang };
        let left = text.len() - from;
        let to = if left <= room {
            text.len()
        } else {
            // The last blank that still leaves a whole word before it; a word longer than the line is cut.
            let least = if out.is_empty() { hang } else { 0 };
            let good = |i: &usize| {
                let word: String = text[i + 1..].iter().take_while(|c| **c != ' ').collect();
                text[*i] == ' ' && !parts_a_unit(&text[i - 1].to_string(), &word)
            };
            (from + least + 1..=from + room).rev().find(good).unwrap_or(from + room)
        };
        let mut spans = Vec::new();
        if !out.is_empty() && hang > 0 {
            spans.push(Span::raw(" ".repeat(hang)));
        }
        spans.extend(runs(&styled[from..to]));
        out.push(Line::from(spans).style(whole.style));
        from = to;
        while text.get(from) == Some(&' ') {
            from += 1;
        }
        if from >= text.len() {
            return out;
        }
    }
}

/// Characters of one style together.
fn runs(styled: &[(char, Style)]) -> Vec<Span<'static>> {
    let mut out: Vec<Span<'static>> = Vec::new();
    for (c, style) in styled {
        match out.last_mut() {
            Some(last) if last.style == *style => last.content.to_mut().push(*c),
            _ => out.push(Span::styled(c.to_string(), *style)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn broken(text: &str, width: usize) -> Vec<String> {
        line(&Line::raw(text.to_owned()), width).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn what_follows_hangs_under_the_text_of_a_label() {
        let whole = "source     one two three four five";
        assert_eq!(broken(whole, 28), ["source     one two three", "           four five"]);
        let several = "  index 25 (14-42)   repair 74 h   lost 7";
        assert_eq!(broken(several, 30), ["  index 25 (14-42)   repair", "    74 h   lost 7"]);
        assert_eq!(broken("  + one two three", 10), ["  + one", "    two", "    three"]);
        let full = "knock-down one two three four five six";
        assert_eq!(broken(full, 28), ["knock-down one two three", "           four five six"]);
        assert_eq!(broken("short", 20), ["short"]);
        assert_eq!(broken("", 20), [""]);
        assert_eq!(broken("tip 80 mm, at 100 %, more", 18), ["tip 80 mm, at", "  100 %, more"]);
    }

    #[test]
    fn nothing_is_wider_than_the_room_and_no_word_is_lost() {
        let text = "a word abcdefghijklmnopqrstuvwxyz and then some more words to be broken, of different lengths";
        for width in 8..60 {
            let lines = broken(text, width);
            assert!(lines.iter().all(|l| l.chars().count() <= width), "{width}: {lines:?}");
            let kept: String = lines.concat().chars().filter(|c| *c != ' ').collect();
            assert_eq!(kept, text.replace(' ', ""), "{width}");
        }
    }
}
