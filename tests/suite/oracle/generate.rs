//! Small random libraries as text. They are valid for the reader and for every rule that needs no path; only what a path shows is left to chance.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::oracle::procedures;
use crate::support::random::Random;

/// The files of a library.
pub struct Files(pub BTreeMap<String, String>);

impl Files {
    /// All of them in one text, for a person who looks at a disagreement.
    pub fn shown(&self) -> String {
        self.0.iter().map(|(path, text)| format!("=== {path}\n{text}\n")).collect()
    }
}

/// What the procedures need to know of the catalogue and the machines.
#[derive(Default)]
pub struct Names {
    pub models: Vec<String>,
    /// The models that a task for some models only is for.
    pub some_models: Vec<String>,
    pub conditions: Vec<String>,
    pub timed: Vec<String>,
    pub hazards: Vec<String>,
    pub parts: Vec<String>,
    /// Hazards of each part.
    pub hazards_of: BTreeMap<String, Vec<String>>,
    /// One in so many chances goes wrong; larger is tidier.
    pub care: usize,
    /// All turns on how long ago a caution was shown: hazards ask for nothing else, and are seldom shown where somebody is exposed.
    pub ages: bool,
}

pub fn library(seed: u64) -> Files {
    let mut random = Random::new(seed);
    let mut names = Names { care: *random.pick(&[2, 4, 12]), ages: random.one_in(4), ..Names::default() };
    let mut files = BTreeMap::new();
    files.insert("library.yaml".to_owned(), "title: A library\nroles: [field service, safety review]\n".to_owned());
    files.insert("stop.md".to_owned(), "# Stop\n\nLeave the machine.\n".to_owned());
    if let Some(text) = equipment(&mut random, &mut names) {
        files.insert("equipment.yaml".to_owned(), text);
    }
    files.insert("safety.yaml".to_owned(), safety(&mut random, &mut names));
    for (id, text) in procedures::all(&mut random, &names) {
        files.insert(format!("procedures/{id}.md"), text);
    }
    Files(files)
}

fn equipment(random: &mut Random, names: &mut Names) -> Option<String> {
    let count = random.below(4);
    if count == 0 {
        return None;
    }
    let mut text = "models:\n".to_owned();
    for index in 0..count {
        let id = format!("m{index}");
        let warm = random.pick(&["35", "44", "48", "50"]);
        let hot = random.pick(&["55", "60"]);
        let rest = random.pick(&["1 min", "90 s", "3 min"]);
        let _ = writeln!(text, "  {id}:\n    name: Machine {index}\n    figures: {{ warm: {warm} °C, hot: {hot} °C, rest-time: {rest} }}");
        let _ = writeln!(text, "    repeats: {{ drum: 75 mm, roller: 50 mm }}");
        names.models.push(id);
    }
    let some = names.models.iter().filter(|_| !random.one_in(3)).cloned().collect::<Vec<_>>();
    names.some_models = if some.is_empty() { names.models.clone() } else { some };
    Some(text)
}

/// A few of a list, without repeats, in its order.
pub fn few(random: &mut Random, from: &[String], most: usize) -> Vec<String> {
    let count = random.below(most + 1);
    let mut left: Vec<usize> = (0..from.len()).collect();
    let mut chosen = Vec::new();
    while chosen.len() < count && !left.is_empty() {
        chosen.push(left.swap_remove(random.below(left.len())));
    }
    if random.one_in(2) {
        chosen.sort_unstable();
    }
    chosen.into_iter().map(|index| from[index].clone()).collect()
}

/// `key: [a, b]`, with a comma before it; nothing for an empty list.
pub fn listed(key: &str, values: &[String]) -> String {
    if values.is_empty() { String::new() } else { format!(", {key}: [{}]", values.join(", ")) }
}

fn safety(random: &mut Random, names: &mut Names) -> String {
    let mut text = conditions(random, names);
    text.push_str("hazards:\n");
    let plain: Vec<String> = names.conditions.iter().filter(|id| !names.timed.contains(id)).cloned().collect();
    for index in 0..=random.below(3) {
        let id = format!("h{index}");
        let requires = few(random, &names.conditions, if names.ages { 0 } else { 2 });
        let returns = if !names.ages && random.one_in(2) { few(random, &plain, 1) } else { Vec::new() };
        let least = random.pick(&["ordinary", "ordinary", "instructed", "skilled"]);
        let _ = writeln!(
            text,
            "  {id}: {{ name: Hazard {index}, kind: hot-surface, place: place {index}, signal-word: notice, nature: It is hot., avoid: Keep off., \
             least: {least}{}{} }}",
            listed("requires", &requires),
            listed("returns-with", &returns)
        );
        names.hazards.push(id);
    }
    text.push_str("parts:\n");
    for index in 0..=random.below(2) {
        let id = format!("part{index}");
        let hazards = few(random, &names.hazards, 2);
        let _ = writeln!(text, "  {id}: {{ name: Part {index}, words: [quagga{index}]{} }}", listed("hazards", &hazards));
        names.hazards_of.insert(id.clone(), hazards);
        names.parts.push(id);
    }
    let steps = random.pick(&["0", "1", "2", "3", "6"][if names.ages { 1 } else { 0 }..]);
    let minutes = random.pick(&["1.5", "3", "5", "15"]);
    let _ = writeln!(text, "caution-within: {{ steps: {steps}, minutes: {minutes} }}");
    text
}

fn conditions(random: &mut Random, names: &mut Names) -> String {
    let count = 3 + random.below(3);
    let mut after: Vec<Option<usize>> = Vec::new();
    let mut text = "conditions:\n".to_owned();
    for index in 0..count {
        after.push((index > 0 && !random.one_in(2)).then(|| random.below(index)));
    }
    for index in 0..count {
        let id = format!("c{index}");
        let mut line = format!("name: Condition {index}");
        if let Some(after) = after[index] {
            let _ = write!(line, ", after: c{after}");
        }
        if after[index].is_some() && !random.one_in(3) {
            let _ = write!(line, ", takes: {}", takes(random, names));
            if !random.one_in(4) {
                line.push_str(&shown_by(random));
            }
            names.timed.push(id.clone());
        } else {
            let free: Vec<String> =
                (0..count).filter(|other| !comes_after(&after, index, *other)).map(|other| format!("c{other}")).collect();
            line.push_str(&listed("clears", &few(random, &free, 1)));
            line.push_str(if random.one_in(3) { ", must-clear: true" } else { "" });
            line.push_str(if random.one_in(4) { ", tried-out: true" } else { "" });
        }
        let _ = writeln!(text, "  {id}: {{ {line} }}");
        names.conditions.push(id);
    }
    text
}

/// Whether `one` is `other`, or comes after it, perhaps by way of others: it must not clear that, which would end itself.
fn comes_after(after: &[Option<usize>], one: usize, other: usize) -> bool {
    one == other || after[one].is_some_and(|before| comes_after(after, before, other))
}

fn takes(random: &mut Random, names: &Names) -> String {
    if !names.models.is_empty() && random.one_in(3) {
        return "rest-time".to_owned();
    }
    (*random.pick(&["30 s", "1 min", "2 min", "150 s"])).to_owned()
}

fn shown_by(random: &mut Random) -> String {
    let unit = if random.one_in(8) { "mm" } else { "°C" };
    let from = random.pick(&["", "", "from: 20, ", "from: 30, "]);
    let up_to = random.pick(&["40", "48", "52", "60"]);
    format!(", shown-by: {{ unit: {unit}, {from}up-to: {up_to} }}")
}
