//! The flat shape of a part along its own middle line, and how it is cut in blanks that a roll or a sheet holds.

/// A strip: its width at places along its length. Widths go straight from place to place.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outline {
    /// Place along the strip and width there, m; places ascend.
    pub at: Vec<(f64, f64)>,
    /// Slope of the middle line against the square across the ends: the tangent of its sweep.
    pub slope: f64,
}

impl Outline {
    /// A rectangle.
    pub fn rectangle(length_m: f64, width_m: f64) -> Self {
        Self { at: vec![(0.0, width_m), (length_m, width_m)], slope: 0.0 }
    }

    /// A strip whose lengths and widths were measured across and along the flight path while its middle line slopes:
    /// longer by 1/cos of the slope, narrower by cos, so that the area stays.
    pub fn swept(mut at: Vec<(f64, f64)>, slope: f64) -> Self {
        let longer = (1.0 + slope * slope).sqrt();
        at.iter_mut().for_each(|p| *p = (p.0 * longer, p.1 / longer));
        Self { at, slope }
    }

    /// Length of the middle line, m.
    pub fn length_m(&self) -> f64 {
        match (self.at.first(), self.at.last()) {
            (Some(a), Some(b)) => b.0 - a.0,
            _ => 0.0,
        }
    }

    /// Width at a place, m; at the nearer end beyond the ends.
    pub fn width_m(&self, s: f64) -> f64 {
        let i = self.at.partition_point(|p| p.0 <= s);
        match (i.checked_sub(1).and_then(|j| self.at.get(j)), self.at.get(i)) {
            (Some(a), Some(b)) if b.0 > a.0 => a.1 + (s - a.0) / (b.0 - a.0) * (b.1 - a.1),
            (Some(a), _) => a.1,
            (None, Some(b)) => b.1,
            (None, None) => 0.0,
        }
    }

    /// Greatest width between two places, m.
    pub fn widest_m(&self, from: f64, to: f64) -> f64 {
        let inside = self.at.iter().filter(|p| p.0 > from && p.0 < to).map(|p| p.1);
        inside.fold(self.width_m(from).max(self.width_m(to)), f64::max)
    }

    /// Area between two places, m2.
    pub fn area_m2(&self, from: f64, to: f64) -> f64 {
        let mut places = vec![from];
        places.extend(self.at.iter().map(|p| p.0).filter(|s| *s > from && *s < to));
        places.push(to);
        places.windows(2).map(|p| (p[1] - p[0]) * f64::midpoint(self.width_m(p[0]), self.width_m(p[1]))).sum()
    }

    /// The strip with its mirror image before it: what runs through the middle of the wing.
    #[must_use]
    pub fn through(&self) -> Self {
        let length = self.length_m();
        let first = self.at.first().map_or(0.0, |p| p.0);
        let mut at: Vec<(f64, f64)> = self.at.iter().rev().map(|p| (length - (p.0 - first), p.1)).collect();
        at.extend(self.at.iter().map(|p| (length + p.0 - first, p.1)));
        at.dedup_by(|b, a| (a.0 - b.0).abs() < 1e-12);
        Self { at, slope: self.slope }
    }

    /// Longer at its two ends, as wide there as it ends, m.
    #[must_use]
    pub fn longer(&self, at_first_m: f64, at_last_m: f64) -> Self {
        let mut out = self.clone();
        if let (Some(a), true) = (self.at.first(), at_first_m > 0.0) {
            out.at.insert(0, (a.0 - at_first_m, a.1));
        }
        if let (Some(b), true) = (self.at.last(), at_last_m > 0.0) {
            out.at.push((b.0 + at_last_m, b.1));
        }
        out
    }

    /// Widest place of two of it laid head to tail, m.
    pub fn head_to_tail_m(&self) -> f64 {
        let first = self.at.first().map_or(0.0, |p| p.0);
        let end = first + self.length_m();
        self.at.iter().map(|p| p.1 + self.width_m(first + end - p.0)).fold(0.0, f64::max)
    }
}

/// What a blank is cut from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sheet {
    /// A roll of this width, m, as long as it needs to be.
    Roll(f64),
    /// Length and width, m; the long way of a blank lies along the length.
    Flat([f64; 2]),
    /// Any length and width, like a strip sold by the metre.
    Any,
}

/// How an outline is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutting {
    pub from: Sheet,
    /// Angle of the roll to the middle line, rad.
    pub angle_rad: f64,
    /// Left for trimming at each end and on each side, m.
    pub end_m: f64,
    pub side_m: f64,
    /// Lap between lengths of one ply, m; none between cores.
    pub lap_m: f64,
}

/// One rectangle to cut.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Blank {
    pub length_m: f64,
    pub width_m: f64,
    /// As wide as it is at its narrower end, m.
    pub narrow_m: f64,
    /// Part of the outline inside it, m2; its laps on the blanks beside it, m2, each counted once.
    pub net_m2: f64,
    pub join_m2: f64,
    /// Width and length of two of them head to tail, m; width 0 where that saves nothing.
    pub pair_m: (f64, f64),
    /// Which of how many lengths, and which of how many strips side by side; from 1.
    pub length_of: (u32, u32),
    pub strip_of: (u32, u32),
}

/// What a rectangle takes of a roll that lies at an angle to its long way: `a |sin| + b |cos|` across the roll and
/// `a |cos| + b |sin|` along it, m.
///
/// a its length, b its width, m; the angle from its length to the roll, rad. **Source:** the box round a turned rectangle, plane geometry.
pub fn turned_m(length_m: f64, width_m: f64, angle_rad: f64) -> (f64, f64) {
    let (s, c) = (angle_rad.sin().abs(), angle_rad.cos().abs());
    (length_m * s + width_m * c, length_m * c + width_m * s)
}

/// How far along the roll the next of a row of such rectangles lies, m: `min(b/|sin|, a/|cos|)`.
///
/// **Derived:** moved by t along the roll a rectangle moves by t |sin| across its length and t |cos| along it, and is free of the
/// one before when either is its width or its length. **Source** of the case of strips on the bias: the area of cloth is kept, so
/// a row of them takes no less than their area over the width they reach across.
pub fn step_m(length_m: f64, width_m: f64, angle_rad: f64) -> f64 {
    let (s, c) = (angle_rad.sin().abs(), angle_rad.cos().abs());
    let by = |d: f64, k: f64| if k > 1e-9 { d / k } else { f64::INFINITY };
    by(width_m, s).min(by(length_m, c))
}

/// Most lengths, and most strips side by side, that an outline is cut into.
const MOST_LENGTHS: usize = 400;
const MOST_STRIPS: u32 = 30;
/// A last length shorter than this share of the one before is evened out with it, so that no sliver is left.
const SLIVER: f64 = 0.25;

fn fits(from: Sheet, length_m: f64, width_m: f64, angle_rad: f64) -> bool {
    const SLACK_M: f64 = 1e-9;
    match from {
        Sheet::Roll(roll_m) => turned_m(length_m, width_m, angle_rad).0 <= roll_m + SLACK_M,
        Sheet::Flat([l, w]) => length_m <= l + SLACK_M && width_m <= w + SLACK_M,
        Sheet::Any => true,
    }
}

/// An outline being cut in lengths, `strips` side by side.
struct Lengths<'a> {
    outline: &'a Outline,
    cutting: &'a Cutting,
    strips: u32,
    /// Where the outline begins on the blank, and the whole with its trims and slanting ends, m.
    before_m: f64,
    whole_m: f64,
    /// A slanting end reaches past its place by this, m.
    slant_m: f64,
}

impl Lengths<'_> {
    /// Width of a blank from one place to another of the whole, m.
    fn width_m(&self, from: f64, to: f64) -> f64 {
        let [begins, ends] = self.places(from, to);
        self.of_strip_m(self.outline.widest_m(begins - self.slant_m, ends + self.slant_m))
    }

    /// Width at the narrower end of it, m.
    fn narrow_m(&self, from: f64, to: f64) -> f64 {
        let [begins, ends] = self.places(from, to).map(|s| self.outline.width_m(s));
        self.of_strip_m(begins.min(ends))
    }

    /// Places of the outline.
    fn places(&self, from: f64, to: f64) -> [f64; 2] {
        let first = self.outline.at.first().map_or(0.0, |p| p.0);
        [from, to].map(|s| first + s - self.before_m)
    }

    /// One of the strips side by side, with trims and laps, m.
    fn of_strip_m(&self, width_m: f64) -> f64 {
        let n = f64::from(self.strips);
        (width_m + 2.0 * self.cutting.side_m + (n - 1.0) * self.cutting.lap_m) / n
    }

    fn holds(&self, from: f64, to: f64) -> bool {
        fits(self.cutting.from, to - from, self.width_m(from, to), self.cutting.angle_rad)
    }

    /// From and to of each length, as long as the roll or sheet holds it; None where none of it fits.
    fn all(&self) -> Option<Vec<(f64, f64)>> {
        let lap_m = self.cutting.lap_m;
        let (mut out, mut from): (Vec<(f64, f64)>, f64) = (Vec::new(), 0.0);
        while out.len() < MOST_LENGTHS {
            if self.holds(from, self.whole_m) {
                out.push((from, self.whole_m));
                return Some(self.evened(out));
            }
            // A longer length is never narrower, so what fits is found by halving.
            let (mut short, mut long) = (from, self.whole_m);
            for _ in 0..50 {
                let middle = f64::midpoint(short, long);
                if self.holds(from, middle) { short = middle } else { long = middle }
            }
            if short - from <= 2.0 * lap_m + 1e-6 {
                return None;
            }
            out.push((from, short));
            from = short - lap_m;
        }
        None
    }

    /// The last two of one length where the last would be a sliver, and where both fit: a part may widen towards its end.
    fn evened(&self, mut all: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
        if let [.., before, last] = all.as_mut_slice()
            && last.1 - last.0 < SLIVER * (before.1 - before.0)
        {
            let middle = f64::midpoint(before.0, last.1);
            let (end, begin) = (middle + 0.5 * self.cutting.lap_m, middle - 0.5 * self.cutting.lap_m);
            if self.holds(before.0, end) && self.holds(begin, last.1) {
                (before.1, last.0) = (end, begin);
            }
        }
        all
    }
}

/// Cut an outline into rectangles that its roll or sheet holds: the fewest, and of those the fewest strips side by side; each length as
/// long as the roll or sheet lets it, the last what is left. None where no cut of it fits.
///
/// The whole is as long as its middle line and what its slanting ends add, `w tan/sqrt(1 + tan^2)`; each length is as wide as its
/// widest place. **Derived**; that a blank is a rectangle is on the safe side: trapezes could lie closer.
pub fn blanks(outline: &Outline, c: &Cutting) -> Option<Vec<Blank>> {
    let first = outline.at.first()?.0;
    let along_m = outline.length_m();
    let sine = outline.slope.abs() / (1.0 + outline.slope * outline.slope).sqrt();
    let slant_m = outline.widest_m(first, first + along_m) * sine;
    let lengths = |strips: u32| Lengths {
        outline,
        cutting: c,
        strips,
        before_m: c.end_m + 0.5 * slant_m,
        whole_m: along_m + slant_m + 2.0 * c.end_m,
        slant_m,
    };
    let mut best: Option<(u32, Vec<(f64, f64)>)> = None;
    for strips in 1..=MOST_STRIPS {
        let count = |n: u32, all: &[(f64, f64)]| n as usize * all.len();
        if best.as_ref().is_some_and(|b| count(b.0, &b.1) <= strips as usize) {
            break;
        }
        if let Some(all) = lengths(strips).all()
            && best.as_ref().is_none_or(|b| count(strips, &all) < count(b.0, &b.1))
        {
            best = Some((strips, all));
        }
    }
    let (strips, all) = best?;
    let (cut, m, n) = (lengths(strips), f64::from(strips), all.len());
    let mut out = Vec::new();
    for (i, (from, to)) in all.iter().copied().enumerate() {
        let place = |s: f64| (first + s - cut.before_m).clamp(first, first + along_m);
        // A length ends where the next begins: its lap on that is a join.
        let begins = if i == 0 { first } else { place(from) };
        let ends = all.get(i + 1).map_or(first + along_m, |next| place(next.0));
        let (length_m, width_m) = (to - from, cut.width_m(from, to));
        let lap_beside = if i > 0 { c.lap_m * outline.width_m(begins) / m } else { 0.0 };
        let pair_m = outline.head_to_tail_m() + 4.0 * c.side_m;
        let pair = n == 1 && strips == 1 && pair_m < 2.0 * width_m - 1e-9;
        for k in 0..strips {
            out.push(Blank {
                length_m,
                width_m,
                narrow_m: cut.narrow_m(from, to),
                net_m2: outline.area_m2(begins, ends) / m,
                join_m2: lap_beside + if k > 0 { c.lap_m * (ends - begins) } else { 0.0 },
                pair_m: if pair { (pair_m, length_m + (pair_m - width_m).max(0.0) * sine) } else { (0.0, 0.0) },
                length_of: (i as u32 + 1, n as u32),
                strip_of: (k + 1, strips),
            });
        }
    }
    Some(out)
}
