//! What must hold between results: every thickness, scale, mirror, symmetry.

use super::*;
use lapwright::geometry::{Point, signed_area};
use lapwright::infill::PatternDesign;
use lapwright::reading::SHIPPED_PATTERNS;
use proptest::prelude::*;

/// Distance between the centre lines of neighbouring strips for a cell of that side.
fn pitch(shape: CellShape, side: f64) -> f64 {
    match shape {
        CellShape::Square | CellShape::Rhomb => side,
        CellShape::Triangle => side * 3_f64.sqrt() / 2.0,
    }
}

#[test]
fn every_pattern_is_solved_from_1_to_25_percent_of_the_pitch() {
    for shipped in SHIPPED_PATTERNS {
        let pattern = pattern(shipped.name);
        let pitch = pitch(pattern.cell, 46.0);
        for percent in 1..=25 {
            let t = pitch * f64::from(percent) / 100.0;
            let result = solve(&pattern, &cell(pattern.cell, 46.0, t), stock(t));
            if pattern
                .greatest
                .is_some_and(|greatest| t > pitch * greatest + 1e-9)
            {
                assert!(
                    result
                        .unwrap_err()
                        .iter()
                        .any(|fault| fault.code == "too-thick")
                );
                continue;
            }
            let solved = result.unwrap_or_else(|found| panic!("{} {t}: {found:#?}", shipped.name));
            assert_eq!(solved.pieces.len(), pattern.piece_names().len());
        }
    }
}

/// The thickness that a file calls its greatest is that of its pieces' shapes to a hundredth: so thick they
/// are sound, a hundredth above no more, whoever asks. Files that say none are sound to a quarter.
#[test]
fn greatest_thicknesses_are_those_of_the_shapes() {
    for shipped in SHIPPED_PATTERNS {
        let told = pattern(shipped.name);
        let mut design = PatternDesign::clone(&told);
        design.greatest = None;
        let free = Pattern::new(design).unwrap();
        let pitch = pitch(free.cell, 46.0);
        let at = |share: f64| {
            let t = pitch * share;
            solve(&free, &cell(free.cell, 46.0, t), stock(t))
        };
        let Some(greatest) = told.greatest else {
            assert!(at(0.25).is_ok(), "{}", shipped.name);
            continue;
        };
        assert!(at(greatest).is_ok(), "{} at {greatest}", shipped.name);
        // A limit that is a whole number of hundredths is not reached: nothing would stay between laps.
        let above = greatest + 0.010_001;
        assert!(at(above).is_err(), "{} at {above}", shipped.name);
        assert!((100.0 * greatest - (100.0 * greatest).round()).abs() < 1e-9);
    }
}

/// Limits by hand, as shares of the pitch.
#[test]
fn greatest_thicknesses_by_hand() {
    // The inner side of a central triangle's bar is half the clear side, less sqrt 3 thicknesses: there is
    // none from t = side / (3 sqrt 3), two ninths of the pitch.
    // Bars in thirds of an opening w touch where t = w / 3, and w = p - t: a quarter of the pitch.
    // Three slats in quarters: t = w / 4, a fifth.
    for (name, limit) in [
        ("central-triangle", 2.0 / 9.0),
        ("well-curb", 0.25),
        ("turned-slats", 0.2),
    ] {
        let greatest = pattern(name).greatest.unwrap();
        assert!(
            greatest < limit && limit <= greatest + 0.01 + 1e-9,
            "{name}"
        );
    }
}

#[test]
fn scaling_scales_lengths_and_keeps_angles() {
    for shipped in SHIPPED_PATTERNS {
        let one = solved(shipped.name, 46.0, 2.7);
        let three = solved(shipped.name, 138.0, 8.1);
        for (one, three) in one.pieces.iter().zip(&three.pieces) {
            near(3.0 * one.figures.length, three.figures.length);
            for (one, three) in one.figures.ends().iter().zip(three.figures.ends()) {
                assert_eq!(one.facets.len(), three.facets.len());
                let offsets = (one.ridge_offset, three.ridge_offset);
                near(3.0 * offsets.0.unwrap_or(0.0), offsets.1.unwrap_or(0.0));
                for (one, three) in one.facets.iter().zip(&three.facets) {
                    assert_eq!(one.side, three.side);
                    near(one.jig_angle, three.jig_angle);
                    near(3.0 * one.shoulder, three.shoulder);
                }
            }
            for (one, three) in one.outline.iter().zip(&three.outline) {
                near(3.0 * one.x, three.x);
                near(3.0 * one.y, three.y);
            }
        }
    }
}

#[test]
fn mirroring_swaps_sides() {
    let cell = solved("square-hemp-leaf", 46.0, 2.7);
    let (one, other) = (
        &piece(&cell, "hinge").figures,
        &piece(&cell, "hinge-2").figures,
    );
    near(one.length, other.length);
    near(
        one.to.ridge_offset.unwrap(),
        -other.to.ridge_offset.unwrap(),
    );
    for end in [0, 1] {
        for (side, swapped) in [
            (FacetSide::Left, FacetSide::Right),
            (FacetSide::Right, FacetSide::Left),
        ] {
            near(
                facet(one, end, side).shoulder,
                facet(other, end, swapped).shoulder,
            );
        }
    }
}

#[test]
fn turning_the_axis_round_swaps_ends_and_sides() {
    let text = shipped_pattern("square-hemp-leaf").unwrap().text;
    let forth = "from = \"low\"\nto = \"centre\"";
    assert!(text.contains(forth));
    let back = read(
        "back",
        &text.replace(forth, "from = \"centre\"\nto = \"low\""),
    );
    let cell = cell(CellShape::Square, 46.0, 2.7);
    let back = solve(&back, &cell, stock(2.7)).unwrap();
    let forth = solved("square-hemp-leaf", 46.0, 2.7);
    let (back, forth) = (
        &piece(&back, "hinge").figures,
        &piece(&forth, "hinge").figures,
    );
    near(back.length, forth.length);
    near(
        back.from.ridge_offset.unwrap(),
        -forth.to.ridge_offset.unwrap(),
    );
    let (left, right) = (FacetSide::Left, FacetSide::Right);
    near(
        facet(back, 0, left).shoulder,
        facet(forth, 1, right).shoulder,
    );
    near(
        facet(back, 0, right).shoulder,
        facet(forth, 1, left).shoulder,
    );
}

/// Mirror images of all polygons must be polygons of the same cell.
fn check_symmetry(cell: &SolvedCell, name: &str, image: impl Fn(Point) -> Point) {
    let polygons: Vec<Vec<Point>> = cell.pieces.iter().map(SolvedPiece::polygon).collect();
    for polygon in &polygons {
        let moved: Vec<Point> = polygon.iter().map(|p| image(*p)).collect();
        let is_same = |other: &&Vec<Point>| {
            let near = |p: &Point| other.iter().any(|q| p.to(*q).length() < 1e-9);
            other.len() == moved.len() && moved.iter().all(near)
        };
        assert!(
            polygons.iter().any(|other| is_same(&other)),
            "{name}: {polygon:?}"
        );
    }
}

#[test]
fn figures_are_as_symmetric_as_they_look() {
    for t in [0.5, 2.7, 9.0] {
        let s = 46.0 - t;
        let main = |p: Point| Point::new(p.y, p.x);
        let half_turn = |p: Point| Point::new(s - p.x, s - p.y);
        let quarter = |p: Point| Point::new(s - p.y, p.x);
        let upright = |p: Point| Point::new(s - p.x, p.y);
        for name in ["square-hemp-leaf", "single-diagonal"] {
            let cell = solved(name, 46.0, t);
            check_symmetry(&cell, name, main);
            check_symmetry(&cell, name, half_turn);
        }
        for name in ["crossed-diagonals", "corner-brace", "nested-square"] {
            let cell = solved(name, 46.0, t);
            check_symmetry(&cell, name, quarter);
            check_symmetry(&cell, name, upright);
        }
        for name in ["triangular-hemp-leaf", "central-triangle", "wall-spokes"] {
            let cell = solved(name, 60.0, t);
            let (side, height) = cell.cell.size();
            check_symmetry(&cell, name, |p| Point::new(side - p.x, p.y));
            // A third of a turn about the centroid.
            let (sine, cosine) = 120_f64.to_radians().sin_cos();
            check_symmetry(&cell, name, |p| {
                let (x, y) = (p.x - side / 2.0, p.y - height / 3.0);
                let turned = (x * cosine - y * sine, x * sine + y * cosine);
                Point::new(turned.0 + side / 2.0, turned.1 + height / 3.0)
            });
        }
    }
}

#[test]
fn a_mirrored_junction_has_its_jig_angles_mirrored() {
    let text = "about = \"two scarfed bars\"\ncell = \"square\"\nneighbours = \"same\"\n\
                [points]\nleft = [0, 0.25]\nright = [1, 0.25]\nmiddle = [0.5, 0.25]\n\
                west = [0, 0.5]\neast = [1, 0.5]\n\
                [[piece]]\nname = \"a\"\nfrom = \"left\"\nto = \"middle\"\n\
                [[piece]]\nname = \"b\"\nfrom = \"middle\"\nto = \"right\"\n\
                [[junction]]\nat = \"middle\"\njig = { a = [\"30 deg\", \"150 deg\"] }\n\
                [[mirror]]\nacross = [\"west\", \"east\"]\ncopies = { a = \"c\", b = \"d\" }\n";
    let pattern = read("scarf", text);
    let cell = solve(&pattern, &cell(pattern.cell, 46.0, 2.7), stock(2.7)).unwrap();
    check_symmetry(&cell, "scarf", |p| Point::new(p.x, 43.3 - p.y));
    let end = &piece(&cell, "a").figures.to.facets[0];
    near(end.jig_angle.to_degrees(), 30.0);
    // Left jig angle 30: the facet leaves the left side first.
    assert_eq!(end.side, FacetSide::Left);
    assert_eq!(
        piece(&cell, "c").figures.to.facets[0].side,
        FacetSide::Right
    );
}

#[test]
fn outlines_are_the_polygons_moved() {
    for shipped in SHIPPED_PATTERNS {
        for piece in &solved(shipped.name, 46.0, 2.7).pieces {
            near(signed_area(&piece.outline), signed_area(&piece.polygon()));
            let least = piece
                .outline
                .iter()
                .map(|p| p.x)
                .fold(f64::INFINITY, f64::min);
            let most = piece.outline.iter().map(|p| p.x).fold(0.0, f64::max);
            near(least, 0.0);
            near(most, piece.figures.length);
            let (low, high) = lapwright::geometry::bounds(piece.outline.iter().copied()).unwrap();
            near(high.y, 1.35);
            near(low.y, -1.35);
        }
    }
}

proptest! {
    /// Patterns of chance: refused, or pieces whose figures are sound.
    #[test]
    fn no_pattern_breaks_the_solver(
        places in prop::collection::vec((0..=4_u8, 0..=4_u8), 4),
        rules in prop::collection::vec((0..4_usize, 0..4_usize, 0..5_usize), 1..4),
        joints in prop::collection::vec(0..4_usize, 0..3),
        t in 0.5..15.0_f64,
    ) {
        let mut text = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\n".to_owned();
        for (at, (x, y)) in places.iter().enumerate() {
            text += &format!("p{at} = [\"{x}/4\", \"{y}/4\"]\n");
        }
        for (at, (from, to, how)) in rules.iter().enumerate() {
            text += &format!("[[piece]]\nname = \"b{at}\"\nfrom = \"p{from}\"\nto = \"p{to}\"\n");
            text += ["", "against = \"b0\"\n", "lap = \"b0\"\n", "", ""][*how];
        }
        for at in &joints {
            text += &format!("[[junction]]\nat = \"p{at}\"\n");
        }
        let Ok(file) = read_pattern("chance", &text) else { return Ok(()) };
        let cell = Cell::rectangle(43.3, 43.3).unwrap();
        let solved = match solve(&file.pattern, &cell, stock(t)) {
            Ok(solved) => solved,
            Err(found) => { prop_assert!(!found.is_empty()); return Ok(()) }
        };
        prop_assert_eq!(solved.pieces.len(), rules.len());
        for piece in &solved.pieces {
            let area = signed_area(&piece.polygon());
            prop_assert!(area > 0.0 && area <= piece.figures.length * t + 1e-9);
            for end in piece.figures.ends() {
                prop_assert!(matches!(end.facets.len(), 1 | 2));
                for facet in &end.facets {
                    prop_assert!(facet.shoulder > 0.0 && facet.shoulder < piece.figures.length + 1e-9);
                    prop_assert!(facet.jig_angle > 0.0 && facet.jig_angle < std::f64::consts::PI);
                }
            }
        }
    }
}
