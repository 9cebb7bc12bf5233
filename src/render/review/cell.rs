//! What became of exposures, told by a sign and a word.

use crate::emit::review::is_waived;
use crate::flow::coverage::Exposure;
use crate::render::review::Desk;

/// From the worst to the best.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    Uncovered,
    Waived,
    Covered,
    Unreachable,
    Elsewhere,
    NotMet,
}

impl State {
    pub const ALL: [State; 6] = [State::Covered, State::Uncovered, State::Waived, State::Unreachable, State::Elsewhere, State::NotMet];

    pub fn of(exposure: &Exposure) -> Self {
        match (exposure.reachable, exposure.proven, is_waived(exposure)) {
            (false, ..) => State::Unreachable,
            (true, false, _) => State::Uncovered,
            (true, true, true) => State::Waived,
            (true, true, false) => State::Covered,
        }
    }

    /// Of all exposures to one hazard in a procedure: the worst of them.
    pub fn of_all<'e>(exposures: impl IntoIterator<Item = &'e Exposure>) -> Option<Self> {
        exposures.into_iter().map(Self::of).min()
    }

    /// The end of its class and the key of its word.
    pub fn as_str(self) -> &'static str {
        match self {
            State::Uncovered => "uncovered",
            State::Waived => "waived",
            State::Covered => "covered",
            State::Unreachable => "unreachable",
            State::Elsewhere => "elsewhere",
            State::NotMet => "not-met",
        }
    }

    /// Its sign: differs in shape, so that it can be told without colour.
    pub fn sign(self) -> String {
        let shapes = match self {
            State::Covered => "<path d=\"M2 8.5 6.5 13 14 3.5\"/>",
            State::Uncovered => "<path d=\"M3 3 13 13M13 3 3 13\"/>",
            State::Waived => "<circle cx=\"8\" cy=\"8\" r=\"5.5\"/><path d=\"M8 2.5V13.5M11 3.5V12.5\"/>",
            State::Unreachable => "<circle cx=\"8\" cy=\"8\" r=\"5.5\"/>",
            State::Elsewhere => "<path d=\"M3 2.5V10H12M8.5 6.5 12 10 8.5 13.5\"/>",
            State::NotMet => "<path d=\"M4 8H12\"/>",
        };
        format!(
            "<svg class=\"state__sign\" viewBox=\"0 0 16 16\" width=\"16\" height=\"16\" aria-hidden=\"true\" focusable=\"false\">{shapes}</svg>"
        )
    }
}

/// Sign and word in one line, without a link.
pub fn state(desk: &Desk<'_, '_>, state: State) -> String {
    let key = state.as_str();
    format!("<span class=\"state state--{key}\">{}<span class=\"state__word\">{}</span></span>", state.sign(), desk.word(key))
}
