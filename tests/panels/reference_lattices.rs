//! Lattices of all grids as solids, checked by shapely: mates fill each other's slots.

use crate::support::{check_lattices, check_rails};
use lapwright::geometry::Point;
use lapwright::geometry::convex::edges;
use lapwright::lattice::{
    ByStrips, CornerJoint, Design, DiamondGrid, DiamondStance, Face, Frame, Grid, Joinery, LapRule,
    Margins, Mortise, Notch, Panel, Rail, Region, SquareGrid, Strip, StripId, StripSection,
    TriangularGrid, TriangularStance, Weave,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};

/// How many made-up lattices go through the outside check.
const CASES: usize = 150;

fn section() -> impl Strategy<Value = StripSection> {
    let kept = prop_oneof![Just(None), Just(Some((0.25, 0.4))), Just(Some((0.4, 0.2)))];
    let rule = prop_oneof![3 => Just(LapRule::LeastCut), 1 => Just(LapRule::SameDepth)];
    let weave = prop_oneof![Just(Weave::OneFace), Just(Weave::Alternate)];
    let clearance = prop_oneof![Just(0.0), Just(0.05), Just(0.2), Just(-0.05)];
    (2.0..6.0_f64, 8.0..24.0_f64, clearance, kept, rule, weave).prop_map(
        |(thickness, depth, clearance, kept, rule, weave)| {
            // Shares of three layers; the number of families is not known here.
            let kept = kept.map(|(front, middle): (f64, f64)| {
                vec![
                    front * depth,
                    middle * depth,
                    (1.0 - front - middle) * depth,
                ]
            });
            StripSection {
                thickness,
                depth,
                clearance,
                drawn: None,
                least_web: 2.0,
                wood: None,
                density: None,
                joinery: Joinery {
                    kept,
                    rule,
                    weave,
                    ..Joinery::default()
                },
            }
        },
    )
}

fn region() -> impl Strategy<Value = Region> {
    let corners = vec![
        (0.0, 0.0),
        (310.0, -25.0),
        (360.0, 120.0),
        (220.0, 300.0),
        (-40.0, 210.0),
    ];
    let corners = corners
        .into_iter()
        .map(|(x, y)| Point::new(x, y))
        .collect::<Vec<_>>();
    prop_oneof![
        (1..5_usize, 1..5_usize).prop_map(|(columns, rows)| Region::Cells { columns, rows }),
        (150.0..400.0_f64, 150.0..400.0_f64)
            .prop_map(|(width, height)| Region::Rectangle { width, height }),
        (0.0..60.0_f64, 0.0..60.0_f64).prop_map(move |(x, y)| Region::Polygon {
            corners: corners.clone(),
            node: Point::new(x, y),
        }),
    ]
}

fn grid() -> impl Strategy<Value = Grid> {
    let diamond = (
        30.0..150.0_f64,
        any::<bool>(),
        region(),
        25.0..60.0_f64,
        20.0..45.0_f64,
    )
        .prop_map(|(degrees, on_point, region, pitch, overhang)| {
            let stance = if on_point {
                DiamondStance::OnPoint
            } else {
                DiamondStance::Upright
            };
            let angle = degrees.to_radians();
            Grid::Diamond(DiamondGrid {
                pitch,
                angle,
                stance,
                region,
                overhang,
            })
        });
    let hexagon = (1..4_usize).prop_map(|rings| Region::Hexagon { rings });
    let triangular = (
        any::<bool>(),
        prop_oneof![hexagon, region()],
        35.0..70.0_f64,
        15.0..80.0_f64,
    )
        .prop_map(|(lying, region, side, overhang)| {
            let stance = if lying {
                TriangularStance::Lying
            } else {
                TriangularStance::Upright
            };
            Grid::Triangular(TriangularGrid {
                side,
                stance,
                region,
                overhang,
            })
        });
    let pitches = || proptest::collection::vec(20.0..60.0_f64, 1..5);
    let square = (pitches(), pitches()).prop_map(|(pitches_x, pitches_y)| {
        Grid::Square(SquareGrid {
            pitches_x,
            pitches_y,
            overhang: 15.0,
        })
    });
    prop_oneof![2 => diamond, 2 => triangular, 1 => square]
}

fn panel((grid, mut strip): (Grid, StripSection)) -> Option<Panel> {
    if !matches!(grid, Grid::Triangular(_)) {
        let depth = strip.depth;
        let share = strip.joinery.kept.take().map(|kept| kept[0] + 0.1 * depth);
        strip.joinery.kept = share.map(|front| vec![front, depth - front]);
    }
    Panel::new(Design {
        title: String::new(),
        grid,
        strip,
        infill: None,
    })
    .ok()
}

fn strip(strip: &Strip) -> Value {
    let notch = |notch: &Notch| {
        json!({
            "centre": notch.centre,
            "width": notch.width,
            "depth": notch.depth,
            "face": if notch.face == Face::Front { "front" } else { "back" },
            "angle": notch.angle,
        })
    };
    json!({
        "start": [strip.start.x, strip.start.y],
        "end": [strip.end.x, strip.end.y],
        "notches": strip.notches.iter().map(notch).collect::<Value>(),
    })
}

fn described(name: &str, panel: &Panel) -> Value {
    let lattice = panel.lattice();
    json!({
        "name": name,
        "thickness": panel.design().strip.thickness,
        "depth": panel.design().strip.depth,
        "clearance": panel.design().strip.clearance,
        "hollow": panel.design().strip.joinery.rule == LapRule::SameDepth,
        "strips": lattice.strips.iter().map(strip).collect::<Value>(),
    })
}

fn panels(count: usize) -> Vec<Panel> {
    let mut runner = TestRunner::deterministic();
    let made = std::iter::repeat_with(|| {
        panel((grid(), section()).new_tree(&mut runner).unwrap().current())
    });
    made.flatten().take(count).collect()
}

#[test]
fn mates_fill_each_others_slots() {
    let panels = panels(CASES);
    let kinds = |is: fn(&Panel) -> bool| panels.iter().filter(|panel| is(panel)).count();
    assert!(kinds(|panel| matches!(panel.design().grid, Grid::Diamond(_))) > CASES / 5);
    assert!(kinds(|panel| matches!(panel.design().grid, Grid::Triangular(_))) > CASES / 5);
    assert!(kinds(|panel| panel.design().strip.joinery.weave == Weave::Alternate) > CASES / 5);
    let lattices = panels
        .iter()
        .enumerate()
        .map(|(at, panel)| described(&format!("lattice {at}: {:?}", panel.design()), panel));
    check_lattices(&json!({ "lattices": lattices.collect::<Value>() })).unwrap();
}

/// A frame that a panel's overhangs reach into.
fn frame_of(panel: &Panel, clearance: f64) -> Frame {
    Frame {
        margins: Margins::even(panel.design().strip.thickness / 2.0),
        thickness: panel.design().strip.depth + 10.0,
        setback: 4.0,
        by_strips: ByStrips {
            margins: true,
            setback: false,
        },
        mortise_depth: 3.0,
        end_gap: 0.0,
        clearance,
        joint: CornerJoint::Mitre,
        recess: None,
        wood: None,
        density: None,
        widths: None,
    }
}

fn framed(name: &str, panel: &Panel, clearance: f64) -> Option<Value> {
    let lattice = panel.lattice();
    let frame = frame_of(panel, clearance);
    let made = frame.rails(lattice).ok()?;
    let index = |id: &StripId| {
        lattice
            .strips
            .iter()
            .position(|strip| strip.id == *id)
            .unwrap()
    };
    let rail = |rail: &Rail| {
        let mortise = |mortise: &Mortise| {
            json!({
                "edges": mortise.edges,
                "strips": mortise.strips.iter().map(index).collect::<Value>(),
            })
        };
        json!({
            "start": [rail.start.x, rail.start.y],
            "end": [rail.end.x, rail.end.y],
            "mortises": rail.mortises.iter().map(mortise).collect::<Value>(),
            "flush": rail.flush.iter().map(index).collect::<Value>(),
        })
    };
    let strips = lattice.strips.iter().zip(&made.trimmed);
    let strips = strips.map(|(strip, trimmed)| {
        json!({
            "start": [strip.start.x, strip.start.y],
            "end": [strip.end.x, strip.end.y],
            "cuts": trimmed.at,
            "corners": trimmed.corners,
        })
    });
    // Round the panel, as the region's corners go.
    let corners = made
        .rails
        .iter()
        .zip(edges(&lattice.region))
        .map(|(rail, (from, to))| {
            let along = rail.start.to(rail.end);
            let p = if along.dot(from.to(to)) > 0.0 {
                rail.start
            } else {
                rail.end
            };
            json!([p.x, p.y])
        });
    Some(json!({
        "name": name,
        "thickness": panel.design().strip.thickness,
        "depth": frame.mortise_depth,
        "clearance": clearance,
        "inner": corners.collect::<Value>(),
        "rails": made.rails.iter().map(rail).collect::<Value>(),
        "strips": strips.collect::<Value>(),
    }))
}

#[test]
fn trimmed_strips_fit_their_mortises() {
    let panels = panels(CASES);
    let frames: Vec<Value> = panels
        .iter()
        .enumerate()
        .filter_map(|(at, panel)| {
            let clearance = f64::from(u32::try_from(at % 3).unwrap()) * 0.1;
            framed(
                &format!("frame {at}: {:?}", panel.design()),
                panel,
                clearance,
            )
        })
        .collect();
    assert!(frames.len() > CASES / 2, "{} frames", frames.len());
    check_rails(&json!({ "frames": frames })).unwrap();
    let mut wrong = frames[0].clone();
    let rails = wrong["rails"].as_array_mut().unwrap();
    let mut mortises = rails
        .iter_mut()
        .flat_map(|rail| rail["mortises"].as_array_mut().unwrap());
    let single = mortises.find(|mortise| mortise["strips"].as_array().unwrap().len() == 1);
    let edge = &mut single.unwrap()["edges"][0];
    *edge = (edge.as_f64().unwrap() + 0.01).into();
    assert!(check_rails(&json!({ "frames": [wrong] })).is_err());
}

#[test]
fn strips_that_do_not_go_together_are_found() {
    let section = StripSection {
        thickness: 3.0,
        depth: 12.0,
        clearance: 0.0,
        drawn: None,
        least_web: 2.0,
        wood: None,
        density: None,
        joinery: Joinery::default(),
    };
    let grid = Grid::Triangular(TriangularGrid {
        side: 60.0,
        stance: TriangularStance::Lying,
        region: Region::Hexagon { rings: 1 },
        overhang: 15.0,
    });
    let panel = panel((grid, section)).unwrap();
    let good = described("hexagon", &panel);
    let refused = |change: &dyn Fn(&mut Value)| {
        let mut lattice = good.clone();
        change(&mut lattice["strips"][1]["notches"]);
        check_lattices(&json!({ "lattices": [lattice] })).err()
    };
    assert_eq!(refused(&|_| {}), None);
    let more = |key: &'static str, by: f64| {
        move |notches: &mut Value| {
            let value = &mut notches[0][key];
            *value = (value.as_f64().unwrap() + by).into();
        }
    };
    for (key, by, says) in [
        ("centre", 0.01, ""),
        ("width", 0.01, "beside its mates"),
        ("width", -0.01, "wood in wood"),
        ("depth", 0.01, "a gap"),
        ("depth", -0.01, "wood in wood"),
        ("angle", 0.01, ""),
    ] {
        let found = refused(&more(key, by)).unwrap_or_else(|| panic!("{key} {by} slips"));
        assert!(found.contains(says), "{key} {by}: {found}");
    }
    let turned = refused(&|notches| notches[0]["face"] = "front".into());
    assert!(turned.is_some());
    let gone = refused(&|notches| drop(notches.as_array_mut().unwrap().pop()));
    assert!(gone.is_some());
}
