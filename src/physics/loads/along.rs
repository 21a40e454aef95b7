//! Shear, bending and torsion of all cases in one place, row by row: what the loop of weight and loads goes over, pass after
//! pass, before the spar stands and [`Loads`](super::internal::Loads) are made of it.

use crate::physics::loads::internal::{CaseLoads, Loads};
use crate::physics::loads::series::Peak;

/// Loads of every case that is on, one row each: shear, then moment, then torque at every edge.
#[derive(Debug, Clone, Default)]
pub struct Along {
    edges: usize,
    rows: Vec<f64>,
    /// What supports between edges make, by row.
    peaks: Vec<(usize, Peak)>,
}

impl Along {
    /// The same of loads already made.
    /// Unchecked: no outside check runs it by itself.
    pub fn of(loads: &Loads) -> Self {
        let edges = loads.loads.iter().map(|l| l.shear_n().len()).max().unwrap_or(0);
        let mut rows = Vec::with_capacity(3 * loads.loads.len() * edges);
        for list in loads.loads.iter().flat_map(|l| [l.shear_n(), l.moment_nm(), l.torque_nm()]) {
            rows.extend_from_slice(list);
            // What a list does not reach is not loaded.
            rows.resize(rows.len() + edges - list.len(), 0.0);
        }
        let of_row = |(row, l): (usize, &CaseLoads)| l.peaks.iter().map(|p| (row, *p)).collect::<Vec<_>>();
        Self { edges, rows, peaks: loads.loads.iter().enumerate().flat_map(of_row).collect() }
    }

    /// Room for so many cases at so many edges.
    pub(super) fn lay(&mut self, cases: usize, edges: usize) {
        self.edges = edges;
        self.peaks.clear();
        self.rows.resize(3 * cases * edges, 0.0);
    }

    /// The row of each case.
    pub(super) fn rows_mut(&mut self) -> impl Iterator<Item = &mut [f64]> {
        self.rows_and_peaks().0
    }

    /// The row of each case, and where peaks are put under the number of their row.
    pub(super) fn rows_and_peaks(&mut self) -> (impl Iterator<Item = &mut [f64]>, &mut Vec<(usize, Peak)>) {
        (self.rows.chunks_exact_mut((3 * self.edges).max(1)), &mut self.peaks)
    }

    /// What supports between edges make, with the number of the row.
    /// Unchecked: no outside check runs it by itself.
    pub fn peaks(&self) -> &[(usize, Peak)] {
        &self.peaks
    }

    /// The same to be read.
    pub(super) fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.rows.chunks_exact((3 * self.edges).max(1))
    }

    /// Shear, N, moment, N m, and torque, N m, of each case at the edges.
    pub fn cases(&self) -> impl Iterator<Item = [&[f64]; 3]> {
        let n = self.edges;
        self.rows.chunks_exact((3 * n).max(1)).map(move |row| [&row[..n], &row[n..2 * n], &row[2 * n..]])
    }
}
