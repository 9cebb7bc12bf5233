//! Plain pages: leaflets and the stop card. Front matter is optional there.

use crate::finding::rule::FRONT_MATTER_INVALID;
use crate::model::body::Body;
use crate::model::library::Leaflet;
use crate::read::body;
use crate::read::document;
use crate::read::fields::Fields;
use crate::read::front_matter::{self, Cut};
use crate::read::lines::Lines;
use crate::read::scope::{Scope, quoted};
use crate::read::yaml::{Node, Value};
use crate::text::id::Id;
use crate::text::place::At;

pub const KEYS: [&str; 2] = ["title", "order"];

pub fn leaflet(scope: &mut Scope<'_>, id: Id) -> Leaflet {
    let mut leaflet = blank(scope, id);
    let start = match front_matter::cut(scope.text) {
        Cut::None { body } => body,
        Cut::Found { yaml, body } => {
            if let Some(node) = document::mapping(scope, yaml, "the front matter")
                && let Some(fields) = Fields::open(scope, &node, scope.top(), &KEYS)
            {
                leaflet.title = fields.text(scope, "title");
                leaflet.order = fields.node("order").and_then(|node| order(scope, node));
            }
            body
        }
        Cut::Unclosed { opening } => {
            let at = Lines::new(scope.file, scope.text).place(opening);
            scope.say(&FRONT_MATTER_INVALID, at, "the front matter is not closed", "end it with a line of `---`");
            return leaflet;
        }
    };
    leaflet.body = body::body(scope, start, false);
    leaflet
}

/// A leaflet of which nothing but its name is known.
pub fn blank(scope: &Scope<'_>, id: Id) -> Leaflet {
    let body = Body { file: scope.file, ..Body::default() };
    Leaflet { id, at: scope.top(), title: None, order: None, body }
}

/// A whole number, below nought too.
fn order(scope: &mut Scope<'_>, node: &Node) -> Option<At<i64>> {
    let number = match &node.value {
        Value::Scalar(scalar) if scalar.plain && !scalar.text.starts_with('+') => scalar.text.trim().parse::<i64>().ok(),
        Value::Scalar(_) | Value::List(_) | Value::Map(_) => None,
    };
    if number.is_none() {
        let written = match &node.value {
            Value::Scalar(scalar) => quoted(&scalar.text),
            Value::List(_) | Value::Map(_) => "the value of `order`".to_owned(),
        };
        scope.wrong(node.at, format!("{written} is not a whole number"), "write a whole number, without quotes");
    }
    number.map(|number| At::new(number, node.at))
}
