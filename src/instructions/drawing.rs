//! Drawings to look at: shapes with a part to play, not with colours. Millimetres, y up.

use super::label_runs;
use crate::geometry::{Point, bounds};
use crate::phrase::Phrase;
use crate::units::UnitSystem;

/// A drawing; what it shows lies between its corners.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What it shows, for those who cannot see it.
    pub title: String,
    /// Lower left corner.
    pub low: Point,
    /// Upper right corner.
    pub high: Point,
    /// In the order in which they are laid over each other.
    pub shapes: Vec<Shape>,
    /// The same for a narrow page or screen, where its writing would be too small.
    pub narrow: Option<Box<Drawing>>,
}

/// What a shape stands for; who writes the drawing gives each its colour and line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// A strip of the front layer, or wood as such.
    Wood,
    /// A strip of the layer behind, or of those farther back where there are two layers.
    WoodBehind,
    /// A strip of the third layer, or of one farther back.
    WoodAtBack,
    /// A piece in a cell.
    Piece,
    /// Wood that is cut away.
    Cut,
    /// What all stands on: a sled's base, a machine's table.
    Ground,
    /// What holds and guides: fence, stop, clamp, guide block.
    Jig,
    /// The key that a notch drops over.
    Key,
    /// A blade or a cutter.
    Tool,
    /// The path of a tool.
    Path,
    /// A measure and its lines.
    Measure,
    /// Writing on wood.
    Label,
    /// What a part is called, written beside wood.
    Name,
    /// What is wrong.
    Fault,
}

/// One shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A filled area with an edge.
    Area {
        /// What it stands for.
        role: Role,
        /// Its corners.
        ring: Vec<Point>,
    },
    /// A filled area without an edge: what of it is seen is drawn by lines.
    Face {
        /// What it stands for.
        role: Role,
        /// Its corners.
        ring: Vec<Point>,
    },
    /// An open line.
    Line {
        /// What it stands for.
        role: Role,
        /// Its corners.
        points: Vec<Point>,
    },
    /// A line of text.
    Text {
        /// What it stands for.
        role: Role,
        /// Which part of it stands at `at`.
        anchor: Anchor,
        /// Where it stands; at the middle of its height.
        at: Point,
        /// Height of its capitals, mm.
        height: f64,
        /// What it says.
        text: Phrase,
    },
}

/// The part of a line of text that is put at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Widest advance of a letter in the project's type, over the height of its capitals. On the safe
/// side for the figures and small letters of labels: digits are 0.64 em wide, capitals 0.73 em high.
const LETTER_WIDTH: f64 = 0.9;

/// How wide a line of text may come out in either system of units, for keeping its place free.
pub fn text_width(text: &Phrase, height: f64) -> f64 {
    let letters =
        [UnitSystem::Millimetres, UnitSystem::Inches].map(|units| text.text(units).chars().count());
    letters.into_iter().max().unwrap_or(0) as f64 * LETTER_WIDTH * height
}

/// The corners of the room that a text takes, lower left and upper right; nothing for other shapes.
pub fn text_box(shape: &Shape) -> Option<[Point; 2]> {
    let Shape::Text {
        anchor,
        at,
        height,
        text,
        ..
    } = shape
    else {
        return None;
    };
    let width = text_width(text, *height);
    let left = match anchor {
        Anchor::Start => at.x,
        Anchor::Middle => at.x - width / 2.0,
        Anchor::End => at.x - width,
    };
    // Below the line hang letters such as g and p.
    let low = at.y - 0.85 * height;
    let high = at.y + 0.6 * height;
    Some([Point::new(left, low), Point::new(left + width, high)])
}

impl Drawing {
    /// An empty drawing.
    pub fn new(title: impl Into<String>, low: Point, high: Point) -> Self {
        Drawing {
            title: title.into(),
            low,
            high,
            shapes: Vec::new(),
            narrow: None,
        }
    }

    /// Its lines of text, each with the height of its capitals, mm.
    pub fn texts(&self) -> impl Iterator<Item = (&Phrase, f64)> {
        self.shapes.iter().filter_map(|shape| match shape {
            Shape::Text { text, height, .. } => Some((text, *height)),
            Shape::Area { .. } | Shape::Face { .. } | Shape::Line { .. } => None,
        })
    }

    /// Adds an area.
    pub fn area(&mut self, role: Role, ring: Vec<Point>) {
        self.shapes.push(Shape::Area { role, ring });
    }

    /// Adds an area without an edge.
    pub fn face(&mut self, role: Role, ring: Vec<Point>) {
        self.shapes.push(Shape::Face { role, ring });
    }

    /// Adds a rectangle between two corners.
    pub fn rectangle(&mut self, role: Role, low: Point, high: Point) {
        let ring = vec![
            low,
            Point::new(high.x, low.y),
            high,
            Point::new(low.x, high.y),
        ];
        self.area(role, ring);
    }

    /// Adds a line.
    pub fn line(&mut self, role: Role, points: Vec<Point>) {
        self.shapes.push(Shape::Line { role, points });
    }

    /// Adds a line of text about its middle.
    pub fn text(&mut self, role: Role, at: Point, height: f64, text: impl Into<Phrase>) {
        self.text_from(role, Anchor::Middle, at, height, text);
    }

    /// Adds a line of text that begins, or ends, at a place.
    pub fn text_from(
        &mut self,
        role: Role,
        anchor: Anchor,
        at: Point,
        height: f64,
        text: impl Into<Phrase>,
    ) {
        self.shapes.push(Shape::Text {
            role,
            anchor,
            at,
            height,
            text: text.into(),
        });
    }

    /// Adds another drawing, enlarged, so that its lower left corner comes to lie at a place.
    pub fn put(&mut self, other: &Drawing, scale: f64, at: Point) {
        let placed = |point: &Point| at + other.low.to(*point) * scale;
        let all = |points: &Vec<Point>| points.iter().map(placed).collect();
        self.shapes
            .extend(other.shapes.iter().map(|shape| match shape.clone() {
                Shape::Area { role, ring } => Shape::Area {
                    role,
                    ring: all(&ring),
                },
                Shape::Face { role, ring } => Shape::Face {
                    role,
                    ring: all(&ring),
                },
                Shape::Line { role, points } => Shape::Line {
                    role,
                    points: all(&points),
                },
                Shape::Text {
                    role,
                    anchor,
                    at,
                    height,
                    text,
                } => Shape::Text {
                    role,
                    anchor,
                    at: placed(&at),
                    height: height * scale,
                    text,
                },
            }));
    }

    /// What is to be seen, in words: what it shows, then every different text in it, those that follow each
    /// other as runs.
    pub fn told(&self, units: UnitSystem) -> String {
        const MOST: usize = 40;
        let mut said: Vec<String> = Vec::new();
        for (text, _) in self.texts() {
            let text = text.text(units);
            if !said.contains(&text) && said.len() < MOST {
                said.push(text);
            }
        }
        // Commas within a text part nothing.
        const WITHIN: &str = "\u{1}";
        let said: Vec<String> = said.iter().map(|text| text.replace(", ", WITHIN)).collect();
        let runs = label_runs(&said).replace(", ", "; ").replace(WITHIN, ", ");
        match said.is_empty() {
            true => self.title.clone(),
            false => format!("{}: {runs}", self.title),
        }
    }

    /// Makes room for everything that is drawn, texts in either system of units included, and for
    /// a margin around it.
    pub fn fit(&mut self, margin: f64) {
        let mut corners: Vec<Point> = Vec::new();
        for shape in &self.shapes {
            match shape {
                Shape::Area { ring: points, .. }
                | Shape::Face { ring: points, .. }
                | Shape::Line { points, .. } => {
                    corners.extend(points);
                }
                Shape::Text { .. } => corners.extend(text_box(shape).into_iter().flatten()),
            }
        }
        if let Some((low, high)) = bounds(corners) {
            self.low = Point::new(low.x - margin, low.y - margin);
            self.high = Point::new(high.x + margin, high.y + margin);
        }
    }
}
