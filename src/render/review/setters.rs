//! Where conditions are set, found once for all pages, and which procedures are near another: a page tells of those, and counts the rest.

use std::collections::{BTreeMap, BTreeSet};

use crate::emit::review::Review;
use crate::emit::review::conditions::{self, SetBy};
use crate::model::procedure::Procedure;
use crate::text::id::Id;

pub struct Setters<'l> {
    conditions: BTreeMap<&'l Id, Setting<'l>>,
    callees: BTreeMap<&'l Id, BTreeSet<&'l Id>>,
    callers: BTreeMap<&'l Id, BTreeSet<&'l Id>>,
}

/// What is said of one condition.
#[derive(Default)]
pub struct Setting<'l> {
    pub set_by: Vec<SetBy<'l>>,
    /// Procedures that ask for it before they begin.
    pub required_by: Vec<&'l Id>,
}

impl<'l> Setters<'l> {
    pub fn of(review: &Review<'l>) -> Self {
        let setting =
            |condition| Setting { set_by: conditions::set_by(review, condition), required_by: conditions::required_by(review, condition) };
        let conditions = review.library().catalogue.conditions.iter().map(|condition| (&condition.id, setting(condition))).collect();
        let mut calls = Self { conditions, callees: BTreeMap::new(), callers: BTreeMap::new() };
        for procedure in &review.procedures {
            for callee in procedure.callees() {
                calls.callees.entry(&procedure.id).or_default().insert(callee);
                calls.callers.entry(callee).or_default().insert(&procedure.id);
            }
        }
        calls
    }

    /// `None` for a condition that the catalogue lacks.
    pub fn get(&self, condition: &Id) -> Option<&Setting<'l>> {
        self.conditions.get(condition)
    }

    /// The procedure, all that it carries out, and all that carry it out, through others too.
    pub fn near(&self, procedure: &'l Procedure) -> BTreeSet<&'l Id> {
        let mut near = BTreeSet::from([&procedure.id]);
        for calls in [&self.callees, &self.callers] {
            let mut open = vec![&procedure.id];
            while let Some(id) = open.pop() {
                open.extend(calls.get(id).into_iter().flatten().copied().filter(|next| near.insert(next)));
            }
        }
        near
    }
}
