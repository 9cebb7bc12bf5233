//! What one step does to what is known, in the order of `safety.md`, "One step, in this order", and the faults that show on the way.

use crate::flow::facts::Facts;
use crate::flow::net::{Change, NetWay, Node, Role};
use crate::flow::state::{Age, State};
use crate::model::catalogue::Person;

/// Something that must not be. Numbers index the catalogue's lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fault {
    CautionMissing(usize),
    CautionOutOfDate(usize),
    Uncontrolled(usize),
    NotMet(usize),
    TooShort(usize),
    NotTriedOut(usize),
    LeftBehind(usize),
    FixedUnchecked,
    /// The person is below the hazard's `least`.
    BeyondHazard(usize),
    /// The person is below whom the step, or the procedure it leads to, asks for.
    BeyondPerson(Person),
}

/// What a carry-out demands of its caller, beside what its step says.
#[derive(Clone, Copy, Debug, Default)]
pub struct Demand<'a> {
    pub requires: &'a [usize],
    pub person: Option<Person>,
}

/// Carries the state through a step (1 to 5), without the way taken on from it. Faults are added to `faults`.
pub fn step(facts: &Facts, node: &Node, demand: Demand<'_>, state: &mut State, faults: &mut Vec<Fault>) {
    for caution in &node.cautions {
        state.show(*caution);
    }
    exposures(facts, node, state, faults);
    for condition in node.requires.iter().chain(demand.requires) {
        if !state.holds(facts, *condition) {
            faults.push(Fault::NotMet(*condition));
        }
    }
    for person in node.asks_for.iter().copied().chain(demand.person) {
        if state.person < person {
            faults.push(Fault::BeyondPerson(person));
        }
    }
    wait(facts, node, state, faults);
    change(facts, &node.changes, state, faults);
    // What a carry-out cures counts once the procedure it carries out has ended.
    if node.cures && !matches!(node.role, Role::CarryOut(_)) {
        state.cure();
    }
}

fn exposures(facts: &Facts, node: &Node, state: &State, faults: &mut Vec<Fault>) {
    if node.exposed.is_empty() {
        return;
    }
    let afterwards = afterwards(facts, node, state);
    for exposed in &node.exposed {
        let hazard = &facts.hazards[exposed.hazard];
        match state.ages[exposed.hazard] {
            Age::Never => faults.push(Fault::CautionMissing(exposed.hazard)),
            Age::Over => faults.push(Fault::CautionOutOfDate(exposed.hazard)),
            Age::Shown { .. } => {}
        }
        let held = |condition: &usize| state.holds(facts, *condition) && afterwards.holds(facts, *condition);
        if !exposed.requires_waived && !hazard.requires.iter().all(held) {
            faults.push(Fault::Uncontrolled(exposed.hazard));
        }
        if !exposed.least_waived && state.person < hazard.least {
            faults.push(Fault::BeyondHazard(exposed.hazard));
        }
    }
}

/// What is known once the step's own waiting and changes are over. Its wait comes before its changes: it may be what lets a condition be set that
/// ends another.
pub fn afterwards(facts: &Facts, node: &Node, state: &State) -> State {
    let mut afterwards = state.clone();
    wait(facts, node, &mut afterwards, &mut Vec::new());
    change(facts, &node.changes, &mut afterwards, &mut Vec::new());
    afterwards
}

pub(super) fn wait(facts: &Facts, node: &Node, state: &mut State, faults: &mut Vec<Fault>) {
    if node.wait > 0 {
        state.wait(facts, node.wait);
    }
    if let Some(condition) = node.wait_for {
        if let Some(after) = facts.conditions[condition].after
            && !state.holds(facts, after)
        {
            faults.push(Fault::NotMet(after));
        }
        state.wait(facts, waiting(facts, condition));
    }
}

/// How long a `wait-for` waits, in seconds.
pub fn waiting(facts: &Facts, condition: usize) -> u32 {
    let condition = &facts.conditions[condition];
    if condition.takes_time { condition.full } else { 0 }
}

pub(super) fn change(facts: &Facts, changes: &[Change], state: &mut State, faults: &mut Vec<Fault>) {
    for change in changes {
        match *change {
            Change::Clear(condition) => state.clear(facts, condition, true),
            Change::TooShort { condition, untried } => {
                faults.push(Fault::TooShort(condition));
                if untried {
                    faults.push(Fault::NotTriedOut(condition));
                }
                if let Some(after) = facts.conditions[condition].after
                    && !state.holds(facts, after)
                {
                    faults.push(Fault::NotMet(after));
                }
            }
            Change::Set(condition) => set(facts, condition, state, faults),
            Change::SetUntried(condition) => {
                faults.push(Fault::NotTriedOut(condition));
                set(facts, condition, state, faults);
            }
        }
    }
}

fn set(facts: &Facts, condition: usize, state: &mut State, faults: &mut Vec<Fault>) {
    if let (false, Some(after)) = (state.set(facts, condition), facts.conditions[condition].after) {
        faults.push(Fault::NotMet(after));
    }
}

/// Carries the state along a way taken: what the answer changes, then the person, then the check of a cure.
pub fn way(facts: &Facts, way: &NetWay, state: &mut State, faults: &mut Vec<Fault>) {
    change(facts, &way.changes, state, faults);
    if let Some(person) = way.person {
        state.person = person;
    }
    if way.fixed {
        state.check();
    }
}

/// The time a step takes, working and waiting, in seconds: what ages grow by.
pub fn duration(facts: &Facts, node: &Node) -> u32 {
    let waiting_for = node.wait_for.map_or(0, |condition| waiting(facts, condition));
    node.seconds.saturating_add(node.wait).saturating_add(waiting_for)
}

/// What an ending of fault finding must not leave behind or claim.
pub fn ending(facts: &Facts, node: &Node, state: &State, faults: &mut Vec<Fault>) {
    for (condition, known) in facts.conditions.iter().enumerate() {
        if known.must_clear && state.may_hold(facts, condition) {
            faults.push(Fault::LeftBehind(condition));
        }
    }
    let outcome = node.outcome.as_ref().map(|outcome| outcome.as_str());
    if (outcome == Some("fixed") && !state.checked) || (outcome == Some("no-fault") && state.unchecked_cure) {
        faults.push(Fault::FixedUnchecked);
    }
}
