//! The assembled panel from the front.

use super::bodies::{
    band, crossing_bodies, draw, faces, from_the_back, is_square, name_height, numbers,
    piece_bodies, strip_bodies, tone,
};
use super::enlarged;
use super::labels::{Label, Taken};
use super::seen::{self, Line};
use crate::geometry::{Point, bounds};
use crate::infill::{FilledCell, Infilling};
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::outline::{CutPath, CutWork, FrameLine, SheetDrawing};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{FrameOutlines, Lattice};

/// The panel as it is seen from the front, each strip with its name at its datum end, pieces in their
/// cells numbered by kind; beside it one cell of each kind enlarged, with its opening and its pieces'
/// lengths. Where there are several kinds every cell bears its kind's name, rows and columns are
/// numbered. A frame's members are drawn over the strips' ends.
pub fn panel_drawing(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&FrameOutlines>,
) -> Drawing {
    let mut drawing = panel_alone(lattice, filled, frame);
    if let Some(filled) = filled {
        enlarged::beside(&mut drawing, filled, lattice);
    }
    drawing
}

/// The same without enlarged cells.
pub(in crate::sheets) fn panel_alone(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&FrameOutlines>,
) -> Drawing {
    let ends = lattice
        .strips
        .iter()
        .flat_map(|strip| [strip.start, strip.end]);
    let (low, high) = bounds(ends).unwrap_or_default();
    let mut drawing = Drawing::new(lattice.title.clone(), low, high);
    let lines = panel_lines(lattice, filled);
    draw_woods(&mut drawing, lattice, filled, &lines);
    let mut taken = Taken::default();
    if !is_square(lattice) {
        let drawn = seen::near(&seen::segments(&lines), &lattice.region);
        let around = seen::not_drawn(&lattice.region, Role::Measure, &drawn);
        draw(&mut drawing, &around, |point| point);
        taken.add(lattice.region.clone());
    }
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        numbers(&mut drawing, cell, |point| point, 1.0);
    }
    if let Some(frame) = frame {
        super::frame::add(&mut drawing, &mut taken, frame);
    }
    names(&mut drawing, &mut taken, lattice);
    if let Some(filled) = filled {
        enlarged::marks(&mut drawing, &mut taken, filled, lattice);
    }
    drawing
}

/// The faces of strips and pieces, and the lines that are seen of them.
pub(super) fn draw_woods(
    drawing: &mut Drawing,
    lattice: &Lattice,
    filled: Option<&Infilling>,
    lines: &[Line],
) {
    for strip in from_the_back(lattice) {
        drawing.face(tone(strip), band(strip, lattice.section.thickness));
    }
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        faces(drawing, cell, |point| point);
    }
    draw(drawing, lines, |point| point);
}

/// What is seen of strips and pieces as lines of layer LETTERS: nothing of it is to be cut. No line lies
/// behind a strip or piece, and none is there twice. A frame's members, over the strips' ends, have a layer
/// of their own.
pub fn panel_outlines(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&FrameOutlines>,
) -> SheetDrawing {
    let path = |work: CutWork| {
        move |line: Line| CutPath {
            work,
            closed: line.closed,
            points: line.points,
        }
    };
    let lines = panel_lines(lattice, filled).into_iter();
    let mut paths: Vec<CutPath> = lines.map(path(CutWork::Letters)).collect();
    let members = seen::lines(&super::frame::bodies(frame), &[]).into_iter();
    paths.extend(members.map(path(CutWork::Frame(FrameLine::Members))));
    SheetDrawing {
        safety: SafetyNotes::for_assembly(),
        paths,
    }
}

/// The lines that are seen of the strips and of the pieces.
pub(super) fn panel_lines(lattice: &Lattice, filled: Option<&Infilling>) -> Vec<Line> {
    let thickness = lattice.section.thickness;
    let strips = strip_bodies(lattice, |strip| band(strip, thickness));
    if let Some(filled) = filled.filter(|filled| filled.runs_over()) {
        return seen::lines(&crossing_bodies(filled.cells.iter(), strips), &[]);
    }
    let mut lines = seen::lines(&strips, &[]);
    let of_strips = seen::segments(&lines);
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        let bodies = piece_bodies(cell, |point| point);
        let around = seen::near(&of_strips, &cell.outline);
        lines.extend(seen::lines(&bodies, &around));
    }
    lines
}

/// Every strip's name beyond its datum end, farther out where others stand in its way.
fn names(drawing: &mut Drawing, taken: &mut Taken, lattice: &Lattice) {
    let thickness = lattice.section.thickness;
    for strip in &lattice.strips {
        taken.add(band(strip, thickness));
    }
    let farthest = 2.0 * (drawing.high.x - drawing.low.x + drawing.high.y - drawing.low.y);
    for strip in &lattice.strips {
        let label = Label {
            role: Role::Label,
            height: name_height(thickness),
            text: lattice.label(strip.id).into(),
        };
        let back = strip.end.to(strip.start).unit().unwrap_or_default();
        taken.write_outward(drawing, label, strip.start, back, farthest);
    }
}

/// The pieces of a cell through a map of the plane that enlarges by `scale`, in an opening whose edge
/// is drawn already; each bears the number of its kind.
pub(in crate::sheets) fn pieces(
    drawing: &mut Drawing,
    cell: &FilledCell,
    map: impl Fn(Point) -> Point,
    scale: f64,
) {
    faces(drawing, cell, &map);
    let opening: Vec<Point> = cell.outline.iter().map(|point| map(*point)).collect();
    let edge = seen::not_drawn(&opening, Role::Cut, &[]);
    let lines = seen::lines(&piece_bodies(cell, &map), &seen::segments(&edge));
    draw(drawing, &lines, |point| point);
    numbers(drawing, cell, map, scale);
}
