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
//! `s (1 / cos(b / 2) - 1)` short of the drawn one.

use super::bar::{Bar, Joint, Skeleton, same};
use super::contact::{Contact, Polygon, facing, joined};
use super::pattern::PieceSide;
use super::piece_figures::{Figures, PieceFold, figures, own_frame};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// A bend of less than this is none: the pieces go on in line, rad (1 degree).
const LEAST_BEND: f64 = 0.01745;

/// So many thicknesses of whole wood stay on either side of a V, to hold it by. Common practice, no source.
const LEAST_LEG: f64 = 1.0;

/// Pieces that are one strip, in the order along it.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    field: String,
    arms: Vec<Arm>,
}

/// A piece of a folded strip.
#[derive(Debug, Clone, Copy)]
struct Arm {
    bar: usize,
    /// Whether the strip goes from its `to` to its `from`.
    reversed: bool,
}

/// A strip before it is bent.
#[derive(Debug, Clone)]
pub(super) struct Unfolded {
    /// Counter-clockwise in its own frame, its V cut.
    pub(super) outline: Vec<Point>,
    pub(super) figures: Figures,
}

impl Chain {
    /// Indices of its pieces.
    pub(super) fn bars(&self) -> Vec<usize> {
        self.arms.iter().map(|arm| arm.bar).collect()
    }

    fn error(&self, code: &'static str, text: impl Into<Phrase>) -> Finding {
        Finding::error(code, self.field.as_str(), text)
    }
}

/// Lets the pieces of every fold meet in a mitre.
pub(super) fn add_joints(skeleton: &mut Skeleton) {
    let mut joints = Vec::new();
    for fold in &skeleton.folds {
        let bars = fold.pieces.iter();
        let bars = bars.filter_map(|name| skeleton.bars.iter().find(|bar| bar.name == *name));
        let bars: Vec<&Bar> = bars.collect();
        for pair in bars.windows(2) {
            let [one, other] = pair else { continue };
            let met = one
                .ends()
                .into_iter()
                .find(|p| other.ends().iter().any(|q| same(*p, *q)));
            let Some(at) = met else { continue };
            let known = skeleton.joints.iter().chain(&joints);
            if !known.clone().any(|joint: &Joint| same(joint.at, at)) {
                joints.push(Joint {
                    field: fold.field.clone(),
                    at,
                    jig: Vec::new(),
                });
            }
        }
    }
    skeleton.joints.extend(joints);
}

/// The folded strips of a cell.
///
/// # Errors
/// Pieces that cannot be one strip.
pub(super) fn chains(skeleton: &Skeleton) -> Result<Vec<Chain>, Vec<Finding>> {
    let mut chains = Vec::new();
    let mut found = Vec::new();
    for fold in &skeleton.folds {
        let index = |name: &String| skeleton.bars.iter().position(|bar| bar.name == *name);
        let bars: Vec<usize> = fold.pieces.iter().filter_map(index).collect();
        let chain = Chain {
            field: fold.field.clone(),
            arms: Vec::new(),
        };
        match chain.through(&bars, &skeleton.bars) {
            Ok(chain) => {
                found.extend(chain.faults(skeleton));
                chains.push(chain);
            }
            Err(fault) => found.push(fault),
        }
    }
    found.dedup();
    if found.is_empty() {
        Ok(chains)
    } else {
        Err(found)
    }
}

impl Chain {
    /// The same with these pieces, each turned so that it begins where the one before it ends.
    fn through(mut self, indices: &[usize], bars: &[Bar]) -> Result<Chain, Finding> {
        let get = |at: Option<&usize>| at.and_then(|at| bars.get(*at));
        let mut end: Option<Point> = None;
        for (nth, index) in indices.iter().enumerate() {
            let Some(bar) = bars.get(*index) else {
                continue;
            };
            let next = get(indices.get(nth + 1));
            let reversed = match (end, next) {
                (Some(end), _) if same(bar.from, end) => false,
                (Some(end), _) if same(bar.to, end) => true,
                (Some(_), _) => {
                    let before = get(nth.checked_sub(1).and_then(|at| indices.get(at)));
                    return Err(self.apart(before, bar));
                }
                (None, Some(next)) => !next.ends().iter().any(|p| same(*p, bar.to)),
                (None, None) => false,
            };
            end = Some(if reversed { bar.from } else { bar.to });
            self.arms.push(Arm {
                bar: *index,
                reversed,
            });
        }
        Ok(self)
    }

    fn apart(&self, before: Option<&Bar>, bar: &Bar) -> Finding {
        let before = before.map_or("", |bar| bar.name.as_str());
        let text = format!(
            "`{before}` does not end where `{}` begins: they are no one strip",
            bar.name
        );
        self.error("fold-apart", text)
            .hint("name the pieces in the order along the strip, the end of each at the next one's")
    }

    /// Where a piece of it begins and ends, along the strip.
    fn axis(&self, arm: Arm, bars: &[Bar]) -> Option<[Point; 2]> {
        let [from, to] = bars.get(arm.bar)?.ends();
        Some(if arm.reversed { [to, from] } else { [from, to] })
    }

    /// What keeps it from being a strip, before anything is cut.
    fn faults(&self, skeleton: &Skeleton) -> Vec<Finding> {
        let bars = &skeleton.bars;
        let mut found: Vec<Finding> = self
            .arms
            .iter()
            .filter_map(|arm| self.cannot_fold(bars.get(arm.bar)?, bars))
            .collect();
        for pair in self.arms.windows(2) {
            let &[one, other] = pair else { continue };
            let both = bars.get(one.bar).zip(bars.get(other.bar));
            if let Some((one_bar, other_bar)) = both {
                found.extend(self.cannot_bend((one_bar, other_bar), [one, other], skeleton));
            }
        }
        found
    }

    /// A piece that cannot be a part of a folded strip.
    fn cannot_fold(&self, bar: &Bar, bars: &[Bar]) -> Option<Finding> {
        let name = &bar.name;
        if bar.over.contains(&true) {
            let text =
                format!("`{name}` runs on over a strip: it is one straight piece with its like");
            let hint = "leave out `over`, or this fold";
            return Some(self.error("over-and-fold", text).hint(hint));
        }
        let mut others = bars.iter();
        let above = others.find(|other| other.laps.contains(name));
        let mate = bar.laps.first().or(above.map(|other| &other.name))?;
        let text = format!("`{name}` and `{mate}` lap: a folded strip takes no half laps");
        let hint = format!(
            "let `{mate}` stand `against` `{name}`; or leave `{name}` out of the fold and join it in a [[junction]]"
        );
        Some(self.error("fold-and-lap", text).hint(hint))
    }

    /// Two pieces that follow each other and cannot be bent into each other.
    fn cannot_bend(
        &self,
        (one, other): (&Bar, &Bar),
        arms: [Arm; 2],
        skeleton: &Skeleton,
    ) -> Option<Finding> {
        let names = format!("`{}` and `{}`", one.name, other.name);
        if !one.stock.is_like(&other.stock) {
            let text = format!("{names} are one strip and have not one thickness and depth");
            let hint = "give both the same `thickness` and `depth`";
            return Some(self.error("fold-of-two-woods", text).hint(hint));
        }
        let PieceStock {
            thickness, skin, ..
        } = one.stock;
        if skin > thickness - SAME_POSITION_MM {
            let text = phrase!(
                "a skin of {} is as thick as {}, {}: no V is cut",
                Mm(skin),
                names,
                Mm(thickness)
            );
            return Some(
                self.error("fold-skin-too-thick", text).hint(
                    "some tenths of a millimetre are left: `fold_skin` in the job's [infill]",
                ),
            );
        }
        let [first, second] = [
            self.axis(arms[0], &skeleton.bars)?,
            self.axis(arms[1], &skeleton.bars)?,
        ];
        let at = first[1];
        let bend = turn(first, second);
        if bend.abs() < LEAST_BEND {
            let text = format!("{names} go on in line: there is nothing to fold");
            let hint = "make them one piece, or move the point where they meet";
            return Some(self.error("fold-straight", text).hint(hint));
        }
        if std::f64::consts::PI - bend.abs() < LEAST_BEND {
            let text = format!("{names} lie on each other: a strip is not folded flat");
            let hint = "let them run to different sides of the point where they meet";
            return Some(self.error("fold-flat", text).hint(hint));
        }
        let free = [(one, at), (other, at)].into_iter().find(|(bar, at)| {
            let end = usize::from(same(bar.to, *at));
            !bar.joins(end)
        });
        if let Some((bar, _)) = free {
            let text = format!(
                "the end of `{}` at the bend is a horn or a bird's mouth",
                bar.name
            );
            let hint = "leave it out there: the strip goes on round the bend";
            return Some(self.error("fold-and-end", text).hint(hint));
        }
        self.shared(names, at, [one, other], skeleton)
    }

    /// A bend at which another piece ends too, or jig angles are given.
    fn shared(
        &self,
        names: String,
        at: Point,
        own: [&Bar; 2],
        skeleton: &Skeleton,
    ) -> Option<Finding> {
        let ends_here = |bar: &&Bar| {
            let [from, to] = [0, 1].map(|end| bar.joins(end));
            let is_own = own.iter().any(|own| own.name == bar.name);
            !is_own && (from && same(bar.from, at) || to && same(bar.to, at))
        };
        if let Some(third) = skeleton.bars.iter().find(ends_here) {
            let text = format!(
                "`{}` ends in the bend of {names}: its mitre would cut their skin",
                third.name
            );
            let hint = format!(
                "on the outer side of the bend let it take the corner: mouth = {{ to = [\"{}\", \"{}\"] }}, or `from`; on the inner side let it stand `against` both, its end at a point of its own",
                own[0].name, own[1].name
            );
            return Some(self.error("fold-shared", text).hint(hint));
        }
        let joint = skeleton.joints.iter().find(|joint| same(joint.at, at))?;
        (!joint.jig.is_empty()).then(|| {
            let text = format!("{names} are folded here: a V closes on the plane between them");
            let hint = "leave out `jig`, or this fold";
            Finding::error("fold-with-jig", format!("{}.jig", joint.field), text).hint(hint)
        })
    }
}

/// From one axis to the next, to the left positive, rad.
fn turn(one: [Point; 2], other: [Point; 2]) -> f64 {
    let (u, v) = (one[0].to(one[1]), other[0].to(other[1]));
    u.cross(v).atan2(u.dot(v))
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
