//! Patterns in the cells of panels, and in measured openings.

use super::*;
use lapwright::geometry::{Point, bounds};
use lapwright::infill::{EdgeCells, Infilling, Opening, Pattern, PieceKind, fill, measured};
use lapwright::lattice::{Design, Grid, Joinery, Panel, SquareGrid, StripSection};
use lapwright::planning::paring::settings::jig_angles;

fn panel(xs: &[f64], ys: &[f64], t: f64) -> Panel {
    let design = Design {
        title: "panel".into(),
        grid: Grid::Square(SquareGrid {
            pitches_x: xs.to_vec(),
            pitches_y: ys.to_vec(),
            overhang: 15.0,
        }),
        strip: StripSection {
            thickness: t,
            depth: 12.0,
            clearance: 0.0,
            drawn: None,
            least_web: 2.0,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        },
        infill: None,
    };
    Panel::new(design).unwrap()
}

fn fill_whole(
    panel: &Panel,
    pattern: &Pattern,
) -> Result<Infilling, Vec<lapwright::finding::Finding>> {
    fill(panel, pattern, EdgeCells::Leave)
}

fn two_by_two(name: &str) -> Infilling {
    fill_whole(&panel(&[46.0; 2], &[46.0; 2], 2.7), &pattern(name)).unwrap()
}

fn counts(filled: &Infilling) -> Vec<(&str, usize)> {
    let count = |kind| -> (&str, usize) {
        let kind: &PieceKind = kind;
        (&kind.name, kind.count)
    };
    filled.kinds.iter().map(count).collect()
}

#[test]
fn a_panel_of_two_by_two_takes_4_diagonals_16_hinges_8_locks() {
    // Computed: one diagonal, four hinges and two locks a cell.
    let filled = two_by_two("square-hemp-leaf");
    assert_eq!(
        counts(&filled),
        [("diagonal", 4), ("hinge", 16), ("lock", 8)]
    );
    for kind in &filled.kinds {
        assert_eq!(kind.cells, [0, 1, 2, 3]);
        near(kind.opening().0, 43.3);
    }
    let blocks: Vec<f64> = jig_angles(&filled.kinds)
        .iter()
        .map(|a| a.to_degrees())
        .collect();
    assert_eq!(blocks.len(), 3);
    for (found, wanted) in blocks.iter().zip([22.5, 45.0, 67.5]) {
        near(*found, wanted);
    }
    assert!(filled.warnings.is_empty());
}

#[test]
fn diagonals_meet_four_at_a_crossing() {
    let filled = two_by_two("square-hemp-leaf");
    let middle = Point::new(61.0, 61.0);
    for cell in &filled.cells {
        let diagonal = &cell.pieces[0];
        assert_eq!(diagonal.name, "diagonal");
        // A corner of the cell is half a thickness off the crossing in x and in y.
        let ends = [diagonal.axis.0, diagonal.axis.1];
        let nearest = ends
            .map(|p| p.to(middle).length())
            .into_iter()
            .fold(f64::MAX, f64::min);
        near(nearest, 1.35 * 2_f64.sqrt());
        let (low, high) = bounds(cell.outline.iter().copied()).unwrap();
        for piece in &cell.pieces {
            assert!(lapwright::geometry::signed_area(&piece.outline) > 0.0);
            for p in &piece.outline {
                assert!(p.x > low.x - 1e-9 && p.x < high.x + 1e-9);
                assert!(p.y > low.y - 1e-9 && p.y < high.y + 1e-9);
            }
        }
    }
}

#[test]
fn equal_pieces_are_counted_together_and_no_others() {
    assert_eq!(counts(&two_by_two("corner-brace")), [("brace", 16)]);
    assert_eq!(counts(&two_by_two("nested-square")), [("bar", 16)]);
    // One is the other turned over: notched from the front, from the back.
    assert_eq!(counts(&two_by_two("crossed-diagonals")), [("falling", 8)]);
    assert_eq!(counts(&two_by_two("single-diagonal")), [("diagonal", 4)]);
}

/// Two posts that a rail laps: whether they are one part, turned end for end or over.
#[test]
fn laps_tell_parts_apart() {
    let posts = |rail_ends_at: &str, post_says: &str, rail_says: &str| {
        let text = format!(
            "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n\
             [points]\na = [0.25, 0]\nb = [0.25, 1]\nc = [0.75, 0]\nd = [0.75, 1]\n\
             west = [0, 0.3]\neast = [1, 0.3]\nhigh = [1, 0.7]\n\
             [[piece]]\nname = \"p\"\nfrom = \"a\"\nto = \"b\"\nlap = {post_says}\n\
             [[piece]]\nname = \"q\"\nfrom = \"c\"\nto = \"d\"\n\
             [[piece]]\nname = \"r\"\nfrom = \"west\"\nto = \"{rail_ends_at}\"\nlap = {rail_says}\n"
        );
        let filled = fill_whole(&panel(&[50.0], &[50.0], 2.8), &read("posts", &text)).unwrap();
        let is_post = |kind: &&PieceKind| kind.name != "r";
        filled.kinds.iter().filter(is_post).count()
    };
    // Both notched from the back at one height; one from the front: the other, turned over.
    assert_eq!(posts("east", "[]", "[\"p\", \"q\"]"), 1);
    assert_eq!(posts("east", "\"r\"", "\"q\""), 1);
    // On a slant, at 0.4 and 0.6 of the height: the same end for end. With one of them notched from
    // the front, turning it over turns the slant round too.
    assert_eq!(posts("high", "[]", "[\"p\", \"q\"]"), 1);
    assert_eq!(posts("high", "\"r\"", "\"q\""), 2);
}

#[test]
fn cells_of_different_size_are_kept_apart() {
    let panel = panel(&[40.0, 50.0, 40.0], &[40.0, 50.0], 3.0);
    let filled = fill_whole(&panel, &pattern("square-hemp-leaf")).unwrap();
    // Squares: two of 37 in the lower row, one of 47 in the upper; three oblong ones stay open.
    let found: Vec<_> = filled
        .kinds
        .iter()
        .map(|kind| (kind.name.as_str(), kind.count, kind.opening().0))
        .collect();
    let wanted = [
        ("diagonal", 2, 37.0),
        ("hinge", 8, 37.0),
        ("lock", 4, 37.0),
        ("diagonal", 1, 47.0),
        ("hinge", 4, 47.0),
        ("lock", 2, 47.0),
    ];
    assert_eq!(found, wanted);
    assert_eq!(filled.kinds[0].cells, [0, 2]);
    assert_eq!(filled.kinds[3].cells, [4]);
    let open = filled
        .cells
        .iter()
        .filter(|cell| cell.pieces.is_empty())
        .count();
    assert_eq!(open, 3);
    let codes: Vec<_> = filled.warnings.iter().map(|warning| warning.code).collect();
    assert_eq!(codes, ["cells-left-open"]);
}

#[test]
fn a_figure_that_holds_in_rectangles_fills_them() {
    let uneven = panel(&[40.0, 50.0], &[40.0], 3.0);
    let filled = fill_whole(&uneven, &pattern("single-diagonal")).unwrap();
    assert!(filled.warnings.is_empty());
    assert_eq!(filled.kinds.len(), 2);
    near(filled.kinds[1].figures.length, 47_f64.hypot(37.0));
    let refused = fill_whole(&uneven, &pattern("wall-spokes")).unwrap_err();
    assert_eq!(refused[0].code, "pattern-for-triangles");
    let oblong = panel(&[50.0], &[40.0], 3.0);
    let refused = fill_whole(&oblong, &pattern("square-hemp-leaf")).unwrap_err();
    assert_eq!(refused[0].code, "no-cell-filled");
    let thick = panel(&[14.0], &[14.0], 6.0);
    let refused = fill_whole(&thick, &pattern("square-hemp-leaf")).unwrap_err();
    assert!(
        refused.iter().any(|fault| fault.code == "piece-vanishes"),
        "{refused:?}"
    );
}

#[test]
fn a_turned_pattern_lies_across_in_every_second_cell() {
    let text = "about = \"one bar\"\ncell = \"square\"\nneighbours = \"turn\"\nrectangles = true\n\
                [points]\na = [0.5, 0]\nb = [0.5, 1]\n\
                [[piece]]\nname = \"bar\"\nfrom = \"a\"\nto = \"b\"\n";
    let filled = fill_whole(&panel(&[40.0, 50.0], &[30.0], 3.0), &read("bars", text)).unwrap();
    let size = |at: usize| {
        let (low, high) = bounds(filled.cells[at].pieces[0].outline.iter().copied()).unwrap();
        (high.x - low.x, high.y - low.y)
    };
    near(size(0).0, 3.0);
    near(size(0).1, 27.0);
    near(size(1).0, 47.0);
    near(size(1).1, 3.0);
    near(filled.kinds[1].figures.length, 47.0);
}

#[test]
fn a_measured_opening_changes_every_piece() {
    let pattern = pattern("square-hemp-leaf");
    let filled = two_by_two("square-hemp-leaf");
    let opening = |width, height| Opening { width, height };
    let found = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(43.5, 43.5),
        None,
    )
    .unwrap();
    near(found.drawn.width, 43.3);
    assert!(found.warnings.is_empty());
    let pieces: Vec<_> = found
        .pieces
        .iter()
        .map(|p| (p.name.as_str(), p.count))
        .collect();
    assert_eq!(pieces, [("diagonal", 1), ("hinge", 4), ("lock", 2)]);
    near(found.pieces[0].difference(), 0.2 * 2_f64.sqrt());
    // Lock and hinge follow the inradius, r = q (2 - sqrt 2) / 2, of the half cell.
    let r = 0.2 * (2.0 - 2_f64.sqrt()) / 2.0;
    near(
        found.pieces[1].difference(),
        r / 22.5_f64.to_radians().sin(),
    );
    near(found.pieces[2].difference(), r * 2_f64.sqrt());
    let refused = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(43.5, 43.1),
        None,
    )
    .unwrap_err();
    assert_eq!(refused[0].code, "opening-not-square");
    let refused = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(0.0, 0.0),
        None,
    )
    .unwrap_err();
    assert_eq!(refused[0].code, "not-positive");
    let far = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(47.1, 47.1),
        None,
    )
    .unwrap();
    assert_eq!(far.warnings[0].code, "opening-far-off");
}
