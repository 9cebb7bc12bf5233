//! The demo's flowcharts: every rule of the drawing, and the graphs handed out for the comparison with another program (`tests/outside/chart.test.mjs`).

use std::fmt::Write;
use std::path::PathBuf;

use jiff::civil::date;
use stepward::build::disk::Disk;
use stepward::build::pipeline;
use stepward::chart::draw;
use stepward::chart::graph::Graph;
use stepward::render::chart_svg::figure::Figure;
use stepward::render::chart_svg::lens;

use crate::support::drawing;

fn graphs() -> Vec<(String, Graph)> {
    let content = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("content");
    let library = pipeline::verify(&Disk { today: date(2026, 11, 24) }, &content).expect("the demo can be read").library;
    library.procedures.iter().map(|procedure| (procedure.id.to_string(), Figure::new(&library, procedure).graph)).collect()
}

/// The main line is what readers follow first, whatever else the author wrote above it.
#[test]
fn the_main_line_is_never_the_way_of_who_cannot_go_on_and_mostly_straight_down() {
    let content = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("content");
    let library = pipeline::verify(&Disk { today: date(2026, 11, 24) }, &content).expect("the demo can be read").library;
    let mut straight = 0;
    let mut all = 0;
    for procedure in &library.procedures {
        let Figure { ways, graph, .. } = Figure::new(&library, procedure);
        let most = graph.edges.iter().map(|edge| edge.weight).max().unwrap_or_default();
        let main: Vec<usize> = (0..ways.len()).filter(|index| graph.edges[*index].weight == most).collect();
        for index in &main {
            let from = graph.edges[*index].from;
            let others = || ways.iter().zip(&graph.edges).filter(|(_, edge)| edge.from == from);
            assert!(!ways[*index].aside() || others().all(|(way, _)| way.aside()), "{}: {:?}", procedure.id, ways[*index]);
            assert_eq!(main.iter().filter(|other| graph.edges[**other].from == from).count(), 1, "{}", procedure.id);
        }
        let drawing = draw(&graph);
        let down = |index: &&usize| drawing.lines[**index].points.windows(2).all(|pair| pair[0].x == pair[1].x);
        straight += main.iter().filter(down).count();
        all += main.len();
    }
    println!("main lines: {straight} of {all} straight down");
    assert!(all > 500 && straight * 10 >= all * 8, "{straight} of {all}");
}

/// Nobody at a machine knows a figure or a model by its id.
#[test]
fn labels_say_values_and_names_and_no_ids() {
    let content = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("content");
    let library = pipeline::verify(&Disk { today: date(2026, 11, 24) }, &content).expect("the demo can be read").library;
    let labels = |id: &str| -> Vec<String> {
        let procedure = library.procedures.iter().find(|procedure| procedure.id.as_str() == id).expect("it is there");
        Figure::new(&library, procedure).ways.iter().map(|way| way.label.join(" ")).collect()
    };
    // The heaters of the four models, in `equipment.yaml`: 45, 34, 37 and 3.4 ohm; one limit for all: toner below 10 %.
    assert!(labels("fuser-temperature").contains(&"below 3.4–45 ohm by model".to_owned()), "{:?}", labels("fuser-temperature"));
    assert!(labels("faint-print").contains(&"below 10 %".to_owned()), "{:?}", labels("faint-print"));
    assert!(labels("white-sheet").contains(&"Tarnwood L26".to_owned()), "{:?}", labels("white-sheet"));
    let of_model = |model: &str| {
        let procedure = library.procedures.iter().find(|procedure| procedure.id.as_str() == "fuser-temperature").expect("it is there");
        let lens = lens::model(&library, procedure, &model.into());
        Figure::through(&library, procedure, Some(&lens)).ways.iter().map(|way| way.label.join(" ")).collect::<Vec<_>>()
    };
    assert!(of_model("mono-desk").contains(&"below 45 ohm".to_owned()) && of_model("led-desk").contains(&"below 3.4 ohm".to_owned()));
    let ids: Vec<String> =
        library.equipment.models.iter().flat_map(|model| model.figures.iter().map(|(id, _)| id.value.to_string())).collect();
    assert!(ids.len() > 40);
    for procedure in &library.procedures {
        for label in labels(procedure.id.as_str()) {
            let found = ids.iter().find(|id| id.contains('-') && label.contains(id.as_str()));
            assert!(found.is_none(), "{}: {label}", procedure.id);
        }
    }
}

/// By lines, as `tests/outside/chart/draw.rs` reads them.
fn written(name: &str, graph: &Graph) -> String {
    let mut text = format!("graph demo/{name} {}\n", graph.start);
    for node in &graph.nodes {
        let _ = writeln!(text, "node {} {} {} {} {}", node.left, node.right, node.height, node.inlet, node.outlet);
    }
    for edge in &graph.edges {
        let (width, height) = edge.label.map_or((0, 0), |label| (label.width, label.height));
        let _ = writeln!(text, "edge {} {} {} {width} {height}", edge.from, edge.to, edge.weight);
    }
    text
}

#[test]
fn the_demo_keeps_every_rule_of_the_drawing() {
    for (name, graph) in graphs() {
        let drawing = draw(&graph);
        assert_eq!(drawing::faults(&graph, &drawing), Vec::<String>::new(), "{name}");
        assert_eq!(drawing::shared_stretches(&graph, &drawing), Vec::new(), "{name}");
    }
}

/// With `STEPWARD_CHART_GRAPHS` naming a file it writes the graphs there.
#[test]
fn the_demo_can_be_drawn_by_another_program() {
    let graphs = graphs();
    assert!(graphs.len() >= 10, "{}", graphs.len());
    let text: String = graphs.iter().map(|(name, graph)| written(name, graph)).collect();
    assert_eq!(
        text.lines().filter(|line| line.starts_with("edge")).count(),
        graphs.iter().map(|(_, graph)| graph.edges.len()).sum::<usize>()
    );
    let Some(file) = std::env::var_os("STEPWARD_CHART_GRAPHS") else { return };
    std::fs::write(file, text).expect("the graphs can be written");
}
