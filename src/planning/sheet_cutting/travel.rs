//! The order of paths on a sheet: little way from one to the next.

use super::nearest_start::{Start, Starts};
use crate::geometry::Point;
use crate::instructions::outline::{CutPath, CutWork};

/// Way from path to path, mm: from the sheet's corner to the first, and from where one ends to
/// where the next begins. Bridges are not followed.
pub(super) fn travel(paths: &[CutPath]) -> f64 {
    let followed = paths.iter().filter(|path| path.work != CutWork::Bridges);
    let mut at = Point::default();
    let mut way = 0.0;
    for path in followed {
        let [begin, end] = ends(path);
        way += at.to(begin).length();
        at = end;
    }
    way
}

/// A closed path ends where it begins.
fn ends(path: &CutPath) -> [Point; 2] {
    let first = path.points.first().copied().unwrap_or_default();
    let last = path.points.last().copied().unwrap_or_default();
    [first, if path.closed { first } else { last }]
}

/// The same paths, each kind of work still before the next, ordered by going from each to the
/// nearest that is left; open strokes may be turned round. Of the given order and this the one with
/// less way.
pub(super) fn shortened(paths: Vec<CutPath>) -> Vec<CutPath> {
    let mut at = Point::default();
    let mut ordered = Vec::with_capacity(paths.len());
    for work in CutWork::IN_ORDER {
        let of_kind = paths
            .iter()
            .enumerate()
            .filter(|(_, path)| path.work == work);
        let starts = of_kind.flat_map(|(place, path)| {
            let [begin, end] = ends(path);
            [(false, begin), (true, end)].map(|(turned, at)| Start {
                path: place,
                turned,
                at,
            })
        });
        let mut left = Starts::of(starts.collect(), paths.len());
        while let Some(start) = left.take_nearest(at) {
            let Some(mut path) = paths.get(start.path).cloned() else {
                continue;
            };
            if start.turned {
                path.points.reverse();
            }
            let [_, end] = ends(&path);
            if work != CutWork::Bridges {
                at = end;
            }
            ordered.push(path);
        }
    }
    if travel(&ordered) < travel(&paths) {
        ordered
    } else {
        paths
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn path(work: CutWork, closed: bool, points: &[(f64, f64)]) -> CutPath {
        CutPath {
            work,
            closed,
            points: points.iter().map(|&(x, y)| Point::new(x, y)).collect(),
        }
    }

    #[test]
    fn the_way_by_hand() {
        let far = path(
            CutWork::Outlines,
            true,
            &[(30.0, 0.0), (31.0, 0.0), (31.0, 1.0)],
        );
        let near = path(
            CutWork::Outlines,
            true,
            &[(10.0, 0.0), (11.0, 0.0), (11.0, 1.0)],
        );
        let stroke = path(CutWork::Letters, false, &[(0.0, 50.0), (0.0, 5.0)]);
        let given = vec![stroke, far, near];
        let back = 5.0_f64.hypot(30.0);
        assert!(approx_eq!(
            f64,
            travel(&given),
            50.0 + back + 20.0,
            epsilon = 1e-9
        ));
        let short = shortened(given);
        // The stroke from its nearer end; from (0, 50) on to the nearer square.
        assert_eq!(short[0].points[0], Point::new(0.0, 5.0));
        assert_eq!(short[1].points[0].x, 10.0);
        assert!(approx_eq!(
            f64,
            travel(&short),
            5.0 + 50.0_f64.hypot(10.0) + 20.0,
            epsilon = 1e-9
        ));
    }

    #[test]
    fn a_given_order_that_is_shorter_stays() {
        // Nearest first goes back and forth: 1, then -2, then 4, then -8.
        let at = |x: f64| {
            path(
                CutWork::Openings,
                true,
                &[(x, 0.0), (x, 1.0), (x + 0.1, 1.0)],
            )
        };
        let given: Vec<CutPath> = [-8.0, -2.0, 1.0, 4.0].map(at).into();
        assert_eq!(shortened(given.clone()), given);
    }
}
