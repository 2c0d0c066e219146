//! Drawings to look at: shapes with a part to play, not with colours. Millimetres, y up.

use crate::geometry::Point;

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
    /// The path of a tool.
    Path,
    /// A measure and its lines.
    Measure,
    /// Writing on wood.
    Label,
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
        /// Where its middle stands.
        at: Point,
        /// Height of its capitals, mm.
        height: f64,
        /// What it says.
        text: String,
    },
}

impl Drawing {
    /// An empty drawing.
    pub fn new(title: impl Into<String>, low: Point, high: Point) -> Self {
        Drawing {
            title: title.into(),
            low,
            high,
            shapes: Vec::new(),
        }
    }

    /// Adds an area.
    pub fn area(&mut self, role: Role, ring: Vec<Point>) {
        self.shapes.push(Shape::Area { role, ring });
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
    pub fn text(&mut self, role: Role, at: Point, height: f64, text: impl Into<String>) {
        self.shapes.push(Shape::Text {
            role,
            at,
            height,
            text: text.into(),
        });
    }
}
