//! Columns of very large drawings: every block swings to the mean of what it is linked to, pushing what stands in its way, and then comes to
//! rest in the column of a neighbour wherever there is room, so that lines are straight. Each pass takes no longer than reading the drawing.

use crate::chart::blocks::Blocks;

const SWINGS: usize = 24;
const RESTS: usize = 8;

/// Betters columns that keep all distances; the distances are kept.
pub fn relax(blocks: &Blocks, columns: &mut Vec<i64>) {
    let relaxer = Relaxer::new(blocks);
    for _ in 0..SWINGS {
        *columns = relaxer.swing(columns);
    }
    for pass in 0..RESTS {
        relaxer.rest(columns, pass % 2 == 0);
    }
}

struct Relaxer {
    /// Blocks so that what stands further left comes first.
    order: Vec<usize>,
    /// Neighbours with the least distance.
    left: Vec<Vec<(usize, i64)>>,
    right: Vec<Vec<(usize, i64)>>,
    /// Linked blocks with weights.
    linked: Vec<Vec<(usize, i64)>>,
}

impl Relaxer {
    fn new(blocks: &Blocks) -> Self {
        let none = || vec![Vec::new(); blocks.count];
        let (mut left, mut right, mut linked) = (none(), none(), none());
        for &(a, b, gap) in &blocks.apart {
            right[a].push((b, gap));
            left[b].push((a, gap));
        }
        for &(a, b, weight) in &blocks.links {
            linked[a].push((b, weight));
            linked[b].push((a, weight));
        }
        let mut waiting: Vec<usize> = left.iter().map(Vec::len).collect();
        let mut order: Vec<usize> = (0..blocks.count).filter(|block| waiting[*block] == 0).collect();
        let mut done = 0;
        while let Some(&block) = order.get(done) {
            done += 1;
            for (other, _) in &right[block] {
                waiting[*other] -= 1;
                if waiting[*other] == 0 {
                    order.push(*other);
                }
            }
        }
        Self { order, left, right, linked }
    }

    /// The mean of two ways to give every block its wish: pushing others to the right, and pushing others to the left.
    fn swing(&self, columns: &[i64]) -> Vec<i64> {
        let mut rightmost: Vec<i64> = (0..columns.len()).map(|block| self.mean(block, columns)).collect();
        let mut leftmost = rightmost.clone();
        for &block in &self.order {
            let least = self.left[block].iter().map(|(other, gap)| rightmost[*other] + gap).max();
            rightmost[block] = rightmost[block].max(least.unwrap_or(i64::MIN));
        }
        for &block in self.order.iter().rev() {
            let most = self.right[block].iter().map(|(other, gap)| leftmost[*other] - gap).min();
            leftmost[block] = leftmost[block].min(most.unwrap_or(i64::MAX));
        }
        // Twice each column, so that halves lose no distance.
        rightmost.iter().zip(&leftmost).map(|(a, b)| (a + b).div_euclid(2)).collect()
    }

    fn mean(&self, block: usize, columns: &[i64]) -> i64 {
        let weights: i64 = self.linked[block].iter().map(|(_, weight)| weight).sum();
        let sum: i64 = self.linked[block].iter().map(|(other, weight)| weight * columns[*other]).sum();
        if weights == 0 { columns[block] } else { sum / weights }
    }

    /// Each block to the weighted median of what it is linked to, as far as there is room.
    fn rest(&self, columns: &mut [i64], from_left: bool) {
        for step in 0..self.order.len() {
            let block = self.order[if from_left { step } else { self.order.len() - 1 - step }];
            let Some(wish) = self.median(block, columns) else { continue };
            let least = self.left[block].iter().map(|(other, gap)| columns[*other] + gap).max().unwrap_or(i64::MIN);
            let most = self.right[block].iter().map(|(other, gap)| columns[*other] - gap).min().unwrap_or(i64::MAX);
            columns[block] = wish.clamp(least, most.max(least));
        }
    }

    fn median(&self, block: usize, columns: &[i64]) -> Option<i64> {
        let mut linked: Vec<(i64, i64)> = self.linked[block].iter().map(|(other, weight)| (columns[*other], *weight)).collect();
        linked.sort_unstable();
        let half: i64 = linked.iter().map(|(_, weight)| weight).sum::<i64>();
        let mut sum = 0;
        linked.into_iter().find_map(|(column, weight)| {
            sum += 2 * weight;
            (sum >= half).then_some(column)
        })
    }
}
