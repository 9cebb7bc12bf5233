//! The other files: settings, safety catalogue, equipment, stages, approvals, and the front matter of plain pages.

use serde_json::{Map, Value, json};

use crate::finding::rule;
use crate::model::catalogue::{CautionWithin, SignalWord};
use crate::read::schema::shape::{declared, list, mapping, present, said, when};
use crate::read::schema::value::{
    address, boolean, day, declared_id, duration_or_figure, id, ids, language, number, person, quantity, sign, text, texts, unit, whole,
    words,
};
use crate::read::{catalogue, equipment as machines, leaflet as page, settings};

pub fn library() -> Map<String, Value> {
    let rules: Vec<&str> = rule::ALL.iter().map(|rule| rule.name).collect();
    let setting = mapping(&settings::RULE_KEYS, &["severity"], |key| match key {
        "severity" => said("How its findings count here.", words(&["error", "warning", "note"])),
        "reason" => said("Why; required where a rule is lowered. The review shows it.", text()),
        _ => None,
    });
    mapping(&settings::KEYS, &["title"], |key| match key {
        "title" => said("What the library is called.", text()),
        "language" => said("The language it is written in, a tag of BCP 47; left out, `en`.", language()),
        "roles" => said("The roles that own, waive and approve. Roles, never persons.", texts()),
        "site" => said("The address the site will have, written in full; for its feed.", address()),
        "offline-days" => said("For how many days a copy kept offline is good; left out, 30.", whole(1, 3660)),
        "rules" => {
            let names = json!({ "type": "object", "propertyNames": { "enum": rules }, "additionalProperties": setting });
            said("Rules whose severity differs in this library.", names)
        }
        _ => None,
    })
}

pub fn safety() -> Map<String, Value> {
    let most = CautionWithin::default();
    let within = mapping(&catalogue::CAUTION_WITHIN_KEYS, &[], |key| match key {
        "steps" => said("How many steps ahead a caution counts, at most 6.", whole(0, most.steps)),
        "minutes" => said(
            "How many minutes of working time a caution counts, at most 15.",
            json!({ "type": "number", "minimum": 0, "maximum": most.seconds / 60 }),
        ),
        _ => None,
    });
    mapping(&catalogue::KEYS, &[], |key| match key {
        "conditions" => said("States of the machine that keep hazards in check or bring them back.", declared(condition())),
        "hazards" => said("The hazards: one entry for a kind of hazard and a place.", declared(hazard())),
        "parts" => said("Parts of the machines, and the hazards that touching them brings.", declared(part())),
        "caution-within" => said("After how many steps or minutes a caution that was shown is out of date.", Value::Object(within.clone())),
        _ => None,
    })
}

fn condition() -> Value {
    let shown_by = mapping(&catalogue::SHOWN_BY_KEYS, &["unit", "up-to"], |key| match key {
        "unit" => said("Unit of the reading; `none` for a bare number.", unit()),
        "from" => said("The lower edge, if there is one.", number()),
        "up-to" => said("The upper edge.", number()),
        _ => None,
    });
    let mut condition = mapping(&catalogue::CONDITION_KEYS, &[], |key| match key {
        "name" => said("What the condition is called, as a state that holds.", text()),
        "clears" => said("Conditions that end when this one begins.", ids()),
        "words" => said("Words that give this change away in a text.", texts()),
        "tried-out" => said("Whether only somebody who tried it can tell: then no action sets it, only an answer.", boolean()),
        "after" => said("The condition without which this one cannot hold.", id()),
        "takes" => said("How long after `after` began it surely holds: a duration, or a figure of the model.", duration_or_figure()),
        "shown-by" => said("The range a reading must lie in to show it, whatever the clock says.", Value::Object(shown_by.clone())),
        "must-clear" => said("Whether it must not hold at any ending.", boolean()),
        _ => None,
    });
    // A condition that begins with time hangs on another, ends no other, and is none that must be ended by hand.
    let none = json!({ "properties": { "clears": { "maxItems": 0 }, "must-clear": { "not": { "const": true } } } });
    let timed = json!({ "allOf": [present("after"), none] });
    condition.insert("allOf".to_owned(), json!([{ "if": present("takes"), "then": timed }]));
    condition.insert("type".to_owned(), json!(["object", "null"]));
    Value::Object(condition)
}

fn hazard() -> Value {
    let mut hazard = mapping(&catalogue::HAZARD_KEYS, &["kind", "place", "signal-word", "nature", "avoid"], hazard_key);
    let says = |words: &[SignalWord]| {
        let words: Vec<&str> = words.iter().map(|word| word.as_str()).collect();
        json!({ "required": ["signal-word"], "properties": { "signal-word": { "enum": words } } })
    };
    let injures = json!({ "allOf": [present("sign"), present("consequence"), when(&present("no-control-because"), &json!(true), &present("least"))] });
    let controlled = json!({ "allOf": [present("requires"), { "properties": { "requires": { "minItems": 1 } } }] });
    let severe = when(&present("no-control-because"), &json!(true), &controlled);
    hazard.insert(
        "allOf".to_owned(),
        json!([
            { "if": says(&[SignalWord::Danger, SignalWord::Warning, SignalWord::Caution]), "then": injures },
            { "if": says(&[SignalWord::Danger, SignalWord::Warning]), "then": severe }
        ]),
    );
    Value::Object(hazard)
}

fn hazard_key(key: &str) -> Option<Value> {
    let signals = SignalWord::ALL.map(SignalWord::as_str);
    match key {
        "name" => said("What the hazard is called.", text()),
        "kind" => said("The kind of hazard, such as `hot-surface`.", text()),
        "place" => said("Where on the machine it is met.", text()),
        "signal-word" => said("How bad it can be (ANSI Z535.6): injury but for `notice`, which is about property.", words(&signals)),
        "sign" => said("Code of its safety sign (ISO 7010), such as `W017`.", sign()),
        "nature" => said("What the hazard is, in a sentence.", text()),
        "consequence" => said("What happens if it is not avoided, in a sentence.", text()),
        "avoid" => said("How to avoid it, in a sentence.", text()),
        "spoken" => said("What somebody on the phone reads out; left out, the three sentences.", text()),
        "requires" => said("Conditions that must hold wherever someone is exposed to it.", ids()),
        "returns-with" => said("Conditions that bring it back: once one is set, a caution shown before no longer counts.", ids()),
        "least" => said("The least qualified person who may be exposed to it.", person()),
        "words" => said("Words that give the hazard itself away in a text.", texts()),
        "no-control-because" => said("Why nothing keeps it in check, where nothing does; the review shows it.", text()),
        _ => None,
    }
}

fn part() -> Value {
    let mut part = mapping(&catalogue::PART_KEYS, &[], |key| match key {
        "name" => said("What the part is called.", text()),
        "hazards" => said("Hazards that touching it brings.", ids()),
        "words" => said("Words that give this part away in a text; required for a part with hazards.", texts()),
        _ => None,
    });
    let some = |key: &str| json!({ "allOf": [present(key), { "properties": { key: { "minItems": 1 } } }] });
    part.insert("allOf".to_owned(), json!([{ "if": some("hazards"), "then": some("words") }]));
    part.insert("type".to_owned(), json!(["object", "null"]));
    Value::Object(part)
}

pub fn equipment() -> Map<String, Value> {
    let mut model = mapping(&machines::MODEL_KEYS, &[], |key| match key {
        "name" => said("What the model is called.", text()),
        "figures" => said("Numbers with units that formulas, limits and waits may use.", declared(quantity())),
        "repeats" => said("For each rolling part the distance on paper after which it prints the same spot again.", declared(quantity())),
        _ => None,
    });
    model.insert("type".to_owned(), json!(["object", "null"]));
    mapping(&machines::KEYS, &[], |_| said("The machine models, by their ids.", declared(Value::Object(model.clone()))))
}

pub fn stages() -> Map<String, Value> {
    let stage = mapping(&machines::STAGE_KEYS, &["id"], |key| match key {
        "id" => said("The id that procedures and steps name it by.", declared_id()),
        "name" => said("What the stage is called.", text()),
        "does" => said("What happens in it, in a sentence.", text()),
        "faults" => said("What goes wrong in it, in the words of people who see it.", texts()),
        _ => None,
    });
    mapping(&machines::STAGES_KEYS, &[], |_| said("The stages of the imaging process, in order.", list(Value::Object(stage.clone()), 0)))
}

pub fn approvals() -> Map<String, Value> {
    let approval = mapping(&settings::APPROVAL_KEYS, &settings::APPROVAL_KEYS, |key| match key {
        "procedure" => said("The procedure that was approved.", id()),
        "revision" => said("The revision that was approved.", whole(0, u32::MAX)),
        "digest" => said("The digest of what was reviewed.", text()),
        "by" => said("The role that approved it.", text()),
        "on" => said("The day it was approved.", day()),
        _ => None,
    });
    mapping(&settings::APPROVALS_KEYS, &[], |_| {
        said("Which revision of which procedure was approved.", list(Value::Object(approval.clone()), 0))
    })
}

pub fn leaflet() -> Map<String, Value> {
    mapping(&page::KEYS, &[], |key| match key {
        "title" => said("What the page is called; left out, its first heading.", text()),
        "order" => said("Where it stands among the leaflets; smaller is earlier.", json!({ "type": "integer" })),
        _ => None,
    })
}
