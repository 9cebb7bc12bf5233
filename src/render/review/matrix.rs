//! The matrix of procedures and hazards: one table, set as a table where there is room and as a block for each procedure where there is not.

use crate::emit::review::Tally;
use crate::flow::coverage::{Coverage, Exposure};
use crate::model::catalogue::Hazard;
use crate::model::procedure::Procedure;
use crate::render::escape;
use crate::render::review::cell::{self, State};
use crate::render::review::{Desk, hazard_anchor};
use crate::text::id::Id;

/// The table, or a sentence if there is nothing in it.
pub fn matrix(desk: &Desk<'_, '_>) -> String {
    let met = met(desk);
    if met.is_empty() {
        return format!("<p>{}</p>\n{}", desk.word("matrix-empty"), not_met(desk));
    }
    let heads: String = met.iter().map(|hazard| head(desk, hazard)).collect();
    let rows: String = desk.review.procedures.iter().map(|procedure| row(desk, procedure, &met)).collect();
    format!(
        "{legend}<div class=\"matrix-scroll table-scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{name}\">\n<table class=\"matrix\">\n\
         <caption class=\"out-of-sight\">{name}</caption>\n<thead><tr><th scope=\"col\" class=\"matrix__corner\">{corner}</th>{heads}</tr></thead>\n\
         <tbody>\n{rows}</tbody>\n</table>\n</div>\n{not_met}",
        legend = legend(desk),
        name = desk.word("matrix-name"),
        corner = desk.word("procedure"),
        not_met = not_met(desk),
    )
}

/// The hazards that some procedure meets, itself or in what it carries out.
fn met<'l>(desk: &Desk<'_, 'l>) -> Vec<&'l Hazard> {
    let meets = |coverage: &&Coverage, id: &Id| {
        coverage.exposures.iter().any(|exposure| exposure.hazard == *id) || coverage.elsewhere.iter().any(|(hazard, _)| hazard == id)
    };
    desk.review.hazards().into_iter().filter(|hazard| desk.review.coverage.iter().any(|coverage| meets(coverage, &hazard.id))).collect()
}

fn not_met(desk: &Desk<'_, '_>) -> String {
    let met: Vec<&Id> = met(desk).into_iter().map(|hazard| &hazard.id).collect();
    let rest: Vec<String> =
        desk.review.hazards().into_iter().filter(|hazard| !met.contains(&&hazard.id)).map(|hazard| escape::text(hazard.title())).collect();
    if rest.is_empty() { String::new() } else { format!("<p class=\"aside\">{} {}.</p>\n", desk.word("never-met"), rest.join("; ")) }
}

fn legend(desk: &Desk<'_, '_>) -> String {
    let item = |state: State| {
        let help = desk.word(&format!("{}-help", state.as_str()));
        format!("<li>{} <span class=\"key__help\">({help})</span></li>", cell::state(desk, state))
    };
    format!("<ul class=\"key\">{}</ul>\n", State::ALL.map(item).concat())
}

fn head(desk: &Desk<'_, '_>, hazard: &Hazard) -> String {
    format!(
        "<th scope=\"col\" class=\"matrix__head\"><span class=\"matrix__turned\">{} {}</span></th>",
        desk.signal(hazard),
        escape::text(hazard.title())
    )
}

fn row(desk: &Desk<'_, '_>, procedure: &Procedure, hazards: &[&Hazard]) -> String {
    let link = desk.procedure_link(&procedure.id);
    let Some(coverage) = desk.review.coverage_of(&procedure.id) else {
        return format!(
            "<tr class=\"matrix__row\"><th scope=\"row\" class=\"matrix__name\">{link}</th>\
             <td class=\"matrix__broken\" colspan=\"{}\">{}</td></tr>\n",
            hazards.len(),
            desk.word("not-judged")
        );
    };
    let cells: String = hazards.iter().map(|hazard| self::cell(desk, coverage, hazard)).collect();
    format!(
        "<tr class=\"matrix__row\"><th scope=\"row\" class=\"matrix__name\">{link} <span class=\"matrix__tally\">{}</span></th>{cells}</tr>\n",
        tally(desk, Tally::of(&coverage.exposures))
    )
}

/// `5 of 5 proven`.
pub fn tally(desk: &Desk<'_, '_>, tally: Tally) -> String {
    if tally.exposures == 0 {
        return desk.word("tally-none");
    }
    desk.fill("tally", &[("proven", &tally.proven.to_string()), ("reached", &tally.reached().to_string())])
}

fn cell(desk: &Desk<'_, '_>, coverage: &Coverage, hazard: &Hazard) -> String {
    let exposures: Vec<&Exposure> = coverage.exposures.iter().filter(|exposure| exposure.hazard == hazard.id).collect();
    let elsewhere = coverage.elsewhere.iter().find(|(id, _)| *id == hazard.id);
    let (state, address) = match (State::of_all(exposures.iter().copied()), elsewhere) {
        (Some(state), _) => (state, Some(format!("{}#{}", desk.address(&coverage.procedure), hazard_anchor(&hazard.id)))),
        (None, Some((_, task))) => (State::Elsewhere, Some(format!("{}#{}", desk.address(task), hazard_anchor(&hazard.id)))),
        (None, None) => (State::NotMet, None),
    };
    let key = state.as_str();
    let name = format!("<span class=\"matrix__hazard\">{}<span class=\"out-of-sight\">: </span></span>", escape::text(hazard.title()));
    let tally = Tally::of(exposures.iter().copied());
    let count = match state {
        State::Uncovered => desk.fill("count-of", &[("n", &tally.failed.to_string()), ("all", &tally.reached().to_string())]),
        State::Waived | State::Covered => tally.reached().to_string(),
        State::Unreachable => tally.unreachable.to_string(),
        State::Elsewhere | State::NotMet => String::new(),
    };
    let count = if count.is_empty() { count } else { format!(" <span class=\"figures\">{count}</span>") };
    let word = format!("<span class=\"state__word\">{}</span>", desk.word(key));
    let inner = format!("{name}<span class=\"state state--{key}\">{}{count} {word}</span>", state.sign());
    let inner = address.map_or(format!("<span class=\"matrix__blank\">{inner}</span>"), |to| {
        format!("<a class=\"matrix__link\" href=\"{to}\">{inner}</a>")
    });
    format!("<td class=\"matrix__cell matrix__cell--{key}\">{inner}</td>")
}
