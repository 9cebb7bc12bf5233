//! What a step is in the chart, and its symbol of ISO 5807:1985 (shapes: from memory, textbook matter).

use crate::model::library::Library;
use crate::model::step::{Action, Step, StepKind};

/// What a step does for the person who follows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepRole {
    Start,
    Question,
    ByModel,
    Measurement,
    Action,
    /// It brings about what keeps a hazard in check, or waits.
    MakesSafe,
    CarryOut,
    Ending,
    /// An ending that goes on in another procedure.
    Referred,
    /// Its kind is not clear: never published, drawn all the same.
    Unclear,
}

impl StepRole {
    pub const ALL: [StepRole; 10] = [
        StepRole::Start,
        StepRole::Question,
        StepRole::ByModel,
        StepRole::Measurement,
        StepRole::Action,
        StepRole::MakesSafe,
        StepRole::CarryOut,
        StepRole::Ending,
        StepRole::Referred,
        StepRole::Unclear,
    ];

    pub fn of(library: &Library, step: &Step) -> Self {
        match &step.kind {
            StepKind::Ask(_) => Self::Question,
            StepKind::Measure(_) => Self::Measurement,
            StepKind::CarryOut(_) => Self::CarryOut,
            StepKind::ByModel(_) => Self::ByModel,
            StepKind::Unclear(_) => Self::Unclear,
            StepKind::Do(action) => match &action.outcome {
                Some(outcome) if outcome.value == "referred" => Self::Referred,
                Some(_) => Self::Ending,
                None if makes_safe(library, action) => Self::MakesSafe,
                None => Self::Action,
            },
        }
    }

    /// The word in its class name.
    pub fn class(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Question => "question",
            Self::ByModel => "by-model",
            Self::Measurement => "measurement",
            Self::Action => "action",
            Self::MakesSafe => "makes-safe",
            Self::CarryOut => "carry-out",
            Self::Ending => "ending",
            Self::Referred => "referred",
            Self::Unclear => "unclear",
        }
    }

    /// What it is called before its words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Start => "Start",
            Self::Question => "Question",
            Self::ByModel => "By model",
            Self::Measurement => "Measurement",
            Self::Action => "Action",
            Self::MakesSafe => "Makes safe",
            Self::CarryOut => "Carry out",
            Self::Ending => "Ending",
            Self::Referred => "Goes on elsewhere",
            Self::Unclear => "Unclear",
        }
    }

    pub fn symbol(self) -> Symbol {
        match self {
            Self::Start | Self::Ending => Symbol::Terminator,
            Self::Question | Self::ByModel => Symbol::Decision,
            Self::Measurement => Symbol::ManualInput,
            Self::Action => Symbol::Process,
            Self::MakesSafe => Symbol::Preparation,
            Self::CarryOut => Symbol::Predefined,
            Self::Referred => Symbol::Connector,
            Self::Unclear => Symbol::Annotation,
        }
    }
}

/// The symbols used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Symbol {
    Terminator,
    Process,
    Decision,
    Predefined,
    ManualInput,
    Preparation,
    Connector,
    Annotation,
}

impl Symbol {
    pub const ALL: [Symbol; 8] = [
        Symbol::Terminator,
        Symbol::Process,
        Symbol::Decision,
        Symbol::Predefined,
        Symbol::ManualInput,
        Symbol::Preparation,
        Symbol::Connector,
        Symbol::Annotation,
    ];
}

fn makes_safe(library: &Library, action: &Action) -> bool {
    let guards = |condition: &crate::text::id::Id| {
        library.catalogue.hazards.iter().any(|hazard| hazard.requires.iter().any(|required| required.value == *condition))
    };
    action.wait.is_some() || action.wait_for.is_some() || action.effects.sets.iter().any(|condition| guards(&condition.value))
}
