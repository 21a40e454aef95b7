//! Where a broken TOML text was opened and never closed: a parser sees that only lines later, and then trips over all that follows.

/// What was opened, where, and what closes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Unclosed {
    pub at: usize,
    pub opened: &'static str,
    pub closes: &'static str,
    /// Where it should have been closed by: a byte of the text, its end at the latest.
    pub by: usize,
}

/// What opens a value that goes on to the next line, and what closes it.
const PAIRS: [(&str, &str); 4] = [("[", "]"), ("{", "}"), ("\"\"\"", "\"\"\""), ("'''", "'''")];

fn opened(at: usize, by: usize, with: &str) -> Option<Unclosed> {
    let (opened, closes) = PAIRS.into_iter().find(|p| p.0 == with)?;
    Some(Unclosed { at, opened, closes, by })
}

/// A key as they are written here: bare, or dotted; what begins with a quote may as well be an element of a list.
fn is_key(word: &str) -> bool {
    let word = word.trim();
    word.starts_with(|c: char| c.is_ascii_alphabetic() || c == '_')
        && word.chars().all(|c| c.is_ascii_alphanumeric() || "_-. ".contains(c))
}

/// The head of a table: `[name]` or `[[name]]`, with nothing behind it but a remark; a list of one number is none.
fn is_head(line: &str) -> bool {
    let line = line.split('#').next().unwrap_or("").trim();
    let inner = line.strip_prefix('[').and_then(|l| l.strip_suffix(']'));
    let inner = inner.map(|l| l.strip_prefix('[').and_then(|l| l.strip_suffix(']')).unwrap_or(l));
    inner.is_some_and(is_key)
}

/// A line that gives a key a value.
fn gives(line: &str) -> bool {
    line.split_once('=').is_some_and(|(key, _)| is_key(key))
}

/// The first thing that is opened and not closed before the next table or key begins, or closed by another sign.
pub(super) fn find(text: &str) -> Option<Unclosed> {
    let bytes = text.as_bytes();
    let mut open: Vec<(usize, &'static str)> = Vec::new();
    let (mut at, mut begins) = (0, true);
    while at < bytes.len() {
        if begins && let Some((place, with)) = open.last().copied() {
            let line = text.get(at..)?.lines().next().unwrap_or("");
            if is_head(line) || (with == "[" && gives(line)) {
                return opened(place, at, with);
            }
        }
        begins = false;
        let rest = text.get(at..)?;
        match bytes[at] {
            b'\n' => begins = true,
            b'#' => {
                at += rest.find('\n').unwrap_or(rest.len());
                continue;
            }
            quote @ (b'"' | b'\'') => {
                at = match string(rest, quote) {
                    Ok(length) => at + length,
                    Err(with) => return opened(at, text.len(), with),
                };
                continue;
            }
            // At the beginning of a line with nothing open it is the head of a table.
            b'[' if open.is_empty() && heads(text, at) => {
                at += rest.find('\n').unwrap_or(rest.len());
                continue;
            }
            b'[' => open.push((at, "[")),
            b'{' => open.push((at, "{")),
            close @ (b']' | b'}') => match open.pop() {
                Some((place, with)) if (with == "[") != (close == b']') => return opened(place, at, with),
                _ => {}
            },
            _ => {}
        }
        // A sign of more than one byte is none of those above.
        at += rest.chars().next().map_or(1, char::len_utf8);
    }
    let (place, with) = open.first().copied()?;
    opened(place, text.len(), with)
}

/// Whether nothing but blanks stands before a place on its line.
fn heads(text: &str, at: usize) -> bool {
    text.get(..at).and_then(|t| t.rsplit('\n').next()).is_none_or(|line| line.trim().is_empty())
}

/// Length of a string with its quotes; one of a single line that is not closed ends with its line. Else what opened it.
fn string(rest: &str, quote: u8) -> Result<usize, &'static str> {
    let long = if quote == b'"' { "\"\"\"" } else { "'''" };
    let (many, escapes) = (rest.starts_with(long), quote == b'"');
    let mut skip = false;
    let first = if many { 3 } else { 1 };
    for (i, c) in rest.char_indices().skip(first) {
        if skip {
            skip = false;
        } else if escapes && c == '\\' {
            skip = true;
        } else if many && rest.get(i..).is_some_and(|r| r.starts_with(long)) {
            return Ok(i + 3);
        } else if !many && (c == char::from(quote) || c == '\n') {
            return Ok(i + usize::from(c != '\n'));
        }
    }
    if many { Err(long) } else { Ok(rest.len()) }
}

#[cfg(test)]
mod tests {
    use super::find;

    fn place(text: &str) -> Option<(usize, &'static str, usize)> {
        let line = |at: usize| text[..at].matches('\n').count() + 1;
        find(text).map(|u| (line(u.at), u.closes, line(u.by)))
    }

    #[test]
    fn what_is_closed_is_not_found_and_what_is_not_is_found_where_it_opens() {
        let sound = "a = [1, [2], {b = 3}] # [\n[t]\nx = \"[\"\ny = '{'\nz = \"\"\"\n[u]\n\\\"\"\"\" \n[[u.v]]\nw = [\n  [1.0],\n  2,\n]\n";
        assert_eq!(place(sound), None);
        assert_eq!(place("[t]\na = [1,\n  2\nb = 3\n"), Some((2, "]", 4)));
        assert_eq!(place("a = [{ x = 1 }, { x = 2\n\n[spar.cap] # c\n"), Some((1, "}", 3)));
        assert_eq!(place("a = { x = 1 ]\nb = 2\n"), Some((1, "}", 1)));
        assert_eq!(place("a = 1\nb = \"\"\"word\nc = 2\n"), Some((2, "\"\"\"", 4)));
        assert_eq!(place("a = \"no end\nb = [1]\n"), None);
        assert_eq!(place("a = [\n  \"b=c\",\n  [\"d\"],\n]\n"), None);
        assert_eq!(place("é = [\"µ\"\n"), Some((1, "]", 2)));
    }
}
