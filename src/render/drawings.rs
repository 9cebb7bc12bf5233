//! Drawings by the graph they are of: laying out is where the time goes, and the same graph has the same drawing on every page and every day.
//!
//! Kept as bytes they are whole numbers, four bytes each, lowest first: for each drawing the digest of its graph and the count of its numbers before them. What
//! another program or another version wrote must be told apart by whoever keeps the bytes.

use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};
use std::sync::{Arc, Mutex, PoisonError};

use crate::chart;
use crate::chart::drawing::{Drawing, Line, Point, Rect};
use crate::chart::graph::Graph;

/// BLAKE3 of everything in a graph.
type Key = [u8; 32];

/// Safe to be asked by many threads; two that ask for one graph at once may both draw it, which is the same drawing.
#[derive(Debug, Default)]
pub struct Drawings {
    drawings: Mutex<BTreeMap<Key, Entry>>,
}

#[derive(Debug)]
struct Entry {
    drawing: Arc<Drawing>,
    /// Asked for since [`Drawings::forget_unused`].
    used: bool,
}

impl Drawings {
    /// The drawing of a graph, as [`chart::draw`] makes it.
    pub fn drawing(&self, graph: &Graph) -> Arc<Drawing> {
        let key = key(graph);
        if let Some(entry) = self.lock().get_mut(&key) {
            entry.used = true;
            return Arc::clone(&entry.drawing);
        }
        let drawing = Arc::new(chart::draw(graph));
        self.lock().insert(key, Entry { drawing: Arc::clone(&drawing), used: true });
        drawing
    }

    /// Forgets what was not asked for since the last time, so that many builds in one process take no more room than one.
    pub fn forget_unused(&self) {
        self.lock().retain(|_, entry| std::mem::take(&mut entry.used));
    }

    pub fn to_bytes(&self) -> Vec<u8> {
        let mut bytes = Vec::new();
        for (key, entry) in self.lock().iter() {
            let numbers = numbers(&entry.drawing);
            bytes.extend_from_slice(key);
            bytes.extend_from_slice(&u32::try_from(numbers.len()).unwrap_or(0).to_le_bytes());
            bytes.extend(numbers.iter().flat_map(|number| number.to_le_bytes()));
        }
        bytes
    }

    /// `None` if the bytes do not hold drawings from end to end.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let mut drawings = BTreeMap::new();
        let mut rest = bytes;
        while !rest.is_empty() {
            let (key, after) = rest.split_first_chunk::<32>()?;
            let (count, after) = after.split_first_chunk::<4>()?;
            let (numbers, after) = after.split_at_checked(usize::try_from(u32::from_le_bytes(*count)).ok()?.checked_mul(4)?)?;
            let numbers: Vec<i32> = numbers.as_chunks::<4>().0.iter().map(|number| i32::from_le_bytes(*number)).collect();
            drawings.insert(*key, Entry { drawing: Arc::new(drawing(&numbers)?), used: false });
            rest = after;
        }
        Some(Self { drawings: Mutex::new(drawings) })
    }

    /// A thread that fell while it held the lock has left whole entries behind.
    fn lock(&self) -> std::sync::MutexGuard<'_, BTreeMap<Key, Entry>> {
        self.drawings.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn key(graph: &Graph) -> Key {
    struct Digest(blake3::Hasher);
    impl Hasher for Digest {
        fn write(&mut self, bytes: &[u8]) {
            self.0.update(bytes);
        }
        /// Not asked for: the whole digest is taken.
        fn finish(&self) -> u64 {
            0
        }
    }
    let mut digest = Digest(blake3::Hasher::new());
    graph.hash(&mut digest);
    *digest.0.finalize().as_bytes()
}

fn numbers(drawing: &Drawing) -> Vec<i32> {
    let count = |length: usize| i32::try_from(length).unwrap_or(i32::MAX);
    let rect = |rect: &Rect| [rect.x, rect.y, rect.width, rect.height];
    // Two halves, so that the count keeps all its bits.
    let crossings = drawing.crossings.to_le_bytes();
    let mut out = vec![drawing.width, drawing.height, count(drawing.boxes.len()), count(drawing.lines.len())];
    out.extend(crossings.as_chunks::<4>().0.iter().map(|half| i32::from_le_bytes(*half)));
    out.extend(drawing.boxes.iter().flat_map(rect));
    out.extend(&drawing.axes);
    for line in &drawing.lines {
        out.extend([count(line.points.len()), i32::from(line.label.is_some())]);
        out.extend(line.label.iter().flat_map(rect));
        out.extend(line.points.iter().flat_map(|point| [point.x, point.y]));
    }
    out
}

fn drawing(numbers: &[i32]) -> Option<Drawing> {
    let mut from = numbers.iter().copied();
    let mut next = || from.next();
    let count = |number: i32| usize::try_from(number).ok().filter(|count| *count <= numbers.len());
    let (width, height, boxes, lines) = (next()?, next()?, count(next()?)?, count(next()?)?);
    let [low, high] = [next()?, next()?].map(|half| u64::from(half.cast_unsigned()));
    fn rect(next: &mut impl FnMut() -> Option<i32>) -> Option<Rect> {
        Some(Rect { x: next()?, y: next()?, width: next()?, height: next()? })
    }
    let crossings = low | high << 32;
    let areas = (0..boxes).map(|_| rect(&mut next)).collect::<Option<Vec<_>>>()?;
    let axes = (0..boxes).map(|_| next()).collect::<Option<Vec<_>>>()?;
    let mut drawn = Vec::with_capacity(lines);
    for _ in 0..lines {
        let (points, has_label) = (count(next()?)?, next()?);
        let label = if has_label == 1 { Some(rect(&mut next)?) } else { None };
        let points = (0..points).map(|_| Some(Point { x: next()?, y: next()? })).collect::<Option<Vec<_>>>()?;
        drawn.push(Line { points, label });
    }
    from.next().is_none().then_some(Drawing { width, height, boxes: areas, axes, lines: drawn, crossings })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chart::graph::{Edge, Node, Size};

    fn graph(width: i32) -> Graph {
        let edge = |from, to, label| Edge { from, to, label, weight: 1 };
        let label = Some(Size { width: 40, height: 16 });
        Graph {
            nodes: vec![Node::plain(width, 40); 4],
            edges: vec![edge(0, 1, label), edge(0, 2, None), edge(1, 3, None), edge(3, 0, label)],
            start: 0,
        }
    }

    #[test]
    fn bytes_bring_back_the_very_drawings() {
        let known = Drawings::default();
        let drawn: Vec<_> = [80, 120, 81].map(|width| known.drawing(&graph(width))).into();
        let bytes = known.to_bytes();
        let again = Drawings::from_bytes(&bytes).expect("whole");
        assert_eq!(again.lock().len(), 3);
        for (width, drawing) in [80, 120, 81].into_iter().zip(&drawn) {
            assert_eq!(again.drawing(&graph(width)), *drawing);
            assert_eq!(**drawing, chart::draw(&graph(width)));
        }
        assert_eq!(again.to_bytes(), bytes);
    }

    #[test]
    fn cut_bytes_hold_nothing() {
        let known = Drawings::default();
        known.drawing(&graph(80));
        let bytes = known.to_bytes();
        assert!((1..bytes.len()).all(|end| Drawings::from_bytes(&bytes[..end]).is_none()));
        assert!(Drawings::from_bytes(&[]).is_some_and(|none| none.lock().is_empty()));
    }

    #[test]
    fn what_is_not_asked_for_is_forgotten() {
        let known = Drawings::default();
        known.drawing(&graph(80));
        known.drawing(&graph(90));
        known.forget_unused();
        known.drawing(&graph(90));
        known.forget_unused();
        assert_eq!(known.lock().keys().copied().collect::<Vec<_>>(), [key(&graph(90))]);
    }
}
