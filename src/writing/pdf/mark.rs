//! What stands on a page: filled and drawn shapes, lines of text. Millimetres from the page's (or a
//! box's) upper left corner, y down.

use super::flow::Place;
use super::letters::{Letters, Weight};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Shape};
use crate::units::UnitSystem;
use crate::writing::look::{CAPITALS, Colour, look_of};

/// Millimetres in a point.
pub(super) const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One mark.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    /// A filled area.
    Fill { ring: Vec<Point>, colour: Colour },
    /// A drawn line.
    Line {
        points: Vec<Point>,
        closed: bool,
        colour: Colour,
        width: f64,
    },
    /// A line of text from the beginning of its baseline.
    Text {
        at: Point,
        /// In points.
        size: f64,
        weight: Weight,
        colour: Colour,
        text: String,
    },
    /// Marks of which only what lies between two corners is seen.
    Window {
        low: Point,
        high: Point,
        marks: Vec<Mark>,
    },
    /// Nothing that is seen: an area that leads elsewhere.
    Link { low: Point, high: Point, to: Place },
}

pub(super) fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]
}

impl Mark {
    pub(super) fn filled(low: Point, high: Point, colour: Colour) -> Mark {
        Mark::Fill {
            ring: rectangle(low, high),
            colour,
        }
    }

    pub(super) fn framed(low: Point, high: Point, colour: Colour, width: f64) -> Mark {
        Mark::Line {
            points: rectangle(low, high),
            closed: true,
            colour,
            width,
        }
    }

    pub(super) fn line(from: Point, to: Point, colour: Colour, width: f64) -> Mark {
        Mark::Line {
            points: vec![from, to],
            closed: false,
            colour,
            width,
        }
    }

    /// The same mark elsewhere.
    pub(super) fn moved(&self, x: f64, y: f64) -> Mark {
        let to = |point: &Point| Point::new(point.x + x, point.y + y);
        let mut mark = self.clone();
        match &mut mark {
            Mark::Fill { ring: points, .. } | Mark::Line { points, .. } => {
                *points = points.iter().map(to).collect();
            }
            Mark::Text { at, .. } => *at = to(at),
            Mark::Link { low, high, .. } => (*low, *high) = (to(low), to(high)),
            Mark::Window { low, high, marks } => {
                (*low, *high) = (to(low), to(high));
                *marks = marks.iter().map(|mark| mark.moved(x, y)).collect();
            }
        }
        mark
    }
}

/// A drawing at a scale, its upper left corner at `corner`. Lines keep their width.
pub(super) fn drawn(
    drawing: &Drawing,
    scale: f64,
    corner: Point,
    letters: &Letters,
    units: UnitSystem,
) -> Vec<Mark> {
    let to = |point: &Point| {
        Point::new(
            corner.x + (point.x - drawing.low.x) * scale,
            corner.y + (drawing.high.y - point.y) * scale,
        )
    };
    let mut marks = Vec::new();
    for shape in &drawing.shapes {
        match shape {
            Shape::Area { role, ring } => {
                let look = look_of(*role);
                let points: Vec<Point> = ring.iter().map(to).collect();
                marks.push(Mark::Fill {
                    ring: points.clone(),
                    colour: look.fill.light,
                });
                let (colour, width) = (look.edge.light, look.width);
                marks.push(Mark::Line {
                    points,
                    closed: true,
                    colour,
                    width,
                });
            }
            Shape::Face { role, ring } => marks.push(Mark::Fill {
                ring: ring.iter().map(to).collect(),
                colour: look_of(*role).fill.light,
            }),
            Shape::Line { role, points } => {
                let look = look_of(*role);
                let points = points.iter().map(to).collect();
                let (colour, width) = (look.edge.light, look.width);
                marks.push(Mark::Line {
                    points,
                    closed: false,
                    colour,
                    width,
                });
            }
            Shape::Text {
                role,
                anchor,
                at,
                height,
                text,
            } => {
                let text = text.text(units);
                let size = height * scale / CAPITALS / MM_PER_POINT;
                let width = letters.width(&text, size, Weight::Plain);
                let shift = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => width / 2.0,
                    Anchor::End => width,
                };
                let at = to(at);
                marks.push(Mark::Text {
                    at: Point::new(at.x - shift, at.y + height * scale / 2.0),
                    size,
                    weight: Weight::Plain,
                    colour: look_of(*role).fill.light,
                    text,
                });
            }
        }
    }
    marks
}
