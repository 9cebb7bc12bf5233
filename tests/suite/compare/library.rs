//! A small library in which one edit makes one kind of change. All figures are demo values.

pub const SETTINGS: &str = "title: Larkmere print rooms\nlanguage: en\nroles: [field service, safety]\noffline-days: 14\n";

pub const SAFETY: &str = "conditions:
  mains-on:
    name: Power is back
    clears: [isolated]
    words: [restore power]
  isolated:
    name: Plug out and tried
    tried-out: true
  cooled:
    name: Fuser cool
    after: isolated
    takes: 30 min
    shown-by: { unit: °C, up-to: 48 }
  bridged:
    name: Switch bridged
    must-clear: true
hazards:
  hot-fuser:
    name: Hot fuser
    kind: hot-surface
    place: rear
    signal-word: warning
    sign: W017
    nature: The fuser is hot.
    consequence: Burns.
    avoid: Let it cool.
    requires: [isolated, cooled]
    returns-with: [mains-on]
    least: skilled
    words: [hot roller]
  toner:
    name: Toner dust
    kind: dust
    place: bay
    signal-word: caution
    sign: W001
    nature: Dust flies.
    consequence: It stings.
    avoid: Keep your face away.
parts:
  fuser: { name: Fuser unit, hazards: [hot-fuser], words: [fuser unit] }
  drum: { name: Drum, hazards: [toner], words: [drum] }
caution-within: { steps: 5, minutes: 15 }
";

pub const EQUIPMENT: &str = "models:
  desk:
    name: Tarnwood D30
    figures: { widest: 90 mm }
    repeats: { drum: 75.4 mm }
  floor:
    name: Tarnwood S60
    figures: { widest: 95 mm }
    repeats: { drum: 94.2 mm }
";

pub const STAGES: &str = "stages:
  - { id: fusing, name: Fusing, does: melts toner, faults: [smears] }
";

pub const STOP: &str = "# Stop\n\nCall the fire service.\n";

pub const TASK: &str = "---
title: Make safe
kind: task
for: ordinary
status: released
revision: 1
owner: safety
review-by: 2027-06-30
steps:
  pull: { do: Pull the plug, minutes: 1, then: try }
  try:
    ask: Press the switch. Does anything move?
    answers:
      - { answer: No movement, then: done, sets: [isolated] }
      - { answer: It moves, then: not-done }
    unsure: not-done
  done: { do: Go on, outcome: done }
  not-done: { do: Leave it, outcome: not-done }
---
The task comes first.

## Pull {#pull}

Hold the plug by its body.
";

pub const MARKS: &str = "---
title: Marks repeat down the page
summary: The same mark comes back.
symptoms: [repeating marks]
codes: [\"1203\"]
for: ordinary
status: released
revision: 1
owner: field service
review-by: 2027-06-30
tools: [steel rule]
faults:
  nick: { name: Nick in the surface, weight: 40 }
  scar: { name: Scar on the roller, weight: 25 }
steps:
  look:
    ask: Is the mark at the same distance each time?
    minutes: 2
    answers:
      - { answer: \"Yes\", then: gap, when: rest }
      - { answer: \"No\", then: hand-over }
    unsure: hand-over
  gap:
    measure: Distance between marks
    unit: mm
    from: 5
    to: 400
    bands:
      - { below: 65, then: technician, when: [scar] }
      - { then: drum, when: [nick] }
    unsure: hand-over
  technician:
    ask: Is a trained technician here?
    answers:
      - { answer: \"Yes\", then: safe, person: skilled }
      - { answer: \"No\", then: hand-over }
    unsure: hand-over
  safe: { carry-out: isolate, outcomes: { done: cool, not-done: leave } }
  cool:
    do: Wait until it is cool
    wait-for: cooled
    then: replace
  replace:
    do: Replace the fuser unit
    touches: [fuser]
    cautions: [hot-fuser]
    requires: [isolated]
    least: skilled
    cures: [scar]
    minutes: 15
    cost: 3
    then: leave
  drum:
    do: Change the drum
    touches: [drum]
    cautions: [toner]
    cures: [nick]
    then: rest-a-while
  rest-a-while: { do: Let the dust settle, wait: 10 min, then: test }
  test:
    ask: Are three pages clean?
    at-most: 2
    otherwise: hand-over
    answers:
      - { answer: \"Yes\", then: close, when: [fixed] }
      - { answer: \"No\", then: look, when: [not-fixed] }
    unsure: hand-over
  close: { do: Close the call, outcome: fixed }
  hand-over: { do: Book a visit, outcome: handed-over }
  leave: { do: Tag the machine, outcome: out-of-service }
---
This is about marks.

## Look {#look}

Lay two pages side by side.

## Change the drum {#drum}

Take it out by its green handle. Keep it from light.

- under a cloth
- in its bag
";

pub const FILES: [(&str, &str); 7] = [
    ("library.yaml", SETTINGS),
    ("safety.yaml", SAFETY),
    ("equipment.yaml", EQUIPMENT),
    ("stages.yaml", STAGES),
    ("stop.md", STOP),
    ("procedures/isolate.md", TASK),
    ("procedures/marks.md", MARKS),
];
