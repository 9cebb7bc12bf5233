//! Network simplex on ranks (Gansner, Koutsofios, North, Vo 1993): whole numbers for nodes so that every arc is at least `min` long and
//! the weighted sum of lengths is least.

mod tree;

use tree::Tree;

/// `rank(head) - rank(tail) >= min`, each unit of length costs `weight`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Arc {
    pub tail: usize,
    pub head: usize,
    pub weight: i64,
    pub min: i64,
}

/// Ranks for a connected graph without cycles, the lowest of them 0. `first`, if given, must keep every `min`; it is a place to begin.
/// After `work` nodes visited it stops with what it has, which keeps every `min` too.
pub fn ranks(count: usize, arcs: &[Arc], first: Option<Vec<i64>>, work: usize) -> Vec<i64> {
    if count == 0 {
        return Vec::new();
    }
    let rank = first.unwrap_or_else(|| longest_paths(count, arcs));
    let mut tree = Tree::new(arcs, rank);
    if tree.grow() {
        let (mut from, mut idle) = (0, 0);
        while tree.work < work
            && let Some(leaving) = tree.leaving(&mut from)
        {
            let Some(slack) = tree.exchange(leaving) else { break };
            // Exchanges that move nothing can go round in a circle.
            idle = if slack == 0 { idle + 1 } else { 0 };
            if idle > 200 + count {
                break;
            }
        }
    }
    let lowest = tree.rank.iter().min().copied().unwrap_or(0);
    tree.rank.iter().map(|rank| rank - lowest).collect()
}

fn longest_paths(count: usize, arcs: &[Arc]) -> Vec<i64> {
    let mut out = vec![Vec::new(); count];
    let mut waiting = vec![0usize; count];
    for arc in arcs {
        out[arc.tail].push((arc.head, arc.min));
        waiting[arc.head] += 1;
    }
    let mut rank = vec![0; count];
    let mut queue: Vec<usize> = (0..count).filter(|node| waiting[*node] == 0).collect();
    let mut done = 0;
    while let Some(&node) = queue.get(done) {
        done += 1;
        for &(head, min) in &out[node] {
            rank[head] = rank[head].max(rank[node] + min);
            waiting[head] -= 1;
            if waiting[head] == 0 {
                queue.push(head);
            }
        }
    }
    rank
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(arcs: &[Arc], ranks: &[i64]) -> i64 {
        arcs.iter().map(|arc| arc.weight * (ranks[arc.head] - ranks[arc.tail])).sum()
    }

    /// The example of Gansner and others 1993; its optimum of 10 was confirmed by linear programming.
    #[test]
    fn the_published_example_reaches_its_optimum() {
        let pairs = ["ab", "bc", "cd", "dh", "ae", "af", "eg", "fg", "gh"];
        let node = |letter: u8| usize::from(letter - b'a');
        let arcs: Vec<Arc> =
            pairs.iter().map(|pair| Arc { tail: node(pair.as_bytes()[0]), head: node(pair.as_bytes()[1]), weight: 1, min: 1 }).collect();
        let ranks = ranks(8, &arcs, None, 10_000);
        assert_eq!(length(&arcs, &ranks), 10);
        assert!(arcs.iter().all(|arc| ranks[arc.head] - ranks[arc.tail] >= 1));
    }

    /// Duality says when ranks are best: no set of nodes may move one up or down at a gain. Tried here on all sets of small graphs.
    #[test]
    fn no_set_of_nodes_can_move_at_a_gain() {
        let mut state = 7u64;
        let mut next = |below: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % below
        };
        for _ in 0..300 {
            let count = 3 + usize::try_from(next(7)).expect("small");
            let mut arcs: Vec<Arc> =
                (1..count).map(|head| Arc { tail: usize::try_from(next(head as u64)).expect("small"), head, weight: 0, min: 0 }).collect();
            for _ in 0..2 * count {
                let (a, b) = (usize::try_from(next(count as u64)).expect("small"), usize::try_from(next(count as u64)).expect("small"));
                if a != b {
                    let (weight, min) = (i64::try_from(next(5)).expect("small"), i64::try_from(next(3)).expect("small"));
                    arcs.push(Arc { tail: a.min(b), head: a.max(b), weight, min });
                }
            }
            let ranks = ranks(count, &arcs, None, 100_000);
            let best = length(&arcs, &ranks);
            for set in 0..1u32 << count {
                for by in [-1, 1] {
                    let moved: Vec<i64> = (0..count).map(|node| ranks[node] + if set >> node & 1 == 1 { by } else { 0 }).collect();
                    let kept = arcs.iter().all(|arc| moved[arc.head] - moved[arc.tail] >= arc.min);
                    assert!(!kept || length(&arcs, &moved) >= best, "{arcs:?} {ranks:?} {moved:?}");
                }
            }
        }
    }
}
