//! The space between two rows: every line that changes its column there gets a track, so that no two lines share a stretch and few cross.
//! Vertical conflicts (Hashimoto, Stevens 1971) decide which track is above which; a circle of them is cut with a second track (Deutsch 1976).

/// Lines nearer than this look like one.
pub const APART: i32 = 8;

/// The ends of one net: lines that meet in the channel.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Net {
    /// Columns where it comes from the row above.
    pub tops: Vec<i32>,
    /// Columns where it goes on to the row below.
    pub bottoms: Vec<i32>,
}

/// How a net runs through the channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    Straight,
    /// Along one track, counted from the top.
    Track(usize),
    /// From above along `upper`, down at the column `at`, on along `lower`.
    Two {
        upper: usize,
        at: i32,
        lower: usize,
    },
}

/// Runs for all nets of a channel, and the number of tracks.
pub fn tracks(nets: &[Net]) -> (Vec<Run>, usize) {
    let mut pieces: Vec<Piece> = nets.iter().enumerate().filter_map(|(index, net)| Piece::of(index, net)).collect();
    let mut columns: Vec<i32> = nets.iter().flat_map(|net| net.tops.iter().chain(&net.bottoms)).copied().collect();
    while let Some(stuck) = circle(&pieces) {
        let Some(at) = free_column(&pieces[stuck], &columns) else { break };
        columns.push(at);
        let lower = pieces[stuck].split(at);
        pieces.push(lower);
    }
    let order = sort(&pieces);
    let numbers = number(&pieces, &order);
    let mut runs = vec![Run::Straight; nets.len()];
    for (piece, track) in pieces.iter().zip(&numbers) {
        runs[piece.net] = match (piece.half, runs[piece.net]) {
            (Half::Whole, _) => Run::Track(*track),
            (Half::Upper(at), _) => Run::Two { upper: *track, at, lower: *track },
            (Half::Lower, Run::Two { upper, at, .. }) => Run::Two { upper, at, lower: *track },
            (Half::Lower, Run::Straight | Run::Track(_)) => Run::Track(*track),
        };
    }
    (runs, numbers.iter().max().map_or(0, |track| track + 1))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Half {
    Whole,
    Upper(i32),
    Lower,
}

struct Piece {
    net: usize,
    half: Half,
    tops: Vec<i32>,
    bottoms: Vec<i32>,
    low: i32,
    high: i32,
}

impl Piece {
    fn of(net: usize, ends: &Net) -> Option<Self> {
        let piece = Self::new(net, Half::Whole, ends.tops.clone(), ends.bottoms.clone());
        (piece.low < piece.high).then_some(piece)
    }

    fn new(net: usize, half: Half, tops: Vec<i32>, bottoms: Vec<i32>) -> Self {
        let all = || tops.iter().chain(&bottoms).copied();
        let (low, high) = (all().min().unwrap_or(0), all().max().unwrap_or(0));
        Self { net, half, tops, bottoms, low, high }
    }

    /// Keeps the ends above and gives the piece with the ends below; both meet at a column.
    fn split(&mut self, at: i32) -> Piece {
        let lower = Self::new(self.net, Half::Lower, vec![at], std::mem::take(&mut self.bottoms));
        *self = Self::new(self.net, Half::Upper(at), std::mem::take(&mut self.tops), vec![at]);
        lower
    }

    /// Whether it must run above another, lest a line down from it lie on a line up from the other.
    fn must_be_above(&self, other: &Piece) -> bool {
        self.tops.iter().any(|top| other.bottoms.iter().any(|bottom| (top - bottom).abs() < APART))
    }

    /// Crossings if it runs above another.
    fn crossings_above(&self, other: &Piece) -> i64 {
        let inside = |columns: &[i32], span: &Piece| columns.iter().filter(|x| span.low <= **x && **x <= span.high).count();
        i64::try_from(inside(&self.bottoms, other) + inside(&other.tops, self)).unwrap_or(i64::MAX)
    }

    fn meets(&self, other: &Piece) -> bool {
        self.low < other.high + APART && other.low < self.high + APART
    }
}

/// A whole piece that stands in a circle of demands: what is left when pieces without a demand on one side are taken away.
fn circle(pieces: &[Piece]) -> Option<usize> {
    let count = pieces.len();
    let mut demands = [vec![Vec::new(); count], vec![Vec::new(); count]];
    for a in 0..count {
        for b in 0..count {
            if pieces[a].net != pieces[b].net && pieces[a].must_be_above(&pieces[b]) {
                demands[0][a].push(b);
                demands[1][b].push(a);
            }
        }
    }
    let mut stays = vec![true; count];
    for [ahead, behind] in [[0, 1], [1, 0]] {
        let mut open: Vec<usize> = (0..count).map(|piece| demands[behind][piece].iter().filter(|other| stays[**other]).count()).collect();
        let mut loose: Vec<usize> = (0..count).filter(|piece| stays[*piece] && open[*piece] == 0).collect();
        while let Some(piece) = loose.pop() {
            stays[piece] = false;
            for other in demands[ahead][piece].iter().filter(|other| stays[**other]) {
                open[*other] -= 1;
                if open[*other] == 0 {
                    loose.push(*other);
                }
            }
        }
    }
    (0..count).find(|piece| stays[*piece] && pieces[*piece].half == Half::Whole)
}

/// The free column nearest to the middle of a piece.
fn free_column(piece: &Piece, columns: &[i32]) -> Option<i32> {
    let middle = i32::midpoint(piece.low, piece.high);
    let free = |x: i32| columns.iter().all(|other| (other - x).abs() >= APART);
    (0..20_000).flat_map(|step| [middle - step, middle + step]).find(|x| free(*x))
}

/// From the top down: demands first, then few crossings, then the order given.
fn sort(pieces: &[Piece]) -> Vec<usize> {
    let count = pieces.len();
    let mut over = vec![vec![0i64; count]; count];
    for a in 0..count {
        for b in 0..count {
            if a == b {
                continue;
            }
            let joined = pieces[a].net == pieces[b].net;
            let demand = if joined { pieces[b].half == Half::Lower } else { pieces[a].must_be_above(&pieces[b]) };
            let wish = (pieces[b].crossings_above(&pieces[a]) - pieces[a].crossings_above(&pieces[b])).max(0);
            over[a][b] = if demand {
                1_000_000
            } else if pieces[a].meets(&pieces[b]) {
                wish
            } else {
                0
            };
        }
    }
    let mut burden: Vec<i64> = (0..count).map(|b| (0..count).map(|a| over[a][b]).sum()).collect();
    let mut left: Vec<usize> = (0..count).collect();
    let mut order = Vec::with_capacity(count);
    while let Some(place) = (0..left.len()).min_by_key(|place| (burden[left[*place]], *place)) {
        let piece = left.remove(place);
        for other in &left {
            burden[*other] -= over[piece][*other];
        }
        order.push(piece);
    }
    order
}

/// Track numbers: each piece as high as those before it allow.
fn number(pieces: &[Piece], order: &[usize]) -> Vec<usize> {
    let mut numbers = vec![0; pieces.len()];
    for (place, piece) in order.iter().enumerate() {
        let bound = |before: &&usize| pieces[*piece].meets(&pieces[**before]) || pieces[**before].must_be_above(&pieces[*piece]);
        numbers[*piece] = order[..place].iter().filter(bound).map(|before| numbers[*before] + 1).max().unwrap_or(0);
    }
    numbers
}
