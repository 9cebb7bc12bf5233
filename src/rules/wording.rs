//! How names stand in messages.

/// A name in backticks, shortened in the middle of a long one so that the message stays short. The whole name is the finding's subject.
pub fn named(name: impl AsRef<str>) -> String {
    const MOST: usize = 28;
    let name = name.as_ref();
    if name.chars().count() <= MOST {
        return format!("`{name}`");
    }
    let head: String = name.chars().take(MOST - 1).collect();
    format!("`{head}…`")
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}
