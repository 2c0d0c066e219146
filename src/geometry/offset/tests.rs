use super::*;
use crate::geometry::signed_area;
use float_cmp::approx_eq;
use proptest::prelude::*;

fn ring(points: &[(f64, f64)]) -> Vec<Point> {
    points.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

fn assert_same(found: &[Point], wanted: &[(f64, f64)]) {
    assert_eq!(found.len(), wanted.len(), "{found:?}");
    for (p, &(x, y)) in found.iter().zip(wanted) {
        let off = p.to(Point::new(x, y)).length();
        assert!(off < 1e-12, "{found:?} is not {wanted:?}");
    }
}

/// 40 by 12 with a notch 3 wide and 6 deep from below at 20.
const NOTCHED: [(f64, f64); 8] = [
    (0.0, 0.0),
    (18.5, 0.0),
    (18.5, 6.0),
    (21.5, 6.0),
    (21.5, 0.0),
    (40.0, 0.0),
    (40.0, 12.0),
    (0.0, 12.0),
];

#[test]
fn square_corners_by_hand() {
    let wanted = [
        (-0.1, -0.1),
        (18.6, -0.1),
        (18.6, 5.9),
        (21.4, 5.9),
        (21.4, -0.1),
        (40.1, -0.1),
        (40.1, 12.1),
        (-0.1, 12.1),
    ];
    assert_same(&offset(&ring(&NOTCHED), 0.1).unwrap(), &wanted);
    let hole = ring(&[(1.0, 1.0), (4.0, 1.0), (4.0, 3.0), (1.0, 3.0)]);
    let wanted = [(1.25, 1.25), (3.75, 1.25), (3.75, 2.75), (1.25, 2.75)];
    assert_same(&offset(&hole, -0.25).unwrap(), &wanted);
}

#[test]
fn slanted_corners_by_hand() {
    // Right isosceles triangle, legs 2: the moved sides are x = -d, y = -d and
    // x + y = 2 + d sqrt 2.
    let d = 0.5;
    let far = 2.0 + d * 2f64.sqrt() + d;
    let triangle = ring(&[(0.0, 0.0), (2.0, 0.0), (0.0, 2.0)]);
    let wanted = [(-d, -d), (far, -d), (-d, far)];
    assert_same(&offset(&triangle, d).unwrap(), &wanted);
}

#[test]
fn the_start_does_not_matter_and_a_clockwise_ring_moves_the_other_way() {
    let straight = offset(&ring(&NOTCHED), 0.1).unwrap();
    for start in 1..NOTCHED.len() {
        let mut turned = ring(&NOTCHED);
        turned.rotate_left(start);
        let mut found = offset(&turned, 0.1).unwrap();
        found.rotate_right(start);
        assert_eq!(found, straight);
    }
    let mut reversed = ring(&NOTCHED);
    reversed.reverse();
    let mut found = offset(&reversed, -0.1).unwrap();
    found.reverse();
    for (p, q) in found.iter().zip(&straight) {
        assert!(p.to(*q).length() < 1e-12);
    }
}

#[test]
fn a_straight_through_vertex_stays() {
    let with_middle = ring(&[(0.0, 0.0), (1.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)]);
    let found = offset(&with_middle, 0.2).unwrap();
    assert_eq!(found[1], Point::new(1.0, -0.2));
}

#[test]
fn a_sharp_tip_is_cut_square_beyond_the_part() {
    // Half angle atan(0.1) = 5.7 degrees, tip at (10, 0), bisector along x.
    let wedge = ring(&[(0.0, -1.0), (10.0, 0.0), (0.0, 1.0)]);
    let found = offset(&wedge, 0.1).unwrap();
    assert_eq!(found.len(), 4);
    for p in &found[1..3] {
        assert!(approx_eq!(f64, p.x, 10.4, epsilon = 1e-12), "{found:?}");
        // On the moved side: distance 0.1 from the side's line.
        let side = wedge[0].to(wedge[1]).unit().unwrap();
        let aside = side.cross(wedge[0].to(Point::new(p.x, -p.y.abs())));
        assert!((aside + 0.1).abs() < 1e-12, "{found:?}");
    }
    assert!((found[1].y + found[2].y).abs() < 1e-12 && found[1].y < 0.0);
    // 22.5 degrees, the sharpest point of the square hemp leaf, keeps its point.
    let (sine, cosine) = (22.5_f64.to_radians() / 2.0).sin_cos();
    let point = ring(&[
        (-10.0 * cosine, -10.0 * sine),
        (0.0, 0.0),
        (-10.0 * cosine, 10.0 * sine),
    ]);
    let found = offset(&point, 0.1).unwrap();
    assert_eq!(found.len(), 3);
    assert!(approx_eq!(f64, found[1].x, 0.1 / sine, epsilon = 1e-12));
}

#[test]
fn only_a_tip_that_the_path_goes_around_is_cut_square() {
    // The wedge from inside: its sides, (10, 1) long, meet 0.1 sqrt 101 before the tip, and its
    // butt moves to x = 0.1.
    let wedge = ring(&[(0.0, -1.0), (10.0, 0.0), (0.0, 1.0)]);
    let found = offset(&wedge, -0.1).unwrap();
    let tip = 10.0 - 0.1 * 101_f64.sqrt();
    let half = (tip - 0.1) / 10.0;
    assert_same(&found, &[(0.1, -half), (tip, 0.0), (0.1, half)]);
    // The same wedge taken out of a block: moved inward, the path goes around its tip.
    let notched = ring(&[
        (0.0, -1.0),
        (0.0, -5.0),
        (20.0, -5.0),
        (20.0, 5.0),
        (0.0, 5.0),
        (0.0, 1.0),
        (10.0, 0.0),
    ]);
    let found = offset(&notched, -0.1).unwrap();
    assert_eq!(found.len(), 8);
    let beyond = |p: &Point| (p.x - 10.4).abs() < 1e-12;
    assert!(found[6..].iter().all(beyond), "{found:?}");
    assert_eq!(offset(&notched, 0.01).unwrap().len(), 7);
}

#[test]
fn segments_touch_where_they_have_a_point_in_common() {
    let level = [(0.0, 0.0), (10.0, 0.0)];
    let rising = [(0.0, 0.0), (10.0, 10.0)];
    let check = |[a, b]: [(f64, f64); 2], c: (f64, f64), d: (f64, f64), wanted: bool| {
        let [a, b, c, d] = [a, b, c, d].map(|(x, y)| Point::new(x, y));
        // Whichever comes first, whichever way they run.
        for (one, other) in [((a, b), (c, d)), ((b, a), (c, d)), ((a, b), (d, c))] {
            assert_eq!(touch(one, other), wanted, "{one:?} and {other:?}");
            assert_eq!(touch(other, one), wanted, "{other:?} and {one:?}");
        }
    };
    // Across; an end on the other's middle, from either side; end to end; on one line.
    check(level, (4.0, -1.0), (5.0, 2.0), true);
    check(level, (5.0, 0.0), (5.0, 5.0), true);
    check(level, (5.0, 0.0), (5.0, -5.0), true);
    check(rising, (5.0, 5.0), (9.0, 2.0), true);
    check(rising, (5.0, 5.0), (2.0, 9.0), true);
    check(level, (10.0, 0.0), (12.0, 3.0), true);
    check(level, (7.0, 0.0), (12.0, 0.0), true);
    // A tenth apart; beside the long one, whose ends lie on both sides of the short one's line.
    check(level, (5.0, 0.1), (5.0, 5.0), false);
    check(level, (10.1, 0.0), (12.0, 0.0), false);
    check(rising, (8.0, 0.0), (8.0, 3.0), false);
    check(rising, (2.0, 9.0), (2.0, 7.0), false);
}

#[test]
fn a_bow_is_not_simple_and_two_points_are_no_ring() {
    let bow = [(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)];
    assert!(!is_simple(&ring(&bow)));
    assert!(is_simple(&ring(&NOTCHED)));
    assert!(is_simple(&ring(&bow[..3])));
    assert!(!is_simple(&ring(&bow[..2])));
}

#[test]
fn what_has_no_room_is_refused_with_its_edge() {
    // The notch is 3 wide: its floor, edge 2, is gone from 1.5 on.
    let lost = Err(OffsetError::EdgeLost { edge: 2 });
    assert_eq!(offset(&ring(&NOTCHED), 1.5), lost);
    assert_eq!(offset(&ring(&NOTCHED), 1.7), lost);
    assert!(offset(&ring(&NOTCHED), 1.49).is_ok());
    // A bottle: neck 1 wide, belly 3 by 3 inside a block. Moved out by 0.6 the neck's walls
    // have crossed while every edge still has its direction.
    let bottle = ring(&[
        (0.0, 0.0),
        (4.5, 0.0),
        (4.5, 3.0),
        (3.5, 3.0),
        (3.5, 6.0),
        (6.5, 6.0),
        (6.5, 3.0),
        (5.5, 3.0),
        (5.5, 0.0),
        (10.0, 0.0),
        (10.0, 10.0),
        (0.0, 10.0),
    ]);
    assert!(offset(&bottle, 0.4).is_ok());
    // The edge up to the neck runs on to x = 5.1, the neck's far wall stands at 4.9.
    let crossing = |edge, other| Err(OffsetError::Crossing { edge, other });
    assert_eq!(offset(&bottle, 0.6), crossing(0, 7));
    // With a tip at the right, 20 long and 2 high, that gets two corners for one: the edges
    // keep their numbers, also where the ring begins at the tip.
    let mut tipped = bottle;
    let tip = [(10.0, 0.0), (10.0, 4.0), (30.0, 5.0), (10.0, 6.0)];
    tipped.splice(9..10, ring(&tip));
    assert_eq!(offset(&tipped, 0.4).unwrap().len(), 16);
    assert_eq!(offset(&tipped, 0.6), crossing(0, 7));
    tipped.rotate_left(11);
    assert_eq!(offset(&tipped, 0.6), crossing(4, 11));
}

/// The first pair by a look at all.
fn crossing_by_all_pairs(ring: &[Point]) -> Option<(usize, usize)> {
    let n = ring.len();
    let edge = |i: usize| (ring[i], ring[(i + 1) % n]);
    let pairs = (0..n).flat_map(|i| (i + 2..n).map(move |j| (i, j)));
    let mut pairs = pairs.filter(|pair| *pair != (0, n - 1));
    pairs.find(|(i, j)| touch(edge(*i), edge(*j)))
}

proptest! {
    #[test]
    fn the_first_crossing_is_that_of_a_look_at_all_pairs(
        corners in prop::collection::vec((0..40_i32, 0..40_i32), 3..70),
        teeth in 0..30_u32,
    ) {
        let mut ring: Vec<Point> = corners
            .iter()
            .map(|(x, y)| Point::new(f64::from(*x), f64::from(*y)))
            .collect();
        prop_assert_eq!(first_crossing(&ring), crossing_by_all_pairs(&ring));
        // A comb crosses nothing, as far as its last corner does not.
        ring = (0..teeth)
            .flat_map(|at| [(4 * at, 0), (4 * at, 3), (4 * at + 2, 3), (4 * at + 2, 0)])
            .map(|(x, y)| Point::new(f64::from(x), f64::from(y)))
            .collect();
        ring.extend([Point::new(200.0, -5.0), Point::new(f64::from(corners[0].0), f64::from(corners[0].1) - 20.0)]);
        if ring.len() > 2 {
            prop_assert_eq!(first_crossing(&ring), crossing_by_all_pairs(&ring));
        }
    }
}

#[test]
fn nonsense_is_refused() {
    let square = ring(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
    assert_eq!(offset(&square[..2], 0.1), Err(OffsetError::TooFewVertices));
    assert_eq!(offset(&square, f64::NAN), Err(OffsetError::NotFinite));
    for nowhere in [(f64::NAN, 1.0), (1.0, f64::NAN), (f64::INFINITY, 1.0)] {
        let with = ring(&[(0.0, 0.0), (1.0, 0.0), nowhere, (0.0, 1.0)]);
        assert_eq!(offset(&with, 0.1), Err(OffsetError::NotFinite));
    }
    let repeated = ring(&[(0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (0.0, 1.0)]);
    assert_eq!(
        offset(&repeated, 0.1),
        Err(OffsetError::NoLength { edge: 1 })
    );
    let spike = ring(&[(0.0, 0.0), (2.0, 0.0), (1.0, 0.0), (1.0, 1.0)]);
    assert_eq!(offset(&spike, 0.1), Err(OffsetError::FoldsBack { edge: 1 }));
    let bow = ring(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)]);
    assert!(offset(&bow, 0.1).is_err());
}

/// A star-shaped ring around the origin: radii at even angles.
fn star() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec(8.0..12.0, 5..16).prop_map(|radii: Vec<f64>| {
        let step = std::f64::consts::TAU / radii.len() as f64;
        let at = |(i, r): (usize, &f64)| {
            let (sine, cosine) = (i as f64 * step).sin_cos();
            Point::new(r * cosine, r * sine)
        };
        radii.iter().enumerate().map(at).collect()
    })
}

proptest! {
    #[test]
    fn there_and_back_is_where_it_was(ring in star(), distance in 0.01..0.3) {
        let out = offset(&ring, distance).unwrap();
        prop_assert!(signed_area(&out) > signed_area(&ring));
        let back = offset(&out, -distance).unwrap();
        for (p, q) in ring.iter().zip(&back) {
            prop_assert!(p.to(*q).length() < 1e-11);
        }
    }

    #[test]
    fn every_edge_stays_parallel_at_the_distance(ring in star(), distance in -0.3..0.3) {
        let out = offset(&ring, distance).unwrap();
        let n = ring.len();
        for i in 0..n {
            let along = ring[i].to(ring[(i + 1) % n]).unit().unwrap();
            for q in [out[i], out[(i + 1) % n]] {
                let aside = -along.cross(ring[i].to(q));
                prop_assert!(approx_eq!(f64, aside, distance, epsilon = 1e-12));
            }
        }
    }
}
