//! A sample in one line of words, as it is typed: `nose_carbon_pvc 400 cm2 34.5 g ball 10 mm 88 76 95`.

use crate::physics::samples::record::{Reached, Tool};
use crate::scenario::reader::nearest;
use crate::scenario::samples::{NewPress, NewSample};

/// How it is written, for a hint.
pub const HOW: &str = "400 cm2 34.5 g  ball 10 mm 88 76 95";

/// Words that may stand in a line beside its numbers.
fn words() -> impl Iterator<Item = &'static str> {
    let tools = Tool::ALL.into_iter().map(Tool::key);
    tools.chain(Reached::ALL.into_iter().map(Reached::key)).chain(["cm2", "g", "mm", "pieces", "finished"])
}

/// A number, with what stands right behind its digits.
fn number(word: &str) -> Result<Option<(f64, &str)>, String> {
    if !word.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) {
        return Ok(None);
    }
    let end = word.find(|c: char| c.is_alphabetic()).unwrap_or(word.len());
    let (digits, unit) = word.split_at(end);
    if digits.contains(',') {
        return Err(format!("`{digits}` can be read in two ways: a point in decimals, a space between loads"));
    }
    let number = digits.parse().ok().filter(|n: &f64| n.is_finite());
    number.map(|n| Some((n, unit))).ok_or_else(|| format!("`{word}` is not a number"))
}

/// Read a line: a construction, what was weighed, what was pressed; after `#` a remark. What to write otherwise.
pub fn read(line: &str) -> Result<NewSample, String> {
    fn once<T>(at: &mut Option<T>, v: T, what: &str) -> Result<(), String> {
        if at.replace(v).is_some() { Err(format!("{what} stands twice")) } else { Ok(()) }
    }
    let (line, note) = line.split_once('#').map_or((line, ""), |(line, note)| (line, note.trim()));
    let mut rest = line.split_whitespace().map(|w| w.trim_end_matches(',')).filter(|w| !w.is_empty()).peekable();
    let construction = rest.next().ok_or_else(|| format!("write the construction, then like {HOW}"))?;
    let note = (!note.is_empty()).then(|| note.to_owned());
    let mut out = NewSample { construction: construction.to_owned(), note, ..NewSample::default() };
    let mut press: Option<NewPress> = None;
    while let Some(word) = rest.next() {
        if let Some((n, unit)) = number(word)? {
            let units = ["cm2", "g", "mm", "N", "pieces", "piece"];
            let unit = if unit.is_empty() { rest.next_if(|w| units.contains(w)).unwrap_or("") } else { unit };
            match (unit, &mut press) {
                ("cm2", _) => once(&mut out.area_cm2, n, "an area in cm2")?,
                ("g", _) => once(&mut out.mass_g, n, "a mass in g")?,
                ("pieces" | "piece", _) if n.fract() == 0.0 && (1.0..=1000.0).contains(&n) => {
                    once(&mut out.pieces, n as u32, "a number of pieces")?;
                }
                ("pieces" | "piece", _) => return Err(format!("{n} pieces cannot be; 1 to 1000 are read")),
                ("mm", Some(p)) => once(&mut p.radius_mm, n, "a radius in mm")?,
                ("" | "N", Some(p)) if p.radius_mm.is_some() => p.loads_n.push(n),
                ("" | "N", Some(_)) => return Err(format!("the radius in mm stands before the load {n}")),
                ("mm" | "N", None) => return Err(format!("pad, ball or plunger stands before {n} {unit}")),
                ("", None) => {
                    return Err(format!("{n} needs its unit, cm2 or g; loads stand after pad, ball or plunger"));
                }
                _ => return Err(format!("`{unit}` is none of the units here: cm2, g, mm, N")),
            }
        } else if let Some(tool) = Tool::ALL.into_iter().find(|t| t.key() == word) {
            once(&mut press, NewPress { with: Some(tool.key().to_owned()), ..NewPress::default() }, "a tool")?;
        } else if let Some(to) = Reached::ALL.into_iter().find(|r| r.key() == word) {
            let p = press.as_mut().ok_or_else(|| format!("pad, ball or plunger stands before `{word}`"))?;
            once(&mut p.to, to.key().to_owned(), "mark or hole")?;
        } else if word == "finished" {
            out.finished = true;
        } else {
            return Err(format!(
                "`{word}` is not understood; the nearest word is `{}`",
                nearest(word, words()).unwrap_or("")
            ));
        }
    }
    out.presses.extend(press);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_read_whole() {
        let s = read("nose 400 cm2 34.5g 3 pieces finished ball 10 mm hole 88, 76 95N # second batch").unwrap();
        assert_eq!(
            (s.construction.as_str(), s.area_cm2, s.mass_g, s.pieces),
            ("nose", Some(400.0), Some(34.5), Some(3))
        );
        let p = &s.presses[0];
        assert_eq!((p.with.as_deref(), p.radius_mm, p.to.as_deref()), (Some("ball"), Some(10.0), Some("hole")));
        assert_eq!(
            (p.loads_n.as_slice(), s.finished, s.note.as_deref()),
            (&[88.0, 76.0, 95.0][..], true, Some("second batch"))
        );
    }

    #[test]
    fn what_could_be_read_in_two_ways_is_not() {
        for (line, said) in [
            ("", "construction"),
            ("nose 34,5 g", "two ways"),
            ("nose 400 34.5 g", "unit"),
            ("nose 400 cm2 410 cm2", "twice"),
            ("nose ball 88", "radius"),
            ("nose 10 mm", "before"),
            ("nose bal 10 mm 88", "ball"),
            ("nose 1.5 pieces", "1000"),
            ("nose 5 kg", "unit"),
            ("nose 5kg", "`kg`"),
            ("nose 1.2.3 g", "number"),
            ("nose mark", "before"),
        ] {
            let why = read(line).unwrap_err();
            assert!(why.contains(said), "{line}: {why}");
        }
    }
}
