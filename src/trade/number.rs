//! Results as they are shown: rounded half up, the same digits as in the browser (`themes/bench/script/trade/number.js`).

/// How many digits of a result mean something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Digits {
    /// So many places after the point.
    Places(u32),
    /// So many digits in all.
    Figures(u32),
}

/// Between the thousands of long numbers: a narrow space that never breaks.
const THOUSANDS: char = '\u{202f}';

/// A result in digits; a true minus, and thousands apart from 10 000 on.
///
/// Whole steps of the last digit are counted first, so that both machines round the same number the same way.
pub fn shown(value: f64, digits: Digits) -> String {
    let (places, unit) = match digits {
        Digits::Places(places) => (places, 1.0),
        Digits::Figures(figures) => rounding(value, figures),
    };
    let scale = power(places);
    let whole = (value / unit * scale + 0.5).floor() / scale * unit;
    let text = format!("{:.*}", places as usize, whole.abs());
    let negative = whole < 0.0;
    format!("{}{}", if negative { "\u{2212}" } else { "" }, apart(&text))
}

/// Places, and the unit that is counted, for a number of digits in all: 1234 to two digits is counted in hundreds.
fn rounding(value: f64, figures: u32) -> (u32, f64) {
    let mut before: u32 = 1;
    while before < 18 && value.abs() >= power(before) {
        before += 1;
    }
    if figures < before {
        return (0, power(before - figures));
    }
    let mut places = figures - before;
    // Below 1 the noughts behind the point do not count.
    while value != 0.0 && places < 12 && before == 1 && value.abs() * power(places) < power(figures - 1) {
        places += 1;
    }
    (places, 1.0)
}

/// Ten to a small power, exactly.
fn power(exponent: u32) -> f64 {
    (0..exponent).fold(1.0, |power, _| power * 10.0)
}

fn apart(text: &str) -> String {
    let (whole, rest) = text.find('.').map_or((text, ""), |point| text.split_at(point));
    if whole.len() < 5 {
        return text.to_owned();
    }
    let digits: Vec<char> = whole.chars().collect();
    let mut out = String::new();
    for (place, digit) in digits.iter().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            out.push(THOUSANDS);
        }
        out.push(*digit);
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_rounded_half_up_and_thousands_stand_apart() {
        use Digits::{Figures, Places};
        for (value, digits, text) in [
            (23.649, Places(1), "23.6"),
            (2.5, Places(0), "3"),
            (-2.5, Places(0), "\u{2212}2"),
            (-0.04, Places(1), "0.0"),
            (4_356_936.0, Places(0), "4\u{202f}356\u{202f}936"),
            (9999.0, Places(0), "9999"),
            (7389.6, Figures(3), "7390"),
            (15_782.4, Figures(4), "15\u{202f}780"),
            (0.2949, Figures(2), "0.29"),
            (5.898, Figures(2), "5.9"),
            (1.0185, Figures(3), "1.02"),
            (58.777, Figures(3), "58.8"),
            (0.000_123, Figures(2), "0.00012"),
            (0.0, Figures(3), "0.00"),
            (10.0, Figures(1), "10"),
        ] {
            assert_eq!(shown(value, digits), text, "{value} {digits:?}");
        }
    }
}
