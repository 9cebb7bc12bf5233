//! The faults in the follower's data: their weights, which ways each of them gives, and what their cures may take.

use serde_json::{Value, json};
use stepward::read::read;
use stepward::render::flow_data::flow_data;
use stepward::text::folder::Folder;
use stepward::text::id::Id;

const MARKS: &str = "\
---
title: Marks
tools: [steel rule, soft cloth]
supplies: [transfer roller, cleaning fluid, label]
faults:
  nick:  { name: Nick in the roller, weight: 2.5 }
  dirt:  { name: Dirt, weight: 4 }
  other: { name: Anything else }
steps:
  look:
    ask: Is there a nick?
    answers:
      - { answer: \"Yes\", then: replace, when: { nick: 0.8, dirt: 0.25 } }
      - { answer: \"No\", then: wipe, when: rest }
    unsure: gap
  gap:
    measure: Length of the mark, by the steel rule
    unit: mm
    from: 1
    to: 9
    bands:
      - { below: 4, then: wipe, when: [dirt, other] }
      - { then: replace }
    unsure: stop
  replace: { do: Replace the transfer rollers, cures: [nick], then: check }
  wipe: { do: Wipe the roller, cures: [dirt], then: check }
  check:
    ask: Is it gone?
    at-most: 2
    otherwise: stop
    answers:
      - { answer: \"Yes\", then: close, when: [fixed] }
      - { answer: \"No\", then: look, when: [not-fixed] }
    unsure: stop
  close: { do: Close the call, outcome: fixed }
  stop: { do: Hand over, outcome: handed-over }
---

## Wipe {#wipe}

Use the soft cloth, and never the label.
";

fn faults_of(text: &str) -> (Value, String) {
    let (library, _) = read(&Folder::of([("library.yaml", "title: Larkmere Libraries\n"), ("procedures/marks.md", text)]));
    let data = flow_data(&library, library.procedure(&Id::from("marks")).expect("it is read"));
    (data["faults"].clone(), data["edition"].to_string())
}

#[test]
fn weights_and_chances_are_as_written() {
    let (faults, _) = faults_of(MARKS);
    let known = json!([
        { "id": "nick", "name": "Nick in the roller", "weight": "2.5" },
        { "id": "dirt", "name": "Dirt", "weight": "4" },
        { "id": "other", "name": "Anything else", "weight": "1" },
    ]);
    assert_eq!(faults["known"], known);
    assert_eq!(faults["gives"]["look"], json!([{ "nick": "0.8", "dirt": "0.25" }, "rest", null]));
    assert_eq!(faults["gives"]["gap"], json!([{ "dirt": "1", "other": "1" }, null, null]));
    assert_eq!(faults["gives"]["check"], json!([null, { "fixed": "1" }, { "not-fixed": "1" }, null]));
    assert_eq!(faults["gives"].as_object().map(serde_json::Map::len), Some(3), "steps that say nothing of faults are left out");
}

#[test]
fn what_is_brought_is_found_in_the_words_of_the_cures() {
    let (faults, _) = faults_of(MARKS);
    let bring = json!([
        { "name": "steel rule", "cures": [] },
        { "name": "soft cloth", "cures": ["dirt"] },
        { "name": "transfer roller", "cures": ["nick"] },
        { "name": "cleaning fluid", "cures": [] },
        { "name": "label", "cures": ["dirt"] },
    ]);
    assert_eq!(faults["bring"], bring);
    // A tool that is needed to find the fault is brought whatever the fault.
    let (faults, _) = faults_of(&MARKS.replace("Is there a nick?", "Is there a nick under the soft cloth?"));
    assert_eq!(faults["bring"][1], json!({ "name": "soft cloth", "cures": [] }));
}

#[test]
fn a_weight_that_is_mended_ends_no_run() {
    let (before, edition) = faults_of(MARKS);
    let (after, same) = faults_of(&MARKS.replace("weight: 4", "weight: 5").replace("nick: 0.8", "nick: 0.7"));
    assert_ne!(before, after);
    assert_eq!(edition, same);
    assert_ne!(edition, faults_of(&MARKS.replace("Is it gone?", "Is it really gone?")).1);
}
