//! Single values: from a node of the tree to a typed value, or a finding that says what was expected.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::read::scope::{Scope, is_bidirectional, quoted};
use crate::read::yaml::{Node, Scalar, Value};
use crate::text::id::Id;
use crate::text::nearest::nearest;
use crate::text::place::At;
use crate::text::quantity::{Quantity, RATES, UNITS, Unit, decimal, seconds, split_number};

/// Whether a value was left out: nothing, blanks, or empty quotes.
pub fn is_empty(node: &Node) -> bool {
    matches!(&node.value, Value::Scalar(scalar) if scalar.text.trim().is_empty())
}

/// What a node is, for messages.
pub fn kind_of(node: &Node) -> &'static str {
    match &node.value {
        Value::Scalar(_) => "a single value",
        Value::List(_) => "a list",
        Value::Map(_) => "a mapping",
    }
}

impl Scope<'_> {
    /// A single value; `what` names what was expected.
    pub fn scalar<'n>(&mut self, node: &'n Node, what: &str) -> Option<&'n Scalar> {
        match &node.value {
            Value::Scalar(scalar) => Some(scalar),
            Value::List(_) | Value::Map(_) => {
                self.wrong(node.at, format!("{} stands where {what} is expected", kind_of(node)), format!("write {what}"));
                None
            }
        }
    }

    /// Words for people. Everything bare is its text, `yes`, `012` and `~` included.
    pub fn text(&mut self, node: &Node) -> Option<At<String>> {
        let scalar = self.scalar(node, "a text")?;
        if scalar.plain && self.is_cut(node.at, scalar.text.is_empty()) {
            self.cut_short(node.at);
        }
        self.word(node)
    }

    /// A single word or name, not prose.
    pub fn word(&mut self, node: &Node) -> Option<At<String>> {
        let scalar = self.scalar(node, "a text")?;
        let hidden = |c: char| (c.is_control() && !matches!(c, '\n' | '\t' | '\r')) || is_bidirectional(c);
        let written = self.text.get(node.at.start as usize..node.at.end as usize).unwrap_or("");
        if let Some(odd) = scalar.text.chars().find(|c| hidden(*c) && !written.contains(*c)) {
            let message = format!("an escape puts the invisible character U+{:04X} in the text", u32::from(odd));
            self.wrong(node.at, message, "write the text without the escape");
        }
        Some(At::new(scalar.text.trim().to_owned(), node.at))
    }

    /// A reference to something by its id. Its form is not judged here: what it names is.
    pub fn id(&mut self, node: &Node) -> Option<At<Id>> {
        let scalar = self.scalar(node, "an id")?;
        Some(At::new(Id::new(scalar.text.trim()), node.at))
    }

    fn items<'n>(&mut self, node: &'n Node, what: &str) -> &'n [Node] {
        match &node.value {
            Value::List(items) => items,
            Value::Scalar(_) | Value::Map(_) => {
                let message = format!("{} stands where a list of {what} is expected", kind_of(node));
                self.wrong(node.at, message, "write a list: `[one, two]`");
                &[]
            }
        }
    }

    fn each<T>(&mut self, node: &Node, what: &str, read: impl Fn(&mut Self, &Node) -> Option<T>) -> Vec<T> {
        let mut list = Vec::new();
        for item in self.items(node, what) {
            if is_empty(item) {
                self.wrong(item.at, format!("an entry of a list of {what} is empty"), "write the entry, or take it out");
            } else {
                list.extend(read(self, item));
            }
        }
        list
    }

    pub fn ids(&mut self, node: &Node) -> Vec<At<Id>> {
        self.each(node, "ids", |scope, item| scope.id(item))
    }

    pub fn texts(&mut self, node: &Node) -> Vec<At<String>> {
        self.each(node, "texts", |scope, item| scope.text(item))
    }

    /// The entries of a list of mappings.
    pub fn list<'n>(&mut self, node: &'n Node, what: &str) -> &'n [Node] {
        self.items(node, what)
    }

    /// The entries of a mapping from names to something; nothing at all is an empty one.
    pub fn entries<'n>(&mut self, node: &'n Node, what: &str) -> &'n [(At<String>, Node)] {
        match &node.value {
            Value::Map(mapping) => &mapping.entries,
            Value::Scalar(scalar) if scalar.text.trim().is_empty() => &[],
            Value::Scalar(_) | Value::List(_) => {
                let message = format!("{} stands where a mapping is expected", kind_of(node));
                self.wrong(node.at, message, format!("write a mapping {what}"));
                &[]
            }
        }
    }

    /// A plain decimal number, not in quotes.
    pub fn decimal(&mut self, node: &Node) -> Option<At<Decimal>> {
        let scalar = self.scalar(node, "a number")?;
        let number = if scalar.plain { decimal(scalar.text.trim()) } else { None };
        if number.is_none() {
            let help = "write digits with at most one point, without quotes, unit or exponent: `75.4`";
            self.wrong(node.at, format!("{} is not a plain decimal number", quoted(&scalar.text)), help);
        }
        number.map(|number| At::new(number, node.at))
    }

    /// A decimal of at least nought.
    pub fn amount(&mut self, node: &Node) -> Option<At<Decimal>> {
        let number = self.decimal(node)?;
        if number.value.is_sign_negative() && !number.value.is_zero() {
            self.wrong(node.at, format!("{} is below 0", quoted(&number.value.to_string())), "write 0 or more");
            return None;
        }
        Some(number)
    }

    /// A whole number inside `least..=most`.
    pub fn whole(&mut self, node: &Node, least: u32, most: u32) -> Option<At<u32>> {
        let scalar = self.scalar(node, "a whole number")?;
        let text = scalar.text.trim();
        // `012` is ten to some readers and twelve to others, so it is no number.
        let padded = text.len() > 1 && text.starts_with('0');
        let plain = scalar.plain && !padded && !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        let number = if plain { text.parse::<u32>().ok() } else { None };
        let number = number.filter(|number| (least..=most).contains(number));
        if number.is_none() {
            let range = if most == u32::MAX { format!("of {least} or more") } else { format!("from {least} to {most}") };
            let help = format!("write a whole number {range}, without quotes");
            self.wrong(node.at, format!("{} is not a whole number {range}", quoted(text)), help);
        }
        number.map(|number| At::new(number, node.at))
    }

    /// `true` or `false`, bare.
    pub fn boolean(&mut self, node: &Node) -> Option<bool> {
        let scalar = self.scalar(node, "`true` or `false`")?;
        match (scalar.plain, scalar.text.as_str()) {
            (true, "true") => Some(true),
            (true, "false") => Some(false),
            _ => {
                let message = format!("{} is neither `true` nor `false`", quoted(&scalar.text));
                self.wrong(node.at, message, "write `true` or `false`, without quotes");
                None
            }
        }
    }

    /// A day, `2027-06-30`.
    pub fn date(&mut self, node: &Node) -> Option<At<Date>> {
        let scalar = self.scalar(node, "a date")?;
        let text = scalar.text.trim();
        let shape = text.len() == 10
            && text.bytes().enumerate().all(|(index, byte)| if matches!(index, 4 | 7) { byte == b'-' } else { byte.is_ascii_digit() });
        let day = if shape { text.parse::<Date>().ok() } else { None };
        if day.is_none() {
            self.wrong(node.at, format!("{} is not a date", quoted(text)), "write a day of the calendar as year-month-day: `2027-06-30`");
        }
        day.map(|day| At::new(day, node.at))
    }

    /// A time with its unit, in seconds: `90 s`, `30 min`, `1 h`.
    pub fn duration(&mut self, node: &Node) -> Option<At<u32>> {
        let scalar = self.scalar(node, "a duration")?;
        let (number, unit) = split_number(&scalar.text);
        let length = decimal(number).and_then(|number| seconds(number, unit));
        if length.is_none() {
            let help = "write a number and a unit: `90 s`, `30 min`, `1 h`";
            self.wrong(node.at, format!("{} is not a duration", quoted(&scalar.text)), help);
        }
        length.map(|length| At::new(length, node.at))
    }

    /// A number with a unit of the format, or without one.
    pub fn quantity(&mut self, node: &Node) -> Option<At<Quantity>> {
        let scalar = self.scalar(node, "a number with its unit")?;
        let quantity = Quantity::parse(&scalar.text);
        if quantity.is_none() {
            let message = format!("{} is not a number with a known unit", quoted(&scalar.text));
            self.wrong(node.at, message, format!("write it like `75.4 mm`; units are {}", units()));
        }
        quantity.map(|quantity| At::new(quantity, node.at))
    }

    /// A unit of the format; `none` for none.
    pub fn unit(&mut self, node: &Node) -> Option<At<Unit>> {
        let scalar = self.scalar(node, "a unit")?;
        let text = scalar.text.trim();
        let unit = if text == "none" { Some(Unit::NONE) } else { Unit::parse(text) };
        if unit.is_none() {
            self.wrong(node.at, format!("{} is not a known unit", quoted(text)), format!("units are {}, or `none`", units()));
        }
        unit.map(|unit| At::new(unit, node.at))
    }

    /// One word of a closed list.
    pub fn choice<T>(&mut self, node: &Node, words: &[&str], parse: impl Fn(&str) -> Option<T>) -> Option<At<T>> {
        let scalar = self.scalar(node, "one of a few words")?;
        let text = scalar.text.trim();
        let chosen = parse(text);
        if chosen.is_none() {
            let hint = nearest(text, words.iter().copied()).map(|word| format!("the nearest is `{word}`; ")).unwrap_or_default();
            let help = format!("{hint}known here: {}", words.join(", "));
            self.wrong(node.at, format!("{} is not a word that is allowed here", quoted(text)), help);
        }
        chosen.map(|chosen| At::new(chosen, node.at))
    }
}

fn units() -> String {
    UNITS.iter().chain(RATES.iter()).copied().collect::<Vec<_>>().join(" ")
}
