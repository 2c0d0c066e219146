//! Panels for openings: closed forms against brute force, sizes against shapely, tenons by hand.

use crate::support::check_openings;
use float_cmp::approx_eq;
use lapwright::instructions::rails::RailPlan;
use lapwright::lattice::{DiamondStance, Grid, Region, TriangularStance};
use lapwright::making::size_of;
use lapwright::opening::{
    DiamondWish, Framing, GridWish, HoleMeasures, MarginRange, MeasuredAt, NodePlace, Opening,
    Rest, Size, SlantedRest, SquareCells, SquareWish, Surroundings, TriangularWish, Wanted,
    equal_margins, fit, on_one_slot,
};
use lapwright::planning::plan_rails;
use lapwright::reading::{Job, read_job};
use lapwright::units::UnitSystem;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};

/// A flush panel's pitches along x and y, and its margins.
struct Laid {
    pitches: [Vec<f64>; 2],
    margins: [f64; 2],
}

fn laid(size: Size, wish: SquareWish, thickness: f64) -> Option<Laid> {
    let opening = Opening {
        measures: HoleMeasures::of(size),
        at: MeasuredAt::Panel,
        play: 0.0,
    };
    let around = Surroundings {
        thickness,
        framing: Framing::Flush,
        let_in: 0.0,
    };
    let fitted = fit(&opening, &GridWish::Square(wish), around).ok()?;
    let Grid::Square(grid) = fitted.grid else {
        panic!("a square grid was wished for");
    };
    Some(Laid {
        pitches: [grid.pitches_x, grid.pitches_y],
        margins: [fitted.margins.x, fitted.margins.y],
    })
}

fn sizes() -> impl Strategy<Value = Size> {
    (150.0..1500.0_f64, 150.0..1500.0_f64).prop_map(|(width, height)| Size { width, height })
}

const NEAR: f64 = 1e-6;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The most bays whose margin is left, found by counting up.
    #[test]
    fn a_kept_pitch(size in sizes(), t in 2.0..6.0_f64, pitch in 20.0..90.0_f64, more in 0.0..20.0_f64) {
        let least = t / 2.0 + more;
        let wish = SquareWish {
            pitch: Wanted::Exactly(pitch),
            least_margin: Some(least),
            ..SquareWish::default()
        };
        let found = laid(size, wish, t).unwrap();
        for (at, side) in [size.width, size.height].into_iter().enumerate() {
            let mut count = 0;
            while (f64::from(count) + 1.0) * pitch + 2.0 * least <= side {
                count += 1;
            }
            prop_assert_eq!(found.pitches[at].len(), usize::try_from(count).unwrap());
            prop_assert!((f64::from(count) * pitch + 2.0 * found.margins[at] - side).abs() < NEAR);
        }
    }

    /// About a pitch: every one that is larger fails one of both counts.
    #[test]
    fn the_largest_square_cells(size in sizes(), t in 2.0..6.0_f64, about in 20.0..70.0_f64) {
        let wish = SquareWish { pitch: Wanted::About(about), ..SquareWish::default() };
        let found = laid(size, wish, t).unwrap();
        let pitch = found.pitches[0][0];
        prop_assert!(found.pitches.iter().flatten().all(|other| (other - pitch).abs() < NEAR));
        let sides = [size.width, size.height];
        let counts = sides.map(|side| ((side - t) / about).round().max(1.0));
        let holds = |pitch: f64| counts.iter().zip(sides).all(|(n, side)| n * pitch + t <= side);
        prop_assert!(holds(pitch - NEAR) && !holds(pitch + NEAR));
        for (at, side) in sides.into_iter().enumerate() {
            let sum: f64 = found.pitches[at].iter().sum();
            prop_assert!((sum + 2.0 * found.margins[at] - side).abs() < NEAR);
            prop_assert!(found.margins[at] >= t / 2.0 - NEAR);
            // No further bay has room.
            prop_assert!(sum + pitch + t > side - NEAR);
        }
    }

    /// Of all pitches by which both sides leave the same margin, the one nearest to what is wanted.
    #[test]
    fn even_margins(size in sizes(), t in 2.0..6.0_f64, about in 20.0..70.0_f64) {
        let wish = SquareWish {
            pitch: Wanted::About(about),
            cells: SquareCells::Square(Rest::EvenMargins),
            ..SquareWish::default()
        };
        let over = size.width - size.height;
        let mut best = f64::INFINITY;
        for columns in 1..=120 {
            for rows in 1..=120 {
                let difference = f64::from(columns - rows);
                let pitch = over / difference;
                if columns == rows || pitch <= t {
                    continue;
                }
                let margin = (size.width - f64::from(columns) * pitch) / 2.0;
                if margin >= t / 2.0 && (pitch - about).abs() < (best - about).abs() {
                    best = pitch;
                }
            }
        }
        match laid(size, wish, t) {
            Some(found) => {
                prop_assert!((found.margins[0] - found.margins[1]).abs() < NEAR);
                prop_assert!(found.margins[0] >= t / 2.0 - NEAR);
                let off = (found.pitches[0][0] - about).abs();
                prop_assert!(off <= (best - about).abs() + NEAR, "{} for {best}", found.pitches[0][0]);
            }
            None => prop_assert!(best.is_infinite(), "{best} would do"),
        }
    }

    #[test]
    fn border_bays_take_the_rest(
        size in sizes(), t in 2.0..6.0_f64, pitch in 20.0..70.0_f64, least in 8.0..20.0_f64,
    ) {
        let wish = SquareWish {
            pitch: Wanted::Exactly(pitch),
            cells: SquareCells::Square(Rest::BorderBays(Some(least))),
            ..SquareWish::default()
        };
        let found = laid(size, wish, t).unwrap();
        for (at, side) in [size.width, size.height].into_iter().enumerate() {
            let bays = &found.pitches[at];
            let mut inner = 0;
            while (f64::from(inner) + 1.0) * pitch + 2.0 * least <= side - t {
                inner += 1;
            }
            prop_assert_eq!(bays.len(), usize::try_from(inner).unwrap() + 2);
            prop_assert!((bays[0] - bays[bays.len() - 1]).abs() < NEAR);
            prop_assert!(bays[0] >= least - NEAR && bays[0] < least + pitch / 2.0 + NEAR);
            prop_assert!((bays.iter().sum::<f64>() + t - side).abs() < NEAR);
        }
    }

    /// As many bays as are asked for, both border bays alike, or none where they would be too narrow.
    #[test]
    fn border_bays_of_a_wanted_count(
        size in sizes(), t in 2.0..6.0_f64, pitch in 20.0..70.0_f64, columns in 2..12_u32, rows in 2..12_u32,
    ) {
        let least = 15.0;
        let counts = [columns, rows];
        let wish = SquareWish {
            pitch: Wanted::Exactly(pitch),
            columns: Some(columns as usize),
            rows: Some(rows as usize),
            cells: SquareCells::Square(Rest::BorderBays(Some(least))),
            ..SquareWish::default()
        };
        // What inner bays and half a strip at each end leave, for two.
        let borders = [0, 1].map(|at| {
            let side = [size.width, size.height][at];
            (side - t - f64::from(counts[at] - 2) * pitch) / 2.0
        });
        let Some(found) = laid(size, wish, t) else {
            prop_assert!(borders.iter().any(|border| *border < least + NEAR), "{borders:?}");
            return Ok(());
        };
        for at in [0, 1] {
            let bays = &found.pitches[at];
            prop_assert_eq!(bays.len(), counts[at] as usize);
            prop_assert!(borders[at] > least - NEAR);
            for (place, bay) in bays.iter().enumerate() {
                let outer = place == 0 || place + 1 == bays.len();
                let wanted = if outer { borders[at] } else { pitch };
                prop_assert!((bay - wanted).abs() < NEAR, "{bays:?}");
            }
        }
    }

    /// Cells that fill: equal, all of the room, within half a cell of the wanted number; and where the
    /// frame closes them, cells between frame and strip are as clear as the others.
    #[test]
    fn cells_that_fill(size in sizes(), t in 2.0..6.0_f64, about in 20.0..60.0_f64, frame_closes: bool) {
        let wish = SquareWish {
            pitch: Wanted::About(about),
            cells: SquareCells::Fill,
            frame_closes,
            ..SquareWish::default()
        };
        let found = laid(size, wish, t).unwrap();
        for (at, side) in [size.width, size.height].into_iter().enumerate() {
            let bays = &found.pitches[at];
            let clear = bays[0] - t;
            let cells = bays.len() + if frame_closes { 2 } else { 0 };
            let room = if frame_closes { side + t } else { side - t };
            let wanted = (room / about).max(if frame_closes { 3.0 } else { 1.0 });
            prop_assert!((cells as f64 - wanted).abs() <= 0.5 + NEAR);
            prop_assert!(bays.iter().all(|bay| (bay - bays[0]).abs() < NEAR));
            prop_assert!((bays.iter().sum::<f64>() + 2.0 * found.margins[at] - side).abs() < NEAR);
            let beside = found.margins[at] - t / 2.0;
            let wanted = if frame_closes { clear } else { 0.0 };
            prop_assert!((beside - wanted).abs() < NEAR, "{beside} for {wanted}");
        }
    }

    /// All grids on a rack's slots, and all with one margin, by trying every count.
    #[test]
    fn all_that_fit_are_found(size in sizes(), slots in prop::collection::vec(20.0..60.0_f64, 1..5)) {
        let margins = MarginRange { least: 6.0, most: 28.0 };
        let sides = [size.width, size.height];
        let in_range = |margin: f64| (margins.least..=margins.most).contains(&margin);
        let mut wanted = 0;
        for slot in &slots {
            let fits = sides.map(|side| {
                (1..=100).filter(|n| in_range((side - f64::from(*n) * slot) / 2.0)).count()
            });
            wanted += fits[0] * fits[1];
        }
        prop_assert_eq!(on_one_slot(size, &slots, margins).len(), wanted);
        let mut even = 0;
        for columns in 1..=100 {
            for rows in 1..=100 {
                let pitch = (size.width - size.height) / f64::from(columns - rows);
                let margin = (size.width - f64::from(columns) * pitch) / 2.0;
                even += usize::from((25.0..=50.0).contains(&pitch) && in_range(margin));
            }
        }
        prop_assert_eq!(equal_margins(size, 25.0..=50.0, margins).len(), even);
    }

    /// Rhombs and triangles: the whole opening is the region, a node lies where it should, whole cells
    /// fill what was asked for.
    #[test]
    fn slanted_grids_fill_an_opening(
        size in sizes(),
        columns in 2..9_usize,
        rows in 2..9_usize,
        at_corner: bool,
        which in 0..4_usize,
    ) {
        let node = if at_corner { NodePlace::Corner } else { NodePlace::Middle };
        let diamond = |angle, columns, rows, stance| GridWish::Diamond(DiamondWish {
            pitch: Wanted::Free,
            angle,
            stance,
            columns,
            rows,
            node,
            rest: SlantedRest::CutCells,
            least_margin: Some(0.0),
            overhang: None,
        });
        let triangular = |columns, rows, stance| GridWish::Triangular(TriangularWish {
            side: Wanted::Free,
            stance,
            columns,
            rows,
            node,
            rest: SlantedRest::CutCells,
            least_margin: Some(0.0),
            overhang: None,
        });
        let wish = match which {
            0 => diamond(None, Some(columns), Some(rows), DiamondStance::OnPoint),
            1 => diamond(Some(1.1), Some(columns), None, DiamondStance::OnPoint),
            2 => triangular(Some(columns), None, TriangularStance::Lying),
            _ => triangular(None, Some(rows), TriangularStance::Upright),
        };
        let opening = Opening {
            measures: HoleMeasures::of(size),
            at: MeasuredAt::Inside,
            play: 0.0,
        };
        let around = Surroundings { thickness: 3.0, framing: Framing::Flush, let_in: 0.0 };
        let Ok(fitted) = fit(&opening, &wish, around) else {
            return Ok(());
        };
        // What fills: the distance of nodes along x or y, times the count, is the side.
        let (across, up) = match &fitted.grid {
            Grid::Diamond(grid) => {
                let (half, step) = (grid.angle / 2.0, grid.pitch / grid.angle.sin());
                (2.0 * step * half.sin(), 2.0 * step * half.cos())
            }
            Grid::Triangular(grid) => (grid.side, grid.side),
            Grid::Square(_) => panic!("a slanted grid was wished for"),
        };
        if which != 3 {
            prop_assert!((across * columns as f64 - size.width).abs() < 1e-6);
        }
        if which == 0 || which == 3 {
            prop_assert!((up * rows as f64 - size.height).abs() < 1e-6);
        }
        let region = match &fitted.grid {
            Grid::Diamond(grid) => &grid.region,
            Grid::Triangular(grid) => &grid.region,
            Grid::Square(_) => unreachable!(),
        };
        let Region::Polygon { corners, node } = region else {
            panic!("the opening is a polygon");
        };
        prop_assert!((corners[2].x - size.width).abs() < 1e-9);
        let wanted = if at_corner { 0.0 } else { 0.5 };
        prop_assert!((node.x - wanted * size.width).abs() < 1e-9);
        prop_assert!((node.y - wanted * size.height).abs() < 1e-9);
    }
}

fn job(text: &str) -> Job {
    read_job("job.toml", text).unwrap_or_else(|bad| {
        panic!(
            "{}",
            bad.source.report(&bad.findings, UnitSystem::Millimetres)
        )
    })
}

fn plan(job: &Job) -> Option<RailPlan> {
    let frame = job.frame.as_ref()?;
    Some(plan_rails(job.panel.lattice(), frame, None).unwrap().0)
}

/// A job's sizes and its strips, as `check_openings.py` wants them.
fn described(name: &str, job: &Job, hole: Option<[[f64; 2]; 4]>, play: f64) -> Value {
    let lattice = job.panel.lattice();
    let strips = lattice.strips.iter().map(|strip| {
        json!({
            "start": [strip.start.x, strip.start.y],
            "end": [strip.end.x, strip.end.y],
            "notches": strip.notches.iter().map(|notch| notch.centre).collect::<Vec<_>>(),
            "family": format!("{}s", lattice.families[strip.id.family].name),
        })
    });
    let plan = plan(job);
    let mortises = plan.as_ref().map(|plan| {
        let of = |rail: &lapwright::instructions::rails::RailFigures| {
            let edges = rail.mortises.iter();
            let edges = edges.map(|mortise| json!([mortise.near_edge_mm, mortise.far_edge_mm]));
            (rail.name.clone(), edges.collect::<Value>())
        };
        plan.rails.iter().map(of).collect::<serde_json::Map<_, _>>()
    });
    let frame = job.frame.as_ref();
    let low = lattice.region[0];
    let high = lattice.region[2];
    json!({
        "name": name,
        "hole": hole.map(|corners| json!({ "corners": corners })),
        "play": play,
        "widths": frame.map(|_| json!(WIDTHS)),
        "let_in": frame.map_or(0.0, |frame| frame.mortise_depth - frame.end_gap),
        "thickness": lattice.section.thickness,
        "region": [low.x, low.y, high.x, high.y],
        "strips": strips.collect::<Value>(),
        "size": size_of(job),
        "tenons": plan.and_then(|plan| plan.tenons),
        "mortises": mortises,
    })
}

/// Lower rail, right stile, upper rail, left stile.
const WIDTHS: [f64; 4] = [44.0, 31.0, 36.0, 29.0];

const STRIP: &str = "\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n";

fn frame() -> String {
    let widths = WIDTHS.map(|width| format!("\"{width} mm\"")).join(", ");
    format!(
        "\n[frame]\nthickness = \"22 mm\"\nwidths = [{widths}]\nmortise_depth = \"6 mm\"\nclearance = \"0.1 mm\"\njoint = \"mortise-and-tenon\"\n"
    )
}

/// Corners of a hole with walls that are off by these, and the table for what a tape says of it.
fn hole(size: Size, offs: [f64; 4]) -> ([[f64; 2]; 4], String) {
    let [cx, cy, dx, dy] = offs;
    let corners = [
        [0.0, 0.0],
        [size.width, 0.0],
        [size.width + cx, size.height + cy],
        [dx, size.height + dy],
    ];
    let far = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let middle = |a: [f64; 2], b: [f64; 2]| [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
    let [a, b, c, d] = corners;
    let list = |lengths: &[f64]| {
        let lengths: Vec<String> = lengths
            .iter()
            .map(|length| format!("\"{length} mm\""))
            .collect();
        lengths.join(", ")
    };
    let widths = [far(a, b), far(middle(a, d), middle(b, c)), far(d, c)];
    let heights = [far(a, d), far(middle(a, b), middle(d, c)), far(b, c)];
    let table = format!(
        "[opening]\nmeasured = \"hole\"\nplay = \"2 mm\"\nwidths = [{}]\nheights = [{}]\ndiagonals = [{}]\n",
        list(&widths),
        list(&heights),
        list(&[far(a, c), far(b, d)])
    );
    (corners, table)
}

#[test]
fn assembled_panels_have_the_sizes_that_are_told() {
    let grids = [
        "pitch_about = \"41 mm\"",
        "pitch = \"38 mm\"\nleast_margin = \"9 mm\"",
        "pitch_about = \"40 mm\"\nrest = \"even-margins\"",
        "pitch = \"36 mm\"\nrest = \"border-bays\"\nleast_border = \"17 mm\"",
        "columns = 9\nrows = 7\ncells = \"fill\"",
        "pitch_about = \"43 mm\"\ncells = \"fill\"\nedge = \"frame\"",
    ];
    let mut runner = TestRunner::deterministic();
    let mut cases = Vec::new();
    let off = -8.0..8.0_f64;
    let offs = (off.clone(), off.clone(), off.clone(), off);
    for (at, grid) in grids.iter().cycle().take(48).enumerate() {
        let (size, offs) = (sizes(), offs.clone())
            .new_tree(&mut runner)
            .unwrap()
            .current();
        let size = Size {
            width: size.width + 150.0,
            height: size.height + 150.0,
        };
        let (a, b, c, d) = offs;
        let (corners, opening) = hole(size, [a, b, c, d]);
        let frame = if at % 4 == 3 { String::new() } else { frame() };
        let text = format!(
            "title = \"a panel\"\n{opening}\n[grid]\nkind = \"square\"\n{grid}\n{STRIP}{frame}"
        );
        // A pair of sides that no pitch leaves even margins of is refused.
        let Ok(job) = read_job("job.toml", &text) else {
            assert!(grid.contains("even"), "{text}");
            continue;
        };
        cases.push(described(
            &format!("{at}: {text}"),
            &job,
            Some(corners),
            2.0,
        ));
    }
    assert!(cases.len() > 40);
    check_openings(&json!({ "openings": cases })).unwrap();
    for (pointer, by) in [
        ("/size/finished_mm/0", 0.01),
        ("/size/margin_mm/1", 0.01),
        ("/size/opening/opening_mm/0", 0.05),
        ("/size/trims/0/from_end_mm", 0.01),
        ("/tenons/rails/0/cut_length_mm", 0.01),
        ("/tenons/stiles/1/upper_mortise_mm/0", 0.01),
        ("/mortises/left stile/0/0", 1.0),
    ] {
        let has = |case: &&Value| case.pointer(pointer).is_some();
        let mut wrong = cases.iter().find(has).unwrap().clone();
        let figure = wrong.pointer_mut(pointer).unwrap();
        *figure = (figure.as_f64().unwrap() + by).into();
        assert!(
            check_openings(&json!({ "openings": [wrong] })).is_err(),
            "{pointer}"
        );
    }
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!(
        approx_eq!(f64, found, wanted, epsilon = 1e-6),
        "{found} for {wanted}"
    );
}

/// A square hole, so that all can be added up by hand.
fn framed(frame: &str) -> String {
    format!(
        "title = \"a panel\"\n[opening]\nmeasured = \"hole\"\nwidth = \"500 mm\"\nheight = \"700 mm\"\nplay = \"2 mm\"\n[grid]\nkind = \"square\"\ncolumns = 8\nrows = 12\ncells = \"fill\"\n{STRIP}\n[frame]\nmortise_depth = \"6 mm\"\n{frame}\n"
    )
}

#[test]
fn tenons_by_hand() {
    // Outside 496 by 696; rails 48, stiles 36: inside 424 by 600.
    let job = job(&framed(
        "thickness = \"24 mm\"\nwidths = [\"48 mm\", \"36 mm\", \"48 mm\", \"36 mm\"]\njoint = \"mortise-and-tenon\"",
    ));
    let size = size_of(&job);
    assert_eq!(size.finished_mm, Some([496.0, 696.0]));
    assert_eq!(size.inside_mm, Some([424.0, 600.0]));
    let tenons = plan(&job).unwrap().tenons.unwrap();
    // A third of 24, in the middle; two thirds of 36; mortise half a millimetre deeper.
    near(tenons.thickness_mm, 8.0);
    near(tenons.from_front_mm, 8.0);
    near(tenons.length_mm, 24.0);
    near(tenons.mortise_depth_mm, 24.5);
    near(tenons.haunch_mm, 8.0);
    let rail = &tenons.rails[0];
    near(rail.between_shoulders_mm, 424.0);
    near(rail.cut_length_mm, 472.0);
    near(rail.tenon_width_mm, 24.0);
    near(rail.tenon_width_read_otherwise_mm, 24.0);
    near(rail.haunch_width_mm, 24.0);
    let stile = &tenons.stiles[0];
    near(stile.cut_length_mm, 696.0);
    near(stile.blank_mm, 736.0);
    near(stile.lower_mortise_mm[0], 24.0);
    near(stile.lower_mortise_mm[1], 48.0);
    near(stile.upper_mortise_mm[0], 648.0);
    near(stile.upper_mortise_mm[1], 672.0);
    // The outermost strip lies against the rail: its mortise begins a twentieth before its face, too near
    // the corner for one. The next one is 0.05 and a pitch from the corner.
    assert!(tenons.least_between_mortises_mm.unwrap() > 40.0);
}

#[test]
fn a_groove_and_its_tenons_by_hand() {
    // Rails 56: less a groove of 8 half is 24; half of 56 less 8 is 20. The groove lies 17 to 23 behind
    // the front face, the strips' mortises 2.5 to 14.5.
    let job = job(&framed(
        "thickness = \"27 mm\"\nsetback = \"2.5 mm\"\nwidths = [\"56 mm\", \"36 mm\", \"56 mm\", \"36 mm\"]\njoint = \"mortise-and-tenon\"\ntenon_length = \"20 mm\"\ngroove = { width = \"6 mm\", depth = \"8 mm\", from_front = \"17 mm\" }",
    ));
    let plan = plan(&job).unwrap();
    let tenons = plan.tenons.unwrap();
    near(tenons.thickness_mm, 6.0);
    near(tenons.from_front_mm, 17.0);
    near(tenons.haunch_mm, 8.0);
    let rail = &tenons.rails[1];
    near(rail.from_inner_edge_mm, 8.0);
    near(rail.tenon_width_mm, 24.0);
    near(rail.tenon_width_read_otherwise_mm, 20.0);
    near(rail.haunch_width_mm, 24.0);
    near(rail.cut_length_mm, 424.0 + 40.0);
    // Stile: 56 less the groove, and 24 below that.
    near(tenons.stiles[1].lower_mortise_mm[1], 48.0);
    near(tenons.stiles[1].lower_mortise_mm[0], 24.0);
    let recess = plan.recess.unwrap();
    assert_eq!(recess.kind, "groove");
    let [width, height] = recess.clear_mm.unwrap();
    near(width, 424.0 + 16.0);
    near(height, 584.0 + 16.0);
}

#[test]
fn a_rebate_by_hand() {
    let job = job(&framed(
        "thickness = \"24 mm\"\nsetback = \"3 mm\"\nwidth = \"36 mm\"\njoint = \"mortise-and-tenon\"\nrebate = { width = \"9 mm\", depth = \"6 mm\" }",
    ));
    let plan = plan(&job).unwrap();
    let recess = plan.recess.unwrap();
    near(recess.from_front_mm[0], 18.0);
    near(recess.from_front_mm[1], 24.0);
    let [width, height] = recess.clear_mm.unwrap();
    near(width, 424.0 + 18.0);
    near(height, 624.0 + 18.0);
    // The stiles' rebates take the back shoulders farther out.
    near(
        plan.tenons.unwrap().rails[0].between_back_shoulders_mm,
        442.0,
    );
}

#[test]
fn inches_say_the_same() {
    let text = framed("thickness = \"24 mm\"\nwidth = \"36 mm\"");
    let inches = text
        .replace("\"500 mm\"", "\"19.68503937007874 in\"")
        .replace("\"36 mm\"", "\"1.4173228346456692 in\"");
    let [a, b] = [&text, &inches].map(|text| size_of(&job(text)).finished_mm.unwrap());
    near(a[0], b[0]);
    near(a[1], b[1]);
}
