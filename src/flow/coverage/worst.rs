//! For each exposure a shortest way on which its caution is as old as can be, and where that way showed it last.

use std::collections::BTreeMap;

use crate::finding::{WayKind, Witness};
use crate::flow::carry::Fault;
use crate::flow::coverage::Cover;
use crate::flow::must::Program;
use crate::flow::proof;
use crate::flow::witness::{self, Goal, Hop, LeftOut};
use crate::text::id::Id;

/// A way that is looked for.
pub struct Wanted {
    /// What is looked for, best first: the second only if no way does the first.
    pub goals: Vec<Goal>,
    /// Searches for one hazard can be made together.
    pub hazard: Option<usize>,
}

impl Wanted {
    /// A way to an exposure covered like this.
    pub fn new(program: &Program<'_>, node: usize, hazard: usize, cover: &Cover) -> Self {
        let goals = match *cover {
            Cover::Here => return Self { goals: vec![Goal::Step(node)], hazard: None },
            Cover::Missing => vec![Goal::Fault(node, Fault::CautionMissing(hazard))],
            Cover::OutOfDate { .. } => vec![Goal::Fault(node, Fault::CautionOutOfDate(hazard))],
            Cover::Before { steps, seconds, .. } => {
                let facts = &program.facts;
                let product = |one: u32, other: u32| u64::from(one) * u64::from(other);
                let by_time = product(seconds, facts.steps) > product(steps, facts.seconds);
                let age = |steps, seconds| Goal::Age { node, hazard, steps, seconds };
                let nearer = if by_time { age(None, Some(seconds)) } else { age(Some(steps), None) };
                vec![age(Some(steps), Some(seconds)), nearer]
            }
        };
        Self { goals, hazard: Some(hazard) }
    }
}

/// A way that was found, on one of the groups of models.
pub struct Found<'p, 'l> {
    pub program: &'p Program<'l>,
    pub path: Vec<Hop>,
}

impl Found<'_, '_> {
    pub fn witness(&self) -> Witness {
        proof::entries(self.program, &self.path)
    }

    /// Where the way showed the caution last before its last step.
    pub fn shown_at(&self, hazard: usize) -> Option<(Id, Id)> {
        let (_, before) = self.path.split_last()?;
        let shows = |hop: &&Hop| {
            let node = &self.program.net(hop.procedure).nodes[hop.node];
            let way = hop.way.and_then(|way| node.ways.get(way)).map(|way| way.kind);
            node.cautions.contains(&hazard) && !matches!(way, Some(WayKind::Otherwise | WayKind::Model))
        };
        let hop = before.iter().rev().find(shows)?;
        let net = self.program.net(hop.procedure);
        Some((net.procedure.clone(), net.nodes[hop.node].step.clone()))
    }
}

/// The shortest way for each that is wanted, on any of the programs; of several shortest the first in the file.
pub fn find<'p, 'l>(
    programs: &[&'p Program<'l>],
    procedure: usize,
    wanted: &[Wanted],
    left_out: Option<LeftOut>,
) -> Vec<Option<Found<'p, 'l>>> {
    let mut found: Vec<Option<Found<'p, 'l>>> = wanted.iter().map(|_| None).collect();
    for choice in 0..wanted.iter().map(|one| one.goals.len()).max().unwrap_or(0) {
        let mut together: BTreeMap<Option<usize>, Vec<(usize, Goal)>> = BTreeMap::new();
        for (number, one) in wanted.iter().enumerate().filter(|(number, _)| found[*number].is_none()) {
            if let Some(goal) = one.goals.get(choice) {
                together.entry(one.hazard).or_default().push((number, *goal));
            }
        }
        for goals in together.values() {
            for program in programs {
                let each: Vec<Goal> = goals.iter().map(|(_, goal)| *goal).collect();
                let paths = witness::shortest_each(program, procedure, &each, left_out);
                for ((number, _), path) in goals.iter().zip(paths) {
                    if let Some(path) = path {
                        better(&mut found[*number], Found { program, path });
                    }
                }
            }
        }
    }
    found
}

fn better<'p, 'l>(known: &mut Option<Found<'p, 'l>>, other: Found<'p, 'l>) {
    let rank = |found: &Found<'_, '_>| (found.path.len(), proof::written(found.program, &found.path));
    if known.as_ref().is_none_or(|known| rank(&other) < rank(known)) {
        *known = Some(other);
    }
}
