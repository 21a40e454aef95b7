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
const MOST_LENGTHS: u32 = 400;
const MOST_STRIPS: u32 = 30;

fn fits(from: Sheet, length_m: f64, width_m: f64, angle_rad: f64) -> bool {
    const SLACK_M: f64 = 1e-9;
    match from {
        Sheet::Roll(roll_m) => turned_m(length_m, width_m, angle_rad).0 <= roll_m + SLACK_M,
        Sheet::Flat([l, w]) => length_m <= l + SLACK_M && width_m <= w + SLACK_M,
        Sheet::Any => true,
    }
}

/// Cut an outline into the fewest rectangles that its roll or sheet holds, fewer strips side by side before fewer lengths where the
/// count is the same; None where no cut of it fits.
///
/// The whole is as long as its middle line and what its slanting ends add, `w tan/sqrt(1 + tan^2)`; it is divided evenly, each
/// length as wide as its widest place. **Derived**; that a blank is a rectangle is on the safe side: trapezes could lie closer.
/// Unchecked: no outside check runs it by itself.
pub fn blanks(outline: &Outline, c: &Cutting) -> Option<Vec<Blank>> {
    let first = outline.at.first()?.0;
    let along_m = outline.length_m();
    let widest_m = outline.widest_m(first, first + along_m);
    let sine = outline.slope.abs() / (1.0 + outline.slope * outline.slope).sqrt();
    let slant_m = widest_m * sine;
    let whole_m = along_m + slant_m + 2.0 * c.end_m;
    let each = |whole: f64, n: u32| (whole + f64::from(n - 1) * c.lap_m) / f64::from(n);
    let mut best: Option<(u32, u32)> = None;
    for strips in 1..=MOST_STRIPS {
        let width_m = each(widest_m + 2.0 * c.side_m, strips);
        let most = best.map_or(MOST_LENGTHS, |b| (b.0 * b.1 - 1) / strips);
        let found = (1..=most).find(|n| fits(c.from, each(whole_m, *n), width_m, c.angle_rad));
        if let Some(lengths) = found {
            best = Some((lengths, strips));
        }
    }
    let (lengths, strips) = best?;
    let (length_m, m) = (each(whole_m, lengths), f64::from(strips));
    let mut out = Vec::new();
    for i in 0..lengths {
        let (from, to) = (f64::from(i) / f64::from(lengths), f64::from(i + 1) / f64::from(lengths));
        let (from, to) = (first + along_m * from, first + along_m * to);
        // A slanting end, a trim and a lap reach past the even share.
        let past = slant_m + c.end_m + c.lap_m;
        let width_m = each(outline.widest_m(from - past, to + past) + 2.0 * c.side_m, strips);
        let lap_beside = if i > 0 { c.lap_m * outline.width_m(from) / m } else { 0.0 };
        for k in 0..strips {
            let lap_along = if k > 0 { c.lap_m * (to - from) } else { 0.0 };
            let pair = (outline.head_to_tail_m() + 4.0 * c.side_m, 0.0);
            let alone = lengths == 1 && strips == 1;
            let pair_m = if alone && pair.0 < 2.0 * width_m - 1e-9 {
                (pair.0, length_m + (pair.0 - width_m).max(0.0) * sine)
            } else {
                (0.0, 0.0)
            };
            out.push(Blank {
                length_m,
                width_m,
                net_m2: outline.area_m2(from, to) / m,
                join_m2: lap_beside + lap_along,
                pair_m,
                length_of: (i + 1, lengths),
                strip_of: (k + 1, strips),
            });
        }
    }
    Some(out)
}
