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
