//! Equal pieces in a row on a long stick, and the straight cuts that part them.
//!
//! An end of a piece is its band cut by one or two straight lines. A cut takes what lies on the far
//! side of such a line, a kerf wide square to it, so `kerf / sin a` along the stick, and goes on
//! through the whole stick: neighbours lie as far apart as keeps every kerf out of them. Where
//! neighbours are mirror images and both facets of an end have the angle J, that is `kerf / sin J`,
//! and the kerf that makes the near facet of one makes the far facet of the other: two cuts, one
//! each way, make four facets.

use super::lying::Lying;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::planning::sled::slant::Slant;
use float_cmp::ApproxEq;

/// What is put in a row. Millimetres.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RowOrder<'a> {
    /// A piece in its own frame, counter-clockwise.
    pub(crate) outline: &'a [Point],
    /// Along its axis, from extreme point to extreme point.
    pub(crate) length: f64,
    /// Of the stick.
    pub(crate) thickness: f64,
    /// Which of its ends are cut here, the first end first; the others are left `rough` longer.
    pub(crate) cut_ends: [bool; 2],
    /// How the first piece lies.
    pub(crate) first: Lying,
    /// Whether every other piece is the first one's mirror image; else all lie like the first.
    pub(crate) mirrored: bool,
    /// Width of a cut, square to it.
    pub(crate) kerf: f64,
    /// What an end that is not cut here is longer than the finished one.
    pub(crate) rough: f64,
    /// What a hand saw takes between two such ends.
    pub(crate) hand_kerf: f64,
    /// From the stick's end to the first cut's crossing, or to a rough end.
    pub(crate) grip: f64,
}

/// Pieces in a row.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    /// From the left.
    pub(crate) pieces: Vec<InRow>,
    /// From the left, once each.
    pub(crate) cuts: Vec<RowCut>,
    /// Least length of the stick.
    pub(crate) length: f64,
}

/// A piece in a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct InRow {
    /// How it lies.
    pub(crate) lying: Lying,
    /// From the stick's left end to the piece's leftmost point.
    pub(crate) from: f64,
}

/// A straight cut through the stick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RowCut {
    /// From the stick's direction to the cut, in (0, pi).
    pub(crate) angle: f64,
    /// From the stick's left end to the left side of the kerf, at the fence.
    pub(crate) near: f64,
    /// How many facets it makes.
    pub(crate) facets: usize,
}

/// The line of a facet of a piece that lies in a stick.
#[derive(Debug, Clone, Copy)]
struct FacetLine {
    /// In (0, pi).
    angle: f64,
    /// Where it meets the fence.
    at_fence: f64,
    /// Whether it belongs to the end on the right.
    on_right: bool,
}

impl FacetLine {
    fn through(low: Point, high: Point, on_right: bool) -> FacetLine {
        let way = low.to(high);
        let angle = way.y.atan2(way.x);
        FacetLine {
            angle,
            at_fence: low.x - low.y * Slant(angle).lean(),
            on_right,
        }
    }

    /// Where it lies at a distance from the fence.
    fn at(&self, y: f64) -> f64 {
        self.at_fence + y * Slant(self.angle).lean()
    }
}

/// A piece as it lies, its leftmost point at x = 0.
struct Laid {
    lying: Lying,
    corners: Vec<Point>,
    facets: Vec<FacetLine>,
    /// Whether its ends on the left and on the right are cut here.
    cut: [bool; 2],
}

impl Laid {
    fn of(order: &RowOrder<'_>, lying: Lying) -> Laid {
        let RowOrder {
            outline,
            length,
            thickness,
            ..
        } = *order;
        let place = |p: Point| lying.place(p, length, thickness);
        let right = lying.right_end();
        let mut cut = order.cut_ends;
        if lying.reversed {
            cut.reverse();
        }
        let mut facets = Vec::new();
        for (p, q) in crate::geometry::convex::edges(outline) {
            // Counter-clockwise, the second end's facets rise and the first one's fall.
            let rise = q.y - p.y;
            if rise.abs() < SAME_POSITION_MM {
                continue;
            }
            let end = usize::from(rise > 0.0);
            let [a, b] = [place(p), place(q)];
            let (low, high) = if a.y < b.y { (a, b) } else { (b, a) };
            facets.push(FacetLine::through(low, high, end == right));
        }
        Laid {
            lying,
            corners: outline.iter().map(|p| place(*p)).collect(),
            facets,
            cut,
        }
    }

    /// The facets that are cut of the end on one side.
    fn cuts(&self, on_right: bool) -> impl Iterator<Item = &FacetLine> {
        let is_cut = self.cut[usize::from(on_right)];
        let facets = self.facets.iter();
        facets.filter(move |facet| is_cut && facet.on_right == on_right)
    }

    /// What must stay of it, an end that is not cut here with the square end that it has now.
    fn kept(&self, order: &RowOrder<'_>) -> Vec<Point> {
        let mut kept = self.corners.clone();
        let [left, right] = self.cut;
        let mut square = |x: f64| {
            kept.push(Point::new(x, 0.0));
            kept.push(Point::new(x, order.thickness));
        };
        if !left {
            square(-order.rough);
        }
        if !right {
            square(order.length + order.rough);
        }
        kept
    }
}

/// From the left piece's rightmost point to the right piece's leftmost: the least that keeps every
/// kerf that parts them out of both.
fn gap(left: &Laid, right: &Laid, order: &RowOrder<'_>) -> f64 {
    let opens = |facet: &FacetLine| order.kerf / facet.angle.sin();
    let mut gap = f64::NEG_INFINITY;
    // Kerfs of the left piece lie to the right of its facets: the right piece lies beyond them.
    for facet in left.cuts(true) {
        for p in right.kept(order) {
            gap = gap.max(facet.at(p.y) - order.length + opens(facet) - p.x);
        }
    }
    for facet in right.cuts(false) {
        for p in left.kept(order) {
            gap = gap.max(p.x - order.length - (facet.at(p.y) - opens(facet)));
        }
    }
    if gap.is_finite() {
        gap
    } else {
        order.between_rough_ends().unwrap_or_default()
    }
}

/// What a piece's outermost end asks for between its point and the grip.
fn before(laid: &Laid, on_right: bool, order: &RowOrder<'_>) -> f64 {
    let opens = laid
        .cuts(on_right)
        .map(|facet| order.kerf / facet.angle.sin());
    opens.reduce(f64::max).unwrap_or(order.rough)
}

impl RowOrder<'_> {
    /// From point to point where two ends meet that are not cut here, if any do.
    pub(crate) fn between_rough_ends(&self) -> Option<f64> {
        let one_left = self.cut_ends[0] != self.cut_ends[1];
        (one_left && self.mirrored).then_some(2.0 * self.rough + self.hand_kerf)
    }

    /// From the point of an end that is cut here to the middle of a hand saw's kerf beyond the other end, where
    /// that one is not. The point of an end that is still square is not seen in the wood.
    pub(crate) fn rough_end_from_point(&self) -> Option<f64> {
        let one_left = self.cut_ends[0] != self.cut_ends[1];
        one_left.then_some(self.length + self.rough + self.hand_kerf / 2.0)
    }

    /// How the pieces of a row lie in turn: the first one and its neighbour.
    fn laid(&self) -> [Laid; 2] {
        let second = if self.mirrored {
            self.first.mirrored()
        } else {
            self.first
        };
        [Laid::of(self, self.first), Laid::of(self, second)]
    }

    /// From each of them to the next piece.
    fn gaps(&self, [first, second]: &[Laid; 2]) -> [f64; 2] {
        [gap(first, second, self), gap(second, first, self)]
    }

    /// So many pieces in a row.
    pub(crate) fn row(&self, count: usize) -> Row {
        let both = self.laid();
        let gaps = self.gaps(&both);
        let [first, second] = &both;
        let mut row = Row {
            pieces: Vec::new(),
            cuts: Vec::new(),
            length: 0.0,
        };
        let mut from = self.grip + before(first, false, self);
        for at in 0..count {
            let odd = at % 2 == 1;
            let laid = if odd { second } else { first };
            row.pieces.push(InRow {
                lying: laid.lying,
                from,
            });
            for on_right in [false, true] {
                let cuts = laid.cuts(on_right);
                row.add(cuts.map(|facet| self.cut(facet, from)));
            }
            row.length = from + self.length + before(laid, true, self) + self.grip;
            from += self.length + gaps[usize::from(odd)];
        }
        row.cuts.sort_by(|a, b| a.near.total_cmp(&b.near));
        row
    }

    /// The corners of a piece in its stick.
    pub(crate) fn placed(&self, piece: &InRow) -> Vec<Point> {
        let at = |p: &Point| {
            let p = piece.lying.place(*p, self.length, self.thickness);
            Point::new(piece.from + p.x, p.y)
        };
        self.outline.iter().map(at).collect()
    }

    /// The most pieces in a row on a stick of a length.
    pub(crate) fn most(&self, stick: f64) -> usize {
        let both = self.laid();
        let gaps = self.gaps(&both);
        let [first, second] = &both;
        let mut from = self.grip + before(first, false, self);
        for count in 0..MOST_IN_ROW {
            let odd = count % 2 == 1;
            let last = if odd { second } else { first };
            let length = from + self.length + before(last, true, self) + self.grip;
            if length > stick + SAME_POSITION_MM {
                return count;
            }
            from += self.length + gaps[usize::from(odd)];
        }
        MOST_IN_ROW
    }

    fn cut(&self, facet: &FacetLine, from: f64) -> RowCut {
        let opens = self.kerf / facet.angle.sin();
        let left_of_it = if facet.on_right { 0.0 } else { opens };
        RowCut {
            angle: facet.angle,
            near: from + facet.at_fence - left_of_it,
            facets: 1,
        }
    }
}

/// More pieces than this in a row nobody cuts.
const MOST_IN_ROW: usize = 400;

impl Row {
    /// Adds cuts; one that is there already makes one facet more.
    fn add(&mut self, cuts: impl Iterator<Item = RowCut>) {
        for cut in cuts {
            let same = |known: &&mut RowCut| {
                known.angle.approx_eq(cut.angle, DIRECTION)
                    && known.near.approx_eq(cut.near, POSITION)
            };
            match self.cuts.iter_mut().find(same) {
                Some(known) => known.facets += cut.facets,
                None => self.cuts.push(cut),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    const UPRIGHT: Lying = Lying {
        reversed: false,
        left_away: true,
    };

    /// A bar with two points, ridges `offset` to the left of its axis at the second end.
    fn bar(length: f64, thickness: f64, angles: [f64; 2], offset: f64) -> Vec<Point> {
        let half = thickness / 2.0;
        let at = |distance: f64, angle: f64| distance / angle.to_radians().tan();
        let [a, b] = angles;
        vec![
            Point::new(0.0, 0.0),
            Point::new(at(half, a), -half),
            Point::new(length - at(half + offset, b), -half),
            Point::new(length, offset),
            Point::new(length - at(half - offset, b), half),
            Point::new(at(half, a), half),
        ]
    }

    fn order(outline: &[Point], length: f64, thickness: f64) -> RowOrder<'_> {
        RowOrder {
            outline,
            length,
            thickness,
            cut_ends: [true, true],
            first: UPRIGHT,
            mirrored: true,
            kerf: 2.2,
            rough: 2.0,
            hand_kerf: 1.0,
            grip: 55.0,
        }
    }

    fn nears(row: &Row, degrees: f64) -> Vec<f64> {
        let angle = degrees.to_radians();
        let of_it = row
            .cuts
            .iter()
            .filter(|cut| (cut.angle - angle).abs() < 1e-9);
        of_it.map(|cut| cut.near).collect()
    }

    #[test]
    fn ends_left_rough_are_apart_by_what_both_need_and_a_hand_saw() {
        let outline = bar(60.0, 2.6, [45.0, 45.0], 0.0);
        let one_end = |mirrored: bool| RowOrder {
            cut_ends: [true, false],
            mirrored,
            rough: 3.0,
            hand_kerf: 0.8,
            ..order(&outline, 60.0, 2.6)
        };
        // Of a row in which every second piece is turned, rough ends meet: 3 for each and the kerf.
        assert_eq!(one_end(true).between_rough_ends(), Some(6.8));
        assert_eq!(one_end(false).between_rough_ends(), None);
        assert_eq!(order(&outline, 60.0, 2.6).between_rough_ends(), None);
        // 60 long, 3 rough, half the kerf.
        let from_point = one_end(true).rough_end_from_point().unwrap();
        assert!(approx_eq!(f64, from_point, 63.4, epsilon = 1e-12));
        assert_eq!(order(&outline, 60.0, 2.6).rough_end_from_point(), None);
    }

    /// Worked out beside this program as polygons: pitch 45, thickness 2.6, kerf 2.2.
    #[test]
    fn diagonals_of_a_hemp_leaf_take_five_cuts_each_way() {
        let length = 42.4 * 2.0_f64.sqrt();
        let outline = bar(length, 2.6, [45.0, 45.0], 0.0);
        let row = order(&outline, length, 2.6).row(4);
        let step = 63.073_9;
        for (degrees, first) in [(45.0, 53.7), (135.0, 56.3)] {
            let found = nears(&row, degrees);
            assert_eq!(found.len(), 5);
            for (at, near) in found.iter().enumerate() {
                let meant = first + step * at as f64;
                assert!(approx_eq!(f64, *near, meant, epsilon = 2e-4), "{near}");
            }
        }
        let facets: usize = row.cuts.iter().map(|cut| cut.facets).sum();
        assert_eq!(facets, 16);
    }

    /// The same for its hinges: ridges 0.3985 off the axis, the sharp ends left for the bench.
    #[test]
    fn hinges_lie_mirrored_and_leave_room_for_a_saw_between_their_sharp_ends() {
        let angle = 67.5_f64.to_radians();
        let offset = 2.6 * (angle.sin() / 2.0_f64.sqrt() - 0.5);
        let leg = 42.4 - 2.6 / 2.0_f64.sqrt();
        let inradius = leg * (2.0 - 2.0_f64.sqrt()) / 2.0;
        let length = inradius / 22.5_f64.to_radians().sin() - offset / angle.tan();
        let outline = bar(length, 2.6, [22.5, 67.5], offset);
        let row = RowOrder {
            cut_ends: [false, true],
            grip: 40.0,
            ..order(&outline, length, 2.6)
        };
        let row = row.row(10);
        for (degrees, first) in [(67.5, 72.175_8), (112.5, 73.582_9)] {
            let found = nears(&row, degrees);
            assert_eq!(found.len(), 5);
            for (at, near) in found.iter().enumerate() {
                let meant = first + 69.140 * at as f64;
                assert!(approx_eq!(f64, *near, meant, epsilon = 2e-4), "{near}");
            }
        }
    }

    #[test]
    fn no_kerf_comes_into_a_piece() {
        for (angles, offset) in [
            ([45.0, 45.0], 0.0),
            ([30.0, 60.0], 0.4),
            ([22.5, 67.5], -0.3),
        ] {
            for mirrored in [false, true] {
                let outline = bar(30.0, 3.0, angles, offset);
                let order = RowOrder {
                    mirrored,
                    ..order(&outline, 30.0, 3.0)
                };
                let row = order.row(3);
                for piece in &row.pieces {
                    for p in order.placed(piece) {
                        for cut in &row.cuts {
                            let into = p.x - (cut.near + p.y / cut.angle.tan());
                            let inside = into > 1e-6 && into < 2.2 / cut.angle.sin() - 1e-6;
                            assert!(!inside, "{angles:?} {mirrored} {p:?} {cut:?}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn a_stick_takes_as_many_as_fit() {
        let outline = bar(17.2325, 2.6, [45.0, 45.0], 0.0);
        let order = order(&outline, 17.2325, 2.6);
        assert_eq!(order.most(440.0), 16);
        assert!(order.row(16).length <= 440.0 && order.row(17).length > 440.0);
        assert_eq!(order.most(100.0), 0);
    }
}
