use super::*;
use crate::geometry::Point;
use crate::infill::stock::PieceStock;
use crate::units::UnitSystem;
use float_cmp::approx_eq;

/// P: the named point moved by [`flush`].
fn meeting_point(joint: &Joint, bars: &[Bar]) -> Point {
    let arms = arms(joint, bars).unwrap();
    let planes = planes(joint, &arms, bars).unwrap();
    joint.at + flush(joint, &arms, &planes).unwrap()
}

/// Pieces that run out from the origin at these angles, in degrees.
fn star(degrees: &[f64], thickness: f64) -> Vec<Bar> {
    let bar = |(at, angle): (usize, &f64)| {
        let along = turned(Vector::new(1.0, 0.0), angle.to_radians());
        Bar {
            name: format!("p{at}"),
            field: format!("piece[{at}]"),
            from: Point::default(),
            to: Point::default() + along * 30.0,
            along,
            against: vec![],
            laps: vec![],
            stock: PieceStock {
                thickness,
                depth: 10.0,
                clearance: 0.0,
                skin: 0.5,
            },
            horns: [false; 2],
            mouths: [None, None],
            over: [false; 2],
        }
    };
    degrees.iter().enumerate().map(bar).collect()
}

fn joint(jig: &[(&str, f64, f64)]) -> Joint {
    let jig = jig
        .iter()
        .map(|(name, left, right)| ((*name).to_owned(), [left.to_radians(), right.to_radians()]));
    Joint {
        field: "junction[0]".into(),
        at: Point::default(),
        jig: jig.collect(),
    }
}

fn code(angles: &[f64], jig: &[(&str, f64, f64)]) -> &'static str {
    facings(&joint(jig), &star(angles, 2.8)).unwrap_err()[0].code
}

#[test]
fn hinges_at_67_5_move_the_junction_away_from_the_key() {
    // Two pieces at 135 degrees to each other, the third between them on the other side.
    let bars = star(&[0.0, 112.5, 247.5], 2.8);
    let jig = [("p1", 67.5, 67.5), ("p2", 67.5, 67.5)];
    let at = meeting_point(&joint(&jig), &bars);
    // e = t (sin 67.5 / sqrt 2 - 1/2), and P lies e / sin 67.5 along the key's axis, beyond.
    let sine = 67.5_f64.to_radians().sin();
    let e = 2.8 * (sine / 2_f64.sqrt() - 0.5);
    assert!(
        (at.x + e / sine).abs() < 1e-12 && at.y.abs() < 1e-12,
        "{at:?}"
    );
    assert!(approx_eq!(f64, e, 0.4292, epsilon = 5e-5));
}

#[test]
fn mitres_bisect() {
    let facings = facings(&joint(&[]), &star(&[0.0, 90.0], 2.0)).unwrap();
    for facing in &facings {
        let diagonal = Vector::new(0.5_f64.sqrt(), 0.5_f64.sqrt());
        assert!(facing.keeps.inward.dot(diagonal).abs() < 1e-12);
    }
    let touching = facings.iter().filter(|facing| facing.must_touch).count();
    assert_eq!((facings.len(), touching), (4, 2));
}

#[test]
fn pieces_touch_in_sectors_up_to_a_half_turn() {
    let touching = |degrees: &[f64]| -> Vec<bool> {
        let facings = facings(&joint(&[]), &star(degrees, 2.0)).unwrap();
        facings.iter().map(|facing| facing.must_touch).collect()
    };
    assert_eq!(touching(&[0.0, 120.0, 240.0]), [true; 6]);
    // In line: both sides are half turns.
    assert_eq!(touching(&[0.0, 180.0]), [true; 4]);
    // 170 degrees inside the bend, then 190 outside.
    assert_eq!(touching(&[0.0, 170.0]), [true, true, false, false]);
}

/// What is wrong, in the order it is told: codes and sentences.
fn told(jig: &[(&str, f64, f64)], bars: &[Bar]) -> Vec<(&'static str, String)> {
    let faults = facings(&joint(jig), bars).unwrap_err();
    let told = |fault: &Finding| (fault.code, fault.message.text(UnitSystem::Millimetres));
    faults.iter().map(told).collect()
}

#[test]
fn pieces_that_are_not_equally_thick_need_jig_angles() {
    let mut bars = star(&[0.0, 120.0, 240.0], 3.0);
    assert!(facings(&joint(&[]), &bars).is_ok());
    bars[1].stock.thickness = 3.5;
    let wanted = "`p2` and `p1` meet here and are not equally thick: 3.00 mm and 3.50 mm";
    assert_eq!(told(&[], &bars), [("not-equally-thick", wanted.into())]);
}

#[test]
fn a_junction_of_no_piece_or_of_one_is_told() {
    for (bars, wanted) in [
        (vec![], "no piece ends here; a junction joins two or more"),
        (
            star(&[10.0], 2.8),
            "one piece ends here; a junction joins two or more",
        ),
    ] {
        assert_eq!(told(&[], &bars), [("too-few-pieces", wanted.into())]);
    }
}

#[test]
fn what_stays_open_and_what_overlaps_is_told() {
    // The axes of the second and the third piece enclose 135 degrees.
    let said = |left: f64, right: f64| {
        let jig = [("p1", left, 50.0), ("p2", 72.5, right)];
        let [(code, text)] = told(&jig, &star(&[0.0, 112.5, 247.5], 2.8))
            .try_into()
            .unwrap();
        assert_eq!(code, "angles-do-not-close");
        text
    };
    let axes = "the angles between `p1` and `p2` do not close: their axes enclose 135 deg, ";
    assert_eq!(said(67.5, 66.5), format!("{axes}1 deg stay open"));
    assert_eq!(
        said(67.5, 69.5),
        format!("{axes}the facets overlap by 2 deg")
    );
}

#[test]
fn a_jig_angle_beyond_its_sector_is_told_by_how_much() {
    // 120 degrees beside a sector of 112.5; a half turn in one of 200.
    let beyond = [("p0", 120.0, 45.0), ("p2", 67.5, 67.5)];
    let bars = star(&[0.0, 112.5, 247.5], 2.8);
    let wanted = "the angles between `p0` and `p1` do not close: their axes enclose 112.5 deg, \
                  the facets overlap by 7.5 deg";
    assert_eq!(
        told(&beyond, &bars),
        [("angles-do-not-close", wanted.into())]
    );
    let flat = [("p0", 180.0, 80.0)];
    let found = told(&flat, &star(&[0.0, 200.0], 2.8));
    assert_eq!(found[0].0, "angles-do-not-close", "{found:?}");
}

#[test]
fn the_shortest_of_the_best_ways() {
    let row = |x: f64, y: f64, right: f64| (Vector::new(x, y), right);
    let is = |rows: &[(Vector, f64)], x: f64, y: f64| {
        let found = least_squares(rows);
        let off = (found - Vector::new(x, y)).length();
        assert!(off < 1e-9, "{found:?} for ({x}, {y})");
    };
    // Two lines that cross at (2, 1), and a third one through there.
    let two = [row(1.0, 2.0, 4.0), row(3.0, 1.0, 7.0)];
    is(&two, 2.0, 1.0);
    is(&[two[0], two[1], row(1.0, -5.0, -3.0)], 2.0, 1.0);
    // Between two that are parallel; of one line the foot of the square to it from the origin.
    let parallel = [row(1.0, 0.0, 1.0), row(1.0, 0.0, 3.0)];
    is(&[parallel[0], parallel[1], row(0.0, 1.0, 5.0)], 2.0, 5.0);
    is(&[row(3.0, 4.0, 10.0), row(6.0, 8.0, 20.0)], 1.2, 1.6);
    is(&[row(-3.0, 4.0, 10.0)], -1.2, 1.6);
    // At one degree to each other they cross; rows need not be short.
    let (sine, cosine) = 1_f64.to_radians().sin_cos();
    is(&[row(0.0, 1.0, 1.0), row(-sine, cosine, cosine)], 0.0, 1.0);
    is(&[row(0.01, 0.02, 0.04), row(0.03, 0.01, 0.07)], 2.0, 1.0);
    is(
        &[row(100.0, 200.0, 400.0), row(300.0, 100.0, 700.0)],
        2.0,
        1.0,
    );
    // None at all.
    is(&[row(0.0, 0.0, 0.0)], 0.0, 0.0);
}

#[test]
fn what_cannot_meet_is_refused() {
    let three = [0.0, 112.5, 247.5];
    let both = [("p0", 45.0, 45.0), ("p1", 67.5, 66.5), ("p2", 67.5, 67.5)];
    assert_eq!(code(&three, &both), "angles-do-not-close");
    assert_eq!(code(&three, &[("p0", 45.0, 45.0)]), "plane-not-fixed");
    let beyond = [("p0", 120.0, 45.0), ("p2", 67.5, 67.5)];
    assert_eq!(code(&three, &beyond), "angles-do-not-close");
    assert_eq!(code(&three, &[("p7", 45.0, 45.0)]), "not-at-junction");
    assert_eq!(code(&[10.0], &[]), "too-few-pieces");
    assert_eq!(code(&[10.0, 10.0], &[]), "same-direction");
    let inward = [("p0", 95.0, 95.0), ("p1", 67.5, 17.5)];
    assert_eq!(code(&three, &inward), "turns-inward");
    let skew = [("p0", 50.0, 40.0), ("p2", 72.5, 67.5), ("p1", 67.5, 62.5)];
    assert_eq!(code(&three, &skew), "corners-not-flush");
}

#[test]
fn a_scarf_of_two_pieces_in_line_stays_at_its_point() {
    let at = meeting_point(&joint(&[("p0", 30.0, 150.0)]), &star(&[0.0, 180.0], 3.0));
    assert!(same(at, Point::default()));
}
