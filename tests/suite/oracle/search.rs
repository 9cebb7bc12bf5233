//! Every moment that can come about in a visit, found breadth first; and the replay of a witness.

use std::collections::{BTreeMap, HashMap};

use stepward::finding::{Witness, WitnessEntry};
use stepward::model::procedure::Procedure;
use stepward::text::id::Id;

use crate::oracle::graph;
use crate::oracle::walk::Failures;
use crate::oracle::ways::Moment;
use crate::oracle::world::World;

/// More moments than this are not followed; such libraries are counted and left out.
const MOST: usize = 60_000;

/// Step, rule, subject.
pub type Failure = (Id, &'static str, Option<String>);

/// What can fail in a procedure on one model, with the first of the shortest ways there.
pub type Failing = BTreeMap<Failure, Witness>;

/// `None` if there are too many moments.
pub fn failing(world: &World<'_>, procedure: &Procedure) -> Option<Failing> {
    let first = begin(world, procedure);
    let mut known: HashMap<Moment, usize> = HashMap::from([(first.clone(), 0)]);
    let mut moments: Vec<(Moment, Option<(usize, WitnessEntry)>)> = vec![(first, None)];
    let mut failing = Failing::new();
    let mut next = 0;
    while next < moments.len() {
        let moment = moments[next].0.clone();
        let (failures, onward) = world.pass(&moment);
        // What fails in a procedure that is carried out is found from its own start.
        if moment.calls.is_empty() {
            for (rule, subject) in failures {
                let failure = (moment.step.clone(), rule, subject);
                failing.entry(failure).or_insert_with(|| way_to(&moments, next));
            }
        }
        for way in onward {
            if !known.contains_key(&way.to) {
                known.insert(way.to.clone(), moments.len());
                moments.push((way.to, Some((next, way.entry))));
            }
        }
        if moments.len() > MOST {
            return None;
        }
        next += 1;
    }
    // A caution that some way has not shown at all is missing, and not besides out of date.
    let missing: Vec<Failure> = failing.keys().filter(|failure| failure.1 == "caution-missing").cloned().collect();
    for (step, _, subject) in missing {
        failing.remove(&(step, "caution-out-of-date", subject));
    }
    Some(failing)
}

pub fn begin(world: &World<'_>, procedure: &Procedure) -> Moment {
    Moment { calls: Vec::new(), procedure: procedure.id.clone(), step: graph::start(procedure).clone(), facts: world.start(procedure) }
}

fn way_to(moments: &[(Moment, Option<(usize, WitnessEntry)>)], to: usize) -> Witness {
    let last = &moments[to].0;
    let mut witness = vec![WitnessEntry { procedure: last.procedure.clone(), step: last.step.clone(), way: None, answer: None }];
    let mut here = to;
    while let Some((before, entry)) = &moments[here].1 {
        witness.push(entry.clone());
        here = *before;
    }
    witness.reverse();
    witness
}

/// Follows a witness. Gives what fails at its last step, or what is wrong with it.
pub fn replay(world: &World<'_>, procedure: &Procedure, witness: &[WitnessEntry]) -> Result<Failures, String> {
    follow(world, procedure, witness).map(|moment| world.pass(&moment).0)
}

/// Follows a witness. Gives the moment before its last step, or what is wrong with it.
pub fn follow(world: &World<'_>, procedure: &Procedure, witness: &[WitnessEntry]) -> Result<Moment, String> {
    let mut moment = begin(world, procedure);
    let (last, before) = witness.split_last().ok_or("an empty witness")?;
    for entry in before {
        let (_, onward) = world.pass(&moment);
        let Some(way) = onward.into_iter().find(|way| way.entry == *entry) else {
            return Err(format!("no such way: {entry:?}"));
        };
        moment = way.to;
    }
    if last.step != moment.step || last.procedure != moment.procedure || last.way.is_some() || last.answer.is_some() {
        return Err(format!("ends at {} and not as {last:?}", moment.step));
    }
    if !moment.calls.is_empty() {
        return Err("ends inside a procedure that is carried out".to_owned());
    }
    Ok(moment)
}
