//! The proof that a formula has a value wherever its readings may lie: interval arithmetic (Moore 1966) over their ranges.
//!
//! What cannot be proved is refused. A name that occurs twice counts as two (`x - x` ranges over both signs), so a sound formula may have to
//! be written in another way or its readings narrowed; never is one accepted that can fail.

use std::collections::BTreeSet;

use crate::formula::evaluate::{EvaluationFault, apply};
use crate::formula::{Formula, Operation, Token};

/// Everything from `low` to `high`, both included, both finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    pub low: f64,
    pub high: f64,
}

impl Range {
    pub fn point(value: f64) -> Self {
        Self { low: value, high: value }
    }

    fn holds(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }
}

/// What cannot be ruled out.
#[derive(Clone, Debug, PartialEq)]
pub struct RangeFault {
    pub kind: RangeFaultKind,
    /// What the value in question can be: the divisor, the argument, the operand.
    pub range: Range,
    /// The readings and figures it is made of.
    pub names: BTreeSet<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RangeFaultKind {
    DivisionByZero,
    Overflow,
    /// `ln` of what may be 0 or less, `sqrt` or a broken power of what may be negative.
    Domain(Operation),
    /// No range was given for the one name.
    Unknown,
}

#[derive(Clone, Debug)]
struct Operand {
    range: Range,
    names: BTreeSet<String>,
}

/// The range of a formula's values, with the ranges that `of` gives for names.
///
/// # Errors
/// The first operation that may fail somewhere in these ranges.
pub fn range(formula: &Formula, of: &dyn Fn(&str) -> Option<Range>) -> Result<Range, RangeFault> {
    let mut stack: Vec<Operand> = Vec::new();
    for token in &formula.tokens {
        let operand = match token {
            Token::Number(number) => Operand { range: Range::point(*number), names: BTreeSet::new() },
            Token::Name(name) => named(name, of(name))?,
            Token::Apply(operation) => {
                let right = if operation.takes_two() { stack.pop() } else { None };
                let left = stack.pop().expect("the parser writes the operands before their operation");
                applied(*operation, left, right)?
            }
        };
        stack.push(operand);
    }
    Ok(stack.pop().expect("the parser accepts no empty formula").range)
}

fn named(name: &str, range: Option<Range>) -> Result<Operand, RangeFault> {
    let names = BTreeSet::from([name.to_owned()]);
    match range.filter(|range| range.low.is_finite() && range.high.is_finite() && range.low <= range.high) {
        Some(range) => Ok(Operand { range, names }),
        None => Err(RangeFault { kind: RangeFaultKind::Unknown, range: Range::point(0.0), names }),
    }
}

fn applied(operation: Operation, left: Operand, right: Option<Operand>) -> Result<Operand, RangeFault> {
    let right = right.unwrap_or_else(|| left.clone());
    let result = match operation {
        Operation::Divide if right.range.holds(0.0) => Err(Trouble::Right(RangeFaultKind::DivisionByZero)),
        Operation::Absolute if left.range.holds(0.0) => {
            Ok(Range { low: 0.0, high: if -left.range.low > left.range.high { -left.range.low } else { left.range.high } })
        }
        Operation::Power => power(left.range, right.range),
        Operation::Add | Operation::Multiply | Operation::Divide | Operation::Minimum | Operation::Maximum | Operation::Subtract => {
            corners(operation, [left.range.low, left.range.high], [right.range.low, right.range.high])
        }
        Operation::Negate
        | Operation::Absolute
        | Operation::SquareRoot
        | Operation::Exponential
        | Operation::Logarithm
        | Operation::Floor
        | Operation::Ceiling
        | Operation::Round => corners(operation, [left.range.low, left.range.high], [0.0, 0.0]),
    };
    match result {
        Ok(range) => {
            let names = left.names.union(&right.names).cloned().collect();
            Ok(Operand { range, names })
        }
        Err(Trouble::Left(kind)) => Err(RangeFault { kind, range: left.range, names: left.names }),
        Err(Trouble::Right(kind)) => Err(RangeFault { kind, range: right.range, names: right.names }),
        Err(Trouble::Both(kind)) => Err(RangeFault { kind, range: left.range, names: left.names.union(&right.names).cloned().collect() }),
    }
}

/// Which operand is to blame.
enum Trouble {
    Left(RangeFaultKind),
    Right(RangeFaultKind),
    Both(RangeFaultKind),
}

/// The range of an operation that is monotone in each operand: its least and greatest value lie at the edges.
///
/// The edges are computed by the very operation that will be evaluated. Rounding is monotone for all but `exp`, `ln` and `^`, so no value
/// inside can round past them; those three are widened by more than the 1e-12 by which terminal and browser may differ.
fn corners(operation: Operation, lefts: [f64; 2], rights: [f64; 2]) -> Result<Range, Trouble> {
    let mut range: Option<Range> = None;
    for left in lefts {
        for right in rights {
            let value = apply(operation, left, right).map_err(|fault| match fault {
                EvaluationFault::DivisionByZero => Trouble::Right(RangeFaultKind::DivisionByZero),
                EvaluationFault::Domain(operation) => Trouble::Left(RangeFaultKind::Domain(operation)),
                EvaluationFault::Overflow | EvaluationFault::Unknown(_) => Trouble::Both(RangeFaultKind::Overflow),
            })?;
            range = Some(match range {
                None => Range::point(value),
                Some(range) => Range { low: range.low.min(value), high: range.high.max(value) },
            });
        }
    }
    let range = range.expect("there are four corners");
    match operation {
        Operation::Exponential | Operation::Logarithm | Operation::Power => widened(range),
        Operation::Add
        | Operation::Subtract
        | Operation::Multiply
        | Operation::Divide
        | Operation::Negate
        | Operation::Minimum
        | Operation::Maximum
        | Operation::Absolute
        | Operation::SquareRoot
        | Operation::Floor
        | Operation::Ceiling
        | Operation::Round => Ok(range),
    }
}

fn widened(range: Range) -> Result<Range, Trouble> {
    // The smallest numbers have few digits: there the least normal number is added, so that one side may round to 0 where the other does not.
    let slack = |edge: f64| edge.abs() * 4e-12 + f64::MIN_POSITIVE;
    let low = range.low - slack(range.low);
    let wide = Range { low: if range.low >= 0.0 { low.max(0.0) } else { low }, high: range.high + slack(range.high) };
    if wide.low.is_finite() && wide.high.is_finite() { Ok(wide) } else { Err(Trouble::Both(RangeFaultKind::Overflow)) }
}

/// `base ^ exponent`. Defined for every base where the exponent is one whole number, else only for bases that are not negative.
fn power(base: Range, exponent: Range) -> Result<Range, Trouble> {
    let (bases, exponents) = ([base.low, base.high], [exponent.low, exponent.high]);
    if base.holds(0.0) && exponent.low < 0.0 {
        return Err(Trouble::Left(RangeFaultKind::DivisionByZero));
    }
    let whole = exponent.low == exponent.high && exponent.low.fract() == 0.0;
    if base.low >= 0.0 {
        // At base 0 the power jumps from 1 (exponent 0) to 0; the corners see both if the exponent's range begins at 0.
        return corners(Operation::Power, bases, exponents);
    }
    if !whole {
        return Err(Trouble::Left(RangeFaultKind::Domain(Operation::Power)));
    }
    let range = corners(Operation::Power, bases, exponents)?;
    let even = exponent.low % 2.0 == 0.0 && exponent.low != 0.0;
    Ok(if even && base.holds(0.0) { Range { low: 0.0, ..range } } else { range })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn proved(text: &str, names: &[(&str, f64, f64)]) -> Result<Range, RangeFaultKind> {
        let formula = Formula::parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        let of = |name: &str| names.iter().find(|(known, ..)| *known == name).map(|(_, low, high)| Range { low: *low, high: *high });
        range(&formula, &of).map_err(|fault| fault.kind)
    }

    #[test]
    fn what_may_fail_within_the_ranges_is_refused_and_its_neighbour_is_not() {
        use RangeFaultKind::{DivisionByZero, Domain, Overflow};
        for (text, low, high, expected) in [
            ("1 / x", 0.0, 5.0, Some(DivisionByZero)),
            ("1 / x", -1.0, 1.0, Some(DivisionByZero)),
            ("1 / x", 0.1, 5.0, None),
            ("1 / (x - 3)", 0.0, 3.0, Some(DivisionByZero)),
            ("1 / (x - 3)", 3.5, 4.0, None),
            ("1 / floor(x)", 0.5, 4.0, Some(DivisionByZero)),
            ("1 / floor(x)", 1.0, 4.0, None),
            ("x ^ -2", -1.0, 1.0, Some(DivisionByZero)),
            ("x ^ -2", -2.0, -1.0, None),
            ("ln(x)", 0.0, 5.0, Some(Domain(Operation::Logarithm))),
            ("ln(x)", 0.001, 5.0, None),
            ("1 / ln(x)", 1.0, 5.0, Some(DivisionByZero)),
            ("1 / ln(x)", 1.1, 5.0, None),
            ("sqrt(x)", -0.001, 5.0, Some(Domain(Operation::SquareRoot))),
            ("sqrt(x)", 0.0, 5.0, None),
            ("x ^ 0.5", -1.0, 1.0, Some(Domain(Operation::Power))),
            ("x ^ 0.5", 0.0, 1.0, None),
            ("2 ^ x", -4.0, 4.0, None),
            ("x ^ 2", -3.0, 2.0, None),
            ("exp(x)", 0.0, 710.0, Some(Overflow)),
            ("exp(x)", 0.0, 700.0, None),
            ("1e300 * x", 0.0, 1e9, Some(Overflow)),
            ("1e300 * x", 0.0, 1e8, None),
            ("1 / exp(x)", -745.0, 0.0, Some(DivisionByZero)),
            ("1 / exp(x)", -700.0, 0.0, None),
            ("sqrt(x ^ 2)", -2.0, 2.0, None),
            ("sqrt(ln(x))", 1.0, 2.0, None),
            ("1 / abs(x)", -1.0, 2.0, Some(DivisionByZero)),
            ("1 / (1 + abs(x))", -1.0, 2.0, None),
            // Sound, and refused all the same: the two x are not seen as one.
            ("1 / (x - x + 1)", 0.0, 5.0, Some(DivisionByZero)),
        ] {
            assert_eq!(proved(text, &[("x", low, high)]).err(), expected, "{text} over {low}..{high}");
        }
    }

    #[test]
    fn ranges_are_those_of_the_textbook() {
        for (text, expected) in [
            ("x ^ 2", (0.0, 9.0)),
            ("x * y", (-12.0, 8.0)),
            ("x - y", (-7.0, 1.0)),
            ("abs(x)", (0.0, 3.0)),
            ("max(x, 0)", (0.0, 2.0)),
            ("min(x, y)", (-3.0, 2.0)),
            ("-x / y", (-2.0, 3.0)),
            ("round(x / 2)", (-1.0, 1.0)),
        ] {
            let found = proved(text, &[("x", -3.0, 2.0), ("y", 1.0, 4.0)]).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            assert!((found.low - expected.0).abs() < 1e-9 && (found.high - expected.1).abs() < 1e-9, "{text}: {found:?}");
        }
    }

    /// The browser may come to a value 1e-12 away from ours.
    #[test]
    fn ranges_have_room_for_another_machine() {
        for (text, value) in [("exp(x)", 1f64.exp()), ("ln(x + 2)", 3f64.ln()), ("(x + 1) ^ 0.5", 2f64.sqrt())] {
            let found = proved(text, &[("x", 1.0, 1.0)]).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            assert!(found.holds(value * (1.0 - 1e-12)) && found.holds(value * (1.0 + 1e-12)), "{text}: {found:?}");
        }
    }

    /// Every value at a grid of points lies in the proved range: the proof against plain evaluation.
    #[test]
    fn no_value_lies_outside_the_proved_range() {
        let texts =
            ["x ^ 3 - 2 * x", "x ^ 2 / y", "exp(-x / y) + ln(y + 1)", "min(x, y) * max(x, -y) - abs(x)", "sqrt(y) ^ x", "x ^ 4 - y ^ -1.5"];
        for text in texts {
            let formula = Formula::parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            let range = proved(text, &[("x", -3.0, 2.0), ("y", 0.5, 4.0)]).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            for i in 0..=50 {
                for j in 0..=50 {
                    let (x, y) = (-3.0 + f64::from(i) * 0.1, 0.5 + f64::from(j) * 0.07);
                    let value = formula.evaluate(&|name| Some(if name == "x" { x } else { y }));
                    assert!(value.as_ref().is_ok_and(|value| range.holds(*value)), "{text} at {x}, {y}: {value:?} of {range:?}");
                }
            }
        }
    }

    #[test]
    fn the_fault_names_the_readings_it_is_made_of() {
        let formula = Formula::parse("a + b / (c - d)").unwrap_or_else(|fault| panic!("{fault:?}"));
        let fault = range(&formula, &|_| Some(Range { low: 0.0, high: 1.0 })).err();
        let names = fault.map(|fault| (fault.range, fault.names.into_iter().collect::<Vec<_>>().join(" ")));
        assert_eq!(names, Some((Range { low: -1.0, high: 1.0 }, "c d".to_owned())));
    }

    /// A formula at random, over `x` and `y`.
    fn random_formula(random: &mut impl FnMut(u64) -> u64, depth: u32) -> String {
        if depth == 0 || random(5) == 0 {
            return ["x", "y", "2", "0.5", "3", "1e3"].get(random(6) as usize).map_or_else(String::new, |text| (*text).to_owned());
        }
        let left = random_formula(random, depth - 1);
        let function = ["-", "sqrt", "ln", "exp", "abs", "floor", "ceil", "round"].get(random(16) as usize);
        if let Some(function) = function {
            return format!("{function}({left})");
        }
        let right = random_formula(random, depth - 1);
        match ["+", "-", "*", "/", "^", "min", "max"].get(random(7) as usize) {
            Some(function @ (&"min" | &"max")) => format!("{function}({left}, {right})"),
            Some(operator) => format!("({left}) {operator} ({right})"),
            None => left,
        }
    }

    /// Soundness, by trial: a formula that is proved has a value in the proved range at every point tried, edges first.
    #[test]
    fn what_is_proved_never_fails() {
        let mut state: u64 = 11;
        let mut random = |below: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % below
        };
        let (mut proved_count, mut refused_count) = (0, 0);
        for _ in 0..4000 {
            let text = random_formula(&mut random, 4);
            let formula = Formula::parse(&text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            let mut edge = || random(9) as f64 - 4.0;
            let ranges = [edge(), edge()].map(|low| Range { low, high: low + edge().abs() });
            let of = |name: &str| ranges.get(usize::from(name == "y")).copied();
            let Ok(range) = range(&formula, &of) else {
                refused_count += 1;
                continue;
            };
            proved_count += 1;
            for i in 0..=8 {
                for j in 0..=8 {
                    let [x, y] = [(0, i), (1, j)].map(|(which, part)| {
                        let range: Range = ranges[which];
                        range.low + (range.high - range.low) * f64::from(part) / 8.0
                    });
                    let value = formula.evaluate(&|name| Some(if name == "x" { x } else { y }));
                    assert!(value.as_ref().is_ok_and(|value| range.holds(*value)), "{text} at {x}, {y}: {value:?} of {range:?}");
                }
            }
        }
        assert!(proved_count > 500 && refused_count > 500, "{proved_count} proved, {refused_count} refused");
    }
}
