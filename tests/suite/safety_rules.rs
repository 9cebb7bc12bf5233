//! The rules of the groups *safety* and *words* that need no path: for each a library that breaks it, and its smallest repair.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};
use stepward::analyse::analyse;
use stepward::finding::{Findings, Group};
use stepward::model::library::Library;
use stepward::read::read;
use stepward::text::folder::Folder;

const TODAY: Date = date(2026, 11, 25);

/// Only findings of these rules, and those of reading, are looked at.
const RULES: [&str; 17] = [
    "hazard-undeclared",
    "condition-undeclared",
    "denial-refused",
    "denial-idle",
    "link-leaves-flow",
    "caution-incomplete",
    "part-without-words",
    "unknown-hazard",
    "unknown-condition",
    "unknown-part",
    "waiver-incomplete",
    "waiver-expired",
    "stop-card-missing",
    "link-broken",
    "picture-missing",
    "picture-without-words",
    "raw-html",
];

const SETTINGS: &str = "\
title: Larkmere print rooms
language: en
site: https://print.larkmere.example/help/
roles: [field service, safety desk]
";

const SAFETY: &str = "\
conditions:
  isolated: { name: Mains plug out and tried, tried-out: true, words: [plug out] }
  mains-on: { name: Power restored, clears: [isolated], words: [restore power, switch on] }
  cooled: { name: Fuser cooled, after: isolated, takes: 30 min, words: [let cool] }
hazards:
  hot-fuser:
    name: Hot fuser
    kind: hot-surface
    place: rear of the paper path
    signal-word: warning
    sign: W017
    nature: The fuser is hot.
    consequence: Burns to the hands.
    avoid: Let it cool.
    requires: [isolated]
    least: skilled
    words: [hot roller]
  toner-dust:
    name: Toner dust
    kind: dust
    place: under the drum
    signal-word: caution
    sign: M016
    nature: Toner is a fine dust.
    consequence: It can be breathed in.
    avoid: Move slowly.
    least: ordinary
  bent-gear:
    name: Bent gear
    kind: damage
    place: left side
    signal-word: notice
    nature: The gears bend.
    avoid: Press nowhere.
parts:
  fuser: { name: Fuser unit, hazards: [hot-fuser], words: [fuser, fusing unit] }
  drum: { name: Drum, hazards: [toner-dust], words: [drum] }
  tray: { name: Tray, words: [tray] }
";

const JAM: &str = r#"---
title: Paper stops
owner: field service
for: skilled
waivers:
  - { step: pull, hazard: hot-fuser, of: requires, reason: demo value, by: safety desk, until: 2027-06-30 }
steps:
  look:
    ask: Can you see the sheet?
    answers:
      - { answer: "Yes", then: pull }
      - { answer: "No", then: dust }
    unsure: leave
  pull:
    do: Pull the sheet out of the fuser
    touches: [fuser]
    cautions: [hot-fuser]
    then: cut-off
  dust:
    measure: Sheets left inside
    unit: pages
    from: 0
    to: 9
    bands:
      - { up-to: 1, then: cut-off }
      - { then: leave }
    unsure: leave
  cut-off: { carry-out: isolate, outcomes: { done: back, not-done: leave } }
  back:
    do: Close the lid
    picture: ../pictures/lid.svg
    then: close
  close: { do: Close the call, outcome: fixed }
  leave: { do: Book a field visit, outcome: handed-over }
---
Read this first.

## Look for the sheet {#look}

Look along the feed.

## Pull the sheet {#pull}

Pull slowly. See [what the words mean](../leaflets/words.md#feed).

## Close the lid {#back}

![The lid, closed](../pictures/lid.svg)
"#;

const ISOLATE: &str = r#"---
title: Take the power away
kind: task
steps:
  pull-plug: { do: Take the power away, clears: [mains-on], then: try-it }
  try-it:
    ask: Is it dead?
    answers:
      - { answer: "Yes", then: done, sets: [isolated] }
      - { answer: "No", then: not-done }
    unsure: not-done
  done: { do: Go on, outcome: done }
  not-done: { do: Stop here, outcome: not-done }
---
"#;

/// A library that breaks none of these rules.
pub struct Files(BTreeMap<String, String>);

impl Files {
    pub fn sound() -> Self {
        let files = [
            ("library.yaml", SETTINGS),
            ("safety.yaml", SAFETY),
            ("procedures/jam.md", JAM),
            ("procedures/isolate.md", ISOLATE),
            ("leaflets/words.md", "# Words\n\n## Feed {#feed}\n\nThe way of the sheet.\n"),
            ("stop.md", "# Stop\n\nSmoke: pull the plug.\n"),
            ("pictures/lid.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>"),
        ];
        Self(files.map(|(path, text)| (path.to_owned(), text.to_owned())).into())
    }

    pub fn with(mut self, path: &str, text: &str) -> Self {
        self.0.insert(path.to_owned(), text.to_owned());
        self
    }

    pub fn without(mut self, path: &str) -> Self {
        assert!(self.0.remove(path).is_some(), "{path}");
        self
    }

    /// Replaces the one place where `from` stands.
    pub fn edit(mut self, path: &str, from: &str, to: &str) -> Self {
        let text = self.0.get_mut(path).expect("the file is there");
        assert_eq!(text.matches(from).count(), 1, "{from:?} stands once in {path}");
        *text = text.replace(from, to);
        self
    }

    pub fn jam(self, from: &str, to: &str) -> Self {
        self.edit("procedures/jam.md", from, to)
    }

    pub fn safety(self, from: &str, to: &str) -> Self {
        self.edit("safety.yaml", from, to)
    }

    /// `rule procedure/step subject file:line`, in the order in which findings are shown.
    pub fn findings(&self) -> Vec<String> {
        self.findings_on(TODAY)
    }

    pub fn findings_on(&self, today: Date) -> Vec<String> {
        let (library, reading) = self.read();
        let verdict = analyse(library, reading, today);
        let ours = verdict.findings.iter().filter(|f| f.rule.group == Group::Reading || RULES.contains(&f.rule.name));
        let lines = ours.map(|f| {
            assert!(f.message.chars().count() <= 90, "{}", f.message);
            assert!(!f.message.ends_with('.') && f.help.as_ref().is_some_and(|help| !help.is_empty()), "{}", f.message);
            let of = |id: &Option<stepward::text::id::Id>| id.as_ref().map_or("-".to_owned(), ToString::to_string);
            let subject = f.subject.as_deref().unwrap_or("-");
            let path = verdict.library.sources.path(f.at.file);
            format!("{} {}/{} {subject} {path}:{}", f.rule.name, of(&f.procedure), of(&f.step), f.at.line)
        });
        lines.collect()
    }

    pub fn read(&self) -> (Library, Findings) {
        read(&Folder::of(self.0.iter().map(|(path, text)| (path.as_str(), text.as_str()))))
    }

    /// The one finding, without its place.
    pub fn only(&self) -> String {
        let findings = self.findings();
        assert_eq!(findings.len(), 1, "{findings:#?}");
        findings[0].rsplit_once(' ').expect("a place").0.to_owned()
    }

    pub fn is_sound(&self) {
        assert_eq!(self.findings(), Vec::<String>::new());
    }
}

#[test]
fn the_library_that_the_others_are_made_from_is_sound() {
    Files::sound().is_sound();
}

#[test]
fn a_part_named_by_any_of_a_steps_own_words_must_be_declared() {
    let places = [
        ("Can you see the sheet?", "Can you see the sheet under the fusers?", "look"),
        ("answer: \"Yes\", then: pull", "answer: \"Yes, at the fusing unit\", then: pull", "look"),
        ("Look along the feed.", "Look along the Fusing-Units.", "look"),
        ("Look along the feed.", "| where |\n|---|\n| the fuser |\n", "look"),
        ("Look along the feed.", "Look.[^1]\n\n[^1]: Behind the fuser.\n", "look"),
        ("Look along the feed.", "Look.\n\n## Where\n\nBehind the fuser.\n", "look"),
        ("Look along the feed.", "Look.\n\n- feed\n- fu**ser**\n", "look"),
        ("Sheets left inside", "Sheets left in the fuser", "dust"),
        ("The lid, closed", "The lid over the fuser", "back"),
        ("outcomes: { done: back, not-done: leave } }", "name: Free the fuser, outcomes: { done: back, not-done: leave } }", "cut-off"),
    ];
    for (from, to, step) in places {
        let found = Files::sound().jam(from, to).only();
        assert_eq!(found, format!("hazard-undeclared jam/{step} fuser"), "{to}");
    }
}

#[test]
fn no_markup_hides_a_word() {
    let inline = [
        "`fuser`",
        "fus**ing** unit",
        "~~fuser~~",
        "[fuser](#pull)",
        "`fusing` unit",
        "fu&shy;ser",
        "fus\u{200b}er",
        "FUSER’S",
        "fuser_unit",
    ];
    let lines =
        ["fusing\nunit", "fusing\\\nunit", "> fuser", "### The fuser", "1. a\n   - fuser", "```\nfuser\n```", "| fuser |\n|---|\n| a |"];
    for words in inline.into_iter().chain(lines) {
        let found = Files::sound().jam("Look along the feed.", words).only();
        assert_eq!(found, "hazard-undeclared jam/look fuser", "{words}");
    }
}

/// A footnote is read where it is referred to, wherever it is written.
#[test]
fn a_footnote_belongs_to_the_step_that_refers_to_it() {
    let elsewhere = Files::sound().jam("Look along the feed.", "Look[^f].").jam("Pull slowly.", "Pull slowly.\n\n[^f]: At the fuser.\n\n");
    assert_eq!(elsewhere.only(), "hazard-undeclared jam/look fuser");
    let back = Files::sound().jam("Look along the feed.", "Look.\n\n[^f]: At the fuser.\n\n").jam("Pull slowly.", "Pull slowly[^f].");
    back.is_sound();
}

#[test]
fn a_declared_or_denied_part_is_no_finding() {
    let named = || Files::sound().jam("do: Close the lid", "do: Close the lid over the fuser");
    assert_eq!(named().findings(), ["hazard-undeclared jam/back fuser procedures/jam.md:29"]);
    named().jam("    picture:", "    touches: [fuser]\n    picture:").is_sound();
    named().jam("    picture:", "    not-touching: { fuser: it stays shut }\n    picture:").is_sound();
    Files::sound().jam("do: Close the lid", "do: Close the lid over the tray").is_sound();
}

#[test]
fn words_that_only_begin_alike_or_stand_apart_name_nothing() {
    for text in [
        "Look at the refuser.",
        "Look at the fusing.\n\nUnit by unit.",
        "A hot day. The cold roller.",
        "| fusing | unit |\n|---|---|\n| a | b |",
    ] {
        Files::sound().jam("Look along the feed.", text).is_sound();
    }
}

#[test]
fn a_hazard_given_away_by_its_own_words_must_be_exposed() {
    let named = || Files::sound().jam("do: Close the lid", "do: Close the lid over the hot rollers");
    assert_eq!(named().only(), "hazard-undeclared jam/back hot-fuser");
    named().jam("    picture:", "    exposes: [hot-fuser]\n    picture:").is_sound();
    named().jam("    picture:", "    touches: [fuser]\n    picture:").is_sound();
    let shown = named().jam("    picture:", "    cautions: [hot-fuser]\n    picture:");
    assert_eq!(shown.only(), "hazard-undeclared jam/back hot-fuser");
}

#[test]
fn the_introduction_may_name_no_dangerous_part_undenied() {
    let named = || Files::sound().jam("Read this first.", "The fuser is to blame.");
    assert_eq!(named().findings(), ["hazard-undeclared jam/- fuser procedures/jam.md:1"]);
    named().jam("for: skilled", "for: skilled\nnot-touching: { fuser: only names it }").is_sound();
    let away = Files::sound().jam("Read this first.", "Beware of the hot roller.");
    assert_eq!(away.only(), "hazard-undeclared jam/- hot-fuser");
}

#[test]
fn caution_texts_titles_and_the_words_of_what_is_carried_out_are_not_searched() {
    Files::sound().jam("title: Paper stops", "title: Paper stops in the fuser").is_sound();
    Files::sound().edit("procedures/isolate.md", "title: Take the power away", "title: Take the fuser out").is_sound();
}

#[test]
fn borrowed_words_are_words_of_both_steps() {
    let named = Files::sound()
        .jam("Look along the feed.", "Look at the drum.")
        .jam("outcome: handed-over }", "outcome: handed-over, words-of: look }");
    let steps: Vec<String> = named.findings().iter().map(|line| line.split(' ').nth(1).unwrap_or_default().to_owned()).collect();
    assert_eq!(steps, ["jam/look", "jam/leave"]);
}

#[test]
fn other_languages_are_searched_word_for_word() {
    let german = || Files::sound().edit("library.yaml", "language: en", "language: de");
    german().jam("do: Close the lid", "do: Close the lid over the fusers").is_sound();
    let named = german().jam("do: Close the lid", "do: Close the lid over the FUSER");
    assert_eq!(named.only(), "hazard-undeclared jam/back fuser");
}

#[test]
fn a_withdrawn_procedure_is_not_judged_for_words() {
    let from = "owner: field service";
    let withdrawn =
        "owner: field service\nstatus: withdrawn\nrevision: 1\nreview-by: 2027-01-01\nreplaced-by: nothing\nwithdrawn-because: demo value";
    let files = Files::sound().jam(from, withdrawn).jam("Look along the feed.", "See the hot roller, <b>there</b>.");
    files.jam("by: safety desk", "by: field service").is_sound();
}

#[test]
fn a_change_that_is_named_must_be_declared() {
    let named = || Files::sound().jam("do: Close the lid", "do: Close the lid and switch it on, then go on switching on");
    assert_eq!(named().findings(), ["condition-undeclared jam/back mains-on procedures/jam.md:29"]);
    for key in ["sets: [mains-on]", "clears: [mains-on]", "not-changing: { mains-on: it is said only }"] {
        named().jam("    picture:", &format!("    {key}\n    picture:")).is_sound();
    }
    let needed = named().jam("    picture:", "    requires: [mains-on]\n    picture:");
    assert_eq!(needed.only(), "condition-undeclared jam/back mains-on");
}

#[test]
fn answers_bands_waits_and_what_a_set_condition_clears_declare_a_change() {
    let asked = || Files::sound().jam("Can you see the sheet?", "Did you restore power?");
    assert_eq!(asked().only(), "condition-undeclared jam/look mains-on");
    asked().jam("then: pull }", "then: pull, clears: [mains-on] }").is_sound();
    let measured = || Files::sound().jam("Sheets left inside", "Sheets inside after you restore power");
    assert_eq!(measured().only(), "condition-undeclared jam/dust mains-on");
    measured().jam("up-to: 1, then: cut-off", "up-to: 1, then: cut-off, sets: [mains-on]").is_sound();
    let cleared = || Files::sound().jam("do: Close the lid", "do: Close the lid, the plug out no more");
    assert_eq!(cleared().only(), "condition-undeclared jam/back isolated");
    cleared().jam("    picture:", "    sets: [mains-on]\n    picture:").is_sound();
    let cooling = || Files::sound().jam("do: Close the lid", "do: Let cool");
    assert_eq!(cooling().only(), "condition-undeclared jam/back cooled");
    cooling().jam("    picture:", "    wait-for: cooled\n    picture:").is_sound();
    assert_eq!(cooling().jam("    picture:", "    wait: 30 min\n    picture:").only(), "condition-undeclared jam/back cooled");
}

#[test]
fn a_procedure_carried_out_declares_for_its_caller() {
    let named = || Files::sound().jam("outcomes: { done: back", "name: Take the plug out, outcomes: { done: back");
    assert_eq!(named().findings(), Vec::<String>::new());
    let changed_nothing = named().edit("procedures/isolate.md", ", sets: [isolated]", "").edit(
        "procedures/isolate.md",
        "Take the power away, clears: [mains-on]",
        "Wait",
    );
    assert_eq!(changed_nothing.only(), "condition-undeclared jam/cut-off isolated");
    let through = "---\ntitle: Go through\nkind: task\nsteps:\n  on: { carry-out: isolate, outcomes: { done: end, not-done: no } }\n  end: { do: Go on, outcome: done }\n  no: { do: Stop, outcome: not-done }\n---\n";
    named().with("procedures/through.md", through).jam("carry-out: isolate", "carry-out: through").is_sound();
}

#[test]
fn a_step_that_cures_may_not_deny() {
    let denied = |cures: &str| {
        let key = format!("    not-touching: {{ fuser: it stays shut }}\n{cures}    picture:");
        Files::sound()
            .jam("do: Close the lid", "do: Close the lid over the fuser")
            .jam("    picture:", &key)
            .jam("for: skilled", "for: skilled\nfaults: { torn: { name: Torn sheet } }")
    };
    denied("").is_sound();
    let unnamed = denied("    cures: [torn]\n").jam("Close the lid over the fuser", "Close the lid");
    assert_eq!(
        unnamed.findings(),
        ["denial-idle jam/back fuser procedures/jam.md:32", "denial-refused jam/back fuser procedures/jam.md:32"]
    );
    assert_eq!(denied("    cures: [torn]\n").findings(), ["denial-refused jam/back fuser procedures/jam.md:32"]);
    let changing = "    not-changing: { mains-on: it is said only }\n    cures: [torn]\n    picture:";
    let spared = Files::sound().jam("do: Close the lid", "do: Close the lid and switch on").jam("    picture:", changing);
    spared.jam("for: skilled", "for: skilled\nfaults: { torn: { name: Torn sheet } }").is_sound();
}

#[test]
fn a_denial_of_what_is_not_named_is_idle() {
    let idle = || Files::sound().jam("    picture:", "    not-touching: { tray: it stays in }\n    picture:");
    assert_eq!(idle().findings(), ["denial-idle jam/back tray procedures/jam.md:31"]);
    idle().jam("do: Close the lid", "do: Close the lid above the trays").is_sound();
    let front = || Files::sound().jam("for: skilled", "for: skilled\nnot-touching: { tray: only names it }");
    assert_eq!(front().only(), "denial-idle jam/- tray");
    front().jam("Read this first.", "Read this at the tray.").is_sound();
}

#[test]
fn a_link_out_of_a_steps_words_leaves_the_flow() {
    let to = |target: &str| Files::sound().jam("Look along the feed.", &format!("Look [there]({target})."));
    assert_eq!(to("isolate.md").findings(), ["link-leaves-flow jam/look isolate procedures/jam.md:40"]);
    assert_eq!(to("isolate.md#try-it").only(), "link-leaves-flow jam/look isolate");
    assert_eq!(to("https://print.larkmere.example/help/procedures/isolate.html").only(), "link-leaves-flow jam/look isolate");
    for fine in
        ["#pull", "jam.md", "jam.md#pull", "../leaflets/words.md", "../stop.md", "https://far.example/isolate", "../pictures/lid.svg"]
    {
        to(fine).is_sound();
    }
    Files::sound().jam("Read this first.", "Read [this](isolate.md#try-it) first.").is_sound();
}
