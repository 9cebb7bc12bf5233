//! How many ways lead to a step, one by one: the ways that lead back are taken out, and every way through the rest is gone.

use std::collections::{BTreeMap, BTreeSet};

use stepward::model::library::Library;
use stepward::model::procedure::Procedure;
use stepward::model::step::{Sorting, Step, StepKind};
use stepward::text::id::Id;

use crate::oracle::graph;

/// More ways than this are not gone.
const MOST: usize = 20_000;

/// Where it is written, where it leads, and the outcome of what is carried out, if it is one.
type Route = (u32, Id, Option<(Id, Id)>);

/// The ways from the start to each step; `None` if there are too many.
pub fn count(library: &Library, procedure: &Procedure, model: Option<&Id>) -> Option<BTreeMap<Id, usize>> {
    let mut routes: BTreeMap<Id, Vec<Route>> = procedure.steps.iter().map(|step| (step.id.clone(), routes(library, step, model))).collect();
    let start = graph::start(procedure).clone();
    let mut back = BTreeSet::new();
    find_back(&start, &routes, &mut Vec::new(), &mut BTreeSet::new(), &mut back);
    for (step, routes) in &mut routes {
        let mut number = 0;
        routes.retain(|_| {
            number += 1;
            !back.contains(&(step.clone(), number - 1))
        });
    }
    let mut counts = BTreeMap::new();
    let mut gone = 0;
    go(library, model, &start, &routes, &mut counts, &mut gone)?;
    Some(counts)
}

fn find_back(step: &Id, routes: &BTreeMap<Id, Vec<Route>>, path: &mut Vec<Id>, seen: &mut BTreeSet<Id>, back: &mut BTreeSet<(Id, usize)>) {
    seen.insert(step.clone());
    path.push(step.clone());
    for (number, (_, to, _)) in routes[step].iter().enumerate() {
        if path.contains(to) {
            back.insert((step.clone(), number));
        } else if !seen.contains(to) {
            find_back(to, routes, path, seen, back);
        }
    }
    path.pop();
}

fn go(
    library: &Library,
    model: Option<&Id>,
    step: &Id,
    routes: &BTreeMap<Id, Vec<Route>>,
    counts: &mut BTreeMap<Id, usize>,
    gone: &mut usize,
) -> Option<()> {
    *gone += 1;
    *counts.entry(step.clone()).or_default() += 1;
    if *gone > MOST {
        return None;
    }
    for (_, to, through) in &routes[step] {
        let times = match through {
            None => 1,
            Some((callee, outcome)) => {
                let callee = library.procedure(callee).expect("a known procedure");
                let ends = count(library, callee, model)?;
                let of = |step: &&Step| step.outcome().is_some_and(|own| own.value == *outcome);
                callee.steps.iter().filter(of).filter_map(|step| ends.get(&step.id)).sum()
            }
        };
        for _ in 0..times {
            go(library, model, to, routes, counts, gone)?;
        }
    }
    Some(())
}

/// The ways on from a step, in the order of the file. One answer is one way, wherever it leads.
fn routes(library: &Library, step: &Step, model: Option<&Id>) -> Vec<Route> {
    let mut routes: Vec<Route> = step.otherwise.iter().map(|to| (to.at.start, to.value.clone(), None)).collect();
    let mut plain = |place: u32, to: &Id| routes.push((place, to.clone(), None));
    match &step.kind {
        StepKind::Ask(question) => {
            for answer in &question.answers {
                plain(answer.at.start, &answer.then.as_ref().expect("it leads on").value);
            }
            question.unsure.iter().for_each(|to| plain(to.at.start, &to.value));
        }
        StepKind::Measure(measurement) => {
            measurement.unsure.iter().for_each(|to| plain(to.at.start, &to.value));
            match &measurement.sorting {
                Sorting::Bands(bands) => {
                    for band in bands {
                        plain(band.at.start, &band.then.as_ref().expect("it leads on").value);
                    }
                }
                Sorting::Match(table) => {
                    for way in table.parts.iter().chain(&table.several).chain(&table.none) {
                        plain(way.name.at.start, &way.then.as_ref().expect("it leads on").value);
                    }
                }
                Sorting::Missing => {}
            }
        }
        StepKind::Do(action) => action.then.iter().for_each(|to| plain(to.at.start, &to.value)),
        StepKind::CarryOut(call) => {
            let callee = &call.procedure.value;
            let possible = graph::ends_on(library, library.procedure(callee).expect("a known procedure"), model);
            for way in call.outcomes.iter().filter(|way| possible.contains(&way.name.value)) {
                let to = way.then.as_ref().expect("it leads on").value.clone();
                routes.push((way.name.at.start, to, Some((callee.clone(), way.name.value.clone()))));
            }
        }
        StepKind::ByModel(choice) => {
            let own = choice.ways.iter().find(|(name, _)| Some(&name.value) == model).map(|(_, to)| to);
            own.or(choice.others.as_ref()).into_iter().for_each(|to| plain(to.at.start, &to.value));
        }
        StepKind::Unclear(_) => {}
    }
    routes.sort_by_key(|(place, ..)| *place);
    routes
}
