//! Drawings as elements of a page.

use super::fonts::{FontWeight, Fonts};
use super::page_element::{PageElement, TextStyle};
use super::points::MM_PER_POINT;
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Shape};
use crate::units::UnitSystem;
use crate::writing::theme::{CAPITALS, style_of};

/// A drawing at a scale, its upper left corner at `corner`. Lines keep their width.
pub(super) fn elements_of(
    drawing: &Drawing,
    scale: f64,
    corner: Point,
    fonts: &Fonts,
    units: UnitSystem,
) -> Vec<PageElement> {
    let to = |point: &Point| {
        Point::new(
            corner.x + (point.x - drawing.low.x) * scale,
            corner.y + (drawing.high.y - point.y) * scale,
        )
    };
    let mut elements = Vec::new();
    for shape in &drawing.shapes {
        match shape {
            Shape::Area { role, ring } => {
                let style = style_of(*role);
                let points: Vec<Point> = ring.iter().map(to).collect();
                elements.push(PageElement::Fill {
                    ring: points.clone(),
                    colour: style.fill.light,
                });
                elements.push(PageElement::Line {
                    points,
                    closed: true,
                    colour: style.edge.light,
                    width: style.width,
                });
            }
            Shape::Face { role, ring } => elements.push(PageElement::Fill {
                ring: ring.iter().map(to).collect(),
                colour: style_of(*role).fill.light,
            }),
            Shape::Line { role, points } => {
                let style = style_of(*role);
                elements.push(PageElement::Line {
                    points: points.iter().map(to).collect(),
                    closed: false,
                    colour: style.edge.light,
                    width: style.width,
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
                let width = fonts.width(&text, size, FontWeight::Plain);
                let shift = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => width / 2.0,
                    Anchor::End => width,
                };
                let at = to(at);
                elements.push(PageElement::Text {
                    at: Point::new(at.x - shift, at.y + height * scale / 2.0),
                    style: TextStyle::plain(size, style_of(*role).fill.light),
                    text,
                });
            }
        }
    }
    elements
}
