//! What a procedure depends on outside itself and the catalogue: the stop card, lowered rules, the models and their figures, pictures.

use std::collections::BTreeSet;

use super::{quantity, words};
use crate::finding::{Severity, rule};
use crate::model::equipment::Model;
use crate::model::library::{Leaflet, Library, RuleSetting, Settings};
use crate::model::procedure::Procedure;
use crate::rules::approval::markdown;
use crate::text::digest::Value;
use crate::text::id::Id;

pub fn stop_card(library: &Library) -> Value {
    let card = |card: &Leaflet| {
        let Leaflet { id: _, at: _, title, order: _, body } = card;
        Value::list([words(title.as_ref()), markdown::seen(&body.markdown)])
    };
    library.stop_card.as_ref().map(card).unwrap_or_default()
}

/// The rules that the library judges more mildly than the handbook, and why. One that is raised lets nothing pass that did not pass before.
pub fn lowered_rules(settings: &Settings) -> Value {
    let lowered = settings.rules.iter().filter_map(|setting| {
        let RuleSetting { rule, severity, reason } = setting;
        let severity = severity.as_ref()?;
        let own = rule::by_name(rule.as_str())?.severity;
        let wanted = [Severity::Error, Severity::Warning, Severity::Note].into_iter().find(|one| one.as_str() == severity.value)?;
        (wanted > own).then(|| (rule.to_string(), Value::list([Value::words(severity), words(reason.as_ref())])))
    });
    let lowered: Vec<(String, Value)> = lowered.collect();
    if lowered.is_empty() { Value::Nothing } else { Value::map(lowered) }
}

/// Words give hazards away by their stems in one language and letter by letter in another, so the language decides what is found.
pub fn language(settings: &Settings) -> Value {
    Value::text(settings.language())
}

/// The models it is for, with their names.
pub fn models(library: &Library, procedure: &Procedure) -> Value {
    of_each(library, procedure, |model| Some(Value::words(model.title())))
}

/// A figure of every model it is for.
pub fn figure(library: &Library, procedure: &Procedure, name: &Id) -> Value {
    of_each(library, procedure, |model| model.figure(name).map(|figure| quantity(figure)))
}

/// The distances of some parts on every model it is for.
pub fn repeats(library: &Library, procedure: &Procedure, parts: &BTreeSet<Id>) -> Value {
    if parts.is_empty() {
        return Value::Nothing;
    }
    of_each(library, procedure, |model| {
        let distances = parts.iter().filter_map(|part| Some((part.as_str(), quantity(model.repeat(part)?))));
        Some(Value::map(distances))
    })
}

fn of_each(library: &Library, procedure: &Procedure, value: impl Fn(&Model) -> Option<Value>) -> Value {
    let models = library.models_of(procedure).into_iter().filter_map(|id| library.equipment.model(id));
    Value::map(models.filter_map(|model| Some((model.id.as_str(), value(model)?))))
}

/// The bytes of a picture.
pub fn picture(library: &Library, path: &str) -> Value {
    Value::text(library.picture_digests.get(path).map_or("", String::as_str))
}
