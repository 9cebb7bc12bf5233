//! The rules: name, severity and group of each, declared once. What a rule means stands on its page (`src/rules/<group>/<name>.md`);
//! which code judges it, in the file beside the page.

/// How bad a finding is. Only errors keep a library from being published.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    Error,
    Warning,
    Note,
}

impl Severity {
    pub fn as_str(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// What a rule is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    Reading,
    Flow,
    Safety,
    Approval,
    Words,
}

impl Group {
    pub const ALL: [Group; 5] = [Group::Reading, Group::Flow, Group::Safety, Group::Approval, Group::Words];

    pub fn as_str(self) -> &'static str {
        match self {
            Group::Reading => "reading",
            Group::Flow => "flow",
            Group::Safety => "safety",
            Group::Approval => "approval",
            Group::Words => "words",
        }
    }
}

/// One rule. Names are kebab-case, state the defect and never change once released.
#[derive(Debug, PartialEq, Eq)]
pub struct Rule {
    pub name: &'static str,
    pub severity: Severity,
    pub group: Group,
}

macro_rules! rules {
    ($($constant:ident = $name:literal, $severity:ident, $group:ident;)*) => {
        $(pub static $constant: Rule = Rule { name: $name, severity: Severity::$severity, group: Group::$group };)*
        /// Every rule, by group and in the order of the handbook.
        pub static ALL: &[&Rule] = &[$(&$constant),*];
    };
}

rules! {
    FRONT_MATTER_MISSING = "front-matter-missing", Error, Reading;
    FRONT_MATTER_INVALID = "front-matter-invalid", Error, Reading;
    UNKNOWN_KEY = "unknown-key", Error, Reading;
    KEY_MISSING = "key-missing", Error, Reading;
    VALUE_INVALID = "value-invalid", Error, Reading;
    BAD_ID = "bad-id", Error, Reading;
    DUPLICATE_KEY = "duplicate-key", Error, Reading;
    DUPLICATE_PROCEDURE = "duplicate-procedure", Error, Reading;
    TEXT_CUT_SHORT = "text-cut-short", Error, Reading;
    NOT_UTF8 = "not-utf8", Error, Reading;
    TOO_DEEP = "too-deep", Error, Reading;
    OUTSIDE_LIBRARY = "outside-library", Error, Reading;
    STEP_KIND_UNCLEAR = "step-kind-unclear", Error, Flow;
    UNKNOWN_STEP = "unknown-step", Error, Flow;
    BRANCH_WITHOUT_ACTION = "branch-without-action", Error, Flow;
    STEP_UNREACHABLE = "step-unreachable", Error, Flow;
    NO_WAY_OUT = "no-way-out", Error, Flow;
    LOOP_UNBOUNDED = "loop-unbounded", Error, Flow;
    OTHERWISE_MISSING = "otherwise-missing", Error, Flow;
    UNSURE_MISSING = "unsure-missing", Error, Flow;
    DUPLICATE_ANSWER = "duplicate-answer", Error, Flow;
    TOO_FEW_ANSWERS = "too-few-answers", Error, Flow;
    PERSON_UNASKED = "person-unasked", Error, Flow;
    BANDS_NOT_ASCENDING = "bands-not-ascending", Error, Flow;
    UNIT_MISMATCH = "unit-mismatch", Error, Flow;
    FORMULA_INVALID = "formula-invalid", Error, Flow;
    UNKNOWN_PROCEDURE = "unknown-procedure", Error, Flow;
    UNKNOWN_OUTCOME = "unknown-outcome", Error, Flow;
    REFERS_NOWHERE = "refers-nowhere", Error, Flow;
    OUTCOME_UNMAPPED = "outcome-unmapped", Error, Flow;
    PROCEDURE_CIRCLE = "procedure-circle", Error, Flow;
    LEADS_TO_WITHDRAWN = "leads-to-withdrawn", Error, Flow;
    LEADS_TO_UNRELEASED = "leads-to-unreleased", Error, Flow;
    UNKNOWN_MODEL = "unknown-model", Error, Flow;
    MODEL_UNCOVERED = "model-uncovered", Error, Flow;
    WORDS_WITHOUT_STEP = "words-without-step", Error, Flow;
    LIMIT_IDLE = "limit-idle", Warning, Flow;
    UNSURE_AS_CLEAR = "unsure-as-clear", Warning, Flow;
    TOO_MANY_ANSWERS = "too-many-answers", Warning, Flow;
    REFERS_IN_A_CIRCLE = "refers-in-a-circle", Warning, Flow;
    CODE_SHARED = "code-shared", Warning, Flow;
    CODE_NOWHERE = "code-nowhere", Warning, Flow;
    STEP_WITHOUT_WORDS = "step-without-words", Warning, Flow;
    OUTCOME_IMPOSSIBLE = "outcome-impossible", Note, Flow;
    CAUTION_MISSING = "caution-missing", Error, Safety;
    CAUTION_OUT_OF_DATE = "caution-out-of-date", Error, Safety;
    HAZARD_UNCONTROLLED = "hazard-uncontrolled", Error, Safety;
    CONDITION_NOT_MET = "condition-not-met", Error, Safety;
    WAIT_TOO_SHORT = "wait-too-short", Error, Safety;
    NOT_TRIED_OUT = "not-tried-out", Error, Safety;
    LEFT_BEHIND = "left-behind", Error, Safety;
    FIXED_UNCHECKED = "fixed-unchecked", Error, Safety;
    BEYOND_COMPETENCE = "beyond-competence", Error, Safety;
    HAZARD_UNDECLARED = "hazard-undeclared", Error, Safety;
    CONDITION_UNDECLARED = "condition-undeclared", Error, Safety;
    DENIAL_REFUSED = "denial-refused", Error, Safety;
    LINK_LEAVES_FLOW = "link-leaves-flow", Error, Safety;
    CAUTION_INCOMPLETE = "caution-incomplete", Error, Safety;
    PART_WITHOUT_WORDS = "part-without-words", Error, Safety;
    UNKNOWN_HAZARD = "unknown-hazard", Error, Safety;
    UNKNOWN_CONDITION = "unknown-condition", Error, Safety;
    UNKNOWN_PART = "unknown-part", Error, Safety;
    WAIVER_INCOMPLETE = "waiver-incomplete", Error, Safety;
    WAIVER_EXPIRED = "waiver-expired", Error, Safety;
    STOP_CARD_MISSING = "stop-card-missing", Error, Safety;
    CAUTION_IDLE = "caution-idle", Warning, Safety;
    CAUTIONS_MANY = "cautions-many", Warning, Safety;
    HAZARD_WITHOUT_WORDS = "hazard-without-words", Warning, Safety;
    ACTS_MANY = "acts-many", Warning, Safety;
    DENIAL_IDLE = "denial-idle", Warning, Safety;
    REACH_UNDECLARED = "reach-undeclared", Note, Safety;
    APPROVAL_MISSING = "approval-missing", Error, Approval;
    APPROVAL_STALE = "approval-stale", Error, Approval;
    APPROVAL_BY_OWNER = "approval-by-owner", Error, Approval;
    REVIEW_OVERDUE = "review-overdue", Warning, Approval;
    LINK_BROKEN = "link-broken", Error, Words;
    PICTURE_MISSING = "picture-missing", Error, Words;
    PICTURE_WITHOUT_WORDS = "picture-without-words", Error, Words;
    RAW_HTML = "raw-html", Error, Words;
    HEADING_ORDER = "heading-order", Warning, Words;
    INSTRUCTION_LONG = "instruction-long", Note, Words;
    INSTRUCTION_VAGUE = "instruction-vague", Note, Words;
}

/// The rule of that name.
pub fn by_name(name: &str) -> Option<&'static Rule> {
    ALL.iter().copied().find(|rule| rule.name == name)
}
