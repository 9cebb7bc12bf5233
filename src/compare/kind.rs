//! The kinds of change: name, where it is told, which way it turns. Declared once, in the order in which they are told.

/// Which list a change is told in. Safety comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Area {
    Safety,
    Ways,
    Steps,
    Details,
}

impl Area {
    pub const ALL: [Area; 4] = [Area::Safety, Area::Ways, Area::Steps, Area::Details];

    pub fn as_str(self) -> &'static str {
        match self {
            Area::Safety => "safety",
            Area::Ways => "ways",
            Area::Steps => "steps",
            Area::Details => "details",
        }
    }
}

/// Whether NEW protects less than OLD, otherwise, or more, by this one change alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Turn {
    Weaker,
    Changed,
    Stronger,
}

impl Turn {
    pub fn as_str(self) -> &'static str {
        match self {
            Turn::Weaker => "weaker",
            Turn::Changed => "changed",
            Turn::Stronger => "stronger",
        }
    }
}

/// One kind of change. Names are stable once released.
#[derive(Debug, PartialEq, Eq)]
pub struct Kind {
    pub name: &'static str,
    pub area: Area,
    pub turn: Turn,
    /// Where it stands in [`ALL`]: what is told first.
    pub rank: usize,
}

impl Kind {
    /// Whether the proof says so, as against what an author wrote: it has its cause elsewhere in the list.
    pub fn follows(&self) -> bool {
        let proofs = [
            &EXPOSURE_UNPROVEN,
            &EXPOSURE_PROVEN,
            &EXPOSURE_NEW,
            &EXPOSURE_GONE,
            &COVERED_OTHERWISE,
            &CONDITION_NOT_HELD,
            &CONDITION_HELD,
            &ENDS_LESS_SAFE,
            &ENDS_OTHERWISE,
            &FINDING_NEW,
            &FINDING_GONE,
        ];
        proofs.iter().any(|kind| kind.rank == self.rank)
    }
}

macro_rules! kinds {
    ($($constant:ident = $name:literal, $area:ident, $turn:ident;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        enum Rank { $($constant),* }
        $(pub static $constant: Kind = Kind { name: $name, area: Area::$area, turn: Turn::$turn, rank: Rank::$constant as usize };)*
        /// Every kind, in the order of their ranks.
        pub static ALL: &[&Kind] = &[$(&$constant),*];
    };
}

kinds! {
    TARGETS_SWAPPED = "targets-swapped", Safety, Weaker;
    CAUTION_LOST = "caution-lost", Safety, Weaker;
    GATE_REMOVED = "gate-removed", Safety, Weaker;
    EFFECT_LOST = "effect-lost", Safety, Weaker;
    EFFECT_ADDED = "effect-added", Safety, Weaker;
    EFFECT_OF_VALUES = "effect-of-values", Safety, Weaker;
    WAIT_CUT = "wait-cut", Safety, Weaker;
    REQUIREMENT_LOST = "requirement-lost", Safety, Weaker;
    LIMIT_RAISED = "limit-raised", Safety, Weaker;
    FOR_LOWERED = "for-lowered", Safety, Weaker;
    LEAST_LOWERED = "least-lowered", Safety, Weaker;
    PERSON_CLAIMED = "person-claimed", Safety, Weaker;
    TOUCH_LOST = "touch-lost", Safety, Weaker;
    CHECK_CHANGED = "check-changed", Safety, Weaker;
    DENIAL_NEW = "denial-new", Safety, Weaker;
    WAIVER_NEW = "waiver-new", Safety, Weaker;
    WAIVER_EXTENDED = "waiver-extended", Safety, Weaker;
    HAZARD_GONE = "hazard-gone", Safety, Weaker;
    HAZARD_DEMAND_LOST = "hazard-demand-lost", Safety, Weaker;
    HAZARD_RETURN_LOST = "hazard-return-lost", Safety, Weaker;
    HAZARD_LEAST_LOWERED = "hazard-least-lowered", Safety, Weaker;
    SIGNAL_LOWERED = "signal-lowered", Safety, Weaker;
    CONDITION_GONE = "condition-gone", Safety, Weaker;
    CONDITION_CLEARS_LOST = "condition-clears-lost", Safety, Weaker;
    AFTER_CHANGED = "after-changed", Safety, Weaker;
    TAKES_CUT = "takes-cut", Safety, Weaker;
    SHOWN_BY_WIDENED = "shown-by-widened", Safety, Weaker;
    TRIED_OUT_LOST = "tried-out-lost", Safety, Weaker;
    MUST_CLEAR_LOST = "must-clear-lost", Safety, Weaker;
    PART_GONE = "part-gone", Safety, Weaker;
    PART_HAZARD_LOST = "part-hazard-lost", Safety, Weaker;
    WORDS_LOST = "words-lost", Safety, Weaker;
    CAUTION_WITHIN_RAISED = "caution-within-raised", Safety, Weaker;
    RULE_LOWERED = "rule-lowered", Safety, Weaker;
    STOP_CARD_GONE = "stop-card-gone", Safety, Weaker;
    OFFLINE_DAYS_RAISED = "offline-days-raised", Safety, Weaker;
    EXPOSURE_UNPROVEN = "exposure-unproven", Safety, Weaker;
    CONDITION_NOT_HELD = "condition-not-held", Safety, Weaker;
    ENDS_LESS_SAFE = "ends-less-safe", Safety, Weaker;
    FINDING_NEW = "finding-new", Safety, Weaker;
    ID_REUSED = "id-reused", Safety, Changed;
    CAUTION_MOVED = "caution-moved", Safety, Changed;
    CAUTIONS_REORDERED = "cautions-reordered", Safety, Changed;
    EXPOSURE_NEW = "exposure-new", Safety, Changed;
    EXPOSURE_GONE = "exposure-gone", Safety, Changed;
    COVERED_OTHERWISE = "covered-otherwise", Safety, Changed;
    CARRIES_OUT_OTHER = "carries-out-other", Safety, Changed;
    EFFECTS_REORDERED = "effects-reordered", Safety, Changed;
    WAIT_CHANGED = "wait-changed", Safety, Changed;
    TAKES_CHANGED = "takes-changed", Safety, Changed;
    SHOWN_BY_CHANGED = "shown-by-changed", Safety, Changed;
    PERSON_UNCLAIMED = "person-unclaimed", Safety, Changed;
    CURES_CHANGED = "cures-changed", Safety, Changed;
    DENIAL_CHANGED = "denial-changed", Safety, Changed;
    WAIVER_CHANGED = "waiver-changed", Safety, Changed;
    HAZARD_TEXT_CHANGED = "hazard-text-changed", Safety, Changed;
    CONDITION_NAME_CHANGED = "condition-name-changed", Safety, Changed;
    STOP_CARD_CHANGED = "stop-card-changed", Safety, Changed;
    LANGUAGE_CHANGED = "language-changed", Safety, Changed;
    ENDS_OTHERWISE = "ends-otherwise", Safety, Changed;
    CAUTION_ADDED = "caution-added", Safety, Stronger;
    WAIT_GROWN = "wait-grown", Safety, Stronger;
    REQUIREMENT_ADDED = "requirement-added", Safety, Stronger;
    LIMIT_LOWERED = "limit-lowered", Safety, Stronger;
    FOR_RAISED = "for-raised", Safety, Stronger;
    LEAST_RAISED = "least-raised", Safety, Stronger;
    TOUCH_ADDED = "touch-added", Safety, Stronger;
    DENIAL_GONE = "denial-gone", Safety, Stronger;
    WAIVER_GONE = "waiver-gone", Safety, Stronger;
    HAZARD_NEW = "hazard-new", Safety, Stronger;
    HAZARD_DEMAND_ADDED = "hazard-demand-added", Safety, Stronger;
    HAZARD_RETURN_ADDED = "hazard-return-added", Safety, Stronger;
    HAZARD_LEAST_RAISED = "hazard-least-raised", Safety, Stronger;
    SIGNAL_RAISED = "signal-raised", Safety, Stronger;
    CONDITION_NEW = "condition-new", Safety, Stronger;
    CONDITION_CLEARS_ADDED = "condition-clears-added", Safety, Stronger;
    TAKES_GROWN = "takes-grown", Safety, Stronger;
    SHOWN_BY_NARROWED = "shown-by-narrowed", Safety, Stronger;
    TRIED_OUT_ADDED = "tried-out-added", Safety, Stronger;
    MUST_CLEAR_ADDED = "must-clear-added", Safety, Stronger;
    PART_NEW = "part-new", Safety, Stronger;
    PART_HAZARD_ADDED = "part-hazard-added", Safety, Stronger;
    WORDS_ADDED = "words-added", Safety, Stronger;
    CAUTION_WITHIN_LOWERED = "caution-within-lowered", Safety, Stronger;
    RULE_RAISED = "rule-raised", Safety, Stronger;
    STOP_CARD_NEW = "stop-card-new", Safety, Stronger;
    OFFLINE_DAYS_LOWERED = "offline-days-lowered", Safety, Stronger;
    EXPOSURE_PROVEN = "exposure-proven", Safety, Stronger;
    CONDITION_HELD = "condition-held", Safety, Stronger;
    FINDING_GONE = "finding-gone", Safety, Stronger;
    START_CHANGED = "start-changed", Ways, Changed;
    TARGET_CHANGED = "target-changed", Ways, Changed;
    VALUES_MOVED = "values-moved", Ways, Changed;
    RANGE_CHANGED = "range-changed", Ways, Changed;
    WAY_GONE = "way-gone", Ways, Changed;
    WAY_NEW = "way-new", Ways, Changed;
    ANSWER_REWORDED = "answer-reworded", Ways, Changed;
    WAYS_REORDERED = "ways-reordered", Ways, Changed;
    MEASURED_OTHERWISE = "measured-otherwise", Ways, Changed;
    OUTCOME_CHANGED = "outcome-changed", Ways, Changed;
    REFERS_ELSEWHERE = "refers-elsewhere", Ways, Changed;
    OUTCOMES_CHANGED = "outcomes-changed", Ways, Changed;
    MODELS_CHANGED = "models-changed", Ways, Changed;
    CALLEE_CHANGED = "callee-changed", Ways, Changed;
    PROCEDURE_GONE = "procedure-gone", Steps, Changed;
    PROCEDURE_WITHDRAWN = "procedure-withdrawn", Steps, Changed;
    PROCEDURE_RELEASED = "procedure-released", Steps, Changed;
    STATUS_CHANGED = "status-changed", Steps, Changed;
    PROCEDURE_NEW = "procedure-new", Steps, Changed;
    PROCEDURE_RENAMED = "procedure-renamed", Steps, Changed;
    PROCEDURE_KIND_CHANGED = "procedure-kind-changed", Steps, Changed;
    STEP_KIND_CHANGED = "step-kind-changed", Steps, Changed;
    ENDING_GONE = "ending-gone", Steps, Changed;
    STEP_GONE = "step-gone", Steps, Changed;
    ENDING_NEW = "ending-new", Steps, Changed;
    STEP_NEW = "step-new", Steps, Changed;
    STEP_RENAMED = "step-renamed", Steps, Changed;
    ENTRY_RENAMED = "entry-renamed", Steps, Changed;
    TEXT_CHANGED = "text-changed", Details, Changed;
    SECTION_CHANGED = "section-changed", Details, Changed;
    HEADING_CHANGED = "heading-changed", Details, Changed;
    MINUTES_CHANGED = "minutes-changed", Details, Changed;
    COST_CHANGED = "cost-changed", Details, Changed;
    DETAIL_CHANGED = "detail-changed", Details, Changed;
    SYMPTOMS_CHANGED = "symptoms-changed", Details, Changed;
    CODES_CHANGED = "codes-changed", Details, Changed;
    FAULT_CHANGED = "fault-changed", Details, Changed;
    WHEN_CHANGED = "when-changed", Details, Changed;
    FIGURE_CHANGED = "figure-changed", Details, Changed;
    MODEL_CHANGED = "model-changed", Details, Changed;
    STAGE_CHANGED = "stage-changed", Details, Changed;
    SETTING_CHANGED = "setting-changed", Details, Changed;
    LEAFLET_CHANGED = "leaflet-changed", Details, Changed;
    PICTURE_CHANGED = "picture-changed", Details, Changed;
}
