//! Arithmetic of measurements: several readings and the figures of a model become one number.
//!
//! Parsed once into postfix order ([`parse`]), proved once over the ranges of its readings ([`check`]), and evaluated in the terminal
//! ([`evaluate`]) and in the browser to the same value. Units are not its business: inside a formula names are bare numbers.

pub mod check;
pub mod evaluate;
pub mod parse;

use serde::{Serialize, Serializer};

/// The longest formula, in bytes.
pub const LONGEST: usize = 4096;
/// The deepest nesting: brackets, calls, signs and right operands inside each other.
pub const DEEPEST: u32 = 64;

/// A formula that parsed, in postfix order.
///
/// `^` binds tightest and to the right (`2 ^ 3 ^ 2` is 512), tighter than a sign (`-2 ^ 2` is -4); then the sign, then `* /`, then `+ -`,
/// these to the left. A hyphen inside a name belongs to the name; a minus between two operands has a space on either side.
#[derive(Clone, Debug, PartialEq)]
pub struct Formula {
    tokens: Vec<Token>,
}

impl Formula {
    /// The names of readings and figures in it, each once, in the order of their first use.
    pub fn names(&self) -> Vec<&str> {
        let mut names = Vec::new();
        for token in &self.tokens {
            if let Token::Name(name) = token
                && !names.contains(&name.as_str())
            {
                names.push(name.as_str());
            }
        }
        names
    }

    /// The formula for an interpreter elsewhere: numbers as numbers, `$width` for a name, an operation by its [`Operation::word`].
    ///
    /// In the browser this comes to the same value as [`Formula::evaluate`] (`of` gives the number of a name):
    ///
    /// ```text
    /// const snapped = a => Number(a.toPrecision(15));
    /// const one = { neg: a => -a, abs: Math.abs, sqrt: Math.sqrt, exp: a => snapped(Math.exp(a)), ln: a => snapped(Math.log(a)),
    ///               floor: Math.floor, ceil: Math.ceil, round: a => Math.floor(a + 0.5) };
    /// const two = { "+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "/": (a, b) => a / b,
    ///               "^": (a, b) => snapped(Math.pow(a, b)), min: Math.min, max: Math.max };
    /// function value(tokens, of) {
    ///   const stack = [];
    ///   for (const token of tokens) {
    ///     if (typeof token === "number") stack.push(token);
    ///     else if (token[0] === "$") stack.push(of(token.slice(1)));
    ///     else if (one[token]) stack.push(one[token](stack.pop()));
    ///     else { const right = stack.pop(); stack.push(two[token](stack.pop(), right)); }
    ///     if (!Number.isFinite(stack[stack.length - 1])) return null;
    ///   }
    ///   return stack[0];
    /// }
    /// ```
    pub fn rpn(&self) -> Vec<Token> {
        self.tokens.clone()
    }
}

/// One place of a formula in postfix order.
#[derive(Clone, Debug, PartialEq)]
pub enum Token {
    Number(f64),
    /// A reading of the step or a figure of the model.
    Name(String),
    /// Takes its operands from the values before it.
    Apply(Operation),
}

impl Serialize for Token {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Token::Number(number) => serializer.serialize_f64(*number),
            Token::Name(name) => serializer.serialize_str(&format!("${name}")),
            Token::Apply(operation) => serializer.serialize_str(operation.word()),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operation {
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Negate,
    Minimum,
    Maximum,
    Absolute,
    SquareRoot,
    Exponential,
    Logarithm,
    Floor,
    Ceiling,
    /// The whole number at or below the value plus a half.
    Round,
}

impl Operation {
    pub const ALL: [Operation; 15] = [
        Operation::Add,
        Operation::Subtract,
        Operation::Multiply,
        Operation::Divide,
        Operation::Power,
        Operation::Negate,
        Operation::Minimum,
        Operation::Maximum,
        Operation::Absolute,
        Operation::SquareRoot,
        Operation::Exponential,
        Operation::Logarithm,
        Operation::Floor,
        Operation::Ceiling,
        Operation::Round,
    ];

    /// As it is written in a formula; `neg` for a sign.
    pub fn word(self) -> &'static str {
        match self {
            Operation::Add => "+",
            Operation::Subtract => "-",
            Operation::Multiply => "*",
            Operation::Divide => "/",
            Operation::Power => "^",
            Operation::Negate => "neg",
            Operation::Minimum => "min",
            Operation::Maximum => "max",
            Operation::Absolute => "abs",
            Operation::SquareRoot => "sqrt",
            Operation::Exponential => "exp",
            Operation::Logarithm => "ln",
            Operation::Floor => "floor",
            Operation::Ceiling => "ceil",
            Operation::Round => "round",
        }
    }

    /// The function of that name.
    pub fn function(name: &str) -> Option<Self> {
        Self::ALL.into_iter().skip(6).find(|operation| operation.word() == name)
    }

    /// Whether it takes two values; the others take one.
    pub fn takes_two(self) -> bool {
        match self {
            Operation::Add
            | Operation::Subtract
            | Operation::Multiply
            | Operation::Divide
            | Operation::Power
            | Operation::Minimum
            | Operation::Maximum => true,
            Operation::Negate
            | Operation::Absolute
            | Operation::SquareRoot
            | Operation::Exponential
            | Operation::Logarithm
            | Operation::Floor
            | Operation::Ceiling
            | Operation::Round => false,
        }
    }
}

/// Where a formula cannot be understood, and what was expected there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormulaFault {
    /// Byte of the formula.
    pub offset: usize,
    pub expected: String,
}
