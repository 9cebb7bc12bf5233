//! `unsure-as-clear`: who cannot tell is led where only a clear answer may lead.

use crate::finding::{Findings, WayKind, rule};
use crate::flow::graph::{Way, ways};
use crate::rules::Context;
use crate::rules::flow::scope::{on_step, short, steps};

pub fn check(context: &Context<'_>, findings: &mut Findings) {
    for (procedure, step) in steps(context.library) {
        let ways = ways(step);
        let Some(unsure) = ways.iter().find(|way| way.kind == WayKind::Unsure).and_then(|way| way.then) else { continue };
        let Some(clear) = ways.iter().find(|way| commits(way) && way.then.is_some_and(|then| then.value == unsure.value)) else { continue };
        if procedure.step(unsure).is_none() {
            continue;
        }
        let text = clear.words();
        let message = format!("`unsure` leads where `{}` leads", short(&text));
        let help = format!("that way {}: lead `unsure` to a step that takes nothing for granted", because(clear));
        findings.push(on_step(&rule::UNSURE_AS_CLEAR, procedure, step, unsure.at, message).subject(text).help(help));
    }
}

/// Whether a way takes something for granted of the machine or of the person at it.
fn commits(way: &Way<'_>) -> bool {
    let clear = matches!(way.kind, WayKind::Answer | WayKind::Band);
    clear && (way.person.is_some() || way.effects.is_some_and(|effects| !effects.sets.is_empty()))
}

fn because(way: &Way<'_>) -> &'static str {
    if way.person.is_some() { "says who is at the machine" } else { "sets a condition" }
}
