//! Things of the model in the words of the interface. Everything returned is markup, already safe.

use crate::model::catalogue::{Condition, Person, Takes};
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::render::escape;
use crate::render::frame::Frame;
use crate::text::id::Id;
use crate::text::quantity::duration_text;

impl Frame<'_> {
    /// A text of the interface with values filled in; the values are plain text.
    pub fn fill(&self, group: &str, key: &str, values: &[(&str, &str)]) -> String {
        escape::text(&self.words.fill(group, key, values))
    }

    pub fn person(&self, person: Person) -> String {
        self.word("person", person.as_str())
    }

    /// The condition's name and, if it takes time, how long and how it may be shown sooner.
    pub fn condition(&self, id: &Id) -> String {
        let Some(condition) = self.library.catalogue.condition(id) else { return escape::text(id.as_str()) };
        let mut text = escape::text(condition_name(condition));
        if let (Some(takes), Some(after)) = (&condition.takes, &condition.after) {
            let after = self.library.catalogue.condition(after).map_or(after.as_str(), condition_name);
            text.push_str(&format!(" ({})", self.fill("step", "takes", &[("time", &self.takes(&takes.value)), ("after", after)])));
        }
        text
    }

    /// Plain text, not markup.
    pub fn takes(&self, takes: &Takes) -> String {
        match takes {
            Takes::Seconds(seconds) => duration_text(*seconds),
            Takes::Figure(figure) => {
                let models = self.library.equipment.models.iter();
                let each: Vec<String> =
                    models.filter_map(|model| Some(format!("{}: {}", model.title(), model.figure(figure)?.value))).collect();
                each.join("; ")
            }
        }
    }

    /// A list of conditions as the inside of a list.
    pub fn conditions<'i>(&self, ids: impl IntoIterator<Item = &'i Id>) -> String {
        items(ids.into_iter().map(|id| self.condition(id)))
    }

    /// An outcome in words: a known one, else its name with spaces.
    pub fn outcome(&self, id: &Id) -> String {
        match self.words.find("outcome", id.as_str()) {
            Some(text) => escape::text(text),
            None => escape::text(&spaced(id)),
        }
    }

    /// What to call a step in a line of its own: its words, or the procedure it carries out.
    pub fn step_title(&self, step: &Step) -> String {
        match &step.kind {
            StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) => {
                escape::text(step.text().map_or(step.id.as_str(), |text| text.value.trim()))
            }
            StepKind::CarryOut(carry_out) => match (&carry_out.name, self.library.procedure(&carry_out.procedure)) {
                (Some(name), _) => escape::text(name),
                (None, Some(callee)) => escape::text(callee.title()),
                (None, None) => escape::text(&carry_out.procedure.to_string()),
            },
            StepKind::ByModel(_) => self.word("step", "by-model-title"),
            StepKind::Unclear(_) => escape::text(step.id.as_str()),
        }
    }

    pub fn model_title(&self, id: &Id) -> String {
        escape::text(self.library.equipment.model(id).map_or(id.as_str(), |model| model.title()))
    }

    pub fn part_title(&self, id: &Id) -> String {
        let part = self.library.catalogue.part(id);
        escape::text(&part.and_then(|part| part.name.as_ref()).map_or_else(|| spaced(id), |name| name.value.clone()))
    }
}

pub fn condition_name(condition: &Condition) -> &str {
    condition.name.as_ref().map_or(condition.id.as_str(), |name| name.value.as_str())
}

/// A step's number: its place in the file, from 1.
pub fn number(procedure: &Procedure, id: &Id) -> usize {
    procedure.steps.iter().position(|step| step.id == *id).map_or(0, |index| index + 1)
}

/// List items, or nothing if there are none.
pub fn items(markup: impl IntoIterator<Item = String>) -> String {
    let list: Vec<String> = markup.into_iter().map(|item| format!("<li>{item}</li>")).collect();
    if list.is_empty() { String::new() } else { format!("<ul>{}</ul>", list.concat()) }
}

fn spaced(id: &Id) -> String {
    id.as_str().replace('-', " ")
}
