//! What pieces need at the guide blocks: angles, stop settings, what paring takes off, what a
//! wrong block leaves open. Millimetres, radians.

use crate::infill::{End, Facet, FacetSide, PieceFold, PieceKind};
use std::f64::consts::{FRAC_PI_2, PI};

/// Angles closer than this are one, rad.
const SAME_ANGLE: f64 = 1e-9;

/// Offsets and widths closer than this are one, mm.
const SAME_LENGTH: f64 = 1e-6;

/// Depths of paring, mm, for which the shortening is tabled.
const PARED_MM: [f64; 5] = [0.05, 0.1, 0.2, 0.3, 0.5];

/// The angle of the guide block that serves a facet. A facet of a point that leans past square is pared
/// on the block of the remaining angle, turned round: beyond the ridge its plane runs through air. That of
/// a mouth runs through wood that stays there, so that it has to be come at from its own side: its block's
/// corner is blunt, above pi/2.
fn block_angle(end: &End, facet: &Facet) -> f64 {
    match end.mouth() {
        Some(_) => facet.jig_angle,
        None => facet.jig_angle.min(PI - facet.jig_angle),
    }
}

/// The angles of the blocks for the facets of some pieces, and for the walls of their V's.
fn block_angles(kinds: &[PieceKind]) -> impl Iterator<Item = f64> + '_ {
    let ends = kinds.iter().flat_map(|kind| kind.figures.ends());
    let facets = ends.flat_map(|end| end.facets.iter().map(|facet| block_angle(end, facet)));
    let folds = kinds.iter().flat_map(|kind| &kind.figures.folds);
    facets.chain(folds.map(PieceFold::wall_angle))
}

/// The distinct angles of the guide blocks that the pieces need, rising. Ends that are square need
/// no guide block.
pub fn jig_angles(kinds: &[PieceKind]) -> Vec<f64> {
    let mut angles: Vec<f64> = block_angles(kinds)
        .filter(|angle| !is_square(*angle))
        .collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < SAME_ANGLE);
    angles
}

/// Whether a facet at that angle needs no block.
pub(super) fn is_square(angle: f64) -> bool {
    (angle - FRAC_PI_2).abs() < SAME_ANGLE
}

/// How the stop is set for one facet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FacetSetting {
    /// The side of the piece that lies on the fence: the one that the facet cuts into, so that the
    /// guide's sharp corner stands at the shoulder; of a facet that leans past square the other one.
    pub on_fence: FacetSide,
    /// Angle of the guide block.
    pub block_angle: f64,
    /// From the stop's face to where the guide plane meets the fence.
    pub stop: f64,
    /// Whether this facet takes the heavier cut of the two: it removes more wood.
    pub heavier: bool,
}

/// The settings of an end, in the order of its facets. The other end stands on the stop: finished,
/// or still square and `rough` longer than it will be; the piece is `thickness` wide.
///
/// The guide plane meets the side that the facet cuts into at its shoulder, measured from the far
/// finished point; a rough end puts that point `rough` away from the stop. The plane of a facet that
/// leans past square meets the other side `thickness / tan(PI - a)` nearer to the stop.
pub fn stop_settings(end: &End, rough: f64, thickness: f64) -> Vec<FacetSetting> {
    let heavier = heavier_facet(end);
    let mut settings = Vec::new();
    for facet in &end.facets {
        let block_angle = block_angle(end, facet);
        let leans = end.mouth().is_none() && facet.jig_angle > FRAC_PI_2 + SAME_ANGLE;
        let nearer = if leans {
            thickness / block_angle.tan()
        } else {
            0.0
        };
        settings.push(FacetSetting {
            on_fence: match (leans, facet.side) {
                (true, FacetSide::Left) => FacetSide::Right,
                (true, FacetSide::Right) => FacetSide::Left,
                (_, side) => side,
            },
            block_angle,
            stop: facet.shoulder - nearer + rough,
            heavier: heavier == Some(facet.side),
        });
    }
    settings
}

/// The angle between the sides that meet in an end's extreme point; a square end is as blunt as can
/// be. Two facets meet in a ridge at the sum of their angles; where one leans past square, its corner
/// with the long side lies farthest out.
pub(super) fn tip_angle(end: &End) -> f64 {
    match end.facets.as_slice() {
        [one] if one.side == FacetSide::Across => PI,
        [one] => block_angle(end, one),
        [a, b] if end.mouth().is_some() => {
            // Of its two points the one farther out, the sharper one where they are equally far.
            let apart = a.shoulder - b.shoulder;
            PI - match apart.abs() < SAME_LENGTH {
                true => a.jig_angle.max(b.jig_angle),
                false if apart > 0.0 => a.jig_angle,
                false => b.jig_angle,
            }
        }
        [a, b] => {
            let flatter = a.jig_angle.max(b.jig_angle);
            if flatter > FRAC_PI_2 + SAME_ANGLE {
                PI - flatter
            } else {
                a.jig_angle + b.jig_angle
            }
        }
        _ => PI,
    }
}

/// The side of the facet that takes more wood off the square end; `None` where both take the same,
/// or there is one facet.
///
/// A facet of width `w` (square to the axis) at the jig angle `a` cuts off a triangle with the legs
/// `w` and `w / tan a`, of area `w^2 / (2 tan a)`. In a mouth each of them takes it off the other side of
/// its plane, where the angle is `PI - a`; one that leans the other way takes it from beyond the apex.
pub fn heavier_facet(end: &End) -> Option<FacetSide> {
    let [one, other] = end.facets.as_slice() else {
        return None;
    };
    let is_mouth = end.mouth().is_some();
    let taken = |facet: &Facet| {
        let taken = facet.width * facet.width / (2.0 * facet.jig_angle.tan());
        if is_mouth { -taken } else { taken }
    };
    let a = taken(one);
    let b = taken(other);
    if (a - b).abs() < SAME_LENGTH {
        return None;
    }
    Some(if a > b { one.side } else { other.side })
}

/// What paring `x` off both facets of a pointed end shortens the piece by.
///
/// Both planes move by `x` along their inward normals; the ridge moves to where they meet then.
/// With the axis along x, the right facet rises toward the tip at the angle `a`, its inward normal
/// is `(-sin a, cos a)`; the left facet falls at `b`, its normal is `(-sin b, -cos b)`. The ridge's
/// way `v` has `v.n = x` for both. Adding `cos b` times the first to `cos a` times the second
/// leaves `-v_x sin(a + b) = x (cos a + cos b)`, so the piece loses
/// `x (cos a + cos b) / sin(a + b)`: with equal angles `2 cos a / sin 2a`, which is `x / sin a`.
fn shortening(x: f64, left: f64, right: f64) -> f64 {
    // (cos a + cos b) / sin(a + b) = cos((a - b)/2) / sin((a + b)/2): no 0/0 for a straight end.
    x * ((left - right) / 2.0).cos() / ((left + right) / 2.0).sin()
}

/// What paring `x` off every facet of an end shortens the piece by. A single facet takes its tip
/// back by `x / sin a` along the side.
fn end_shortening(end: &End, x: f64) -> f64 {
    match end.facets.as_slice() {
        [one] => x / one.jig_angle.sin(),
        [left, right] if end.mouth().is_some() => mouth_shortening(left, right, x),
        [left, right] => shortening(x, left.jig_angle, right.jig_angle),
        _ => 0.0,
    }
}

/// A mouth's points go back along their sides by `x / sin a` each; the one that then lies farther out counts.
fn mouth_shortening(left: &Facet, right: &Facet, x: f64) -> f64 {
    let pared = |facet: &Facet| facet.shoulder - x / facet.jig_angle.sin();
    left.shoulder.max(right.shoulder) - pared(left).max(pared(right))
}

/// For each depth of [`PARED_MM`]: the depth pared off every facet, and what the piece loses.
pub(super) fn shortening_table(end: &End) -> [(f64, f64); 5] {
    PARED_MM.map(|x| (x, end_shortening(end, x)))
}

/// The opposite: how much to pare off every facet of an end so that the piece loses `excess`.
pub fn paring_for(end: &End, excess: f64) -> f64 {
    let per_millimetre = end_shortening(end, 1.0);
    if per_millimetre > 0.0 {
        excess / per_millimetre
    } else {
        0.0
    }
}

/// Where the gap opens that a wrong block leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum GapAt {
    /// Between the piece's tip and the corner: the facets are too steep, their shoulders touch
    /// first.
    Tip,
    /// At the shoulders: the facets are too flat, the tip touches first.
    Shoulder,
}

/// What a block at the wrong angle leaves open at one facet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct BlockGap {
    /// Right angle less the angle cut: positive where the facet is too flat.
    pub angle: f64,
    /// Where it is widest.
    pub at: GapAt,
    /// There: at the tip along the axis, at the shoulder square to the face that it should touch.
    pub width: f64,
}

/// The gap at a facet of `width` (square to the axis, half the thickness of a centred end) that
/// should stand at `right` and was pared on a block at `cut`; `None` where both are the same.
///
/// Too steep (`cut > right`): the shoulder, `width` from the axis, touches the face; the corner
/// lies `width / tan right` beyond it, the tip only `width / tan cut`. Too flat: the tip touches,
/// and the facet, `width / sin cut` long, leaves the face by the sine of the difference.
pub(super) fn block_gap(right: f64, cut: f64, width: f64) -> Option<BlockGap> {
    let angle = right - cut;
    if angle.abs() < SAME_ANGLE {
        return None;
    }
    let (at, width) = if angle < 0.0 {
        (GapAt::Tip, width / right.tan() - width / cut.tan())
    } else {
        (GapAt::Shoulder, width / cut.sin() * angle.sin())
    };
    Some(BlockGap { angle, at, width })
}

/// What a set of jig angles leaves of the corner that they should fill, rad: positive where the
/// corner stays open, negative where the facets are too steep for it; zero where they close it.
pub(super) fn corner_gap(corner: f64, jig_angles: &[f64]) -> f64 {
    let gap = corner - jig_angles.iter().sum::<f64>();
    if gap.abs() < SAME_ANGLE { 0.0 } else { gap }
}

/// A jig angle that is needed, and the nearest block of a set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct NearestBlock {
    /// Needed.
    pub needed: f64,
    /// At hand.
    pub block: f64,
}

/// The nearest block for each angle; none where the set is empty.
pub(super) fn nearest_blocks(needed: &[f64], blocks: &[f64]) -> Vec<NearestBlock> {
    let mut found = Vec::new();
    for &needed in needed {
        let mut nearest: Option<f64> = None;
        for &block in blocks {
            let off = (block - needed).abs();
            if nearest.is_none_or(|known| off < (known - needed).abs()) {
                nearest = Some(block);
            }
        }
        found.extend(nearest.map(|block| NearestBlock { needed, block }));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::infill::Contact;
    use float_cmp::approx_eq;

    fn facet(side: FacetSide, degrees: f64, width: f64) -> Facet {
        Facet {
            side,
            jig_angle: degrees.to_radians(),
            shoulder: 30.0,
            length: width / degrees.to_radians().sin(),
            width,
            touches: Contact::Wall(0),
        }
    }

    fn end(left: (f64, f64), right: (f64, f64)) -> End {
        End {
            facets: vec![
                facet(FacetSide::Left, left.0, left.1),
                facet(FacetSide::Right, right.0, right.1),
            ],
            ridge_offset: Some(0.0),
        }
    }

    fn near(found: f64, wanted: f64) {
        assert!(
            approx_eq!(f64, found, wanted, epsilon = 1e-9),
            "{found} is not {wanted}"
        );
    }

    #[test]
    fn paring_both_facets_shortens_by_x_over_the_sine() {
        let table = shortening_table(&end((45.0, 1.4), (45.0, 1.4)));
        for (x, lost) in table {
            near(lost, x * 2_f64.sqrt());
        }
        // Computed to 12 digits: 0.1 / sin 22.5 and 0.1 / sin 67.5, sin 22.5 as half the root of
        // 2 - sqrt 2, sin 67.5 as half that of 2 + sqrt 2.
        near(
            end_shortening(&end((22.5, 1.4), (22.5, 1.4)), 0.1),
            0.261_312_592_975,
        );
        near(
            end_shortening(&end((67.5, 1.4), (67.5, 1.4)), 0.1),
            0.108_239_220_029,
        );
        let square = End {
            facets: vec![facet(FacetSide::Across, 90.0, 2.8)],
            ridge_offset: None,
        };
        near(end_shortening(&square, 0.2), 0.2);
        near(
            paring_for(&end((45.0, 1.4), (45.0, 1.4)), 2_f64.sqrt()),
            1.0,
        );
    }

    #[test]
    fn unequal_facets_shorten_as_their_planes_meet() {
        // Planes moved by 0.5 along their inward normals, their new meeting point by Cramer's rule.
        let (a, b) = (30_f64.to_radians(), 75_f64.to_radians());
        let (n, m) = ((-a.sin(), a.cos()), (-b.sin(), -b.cos()));
        let along = (0.5 * m.1 - n.1 * 0.5) / (n.0 * m.1 - n.1 * m.0);
        near(shortening(0.5, b, a), -along);
        near(shortening(0.5, FRAC_PI_2, FRAC_PI_2), 0.5);
    }

    #[test]
    fn the_heavier_facet_takes_more_wood() {
        assert_eq!(
            heavier_facet(&end((67.5, 0.97), (67.5, 1.83))),
            Some(FacetSide::Right)
        );
        assert_eq!(
            heavier_facet(&end((30.0, 1.5), (60.0, 1.5))),
            Some(FacetSide::Left)
        );
        assert_eq!(heavier_facet(&end((45.0, 1.4), (45.0, 1.4))), None);
        let settings = stop_settings(&end((67.5, 0.97), (67.5, 1.83)), 2.0, 2.8);
        near(settings[0].stop, 32.0);
        assert_eq!(
            settings.iter().map(|s| s.heavier).collect::<Vec<_>>(),
            [false, true]
        );
    }

    #[test]
    fn a_facet_that_leans_past_square_lies_on_its_other_side() {
        // The plane rises at 112.5 deg from the left side's corner, 30 from the stop: across 2.8 of
        // thickness it comes 2.8 / tan 67.5 nearer.
        let settings = stop_settings(&end((112.5, 1.4), (45.0, 1.4)), 0.0, 2.8);
        assert_eq!(settings[0].on_fence, FacetSide::Right);
        near(settings[0].stop, 30.0 - 2.8 * (2_f64.sqrt() - 1.0));
        assert_eq!(settings[1].on_fence, FacetSide::Right);
        near(settings[1].stop, 30.0);
    }

    /// Points at 30 and at 32 from the far end, sides at 60 and 30 to the axis: the left one is shorter.
    #[test]
    fn a_mouth_is_pared_from_its_own_sides() {
        let mut mouth = end((120.0, 1.4), (150.0, 1.4));
        mouth.facets[1].shoulder = 30.0 - 1.4 / 3_f64.sqrt() + 1.4 * 3_f64.sqrt();
        let found = mouth.mouth().unwrap();
        near(found.angle, FRAC_PI_2);
        near(found.depth, 1.4 * 3_f64.sqrt());
        let settings = stop_settings(&mouth, 0.5, 2.8);
        assert_eq!(settings[0].on_fence, FacetSide::Left);
        near(settings[0].block_angle, 120_f64.to_radians());
        near(settings[0].stop, 30.5);
        near(settings[1].block_angle, 150_f64.to_radians());
        // The right one takes 1.4^2 / (2 tan 30), three times as much.
        assert_eq!(heavier_facet(&mouth), Some(FacetSide::Right));
        near(tip_angle(&mouth), 30_f64.to_radians());
        // Points go back by x / sin 60 and by x / sin 30; the right one stays the farther one.
        near(end_shortening(&mouth, 0.1), 0.2);
        // By more than the left one lies behind, 4 / sqrt 3 * 1.4 / 2, it would not.
        let behind = mouth.facets[1].shoulder - 30.0;
        near(
            end_shortening(&mouth, 2.0),
            behind + 2.0 / 60_f64.to_radians().sin(),
        );
    }

    #[test]
    fn a_tip_is_as_sharp_as_its_facets_leave_it() {
        near(
            tip_angle(&end((22.5, 1.4), (22.5, 1.4))),
            45_f64.to_radians(),
        );
        near(
            tip_angle(&end((112.5, 1.4), (45.0, 1.4))),
            67.5_f64.to_radians(),
        );
        let one = |side, degrees| End {
            facets: vec![facet(side, degrees, 2.8)],
            ridge_offset: None,
        };
        near(tip_angle(&one(FacetSide::Left, 30.0)), 30_f64.to_radians());
        near(tip_angle(&one(FacetSide::Across, 90.0)), PI);
    }

    #[test]
    fn blocks_at_25_5_where_22_5_belongs_leave_the_corner() {
        let deg = f64::to_radians;
        // Two facets in an acute corner of 45 degrees: too steep together by 3 degrees.
        near(corner_gap(deg(45.0), &[deg(24.0), deg(24.0)]), deg(-3.0));
        near(corner_gap(deg(45.0), &[deg(22.5); 2]), 0.0);
        near(corner_gap(deg(360.0), &[deg(60.0); 5]), deg(60.0));
        let steep = block_gap(deg(22.5), deg(24.0), 1.4).unwrap();
        assert_eq!(steep.at, GapAt::Tip);
        near(steep.width, 1.4 / deg(22.5).tan() - 1.4 / deg(24.0).tan());
        let flat = block_gap(deg(22.5), deg(20.0), 1.4).unwrap();
        assert_eq!(flat.at, GapAt::Shoulder);
        near(flat.angle, deg(2.5));
        // The shoulder of the facet lies this far along the face, and this far off it.
        let (along, off) = (1.4 / deg(20.0).sin() * deg(2.5).cos(), flat.width);
        near(along.hypot(off), 1.4 / deg(20.0).sin());
        assert!(block_gap(deg(22.5), deg(22.5), 1.4).is_none());
    }

    #[test]
    fn the_nearest_block_is_found() {
        let found = nearest_blocks(&[0.4, 0.8], &[0.39, 0.8, 1.2]);
        assert_eq!(
            found
                .iter()
                .map(|near| (near.needed - near.block).abs() < SAME_ANGLE)
                .collect::<Vec<_>>(),
            [false, true]
        );
        assert!(nearest_blocks(&[0.4], &[]).is_empty());
    }
}
