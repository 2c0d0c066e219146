//! From a pattern's points to the axes of all pieces of a cell, copies included.

use super::cell::Cell;
use super::copies::{Motion, mirror, turn};
use super::fold::add_joints;
use super::order::order;
use super::pattern::{LineRule, MirrorRule, Pattern, PatternLine, PatternPoint, PieceRule};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, crossing_fractions};
use crate::phrase;
use crate::units::{AtMost, Mm};

use super::bar::FoldedBars;
pub(super) use super::bar::{Bar, Joint, Skeleton, same};

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
    found.extend(points.copies(&mut skeleton));
    let folded = pattern.folded().into_iter();
    skeleton.folds = folded
        .map(|(field, pieces)| FoldedBars { field, pieces })
        .collect();
    add_joints(&mut skeleton);
    found.extend(skeleton.bars.iter().filter_map(|bar| outside(cell, bar)));
    found.extend(too_thick(pattern, cell, stock.thickness));
    found.extend(order(pattern, &mut skeleton.bars));
    if found.is_empty() {
        Ok(skeleton)
    } else {
        Err(found)
    }
}

/// Pieces thicker than the pattern is made for.
fn too_thick(pattern: &Pattern, cell: &Cell, thickness: f64) -> Option<Finding> {
    let greatest = pattern.greatest?;
    let thickest = Pattern::thickness_at(cell, greatest);
    if thickness < thickest + SAME_POSITION_MM {
        return None;
    }
    let text = phrase!(
        "pieces {} thick are too thick for this figure: in this opening it holds up to {}, with strips as thick {} of the pitch",
        Mm(thickness),
        AtMost(thickest),
        format!("{greatest}")
    );
    let hint = "take thinner pieces ([infill] thickness), a greater pitch, or another pattern";
    Some(Finding::error("too-thick", "greatest", text).hint(hint))
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
    /// Adds all copies, mirrored ones first; gives what is wrong with the mirrors' lines and with the
    /// points that pieces turn about.
    fn copies(&self, skeleton: &mut Skeleton) -> Vec<Finding> {
        let mut found = Vec::new();
        for (index, rule) in self.pattern.mirrors.iter().enumerate() {
            let table = format!("mirror[{index}]");
            match self.line_of(&table, rule, &skeleton.bars) {
                Ok(motion) => mirror(skeleton, &table, rule, motion),
                Err(faults) => found.extend(faults),
            }
        }
        for (index, rule) in self.pattern.turns.iter().enumerate() {
            match self.find(&rule.round, &skeleton.bars) {
                Ok(about) => turn(skeleton, &format!("turn[{index}]"), rule, about),
                Err(fault) => found.push(fault),
            }
        }
        found
    }

    fn line_of(
        &self,
        table: &str,
        rule: &MirrorRule,
        bars: &[Bar],
    ) -> Result<Motion, Vec<Finding>> {
        let line = rule.across.each_ref().map(|name| self.find(name, bars));
        match line {
            [Ok(p), Ok(q)] => match p.to(q).unit() {
                Some(along) if !same(p, q) => Ok(Motion::mirror(p, along)),
                _ => Err(vec![no_length(
                    format!("{table}.across"),
                    "the mirror's line",
                )]),
            },
            [one, other] => Err(one.err().into_iter().chain(other.err()).collect()),
        }
    }

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
            PatternLine::Named(name) => {
                let rule = self.pattern.lines.iter().find(|(n, _)| n == name);
                match rule {
                    Some((_, rule)) => Some(self.named_line(name, rule, bars)?),
                    None => self.wall(name),
                }
            }
            PatternLine::Axis { piece } => {
                let bar = bars.iter().find(|bar| bar.name == *piece);
                bar.map(|bar| PointedLine {
                    on: bar.from,
                    along: bar.along,
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

    fn wall(&self, name: &str) -> Option<PointedLine> {
        let mut walls = self.cell.shape().walls().iter().zip(self.cell.walls());
        let (_, (on, end)) = walls.find(|(wall, _)| **wall == name)?;
        let along = on.to(end).unit()?;
        Some(PointedLine { on, along })
    }

    fn named_line(
        &self,
        name: &str,
        rule: &LineRule,
        bars: &[Bar],
    ) -> Result<PointedLine, Finding> {
        let field = format!("lines.{name}");
        match rule {
            LineRule::Through([one, other]) => {
                let on = self.find(one, bars)?;
                let end = self.find(other, bars)?;
                let along = on.to(end).unit().filter(|_| !same(on, end));
                let along = along.ok_or_else(|| no_length(field, "this line"))?;
                Ok(PointedLine { on, along })
            }
            LineRule::Slanted { from, angle, off } => {
                let on = self.find(from, bars)?;
                let first = self.cell.shape().walls().first().copied();
                let wall = off.as_deref().or(first).and_then(|wall| self.wall(wall));
                let wall = wall.ok_or_else(|| no_length(field, "the wall"))?;
                let along = Motion::turn(on, *angle).vector(wall.along);
                Ok(PointedLine { on, along })
            }
        }
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
