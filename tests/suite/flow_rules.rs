//! The rules of the group *flow* that need no path: each with a library that breaks it and the smallest repair of it.
//!
//! The print rooms, procedures and figures are made up (Larkmere Libraries; demo values).

mod build;
mod marked;

use std::collections::BTreeSet;

use build::{
    act, answer, ask, at, below, by_model, carry, condition, end, id, library, matched, measure, measured, model, nothing, procedure,
    question, reading, refer, released, rest, section, task, up_to, withdrawn,
};
use stepward::finding::Findings;
use stepward::model::catalogue::Person;
use stepward::model::library::Library;
use stepward::model::procedure::Procedure;
use stepward::model::step::{Step, StepKind};
use stepward::rules::{self, Context};

/// Runs the rules and compares: one line a finding, `rule procedure/step subject`, `-` for null, and the models behind it if there are any.
fn check(what: &str, library: &Library, expected: &[&str]) {
    assert_eq!(found(what, library), expected, "{what}");
}

fn findings(library: &Library) -> Findings {
    let misread = BTreeSet::new();
    let today = jiff::civil::date(2026, 6, 1);
    let context = Context { library, today, misread: &misread, remembered: None };
    let mut findings = Findings::default();
    for rule in rules::flow::CHECKS {
        rule(&context, &mut findings);
    }
    findings.sort(&library.sources);
    findings
}

fn found(what: &str, library: &Library) -> Vec<String> {
    let mut found = Vec::new();
    for finding in findings(library).iter() {
        let message = &finding.message;
        assert!(message.chars().count() <= 90 && !message.ends_with('.'), "{what}: {message}");
        assert!(message.chars().next().is_some_and(|c| !c.is_uppercase()), "{what}: {message}");
        assert!(finding.help.is_some(), "{what}: {message} has no help");
        assert!(finding.at.line > 0, "{what}: {message} has no place");
        let or = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        let place =
            format!("{}/{}", or(finding.procedure.as_ref().map(ToString::to_string)), or(finding.step.as_ref().map(ToString::to_string)));
        let models: String = finding.models.iter().map(|model| format!(" @{model}")).collect();
        found.push(format!("{} {place} {}{models}", finding.rule.name, or(finding.subject.clone())));
    }
    found
}

/// A procedure `marks` of these steps and the two endings `close` and `hand-over`.
fn marks(steps: Vec<Step>) -> Procedure {
    procedure("marks", steps.into_iter().chain([end("close", "no-fault"), end("hand-over", "handed-over")]).collect())
}

/// A library of that procedure alone, without models.
fn alone(steps: Vec<Step>) -> Library {
    library(vec![marks(steps)], vec![])
}

fn look() -> Step {
    ask("look", &[("Yes", "close"), ("No", "hand-over")], Some("hand-over"))
}

#[test]
fn a_sound_library_has_no_finding() {
    check("sound", &alone(vec![look()]), &[]);
}

#[test]
fn a_step_is_exactly_one_thing() {
    let mut unclear = look();
    unclear.kind = StepKind::Unclear(vec![]);
    check("none", &alone(vec![unclear.clone()]), &["step-kind-unclear marks/look -"]);
    unclear.kind = StepKind::Unclear(vec![at("ask".to_owned()), at("do".to_owned())]);
    check("two", &alone(vec![unclear]), &["step-kind-unclear marks/look -"]);
}

#[test]
fn every_target_is_a_step() {
    let target = |steps: Vec<Step>, subject: &str| {
        let step = steps[0].id.clone();
        check("target", &alone(steps), &[&format!("unknown-step marks/{step} {subject}")]);
    };
    target(vec![ask("look", &[("Yes", "clos"), ("No", "hand-over")], Some("hand-over"))], "clos");
    target(vec![ask("look", &[("Yes", "close"), ("No", "hand-over")], Some("nowhere"))], "nowhere");
    target(vec![act("go", "gone")], "gone");
    target(vec![measure("gap", "mm", "5", "400", vec![below("65", "close"), rest("far")], "hand-over")], "far");
    let mut step = act("go", "close");
    (step.at_most, step.otherwise) = (Some(at(2)), Some(id("else")));
    target(vec![step], "else");
    let mut step = act("go", "close");
    step.words_of = Some(id("come"));
    target(vec![step], "come");

    let mut started = marks(vec![look()]);
    started.start = Some(id("lok"));
    check("start", &library(vec![started], vec![]), &["unknown-step marks/- lok"]);
    let mut waived = marks(vec![look()]);
    waived.waivers.push(build::waiver("gone"));
    check("waiver", &library(vec![waived], vec![]), &["unknown-step marks/- gone"]);

    let isolate = task("isolate", vec![end("pull", "done")]);
    let caller = marks(vec![carry("safe", "isolate", &[("done", "close"), ("not-done", "leave-off")])]);
    check("outcome", &library(vec![isolate, caller], vec![]), &["unknown-step marks/safe leave-off"]);
    let models = vec![model("mono", &[], &[("drum", "75.4 mm")])];
    let way = marks(vec![by_model("split", &[("mono", "mono-way")], None)]);
    check("by-model", &library(vec![way], models.clone()), &["unknown-step marks/split mono-way"]);
    let table = marks(vec![matched("gap", "mm", &[("drum", Some("drum")), ("none", Some("close"))])]);
    check("match", &library(vec![table], models), &["unknown-step marks/gap drum"]);
}

#[test]
fn every_way_leads_somewhere() {
    let mut step = look();
    question(&mut step).answers[1].then = None;
    check("answer", &alone(vec![step]), &["branch-without-action marks/look No"]);
    let mut step = measure("gap", "mm", "5", "400", vec![below("65", "close"), rest("close")], "hand-over");
    build::bands(&mut step)[0].then = None;
    check("band", &alone(vec![step]), &["branch-without-action marks/gap below 65 mm"]);
    let mut step = act("go", "close");
    build::action(&mut step).then = None;
    check("neither", &alone(vec![step]), &["branch-without-action marks/go -"]);
    let mut step = end("stop", "handed-over");
    build::action(&mut step).then = Some(id("close"));
    check("both", &alone(vec![step]), &["branch-without-action marks/stop -"]);
    let models = vec![model("mono", &[], &[("drum", "75.4 mm")])];
    let table = marks(vec![matched("gap", "mm", &[("drum", Some("close")), ("none", None)])]);
    check("match", &library(vec![table], models), &["branch-without-action marks/gap -"]);
}

#[test]
fn a_limit_and_the_way_after_it_belong_together() {
    let mut step = look();
    step.at_most = Some(at(2));
    check("no otherwise", &alone(vec![step.clone()]), &["otherwise-missing marks/look -"]);
    step.otherwise = Some(id("hand-over"));
    check("both", &alone(vec![step.clone()]), &[]);
    step.at_most = None;
    check("no limit", &alone(vec![step]), &["otherwise-missing marks/look -"]);
}

#[test]
fn nobody_is_forced_to_guess() {
    check("question", &alone(vec![ask("look", &[("Yes", "close"), ("No", "hand-over")], None)]), &["unsure-missing marks/look -"]);
    let mut step = measure("gap", "mm", "5", "400", vec![rest("close")], "hand-over");
    build::measurement(&mut step).unsure = None;
    check("measurement", &alone(vec![step]), &["unsure-missing marks/gap -"]);
}

#[test]
fn who_cannot_tell_is_not_led_where_a_clear_answer_leads() {
    let mut step = ask("tried", &[("Yes", "close"), ("No", "hand-over")], Some("close"));
    check("plain", &alone(vec![step.clone()]), &[]);
    question(&mut step).answers[0].effects.sets.push(id("isolated"));
    check("sets", &alone(vec![step.clone()]), &["unsure-as-clear marks/tried Yes"]);
    question(&mut step).unsure = Some(id("hand-over"));
    check("elsewhere", &alone(vec![step.clone()]), &[]);
    question(&mut step).unsure = Some(id("close"));
    question(&mut step).answers[0].effects.sets.clear();
    question(&mut step).answers[0].person = Some(at(Person::Skilled));
    check("person", &alone(vec![step]), &["unsure-as-clear marks/tried Yes"]);
    let mut step = ask("tried", &[("Yes", "gone"), ("No", "hand-over")], Some("gone"));
    question(&mut step).answers[0].person = Some(at(Person::Skilled));
    check("unknown", &alone(vec![step]), &["unknown-step marks/tried gone", "unknown-step marks/tried gone"]);
    let mut step = measure("heat", "°C", "0", "250", vec![up_to("48", "close"), rest("hand-over")], "close");
    build::bands(&mut step)[0].effects.sets.push(id("cooled"));
    check("band", &alone(vec![step]), &["unsure-as-clear marks/heat up to 48 °C"]);
}

#[test]
fn answers_read_differently() {
    let twice = |second: &str| alone(vec![ask("look", &[("Not yet", "close"), (second, "hand-over")], Some("hand-over"))]);
    check("same", &twice("Not yet"), &["duplicate-answer marks/look Not yet"]);
    check("case and spaces", &twice(" NOT  yet "), &["duplicate-answer marks/look  NOT  yet "]);
    check("other", &twice("Not now"), &[]);
}

#[test]
fn a_question_has_two_to_six_answers() {
    let texts = ["a", "b", "c", "d", "e", "f", "g"];
    let with = |count: usize| {
        let answers: Vec<_> = texts.iter().take(count).map(|text| (*text, "close")).collect();
        alone(vec![ask("look", &answers, Some("hand-over"))])
    };
    check("none", &with(0), &["too-few-answers marks/look -"]);
    check("one", &with(1), &["too-few-answers marks/look -"]);
    check("two", &with(2), &[]);
    check("six", &with(6), &[]);
    check("seven", &with(7), &["too-many-answers marks/look -"]);
}

#[test]
fn somebody_is_asked_who_is_there() {
    let with = |step: &Step| alone(vec![step.clone(), end("leave", "handed-over")]);
    let mut step = ask("look", &[("Yes", "close"), ("No", "hand-over")], Some("leave"));
    question(&mut step).answers[0].person = Some(at(Person::Skilled));
    check("one", &with(&step), &[]);
    question(&mut step).answers[1].person = Some(at(Person::Instructed));
    check("every", &with(&step), &["person-unasked marks/look -"]);
    question(&mut step).answers.push(answer("Nobody", "hand-over"));
    check("one more", &with(&step), &[]);
}

#[test]
fn bands_rise_and_leave_room() {
    let gap = |bands| alone(vec![measure("gap", "mm", "5", "400", bands, "hand-over")]);
    let two = |first| gap(vec![first, rest("hand-over")]);
    check("inside", &two(below("65", "close")), &[]);
    check("below from", &two(below("5", "close")), &["bands-not-ascending marks/gap below 5 mm"]);
    check("up to from", &two(up_to("5", "close")), &[]);
    check("under from", &two(up_to("4.9", "close")), &["bands-not-ascending marks/gap up to 4.9 mm"]);
    check("below to", &two(below("400", "close")), &[]);
    check("up to to", &two(up_to("400", "close")), &["bands-not-ascending marks/gap up to 400 mm"]);
    check("over to", &two(below("400.1", "close")), &["bands-not-ascending marks/gap below 400.1 mm"]);

    let three = |second| gap(vec![below("65", "close"), second, rest("hand-over")]);
    check("above", &three(below("65.01", "close")), &[]);
    check("equal", &three(up_to("65", "close")), &["bands-not-ascending marks/gap up to 65 mm"]);
    check("under", &three(below("64", "close")), &["bands-not-ascending marks/gap below 64 mm"]);
    let four = gap(vec![below("50", "close"), below("40", "close"), below("45", "close"), rest("close")]);
    check("two under", &four, &["bands-not-ascending marks/gap below 40 mm", "bands-not-ascending marks/gap below 45 mm"]);
    check("no limit", &three(rest("close")), &["bands-not-ascending marks/gap the rest"]);
    check("last", &gap(vec![below("65", "close"), below("70", "close")]), &["bands-not-ascending marks/gap below 70 mm"]);
}

#[test]
fn limits_that_are_figures_are_judged_for_each_model() {
    let page = marks(vec![measure("page", "MB", "0", "500", vec![up_to("memory", "close"), rest("hand-over")], "hand-over")]);
    let with = |mono: &str, colour: &str| {
        let models = vec![model("mono", &[("memory", mono)], &[]), model("colour", &[("memory", colour)], &[])];
        library(vec![page.clone()], models)
    };
    check("both inside", &with("128 MB", "499.9 MB"), &[]);
    check("one at the end", &with("128 MB", "500 MB"), &["bands-not-ascending marks/page up to memory @colour"]);
    check("both over", &with("1024 MB", "600 MB"), &["bands-not-ascending marks/page up to memory"]);
    check("other unit", &with("128 MB", "128 MiB"), &["unit-mismatch marks/page memory @colour"]);
    check("other unit, too much", &with("128 MB", "600 MiB"), &["unit-mismatch marks/page memory @colour"]);
    let lacking = library(vec![page.clone()], vec![model("mono", &[("memory", "128 MB")], &[]), model("colour", &[], &[])]);
    check("lacking", &lacking, &["model-uncovered marks/page colour @colour"]);
    check("no models", &library(vec![page], vec![]), &["model-uncovered marks/page -"]);
}

#[test]
fn nothing_is_converted() {
    let gap = |limit: &str| alone(vec![measure("gap", "mm", "5", "400", vec![below(limit, "close"), rest("hand-over")], "hand-over")]);
    check("same unit", &gap("65 mm"), &[]);
    check("other unit", &gap("6.5 cm"), &["unit-mismatch marks/gap cm"]);

    let table = |drum: &str| {
        let step = matched("gap", "mm", &[("drum", Some("close")), ("none", Some("hand-over"))]);
        library(vec![marks(vec![step])], vec![model("mono", &[], &[("drum", drum)])])
    };
    check("table", &table("75.4 mm"), &[]);
    check("table in cm", &table("7.54 cm"), &["unit-mismatch marks/gap repeats"]);

    let takes = |cooling: &str| {
        let mut library = library(vec![marks(vec![look()])], vec![model("mono", &[("cooling", cooling)], &[])]);
        library.catalogue.conditions.push(condition("cooled", "cooling"));
        library
    };
    check("a time", &takes("30 min"), &[]);
    check("no time", &takes("30 mm"), &["unit-mismatch -/- cooling"]);
}

#[test]
fn formulas_are_proved_for_each_model() {
    let with = |formula: &str, models| {
        let readings = vec![reading("width", "0", "450"), reading("dots", "1", "8")];
        library(vec![with_words(marks(vec![measured("page", formula, readings)]), "page")], models)
    };
    let none = |formula: &str| with(formula, vec![]);
    check("sound", &none("width / dots"), &[]);
    check("broken", &none("width / (dots"), &["formula-invalid marks/page -"]);
    check("unknown", &none("width / dotz"), &["formula-invalid marks/page dotz"]);
    check("zero", &none("dots / width"), &["formula-invalid marks/page -"]);
    check("domain", &none("ln(width)"), &["formula-invalid marks/page -"]);
    check("repaired", &none("ln(width + 1)"), &[]);
    check("overflow", &none("exp(width * 2)"), &["formula-invalid marks/page -"]);

    let mono = || model("mono", &[("speed", "30 mm/s")], &[]);
    check("figure", &with("width / speed", vec![mono()]), &[]);
    check(
        "figure 0",
        &with("width / speed", vec![mono(), model("still", &[("speed", "0 mm/s")], &[])]),
        &["formula-invalid marks/page - @still"],
    );
    check("lacking", &with("width / speed", vec![mono(), model("old", &[], &[])]), &["model-uncovered marks/page old @old"]);
    check("twice", &with("width / dots", vec![model("mono", &[("dots", "600 dpi")], &[])]), &["formula-invalid marks/page dots"]);
}

#[test]
fn every_procedure_and_outcome_is_known() {
    let caller = marks(vec![carry("safe", "isolat", &[("done", "close"), ("not-done", "hand-over")])]);
    let isolate = task("isolate", vec![end("pull", "done")]);
    check("carry-out", &library(vec![isolate.clone(), caller], vec![]), &["unknown-procedure marks/safe isolat"]);
    check("refer-to", &alone(vec![refer("on", "lines")]), &["unknown-procedure marks/on lines"]);
    let gone = |successor: &str| library(vec![withdrawn("gone", successor), marks(vec![look()])], vec![]);
    check("replaced-by", &gone("marx"), &["unknown-procedure gone/- marx"]);
    check("replaced", &gone("marks"), &[]);
    check("nothing", &gone("nothing"), &[]);

    check("outcome", &alone(vec![end("stop", "done")]), &["unknown-outcome marks/stop done"]);
    check("of a task", &library(vec![task("isolate", vec![end("pull", "fixed")])], vec![]), &["unknown-outcome isolate/pull fixed"]);
    let mut named = isolate;
    named.outcomes = Some(vec![id("isolated"), id("not-done")]);
    check("own names", &library(vec![named], vec![]), &["unknown-outcome isolate/pull done"]);

    let comes = |target: &str| {
        let mut procedure = marks(vec![look()]);
        procedure.faults.push(build::fault("other", target));
        library(vec![procedure], vec![])
    };
    check("an outcome", &comes("handed-over"), &[]);
    check("an ending", &comes("hand-over"), &[]);
    check("no ending", &comes("look"), &["unknown-outcome marks/- look"]);
}

#[test]
fn a_file_that_cannot_be_read_is_no_unknown_procedure() {
    let mut library = library(vec![released(marks(vec![refer("on", "lines")]))], vec![]);
    let misread = BTreeSet::from([id("lines").value]);
    let run = |library: &Library| {
        let context = Context { library, today: jiff::civil::date(2026, 6, 1), misread: &misread, remembered: None };
        let mut findings = Findings::default();
        rules::flow::CHECKS.iter().for_each(|rule| rule(&context, &mut findings));
        findings.len()
    };
    assert_eq!(run(&library), 0);
    let mut broken = nothing("lines");
    broken.body.sections.push(section("look"));
    library.procedures = [broken].into_iter().chain(library.procedures.iter().cloned()).collect();
    assert_eq!(run(&library), 0);
}

#[test]
fn references_name_a_procedure_and_come_to_an_end() {
    let mut step = refer("on", "lines");
    build::action(&mut step).refer_to = None;
    check("without", &alone(vec![step]), &["refers-nowhere marks/on -"]);
    let lines = || procedure("lines", vec![end("stop", "handed-over")]);
    let mut step = end("stop", "handed-over");
    build::action(&mut step).refer_to = Some(id("lines"));
    check("not referred", &library(vec![lines(), marks(vec![step])], vec![]), &["refers-nowhere marks/stop lines"]);
    check("referred", &library(vec![lines(), marks(vec![refer("on", "lines")])], vec![]), &[]);

    let only = |id: &str, to: &str| procedure(id, vec![refer("on", to)]);
    let circle = library(vec![only("a", "b"), only("b", "a"), only("c", "a")], vec![]);
    check("circle", &circle, &["refers-in-a-circle a/on b", "refers-in-a-circle b/on a", "refers-in-a-circle c/on a"]);
    let coded = |end_step| {
        let mut coded = procedure("b", vec![end_step]);
        coded.codes = vec![at("1203".to_owned())];
        library(vec![only("a", "by-code"), coded], vec![])
    };
    check("by code", &coded(end("stop", "handed-over")), &[]);
    check("by code, back", &coded(refer("on", "a")), &["refers-in-a-circle b/on a", "refers-in-a-circle a/on by-code"]);
    let ending = library(vec![only("a", "b"), procedure("b", vec![end("stop", "handed-over"), refer("on", "a")])], vec![]);
    check("an ending", &ending, &[]);
}

#[test]
fn panel_codes_lead_to_one_procedure() {
    let coded = |id: &str, code: &str| {
        let mut procedure = released(procedure(id, vec![end("stop", "handed-over")]));
        procedure.codes = vec![at(code.to_owned())];
        procedure
    };
    check("shared", &library(vec![coded("a", "1203"), coded("b", "1203")], vec![]), &["code-shared b/- 1203"]);
    check("apart", &library(vec![coded("a", "1203"), coded("b", "1204")], vec![]), &[]);
    let mut draft = coded("b", "1203");
    draft.status = stepward::model::procedure::Status::Draft;
    check("a draft", &library(vec![coded("a", "1203"), draft], vec![]), &[]);
    check("no codes", &alone(vec![refer("on", "by-code")]), &["code-nowhere marks/on by-code"]);
    check("codes", &library(vec![coded("a", "1203"), marks(vec![refer("on", "by-code")])], vec![]), &[]);
}

#[test]
fn procedures_that_carry_each_other_out_are_one_finding_a_circle() {
    let calls = |id: &str, to: &[&str]| {
        let steps = to.iter().map(|to| carry(&format!("to-{to}"), to, &[("done", "pull"), ("not-done", "pull")]));
        task(id, steps.chain([end("pull", "done")]).collect())
    };
    check("itself", &library(vec![calls("a", &["a"])], vec![]), &["procedure-circle a/to-a a"]);
    let three = library(vec![calls("a", &["d", "b"]), calls("b", &["c"]), calls("c", &["a"]), calls("d", &[])], vec![]);
    check("three", &three, &["procedure-circle a/to-b b"]);
    let two = library(vec![calls("a", &["b"]), calls("b", &["a", "c"]), calls("c", &["d"]), calls("d", &["c"])], vec![]);
    check("two circles", &two, &["procedure-circle a/to-b b", "procedure-circle c/to-d d"]);
    check("none", &library(vec![calls("a", &["b", "c"]), calls("b", &["c"]), calls("c", &[])], vec![]), &[]);
}

#[test]
fn nobody_is_led_to_what_is_not_in_force() {
    let caller =
        |status: fn(Procedure) -> Procedure| status(marks(vec![carry("safe", "isolate", &[("done", "close"), ("not-done", "hand-over")])]));
    let isolate = || task("isolate", vec![end("pull", "done")]);
    check("draft to draft", &library(vec![isolate(), caller(|p| p)], vec![]), &[]);
    check("released to draft", &library(vec![isolate(), caller(released)], vec![]), &["leads-to-unreleased marks/safe isolate"]);
    check("released to released", &library(vec![released(isolate()), caller(released)], vec![]), &[]);

    let mut gone = withdrawn("isolate", "isolate-again");
    gone.kind = stepward::model::procedure::Kind::Task;
    let mut again = isolate();
    again.id = id("isolate-again").value;
    let library = library(vec![gone, again, caller(released)], vec![]);
    check("withdrawn", &library, &["leads-to-withdrawn marks/safe isolate"]);
    let chain = vec![withdrawn("isolate", "older"), withdrawn("older", "newest"), task("newest", vec![end("pull", "done")]), caller(|p| p)];
    let help = |library: &Library| findings(library).iter().find_map(|finding| finding.help.clone());
    assert_eq!(help(&build::library(chain, vec![])), Some("lead to `newest`, which replaces it".to_owned()));
    let round = vec![withdrawn("isolate", "older"), withdrawn("older", "isolate"), caller(|p| p)];
    assert_eq!(help(&build::library(round, vec![])), Some("nothing replaces it: lead elsewhere".to_owned()));
    let mut gone = withdrawn("isolate", "nothing");
    gone.equipment = Some(vec![id("mono")]);
    let other = vec![model("mono", &[], &[]), model("colour", &[], &[])];
    check("withdrawn, for one model", &build::library(vec![gone, caller(|p| p)], other), &["leads-to-withdrawn marks/safe isolate"]);
    let older = build::library(vec![withdrawn("older", "old"), withdrawn("old", "nothing")], vec![]);
    check("replaced by a withdrawn one", &older, &["leads-to-withdrawn older/- old"]);
}

#[test]
fn the_steps_of_a_withdrawn_procedure_are_not_judged() {
    let mut gone = withdrawn("gone", "nothing");
    gone.steps = vec![ask("look", &[("Yes", "nowhere")], None), carry("safe", "nobody", &[])];
    gone.body.sections.push(section("old"));
    check("withdrawn", &library(vec![gone], vec![]), &[]);
}

#[test]
fn every_model_is_known_and_covered() {
    let models = || vec![model("mono", &[], &[]), model("colour", &[], &[])];
    let of = |equipment: &[&str], steps| {
        let mut procedure = marks(steps);
        procedure.equipment = Some(equipment.iter().map(|name| id(name)).collect());
        procedure
    };
    check("unknown", &library(vec![of(&["mono", "color"], vec![look()])], models()), &["unknown-model marks/- color"]);
    let lacking = measure("page", "MB", "0", "500", vec![up_to("memory", "close"), rest("close")], "hand-over");
    check("what follows", &library(vec![of(&["color"], vec![lacking])], models()), &["unknown-model marks/- color"]);
    let split = |ways: &[(&str, &str)], others| by_model("split", ways, others);
    check(
        "unknown way",
        &library(vec![marks(vec![split(&[("mon", "close")], Some("close"))])], models()),
        &["unknown-model marks/split mon"],
    );
    check(
        "one way",
        &library(vec![marks(vec![split(&[("mono", "close")], None)])], models()),
        &["model-uncovered marks/split colour @colour"],
    );
    check("others", &library(vec![marks(vec![split(&[("mono", "close")], Some("close"))])], models()), &[]);
    check("not for it", &library(vec![of(&["mono"], vec![split(&[("mono", "close")], None)])], models()), &[]);

    let mut isolate = task("isolate", vec![end("pull", "done")]);
    isolate.equipment = Some(vec![id("mono")]);
    let safe = || carry("safe", "isolate", &[("done", "close"), ("not-done", "hand-over")]);
    check("callee", &library(vec![isolate.clone(), marks(vec![safe()])], models()), &["model-uncovered marks/safe colour @colour"]);
    check("alike", &library(vec![isolate, of(&["mono"], vec![safe()])], models()), &[]);

    let table = |repeats: &[(&str, &str)]| {
        let step = matched("gap", "mm", &[("drum", Some("close")), ("none", Some("hand-over"))]);
        library(vec![marks(vec![step])], vec![model("mono", &[], repeats)])
    };
    check("part", &table(&[("fuser", "56.5 mm")]), &["model-uncovered marks/gap mono"]);
    check("part there", &table(&[("drum", "75.4 mm")]), &[]);
}

#[test]
fn a_condition_takes_a_figure_that_every_model_has() {
    let with = |step: Step, figures: &[(&str, &str)]| {
        let mut library = library(vec![marks(vec![step])], vec![model("mono", figures, &[])]);
        library.catalogue.conditions.push(condition("cooled", "cooling"));
        library
    };
    let waits = || {
        let mut step = act("cool", "close");
        build::action(&mut step).wait_for = Some(id("cooled"));
        step
    };
    check("lacking", &with(waits(), &[]), &["model-uncovered marks/cool mono"]);
    check("there", &with(waits(), &[("cooling", "30 min")]), &[]);
    check("not needed", &with(act("cool", "close"), &[]), &[]);
    let mut requires = act("open", "close");
    requires.requires.push(id("cooled"));
    check("required", &with(requires, &[]), &["model-uncovered marks/open mono"]);
    let mut hot = act("open", "close");
    hot.exposes.push(id("hot-fuser"));
    let mut part = act("open", "close");
    part.touches.push(id("fuser"));
    for step in [hot, part] {
        let exposed = |figures| {
            let mut library = with(step.clone(), figures);
            library.procedures.iter_mut().next().expect("one").body.sections.push(section("open"));
            library.catalogue.hazards.push(build::hazard("hot-fuser", "cooled"));
            library.catalogue.parts.push(build::part("fuser", "hot-fuser"));
            library
        };
        check("exposed", &exposed(&[]), &["model-uncovered marks/open mono"]);
        check("exposed, there", &exposed(&[("cooling", "30 min")]), &[]);
    }
}

fn with_words(mut procedure: Procedure, step: &str) -> Procedure {
    procedure.body.sections.push(section(step));
    procedure
}

#[test]
fn words_and_steps_belong_together() {
    let mut touches = act("go", "close");
    touches.touches.push(id("drum"));
    let mut waits = act("go", "close");
    build::action(&mut waits).wait = Some(at(60));
    for step in [touches, waits, measured("go", "width", vec![reading("width", "1", "2")])] {
        check("without", &alone(vec![step.clone()]), &["step-without-words marks/go -"]);
        check("with", &library(vec![with_words(marks(vec![step.clone()]), "go")], vec![]), &[]);
        let mut lent = step;
        lent.words_of = Some(id("close"));
        check("lent", &library(vec![with_words(marks(vec![lent]), "close")], vec![]), &[]);
    }
    let mut lent = act("go", "close");
    (lent.words_of, lent.touches) = (Some(id("gone")), vec![id("drum")]);
    check("lent by nobody", &alone(vec![lent]), &["unknown-step marks/go gone"]);
    check("no step", &library(vec![with_words(marks(vec![look()]), "loook")], vec![]), &["words-without-step marks/- loook"]);
}

/// The longest names an author may give; `check` holds every message to 90 characters.
#[test]
fn messages_stay_short_with_the_longest_names() {
    let long = |first: &str| format!("{first}{}", "x".repeat(64 - first.len()));
    let [mono, colour, memory, callee, gone, word] = ["mono", "colour", "memory", "callee", "gone", "word"].map(long);
    let models = vec![model(&mono, &[(&memory, "900 MB")], &[]), model(&colour, &[], &[("drum", "7 cm")])];
    let mut called = task(&callee, vec![end("pull", &word)]);
    called.equipment = Some(vec![id(&mono)]);
    let mut table = matched("gap", "mm", &[("drum", Some("close")), (&word, Some("close"))]);
    table.id = id(&word).value;
    let steps = vec![
        measure("page", "MB", "0", "500", vec![up_to(&memory, "close"), below(&format!("3 {word}"), &word), rest("close")], "hand-over"),
        carry("safe", &callee, &[("done", "close")]),
        refer("on", &gone),
        ask("look", &[(&word, "close"), (&word, "close")], Some("close")),
        by_model("split", &[(&word, "close")], None),
        table,
    ];
    let mut library = library(vec![called, withdrawn(&gone, &word), with_words(marks(steps), &gone)], models);
    library.catalogue.conditions.push(condition("cooled", &memory));
    let expected = [
        format!("unknown-outcome {callee}/pull {word}"),
        format!("unknown-procedure {gone}/- {word}"),
        "bands-not-ascending marks/page up to ".to_owned() + &memory + " @" + &mono,
    ];
    let found = found("long names", &library);
    for line in expected {
        assert!(found.contains(&line), "{line} in {found:#?}");
    }
    assert!(found.len() >= 12, "{found:#?}");
}
