//! A frame's members as seen from the front.

use super::frame::Rail;
use super::tenons::Tenons;
use crate::geometry::Point;

/// Members and their joints as seen from the front, panel frame.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FrameOutlines {
    /// Each member, counter-clockwise or clockwise.
    pub members: Vec<Vec<Point>>,
    /// Tenons and haunches inside the stiles.
    pub hidden: Vec<Vec<Point>>,
}

impl FrameOutlines {
    /// Of mitred members: from the inner edge out to the outer corners.
    pub fn mitred(rails: &[Rail]) -> FrameOutlines {
        let outline = |rail: &Rail| {
            let member = rail.member.as_ref()?;
            let along = rail.start.to(rail.end).unit()?;
            let [near, far] = member.reaches();
            let out = rail.outward * member.width;
            Some(vec![
                rail.start,
                rail.end,
                rail.end + along * far + out,
                rail.start - along * near + out,
            ])
        };
        FrameOutlines {
            members: rails.iter().filter_map(outline).collect(),
            hidden: Vec::new(),
        }
    }

    /// Of tenoned members.
    pub fn tenoned(rails: &[Rail], tenons: &Tenons) -> FrameOutlines {
        let mut found = FrameOutlines::default();
        for tenoned in &tenons.rails {
            let Some(rail) = rails.get(tenoned.rail) else {
                continue;
            };
            let along = rail.start.to(rail.end).unit().unwrap_or_default();
            let band = |from: f64, to: f64, ends: [Point; 2]| {
                let [a, b] = ends;
                let (near, far) = (rail.outward * from, rail.outward * to);
                vec![a + near, b + near, b + far, a + far]
            };
            let whole = [rail.start, rail.end];
            found.members.push(band(0.0, tenoned.width, whole));
            let inner = tenoned.from_inner_edge;
            let outer = inner + tenoned.tenon_width;
            for (end, out) in [(rail.start, along * -1.0), (rail.end, along)] {
                let tenon = [end, end + out * tenons.length];
                found.hidden.push(band(inner, outer, tenon));
                if tenons.haunch > 0.0 {
                    let haunch = [end, end + out * tenons.haunch];
                    found.hidden.push(band(outer, tenoned.width, haunch));
                }
            }
        }
        for stile in &tenons.stiles {
            let Some(rail) = rails.get(stile.rail) else {
                continue;
            };
            let along = rail.start.to(rail.end).unit().unwrap_or_default();
            let [lower, _] = &tenons.rails;
            let start = rail.start - along * lower.width;
            let end = start + along * stile.cut_length;
            let out = rail.outward * stile.width;
            found.members.push(vec![start, end, end + out, start + out]);
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Vector;
    use crate::lattice::{Member, MortisedStile, TenonedRail};
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

    /// Round an inside 100 wide and 60 high.
    fn rails() -> Vec<Rail> {
        let [a, b, c, d] =
            [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)].map(|(x, y)| Point::new(x, y));
        let sides = [
            (a, b, (0.0, -1.0)),
            (b, c, (1.0, 0.0)),
            (d, c, (0.0, 1.0)),
            (a, d, (-1.0, 0.0)),
        ];
        let rail = |(start, end, (x, y)): (Point, Point, (f64, f64))| Rail {
            start,
            end,
            mortises: vec![],
            flush: vec![],
            outward: Vector::new(x, y),
            member: None,
        };
        sides.map(rail).to_vec()
    }

    fn ring(corners: [(f64, f64); 4]) -> Vec<Point> {
        corners.map(|(x, y)| Point::new(x, y)).to_vec()
    }

    /// Rails 30 and 25 wide with a groove 6 deep, tenons 12 and 9.5 wide and 20 long; stiles 28 and 22.
    fn tenons(haunch: f64) -> Tenons {
        let rail = |rail: usize, width: f64, tenon_width: f64| TenonedRail {
            rail,
            width,
            between_shoulders: 100.0,
            between_back_shoulders: 100.0,
            cut_length: 140.0,
            tenon_width,
            tenon_width_read_otherwise: 0.0,
            from_inner_edge: 6.0,
            haunch_width: width - 6.0 - tenon_width,
        };
        let stile = |rail: usize, width: f64| MortisedStile {
            rail,
            width,
            cut_length: 115.0,
            mortises: [[0.0; 2]; 2],
        };
        Tenons {
            thickness: 8.0,
            from_front: 8.0,
            length: 20.0,
            mortise_depth: 20.5,
            haunch,
            rails: [rail(0, 30.0, 12.0), rail(2, 25.0, 9.5)],
            stiles: [stile(3, 28.0), stile(1, 22.0)],
            least_between: None,
        }
    }

    #[test]
    fn tenons_lie_in_the_stiles_beside_the_groove() {
        let found = FrameOutlines::tenoned(&rails(), &tenons(7.0));
        let members = [
            ring([(0.0, 0.0), (100.0, 0.0), (100.0, -30.0), (0.0, -30.0)]),
            ring([(0.0, 60.0), (100.0, 60.0), (100.0, 85.0), (0.0, 85.0)]),
            // Stiles run through, from the lower rail's outer edge to the upper one's.
            ring([(0.0, -30.0), (0.0, 85.0), (-28.0, 85.0), (-28.0, -30.0)]),
            ring([(100.0, -30.0), (100.0, 85.0), (122.0, 85.0), (122.0, -30.0)]),
        ];
        assert_eq!(found.members, members);
        // Of each rail's left end tenon and haunch, then of its right one.
        let lower = [
            ring([(0.0, -6.0), (-20.0, -6.0), (-20.0, -18.0), (0.0, -18.0)]),
            ring([(0.0, -18.0), (-7.0, -18.0), (-7.0, -30.0), (0.0, -30.0)]),
            ring([(100.0, -6.0), (120.0, -6.0), (120.0, -18.0), (100.0, -18.0)]),
            ring([
                (100.0, -18.0),
                (107.0, -18.0),
                (107.0, -30.0),
                (100.0, -30.0),
            ]),
        ];
        assert_eq!(found.hidden[..4], lower);
        assert_eq!(
            found.hidden[4],
            ring([(0.0, 66.0), (-20.0, 66.0), (-20.0, 75.5), (0.0, 75.5)])
        );
        assert_eq!(found.hidden.len(), 8);
        // Without haunches the tenons alone.
        assert_eq!(
            FrameOutlines::tenoned(&rails(), &tenons(0.0)).hidden.len(),
            4
        );
    }

    #[test]
    fn mitred_members_reach_to_their_outer_corners() {
        let mut rails = rails();
        rails.truncate(1);
        rails[0].member = Some(Member {
            width: 30.0,
            inner_length: 100.0,
            corners: [FRAC_PI_2; 2],
            // A square end at the left, one at 45 degrees at the right.
            mitres: [FRAC_PI_2, FRAC_PI_4],
        });
        let found = FrameOutlines::mitred(&rails);
        let wanted = ring([(0.0, 0.0), (100.0, 0.0), (130.0, -30.0), (0.0, -30.0)]);
        for (found, wanted) in found.members[0].iter().zip(&wanted) {
            assert!(found.to(*wanted).length() < 1e-12, "{found:?}");
        }
        assert!(found.hidden.is_empty());
    }
}
