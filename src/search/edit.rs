//! A table under someone's hands: one strip changed, the new front at once. Only what changed is computed again.

use crate::problem::Problem;
use crate::search::front::Point;
use crate::search::table::{Strip, Table};
use crate::search::wing::{Scratch, Wing};

/// A table, its fronts, and arrays kept between edits.
#[derive(Debug)]
pub struct Live {
    table: Table,
    wing: Wing,
    dent_floor: u32,
    scratch: Scratch,
}

impl Live {
    /// Solve a table.
    pub fn new(table: Table, dent_floor: u32) -> Self {
        let wing = Wing::new(&table, dent_floor);
        Self { table, wing, dent_floor, scratch: Scratch::default() }
    }
    /// The table as it now is.
    pub const fn table(&self) -> &Table {
        &self.table
    }
    /// The fronts as they now are.
    pub const fn wing(&self) -> &Wing {
        &self.wing
    }
    /// The front as it now is.
    pub fn front(&self) -> &[Point] {
        self.wing.front()
    }
    /// Put another strip in the place of one. A strip that does not fit is refused and nothing changes.
    pub fn set_strip(&mut self, s: usize, strip: Strip) -> Result<(), Vec<Problem>> {
        let mut strips = self.table.strips().to_vec();
        let Some(place) = strips.get_mut(s) else {
            return Err(vec![Problem::input(format!("there is no strip {s}"), "strips are counted from 0")]);
        };
        if place.cells == strip.cells && *place == strip {
            return Ok(());
        }
        *place = strip;
        self.table = Table::new(strips)?;
        self.wing.set_strip(s, &self.table.strips()[s], &mut self.scratch);
        Ok(())
    }
    /// Put another whole table in its place; strips that are equal keep their fronts.
    pub fn set_table(&mut self, table: Table) {
        self.wing = self.wing.at_table(&self.table, &table);
        self.table = table;
    }
    /// Ask for another dent load; strips without a cell between the two keep their fronts.
    pub fn set_dent_floor(&mut self, dent_floor: u32) {
        self.wing = self.wing.at_floor(&self.table, dent_floor);
        self.dent_floor = dent_floor;
    }
    /// The dent load asked for.
    pub const fn dent_floor(&self) -> u32 {
        self.dent_floor
    }
}
