//! Partition refinement: which states of an automaton nobody can tell apart, and the shortest sequence that tells two apart.
//!
//! The plain rounds of Moore (1956): states begin in one class if they show the same, and each round parts those from which some way leads to
//! different classes. Two states that are first parted in round *k* are told apart by *k* ways and no fewer.

use std::collections::BTreeMap;

/// States by number. What is shown, and the names of ways, are numbers, too; a state has at most one way of each name.
#[derive(Clone, Debug, Default)]
pub struct Automaton {
    /// By state: what it shows.
    pub shows: Vec<usize>,
    /// By state: name of the way, and where it leads. Ways that stand first are preferred where several tell two states apart.
    pub ways: Vec<Vec<(usize, usize)>>,
}

/// The classes of all states, round by round, until nothing parts any more.
pub struct Rounds {
    classes: Vec<Vec<usize>>,
}

/// What tells two states apart: the ways taken, and the states they led to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parting {
    /// Name of each way taken, and the two states it was taken from.
    pub ways: Vec<(usize, usize, usize)>,
    /// The two states in the end; one of them `None` if it was missing the last way.
    pub ends: (Option<usize>, Option<usize>),
}

pub fn refine(automaton: &Automaton) -> Rounds {
    let mut classes = vec![numbered(automaton.shows.iter().map(|shown| vec![*shown]))];
    loop {
        let last = classes.last().cloned().unwrap_or_default();
        let signature = |state: usize| {
            let mut ways: Vec<(usize, usize)> = automaton.ways[state].iter().map(|(name, to)| (*name, last[*to])).collect();
            ways.sort_unstable();
            std::iter::once(last[state]).chain(ways.into_iter().flat_map(|(name, to)| [name, to])).collect::<Vec<usize>>()
        };
        let next = numbered((0..automaton.ways.len()).map(signature));
        // Classes are only ever parted: as many as before means the same ones.
        if count(&next) == count(&last) {
            return Rounds { classes };
        }
        classes.push(next);
    }
}

fn count(classes: &[usize]) -> usize {
    classes.iter().max().map_or(0, |most| most + 1)
}

/// Numbers for equal signatures, in the order of their first appearance.
fn numbered(signatures: impl Iterator<Item = Vec<usize>>) -> Vec<usize> {
    let mut known: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
    let mut numbers = Vec::new();
    for signature in signatures {
        let next = known.len();
        numbers.push(*known.entry(signature).or_insert(next));
    }
    numbers
}

impl Rounds {
    /// The class of each state once nothing parts any more.
    pub fn classes(&self) -> &[usize] {
        self.classes.last().map_or(&[], Vec::as_slice)
    }

    fn parted(&self, left: usize, right: usize) -> Option<usize> {
        self.classes.iter().position(|round| round[left] != round[right])
    }

    /// The shortest sequence of ways that tells two states apart; `None` if there is none.
    pub fn apart(&self, automaton: &Automaton, left: usize, right: usize) -> Option<Parting> {
        let mut round = self.parted(left, right)?;
        let (mut left, mut right) = (left, right);
        let mut ways = Vec::new();
        while round > 0 {
            let leads = |state: usize, name: usize| automaton.ways[state].iter().find(|(it, _)| *it == name).map(|(_, to)| *to);
            let names = automaton.ways[left].iter().chain(&automaton.ways[right]).map(|(name, _)| *name);
            let telling = names.map(|name| (name, leads(left, name), leads(right, name))).find(|(_, a, b)| match (a, b) {
                (Some(a), Some(b)) => self.classes[round - 1][*a] != self.classes[round - 1][*b],
                _ => true,
            });
            let (name, a, b) = telling?;
            ways.push((name, left, right));
            let (Some(a), Some(b)) = (a, b) else { return Some(Parting { ways, ends: (a, b) }) };
            (left, right) = (a, b);
            round = self.parted(left, right)?;
        }
        Some(Parting { ways, ends: (Some(left), Some(right)) })
    }
}
