//! What can be reached in a graph of numbered nodes. No recursion: a chain of 20,000 steps is as good as one of two.

/// Nodes that some way from `starts` leads to, the starts themselves included.
pub fn reachable(successors: &[Vec<usize>], starts: impl IntoIterator<Item = usize>) -> Vec<bool> {
    let mut found = vec![false; successors.len()];
    let mut open: Vec<usize> = starts.into_iter().collect();
    while let Some(node) = open.pop() {
        if !std::mem::replace(&mut found[node], true) {
            open.extend(successors[node].iter().copied().filter(|next| !found[*next]));
        }
    }
    found
}

/// The same graph with every way turned round.
pub fn reversed(successors: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let mut predecessors = vec![Vec::new(); successors.len()];
    for (node, nexts) in successors.iter().enumerate() {
        for next in nexts {
            predecessors[*next].push(node);
        }
    }
    predecessors
}
