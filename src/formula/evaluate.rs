//! The value of a formula. Errors are values: a result that is no finite number is never handed on.

use rust_decimal::Decimal;

use crate::formula::{Formula, Operation, Token};

/// Why a formula has no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EvaluationFault {
    /// Nobody gave a number for this name, or one that is not finite.
    Unknown(String),
    DivisionByZero,
    /// Beyond the largest number.
    Overflow,
    /// Outside what the operation is defined for: `ln`, `sqrt` or `^` of the wrong sign.
    Domain(Operation),
}

impl Formula {
    /// The value, with the numbers that `of` gives for names.
    ///
    /// # Errors
    /// A name without a number, or the first operation without a finite result.
    pub fn evaluate(&self, of: &dyn Fn(&str) -> Option<f64>) -> Result<f64, EvaluationFault> {
        let mut stack: Vec<f64> = Vec::new();
        for token in &self.tokens {
            let value = match token {
                Token::Number(number) => *number,
                Token::Name(name) => of(name).filter(|value| value.is_finite()).ok_or_else(|| EvaluationFault::Unknown(name.clone()))?,
                Token::Apply(operation) => {
                    let right = if operation.takes_two() { stack.pop() } else { None };
                    let left = stack.pop().expect("the parser writes the operands before their operation");
                    apply(*operation, left, right.unwrap_or(left))?
                }
            };
            stack.push(value);
        }
        Ok(stack.pop().expect("the parser accepts no empty formula"))
    }
}

/// The double nearest to a decimal, as a script reads the same digits. (The conversion of `rust_decimal` itself may be off in the last bit.)
pub fn nearest_double(value: Decimal) -> Option<f64> {
    value.to_string().parse().ok()
}

/// One operation on numbers; `right` is ignored by those that take one.
pub(super) fn apply(operation: Operation, left: f64, right: f64) -> Result<f64, EvaluationFault> {
    let value = match operation {
        Operation::Add => left + right,
        Operation::Subtract => left - right,
        Operation::Multiply => left * right,
        Operation::Divide if right == 0.0 => return Err(EvaluationFault::DivisionByZero),
        Operation::Divide => left / right,
        Operation::Power if left == 0.0 && right < 0.0 => return Err(EvaluationFault::DivisionByZero),
        Operation::Power => snapped(left.powf(right)),
        Operation::Negate => -left,
        Operation::Minimum => smaller(left, right),
        Operation::Maximum => -smaller(-left, -right),
        Operation::Absolute => left.abs(),
        Operation::SquareRoot => left.sqrt(),
        Operation::Exponential => snapped(left.exp()),
        Operation::Logarithm if left == 0.0 => return Err(EvaluationFault::Domain(operation)),
        Operation::Logarithm => snapped(left.ln()),
        Operation::Floor => left.floor(),
        Operation::Ceiling => left.ceil(),
        Operation::Round => (left + 0.5).floor(),
    };
    if value.is_nan() {
        Err(EvaluationFault::Domain(operation))
    } else if value.is_infinite() {
        Err(EvaluationFault::Overflow)
    } else {
        Ok(value)
    }
}

/// A value to 15 significant digits. `^`, `exp` and `ln` may differ in the last bit between two machines, and a `floor` behind them would make
/// a whole step of it: `exp(ln(3))` is a hair above 3 here and below it there. Rounded, both are 3.
fn snapped(value: f64) -> f64 {
    format!("{value:.14e}").parse().unwrap_or(f64::NAN)
}

/// The smaller of two; of two zeros the negative one, as scripts have it (`f64::min` may give either).
fn smaller(left: f64, right: f64) -> f64 {
    if left < right || (left == right && left.is_sign_negative()) { left } else { right }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str, names: &[(&str, f64)]) -> Result<f64, EvaluationFault> {
        let formula = Formula::parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        formula.evaluate(&|name| names.iter().find(|(known, _)| *known == name).map(|(_, value)| *value))
    }

    fn near(text: &str, names: &[(&str, f64)], expected: f64, within: f64) {
        let found = value(text, names).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        assert!((found - expected).abs() <= within, "{text}: {found}, expected {expected}");
    }

    /// Arithmetic from the sheet sizes of ISO 216 and 25.4 mm to the inch: dots across and down are whole, rows are padded to whole bytes.
    #[test]
    fn page_memory_of_known_sheets() {
        let text = "ceil(round(width / 25.4 * dpi) * bits / 8) * round(height / 25.4 * dpi) * planes";
        let page = |width, height, dpi, bits, planes| {
            value(text, &[("width", width), ("height", height), ("dpi", dpi), ("bits", bits), ("planes", planes)])
        };
        assert_eq!(page(210.0, 297.0, 600.0, 1.0, 1.0), Ok(4_356_936.0));
        assert_eq!(page(215.9, 279.4, 300.0, 1.0, 1.0), Ok(1_052_700.0));
        // 33.19 MiB at 8 bits, 132.8 MiB with four planes of them.
        let mebibytes = |bits, planes| page(210.0, 297.0, 600.0, bits, planes).map(|bytes| (bytes / 1_048_576.0 * 10.0).round() / 10.0);
        assert_eq!((mebibytes(8.0, 1.0), mebibytes(8.0, 4.0)), (Ok(33.2), Ok(132.8)));
    }

    /// Newton's law of cooling (textbook): 190 to 48 °C with a time constant of 11.7 min; the constant itself from 190 to 95 °C in 10 min.
    #[test]
    fn cooling_of_a_fuser() {
        let wait = "tau * ln((hot - room) / (safe - room))";
        near(wait, &[("tau", 11.7), ("hot", 190.0), ("room", 25.0), ("safe", 48.0)], 23.1, 0.05);
        near("10 / ln((190 - 25) / (95 - 25))", &[], 11.66, 0.005);
        near("room + (hot - room) * exp(-t / tau)", &[("room", 25.0), ("hot", 190.0), ("t", 0.0), ("tau", 12.0)], 190.0, 0.0);
    }

    /// The B-parameter equation of a thermistor (textbook), 100 kohm at 25 °C; B = 3950 K is a demo value.
    /// Expected figures to three digits: common tables of such sensors, from memory.
    #[test]
    fn resistance_of_a_temperature_sensor() {
        let text = "100 * exp(b * (1 / (t + 273.15) - 1 / 298.15))";
        near(text, &[("b", 3950.0), ("t", 25.0)], 100.0, 1e-9);
        near(text, &[("b", 3950.0), ("t", 20.0)], 125.0, 1.5);
        near(text, &[("b", 3950.0), ("t", 15.0)], 158.4, 1.0);
        near(text, &[("b", 3950.0), ("t", 30.0)], 80.4, 0.5);
        // Ohm's law: a 900 W heater at 230 V has 58.8 ohm.
        near("volts ^ 2 / watts", &[("volts", 230.0), ("watts", 900.0)], 58.8, 0.03);
    }

    /// Dew point by Magnus with the constants of WMO guide No. 8 (from memory): 23 °C and 55 % give 13.5 °C.
    #[test]
    fn dew_point_of_a_room() {
        let g = "(ln(rh / 100) + 17.62 * t / (243.12 + t))";
        near(&format!("243.12 * {g} / (17.62 - {g})"), &[("rh", 55.0), ("t", 23.0)], 13.5, 0.05);
    }

    #[test]
    fn what_has_no_value_says_why() {
        assert_eq!(value("1 / x", &[("x", 0.0)]), Err(EvaluationFault::DivisionByZero));
        assert_eq!(value("x ^ -1", &[("x", 0.0)]), Err(EvaluationFault::DivisionByZero));
        assert_eq!(value("ln(x)", &[("x", 0.0)]), Err(EvaluationFault::Domain(Operation::Logarithm)));
        assert_eq!(value("ln(x)", &[("x", -1.0)]), Err(EvaluationFault::Domain(Operation::Logarithm)));
        assert_eq!(value("sqrt(x)", &[("x", -1.0)]), Err(EvaluationFault::Domain(Operation::SquareRoot)));
        assert_eq!(value("x ^ 0.5", &[("x", -1.0)]), Err(EvaluationFault::Domain(Operation::Power)));
        assert_eq!(value("exp(x)", &[("x", 710.0)]), Err(EvaluationFault::Overflow));
        assert_eq!(value("x", &[]), Err(EvaluationFault::Unknown("x".to_owned())));
        assert_eq!(value("x", &[("x", f64::NAN)]), Err(EvaluationFault::Unknown("x".to_owned())));
    }

    #[test]
    fn zeros_keep_the_sign_a_script_gives_them() {
        for (text, negative) in
            [("min(0, -0)", true), ("min(-0, 0)", true), ("max(-0, 0)", false), ("max(0, -0)", false), ("floor(-0)", true)]
        {
            assert_eq!(value(text, &[]).map(f64::is_sign_negative), Ok(negative), "{text}");
        }
    }

    #[test]
    fn what_differs_in_the_last_bit_does_not_grow() {
        for (text, expected) in [("ceil(exp(ln(3)))", 3.0), ("floor(exp(ln(3)))", 3.0), ("floor(1000 ^ (1 / 3))", 10.0)] {
            assert_eq!(value(text, &[]), Ok(expected), "{text}");
        }
        near("ln(10)", &[], std::f64::consts::LN_10, 1e-14);
        assert_eq!(value("1.7976931348623157e308 ^ 1", &[]), Err(EvaluationFault::Overflow));
    }

    #[test]
    fn the_postfix_form_is_what_the_script_reads() {
        let formula = Formula::parse("max(width, 1.5) * -2 ^ 3").unwrap_or_else(|fault| panic!("{fault:?}"));
        let json = serde_json::to_string(&formula.rpn()).unwrap_or_default();
        assert_eq!(json, r#"["$width",1.5,"max",2.0,3.0,"^","neg","*"]"#);
    }
}
