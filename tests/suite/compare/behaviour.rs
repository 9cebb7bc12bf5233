//! Partition refinement against a published automaton and against plain search, and what it says of flows.

use stepward::compare::behaviour::Verdict;
use stepward::compare::refine::{Automaton, Parting, refine};

use super::{MARKS, TASK, base, compared, edited};
use crate::support::random::Random;

/// Hopcroft, Motwani, Ullman, *Introduction to Automata Theory*, figure 4.8: states A to H, where each goes on 0 and on 1; C accepts.
/// The classes they print are {A,E} {B,H} {C} {D,F} {G}; A and G are told apart by 01.
#[test]
fn the_published_automaton_has_its_published_classes() {
    let goes = ["BF", "GC", "AC", "CG", "HF", "CG", "GE", "GC"];
    let state = |letter: u8| usize::from(letter - b'A');
    let ways = goes.iter().map(|goes| goes.bytes().enumerate().map(|(name, to)| (name, state(to))).collect()).collect();
    let automaton = Automaton { shows: (0..8).map(|it| usize::from(it == 2)).collect(), ways };
    let rounds = refine(&automaton);
    let classes = rounds.classes();
    for (left, right, same) in
        [("A", "E", true), ("B", "H", true), ("D", "F", true), ("A", "B", false), ("A", "G", false), ("C", "G", false)]
    {
        let (left, right) = (state(left.as_bytes()[0]), state(right.as_bytes()[0]));
        assert_eq!(classes[left] == classes[right], same, "{left} {right}: {classes:?}");
    }
    assert_eq!(classes.iter().collect::<std::collections::BTreeSet<_>>().len(), 5);
    let parting = rounds.apart(&automaton, 0, 6).expect("A and G differ");
    assert_eq!(parting.ways.iter().map(|way| way.0).collect::<Vec<_>>(), [0, 1]);
    assert_eq!(rounds.apart(&automaton, 0, 4), None);
}

/// The shortest sequence by breadth-first search on pairs; `None` if there is none.
fn searched(automaton: &Automaton, left: usize, right: usize) -> Option<usize> {
    let mut seen = std::collections::BTreeSet::from([(left, right)]);
    let mut level = vec![(left, right)];
    for length in 0.. {
        if level.is_empty() {
            return None;
        }
        let mut next = Vec::new();
        for (a, b) in level {
            if automaton.shows[a] != automaton.shows[b] {
                return Some(length);
            }
            for name in 0..3 {
                let to = |state: usize| automaton.ways[state].iter().find(|(it, _)| *it == name).map(|(_, to)| *to);
                match (to(a), to(b)) {
                    (Some(a), Some(b)) if seen.insert((a, b)) => next.push((a, b)),
                    (Some(_), Some(_)) | (None, None) => {}
                    // One of them lacks the way: taking it is one answer more.
                    _ => next.push((usize::MAX, usize::MAX)),
                }
            }
        }
        if next.contains(&(usize::MAX, usize::MAX)) {
            return Some(length + 1);
        }
        level = next;
    }
    None
}

#[test]
fn random_automata_are_told_apart_as_a_plain_search_tells_them() {
    let mut random = Random::new(4_8);
    let (mut same, mut longest) = (0, 0);
    for _ in 0..600 {
        let states = 2 + random.below(9);
        let shows = (0..states).map(|_| random.below(2)).collect();
        let mut ways = Vec::new();
        for _ in 0..states {
            ways.push((0..3).filter(|name| *name == 0 || random.below(5) > 0).map(|name| (name, name)).collect::<Vec<_>>());
        }
        ways.iter_mut().flatten().for_each(|way| way.1 = random.below(states));
        let automaton = Automaton { shows, ways };
        let rounds = refine(&automaton);
        for left in 0..states {
            for right in 0..states {
                let found: Option<Parting> = rounds.apart(&automaton, left, right);
                let expected = searched(&automaton, left, right);
                assert_eq!(found.as_ref().map(|it| it.ways.len()), expected, "{left} {right} of {automaton:?}");
                same += usize::from(expected.is_none() && left != right);
                longest = longest.max(expected.unwrap_or(0));
            }
        }
    }
    assert!(same > 50 && longest >= 3, "{same} pairs the same, longest {longest}");
}

fn verdict(path: &str, from: &str, to: &str, procedure: &str) -> Verdict {
    let comparison = compared(&base(), &edited(path, from, to));
    comparison.behaviours.iter().find(|it| it.procedure == *procedure).map(|it| it.verdict.clone()).expect("it was compared")
}

#[test]
fn the_shortest_answers_that_show_a_difference_are_told() {
    assert_eq!(verdict(MARKS, "minutes: 15", "minutes: 20", "marks"), Verdict::Same);
    let Verdict::Differs(apart) = verdict(MARKS, "below: 65", "below: 70", "marks") else { panic!("values moved") };
    let answers: Vec<&str> = apart.answers.iter().map(|it| it.answer.as_str()).collect();
    assert_eq!(answers, ["Yes", "from 65 below 70 mm"]);
    assert!(apart.old.contains("Change the drum") && apart.new.contains("technician"), "{apart:?}");
    // Reworded only: the ways are the same.
    assert!(matches!(verdict(MARKS, "Replace the fuser", "Replace the old fuser", "marks"), Verdict::Words(_)));
    // A limit shows only once it is used up.
    let Verdict::Differs(apart) = verdict(MARKS, "at-most: 2", "at-most: 3", "marks") else { panic!("another limit") };
    assert_eq!(apart.answers.iter().filter(|it| it.answer == "No").count(), 2, "{apart:?}");
    // What is carried out behaves otherwise: so does its caller.
    let moved = verdict(TASK, "It moves, then: not-done", "It moves, then: done", "marks");
    assert!(matches!(moved, Verdict::Differs(_)), "{moved:?}");
}
