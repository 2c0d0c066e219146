//! Bridges that hold a part in its sheet until all is cut.

use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM, bounds};
use crate::instructions::outline::CutPart;
use crate::machines::{Bridges, Cutter};
use float_cmp::ApproxEq;

/// Strokes along a part's outline where it is to stay joined to the sheet: on its long straight
/// sides, those that run along the grain at its lowest and highest y; so never in a notch and never
/// on an end or a facet. A cutter's width away from every corner, spread along the part, below and
/// above in turn; only above where the lower side is laid against something, so that no nib is left
/// on it. `None` where there is no room for all of them.
pub(super) fn bridges(part: &CutPart, cutter: &Cutter) -> Option<Vec<[Point; 2]>> {
    let outer = &part.outer;
    let Some(Bridges { count, width }) = cutter.bridges else {
        return Some(Vec::new());
    };
    let (low, high) = bounds(outer.iter().copied())?;
    let sides = [low.y, high.y].map(|y| free_stretches(outer, y, width, cutter.diameter));
    let mut taken: Vec<(usize, f64)> = Vec::new();
    for number in 0..count {
        let target = low.x + (high.x - low.x) * (number as f64 + 0.5) / count as f64 - width / 2.0;
        let sides_in_turn: &[usize] = if part.laid_edge {
            &[1]
        } else if number % 2 == 0 {
            &[0, 1]
        } else {
            &[1, 0]
        };
        let mut places: Vec<(usize, f64)> = Vec::new();
        for &side in sides_in_turn {
            let there = taken.iter().filter(|(on, _)| *on == side);
            let there: Vec<f64> = there.map(|(_, at)| *at).collect();
            let stretches = sides.get(side).map_or(&[][..], Vec::as_slice);
            let best = nearest_free(stretches, &there, target, width + cutter.diameter);
            places.extend(best.map(|at| (side, at)));
        }
        // The other side only where this one has nothing within two bridges' width.
        places.sort_by_key(|(_, at)| (at - target).abs() > 2.0 * width);
        taken.push(*places.first()?);
    }
    let strokes = taken.into_iter().map(|(side, at)| {
        let y = if side == 0 { low.y } else { high.y };
        [Point::new(at, y), Point::new(at + width, y)]
    });
    Some(strokes.collect())
}

/// Where a bridge begins nearest to `target` on one of the stretches, at least `apart` from those that
/// are `there`. As near as can be is at the target itself, at a stretch's end, or right beside one that
/// is there already.
fn nearest_free(stretches: &[(f64, f64)], there: &[f64], target: f64, apart: f64) -> Option<f64> {
    let beside = there.iter().flat_map(|at| [at - apart, at + apart]);
    let wished: Vec<f64> = beside.chain([target]).collect();
    let near = stretches
        .iter()
        .flat_map(|(from, to)| wished.iter().map(|wish| wish.clamp(*from, *to)));
    let free = near.filter(|at| {
        let mut others = there.iter();
        others.all(|other| (at - other).abs() >= apart - SAME_POSITION_MM)
    });
    free.min_by(|a, b| (a - target).abs().total_cmp(&(b - target).abs()))
}

/// Where along the sides at a height a bridge may begin: from and to.
fn free_stretches(outer: &[Point], y: f64, width: f64, clear: f64) -> Vec<(f64, f64)> {
    let ends = outer.iter().cycle().skip(1);
    let sides = outer.iter().zip(ends);
    let level = sides.filter(|(a, b)| a.y.approx_eq(y, POSITION) && b.y.approx_eq(y, POSITION));
    let stretches = level.map(|(a, b)| (a.x.min(b.x) + clear, a.x.max(b.x) - clear - width));
    stretches.filter(|(from, to)| from <= to).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::Relief;

    fn cutter(count: usize, width: f64) -> Cutter {
        Cutter {
            diameter: 1.5,
            relief: Relief::Bone,
            bridges: Some(Bridges { count, width }),
        }
    }

    fn part(outer: &[Point], laid_edge: bool) -> CutPart {
        CutPart {
            name: "bar".into(),
            copy: 1,
            outer: outer.to_vec(),
            holes: Vec::new(),
            strokes: Vec::new(),
            laid_edge,
        }
    }

    #[test]
    fn a_side_that_is_laid_against_something_has_none() {
        let plate = [(0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (0.0, 20.0)];
        let plate = plate.map(|(x, y)| Point::new(x, y));
        // Short enough on top that two are wanted in one place.
        let block = [(0.0, 0.0), (100.0, 0.0), (20.0, 33.0), (0.0, 33.0)];
        let block = part(&block.map(|(x, y)| Point::new(x, y)), true);
        let found = bridges(&block, &cutter(2, 3.0)).unwrap();
        assert_eq!(Vec::from_iter(found.iter().map(|[a, _]| a.x)), [15.5, 11.0]);
        assert!(bridges(&block, &cutter(5, 3.0)).is_none());
        for (laid_edge, below) in [(false, 2), (true, 0)] {
            let found = bridges(&part(&plate, laid_edge), &cutter(4, 3.0)).unwrap();
            let on_lower = found.iter().filter(|[a, _]| a.y < 1.0).count();
            assert_eq!((found.len(), on_lower), (4, below));
        }
    }

    #[test]
    fn bridges_keep_out_of_notches_and_clear_of_corners() {
        // Notched in the middle of its lower side, just where the first of one bridge would be.
        let ring = [
            (0.0, 0.0),
            (18.0, 0.0),
            (18.0, 6.0),
            (22.0, 6.0),
            (22.0, 0.0),
            (40.0, 0.0),
            (40.0, 12.0),
            (0.0, 12.0),
        ]
        .map(|(x, y)| Point::new(x, y));
        let one = bridges(&part(&ring, false), &cutter(1, 3.0)).unwrap();
        assert_eq!(one, [[Point::new(13.5, 0.0), Point::new(16.5, 0.0)]]);
        let three = bridges(&part(&ring, false), &cutter(3, 3.0)).unwrap();
        let at: Vec<(f64, f64)> = three.iter().map(|[a, _]| (a.x, a.y)).collect();
        assert_eq!(at[1], (18.5, 12.0));
        assert!(at[0].1 == 0.0 && at[2].1 == 0.0);
        assert!(bridges(&part(&ring, false), &cutter(2, 40.0)).is_none());
    }

    #[test]
    fn facets_have_none() {
        // A piece of two facets a side: straight only from 5 to 15.
        let ring = [
            (0.0, 1.5),
            (5.0, 0.0),
            (15.0, 0.0),
            (20.0, 1.5),
            (15.0, 3.0),
            (5.0, 3.0),
        ]
        .map(|(x, y)| Point::new(x, y));
        for [a, b] in bridges(&part(&ring, false), &cutter(2, 3.0)).unwrap() {
            assert!(a.x >= 6.5 && b.x <= 13.5 && a.y == b.y);
        }
        assert!(bridges(&part(&ring, false), &cutter(2, 8.0)).is_none());
    }
}
