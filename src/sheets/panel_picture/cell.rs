//! A pattern: one of its cells enlarged, with the pieces' names and lengths, and beside it several cells.

use super::figure::figure_drawing;
use super::labels::{Label, Taken};
use super::numbers::{Numbered, inside_or_beside};
use crate::geometry::convex::gap;
use crate::geometry::{Point, bounds};
use crate::infill::{CellShape, SolvedCell, SolvedPiece};
use crate::instructions::drawing::{Anchor, Drawing, Role, text_width};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::{PatternFigure, ShownSizes};
use crate::units::Mm;

/// Breadth of the wood shown around a pattern's cell, mm on paper.
const WALL_MM: f64 = 5.0;

/// Longest side of either picture, mm on paper.
const PICTURE_MM: f64 = 120.0;

/// Between the pictures, mm.
const BETWEEN_MM: f64 = 10.0;

/// Capitals of names and lengths, mm: type of 8 points.
const TEXT_MM: f64 = 2.06;

/// From line to line, as a part of the capitals' height.
const LINE: f64 = 1.9;

/// One cell of a pattern with its walls, enlarged, its pieces named; beside it the pattern over several
/// cells; below them the pieces' lengths.
pub fn pattern_drawing(
    cell: &SolvedCell,
    figure: &PatternFigure,
    sizes: ShownSizes,
    name: &str,
) -> Drawing {
    let alone = cell_alone(cell);
    let several = figure_drawing(figure, name);
    let title = format!("{name}: one cell with its pieces' names, and several cells");
    let mut drawing = Drawing::new(title, Point::default(), Point::default());
    let mut left = 0.0;
    let caption = Phrase::from(format!("{name}: one cell, enlarged"));
    for (picture, caption) in [(&alone, caption), (&several, Phrase::from("several cells"))] {
        let size = picture.low.to(picture.high);
        let scale = PICTURE_MM / size.x.max(size.y);
        drawing.put(picture, scale, Point::new(left, 0.0));
        let at = Point::new(left, -2.0 * TEXT_MM);
        drawing.text_from(Role::Name, Anchor::Start, at, TEXT_MM, caption);
        left += size.x * scale + BETWEEN_MM;
    }
    let size = alone.low.to(alone.high);
    let scale = PICTURE_MM / size.x.max(size.y);
    let placed = |point: Point| Point::default() + alone.low.to(point) * scale;
    let lines = marked(&mut drawing, cell, placed);
    drawing.fit(0.0);
    let between = match cell.cell.shape() {
        CellShape::Triangle => "Side of the grid's triangles",
        CellShape::Square | CellShape::Rhomb => "Pitch",
    };
    let mut note = phrase!("{} {}, ", between, Mm(sizes.pitch));
    note.append(phrase!("strips and pieces {} thick; ", Mm(sizes.thickness)));
    note.append(Phrase::from("lengths over points:"));
    let at = Point::new(drawing.low.x, drawing.low.y - LINE * TEXT_MM);
    drawing.text_from(Role::Name, Anchor::Start, at, TEXT_MM, note);
    drawing.fit(0.0);
    list(&mut drawing, lines);
    drawing.fit(0.0);
    drawing
}

/// The cell's walls and pieces, true size.
fn cell_alone(cell: &SolvedCell) -> Drawing {
    let corners = cell.cell.corners();
    let (low, high) = bounds(corners.iter().copied()).unwrap_or_default();
    let size = low.to(high);
    let mut drawing = Drawing::new("", low, high);
    let rim = WALL_MM * size.x.max(size.y) / PICTURE_MM;
    let walls = grown(corners, rim);
    (drawing.low, drawing.high) = bounds(walls.iter().copied()).unwrap_or_default();
    drawing.area(Role::WoodBehind, walls);
    drawing.area(Role::Cut, corners.to_vec());
    // In the order in which they go in: what lies over others comes after them.
    for piece in &cell.pieces {
        drawing.area(Role::Piece, piece.polygon());
    }
    drawing
}

/// What pieces bear, and where: their names, if each has a place where no other stands; else numbers, by
/// which the list below names them.
enum Marks {
    Names(Vec<Point>),
    Numbers,
}

impl Marks {
    fn of(cell: &SolvedCell, placed: impl Fn(Point) -> Point) -> Marks {
        let mut taken = Taken::default();
        let mut places = Vec::new();
        for piece in labelled(cell) {
            let label = named(piece);
            let (from, to) = piece.axis;
            let along = SHARES.map(|share| placed(from + from.to(to) * share));
            let mates = mates(cell, piece, &placed);
            let is_free = |at: &&Point| taken.is_free(&label.about(**at), TEXT_MM / 2.0);
            let is_clear = |at: &&Point| {
                let room = label.about(**at);
                mates.iter().all(|mate| gap(mate, &room) > 0.0)
            };
            let free: Vec<&Point> = along.iter().filter(is_free).collect();
            // Off the pieces that cross it, where there is room.
            let clear = free.iter().copied().find(is_clear);
            let Some(at) = clear.or(free.first().copied()) else {
                return Marks::Numbers;
            };
            taken.add(label.about(*at));
            places.push(*at);
        }
        Marks::Names(places)
    }
}

/// Places of a name along its piece, from its middle outward.
const SHARES: [f64; 9] = [0.5, 0.42, 0.58, 0.33, 0.67, 0.25, 0.75, 0.17, 0.83];

/// A piece's corners, placed.
fn ring(piece: &SolvedPiece, placed: impl Fn(Point) -> Point) -> Vec<Point> {
    piece.polygon().into_iter().map(placed).collect()
}

/// The corners of the pieces that lap one.
fn mates(
    cell: &SolvedCell,
    piece: &SolvedPiece,
    placed: impl Fn(Point) -> Point,
) -> Vec<Vec<Point>> {
    let laps = &piece.figures.laps;
    let others = cell.pieces.iter();
    let mates = others.filter(|other| laps.iter().any(|lap| lap.mate == other.name));
    mates.map(|mate| ring(mate, &placed)).collect()
}

/// The pieces that bear a label: of a folded strip one.
fn labelled(cell: &SolvedCell) -> impl Iterator<Item = &SolvedPiece> {
    let pieces = cell.pieces.iter().enumerate();
    let counts = |at: usize| cell.arm(at).is_none_or(|arm| arm.first);
    pieces.filter_map(move |(at, piece)| counts(at).then_some(piece))
}

fn named(piece: &SolvedPiece) -> Label {
    Label {
        role: Role::Label,
        height: TEXT_MM,
        text: piece.name.as_str().into(),
    }
}

/// Writes names or numbers onto the pieces; gives the lines of the list that goes with them.
fn marked(
    drawing: &mut Drawing,
    cell: &SolvedCell,
    placed: impl Fn(Point) -> Point,
) -> Vec<Phrase> {
    let length = |piece: &SolvedPiece| {
        let unfolded = match piece.figures.folds.is_empty() {
            true => "",
            false => "unfolded ",
        };
        phrase!("{}  {}{}", &piece.name, unfolded, Mm(piece.figures.length))
    };
    match Marks::of(cell, &placed) {
        Marks::Names(places) => {
            for (piece, at) in labelled(cell).zip(places) {
                drawing.text(Role::Label, at, TEXT_MM, piece.name.as_str());
            }
            cell.all_made().into_iter().map(length).collect()
        }
        Marks::Numbers => {
            numbers(drawing, cell, placed);
            let numbered = cell.all_made().into_iter().enumerate();
            let line = |(at, piece): (usize, &SolvedPiece)| {
                let mut line = Phrase::from(format!("{}  ", at + 1));
                line.append(length(piece));
                line
            };
            numbered.map(line).collect()
        }
    }
}

/// Every piece's number, inside of it and clear of those that cross it, or beside it.
fn numbers(drawing: &mut Drawing, cell: &SolvedCell, placed: impl Fn(Point) -> Point) {
    let numbered = labelled(cell).enumerate().map(|(at, piece)| {
        let (from, to) = piece.axis;
        Numbered {
            text: (at + 1).to_string(),
            ring: ring(piece, &placed),
            axis: placed(from).to(placed(to)),
            crossing: mates(cell, piece, &placed),
        }
    });
    let numbered: Vec<Numbered> = numbered.collect();
    inside_or_beside(drawing, &mut Taken::default(), &numbered, TEXT_MM);
}

/// The list of pieces below the pictures, in as many columns as are as wide as they.
fn list(drawing: &mut Drawing, lines: Vec<Phrase>) {
    let widths = lines.iter().map(|line| text_width(line, TEXT_MM));
    let column = widths.fold(0.0, f64::max) + 2.0 * TEXT_MM;
    let (left, width) = (drawing.low.x, drawing.high.x - drawing.low.x);
    let fitting = (1..=lines.len()).rev();
    let mut fitting = fitting.skip_while(|columns| *columns as f64 * column > width);
    let columns = fitting.next().unwrap_or(1);
    let rows = lines.len().div_ceil(columns);
    let top = drawing.low.y - LINE * TEXT_MM;
    for (at, line) in lines.into_iter().enumerate() {
        let x = left + (at / rows) as f64 * column;
        let y = top - (at % rows) as f64 * LINE * TEXT_MM;
        drawing.text_from(
            Role::Measure,
            Anchor::Start,
            Point::new(x, y),
            TEXT_MM,
            line,
        );
    }
}

/// A ring's corners moved away from its middle, for a rim of about `by`.
fn grown(ring: &[Point], by: f64) -> Vec<Point> {
    crate::geometry::offset::offset(ring, by).unwrap_or_else(|_| ring.to_vec())
}
