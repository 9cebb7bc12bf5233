//! The SVG of the flowchart.

use std::collections::{BTreeMap, BTreeSet};

use stepward::chart::draw;
use stepward::chart::drawing::Rect;
use stepward::render::chart_svg::kind::{StepRole, Symbol};
use stepward::render::chart_svg::{chart, figure, legend, outline, symbol};

use crate::support::flow;

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
}

#[test]
fn the_markup_is_escaped_whole_and_free_of_colours() {
    let (library, mut procedure) = marks();
    procedure.title.as_mut().expect("written").value = "A \"flow\" <b>\u{1}".to_owned();
    for markup in [chart(&library, &procedure), outline(&library, &procedure), legend(&library, &procedure)] {
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
