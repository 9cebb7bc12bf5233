//! The bench sums: each as a ruled form with its formula, a worked example and its source; and the sheet of rulers.
//!
//! Everything stands in the page as text, worked through for one example. The script makes fields of the example's values and works anew.

pub mod cooling;
pub mod ruler;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Value as Json, json};
use tera::Context;

use crate::formula::evaluate::nearest_double;
use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::model::procedure::{Procedure, Status};
use crate::model::step::{Sorting, Step, StepKind, When};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::text::id::Id;
use crate::theme::Kind;
use crate::trade::number::Digits;
use crate::trade::paper::SIZES;
use crate::trade::roller::Roller;
use crate::trade::sum::{Answer, Drawing, Input, Need, Outcome, Sum, groups};
use crate::trade::work::Row;

/// A model with its rollers.
pub struct Rolling {
    pub name: String,
    pub rollers: Vec<Roller>,
}

pub fn page(frame: &Frame<'_>) -> (String, String) {
    let models = rolling(frame);
    let mut body = String::new();
    for group in groups() {
        let sums: Vec<&Sum> = group.sums.iter().filter(|sum| !models.is_empty() || !needs_models(sum)).collect();
        let name = frame.word("sums", &format!("group-{}", group.id));
        let forms: String = sums.iter().map(|sum| form(frame, sum, &models)).collect();
        let id = format!("group-{}", group.id);
        body.push_str(&format!(
            "<section class=\"leaf\" id=\"{id}\" aria-labelledby=\"{id}-name\">\n<h2 class=\"leaf__name\" id=\"{id}-name\">{name}</h2>\n{forms}</section>\n"
        ));
    }
    let mut context = Context::new();
    context.insert_value("groups", escape::safe(&body));
    context.insert_value("data", escape::safe(&escape::json_in_script(&page_data(frame.library, &models))));
    let title = frame.say("sums", "title").to_owned();
    let (path, foot) = ("bench-sums.html".to_owned(), title.clone());
    frame.set(Sheet { path, title, kind: Kind::Sums, template: "pages/bench-sums.html", banners: Vec::new(), foot, context })
}

fn needs_models(sum: &Sum) -> bool {
    sum.inputs.iter().any(|input| input.models)
}

/// The models whose rolling parts have distances, with the weights of the faults that procedures lead to from each part.
pub fn rolling(frame: &Frame<'_>) -> Vec<Rolling> {
    let weights = weights(frame.library);
    let models = frame.library.equipment.models.iter().filter(|model| !model.repeats.is_empty());
    models
        .map(|model| {
            let rollers = model.repeats.iter().map(|(part, distance)| Roller {
                name: part_words(frame, part.value.as_str()),
                distance: nearest_double(distance.value.value).unwrap_or_default(),
                weight: weights.get(part.value.as_str()).copied().unwrap_or(1.0),
            });
            Rolling { name: model.title().to_owned(), rollers: rollers.filter(|roller| roller.distance > 0.0).collect() }
        })
        .collect()
}

/// `fuser-sleeve` as its name in the safety catalogue, else with spaces.
fn part_words(frame: &Frame<'_>, part: &str) -> String {
    let known = frame.library.catalogue.parts.iter().find(|one| one.id.as_str() == part);
    let name = known.and_then(|part| part.name.as_ref()).map_or_else(|| part.replace('-', " "), |name| name.value.clone());
    let mut chars = name.chars();
    chars.next().map(|first| first.to_uppercase().chain(chars).collect()).unwrap_or_default()
}

/// What the faults behind each part of a table `repeats` weigh together, by the first procedure that matches with one.
fn weights(library: &Library) -> BTreeMap<&str, f64> {
    let open = library.procedures.iter().filter(|procedure| procedure.status != Status::Withdrawn);
    let mut all = open.map(|procedure| procedure.steps.iter().find_map(|step| part_weights(procedure, step)));
    all.find_map(|weights| weights).unwrap_or_default()
}

/// Of a step that matches a reading with the table: each part, and what its faults weigh in this procedure.
fn part_weights<'p>(procedure: &'p Procedure, step: &'p Step) -> Option<BTreeMap<&'p str, f64>> {
    let StepKind::Measure(measure) = &step.kind else { return None };
    let Sorting::Match(matched) = &measure.sorting else { return None };
    let weight =
        |id: &Id| procedure.faults.iter().find(|fault| fault.id == *id).and_then(|fault| nearest_double(fault.weight)).unwrap_or_default();
    let of = |when: &When| match when {
        When::Faults(faults) => faults.iter().map(|(id, _)| weight(&id.value)).sum::<f64>(),
        When::Rest(_) | When::Unsaid => 0.0,
    };
    let each = matched.parts.iter().map(|part| (part.name.value.as_str(), of(&part.when)));
    Some(each.filter(|(_, sum)| *sum > 0.0).collect())
}

/// A sum as the script has it.
pub fn data(sum: &Sum) -> Json {
    let choices = |input: &Input| input.choices.iter().map(|(name, value)| json!([name, value])).collect::<Vec<_>>();
    let input = |input: &Input| {
        let kind = match (input.models, input.colour, input.choices.is_empty()) {
            (true, ..) => "model",
            (_, true, _) => "colour",
            (.., false) => "choice",
            (.., true) => "number",
        };
        json!({ "id": input.id, "figure": input.figure, "kind": kind, "name": input.name, "unit": input.unit, "from": input.from.to_string(), "to": input.to.to_string(),
                "whole": input.whole, "value": input.value, "slip": input.slip, "choices": choices(input) })
    };
    let need = |need: &Need| json!({ "rpn": need.formula.formula.rpn(), "from": need.from, "to": need.to, "says": need.says });
    let outcome = |outcome: &Outcome| {
        let (places, figures) = match outcome.digits() {
            Digits::Places(places) => (Some(places), None),
            Digits::Figures(figures) => (None, Some(figures)),
        };
        json!({ "id": outcome.id, "name": outcome.name, "unit": unit(&outcome.unit), "places": places, "figures": figures,
                "rpn": outcome.formula.formula.rpn(), "need": outcome.needs.as_ref().map(need) })
    };
    json!({ "id": sum.id, "inputs": sum.inputs.iter().map(input).collect::<Vec<_>>(), "results": sum.results.iter().map(outcome).collect::<Vec<_>>(),
            "work": sum.work.map(crate::trade::work::Work::as_str) })
}

fn page_data(library: &Library, models: &[Rolling]) -> Json {
    let sums: Vec<Json> =
        groups().iter().flat_map(|group| &group.sums).filter(|sum| !models.is_empty() || !needs_models(sum)).map(data).collect();
    let roller = |one: &Roller| json!({ "name": one.name, "distance": one.distance, "weight": one.weight });
    let models: Vec<Json> =
        models.iter().map(|model| json!({ "name": model.name, "rollers": model.rollers.iter().map(roller).collect::<Vec<_>>() })).collect();
    let sizes: Vec<Json> = SIZES.iter().map(|size| json!([size.name, size.width, size.length])).collect();
    json!({ "sums": sums, "models": models, "figures": figures(library), "sizes": sizes })
}

/// Each model with those of its figures that some sum takes, in the sum's unit.
fn figures(library: &Library) -> Vec<Json> {
    let taken: BTreeSet<(&str, &str)> = groups()
        .iter()
        .flat_map(|group| &group.sums)
        .flat_map(|sum| &sum.inputs)
        .filter_map(|input| Some((input.figure.as_deref()?, figure_unit(input))))
        .collect();
    let of = |model: &Model| -> serde_json::Map<String, Json> {
        let figures = model.figures.iter().filter(|(id, figure)| taken.contains(&(id.value.as_str(), figure.value.unit.as_str())));
        figures.map(|(id, figure)| (id.value.to_string(), json!(figure.value.value.to_string()))).collect()
    };
    let all = library.equipment.models.iter().map(|model| (model.title(), of(model)));
    all.filter(|(_, figures)| !figures.is_empty()).map(|(name, figures)| json!({ "name": name, "figures": figures })).collect()
}

/// A choice of voltages has its unit in its names.
fn figure_unit(input: &Input) -> &str {
    if input.unit.is_empty() && !input.choices.is_empty() { "V" } else { &input.unit }
}

fn form(frame: &Frame<'_>, sum: &Sum, models: &[Rolling]) -> String {
    let id = escape::text(&sum.id);
    let fields: String = sum.inputs.iter().map(|input| field(frame, sum, input, models)).collect();
    let mind: String = sum.mind.iter().map(|one| format!("<li>{}</li>", escape::text(one))).collect();
    format!(
        "<details class=\"sum\">\n<summary class=\"sum__summary\"><h3 class=\"sum__name\">{}</h3> <span class=\"sum__for\">{}</span></summary>\n\
         <div class=\"sum__form\" id=\"{id}\">\n<div class=\"sum__fields\">\n{fields}</div>\n<div class=\"sum__formulas\"><p class=\"sum__head\">{}</p>{}</div>\n\
         <div class=\"sum__results\"><p class=\"sum__head\" data-head>{}</p><div data-results aria-live=\"polite\">{}</div></div>\n{}\
         <ul class=\"sum__mind\">{mind}</ul>\n<p class=\"sum__source\">{}: {}</p>\n</div>\n</details>\n",
        escape::text(&sum.name),
        escape::text(&sum.purpose),
        frame.word("sums", "formula"),
        formulas(sum),
        frame.word("sums", "example"),
        example(frame, sum, models),
        drawing(frame, sum, models),
        frame.word("sums", "source"),
        escape::text(&sum.source),
    )
}

/// One reading: its name, the example's value, its range. The script puts a field in the place of the value.
fn field(frame: &Frame<'_>, sum: &Sum, input: &Input, models: &[Rolling]) -> String {
    let key = format!("{}-{}", escape::text(&sum.id), escape::text(&input.id));
    let chosen = input.choices.iter().find(|(_, value)| *value == input.value);
    let (value, range) = match (input.models, input.colour, chosen) {
        (true, ..) => (models.first().map(|model| model.name.clone()).unwrap_or_default(), String::new()),
        (_, true, _) => (format!("#{:06X}", colour(input.value)), frame.word("sums", "colour")),
        (.., Some((name, _))) => (name.clone(), choices(frame, input)),
        (.., None) => (input.value.to_string(), range(frame, input)),
    };
    // The name that the formula has for it.
    let used = sum.shown.as_ref().is_none_or(|shown| shown.split(' ').any(|word| word.trim_end_matches(';') == input.id));
    let named = if !used { String::new() } else { format!(" <code>{}</code>", escape::text(&input.id)) };
    let unit = escape::text(unit(&input.unit));
    format!(
        "<div class=\"sum__field\" data-field=\"{id}\"><p class=\"sum__label\"><span id=\"{key}-label\">{}</span>{named}</p>\
         <p class=\"sum__entry\"><span data-value>{}</span> <span class=\"sum__unit\">{unit}</span></p><p class=\"sum__range\" id=\"{key}-range\">{range}</p></div>\n",
        escape::text(&input.name),
        escape::text(&value),
        id = escape::text(&input.id),
    )
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "six hexadecimal digits")]
fn colour(value: f64) -> u32 {
    value as u32
}

fn range(frame: &Frame<'_>, input: &Input) -> String {
    let (from, to) = (signed(input.from), signed(input.to));
    frame.fill("sums", if input.whole { "range-whole" } else { "range" }, &[("from", &from), ("to", &to)])
}

fn choices(frame: &Frame<'_>, input: &Input) -> String {
    let others: Vec<&str> = input.choices.iter().filter(|(_, value)| *value != input.value).map(|(name, _)| name.as_str()).collect();
    frame.fill("sums", "choices", &[("others", &others.join("; "))])
}

/// With a true minus.
fn signed(value: f64) -> String {
    value.to_string().replace('-', "\u{2212}")
}

/// Units as they are printed.
fn unit(unit: &str) -> &str {
    if unit == "g/m2" { "g/m\u{b2}" } else { unit }
}

fn formulas(sum: &Sum) -> String {
    let line = |text: &str| format!("<p><code>{}</code></p>", escape::text(text));
    match &sum.shown {
        Some(shown) => line(shown),
        None => sum.results.iter().map(|outcome| line(&format!("{} = {}", outcome.id, printed(&outcome.formula.text)))).collect(),
    }
}

/// A formula with the signs of print: true minus, multiplication sign, pi by its letter.
fn printed(text: &str) -> String {
    text.replace("3.14159265358979", "\u{3c0}").replace(" * ", " \u{d7} ").replace(" - ", " \u{2212} ")
}

fn example(frame: &Frame<'_>, sum: &Sum, models: &[Rolling]) -> String {
    let values = sum.example();
    if let Some(work) = sum.work {
        let rollers = models.first().map(|model| model.rollers.as_slice()).unwrap_or_default();
        return work.rows(&values, rollers).iter().map(|row| sentence(frame, row)).collect();
    }
    let lines = sum.results.iter().zip(sum.answers(&values)).map(|(outcome, answer)| match answer {
        Answer::Number(value) => format!(
            "<p class=\"sum__result\"><span>{}</span> <span class=\"sum__number\">{}</span> <span class=\"sum__unit\">{}</span></p>",
            escape::text(&outcome.name),
            escape::text(&outcome.shown(value)),
            escape::text(unit(&outcome.unit))
        ),
        Answer::Refused(says) => format!("<p class=\"sum__refusal\">{}</p>", escape::text(says)),
        Answer::Nothing => format!("<p class=\"sum__refusal\">{}</p>", frame.word("sums", "nothing")),
    });
    lines.collect()
}

/// A row of a work: a sentence of the interface.
fn sentence(frame: &Frame<'_>, row: &Row) -> String {
    let values: Vec<(&str, &str)> = row.values.iter().map(|(name, value)| (*name, value.as_str())).collect();
    format!("<p class=\"sum__row\">{}</p>", frame.fill("sums", &format!("row-{}", row.key), &values))
}

fn drawing(frame: &Frame<'_>, sum: &Sum, models: &[Rolling]) -> String {
    if needs_models(sum) {
        let values = sum.example();
        let of = |name: &str| values.get(name).copied().unwrap_or(1.0);
        let reading = of("length") / of("gaps");
        let rulers = models.iter().map(|model| {
            let name = escape::text(&model.name);
            format!(
                "<figure class=\"ruler-of\" data-ruler><figcaption>{name}</figcaption>{}</figure>\n",
                ruler::window(&name, &ruler::svg(frame, model, Some(reading)))
            )
        });
        return format!(
            "<p class=\"aside\">{} <a href=\"rulers.html\">{}</a></p>\n{}",
            frame.word("sums", "ruler-help"),
            frame.word("rulers", "title"),
            rulers.collect::<String>()
        );
    }
    match sum.drawing {
        Some(Drawing::Cooling) => {
            format!("<figure class=\"curve\" data-drawing=\"cooling\">{}</figure>\n", cooling::svg(frame, &sum.example()))
        }
        None => String::new(),
    }
}
