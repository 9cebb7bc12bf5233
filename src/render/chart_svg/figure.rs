//! From a procedure to what is drawn: each step with its symbol, lines and signs, each way with its label; and their sizes.

use std::collections::BTreeMap;

use crate::chart::graph::{Edge, Graph, Node, Size};
use crate::chart::text;
use crate::finding::WayKind;
use crate::flow::graph::{Way, ways};
use crate::model::library::Library;
use crate::model::procedure::{Kind, Procedure};
use crate::model::step::{Step, StepKind};
use crate::render::by_model::way_words;
use crate::render::chart_svg::kind::{StepRole, Symbol};
use crate::render::chart_svg::lens::{Lens, LensKind};
use crate::render::chart_svg::sign::{self, Sign};
use crate::render::chart_svg::symbol::{self, Shape};
use crate::render::chart_svg::{SMALL, SMALL_LINE, widest};
use crate::text::id::Id;
use crate::text::quantity::duration_text;

/// Between a symbol and its signs.
pub const SIGN_GAP: i32 = 6;
const LABEL_PADDING: i32 = 4;

/// How straight lines want to be: along the main way, along the usual way on of other steps, and else.
const MAIN: i32 = 16;
const FIRST: i32 = 4;
const OTHER: i32 = 1;

/// A step as drawn.
#[derive(Clone, Debug)]
pub struct NodeFigure {
    /// `None` for the start symbol.
    pub step: Option<Id>,
    /// Place in the file, from 1; 0 for the start symbol.
    pub number: usize,
    pub role: StepRole,
    /// Its words, unbroken.
    pub words: String,
    pub shape: Shape,
    pub signs: Vec<Sign>,
    /// The procedure carried out here.
    pub callee: Option<Id>,
    /// It is not what the drawing is about.
    pub aside: bool,
}

impl NodeFigure {
    fn start() -> Self {
        let words = "Start".to_owned();
        let shape = symbol::fit(Symbol::Terminator, &words, &[]);
        Self { step: None, number: 0, role: StepRole::Start, words, shape, signs: Vec::new(), callee: None, aside: false }
    }

    fn new(library: &Library, step: &Step, number: usize, lens: Option<&Lens>) -> Self {
        let role = StepRole::of(library, step);
        let words = words(library, step);
        let shape = symbol::fit(role.symbol(), &words, &notes(library, step));
        let hazard = lens.filter(|lens| lens.kind == LensKind::Hazard);
        let signs = sign::signs(library, step, |id| hazard.is_none_or(|lens| *id == lens.id.as_str()));
        let callee = match &step.kind {
            StepKind::CarryOut(carry_out) => Some(carry_out.procedure.value.clone()),
            _ => None,
        };
        let aside = hazard.is_some_and(|lens| !lens.steps.contains(&step.id));
        Self { step: Some(step.id.clone()), number, role, words, shape, signs, callee, aside }
    }
}

/// A way as drawn.
#[derive(Clone, Debug)]
pub struct WayFigure {
    /// The step and the index of the way in `ways(step)`; `None` for the line from the start symbol.
    pub from: Option<(Id, usize)>,
    pub kind: WayKind,
    pub to: Id,
    pub label: Vec<String>,
}

impl WayFigure {
    /// A way for when the step itself could not be answered or done; drawn under the others and more quietly.
    pub fn aside(&self) -> bool {
        matches!(self.kind, WayKind::Unsure | WayKind::Otherwise)
    }
}

/// Nodes and ways in the order of the graph's nodes and edges.
#[derive(Clone, Debug, Default)]
pub struct Figure {
    pub nodes: Vec<NodeFigure>,
    pub ways: Vec<WayFigure>,
    pub graph: Graph,
}

impl Figure {
    pub fn new(library: &Library, procedure: &Procedure) -> Self {
        Self::through(library, procedure, None)
    }

    /// What a lens shows: of a hazard all steps, but the signs of this hazard only; of anything else the steps and ways that belong to it.
    pub fn through(library: &Library, procedure: &Procedure, lens: Option<&Lens>) -> Self {
        let mut figure = Self::default();
        let part = lens.filter(|lens| lens.kind != LensKind::Hazard);
        let shown = |step: &&Step| part.is_none_or(|lens| lens.steps.contains(&step.id));
        let start = procedure.start_step().filter(shown);
        if start.is_some() {
            figure.add(NodeFigure::start());
        }
        let mut index = BTreeMap::new();
        let mut steps = Vec::new();
        for (place, step) in procedure.steps.iter().enumerate().filter(|(_, step)| shown(step)) {
            index.entry(step.id.clone()).or_insert(figure.nodes.len());
            steps.push((figure.nodes.len(), step));
            figure.add(NodeFigure::new(library, step, place + 1, lens));
        }
        if let Some(first) = start.and_then(|step| index.get(&step.id)) {
            figure.connect(0, *first, (None, WayKind::Next), Vec::new(), MAIN);
        }
        let main = main_way(procedure, start);
        let model = lens.filter(|lens| lens.kind == LensKind::Model).map(|lens| lens.id.as_str());
        for (node, step) in steps {
            let main = main.get(&step.id).copied();
            let taken = |place: usize| part.is_none_or(|lens| lens.ways.contains(&(step.id.clone(), place)));
            figure.connect_ways(node, (library, procedure, step), model, &index, main, taken);
        }
        figure
    }

    fn add(&mut self, node: NodeFigure) {
        let (sign_width, sign_height) = sign::size(&node.signs);
        let shape = &node.shape;
        let height = shape.height.max(sign_height);
        let over = (height - shape.height) / 2;
        let beside = if node.signs.is_empty() { 0 } else { SIGN_GAP + sign_width };
        self.graph.nodes.push(Node {
            left: shape.left,
            right: shape.right + beside,
            height,
            inlet: over + shape.inlet,
            outlet: height - over - shape.height,
        });
        self.nodes.push(node);
    }

    fn connect_ways(
        &mut self,
        from: usize,
        (library, procedure, step): (&Library, &Procedure, &Step),
        only: Option<&str>,
        index: &BTreeMap<Id, usize>,
        main: Option<usize>,
        taken: impl Fn(usize) -> bool,
    ) {
        let all = ways(step);
        let (usual, weight) = if main.is_some() { (main, MAIN) } else { (usual(&all), FIRST) };
        let room = if all.len() > 4 { 84 } else { 124 };
        for (place, way) in all.iter().enumerate().filter(|(place, _)| taken(*place)) {
            let Some(to) = way.then.and_then(|then| index.get(&then.value)) else { continue };
            // A step with one plain way on needs no word on it.
            let bare = way.kind == WayKind::Next && all.len() == 1;
            let words = way_words(library, procedure, only, step, way);
            // A word is only broken if it would be wide beside few ways, too.
            let longest = words.split_whitespace().map(|word| text::width(word, SMALL)).max().unwrap_or(0);
            let label = if bare { Vec::new() } else { text::wrap_evenly(&words, SMALL, |_| room.max(longest.min(124))) };
            let weight = if Some(place) == usual { weight } else { OTHER };
            self.connect(from, *to, (Some((step.id.clone(), place)), way.kind), label, weight);
        }
    }

    fn connect(&mut self, from: usize, to: usize, way: (Option<(Id, usize)>, WayKind), label: Vec<String>, weight: i32) {
        let Some(target) = self.nodes.get(to).and_then(|node| node.step.clone()) else { return };
        let height = SMALL_LINE * i32::try_from(label.len()).unwrap_or(0) + 6;
        let size = (!label.is_empty()).then(|| Size { width: widest(&label, SMALL) + 2 * LABEL_PADDING, height });
        self.graph.edges.push(Edge { from, to, label: size, weight });
        self.ways.push(WayFigure { from: way.0, kind: way.1, to: target, label });
    }
}

/// The usual way on: the first that is not for having tried often enough or for not being able to tell, wherever the author wrote those.
fn usual(ways: &[Way<'_>]) -> Option<usize> {
    ways.iter().position(is_planned).or((!ways.is_empty()).then_some(0))
}

fn is_planned(way: &Way<'_>) -> bool {
    !matches!(way.kind, WayKind::Otherwise | WayKind::Unsure)
}

/// The main line, from the start until it ends or goes in a circle: its steps, each with the place of its way on.
fn main_way(procedure: &Procedure, start: Option<&Step>) -> BTreeMap<Id, usize> {
    let mut main = BTreeMap::new();
    let mut here = start;
    while let Some(step) = here {
        let all = ways(step);
        // A line back up leads no further. In a search for a fault an ending is left aside while anything else goes on; a task is meant to end.
        let rank = |place: &usize| match target(procedure, &all[*place]) {
            Some(to) if to.id == step.id || main.contains_key(&to.id) => 2,
            Some(to) => u8::from(to.outcome().is_some() && procedure.kind == Kind::FaultFinding),
            None => 3,
        };
        let Some(place) = (0..all.len()).filter(|place| is_planned(&all[*place])).min_by_key(rank).or_else(|| usual(&all)) else { break };
        main.insert(step.id.clone(), place);
        here = target(procedure, &all[place]).filter(|to| !main.contains_key(&to.id));
    }
    main
}

/// What a step says in one sentence.
pub fn words(library: &Library, step: &Step) -> String {
    if let Some(text) = step.text() {
        return text.value.clone();
    }
    match &step.kind {
        StepKind::CarryOut(carry_out) => match (&carry_out.name, library.procedure(&carry_out.procedure.value)) {
            (Some(name), _) => name.value.clone(),
            (None, Some(called)) => called.title().to_owned(),
            (None, None) => carry_out.procedure.to_string(),
        },
        StepKind::ByModel(_) => "Which model is it?".to_owned(),
        StepKind::Ask(_) | StepKind::Measure(_) | StepKind::Do(_) | StepKind::Unclear(_) => step.id.to_string(),
    }
}

/// Short facts under the words: the range of a reading, a wait, how often, how it ends.
pub fn notes(library: &Library, step: &Step) -> Vec<String> {
    let mut notes = Vec::new();
    if let StepKind::Measure(measurement) = &step.kind
        && let (Some(from), Some(to)) = (&measurement.from, &measurement.to)
    {
        let unit = measurement.unit.as_ref().map_or("", |unit| unit.value.as_str());
        notes.push(format!("{} to {} {unit}", from.value, to.value).trim_end().to_owned());
    }
    if let StepKind::Do(action) = &step.kind {
        notes.extend(action.wait.as_ref().map(|wait| format!("wait {}", duration_text(wait.value))));
        notes.extend(action.wait_for.as_ref().map(|condition| {
            let name = library.catalogue.condition(&condition.value).and_then(|found| found.name.as_ref());
            format!("wait for: {}", name.map_or(condition.as_str(), |name| name.value.as_str()))
        }));
        notes.extend(action.outcome.as_ref().map(|outcome| match &action.refer_to {
            Some(procedure) => format!("on with: {}", referred(library, &procedure.value)),
            None => format!("ends: {}", outcome.as_str().replace('-', " ")),
        }));
    }
    notes.extend(step.at_most.as_ref().map(|times| format!("at most {} times", times.value)));
    notes
}

/// The title of a procedure that an ending leads to.
pub fn referred(library: &Library, procedure: &Id) -> String {
    match library.procedure(procedure) {
        Some(found) => found.title().to_owned(),
        None if *procedure == "by-code" => "the procedure for the panel code".to_owned(),
        None => procedure.to_string(),
    }
}

/// The number of a step in its file, from 1.
pub fn number(procedure: &Procedure, id: &Id) -> Option<usize> {
    procedure.steps.iter().position(|step| step.id == *id).map(|place| place + 1)
}

/// Where a way leads and what it says, for the list.
pub fn target<'a>(procedure: &'a Procedure, way: &Way<'_>) -> Option<&'a Step> {
    way.then.and_then(|then| procedure.step(&then.value))
}
