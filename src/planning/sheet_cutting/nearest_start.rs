//! The nearest of the paths that are left to be cut.

use crate::geometry::Point;
use static_aabb2d_index::{Control, StaticAABB2DIndex, StaticAABB2DIndexBuilder};

/// Where a path can be begun.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start {
    /// The path's place in the given order.
    pub(super) path: usize,
    /// Whether it is followed backward from here.
    pub(super) turned: bool,
    pub(super) at: Point,
}

/// Starts of the paths that are left. Taking one costs hardly more with many than with few.
pub(super) struct Starts {
    starts: Vec<Start>,
    /// By path, in the given order of all.
    is_taken: Vec<bool>,
    /// Of `starts`; nothing where there are none.
    index: Option<StaticAABB2DIndex<f64>>,
    /// How many of `starts` are of paths that are taken: the search goes past them.
    gone: usize,
}

impl Starts {
    /// Of paths whose places are below `paths`.
    pub(super) fn of(starts: Vec<Start>, paths: usize) -> Self {
        Starts {
            index: index_of(&starts),
            starts,
            is_taken: vec![false; paths],
            gone: 0,
        }
    }

    /// Takes the path that begins nearest to a point: of equally near ones the first in the given order,
    /// as it is rather than turned. Nothing where all are taken.
    pub(super) fn take_nearest(&mut self, from: Point) -> Option<Start> {
        let mut best: Option<(f64, Start)> = None;
        let mut visit = |at: usize, distance: f64| {
            if best.is_some_and(|(least, _)| distance > least) {
                return Control::Break(());
            }
            if let Some(start) = self.starts.get(at)
                && !self.is_taken.get(start.path).copied().unwrap_or(true)
            {
                let order = |start: &Start| (start.path, start.turned);
                if best.is_none_or(|(_, known)| order(start) < order(&known)) {
                    best = Some((distance, *start));
                }
            }
            Control::Continue
        };
        if let Some(index) = &self.index {
            let _: Control<()> = index.visit_neighbors(from.x, from.y, &mut visit);
        }
        let (_, start) = best?;
        self.take(start.path);
        Some(start)
    }

    fn take(&mut self, path: usize) {
        if let Some(taken) = self.is_taken.get_mut(path) {
            *taken = true;
        }
        self.gone += 2;
        if self.gone * 2 > self.starts.len() {
            let taken = &self.is_taken;
            self.starts
                .retain(|start| !taken.get(start.path).copied().unwrap_or(true));
            self.index = index_of(&self.starts);
            self.gone = 0;
        }
    }
}

fn index_of(starts: &[Start]) -> Option<StaticAABB2DIndex<f64>> {
    let mut builder = StaticAABB2DIndexBuilder::new(starts.len());
    for Start { at, .. } in starts {
        builder.add(at.x, at.y, at.x, at.y);
    }
    builder.build().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// A look at all of them finds the same, in the same order.
        #[test]
        fn the_nearest_is_taken_every_time(
            // Whole numbers, so that many are equally near.
            places in prop::collection::vec((0..12_i32, 0..12_i32, 0..12_i32, 0..12_i32), 0..70),
        ) {
            let p = |x: i32, y: i32| Point::new(f64::from(x), f64::from(y));
            let mut starts = Vec::new();
            for (path, (x, y, u, v)) in places.iter().enumerate() {
                starts.push(Start { path, turned: false, at: p(*x, *y) });
                starts.push(Start { path, turned: true, at: p(*u, *v) });
            }
            let mut left = starts.clone();
            let mut indexed = Starts::of(starts, places.len());
            let mut at = Point::default();
            while !left.is_empty() {
                let square = |start: &Start| at.to(start.at).dot(at.to(start.at));
                let wanted = *left.iter().min_by(|a, b| square(a).total_cmp(&square(b))).unwrap();
                let found = indexed.take_nearest(at).unwrap();
                prop_assert_eq!((found.path, found.turned), (wanted.path, wanted.turned));
                left.retain(|start| start.path != wanted.path);
                let other = places[found.path];
                at = if found.turned { p(other.0, other.1) } else { p(other.2, other.3) };
            }
            prop_assert!(indexed.take_nearest(at).is_none());
        }
    }
}
