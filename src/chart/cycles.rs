//! Which lines go back up: depth-first search in the author's order (Tarjan 1972). In a flow these are the "try again" lines.

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    New,
    Open,
    Closed,
}

/// For each edge whether it leads back to a node on the way to it. Self loops do. Without these edges the graph has no cycle.
pub fn back_edges(count: usize, edges: &[(usize, usize)], start: usize) -> Vec<bool> {
    let mut out = vec![Vec::new(); count];
    for (index, (from, _)) in edges.iter().enumerate() {
        out[*from].push(index);
    }
    let mut marks = vec![Mark::New; count];
    let mut back = vec![false; edges.len()];
    let roots = (start < count).then_some(start).into_iter().chain(0..count);
    for root in roots {
        if marks[root] != Mark::New {
            continue;
        }
        marks[root] = Mark::Open;
        let mut stack = vec![(root, 0)];
        while let Some((node, next)) = stack.last_mut() {
            let Some(&edge) = out[*node].get(*next) else {
                marks[*node] = Mark::Closed;
                stack.pop();
                continue;
            };
            *next += 1;
            let target = edges[edge].1;
            match marks[target] {
                Mark::New => {
                    marks[target] = Mark::Open;
                    stack.push((target, 0));
                }
                Mark::Open => back[edge] = true,
                Mark::Closed => {}
            }
        }
    }
    back
}
