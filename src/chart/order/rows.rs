//! Rows in some order, their crossings, and what an exchange of neighbours gains.

use crate::chart::order::near::{End, Near, number};
use crate::chart::weave::Fabric;

#[derive(Clone)]
pub struct Rows<'a> {
    pub rows: Vec<Vec<u32>>,
    /// Where each cell stands in its row.
    pub places: Vec<u32>,
    pub near: &'a Near,
}

impl<'a> Rows<'a> {
    pub fn new(rows: Vec<Vec<u32>>, count: usize, near: &'a Near) -> Self {
        let mut sorted = Self { rows, places: vec![0; count], near };
        for row in 0..sorted.rows.len() {
            sorted.renumber(row);
        }
        sorted
    }

    pub fn of(fabric: &Fabric, near: &'a Near) -> Self {
        let rows = fabric.rows.iter().map(|row| row.iter().map(|cell| number(*cell)).collect()).collect();
        Self::new(rows, fabric.cells.len(), near)
    }

    pub fn put(&self, fabric: &mut Fabric) {
        for (row, sorted) in fabric.rows.iter_mut().zip(&self.rows) {
            *row = sorted.iter().map(|cell| *cell as usize).collect();
        }
    }

    pub fn renumber(&mut self, row: usize) {
        for (place, cell) in self.rows[row].iter().enumerate() {
            self.places[*cell as usize] = number(place);
        }
    }

    pub fn crossings(&self) -> u64 {
        let mut total = 0;
        let mut pairs = Vec::new();
        for row in &self.rows {
            pairs.clear();
            for cell in row {
                let cell = *cell as usize;
                let place = self.places[cell];
                pairs.extend(self.near.below(cell).iter().map(|end| (end.own(place) as usize, end.place(&self.places) as usize)));
            }
            if pairs.len() > 1 {
                total += super::count_crossings(&mut pairs);
            }
        }
        total
    }

    /// How many crossings fewer there are with `right` before `left`.
    pub fn gain(&self, left: u32, right: u32) -> i64 {
        let (left, right) = (left as usize, right as usize);
        self.gain_on(self.near.above(left), self.near.above(right)) + self.gain_on(self.near.below(left), self.near.below(right))
    }

    fn gain_on(&self, left: &[End], right: &[End]) -> i64 {
        let place = |end: &End| i64::from(end.place(&self.places));
        match (left, right) {
            ([], _) | (_, []) => 0,
            ([a], [b]) => (place(a) - place(b)).signum(),
            _ => left.iter().map(|a| right.iter().map(|b| (place(a) - place(b)).signum()).sum::<i64>()).sum(),
        }
    }

    /// Exchanges a cell with the one before it.
    pub fn swap(&mut self, row: usize, place: usize) {
        let row = &mut self.rows[row];
        row.swap(place - 1, place);
        self.places[row[place - 1] as usize] = number(place - 1);
        self.places[row[place] as usize] = number(place);
    }
}
