//! Where showing a caution would mend everything that lacks it: a smallest set of steps, as near to the exposures as that allows.
//!
//! Every path on which the caution was never shown (or voided) must meet a step of the set: so the smallest set that parts those paths ([`super::cut`])
//! is a lower bound, and mostly the answer. Where a caution also goes out of date on the way, more may be needed: a set is only given once counting
//! again with it shows that nothing fails, and where it is larger than the bound all smaller sets are tried, as long as that is affordable.

use std::collections::BTreeSet;
use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::flow::coverage::Mend;
use crate::flow::coverage::ages::{Change, Solved};
use crate::flow::coverage::contexts::Link;
use crate::flow::coverage::cut::{Parting, Point};
use crate::flow::coverage::what_if::{as_written, failure};
use crate::flow::must::Program;
use crate::flow::net::{Net, Role};
use crate::flow::proof::Programs;
use crate::flow::reach;
use crate::flow::state::Age;
use crate::model::procedure::Procedure;

/// How many steps may be passed, all in all, to look for a smaller set for one hazard.
const PATIENCE: usize = 2_000_000;

impl Programs<'_> {
    pub(super) fn mends(&self, procedure: &Procedure) -> Vec<Mend> {
        let Some(number) = self.list[0].number(&procedure.id) else { return Vec::new() };
        let programs: Vec<&Program<'_>> = self.groups(procedure).into_iter().map(|(program, _)| program).collect();
        let exposed: BTreeSet<usize> =
            self.list[0].net(number).nodes.iter().flat_map(|node| &node.exposed).map(|exposed| exposed.hazard).collect();
        let mend = |hazard: usize| {
            let written = programs.iter().map(|program| (*program, as_written(program, number, hazard))).collect();
            let (steps, smallest) = Mending { number, hazard, written, left: PATIENCE }.mend()?;
            let steps = steps.into_iter().map(|step| procedure.steps[step].id.clone()).collect();
            Some(Mend { hazard: self.library.catalogue.hazards[hazard].id.clone(), steps, smallest })
        };
        exposed.into_iter().filter_map(mend).collect()
    }
}

struct Mending<'p, 'l> {
    number: usize,
    hazard: usize,
    /// Each group of models, with the ages as written.
    written: Vec<(&'p Program<'l>, Rc<Solved>)>,
    /// Patience left.
    left: usize,
}

/// Which arrivals count as uncovered.
#[derive(Clone, Copy, PartialEq)]
enum Lacking {
    /// Never shown, or voided.
    Never,
    /// The same, or too long ago.
    Any,
}

impl Lacking {
    fn is(self, age: Option<Age>) -> bool {
        age == Some(Age::Never) || (self == Lacking::Any && age == Some(Age::Over))
    }
}

impl<'l> Mending<'_, 'l> {
    /// `None` if nothing fails.
    fn mend(mut self) -> Option<(BTreeSet<usize>, bool)> {
        let failing = self.failing(&BTreeSet::new());
        if failing.is_empty() {
            return None;
        }
        let bound = (0..self.written.len()).map(|group| self.cut(&[group], Lacking::Never).len()).max().unwrap_or(0).max(1);
        let places = self.places(&failing);
        let every: Vec<usize> = (0..self.written.len()).collect();
        let mut steps = self.cut(&every, Lacking::Any);
        self.complete(&mut steps, &places);
        self.prune(&mut steps);
        for size in bound..steps.len() {
            match self.of_size(size, &places) {
                Ok(Some(fewer)) => return Some((fewer, true)),
                Ok(None) => {}
                Err(OutOfPatience) => return Some((steps, false)),
            }
        }
        Some((steps, true))
    }

    fn net(&self) -> &Net {
        self.written[0].0.net(self.number)
    }

    fn shows(&self, step: usize) -> bool {
        self.net().nodes[step].cautions.contains(&self.hazard)
    }

    /// A question, a measurement or an action that does not show it yet.
    fn may_show(&self, step: usize) -> bool {
        self.net().nodes[step].role == Role::Plain && !self.shows(step)
    }

    /// The steps that fail on some model if these steps show the caution too.
    fn failing(&mut self, steps: &BTreeSet<usize>) -> BTreeSet<usize> {
        let mut failing = BTreeSet::new();
        for (program, _) in &self.written {
            let mut contexts = program.counted.contexts.borrow_mut();
            let root = contexts.root(program, self.number);
            let change = Change::With { procedure: self.number, steps };
            let solved = contexts.solve(program, root, self.hazard, change, &FxHashMap::default());
            let net = program.net(self.number);
            self.left = self.left.saturating_sub(net.nodes.len());
            for (step, node) in net.nodes.iter().enumerate() {
                let exposes = node.exposed.iter().any(|exposed| exposed.hazard == self.hazard);
                let shows = change.shows(program, self.number, step, self.hazard);
                if exposes && failure(program, &solved, step, shows).is_some() {
                    failing.insert(step);
                }
            }
        }
        failing
    }

    /// The steps where it may be shown and from which a failing one can be reached, the nearest to one first.
    fn places(&self, failing: &BTreeSet<usize>) -> Vec<usize> {
        let net = self.net();
        let mut successors: Vec<Vec<usize>> = vec![Vec::new(); net.nodes.len()];
        for (program, _) in &self.written {
            for (step, more) in program.successors(self.number).into_iter().enumerate() {
                successors[step].extend(more);
            }
        }
        let reached = reach::reachable(&successors, net.start);
        let before = reach::reversed(&successors);
        let mut order: Vec<usize> = failing.iter().copied().collect();
        let mut known: BTreeSet<usize> = failing.clone();
        let mut next = 0;
        while next < order.len() {
            let nearer: Vec<usize> = before[order[next]].iter().copied().filter(|step| known.insert(*step)).collect();
            order.extend(nearer);
            next += 1;
        }
        order.retain(|step| reached[*step] && self.may_show(*step));
        order
    }

    /// The smallest set that parts where it is lacking from where that fails, on these groups together.
    fn cut(&self, groups: &[usize], lacking: Lacking) -> BTreeSet<usize> {
        let nodes = self.net().nodes.len();
        let mut parting = Parting::new(nodes);
        for step in 0..nodes {
            if self.may_show(step) {
                parting.cuttable(step);
            } else if !self.shows(step) {
                parting.uncuttable(step);
            }
        }
        for group in groups {
            self.lines(*group, lacking, &mut parting);
        }
        parting.smallest().unwrap_or_default().into_iter().collect()
    }

    fn lines(&self, group: usize, lacking: Lacking, parting: &mut Parting) {
        let (program, solved) = &self.written[group];
        let facts = &program.facts;
        let mut contexts = program.counted.contexts.borrow_mut();
        let root = contexts.root(program, self.number);
        let net = program.net(self.number);
        if let Some(start) = net.start {
            parting.line(Point::Source, Point::Before(start));
        }
        for (step, links) in contexts.list[root].links.iter().enumerate() {
            let age = solved.arrivals[step].age(facts, Age::Never);
            let lacks = lacking.is(age);
            let shown = if self.shows(step) { Some(Age::NOW) } else { age };
            let on = |parting: &mut Parting, target: usize, own: Option<Age>, passed: Option<(u32, u32)>| {
                let grown = passed.and_then(|(steps, seconds)| Some(shown?.later(facts, steps, seconds)));
                if lacking.is(own) || (lacking.is(grown) && !lacking.is(shown)) {
                    parting.line(Point::Source, Point::Before(target));
                }
                if passed.is_some() && lacks {
                    parting.line(Point::After(step), Point::Before(target));
                }
            };
            for link in links {
                match link {
                    Link::Stay { target } if lacks => parting.line(Point::Before(step), Point::Before(*target)),
                    Link::Leave { target, voids, .. } if voids.contains(&self.hazard) => on(parting, *target, Some(Age::Never), None),
                    Link::Leave { target, seconds, .. } => on(parting, *target, None, Some((1, *seconds))),
                    Link::Call { target, context, outcome } => {
                        let inside = contexts.solved.get(&(*context, self.hazard)).and_then(|inside| inside.ends.get(outcome));
                        let through = |inside: &super::ages::Reach| inside.passed.map(|(steps, seconds)| (steps + 1, seconds));
                        on(parting, *target, inside.and_then(|inside| inside.own), inside.and_then(through));
                    }
                    Link::Stay { .. } | Link::End { .. } => {}
                }
            }
            let exposes = net.nodes[step].exposed.iter().any(|exposed| exposed.hazard == self.hazard);
            if exposes && lacks && !self.shows(step) {
                parting.line(Point::After(step), Point::Sink);
            }
        }
    }

    /// Adds steps until nothing fails: each time the one that leaves the fewest failing, of equal ones the nearest. A failing step mends itself.
    fn complete(&mut self, steps: &mut BTreeSet<usize>, places: &[usize]) {
        loop {
            let failing = self.failing(steps);
            let Some(first) = failing.first() else { return };
            let mut best = (usize::MAX, *first);
            for place in places.iter().filter(|place| !steps.contains(place)) {
                if self.left < PATIENCE / 2 && !failing.contains(place) {
                    continue;
                }
                let mut more = steps.clone();
                more.insert(*place);
                let left = self.failing(&more).len();
                if left < best.0 {
                    best = (left, *place);
                }
                if left == 0 || self.left == 0 {
                    break;
                }
            }
            steps.insert(best.1);
        }
    }

    /// Takes out what is not needed, in file order.
    fn prune(&mut self, steps: &mut BTreeSet<usize>) {
        if self.left == 0 {
            return;
        }
        for step in steps.clone() {
            let mut fewer = steps.clone();
            fewer.remove(&step);
            if self.failing(&fewer).is_empty() {
                *steps = fewer;
            }
        }
    }

    /// A set of that size that mends everything, of the first in the order of `places`.
    fn of_size(&mut self, size: usize, places: &[usize]) -> Result<Option<BTreeSet<usize>>, OutOfPatience> {
        if size > places.len() {
            return Ok(None);
        }
        let mut chosen: Vec<usize> = (0..size).collect();
        loop {
            let steps: BTreeSet<usize> = chosen.iter().map(|place| places[*place]).collect();
            if self.failing(&steps).is_empty() {
                return Ok(Some(steps));
            }
            if self.left == 0 {
                return Err(OutOfPatience);
            }
            let Some(last) = (0..size).rev().find(|at| chosen[*at] < places.len() - size + at) else { return Ok(None) };
            chosen[last] += 1;
            for at in last + 1..size {
                chosen[at] = chosen[at - 1] + 1;
            }
        }
    }
}

struct OutOfPatience;
