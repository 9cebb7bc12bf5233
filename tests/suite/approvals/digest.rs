//! The digest itself: BLAKE3 against its published vectors, and no two meanings with one digest.

use std::collections::BTreeMap;

use stepward::text::digest::{Value, of_bytes};
use stepward::text::folder::Folder;

use super::sample::digests;
use crate::support::random::Random;

/// The first 32 bytes of `hash` in `test_vectors/test_vectors.json` of the repository BLAKE3-team/BLAKE3: input of that many bytes, 0 to 250 over and over.
#[test]
fn blake3_gives_the_published_digests() {
    let vectors = [
        (0, "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262"),
        (1, "2d3adedff11b61f14c886e35afa036736dcd87a74d27b5c1510225d0f592e213"),
        (1023, "10108970eeda3eb932baac1428c7a2163b0e924c9a9e25b35bba72b28f70bd11"),
        (1024, "42214739f095a406f3fc83deb889744ac00df831c10daa55189b5d121c855af7"),
        (1025, "d00278ae47eb27b34faecf67b4fe263f82d5412916c1ffd97c8cb7fb814b8444"),
        (2048, "e776b6028c7cd22a4d0ba182a8bf62205d2ef576467e838ed6f2529b85fba24a"),
        (3073, "7124b49501012f81cc7f11ca069ec9226cecb8a2c850cfe644e327d22d3e1cd3"),
        (6144, "3e2e5b74e048f3add6d21faab3f83aa44d3b2278afb83b80b3c35164ebeca205"),
    ];
    for (length, digest) in vectors {
        let input: Vec<u8> = (0..251).cycle().take(length).collect();
        assert_eq!(of_bytes(&input), digest, "{length}");
    }
}

fn value(random: &mut Random, depth: usize) -> Value {
    let word = |random: &mut Random| ["", "a", "b", "ab", "t", "l", "n"][random.below(7)].to_owned();
    match random.below(if depth == 0 { 2 } else { 4 }) {
        0 => Value::Nothing,
        1 => Value::Text(word(random)),
        2 => Value::list((0..random.below(4)).map(|_| value(random, depth - 1)).collect::<Vec<_>>()),
        _ => Value::map((0..random.below(4)).map(|_| (word(random), value(random, depth - 1))).collect::<Vec<_>>()),
    }
}

#[test]
fn values_share_a_digest_if_and_only_if_they_are_equal() {
    let mut random = Random::new(7);
    let mut known: BTreeMap<String, Value> = BTreeMap::new();
    for _ in 0..50_000 {
        let value = value(&mut random, 3);
        let digest = value.digest();
        assert_eq!(*known.entry(digest).or_insert_with(|| value.clone()), value);
    }
    assert!(known.len() > 5_000, "only {} values", known.len());
}

/// Places of a small library, each with texts that mean different things; neighbours can be taken for each other where lengths are not told.
const SLOTS: [(&str, &[&str]); 14] = [
    ("TITLE", &["Marks", "Marks Marks", "Marks on"]),
    ("SUMMARY", &["on paper", "paper", "Marks"]),
    ("REVISION", &["1", "11", "2"]),
    ("TOOLS", &["[rule]", "[rule, lamp]", "[\"rule, lamp\"]", "[lamp, rule]"]),
    ("CAUTIONS", &["[]", "[dust]", "[heat]", "[dust, heat]"]),
    ("ASK", &["Is it even?", "Is it even", "Is it"]),
    ("FIRST", &["\"Yes\"", "\"Yes, even\"", "even"]),
    ("THEN", &["end", "wipe"]),
    ("DO", &["Wipe it", "Wipe", "Wipe it, then: end, x"]),
    ("MINUTES", &["1", "2", "12"]),
    ("BODY", &["One two.", "One\n\ntwo.", "*One* two.", "One two. Three."]),
    ("NATURE", &["Fine dust.", "Fine", "dust."]),
    ("AVOID", &["Stand off.", "dust. Stand off.", "Fine dust."]),
    ("MEMORY", &["1 MB", "10 MB", "1 kB"]),
];

fn small(choice: &[usize]) -> String {
    let procedure = "---\ntitle: TITLE\nsummary: SUMMARY\nrevision: REVISION\ntools: TOOLS\nsteps:\n  look:\n    ask: \"ASK\"\n    cautions: CAUTIONS\n    \
                     answers:\n      - { answer: FIRST, then: THEN }\n      - { answer: \"No\", then: room }\n    unsure: end\n  wipe: { do: \"DO\", minutes: \
                     MINUTES, exposes: [dust], then: end }\n  room:\n    measure: Memory\n    unit: MB\n    from: 0\n    to: 100\n    bands: [{ below: memory, \
                     then: end }, { then: wipe }]\n    unsure: end\n  end: { do: Book a visit, outcome: handed-over }\n---\n\nBODY\n";
    let safety = "hazards:\n  dust: { name: Dust, nature: NATURE, avoid: AVOID }\n  heat: { name: Heat, nature: Hot. }\n";
    let equipment = "models:\n  desk: { name: Desk, figures: { memory: MEMORY } }\n";
    let filled = |text: &str| SLOTS.iter().zip(choice).fold(text.to_owned(), |text, ((slot, values), at)| text.replace(slot, values[*at]));
    let (procedure, safety, equipment) = (filled(procedure), filled(safety), filled(equipment));
    let files = [
        ("library.yaml", "title: T\n"),
        ("procedures/p.md", procedure.as_str()),
        ("safety.yaml", safety.as_str()),
        ("equipment.yaml", equipment.as_str()),
    ];
    digests(&Folder::of(files))["p"].split(' ').next().unwrap().to_owned()
}

#[test]
fn ten_thousand_edits_give_no_two_meanings_one_digest() {
    let mut random = Random::new(23);
    let mut choice = vec![0; SLOTS.len()];
    let mut meanings: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    let mut digests: BTreeMap<Vec<usize>, String> = BTreeMap::new();
    for _ in 0..10_000 {
        let slot = random.below(SLOTS.len());
        choice[slot] = random.below(SLOTS[slot].1.len());
        let digest = small(&choice);
        assert_eq!(*meanings.entry(digest.clone()).or_insert_with(|| choice.clone()), choice, "two meanings of {digest}");
        assert_eq!(*digests.entry(choice.clone()).or_insert_with(|| digest.clone()), digest, "two digests of {choice:?}");
    }
    assert!(meanings.len() > 5_000, "only {} meanings", meanings.len());
}
