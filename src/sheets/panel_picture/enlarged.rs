//! One cell of each kind enlarged.

use super::bodies::{
    band, crossing_bodies, draw, faces, from_the_back, piece_bodies, strip_bodies, tone,
};
use super::labels::Taken;
use super::numbers::{inside_or_beside, numbered};
use super::seen;
use crate::geometry::convex::common;
use crate::geometry::offset::offset;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM, bounds, signed_area};
use crate::infill::{CellKind, CellShape, FilledCell, Infilling, MapForm};
use crate::instructions::drawing::{Drawing, Role, text_width};
use crate::instructions::legible::{Share, Shown, for_both};
use crate::lattice::{Lattice, Strip};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Brief;
use float_cmp::ApproxEq;

/// Between the panel and enlarged cells, as a share of the panel's height.
const GAP: f64 = 0.12;

/// Height of the one enlarged cell, as a share of the panel's height.
const ENLARGED: f64 = 0.62;

/// The same where there are several kinds, two below each other: more of them are shown smaller.
const ENLARGED_OF_SEVERAL: f64 = 0.32;

/// Kinds beside each other for each one below the other, about.
const BESIDE: f64 = 1.5;

/// Height of a line of writing over that of its letters.
const LINE: f64 = 1.9;

/// Between enlarged cells on a narrow page, as a share of its breadth.
const BETWEEN: f64 = 0.06;

/// Kinds beside each other in a drawing of their own, at most.
const ACROSS: usize = 4;

/// How much of its breadth their writing may take: more would leave nothing of the cells.
const WRITTEN: f64 = 0.85;

/// Size of their writing.
const SHARE: Share = Share::PANEL;

/// Breadth of an enlarged cell in a drawing of its own, mm.
const BREADTH_MM: f64 = 60.0;

/// A cell of each kind: to the right of the panel, in columns no higher than it, or below it on a narrow
/// page. `capitals` is the height of writing.
pub(super) fn with(
    drawing: &mut Drawing,
    filled: &Infilling,
    lattice: &Lattice,
    capitals: f64,
    shown: Shown,
) {
    let plates = plates(filled, lattice, capitals);
    match shown {
        Shown::Broad => beside(drawing, plates),
        Shown::Narrow => {
            let room = drawing.high.x - drawing.low.x;
            below(drawing, &plates, room);
        }
    }
}

fn beside(drawing: &mut Drawing, plates: Vec<Plate<'_>>) {
    let top = drawing.high.y;
    let height = drawing.high.y - drawing.low.y;
    let gap = GAP * height;
    let share = if plates.len() > 1 {
        let rows = (plates.len() as f64 / BESIDE).sqrt().ceil().max(2.0);
        ENLARGED_OF_SEVERAL * 2.0 / rows
    } else {
        ENLARGED
    };
    // Room between them shrinks with them.
    let between = gap * share / ENLARGED;
    let mut left = drawing.high.x + gap;
    let mut at = top;
    for plate in plates {
        let plate = plate.as_large_as(share * height);
        let (breadth, tall) = plate.size();
        if at < top && at - tall < top - height {
            (left, at) = (drawing.high.x + between, top);
        }
        plate.draw(drawing, Point::new(left, at));
        drawing.high.x = drawing.high.x.max(left + breadth);
        drawing.low.y = drawing.low.y.min(at - tall);
        at -= tall + between;
    }
}

/// Below each other and as broad as the room, two beside each other where their writing lets them.
fn below(drawing: &mut Drawing, plates: &[Plate<'_>], room: f64) {
    let between = BETWEEN * room;
    let halved = (room - between) / 2.0;
    let half = |plate: &Plate<'_>| plate.as_large_as(halved).size().0 <= halved;
    let across = if plates.len() > 1 && plates.iter().all(half) {
        2
    } else {
        1
    };
    let breadth = if across == 1 { room } else { halved };
    let left = drawing.low.x;
    for row in plates.chunks(across) {
        // Numbers may stand above a cell.
        let above = row.first().map_or(0.0, |plate| 3.5 * plate.capitals);
        let top = drawing.low.y - between - above;
        for (plate, at) in row.iter().zip([0.0, 1.0]) {
            let plate = plate.as_large_as(breadth);
            let (wide, tall) = plate.size();
            let x = left + at * (breadth + between);
            plate.draw(drawing, Point::new(x, top));
            drawing.low.y = drawing.low.y.min(top - tall);
            drawing.high.x = drawing.high.x.max(x + wide);
        }
    }
}

/// A cell of each kind where there are several, a few to a drawing.
pub(in crate::sheets) fn kinds_drawing(lattice: &Lattice, filled: &Infilling) -> Vec<Drawing> {
    let kinds = plates(filled, lattice, 0.0).len();
    if kinds < 2 {
        return Vec::new();
    }
    let lines = plates(filled, lattice, 1.0)
        .into_iter()
        .flat_map(|plate| plate.lines);
    let widest = lines.map(|line| text_width(&line, 1.0)).fold(0.0, f64::max);
    let has_room = |across: &usize| *across as f64 * widest * SHARE.broad <= WRITTEN;
    let across = (1..=ACROSS).rfind(has_room).unwrap_or(1);
    let row = |first: usize| {
        for_both(SHARE, |capitals, shown| {
            let own = plates(filled, lattice, capitals).into_iter();
            let own: Vec<Plate<'_>> = own.skip(first).take(across).collect();
            row_of_plates(&own, across, shown)
        })
    };
    (0..kinds).step_by(across).map(row).collect()
}

/// Cells beside each other, all equally broad; on a narrow page below each other.
fn row_of_plates(plates: &[Plate<'_>], across: usize, shown: Shown) -> Drawing {
    const GAP_MM: f64 = BREADTH_MM / 6.0;
    let names = plates.iter().map(|plate| plate.kind.name.clone());
    let names = names.collect::<Vec<_>>().join(", ");
    let title = format!("Cells of kinds {names} with their pieces");
    let mut drawing = Drawing::new(title, Point::default(), Point::default());
    if shown == Shown::Narrow {
        drawing.high.x = BREADTH_MM;
        below(&mut drawing, plates, BREADTH_MM);
        return drawing;
    }
    let mut left = 0.0;
    let widest = plates
        .iter()
        .map(|plate| plate.as_large_as(BREADTH_MM).size().0);
    let column = widest.fold(0.0, f64::max) + GAP_MM;
    for plate in plates {
        let plate = plate.as_large_as(BREADTH_MM);
        plate.draw(&mut drawing, Point::new(left, 0.0));
        let (_, tall) = plate.size();
        drawing.low.y = drawing.low.y.min(-tall);
        left += column;
    }
    // As broad as a full row, so that rows are shown alike.
    drawing.high.x = drawing.high.x.max(across as f64 * column - GAP_MM);
    drawing
}

/// One of each kind, its writing of a height.
fn plates<'a>(filled: &'a Infilling, lattice: &'a Lattice, capitals: f64) -> Vec<Plate<'a>> {
    let kinds = filled.cell_kinds();
    let several = kinds.len() > 1;
    let plate = |kind: CellKind| {
        let cell = filled.cells.get(*kind.cells.first()?)?;
        let rim = offset(&cell.outline, lattice.section.thickness);
        Some(Plate {
            rim: rim.unwrap_or_else(|_| cell.outline.clone()),
            lines: told(cell, &kind, filled, several),
            cell,
            kind,
            lattice,
            size: 0.0,
            capitals,
        })
    };
    kinds.into_iter().filter_map(plate).collect()
}

/// A cell with the strips around it and what is told of it below.
#[derive(Clone)]
struct Plate<'a> {
    cell: &'a FilledCell,
    kind: CellKind,
    lattice: &'a Lattice,
    /// The cell with the strips around it.
    rim: Vec<Point>,
    lines: Vec<Phrase>,
    /// The longer side of the enlarged rim's box.
    size: f64,
    /// Height of its writing.
    capitals: f64,
}

impl Plate<'_> {
    fn as_large_as(&self, size: f64) -> Self {
        Plate {
            size,
            ..self.clone()
        }
    }

    /// The rim's box, and by how much it is enlarged.
    fn scale(&self) -> ([Point; 2], f64) {
        let (low, high) = bounds(self.rim.iter().copied()).unwrap_or_default();
        let longer = (high.x - low.x).max(high.y - low.y);
        ([low, high], self.size / longer.max(SAME_POSITION_MM))
    }

    /// Of the cell with the strips around it, as enlarged.
    fn breadth_of_rim(&self) -> f64 {
        let ([low, high], scale) = self.scale();
        (high.x - low.x) * scale
    }

    /// Breadth and height with the writing, which is as broad as the longer of both units' texts.
    fn size(&self) -> (f64, f64) {
        let ([low, high], scale) = self.scale();
        let lines = self
            .lines
            .iter()
            .map(|line| text_width(line, self.capitals));
        let breadth = lines.fold(self.breadth_of_rim(), f64::max);
        let lines = self.lines.len() as f64 * LINE + 2.2;
        (breadth, (high.y - low.y) * scale + lines * self.capitals)
    }

    /// With its upper left corner at a place.
    fn draw(&self, drawing: &mut Drawing, corner: Point) {
        let ([rim_low, rim_high], scale) = self.scale();
        let beside = (self.size().0 - self.breadth_of_rim()) / 2.0;
        let map = |point: Point| {
            Point::new(
                corner.x + beside + (point.x - rim_low.x) * scale,
                corner.y + (point.y - rim_high.y) * scale,
            )
        };
        self.wood(drawing, map);
        let text = self.capitals;
        let mut at = map(rim_low).y - 1.8 * text;
        // Of a cell that stands on its walls: there the box is as wide as the opening.
        let (low, high) = bounds(self.cell.outline.iter().copied()).unwrap_or_default();
        if (high.x - low.x).approx_eq(self.cell.opening.0, POSITION) {
            span(drawing, [map(low).x, map(high).x], at, text);
        }
        at -= 0.4 * text;
        let middle = f64::midpoint(map(rim_low).x, map(rim_high).x);
        for line in &self.lines {
            drawing.text(Role::Measure, Point::new(middle, at), text, line.clone());
            at -= LINE * text;
        }
    }

    /// Strips as far as the rim, the opening and its pieces.
    fn wood(&self, drawing: &mut Drawing, map: impl Fn(Point) -> Point) {
        let thickness = self.lattice.section.thickness;
        let shown = |strip: &Strip| {
            let seen = common(&band(strip, thickness), &self.rim);
            // What only touches the rim's edge, or runs beside it, is not at this cell.
            let ring = signed_area(&seen) > thickness * thickness;
            if ring { seen } else { Vec::new() }
        };
        for strip in from_the_back(self.lattice) {
            let ring: Vec<Point> = shown(strip).into_iter().map(&map).collect();
            if !ring.is_empty() {
                drawing.face(tone(strip), ring);
            }
        }
        drawing.face(
            Role::Cut,
            self.cell.outline.iter().map(|p| map(*p)).collect(),
        );
        faces(drawing, self.cell, &map);
        let strips = strip_bodies(self.lattice, shown);
        let runs = self.cell.pieces.iter().any(|piece| piece.run.is_some());
        let lines = if runs {
            let cell = std::iter::once(self.cell);
            seen::lines(&crossing_bodies(cell, strips), &[])
        } else {
            let mut lines = seen::lines(&strips, &[]);
            let drawn = seen::segments(&lines);
            lines.extend(seen::lines(&piece_bodies(self.cell, |p| p), &drawn));
            lines
        };
        let drawn = seen::segments(&lines);
        draw(drawing, &lines, &map);
        if !self.cell.whole {
            let edge = common(&self.lattice.region, &self.rim);
            draw(
                drawing,
                &seen::not_drawn(&edge, Role::Measure, &drawn),
                &map,
            );
        }
        self.numbers(drawing, map, shown);
    }

    /// Numbers on the pieces, or between them and the strips that are `shown`.
    fn numbers(
        &self,
        drawing: &mut Drawing,
        map: impl Fn(Point) -> Point,
        shown: impl Fn(&Strip) -> Vec<Point>,
    ) {
        let mut taken = Taken::default();
        for strip in &self.lattice.strips {
            let ring: Vec<Point> = shown(strip).into_iter().map(&map).collect();
            if !ring.is_empty() {
                taken.add(ring);
            }
        }
        let pieces = numbered(self.cell, map);
        inside_or_beside(drawing, &mut taken, &pieces, self.capitals);
    }
}

/// What stands below the enlarged cell: its kind where there are several, its opening, its pieces'
/// lengths.
fn told(cell: &FilledCell, kind: &CellKind, filled: &Infilling, several: bool) -> Vec<Phrase> {
    if several {
        return told_of_several(cell, kind, filled);
    }
    let first = Brief(cell.made_for.0);
    let second = Brief(cell.made_for.1);
    let mut lines = match cell.shape {
        _ if is_made_alike(kind, filled) => vec![phrase!("leaf made for {} x {}", first, second)],
        CellShape::Square => vec![phrase!("clear opening {} x {}", first, second)],
        CellShape::Triangle => vec![
            phrase!("clear base {}", first),
            phrase!("height {}", second),
        ],
        CellShape::Rhomb => vec![
            phrase!("clear side {}", first),
            phrase!("between walls {}", second),
        ],
    };
    let mut pieces = kind.pieces.clone();
    pieces.sort_unstable();
    lines.extend(pieces.into_iter().filter_map(|(at, _)| {
        let piece = filled.kinds.get(at)?;
        let length = Brief(piece.figures.length);
        let mut line = phrase!("{}  {} {}", at + 1, &piece.name, length);
        if !piece.figures.folds.is_empty() {
            line.append(phrase!(" unfolded"));
        }
        Some(line)
    }));
    lines
}

/// Whether some of its cells have another opening than their pieces are made for: leaves of bays as built
/// that are made alike.
fn is_made_alike(kind: &CellKind, filled: &Infilling) -> bool {
    let off = |cell: &FilledCell, of: fn(&(f64, f64)) -> f64| {
        of(&cell.opening).approx_ne(of(&cell.made_for), POSITION)
    };
    let mut cells = kind.cells.iter().filter_map(|at| filled.cells.get(*at));
    cells.any(|cell| off(cell, |open| open.0) || off(cell, |open| open.1))
}

/// The same in short lines, each piece with how many of it one cell takes.
fn told_of_several(cell: &FilledCell, kind: &CellKind, filled: &Infilling) -> Vec<Phrase> {
    let first = Brief(cell.made_for.0);
    let second = Brief(cell.made_for.1);
    let count = counted(kind.cells.len(), "cell");
    let mut lines = vec![phrase!("kind {}: {}", kind.name.as_str(), count)];
    if filled.map.form != MapForm::Same {
        lines.push(phrase!("in the map {}", filled.letters(kind)));
    }
    lines.extend(match cell.shape {
        _ if is_made_alike(kind, filled) => [
            phrase!("leaf for {} wide", first),
            phrase!("{} high", second),
        ],
        CellShape::Square => [phrase!("clear {} wide", first), phrase!("{} high", second)],
        CellShape::Triangle => [
            phrase!("clear base {}", first),
            phrase!("height {}", second),
        ],
        CellShape::Rhomb => [
            phrase!("clear side {}", first),
            phrase!("between walls {}", second),
        ],
    });
    lines.extend(kind.pieces.iter().filter_map(|(at, count)| {
        let piece = filled.kinds.get(*at)?;
        let length = Brief(piece.figures.length);
        let mut line = phrase!("{}  {} {}", at + 1, &piece.name, length);
        if !piece.figures.folds.is_empty() {
            line.append(phrase!(" unfolded"));
        }
        if *count > 1 {
            line.append(phrase!(" x{}", *count));
        }
        Some(line)
    }));
    lines
}

/// A measure's line with ticks at its ends, below a drawing.
fn span(drawing: &mut Drawing, ends: [f64; 2], at: f64, text: f64) {
    for end in ends {
        let tick = [
            Point::new(end, at + 1.5 * text),
            Point::new(end, at + 0.5 * text),
        ];
        drawing.line(Role::Measure, tick.to_vec());
    }
    let line = ends.map(|end| Point::new(end, at + text));
    drawing.line(Role::Measure, line.to_vec());
}
