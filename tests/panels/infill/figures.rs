//! Lengths, angles and shoulders against closed forms of plane geometry, computed apart.

use super::*;
use float_cmp::approx_eq;
use lapwright::geometry::Point;
use lapwright::infill::Contact;
use lapwright::planning::paring::settings::{heavier_facet, stop_settings};
use proptest::prelude::*;

const HALF_SQRT: f64 = std::f64::consts::FRAC_1_SQRT_2;

fn sine(degrees: f64) -> f64 {
    degrees.to_radians().sin()
}

fn tangent(degrees: f64) -> f64 {
    degrees.to_radians().tan()
}

/// Square hemp leaf, derived for this project: clear opening `s = p - t`; each half cell is a right
/// triangle with the clear leg `q = s - t / sqrt 2` and the inradius `r = q (2 - sqrt 2) / 2`; the
/// flush junction lies off the hinge's axis by `e = t (sin 67.5 / sqrt 2 - 1/2)`.
fn check_square_hemp_leaf(p: f64, t: f64) {
    let cell = solved("square-hemp-leaf", p, t);
    let s = p - t;
    let q = s - t * HALF_SQRT;
    let r = q * (2.0 - 2_f64.sqrt()) / 2.0;
    let e = t * (sine(67.5) * HALF_SQRT - 0.5);

    let diagonal = &piece(&cell, "diagonal").figures;
    near(diagonal.length, s * 2_f64.sqrt());
    near_angles(diagonal, [&[45.0, 45.0], &[45.0, 45.0]]);

    let lock = &piece(&cell, "lock").figures;
    near(lock.length, r * 2_f64.sqrt() + e / sine(67.5));
    near_angles(lock, [&[45.0, 45.0], &[45.0, 45.0]]);

    let hinge = &piece(&cell, "hinge").figures;
    near(hinge.length, r / sine(22.5) - e / tangent(67.5));
    near_angles(hinge, [&[22.5, 22.5], &[67.5, 67.5]]);
    near(hinge.to.ridge_offset.unwrap(), e);
    near(hinge.from.ridge_offset.unwrap(), 0.0);
    // The lock lies to the right of this hinge, and the heavier facet is against it.
    let tip = hinge.length;
    let (heavy, light) = (FacetSide::Right, FacetSide::Left);
    near(
        facet(hinge, 1, heavy).shoulder,
        tip - (t / 2.0 + e) / tangent(67.5),
    );
    near(
        facet(hinge, 1, light).shoulder,
        tip - (t / 2.0 - e) / tangent(67.5),
    );
    near(
        facet(hinge, 0, light).shoulder,
        tip - t / 2.0 / tangent(22.5),
    );
    assert_eq!(heavier_facet(&hinge.to), Some(heavy));
    assert_eq!(heavier_facet(&hinge.from), None);
    // Flush corners: the lock's facets are as long as the hinges' heavy ones.
    near(facet(lock, 1, light).length, facet(hinge, 1, heavy).length);
}

#[test]
fn square_hemp_leaf_on_46_mm_bays() {
    check_square_hemp_leaf(46.0, 2.7);
    let cell = solved("square-hemp-leaf", 46.0, 2.7);
    // Computed from the closed forms above, apart from the program.
    let rounded = |mm: f64, wanted: f64| {
        assert!(approx_eq!(f64, mm, wanted, epsilon = 5e-5), "{mm} {wanted}");
    };
    let hinge = &piece(&cell, "hinge").figures;
    rounded(piece(&cell, "diagonal").figures.length, 61.2354);
    rounded(hinge.length, 31.5077);
    rounded(piece(&cell, "lock").figures.length, 17.5926);
    rounded(hinge.to.ridge_offset.unwrap(), 0.4139);
    let stops = stop_settings(&hinge.to, 0.0, 2.7);
    rounded(stops[1].stop, 30.7771);
    rounded(stops[0].stop, 31.1200);
    assert!(stops[1].heavier && !stops[0].heavier);
}

/// Triangular hemp leaf: from a corner to the centre, twice the inradius (computed: r / sin 30),
/// 30 in the corner and 60 at the centre.
fn check_triangular_hemp_leaf(a: f64, t: f64) {
    let cell = solved("triangular-hemp-leaf", a, t);
    let r = a * 3_f64.sqrt() / 6.0 - t / 2.0;
    for leaf in &cell.pieces {
        near(leaf.figures.length, 2.0 * r);
        near_angles(&leaf.figures, [&[30.0, 30.0], &[60.0, 60.0]]);
        near(leaf.figures.to.ridge_offset.unwrap(), 0.0);
        for facet in &leaf.figures.to.facets {
            near(facet.shoulder, 2.0 * r - t / 2.0 / tangent(60.0));
        }
    }
}

#[test]
fn triangular_hemp_leaf_on_60_mm_sides() {
    check_triangular_hemp_leaf(60.0, 3.0);
    let cell = solved("triangular-hemp-leaf", 60.0, 3.0);
    let leaf = &piece(&cell, "leaf").figures;
    assert!(approx_eq!(f64, leaf.length, 31.6410, epsilon = 5e-5));
    assert!(approx_eq!(
        f64,
        facet(leaf, 1, FacetSide::Left).shoulder,
        30.7750,
        epsilon = 5e-5
    ));
}

proptest! {
    #[test]
    fn closed_forms_hold_at_every_size(p in 15.0..200.0_f64, part in 0.01..0.25_f64) {
        check_square_hemp_leaf(p, part * p);
        check_triangular_hemp_leaf(p, part * p * 3_f64.sqrt() / 2.0);
    }
}

#[test]
fn the_other_shipped_figures() {
    let (p, t) = (46.0, 2.7);
    let s = p - t;
    for name in ["single-diagonal", "crossed-diagonals"] {
        for piece in &solved(name, p, t).pieces {
            near(piece.figures.length, s * 2_f64.sqrt());
            near_angles(&piece.figures, [&[45.0, 45.0], &[45.0, 45.0]]);
        }
    }
    for piece in &solved("nested-square", p, t).pieces {
        // Between the middles of two walls: half a diagonal of the opening.
        near(piece.figures.length, s * HALF_SQRT);
        near_angles(&piece.figures, [&[45.0, 45.0], &[45.0, 45.0]]);
    }
    for piece in &solved("corner-brace", p, t).pieces {
        // The axis cuts off a right triangle with legs s/4; the side away from the corner lies t/2
        // farther out and is longer by t/2 at each end.
        near(piece.figures.length, s / 4.0 * 2_f64.sqrt() + t);
        near_angles(&piece.figures, [&[45.0], &[45.0]]);
        let inner = s / 4.0 * 2_f64.sqrt() - t;
        for end in piece.figures.ends() {
            assert_eq!(end.ridge_offset, None);
            // From the far tip to where the corner side starts.
            near(end.facets[0].shoulder, piece.figures.length - t);
            near(end.facets[0].shoulder, inner + t);
        }
    }
    let (a, t) = (60.0, 3.0);
    let r = a * 3_f64.sqrt() / 6.0 - t / 2.0;
    for piece in &solved("central-triangle", a, t).pieces {
        // The medial triangle's sides are half as long (computed: by halves).
        near(piece.figures.length, 3_f64.sqrt() * r);
        // Inside the triangle the mitre, outside it the wall: left and right of a bar that runs
        // counter-clockwise.
        near_angles(&piece.figures, [&[30.0, 60.0], &[30.0, 60.0]]);
    }
    for piece in &solved("wall-spokes", a, t).pieces {
        near(piece.figures.length, r);
        near_angles(&piece.figures, [&[90.0], &[60.0, 60.0]]);
        assert_eq!(piece.figures.from.facets[0].side, FacetSide::Across);
        near(piece.figures.from.facets[0].shoulder, r);
    }
}

#[test]
fn crossed_diagonals_lap_in_their_middle() {
    let pattern = pattern("crossed-diagonals");
    let stock = PieceStock {
        depth: 12.0,
        thickness: 3.0,
        clearance: 0.1,
        skin: 0.5,
    };
    let cell = Cell::rectangle(40.0, 60.0).unwrap();
    let solved = solve(&pattern, &cell, stock).unwrap();
    let (rising, falling) = (
        &piece(&solved, "rising").figures,
        &piece(&solved, "falling").figures,
    );
    let length = 40_f64.hypot(60.0);
    // The diagonals of a rectangle cross at twice the angle of one to a side.
    let angle = 2.0 * 40_f64.atan2(60.0);
    for (own, mate, face) in [(rising, "falling", "back"), (falling, "rising", "front")] {
        near(own.length, length);
        let [lap] = own.laps.as_slice() else {
            panic!("{own:?}")
        };
        assert_eq!((lap.mate.as_str(), lap.face.name()), (mate, face));
        near(lap.centre, length / 2.0);
        near(lap.fraction, 0.5);
        near(lap.width, 3.1 / angle.sin());
    }
    near(
        falling.laps[0].angle + rising.laps[0].angle,
        std::f64::consts::PI,
    );
    // Corner facets of a rectangle: the diagonal's angles to the two walls.
    let flat = 60_f64.atan2(40.0).to_degrees();
    near_angles(rising, [&[90.0 - flat, flat], &[flat, 90.0 - flat]]);
}

/// Computed: angle bisectors meet in the incentre, from which the triangle falls into three of the
/// height r over its sides, so r = area / semiperimeter; a corner of the angle A lies r / sin(A/2)
/// from it. The pieces of a hemp leaf as thin as nothing are these bisectors.
#[test]
fn thin_pieces_are_the_bisectors_of_their_triangle() {
    let t = 1e-7;
    let limit = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-6 * wanted.max(1.0));
    let legs = 100.0;
    let (area, around) = (legs * legs / 2.0, legs * (2.0 + 2_f64.sqrt()));
    let r = area / (around / 2.0);
    limit(r, 29.289_322);
    let cell = solved("square-hemp-leaf", legs, t);
    limit(piece(&cell, "hinge").figures.length, r / sine(22.5));
    limit(piece(&cell, "lock").figures.length, r / sine(45.0));
    limit(piece(&cell, "hinge").figures.length, 0.765_366_86 * legs);
    limit(piece(&cell, "lock").figures.length, 0.414_213_56 * legs);
    let (area, around) = (3_f64.sqrt() / 4.0 * legs * legs, 3.0 * legs);
    let r = area / (around / 2.0);
    let cell = solved("triangular-hemp-leaf", legs, t);
    limit(piece(&cell, "leaf").figures.length, r / sine(30.0));
    limit(piece(&cell, "leaf").figures.length, 0.577_350_27 * legs);
}

/// A triangle of any thickness: the clear triangle's own incircle, r = area / semiperimeter.
#[test]
fn leaves_reach_the_incentre_of_the_clear_triangle() {
    let cell = solved("triangular-hemp-leaf", 60.0, 3.0);
    let corners = cell.cell.corners();
    let side = corners[0].to(corners[1]).length();
    let area = lapwright::geometry::signed_area(corners);
    let r = area / (3.0 * side / 2.0);
    near(piece(&cell, "leaf").figures.length, r / sine(30.0));
    near(
        piece(&solved("wall-spokes", 60.0, 3.0), "spoke")
            .figures
            .length,
        r,
    );
}

/// Two hinges and a lock meet with a right angle at the lock and 135 between the hinges' facets,
/// by jig angles of 45 and 67.5: computed, since hinges at 67.5 on both sides leave the lock
/// 360 - 4 x 67.5 = 90.
#[test]
fn the_junction_of_the_square_hemp_leaf() {
    let cell = solved("square-hemp-leaf", 46.0, 2.7);
    let at = |name: &str, side| {
        facet(&piece(&cell, name).figures, 1, side)
            .jig_angle
            .to_degrees()
    };
    let (left, right) = (FacetSide::Left, FacetSide::Right);
    near(at("lock", left) + at("lock", right), 90.0);
    near(at("hinge", left) + at("hinge-2", right), 135.0);
    near(at("hinge", right) + at("lock", left), 112.5);
    // The planes around the point: all of them together are a full turn.
    let around =
        at("lock", left) + at("lock", right) + 2.0 * (at("hinge", left) + at("hinge", right));
    near(around, 360.0);
}

/// Four bars half-lapped with horns, keys between them and the corners.
const HORNED: &str = "horned-well-curb";

#[test]
fn a_horn_runs_on_beyond_its_point_and_thin_wood_is_reckoned_with() {
    let strip = 3.0;
    let t = 0.8 * strip;
    let opening = 47.0;
    let cell = Cell::rectangle(opening, opening).unwrap();
    let pattern = pattern(HORNED);
    let stock = PieceStock {
        thickness: t,
        depth: 12.0,
        clearance: 0.0,
        skin: 0.5,
    };
    let solved = solve(&pattern, &cell, stock).unwrap();
    let rail = &solved.pieces[2].figures;
    // A third of the opening and two thicknesses at either end.
    near(rail.length, opening / 3.0 + 4.0 * t);
    near_angles(rail, [&[90.0], &[90.0]]);
    assert_eq!(rail.to.facets[0].touches, Contact::Free);
    for (lap, centre) in rail.laps.iter().zip([2.0 * t, opening / 3.0 + 2.0 * t]) {
        near(lap.centre, centre);
        near(lap.width, t);
    }
    // The lock's axis runs from the corner to where the bars' near sides meet, half a thickness square to
    // both from the crossing.
    let lock = &solved.pieces[4].figures;
    near(lock.length, (opening / 3.0 - t / 2.0) * 2_f64.sqrt());
    near_angles(lock, [&[45.0, 45.0], &[45.0, 45.0]]);
}

#[test]
fn a_piece_may_be_thinner_and_shallower_than_its_mates() {
    let text = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n\
        [points]\nsouth-middle = [0.5, 0]\nnorth-middle = [0.5, 1]\nwest-middle = [0, 0.5]\neast-middle = [1, 0.5]\n\
        [[piece]]\nname = \"post\"\nfrom = \"south-middle\"\nto = \"north-middle\"\n\
        [[piece]]\nname = \"rail\"\nfrom = \"west-middle\"\nto = \"east-middle\"\nlap = \"post\"\n\
        thickness = 0.5\ndepth = \"3/4\"\n";
    let cell = Cell::rectangle(40.0, 40.0).unwrap();
    let pattern = read("thin", text);
    let solved = solve(&pattern, &cell, stock(3.0)).unwrap();
    let [rail, post] = solved.pieces.as_slice() else {
        panic!("{solved:?}")
    };
    near(rail.stock.thickness, 1.5);
    near(rail.stock.depth, 9.0);
    // The slot in the post is as wide as the rail, the rail's as the post.
    near(post.figures.laps[0].width, 1.5);
    near(rail.figures.laps[0].width, 3.0);
    // They meet half of the shallower one's depth behind the front: 4.5 mm. The rail, behind, loses the
    // front half of its 9 mm; the post keeps 4.5 of its 12 mm.
    near(rail.figures.laps[0].fraction, 0.5);
    near(post.figures.laps[0].fraction, 7.5 / 12.0);
}

/// Two legs of 20 mm at a right angle, 3 mm thick, a skin of 0.5 mm, by hand: each outer side is 20 + t/2 long as
/// drawn, and the V's point lies 0.5 tan 45 short of the corner.
#[test]
fn a_strip_that_is_folded_square() {
    let text = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n\
        [points]\nlow = [0.5, 0]\nmiddle = [0.5, 0.5]\nright = [1, 0.5]\n\
        [[piece]]\nname = \"post\"\nfrom = \"low\"\nto = \"middle\"\n\
        [[piece]]\nname = \"rail\"\nfrom = \"middle\"\nto = \"right\"\n\
        [[fold]]\npieces = [\"post\", \"rail\"]\n";
    let cell = Cell::rectangle(40.0, 40.0).unwrap();
    let solved = solve(&read("square", text), &cell, stock(3.0)).unwrap();
    let made = solved.all_made();
    let [strip] = made.as_slice() else {
        panic!("{made:?}")
    };
    assert_eq!(strip.name, "post");
    near(strip.figures.length, 42.0);
    near_angles(&strip.figures, [&[90.0], &[90.0]]);
    let [fold] = strip.figures.folds[..] else {
        panic!("{strip:?}")
    };
    // Up, then to the right: the V is cut from the right side.
    assert_eq!(fold.inner, lapwright::infill::PieceSide::Right);
    near(fold.at, 21.0);
    near(fold.angle.to_degrees(), 90.0);
    near(fold.depth, 2.5);
    near(fold.skin, 0.5);
    near(2.0 * fold.half_width(), 5.0);
    near(fold.outer[0], 21.0);
    near(fold.outer[1], 21.0);
    near(fold.short_of_corner(), 0.5 * (2_f64.sqrt() - 1.0));
    let v = [[18.5, -1.5], [21.0, 1.0], [23.5, -1.5]];
    for wanted in v {
        let found = strip.outline.iter();
        let near = |p: &&Point| (p.x - wanted[0]).hypot(p.y - wanted[1]) < 1e-9;
        assert!(found.filter(near).count() == 1, "{:?}", strip.outline);
    }
    assert_eq!(strip.outline.len(), 7);
}

const HELD: &str = "held-square";

/// Locks over the mitred corners of a square. In a square cell of the opening `s` the outer corner lies
/// `0.3 s - t/2` from both walls, on the diagonal; both facets stand at 45 to it, so that the points lie
/// `t/2 / tan 45` beyond the apex.
#[test]
fn a_birds_mouth_takes_a_mitred_corner() {
    let (p, t) = (46.0, 2.6);
    let s = p - t;
    let cell = solved(HELD, p, t);
    for name in ["lock", "lock-2", "lock-3", "lock-4"] {
        let lock = &piece(&cell, name).figures;
        near_angles(lock, [&[45.0, 45.0], &[135.0, 135.0]]);
        let apex = (0.3 * s - t / 2.0) * 2_f64.sqrt();
        near(lock.length, apex + t / 2.0);
        let mouth = lock.to.mouth().unwrap();
        near(mouth.angle.to_degrees(), 90.0);
        near(mouth.depth, t / 2.0);
        near(mouth.offset, 0.0);
        assert_eq!(lock.from.mouth(), None);
        let stops = stop_settings(&lock.to, 0.0, t);
        for (setting, side) in stops.iter().zip([FacetSide::Left, FacetSide::Right]) {
            // Each side lies on the fence itself, on a blunt block: beyond the apex there is wood.
            near(setting.block_angle.to_degrees(), 135.0);
            assert_eq!(setting.on_fence, side);
            near(setting.stop, lock.length);
        }
    }
    let bar = &piece(&cell, "bar").figures;
    near(bar.length, 0.4 * s + t);
    near_angles(bar, [&[45.0], &[45.0]]);
}

/// In a rectangle the axis runs from the corner to the square's outer corner at an angle of its own, and
/// the facets stand at that and at what is left of a right angle.
#[test]
fn a_birds_mouth_of_two_angles() {
    let (wide, high, t) = (50.0, 40.0, 2.6);
    let pattern = pattern(HELD);
    let cell = Cell::rectangle(wide, high).unwrap();
    let solved = solve(&pattern, &cell, stock(t)).unwrap();
    let (x, y) = (0.3 * wide - t / 2.0, 0.3 * high - t / 2.0);
    let lean = y.atan2(x).to_degrees();
    let lock = &piece(&solved, "lock").figures;
    // Seen from the corner, the bar below lies to the right, along x.
    let right = facet(lock, 1, FacetSide::Right);
    let left = facet(lock, 1, FacetSide::Left);
    near(right.jig_angle.to_degrees(), 180.0 - lean);
    near(left.jig_angle.to_degrees(), 90.0 + lean);
    near(lock.to.mouth().unwrap().angle.to_degrees(), 90.0);
    // Points t/2 off the axis, on the two sides.
    let apex = x.hypot(y);
    near(right.shoulder, apex + t / 2.0 / tangent(lean));
    near(left.shoulder, apex + t / 2.0 * tangent(lean));
    near(lock.length, right.shoulder);
    near(lock.to.mouth().unwrap().depth, t / 2.0 / tangent(lean));
    // The flatter side has the longer way and takes more wood; each moves back by x / sin a.
    assert_eq!(heavier_facet(&lock.to), Some(FacetSide::Right));
    // On both long sides of the cell locks are alike, mirrored.
    near(piece(&solved, "lock-3").figures.length, lock.length);
}

/// An axis that misses the corner leaves the apex off it; a copy by mirror names the copy of its mate.
#[test]
fn an_apex_beside_the_axis_and_a_mirrored_copy() {
    let t = 3.0;
    let text = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\n\
        a = [0.35, 0.35]\nb = [0.65, 0.35]\nc = [0.65, 0.65]\nd = [0.35, 0.65]\n\
        over = [0.35, 0.37]\nsouth-middle = [0.5, 0]\nnorth-middle = [0.5, 1]\n\
        [[piece]]\nname = \"bar\"\nfrom = \"a\"\nto = \"b\"\n\
        [[piece]]\nname = \"bar-2\"\nfrom = \"b\"\nto = \"c\"\n\
        [[piece]]\nname = \"bar-3\"\nfrom = \"c\"\nto = \"d\"\n\
        [[piece]]\nname = \"bar-4\"\nfrom = \"d\"\nto = \"a\"\n\
        [[piece]]\nname = \"key\"\nfrom = \"south-west\"\nto = \"over\"\n\
        mouth = { to = [\"bar\", \"bar-4\"] }\n\
        [[junction]]\nat = \"a\"\n[[junction]]\nat = \"b\"\n[[junction]]\nat = \"c\"\n[[junction]]\nat = \"d\"\n\
        [[mirror]]\nacross = [\"south-middle\", \"north-middle\"]\n\
        copies = { bar-4 = \"bar-5\", key = \"key-2\" }\n";
    // The east bar as the west one's copy: then the key's copy has to name that.
    let text = text.replace(
        "[[piece]]\nname = \"bar-2\"\nfrom = \"b\"\nto = \"c\"\n",
        "",
    );
    let cell = Cell::rectangle(40.0, 40.0).unwrap();
    let solved = solve(&read("aside", &text), &cell, stock(t)).unwrap();
    let key = piece(&solved, "key");
    let along = Point::default()
        .to(Point::new(0.35 * 40.0, 0.37 * 40.0))
        .unit()
        .unwrap();
    let apex = Point::default().to(Point::new(0.35 * 40.0 - t / 2.0, 0.35 * 40.0 - t / 2.0));
    let mouth = key.figures.to.mouth().unwrap();
    near(mouth.offset, along.cross(apex));
    assert!(mouth.offset < -0.3);
    near(mouth.angle.to_degrees(), 90.0);
    near(key.figures.length - mouth.depth, along.dot(apex));
    let copy = piece(&solved, "key-2").figures.to.mouth().unwrap();
    near(copy.offset, -mouth.offset);
    near(copy.depth, mouth.depth);
    let touched: Vec<Contact> = piece(&solved, "key-2")
        .figures
        .to
        .facets
        .iter()
        .map(|f| f.touches)
        .collect();
    let at = |name: &str| {
        solved
            .pieces
            .iter()
            .position(|piece| piece.name == name)
            .unwrap()
    };
    assert_eq!(
        touched,
        [Contact::SideOf(at("bar")), Contact::SideOf(at("bar-5"))]
    );
}
