//! Fronts of all strips and of the wing they make, with every step of the sum kept for tracing.

use crate::search::chain::{Chain, Uses};
use crate::search::front::{Front, Point};
use crate::search::table::{Strip, Table};
use crate::search::{merge, sparse, strip, trace};

/// A strip and its front.
#[derive(Debug, Clone)]
struct Piece {
    chain: Chain,
    front: Front,
}

impl Piece {
    fn new(strip: &Strip, dent_floor: u32, scratch: &mut strip::Scratch) -> Self {
        let chain = Chain::new(strip, dent_floor, Uses::default());
        let front = strip::front(&chain, scratch);
        Self { chain, front }
    }
}

/// The exact front of a whole wing. Changing one strip costs that strip's pass and the sums.
#[derive(Debug, Clone)]
pub struct Wing {
    dent_floor: u32,
    pieces: Vec<Piece>,
    /// Strips in the order they are added, smallest front first.
    order: Vec<usize>,
    /// Front of the first strips of `order`.
    sums: Vec<Front>,
}

impl Wing {
    /// Solve every strip and add the fronts. Cells below the dent floor do not take part.
    pub fn new(table: &Table, dent_floor: u32) -> Self {
        let mut scratch = strip::Scratch::default();
        let pieces = table.strips().iter().map(|s| Piece::new(s, dent_floor, &mut scratch)).collect();
        let mut wing = Self { dent_floor, pieces, order: Vec::new(), sums: Vec::new() };
        wing.add();
        wing
    }

    fn add(&mut self) {
        let mut order: Vec<usize> = (0..self.pieces.len()).collect();
        order.sort_by_key(|&s| (self.pieces[s].front.len(), s));
        self.sums.clear();
        let mut sum = vec![Point { mass: 0, repair: 0 }];
        for &s in &order {
            sum = merge::add(&sum, &self.pieces[s].front);
            self.sums.push(sum.clone());
        }
        self.order = order;
    }

    /// The front: repair rises, mass falls; empty when some strip has no design.
    pub fn front(&self) -> &[Point] {
        self.sums.last().map_or(&[], Vec::as_slice)
    }

    /// The same front by lists of labels instead of arrays over the ticks: slower, kept to be compared with.
    pub fn front_by_labels(table: &Table, dent_floor: u32) -> Front {
        let fronts = table.strips().iter().map(|s| sparse::front(&Chain::new(s, dent_floor, Uses::default())));
        fronts.fold(vec![Point { mass: 0, repair: 0 }], |sum, f| merge::add(&sum, &f))
    }

    /// The front of one strip alone.
    pub fn strip_front(&self, s: usize) -> &[Point] {
        self.pieces.get(s).map_or(&[], |p| p.front.as_slice())
    }

    /// Strips with no design at all.
    pub fn blocked(&self) -> Vec<usize> {
        (0..self.pieces.len()).filter(|&s| self.pieces[s].front.is_empty()).collect()
    }

    /// The dent floor it was solved at.
    pub const fn dent_floor(&self) -> u32 {
        self.dent_floor
    }

    /// A design of one strip that adds up to a point of that strip's front.
    pub fn strip_design(&self, s: usize, point: Point) -> Option<Vec<usize>> {
        let piece = self.pieces.get(s)?;
        trace::strip(&piece.chain, &piece.front, point)
    }

    /// What each strip gives to a point of the front.
    pub fn shares(&self, point: Point) -> Option<Vec<Point>> {
        let mut shares = vec![point; self.pieces.len()];
        let mut left = point;
        for (i, &s) in self.order.iter().enumerate().rev() {
            let own = &self.pieces[s].front;
            let share = if i == 0 {
                own.iter().find(|p| **p == left).copied()?
            } else {
                let before = &self.sums[i - 1];
                *own.iter().find(|p| {
                    let rest = left.repair.checked_sub(p.repair).zip(left.mass.checked_sub(p.mass));
                    rest.is_some_and(|(repair, mass)| {
                        before.binary_search_by_key(&repair, |q| q.repair).is_ok_and(|x| before[x].mass == mass)
                    })
                })?
            };
            shares[s] = share;
            left = Point { mass: left.mass - share.mass, repair: left.repair - share.repair };
        }
        Some(shares)
    }

    /// A design, construction by bay by strip, that adds up to a point of the front; none for any other point.
    pub fn design(&self, point: Point) -> Option<Vec<Vec<usize>>> {
        let shares = self.shares(point)?;
        shares.into_iter().enumerate().map(|(s, share)| self.strip_design(s, share)).collect()
    }

    /// The same table at another dent floor. Strips without a cell between the two floors keep their fronts.
    #[must_use]
    pub fn at_floor(&self, table: &Table, dent_floor: u32) -> Self {
        let between = self.dent_floor.min(dent_floor)..self.dent_floor.max(dent_floor);
        let same = |s: &Strip| !s.cells.iter().flatten().any(|c| between.contains(&c.dent));
        self.renewed(table, dent_floor, |i| same(&table.strips()[i]))
    }

    /// Another table in the place of one. Strips that are equal keep their fronts.
    #[must_use]
    pub fn at_table(&self, old: &Table, new: &Table) -> Self {
        self.renewed(new, self.dent_floor, |i| old.strips().get(i) == new.strips().get(i))
    }

    fn renewed(&self, table: &Table, dent_floor: u32, same: impl Fn(usize) -> bool) -> Self {
        let mut scratch = strip::Scratch::default();
        let piece = |(i, s): (usize, &Strip)| match self.pieces.get(i) {
            Some(p) if same(i) => p.clone(),
            _ => Piece::new(s, dent_floor, &mut scratch),
        };
        let pieces = table.strips().iter().enumerate().map(piece).collect();
        let mut wing = Self { dent_floor, pieces, order: Vec::new(), sums: Vec::new() };
        wing.add();
        wing
    }

    /// Put another strip in the place of one: its pass alone is run again, then the sums.
    pub fn set_strip(&mut self, s: usize, strip: &Strip, scratch: &mut Scratch) {
        if let Some(piece) = self.pieces.get_mut(s) {
            *piece = Piece::new(strip, self.dent_floor, &mut scratch.0);
            self.add();
        }
    }
}

/// Arrays kept between edits.
#[derive(Debug, Default)]
pub struct Scratch(strip::Scratch);
