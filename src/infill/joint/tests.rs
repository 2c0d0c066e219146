use super::*;
use crate::geometry::Point;
use crate::infill::stock::PieceStock;
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
