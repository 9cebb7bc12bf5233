//! Strongly connected components: which nodes of a graph lie on circles with each other (Kosaraju; Sharir 1981). Without recursion, so that no
//! graph is too deep.

/// The component of each node, by a number below the count of nodes. `edges[n]` are the nodes that `n` leads to.
pub fn components(edges: &[Vec<usize>]) -> Vec<usize> {
    let mut back: Vec<Vec<usize>> = vec![Vec::new(); edges.len()];
    for (from, targets) in edges.iter().enumerate() {
        for to in targets {
            if let Some(sources) = back.get_mut(*to) {
                sources.push(from);
            }
        }
    }
    let mut component = vec![usize::MAX; edges.len()];
    let mut count = 0;
    for root in finishing_order(edges).into_iter().rev() {
        let mut open = vec![root];
        let mut grew = false;
        while let Some(node) = open.pop() {
            if let Some(place) = component.get_mut(node).filter(|place| **place == usize::MAX) {
                *place = count;
                grew = true;
                open.extend(back.get(node).into_iter().flatten());
            }
        }
        count += usize::from(grew);
    }
    component
}

/// The nodes in the order in which a depth-first walk leaves them.
fn finishing_order(edges: &[Vec<usize>]) -> Vec<usize> {
    let mut seen = vec![false; edges.len()];
    let mut order = Vec::with_capacity(edges.len());
    let enter = |node: usize, seen: &mut Vec<bool>| seen.get_mut(node).is_some_and(|seen| !std::mem::replace(seen, true));
    for root in 0..edges.len() {
        if !enter(root, &mut seen) {
            continue;
        }
        let mut path = vec![(root, 0)];
        while let Some((node, next)) = path.pop() {
            match edges.get(node).and_then(|targets| targets.get(next)) {
                Some(target) => {
                    path.push((node, next + 1));
                    if enter(*target, &mut seen) {
                        path.push((*target, 0));
                    }
                }
                None => order.push(node),
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::components;

    /// Whether `to` can be reached from `from`, the slow way.
    fn reaches(edges: &[Vec<usize>], from: usize, to: usize) -> bool {
        let mut open = vec![from];
        let mut seen = vec![false; edges.len()];
        while let Some(node) = open.pop() {
            if node == to {
                return true;
            }
            if !std::mem::replace(&mut seen[node], true) {
                open.extend(&edges[node]);
            }
        }
        false
    }

    #[test]
    fn two_nodes_share_a_component_exactly_if_each_reaches_the_other() {
        let mut state: u64 = 7;
        let mut random = |below: usize| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            usize::try_from(state >> 33).unwrap_or(0) % below
        };
        for _ in 0..300 {
            let size = 1 + random(9);
            let edges: Vec<Vec<usize>> = (0..size).map(|_| (0..random(4)).map(|_| random(size)).collect()).collect();
            let component = components(&edges);
            for a in 0..size {
                for b in 0..size {
                    let together = reaches(&edges, a, b) && reaches(&edges, b, a);
                    assert_eq!(component[a] == component[b], together, "{a} and {b} of {edges:?}");
                }
            }
        }
    }

    #[test]
    fn a_long_chain_does_not_run_out_of_stack() {
        let edges: Vec<Vec<usize>> = (0..200_000).map(|node| if node < 199_999 { vec![node + 1] } else { vec![0] }).collect();
        assert!(components(&edges).iter().all(|component| *component == 0));
    }
}
