//! Laying rectangles on a roll or on sheets: shelves by falling length, first fit. A plain rule that a person can follow with a
//! tape; a cleverer one lays closer, so what it asks for is on the safe side.

/// A rectangle as it lies: across the roll or sheet, and along it, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    pub across_m: f64,
    pub along_m: f64,
}

/// A shelf: as long as its first rectangle, filled across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shelf {
    pub along_m: f64,
    pub across_m: f64,
}

/// Rectangles by falling length, each on the first shelf that has room across, else on a new one.
///
/// The length taken is less than `2 A/W + h` and no more than 1.7 times the least possible and h, A the area laid, W the width, h the
/// longest rectangle. **Source:** E. G. Coffman, M. R. Garey, D. S. Johnson and R. E. Tarjan, *Performance bounds for level-oriented
/// two-dimensional packing algorithms*, SIAM Journal on Computing 9 (1980), from memory. **Valid for:** rectangles no wider than
/// the roll; wider ones are not laid and counted in the second of the answer.
pub fn shelves(items: &[Laid], width_m: f64) -> (Vec<Shelf>, usize) {
    const SLACK_M: f64 = 1e-9;
    let mut order: Vec<Laid> = items.iter().copied().filter(|i| i.across_m <= width_m + SLACK_M).collect();
    let left_out = items.len() - order.len();
    order.sort_by(|a, b| b.along_m.total_cmp(&a.along_m).then(b.across_m.total_cmp(&a.across_m)));
    let mut out: Vec<Shelf> = Vec::new();
    for i in order {
        match out.iter_mut().find(|s| s.across_m + i.across_m <= width_m + SLACK_M) {
            Some(s) => s.across_m += i.across_m,
            None => out.push(Shelf { along_m: i.along_m, across_m: i.across_m }),
        }
    }
    (out, left_out)
}

/// Length of roll for rectangles, m.
pub fn roll_m(items: &[Laid], width_m: f64) -> f64 {
    shelves(items, width_m).0.iter().map(|s| s.along_m).sum()
}

/// Number of sheets for rectangles: shelves across the sheet, then shelves by falling length into the first sheet that has
/// room for them.
///
/// First fit by falling size takes no more than 11/9 of the fewest sheets and 6/9 of one for the shelves it is given. **Source:** G. Dosa,
/// *The tight bound of first fit decreasing bin-packing algorithm*, 2007; the two steps together: F. R. K. Chung, M. R. Garey and
/// D. S. Johnson, *On packing two-dimensional bins*, SIAM Journal on Algebraic and Discrete Methods 3 (1982); both from memory.
/// **Valid for:** rectangles that a sheet holds; others are not laid.
pub fn sheets(items: &[Laid], [length_m, width_m]: [f64; 2]) -> u32 {
    const SLACK_M: f64 = 1e-9;
    let holds: Vec<Laid> = items.iter().copied().filter(|i| i.along_m <= length_m + SLACK_M).collect();
    let mut taken: Vec<f64> = Vec::new();
    for s in shelves(&holds, width_m).0 {
        match taken.iter_mut().find(|t| **t + s.along_m <= length_m + SLACK_M) {
            Some(t) => *t += s.along_m,
            None => taken.push(s.along_m),
        }
    }
    taken.len() as u32
}
