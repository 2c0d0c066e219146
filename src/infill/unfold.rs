//! Folded pieces: one strip, cut nearly through by a V and bent there.
//!
//! Two pieces whose axes enclose the angle A at a point turn by `b = pi - A` there. Their mitre is the plane
//! that bisects A; as far as it goes they look as if each were a piece of its own. As one strip they are cut
//! by a V from the inner side of the bend, each of its walls `b / 2` from square, down to the skin `s` that
//! holds on the outer side. Wood t thick, lengths along the strip:
//!
//! A wall is the mitre of its piece, from the inner side as far as the skin, and that ends `s tan(b / 2)`
//! short of the mitre's outer corner: there lies the V's point. Closed, both walls lie on each other all
//! along and have the point in common, so the strip was turned about that point by b, whatever the skin did
//! meanwhile: two rigid pieces that share a line and a plane through it can have moved in no other way. Unfolded
//! again, the feet of the point on the two outer faces, each `s tan(b / 2)` from the outer corner, come to lie
//! on each other. So
//!
//! - the unfolded strip is shorter along its outer face than both pieces' outer sides by `2 s tan(b / 2)`,
//! - the V lies where the outer side of either piece ends, less `s tan(b / 2)`,
//! - along the axis the second piece begins `2 (t / 2 - s) tan(b / 2)` after the first one ended,
//! - the V is `t - s` deep and `2 (t - s) tan(b / 2)` wide at the inner side, where both inner sides keep their
//!   lengths.
//!
//! The skin itself goes round the point in an arc of radius s, where it lay flat before: its outermost fibres
//! would have to grow by `s b`. That is why it is thin and wetted, and the corner comes out round,
//! `s (1 / cos(b / 2) - 1)` short of the drawn one. Where these fibres keep their length instead and wood is
//! pressed together at the V's point, the strip turns about a line between that point and the outer face: about
//! the outer face at the most, where both outer faces then meet, each leg `s tan(b / 2)` shorter than drawn.

use super::bar::Bar;
use super::contact::{Contact, Polygon, facing, joined};
use super::fold::{Chain, turn};
use super::pattern::PieceSide;
use super::piece_figures::{Figures, PieceFold, figures, own_frame};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::phrase;
use crate::units::Mm;

/// So many thicknesses of whole wood stay on either side of a V, to hold it by. Common practice, no source.
const LEAST_LEG: f64 = 1.0;

/// A strip before it is bent.
#[derive(Debug, Clone)]
pub(super) struct Unfolded {
    /// Counter-clockwise in its own frame, its V cut.
    pub(super) outline: Vec<Point>,
    pub(super) figures: Figures,
}

/// A bend on the unfolded strip, whose axis is the line y = 0.
#[derive(Debug, Clone, Copy)]
struct Bend {
    /// The V's point.
    point: Point,
    /// Half the V's width at the inner side.
    half_wide: f64,
    /// Of the inner side, 1 for the left one.
    side: f64,
    angle: f64,
}

impl Chain {
    /// The strip laid straight, with its V's.
    ///
    /// # Errors
    /// Bends that something else cuts, legs too short.
    pub(super) fn unfolded(&self, bars: &[Bar], polygons: &[Polygon]) -> Result<Unfolded, Finding> {
        let nothing = || self.error("piece-vanishes", "nothing is left of the strip");
        let (laid, bends) = self.laid(bars, polygons).ok_or_else(nothing)?;
        if let Some(fault) = self.cut_at_bend(bars, polygons) {
            return Err(fault);
        }
        let (first, last) = laid.first().zip(laid.last()).ok_or_else(nothing)?;
        let origin = Point::default();
        let (outline, start) = own_frame(origin, Vector::new(1.0, 0.0), &joined(first, last));
        let stock = self.arms.first().and_then(|arm| bars.get(arm.bar));
        let stock = stock.map(|bar| bar.stock).ok_or_else(nothing)?;
        let bends: Vec<Bend> = bends.into_iter().map(|bend| bend.moved(-start)).collect();
        self.legs(&outline, &bends, stock)?;
        let mut figures = figures(&outline).ok_or_else(nothing)?;
        let fold = |bend: &Bend| bend.figures(&outline, stock);
        figures.folds = bends.iter().map(fold).collect();
        Ok(Unfolded {
            outline: with_notches(&outline, &bends, stock.thickness / 2.0),
            figures,
        })
    }

    /// The pieces' polygons on the straight strip, with the bends between them.
    fn laid(&self, bars: &[Bar], polygons: &[Polygon]) -> Option<(Vec<Polygon>, Vec<Bend>)> {
        let mut laid = Vec::new();
        let mut bends = Vec::new();
        let mut start = 0.0;
        for (nth, arm) in self.arms.iter().enumerate() {
            let axis = self.axis(*arm, bars)?;
            let along = axis[0].to(axis[1]).unit()?;
            let left = Vector::new(-along.y, along.x);
            let on_strip = |(p, tag): &(Point, Contact)| {
                let way = axis[0].to(*p);
                (Point::new(start + way.dot(along), way.dot(left)), *tag)
            };
            let polygon = facing(polygons.get(arm.bar)?, arm.reversed);
            laid.push(polygon.iter().map(on_strip).collect());
            let Some(next) = self.arms.get(nth + 1) else {
                continue;
            };
            let PieceStock {
                thickness, skin, ..
            } = bars.get(arm.bar)?.stock;
            let turn = turn(axis, self.axis(*next, bars)?);
            let slope = (turn.abs() / 2.0).tan();
            // Of the V's point from the axis, toward the outer side.
            let aside = thickness / 2.0 - skin;
            let end = start + axis[0].to(axis[1]).length();
            bends.push(Bend {
                point: Point::new(end + aside * slope, -turn.signum() * aside),
                half_wide: (thickness - skin) * slope,
                side: turn.signum(),
                angle: turn.abs(),
            });
            start = end + 2.0 * aside * slope;
        }
        Some((laid, bends))
    }

    /// A bend whose mitre something else cuts: then its walls do not close all along.
    fn cut_at_bend(&self, bars: &[Bar], polygons: &[Polygon]) -> Option<Finding> {
        self.arms.windows(2).find_map(|pair| {
            let &[one, other] = pair else { return None };
            [(one, other, 1), (other, one, 0)].into_iter().find_map(|(arm, mate, end)| {
                let bar = bars.get(arm.bar)?;
                let at = self.axis(arm, bars)?[end];
                let polygon = polygons.get(arm.bar)?;
                let facet = edges(polygon).find(|(_, _, tag)| *tag == Contact::FacetOf(mate.bar));
                let half = facet.map(|(p, q, _)| {
                    [p, q].map(|corner| (bar.offset(corner).abs(), corner))
                });
                let is_whole = half.is_some_and(|ends| {
                    ends.iter().all(|(off, _)| (off - bar.half()).abs() < SAME_POSITION_MM)
                });
                (!is_whole).then(|| {
                    let text = phrase!(
                        "something else cuts `{}` at its bend ({} from its other end): the V would not close",
                        &bar.name,
                        Mm(bar.ends().map(|p| p.to(at).length()).into_iter().fold(0.0, f64::max))
                    );
                    self.error("fold-cut-off", text).hint(
                        "move the bend away from walls and other pieces, or let those stand `against` its sides",
                    )
                })
            })
        })
    }

    /// Legs between V's, and beside the first and the last of them.
    fn legs(&self, outline: &Polygon, bends: &[Bend], stock: PieceStock) -> Result<(), Finding> {
        let half = stock.thickness / 2.0;
        let [left, right] = [half, -half].map(|y| long_side(outline, y));
        let mut clear = left[0].max(right[0]);
        let least = LEAST_LEG * stock.thickness;
        let ends = bends
            .iter()
            .map(|bend| [bend.point.x - bend.half_wide, bend.point.x + bend.half_wide]);
        let end = left[1].min(right[1]);
        for [low, high] in ends.chain([[end, end]]) {
            let leg = low - clear;
            if leg < least - SAME_POSITION_MM {
                let text = phrase!(
                    "a leg of this strip is {} long beside its V, {} thick: too short to hold while it is bent",
                    Mm(leg.max(0.0)),
                    Mm(stock.thickness)
                );
                return Err(self.error("fold-leg-short", text).hint(phrase!(
                    "at least {} of whole wood stay between a V and an end, or the next V: take thinner pieces, a larger cell, a blunter bend; or leave the fold out and join the pieces in a [[junction]]",
                    Mm(least)
                )));
            }
            clear = high;
        }
        Ok(())
    }
}

impl Bend {
    fn moved(self, by: f64) -> Bend {
        Bend {
            point: Point::new(self.point.x + by, self.point.y),
            ..self
        }
    }

    fn figures(&self, outline: &Polygon, stock: PieceStock) -> PieceFold {
        let outer = long_side(outline, -self.side * stock.thickness / 2.0);
        PieceFold {
            at: self.point.x,
            angle: self.angle,
            inner: if self.side > 0.0 {
                PieceSide::Left
            } else {
                PieceSide::Right
            },
            depth: stock.thickness - stock.skin,
            skin: stock.skin,
            outer: [self.point.x - outer[0], outer[1] - self.point.x],
        }
    }

    /// Its corners as they come on the way round the strip.
    fn corners(&self, half: f64) -> [Point; 3] {
        let corner = |x: f64| Point::new(self.point.x + x, self.side * half);
        // The right side runs along the strip, the left one back.
        let first = self.side * self.half_wide;
        [corner(first), self.point, corner(-first)]
    }
}

fn edges(polygon: &Polygon) -> impl Iterator<Item = (Point, Point, Contact)> + '_ {
    let next = polygon.iter().cycle().skip(1);
    polygon
        .iter()
        .zip(next)
        .map(|((p, tag), (q, _))| (*p, *q, *tag))
}

/// Where the long side at a height begins and ends.
fn long_side(outline: &Polygon, y: f64) -> [f64; 2] {
    let on_side = outline
        .iter()
        .filter(|(p, _)| (p.y - y).abs() < SAME_POSITION_MM);
    on_side.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], (p, _)| {
        [low.min(p.x), high.max(p.x)]
    })
}

/// The outline with the V's cut out of its long sides.
fn with_notches(outline: &Polygon, bends: &[Bend], half: f64) -> Vec<Point> {
    let mut ring = Vec::new();
    for (p, _, tag) in edges(outline) {
        ring.push(p);
        let side = match tag {
            Contact::OwnSide(PieceSide::Left) => 1.0,
            Contact::OwnSide(PieceSide::Right) => -1.0,
            _ => continue,
        };
        let mut here: Vec<&Bend> = bends.iter().filter(|bend| bend.side * side > 0.0).collect();
        here.sort_by(|a, b| (side * b.point.x).total_cmp(&(side * a.point.x)));
        ring.extend(here.into_iter().flat_map(|bend| bend.corners(half)));
    }
    ring
}
