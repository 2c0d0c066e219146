//! What a tape says of a hole, and the largest upright rectangle that goes into every hole of which it
//! would say so.

use crate::finding::Finding;
use crate::geometry::{Point, Vector};
use crate::opening::size::Size;
use crate::phrase;
use crate::units::Mm;

/// A wall that leans or falls by more than this of its length is a slip of the tape. A tenth is 6 degrees.
const STEEPEST: f64 = 0.1;

/// Diagonals may disagree with the sides by so much of their length. Six figures read off a tape, each
/// to a millimetre, disagree by a few. Common practice, no source.
const MOST_DISAGREEMENT: f64 = 0.01;

/// What was read off the tape, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleMeasures {
    /// At the bottom, in the middle, at the top.
    pub widths: [f64; 3],
    /// At the left, in the middle, at the right.
    pub heights: [f64; 3],
    /// From the lower left corner, and from the lower right one.
    pub diagonals: Option<[f64; 2]>,
}

/// What goes into a hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UprightRectangle {
    /// The largest that fits, however the walls bow.
    pub size: Size,
    /// What stays beside it.
    pub scribe: Scribe,
    /// How much longer the diagonal from the lower left would have to be for the six outer figures to
    /// agree, mm; zero where no diagonals are known.
    pub disagreement: f64,
    /// Whether the hole's skew was only taken, since no diagonals were given for a hole whose sides
    /// differ.
    pub skew_is_guessed: bool,
}

/// Gaps between the rectangle, laid in the middle of what room there is, and the straight lines between
/// the hole's corners, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scribe {
    /// Beside its left edge: at the lower end and at the upper.
    pub left: [f64; 2],
    /// Beside its right edge: at the lower end and at the upper.
    pub right: [f64; 2],
    /// Below its lower edge: at the left end and at the right.
    pub bottom: [f64; 2],
    /// Above its upper edge: at the left end and at the right.
    pub top: [f64; 2],
    /// How much less is left in the middle, left and right together, where the walls bow in.
    pub walls_bow_in: f64,
    /// The same of sill and head.
    pub sill_and_head_bow_in: f64,
}

impl Scribe {
    /// The widest gap.
    pub fn most(&self) -> f64 {
        let all = [self.left, self.right, self.bottom, self.top];
        all.iter().flatten().copied().fold(0.0, f64::max)
    }
}

impl HoleMeasures {
    /// A hole that is taken as square.
    pub fn of(size: Size) -> HoleMeasures {
        HoleMeasures {
            widths: [size.width; 3],
            heights: [size.height; 3],
            diagonals: None,
        }
    }

    /// The largest rectangle that stands on the line between the lower corners, or level with it.
    ///
    /// **Corners.** Both outer widths and heights are taken from corner to corner. With a diagonal they give
    /// the corners, as two triangles on it. With both diagonals there is one figure more than needed, and
    /// none is believed more: the corners are drawn with either diagonal, and the rectangle fits both.
    /// Without diagonals both walls are taken to lean alike.
    ///
    /// **Walls.** Between its corners a wall is taken as an arc: a parabola through both corners, whose rise
    /// in the middle is what the width measured there lacks against that of the straight walls. Which of
    /// the two walls bows in nobody measured, so the rectangle fits where either of them does all of it.
    /// Such an arc lies farther in than straight lines to the middle point, so these are covered. What is
    /// wider in the middle than straight walls are counts as straight. So the rectangle fits any hole with
    /// these figures in which no wall bows out while its opposite bows in by as much more.
    ///
    /// With a share s of the bow at the left wall, its reach into the hole is a greatest value over the
    /// rectangle's height of what grows evenly with s, so it is convex in s, and the free width is concave:
    /// it is least where one wall has all.
    ///
    /// **Largest.** The rectangle touches all four walls: `x0` is the farthest that the left wall comes in
    /// between `y0` and `y1`, and so on; each of the four depends on the others only through the walls'
    /// slopes, which are at most a tenth, so that the four settle at once. Giving up height h for width
    /// gives at most what both walls lean over h, s h, and changes the area by `s h H - h W`: nothing is gained
    /// while `s H < W`, and likewise for sill and head. Holes that lean more are refused.
    ///
    /// # Errors
    /// Figures that make no hole, or one far out of square.
    pub fn largest(&self) -> Result<UprightRectangle, Box<Finding>> {
        let drawn = self.drawings()?;
        let mut size = Size {
            width: f64::INFINITY,
            height: f64::INFINITY,
        };
        let mut bows = [0.0_f64; 2];
        for corners in &drawn {
            let [beside, above] = corners.bows(self);
            bows = [bows[0].max(beside), bows[1].max(above)];
            for share in [[0.0, 0.0], [0.0, 1.0], [1.0, 0.0], [1.0, 1.0]] {
                let walls = corners.walls([beside, above], share);
                let touching = walls.touching();
                size.width = size.width.min(touching.x[1] - touching.x[0]);
                size.height = size.height.min(touching.y[1] - touching.y[0]);
            }
        }
        if size.width <= 0.0 || size.height <= 0.0 {
            let text = "walls that bow in so far leave nothing between them";
            return Err(Box::new(Finding::error("not-a-hole", "opening", text)));
        }
        let first = drawn.first().copied().unwrap_or_default();
        Ok(UprightRectangle {
            size,
            scribe: first.scribe(size, bows),
            disagreement: self.disagreement(&first),
            skew_is_guessed: self.diagonals.is_none() && !self.is_even(),
        })
    }

    /// Whether nothing but one width and one height is known.
    #[allow(clippy::float_cmp)] // One figure, three times.
    pub fn is_plain(&self) -> bool {
        let alike = |[a, b, c]: [f64; 3]| a == b && b == c;
        self.diagonals.is_none() && alike(self.widths) && alike(self.heights)
    }

    #[allow(clippy::float_cmp)] // Read from the same figures.
    fn is_even(&self) -> bool {
        let [bottom, _, top] = self.widths;
        let [left, _, right] = self.heights;
        bottom == top && left == right
    }

    /// The holes that the figures draw: one with each diagonal, or one without.
    fn drawings(&self) -> Result<Vec<Corners>, Box<Finding>> {
        let drawn = match self.diagonals {
            None => vec![self.leaning_alike()],
            Some([from_left, from_right]) => {
                vec![
                    self.on_diagonal_from_right(from_right),
                    self.on_diagonal_from_left(from_left),
                ]
            }
        };
        let all: Option<Vec<Corners>> = drawn.into_iter().collect();
        let Some(all) = all else {
            let text = "no hole has these sides and diagonals: they do not reach each other";
            let hint = "measure again, from corner to corner";
            return Err(Box::new(
                Finding::error("not-a-hole", "opening", text).hint(hint),
            ));
        };
        if let (Some(first), Some([from_left, _])) = (all.first(), self.diagonals) {
            let off = self.disagreement(first);
            if off.abs() > MOST_DISAGREEMENT * from_left {
                let text = phrase!(
                    "with these sides and the diagonal from the lower right, that from the lower left is {}, not {}",
                    Mm(from_left + off),
                    Mm(from_left)
                );
                let hint = "measure again: the outer widths and heights and both diagonals, all from corner to corner";
                return Err(Box::new(
                    Finding::error("diagonals-disagree", "opening.diagonals", text).hint(hint),
                ));
            }
        }
        match all.iter().all(Corners::are_nearly_square) {
            true => Ok(all),
            false => {
                let text = "this hole is out of square by more than 1 in 10";
                let hint = "check which figure stands where: widths are bottom, middle, top; heights are left, middle, right; diagonals from the lower left, then from the lower right";
                Err(Box::new(
                    Finding::error("far-out-of-square", "opening", text).hint(hint),
                ))
            }
        }
    }

    /// How much longer the diagonal from the lower left is in the hole drawn with the other one.
    fn disagreement(&self, drawn: &Corners) -> f64 {
        let measured = self.diagonals.map(|[from_left, _]| from_left);
        measured.map_or(0.0, |measured| drawn.a.to(drawn.c).length() - measured)
    }

    fn on_diagonal_from_right(&self, diagonal: f64) -> Option<Corners> {
        let [bottom, _, top] = self.widths;
        let [left, _, right] = self.heights;
        let a = Point::default();
        let b = Point::new(bottom, 0.0);
        let d = apex(&Reach::new(a, left), &Reach::new(b, diagonal))?;
        let c = apex(&Reach::new(d, top), &Reach::new(b, right))?;
        Some(Corners { a, b, c, d })
    }

    fn on_diagonal_from_left(&self, diagonal: f64) -> Option<Corners> {
        let [bottom, _, top] = self.widths;
        let [left, _, right] = self.heights;
        let a = Point::default();
        let b = Point::new(bottom, 0.0);
        let c = apex(&Reach::new(a, diagonal), &Reach::new(b, right))?;
        let d = apex(&Reach::new(a, left), &Reach::new(c, top))?;
        Some(Corners { a, b, c, d })
    }

    /// Both walls lean in by e: `2 e = bottom - u`, where u is what the head measures along the level. The
    /// upper corners lie `sqrt (l l - e e)` and `sqrt (r r - e e)` up, and u follows from the head's length
    /// and their difference; e settles at once, since the difference hardly depends on it.
    fn leaning_alike(&self) -> Option<Corners> {
        let [bottom, _, top] = self.widths;
        let [left, _, right] = self.heights;
        let up = |wall: f64, lean: f64| (wall * wall - lean * lean).max(0.0).sqrt();
        let mut lean = (bottom - top) / 2.0;
        for _ in 0..50 {
            let fall = up(right, lean) - up(left, lean);
            if fall.abs() >= top {
                return None;
            }
            lean = (bottom - (top * top - fall * fall).sqrt()) / 2.0;
        }
        Some(Corners {
            a: Point::default(),
            b: Point::new(bottom, 0.0),
            c: Point::new(bottom - lean, up(right, lean)),
            d: Point::new(lean, up(left, lean)),
        })
    }
}

/// A point and how far the tape reached from it.
struct Reach {
    from: Point,
    far: f64,
}

impl Reach {
    fn new(from: Point, far: f64) -> Reach {
        Reach { from, far }
    }
}

/// The point that two tapes reach, to the left of the way from the first one's start to the second's.
fn apex(first: &Reach, second: &Reach) -> Option<Point> {
    let base = first.from.to(second.from);
    let length = base.length();
    let along = (first.far * first.far - second.far * second.far + length * length) / 2.0 / length;
    let aside = first.far * first.far - along * along;
    let unit = base.unit()?;
    let left = Vector::new(-unit.y, unit.x);
    (aside > 0.0).then(|| first.from + unit * along + left * aside.sqrt())
}

/// Corners of a hole, counter-clockwise from the lower left, the lower two on the level.
#[derive(Debug, Clone, Copy, Default)]
struct Corners {
    a: Point,
    b: Point,
    c: Point,
    d: Point,
}

impl Corners {
    /// Neither wall nor head is steeper than [`STEEPEST`], and giving up height for width, or width for
    /// height, gains nothing.
    fn are_nearly_square(&self) -> bool {
        let head = self.d.to(self.c);
        if self.d.y <= 0.0 || self.c.y <= 0.0 || head.x <= 0.0 {
            return false;
        }
        let lean = |from: Point, to: Point| (from.to(to).x / from.to(to).y).abs();
        let leans = [lean(self.a, self.d), lean(self.b, self.c)];
        let fall = (head.y / head.x).abs();
        let steepest = leans[0].max(leans[1]).max(fall);
        let width = self.b.x.min(head.x);
        let height = self.d.y.min(self.c.y);
        let longest = self.d.y.max(self.c.y);
        steepest <= STEEPEST
            && (leans[0] + leans[1]) * longest < width
            && fall * self.b.x.max(head.x) < height
    }

    /// What the middle figures lack against straight walls: of the width, and of the height.
    fn bows(&self, measured: &HoleMeasures) -> [f64; 2] {
        let middle = |from: Point, to: Point| from + from.to(to) * 0.5;
        let across = middle(self.a, self.d).to(middle(self.b, self.c)).length();
        let up = middle(self.a, self.b).to(middle(self.d, self.c)).length();
        let [_, width, _] = measured.widths;
        let [_, height, _] = measured.heights;
        [(across - width).max(0.0), (up - height).max(0.0)]
    }

    /// The walls, with these shares of the bows at left wall and sill.
    fn walls(&self, bows: [f64; 2], share: [f64; 2]) -> Walls {
        let [beside, above] = bows;
        let [left, sill] = share;
        let wall = |span: [f64; 2], at: [f64; 2], bow: f64| Wall { span, at, bow };
        let Corners { a, b, c, d } = *self;
        Walls {
            left: wall([a.y, d.y], [a.x, d.x], left * beside),
            right: wall([b.y, c.y], [-b.x, -c.x], (1.0 - left) * beside),
            bottom: wall([a.x, b.x], [a.y, b.y], sill * above),
            top: wall([d.x, c.x], [-d.y, -c.y], (1.0 - sill) * above),
        }
    }

    fn scribe(&self, size: Size, bows: [f64; 2]) -> Scribe {
        let walls = self.walls([0.0; 2], [0.0; 2]);
        let room = walls.touching();
        let middle = |[low, high]: [f64; 2], length: f64| {
            let low = low + (high - low - length) / 2.0;
            [low, low + length]
        };
        let x = middle(room.x, size.width);
        let y = middle(room.y, size.height);
        let beside =
            |wall: &Wall, edge: f64, along: [f64; 2]| along.map(|at| edge - wall.value(at));
        Scribe {
            left: beside(&walls.left, x[0], y),
            right: beside(&walls.right, -x[1], y),
            bottom: beside(&walls.bottom, y[0], x),
            top: beside(&walls.top, -y[1], x),
            walls_bow_in: bows[0],
            sill_and_head_bow_in: bows[1],
        }
    }
}

/// A wall as a function of the way along it: how far it comes in from its side, growing into the hole.
struct Wall {
    /// Where it begins and ends.
    span: [f64; 2],
    /// How far in it is there.
    at: [f64; 2],
    /// What it comes in more in the middle.
    bow: f64,
}

impl Wall {
    /// How far in it is at a place along it; beyond its ends, as far as at the nearer one.
    fn value(&self, place: f64) -> f64 {
        let [from, to] = self.span;
        let u = ((place - from) / (to - from)).clamp(0.0, 1.0);
        self.at[0] + (self.at[1] - self.at[0]) * u + 4.0 * self.bow * u * (1.0 - u)
    }

    /// The farthest that it comes in between two places. `p + d u + 4 b u (1 - u)` is greatest at
    /// `u = 1/2 + d / 8 b`.
    fn farthest(&self, between: [f64; 2]) -> f64 {
        let [low, high] = between;
        let ends = self.value(low).max(self.value(high));
        if self.bow <= 0.0 {
            return ends;
        }
        let [from, to] = self.span;
        let top = from + (to - from) * (0.5 + (self.at[1] - self.at[0]) / 8.0 / self.bow);
        if low < top && top < high {
            ends.max(self.value(top))
        } else {
            ends
        }
    }
}

struct Walls {
    left: Wall,
    right: Wall,
    bottom: Wall,
    top: Wall,
}

/// Left and right, lower and upper edge of a rectangle.
struct Touching {
    x: [f64; 2],
    y: [f64; 2],
}

impl Walls {
    /// The rectangle that touches all four.
    fn touching(&self) -> Touching {
        let mut y = [self.bottom.at[0], -self.top.at[0]];
        let mut x = [0.0; 2];
        // Each round is off by a tenth of a tenth of the one before.
        for _ in 0..30 {
            x = [self.left.farthest(y), -self.right.farthest(y)];
            y = [self.bottom.farthest(x), -self.top.farthest(x)];
        }
        Touching { x, y }
    }
}
