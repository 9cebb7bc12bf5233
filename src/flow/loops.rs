//! Circles in a graph of numbered nodes: strongly connected components (Tarjan 1972), with an explicit stack.

/// Every circle: the components of more than one node, and single nodes with a way to themselves. Nodes ascend within a component, components by
/// their first node. Only nodes for which `within` is true count.
pub fn circles(successors: &[Vec<usize>], within: &[bool]) -> Vec<Vec<usize>> {
    let mut found = Vec::new();
    let mut tarjan =
        Tarjan { successors, within, index: vec![None; successors.len()], low: vec![0; successors.len()], stack: Vec::new(), count: 0 };
    for (root, counts) in within.iter().enumerate() {
        if *counts && tarjan.index[root].is_none() {
            tarjan.visit(root, &mut found);
        }
    }
    found.retain(|component: &Vec<usize>| component.len() > 1 || successors[component[0]].contains(&component[0]));
    found.sort();
    found
}

struct Tarjan<'a> {
    successors: &'a [Vec<usize>],
    within: &'a [bool],
    /// Order of discovery; `usize::MAX` once its component is complete.
    index: Vec<Option<usize>>,
    low: Vec<usize>,
    stack: Vec<usize>,
    count: usize,
}

impl Tarjan<'_> {
    fn open(&mut self, node: usize) {
        self.index[node] = Some(self.count);
        self.low[node] = self.count;
        self.count += 1;
        self.stack.push(node);
    }

    fn visit(&mut self, root: usize, found: &mut Vec<Vec<usize>>) {
        let mut path: Vec<(usize, usize)> = vec![(root, 0)];
        self.open(root);
        while let Some((node, next)) = path.last_mut() {
            let node = *node;
            if let Some(target) = self.successors[node].get(*next).copied() {
                *next += 1;
                if !self.within[target] {
                    continue;
                }
                match self.index[target] {
                    None => {
                        self.open(target);
                        path.push((target, 0));
                    }
                    Some(usize::MAX) => {}
                    Some(index) => self.low[node] = self.low[node].min(index),
                }
            } else {
                path.pop();
                if let Some((parent, _)) = path.last() {
                    self.low[*parent] = self.low[*parent].min(self.low[node]);
                }
                self.close(node, found);
            }
        }
    }

    fn close(&mut self, node: usize, found: &mut Vec<Vec<usize>>) {
        if self.index[node] != Some(self.low[node]) {
            return;
        }
        let from = self.stack.iter().rposition(|other| *other == node).unwrap_or(0);
        let mut component = self.stack.split_off(from);
        for member in &component {
            self.index[*member] = Some(usize::MAX);
        }
        component.sort_unstable();
        found.push(component);
    }
}
