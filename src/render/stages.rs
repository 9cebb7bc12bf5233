//! The stages of imaging: in time order, as the loop they are, and what sheet each gives when it is dead. All of it is computed from the potentials of
//! the models (figures `dark-potential`, `exposed-potential`, `developer-bias`, `transfer-potential`), or from demo values where a model has none.

mod drawing;

use tera::Context;

use crate::formula::evaluate::nearest_double;
use crate::model::equipment::{Model, Stage};
use crate::model::procedure::{Kind as ProcedureKind, Status};
use crate::render::escape;
use crate::render::frame::{Frame, Sheet};
use crate::render::say::items;
use crate::theme::Kind;
use crate::trade::charge::{self, DEMO, Dead, Development, Potentials, Signs, Unfit};
use crate::trade::number::{Digits, shown};

/// A machine, or a kind of machine, with its potentials.
struct Engine {
    name: String,
    /// Whether the potentials are figures of a model.
    own: bool,
    potentials: Potentials,
}

pub fn page(frame: &Frame<'_>) -> Option<(String, String)> {
    if frame.library.stages.is_empty() {
        return None;
    }
    let engines = engines(frame);
    let mut context = Context::new();
    for (name, markup) in [
        ("time", time(frame)),
        ("turn", drawing::turn(frame)),
        ("stages", frame.library.stages.iter().map(|stage| entry(frame, stage, &engines)).collect()),
        ("potentials", potentials(frame, &engines)),
        ("dead", dead_table(frame, &engines)),
        ("signs", signs(frame)),
    ] {
        context.insert_value(name, escape::safe(&markup));
    }
    context.insert("time_help", &time_help(frame));
    let title = frame.say("stages", "title").to_owned();
    let (path, foot) = ("stages.html".to_owned(), title.clone());
    Some(frame.set(Sheet { path, title, kind: Kind::Plain, template: "pages/stages.html", banners: Vec::new(), foot, context }))
}

/// Each model with the four figures, and the demo values of each kind of development that no model shows.
fn engines(frame: &Frame<'_>) -> Vec<Engine> {
    let models = frame.library.equipment.models.iter();
    let mut engines: Vec<Engine> =
        models.filter_map(|model| Some(Engine { name: model.title().to_owned(), own: true, potentials: potentials_of(model)? })).collect();
    for potentials in DEMO {
        if !engines.iter().any(|engine| engine.potentials.development == potentials.development) {
            let name = frame.say("stages", &format!("kind-{}", potentials.development.as_str())).to_owned();
            engines.push(Engine { name, own: false, potentials });
        }
    }
    engines
}

fn potentials_of(model: &Model) -> Option<Potentials> {
    let volts = |name: &str| figure(model, name, "V");
    Some(Potentials::of(volts("dark-potential")?, volts("exposed-potential")?, volts("developer-bias")?, volts("transfer-potential")?))
}

fn figure(model: &Model, name: &str, unit: &str) -> Option<f64> {
    let (_, figure) = model.figures.iter().find(|(id, figure)| id.value.as_str() == name && figure.value.unit.as_str() == unit)?;
    nearest_double(figure.value.value)
}

/// The model of the drawing in time: speed, circumference of the drum and title.
fn moving<'a>(frame: &Frame<'a>) -> Option<(f64, f64, &'a str)> {
    frame.library.equipment.models.iter().find_map(|model| {
        let (_, drum) = model.repeats.iter().find(|(part, _)| part.value.as_str() == "drum")?;
        Some((figure(model, "process-speed", "mm/s")?, nearest_double(drum.value.value)?, model.title()))
    })
}

/// A drum and a speed where no model has them: demo values.
const DEMO_SPEED: f64 = 165.0;
const DEMO_DRUM: f64 = 75.4;
/// The sheet in the drawing: A4, fed short edge first.
const SHEET: f64 = 297.0;

fn time(frame: &Frame<'_>) -> String {
    let (speed, drum, _) = moving(frame).unwrap_or((DEMO_SPEED, DEMO_DRUM, ""));
    drawing::time(frame, &charge::times(drum, speed, SHEET))
}

fn time_help(frame: &Frame<'_>) -> String {
    let (speed, drum, model) = moving(frame).unwrap_or((DEMO_SPEED, DEMO_DRUM, ""));
    let text = |value: f64, places| shown(value, Digits::Places(places));
    let values = [("model", model), ("speed", &text(speed, 0)), ("drum", &text(drum, 1)), ("takes", &text(SHEET / speed, 2))];
    frame.words.fill("stages", if model.is_empty() { "time-help-demo" } else { "time-help" }, &values)
}

fn stage_words(frame: &Frame<'_>, dead: Dead) -> String {
    let known = frame.library.stages.iter().find(|stage| stage.id.as_str() == dead.as_str());
    let name = known.and_then(|stage| stage.name.as_ref()).map(|name| name.value.as_str());
    name.map_or_else(|| frame.word("stages", &format!("stage-{}", dead.as_str())), escape::text)
}

/// One stage: what it does, what goes wrong, the sheet of a dead one, and the procedures that name it.
fn entry(frame: &Frame<'_>, stage: &Stage, engines: &[Engine]) -> String {
    let id = escape::text(stage.id.as_str());
    let name = escape::text(stage.name.as_ref().map_or(stage.id.as_str(), |name| name.value.as_str()));
    let does = stage.does.as_ref().map(|does| format!("<p>{}</p>", escape::text(does))).unwrap_or_default();
    let faults: String = stage.faults.iter().map(|fault| format!("<li>{}</li>", escape::text(fault))).collect();
    let faults = if faults.is_empty() { faults } else { format!("<ul class=\"stage__faults\">{faults}</ul>") };
    let here = frame.library.procedures.iter().filter(|procedure| {
        procedure.status != Status::Withdrawn
            && procedure.kind == ProcedureKind::FaultFinding
            && procedure.stages.iter().any(|one| one.value == stage.id)
    });
    let links: String = here
        .map(|procedure| {
            format!("<li><a href=\"procedures/{}.html\">{}</a></li>", escape::text(procedure.id.as_str()), escape::text(procedure.title()))
        })
        .collect();
    let links = match links.is_empty() {
        true => format!("<p class=\"aside\">{}</p>", frame.word("start", "stage-empty")),
        false => format!("<p class=\"aside\">{}</p><ul class=\"links\">{links}</ul>", frame.word("stages", "procedures")),
    };
    let deads = Dead::ALL
        .into_iter()
        .filter(|dead| dead.as_str() == stage.id.as_str() || (*dead == Dead::Erasing && stage.id.as_str() == "cleaning"));
    let mut sheets: String = deads.map(|dead| pictures(frame, dead, engines)).collect();
    if stage.id.as_str() == Dead::Cleaning.as_str() {
        sheets.push_str(&turns(frame));
    }
    format!("<li class=\"stage\" id=\"stage-{id}\"><div class=\"stage__body\"><h3>{name}</h3>{does}{sheets}{faults}{links}</div></li>\n")
}

/// The sheets of machines whose stage is dead: a picture for each sheet that differs, with the machines that give it.
fn pictures(frame: &Frame<'_>, dead: Dead, engines: &[Engine]) -> String {
    let mut looks: Vec<(String, charge::Sheet, Vec<&Engine>)> = Vec::new();
    for engine in engines {
        let sheet = charge::sheet(&engine.potentials, Some(dead));
        let seen = look(frame, dead, &sheet);
        match looks.iter_mut().find(|(words, ..)| *words == seen) {
            Some((.., all)) => all.push(engine),
            None => looks.push((seen, sheet, vec![engine])),
        }
    }
    let each: String = looks
        .iter()
        .map(|(seen, sheet, all)| {
            let name = together(frame, all, engines);
            format!("<figure class=\"dead\">{}<figcaption><strong>{name}</strong> {seen}</figcaption></figure>", drawing::sheet(sheet))
        })
        .collect();
    let head = frame.fill("stages", "dead", &[("stage", frame.say("stages", &format!("stage-{}", dead.as_str())))]);
    format!("<p class=\"aside\">{head}</p><div class=\"dead-row\">{each}</div>")
}

/// A name for some of the machines: every one, those of one kind, or their own names.
fn together(frame: &Frame<'_>, some: &[&Engine], engines: &[Engine]) -> String {
    if some.len() == engines.len() {
        return frame.word("stages", "every-engine");
    }
    let of_kind = |kind: Development| engines.iter().filter(|engine| engine.potentials.development == kind).map(|_| 1).sum::<usize>();
    match some.first().map(|first| first.potentials.development) {
        Some(kind) if some.iter().all(|one| one.potentials.development == kind) && some.len() == of_kind(kind) => {
            frame.word("stages", &format!("kind-{}", kind.as_str()))
        }
        _ => some.iter().map(|one| escape::text(&one.name)).collect::<Vec<_>>().join("; "),
    }
}

/// What somebody sees, in words.
fn look(frame: &Frame<'_>, dead: Dead, sheet: &charge::Sheet) -> String {
    let mut text = frame.word("stages", &format!("look-{}", sheet.look()));
    if sheet.left_on_drum {
        text = format!("{text} {}", frame.word("stages", "left-on-drum"));
    }
    match dead {
        Dead::Cleaning => format!("{text} {}", frame.word("stages", "ghost-toner")),
        Dead::Erasing => format!("{text} {}", frame.word("stages", "ghost-charge")),
        _ => text,
    }
}

/// One turn of the drum, model by model.
fn turns(frame: &Frame<'_>) -> String {
    let drum = |model: &Model| model.repeats.iter().find(|(part, _)| part.value.as_str() == "drum").map(|(_, distance)| distance.value);
    let each = frame.library.equipment.models.iter().filter_map(|model| Some((model.title(), drum(model)?)));
    let each = items(each.map(|(model, turn)| frame.fill("stages", "turn-of", &[("model", model), ("distance", &turn.to_string())])));
    if each.is_empty() {
        each
    } else {
        format!("<p class=\"aside\">{}</p><div class=\"stage__turns\">{each}</div>", frame.word("stages", "one-turn"))
    }
}

fn volts(value: f64) -> String {
    let text = shown(value, Digits::Places(0));
    if value > 0.0 { format!("+{text}") } else { text }
}

fn table(head: &[String], rows: &[Vec<String>]) -> String {
    let cells = |row: &Vec<String>| {
        let mut cells = row.iter();
        let first = cells.next().map(|cell| format!("<th scope=\"row\">{cell}</th>")).unwrap_or_default();
        format!("<tr>{first}{}</tr>", cells.map(|cell| format!("<td>{cell}</td>")).collect::<String>())
    };
    let head: String = head.iter().map(|cell| format!("<th scope=\"col\">{cell}</th>")).collect();
    format!("<table><thead><tr>{head}</tr></thead><tbody>{}</tbody></table>", rows.iter().map(cells).collect::<String>())
}

fn potentials(frame: &Frame<'_>, engines: &[Engine]) -> String {
    let word = |key: &str| frame.word("stages", key);
    let head: Vec<String> =
        ["engine", "prints", "dark", "exposed", "bias", "toner", "transfer", "image-pull", "ground-pull"].into_iter().map(word).collect();
    let rows: Vec<Vec<String>> = engines
        .iter()
        .map(|engine| {
            let own = &engine.potentials;
            let mut name = escape::text(&engine.name);
            if !engine.own {
                name = format!("{name} ({})", word("demo"));
            }
            for unfit in own.unfit() {
                name.push_str(&format!("<br><strong>{}</strong>", word(unfit_key(unfit))));
            }
            vec![
                name,
                word(&format!("prints-{}", own.development.as_str())),
                volts(own.dark),
                volts(own.exposed),
                volts(own.bias),
                own.toner.as_str().to_owned(),
                volts(own.transfer),
                volts(own.pull(own.image())),
                volts(own.pull(own.background())),
            ]
        })
        .collect();
    table(&head, &rows)
}

fn unfit_key(unfit: Unfit) -> &'static str {
    match unfit {
        Unfit::OneSign => "unfit-one-sign",
        Unfit::Between => "unfit-between",
        Unfit::Signs(charge::Broken::Toner) => "broken-toner",
        Unfit::Signs(charge::Broken::Transfer) => "broken-transfer",
        Unfit::TooWeak => "unfit-too-weak",
    }
}

/// Stage by stage: the voltages that decide, and the sheet, for the first machine of each kind.
fn dead_table(frame: &Frame<'_>, engines: &[Engine]) -> String {
    let first = |kind: Development| engines.iter().find(|engine| engine.potentials.development == kind);
    let engines: Vec<&Engine> = Development::BOTH.into_iter().filter_map(first).collect();
    let mut head = vec![frame.word("stages", "dead-stage")];
    head.extend(engines.iter().map(|engine| escape::text(&engine.name)));
    let cell = |engine: &Engine, dead: Option<Dead>| {
        let sheet = charge::sheet(&engine.potentials, dead);
        let values = [("image", volts(sheet.pulls.0)), ("ground", volts(sheet.pulls.1)), ("paper", volts(sheet.to_paper))];
        let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
        let seen = frame.word("stages", &format!("look-{}", sheet.look()));
        format!("{seen}<br><span class=\"aside\">{}</span>", frame.fill("stages", "pulls", &values))
    };
    let states = std::iter::once(None).chain(Dead::ALL.into_iter().map(Some));
    let rows: Vec<Vec<String>> = states
        .map(|dead| {
            let name = dead.map_or_else(|| frame.word("stages", "none-dead"), |dead| stage_words(frame, dead));
            std::iter::once(name).chain(engines.iter().map(|engine| cell(engine, dead))).collect()
        })
        .collect();
    table(&head, &rows)
}

/// All sixteen combinations of signs, those that can print first.
fn signs(frame: &Frame<'_>) -> String {
    let word = |key: &str| frame.word("stages", key);
    let head: Vec<String> = ["prints", "drum-sign", "toner", "transfer-sign", "verdict"].into_iter().map(word).collect();
    let mut all: Vec<(Signs, Vec<charge::Broken>)> = Signs::all().into_iter().map(|signs| (signs, signs.broken())).collect();
    all.sort_by_key(|(_, broken)| broken.len());
    let rows: Vec<Vec<String>> = all
        .into_iter()
        .map(|(signs, broken)| {
            let verdict = match broken.is_empty() {
                true => format!("<strong>{}</strong>", word("can-print")),
                false => broken.iter().map(|one| word(&format!("broken-{}", one.as_str()))).collect::<Vec<_>>().join(" "),
            };
            vec![
                prints(frame, signs.development),
                signs.drum.as_str().to_owned(),
                signs.toner.as_str().to_owned(),
                signs.transfer.as_str().to_owned(),
                verdict,
            ]
        })
        .collect();
    table(&head, &rows)
}

fn prints(frame: &Frame<'_>, development: Development) -> String {
    frame.word("stages", &format!("prints-{}", development.as_str()))
}
