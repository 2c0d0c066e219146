//! Arcs: from the words of a block to centre, radius and sweep (NISTIR 6556, 3.5.3).

use super::codes::ArcPlane;
use super::lexer::BlockProblem;
use std::f64::consts::{PI, TAU};

/// By how much the distances from the centre to both ends may differ, mm (3.5.3.2).
pub const RADII_DIFFER_MM: f64 = 0.002;

/// By how much a radius may fall short of half the distance between the ends, mm: what rounding
/// to three decimals makes of a semicircle.
const SHORT_RADIUS_MM: f64 = 0.001;

/// Two ends of an arc closer than this, mm, are the same.
const SAME_END_MM: f64 = 1e-6;

/// An arc, or a helix whose third coordinate runs evenly from start to end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Its plane.
    pub plane: ArcPlane,
    /// Centre along the plane's first and second axis, mm.
    pub centre: [f64; 2],
    /// Radius at its start, mm.
    pub radius: f64,
    /// Direction from the centre to its start, rad, from the plane's first axis toward its second.
    pub start_angle: f64,
    /// Angle swept, rad, positive counter-clockwise; a full circle is 2 pi.
    pub sweep: f64,
}

/// How a block says where the centre is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Centre {
    /// R: positive for at most half a turn, negative for more.
    Radius(f64),
    /// The centre itself, along the plane's first and second axis.
    At([f64; 2]),
}

fn problem(text: String) -> BlockProblem {
    BlockProblem {
        code: "arc",
        column: 0,
        text,
    }
}

impl Arc {
    /// The arc between two points of a plane.
    ///
    /// # Errors
    /// Where no such arc exists, or where it hangs on a rounding.
    pub fn new(
        plane: ArcPlane,
        [from, to]: [[f64; 2]; 2],
        centre: Centre,
        clockwise: bool,
    ) -> Result<Arc, BlockProblem> {
        let centre = match centre {
            Centre::At(centre) => centre,
            Centre::Radius(radius) => centre_of([from, to], radius, clockwise)?,
        };
        let radius = distance(centre, from);
        let off = distance(centre, to) - radius;
        if radius <= SAME_END_MM {
            return Err(problem("this arc has its centre at its start".to_owned()));
        }
        if off.abs() > RADII_DIFFER_MM {
            return Err(problem(format!(
                "this arc's end is {off:+.4} mm off its circle; {RADII_DIFFER_MM} mm is allowed"
            )));
        }
        let angle = |end: [f64; 2]| (end[1] - centre[1]).atan2(end[0] - centre[0]);
        let start_angle = angle(from);
        let turned = (angle(to) - start_angle).rem_euclid(TAU);
        let same = distance(from, to) <= SAME_END_MM;
        let sweep = match (same, clockwise) {
            (true, false) => TAU,
            (true, true) => -TAU,
            (false, false) => turned,
            (false, true) => turned - TAU,
        };
        Ok(Arc {
            plane,
            centre,
            radius,
            start_angle,
            sweep,
        })
    }

    /// The point at a fraction of the sweep, along the plane's first and second axis.
    pub fn at(&self, fraction: f64) -> [f64; 2] {
        let angle = self.start_angle + fraction * self.sweep;
        let (sine, cosine) = angle.sin_cos();
        [
            self.centre[0] + self.radius * cosine,
            self.centre[1] + self.radius * sine,
        ]
    }

    /// Length in the plane, mm.
    pub fn length(&self) -> f64 {
        self.radius * self.sweep.abs()
    }

    /// Whether the direction, rad, lies on the arc.
    pub fn covers(&self, angle: f64) -> bool {
        if self.sweep >= 0.0 {
            (angle - self.start_angle).rem_euclid(TAU) <= self.sweep
        } else {
            (self.start_angle - angle).rem_euclid(TAU) <= -self.sweep
        }
    }
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (b[0] - a[0]).hypot(b[1] - a[1])
}

/// The centre of the R form. With half the chord h and the radius r it lies
/// sqrt(r*r - h*h) from the chord's middle; to the left of the way from start to end for a
/// counter-clockwise arc of at most half a turn, and for a clockwise one of more.
fn centre_of([from, to]: [[f64; 2]; 2], r: f64, clockwise: bool) -> Result<[f64; 2], BlockProblem> {
    let dx = to[0] - from[0];
    let dy = to[1] - from[1];
    let chord = dx.hypot(dy);
    if chord <= SAME_END_MM {
        let text = "an arc with R needs an end that is not its start";
        return Err(problem(text.to_owned()));
    }
    let half = chord / 2.0;
    if half - r.abs() > SHORT_RADIUS_MM {
        return Err(problem(format!(
            "R {:.4} mm does not reach: the ends are {chord:.4} mm apart",
            r.abs()
        )));
    }
    let height = (r * r - half * half).max(0.0).sqrt();
    let left = if clockwise == (r < 0.0) { 1.0 } else { -1.0 };
    Ok([
        (from[0] + to[0]) / 2.0 - left * height * dy / chord,
        (from[1] + to[1]) / 2.0 + left * height * dx / chord,
    ])
}

/// Whether an arc in R form is so near to half a turn that its centre hangs on the last digit:
/// with ends c apart, an error e of R moves the centre by e*r/sqrt(r*r - c*c/4).
pub fn hangs_on_rounding(chord: f64, r: f64) -> bool {
    let height = (r * r - chord * chord / 4.0).max(0.0).sqrt();
    (2.0 * (chord / 2.0 / r.abs()).min(1.0).asin() - PI).abs() < 0.2 && height < 0.1 * r.abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn radius_arc(r: f64, clockwise: bool) -> Arc {
        let ends = [[0.0, 0.0], [6.0, 0.0]];
        Arc::new(ArcPlane::Xy, ends, Centre::Radius(r), clockwise).unwrap()
    }

    /// A 6 mm chord of a 5 mm circle: the centre is 4 mm off it.
    #[test]
    fn the_sign_of_r_and_the_turn_choose_the_centre() {
        for (r, clockwise, y, more) in [
            (5.0, false, 4.0, false),
            (5.0, true, -4.0, false),
            (-5.0, false, -4.0, true),
            (-5.0, true, 4.0, true),
        ] {
            let arc = radius_arc(r, clockwise);
            assert!(
                approx_eq!(f64, arc.centre[1], y, epsilon = 1e-12),
                "{r} {clockwise}"
            );
            assert_eq!(arc.sweep.abs() > PI, more);
            assert_eq!(arc.sweep < 0.0, clockwise);
            let end = arc.at(1.0);
            assert!(approx_eq!(f64, end[0], 6.0, epsilon = 1e-12) && end[1].abs() < 1e-12);
        }
    }

    #[test]
    fn arcs_that_do_not_exist_are_refused() {
        let arc = |to, centre| Arc::new(ArcPlane::Xy, [[0.0, 0.0], to], centre, true);
        assert!(arc([10.0, 0.0], Centre::Radius(4.99)).is_err());
        assert!(arc([0.0, 0.0], Centre::Radius(4.0)).is_err());
        assert!(arc([10.0, 0.0], Centre::At([5.01, 0.0])).is_err());
        assert!(arc([10.0, 0.0], Centre::At([5.0005, 0.0])).is_ok());
        assert!(arc([10.0, 0.0], Centre::At([0.0, 0.0])).is_err());
    }

    #[test]
    fn a_full_circle_and_its_directions() {
        let ends = [[1.0, 0.0], [1.0, 0.0]];
        let circle = Arc::new(ArcPlane::Xy, ends, Centre::At([0.0, 0.0]), true).unwrap();
        assert!((circle.sweep + TAU).abs() < 1e-12 && circle.covers(2.0));
        let quarter = Arc::new(
            ArcPlane::Xy,
            [[1.0, 0.0], [0.0, -1.0]],
            Centre::At([0.0, 0.0]),
            true,
        )
        .unwrap();
        assert!(quarter.covers(-PI / 4.0) && !quarter.covers(PI / 4.0));
        assert!(approx_eq!(f64, quarter.length(), PI / 2.0, epsilon = 1e-12));
    }
}
