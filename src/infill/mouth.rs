//! Birds' mouths: ends that take a corner in which the outer sides of two other pieces meet.
//!
//! Before a mate's near side lies the half plane that the piece may fill. An ordinary end keeps what
//! lies before both sides; a mouth keeps what lies before either, so that only the wedge behind both
//! is taken out of it. Its two facets run from the corner, the apex, to the piece's long sides, one
//! along each mate.

use super::clipping::HalfPlane;
use super::contact::{Contact, Polygon};
use super::near_side;
use super::pattern::PieceSide;
use super::skeleton::Bar;
use crate::finding::Finding;
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM, Vector};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// Keys of a pattern that name the ends.
pub(super) const ENDS: [&str; 2] = ["from", "to"];

/// One side of the corner that a mouth takes.
#[derive(Debug, Clone, Copy)]
struct Side {
    /// The mate's index.
    mate: usize,
    /// What lies before it.
    before: HalfPlane,
}

/// The corner that a mouth takes.
#[derive(Debug, Clone, Copy)]
struct Corner {
    apex: Point,
    /// Of the piece's own left and right half: what it touches.
    left: Side,
    right: Side,
}

/// A piece's end that is to be a mouth.
#[derive(Clone, Copy)]
struct MouthEnd<'a> {
    bar: &'a Bar,
    /// 0 for `from`.
    end: usize,
    mates: &'a [String; 2],
}

fn mouth_ends(bar: &Bar) -> impl Iterator<Item = MouthEnd<'_>> {
    let ends = bar.mouths.iter().enumerate();
    ends.filter_map(move |(end, mates)| {
        let mates = mates.as_ref()?;
        Some(MouthEnd { bar, end, mates })
    })
}

/// A piece whose ends are cut, convex, with its mouths taken out.
///
/// # Errors
/// Where two pieces form no corner that points at the end, where it misses the piece, where something
/// else cuts the end first.
pub(super) fn with_mouths(bar: &Bar, bars: &[Bar], polygon: Polygon) -> Result<Polygon, Finding> {
    let mut left = polygon;
    for end in mouth_ends(bar) {
        let corner = end.corner(bars)?;
        left = end.taken_out(&left, corner)?;
    }
    Ok(left)
}

impl MouthEnd<'_> {
    fn key(&self) -> &'static str {
        ENDS.get(self.end).copied().unwrap_or_default()
    }

    fn field(&self) -> String {
        match self.bar.field.starts_with("piece") {
            true => format!("{}.mouth.{}", self.bar.field, self.key()),
            false => self.bar.field.clone(),
        }
    }

    fn error(&self, code: &'static str, text: impl Into<Phrase>) -> Finding {
        Finding::error(code, self.field(), text)
    }

    /// Along the axis toward this end.
    fn outward(&self) -> Vector {
        match self.end {
            0 => -self.bar.along,
            _ => self.bar.along,
        }
    }

    fn side(&self, name: &str, bars: &[Bar]) -> Result<Side, Finding> {
        let mate = bars.iter().position(|bar| bar.name == *name);
        let found = mate.and_then(|mate| Some((mate, bars.get(mate)?)));
        let Some((mate, other)) = found else {
            return Err(self.error("unknown-piece", format!("there is no piece `{name}`")));
        };
        let before = near_side::before(self.bar, other)?;
        Ok(Side { mate, before })
    }

    /// The corner of the two mates, which has to point at this end.
    fn corner(&self, bars: &[Bar]) -> Result<Corner, Finding> {
        let [a, b] = self.mates;
        let name = &self.bar.name;
        let [one, other] = [self.side(a, bars)?, self.side(b, bars)?];
        let apex = meeting(one.before, other.before).ok_or_else(|| {
            let text = format!("`{a}` and `{b}` run alongside each other: they form no corner");
            self.error("no-corner", text)
                .hint("name the two pieces whose corner the end takes; for one of them alone write `against`")
        })?;
        let middle = |side: &Side| bars.get(side.mate).map(Bar::middle).unwrap_or_default();
        let before =
            [(one, other), (other, one)].map(|(side, mate)| side.before.depth(middle(&mate)) > 0.0);
        if before[0] != before[1] {
            let text = format!(
                "the sides of `{a}` and `{b}` toward `{name}` form no corner: one lies before the other"
            );
            return Err(self.error("no-corner", text).hint(
                "name the two pieces whose corner the end takes; for one of them alone write `against`",
            ));
        }
        if before[0] {
            let text = format!(
                "the corner of `{a}` and `{b}` is hollow toward `{name}`: an ordinary point fills it"
            );
            return Err(self.error("corner-hollow", text).hint(format!(
                "leave the mouth out: where `{a}` and `{b}` end in a [[junction]], let `{name}` end there too and fill it; else write against = [\"{a}\", \"{b}\"]"
            )));
        }
        let offset = self.bar.offset(apex);
        if offset.abs() > self.bar.half() - SAME_POSITION_MM {
            let text = phrase!(
                "the corner of `{}` and `{}` lies {} beside the axis of `{}`, which is {} thick: an ordinary facet on one of them does",
                a.as_str(),
                b.as_str(),
                Mm(offset.abs()),
                name.as_str(),
                Mm(self.bar.stock.thickness)
            );
            return Err(self.error("corner-beside", text).hint(
                "let the piece stand `against` the one that it meets, or aim its axis at the corner",
            ));
        }
        self.facing(apex, one, other).ok_or_else(|| {
            let text = format!(
                "the corner of `{a}` and `{b}` does not point at the `{}` end of `{name}`: its sides do not part there",
                self.key()
            );
            self.error("corner-aside", text)
                .hint("aim the piece's axis into the corner, or let it stand `against` one of them")
        })
    }

    /// Which side of the corner lies on which half of the piece; `None` where both run to one side, or
    /// where the corner points at the other end.
    fn facing(&self, apex: Point, one: Side, other: Side) -> Option<Corner> {
        let beyond = apex + self.outward();
        if one.before.depth(beyond) >= 0.0 || other.before.depth(beyond) >= 0.0 {
            return None;
        }
        // Along a side from the apex, behind the other one.
        let ray = |side: Side, behind: Side| {
            let inward = side.before.inward;
            let along = Vector::new(-inward.y, inward.x);
            match along.dot(behind.before.inward) < 0.0 {
                true => along,
                false => -along,
            }
        };
        let aside = |ray: Vector| ray.dot(self.bar.left());
        let (first, second) = (aside(ray(one, other)), aside(ray(other, one)));
        if first > PARALLEL_SINE && second < -PARALLEL_SINE {
            return Some(Corner {
                apex,
                left: one,
                right: other,
            });
        }
        (second > PARALLEL_SINE && first < -PARALLEL_SINE).then_some(Corner {
            apex,
            left: other,
            right: one,
        })
    }

    /// The piece without the wedge. Counter-clockwise, its boundary comes to the `to` end along the right
    /// side, and to the `from` end along the left one.
    fn taken_out(&self, polygon: &Polygon, corner: Corner) -> Result<Polygon, Finding> {
        let (coming, leaving, comes, leaves) = match self.end {
            0 => (corner.left, corner.right, PieceSide::Left, PieceSide::Right),
            _ => (corner.right, corner.left, PieceSide::Right, PieceSide::Left),
        };
        let vanishes = || {
            let text = format!(
                "`{}` vanishes: nothing is left of a long side",
                self.bar.name
            );
            self.error("piece-vanishes", text)
        };
        let mut ring = polygon.clone();
        let start = ring
            .iter()
            .position(|(_, tag)| *tag == Contact::OwnSide(comes));
        ring.rotate_left(start.ok_or_else(vanishes)?);
        let back = ring
            .iter()
            .position(|(_, tag)| *tag == Contact::OwnSide(leaves));
        let back = back.ok_or_else(vanishes)?;
        let at = |at: usize| ring.get(at % ring.len()).map(|(p, _)| *p);
        let at = |index: usize| at(index).unwrap_or_default();
        // Where the corner's sides cross the long sides, as parts of these, both toward this end.
        let first = coming.before.crossed(at(0), at(1));
        let last = leaving.before.crossed(at(back + 1), at(back));
        if first.min(last) <= 0.0 {
            return Err(vanishes());
        }
        let cut_off = (1..back).all(|edge| {
            let along = at(edge).to(at(edge + 1)).unit().unwrap_or_default();
            HalfPlane::left_of(at(edge), along).depth(corner.apex) > SAME_POSITION_MM
        });
        if !cut_off || first.max(last) > 1.0 {
            return Err(self.cut_before());
        }
        let on = |p: Point, q: Point, share: f64| p + p.to(q) * share;
        let mut left = vec![
            (at(0), Contact::OwnSide(comes)),
            (on(at(0), at(1), first), Contact::SideOf(coming.mate)),
            (corner.apex, Contact::SideOf(leaving.mate)),
            (on(at(back + 1), at(back), last), Contact::OwnSide(leaves)),
        ];
        left.extend(ring.iter().skip(back + 1).copied());
        Ok(left)
    }

    fn cut_before(&self) -> Finding {
        let [a, b] = self.mates;
        let text = format!(
            "something else cuts the `{}` end of `{}` before the corner of `{a}` and `{b}`",
            self.key(),
            self.bar.name
        );
        self.error("cut-before-corner", text)
            .hint("nothing but its two pieces may cut an end with a mouth: no wall, no other piece")
    }
}

impl HalfPlane {
    /// At which part of the way from one point to another its line is crossed, the first point lying
    /// inside; none or less where the first lies outside, more than one where the line lies beyond.
    fn crossed(&self, from: Point, to: Point) -> f64 {
        let here = self.depth(from);
        let there = self.depth(to);
        here / (here - there)
    }
}

/// Where the lines of two half planes meet.
fn meeting(one: HalfPlane, other: HalfPlane) -> Option<Point> {
    let along = Vector::new(-one.inward.y, one.inward.x);
    let rate = along.dot(other.inward);
    (rate.abs() > PARALLEL_SINE).then(|| one.on - along * (other.depth(one.on) / rate))
}

/// Mouths whose corner is not there, or whose facets hang over it.
pub(super) fn faults(bar: &Bar, own: &Polygon, bars: &[Bar], polygons: &[Polygon]) -> Vec<Finding> {
    let ends = mouth_ends(bar);
    ends.filter_map(|end| end.fault(own, bars, polygons))
        .collect()
}

impl MouthEnd<'_> {
    fn fault(&self, own: &Polygon, bars: &[Bar], polygons: &[Polygon]) -> Option<Finding> {
        let corner = self.corner(bars).ok()?;
        for side in [corner.left, corner.right] {
            let mate = bars.get(side.mate)?;
            let edge = own_edge(polygons.get(side.mate)?, side.before)?;
            let ends = [edge.0, edge.1].map(|end| end.to(corner.apex).length());
            let off = ends[0].min(ends[1]);
            if off > SAME_POSITION_MM {
                let [a, b] = self.mates;
                let text = phrase!(
                    "`{}` and `{}` form no corner: the side of `{}` ends {} from where their sides would meet",
                    a.as_str(),
                    b.as_str(),
                    mate.name.as_str(),
                    Mm(off)
                );
                return Some(self.error("no-corner", text).hint(
                    "join their ends in a [[junction]] first: the mouth takes the point of their mitre",
                ));
            }
            let long = edge.0.to(edge.1).length();
            if facet(own, side.mate, corner.apex)? > long + SAME_POSITION_MM {
                let text = format!(
                    "the facet of `{}` hangs over the end of the side of `{}`",
                    self.bar.name, mate.name
                );
                return Some(
                    self.error("facet-hangs-over", text)
                        .hint("let the other piece be longer, or this one thinner"),
                );
            }
        }
        None
    }
}

/// Length of the facet from an apex along a mate.
fn facet(polygon: &Polygon, mate: usize, apex: Point) -> Option<f64> {
    let next = polygon.iter().cycle().skip(1);
    let mut edges = polygon.iter().zip(next);
    let here = |p: Point| p.to(apex).length() < SAME_POSITION_MM;
    let found =
        edges.find(|((p, tag), (q, _))| *tag == Contact::SideOf(mate) && (here(*p) || here(*q)));
    found.map(|((p, _), (q, _))| p.to(*q).length())
}

/// The long side of a piece that lies along a half plane's line.
fn own_edge(polygon: &Polygon, before: HalfPlane) -> Option<(Point, Point)> {
    let next = polygon.iter().cycle().skip(1);
    let mut edges = polygon.iter().zip(next);
    let on_line = |p: Point| before.depth(p).abs() < SAME_POSITION_MM;
    let found = edges.find(|((p, tag), (q, _))| {
        matches!(tag, Contact::OwnSide(_)) && on_line(*p) && on_line(*q)
    });
    found.map(|((p, _), (q, _))| (*p, *q))
}
