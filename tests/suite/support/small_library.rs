//! A small library written as model values: every kind of step, one task, one withdrawn and one nasty procedure. All figures are demo values.

use stepward::analyse::Verdict;
use stepward::analyse::gate::{Cleared, clear};
use stepward::finding::Findings;
use stepward::model::body::{Body, Heading, Section};
use stepward::model::catalogue::{Catalogue, Condition, Hazard, Part, Person, Takes};
use stepward::model::equipment::{Equipment, Model, Stage};
use stepward::model::library::{Leaflet, Library, Settings};
use stepward::model::procedure::{Kind, Procedure, Status};
use stepward::model::step::{
    Action, Answer, Band, ByModel, CarryOut, Effects, Limit, LimitValue, Match, Measurement, NamedWay, Question, Reading, Sorting, Step,
    StepKind, When,
};
use stepward::text::id::Id;
use stepward::text::place::{At, FileId, Place};
use stepward::text::quantity::{Quantity, Unit, decimal};

pub fn at<T>(value: T) -> At<T> {
    At::new(value, Place::default())
}

pub fn text(value: &str) -> At<String> {
    at(value.to_owned())
}

pub fn id(value: &str) -> At<Id> {
    at(Id::from(value))
}

fn ids(values: &[&str]) -> Vec<At<Id>> {
    values.iter().map(|value| id(value)).collect()
}

fn texts(values: &[&str]) -> Vec<At<String>> {
    values.iter().map(|value| text(value)).collect()
}

fn number(value: &str) -> At<rust_decimal::Decimal> {
    at(decimal(value).expect("a plain number"))
}

fn unit(value: &str) -> At<Unit> {
    at(Unit::parse(value).expect("a unit of the list"))
}

/// A step of a kind, with nothing else said.
pub fn step(name: &str, kind: StepKind) -> Step {
    Step {
        id: Id::from(name),
        at: Place::default(),
        kind,
        seconds: None,
        cost: None,
        cautions: Vec::new(),
        touches: Vec::new(),
        exposes: Vec::new(),
        not_touching: Vec::new(),
        not_changing: Vec::new(),
        requires: Vec::new(),
        least: None,
        stage: None,
        picture: None,
        words_of: None,
        cures: Vec::new(),
        at_most: None,
        otherwise: None,
    }
}

pub fn ask(words: &str, answers: Vec<Answer>, unsure: &str) -> StepKind {
    StepKind::Ask(Question { text: text(words), answers: in_file_order(answers), unsure: Some(At::new(Id::from(unsure), later(90))) })
}

/// Ways are told apart by where they stand; a hand-made library has to say so.
fn in_file_order(answers: Vec<Answer>) -> Vec<Answer> {
    answers.into_iter().zip(1..).map(|(answer, n)| Answer { at: later(n), ..answer }).collect()
}

fn later(n: u32) -> Place {
    Place { start: n, ..Place::default() }
}

pub fn answer(words: &str, then: &str) -> Answer {
    let effects = Effects::default();
    Answer { at: Place::default(), text: Some(text(words)), then: Some(id(then)), effects, person: None, when: When::Unsaid }
}

fn action(words: &str) -> Action {
    Action { text: text(words), then: None, outcome: None, refer_to: None, wait: None, wait_for: None, effects: Effects::default() }
}

pub fn doing(words: &str, then: &str) -> StepKind {
    StepKind::Do(Action { then: Some(id(then)), ..action(words) })
}

pub fn ending(words: &str, outcome: &str) -> StepKind {
    StepKind::Do(Action { outcome: Some(id(outcome)), ..action(words) })
}

fn carry_out(procedure: &str, outcomes: &[(&str, &str)]) -> StepKind {
    let ways = outcomes.iter().zip(1..).map(|((name, then), n)| {
        let name = At::new(Id::from(*name), later(n));
        NamedWay { name, then: Some(id(then)), when: When::Unsaid }
    });
    StepKind::CarryOut(CarryOut { procedure: id(procedure), name: None, outcomes: ways.collect() })
}

fn measuring(words: &str, unit_text: &str, (from, to): (&str, &str), sorting: Sorting) -> Measurement {
    Measurement {
        text: text(words),
        unit: Some(unit(unit_text)),
        from: Some(number(from)),
        to: Some(number(to)),
        sorting,
        readings: Vec::new(),
        formula: None,
        unsure: Some(At::new(Id::from("hand-over"), later(90))),
    }
}

fn band(limit: Option<(bool, LimitValue)>, then: &str, sets: &[&str], n: u32) -> Band {
    let limit = limit.map(|(inside, value)| at(Limit { inside, value }));
    Band { at: later(n), limit, then: Some(id(then)), effects: Effects { clears: Vec::new(), sets: ids(sets) }, when: When::Unsaid }
}

fn below(value: &str) -> Option<(bool, LimitValue)> {
    Some((false, LimitValue::Number(decimal(value).expect("a plain number"), None)))
}

fn up_to(value: &str) -> Option<(bool, LimitValue)> {
    Some((true, LimitValue::Number(decimal(value).expect("a plain number"), None)))
}

/// A body cut at `## Heading {#id}` lines, as reading does.
pub fn body(file: FileId, markdown: &str) -> Body {
    let mut sections: Vec<Section> = Vec::new();
    let mut introduction = Section { range: 0..markdown.len(), ..Section::default() };
    let mut offset = 0;
    for line in markdown.split_inclusive('\n') {
        if let Some((heading, rest)) = line.strip_prefix("## ").and_then(|rest| rest.split_once(" {#")) {
            let name = rest.trim_end().trim_end_matches('}');
            match sections.last_mut() {
                Some(section) => section.range.end = offset,
                None => introduction.range.end = offset,
            }
            sections.push(Section { id: Some(id(name)), heading: heading.to_owned(), range: offset..markdown.len(), ..Section::default() });
        } else if let Some(heading) = line.strip_prefix("# ") {
            introduction.headings.push(Heading { level: 1, text: heading.trim().to_owned(), id: None, at: Place::default() });
        }
        offset += line.len();
    }
    Body { file, start: 0, markdown: markdown.to_owned(), introduction, sections }
}

pub fn procedure(library: &mut Library, name: &str, title: &str, steps: Vec<Step>, markdown: &str) -> Procedure {
    let file = library.sources.add(format!("procedures/{name}.md"), markdown);
    Procedure {
        id: Id::from(name),
        at: Place::top(file),
        title: Some(text(title)),
        summary: None,
        symptoms: Vec::new(),
        codes: Vec::new(),
        stages: Vec::new(),
        tools: Vec::new(),
        supplies: Vec::new(),
        kind: Kind::FaultFinding,
        equipment: None,
        person: Person::Ordinary,
        status: Status::Released,
        revision: Some(at(3)),
        owner: Some(text("field service")),
        review_by: Some(at(jiff::civil::date(2027, 6, 30))),
        replaced_by: None,
        withdrawn_because: None,
        requires: Vec::new(),
        outcomes: None,
        not_touching: Vec::new(),
        faults: Vec::new(),
        waivers: Vec::new(),
        start: None,
        steps,
        body: body(file, markdown),
    }
}

fn condition(name: &str, title: &str) -> Condition {
    Condition {
        id: Id::from(name),
        at: Place::default(),
        name: Some(text(title)),
        clears: Vec::new(),
        words: Vec::new(),
        tried_out: false,
        after: None,
        takes: None,
        shown_by: None,
        must_clear: false,
    }
}

fn hazard(name: &str, title: &str, signal: &str, sign: &str, texts: [&str; 4]) -> Hazard {
    let [place, nature, consequence, avoid] = texts;
    Hazard {
        id: Id::from(name),
        at: Place::default(),
        name: Some(text(title)),
        kind: None,
        where_at: Some(text(place)),
        signal_word: Some(text(signal)),
        sign: Some(text(sign)),
        nature: Some(text(nature)),
        consequence: Some(text(consequence)),
        avoid: Some(text(avoid)),
        spoken: None,
        requires: Vec::new(),
        returns_with: Vec::new(),
        least: None,
        words: Vec::new(),
        no_control_because: None,
    }
}

fn catalogue() -> Catalogue {
    let cooled =
        Condition { after: Some(id("isolated")), takes: Some(at(Takes::Seconds(1800))), ..condition("cooled", "Fuser below 48 °C") };
    let toner = hazard(
        "toner-dust",
        "Toner dust",
        "caution",
        "M016",
        [
            "around the drum and the waste box",
            "Loose toner rises as fine dust when the drum moves.",
            "Irritated eyes and airways.",
            "Wear a mask, move slowly, and never blow the dust away.",
        ],
    );
    let hot = hazard(
        "hot-fuser",
        "Hot fuser",
        "warning",
        "W017",
        [
            "rear of the paper path",
            "The fuser is near 190 °C in use and keeps its heat for half an hour.",
            "Burns to hands and arms.",
            "Unplug the machine and let the fuser cool before you reach in.",
        ],
    );
    let shock = hazard(
        "mains-inlet",
        "Mains voltage",
        "danger",
        "W012",
        [
            "behind the left cover",
            "The inlet carries mains voltage while the plug is in.",
            "Touching it will kill.",
            "Pull the plug and keep it in sight.",
        ],
    );
    let glass = hazard(
        "drum-surface",
        "Drum surface",
        "notice",
        "P010",
        ["under the top cover", "Skin grease marks the drum for good.", "Every print shows the mark.", "Hold the drum by its ends."],
    );
    Catalogue {
        conditions: vec![condition("isolated", "Mains plug out, in sight, and tried"), cooled, condition("mains-on", "Power restored")],
        hazards: vec![
            toner,
            Hazard { requires: ids(&["isolated", "cooled"]), least: Some(at(Person::Skilled)), ..hot },
            Hazard { requires: ids(&["isolated"]), least: Some(at(Person::Skilled)), ..shock },
            glass,
        ],
        parts: vec![
            Part {
                id: Id::from("fuser"),
                at: Place::default(),
                name: Some(text("Fuser unit")),
                hazards: ids(&["hot-fuser"]),
                words: Vec::new(),
            },
            Part {
                id: Id::from("drum"),
                at: Place::default(),
                name: Some(text("Drum")),
                hazards: ids(&["toner-dust", "drum-surface"]),
                words: Vec::new(),
            },
        ],
        ..Catalogue::default()
    }
}

fn equipment() -> Equipment {
    let quantity = |value: &str| at(Quantity::parse(value).expect("a quantity"));
    let model = |name: &str, title: &str, memory: &str, drum: &str, fuser: &str| Model {
        id: Id::from(name),
        at: Place::default(),
        name: Some(text(title)),
        figures: vec![(id("memory"), quantity(memory)), (id("resolution"), quantity("600 dpi"))],
        repeats: vec![(id("drum"), quantity(drum)), (id("fuser"), quantity(fuser))],
    };
    Equipment {
        models: vec![
            model("mono-desk", "Alder 20, desk-side mono", "128 MB", "75.4 mm", "56.5 mm"),
            model("colour-floor", "Rowan 60, floor-standing colour", "512 MB", "94.2 mm", "88 mm"),
        ],
        ..Equipment::default()
    }
}

fn stages() -> Vec<Stage> {
    let stage = |name: &str, title: &str, does: &str, faults: &[&str]| Stage {
        id: Id::from(name),
        at: Place::default(),
        name: Some(text(title)),
        does: Some(text(does)),
        faults: texts(faults),
    };
    vec![
        stage("charging", "Charging", "A roller or wire lays an even charge on the drum.", &["grey ground over the whole sheet"]),
        stage("transferring", "Transferring", "A charge behind the paper pulls the toner off the drum.", &["pale patches on damp paper"]),
        stage("fusing", "Fusing", "Heat and pressure melt the toner into the paper.", &["toner rubs off", "marks at the fuser's distance"]),
    ]
}

const MARKS_WORDS: &str = "Keep three sheets that show the mark. They go with the machine to whoever comes next.[^sheets]

[^sheets]: Write the date on them.

## Measure the gap {#gap}

Lay the rule along the feed and measure from the middle of one mark to the middle of the next.

#### Which sheet {#which-sheet}

Take the second one, see [the question](#look), [this heading](#which-sheet), [the task](isolate.md#unplug), [the glossary](../leaflets/words.md), [a word in it](../leaflets/words.md#nip) and
[nothing](gone.md). <b onclick=\"x()\">Raw</b> text stays text; so does [this](javascript:alert(1)).

| Distance | Part |
| ---: | --- |
| 56.5 mm | fuser |
| 75.4 mm | drum |

## Take the drum out {#drum}

1. Open the top cover.
2. Hold the drum by its ends.[^ends]

![The drum held at both ends](../pictures/drum ends.png)

[^ends]: Gloves help.
";

fn marks(library: &mut Library) -> Procedure {
    let gap = measuring(
        "Distance between one mark and the next",
        "mm",
        ("5", "400"),
        Sorting::Bands(vec![band(below("65"), "technician", &[], 1), band(None, "drum", &[], 2)]),
    );
    let temperature = measuring(
        "Temperature at the fuser cover",
        "°C",
        ("0", "300"),
        Sorting::Bands(vec![band(up_to("48"), "replace-fuser", &["cooled"], 1), band(None, "cool", &[], 2)]),
    );
    let mut memory = measuring(
        "Memory the page needs",
        "MB",
        ("0", "5000"),
        Sorting::Bands(vec![
            band(Some((true, LimitValue::Figure(Id::from("memory")))), "test-page", &[], 1),
            band(None, "hand-over", &[], 2),
        ]),
    );
    memory.readings = vec![Reading {
        id: Id::from("width"),
        at: Place::default(),
        ask: Some(text("Printable width")),
        unit: Some(unit("mm")),
        from: Some(number("50")),
        to: Some(number("450")),
        whole: true,
    }];
    memory.formula = Some(text("width / 25.4 * resolution / 8e6"));
    let part =
        |name: &str, then: &str, n: u32| NamedWay { name: At::new(Id::from(name), later(n)), then: Some(id(then)), when: When::Unsaid };
    let matched = measuring(
        "Distance, measured again over five marks",
        "mm",
        ("5", "400"),
        Sorting::Match(Box::new(Match {
            at: Place::default(),
            table: Some(id("repeats")),
            within: Some(number("1.5")),
            parts: vec![part("drum", "drum", 1), part("fuser", "technician", 2)],
            several: Some(part("several", "hand-over", 3)),
            none: Some(part("none", "hand-over", 4)),
        })),
    );
    let trained = Answer { person: Some(at(Person::Skilled)), ..answer("Yes", "make-safe") };
    let by_model = StepKind::ByModel(ByModel {
        at: Place::default(),
        ways: vec![(At::new(Id::from("mono-desk"), later(1)), id("gap"))],
        others: Some(At::new(Id::from("match"), later(2))),
    });
    let mut cool = action("Wait until the heat has gone");
    cool.wait_for = Some(id("cooled"));
    cool.then = Some(id("replace-fuser"));
    let steps = vec![
        Step {
            seconds: Some(at(120)),
            at_most: Some(at(2)),
            otherwise: Some(At::new(Id::from("hand-over"), later(99))),
            ..step(
                "look",
                ask(
                    "Is the mark at the same distance each time?",
                    vec![answer("Yes", "which"), answer("No <or \"hard\" to say> & so on", "memory")],
                    "hand-over",
                ),
            )
        },
        step("which", by_model),
        step("gap", StepKind::Measure(Box::new(gap))),
        step("match", StepKind::Measure(Box::new(matched))),
        step("technician", ask("Is a trained technician at the machine now?", vec![trained, answer("No", "hand-over")], "hand-over")),
        step("make-safe", carry_out("isolate", &[("done", "temperature"), ("not-done", "leave-off")])),
        step("temperature", StepKind::Measure(Box::new(temperature))),
        step("cool", StepKind::Do(cool)),
        Step {
            touches: ids(&["fuser"]),
            cautions: ids(&["toner-dust", "hot-fuser", "mains-inlet"]),
            exposes: ids(&["mains-inlet"]),
            seconds: Some(at(900)),
            ..step("replace-fuser", doing("Replace the fuser unit", "check-fuser"))
        },
        Step { touches: ids(&["fuser"]), ..step("check-fuser", doing("Close the fuser latch and pull at it", "test-page")) },
        Step {
            touches: ids(&["drum"]),
            cautions: ids(&["drum-surface", "toner-dust"]),
            picture: Some(text("pictures/drum ends.png")),
            ..step("drum", doing("Replace the drum", "test-page"))
        },
        step("memory", StepKind::Measure(Box::new(memory))),
        Step {
            words_of: Some(id("gap")),
            ..step("test-page", ask("Are three test pages clean?", vec![answer("Yes", "close"), answer("No", "look")], "hand-over"))
        },
        step("close", ending("Record the part and the page counter and close the call", "fixed")),
        step("hand-over", ending("Keep the test pages and book a field visit", "handed-over")),
        step("leave-off", ending("Open nothing. Tag the machine and have the outlet switched off", "out-of-service")),
    ];
    let plain = procedure(library, "marks-repeat", "Marks repeat down the page", steps, MARKS_WORDS);
    Procedure {
        summary: Some(text("The same mark comes back at an even distance. Measure it to find the part.")),
        symptoms: texts(&["repeating marks", "spots at an even distance"]),
        codes: texts(&["1203", "77"]),
        stages: ids(&["transferring", "fusing"]),
        tools: texts(&["steel rule"]),
        ..plain
    }
}

fn isolate(library: &mut Library) -> Procedure {
    let mut tried = answer("Nothing stirs", "gone");
    tried.effects.sets = ids(&["isolated"]);
    let steps = vec![
        Step { cautions: ids(&["mains-inlet"]), ..step("unplug", doing("Switch the machine off and pull the mains plug", "try")) },
        step("try", ask("Press the power button. Does anything stir?", vec![tried, answer("Something stirs", "stuck")], "stuck")),
        step("gone", ending("Keep the plug in sight", "done")),
        step("stuck", ending("Stop here", "not-done")),
    ];
    let plain = procedure(library, "isolate", "Make the machine safe", steps, "Nobody else may work on the machine meanwhile.\n");
    Procedure { kind: Kind::Task, summary: Some(text("Power off, plug out, tried.")), ..plain }
}

/// A task that may begin only while something holds, one procedure that is gone, and one whose texts try to break the page.
fn others(library: &mut Library) -> Vec<Procedure> {
    let inner = vec![step("open", doing("Open the rear door", "end")), step("end", ending("Report", "done"))];
    let inner = procedure(library, "open-rear", "Open the rear door", inner, "");
    let gone = procedure(library, "old-way", "Clean the corona by hand", Vec::new(), "");
    let nasty_words = "<!-- --><script>alert(1)</script>\n\n# Big\n\n###### Small\n";
    let end = step("end", ending("</script><!-- \u{2028} & done", "no-fault"));
    let nasty = procedure(library, "nasty", "A \"title\" </title><script> & 'more' 😀", vec![end], nasty_words);
    vec![
        Procedure { kind: Kind::Task, requires: ids(&["isolated"]), ..inner },
        Procedure {
            status: Status::Withdrawn,
            withdrawn_because: Some(text("It told people to work on a live machine.")),
            replaced_by: Some(id("marks-repeat")),
            ..gone
        },
        Procedure { symptoms: texts(&["<img src=x onerror=alert(1)>"]), review_by: Some(at(jiff::civil::date(2026, 1, 1))), ..nasty },
    ]
}

fn leaflet(library: &mut Library, path: &str, markdown: &str) -> Leaflet {
    let file = library.sources.add(path, markdown);
    let name = path.rsplit('/').next().unwrap_or(path).trim_end_matches(".md");
    Leaflet { id: Id::from(name), at: Place::top(file), title: None, order: None, body: body(file, markdown) }
}

pub fn library() -> Library {
    let mut library = Library {
        settings: Settings {
            title: Some(text("Larkmere Libraries, print rooms")),
            roles: texts(&["field service", "safety"]),
            ..Settings::default()
        },
        catalogue: catalogue(),
        equipment: equipment(),
        stages: stages(),
        ..Library::default()
    };
    let mut procedures = vec![marks(&mut library), isolate(&mut library)];
    procedures.extend(others(&mut library));
    procedures.sort_by(|left, right| left.id.cmp(&right.id));
    library.procedures = procedures.into_iter().collect();
    let stop = "# Stop\n\n## Smoke or fire {#smoke}\n\nLeave the room. Close the door. Call the fire brigade.\n\n## Shock\n\nPull the plug first. Then call for help.\n";
    library.stop_card = Some(leaflet(&mut library, "stop.md", stop));
    let words = "# Words we use\n\nThe [stop card](../stop.md), [smoke](../stop.md#smoke) and the [first procedure](../procedures/marks-repeat.md#gap).\n\n## Nip {#nip}\n\nWhere two rollers meet.\n";
    library.leaflets = vec![leaflet(&mut library, "leaflets/words.md", words)];
    library.pictures.insert("pictures/drum ends.png".to_owned());
    library
}

/// Through the gate, as a library without findings goes.
pub fn cleared(library: Library, unreleased: bool) -> Cleared<Library> {
    let verdict = Verdict { library, findings: Findings::default(), not_analysed: Vec::new() };
    match clear(&verdict, unreleased) {
        Ok(cleared) => cleared,
        Err(findings) => panic!("the gate stays shut: {findings:?}"),
    }
}
