//! Entries of the safety catalogue.

use super::{decimal, flag, id, ids, texts, words};
use crate::model::catalogue::{Catalogue, CautionWithin, Condition, Hazard, Part, ShownBy, Takes};
use crate::text::digest::Value;

pub fn caution_within(catalogue: &Catalogue) -> Value {
    let CautionWithin { steps, seconds } = catalogue.caution_within;
    Value::list([Value::text(steps.to_string()), Value::text(seconds.to_string())])
}

pub fn condition(condition: &Condition) -> Value {
    let Condition { id: name_of, at: _, name, clears, words: spoken, tried_out, after, takes, shown_by, must_clear } = condition;
    let takes = takes.as_ref().map(|takes| match &takes.value {
        Takes::Seconds(seconds) => Value::text(seconds.to_string()),
        Takes::Figure(figure) => Value::list([Value::text(figure.as_str())]),
    });
    Value::map([
        ("id", Value::text(name_of.as_str())),
        ("name", words(name.as_ref())),
        ("clears", ids(clears)),
        ("words", texts(spoken)),
        ("tried-out", flag(*tried_out)),
        ("after", id(after.as_ref())),
        ("takes", takes.unwrap_or_default()),
        ("shown-by", shown_by.as_ref().map(shown).unwrap_or_default()),
        ("must-clear", flag(*must_clear)),
    ])
}

fn shown(shown: &ShownBy) -> Value {
    let ShownBy { at: _, unit, from, up_to } = shown;
    Value::list([Value::text(unit.as_str()), decimal(from.as_ref()), decimal(Some(up_to))])
}

pub fn hazard(hazard: &Hazard) -> Value {
    let Hazard {
        id: name_of,
        at: _,
        name,
        kind,
        where_at,
        signal_word,
        sign,
        nature,
        consequence,
        avoid,
        spoken,
        requires,
        returns_with,
        least,
        words: given_away,
        no_control_because,
    } = hazard;
    Value::map([
        ("id", Value::text(name_of.as_str())),
        ("name", words(name.as_ref())),
        ("kind", words(kind.as_ref())),
        ("place", words(where_at.as_ref())),
        ("signal-word", words(signal_word.as_ref())),
        ("sign", words(sign.as_ref())),
        ("nature", words(nature.as_ref())),
        ("consequence", words(consequence.as_ref())),
        ("avoid", words(avoid.as_ref())),
        ("spoken", words(spoken.as_ref())),
        ("requires", ids(requires)),
        ("returns-with", ids(returns_with)),
        ("least", least.as_ref().map(|least| Value::text(least.as_str())).unwrap_or_default()),
        ("words", texts(given_away)),
        ("no-control-because", words(no_control_because.as_ref())),
    ])
}

pub fn part(part: &Part) -> Value {
    let Part { id: name_of, at: _, name, hazards, words: given_away } = part;
    Value::map([
        ("id", Value::text(name_of.as_str())),
        ("name", words(name.as_ref())),
        ("hazards", ids(hazards)),
        ("words", texts(given_away)),
    ])
}
