//! Whether a drawing of the assembled panel shows what is seen of its strips and pieces, and nothing
//! else.

use super::contours::{self, Contour};
use super::dxf_survey::{check_extents, survey};
use super::frame_wanted::FrameOrder;
use super::report::{OutlineFault, TOLERANCE_MM, place};
use super::rings::{Edge, edges};
use crate::geometry::{Point, Vector};
use crate::infill::{FilledCell, Infilling, PlacedPiece};
use crate::instructions::outline::{CutWork, FrameLine};
use crate::lattice::{Face, Frame, Lattice, Strip};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// Shorter lines than this may be there or not, mm: nobody sees them.
const UNSEEN_MM: f64 = 2e-3;

/// Whether a drawing has something to cut, so that it is none of the assembled panel. One that cannot
/// be read has not.
pub fn has_cuts(bytes: &[u8]) -> bool {
    let found = contours::read(bytes, &mut Vec::new()).unwrap_or_default();
    found.iter().any(|contour| contour.work.cuts())
}

/// Checks a DXF file of the assembled panel, drawn from the front.
///
/// In: the file's bytes, the lattice, and its pieces and its frame where it has some. Out: all that is wrong. Not
/// checked: lines shorter than can be seen, and in how many strokes an edge is drawn.
///
/// It must have lines of layer LETTERS, since nothing of it is to be cut, along all that is seen of
/// the outlines of strips, a thickness wide about their centre lines, and of pieces. What lies behind
/// a strip that laps over it, or behind a piece, is not to be there. Where the widths of a frame's members
/// are known, these have their lines on layer FRAME.
///
/// Codes as for [`super::check_sheet`]; `missing`, `surplus` and `duplicate` for lines.
pub fn check_panel(
    bytes: &[u8],
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&Frame>,
) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    let read = survey(bytes, &mut faults)
        .and_then(|survey| Ok((survey, contours::read(bytes, &mut faults)?)));
    let (survey, found) = match read {
        Ok(read) => read,
        Err(fault) => {
            faults.push(fault);
            return faults;
        }
    };
    check_extents(&survey, &found, &mut faults);
    if found.len() != survey.entities {
        faults.push(OutlineFault::new(
            "unreadable",
            "not all lines could be read",
        ));
    }
    let members = CutWork::Frame(FrameLine::Members);
    let of = |work: CutWork| lines_of(found.iter().filter(move |line| line.work == work));
    let seen = DrawnLines::of(seen(lattice, filled));
    compare(&DrawnLines::of(of(CutWork::Letters)), &seen, &mut faults);
    let framed = DrawnLines::of(frame.into_iter().flat_map(|frame| framed(lattice, frame)));
    compare(&DrawnLines::of(of(members)), &framed, &mut faults);
    let others = found.iter();
    let others = others.filter(|line| line.work != CutWork::Letters && line.work != members);
    let count = others.count();
    if count > 0 {
        let text = format!("{count} lines are neither of layer LETTERS nor of FRAME");
        faults.push(OutlineFault::new("surplus", text));
    }
    faults
}

/// The straight lines of some contours.
fn lines_of<'a>(
    contours: impl Iterator<Item = &'a Contour> + 'a,
) -> impl Iterator<Item = Edge> + 'a {
    contours.flat_map(|contour| {
        let first = contour.points.first().filter(|_| contour.closed);
        let next = contour.points.iter().skip(1).chain(first);
        let pairs = contour.points.iter().zip(next);
        pairs.map(|(p, q)| Edge { from: *p, to: *q })
    })
}

/// What is drawn against what is seen, both ways.
fn compare(drawn: &DrawnLines, seen: &DrawnLines, faults: &mut Vec<OutlineFault>) {
    let lacking = seen.all.iter().filter(|line| drawn.lacks(line));
    told("missing", "lines are not there", lacking, faults);
    let lost = drawn.all.iter().filter(|line| seen.lacks(line));
    told("surplus", "lines of nothing that is seen", lost, faults);
    let twice = (0..drawn.all.len()).filter(|at| drawn.is_twice(*at));
    let twice = twice.filter_map(|at| drawn.all.get(at));
    told("duplicate", "lines are there twice", twice, faults);
}

/// The edges of a frame's members, each ring by itself.
fn framed(lattice: &Lattice, frame: &Frame) -> Vec<Edge> {
    let rings = FrameOrder {
        lattice,
        frame,
        names: &[],
    }
    .seen();
    rings.iter().flat_map(|ring| edges(ring)).collect()
}

/// One fault for all lines that share it.
fn told<'a>(
    code: &'static str,
    what: &str,
    lines: impl Iterator<Item = &'a Edge>,
    faults: &mut Vec<OutlineFault>,
) {
    let mut lines = lines.peekable();
    if let Some(first) = lines.peek() {
        let at = place(first.from);
        let text = format!("{} {what}, one from {at}", lines.count());
        faults.push(OutlineFault::new(code, text));
    }
}

impl Edge {
    /// Which share of the way a point is abreast of, and how far beside the line it lies.
    fn abreast(&self, point: Point) -> (f64, f64) {
        let way = self.from.to(self.to);
        let to = self.from.to(point);
        let long = self.length();
        (way.dot(to) / (long * long), (way.cross(to) / long).abs())
    }

    /// Which part of it another line covers, as shares of the way.
    fn covered(&self, other: &Edge) -> Option<[f64; 2]> {
        let (a, _) = self.abreast(other.from);
        let (b, _) = self.abreast(other.to);
        let from = a.min(b).max(0.0);
        let to = a.max(b).min(1.0);
        if (to - from) * self.length() < UNSEEN_MM {
            return None;
        }
        let beside = [from, to].map(|share| other.at((share - a) / (b - a)));
        let near = |point: &Point| self.abreast(*point).1 <= TOLERANCE_MM;
        beside.iter().all(near).then_some([from, to])
    }
}

/// Least breadth of the columns that lines are sorted into, mm.
const COLUMN_MM: f64 = 10.0;

/// More columns than this no drawing is sorted into, however far its lines reach: it may be anybody's.
const MOST_COLUMNS: f64 = 1000.0;

/// DrawnLines that are found by where they lie.
struct DrawnLines {
    all: Vec<Edge>,
    /// Of a column, mm.
    breadth: f64,
    columns: BTreeMap<i64, Vec<usize>>,
}

impl DrawnLines {
    fn of(lines: impl IntoIterator<Item = Edge>) -> DrawnLines {
        let long = |line: &Edge| line.length() > 0.0;
        let all: Vec<Edge> = lines.into_iter().filter(long).collect();
        let places = || all.iter().flat_map(|line| [line.from.x, line.to.x]);
        let reach = places().fold(f64::MIN, f64::max) - places().fold(f64::MAX, f64::min);
        let breadth = COLUMN_MM.max(reach / MOST_COLUMNS);
        let mut columns: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
        for (index, line) in all.iter().enumerate() {
            for column in columns_of(line, breadth) {
                columns.entry(column).or_default().push(index);
            }
        }
        DrawnLines {
            all,
            breadth,
            columns,
        }
    }

    /// Indices of those that may lie on a line.
    fn near(&self, line: &Edge) -> Vec<usize> {
        let (low, high) = heights(line);
        let columns = self.columns.range(columns_of(line, self.breadth));
        let reaches = |at: &&usize| {
            let other = self.all.get(**at).map(heights);
            other.is_some_and(|(from, to)| from <= high + 1.0 && to >= low - 1.0)
        };
        let mut near: Vec<usize> = columns
            .flat_map(|(_, all)| all)
            .filter(reaches)
            .copied()
            .collect();
        near.sort_unstable();
        near.dedup();
        near
    }

    /// Whether part of a line is covered by none of these.
    fn lacks(&self, line: &Edge) -> bool {
        let near = self.near(line).into_iter();
        let near = near.filter_map(|at| line.covered(self.all.get(at)?));
        let mut covers: Vec<[f64; 2]> = near.collect();
        covers.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let slack = UNSEEN_MM / line.length();
        let mut end = 0.0_f64;
        for [from, to] in covers {
            if from <= end + slack {
                end = end.max(to);
            }
        }
        end < 1.0 - slack
    }

    /// Whether another one lies on one of these.
    fn is_twice(&self, index: usize) -> bool {
        let Some(line) = self.all.get(index) else {
            return false;
        };
        let mut others = self.near(line).into_iter().filter(|at| *at != index);
        others.any(|at| self.all.get(at).and_then(|o| line.covered(o)).is_some())
    }
}

#[allow(clippy::cast_possible_truncation)] // saturates; then nothing is found near
fn columns_of(line: &Edge, breadth: f64) -> RangeInclusive<i64> {
    let low = line.from.x.min(line.to.x);
    let high = line.from.x.max(line.to.x);
    let column = |x: f64| (x / breadth).floor() as i64;
    column(low - 1.0)..=column(high + 1.0)
}

fn heights(line: &Edge) -> (f64, f64) {
    (line.from.y.min(line.to.y), line.from.y.max(line.to.y))
}

/// What is seen of the edges of strips and pieces.
fn seen(lattice: &Lattice, filled: Option<&Infilling>) -> Vec<Edge> {
    let mut seen = Vec::new();
    let cells = || filled.into_iter().flat_map(|filled| &filled.cells);
    // Parts of pieces that run over strips, with where each runs.
    let running: Vec<&PlacedPiece> = cells()
        .flat_map(|cell| &cell.pieces)
        .filter(|piece| piece.run.is_some())
        .collect();
    for strip in &lattice.strips {
        let laps = lattice.crossings.iter();
        let fronts = laps.filter(|lap| lap.back == strip.id);
        let fronts = fronts.filter_map(|lap| lattice.strips.iter().find(|s| s.id == lap.front));
        let mut over: Vec<Vec<Point>> = fronts.map(|front| band(lattice, front)).collect();
        over.extend(running.iter().map(|part| part.outline.clone()));
        seen_edges(&band(lattice, strip), &over, &mut seen);
    }
    for cell in cells() {
        for piece in &cell.pieces {
            let mut hiders = over(cell, piece);
            if piece.run.is_some() {
                // The next part of the same piece goes on in line.
                let next = running.iter().filter(|part| in_line(piece, part));
                hiders.extend(next.map(|part| part.outline.clone()));
            }
            seen_edges(&piece.outline, &hiders, &mut seen);
        }
    }
    seen
}

/// Whether another part's axis lies on the line of a part's, and it is not the same part.
fn in_line(part: &PlacedPiece, other: &PlacedPiece) -> bool {
    let (from, to) = part.axis;
    let way = from.to(to);
    let off = |p: Point| (way.cross(from.to(p)) / way.x.hypot(way.y)).abs();
    let (start, end) = other.axis;
    let same = from.to(start).dot(from.to(start)) + to.to(end).dot(to.to(end)) < TOLERANCE_MM;
    off(start) < TOLERANCE_MM && off(end) < TOLERANCE_MM && !same
}

/// The pieces that lap over one: those notched from behind for it.
fn over(cell: &FilledCell, piece: &PlacedPiece) -> Vec<Vec<Point>> {
    let laps_over = |other: &&PlacedPiece| {
        let mut laps = other.laps.iter();
        laps.any(|lap| lap.face == Face::Back && lap.mate == piece.name)
    };
    let over = cell.pieces.iter().filter(laps_over);
    over.map(|other| other.outline.clone()).collect()
}

fn band(lattice: &Lattice, strip: &Strip) -> Vec<Point> {
    let half = lattice.section.thickness / 2.0;
    let from = strip.start;
    let to = strip.end;
    let long = (to.x - from.x).hypot(to.y - from.y);
    let side = Vector::new((from.y - to.y) / long * half, (to.x - from.x) / long * half);
    vec![from - side, to - side, to + side, from + side]
}

/// Adds the parts of a ring's edges of which no ring over it hides the middle, between the places
/// where lines of those rings cross them.
fn seen_edges(ring: &[Point], over: &[Vec<Point>], seen: &mut Vec<Edge>) {
    for edge in edges(ring) {
        let mut cuts = vec![0.0, 1.0];
        for side in over.iter().flat_map(|hider| edges(hider)) {
            // Where the distance from the side's line, growing evenly, is nothing.
            let way = side.from.to(side.to);
            let start = way.cross(side.from.to(edge.from));
            let end = way.cross(side.from.to(edge.to));
            let share = start / (start - end);
            if share > 0.0 && share < 1.0 {
                cuts.push(share);
            }
        }
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.windows(2) {
            let &[start, end] = pair else { continue };
            let middle = edge.at(f64::midpoint(start, end));
            let long = (end - start) * edge.length() > UNSEEN_MM;
            if long && !over.iter().any(|hider| holds(hider, middle)) {
                seen.push(Edge {
                    from: edge.at(start),
                    to: edge.at(end),
                });
            }
        }
    }
}

/// Whether a point lies inside a ring, clear of its edge: a ray to the right crosses the ring an odd number
/// of times.
fn holds(ring: &[Point], point: Point) -> bool {
    let crossed = edges(ring).filter(|side| {
        let (from, to) = (side.from, side.to);
        let reaches = (from.y > point.y) != (to.y > point.y);
        let along = (point.y - from.y) / (to.y - from.y);
        reaches && point.x < from.x + along * (to.x - from.x)
    });
    let clear = edges(ring).all(|side| {
        let (share, beside) = side.abreast(point);
        let nearest = side.at(share.clamp(0.0, 1.0)).to(point).length();
        beside > TOLERANCE_MM || nearest > TOLERANCE_MM
    });
    crossed.count() % 2 == 1 && clear
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_without_end_is_sorted_into_few_columns() {
        let line = |from: f64, to: f64| Edge {
            from: Point::new(from, 0.0),
            to: Point::new(to, 0.0),
        };
        let far = DrawnLines::of([line(0.0, 40.0), line(0.0, 4_294_967_295.0)]);
        assert!(far.columns.len() <= 1004, "{}", far.columns.len());
        let near = DrawnLines::of([line(0.0, 40.0), line(50.0, 60.0)]);
        // Asked with a line that reaches on for ever, only what is there is looked at.
        assert_eq!(near.near(&line(-1e15, 1e15)), [0, 1]);
        assert!(!near.lacks(&line(0.0, 40.0)) && near.lacks(&line(0.0, 60.0)));
    }
}
