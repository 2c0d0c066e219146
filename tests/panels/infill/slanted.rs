//! Patterns in triangular and rhombic cells, and in cells that the panel's edge cuts.

use super::*;
use float_cmp::approx_eq;
use lapwright::geometry::convex::{common, depth};
use lapwright::geometry::{Point, signed_area};
use lapwright::infill::{EdgeCells, Infilling, Lie, Opening, fill, measured};
use lapwright::reading::read_job;
use proptest::prelude::*;

fn panel(grid: &str, thickness: f64) -> lapwright::lattice::Panel {
    let text = format!(
        "title = \"t\"\n[grid]\n{grid}\noverhang = \"40 mm\"\n\
         [strip]\nthickness = \"{thickness} mm\"\ndepth = \"12 mm\"\n"
    );
    read_job("job.toml", &text)
        .unwrap_or_else(|bad| panic!("{text}\n{:?}", bad.findings))
        .panel
}

fn hexagon() -> lapwright::lattice::Panel {
    let grid = "kind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 2";
    panel(grid, 3.0)
}

fn polygon(stance: &str) -> lapwright::lattice::Panel {
    let grid = format!(
        "kind = \"triangular\"\nside = \"50 mm\"\nstance = \"{stance}\"\nregion = \"polygon\"\n\
         corners = [[\"0 mm\", \"0 mm\"], [\"300 mm\", \"20 mm\"], [\"320 mm\", \"200 mm\"], \
         [\"100 mm\", \"280 mm\"]]"
    );
    panel(&grid, 3.0)
}

fn diamonds(angle: f64, stance: &str, thickness: f64) -> lapwright::lattice::Panel {
    let grid = format!(
        "kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"{angle} deg\"\nstance = \"{stance}\"\n\
         region = \"rectangle\"\nwidth = \"300 mm\"\nheight = \"260 mm\""
    );
    panel(&grid, thickness)
}

fn filled(panel: &lapwright::lattice::Panel, name: &str, edge: EdgeCells) -> Infilling {
    fill(panel, &pattern(name), edge).unwrap_or_else(|found| panic!("{name}: {found:#?}"))
}

#[test]
fn a_hexagon_of_hemp_leaves() {
    let filled = filled(&hexagon(), "triangular-hemp-leaf", EdgeCells::Leave);
    // 6 n^2 triangles of n rings, three leaves each.
    assert_eq!(filled.cells.len(), 24);
    let [leaf] = &filled.kinds[..] else {
        panic!("{:?}", filled.kinds)
    };
    assert_eq!(leaf.count, 72);
    near(leaf.opening().0, 60.0 - 3.0 * 3_f64.sqrt());
    // Clear inradius r = a sqrt 3 / 6 - t / 2; a leaf is 2 r long.
    assert!(approx_eq!(
        f64,
        leaf.figures.length,
        31.6410,
        epsilon = 5e-5
    ));
    for facet in &leaf.figures.to.facets {
        assert!(approx_eq!(f64, facet.shoulder, 30.7750, epsilon = 5e-5));
    }
    near_angles(&leaf.figures, [&[30.0, 30.0], &[60.0, 60.0]]);
}

#[test]
fn pieces_lie_in_their_openings_and_these_half_a_thickness_off_the_lines() {
    for (panel, name) in [
        (hexagon(), "central-triangle"),
        (polygon("lying"), "triangular-hemp-leaf"),
        (polygon("upright"), "wall-spokes"),
        (diamonds(60.0, "on-point", 3.0), "diamond-hemp-leaf"),
        (diamonds(110.0, "upright", 3.0), "diamond-hemp-leaf"),
        (diamonds(50.0, "upright", 3.0), "single-diagonal"),
        (diamonds(50.0, "on-point", 3.0), "crossed-diagonals"),
    ] {
        let filled = filled(&panel, name, EdgeCells::Leave);
        for (cell, grid) in filled.cells.iter().zip(panel.design().grid.cells()) {
            assert_eq!((cell.column, cell.row), (grid.column, grid.row));
            for corner in &cell.outline {
                near(depth(&grid.corners, *corner), 1.5);
            }
            assert_eq!(cell.pieces.is_empty(), !grid.whole, "{name}");
            for piece in &cell.pieces {
                assert!(signed_area(&piece.outline) > 0.0);
                let inside = |p: &Point| depth(&cell.outline, *p) > -1e-9;
                assert!(piece.outline.iter().all(inside), "{name}");
            }
        }
    }
}

/// Figure of one bar that has neither a mirror nor a turn.
fn one_bar(neighbours: &str, cell: &str, from: &str) -> Pattern {
    let text = format!(
        "about = \"one bar\"\ncell = \"{cell}\"\nneighbours = \"{neighbours}\"\n\
         [points]\nmiddle = [0.75, 0.5]\n\
         [[piece]]\nname = \"bar\"\nfrom = \"{from}\"\nto = \"middle\"\n"
    );
    read("bar", &text)
}

/// For each node of the grid: whole cells around it, and ends of axes a little off it.
fn ends_at_nodes(
    panel: &lapwright::lattice::Panel,
    ends: &[Point],
    reach: f64,
) -> Vec<(usize, usize)> {
    let cells = panel.design().grid.cells();
    let whole = cells.iter().filter(|cell| cell.whole);
    let corners: Vec<Point> = whole.flat_map(|cell| cell.corners.clone()).collect();
    let mut nodes: Vec<Point> = Vec::new();
    for corner in &corners {
        if nodes.iter().all(|node| node.to(*corner).length() > 1.0) {
            nodes.push(*corner);
        }
    }
    let near = |points: &[Point], node: &Point, reach: f64| {
        let near = points.iter().filter(|p| p.to(*node).length() < reach);
        near.count()
    };
    nodes
        .iter()
        .map(|node| (near(&corners, node, 1.0), near(ends, node, reach)))
        .collect()
}

fn starts(filled: &Infilling) -> Vec<Point> {
    let pieces = filled.cells.iter().flat_map(|cell| &cell.pieces);
    pieces.map(|piece| piece.axis.0).collect()
}

#[test]
fn mirrored_triangles_have_like_corners_at_a_node() {
    let panel = hexagon();
    let bars = |neighbours: &str| {
        let bar = one_bar(neighbours, "triangle", "bottom-left");
        fill(&panel, &bar, EdgeCells::Leave).unwrap()
    };
    let mirrored = bars("mirror");
    let nodes = ends_at_nodes(&panel, &starts(&mirrored), 3.5);
    assert_eq!(nodes.len(), 19);
    // Bars start at one kind of node: in all cells around such a node, or in none.
    assert!(
        nodes
            .iter()
            .all(|(cells, bars)| bars == cells || *bars == 0)
    );
    assert!(nodes.contains(&(6, 6)) && nodes.contains(&(6, 0)));
    // A bar and its mirror image are one part, turned over.
    assert_eq!(mirrored.kinds.len(), 1);
    let same = bars("same");
    assert!(same.cells.iter().all(|cell| cell.lie == Lie::default()));
    assert!(!ends_at_nodes(&panel, &starts(&same), 3.5).contains(&(6, 6)));
}

#[test]
fn diagonals_of_rhombs_meet_four_at_a_node() {
    let panel = diamonds(60.0, "upright", 3.0);
    let filled = filled(&panel, "single-diagonal", EdgeCells::Leave);
    let side = 37.0 / 60_f64.to_radians().sin();
    let mut lengths: Vec<f64> = filled.kinds.iter().map(|k| k.figures.length).collect();
    lengths.sort_by(f64::total_cmp);
    assert_eq!(lengths.len(), 2);
    near(lengths[0], side);
    near(lengths[1], side * 3_f64.sqrt());
    let pieces = filled.cells.iter().flat_map(|cell| &cell.pieces);
    let ends: Vec<Point> = pieces
        .flat_map(|piece| [piece.axis.0, piece.axis.1])
        .collect();
    let nodes = ends_at_nodes(&panel, &ends, 3.5);
    assert!(
        nodes
            .iter()
            .all(|(cells, ends)| ends == cells || *ends == 0)
    );
    assert!(nodes.contains(&(4, 4)) && nodes.contains(&(4, 0)));
}

#[test]
fn leaves_of_a_rhomb_of_60_degrees_are_those_of_two_triangles() {
    for stance in ["upright", "on-point"] {
        for angle in [60.0, 120.0] {
            let panel = diamonds(angle, stance, 3.0);
            let filled = filled(&panel, "diamond-hemp-leaf", EdgeCells::Leave);
            let [diagonal, leaf] = &filled.kinds[..] else {
                panic!("{:#?}", filled.kinds)
            };
            assert_eq!(leaf.count, 6 * diagonal.count);
            // Clear side 37 / sin 60; the half cell's inradius is a third of its height, 37 less
            // half a thickness.
            near(diagonal.figures.length, 37.0 / 0.75_f64.sqrt());
            near(leaf.figures.length, 2.0 * (37.0 - 1.5) / 3.0);
            near_angles(&leaf.figures, [&[30.0, 30.0], &[60.0, 60.0]]);
            near_angles(&diagonal.figures, [&[60.0, 60.0], &[60.0, 60.0]]);
        }
    }
}

/// Bisectors of the half cell meet in its incentre: each leaf is as long as from its corner to
/// there, r / sin of half the corner's angle (standard plane geometry).
#[test]
fn leaves_of_any_rhomb_reach_the_incentre() {
    for degrees in [30.0_f64, 50.0, 60.0, 75.0, 89.0] {
        let angle = degrees.to_radians();
        let cell = Cell::rhomb_of_grid(50.0, angle, 3.0).unwrap();
        let solved = solve(&pattern("diamond-hemp-leaf"), &cell, stock(3.0))
            .unwrap_or_else(|found| panic!("{degrees}: {found:#?}"));
        let side = 47.0 / angle.sin();
        // From the sharp corner to the diagonal's side, and the half cell's own sides.
        let height = side * (angle / 2.0).cos() - 1.5;
        let (leg, base) = (
            height / (angle / 2.0).cos(),
            2.0 * height * (angle / 2.0).tan(),
        );
        let r = height * base / (2.0 * leg + base);
        let blunt = (std::f64::consts::PI - angle) / 2.0;
        near(
            piece(&solved, "leaf").figures.length,
            r / (angle / 2.0).sin(),
        );
        near(
            piece(&solved, "side-leaf").figures.length,
            r / (blunt / 2.0).sin(),
        );
        near(
            piece(&solved, "diagonal").figures.length,
            2.0 * side * (angle / 2.0).sin(),
        );
    }
}

#[test]
fn patterns_for_other_cells_are_refused() {
    let code = |panel: &lapwright::lattice::Panel, name: &str| {
        fill(panel, &pattern(name), EdgeCells::Leave).unwrap_err()[0].code
    };
    assert_eq!(code(&hexagon(), "single-diagonal"), "pattern-for-squares");
    let diamonds = diamonds(60.0, "upright", 3.0);
    assert_eq!(code(&diamonds, "wall-spokes"), "pattern-for-triangles");
    assert_eq!(code(&diamonds, "square-hemp-leaf"), "no-cell-filled");
}

#[test]
fn measured_triangles_and_rhombs_take_one_figure() {
    let (panel, pattern) = (hexagon(), pattern("triangular-hemp-leaf"));
    let filled = fill(&panel, &pattern, EdgeCells::Leave).unwrap();
    let opening = |width, height| Opening { width, height };
    let found = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(55.0, 55.0),
        None,
    )
    .unwrap();
    assert_eq!((found.pieces.len(), found.pieces[0].count), (1, 3));
    near(found.pieces[0].built.length, 55.0 / 3_f64.sqrt());
    near(found.opening.height, 55.0 * 0.75_f64.sqrt());
    assert!(found.warnings.is_empty());
    let refused = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(55.0, 50.0),
        None,
    )
    .unwrap_err();
    assert_eq!(refused[0].code, "opening-not-square");
    let pattern = super::pattern("diamond-hemp-leaf");
    let filled = fill(&diamonds(120.0, "upright", 3.0), &pattern, EdgeCells::Leave).unwrap();
    let found = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(43.0, 43.0),
        None,
    )
    .unwrap();
    near(found.pieces[0].built.length, 43.0);
    let pattern = super::pattern("single-diagonal");
    let filled = fill(&diamonds(60.0, "upright", 3.0), &pattern, EdgeCells::Leave).unwrap();
    let found = measured(
        &filled,
        std::slice::from_ref(&pattern),
        opening(43.0, 43.0),
        None,
    )
    .unwrap();
    assert_eq!(found.pieces.len(), 2);
    assert_eq!(found.warnings[0].code, "counts-of-two-cells");
}

fn area(filled: &Infilling) -> f64 {
    let pieces = filled.cells.iter().flat_map(|cell| &cell.pieces);
    pieces.map(|piece| signed_area(&piece.outline)).sum()
}

#[test]
fn the_edge_trims_what_it_cuts() {
    for (panel, name) in [
        (polygon("lying"), "triangular-hemp-leaf"),
        (polygon("upright"), "central-triangle"),
        (diamonds(60.0, "on-point", 3.0), "diamond-hemp-leaf"),
        (diamonds(70.0, "upright", 3.0), "single-diagonal"),
    ] {
        let whole = filled(&panel, name, EdgeCells::Leave);
        let all = filled(&panel, name, EdgeCells::Fill);
        let region = panel.design().grid.region();
        assert!(area(&all) > area(&whole));
        // Whole pieces come first, and are the same.
        for (one, other) in whole.kinds.iter().zip(&all.kinds) {
            assert_eq!(one.outline, other.outline);
            assert!(other.trims.is_empty() && other.count >= one.count);
        }
        let trimmed = all.cells.iter().flat_map(|cell| &cell.pieces);
        let trimmed: Vec<_> = trimmed.filter(|piece| all.is_trimmed(piece)).collect();
        assert!(trimmed.len() > 3, "{name}");
        for piece in trimmed {
            let kind = &all.kinds[piece.kind];
            for p in &piece.outline {
                assert!(depth(&region, *p) > -1e-6);
            }
            near(signed_area(&piece.outline), signed_area(&kind.outline));
            let long = kind.outline.iter().map(|p| p.x).fold(0.0, f64::max);
            let low = kind.outline.iter().map(|p| p.x).fold(f64::MAX, f64::min);
            assert!(long - low >= 6.0 - 1e-9);
            // Made of a whole piece that is as long over points.
            let before = &all.kinds[kind.whole.unwrap()];
            near(before.figures.length, kind.figures.length);
            let rest = common(&before.outline, &kind.outline);
            near(signed_area(&rest), signed_area(&kind.outline));
        }
    }
}

/// Where a trimmed piece is said to be cut, its outline has an edge on that line.
#[test]
fn the_cut_is_where_the_outline_ends() {
    let all = filled(&polygon("upright"), "triangular-hemp-leaf", EdgeCells::Fill);
    let mut cuts = 0;
    for kind in &all.kinds {
        for trim in &kind.trims {
            cuts += 1;
            let (sine, cosine) = trim.angle.sin_cos();
            let off = |p: &Point| (p.x - trim.at) * sine - p.y * cosine;
            let on_line = kind.outline.iter().filter(|p| off(p).abs() < 1e-9);
            assert_eq!(on_line.count(), 2);
            let kept = |p: &Point| {
                if trim.keeps_first {
                    off(p) < 1e-9
                } else {
                    off(p) > -1e-9
                }
            };
            assert!(kind.outline.iter().all(kept));
        }
    }
    assert!(cuts > 20);
}

#[test]
fn a_lap_whose_mate_is_gone_is_not_cut() {
    let all = filled(
        &diamonds(60.0, "on-point", 3.0),
        "crossed-diagonals",
        EdgeCells::Fill,
    );
    for cell in &all.cells {
        for piece in &cell.pieces {
            let laps = piece.laps.iter().map(|lap| lap.mate.as_str());
            let others = cell.pieces.iter().map(|other| other.name.as_str());
            let others: Vec<&str> = others.filter(|name| *name != piece.name).collect();
            assert_eq!(laps.collect::<Vec<_>>(), others);
        }
    }
}

proptest! {
    /// Every figure for rhombs holds from sharp to blunt, thin to thick.
    #[test]
    fn rhombs_of_any_angle(degrees in 30.0..150.0_f64, part in 0.01..0.1_f64) {
        let t = 40.0 * part;
        let cell = Cell::rhomb_of_grid(40.0, degrees.to_radians(), t).unwrap();
        for name in ["single-diagonal", "crossed-diagonals", "nested-square"] {
            let solved = solve(&pattern(name), &cell, stock(t));
            prop_assert!(solved.is_ok(), "{} {:?}", name, solved);
        }
        if degrees < 90.0 {
            prop_assert!(solve(&pattern("diamond-hemp-leaf"), &cell, stock(t)).is_ok());
        }
    }
}
