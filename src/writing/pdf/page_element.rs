//! What stands on a page: filled and drawn shapes, lines of text. Millimetres from the page's (or a
//! box's) upper left corner, y down.

use super::fonts::FontWeight;
use super::page_place::PagePlace;
use super::tags::TagId;
use crate::geometry::Point;
use crate::writing::theme::Colour;

/// How a line of text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TextStyle {
    /// In points.
    pub(super) size: f64,
    pub(super) weight: FontWeight,
    pub(super) colour: Colour,
}

impl TextStyle {
    pub(super) fn plain(size: f64, colour: Colour) -> TextStyle {
        TextStyle {
            size,
            weight: FontWeight::Plain,
            colour,
        }
    }

    pub(super) fn bold(size: f64, colour: Colour) -> TextStyle {
        TextStyle {
            size,
            weight: FontWeight::Bold,
            colour,
        }
    }
}

/// One of them.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum PageElement {
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
        style: TextStyle,
        text: String,
    },
    /// Marks of which only what lies between two corners is seen.
    Window {
        low: Point,
        high: Point,
        elements: Vec<PageElement>,
    },
    /// What belongs to an element of the document's tree; what stands outside of all is decoration.
    Marked {
        tag: TagId,
        elements: Vec<PageElement>,
    },
    /// Nothing that is seen: an area that leads elsewhere.
    Link {
        low: Point,
        high: Point,
        to: PagePlace,
        /// The element that it is.
        tag: TagId,
    },
}

pub(super) fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]
}

impl PageElement {
    pub(super) fn filled(low: Point, high: Point, colour: Colour) -> PageElement {
        PageElement::Fill {
            ring: rectangle(low, high),
            colour,
        }
    }

    pub(super) fn framed(low: Point, high: Point, colour: Colour, width: f64) -> PageElement {
        PageElement::Line {
            points: rectangle(low, high),
            closed: true,
            colour,
            width,
        }
    }

    pub(super) fn line(from: Point, to: Point, colour: Colour, width: f64) -> PageElement {
        PageElement::Line {
            points: vec![from, to],
            closed: false,
            colour,
            width,
        }
    }

    /// Shown from the origin, so much larger, then elsewhere.
    pub(super) fn place(&mut self, by: f64, x: f64, y: f64) {
        let to = |point: &mut Point| *point = Point::new(by * point.x + x, by * point.y + y);
        match self {
            PageElement::Fill { ring, .. } => ring.iter_mut().for_each(to),
            PageElement::Line { points, width, .. } => {
                points.iter_mut().for_each(to);
                *width *= by;
            }
            PageElement::Text { at, style, .. } => {
                to(at);
                style.size *= by;
            }
            PageElement::Link { low, high, .. } => {
                to(low);
                to(high);
            }
            PageElement::Window {
                low,
                high,
                elements,
            } => {
                to(low);
                to(high);
                elements
                    .iter_mut()
                    .for_each(|element| element.place(by, x, y));
            }
            PageElement::Marked { elements, .. } => {
                elements
                    .iter_mut()
                    .for_each(|element| element.place(by, x, y));
            }
        }
    }

    /// Elements as what they are in the document's tree.
    pub(super) fn marked(tag: TagId, elements: Vec<PageElement>) -> PageElement {
        PageElement::Marked { tag, elements }
    }

    /// Without its place in the document's tree: said before.
    pub(super) fn unmarked(self) -> Vec<PageElement> {
        match self {
            PageElement::Marked { elements, .. } => elements,
            other => vec![other],
        }
    }

    /// Its lines of text.
    pub(super) fn texts(&self) -> Vec<(&TextStyle, &str)> {
        match self {
            PageElement::Text { style, text, .. } => vec![(style, text)],
            PageElement::Marked { elements, .. } | PageElement::Window { elements, .. } => {
                elements.iter().flat_map(PageElement::texts).collect()
            }
            PageElement::Fill { .. } | PageElement::Line { .. } | PageElement::Link { .. } => {
                Vec::new()
            }
        }
    }
}
