//! The age of one hazard's caution at every step of a context, as a function of its age on entry: small enough to be counted again for every "what if".

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use rustc_hash::FxHashMap;

use crate::flow::coverage::contexts::{Context, Contexts, Link};
use crate::flow::facts::Facts;
use crate::flow::must::Program;
use crate::flow::state::Age;
use crate::text::id::Id;

/// What is known of the age at a point, over all paths from the context's start to it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reach {
    /// The worst age on paths that have shown or voided the caution themselves.
    pub own: Option<Age>,
    /// The most steps and seconds on paths that have done neither: there the age on entry has grown by so much.
    pub passed: Option<(u32, u32)>,
}

impl Reach {
    const ENTRY: Reach = Reach { own: None, passed: Some((0, 0)) };
    const SHOWN: Reach = Reach { own: Some(Age::NOW), passed: None };
    const VOID: Reach = Reach { own: Some(Age::Never), passed: None };

    fn is_reached(self) -> bool {
        self.own.is_some() || self.passed.is_some()
    }

    /// The age, if on entry it was `before`. `None` if no path leads here.
    pub fn age(self, facts: &Facts, before: Age) -> Option<Age> {
        let grown = self.passed.map(|(steps, seconds)| before.later(facts, steps, seconds));
        [self.own, grown].into_iter().flatten().reduce(Age::join)
    }

    /// So much later. What grew past the limits need not be told apart.
    fn later(self, facts: &Facts, more: u32, seconds_more: u32) -> Self {
        let grown = |(steps, seconds): (u32, u32)| {
            let steps = steps.saturating_add(more).min(facts.steps.saturating_add(1));
            (steps, seconds.saturating_add(seconds_more).min(facts.seconds.saturating_add(1)))
        };
        Self { own: self.own.map(|own| own.later(facts, more, seconds_more)), passed: self.passed.map(grown) }
    }

    /// Through a procedure carried out that does `inside`.
    fn through(self, facts: &Facts, inside: Reach) -> Self {
        let mut out = Reach { own: inside.own, passed: None };
        if let Some((steps, seconds)) = inside.passed {
            out.join(self.later(facts, steps, seconds));
        }
        if self.is_reached() { out } else { Self::default() }
    }

    fn join(&mut self, other: Reach) -> bool {
        let before = *self;
        self.own = [self.own, other.own].into_iter().flatten().reduce(Age::join);
        let most = |(a, b): (u32, u32), (c, d): (u32, u32)| (a.max(c), b.max(d));
        self.passed = [self.passed, other.passed].into_iter().flatten().reduce(most);
        *self != before
    }
}

/// A context with one hazard counted through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solved {
    /// On arrival at each step.
    pub arrivals: Vec<Reach>,
    pub ends: BTreeMap<Id, Reach>,
}

/// What is taken as otherwise than written.
#[derive(Clone, Copy)]
pub enum Change<'c> {
    Nothing,
    /// The step of the procedure does not show the caution.
    Without {
        procedure: usize,
        step: usize,
    },
    /// These steps of the procedure show it.
    With {
        procedure: usize,
        steps: &'c BTreeSet<usize>,
    },
}

impl Change<'_> {
    pub fn shows(self, program: &Program<'_>, procedure: usize, step: usize, hazard: usize) -> bool {
        let written = program.net(procedure).nodes[step].cautions.contains(&hazard);
        match self {
            Change::Without { procedure: p, step: s } if (p, s) == (procedure, step) => false,
            Change::With { procedure: p, steps } if p == procedure => written || steps.contains(&step),
            _ => written,
        }
    }
}

impl Contexts {
    /// As written.
    pub fn as_written(&mut self, program: &Program<'_>, context: usize, hazard: usize) -> Rc<Solved> {
        if let Some(known) = self.solved.get(&(context, hazard)) {
            return Rc::clone(known);
        }
        let callees: BTreeSet<usize> = self.list[context].links.iter().flatten().filter_map(Link::context).collect();
        for callee in callees {
            self.as_written(program, callee, hazard);
        }
        let solved = Rc::new(self.solve(program, context, hazard, Change::Nothing, &FxHashMap::default()));
        self.solved.insert((context, hazard), Rc::clone(&solved));
        solved
    }

    /// As changed; for what the context carries out see `instead` first. Those must have been counted as written before.
    pub fn solve(
        &self,
        program: &Program<'_>,
        context: usize,
        hazard: usize,
        change: Change<'_>,
        instead: &FxHashMap<usize, Rc<Solved>>,
    ) -> Solved {
        let facts = &program.facts;
        let Context { procedure, links, .. } = &self.list[context];
        let mut arrivals = vec![Reach::default(); links.len()];
        let mut ends: BTreeMap<Id, Reach> = BTreeMap::new();
        let mut open = BTreeSet::new();
        if let Some(start) = program.net(*procedure).start {
            arrivals[start] = Reach::ENTRY;
            open.insert(start);
        }
        while let Some(step) = open.pop_first() {
            let arrival = arrivals[step];
            let shown = if change.shows(program, *procedure, step, hazard) { Reach::SHOWN } else { arrival };
            for link in &links[step] {
                let left = |seconds: u32, voids: &[usize]| match voids.contains(&hazard) {
                    true => Reach::VOID,
                    false => shown.later(facts, 1, seconds),
                };
                let (target, reach) = match link {
                    Link::Stay { target } => (*target, arrival),
                    Link::Leave { target, seconds, voids } => (*target, left(*seconds, voids)),
                    Link::Call { target, context, outcome } => {
                        let inside = instead.get(context).or_else(|| self.solved.get(&(*context, hazard)));
                        let inside = inside.and_then(|inside| inside.ends.get(outcome)).copied().unwrap_or_default();
                        (*target, shown.later(facts, 1, 0).through(facts, inside))
                    }
                    Link::End { outcome, seconds, voids } => {
                        ends.entry(outcome.clone()).or_default().join(left(*seconds, voids));
                        continue;
                    }
                };
                if reach.is_reached() && arrivals[target].join(reach) {
                    open.insert(target);
                }
            }
        }
        Solved { arrivals, ends }
    }

    /// What changes where one caution is not shown: the contexts in which a procedure begins by itself, by procedure.
    pub fn without(&mut self, program: &Program<'_>, procedure: usize, step: usize, hazard: usize) -> BTreeMap<usize, Rc<Solved>> {
        let mut instead: FxHashMap<usize, Rc<Solved>> = FxHashMap::default();
        let mut changed = BTreeMap::new();
        let mut open: BTreeSet<usize> = self.of.get(&procedure).into_iter().flatten().copied().collect();
        while let Some(context) = open.pop_first() {
            let before = self.as_written(program, context, hazard);
            let change = Change::Without { procedure, step };
            let after = Rc::new(self.solve(program, context, hazard, change, &instead));
            if let Some(root) = self.roots.get(&context) {
                changed.insert(*root, Rc::clone(&after));
            }
            if before.ends != after.ends {
                open.extend(self.callers[context].iter().copied());
                instead.insert(context, after);
            }
        }
        changed
    }
}
