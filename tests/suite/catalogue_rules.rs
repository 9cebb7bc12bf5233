//! The rules about the safety catalogue, its names, waivers and the stop card; and that forgetting exposures hides nothing.

use std::collections::BTreeSet;

use jiff::civil::{Date, date};
use stepward::rules::Context;
use stepward::rules::safety::waiver_incomplete;
use stepward::text::id::Id;

use crate::safety_rules::Files;

#[test]
fn a_hazard_says_everything_that_its_caution_needs() {
    let keys = [
        "kind: hot-surface",
        "place: rear of the paper path",
        "sign: W017",
        "nature: The fuser is hot.",
        "avoid: Let it cool.",
        "least: skilled",
    ];
    let more = ["signal-word: warning", "consequence: Burns to the hands.", "requires: [isolated]"];
    for key in keys.into_iter().chain(more) {
        let lacking = Files::sound().safety(&format!("    {key}\n"), "");
        assert_eq!(lacking.findings(), ["caution-incomplete -/- hot-fuser safety.yaml:6"], "{key}");
    }
    let empty = Files::sound().safety("  hot-fuser:\n", "  hot-fuser: {}\n  other:\n").safety("hazards: [hot-fuser]", "hazards: [other]");
    assert!(empty.findings().contains(&"caution-incomplete -/- hot-fuser safety.yaml:6".to_owned()), "{:#?}", empty.findings());
}

#[test]
fn what_keeps_a_hazard_in_check_may_be_lacking_with_a_reason() {
    let reason = "no-control-because: demo value";
    for key in ["least: skilled", "requires: [isolated]"] {
        Files::sound().safety(key, reason).is_sound();
    }
    let caution = || Files::sound().safety("    least: ordinary\n", "");
    assert_eq!(caution().only(), "caution-incomplete -/- toner-dust");
    caution().safety("avoid: Move slowly.", &format!("avoid: Move slowly.\n    {reason}")).is_sound();
}

#[test]
fn a_notice_needs_no_sign_consequence_or_person_but_the_rest() {
    let lacking = Files::sound().safety("    avoid: Press nowhere.\n", "");
    assert_eq!(lacking.only(), "caution-incomplete -/- bent-gear");
    for signal in ["caution", "warning", "danger"] {
        let injury = Files::sound().safety("signal-word: notice", &format!("signal-word: {signal}"));
        assert_eq!(injury.only(), "caution-incomplete -/- bent-gear", "{signal}");
    }
}

#[test]
fn an_unknown_signal_word_is_reported_once() {
    for word in ["attention", "Warning"] {
        let unknown = Files::sound().safety("signal-word: warning", &format!("signal-word: {word}"));
        assert_eq!(unknown.only(), "caution-incomplete -/- hot-fuser", "{word}");
    }
}

#[test]
fn messages_stay_short_with_the_longest_names() {
    let long = "a-name-as-long-as-names-may-be-and-not-one-letter-longer-than-it";
    assert_eq!(long.len(), 64);
    let signal = Files::sound().safety("signal-word: warning", &format!("signal-word: {long}")).safety("    kind: hot-surface\n", "");
    signal.safety("    sign: W017\n", "").only();
    let part = |to: &str| Files::sound().safety("  drum: {", &format!("  {long}: {{")).jam("do: Close the lid", to);
    assert_eq!(part("do: Close the drum").only(), format!("hazard-undeclared jam/back {long}"));
    assert_eq!(part("do: Close it\n    touches: [drum]").only(), "unknown-part jam/back drum");
    let condition = Files::sound().safety("  mains-on:", &format!("  {long}: {{ words: [lid] }}\n  mains-on:"));
    assert!(condition.findings().iter().any(|line| line.starts_with(&format!("condition-undeclared jam/back {long}"))));
}

#[test]
fn a_value_that_could_not_be_read_is_not_reported_as_missing() {
    let misread = Files::sound().safety("nature: The fuser is hot.", "nature: [The fuser is hot.]").findings();
    assert_eq!(misread.len(), 1, "{misread:#?}");
    assert!(misread[0].starts_with("value-invalid"), "{misread:#?}");
    let other = Files::sound().safety("nature: Toner is a fine dust.", "nature: [a]").safety("    kind: hot-surface\n", "").findings();
    assert_eq!(other.len(), 2, "{other:#?}");
}

#[test]
fn a_part_with_hazards_has_words() {
    let silent = |words: &str| Files::sound().safety(", words: [drum]", words);
    assert_eq!(silent("").only(), "part-without-words -/- drum");
    assert_eq!(silent(", words: [\"--\"]").only(), "part-without-words -/- drum");
    Files::sound().safety(", words: [tray]", "").is_sound();
}

#[test]
fn names_that_the_catalogue_lacks_are_unknown_wherever_they_stand() {
    let in_step = |key: &str| Files::sound().jam("    picture:", &format!("    {key}\n    picture:"));
    for (key, found) in [
        ("cautions: [hot-fusre]", "unknown-hazard jam/back hot-fusre"),
        ("exposes: [hot-fusre]", "unknown-hazard jam/back hot-fusre"),
        ("touches: [tary]", "unknown-part jam/back tary"),
        ("not-touching: { tary: it stays in }", "unknown-part jam/back tary"),
        ("not-changing: { mains: only said }", "unknown-condition jam/back mains"),
        ("requires: [mains]", "unknown-condition jam/back mains"),
        ("wait-for: mains", "unknown-condition jam/back mains"),
        ("sets: [mains]", "unknown-condition jam/back mains"),
        ("clears: [mains]", "unknown-condition jam/back mains"),
    ] {
        assert_eq!(in_step(key).only(), found, "{key}");
    }
    let answer = Files::sound().jam("then: pull }", "then: pull, sets: [mains] }");
    assert_eq!(answer.only(), "unknown-condition jam/look mains");
    let band = Files::sound().jam("up-to: 1, then: cut-off", "up-to: 1, then: cut-off, clears: [mains]");
    assert_eq!(band.only(), "unknown-condition jam/dust mains");
    let front = Files::sound().jam("for: skilled", "for: skilled\nnot-touching: { tary: only said }");
    assert_eq!(front.only(), "unknown-part jam/- tary");
    let task = Files::sound().edit("procedures/isolate.md", "kind: task", "kind: task\nrequires: [mains]");
    assert_eq!(task.only(), "unknown-condition isolate/- mains");
    assert_eq!(Files::sound().jam("hazard: hot-fuser", "hazard: hot-fusre").only(), "unknown-hazard jam/pull hot-fusre");
}

#[test]
fn names_inside_the_catalogue_must_be_known_too() {
    for (from, to, found) in [
        ("clears: [isolated]", "clears: [isolate]", "unknown-condition -/- isolate"),
        ("after: isolated", "after: isolate", "unknown-condition -/- isolate"),
        ("requires: [isolated]", "requires: [isolate]", "unknown-condition -/- isolate"),
        ("requires: [isolated]", "requires: [isolated]\n    returns-with: [mains]", "unknown-condition -/- mains"),
        ("hazards: [toner-dust]", "hazards: [toner]", "unknown-hazard -/- toner"),
    ] {
        assert_eq!(Files::sound().safety(from, to).only(), found, "{to}");
    }
}

#[test]
fn one_unknown_name_of_one_step_is_one_finding_and_nothing_follows_from_it() {
    let twice = Files::sound().jam("    picture:", "    cautions: [hot-fusre]\n    exposes: [hot-fusre]\n    picture:");
    assert_eq!(twice.only(), "unknown-hazard jam/back hot-fusre");
    let mistyped = Files::sound().jam("touches: [fuser]", "touches: [fusre]");
    assert_eq!(mistyped.only(), "unknown-part jam/pull fusre");
    let given_away = || Files::sound().jam("Pull slowly.", "Pull the sheet off the hot roller.");
    assert_eq!(given_away().jam("touches: [fuser]", "touches: [fusre]").only(), "unknown-part jam/pull fusre");
    let in_catalogue = given_away().safety("hazards: [hot-fuser]", "hazards: [hot-fusre]").jam("hazard: hot-fuser", "hazard: hot-fusre");
    assert!(in_catalogue.findings().iter().all(|line| line.starts_with("unknown-hazard")), "{:#?}", in_catalogue.findings());
    let change = Files::sound().jam("do: Close the lid", "do: Switch on").jam("    picture:", "    sets: [mains-no]\n    picture:");
    assert_eq!(change.only(), "unknown-condition jam/back mains-no");
}

#[test]
fn a_catalogue_that_cannot_be_read_leaves_names_unjudged() {
    let broken = Files::sound().with("safety.yaml", "hazards: [\n").findings();
    assert!(!broken.is_empty() && broken.iter().all(|line| line.contains(" safety.yaml:")), "{broken:#?}");
    let absent = Files::sound().without("safety.yaml").findings();
    assert!(absent.contains(&"unknown-part jam/pull fuser procedures/jam.md:16".to_owned()), "{absent:#?}");
}

#[test]
fn a_waiver_says_everything_and_waives_something() {
    for key in ["step: pull, ", "hazard: hot-fuser, ", "of: requires, ", "reason: demo value, ", "by: safety desk, "] {
        let lacking = Files::sound().jam(key, "").findings();
        assert_eq!(lacking.len(), 1, "{key} {lacking:#?}");
        assert!(lacking[0].starts_with("waiver-incomplete jam/") && lacking[0].ends_with("jam.md:6"), "{lacking:#?}");
    }
    assert_eq!(Files::sound().jam(", until: 2027-06-30", "").only(), "waiver-incomplete jam/pull hot-fuser");
    assert_eq!(Files::sound().jam("by: safety desk", "by: field service").only(), "waiver-incomplete jam/pull hot-fuser");
    assert_eq!(Files::sound().jam("by: safety desk", "by: night shift").only(), "value-invalid jam/- -");
    assert_eq!(Files::sound().jam("hazard: hot-fuser", "hazard: toner-dust").only(), "waiver-incomplete jam/pull toner-dust");
    assert_eq!(Files::sound().jam("step: pull", "step: look").only(), "waiver-incomplete jam/look hot-fuser");
    let exposed = Files::sound().jam("hazard: hot-fuser", "hazard: bent-gear");
    exposed.jam("touches: [fuser]", "touches: [fuser]\n    exposes: [bent-gear]").is_sound();
    Files::sound().jam("step: pull", "step: nowhere").is_sound();
}

#[test]
fn a_waiver_lasts_to_its_last_day_and_a_year_at_most() {
    let last = date(2027, 6, 30);
    let sound = Files::sound();
    assert_eq!(sound.findings_on(last), Vec::<String>::new());
    let after = sound.findings_on(date(2027, 7, 1));
    assert_eq!(after, ["waiver-expired jam/pull hot-fuser procedures/jam.md:6"]);
    Files::sound().jam("until: 2027-06-30", "until: 2027-11-25").is_sound();
    let longer = Files::sound().jam("until: 2027-06-30", "until: 2027-11-26");
    assert_eq!(longer.findings(), ["waiver-incomplete jam/pull hot-fuser procedures/jam.md:6"]);
    let leap = |until: &str| Files::sound().jam("until: 2027-06-30", &format!("until: {until}")).findings_on(date(2028, 2, 29));
    assert_eq!((leap("2029-02-28").len(), leap("2029-03-01").len()), (0, 1));
    let misread = Files::sound().jam("until: 2027-06-30", "until: 2027-02-30").findings();
    assert!(misread.len() == 1 && misread[0].starts_with("value-invalid"), "{misread:#?}");
}

/// Whoever judges the exposure itself asks whether its waiver counts.
#[test]
fn a_waiver_with_a_finding_waives_nothing() {
    let waives = |files: Files, today: Date| {
        let (library, _) = files.read();
        let context = Context { library: &library, today, misread: &BTreeSet::new(), remembered: None };
        let procedure = library.procedure(&Id::new("jam")).expect("the procedure is there");
        procedure.waivers.iter().filter(|waiver| waiver_incomplete::waives(&context, procedure, waiver)).count()
    };
    let last = date(2027, 6, 30);
    assert_eq!(waives(Files::sound(), last), 1);
    assert_eq!(waives(Files::sound(), date(2027, 7, 1)), 0);
    assert_eq!(waives(Files::sound(), date(2026, 6, 29)), 0);
    let broken = [
        ("by: safety desk", "by: night shift"),
        ("by: safety desk", "by: field service"),
        ("of: requires, ", ""),
        ("hazard: hot-fuser", "hazard: bent-gear"),
    ];
    for (from, to) in broken {
        assert_eq!(waives(Files::sound().jam(from, to), last), 0, "{to}");
    }
}

#[test]
fn a_catalogue_with_hazards_has_a_stop_card() {
    assert_eq!(Files::sound().without("stop.md").findings(), ["stop-card-missing -/- - safety.yaml:1"]);
    assert_eq!(Files::sound().with("stop.md", "\n").only(), "stop-card-missing -/- -");
    let harmless = "---\ntitle: A\nsteps:\n  end: { do: Close the call, outcome: no-fault }\n---\n";
    let without = Files::sound().without("stop.md").without("procedures/isolate.md").with("procedures/jam.md", harmless);
    without.with("safety.yaml", "conditions:\n  mains-on: { name: Power restored }\n").is_sound();
}

/// Every hazard here is named by its own or a part's words: what the author forgets to declare, the words give away.
#[test]
fn forgetting_every_exposure_leaves_each_of_its_steps_with_an_error() {
    let declared = "---\ntitle: Three jobs\nfor: skilled\nsteps:\n\
        \x20 free: { do: Free the sheet, touches: [fuser], cautions: [hot-fuser], then: wipe }\n\
        \x20 wipe: { do: Wipe the hot roller, exposes: [hot-fuser], cautions: [hot-fuser], then: swap }\n\
        \x20 swap: { do: Swap the drum, touches: [drum], cautions: [toner-dust], then: end }\n\
        \x20 end: { do: Close the call, outcome: no-fault }\n---\n\n## Free {#free}\n\nIt sits in the fusing unit.\n";
    let forgotten = declared.replace("touches: [fuser], ", "").replace("exposes: [hot-fuser], ", "").replace("touches: [drum], ", "");
    Files::sound().with("procedures/jobs.md", declared).is_sound();
    let found = Files::sound().with("procedures/jobs.md", &forgotten).findings();
    let steps: Vec<&str> =
        found.iter().filter(|line| line.starts_with("hazard-undeclared")).filter_map(|line| line.split(' ').nth(1)).collect();
    assert_eq!(steps, ["jobs/free", "jobs/wipe", "jobs/swap"], "{found:#?}");
}
