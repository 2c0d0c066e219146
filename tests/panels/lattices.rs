//! Lattices against closed formulas: counts of regular tilings, Euler's formula, areas, and what
//! the trade knows of three-way laps.

use float_cmp::approx_eq;
use lapwright::geometry::convex::common;
use lapwright::geometry::{Point, signed_area};
use lapwright::lattice::{
    Bundling, Design, DiamondGrid, DiamondStance, Face, Grid, Joinery, LapRule, Panel, Region,
    StripId, StripSection, TriangularGrid, TriangularStance, Turn, Weave,
};
use proptest::prelude::*;
use std::collections::HashMap;

fn section() -> StripSection {
    StripSection {
        thickness: 3.0,
        depth: 12.0,
        clearance: 0.0,
        drawn: None,
        least_web: 2.0,
        wood: None,
        density: None,
        joinery: Joinery::default(),
    }
}

fn panel_of(grid: Grid, strip: StripSection) -> Panel {
    Panel::new(Design {
        title: String::new(),
        grid,
        strip,
        infill: None,
    })
    .unwrap()
}

fn triangular(region: Region, stance: TriangularStance) -> Grid {
    Grid::Triangular(TriangularGrid {
        side: 40.0,
        stance,
        region,
        overhang: 15.0,
    })
}

fn diamond(angle: f64, region: Region, stance: DiamondStance) -> Grid {
    let angle = angle.to_radians();
    Grid::Diamond(DiamondGrid {
        pitch: 40.0,
        angle,
        stance,
        region,
        overhang: 25.0,
    })
}

/// What there is inside the region.
#[derive(Debug, PartialEq)]
struct Counts {
    nodes: usize,
    edges: usize,
    strips: usize,
    whole: usize,
    cut: usize,
    /// Parts that hang together.
    parts: usize,
}

/// Positions to a ten-thousandth of a millimetre.
fn key(p: Point) -> (i64, i64) {
    #[allow(clippy::cast_possible_truncation)]
    let key = |v: f64| (v * 1e4).round() as i64;
    (key(p.x), key(p.y))
}

fn counts(panel: &Panel) -> Counts {
    let lattice = panel.lattice();
    let mut nodes: HashMap<(i64, i64), usize> = HashMap::new();
    let mut on: HashMap<StripId, Vec<usize>> = HashMap::new();
    for crossing in lattice.crossings.iter().filter(|crossing| crossing.inside) {
        let count = nodes.len();
        let node = *nodes.entry(key(crossing.at)).or_insert(count);
        for strip in [crossing.front, crossing.back] {
            on.entry(strip).or_default().push(node);
        }
    }
    let mut root: Vec<usize> = (0..nodes.len()).collect();
    fn find(root: &[usize], mut at: usize) -> usize {
        while root[at] != at {
            at = root[at];
        }
        at
    }
    let mut edges = 0;
    for met in on.values_mut() {
        met.sort_unstable();
        met.dedup();
        edges += met.len() - 1;
        for pair in met.windows(2) {
            let (a, b) = (find(&root, pair[0]), find(&root, pair[1]));
            root[a] = b;
        }
    }
    let cells = panel.design().grid.cells();
    let whole = cells.iter().filter(|cell| cell.whole).count();
    Counts {
        nodes: nodes.len(),
        edges,
        strips: lattice.strips.len(),
        whole,
        cut: cells.len() - whole,
        parts: (0..root.len()).filter(|&at| root[at] == at).count(),
    }
}

#[test]
fn a_hexagon_of_n_rings() {
    for rings in 1..=8 {
        for stance in [TriangularStance::Lying, TriangularStance::Upright] {
            let n = rings;
            let found = counts(&panel_of(
                triangular(Region::Hexagon { rings }, stance),
                section(),
            ));
            // Standard counts of a hexagonal patch of the regular triangular tiling.
            let wanted = Counts {
                nodes: 3 * n * n + 3 * n + 1,
                edges: 9 * n * n + 3 * n,
                strips: 3 * (2 * n + 1),
                whole: 6 * n * n,
                cut: 0,
                parts: 1,
            };
            assert_eq!(found, wanted, "{rings} rings {stance:?}");
        }
    }
}

#[test]
fn rectangles_of_triangles() {
    for (columns, rows) in [(1, 1), (2, 1), (3, 4), (6, 5), (7, 2)] {
        let region = Region::Cells { columns, rows };
        let lying = counts(&panel_of(
            triangular(region, TriangularStance::Lying),
            section(),
        ));
        // A row of c sides is 2 c triangles long: 2 c - 1 whole ones and a half at each end.
        assert_eq!(lying.whole, rows * (2 * columns - 1), "{columns} x {rows}");
        assert_eq!(lying.cut, 2 * rows);
        // Every other line of nodes is one shorter.
        let upper = rows.div_ceil(2);
        assert_eq!(lying.nodes, (columns + 1) * (rows + 1) - upper);
        let region = Region::Cells {
            columns: rows,
            rows: columns,
        };
        let upright = counts(&panel_of(
            triangular(region, TriangularStance::Upright),
            section(),
        ));
        assert_eq!(upright, lying, "{columns} x {rows} turned by a quarter");
    }
}

#[test]
fn rectangles_of_diamonds() {
    for degrees in [30.0, 50.0, 60.0, 90.0, 110.0] {
        for (columns, rows) in [(2, 2), (3, 4), (5, 3)] {
            let region = Region::Cells { columns, rows };
            let on_point = diamond(degrees, region, DiamondStance::OnPoint);
            let found = counts(&panel_of(on_point, section()));
            // Rhombs stand at the nodes' rows and between them; those on the edge are halves.
            assert_eq!(
                found.whole,
                2 * columns * rows - columns - rows,
                "{degrees}"
            );
            assert_eq!(found.cut, 2 * (columns + rows), "{degrees}");
        }
    }
    let region = Region::Cells {
        columns: 4,
        rows: 3,
    };
    let square = counts(&panel_of(
        diamond(90.0, region, DiamondStance::Upright),
        section(),
    ));
    let wanted = Counts {
        nodes: 20,
        edges: 31,
        strips: 9,
        whole: 12,
        cut: 0,
        parts: 1,
    };
    assert_eq!(square, wanted);
}

#[test]
fn three_ways_as_the_trade_cuts_them() {
    // Upper and lower strip are the same part turned over, only the middle one is cut on both
    // faces: common practice, no source.
    let strip = StripSection {
        joinery: Joinery {
            rule: LapRule::SameDepth,
            ..Joinery::default()
        },
        ..section()
    };
    let region = Region::Hexagon { rings: 2 };
    let lattice = panel_of(triangular(region, TriangularStance::Lying), strip)
        .lattice()
        .clone();
    let of = |family: usize| -> Vec<_> {
        lattice
            .bundles
            .iter()
            .filter(|bundle| bundle.family == family)
            .collect()
    };
    let (front, middle, back) = (of(0), of(1), of(2));
    assert_eq!((front.len(), middle.len(), back.len()), (3, 3, 3));
    for (upper, lower) in front.iter().zip(&back) {
        let turn = lower.same_part(upper);
        assert!(
            matches!(turn, Some(Turn::Over | Turn::OverEndForEnd)),
            "{turn:?}"
        );
        assert_eq!(
            (upper.face(), lower.face()),
            (Some(Face::Back), Some(Face::Front))
        );
        assert!(upper.notches.iter().all(|notch| approx_eq!(
            f64,
            notch.depth,
            8.0,
            epsilon = 1e-12
        )));
    }
    for bundle in middle {
        assert_eq!(bundle.face(), None);
        assert!(bundle.notches.iter().all(|notch| approx_eq!(
            f64,
            notch.depth,
            4.0,
            epsilon = 1e-12
        )));
        assert_eq!(bundle.clampings().len(), 2);
    }
    let order: Vec<usize> = lattice.assembly.iter().map(|step| step[0].family).collect();
    assert_eq!(order, [2, 1, 0]);
}

#[test]
fn short_strips_of_a_hexagon_ride_with_the_longest() {
    let strip = StripSection {
        joinery: Joinery {
            bundling: Bundling::Runs,
            ..Joinery::default()
        },
        ..section()
    };
    let region = Region::Hexagon { rings: 3 };
    let lattice = panel_of(triangular(region, TriangularStance::Lying), strip)
        .lattice()
        .clone();
    assert_eq!(lattice.bundles.len(), 3);
    // Strips of 6, 5, 5, 4, 4, 3, 3 sides: those that ride lose 2 (1 + 2 + 3) sides a family.
    let riding = lattice.riding();
    assert_eq!((riding.apart, riding.together), (12, 3));
    assert!(approx_eq!(
        f64,
        riding.wood,
        3.0 * 12.0 * 40.0,
        epsilon = 1e-9
    ));
    for bundle in &lattice.bundles {
        assert_eq!((bundle.strips.len(), bundle.trims.len()), (7, 6));
        assert!(approx_eq!(f64, bundle.length, 270.0, epsilon = 1e-9));
    }
}

#[test]
fn every_other_strip_alternates_the_faces_of_those_that_cross_it() {
    let strip = StripSection {
        joinery: Joinery {
            weave: Weave::Alternate,
            ..Joinery::default()
        },
        ..section()
    };
    let region = Region::Cells {
        columns: 6,
        rows: 3,
    };
    let lattice = panel_of(diamond(90.0, region, DiamondStance::Upright), strip)
        .lattice()
        .clone();
    for strip in &lattice.strips {
        let faces: Vec<Face> = strip.notches.iter().map(|notch| notch.face).collect();
        // Cross strips are the longer ones.
        let turns = faces.windows(2).filter(|pair| pair[0] != pair[1]).count();
        assert_eq!(
            turns,
            if strip.id.family == 1 {
                faces.len() - 1
            } else {
                0
            }
        );
    }
    assert_eq!(lattice.assembly.len(), 3);
}

fn regions() -> impl Strategy<Value = Region> {
    let angles = proptest::collection::vec(0.0..std::f64::consts::TAU, 4..8);
    let polygon = (angles, 120.0..250.0_f64, 0.0..50.0_f64).prop_map(|(mut angles, radius, x)| {
        // Corners on a circle make a convex polygon.
        angles.sort_by(f64::total_cmp);
        let corner = |angle: &f64| Point::new(radius * angle.cos(), radius * angle.sin());
        let corners = angles.iter().map(corner).collect();
        Region::Polygon {
            corners,
            node: Point::new(x, 0.7 * x),
        }
    });
    let rectangle = (90.0..400.0_f64, 90.0..400.0_f64)
        .prop_map(|(width, height)| Region::Rectangle { width, height });
    prop_oneof![polygon, rectangle]
}

fn grids() -> impl Strategy<Value = Grid> {
    let stances = any::<bool>();
    (any::<bool>(), stances, regions(), 30.0..150.0_f64).prop_map(
        |(is_diamond, first, region, degrees)| match (is_diamond, first) {
            (true, true) => diamond(degrees, region, DiamondStance::Upright),
            (true, false) => diamond(degrees, region, DiamondStance::OnPoint),
            (false, true) => triangular(region, TriangularStance::Lying),
            (false, false) => triangular(region, TriangularStance::Upright),
        },
    )
}

proptest! {
    #[test]
    fn diamonds_in_a_rectangle_lie_in_its_middle(
        on_point in any::<bool>(),
        degrees in 30.0..150.0_f64,
        width in 120.0..400.0_f64,
        height in 120.0..400.0_f64,
    ) {
        let stance = if on_point { DiamondStance::OnPoint } else { DiamondStance::Upright };
        let grid = diamond(degrees, Region::Rectangle { width, height }, stance);
        let design = Design { title: String::new(), grid, strip: section(), infill: None };
        let Ok(panel) = Panel::new(design) else { return Ok(()) };
        let lattice = panel.lattice();
        let middle = Point::new(25.0 + width / 2.0, 25.0 + height / 2.0);
        let turned = |p: Point| Point::new(2.0 * middle.x - p.x, 2.0 * middle.y - p.y);
        for strip in &lattice.strips {
            let (start, end) = (turned(strip.end), turned(strip.start));
            let twin = |other: &&lapwright::lattice::Strip| {
                start.to(other.start).length() < 1e-6 && end.to(other.end).length() < 1e-6
            };
            prop_assert!(lattice.strips.iter().any(|other| twin(&other)), "{:?}", strip.id);
        }
    }

    #[test]
    fn euler_and_areas(grid in grids(), alternate in any::<bool>()) {
        let weave = if alternate { Weave::Alternate } else { Weave::OneFace };
        let strip = StripSection {
            joinery: Joinery { weave, ..Joinery::default() },
            ..section()
        };
        let design = Design { title: String::new(), grid, strip, infill: None };
        let Ok(panel) = Panel::new(design) else { return Ok(()) };
        let found = counts(&panel);
        // Euler's formula for a plane graph, without its outer face: V - E + F = parts.
        prop_assert_eq!(found.nodes + found.whole, found.edges + found.parts, "{:?}", found);
        // Cells, whole and cut, cover the region once.
        let region = panel.design().grid.region();
        let area = |ring: &[Point]| signed_area(ring);
        let cells = panel.design().grid.cells();
        let covered: f64 = cells.iter().map(|cell| area(&common(&cell.corners, &region))).sum();
        prop_assert!((covered - area(&region)).abs() < 1e-6 * area(&region));
        // Every strip is laid, each step before those that it lies under.
        let lattice = panel.lattice();
        let laid: usize = lattice.assembly.iter().map(Vec::len).sum();
        prop_assert_eq!(laid, lattice.strips.len());
        let step = |id: StripId| lattice.assembly.iter().position(|step| step.contains(&id));
        for crossing in &lattice.crossings {
            prop_assert!(step(crossing.back) < step(crossing.front));
        }
        for strip in &lattice.strips {
            prop_assert_eq!(lattice.bundles.iter().filter(|b| b.strips.contains(&strip.id)).count(), 1);
        }
    }
}
