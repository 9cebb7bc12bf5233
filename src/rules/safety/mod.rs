//! The group *safety*.

pub mod on_paths;
pub mod own_words;

mod entry;
mod exposure;
mod mention;

mod acts_many;
pub mod caution_idle;
mod caution_incomplete;
mod cautions_many;
mod condition_undeclared;
mod denial_idle;
mod denial_refused;
mod hazard_undeclared;
mod hazard_without_words;
mod link_leaves_flow;
mod part_without_words;
mod reach_undeclared;
mod stop_card_missing;
mod waiver_expired;
pub mod waiver_incomplete;

use super::instructions::Places;
use super::known::{self, On};
use super::{Check, Context};
use crate::finding::Findings;

/// The rules of this group that need no path, in the order of the handbook.
pub static CHECKS: &[Check] = &[
    undeclared,
    condition_undeclared::check,
    denial_refused::check,
    link_leaves_flow::check,
    caution_incomplete::check,
    cautions_many::check,
    part_without_words::check,
    acts_many::check,
    hazard_without_words::check,
    denial_idle::check,
    mention::check,
    waiver_incomplete::check,
    waiver_expired::check,
    stop_card_missing::check,
];

/// Where the first has something to say of a step the second is silent, so it is asked behind it.
fn undeclared(context: &Context<'_>, findings: &mut Findings) {
    let dangers = hazard_undeclared::dangers(context.library);
    let mut places = Places::new(&context.library.sources);
    for procedure in own_words::judged(context) {
        let found = known::of(
            context.remembered,
            |known| &known.undeclared,
            procedure,
            On::Itself,
            || {
                let mut found = Findings::default();
                hazard_undeclared::of_procedure(context.library, &dangers, procedure, &mut found);
                reach_undeclared::of_procedure(context.library, procedure, &mut places, &mut found);
                found
            },
        );
        findings.extend(found);
    }
}
