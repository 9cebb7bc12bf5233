//! The flowchart: geometry on numbers, over graphs by hand and over seeded random flows, and the SVG made from it.

#[path = "support/flow.rs"]
mod flow;

use std::collections::{BTreeMap, BTreeSet};

use stepward::chart::drawing::{Drawing, Point, Rect};
use stepward::chart::graph::{Edge, Graph, Node, Size};
use stepward::chart::{channel, draw, order};
use stepward::render::chart_svg::kind::{StepRole, Symbol};
use stepward::render::chart_svg::{chart, figure, legend, outline, symbol};

/// SplitMix64 (Steele, Lea, Flood 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % limit as u64).expect("fits")
    }
    fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
    fn size(&mut self, low: i32, high: i32) -> i32 {
        low + i32::try_from(self.below(usize::try_from(high - low + 1).expect("positive"))).expect("fits")
    }
}

/// A flow as people write them: questions with two to five ways on, runs of actions, shared endings, loops back, a few lines to anywhere.
fn random_flow(seed: u64, steps: usize) -> Graph {
    let mut dice = Dice(seed);
    let nodes = (0..steps)
        .map(|_| {
            let side = dice.size(50, 120);
            let signs = if dice.one_in(4) { dice.size(40, 150) } else { 0 };
            let (inlet, outlet) = (dice.size(0, 8), dice.size(0, 8));
            Node { left: side, right: side + signs, height: dice.size(36, 150), inlet, outlet }
        })
        .collect();
    let endings = 1 + steps / 12;
    let mut edges = Vec::new();
    for from in 0..steps - endings {
        let ways = if dice.one_in(2) { 1 } else { 2 + dice.below(4) };
        for way in 0..ways {
            let to = if way == 0 || dice.one_in(2) {
                (from + 1 + dice.below(3)).min(steps - 1)
            } else if dice.one_in(4) {
                from.saturating_sub(dice.below(12))
            } else if dice.one_in(6) {
                dice.below(steps)
            } else {
                steps - 1 - dice.below(endings)
            };
            let label = (ways > 1 && !dice.one_in(9)).then(|| Size { width: dice.size(16, 110), height: dice.size(1, 3) * 15 + 6 });
            edges.push(Edge { from, to, label, weight: if way == 0 { 4 } else { 1 } });
        }
    }
    Graph { nodes, edges, start: 0 }
}

fn plain(count: usize, pairs: &[(usize, usize)]) -> Graph {
    Graph {
        nodes: vec![Node::plain(100, 40); count],
        edges: pairs.iter().map(|(from, to)| Edge { from: *from, to: *to, label: None, weight: 1 }).collect(),
        start: 0,
    }
}

/// What holds for every drawing; gives what is wrong.
fn faults(graph: &Graph, drawing: &Drawing) -> Vec<String> {
    let mut faults = Vec::new();
    let boxes = &drawing.boxes;
    let labels: Vec<(usize, Rect)> =
        drawing.lines.iter().enumerate().filter_map(|(index, line)| line.label.map(|label| (index, label))).collect();
    let all: Vec<(String, Rect)> = boxes
        .iter()
        .enumerate()
        .map(|(index, area)| (format!("box {index}"), *area))
        .chain(labels.iter().map(|(index, area)| (format!("label {index}"), *area)))
        .collect();
    for (place, (name, area)) in all.iter().enumerate() {
        let inside = area.x >= 0 && area.y >= 0 && area.x + area.width <= drawing.width && area.y + area.height <= drawing.height;
        if !inside {
            faults.push(format!("{name} leaves the drawing"));
        }
        for (other, other_area) in &all[place + 1..] {
            if area.overlaps(other_area) {
                faults.push(format!("{name} overlaps {other}"));
            }
        }
    }
    for (index, (edge, line)) in graph.edges.iter().zip(&drawing.lines).enumerate() {
        faults.extend(line_faults(graph, drawing, edge, &line.points).into_iter().map(|fault| format!("line {index} {fault}")));
        if edge.label.is_some() != line.label.is_some() {
            faults.push(format!("line {index} lost its label"));
        }
        for (other, area) in &labels {
            let touched = line.points.windows(2).any(|pair| cuts(pair[0], pair[1], area));
            if touched != (*other == index) {
                faults.push(format!("line {index} and label {other}: on it is {touched}"));
            }
        }
    }
    faults
}

fn line_faults(graph: &Graph, drawing: &Drawing, edge: &Edge, points: &[Point]) -> Vec<String> {
    let mut faults = Vec::new();
    let (from, to) = (drawing.boxes[edge.from], drawing.boxes[edge.to]);
    let out = Point { x: drawing.axes[edge.from], y: from.y + from.height - graph.nodes[edge.from].outlet };
    let into = Point { x: drawing.axes[edge.to], y: to.y + graph.nodes[edge.to].inlet };
    if points.first() != Some(&out) || points.last() != Some(&into) {
        faults.push(format!("does not lead from border to border: {points:?}"));
    }
    let last = points.len() - 1;
    if points[last - 1].x != points[last].x || points[last - 1].y >= points[last].y - 9 {
        faults.push("leaves no room for its arrowhead".to_owned());
    }
    for (place, pair) in points.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        if (a.x == b.x) == (a.y == b.y) {
            faults.push(format!("is slanted or idle: {a:?} {b:?}"));
        }
        for point in [a, b] {
            if point.x < 0 || point.y < 0 || point.x > drawing.width || point.y > drawing.height {
                faults.push(format!("leaves the drawing: {point:?}"));
            }
        }
        for (index, area) in drawing.boxes.iter().enumerate() {
            // Its own boxes it may meet at its first and last stretch only: between the outline and the edge of the box.
            let own = (index == edge.from && place == 0) || (index == edge.to && place + 1 == last);
            if !own && cuts(a, b, area) {
                faults.push(format!("cuts box {index}"));
            }
        }
    }
    faults
}

/// Whether a level or upright stretch passes through the inside of a rectangle.
fn cuts(a: Point, b: Point, area: &Rect) -> bool {
    let (left, right) = (a.x.min(b.x), a.x.max(b.x));
    let (top, bottom) = (a.y.min(b.y), a.y.max(b.y));
    right > area.x && left < area.x + area.width && bottom > area.y && top < area.y + area.height
}

/// Pairs of lines of unlike beginning and unlike end that share a stretch: a reader could not tell them apart.
fn shared_stretches(graph: &Graph, drawing: &Drawing) -> Vec<(usize, usize)> {
    let mut found = BTreeSet::new();
    // By direction and place: from, to, and which line.
    type Stretch = (i32, i32, usize);
    let mut by_place: BTreeMap<(bool, i32), Vec<Stretch>> = BTreeMap::new();
    for (index, line) in drawing.lines.iter().enumerate() {
        for pair in line.points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let is_upright = a.x == b.x;
            let (at, from, to) = if is_upright { (a.x, a.y, b.y) } else { (a.y, a.x, b.x) };
            by_place.entry((is_upright, at)).or_default().push((from.min(to), from.max(to), index));
        }
    }
    for stretches in by_place.values() {
        for (place, (from, to, one)) in stretches.iter().enumerate() {
            for (other_from, other_to, other) in &stretches[place + 1..] {
                let (a, b) = (&graph.edges[*one], &graph.edges[*other]);
                if from < other_to && other_from < to && a.from != b.from && a.to != b.to {
                    found.insert((*one, *other));
                }
            }
        }
    }
    found.into_iter().collect()
}

#[test]
fn random_flows_keep_every_rule_of_the_drawing() {
    // Two halves side by side; which seed runs where changes nothing.
    std::thread::scope(|scope| {
        for half in 0..2 {
            scope.spawn(move || (half..500).step_by(2).for_each(check_random_flow));
        }
    });
}

fn check_random_flow(seed: u64) {
    // 5 to 200 steps; as in life most are short.
    let longest = if seed.is_multiple_of(5) { 196 } else { 76 };
    let steps = 5 + usize::try_from(seed * seed % longest).expect("small");
    let graph = random_flow(seed, steps);
    let drawing = draw(&graph);
    let faults = faults(&graph, &drawing);
    assert!(faults.is_empty(), "seed {seed}, {steps} steps: {:?}", &faults[..faults.len().min(5)]);
    let stretches = shared_stretches(&graph, &drawing);
    assert!(stretches.is_empty(), "seed {seed}, {steps} steps: lines look like one: {stretches:?}");
}

#[test]
fn the_same_graph_gives_the_same_drawing() {
    for seed in 0..20 {
        let graph = random_flow(seed, 60);
        assert_eq!(format!("{:?}", draw(&graph)), format!("{:?}", draw(&graph.clone())));
    }
}

#[test]
fn odd_graphs_are_drawn() {
    let empty = draw(&Graph::default());
    assert!(empty.boxes.is_empty() && empty.lines.is_empty() && empty.width >= 0);
    let odd = [
        plain(1, &[]),
        plain(1, &[(0, 0)]),
        plain(2, &[(0, 0), (1, 1), (1, 1)]),
        plain(2, &[(0, 1), (0, 1), (0, 1), (1, 0), (1, 0)]),
        plain(6, &[(0, 1), (3, 4), (4, 3), (5, 5)]),
        plain(4, &[(3, 2), (2, 1), (1, 0), (0, 3)]),
        plain(3, &[]),
        plain(5, &[(0, 1), (1, 2), (2, 0), (2, 3), (3, 1), (3, 4), (4, 2)]),
    ];
    for graph in odd {
        let drawing = draw(&graph);
        assert_eq!(faults(&graph, &drawing), Vec::<String>::new(), "{graph:?}");
    }
}

#[test]
fn a_chain_of_twenty_thousand_steps_is_one_straight_line() {
    let pairs: Vec<(usize, usize)> = (1..20_000).map(|step| (step - 1, step)).collect();
    let drawing = draw(&plain(20_000, &pairs));
    assert!(drawing.axes.iter().all(|axis| *axis == drawing.axes[0]));
    assert!(drawing.lines.iter().all(|line| line.points.len() == 2));
    assert_eq!(drawing.crossings, 0);
}

#[test]
fn a_step_that_two_hundred_lines_lead_to_is_drawn() {
    let pairs: Vec<(usize, usize)> = (1..=200).map(|step| (0, step)).chain((1..=200).map(|step| (step, 201))).collect();
    let graph = plain(202, &pairs);
    let drawing = draw(&graph);
    assert_eq!(faults(&graph, &drawing), Vec::<String>::new());
    assert_eq!(drawing.crossings, 0);
}

/// The worked example of Barth, Jünger, Mutzel 2002, and complete graphs on two rows: C(p,2) C(q,2) in every order.
#[test]
fn crossings_are_counted_as_published() {
    let mut south: Vec<(usize, usize)> = [0, 1, 2, 0, 3, 4, 0, 2, 3, 2, 4].into_iter().enumerate().collect();
    assert_eq!(order::count_crossings(&mut south), 12);
    for (p, q, expected) in [(2, 2, 1), (3, 3, 9), (4, 5, 60)] {
        let mut pairs: Vec<(usize, usize)> = (0..p).flat_map(|a| (0..q).map(move |b| (a, b))).collect();
        assert_eq!(order::count_crossings(&mut pairs), expected, "K{p},{q}");
    }
}

#[test]
fn what_can_be_drawn_without_crossings_is() {
    let tree: Vec<(usize, usize)> = (1..64).map(|node| ((node - 1) / 2, node)).collect();
    assert_eq!(draw(&plain(64, &tree)).crossings, 0);
    // Two branches that change sides, and meet again.
    assert_eq!(draw(&plain(6, &[(0, 1), (0, 2), (2, 3), (1, 4), (3, 5), (4, 5)])).crossings, 0);
}

#[test]
fn tracks_that_demand_each_other_get_a_second_track() {
    let swap = [channel::Net { tops: vec![0], bottoms: vec![100] }, channel::Net { tops: vec![100], bottoms: vec![0] }];
    let (runs, tracks) = channel::tracks(&swap);
    assert_eq!(tracks, 3);
    assert!(runs.iter().any(|run| matches!(run, channel::Run::Two { at, .. } if *at > 0 && *at < 100)), "{runs:?}");
}

#[test]
fn every_role_has_one_symbol_and_every_symbol_its_own_shape() {
    let classes: BTreeSet<&str> = StepRole::ALL.into_iter().map(StepRole::class).collect();
    assert_eq!(classes.len(), StepRole::ALL.len());
    let area = Rect { x: 0, y: 0, width: 200, height: 60 };
    let shapes: BTreeMap<Symbol, String> = Symbol::ALL.into_iter().map(|symbol| (symbol, symbol::outline(symbol, area, 100))).collect();
    let distinct: BTreeSet<&String> = shapes.values().collect();
    assert_eq!(distinct.len(), Symbol::ALL.len());
    let used: BTreeSet<Symbol> = StepRole::ALL.into_iter().map(StepRole::symbol).collect();
    assert_eq!(used.len(), Symbol::ALL.len());
    let corners =
        |symbol: Symbol| shapes[&symbol].split("points=\"").nth(1).map(|rest| rest.split('"').next().unwrap_or("").split(' ').count());
    assert_eq!(corners(Symbol::Decision), Some(4));
    assert_eq!(corners(Symbol::Preparation), Some(6));
    assert_eq!(corners(Symbol::Process), None);
    assert!(shapes[&Symbol::Terminator].contains("height=\"60\" rx=\"30\""));
    assert!(shapes[&Symbol::Connector].starts_with("<circle"));
}

const MARKS: &str = "
    look | ask | Is the mark at the same distance each time? | | Yes > gap ; No > streaks ; ? > hand-over
    streaks | end | Go on with the procedure for lines | outcome=referred refer-to=lines |
    gap | measure | Distance between one mark & the next <mm> | | below > technician ; rest > drum ; ? > hand-over
    technician | ask | Is a trained technician at the machine? | | Yes > make-safe ; No > hand-over ; ? > hand-over
    make-safe | carry-out | Make the machine safe | | done > cool ; not-done > leave-off
    cool | do | Wait until the heat has gone | wait=30 | - > replace-fuser
    replace-fuser | do | Replace the fuser unit | cautions=hot-fuser exposes=hot-fuser | - > test-page
    drum | do | Replace the drum | sets=isolated | - > test-page
    test-page | ask | Are three test pages clean? | | Yes > close ; No > look ; ? > hand-over ; ! > hand-over
    close | end | Record the part and close the call | outcome=fixed |
    hand-over | end | Book a field visit | outcome=handed-over |
    leave-off | end | Open nothing and tag the machine | outcome=out-of-service |";

fn marks() -> (stepward::model::library::Library, stepward::model::procedure::Procedure) {
    (flow::library(&[("hot-fuser", "warning", "Hot fuser", "isolated")]), flow::procedure(MARKS))
}

#[test]
fn every_step_and_way_is_in_the_drawing_and_in_the_list() {
    let (library, procedure) = marks();
    let (svg, list) = (chart(&library, &procedure), outline(&library, &procedure));
    for (place, step) in procedure.steps.iter().enumerate() {
        let id = &step.id;
        assert_eq!(svg.matches(&format!("id=\"chart-{id}\" data-step=\"{id}\"")).count(), 1, "{id}");
        assert_eq!(svg.matches(&format!("<a href=\"#step-{id}\" aria-label=\"{}. ", place + 1)).count(), 1, "{id}");
        assert!(list.contains(&format!("<a href=\"#step-{id}\">")), "{id}");
        assert!(svg.contains(&format!(">{}</text>", place + 1)), "number of {id}");
        for (index, way) in stepward::flow::graph::ways(step).iter().enumerate() {
            let to = &way.then.expect("written").value;
            assert_eq!(svg.matches(&format!("data-to=\"{to}\" data-from=\"{id}\" data-way=\"{index}\"")).count(), 1, "{id} {index}");
        }
    }
    let expected: usize = procedure.steps.iter().map(|step| stepward::flow::graph::ways(step).len()).sum();
    assert_eq!(svg.matches("data-way=").count(), expected);
    assert_eq!(list.matches("<li>").count(), expected);
}

#[test]
fn a_hazard_is_told_by_shape_and_words() {
    let (library, procedure) = marks();
    let svg = chart(&library, &procedure);
    let caution = svg.split("chart__sign--warning\">").nth(1).expect("a sign");
    assert!(caution.starts_with("<polygon"), "{caution:.80}");
    assert!(svg.contains(">WARNING: Hot fuser<"));
    let exposed = svg.split("chart__sign--exposed\">").nth(1).expect("a sign");
    assert!(exposed.starts_with("<rect"), "{exposed:.80}");
    assert!(svg.contains(">exposed: Hot fuser<"));
    assert!(outline(&library, &procedure).contains("WARNING: Hot fuser; exposed: Hot fuser.</strong> Action"));
}

#[test]
fn roles_follow_from_the_steps() {
    let (library, procedure) = marks();
    let role = |id: &str| StepRole::of(&library, procedure.step(&id.into()).expect("there"));
    let expected = [
        ("look", StepRole::Question),
        ("streaks", StepRole::Referred),
        ("gap", StepRole::Measurement),
        ("make-safe", StepRole::CarryOut),
        ("cool", StepRole::MakesSafe),
        ("replace-fuser", StepRole::Action),
        ("drum", StepRole::MakesSafe),
        ("close", StepRole::Ending),
    ];
    for (id, is) in expected {
        assert_eq!(role(id), is, "{id}");
    }
}

#[test]
fn the_main_way_is_straight_down() {
    let (library, procedure) = marks();
    let figure = figure::Figure::new(&library, &procedure);
    let drawing = draw(&figure.graph);
    let axis = |id: &str| {
        let place = figure.nodes.iter().position(|node| node.step.as_ref().is_some_and(|step| *step == id)).expect("there");
        drawing.axes[place]
    };
    for id in ["gap", "technician", "make-safe", "cool", "replace-fuser", "test-page", "close"] {
        assert_eq!(axis(id), axis("look"), "{id}");
    }
    assert_eq!(drawing.axes[0], axis("look"));
    assert_eq!(faults(&figure.graph, &drawing), Vec::<String>::new());
}

#[test]
fn the_markup_is_escaped_whole_and_free_of_colours() {
    let (library, mut procedure) = marks();
    procedure.title.as_mut().expect("written").value = "A \"flow\" <b>\u{1}".to_owned();
    for markup in [chart(&library, &procedure), outline(&library, &procedure), legend()] {
        let mut open: Vec<&str> = Vec::new();
        for tag in markup.split('<').skip(1) {
            let (inner, _) = tag.split_once('>').expect("closed");
            if let Some(name) = inner.strip_prefix('/') {
                assert_eq!(open.pop(), Some(name));
            } else if !inner.ends_with('/') {
                open.push(inner.split(' ').next().expect("a name"));
            }
            for colour in ["fill=\"#", "stroke=\"", "style=\"", "<b"] {
                assert!(!inner.contains(colour), "{inner}");
            }
        }
        assert!(open.is_empty(), "{open:?}");
        assert!(!markup.contains('\u{1}'));
    }
    let svg = chart(&library, &procedure);
    assert!(svg.contains("&amp; the next") || svg.contains("&amp;"), "{svg:.400}");
    assert!(svg.contains("Flowchart: A &quot;flow&quot; &lt;b&gt;"));
}

#[test]
fn words_stay_inside_their_decision() {
    let text =
        "Is there a nick, label glue, or a lump of toner at the place of the mark across the sheet, seen in good light from both sides?";
    for words in
        [text, "Dry?", "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen gefunden?", "測定値は範囲内ですか測定値は範囲内ですか"]
    {
        let shape = symbol::fit(Symbol::Decision, words, &["at most 2 times".to_owned()]);
        let (half_width, half_height) = ((shape.left + shape.right) / 2, shape.height / 2);
        let mut y = shape.top;
        for line in &shape.words {
            for edge in [y, y + 18] {
                let reach = half_width - half_width * (edge - half_height).abs() / half_height;
                assert!(stepward::chart::text::width(line, 14) <= 2 * reach, "{line} in {shape:?}");
            }
            y += 18;
        }
        assert!(!shape.words.is_empty());
    }
}

#[test]
fn a_procedure_without_steps_is_drawn_and_broken_ways_are_left_out() {
    let (library, _) = marks();
    let empty = flow::procedure("");
    assert!(chart(&library, &empty).contains("0 steps"));
    assert!(outline(&library, &empty).contains("chart-outline"));
    let broken = flow::procedure("look | ask | Is it there? | | Yes > nowhere ; No > look ; ? > look");
    assert!(chart(&library, &broken).contains("data-way=\"1\""));
    assert!(!chart(&library, &broken).contains("nowhere"));
}
