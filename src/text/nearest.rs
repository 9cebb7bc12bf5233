//! The nearest known name to one that is not known, for hints.

/// The candidate that a slip of the hand most likely meant, or `None` if nothing is near.
///
/// Distance is that of optimal string alignment (insert, delete, replace, swap of neighbours; Damerau 1964), at most a third
/// of the longer name and at least one.
pub fn nearest<'a>(name: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    candidates
        .into_iter()
        .filter_map(|candidate| {
            let far = (name.chars().count().max(candidate.chars().count()) / 3).max(1);
            let distance = distance(name, candidate);
            (distance <= far && candidate != name).then_some((distance, candidate))
        })
        .min()
        .map(|(_, candidate)| candidate)
}

fn distance(left: &str, right: &str) -> usize {
    let left: Vec<char> = left.chars().take(80).collect();
    let right: Vec<char> = right.chars().take(80).collect();
    let width = right.len() + 1;
    let mut table = vec![0; (left.len() + 1) * width];
    let cell = |row: usize, column: usize| row * width + column;
    for row in 0..=left.len() {
        for column in 0..=right.len() {
            table[cell(row, column)] = if row == 0 || column == 0 {
                row.max(column)
            } else {
                let same = left[row - 1] == right[column - 1];
                let mut best = (table[cell(row - 1, column)] + 1)
                    .min(table[cell(row, column - 1)] + 1)
                    .min(table[cell(row - 1, column - 1)] + usize::from(!same));
                if row > 1 && column > 1 && left[row - 1] == right[column - 2] && left[row - 2] == right[column - 1] {
                    best = best.min(table[cell(row - 2, column - 2)] + 1);
                }
                best
            };
        }
    }
    table[cell(left.len(), right.len())]
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_finds_the_name_it_meant_and_a_stranger_finds_none() {
        assert_eq!(nearest("cautoins", ["cautions", "touches"]), Some("cautions"));
        assert_eq!(nearest("hto-fuser", ["hot-fuser", "toner-dust"]), Some("hot-fuser"));
        assert_eq!(nearest("laser", ["toner-dust", "mains"]), None);
        assert_eq!(nearest("gap", ["gap"]), None);
    }
}
