//! Steps: a schema for each of the five kinds, chosen by the key that tells the kind.

use serde_json::{Map, Value, json};

use crate::read::schema::measurement::{matching, readings};
use crate::read::schema::shape::{absent, both, mapping, present, said, together, when};
use crate::read::schema::value::{amount, id, id_or, ids, number, person, reasons, text, unit, wait, whole};
use crate::read::schema::way::{answers, bands, named_way};
use crate::read::step::{KEYS, KIND_KEYS, Kinds};

/// Working time of one step, in minutes: a year.
const LONGEST: u32 = 527_040;

/// The step, and each of its kinds under a name of its own.
pub fn parts() -> Map<String, Value> {
    let name = |key: &str| format!("step-{key}");
    let choices = KIND_KEYS.iter().map(|(key, ..)| {
        let kind = format!("#/$defs/{}", name(key));
        json!({ "if": present(key), "then": { "$ref": kind } })
    });
    let one = KIND_KEYS.iter().map(|(key, ..)| present(key));
    let words = "A step: one of `ask`, `measure`, `do`, `carry-out` and `by-model` tells which of the five kinds it is.";
    let step = json!({
        "description": words,
        "type": "object",
        "anyOf": one.collect::<Vec<_>>(),
        "allOf": choices.collect::<Vec<_>>()
    });
    let kinds = KIND_KEYS.iter().map(|(key, kind, _)| (name(key), Value::Object(of_kind(key, *kind))));
    std::iter::once(("step".to_owned(), step)).chain(kinds).collect()
}

fn of_kind(own: &str, kind: Kinds) -> Map<String, Value> {
    let keys: Vec<&str> = KEYS.iter().filter(|(_, on)| on.share(kind)).map(|(key, _)| *key).collect();
    let (required, rules): (&[&str], Vec<Value>) = match own {
        "ask" => (&["ask", "answers", "unsure"], vec![]),
        "measure" => (&["measure", "unit", "from", "to", "unsure"], vec![sorted_one_way(), together("readings", "formula")]),
        "do" => (&["do"], vec![when(&present("outcome"), &absent("then"), &present("then")), referred()]),
        "carry-out" => (&["carry-out", "outcomes"], vec![]),
        _ => (&["by-model"], vec![]),
    };
    let limited = keys.contains(&"at-most").then(|| together("at-most", "otherwise"));
    let mut step = mapping(&keys, required, |key| kind_key(key).or_else(|| way_key(key)).or_else(|| common_key(key)));
    // The key of another kind says nothing as long as it is empty. It stands here, and not among the keys, so that no editor offers it.
    let others: Vec<&str> = KIND_KEYS.iter().map(|(key, ..)| *key).filter(|key| *key != own).collect();
    let empty = json!({ "type": ["null", "string"], "pattern": "^\\s*$" });
    step.insert("patternProperties".to_owned(), json!({ format!("^(?:{})$", others.join("|")): empty }));
    let rules: Vec<Value> = rules.into_iter().chain(limited).collect();
    // A list of demands may not be empty.
    if !rules.is_empty() {
        step.insert("allOf".to_owned(), Value::Array(rules));
    }
    step
}

/// `bands` or `match`, and never both.
fn sorted_one_way() -> Value {
    when(&present("match"), &absent("bands"), &present("bands"))
}

/// The outcome `referred` and `refer-to` belong together.
fn referred() -> Value {
    let referred = both(&present("outcome"), &json!({ "properties": { "outcome": { "const": "referred" } } }));
    when(&referred, &present("refer-to"), &absent("refer-to"))
}

fn kind_key(key: &str) -> Option<Value> {
    let ways = json!({ "type": "object", "minProperties": 1, "additionalProperties": named_way() });
    let by_model = json!({ "type": "object", "minProperties": 1, "propertyNames": id_or(&["others"]), "additionalProperties": id() });
    match key {
        "ask" => said("A question, in the words shown.", text()),
        "measure" => said("What is measured or computed, in the words shown.", text()),
        "do" => said("What is done, in the words shown. With `outcome` the flow ends here.", text()),
        "carry-out" => said("The task, another procedure, that is carried out in the place of this step.", id()),
        "by-model" => said("The way on for each machine model, with `others` for the rest.", by_model),
        "answers" => said("What may be answered, two to six, and where each answer leads.", answers()),
        "unsure" => said("The step for somebody who cannot tell.", id()),
        "unit" => said("The unit of the value; `none` for a bare number.", unit()),
        "from" => said("The least value that can be meant; less is refused as a slip of the hand.", number()),
        "to" => said("The greatest value that can be meant; more is refused as a slip of the hand.", number()),
        "bands" => said("How the range is divided, in ascending order, and where each band leads.", bands()),
        "match" => said("Instead of bands: a table of the model that the value is compared with.", matching()),
        "readings" => said("What is read so that the value can be computed: name, and what is asked.", readings()),
        "formula" => said("How the value is computed from readings and figures of the model.", text()),
        "outcomes" => said("Where it goes on for every outcome that the task can end with.", ways),
        "name" => said("What the step is called; left out, the title of the task.", text()),
        _ => None,
    }
}

fn way_key(key: &str) -> Option<Value> {
    match key {
        "then" => said("The step it goes on with.", id()),
        // Which outcomes there are depends on the kind of procedure: the whole front matter says.
        "outcome" => said("How the flow ends here. Not together with `then`.", id_or(&["fixed"])),
        "refer-to" => said(
            "With the outcome `referred`: the procedure to go to, or `by-code` for the one that lists the panel code.",
            id_or(&["by-code"]),
        ),
        "wait" => said("How long to wait before the step is done: `90 s`, `30 min`, `1 h`; at most 4 hours.", wait()),
        "wait-for" => said("The condition of the safety catalogue that is waited for.", id()),
        "sets" => said("Conditions of the safety catalogue that hold once this is done.", ids()),
        "clears" => said("Conditions of the safety catalogue that no longer hold once this is done.", ids()),
        "cures" => said("Faults that are cured by this step.", ids()),
        "at-most" => said("How often the step may be carried out, 1 to 99; after that the flow goes to `otherwise`.", whole(1, 99)),
        "otherwise" => said("The step to go to once `at-most` is used up.", id()),
        _ => None,
    }
}

fn common_key(key: &str) -> Option<Value> {
    let minutes = json!({ "type": "number", "minimum": 0, "maximum": LONGEST });
    match key {
        "minutes" => said("Working time of this one step, in minutes.", minutes),
        "cost" => said("What the step costs in money, in the library's own currency.", amount()),
        "cautions" => said("Hazards whose cautions are shown, and acknowledged, before the words of this step.", ids()),
        "touches" => said("Parts of the safety catalogue that the step touches; each brings its hazards.", ids()),
        "exposes" => said("Hazards the step exposes to beyond those of the parts it touches.", ids()),
        "requires" => said("Conditions that must hold when the step begins, beyond those its hazards require.", ids()),
        "least" => said("The least qualified person who may do it.", person()),
        "stage" => said("The stage of the imaging process that the step is about.", text()),
        "picture" => said("A picture below `pictures/` that is shown with the step.", text()),
        "words-of" => said("Another step whose section holds the words of this one.", id()),
        "not-touching" => {
            said("Parts that the words name and the step does not touch, each with the reason; the review shows it.", reasons())
        }
        "not-changing" => said(
            "Conditions whose change the words seem to make and the step does not, each with the reason; the review shows it.",
            reasons(),
        ),
        _ => None,
    }
}
