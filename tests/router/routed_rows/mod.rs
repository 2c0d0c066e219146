//! Pieces cut on a router in rows on long sticks.

mod bad_input;
mod commands;
mod mutants;
mod reference;

use crate::support::routers::router;
use lapwright::infill::{Infilling, PieceKind};
use lapwright::instructions::routed_rows::{RoutedRow, RoutedRows, RowPlace};
use lapwright::instructions::tool_path::{Motion, Position, ToolPath};
use lapwright::machines::{Chosen, Router};
use lapwright::making::{MitrePrograms, filled, planned_mitre_programs};
use lapwright::reading::{Job, read_job, read_pattern, shipped_pattern};
use serde_json::{Value, json};
use std::io::Read;

/// A panel with pieces.
pub(super) struct Case {
    pub(super) name: String,
    pub(super) job: Job,
    pub(super) filled: Infilling,
}

pub(super) fn case(pattern: &str, grid: &str, section: [f64; 2]) -> Case {
    let file = shipped_pattern(pattern).unwrap();
    own_case(file.name, file.text, grid, section)
}

/// The same with a pattern that is none of the shipped ones.
pub(super) fn own_case(
    pattern: &str,
    pattern_text: &str,
    grid: &str,
    [thickness, depth]: [f64; 2],
) -> Case {
    let text = format!(
        "title = \"rows\"\n[grid]\n{grid}\n[strip]\nthickness = \"{thickness} mm\"\ndepth = \"{depth} mm\"\nclearance = \"0.04 mm\"\n[infill]\npattern = \"{pattern}\"\nway = \"routed-rows\"\n"
    );
    let job = read_job("job.toml", &text).unwrap();
    let pattern_file = read_pattern(pattern, pattern_text).unwrap();
    Case {
        name: format!("{pattern}, {grid}, {thickness} by {depth}"),
        filled: filled(&job, std::slice::from_ref(&pattern_file.pattern)).unwrap(),
        job,
    }
}

pub(super) fn square(pitch: f64, cells: u32) -> String {
    format!(
        "kind = \"square\"\npitch = \"{pitch} mm\"\ncolumns = {cells}\nrows = {cells}\noverhang = \"14 mm\""
    )
}

pub(super) fn diamonds(pitch: f64) -> String {
    format!(
        "kind = \"diamond\"\npitch = \"{pitch} mm\"\nangle = \"60 deg\"\nregion = \"rectangle\"\ncolumns = 2\nrows = 3\noverhang = \"14 mm\""
    )
}

/// A diagonal with two rungs across; which of them lie in front of it, `laps` says.
pub(super) fn rungs(laps: [&str; 3]) -> String {
    let [long, low, high] = laps.map(|name| match name {
        "" => String::new(),
        name => format!("lap = \"{name}\"\n"),
    });
    format!(
        "about = \"rungs\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\nsouth = [0.6, 0]\nwest = [0, 0.4]\nnorth = [0.45, 1]\neast = [1, 0.45]\n[[piece]]\nname = \"long\"\nfrom = \"south-west\"\nto = \"north-east\"\n{long}[[piece]]\nname = \"low\"\nfrom = \"west\"\nto = \"south\"\n{low}[[piece]]\nname = \"high\"\nfrom = \"north\"\nto = \"east\"\n{high}"
    )
}

pub(super) fn triangles(side: f64) -> String {
    format!(
        "kind = \"triangular\"\nside = \"{side} mm\"\nregion = \"hexagon\"\nrings = 2\noverhang = \"14 mm\""
    )
}

/// The small router with edges long enough for all depths here.
pub(super) fn long_cutter(changes: &[(&str, &str)]) -> Router {
    let mut all = vec![("flute_length = \"10 mm\"", "flute_length = \"14 mm\"")];
    all.extend(changes);
    router(&all)
}

pub(super) fn programs(case: &Case, router: &Router) -> MitrePrograms {
    let chosen = Chosen {
        name: "router",
        machine: router,
    };
    let name = |at, _| format!("pieces-{at}.nc");
    match planned_mitre_programs(&case.job.panel, &case.filled, chosen, &name) {
        Ok(made) => made,
        Err(error) => panic!("{}: {error:?}", case.name),
    }
}

/// Contents of the files, by their names.
pub(super) fn texts(made: &mut MitrePrograms) -> Vec<(String, String)> {
    let text = |(name, spool): &mut (String, lapwright::writing::files::Spool)| {
        let mut text = String::new();
        spool.reader().unwrap().read_to_string(&mut text).unwrap();
        (name.clone(), text)
    };
    made.files.iter_mut().map(text).collect()
}

/// A place of a piece's own frame, as the sheet says that the piece lies.
pub(super) fn place(row: &RoutedRow, piece: &RowPlace, front: f64, [x, y]: [f64; 2]) -> [f64; 2] {
    let along = if piece.turned {
        row.length_over_points_mm - x
    } else {
        x
    };
    let across = if piece.left_in_front { -y } else { y };
    [
        piece.from_mm + along,
        front + row.thickness_mm / 2.0 + across,
    ]
}

pub(super) fn kind<'a>(case: &'a Case, row: &RoutedRow) -> &'a PieceKind {
    &case.filled.kinds[row.number - 1]
}

/// A row as `check_rows.py` takes it.
pub(super) fn description(
    case: &Case,
    row: &RoutedRow,
    moves: &[[[f64; 3]; 2]],
    tolerance: f64,
) -> Value {
    let kind = kind(case, row);
    let mut sticks = Vec::new();
    let mut pieces = Vec::new();
    for front in &row.front_edges_mm {
        let back = front + row.thickness_mm;
        let end = row.stick_mm;
        sticks.push(json!([
            [0.0, front],
            [end, front],
            [end, back],
            [0.0, back]
        ]));
        for piece in &row.pieces {
            let at = |p: [f64; 2]| place(row, piece, *front, p);
            let outline: Vec<_> = kind.outline.iter().map(|p| at([p.x, p.y])).collect();
            let laps = kind.figures.laps.iter().map(|lap| {
                // A parallelogram across the piece, a little longer than that.
                let wide = row.thickness_mm;
                let corner = |along: f64, across: f64| {
                    at([lap.centre + along + across / lap.angle.tan(), across])
                };
                let half = lap.width / 2.0;
                json!({
                    "outline": [corner(-half, -wide), corner(half, -wide), corner(half, wide), corner(-half, wide)],
                    "depth": row.depth_mm * lap.fraction,
                })
            });
            pieces.push(json!({"outline": outline, "laps": laps.collect::<Vec<_>>()}));
        }
    }
    json!({
        "name": format!("{}: {}", case.name, row.piece),
        "radius": row.tool.cuts_mm / 2.0,
        "tolerance": tolerance,
        "depth": row.depth_mm,
        "floor": row.depth_mm - row.skin_mm,
        "grip": row.grip_mm,
        "sticks": sticks,
        "pieces": pieces,
        "moves": moves,
    })
}

/// The moves at a feed of a tool path, unrounded.
pub(super) fn exact_moves(path: &ToolPath) -> Vec<[[f64; 3]; 2]> {
    let mut at: Option<Position> = None;
    let mut moves = Vec::new();
    for step in path.cuts.all().flat_map(|notch| notch.moves) {
        let place = |p: Position| [p.x, p.y, p.z];
        if let (Some(from), Motion::Air(_) | Motion::Cut(_)) = (at, step.motion) {
            moves.push([place(from), place(step.to)]);
        }
        at = Some(step.to);
    }
    moves
}

pub(super) fn plan(made: &MitrePrograms) -> &RoutedRows {
    &made.plan
}
