//! Whether somebody who follows a procedure could tell OLD from NEW by answering, and if so by which answers.
//!
//! Both flows become one automaton: a state is a step (with how often each limited step was carried out), what it shows is what a person sees there,
//! its ways are the answers. The starts of both are in one class exactly if no sequence of answers tells them apart.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use crate::compare::bands::{Edge, band_at, edges};
use crate::compare::refine::{Automaton, Parting, refine};
use crate::compare::rename::kind_of;
use crate::compare::said::plain;
use crate::compare::sees::{beside_words, says, unit};
use crate::finding::WayKind;
use crate::flow::graph::{Way, ways};
use crate::model::equipment::Model;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::model::step::{Step, StepKind};
use crate::text::id::Id;
use crate::text::place::At;
use crate::text::quantity::duration_text;

/// What was found for one procedure, on some models.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Behaviour {
    pub procedure: Id,
    /// The models it holds for; empty if for all.
    pub models: Vec<Id>,
    pub verdict: Verdict,
    /// Limits were too many to be counted: a limited step may be left at any time.
    pub uncounted: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// No answers tell them apart.
    Same,
    /// The same answers lead to the same steps, of which some show other words; first at the end of these answers.
    Words(Apart),
    Differs(Apart),
}

/// A shortest sequence of answers that shows a difference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Apart {
    pub answers: Vec<Given>,
    /// What OLD and NEW show then.
    pub old: String,
    pub new: String,
}

/// An answer at a step: the step's id in NEW (in OLD, where NEW shows none of that name), its words, the answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    pub step: Id,
    pub says: String,
    pub answer: String,
}

/// More states than this on one side, and limits are no longer counted.
const MOST_STATES: usize = 20_000;

/// One procedure of one library on one model.
#[derive(Clone, Copy)]
pub struct Flow<'a> {
    pub library: &'a Library,
    pub procedure: &'a Procedure,
    pub model: Option<&'a Model>,
    /// Tells OLD from NEW where what is carried out behaves differently.
    pub side: &'static str,
}

/// Compares two flows. `differing`: procedures that behave differently themselves.
pub fn compare(old: Flow<'_>, new: Flow<'_>, differing: &BTreeSet<Id>) -> (Verdict, bool) {
    let (strict, uncounted) = run(old, new, differing, true);
    let Some((apart, words_only)) = strict else { return (Verdict::Same, uncounted) };
    if !words_only {
        return (Verdict::Differs(apart), uncounted);
    }
    match run(old, new, differing, false).0 {
        Some((deeper, _)) => (Verdict::Differs(deeper), uncounted),
        None => (Verdict::Words(apart), uncounted),
    }
}

type Found = Option<(Apart, bool)>;

fn run(old: Flow<'_>, new: Flow<'_>, differing: &BTreeSet<Id>, by_words: bool) -> (Found, bool) {
    let cuts = cuts([old, new]);
    for counted in [true, false] {
        let mut union = Union { cuts: &cuts, differing, by_words, counted, common: common(old, new), ..Union::new(&cuts, differing) };
        let starts = (union.start(old), union.start(new));
        let (Ok(left), Ok(right)) = starts else { continue };
        let found = match (left, right) {
            (Some(left), Some(right)) => {
                let parting = refine(&union.automaton).apart(&union.automaton, left, right);
                parting.map(|parting| union.words((old, new), &parting))
            }
            (None, None) => None,
            (left, right) => {
                let shown =
                    |start: Option<usize>| start.map_or_else(|| "has no first step".to_owned(), |start| union.states[start].says.clone());
                Some((Apart { answers: Vec::new(), old: shown(left), new: shown(right) }, false))
            }
        };
        return (found, !counted);
    }
    (None, true)
}

/// Steps that both have, by id.
fn common(old: Flow<'_>, new: Flow<'_>) -> BTreeSet<Id> {
    let ids = |flow: Flow<'_>| flow.procedure.steps.iter().map(|step| step.id.clone()).collect::<BTreeSet<_>>();
    ids(old).intersection(&ids(new)).cloned().collect()
}

/// All limits of both, by unit: they cut the values into stretches that no band divides.
fn cuts(flows: [Flow<'_>; 2]) -> BTreeMap<&'static str, Vec<Edge>> {
    let mut cuts: BTreeMap<&'static str, Vec<Edge>> = BTreeMap::new();
    for flow in flows {
        for step in &flow.procedure.steps {
            if let StepKind::Measure(measurement) = &step.kind {
                let list = cuts.entry(unit(measurement)).or_default();
                list.extend(edges(measurement, flow.model).into_iter().flatten());
                list.extend(measurement.from.as_ref().map(|from| (from.value, false)));
                list.extend(measurement.to.as_ref().map(|to| (to.value, true)));
            }
        }
    }
    for list in cuts.values_mut() {
        list.sort();
        list.dedup();
    }
    cuts
}

/// A state of the automaton: where it stands and what it says.
struct State {
    step: Id,
    says: String,
    ways: Vec<String>,
}

struct Union<'a> {
    cuts: &'a BTreeMap<&'static str, Vec<Edge>>,
    differing: &'a BTreeSet<Id>,
    by_words: bool,
    counted: bool,
    common: BTreeSet<Id>,
    automaton: Automaton,
    states: Vec<State>,
    shown: HashMap<String, usize>,
    labels: HashMap<String, usize>,
}

/// Too many states to count limits.
struct TooMany;

impl<'a> Union<'a> {
    fn new(cuts: &'a BTreeMap<&'static str, Vec<Edge>>, differing: &'a BTreeSet<Id>) -> Self {
        Self {
            cuts,
            differing,
            by_words: true,
            counted: true,
            common: BTreeSet::new(),
            automaton: Automaton::default(),
            states: Vec::new(),
            shown: HashMap::new(),
            labels: HashMap::new(),
        }
    }

    /// Adds all that can be reached of a flow; gives its first state.
    fn start(&mut self, flow: Flow<'_>) -> Result<Option<usize>, TooMany> {
        let limited: Vec<&Id> = flow.procedure.steps.iter().filter(|step| step.at_most.is_some()).map(|step| &step.id).collect();
        let limited = if self.counted { limited } else { Vec::new() };
        let mut explorer = Explorer { flow, limited, known: HashMap::new(), open: Vec::new() };
        let counts = vec![0; explorer.limited.len()];
        let first = flow.procedure.start_step().and_then(|step| self.arrive(&mut explorer, &step.id, counts));
        while let Some((state, step, counts)) = explorer.open.pop() {
            if explorer.known.len() > MOST_STATES {
                return Err(TooMany);
            }
            let mut leads = Vec::new();
            let mut names = Vec::new();
            for (name, words, then) in self.ways(flow, step) {
                if let Some(to) = self.arrive(&mut explorer, then, counts.clone()) {
                    leads.push((name, to));
                    names.push(words);
                }
            }
            self.automaton.ways[state] = leads;
            self.states[state].ways = names;
        }
        Ok(first)
    }

    /// The state in which somebody comes to see a step: a used-up limit and a choice by model lead on unseen.
    fn arrive<'f>(&mut self, explorer: &mut Explorer<'f>, id: &Id, mut counts: Vec<u32>) -> Option<usize> {
        let mut id = id.clone();
        let mut passed = BTreeSet::new();
        loop {
            let step = explorer.flow.procedure.step(&id)?;
            if !passed.insert(id.clone()) {
                // Only such unseen ways in a circle: nobody ever sees anything.
                return None;
            }
            if let StepKind::ByModel(by_model) = &step.kind {
                let chosen = by_model.ways.iter().find(|(model, _)| explorer.flow.model.is_some_and(|it| it.id == model.value));
                id = chosen.map(|(_, then)| then).or(by_model.others.as_ref())?.value.clone();
                continue;
            }
            if let (Some(number), Some(most)) = (explorer.limited.iter().position(|it| **it == id), &step.at_most) {
                if counts[number] >= most.value {
                    id = step.otherwise.as_ref()?.value.clone();
                    continue;
                }
                counts[number] += 1;
            }
            let key = (id, counts);
            if let Some(known) = explorer.known.get(&key) {
                return Some(*known);
            }
            let state = self.add(explorer.flow, step);
            explorer.known.insert(key.clone(), state);
            explorer.open.push((state, step, key.1));
            return Some(state);
        }
    }

    fn add(&mut self, flow: Flow<'_>, step: &Step) -> usize {
        let says = says(flow, step);
        let text = if self.by_words || !self.common.contains(&step.id) { says.clone() } else { format!("step {}", step.id) };
        let shown = format!("{}\n{text}\n{}", kind_of(step), self.beside(flow, step));
        let next = self.shown.len();
        let number = *self.shown.entry(shown).or_insert(next);
        self.automaton.shows.push(number);
        self.automaton.ways.push(Vec::new());
        self.states.push(State { step: step.id.clone(), says, ways: Vec::new() });
        self.states.len() - 1
    }

    /// What else is seen at a step: cautions, waits, outcome, and whether what it carries out is another thing.
    fn beside(&self, flow: Flow<'_>, step: &Step) -> String {
        let mut cautions: Vec<&str> = step.cautions.iter().map(|caution| caution.as_str()).collect();
        cautions.sort_unstable();
        let own = match &step.kind {
            StepKind::Do(action) => {
                let id = |id: &Option<At<Id>>| id.as_ref().map(|id| id.value.to_string()).unwrap_or_default();
                let wait = action.wait.as_ref().map(|wait| duration_text(wait.value)).unwrap_or_default();
                format!("{} {} {wait} {}", id(&action.outcome), id(&action.refer_to), id(&action.wait_for))
            }
            StepKind::CarryOut(carry_out) => {
                let side = if self.differing.contains(&carry_out.procedure.value) { flow.side } else { "" };
                format!("{} {side}", carry_out.procedure.value)
            }
            StepKind::Measure(measurement) => unit(measurement).to_owned(),
            StepKind::Ask(_) | StepKind::ByModel(_) | StepKind::Unclear(_) => String::new(),
        };
        let limit = step.at_most.as_ref().filter(|_| !self.counted).map(|most| most.value.to_string()).unwrap_or_default();
        format!("{} {own} {limit}", cautions.join(" "))
    }

    /// The ways a person can take: number of the name, the name, the step.
    fn ways<'f>(&mut self, flow: Flow<'_>, step: &'f Step) -> Vec<(usize, String, &'f Id)> {
        let mut found = Vec::new();
        let stretches = self.stretches(flow, step);
        let counted = self.counted;
        for way in &ways(step) {
            // Where limits are counted nobody chooses `otherwise`; a choice by model is not seen.
            let unseen = way.kind == WayKind::Model || (way.kind == WayKind::Otherwise && counted);
            let (Some(then), false) = (way.then, unseen) else { continue };
            match (way.band, &stretches) {
                (Some(band), Some(stretches)) => {
                    for (_, words) in stretches.iter().filter(|(it, _)| *it == band) {
                        found.push((self.label(way.kind, words), words.clone(), &then.value));
                    }
                }
                _ => {
                    let words = said(way);
                    found.push((self.label(way.kind, &words), words, &then.value));
                }
            }
        }
        found
    }

    fn label(&mut self, kind: WayKind, words: &str) -> usize {
        let next = self.labels.len();
        *self.labels.entry(format!("{} {words}", kind.as_str())).or_insert(next)
    }

    /// The stretches of values of a measurement with the bands that lead them; `None` if it has no bands or a limit is not known.
    fn stretches(&self, flow: Flow<'_>, step: &Step) -> Option<Vec<(usize, String)>> {
        let StepKind::Measure(measurement) = &step.kind else { return None };
        let limits = edges(measurement, flow.model)?;
        let cuts = self.cuts.get(unit(measurement))?;
        let named = |low: Edge, high: Edge| {
            let text = match (low.1, high.1) {
                _ if low.0 == high.0 => format!("just {}", high.0.normalize()),
                (below, inside) => {
                    let (from, to) = (if below { "above" } else { "from" }, if inside { "up to" } else { "below" });
                    format!("{from} {} {to} {}", low.0.normalize(), high.0.normalize())
                }
            };
            format!("{text} {}", unit(measurement)).trim_end().to_owned()
        };
        let all = cuts.windows(2).filter_map(|window| match window {
            [low, high] => band_at(measurement, &limits, *high).map(|band| (band, named(*low, *high))),
            _ => None,
        });
        Some(all.collect())
    }

    /// The parting in words, and whether its two ends are one step with other words only.
    fn words(&self, (old, new): (Flow<'_>, Flow<'_>), parting: &Parting) -> (Apart, bool) {
        let answers = parting.ways.iter().map(|(name, left, right)| {
            let state = &self.states[*left];
            let index = self.automaton.ways[*left].iter().position(|(it, _)| it == name);
            let there = self.automaton.ways[*right].iter().position(|(it, _)| it == name);
            let answer = index.and_then(|index| state.ways.get(index)).or_else(|| there.and_then(|it| self.states[*right].ways.get(it)));
            Given { step: self.states[*right].step.clone(), says: state.says.clone(), answer: answer.cloned().unwrap_or_default() }
        });
        let shown = |end: Option<usize>| end.map_or_else(|| "has no such answer".to_owned(), |end| self.states[end].says.clone());
        let (left, right) = parting.ends;
        let words_only = match (left, right) {
            (Some(left), Some(right)) => {
                let (left, right) = (&self.states[left], &self.states[right]);
                let step = |flow: Flow<'_>, id: &Id| flow.procedure.step(id).map(|step| (kind_of(step), self.beside(flow, step)));
                left.step == right.step && step(old, &left.step) == step(new, &right.step)
            }
            _ => false,
        };
        let (mut before, mut after) = (shown(left), shown(right));
        if before == after {
            // The same words: the difference is in what stands beside them.
            let beside = |flow: Flow<'_>, end: Option<usize>| {
                let step = end.and_then(|end| flow.procedure.step(&self.states[end].step));
                step.map(|step| beside_words(flow, step, self.differing)).unwrap_or_default()
            };
            before += &beside(old, left);
            after += &beside(new, right);
        }
        (Apart { answers: answers.collect(), old: before, new: after }, words_only)
    }
}

struct Explorer<'f> {
    flow: Flow<'f>,
    limited: Vec<&'f Id>,
    known: HashMap<(Id, Vec<u32>), usize>,
    open: Vec<(usize, &'f Step, Vec<u32>)>,
}

fn said(way: &Way<'_>) -> String {
    plain(&way.words())
}
