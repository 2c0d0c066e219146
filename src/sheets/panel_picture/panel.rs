//! The assembled panel from the front.

use super::bodies::{
    band, crossing_bodies, draw, faces, from_the_back, is_square, piece_bodies, strip_bodies, tone,
};
use super::labels::{Label, Taken};
use super::numbers::{Numbered, inside_all, inside_or_beside, numbered};
use super::seen::{self, Line};
use super::{enlarged, marks};
use crate::geometry::{Point, bounds};
use crate::infill::{FilledCell, Infilling};
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::legible::{LEAST_CAPITALS_MM, Share, Shown, for_both};
use crate::instructions::outline::{CutPath, CutWork, FrameLine, SheetDrawing};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{FrameOutlines, Lattice, Strip};

/// The panel as it is seen from the front, strips with their names at their datum ends, pieces with the
/// numbers of their kinds where these can be read; with it one cell of each kind enlarged, with its opening
/// and its pieces' lengths. Where there are several kinds every cell bears its kind's name, rows and columns
/// are numbered. A frame's members are drawn over the strips' ends.
pub fn panel_drawing(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&FrameOutlines>,
) -> Drawing {
    let plain = Plain::of(lattice, filled, frame);
    let kinds = filled.map_or(0, |filled| filled.cell_kinds().len());
    if let Some(filled) = filled.filter(|_| kinds > 1) {
        // Its words are many: they have the size in which a file of true size is read.
        let capitals = (1.1 * lattice.section.thickness).clamp(2.5, 5.0);
        let mut writing = plain.writing(capitals);
        enlarged::with(&mut writing, filled, lattice, capitals, Shown::Broad);
        return plain.below(writing);
    }
    let writing = for_both(Share::PANEL, |capitals, shown| {
        let mut writing = plain.writing(least(capitals));
        if let Some(filled) = filled {
            enlarged::with(&mut writing, filled, lattice, least(capitals), shown);
        }
        writing
    });
    plain.below(writing)
}

/// The same without enlarged cells.
pub(in crate::sheets) fn panel_alone(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&FrameOutlines>,
) -> Drawing {
    let plain = Plain::of(lattice, filled, frame);
    let writing = for_both(Share::PANEL, |capitals, _| plain.writing(least(capitals)));
    plain.below(writing)
}

/// Capitals of a size that can be read in a file of true size too.
fn least(capitals: f64) -> f64 {
    if capitals > 0.0 {
        capitals.max(LEAST_CAPITALS_MM)
    } else {
        0.0
    }
}

/// The panel before anything is written.
struct Plain<'a> {
    drawing: Drawing,
    taken: Taken,
    lattice: &'a Lattice,
    filled: Option<&'a Infilling>,
    /// All pieces that may bear numbers.
    pieces: Vec<Numbered>,
}

impl<'a> Plain<'a> {
    fn of(
        lattice: &'a Lattice,
        filled: Option<&'a Infilling>,
        frame: Option<&FrameOutlines>,
    ) -> Self {
        let ends = lattice.strips.iter();
        let ends = ends.flat_map(|strip| [strip.start, strip.end]);
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
        if let Some(frame) = frame {
            super::frame::add(&mut drawing, &mut taken, frame);
        }
        for strip in &lattice.strips {
            taken.add(band(strip, lattice.section.thickness));
        }
        let cells = filled.into_iter().flat_map(|filled| &filled.cells);
        Plain {
            drawing,
            taken,
            lattice,
            filled,
            pieces: cells.flat_map(|cell| numbered(cell, |p| p)).collect(),
        }
    }

    /// Names and numbers alone, capitals of a height. They are laid out several times until their height is
    /// right; what is below them stays as it is.
    fn writing(&self, capitals: f64) -> Drawing {
        let Drawing { low, high, .. } = self.drawing;
        let mut drawing = Drawing::new(self.drawing.title.clone(), low, high);
        let mut taken = self.taken.clone();
        if capitals > 0.0 {
            inside_all(&mut drawing, &self.pieces, capitals);
        }
        names(&mut drawing, &mut taken, self.lattice, capitals);
        if let Some(filled) = self.filled {
            marks::marks(&mut drawing, &mut taken, filled, self.lattice, capitals);
        }
        drawing
    }

    /// The panel below its writing, for broad and for narrow pages.
    fn below(self, mut writing: Drawing) -> Drawing {
        if let Some(narrow) = writing.narrow.as_deref_mut() {
            let own = std::mem::take(&mut narrow.shapes);
            narrow.shapes.clone_from(&self.drawing.shapes);
            narrow.shapes.extend(own);
        }
        let own = std::mem::replace(&mut writing.shapes, self.drawing.shapes);
        writing.shapes.extend(own);
        writing
    }
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
    let of_strips = seen::NearLines::of(seen::segments(&lines));
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        let bodies = piece_bodies(cell, |point| point);
        let around = of_strips.near(&cell.outline);
        lines.extend(seen::lines(&bodies, &around));
    }
    lines
}

/// Strips' names beyond their datum ends, farther out where others stand in their way: of each family the
/// first and the last, and as many of those between as have room.
fn names(drawing: &mut Drawing, taken: &mut Taken, lattice: &Lattice, capitals: f64) {
    let farthest = 2.0 * (drawing.high.x - drawing.low.x + drawing.high.y - drawing.low.y);
    for family in 0..lattice.families.len() {
        let own = lattice
            .strips
            .iter()
            .filter(|strip| strip.id.family == family);
        let mut own: Vec<&Strip> = own.collect();
        // The first, the last, then the others.
        if let Some((_, rest)) = own.split_first_mut() {
            rest.rotate_right(usize::from(!rest.is_empty()));
        }
        for strip in own {
            let label = Label {
                role: Role::Name,
                height: capitals,
                text: lattice.label(strip.id).into(),
            };
            let back = strip.end.to(strip.start).unit().unwrap_or_default();
            taken.write_outward(drawing, label, strip.start, back, farthest);
        }
    }
}

/// The pieces of a cell through a map of the plane, in an opening whose edge is drawn already; each bears
/// the number of its kind, in figures that can be read where one millimetre of the drawing is one on paper.
pub(in crate::sheets) fn pieces(
    drawing: &mut Drawing,
    cell: &FilledCell,
    map: impl Fn(Point) -> Point,
) {
    faces(drawing, cell, &map);
    let opening: Vec<Point> = cell.outline.iter().map(|point| map(*point)).collect();
    let edge = seen::not_drawn(&opening, Role::Cut, &[]);
    let lines = seen::lines(&piece_bodies(cell, &map), &seen::segments(&edge));
    draw(drawing, &lines, |point| point);
    let mut taken = Taken::default();
    let pieces = numbered(cell, map);
    inside_or_beside(drawing, &mut taken, &pieces, LEAST_CAPITALS_MM);
}
