//! The members of a frame: lengths, blanks, mitres, and what mitres that are off come to.

use crate::geometry::tolerance::DIRECTION;
use crate::geometry::{SAME_POSITION_MM, Vector};
use crate::instructions::frame_mitres::{
    ClosingFigures, MemberEdge, MemberFigures, MitreFigures, MitrePlan,
};
use crate::lattice::{Member, Rail};
use float_cmp::ApproxEq;
use std::f64::consts::{FRAC_PI_2, PI};

/// A blank is so much longer at each end than the finished member over its points: a kerf, and enough
/// beside it that the saw does not run out of the wood. Common practice, no source, mm.
const ALLOWANCE_MM: f64 = 10.0;

/// What is told of mitres that are off, in degrees: what the marks of a common fence scale leave open.
/// Common practice, no source.
const OFF_DEG: f64 = 0.1;

/// The members' figures, where the job says how wide they are.
pub(super) fn mitre_plan(rails: &[Rail], names: &[String]) -> Option<MitrePlan> {
    let named = rails.iter().zip(names);
    let members: Option<Vec<MemberFigures>> = named
        .map(|(rail, name)| Some(figures(rail, rail.member.as_ref()?, name)))
        .collect();
    let members = members.filter(|members| !members.is_empty())?;
    Some(MitrePlan {
        closing: closing(&members),
        diagonals_mm: diagonals(rails),
        allowance_mm: ALLOWANCE_MM,
        members,
        sled: None,
        without_settings: Vec::new(),
    })
}

fn figures(rail: &Rail, member: &Member, name: &str) -> MemberFigures {
    let reaches = member.reaches();
    let datum = rail.datum_end();
    let end = |at: usize, end| MitreFigures {
        end,
        corner: member.corners.get(at).copied().unwrap_or_default(),
        mitre: member.mitres.get(at).copied().unwrap_or_default(),
        reach_mm: reaches.get(at).copied().unwrap_or_default(),
    };
    let mut mitres = [end(0, datum), end(1, datum.opposite())];
    if is_cut_first(&mitres[0], &mitres[1]) {
        mitres.reverse();
    }
    let beyond = |mitre: &MitreFigures| mitre.reach_mm.max(0.0);
    let over_points_mm = member.inner_length + mitres.iter().map(beyond).sum::<f64>();
    MemberFigures {
        name: name.to_owned(),
        width_mm: member.width,
        inner_length_mm: member.inner_length,
        outer_length_mm: member.outer_length(),
        over_points_mm,
        blank_mm: over_points_mm + 2.0 * ALLOWANCE_MM,
        mark_from: mitres[0].end,
        mark_to_inner_corner_mm: ALLOWANCE_MM + beyond(&mitres[0]),
        mitres,
        round_end: rail.round_end(),
    }
}

/// Whether the mitre at the datum end is cut before the other: only where it is the blunter one. The
/// sharper point would suffer on the stop, and from blunt to sharp the fence turns one way.
fn is_cut_first(datum: &MitreFigures, other: &MitreFigures) -> bool {
    let turns = [datum, other].map(|mitre| (FRAC_PI_2 - mitre.mitre).abs());
    turns[0] < turns[1] && !turns[0].approx_eq(turns[1], DIRECTION)
}

/// Every mitre that is off by d takes or gives d at its corner, two of them at each of n corners: where
/// all corners but the last are closed, the faces of that one are 2 n d from lying on each other. A frame
/// that is held true has 2 d at each corner: the faces, m = w / sin J long, touch at one end and stand
/// the chord `2 m sin d` apart at the other.
fn closing(members: &[MemberFigures]) -> ClosingFigures {
    let off = OFF_DEG.to_radians();
    let mitres = members.iter().flat_map(|member| {
        let lengths = member.mitres.iter();
        lengths.map(|mitre| member.width_mm / mitre.mitre.sin())
    });
    let longest = mitres.fold(0.0, f64::max);
    ClosingFigures {
        off,
        closes_off: 2.0 * members.len() as f64 * off,
        each_corner_open_mm: 2.0 * longest * off.sin(),
        last_corner_miss_mm: last_corner_miss(members, off),
    }
}

/// How far apart the outer corners at the last corner are where the members, each as long as it should
/// be, are put together face to face from one to the next, all mitres too blunt by `off`: they turn at
/// each corner by 2 d less than they should, so that the way along their outer edges does not come
/// back to where it began. The greatest, whichever corner is left for the last.
fn last_corner_miss(members: &[MemberFigures], off: f64) -> Option<f64> {
    let mut sides = Vec::new();
    for member in members {
        let outer = |mitre: &MitreFigures| mitre.long_edge() == Some(MemberEdge::Outer);
        let round_end = member.mitres.iter().find(|at| at.end == member.round_end)?;
        if !member.mitres.iter().all(outer) {
            return None;
        }
        sides.push((member.outer_length_mm, round_end.corner));
    }
    let from = |first: usize| {
        let (mut angle, mut reached) = (0.0, Vector::new(0.0, 0.0));
        let round = sides.iter().cycle().skip(first).take(sides.len());
        for (length, corner) in round {
            reached = reached + Vector::new(f64::cos(angle), f64::sin(angle)) * *length;
            angle += PI - corner - 2.0 * off;
        }
        reached.length()
    };
    (0..sides.len()).map(from).max_by(f64::total_cmp)
}

/// Between opposite inner corners of a frame of four members, from that at the first rail's first end
/// round.
fn diagonals(rails: &[Rail]) -> Option<[f64; 2]> {
    let [first, second, third, fourth] = rails else {
        return None;
    };
    let corner = |before: &Rail, after: &Rail| {
        let shared = [after.start, after.end].into_iter().find(|corner| {
            [before.start, before.end]
                .iter()
                .any(|other| corner.to(*other).length() < SAME_POSITION_MM)
        });
        shared.unwrap_or(after.start)
    };
    let (a, b) = (corner(fourth, first), corner(first, second));
    let (c, d) = (corner(second, third), corner(third, fourth));
    Some([a.to(c).length(), b.to(d).length()])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::PanelEnd;
    use float_cmp::approx_eq;

    #[test]
    fn four_corners_off_by_a_tenth() {
        let mitre = MitreFigures {
            end: PanelEnd::Left,
            corner: FRAC_PI_2,
            mitre: FRAC_PI_2 / 2.0,
            reach_mm: 30.0,
        };
        let member = MemberFigures {
            name: "top rail".into(),
            width_mm: 30.0,
            inner_length_mm: 200.0,
            outer_length_mm: 260.0,
            over_points_mm: 260.0,
            blank_mm: 280.0,
            mark_from: PanelEnd::Left,
            mark_to_inner_corner_mm: 40.0,
            mitres: [mitre, mitre],
            round_end: PanelEnd::Left,
        };
        let near = |found: f64, wanted| assert!(approx_eq!(f64, found, wanted, epsilon = 5e-6));
        let found = closing(&vec![member; 4]);
        near(found.closes_off.to_degrees(), 0.8);
        // 30 / sin 45 = 42.4264, opened by 0.2 deg: 0.14810.
        near(found.each_corner_open_mm, 0.148_10);
        // Sides of 260 at 0, 89.8, 179.6 and 269.4 deg add up to (-1.80876, 1.82780): 2.57147.
        let miss = found.last_corner_miss_mm.unwrap();
        assert!(approx_eq!(f64, miss, 2.57147, epsilon = 5e-6), "{miss}");
    }
}
