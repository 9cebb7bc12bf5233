//! The steps of a random procedure, one line each.

use crate::oracle::generate::{Names, few, listed};
use crate::oracle::procedures::{Task, effects};
use crate::support::random::Random;

/// What is to be written.
pub struct Draft<'a> {
    pub task: bool,
    pub outcomes: &'a [String],
    pub tasks: &'a [Task],
    /// Steps, endings left out.
    pub count: usize,
}

#[derive(Default)]
pub struct Written {
    pub lines: Vec<String>,
    /// Outcomes of the endings.
    pub ends: Vec<String>,
    /// Steps that need a section.
    pub worded: Vec<String>,
    /// Step and hazard.
    pub exposures: Vec<(String, String)>,
}

pub fn all(random: &mut Random, names: &Names, draft: &Draft<'_>) -> Written {
    let endings = 1 + random.below(3);
    let total = draft.count + endings;
    let mut written = Written::default();
    for index in 0..total {
        let id = format!("s{index}");
        let mut pen = Pen { random: &mut *random, names, draft, index, total };
        let kind = pen.random.below(16);
        let body = match kind {
            _ if index >= draft.count => pen.ending(&mut written),
            0..=4 => pen.question(),
            5..=6 => pen.measurement(),
            7 => pen.matching(),
            8..=10 if !draft.tasks.is_empty() => pen.carry_out(),
            11 if !names.models.is_empty() => pen.by_model(),
            _ => pen.action(),
        };
        let by_model = body.starts_with("by-model");
        let hands = !by_model && !body.starts_with("carry-out");
        let mut keys = String::new();
        if hands {
            keys.push_str(&pen.demands(&id, &mut written));
        }
        if !by_model && index < draft.count && pen.random.one_in(4) {
            let to = pen.target();
            keys.push_str(&format!(", at-most: 2, otherwise: {to}"));
        }
        written.lines.push(format!("{id}: {{ {body}{keys} }}"));
    }
    written
}

struct Pen<'a> {
    random: &'a mut Random,
    names: &'a Names,
    draft: &'a Draft<'a>,
    index: usize,
    total: usize,
}

impl Pen<'_> {
    /// Mostly the next step or one after it, now and then any.
    fn target(&mut self) -> String {
        let next = (self.index + 1).min(self.total - 1);
        let to = match self.random.below(10) {
            0..=4 => next,
            5..=8 => next + self.random.below(self.total - next),
            _ => self.random.below(self.total),
        };
        format!("s{to}")
    }

    fn when(&mut self) -> &'static str {
        match self.random.below(10) {
            0..=2 => ", when: [fixed]",
            3 => ", when: [not-fixed]",
            _ => "",
        }
    }

    /// `then`, with what a way of a match or an outcome may have.
    fn named(&mut self) -> String {
        let to = self.target();
        match self.when() {
            "" => to,
            when => format!("{{ then: {to}{when} }}"),
        }
    }

    fn question(&mut self) -> String {
        let mut answers = Vec::new();
        for index in 0..2 + self.random.below(2) {
            let person = if index > 0 && self.random.one_in(4) {
                format!(", person: {}", self.random.pick(&["ordinary", "instructed", "skilled", "skilled"]))
            } else {
                String::new()
            };
            let (to, when) = (self.target(), self.when());
            let effects = effects(self.random, self.names, 3);
            answers.push(format!("{{ answer: \"A{index}\", then: {to}{effects}{person}{when} }}"));
        }
        format!("ask: \"Is it so?\", answers: [{}], unsure: {}", answers.join(", "), self.target())
    }

    fn measurement(&mut self) -> String {
        let figures = !self.names.models.is_empty();
        let limits = ["20", "30", if figures { "warm" } else { "48" }, "52", if figures { "hot" } else { "60" }, "70"];
        let from = *self.random.pick(&["0", "5", "25"]);
        let mut bands = Vec::new();
        for limit in &limits[usize::from(from == "25")..] {
            if self.random.one_in(3) && bands.len() < 3 {
                let side = self.random.pick(&["below", "up-to"]);
                bands.push(format!("{side}: {limit}, "));
            }
        }
        bands.push(String::new());
        let bands: Vec<String> = bands
            .into_iter()
            .map(|limit| {
                let (to, when) = (self.target(), self.when());
                let timed = if self.random.one_in(2) { few(self.random, &self.names.timed, 1) } else { Vec::new() };
                let effects = if timed.is_empty() { effects(self.random, self.names, 4) } else { listed("sets", &timed) };
                format!("{{ {limit}then: {to}{effects}{when} }}")
            })
            .collect();
        let to = self.random.pick(&["75", "100"]);
        format!("measure: Heat, unit: °C, from: {from}, to: {to}, bands: [{}], unsure: {}", bands.join(", "), self.target())
    }

    fn matching(&mut self) -> String {
        if self.names.models.is_empty() {
            return self.action();
        }
        let (drum, roller, several, none, unsure) = (self.named(), self.named(), self.named(), self.named(), self.target());
        format!(
            "measure: Distance, unit: mm, from: 5, to: 400, match: {{ table: repeats, within: 1.5, parts: {{ drum: {drum}, roller: {roller} }}, \
             several: {several}, none: {none} }}, unsure: {unsure}"
        )
    }

    fn carry_out(&mut self) -> String {
        let task = self.random.pick(self.draft.tasks);
        let forget = self.random.one_in(30);
        let mut ways = Vec::new();
        for outcome in &task.outcomes {
            let ends = task.ends.contains(outcome);
            if (ends && !(forget && ways.len() == 1)) || (!ends && self.random.one_in(6)) {
                ways.push(format!("{outcome}: {}", self.named()));
            }
        }
        let cures = if self.random.one_in(5) { ", cures: [f0]" } else { "" };
        format!("carry-out: {}, outcomes: {{ {} }}{cures}", task.id, ways.join(", "))
    }

    fn by_model(&mut self) -> String {
        let mut ways = Vec::new();
        let all = self.random.one_in(2);
        for model in &self.names.models {
            if all || self.random.one_in(2) {
                ways.push(format!("{model}: {}", self.target()));
            }
        }
        if ways.len() < self.names.models.len() || self.random.one_in(4) {
            ways.push(format!("others: {}", self.target()));
        }
        format!("by-model: {{ {} }}", ways.join(", "))
    }

    fn action(&mut self) -> String {
        let wait = match self.random.below(8) {
            0 => format!(", wait: {}", self.random.pick(&["30 s", "1 min", "90 s", "3 min"])),
            1..=2 => few(self.random, &self.names.timed, 1).first().map(|id| format!(", wait-for: {id}")).unwrap_or_default(),
            _ => String::new(),
        };
        let effects = effects(self.random, self.names, 2);
        let cures = if self.random.one_in(5) { ", cures: [f0]" } else { "" };
        format!("do: Do it, then: {}{wait}{effects}{cures}", self.target())
    }

    fn ending(&mut self, written: &mut Written) -> String {
        let outcome = if self.draft.task {
            self.random.pick(self.draft.outcomes).clone()
        } else {
            // Every second ending says that the fault is gone.
            let bound = if self.random.one_in(2) { 2 } else { self.draft.outcomes.len() };
            self.draft.outcomes[self.random.below(bound)].clone()
        };
        if !written.ends.contains(&outcome) {
            written.ends.push(outcome.clone());
        }
        let refer =
            if outcome == "referred" { format!(", refer-to: {}", self.random.pick(&["p0", "p0", "by-code"])) } else { String::new() };
        let effects = effects(self.random, self.names, 5);
        let cures = if self.random.one_in(12) { ", cures: [f0]" } else { "" };
        format!("do: End it, outcome: {outcome}{refer}{effects}{cures}")
    }

    /// Cautions, exposures and demands of a step.
    fn demands(&mut self, id: &str, written: &mut Written) -> String {
        let exposes =
            if self.random.one_in(if self.names.ages { 2 } else { 4 }) { few(self.random, &self.names.hazards, 2) } else { Vec::new() };
        let touches = if self.random.one_in(4) { few(self.random, &self.names.parts, 2) } else { Vec::new() };
        let mut exposed = exposes.clone();
        for part in &touches {
            exposed.extend(self.names.hazards_of[part].iter().cloned());
        }
        let mut cautions =
            if self.random.one_in(if self.names.ages { 2 } else { 3 }) { few(self.random, &self.names.hazards, 2) } else { Vec::new() };
        for hazard in &exposed {
            written.exposures.push((id.to_owned(), hazard.clone()));
            let shown = if self.names.ages { self.random.one_in(5) } else { !self.random.one_in(self.names.care) };
            if !cautions.contains(hazard) && shown {
                cautions.push(hazard.clone());
            }
        }
        if !exposed.is_empty() {
            written.worded.push(id.to_owned());
        }
        let requires = if self.random.one_in(4 + self.names.care) { few(self.random, &self.names.conditions, 2) } else { Vec::new() };
        let minutes = self.random.pick(&["", "", "", ", minutes: 0", ", minutes: 0.5", ", minutes: 1", ", minutes: 2", ", minutes: 4"]);
        let least = if self.random.one_in(10) { *self.random.pick(&[", least: instructed", ", least: skilled"]) } else { "" };
        let lists = [("exposes", &exposes), ("touches", &touches), ("cautions", &cautions), ("requires", &requires)];
        let lists: String = lists.iter().map(|(key, values)| listed(key, values)).collect();
        format!("{lists}{minutes}{least}")
    }
}
