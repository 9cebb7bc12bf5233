//! What a sum is, the sums that ship, and their results.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;

use crate::formula::Formula;
use crate::trade::number::{Digits, shown};
use crate::trade::work::Work;

/// Names and texts of the sums, in the order in which they stand on their page.
const FILES: [(&str, &str); 7] = [
    ("marks", include_str!("sums/marks.yaml")),
    ("paper", include_str!("sums/paper.yaml")),
    ("heat", include_str!("sums/heat.yaml")),
    ("supplies", include_str!("sums/supplies.yaml")),
    ("planning", include_str!("sums/planning.yaml")),
    ("charge", include_str!("sums/charge.yaml")),
    ("pages", include_str!("sums/pages.yaml")),
];

/// Sums that belong together.
pub struct Group {
    pub id: &'static str,
    pub sums: Vec<Sum>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sum {
    pub id: String,
    pub name: String,
    #[serde(rename = "for")]
    pub purpose: String,
    pub inputs: Vec<Input>,
    /// Each may use the readings and the results before it.
    #[serde(default)]
    pub results: Vec<Outcome>,
    /// Where an expression does not do.
    pub work: Option<Work>,
    /// The formula of a work, in words.
    pub shown: Option<String>,
    pub drawing: Option<Drawing>,
    /// What spoils the result.
    pub mind: Vec<String>,
    pub source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Input {
    pub id: String,
    pub name: String,
    #[serde(default)]
    pub unit: String,
    #[serde(default)]
    pub from: f64,
    #[serde(default)]
    pub to: f64,
    /// The value of the worked example.
    #[serde(default)]
    pub value: f64,
    #[serde(default)]
    pub whole: bool,
    /// What its range catches.
    #[serde(default)]
    pub slip: String,
    /// The figure of a model that this is, where the model has it in this unit.
    pub figure: Option<String>,
    /// Nothing else is accepted.
    #[serde(default)]
    pub choices: Vec<(String, f64)>,
    /// Six hexadecimal digits.
    #[serde(default)]
    pub colour: bool,
    /// One of the library's models, by its place in the file.
    #[serde(default)]
    pub models: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    pub id: String,
    pub name: String,
    #[serde(default)]
    pub unit: String,
    places: Option<u32>,
    figures: Option<u32>,
    pub formula: Written,
    pub needs: Option<Need>,
}

/// What must hold between readings before a result means anything.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Need {
    pub formula: Written,
    pub from: f64,
    pub to: Option<f64>,
    /// The slip in words.
    pub says: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Drawing {
    Cooling,
}

/// A formula with the text it was read from.
#[derive(Debug, Deserialize)]
#[serde(try_from = "String")]
pub struct Written {
    pub text: String,
    pub formula: Formula,
}

impl TryFrom<String> for Written {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        match Formula::parse(&text) {
            Ok(formula) => Ok(Self { text, formula }),
            Err(fault) => Err(format!("`{text}`: at {} expected {}", fault.offset, fault.expected)),
        }
    }
}

/// One result: its number, or why there is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer<'s> {
    Number(f64),
    /// A need is not met: the slip in words.
    Refused(&'s str),
    /// No finite result.
    Nothing,
}

impl Outcome {
    pub fn digits(&self) -> Digits {
        match (self.places, self.figures) {
            (_, Some(figures)) => Digits::Figures(figures),
            (places, None) => Digits::Places(places.unwrap_or(0)),
        }
    }

    pub fn shown(&self, value: f64) -> String {
        shown(value, self.digits())
    }
}

impl Need {
    fn met(&self, names: &BTreeMap<&str, f64>) -> bool {
        let value = self.formula.formula.evaluate(&|name| names.get(name).copied());
        value.is_ok_and(|value| value >= self.from && self.to.is_none_or(|to| value <= to))
    }
}

impl Sum {
    /// The values of the worked example.
    pub fn example(&self) -> BTreeMap<&str, f64> {
        self.inputs.iter().map(|input| (input.id.as_str(), input.value)).collect()
    }

    /// One answer for each of `results`. What builds on a result that is missing is missing too.
    pub fn answers<'s>(&'s self, values: &BTreeMap<&'s str, f64>) -> Vec<Answer<'s>> {
        let mut names = values.clone();
        let mut refused = None;
        let mut answers = Vec::new();
        for outcome in &self.results {
            refused = refused.or(outcome.needs.as_ref().filter(|need| !need.met(&names)).map(|need| need.says.as_str()));
            answers.push(match (refused, outcome.formula.formula.evaluate(&|name| names.get(name).copied())) {
                (Some(says), _) => Answer::Refused(says),
                (None, Ok(value)) => {
                    names.insert(&outcome.id, value);
                    Answer::Number(value)
                }
                (None, Err(_)) => Answer::Nothing,
            });
        }
        answers
    }
}

/// All sums that ship. They parse; a test holds it.
pub fn groups() -> &'static [Group] {
    static GROUPS: OnceLock<Vec<Group>> = OnceLock::new();
    GROUPS.get_or_init(|| {
        let read = |(id, text): (&'static str, &str)| Group {
            id,
            sums: serde_yaml::from_str(text).unwrap_or_else(|fault| panic!("sums/{id}.yaml: {fault}")),
        };
        FILES.into_iter().map(read).collect()
    })
}

/// A sum by its id.
pub fn sum(id: &str) -> Option<&'static Sum> {
    groups().iter().flat_map(|group| &group.sums).find(|sum| sum.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ends_of_what_is_needed_are_inside() {
        let need = |to: Option<f64>| Need { formula: Written::try_from("x / y".to_owned()).unwrap(), from: 2.0, to, says: String::new() };
        let met = |to, x: f64| need(to).met(&BTreeMap::from([("x", x), ("y", 1.0)]));
        for (x, expected) in [(1.9, false), (2.0, true), (3.0, true), (3.1, false)] {
            assert_eq!(met(Some(3.0), x), expected, "{x}");
        }
        assert!(met(None, 1e9));
        assert!(!need(None).met(&BTreeMap::from([("x", 5.0), ("y", 0.0)])), "no result meets no need");
        assert!(!need(None).met(&BTreeMap::new()));
    }
}
