//! A comparison as one page that stands alone: no script, nothing loaded, readable on a phone. It shows words of libraries that may not be fit for
//! use, and none of them as something to follow.

use crate::compare::behaviour::Apart;
use crate::compare::change::{Change, Side};
use crate::compare::kind::Area;
use crate::compare::pair::By;
use crate::compare::said::{Mark, marks};
use crate::emit::comparison::{Told, behaviour_words};
use crate::finding::{WayKind, WitnessEntry};
use crate::render::escape;
use crate::text::id::Id;
use crate::theme::{self, words::Words};

/// Stands near the top of every such page: what may be replaced by the next one.
pub const MARK: &str = "<meta name=\"generator\" content=\"stepward compare\">";

/// Unchanged words that stay beside a mark when a long stretch is cut.
const KEPT: usize = 14;

/// The whole page.
pub fn page(told: &Told<'_>) -> String {
    let words = theme::words().expect("embedded words parse; a test holds it");
    let sheet = Sheet { words, told };
    let title = sheet.word("title");
    let language = escape::text(told.libraries.1.settings.language());
    let style = theme::comparison_style();
    let policy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n{MARK}\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{title}: {}, {}</title>\n<style>\n{style}</style>\n</head>\n<body>\n<main class=\"compare\" data-language=\"{language}\">\n{}</main>\n</body>\n</html>\n",
        escape::text(told.old),
        escape::text(told.new),
        sheet.body()
    )
}

struct Sheet<'a> {
    words: Words,
    told: &'a Told<'a>,
}

impl Sheet<'_> {
    fn word(&self, key: &str) -> String {
        escape::text(self.words.say("compare", key))
    }

    fn fill(&self, key: &str, n: usize) -> String {
        escape::text(&self.words.fill("compare", key, &[("n", &n.to_string())]))
    }

    fn body(&self) -> String {
        let all = self.told.comparison;
        let mut out = format!("<h1>{}</h1>\n<p class=\"compare__lead\">{}</p>\n", self.word("title"), self.word("lead"));
        out += &format!(
            "<dl class=\"compare__sides\"><dt>{}</dt><dd>{}</dd><dt>{}</dt><dd>{}</dd></dl>\n",
            self.word("old"),
            escape::text(self.told.old),
            self.word("new"),
            escape::text(self.told.new)
        );
        let verdict = match (all.same(), all.not_compared.is_empty()) {
            (true, true) => self.word("same"),
            (true, false) => self.word("same-partly"),
            (false, _) => capital(&escape::text(&self.told.summary())) + ".",
        };
        out += &format!("<p><strong>{verdict}</strong></p>\n");
        if !all.same() {
            out += &format!("<p class=\"compare__legend\">{}</p>\n", self.word("legend"));
            out += &self.contents();
            out += &Area::ALL.map(|area| self.area(area)).concat();
        }
        out + &self.behaviour() + &self.matched() + &self.left()
    }

    fn contents(&self) -> String {
        let item = |area: Area| {
            let n = self.told.comparison.of(area).count();
            let key = area.as_str();
            format!("<li><a href=\"#{key}\">{}: {n}</a></li>\n", self.word(key))
        };
        let items = Area::ALL.map(item).concat();
        format!("<nav aria-label=\"{}\"><ul class=\"compare__contents\">\n{items}</ul></nav>\n", self.word("contents"))
    }

    /// One list, by procedure; what is of none stands first.
    fn area(&self, area: Area) -> String {
        let key = area.as_str();
        let changes: Vec<&Change> = self.told.comparison.of(area).collect();
        let mut out = format!(
            "<section class=\"area\" id=\"{key}\" aria-labelledby=\"{key}-name\">\n<h2 id=\"{key}-name\">{}</h2>\n",
            self.word(key)
        );
        if changes.is_empty() {
            out += &format!("<p>{}</p>\n", self.word("none"));
        }
        let mut last: Option<Option<&Id>> = None;
        for change in changes {
            let procedure = change.procedure.as_ref();
            if last != Some(procedure) {
                out += &format!("<h3>{}</h3>\n", self.procedure(procedure));
                last = Some(procedure);
            }
            out += &self.change(change);
        }
        out + "</section>\n"
    }

    fn procedure(&self, id: Option<&Id>) -> String {
        let Some(id) = id else { return self.word("everywhere") };
        let (old, new) = self.told.libraries;
        let title = new.procedure(id).or_else(|| old.procedure(id)).map_or(id.as_str(), |procedure| procedure.title());
        format!("{} <code>{}</code>", escape::text(title), escape::text(id.as_str()))
    }

    fn change(&self, change: &Change) -> String {
        let turn = change.kind.turn.as_str();
        let mut out = format!(
            "<article class=\"change change--{turn}\">\n<p><span class=\"change__turn\">{}</span><span class=\"change__kind\">{}</span></p>\n\
             <p class=\"change__fact\">{}</p>\n",
            self.word(turn),
            escape::text(change.kind.name),
            fact(&change.message)
        );
        let list = |ids: &[Id]| ids.iter().map(|id| format!("<code>{}</code>", escape::text(id.as_str()))).collect::<Vec<_>>().join(", ");
        if change.steps.len() > 1 {
            out += &format!("<p class=\"change__more\">{}: {}</p>\n", self.word("at-steps"), list(&change.steps));
        }
        if !change.used_by.is_empty() {
            out += &format!("<p class=\"change__more\">{}: {}</p>\n", self.word("used-by"), list(&change.used_by));
        }
        out += &self.sides(change);
        if let Some(witness) = &change.witness {
            let steps: String = witness.iter().map(|entry| self.witness_step(change, entry)).collect();
            out += &format!("<div class=\"change__more\">{}\n<ol>\n{steps}</ol></div>\n", self.word("witness"));
        }
        out + "</article>\n"
    }

    fn witness_step(&self, change: &Change, entry: &WitnessEntry) -> String {
        let step = self.told.library_of(change).procedure(&entry.procedure).and_then(|procedure| procedure.step(&entry.step));
        let text = step.and_then(|step| step.text()).map_or_else(|| entry.step.to_string(), |text| text.value.clone());
        let answer = match (entry.way, &entry.answer) {
            (_, Some(answer)) => format!(": <strong>{}</strong>", escape::text(answer)),
            (Some(WayKind::Unsure), None) => format!(": <strong>{}</strong>", self.word("cannot-tell")),
            (Some(WayKind::Otherwise), None) => format!(": <strong>{}</strong>", self.word("tried")),
            (Some(_) | None, None) => String::new(),
        };
        format!("<li>{}{answer}</li>\n", escape::text(&text))
    }

    /// Where it stands and what it says, old before new.
    fn sides(&self, change: &Change) -> String {
        let words = |side: &Option<Side>| side.as_ref().and_then(|side| side.words.clone()).filter(|words| !words.is_empty());
        let (old, new) = (words(&change.old), words(&change.new));
        let pieces = match (&old, &new) {
            (Some(old), Some(new)) => marks(old, new),
            (Some(old), None) => vec![(Mark::Gone, old.clone())],
            (None, Some(new)) => vec![(Mark::Come, new.clone())],
            (None, None) => Vec::new(),
        };
        let side = |name: &str, side: &Option<Side>, own: Mark| {
            let Some(side) = side else { return String::new() };
            let place = format!("{}:{}", escape::text(&side.file), side.line);
            let words: String = pieces.iter().filter(|(mark, _)| *mark == Mark::Same || *mark == own).map(|it| self.piece(it)).collect();
            let words = if words.is_empty() { words } else { format!("<p class=\"side__words\">{words}</p>") };
            let name = self.word(name);
            format!("<div class=\"side\"><p class=\"side__name\">{name} <span class=\"side__place\">{place}</span></p>{words}</div>\n")
        };
        format!("<div class=\"sides\">\n{}{}</div>\n", side("old", &change.old, Mark::Gone), side("new", &change.new, Mark::Come))
    }

    fn piece(&self, (mark, text): &(Mark, String)) -> String {
        let (tag, key) = match mark {
            Mark::Same => return escape::text(&shortened(text)),
            Mark::Gone => ("del", "gone"),
            Mark::Come => ("ins", "come"),
        };
        if text.trim().is_empty() {
            return escape::text(text);
        }
        // White space stays outside, so that no line hangs under nothing.
        let (start, end) = (text.len() - text.trim_start().len(), text.trim_end().len());
        let (before, rest) = text.split_at(start);
        let (inner, after) = rest.split_at(end - start);
        let told = self.word(key);
        format!("{before}<{tag}><span class=\"out-of-sight\">{told} </span>{}</{tag}>{after}", escape::text(inner))
    }

    fn behaviour(&self) -> String {
        let all = &self.told.comparison.behaviours;
        let mut items = String::new();
        let mut same = 0;
        for behaviour in all {
            let (words, apart) = behaviour_words(behaviour);
            let Some(apart) = apart else {
                same += 1;
                continue;
            };
            items +=
                &format!("<article class=\"change\">\n<p class=\"change__fact\">{}</p>\n{}</article>\n", fact(&words), self.apart(apart));
        }
        if items.is_empty() {
            return String::new();
        }
        let others = if same > 0 { format!("<p>{}</p>\n", self.fill("others", same)) } else { String::new() };
        format!(
            "<section class=\"area\" id=\"behaviour\" aria-labelledby=\"behaviour-name\">\n<h2 id=\"behaviour-name\">{}</h2>\n<p class=\"compare__lead\">{}</p>\n{items}{others}</section>\n",
            self.word("behaviour"),
            self.word("behaviour-lead")
        )
    }

    fn apart(&self, apart: &Apart) -> String {
        let answer = |given: &crate::compare::behaviour::Given| {
            format!("<li>{} {}: <strong>{}</strong></li>\n", self.word("old"), escape::text(&given.says), escape::text(&given.answer))
        };
        let given: String = apart.answers.iter().map(answer).collect();
        let before = if given.is_empty() {
            format!("<p class=\"change__more\">{}</p>\n", self.word("at-start"))
        } else {
            format!("<div class=\"change__more\">{}\n<ol>\n{given}</ol></div>\n", self.word("after"))
        };
        let side = |key: &str, shown: &str| {
            format!("<div class=\"side\"><p class=\"side__name\">{}</p><p>{}</p></div>\n", self.word(key), escape::text(shown))
        };
        format!("{before}<div class=\"sides\">\n{}{}</div>\n", side("old", &apart.old), side("new", &apart.new))
    }

    fn matched(&self) -> String {
        let all = &self.told.comparison.matched;
        let item = |it: &crate::compare::rename::Matched| {
            let inside = it.procedure.as_ref().map(|id| format!("<code>{}</code>: ", escape::text(id.as_str()))).unwrap_or_default();
            let how = match it.by {
                By::Id | By::Text => self.word("same-text"),
                By::Likeness(alike) => self.fill("alike", alike as usize / 10),
            };
            let (old, new) = (escape::text(it.old.as_str()), escape::text(it.new.as_str()));
            format!("<li>{inside}{} <code>{old}</code> → <code>{new}</code>: {how}</li>\n", it.sort)
        };
        let items: String = all.iter().map(item).collect();
        self.list("matched", &format!("<p class=\"compare__lead\">{}</p>\n", self.word("matched-lead")), &items)
    }

    fn left(&self) -> String {
        let item = |it: &crate::compare::NotCompared| {
            let procedure = it.procedure.as_ref().map(|id| format!("<code>{}</code>: ", escape::text(id.as_str()))).unwrap_or_default();
            format!("<li>{procedure}{}: {}</li>\n", it.what, fact(&it.why))
        };
        let items: String = self.told.comparison.not_compared.iter().map(item).collect();
        self.list("left", "", &items)
    }

    fn list(&self, key: &str, lead: &str, items: &str) -> String {
        if items.is_empty() {
            return String::new();
        }
        let title = self.word(key);
        format!(
            "<section class=\"area\" id=\"{key}\" aria-labelledby=\"{key}-name\">\n<h2 id=\"{key}-name\">{title}</h2>\n{lead}<ul class=\"plain-list\">\n{items}</ul>\n</section>\n"
        )
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A message as markup: what stands between backticks is set as an id.
fn fact(message: &str) -> String {
    let mut out = String::new();
    for (number, part) in message.split('`').enumerate() {
        if number % 2 == 1 {
            out += &format!("<code>{}</code>", escape::text(part));
        } else {
            out += &escape::text(part);
        }
    }
    capital(&out)
}

/// A long stretch of unchanged words with its middle left out.
fn shortened(text: &str) -> String {
    let ends: Vec<usize> = text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at).collect();
    if ends.len() <= 3 * KEPT {
        return text.to_owned();
    }
    match (ends.get(KEPT), ends.len().checked_sub(KEPT).and_then(|at| ends.get(at))) {
        (Some(first), Some(last)) => {
            let (head, tail) = (text.get(..*first).unwrap_or_default(), text.get(*last..).unwrap_or_default());
            format!("{head} […]{tail}")
        }
        _ => text.to_owned(),
    }
}
