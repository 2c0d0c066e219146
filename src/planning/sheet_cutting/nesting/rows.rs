//! The fewest rows that lengths go into: exact where a search of bounded effort can prove it.
//!
//! Rows are filled one after the other, always round the longest length that is left (bin
//! completion: R. E. Korf, A new algorithm for optimal bin packing, AAAI 2002; from memory). The
//! search looks for as many rows as a lower bound asks for, then for one more, and so on: every
//! number of rows that it has gone through in vain raises the bound. Its effort is counted in
//! steps, never in time, so that every machine comes to the same rows.

use std::collections::HashMap;

/// Lengths are counted in units of this many mm, so that sums are exact and do not depend on their
/// order.
const UNIT_MM: f64 = 1e-9;

/// Steps of a search for one number of rows.
const MOST_STEPS: usize = 400_000;

/// Pairs of kinds that are looked at for a bound in the time of a step.
const STEPS_OF_A_BOUND: usize = 1_024;

/// Ways of filling a row that are tried round one length.
const MOST_WAYS: usize = 400;

/// More parts than this are laid out as they come: a search would not get far.
const MOST_PARTS: usize = 1_000;

/// Lengths in rows, and how few rows may do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Rows {
    /// Which lengths lie in each row, the longest first.
    pub(super) rows: Vec<Vec<usize>>,
    /// No way of laying them takes fewer rows than this. As many as there are, where that is proved.
    pub(super) fewest: usize,
}

impl Rows {
    /// Puts lengths into rows of `room`. Where there is a gap between neighbours, it is in every length
    /// and once in the room. Every length must fit into an empty row.
    pub(super) fn of(lengths: &[f64], room: f64) -> Rows {
        let kinds = Kinds::of(lengths, room);
        let mut best = best_fit(&kinds);
        let mut fewest = kinds.lower_bound(&kinds.counts);
        // A number gone through in vain raises the bound only where all below it have been: what takes
        // fewer rows also goes into more, but a search that was broken off shows nothing.
        let mut gapless = true;
        let mut rows = fewest;
        while rows < best.len() && lengths.len() <= MOST_PARTS {
            let mut search = Search::new(&kinds);
            if let Some(found) = search.rows(rows) {
                best = found;
            } else if search.complete && gapless {
                fewest = rows + 1;
            } else {
                gapless = false;
            }
            rows += 1;
        }
        Rows {
            rows: kinds.named(&best),
            fewest,
        }
    }
}

/// Kinds of lengths in one row, as their numbers, the longest first.
type Row = Vec<usize>;

/// Lengths of equal size are one kind.
struct Kinds {
    /// The longest first.
    sizes: Vec<u64>,
    /// How many there are of each.
    counts: Vec<usize>,
    /// Which lengths they are, in the order given.
    members: Vec<Vec<usize>>,
    room: u64,
}

impl Kinds {
    fn of(lengths: &[f64], room: f64) -> Kinds {
        let sizes: Vec<u64> = lengths.iter().map(|length| units(*length)).collect();
        let mut order: Vec<usize> = (0..sizes.len()).collect();
        let size = |at: usize| sizes.get(at).copied().unwrap_or_default();
        order.sort_by_key(|at| std::cmp::Reverse(size(*at)));
        let mut kinds = Kinds {
            sizes: Vec::new(),
            counts: Vec::new(),
            members: Vec::new(),
            // Each length may have been rounded up by half a unit, and carry an error of rounding.
            room: units(room) + lengths.len() as u64 + 1,
        };
        for at in order {
            match (kinds.sizes.last(), kinds.members.last_mut()) {
                (Some(last), Some(members)) if *last == size(at) => members.push(at),
                _ => {
                    kinds.sizes.push(size(at));
                    kinds.members.push(vec![at]);
                }
            }
        }
        kinds.counts = kinds.members.iter().map(Vec::len).collect();
        kinds
    }

    fn size(&self, kind: usize) -> u64 {
        self.sizes.get(kind).copied().unwrap_or(u64::MAX)
    }

    /// Of all that are left together.
    fn sum(&self, counts: &[usize]) -> u64 {
        let each = self.sizes.iter().zip(counts);
        each.map(|(size, count)| size * *count as u64).sum()
    }

    /// Fewer rows than this never do.
    ///
    /// For every `a` up to half a row: lengths above `room - a` go with nothing that is `a` or more,
    /// other ones above half a row are one to a row, and those from `a` to half a row fill what these
    /// leave and rows of their own (L2 of S. Martello and P. Toth, Lower bounds and reduction
    /// procedures for the bin packing problem, Discrete Applied Mathematics 28, 1990; from memory).
    fn lower_bound(&self, counts: &[usize]) -> usize {
        let each = || self.sizes.iter().copied().zip(counts.iter().copied());
        let half = self.room / 2;
        let long: usize = each()
            .filter(|(size, _)| *size > half)
            .map(|(_, n)| n)
            .sum();
        let short = each().filter(|(size, n)| *size <= half && *n > 0);
        let mut best = long;
        for least in short.map(|(size, _)| size).chain([0]) {
            let mut free = 0;
            let mut filling = 0;
            for (size, count) in each() {
                if size > self.room - least {
                    continue;
                }
                if size > half {
                    free += (self.room - size) * count as u64;
                } else if size >= least {
                    filling += size * count as u64;
                }
            }
            let more = filling.saturating_sub(free).div_ceil(self.room.max(1));
            best = best.max(long + usize::try_from(more).unwrap_or(usize::MAX));
        }
        best
    }

    /// The lengths themselves, in the order in which they were given where they are equal.
    fn named(&self, rows: &[Row]) -> Vec<Vec<usize>> {
        let mut left: Vec<_> = self.members.iter().map(|kind| kind.iter()).collect();
        let mut named = Vec::with_capacity(rows.len());
        for row in rows {
            let lengths = row.iter().filter_map(|kind| left.get_mut(*kind)?.next());
            named.push(lengths.copied().collect());
        }
        named
    }
}

/// In whole units; lengths are finite and no longer than a sheet.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // above zero, far below 2^63
fn units(length: f64) -> u64 {
    (length / UNIT_MM).round() as u64
}

/// The longest first, each into the row that it fills best.
fn best_fit(kinds: &Kinds) -> Vec<Row> {
    let mut rows: Vec<(u64, Row)> = Vec::new();
    for (kind, count) in kinds.counts.iter().enumerate() {
        let size = kinds.size(kind);
        for _ in 0..*count {
            let fitting = rows.iter_mut().filter(|(free, _)| *free >= size);
            if let Some((free, row)) = fitting.min_by_key(|(free, _)| *free) {
                *free -= size;
                row.push(kind);
            } else {
                rows.push((kinds.room.saturating_sub(size), vec![kind]));
            }
        }
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Looks for a given number of rows.
struct Search<'a> {
    kinds: &'a Kinds,
    steps: usize,
    /// Whether nothing was left out: then what was not found is not there.
    complete: bool,
    /// For what was left at some time: into so many rows it does not go.
    failed: HashMap<Vec<usize>, usize>,
}

/// The ways that are still to be tried of filling one row, the best last.
struct Level {
    ways: Vec<Row>,
    tried: Option<Row>,
}

impl<'a> Search<'a> {
    fn new(kinds: &'a Kinds) -> Self {
        Search {
            kinds,
            steps: 0,
            complete: true,
            failed: HashMap::new(),
        }
    }

    /// All lengths in so many rows. Nothing is found where there is no way, or, if the search is
    /// not complete, where none was come upon.
    fn rows(&mut self, rows: usize) -> Option<Vec<Row>> {
        let mut counts = self.kinds.counts.clone();
        let mut levels = vec![self.level(&counts, rows)];
        while let Some(level) = levels.last_mut() {
            if let Some(row) = level.tried.take() {
                put_back(&mut counts, &row);
            }
            let Some(row) = level.ways.pop() else {
                levels.pop();
                // With this level gone, so many rows are left for what it had.
                let left = rows.saturating_sub(levels.len());
                self.failed.insert(counts.clone(), left);
                continue;
            };
            take_out(&mut counts, &row);
            level.tried = Some(row);
            if counts.iter().all(|count| *count == 0) {
                return Some(levels.into_iter().filter_map(|level| level.tried).collect());
            }
            let left = rows.saturating_sub(levels.len());
            if self.hopeless(&counts, left) {
                continue;
            }
            levels.push(self.level(&counts, left));
        }
        None
    }

    fn hopeless(&mut self, counts: &[usize], left: usize) -> bool {
        // A bound takes as long as many a step where there are many kinds.
        self.steps += counts.len() * counts.len() / STEPS_OF_A_BOUND;
        // What did not go into so many rows does not go into fewer.
        let failed = self.failed.get(counts).copied().unwrap_or_default();
        left == 0 || left <= failed || left < self.kinds.lower_bound(counts)
    }

    /// The ways of filling a row round the longest length that is left: those that leave the least
    /// free are tried first. It lies in one row or another, so nothing is lost by filling its row
    /// first, and no order of the same rows is gone through twice. What all rows that are left have
    /// more than the lengths is all that they may leave free together.
    fn level(&mut self, counts: &[usize], left: usize) -> Level {
        let room = left as u64 * self.kinds.room;
        let Some(spare) = room.checked_sub(self.kinds.sum(counts)) else {
            return Level {
                ways: Vec::new(),
                tried: None,
            };
        };
        let longest = counts.iter().position(|count| *count > 0);
        let mut filling = Filling {
            kinds: self.kinds,
            counts: counts.to_vec(),
            row: Vec::new(),
            spare,
            steps: MOST_STEPS.saturating_sub(self.steps),
            complete: true,
            ways: Vec::new(),
        };
        if let Some(longest) = longest {
            filling.with(longest, self.kinds.room);
        }
        self.steps = self.steps.max(MOST_STEPS - filling.steps);
        self.complete &= filling.complete;
        let mut ways = filling.ways;
        ways.sort_by_key(|(free, row)| (std::cmp::Reverse(*free), std::cmp::Reverse(row.len())));
        Level {
            ways: ways.into_iter().map(|(_, row)| row).collect(),
            tried: None,
        }
    }
}

fn take_out(counts: &mut [usize], row: &Row) {
    for kind in row {
        if let Some(count) = counts.get_mut(*kind) {
            *count = count.saturating_sub(1);
        }
    }
}

fn put_back(counts: &mut [usize], row: &Row) {
    for kind in row {
        if let Some(count) = counts.get_mut(*kind) {
            *count += 1;
        }
    }
}

/// Goes through the ways of filling one row.
struct Filling<'a> {
    kinds: &'a Kinds,
    /// What is not in the row.
    counts: Vec<usize>,
    row: Row,
    /// What all rows that are left may leave free together.
    spare: u64,
    /// That may still be taken.
    steps: usize,
    complete: bool,
    /// With what each leaves free.
    ways: Vec<(u64, Row)>,
}

impl Filling<'_> {
    /// Puts a kind into what is free, then all that goes beside it and is no longer.
    fn with(&mut self, kind: usize, free: u64) {
        let free = free.saturating_sub(self.kinds.size(kind));
        if let Some(count) = self.counts.get_mut(kind) {
            *count -= 1;
        }
        self.row.push(kind);
        if free <= self.spare && !self.is_beaten(free) {
            self.ways.push((free, self.row.clone()));
        }
        for next in kind..self.kinds.sizes.len() {
            if self.steps == 0 || self.ways.len() >= MOST_WAYS {
                self.complete = false;
                break;
            }
            let there = self.counts.get(next).is_some_and(|count| *count > 0);
            if there && self.kinds.size(next) <= free {
                self.steps -= 1;
                self.with(next, free);
            }
        }
        self.row.pop();
        if let Some(count) = self.counts.get_mut(kind) {
            *count += 1;
        }
    }

    /// Whether another way does at least as well whatever comes after: one that has a longer length
    /// in place of nothing, of one, of two, or of all that lie beside the longest. Where the rest can
    /// be laid with this way, they change places and it can be laid with the other. The other leaves
    /// less free or has fewer lengths, so that no two ways beat each other in turn.
    fn is_beaten(&self, free: u64) -> bool {
        let Some((_, beside)) = self.row.split_first() else {
            return false;
        };
        let left = self.kinds.sizes.iter().zip(&self.counts).rev();
        let mut left = left.filter(|(_, n)| **n > 0).map(|(size, _)| *size);
        let Some(shortest) = left.next() else {
            return false;
        };
        if shortest <= free {
            return true;
        }
        // The shortest first.
        let left: Vec<u64> = std::iter::once(shortest).chain(left).collect();
        let better = |instead, several| has_longer(&left, instead, several, free);
        let sizes: Vec<u64> = beside.iter().map(|kind| self.kinds.size(*kind)).collect();
        if better(sizes.iter().sum(), sizes.len() > 1) {
            return true;
        }
        sizes.iter().enumerate().any(|(at, one)| {
            let others = sizes.iter().skip(at + 1);
            better(*one, false) || others.into_iter().any(|other| better(one + other, true))
        })
    }
}

/// Whether there is a length that takes the place of such, one or `several` together as long as
/// `instead`, and no more than is `free` besides: longer than one, as long as several or longer.
/// `left` has the shortest first.
fn has_longer(left: &[u64], instead: u64, several: bool, free: u64) -> bool {
    let next = left.partition_point(|size| *size < instead || (*size == instead && !several));
    left.get(next).is_some_and(|size| *size <= instead + free)
}
