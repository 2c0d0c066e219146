//! Numbers of pieces: inside of them, or beside with a line that leads there.

use super::bodies::lies_over;
use super::labels::{Taken, figures_room, inside, is_clear_of, thin};
use crate::geometry::convex::{depth, parts};
use crate::geometry::{Point, Vector, bounds};
use crate::infill::{FilledCell, PlacedPiece};
use crate::instructions::drawing::{Anchor, Drawing, Role};

/// Height of a number as a share of its piece's thickness.
pub(super) const LABEL_HEIGHT: f64 = 0.62;

/// Numbers beside pieces stand no farther outside the cell's surroundings than so many times their height.
const OUTSIDE: f64 = 2.5;

/// Radius of the dot that a leading line ends in, as a share of the number's height.
const DOT: f64 = 0.16;

/// A piece that bears a number.
pub(super) struct Numbered {
    pub(super) text: String,
    pub(super) ring: Vec<Point>,
    /// In which it is long.
    pub(super) axis: Vector,
    /// Of pieces that lie over or under it.
    pub(super) crossing: Vec<Vec<Point>>,
}

impl Numbered {
    fn figures(&self) -> usize {
        self.text.chars().count()
    }

    /// Where its number stands inside, and how high that is.
    fn inside(&self, least: f64) -> Option<(Point, f64)> {
        let crossing: Vec<&[Point]> = self.crossing.iter().map(Vec::as_slice).collect();
        let most = LABEL_HEIGHT * narrowest(&self.ring, self.axis);
        inside(
            &self.ring,
            self.axis,
            &crossing,
            self.figures(),
            [most, least],
        )
    }

    /// Where a line that leads to it ends: on it alone, as near its middle as can be.
    fn spot(&self) -> Point {
        let share = 1.0 / self.ring.len().max(1) as f64;
        let sum = |part: fn(&Point) -> f64| self.ring.iter().map(part).sum::<f64>() * share;
        let middle = Point::new(sum(|p| p.x), sum(|p| p.y));
        let along = self.axis * 0.05;
        let steps = (0..9).flat_map(|at| [f64::from(at), -f64::from(at)]);
        let mut places = steps.map(|step| middle + along * step);
        let alone = |at: &Point| {
            let on = |ring: &[Point]| parts(ring).iter().any(|part| depth(part, *at) > 0.0);
            on(&self.ring) && !self.crossing.iter().any(|other| on(other))
        };
        places.find(alone).unwrap_or(middle)
    }
}

/// The pieces of a cell that bear numbers, through a map of the plane.
pub(super) fn numbered(cell: &FilledCell, map: impl Fn(Point) -> Point) -> Vec<Numbered> {
    // A folded strip bears one number, on one of its legs.
    let pieces = cell.pieces.iter().filter(|piece| !piece.is_further_arm());
    let ring = |piece: &PlacedPiece| piece.outline.iter().map(|point| map(*point)).collect();
    let one = |piece: &PlacedPiece| {
        let others = cell.pieces.iter();
        let crossing = others.filter(|other| lies_over(other, piece) || lies_over(piece, other));
        let (from, to) = piece.axis;
        Numbered {
            text: (piece.kind + 1).to_string(),
            ring: ring(piece),
            axis: map(from).to(map(to)),
            crossing: crossing.map(ring).collect(),
        }
    };
    pieces.map(one).collect()
}

/// Numbers inside all of these pieces, or none where one of them has no room for figures that high.
pub(super) fn inside_all(drawing: &mut Drawing, pieces: &[Numbered], least: f64) {
    let places: Option<Vec<(Point, f64)>> = pieces.iter().map(|one| one.inside(least)).collect();
    for (one, (at, height)) in pieces.iter().zip(places.into_iter().flatten()) {
        drawing.text(Role::Label, at, height, one.text.as_str());
    }
}

/// A number for each of these pieces, no lower than `least`: inside where there is room, else on free
/// ground beside, with a line that leads to it. Nothing stands on what is `taken`; `others` are all
/// pieces that are drawn.
pub(super) fn inside_or_beside(
    drawing: &mut Drawing,
    taken: &mut Taken,
    pieces: &[Numbered],
    least: f64,
) {
    if least <= 0.0 {
        return;
    }
    let rings: Vec<Vec<Point>> = pieces.iter().flat_map(|one| parts(&one.ring)).collect();
    let mut beside = Vec::new();
    for one in pieces {
        match one.inside(least) {
            Some((at, height)) => {
                taken.add_words(figures_room(at, one.figures(), height));
                drawing.text(Role::Label, at, height, one.text.as_str());
            }
            None => beside.push(one),
        }
    }
    let corners = [drawing.low, drawing.high];
    let all = pieces.iter().flat_map(|one| one.ring.iter().copied());
    let (low, high) = bounds(all).unwrap_or((corners[0], corners[1]));
    for one in beside {
        let spot = one.spot();
        let own = parts(&one.ring);
        let foreign: Vec<Vec<Point>> = rings
            .iter()
            .filter(|ring| !own.contains(ring))
            .cloned()
            .collect();
        let places = places(spot, [low, high], least);
        let free = |at: &&Point| {
            let room = figures_room(**at, one.figures(), least);
            let leader = thin(leader(spot, **at, one.figures(), least), least);
            is_clear_of(&rings, &room, 0.3 * least)
                && taken.is_free(&room, 0.3 * least)
                && taken.is_free_of_words(&leader, 0.1 * least)
        };
        let crosses = |at: &&Point| {
            let leader = thin(leader(spot, **at, one.figures(), least), least);
            !is_clear_of(&foreign, &leader, 0.0)
        };
        let free: Vec<&Point> = places.iter().filter(free).collect();
        let clear = free.iter().copied().find(|at| !crosses(at));
        if let Some(at) = clear.or(free.first().copied()) {
            write_beside(drawing, taken, one, spot, *at, least);
        }
    }
}

/// Places for a number round a spot, the nearest first; none below the pieces, where other writing stands.
fn places(spot: Point, [low, high]: [Point; 2], height: f64) -> Vec<Point> {
    let beyond = OUTSIDE * height;
    let step = 0.5 * height;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // some dozens
    let count = |from: f64, to: f64| ((to - from + 2.0 * beyond) / step).ceil().min(200.0) as u32;
    let [across, up] = [count(low.x, high.x), count(low.y, high.y)];
    let at = |i: u32, low: f64| low - beyond + f64::from(i) * step;
    let points = (0..=across).flat_map(|i| (0..=up).map(move |j| (i, j)));
    let points = points.map(|(i, j)| Point::new(at(i, low.x), at(j, low.y)));
    let mut points: Vec<Point> = points.filter(|point| point.y - height > low.y).collect();
    points.sort_by(|p, q| spot.to(*p).length().total_cmp(&spot.to(*q).length()));
    points
}

/// From a spot to the edge of a number's room.
fn leader(spot: Point, at: Point, figures: usize, height: f64) -> [Point; 2] {
    let way = at.to(spot);
    let [half_x, half_y] = [0.45 * figures as f64 * height + 0.2 * height, 0.75 * height];
    let share = (way.x.abs() / half_x).max(way.y.abs() / half_y).max(1.0);
    [spot, at + way * (1.0 / share)]
}

fn write_beside(
    drawing: &mut Drawing,
    taken: &mut Taken,
    one: &Numbered,
    spot: Point,
    at: Point,
    height: f64,
) {
    let line = leader(spot, at, one.figures(), height);
    drawing.line(Role::Measure, line.to_vec());
    let corner = |turn: u32| {
        let angle = f64::from(turn) * std::f64::consts::FRAC_PI_4;
        spot + Vector::new(angle.cos(), angle.sin()) * (DOT * height)
    };
    drawing.face(Role::Measure, (0..8).map(corner).collect());
    drawing.text_from(Role::Name, Anchor::Middle, at, height, one.text.as_str());
    taken.add_words(thin(line, height));
    let room = figures_room(at, one.figures(), height);
    let corners = [drawing.low, drawing.high];
    let (low, high) = bounds(room.iter().copied().chain(corners)).unwrap_or_default();
    (drawing.low, drawing.high) = (low, high);
    taken.add_words(room);
}

/// Width of a ring square to a direction.
pub(super) fn narrowest(ring: &[Point], along: Vector) -> f64 {
    let along = along.unit().unwrap_or_default();
    let across = ring
        .iter()
        .map(|point| along.cross(Vector::new(point.x, point.y)));
    let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    (high - low).max(0.0)
}
