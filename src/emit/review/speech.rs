//! How long a caution takes to say to a caller: 150 words a minute, so that a word takes four tenths of a second.

/// Words, and tenths of a second to say them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spoken {
    pub words: usize,
    pub tenths: usize,
}

/// A caution that takes longer than this many tenths of a second is not taken in at one hearing (common practice, no source).
pub const LONGEST: usize = 150;

impl Spoken {
    /// A word is a stretch without white space that holds a letter or a digit.
    pub fn of(text: &str) -> Self {
        let words = text.split_whitespace().filter(|word| word.chars().any(char::is_alphanumeric)).count();
        Self { words, tenths: words * 4 }
    }

    pub fn seconds(self) -> f64 {
        // Counts of words lie far below 2^52.
        self.tenths as f64 / 10.0
    }

    pub fn is_long(self) -> bool {
        self.tenths > LONGEST
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_six_words_take_ten_point_four_seconds() {
        let text = "one two three four five six seven eight nine ten ".repeat(2) + "and six more, 190 °C - now!";
        assert_eq!(Spoken::of(&text), Spoken { words: 26, tenths: 104 });
        assert!((Spoken::of(&text).seconds() - 10.4).abs() < f64::EPSILON);
    }

    #[test]
    fn over_fifteen_seconds_is_long() {
        assert!(!Spoken::of(&"word ".repeat(37)).is_long());
        assert!(Spoken::of(&"word ".repeat(38)).is_long());
    }
}
