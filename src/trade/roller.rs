//! Which roller repeats a mark: shares by Bayes' rule over the rollers of a model, and what to measure next (`script/trade/roller.js`).

/// A rolling part that can mark the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Roller {
    pub name: String,
    /// Distance on paper after which it marks the sheet again, in millimetres.
    pub distance: f64,
    /// How often it is to blame against the others.
    pub weight: f64,
}

/// A rule is read to this at either end: common practice, no source.
const READ_TO: f64 = 0.5;
/// How far a roller's true distance lies from its figure: demo value.
const TOLERANCE: f64 = 0.2;
/// A share from which on nobody measures again: project's choice.
pub const SURE: f64 = 0.95;
/// A roller fits within this many times the spread, and always within [`WITHIN`]: common practice, no source.
const FITS: f64 = 3.0;
/// Millimetres by which a step may always miss a roller, or a multiple of one, and still be taken for it: project's choice.
const WITHIN: f64 = 1.5;
/// The length of an A4 sheet: marks are measured within it.
const SHEET: f64 = 297.0;

/// By how much one step may be off that was measured over so many gaps, in millimetres.
pub fn doubt(gaps: f64) -> f64 {
    2f64.sqrt() * READ_TO / gaps
}

fn spread(gaps: f64) -> f64 {
    (doubt(gaps).powi(2) + TOLERANCE.powi(2)).sqrt()
}

/// The share of each roller, or `None` if none fits the step.
pub fn shares(rollers: &[Roller], step: f64, gaps: f64) -> Option<Vec<f64>> {
    let off = |roller: &Roller| (step - roller.distance) / spread(gaps);
    let reach = WITHIN.max(FITS * spread(gaps));
    if !rollers.iter().any(|roller| (step - roller.distance).abs() <= reach) {
        return None;
    }
    let likely: Vec<f64> = rollers.iter().map(|roller| roller.weight * (-off(roller).powi(2) / 2.0).exp()).collect();
    let sum: f64 = likely.iter().sum();
    (sum > 0.0).then(|| likely.iter().map(|one| one / sum).collect())
}

/// The likeliest roller's place; of equals the first.
pub fn likeliest(shares: &[f64]) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for (place, share) in shares.iter().enumerate() {
        if best.is_none_or(|(_, most)| *share > most) {
            best = Some((place, *share));
        }
    }
    best.map(|(place, _)| place)
}

/// The fewest gaps, more than were measured, that would make the likeliest roller sure if it is the one, and still lie on one sheet.
pub fn gaps_to_measure(rollers: &[Roller], step: f64, gaps: f64) -> Option<u32> {
    let shares_now = shares(rollers, step, gaps)?;
    let best = rollers.get(likeliest(&shares_now)?)?;
    (1..=12u32).filter(|more| f64::from(*more) > gaps && f64::from(*more) * best.distance <= SHEET).find(|more| {
        let then = shares(rollers, best.distance, f64::from(*more));
        then.is_some_and(|then| then.iter().any(|share| *share >= SURE))
    })
}

/// Rollers that make this step if only every second, third or fourth mark prints: place and multiple.
pub fn multiples(rollers: &[Roller], step: f64) -> Vec<(usize, u32)> {
    let all = rollers.iter().enumerate().flat_map(|(place, roller)| (2..=4u32).map(move |times| (place, times, roller)));
    all.filter(|(_, times, roller)| (step - f64::from(*times) * roller.distance).abs() <= WITHIN)
        .map(|(place, times, _)| (place, times))
        .collect()
}
