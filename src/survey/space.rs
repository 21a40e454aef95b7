//! What varies: axes of dial values in declared order, and the numbering of the cells.

use crate::mix::Ask;
use crate::physics::design::Design;
use crate::problem::Problem;
use crate::scenario::dials::{Dial, Turn, What, dials};
use crate::scenario::in_file::is_in_file;

/// Most cells one run may have. Chosen by us: at a thousand designs a second this is over a day.
pub const MOST_CELLS: u64 = 200_000_000;

/// One thing that varies.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    pub dial: Dial,
    /// In the dial's shown unit; the index for a choice.
    pub values: Vec<f64>,
}

/// The grid of all axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Space {
    pub axes: Vec<Axis>,
    cells: u64,
}

impl Space {
    /// A grid of at least one axis and at most [`MOST_CELLS`] cells.
    pub fn new(axes: Vec<Axis>) -> Result<Self, Problem> {
        if axes.is_empty() {
            return Err(Problem::input(
                "nothing varies in this search",
                "say what with --vary KEY=FROM:TO:STEP or a [search] table",
            ));
        }
        for (i, a) in axes.iter().enumerate() {
            if axes[..i].iter().any(|b| b.dial.key == a.dial.key) {
                return Err(Problem::input(format!("`{}` is varied twice", a.dial.key), "name each dial once"));
            }
        }
        let cells =
            axes.iter().try_fold(1_u64, |n, a| n.checked_mul(a.values.len() as u64)).filter(|n| *n <= MOST_CELLS);
        match cells {
            Some(cells) if cells > 0 => Ok(Self { axes, cells }),
            Some(_) => {
                Err(Problem::input("an axis of this search has no value", "give at least one value for each dial"))
            }
            None => Err(Problem::input(
                format!("this search has more than {MOST_CELLS} designs"),
                "take wider steps, shorter ranges or fewer dials",
            )),
        }
    }

    /// What is searched inside each cell: nothing where an axis says itself which construction stands where; and caps stay
    /// where one says what they are made of.
    pub fn inside(&self, ask: &Ask) -> Option<Ask> {
        let any = |of: fn(What) -> bool| self.axes.iter().any(|a| of(a.dial.what));
        if any(|w| matches!(w, What::Boundary(..) | What::RunChoice(..))) {
            return None;
        }
        Some(Ask { caps_fixed: ask.caps_fixed || any(|w| matches!(w, What::CapKind(_))), ..ask.clone() })
    }

    /// Finer steps around some cells: each number axis at the values of those cells and half a step to each side; the
    /// other axes at the values of those cells. None when no axis gets finer.
    pub fn refined(&self, around: &[u64]) -> Option<Self> {
        let at: Vec<Vec<f64>> = around.iter().map(|c| self.values(*c)).collect();
        let mut finer = false;
        let axes = self.axes.iter().enumerate().map(|(i, axis)| {
            let mut values: Vec<f64> = at.iter().filter_map(|v| v.get(i).copied()).collect();
            let gap = |v: f64, way: f64| {
                let other = axis.values.iter().copied().filter(|x| (x - v) * way > 1e-9);
                other.map(|x| (x - v).abs()).min_by(f64::total_cmp).map(|g| v + way * g / 2.0)
            };
            if let Turn::Number { digits, .. } = axis.dial.turn {
                let k = 10_f64.powi(digits as i32);
                let beside: Vec<f64> = values.iter().flat_map(|v| [gap(*v, -1.0), gap(*v, 1.0)]).flatten().collect();
                values.extend(beside.into_iter().map(|v| (v * k).round() / k));
            }
            values.sort_by(f64::total_cmp);
            values.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
            finer |= values.iter().any(|v| !axis.values.iter().any(|x| (x - v).abs() < 1e-9));
            Axis { dial: axis.dial.clone(), values }
        });
        let axes: Vec<Axis> = axes.collect();
        if finer { Self::new(axes).ok() } else { None }
    }

    /// Number of cells.
    pub const fn cells(&self) -> u64 {
        self.cells
    }

    /// The value of each axis at a cell, the last axis turning fastest.
    pub fn values(&self, cell: u64) -> Vec<f64> {
        let mut rest = cell;
        let mut out = vec![0.0; self.axes.len()];
        for (slot, axis) in out.iter_mut().zip(&self.axes).rev() {
            let n = axis.values.len() as u64;
            *slot = axis.values[(rest % n) as usize];
            rest /= n;
        }
        out
    }

    /// The design of a cell.
    pub fn design(&self, base: &Design, cell: u64) -> Design {
        let mut design = base.clone();
        for (axis, value) in self.axes.iter().zip(self.values(cell)) {
            axis.dial.set(&mut design, value);
        }
        design
    }

    /// "Span 13.0 m, Ribs 12": what a cell is, in words.
    pub fn words(&self, base: &Design, cell: u64) -> String {
        let design = self.design(base, cell);
        let each: Vec<String> = self
            .axes
            .iter()
            .map(|a| format!("{} {} {}", a.dial.label, a.dial.shown(&design), a.dial.unit).trim_end().to_owned())
            .collect();
        each.join(", ")
    }
}

/// Read `KEY=FROM:TO:STEP` or `KEY=A,B,C` against the dials of a design.
pub fn read_axis(text: &str, design: &Design) -> Result<Axis, Problem> {
    let (key, spec) = text.split_once('=').ok_or_else(|| {
        Problem::input(format!("`{text}` does not say what to vary"), "write KEY=FROM:TO:STEP or KEY=A,B,C")
    })?;
    let dial = find_dial(key.trim(), design)?;
    let values = if spec.contains(':') { range(spec, &dial)? } else { listed(spec, &dial)? };
    Ok(Axis { dial, values })
}

/// The dial of that key, or the nearest name.
pub fn find_dial(key: &str, design: &Design) -> Result<Dial, Problem> {
    let all = dials(design);
    if let Some(d) = all.iter().find(|d| d.key == key) {
        return Ok(d.clone());
    }
    let nearest = all.iter().map(|d| d.key.as_str()).min_by_key(|k| distance(k, key)).unwrap_or("");
    // A slip of one letter is more likely a dial misspelt.
    if distance(nearest, key) > 2 && is_in_file(key) {
        return Err(Problem::input(format!("`{key}` is no dial"), "it stands in the file: edit it there"));
    }
    Err(Problem::input(format!("no dial is called `{key}`"), format!("the nearest is `{nearest}`")))
}

fn range(spec: &str, dial: &Dial) -> Result<Vec<f64>, Problem> {
    let parts: Vec<&str> = spec.split(':').collect();
    let [from, to, step] = parts.as_slice() else {
        return Err(Problem::input(format!("`{spec}` is not FROM:TO:STEP"), "give three numbers, like 12.5:14:0.25"));
    };
    let (from, to, step) = (number(from, dial)?, number(to, dial)?, number(step, dial)?);
    steps(from, to, step, dial)
}

/// From, to, step as a list of values, refused when absurd.
pub fn steps(from: f64, to: f64, step: f64, dial: &Dial) -> Result<Vec<f64>, Problem> {
    if step <= 0.0 || to < from {
        return Err(Problem::input(
            format!("the range of `{}` runs nowhere: {from} to {to} by {step}", dial.key),
            "the step must be above zero and the end not below the start",
        ));
    }
    let n = ((to - from) / step + 1e-9).floor() + 1.0;
    if n > MOST_CELLS as f64 {
        return Err(Problem::input(format!("the range of `{}` has {n:.0} steps", dial.key), "take a wider step"));
    }
    (0..n as u64).map(|i| in_range(step.mul_add(i as f64, from), dial)).collect()
}

fn listed(spec: &str, dial: &Dial) -> Result<Vec<f64>, Problem> {
    spec.split(',')
        .map(str::trim)
        .map(|word| match &dial.turn {
            Turn::Choice(choices) => choice(word, choices, dial),
            _ => number(word, dial).and_then(|v| in_range(v, dial)),
        })
        .collect()
}

/// The index of a named choice.
pub fn choice(word: &str, choices: &[String], dial: &Dial) -> Result<f64, Problem> {
    choices.iter().position(|c| c == word).map(|i| i as f64).ok_or_else(|| {
        let nearest = choices.iter().min_by_key(|c| distance(c, word)).map_or("", String::as_str);
        Problem::input(format!("`{}` cannot be `{word}`", dial.key), format!("the nearest choice is `{nearest}`"))
    })
}

fn number(word: &str, dial: &Dial) -> Result<f64, Problem> {
    word.trim().parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(|| {
        Problem::input(format!("`{word}` is not a number for `{}`", dial.key), "write digits, like 13.4")
    })
}

fn in_range(value: f64, dial: &Dial) -> Result<f64, Problem> {
    let (least, most) = match &dial.turn {
        Turn::Number { least, most, .. } => (*least, *most),
        Turn::Whole { least, most } => (*least as f64, *most as f64),
        Turn::Choice(list) => (0.0, list.len() as f64 - 1.0),
    };
    let slack = 1e-9 * (1.0 + most.abs());
    if value < least - slack || value > most + slack {
        return Err(Problem::input(
            format!("{value} is outside the range of `{}`", dial.key),
            format!("it runs from {least} to {most} {}", dial.unit),
        ));
    }
    Ok(value)
}

/// Edit distance between two words, for the nearest valid name.
pub fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let best = (corner + usize::from(ca != *cb)).min(row[j] + 1).min(row[j + 1] + 1);
            corner = row[j + 1];
            row[j + 1] = best;
        }
    }
    row[b.len()]
}
