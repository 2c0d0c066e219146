//! Mitres of a frame's members: their angles, and what they make of a member's length.

use crate::finding::Finding;
use crate::geometry::convex::edges;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::phrase;
use crate::units::Mm;
use std::f64::consts::PI;

/// How wide a frame's members are, seen from the front: from the inner edge to the outer one, mm,
/// above zero.
#[derive(Debug, Clone, PartialEq)]
pub enum MemberWidths {
    /// All alike.
    Same(f64),
    /// One for each member, round the panel counter-clockwise from the edge at the region's first
    /// corner, as the rails are told.
    Each(Vec<f64>),
}

/// A rail as a piece of wood with a mitre at each end. Ends: that of the rail's start first.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Inner edge to outer edge, mm.
    pub width: f64,
    /// Between the frame's inner corners, mm.
    pub inner_length: f64,
    /// Of the frame, on its inside, radians.
    pub corners: [f64; 2],
    /// Between the mitre's face and the member's length, radians in (0, pi): the angle of the wood at
    /// the outer corner. Above a right angle the long point is the inner corner.
    pub mitres: [f64; 2],
}

impl Member {
    /// The same member told from its other end.
    #[must_use]
    pub(super) fn turned(mut self) -> Member {
        self.corners.reverse();
        self.mitres.reverse();
        self
    }

    /// How far the outer corner lies beyond the inner one at each end, along the member, mm; below
    /// zero where the long point is the inner corner.
    pub fn reaches(&self) -> [f64; 2] {
        self.mitres.map(|mitre| reach(self.width, mitre))
    }

    /// Between the outer corners, mm.
    pub fn outer_length(&self) -> f64 {
        self.inner_length + self.reaches().iter().sum::<f64>()
    }
}

/// How far the outer corner lies beyond the inner one, along a member: `w / tan J`, mm.
fn reach(width: f64, mitre: f64) -> f64 {
    width * mitre.cos() / mitre.sin()
}

/// The mitre of a member that is `own` wide, at a corner whose interior angle is `corner`, against one
/// that is `other` wide: between its face and the member's length, radians in (0, corner). That of the
/// other one is `corner` less this.
///
/// The mitre runs from the inner corner P to the outer corner Q, where both outer edges meet. Beyond
/// P both inner edges, drawn on, have the interior angle g between them again, and Q lies in there: at
/// J1 from the first one's and J2 = g - J1 from the second one's. With m from P to Q, Q lies
/// `w1 = m sin J1` from the first one's inner edge and `w2 = m sin J2` from the other's, so that
/// `w2 / w1 = sin (g - J1) / sin J1 = sin g / tan J1 - cos g`: `tan J1 = sin g / (w2 / w1 + cos g)`.
/// Equal widths halve the angle.
pub fn mitre(corner: f64, own: f64, other: f64) -> f64 {
    corner.sin().atan2(other / own + corner.cos())
}

impl MemberWidths {
    /// Where a member's width stands in the job.
    pub(super) fn field(&self, at: usize) -> String {
        match self {
            MemberWidths::Same(_) => "frame.width".into(),
            MemberWidths::Each(_) => format!("frame.widths[{at}]"),
        }
    }

    fn of(&self, count: usize) -> Result<Vec<f64>, Box<Finding>> {
        match self {
            MemberWidths::Same(width) => Ok(vec![*width; count]),
            MemberWidths::Each(widths) if widths.len() == count => Ok(widths.clone()),
            MemberWidths::Each(widths) => {
                let text = format!("{} widths for a frame of {count} members", widths.len());
                let hint = "one for each, round the panel counter-clockwise from the edge at the region's first corner; or `width` for all of them";
                Err(Box::new(
                    Finding::error("lists-differ", "frame.widths", text).hint(hint),
                ))
            }
        }
    }

    /// The members round a counter-clockwise inner outline, edge by edge as they run there.
    ///
    /// # Errors
    /// Where there are not as many widths as edges; where a member has no outer edge left, since its
    /// neighbours' mitres meet before they are through it.
    pub(super) fn members(&self, inner: &[Point]) -> Result<Vec<Member>, Vec<Finding>> {
        let widths = self.of(inner.len()).map_err(|fault| vec![*fault])?;
        let before = widths.iter().cycle().skip(widths.len().saturating_sub(1));
        let after = widths.iter().cycle().skip(1);
        let corners = interior_angles(inner);
        let ends = corners.iter().zip(corners.iter().cycle().skip(1));
        let neighbours = before.zip(after).zip(ends);
        let made = edges(inner).zip(&widths).zip(neighbours);
        let members: Vec<Member> = made
            .map(
                |(((from, to), width), ((before, after), (near, far)))| Member {
                    width: *width,
                    inner_length: from.to(to).length(),
                    corners: [*near, *far],
                    // What is left of the corner by the mitre of the member before, so that both
                    // make it up.
                    mitres: [
                        near - mitre(*near, *before, *width),
                        mitre(*far, *width, *after),
                    ],
                },
            )
            .collect();
        let mut lost = Vec::new();
        for (at, member) in members.iter().enumerate() {
            if member.outer_length() <= SAME_POSITION_MM {
                lost.push(self.lost(at, member));
            }
        }
        if lost.is_empty() {
            Ok(members)
        } else {
            Err(lost)
        }
    }

    fn lost(&self, at: usize, member: &Member) -> Finding {
        let text = phrase!(
            "rail {} keeps no outer edge: {} between the inner corners, {} wide, and the mitres at its ends meet in its wood",
            at + 1,
            Mm(member.inner_length),
            Mm(member.width)
        );
        let hint = "make it narrower, or its neighbours wider";
        Finding::error("no-outer-edge", self.field(at), text).hint(hint)
    }
}

/// Of a counter-clockwise convex ring, at each corner, radians.
fn interior_angles(ring: &[Point]) -> Vec<f64> {
    let all: Vec<(Point, Point)> = edges(ring).collect();
    let before = all.iter().cycle().skip(all.len().saturating_sub(1));
    let turns = before.zip(&all).map(|((p, q), (_, r))| {
        let (arriving, leaving) = (p.to(*q), q.to(*r));
        arriving.cross(leaving).atan2(arriving.dot(leaving))
    });
    turns.map(|turn| PI - turn).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn mitres_by_hand() {
        // Built as polygons apart from this code: outer edges drawn, met, the angle measured.
        let near = |corner: f64, own, other, wanted: f64| {
            let found = mitre(corner.to_radians(), own, other).to_degrees();
            assert!(approx_eq!(f64, found, wanted, epsilon = 5e-5), "{found}");
        };
        near(90.0, 32.0, 21.0, 56.7251);
        near(90.0, 21.0, 32.0, 33.2749);
        near(75.0, 24.0, 31.0, 31.9222);
        near(75.0, 31.0, 24.0, 43.0778);
        near(120.0, 30.0, 30.0, 60.0);
        // The narrow neighbour of a blunt corner: a square end, and beyond it one whose inner corner
        // is the long point.
        near(120.0, 30.0, 15.0, 90.0);
        assert!(mitre(2.6, 30.0, 10.0).to_degrees() > 90.0);
    }

    #[test]
    fn members_of_a_rectangle() {
        let inner = [(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)];
        let inner = inner.map(|(x, y)| Point::new(x, y));
        let members = MemberWidths::Each(vec![30.0, 20.0, 25.0, 20.0])
            .members(&inner)
            .unwrap();
        let outer: Vec<f64> = members.iter().map(Member::outer_length).collect();
        // Each is longer by the widths of both its neighbours.
        for (found, wanted) in outer.iter().zip([240.0, 355.0, 240.0, 355.0]) {
            assert!(approx_eq!(f64, *found, wanted, epsilon = 1e-9), "{outer:?}");
        }
        assert!(approx_eq!(
            f64,
            members[0].mitres[1].tan(),
            1.5,
            epsilon = 1e-12
        ));
    }

    #[test]
    fn what_has_no_outer_edge_is_refused() {
        // A short edge between blunt corners whose neighbours are narrow.
        let inner = [(0.0, 0.0), (100.0, 0.0), (101.0, 0.2), (101.2, 50.0)];
        let inner = inner.map(|(x, y)| Point::new(x, y));
        let widths = MemberWidths::Each(vec![5.0, 40.0, 5.0, 5.0]);
        let faults = widths.members(&inner).unwrap_err();
        assert_eq!(
            (faults[0].code, faults[0].field.as_str()),
            ("no-outer-edge", "frame.widths[1]")
        );
        let faults = MemberWidths::Each(vec![5.0]).members(&inner).unwrap_err();
        assert_eq!(faults[0].code, "lists-differ");
    }
}
