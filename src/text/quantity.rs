//! Numbers with units, and durations, as authors write them. Decimals are exact.

use std::fmt;

use rust_decimal::Decimal;

/// The units of the format. Nothing is ever converted between them by the proof.
pub const UNITS: [&str; 26] = [
    "mm", "cm", "m", "in", "°C", "s", "min", "h", "ohm", "kohm", "Mohm", "V", "A", "W", "B", "kB", "MB", "MiB", "g", "kg", "mg", "g/m2",
    "%", "%RH", "dpi", "mm/s",
];
/// Units written as words; kept apart only to keep the list above in one shape.
pub const RATES: [&str; 2] = ["pages", "pages/min"];

/// One unit of the format's list, or none.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Unit(Option<&'static str>);

impl Unit {
    pub const NONE: Unit = Unit(None);

    /// `None` for a text that is not in the list.
    pub fn parse(text: &str) -> Option<Self> {
        if text.is_empty() {
            return Some(Self::NONE);
        }
        UNITS.iter().chain(RATES.iter()).find(|unit| **unit == text).map(|unit| Self(Some(unit)))
    }

    /// As written; empty for none.
    pub fn as_str(self) -> &'static str {
        self.0.unwrap_or("")
    }
}

impl fmt::Debug for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.unwrap_or("(no unit)"))
    }
}

/// A number and its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quantity {
    pub value: Decimal,
    pub unit: Unit,
}

impl Quantity {
    /// Reads `128 MB`, `600 dpi`, `12`. `None` for anything else, a number without a known unit included.
    pub fn parse(text: &str) -> Option<Self> {
        let (number, unit) = split_number(text);
        Some(Self { value: decimal(number)?, unit: Unit::parse(unit)? })
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit.as_str() {
            "" => write!(f, "{}", self.value),
            unit => write!(f, "{} {unit}", self.value),
        }
    }
}

/// Splits `75.4 mm` into number and unit, both trimmed. The unit may be any text, or empty.
pub fn split_number(text: &str) -> (&str, &str) {
    let text = text.trim();
    let end = text.find(|c: char| !matches!(c, '0'..='9' | '.' | '-' | '+')).unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    (number.trim(), unit.trim())
}

/// A plain decimal number: digits, at most one point between digits, an optional minus. No exponent, no comma, no plus, no
/// nought before the whole number (`012` is ten to some readers and twelve to others).
pub fn decimal(text: &str) -> Option<Decimal> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let plain = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let padded = whole.len() > 1 && whole.starts_with('0');
    if !plain(whole) || !plain(part) || padded {
        return None;
    }
    text.parse().ok().map(|number: Decimal| number.normalize())
}

/// Whole seconds of a number of `s`, `min` or `h`, rounded up. `None` for another unit, a negative number, or more than a year.
pub fn seconds(value: Decimal, unit: &str) -> Option<u32> {
    let factor = match unit {
        "s" => 1,
        "min" => 60,
        "h" => 3600,
        _ => return None,
    };
    let exact = value.checked_mul(Decimal::from(factor))?;
    if exact.is_sign_negative() && !exact.is_zero() {
        return None;
    }
    u32::try_from(exact.ceil()).ok().filter(|seconds| *seconds <= 31_622_400)
}

/// `1800` -> `30 min`, `90` -> `90 s`, `3600` -> `1 h`: the largest unit that leaves a whole number.
pub fn duration_text(seconds: u32) -> String {
    match seconds {
        0 => "0 min".to_owned(),
        s if s % 3600 == 0 => format!("{} h", s / 3600),
        s if s % 60 == 0 => format!("{} min", s / 60),
        s => format!("{s} s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_plain_decimals_and_nothing_else() {
        for text in ["12", "75.4", "-3", "0.50", "0"] {
            assert!(decimal(text).is_some(), "{text}");
        }
        for text in ["", ".5", "5.", "1e3", "1,5", "+4", "0x1", "--1", "1.2.3", "12:30", "012", "-00.5"] {
            assert!(decimal(text).is_none(), "{text}");
        }
        assert_eq!(Quantity::parse("75.4 mm").map(|q| q.to_string()), Some("75.4 mm".to_owned()));
        assert_eq!(Quantity::parse("75.4 parsec"), None);
    }

    #[test]
    fn durations_are_whole_seconds_rounded_up() {
        assert_eq!(seconds(Decimal::new(5, 1), "min"), Some(30));
        assert_eq!(seconds(Decimal::new(33, 2), "min"), Some(20));
        assert_eq!(seconds(Decimal::ONE, "days"), None);
        assert_eq!(duration_text(5400), "90 min");
    }
}
