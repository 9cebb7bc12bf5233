//! The safety catalogue: conditions, hazards, parts.

use rust_decimal::Decimal;

use crate::model::step::Step;
use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::Unit;

/// How qualified somebody is (IEC 62368-1). Ordered: `Ordinary < Instructed < Skilled`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Person {
    #[default]
    Ordinary,
    Instructed,
    Skilled,
}

impl Person {
    pub const ALL: [Person; 3] = [Person::Ordinary, Person::Instructed, Person::Skilled];

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|person| person.as_str() == word)
    }

    pub fn as_str(self) -> &'static str {
        match self {
            Person::Ordinary => "ordinary",
            Person::Instructed => "instructed",
            Person::Skilled => "skilled",
        }
    }
}

/// The four signal words (ANSI Z535.6), most severe first. `Notice` is about property, the others about injury.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SignalWord {
    Danger,
    Warning,
    Caution,
    Notice,
}

impl SignalWord {
    pub const ALL: [SignalWord; 4] = [SignalWord::Danger, SignalWord::Warning, SignalWord::Caution, SignalWord::Notice];

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|signal| signal.as_str() == word)
    }

    pub fn as_str(self) -> &'static str {
        match self {
            SignalWord::Danger => "danger",
            SignalWord::Warning => "warning",
            SignalWord::Caution => "caution",
            SignalWord::Notice => "notice",
        }
    }
}

/// Everything the safety proof takes for granted. Lists are in file order.
#[derive(Clone, Debug, Default)]
pub struct Catalogue {
    /// Where `safety.yaml` begins; `None` if the library has none.
    pub at: Option<Place>,
    /// The file is there and cannot be understood at all: nothing that depends on it can be judged.
    pub unreadable: bool,
    pub conditions: Vec<Condition>,
    pub hazards: Vec<Hazard>,
    pub parts: Vec<Part>,
    pub caution_within: CautionWithin,
}

impl Catalogue {
    pub fn condition(&self, id: &Id) -> Option<&Condition> {
        self.conditions.iter().find(|condition| condition.id == *id)
    }
    pub fn hazard(&self, id: &Id) -> Option<&Hazard> {
        self.hazards.iter().find(|hazard| hazard.id == *id)
    }
    pub fn part(&self, id: &Id) -> Option<&Part> {
        self.parts.iter().find(|part| part.id == *id)
    }

    /// The hazards that somebody is exposed to at a step: those it `exposes` to, and those of every part it touches. Each once, in the order of
    /// the catalogue; names that the catalogue lacks are left out (findings of their own).
    pub fn exposed(&self, step: &Step) -> Vec<&Hazard> {
        let touched = step.touches.iter().filter_map(|part| self.part(part));
        let named: Vec<&Id> = step.exposes.iter().chain(touched.flat_map(|part| &part.hazards)).map(|hazard| &hazard.value).collect();
        self.hazards.iter().filter(|hazard| named.contains(&&hazard.id)).collect()
    }
}

/// After how much a caution is out of date: `steps` steps or `seconds` of work and waiting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CautionWithin {
    pub steps: u32,
    pub seconds: u32,
}

impl Default for CautionWithin {
    /// Six steps and fifteen minutes; also the most the format allows.
    fn default() -> Self {
        Self { steps: 6, seconds: 900 }
    }
}

/// A state of the machine that keeps hazards in check, or undoes that.
#[derive(Clone, Debug)]
pub struct Condition {
    pub id: Id,
    pub at: Place,
    pub name: Option<At<String>>,
    pub clears: Vec<At<Id>>,
    pub words: Vec<At<String>>,
    pub tried_out: bool,
    pub after: Option<At<Id>>,
    pub takes: Option<At<Takes>>,
    pub shown_by: Option<ShownBy>,
    pub must_clear: bool,
}

/// How long a condition takes after the one it comes `after`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Takes {
    Seconds(u32),
    /// A figure of the chosen model, in `s`, `min` or `h`.
    Figure(Id),
}

/// The range of readings that shows a condition: `from <= x <= up_to`.
#[derive(Clone, Debug)]
pub struct ShownBy {
    pub at: Place,
    pub unit: Unit,
    pub from: Option<Decimal>,
    pub up_to: Decimal,
}

/// A kind of hazard at a place.
#[derive(Clone, Debug)]
pub struct Hazard {
    pub id: Id,
    pub at: Place,
    pub name: Option<At<String>>,
    pub kind: Option<At<String>>,
    /// Where on the machine (the key `place`).
    pub where_at: Option<At<String>>,
    /// As written; see [`Hazard::signal`].
    pub signal_word: Option<At<String>>,
    pub sign: Option<At<String>>,
    pub nature: Option<At<String>>,
    pub consequence: Option<At<String>>,
    pub avoid: Option<At<String>>,
    pub spoken: Option<At<String>>,
    pub requires: Vec<At<Id>>,
    pub returns_with: Vec<At<Id>>,
    pub least: Option<At<Person>>,
    pub words: Vec<At<String>>,
    pub no_control_because: Option<At<String>>,
}

impl Hazard {
    pub fn signal(&self) -> Option<SignalWord> {
        self.signal_word.as_ref().and_then(|word| SignalWord::parse(word))
    }

    /// What to call it: its name, else its id.
    pub fn title(&self) -> &str {
        self.name.as_ref().map_or(self.id.as_str(), |name| name.value.as_str())
    }

    /// The words to read aloud: `spoken`, else nature, consequence and avoidance.
    pub fn read_aloud(&self) -> String {
        if let Some(spoken) = &self.spoken {
            return spoken.value.clone();
        }
        let texts = [&self.nature, &self.consequence, &self.avoid];
        texts.into_iter().flatten().map(|text| text.value.trim()).collect::<Vec<_>>().join(" ")
    }
}

/// A part of the machine and the hazards that touching it brings.
#[derive(Clone, Debug)]
pub struct Part {
    pub id: Id,
    pub at: Place,
    pub name: Option<At<String>>,
    pub hazards: Vec<At<Id>>,
    pub words: Vec<At<String>>,
}
