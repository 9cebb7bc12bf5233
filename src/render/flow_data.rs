//! The data a page's follower works on.

use serde_json::{Value, json};

use crate::model::library::Library;
use crate::model::procedure::Procedure;

/// The flow of a procedure and of all it carries out.
pub fn flow_data(_library: &Library, _procedure: &Procedure) -> Value {
    json!({})
}
