//! Rhombs and triangles in a rectangle `W` by `H`, one node in its middle or at its corner.

use super::size::Size;
use super::wish::{NodePlace, SlantedRest};
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::{DiamondStance, TriangularStance};
use std::f64::consts::FRAC_PI_2;

/// A rhomb that fits a rectangle one way or both. Millimetres, radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RhombFit {
    /// Between neighbouring centre lines, square to them.
    pub pitch: f64,
    /// Between the families.
    pub angle: f64,
}

/// The rhombs of which `columns` and `rows` fill a rectangle, nothing where these would have no such
/// angle.
///
/// On the point the rhomb's diagonals are `a = W / i` across and `b = H / j` up. Its sides are half of
/// `hypot(a, b)`, the angle at its upper and lower corners is twice that between side and upright,
/// `tan (f / 2) = a / b`; its area `a b / 2` is side times pitch: `p = a b / hypot(a, b)`. Upright, a column
/// is the pitch wide, `p = W / i`, and nodes on an upright lie `p / sin f = H / j` apart.
pub fn free_rhomb(
    stance: DiamondStance,
    width: f64,
    height: f64,
    columns: usize,
    rows: usize,
) -> Option<RhombFit> {
    let across = width / columns as f64;
    let up = height / rows as f64;
    match stance {
        DiamondStance::OnPoint => Some(RhombFit {
            pitch: across * up / across.hypot(up),
            angle: 2.0 * across.atan2(up),
        }),
        DiamondStance::Upright => {
            let sine = across / up;
            (sine <= 1.0 + 1e-12).then(|| RhombFit {
                pitch: across,
                angle: if sine >= 1.0 { FRAC_PI_2 } else { sine.asin() },
            })
        }
    }
}

/// What a column and a row of rhombs of pitch 1 take: on the point the diagonals `1 / cos (f / 2)` across and
/// `1 / sin (f / 2)` up, upright the pitch itself and the step `1 / sin f`.
pub fn given_rhomb(stance: DiamondStance, angle: f64) -> [f64; 2] {
    match stance {
        DiamondStance::OnPoint => {
            let (sine, cosine) = (angle / 2.0).sin_cos();
            [1.0 / cosine, 1.0 / sine]
        }
        DiamondStance::Upright => [1.0, 1.0 / angle.sin()],
    }
}

/// What a column and a row of triangles of side 1 take: one of them the side, the other the height of a
/// triangle, `sqrt 3 / 2`.
pub fn given_triangle(stance: TriangularStance) -> [f64; 2] {
    let high = 0.75_f64.sqrt();
    match stance {
        TriangularStance::Lying => [1.0, high],
        TriangularStance::Upright => [high, 1.0],
    }
}

/// How a slanted grid's cells use a rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SlantedRoom {
    /// Whether strips may lie along the edges at the left and right, and along those below and above.
    along_edge: [bool; 2],
    /// Whether whole cells can end at these edges.
    ends_whole: [bool; 2],
    node: NodePlace,
    rest: SlantedRest,
}

impl SlantedRoom {
    /// Of rhombs. On the point their corners lie in rows and columns, and a cell and a half end at an edge
    /// through these. Upright ones stand between uprights; below and above no level edge passes along their
    /// corners.
    pub fn of_diamonds(stance: DiamondStance, node: NodePlace, rest: SlantedRest) -> SlantedRoom {
        let (along_edge, ends_whole) = match stance {
            DiamondStance::OnPoint => ([false, false], [true, true]),
            DiamondStance::Upright => ([true, false], [true, false]),
        };
        SlantedRoom {
            along_edge,
            ends_whole,
            node,
            rest,
        }
    }

    /// Of triangles.
    pub fn of_triangles(
        stance: TriangularStance,
        node: NodePlace,
        rest: SlantedRest,
    ) -> SlantedRoom {
        let along_edge = match stance {
            TriangularStance::Lying => [false, true],
            TriangularStance::Upright => [true, false],
        };
        SlantedRoom {
            along_edge,
            ends_whole: [true, true],
            node,
            rest,
        }
    }

    /// Whether strips may lie along the edges at the left and right, and along those below and above.
    pub fn along_edge(self) -> [bool; 2] {
        self.along_edge
    }

    /// The least margins beside and above: as asked for, else what a strip along the edge needs.
    pub fn least_margins(self, asked: Option<f64>, thickness: f64) -> [f64; 2] {
        let usual = |has_strip: bool| if has_strip { thickness / 2.0 } else { 0.0 };
        self.along_edge
            .map(|has_strip| asked.unwrap_or(usual(has_strip)))
    }

    /// The part of a rectangle that the cells fill: all of it where the edge may cut them, else as many
    /// whole columns and rows as it holds; nothing where that is none.
    ///
    /// With a node in the middle an edge at half n columns passes through nodes for every n where the
    /// families lean: their rows are shifted by half a column. Where strips lie along the edge, the middle
    /// one passes through the node, and n is even.
    pub fn filled(self, room: Size, cell: [f64; 2]) -> Option<Size> {
        if self.rest == SlantedRest::CutCells {
            return Some(room);
        }
        let axis = |at: usize, size: f64| {
            let pick = |[x, y]: [bool; 2]| if at == 0 { x } else { y };
            let [across, up] = cell;
            let length = if at == 0 { across } else { up };
            if !pick(self.ends_whole) {
                return Some(size);
            }
            let count = times(size, length, 0.0);
            let in_pairs = pick(self.along_edge) && self.node == NodePlace::Middle;
            let count = if in_pairs { count - count % 2 } else { count };
            (count > 0).then_some(count as f64 * length)
        };
        Some(Size {
            width: axis(0, room.width)?,
            height: axis(1, room.height)?,
        })
    }
}

/// Diagonals of the clear opening of a rhomb on the point, across and up, mm.
///
/// With strips at th to the level, each face lies t / 2 off its centre line, which along the level is
/// `t / (2 sin th)` and upright `t / (2 cos th)`; a diagonal loses that at both ends.
pub fn clear_rhomb(across: f64, up: f64, thickness: f64) -> [f64; 2] {
    let inclination = up.atan2(across);
    [
        across - thickness / inclination.sin(),
        up - thickness / inclination.cos(),
    ]
}

/// Side of the lying triangles of which so many rows fill a height, mm: a row is `s sqrt 3 / 2` high.
pub fn triangle_by_rows(height: f64, rows: usize) -> f64 {
    height / rows as f64 / 0.75_f64.sqrt()
}

/// Nodes of lying triangles in a rectangle, those on its edge counted, with a node in its middle.
///
/// Rows of nodes lie at `y = r h`, `h = s sqrt 3 / 2`, |r| <= J = floor(H / 2 h). In even rows they lie at
/// `k s`: `2 floor(W / 2 s) + 1` of them; in odd ones at `(k + 1/2) s`: `2 floor(W / 2 s + 1/2)`.
pub fn triangle_nodes(width: f64, height: f64, side: f64) -> usize {
    let half_rows = times(height, 2.0 * side * 0.75_f64.sqrt(), 0.0);
    let even = 2 * times(width, 2.0 * side, 0.0) + 1;
    let odd = 2 * times(width, 2.0 * side, 0.5);
    // Of the rows above the middle the first is odd; so many above, and as many below.
    let odd_rows = half_rows.div_ceil(2);
    (2 * (half_rows - odd_rows) + 1) * even + 2 * odd_rows * odd
}

/// `floor(length / unit + more)`; what lacks less than [`SAME_POSITION_MM`] counts.
fn times(length: f64, unit: f64, more: f64) -> usize {
    let times = ((length + SAME_POSITION_MM) / unit + more).floor();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    (times.max(0.0) as usize)
}

/// Half of what a rectangle measures square to lines at an inclination: its corners lie at most
/// `E = (W sin th + H cos th) / 2` from the line through its middle.
fn half_extent(width: f64, height: f64, inclination: f64) -> f64 {
    let (sine, cosine) = inclination.sin_cos();
    (width * sine.abs() + height * cosine.abs()) / 2.0
}

/// Lines of a family that meet a rectangle, one of them through its middle: `2 floor(E / p) + 1`; a line
/// that only touches a corner does not count.
pub fn line_count(width: f64, height: f64, inclination: f64, pitch: f64) -> usize {
    let reach = half_extent(width, height, inclination) - SAME_POSITION_MM;
    let beside = (reach / pitch).floor().max(0.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    (2 * beside as usize + 1)
}

/// What a rectangle leaves of a line at an inclination in (0, pi / 2) that passes its middle at a distance,
/// mm.
///
/// Near a corner the line cuts off a right triangle whose height from the corner is `E - |q|`; its long side
/// is `(E - |q|) (tan th + 1 / tan th)`. Farther in it runs from side to side, `W / cos th`, or from bottom
/// to top, `H / sin th`; the least of the three is its length.
pub fn longest_at(width: f64, height: f64, inclination: f64, distance: f64) -> f64 {
    let (sine, cosine) = inclination.sin_cos();
    let left = half_extent(width, height, inclination) - distance.abs();
    let corner = left * (sine / cosine + cosine / sine);
    corner.min(width / cosine).min(height / sine).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[track_caller]
    fn near(found: f64, wanted: f64) {
        assert!(
            approx_eq!(f64, found, wanted, epsilon = 5.1e-5),
            "{found} for {wanted}"
        );
    }

    #[test]
    fn rhombs_that_fit_both_ways() {
        let fit = free_rhomb(DiamondStance::OnPoint, 420.0, 300.0, 6, 6).unwrap();
        near(fit.pitch, 40.6867);
        // Strips at atan (50 / 70) to the level; the angle above and below is what is left of two
        // right angles.
        let inclination = (fit.angle / 2.0).tan().recip().atan();
        near(inclination.to_degrees(), 35.5377);
        let [across, up] = given_rhomb(DiamondStance::OnPoint, fit.angle);
        near(across * fit.pitch, 70.0);
        near(up * fit.pitch, 50.0);
        let [across, up] = clear_rhomb(70.0, 50.0, 4.0);
        near(across, 63.1181);
        near(up, 45.0844);
        assert_eq!(line_count(420.0, 300.0, inclination, fit.pitch), 11);
    }

    #[test]
    fn upright_rhombs_that_fit_both_ways() {
        // Uprights 40 apart, nodes on them 50 apart: sin f = 0.8.
        let fit = free_rhomb(DiamondStance::Upright, 400.0, 300.0, 10, 6).unwrap();
        near(fit.pitch, 40.0);
        near(fit.angle.sin(), 0.8);
        assert_eq!(
            free_rhomb(DiamondStance::Upright, 400.0, 300.0, 6, 10),
            None
        );
    }

    #[test]
    fn rhombs_of_an_angle() {
        let [across, up] = given_rhomb(DiamondStance::OnPoint, 60.0_f64.to_radians());
        let pitch = 380.0 / 7.0 / across;
        near(pitch, 47.0128);
        near(across * pitch, 54.2857);
        let up = up * pitch;
        near(up, 94.0256);
        // A node in the middle: what stays above the highest node on the centre line, and above the
        // highest of all.
        near(260.0 - up * (260.0 / up).floor(), 71.9488);
        near(260.0 - up / 2.0 * (520.0 / up).floor(), 24.9360);
        // Nodes by brute force: rows b / 2 apart, every other one shifted by half a.
        let mut count = 0;
        for row in -20_i32..=20 {
            let y = f64::from(row) * up / 2.0;
            for column in -20_i32..=20 {
                let shift = if row % 2 == 0 { 0.0 } else { 0.5 };
                let x = (f64::from(column) + shift) * 380.0 / 7.0;
                count += usize::from(y.abs() <= 260.0 && x.abs() <= 190.0 + 1e-9);
            }
        }
        // Five rows of 7 and six of 8, the outer two of these on the edge.
        assert_eq!(count, 83);
    }

    #[test]
    fn triangles_that_fit_the_width_or_the_height() {
        // Ten sides across.
        let side: f64 = 45.0;
        let row = side * 0.75_f64.sqrt();
        near(row, 38.9711);
        near(165.0 - 4.0 * row, 9.1154);
        assert_eq!(triangle_nodes(450.0, 330.0, side), 95);
        let slope = 60.0_f64.to_radians();
        assert_eq!(line_count(450.0, 330.0, slope, row), 15);
        assert_eq!(line_count(450.0, 330.0, 0.0, row), 9);
        // The shortest of the rising lines is the seventh from the middle.
        near(longest_at(450.0, 330.0, slope, 7.0 * row), 10.5256);
        // Eight rows up.
        let side = triangle_by_rows(330.0, 8);
        near(side, 47.6314);
        let row = side * 0.75_f64.sqrt();
        near(row, 41.25);
        // Beside the rows with a node in the middle, and beside the others.
        near(225.0 - 4.0 * side, 34.4744);
        near(225.0 - 4.5 * side, 10.6587);
        assert_eq!(
            line_count(450.0, 330.0, 0.0, row),
            7,
            "the edges only touch"
        );
        assert_eq!(line_count(450.0, 330.0, slope, row), 13);
        assert_eq!(triangle_nodes(450.0, 330.0, side), 85);
    }

    #[test]
    fn what_a_rectangle_leaves_of_a_line() {
        // Against the way from edge to edge, worked out by the slab method.
        let (width, height) = (310.0, 190.0);
        for (degrees, distance) in [(10.0, 0.0), (35.0, 40.0), (60.0, -90.0), (80.0, 160.0)] {
            let inclination: f64 = f64::to_radians(degrees);
            let (sine, cosine) = inclination.sin_cos();
            let start = [-sine * distance, cosine * distance];
            let slab = |from: f64, along: f64, half: f64| {
                let ends = [(-half - from) / along, (half - from) / along];
                [ends[0].min(ends[1]), ends[0].max(ends[1])]
            };
            let x = slab(start[0], cosine, width / 2.0);
            let y = slab(start[1], sine, height / 2.0);
            let wanted = (x[1].min(y[1]) - x[0].max(y[0])).max(0.0);
            near(longest_at(width, height, inclination, distance), wanted);
        }
    }
}
