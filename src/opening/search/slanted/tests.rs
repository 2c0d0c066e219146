//! Closed forms against nodes and lines laid out one by one.

use super::candidate::{Filled, SlantedCandidate, SlantedRuling};
use super::looking::slanted_candidates;
use super::ranking::slanted_worth_showing;
use super::wish::{Slanted, SlantedBayWish};
use crate::lattice::{DiamondStance, TriangularStance};
use crate::opening::search::bay_wish::BayWish;
use crate::opening::size::Size;
use crate::opening::wish::NodePlace;
use proptest::prelude::*;

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 5.1e-5, "{found} for {wanted}");
}

fn wish(grid: Slanted, pitch: Option<f64>) -> SlantedBayWish {
    SlantedBayWish {
        grid,
        bays: BayWish {
            pitch,
            columns: None,
            rows: None,
            least_margin: 0.0,
            most_margin: None,
            least_pitch: 5.0,
            slots: Vec::new(),
            frame_closes: None,
        },
        least_margin: Some(0.0),
        thickness: 4.0,
    }
}

fn counted(mut wish: SlantedBayWish, counts: [Option<usize>; 2]) -> SlantedBayWish {
    let [columns, rows] = counts;
    wish.bays.columns = columns;
    wish.bays.rows = rows;
    wish
}

const ON_POINT: Slanted = Slanted::Diamond {
    stance: DiamondStance::OnPoint,
    angle: None,
};
const LYING: Slanted = Slanted::Triangular {
    stance: TriangularStance::Lying,
};

fn size(width: f64, height: f64) -> Size {
    Size { width, height }
}

#[test]
fn rhombs_that_fill_both() {
    let all = slanted_candidates(
        size(420.0, 300.0),
        &counted(wish(ON_POINT, None), [Some(6), Some(6)]),
    );
    let [one] = all.as_slice() else {
        panic!("{all:?}");
    };
    assert_eq!(one.ruling, SlantedRuling::FillsBoth);
    near(one.pitch, 40.6867);
    near(one.cell[0], 70.0);
    near(one.cell[1], 50.0);
    // The corners are nodes of the one with a node in the middle, so there is no other.
    assert_eq!(one.node, NodePlace::Middle);
    let other = slanted_candidates(
        size(420.0, 300.0),
        &counted(wish(ON_POINT, None), [Some(6), Some(5)]),
    );
    assert_eq!(other.len(), 2, "{other:?}");
}

#[test]
fn rhombs_of_an_angle_fill_the_width() {
    let grid = Slanted::Diamond {
        stance: DiamondStance::OnPoint,
        angle: Some(60.0_f64.to_radians()),
    };
    let all = slanted_candidates(
        size(380.0, 520.0),
        &counted(wish(grid, None), [Some(7), None]),
    );
    let fills = |one: &&SlantedCandidate| one.ruling == SlantedRuling::Fills(Filled::Width);
    let one = all.iter().find(fills).unwrap();
    near(one.pitch, 47.0128);
    near(one.left_over[0], 0.0);
    near(one.left_over[1], 24.9360);
    assert_eq!((one.columns, one.rows), (7, 5));
}

#[test]
fn triangles_fill_the_width_or_the_height() {
    let inside = size(450.0, 330.0);
    let all = slanted_candidates(inside, &counted(wish(LYING, None), [Some(10), None]));
    let one = all.first().unwrap();
    near(one.side(), 45.0);
    near(one.pitch, 38.9711);
    near(one.left_over[1], 9.1154);
    assert_eq!(one.rows, 8);
    near(one.shortest, 10.5256);
    let all = slanted_candidates(inside, &counted(wish(LYING, None), [None, Some(8)]));
    let high = |one: &&SlantedCandidate| one.ruling == SlantedRuling::Fills(Filled::Height);
    let one = all.iter().find(high).unwrap();
    near(one.side(), 47.6314);
    near(one.left_over[0], 10.6587);
    near(one.left_over[1], 0.0);
}

/// A slot that comes out off by nothing: the angle takes what the pitch does not give.
#[test]
fn a_slot_fills_a_side_at_an_angle_of_its_own() {
    let mut asked = wish(ON_POINT, Some(40.0));
    asked.bays.slots = vec![38.02];
    let all = slanted_candidates(size(612.0, 388.0), &asked);
    let slot = |filled| SlantedRuling::Slot {
        slot: 0,
        fills: Some(filled),
    };
    for (filled, axis) in [(Filled::Width, 0), (Filled::Height, 1)] {
        let mut some = all
            .iter()
            .filter(|one| one.ruling == slot(filled))
            .peekable();
        assert!(some.peek().is_some());
        for one in some {
            near(one.pitch, 38.02);
            near(one.left_over[axis], 0.0);
        }
    }
    let shown = slanted_worth_showing(all, Some(40.0), 5);
    assert!(matches!(shown[0].ruling, SlantedRuling::Slot { .. }));
    assert!(
        shown
            .iter()
            .any(|one| one.ruling == SlantedRuling::FillsBoth)
    );
    assert!(shown.len() <= 5);
}

/// Nodes of a candidate, laid out one by one from the middle of its inside: where the lines of its first
/// family cross those of its second.
fn nodes(inside: Size, one: &SlantedCandidate) -> Vec<[f64; 2]> {
    let filled = [
        inside.width - 2.0 * one.margin[0],
        inside.height - 2.0 * one.margin[1],
    ];
    let base = match one.node {
        NodePlace::Middle => [0.0, 0.0],
        NodePlace::Corner => filled.map(|side| -side / 2.0),
    };
    let ways: Vec<[f64; 2]> = (one.grid.inclinations(one.angle).iter().take(2))
        .map(|inclination| [inclination.cos(), inclination.sin()])
        .collect();
    let [a, b] = [ways[0], ways[1]];
    // A step along one family leads from line to line of the other.
    let step = one.pitch / (a[0] * b[1] - a[1] * b[0]).abs();
    let mut found = Vec::new();
    for i in -90_i32..=90 {
        for j in -90_i32..=90 {
            let at = [0, 1]
                .map(|axis| base[axis] + step * (f64::from(i) * a[axis] + f64::from(j) * b[axis]));
            if at[0].abs() <= inside.width / 2.0 + 1e-6 && at[1].abs() <= inside.height / 2.0 + 1e-6
            {
                found.push(at);
            }
        }
    }
    found
}

/// What an inside leaves of a line, by the slab method.
fn slab(inside: Size, on: [f64; 2], way: [f64; 2]) -> f64 {
    let mut ends = [f64::NEG_INFINITY, f64::INFINITY];
    for (axis, half) in [inside.width / 2.0, inside.height / 2.0]
        .into_iter()
        .enumerate()
    {
        if way[axis].abs() < 1e-9 {
            if on[axis].abs() > half - 1e-6 {
                return 0.0;
            }
            continue;
        }
        let [p, q] = [
            (-half - on[axis]) / way[axis],
            (half - on[axis]) / way[axis],
        ];
        ends = [ends[0].max(p.min(q)), ends[1].min(p.max(q))];
    }
    (ends[1] - ends[0]).max(0.0)
}

fn grids() -> impl Strategy<Value = Slanted> {
    let angle = proptest::option::of(0.8..2.3_f64);
    prop_oneof![
        angle.prop_map(|angle| Slanted::Diamond {
            stance: DiamondStance::OnPoint,
            angle
        }),
        (0.8..1.5_f64).prop_map(|angle| Slanted::Diamond {
            stance: DiamondStance::Upright,
            angle: Some(angle)
        }),
        Just(LYING),
        Just(Slanted::Triangular {
            stance: TriangularStance::Upright
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// What is left over, and the shortest line, by laying out all nodes and lines of a few candidates.
    #[test]
    fn nodes_and_lines_one_by_one(
        [width, height] in [200.0..700.0_f64, 200.0..700.0],
        pitch in 25.0..60.0_f64,
        grid in grids(),
        slot in 25.0..60.0_f64,
    ) {
        let inside = size(width, height);
        let mut asked = wish(grid, Some(pitch));
        asked.bays.slots = vec![slot];
        let all = slanted_candidates(inside, &asked);
        for one in slanted_worth_showing(all, Some(pitch), 5) {
            let all = nodes(inside, &one);
            for (axis, side) in [width, height].into_iter().enumerate() {
                // Upright rhombs have no level rows of nodes.
                let upright = matches!(grid, Slanted::Diamond { stance: DiamondStance::Upright, .. });
                if axis == 1 && upright {
                    continue;
                }
                let farthest = all.iter().map(|at| at[axis]).fold(f64::NEG_INFINITY, f64::max);
                let lowest = all.iter().map(|at| at[axis]).fold(f64::INFINITY, f64::min);
                let beyond = [side / 2.0 - farthest, side / 2.0 + lowest];
                // From the outermost nodes to the inside's edge: what is left over, the same at both sides;
                // with margins also the half cell that more nodes lie in.
                let half = one.cell[axis] / 2.0;
                let left = one.left_over[axis];
                for beyond in beyond {
                    let off = (left - beyond) / half;
                    prop_assert!((off - off.round()).abs() < 1e-6 && off > -1e-6 && off < 2.1,
                        "{one:?} {axis}: {beyond}");
                }
            }
            let filled = size(width - 2.0 * one.margin[0], height - 2.0 * one.margin[1]);
            let base = match one.node {
                NodePlace::Middle => [0.0, 0.0],
                NodePlace::Corner => [-filled.width / 2.0, -filled.height / 2.0],
            };
            let mut shortest = f64::INFINITY;
            for inclination in grid.inclinations(one.angle) {
                let way = [inclination.cos(), inclination.sin()];
                for number in -200_i32..=200 {
                    let far = f64::from(number) * one.pitch;
                    let on = [base[0] - way[1] * far, base[1] + way[0] * far];
                    if slab(filled, on, way) > 1e-5 {
                        shortest = shortest.min(slab(inside, on, way));
                    }
                }
            }
            prop_assert!((one.shortest - shortest).abs() < 1e-3, "{} for {shortest}: {one:?}", one.shortest);
        }
    }
}
