//! Text to [`Formula`]: operator precedence by binding powers (Pratt 1973), written out in postfix order as it goes, so that no tree is built.

use crate::formula::{DEEPEST, Formula, FormulaFault, LONGEST, Operation, Token};

/// Binding power of a sign: above `* /`, below `^`.
const SIGN: u8 = 5;

impl Formula {
    /// Reads a formula.
    ///
    /// # Errors
    /// The first place where it cannot be understood, or where it is longer than [`LONGEST`] or deeper than [`DEEPEST`].
    pub fn parse(text: &str) -> Result<Formula, FormulaFault> {
        if text.len() > LONGEST {
            return Err(fault(LONGEST, format!("at most {LONGEST} bytes")));
        }
        let mut parser = Parser { text, position: 0, depth: 0, tokens: Vec::new() };
        parser.expression(0)?;
        match parser.peek() {
            None => Ok(Formula { tokens: parser.tokens }),
            Some(_) => Err(fault(parser.position, "an operator or the end")),
        }
    }
}

fn fault(offset: usize, expected: impl Into<String>) -> FormulaFault {
    FormulaFault { offset, expected: expected.into() }
}

struct Parser<'a> {
    text: &'a str,
    position: usize,
    depth: u32,
    tokens: Vec<Token>,
}

impl<'a> Parser<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.position..).unwrap_or("")
    }

    /// The next character that is no white space, without taking it.
    fn peek(&mut self) -> Option<char> {
        let rest = self.rest();
        let trimmed = rest.trim_start_matches([' ', '\t', '\n', '\r']);
        self.position += rest.len() - trimmed.len();
        trimmed.chars().next()
    }

    /// Takes the character if it comes next.
    fn take(&mut self, wanted: char) -> bool {
        let found = self.peek() == Some(wanted);
        if found {
            self.position += wanted.len_utf8();
        }
        found
    }

    fn expression(&mut self, least: u8) -> Result<(), FormulaFault> {
        if self.depth > DEEPEST {
            return Err(fault(self.position, format!("nesting of at most {DEEPEST}")));
        }
        self.depth += 1;
        self.operand()?;
        while let Some((operation, left, right)) = self.operator() {
            if left < least {
                break;
            }
            if operation == Operation::Subtract && !self.minus_has_spaces() {
                return Err(fault(self.position, "a space on either side of the minus"));
            }
            self.position += 1;
            self.expression(right)?;
            self.tokens.push(Token::Apply(operation));
        }
        self.depth -= 1;
        Ok(())
    }

    /// The operator that comes next, with its binding powers to the left and to the right.
    fn operator(&mut self) -> Option<(Operation, u8, u8)> {
        match self.peek()? {
            '+' => Some((Operation::Add, 1, 2)),
            '-' => Some((Operation::Subtract, 1, 2)),
            '*' => Some((Operation::Multiply, 3, 4)),
            '/' => Some((Operation::Divide, 3, 4)),
            '^' => Some((Operation::Power, 8, 7)),
            _ => None,
        }
    }

    fn minus_has_spaces(&self) -> bool {
        let before = self.text.get(..self.position).and_then(|text| text.chars().next_back());
        let after = self.text.get(self.position + 1..).and_then(|text| text.chars().next());
        [before, after].into_iter().all(|neighbour| neighbour.is_some_and(|c| c.is_ascii_whitespace()))
    }

    fn operand(&mut self) -> Result<(), FormulaFault> {
        match self.peek() {
            Some('-') => {
                self.position += 1;
                self.expression(SIGN)?;
                self.tokens.push(Token::Apply(Operation::Negate));
                Ok(())
            }
            Some('(') => {
                self.position += 1;
                self.expression(0)?;
                self.close("`)` or an operator")
            }
            Some('0'..='9') => self.number(),
            Some('a'..='z') => self.name(),
            _ => Err(fault(self.position, "a number, a name or `(`")),
        }
    }

    fn close(&mut self, expected: &str) -> Result<(), FormulaFault> {
        if self.take(')') { Ok(()) } else { Err(fault(self.position, expected)) }
    }

    /// `12`, `25.4`, `1e6`, `2.5e-3`.
    fn number(&mut self) -> Result<(), FormulaFault> {
        let start = self.position;
        self.digits();
        if self.rest().starts_with('.') {
            self.position += 1;
            if self.digits() == 0 {
                return Err(fault(self.position, "a digit after the point"));
            }
        }
        if self.rest().starts_with('e') {
            self.position += 1;
            if self.rest().starts_with(['+', '-']) {
                self.position += 1;
            }
            if self.digits() == 0 {
                return Err(fault(self.position, "a digit in the exponent"));
            }
        }
        if self.rest().starts_with(|c: char| c.is_alphanumeric() || c == '.' || c == '_') {
            return Err(fault(self.position, "an operator after the number"));
        }
        let written = self.text.get(start..self.position).unwrap_or("");
        match written.parse::<f64>() {
            Ok(number) if number.is_finite() => {
                self.tokens.push(Token::Number(number));
                Ok(())
            }
            _ => Err(fault(start, "a number below 1.8e308")),
        }
    }

    fn digits(&mut self) -> usize {
        let count = self.rest().bytes().take_while(u8::is_ascii_digit).count();
        self.position += count;
        count
    }

    fn name(&mut self) -> Result<(), FormulaFault> {
        let start = self.position;
        self.letters();
        while self.rest().starts_with('-') && self.rest().get(1..).is_some_and(|rest| rest.starts_with(is_name_character)) {
            self.position += 1;
            self.letters();
        }
        let name = self.text.get(start..self.position).unwrap_or("");
        match Operation::function(name) {
            Some(function) => self.call(function),
            None if self.peek() == Some('(') => Err(fault(start, "one of min, max, abs, sqrt, exp, ln, floor, ceil, round")),
            None => {
                self.tokens.push(Token::Name(name.to_owned()));
                Ok(())
            }
        }
    }

    fn letters(&mut self) {
        self.position += self.rest().chars().take_while(|c| is_name_character(*c)).count();
    }

    /// The bracket behind a function. `min` and `max` take two values or more, the others one.
    fn call(&mut self, function: Operation) -> Result<(), FormulaFault> {
        if !self.take('(') {
            return Err(fault(self.position, format!("`(` after `{}`", function.word())));
        }
        self.expression(0)?;
        if !function.takes_two() {
            self.tokens.push(Token::Apply(function));
            return self.close("`)` or an operator");
        }
        if self.peek() != Some(',') {
            return Err(fault(self.position, format!("a comma and a second value in `{}`", function.word())));
        }
        while self.take(',') {
            self.expression(0)?;
            self.tokens.push(Token::Apply(function));
        }
        self.close("`,`, `)` or an operator")
    }
}

fn is_name_character(c: char) -> bool {
    matches!(c, 'a'..='z' | '0'..='9')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> f64 {
        let formula = Formula::parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        formula.evaluate(&|_| None).unwrap_or_else(|fault| panic!("{text}: {fault:?}"))
    }

    #[test]
    fn operators_bind_as_in_textbooks() {
        for (text, expected) in [
            ("1 + 2 * 3", 7.0),
            ("(1 + 2) * 3", 9.0),
            ("10 - 4 - 3", 3.0),
            ("100 / 10 / 5", 2.0),
            ("2 ^ 3 ^ 2", 512.0),
            ("-2 ^ 2", -4.0),
            ("(-2) ^ 2", 4.0),
            ("2 ^ -2 * 8", 2.0),
            ("3 * -2", -6.0),
            ("5 - -2", 7.0),
            ("1.5e3+1e-1", 1500.1),
            ("max(1, 7, 3) + min(4, 2)", 9.0),
            ("round(2.5) + round(-2.5) * 10", -17.0),
            ("abs(-3)*floor(-1.5) + ceil(1.2)", -4.0),
        ] {
            assert_eq!(value(text), expected, "{text}");
        }
    }

    #[test]
    fn a_hyphen_in_a_name_is_no_minus() {
        assert_eq!(Formula::parse("gap-a - gap-b").map(|formula| formula.names().join(" ")), Ok("gap-a gap-b".to_owned()));
        assert_eq!(Formula::parse("width-5").map(|formula| formula.names().join(" ")), Ok("width-5".to_owned()));
        for text in ["5-width", "(a)-(b)", "a -b", "a- b", "a-"] {
            let expected = Formula::parse(text).map_err(|fault| fault.expected);
            assert_eq!(expected, Err("a space on either side of the minus".to_owned()), "{text}");
        }
    }

    #[test]
    fn what_is_no_formula_says_where_and_what_was_expected() {
        for (text, offset, expected) in [
            ("", 0, "a number, a name or `(`"),
            ("1 +", 3, "a number, a name or `(`"),
            ("(1", 2, "`)` or an operator"),
            ("1)", 1, "an operator or the end"),
            ("2x", 1, "an operator after the number"),
            ("1.", 2, "a digit after the point"),
            ("1e", 2, "a digit in the exponent"),
            ("1e999", 0, "a number below 1.8e308"),
            ("width height", 6, "an operator or the end"),
            ("sin(1)", 0, "one of min, max, abs, sqrt, exp, ln, floor, ceil, round"),
            ("sqrt 4", 5, "`(` after `sqrt`"),
            ("min(1)", 5, "a comma and a second value in `min`"),
            ("ln(1, 2)", 4, "`)` or an operator"),
            ("Width", 0, "a number, a name or `(`"),
            ("1 % 2", 2, "an operator or the end"),
            ("2 ** 3", 3, "a number, a name or `(`"),
        ] {
            assert_eq!(Formula::parse(text), Err(fault(offset, expected)), "{text}");
        }
    }

    #[test]
    fn length_and_depth_have_an_end() {
        let nested = |depth: usize| format!("{}1{}", "(".repeat(depth), ")".repeat(depth));
        assert!(Formula::parse(&nested(64)).is_ok());
        assert!(Formula::parse(&nested(65)).is_err());
        assert!(Formula::parse(&"-".repeat(4000)).is_err());
        let sum = format!("1{}", "+1".repeat(2047));
        assert_eq!((sum.len(), value(&sum)), (4095, 2048.0));
        assert!(Formula::parse(&format!("{sum} ")).is_ok());
        assert!(Formula::parse(&format!("{sum}  ")).is_err());
    }
}
