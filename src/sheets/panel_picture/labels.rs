//! Where labels stand: not over each other, nor over lines where there is another place.

use crate::geometry::convex::{chord, depth, gap, parts};
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::instructions::drawing::{Drawing, Role, text_box};
use crate::phrase::Phrase;

/// Free room around a label that stands beside wood, as a share of its height.
const CLEAR: f64 = 0.25;

/// Breadth of a line that leads to a label, as a share of the label's height, for keeping it free.
const LEADER: f64 = 0.2;

/// What is on the paper already.
#[derive(Clone, Default)]
pub(super) struct Taken {
    /// Of what is drawn, convex.
    rings: Vec<Vec<Point>>,
    /// Of labels and of the lines that lead to them.
    words: Vec<Vec<Point>>,
}

impl Taken {
    /// Nothing else is to stand on this.
    pub(super) fn add(&mut self, ring: Vec<Point>) {
        self.rings.push(ring);
    }

    /// A label stands here, or a line that leads to one.
    pub(super) fn add_words(&mut self, room: Vec<Point>) {
        self.words.push(room);
    }

    pub(super) fn is_free(&self, room: &[Point], clear: f64) -> bool {
        is_clear_of(&self.rings, room, clear) && self.is_free_of_words(room, clear)
    }

    /// Whether no other label stands here; what is drawn may.
    pub(super) fn is_free_of_words(&self, room: &[Point], clear: f64) -> bool {
        is_clear_of(&self.words, room, clear)
    }

    /// Writes a text at the first free place on the way from `at` on, nowhere where there is none as far
    /// as `farthest`; tells whether it is written. Where other labels push it out, a line leads there. Its
    /// place is then taken, and the drawing has room for it.
    pub(super) fn write_outward(
        &mut self,
        drawing: &mut Drawing,
        text: Label,
        at: Point,
        way: Vector,
        farthest: f64,
    ) -> bool {
        if text.height <= 0.0 {
            return false;
        }
        let clear = CLEAR * text.height;
        let step = text.height / 2.0;
        let leader = |off: f64| text.leader(at, way, off);
        // Of all that is there only what stands on its way has a say.
        let ends = [0.0, farthest].map(|off| text.room(at, way, off));
        let way_out = thin(leader(farthest), text.height);
        let sweep = bounds(ends.into_iter().flatten().chain(way_out)).unwrap_or_default();
        let there = Taken {
            rings: near(&self.rings, sweep, clear),
            words: near(&self.words, sweep, clear),
        };
        let steps = (0..).map(|count| f64::from(count) * step);
        let mut offs = steps.take_while(|off| *off <= farthest);
        let beside = offs
            .find(|off| is_clear_of(&there.rings, &text.room(at, way, *off), clear))
            .unwrap_or(0.0);
        let most = beside + ROWS * text.height;
        let fits = |off: &f64| {
            let pushed = *off > beside + step;
            there.is_free(&text.room(at, way, *off), clear)
                && (!pushed || there.is_free_of_words(&thin(leader(*off), text.height), clear))
        };
        let offs = std::iter::once(beside).chain(offs);
        let Some(off) = offs.take_while(|off| *off <= most).find(fits) else {
            return false;
        };
        if off > beside + step {
            self.add_words(thin(leader(off), text.height));
            drawing.line(Role::Measure, leader(off).to_vec());
        }
        let room = text.room(at, way, off);
        let (low, high) = bounds(room.iter().copied()).unwrap_or_default();
        (drawing.low.x, drawing.low.y) = (drawing.low.x.min(low.x), drawing.low.y.min(low.y));
        (drawing.high.x, drawing.high.y) = (drawing.high.x.max(high.x), drawing.high.y.max(high.y));
        self.add_words(room);
        drawing.text(text.role, text.middle(at, way, off), text.height, text.text);
        true
    }
}

/// Labels are pushed out no farther than so many times their height.
const ROWS: f64 = 7.0;

/// Those of some rings whose boxes come near another one.
fn near(rings: &[Vec<Point>], room: (Point, Point), clear: f64) -> Vec<Vec<Point>> {
    let near = rings.iter().filter(|ring| !is_far(ring, room, clear));
    near.cloned().collect()
}

/// Whether a ring's box is farther from another one than `clear`, or it has none.
fn is_far(ring: &[Point], near: (Point, Point), clear: f64) -> bool {
    bounds(ring.iter().copied()).is_none_or(|(low, high)| {
        low.x > near.1.x + clear
            || high.x < near.0.x - clear
            || low.y > near.1.y + clear
            || high.y < near.0.y - clear
    })
}

/// Whether a convex room is clear of all rings.
pub(super) fn is_clear_of(rings: &[Vec<Point>], room: &[Point], clear: f64) -> bool {
    let near = bounds(room.iter().copied()).unwrap_or_default();
    rings
        .iter()
        .all(|ring| is_far(ring, near, clear) || gap(ring, room) > clear)
}

/// The room that a leading line takes beside writing of a height.
pub(super) fn thin([from, to]: [Point; 2], height: f64) -> Vec<Point> {
    let along = from.to(to).unit().unwrap_or_default();
    let aside = Vector::new(-along.y, along.x) * (LEADER * height / 2.0);
    vec![from - aside, to - aside, to + aside, from + aside]
}

/// A text about its middle.
#[derive(Clone)]
pub(super) struct Label {
    pub(super) role: Role,
    pub(super) height: f64,
    pub(super) text: Phrase,
}

impl Label {
    /// Where its middle comes when its room begins so far off a place, one way.
    fn middle(&self, at: Point, way: Vector, off: f64) -> Point {
        let [low, high] = self.corners();
        let wide = (high.x - low.x) / 2.0;
        let high = (high.y - low.y) / 2.0;
        let reach = way.x.abs() * wide + way.y.abs() * high + 2.0 * CLEAR * self.height;
        at + way * (reach + off)
    }

    /// From a place to its room, where that begins so far off.
    fn leader(&self, at: Point, way: Vector, off: f64) -> [Point; 2] {
        let free = 1.5 * CLEAR * self.height;
        [at + way * free, at + way * (off + free).max(free)]
    }

    fn room(&self, at: Point, way: Vector, off: f64) -> Vec<Point> {
        self.about(self.middle(at, way, off))
    }

    /// Its room where this is its middle.
    pub(super) fn about(&self, middle: Point) -> Vec<Point> {
        let [low, high] = self.corners();
        rectangle(
            Point::new(middle.x + low.x, middle.y + low.y),
            Point::new(middle.x + high.x, middle.y + high.y),
        )
    }

    /// Of its room about the origin.
    fn corners(&self) -> [Point; 2] {
        let mut alone = Drawing::new("", Point::default(), Point::default());
        alone.text(self.role, Point::default(), self.height, self.text.clone());
        alone.shapes.first().and_then(text_box).unwrap_or_default()
    }
}

fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]
}

/// Width of a figure over its height, on the safe side; figures hang below no line.
const FIGURE: f64 = 0.9;

/// Height of the room that figures take over their own.
const FIGURES_HIGH: f64 = 1.1;

/// Heights that are tried, from the greatest to the least.
const SIZES: u32 = 6;

/// Where so many figures stand inside a ring clear of the others that lie over or under it: their
/// middle, and their height, at most the first of `heights` and at least the second; nothing where there
/// is no room. `axis` is the direction in which the ring is long.
pub(super) fn inside(
    ring: &[Point],
    axis: Vector,
    others: &[&[Point]],
    figures: usize,
    heights: [f64; 2],
) -> Option<(Point, f64)> {
    let middle = middle(ring);
    let along = axis.unit().unwrap_or_default();
    let [from, to] = chord(ring, middle, along, SAME_POSITION_MM).unwrap_or_default();
    let others: Vec<Vec<Point>> = others.iter().flat_map(|other| parts(other)).collect();
    let fits = |at: Point, height: f64| {
        let room = figures_room(at, figures, height);
        room.iter().all(|corner| depth(ring, *corner) > 0.0)
            && others.iter().all(|other| gap(other, &room) > 0.0)
    };
    // From the middle outward; well away from where another one crosses.
    let mut shares = [
        0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8, 0.15, 0.85,
    ];
    if !others.is_empty() {
        shares.rotate_left(7);
    }
    let places = shares.map(|share| middle + along * (from + (to - from) * share));
    sizes(heights).into_iter().find_map(|height| {
        // A ring that is cut off aslant may have its middle beside the chord's.
        let mut all = std::iter::once(middle).chain(places);
        all.find(|at| fits(*at, height)).map(|at| (at, height))
    })
}

/// Heights from the first to the second, none where the first is less.
fn sizes([most, least]: [f64; 2]) -> Vec<f64> {
    if most < least {
        return Vec::new();
    }
    let share = |at: u32| f64::from(at) / f64::from(SIZES);
    (0..=SIZES)
        .map(|at| most + (least - most) * share(at))
        .collect()
}

pub(super) fn figures_room(at: Point, figures: usize, height: f64) -> Vec<Point> {
    let half = figures as f64 * FIGURE * height / 2.0;
    let tall = FIGURES_HIGH * height / 2.0;
    rectangle(
        Point::new(at.x - half, at.y - tall),
        Point::new(at.x + half, at.y + tall),
    )
}

/// A free place for some letters of a height in a cell, between its pieces and inside `edge`, as near its
/// middle as can be.
pub(super) fn between(
    cell: &[Point],
    edge: &[Point],
    pieces: &[&[Point]],
    letters: usize,
    height: f64,
) -> Option<Point> {
    const STEPS: usize = 24;
    let (low, high) = bounds(cell.iter().copied())?;
    let middle = middle(cell);
    let pieces: Vec<Vec<Point>> = pieces.iter().flat_map(|piece| parts(piece)).collect();
    let at = |share: usize, low: f64, high: f64| low + (high - low) * share as f64 / STEPS as f64;
    let columns = (1..STEPS).flat_map(|i| (1..STEPS).map(move |j| (i, j)));
    let mut places: Vec<Point> = columns
        .map(|(i, j)| Point::new(at(i, low.x, high.x), at(j, low.y, high.y)))
        .collect();
    places.sort_by(|p, q| middle.to(*p).length().total_cmp(&middle.to(*q).length()));
    let clear = CLEAR * height;
    let fits = |at: &Point| {
        let room = figures_room(*at, letters, height);
        let within = |ring: &[Point]| room.iter().all(|p| depth(ring, *p) > clear);
        within(cell) && within(edge) && pieces.iter().all(|piece| gap(piece, &room) > clear)
    };
    places.into_iter().find(fits)
}

/// Mean of a ring's corners.
fn middle(ring: &[Point]) -> Point {
    let share = 1.0 / ring.len().max(1) as f64;
    let sum = |part: fn(&Point) -> f64| ring.iter().map(part).sum::<f64>() * share;
    Point::new(sum(|p| p.x), sum(|p| p.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn a_second_label_moves_out() {
        let mut drawing = Drawing::new("", Point::default(), Point::default());
        let mut taken = Taken::default();
        let label = |text: &str| Label {
            role: Role::Label,
            height: 2.0,
            text: text.into(),
        };
        let way = Vector::new(0.0, -1.0);
        taken.write_outward(&mut drawing, label("U1"), Point::new(0.0, 0.0), way, 50.0);
        taken.write_outward(&mut drawing, label("U2"), Point::new(3.0, 0.0), way, 50.0);
        let boxes: Vec<_> = drawing.shapes.iter().filter_map(text_box).collect();
        assert!(boxes[1][1].y < boxes[0][0].y, "{boxes:?}");
        assert!(drawing.low.y <= boxes[1][0].y);
    }

    #[test]
    fn figures_stand_inside_or_nowhere() {
        let slant = Vector::new(0.5, 0.75_f64.sqrt());
        let side = Vector::new(-slant.y, slant.x) * 1.5;
        let p = |along: f64, share: f64| Point::default() + slant * along + side * share;
        let ring = [p(0.0, -1.0), p(30.0, -1.0), p(30.0, 1.0), p(0.0, 1.0)];
        let (at, height) = inside(&ring, slant, &[], 1, [1.86, 1.0]).unwrap();
        assert!(
            approx_eq!(f64, height, 1.86, epsilon = 1e-12) && at.to(p(15.0, 0.0)).length() < 1e-9
        );
        let (at, height) = inside(&ring, slant, &[], 2, [1.86, 1.0]).unwrap();
        let room = figures_room(at, 2, height);
        assert!(height < 1.86 && room.iter().all(|p| depth(&ring, *p) > 0.0));
        assert_eq!(inside(&ring, slant, &[], 2, [1.86, 1.8]), None);
    }

    #[test]
    fn a_label_that_has_no_place_is_not_written() {
        let mut drawing = Drawing::new("", Point::default(), Point::default());
        let mut taken = Taken::default();
        let down = Vector::new(0.0, -1.0);
        let mut written = 0;
        for at in 0..20 {
            let label = Label {
                role: Role::Name,
                height: 2.0,
                text: "a long name".into(),
            };
            let place = Point::new(f64::from(at), 0.0);
            written += usize::from(taken.write_outward(&mut drawing, label, place, down, 90.0));
        }
        assert!((2..20).contains(&written), "{written}");
        let boxes: Vec<_> = drawing.shapes.iter().filter_map(text_box).collect();
        assert_eq!(boxes.len(), written);
    }
}
