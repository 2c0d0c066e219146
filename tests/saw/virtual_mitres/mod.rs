//! Mitres of pieces played on a table saw that knows nothing of the program: once from the text that is
//! printed, once from the figures. The saw, the reader of the sheet and the pieces that ought to come off
//! are `tests/reference/play_mitres.py` and what it imports; here is what is asked of them.

mod cases;
mod wrong;

use crate::support::cores::on_all_cores;
use crate::support::play_mitres;
use cases::{Case, Grid, SLED, SLEDS, Sled};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Shipped patterns in grids that fit them: those that came first, and of the others some of each sort of
/// ends. All others are compared with their constructions in `panels/reference_pieces/constructed`, and
/// are not played here: their facets are made like those of these.
fn patterns() -> Vec<(&'static str, Grid, f64)> {
    let rectangles = || Grid::Square(vec![33.6; 3], vec![46.032; 2]);
    vec![
        ("square-hemp-leaf", Grid::even(37.3, 3, 3), 3.4),
        ("triangular-hemp-leaf", Grid::Triangular(58.0), 2.9),
        ("diamond-hemp-leaf", Grid::Diamond(41.0, 60.0), 2.4),
        ("diamond-hemp-leaf", Grid::Diamond(47.7, 67.3), 2.4),
        ("crossed-diagonals", rectangles(), 2.2),
        ("crossed-diagonals", Grid::Diamond(41.0, 67.0), 2.7),
        ("single-diagonal", rectangles(), 2.6),
        ("single-diagonal", Grid::Diamond(41.0, 71.0), 2.4),
        ("nested-square", Grid::even(33.0, 3, 2), 1.9),
        ("nested-square", Grid::Diamond(44.3, 64.0), 2.4),
        ("corner-brace", Grid::even(52.4, 2, 3), 3.1),
        ("central-triangle", Grid::Triangular(61.3), 2.9),
        ("wall-spokes", Grid::Triangular(58.0), 2.9),
        // Ends of 90 degrees, and 45 on both sides; several laps in a piece, also from both faces.
        ("well-curb-locks", Grid::even(61.7, 2, 2), 2.8),
        ("braced-diagonals", Grid::even(63.9, 2, 2), 2.4),
        // Mitres of 45 on one side, 67.5 on the other, and of 67.5 on both.
        ("octagons", Grid::even(71.3, 2, 2), 2.9),
        // 22.5 on both sides at one end, one facet of 67.5 at the other.
        ("four-point-star", Grid::even(48.2, 2, 2), 2.6),
        // 15 and 45 at one end, one facet of 60 at the other.
        ("triangle-whirl", Grid::Triangular(66.0), 2.7),
        // Pieces of three sorts, 30, 60 and 75.
        ("nested-rhomb", Grid::Diamond(58.4, 60.0), 2.6),
    ]
}

/// What the saw says of each case that the sled takes on.
fn played(cases: &[Case]) -> Vec<Value> {
    let some: Vec<&[Case]> = cases.chunks(12).collect();
    let found = on_all_cores(&some, |some| {
        let told: Vec<Value> = some.iter().filter_map(Case::told).collect();
        let mut found = play_mitres(&json!({ "cases": told }));
        let Value::Array(found) = found["cases"].take() else {
            panic!("no answer for each case")
        };
        assert_eq!(found.len(), told.len());
        found
    });
    found.into_iter().flatten().collect()
}

fn all_right(found: &[Value]) {
    let wrong: Vec<String> = (found.iter())
        .filter(|case| case["faults"] != json!([]))
        .map(|case| format!("{}: {:#}", case["name"], case["faults"]))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Which ways to bring sticks to an angle, and which stops, were met.
fn met(found: &[Value]) -> BTreeSet<&str> {
    let reaches = found
        .iter()
        .flat_map(|case| case["reaches"].as_array().unwrap());
    reaches.map(|reach| reach.as_str().unwrap()).collect()
}

fn pieces(found: &[Value]) -> u64 {
    found
        .iter()
        .map(|case| case["pieces"].as_u64().unwrap())
        .sum()
}

fn every_pattern(sleds: &[Sled], way: impl Fn(Case) -> Case) -> Vec<Case> {
    let patterns = patterns();
    let cases = patterns.iter().flat_map(|(pattern, grid, thickness)| {
        let case = |sled: &Sled| Case::new(pattern, grid.clone(), *thickness, *sled);
        sleds.iter().map(case).collect::<Vec<Case>>()
    });
    cases.map(way).collect()
}

#[test]
fn every_pattern_comes_off_every_sled_in_rows() {
    let found = played(&every_pattern(&SLEDS, |case| case));
    all_right(&found);
    assert!(found.len() > 65 && pieces(&found) > 1000);
    let all = ["block", "board", "cross_board", "fence", "wedge"];
    assert_eq!(met(&found), BTreeSet::from(all));
}

#[test]
fn every_pattern_that_has_two_alike_facets_comes_off_sticks_ends() {
    let found = played(&every_pattern(&SLEDS[1..5], Case::on_ends));
    all_right(&found);
    assert!(found.len() > 30 && pieces(&found) > 500);
    assert!(met(&found).is_superset(&BTreeSet::from(["fence", "wedge", "cross_board"])));
}

/// Ugly figures; thick pieces leave least room for a kerf in a joint, kerfs are from 2.2 to 3.2.
#[test]
fn pitches_thicknesses_and_kerfs_of_all_sorts() {
    let mut cases = Vec::new();
    for (at, pitch) in [31.37, 37.3, 41.013, 45.0, 52.469, 61.9]
        .into_iter()
        .enumerate()
    {
        for (of, thickness) in [1.7, 2.6, 3.175, 4.2].into_iter().enumerate() {
            let kerf = [2.2, 2.37, 2.6, 3.2][(at + of) % 4];
            let sled = Sled {
                kerf,
                ..SLEDS[(at + 2 * of) % SLEDS.len()]
            };
            let depth = [9.0, 11.3, 12.7][at % 3];
            let made = |pattern| {
                let grid = Grid::Square(vec![pitch; 2], vec![pitch; 3]);
                let case = Case::new(pattern, grid, thickness, sled);
                Case { depth, ..case }
            };
            cases.push(made("square-hemp-leaf"));
            cases.push(if (at + of) % 2 == 0 {
                made("crossed-diagonals")
            } else {
                made("square-hemp-leaf").on_ends()
            });
        }
    }
    let found = played(&cases);
    all_right(&found);
    assert!(found.len() > 42);
}

/// More sticks than lie side by side, and more settings than anybody hopes for.
#[test]
fn large_panels_take_several_blocks_and_many_settings() {
    let leaf = |sled: Sled| Case::new("square-hemp-leaf", Grid::even(38.0, 8, 8), 2.6, sled);
    let sizes = Grid::Square(vec![31.0, 43.7, 60.1], vec![37.2, 52.9]);
    let longer = Sled {
        longest_stick: 700.0,
        ..SLED
    };
    let cases = [
        leaf(SLED),
        leaf(SLEDS[2]),
        leaf(SLED).on_ends(),
        Case::new("crossed-diagonals", sizes, 2.6, longer),
    ];
    let found = played(&cases);
    assert_eq!(found.len(), cases.len());
    all_right(&found);
    assert_eq!(found[3]["settings"], 18);
}

/// A lap has to be cut on the long stick: where the fence does not come to its angle, the piece is not
/// begun at the saw, and that is told.
#[test]
fn pieces_whose_half_laps_are_out_of_reach_stay_for_the_guides() {
    // Clear 23.5 by 50.3 mm: facets of 25.0 and 65.0 degrees, 25 from the blade or from square; laps of
    // 50.1, 39.9 from square. Clear 32.7 by 50.3 mm: laps of 66.1.
    let grid = Grid::Square(vec![26.1, 35.3], vec![52.9; 2]);
    let sled = Sled {
        swing: 35.0,
        ..SLEDS[5]
    };
    let case = Case::new("crossed-diagonals", grid, 2.6, sled);
    let told = case.told().unwrap();
    let plan = &told["json"]["mitres"];
    let left = plan["left"].as_array().unwrap();
    assert_eq!(left.len(), 1);
    assert_eq!(left[0]["why"]["because"], "lap_not_reached");
    let angle = 2.0 * (23.5_f64 / 50.3).atan().to_degrees();
    let found = left[0]["why"]["jig_angle_deg"].as_f64().unwrap();
    assert!((found - angle).abs() < 1e-6, "{found} {angle}");
    let sticks = plan["sticks"].as_array().unwrap();
    assert!(sticks.len() == 1 && sticks[0]["piece"] != left[0]["piece"]);
    let text = told["text"].as_str().unwrap();
    let words: Vec<&str> = text.split_whitespace().collect();
    assert!(
        words
            .join(" ")
            .contains("for its half lap sticks would lie 50.084 deg to the blade")
    );
    all_right(&played(&[case]));
}

#[test]
fn pieces_follow_the_stock_as_measured() {
    let measured = |pattern, ends: bool| {
        let case = Case::new(pattern, Grid::even(45.0, 3, 3), 2.6, SLEDS[2]);
        let case = Case {
            measured: Some([2.68, 9.1]),
            ..case
        };
        if ends { case.on_ends() } else { case }
    };
    let cases = [
        measured("square-hemp-leaf", false),
        measured("crossed-diagonals", false),
        measured("square-hemp-leaf", true),
    ];
    let found = played(&cases);
    assert_eq!(found.len(), cases.len());
    all_right(&found);
}

#[test]
fn cells_of_several_sizes_are_several_pieces() {
    let grid = || Grid::Square(vec![31.0, 43.7], vec![37.2, 52.9]);
    let cases: Vec<Case> = (SLEDS.iter())
        .flat_map(|sled| {
            ["crossed-diagonals", "single-diagonal"]
                .map(|pattern| Case::new(pattern, grid(), 2.6, *sled))
        })
        .collect();
    let found = played(&cases);
    all_right(&found);
    assert!(found.len() > 8);
}

/// Lengths L, and where a facet drawn on meets the fence from the other point: on the side that it leaves
/// (S) and on the other one (S'). Worked out beside this program as polygons.
#[test]
fn lengths_and_stops_are_those_worked_out_before() {
    let case = |pattern: &'static str, grid: Grid, thickness: f64, table: Value| Case {
        known: json!({ "table": table }),
        ..Case::new(pattern, grid, thickness, SLED)
    };
    let cases = [
        case(
            "square-hemp-leaf",
            Grid::even(37.3, 2, 2),
            3.4,
            json!({
                "diagonal": [47.9418, [[45, 46.2418, 49.6418]]],
                "lock": [13.6101, [[45, 11.9101, 15.3101]]],
                "hinge": [23.8900, [[22.5, 19.7858, 27.9942], [67.5, 23.4017, 24.8100], [67.5, 22.9700, 24.3783]]],
            }),
        ),
        case(
            "square-hemp-leaf",
            Grid::even(61.9, 2, 2),
            2.1,
            json!({
                "diagonal": [84.5700, [[45, 83.5200, 85.6200]]],
                "lock": [24.5033, [[45, 23.4533, 25.5533]]],
                "hinge": [44.4991, [[22.5, 41.9642, 47.0340], [67.5, 44.1975, 45.0674], [67.5, 43.9308, 44.8007]]],
            }),
        ),
        case(
            "triangular-hemp-leaf",
            Grid::Triangular(58.0),
            2.9,
            json!({
                "leaf": [30.5863, [[30, 28.0748, 33.0978], [60, 29.7492, 31.4235]]],
            }),
        ),
        case(
            "diamond-hemp-leaf",
            Grid::Diamond(41.0, 60.0),
            2.4,
            json!({
                "diagonal": [44.5714, [[60, 43.8786, 45.2643]]],
            }),
        ),
        case(
            "crossed-diagonals",
            Grid::Square(vec![33.6; 2], vec![46.032; 2]),
            2.2,
            json!({
                "falling": [53.9185, [[35.6167, 52.3830, 55.4540], [54.3833, 53.1305, 54.7065]]],
            }),
        ),
        case(
            "nested-square",
            Grid::even(33.0, 2, 2),
            1.9,
            json!({
                "bar": [21.9910, [[45, 21.0410, 22.9410]]],
            }),
        ),
        case(
            "corner-brace",
            Grid::even(52.4, 2, 2),
            3.1,
            json!({
                "brace": [20.5302, [[45, 17.4302, 20.5302]]],
            }),
        ),
    ];
    let found = played(&cases);
    assert_eq!(found.len(), cases.len());
    all_right(&found);
}

fn in_steps(first: f64, step: f64, count: u8) -> Vec<f64> {
    (0..count).map(|at| first + step * f64::from(at)).collect()
}

/// Four by four cells, worked out beside this program: all stops of a panel.
#[test]
fn the_stops_of_a_panel_are_those_worked_out_before() {
    let figures = json!({
        "blade over the base": 8.6, "blade over the table": 20.6, "half chord": 45.94,
        "travel of the sled": 108.79,
    });
    let diagonals = |first: f64| in_steps(first, 63.0739, 5);
    let keys = |first: f64| in_steps(first, 20.343_77, 17);
    let sled = Sled {
        swing: 45.0,
        ..SLED
    };
    let panel = |grip: f64| {
        let sled = Sled { grip, ..sled };
        Case::new("square-hemp-leaf", Grid::even(45.0, 4, 4), 2.6, sled)
    };
    let cases = [
        Case {
            known: json!({
                "stops": {
                    "1": { "1": diagonals(53.7), "3": keys(53.7) },
                    "2": { "1": diagonals(56.3), "3": keys(56.3) },
                },
                "figures": { "1": figures, "2": figures },
                "table": {
                    "diagonal": [59.9627, []], "hinge": [30.8794, []], "lock": [17.2325, []],
                },
            }),
            ..panel(55.0)
        },
        Case {
            known: json!({ "stops": {
                "3": { "2": in_steps(72.1758, 69.14, 5) },
                "4": { "2": in_steps(73.5829, 69.14, 5) },
            }}),
            ..panel(40.0)
        },
    ];
    let found = played(&cases);
    assert_eq!(found.len(), 2);
    all_right(&found);
}

/// Nothing comes to 22.5 degrees: the sharp ends of 64 hinges, two facets each, stay for the guides.
#[test]
fn what_a_fence_of_45_degrees_makes_of_a_hemp_leaf() {
    let sled = Sled {
        swing: 45.0,
        ..SLED
    };
    let case = Case::new("square-hemp-leaf", Grid::even(45.0, 4, 4), 2.6, sled);
    let told = case.told().unwrap();
    let plan = &told["json"]["mitres"];
    assert_eq!(
        (&plan["facets_cut"], &plan["facets_left"]),
        (&json!(320), &json!(128))
    );
    let hinges = &plan["sticks"][1];
    // 30.8794 over points, 2 mm left at the rough end, half of what a hand saw takes.
    let from_point = hinges["rough_end_from_point_mm"].as_f64().unwrap();
    assert!((from_point - 33.3794).abs() < 1e-4, "{from_point}");
    assert_eq!(hinges["between_rough_ends_mm"], 5.0);
    all_right(&played(&[case]));
}
