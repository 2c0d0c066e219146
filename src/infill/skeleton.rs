//! From a pattern's points to the axes of all pieces of a cell, mirrored copies included.

use super::cell::Cell;
use super::clipping::HalfPlane;
use super::pattern::{MirrorRule, Pattern, PatternLine, PatternPoint, PieceRule, PieceSide};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, crossing_fractions};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;

/// A piece before its ends are cut: a band about an axis.
#[derive(Debug, Clone)]
pub(super) struct Bar {
    pub(super) name: String,
    /// Field of the pattern that describes it.
    pub(super) field: String,
    pub(super) from: Point,
    pub(super) to: Point,
    /// Unit vector from `from` to `to`.
    pub(super) along: Vector,
    pub(super) against: Vec<String>,
    pub(super) laps: Vec<String>,
    /// Its own wood.
    pub(super) stock: PieceStock,
    /// Whether it ends as a horn: at `from`, at `to`.
    pub(super) horns: [bool; 2],
    /// The pieces whose corner it takes in a mouth: at `from`, at `to`.
    pub(super) mouths: [Option<[String; 2]>; 2],
    /// Whether it runs on over the strip there.
    pub(super) over: [bool; 2],
}

/// A point where ends share facet planes, and the jig angles (left, right) that are given there.
#[derive(Debug, Clone)]
pub(super) struct Joint {
    /// Field of the pattern that describes it.
    pub(super) field: String,
    pub(super) at: Point,
    pub(super) jig: Vec<(String, [f64; 2])>,
}

/// All pieces and junctions of a cell.
#[derive(Debug, Clone, Default)]
pub(super) struct Skeleton {
    pub(super) bars: Vec<Bar>,
    pub(super) joints: Vec<Joint>,
}

impl Bar {
    /// Unit vector to the left.
    pub(super) fn left(&self) -> Vector {
        Vector::new(-self.along.y, self.along.x)
    }

    /// Signed distance of a point from the axis, positive to the left.
    pub(super) fn offset(&self, point: Point) -> f64 {
        self.from.to(point).dot(self.left())
    }

    /// The middle of its axis.
    pub(super) fn middle(&self) -> Point {
        Point::new(
            f64::midpoint(self.from.x, self.to.x),
            f64::midpoint(self.from.y, self.to.y),
        )
    }

    /// Whether an end, 0 for `from`, shares facets with others at its point: neither horns nor mouths do.
    pub(super) fn joins(&self, end: usize) -> bool {
        let is_horn = self.horns.get(end).is_some_and(|horn| *horn);
        let is_mouth = self.mouths.get(end).is_some_and(Option::is_some);
        !is_horn && !is_mouth
    }

    /// Half as thick as it is, mm.
    pub(super) fn half(&self) -> f64 {
        self.stock.thickness / 2.0
    }

    /// The half plane of a long side that holds the piece.
    pub(super) fn side(&self, side: PieceSide) -> HalfPlane {
        let out = match side {
            PieceSide::Left => self.left(),
            PieceSide::Right => -self.left(),
        };
        HalfPlane {
            on: self.from + out * self.half(),
            inward: -out,
        }
    }

    /// The planes square to the axis in which its horns end.
    pub(super) fn horn_ends(&self) -> impl Iterator<Item = HalfPlane> {
        let ends = [(self.from, self.along), (self.to, -self.along)];
        let ends = ends.into_iter().zip(self.horns);
        ends.filter_map(|((on, inward), is_horn)| is_horn.then_some(HalfPlane { on, inward }))
    }
}

/// Two positions that are one.
pub(super) fn same(one: Point, other: Point) -> bool {
    one.approx_eq(other, POSITION)
}

/// Works out all axes.
///
/// # Errors
/// Points that lines do not give, axes without a length, ends outside the cell.
pub(super) fn skeleton(
    pattern: &Pattern,
    cell: &Cell,
    stock: PieceStock,
) -> Result<Skeleton, Vec<Finding>> {
    let mut found = Vec::new();
    let mut skeleton = Skeleton::default();
    let points = Points {
        pattern,
        cell,
        stock,
    };
    for (index, rule) in pattern.pieces.iter().enumerate() {
        let field = format!("piece[{index}]");
        match points.bar(&field, rule, &skeleton.bars) {
            Ok(bar) => skeleton.bars.push(bar),
            // What lies on this piece cannot be found either.
            Err(fault) => return Err(vec![fault]),
        }
    }
    for (index, rule) in pattern.junctions.iter().enumerate() {
        match points.find(&rule.at, &skeleton.bars) {
            Ok(at) => skeleton.joints.push(Joint {
                field: format!("junction[{index}]"),
                at,
                jig: rule.jig.clone(),
            }),
            Err(fault) => found.push(fault),
        }
    }
    for (index, rule) in pattern.mirrors.iter().enumerate() {
        let field = format!("mirror[{index}]");
        let line = rule
            .across
            .each_ref()
            .map(|name| points.find(name, &skeleton.bars));
        match line {
            [Ok(p), Ok(q)] => match p.to(q).unit() {
                Some(along) if !same(p, q) => mirror(&mut skeleton, rule, &field, p, along),
                _ => found.push(no_length(format!("{field}.across"), "the mirror's line")),
            },
            [one, other] => found.extend(one.err().into_iter().chain(other.err())),
        }
    }
    found.extend(skeleton.bars.iter().filter_map(|bar| outside(cell, bar)));
    if found.is_empty() {
        Ok(skeleton)
    } else {
        Err(found)
    }
}

fn no_length(field: String, what: &str) -> Finding {
    let text = format!("{what} has no length: both its points lie at the same place");
    Finding::error("no-length", field, text).hint("choose two points that lie apart")
}

/// An end that lies outside the cell.
fn outside(cell: &Cell, bar: &Bar) -> Option<Finding> {
    for (key, point) in [("from", bar.from), ("to", bar.to)] {
        for ((p, q), wall) in cell.walls().zip(cell.shape().walls()) {
            let beyond = p
                .to(q)
                .unit()
                .map_or(0.0, |along| point_right_of(p, along, point));
            if beyond > SAME_POSITION_MM {
                let text = phrase!(
                    "`{}` leaves the cell: its end lies {} beyond the wall `{}`",
                    &bar.name,
                    Mm(beyond),
                    *wall
                );
                let field = format!("{}.{key}", bar.field);
                return Some(
                    Finding::error("leaves-cell", field, text)
                        .hint("points of a piece lie in the cell or on its walls"),
                );
            }
        }
    }
    None
}

fn point_right_of(on: Point, along: Vector, point: Point) -> f64 {
    -along.cross(on.to(point))
}

/// Where the points of a pattern lie in a cell.
struct Points<'a> {
    pattern: &'a Pattern,
    cell: &'a Cell,
    stock: PieceStock,
}

impl Points<'_> {
    fn bar(&self, field: &str, rule: &PieceRule, bars: &[Bar]) -> Result<Bar, Finding> {
        let from = self.find(&rule.from, bars)?;
        let to = self.find(&rule.to, bars)?;
        let along = from.to(to).unit().filter(|_| !same(from, to));
        let along = along
            .ok_or_else(|| no_length(field.to_owned(), &format!("the piece `{}`", rule.name)))?;
        let stock = self.stock.share(rule.section);
        let [before, beyond] = rule.horns.map(|horn| horn.unwrap_or(0.0) * stock.thickness);
        Ok(Bar {
            name: rule.name.clone(),
            field: field.to_owned(),
            from: from - along * before,
            to: to + along * beyond,
            along,
            against: rule.against.clone(),
            laps: rule.laps.clone(),
            stock,
            horns: rule.horns.map(|horn| horn.is_some()),
            mouths: rule.mouths.clone(),
            over: rule.over,
        })
    }

    fn find(&self, name: &str, bars: &[Bar]) -> Result<Point, Finding> {
        let corners = self.cell.shape().corners().iter();
        if let Some((_, corner)) = corners.zip(self.cell.corners()).find(|(n, _)| **n == name) {
            return Ok(*corner);
        }
        let field = format!("points.{name}");
        let place = self.pattern.points.iter().find(|(n, _)| n == name);
        let Some((_, place)) = place else {
            return Err(Finding::error(
                "unknown-point",
                field,
                "there is no such point",
            ));
        };
        let meet = |a, b| -> Result<Point, Finding> {
            let a = self.line(&field, a, bars)?;
            let b = self.line(&field, b, bars)?;
            meeting(a, b).ok_or_else(|| {
                Finding::error(
                    "lines-do-not-meet",
                    &field,
                    "two of these lines are parallel",
                )
                .hint("name lines that cross")
            })
        };
        match place {
            PatternPoint::Fraction { x, y } => Ok(self.cell.at(*x, *y)),
            PatternPoint::Meet([a, b]) => meet(a, b),
            PatternPoint::Incentre([a, b, c]) => incentre([meet(b, c)?, meet(c, a)?, meet(a, b)?])
                .ok_or_else(|| {
                    Finding::error("no-length", &field, "the three lines run through one point")
                        .hint("name lines that form a triangle")
                }),
        }
    }

    fn line(&self, field: &str, line: &PatternLine, bars: &[Bar]) -> Result<PointedLine, Finding> {
        let found = match line {
            PatternLine::Wall(name) => {
                let mut walls = self.cell.shape().walls().iter().zip(self.cell.walls());
                let wall = walls.find(|(n, _)| *n == name).map(|(_, wall)| wall);
                wall.and_then(|(on, end)| {
                    let along = on.to(end).unit()?;
                    Some(PointedLine { on, along })
                })
            }
            PatternLine::Side { piece, side } => {
                let bar = bars.iter().find(|bar| bar.name == *piece);
                bar.map(|bar| PointedLine {
                    on: bar.side(*side).on,
                    along: bar.along,
                })
            }
        };
        found.ok_or_else(|| Finding::error("unknown-line", field, "there is no such line"))
    }
}

/// A line without ends.
#[derive(Clone, Copy)]
struct PointedLine {
    on: Point,
    /// A unit vector.
    along: Vector,
}

/// Where two lines meet.
fn meeting(one: PointedLine, other: PointedLine) -> Option<Point> {
    let one_end = one.on + one.along;
    let other_end = other.on + other.along;
    crossing_fractions(one.on, one_end, other.on, other_end).map(|(at, _)| one.on + one.along * at)
}

/// Centre of a triangle's inscribed circle: the corners weighted with the lengths of the sides
/// that lie opposite (standard plane geometry; from memory).
fn incentre(corners: [Point; 3]) -> Option<Point> {
    let [a, b, c] = corners;
    let u = b.to(c).length();
    let v = c.to(a).length();
    let w = a.to(b).length();
    let around = u + v + w;
    (around > SAME_POSITION_MM).then(|| {
        Point::new(
            (u * a.x + v * b.x + w * c.x) / around,
            (u * a.y + v * b.y + w * c.y) / around,
        )
    })
}

/// Adds the copies of one mirror: pieces with their ends, what they stand against and lap, and the
/// junctions at which the copies end, with jig angles whose sides are swapped.
fn mirror(skeleton: &mut Skeleton, rule: &MirrorRule, field: &str, on: Point, along: Vector) {
    // A vector's part along the line stays, the part square to it turns round.
    let reflected = |v: Vector| along * (2.0 * v.dot(along)) - v;
    let image = |p: Point| on + reflected(on.to(p));
    let renamed = |name: &String| {
        let copy = rule.copies.iter().find(|(original, _)| original == name);
        copy.map_or(name, |(_, copy)| copy).clone()
    };
    let mut copies = Vec::new();
    for (original, copy) in &rule.copies {
        let Some(bar) = skeleton.bars.iter().find(|bar| bar.name == *original) else {
            continue;
        };
        copies.push(Bar {
            name: copy.clone(),
            field: format!("{field}.copies.{original}"),
            from: image(bar.from),
            to: image(bar.to),
            along: reflected(bar.along),
            against: bar.against.iter().map(renamed).collect(),
            laps: bar.laps.iter().map(renamed).collect(),
            stock: bar.stock,
            horns: bar.horns,
            mouths: (bar.mouths.each_ref())
                .map(|mates| mates.as_ref().map(|mates| mates.each_ref().map(renamed))),
            over: bar.over,
        });
    }
    for mut joint in skeleton.joints.clone() {
        let is_copied = |(name, _): &(String, _)| rule.copies.iter().any(|(o, _)| o == name);
        joint.jig.retain(is_copied);
        for (name, angles) in &mut joint.jig {
            *name = renamed(name);
            angles.reverse();
        }
        joint.at = image(joint.at);
        let ends_here = |bar: &Bar| {
            let at_from = bar.joins(0) && same(bar.from, joint.at);
            at_from || bar.joins(1) && same(bar.to, joint.at)
        };
        if !copies.iter().any(ends_here) {
            continue;
        }
        match skeleton
            .joints
            .iter_mut()
            .find(|known| same(known.at, joint.at))
        {
            Some(known) => known.jig.extend(joint.jig),
            None => skeleton.joints.push(joint),
        }
    }
    skeleton.bars.extend(copies);
}
