//! Panels of strips and pieces checked as solids by shapely: what laps loses just what its mate fills.

use crate::support::check_solids;
use lapwright::geometry::Point;
use lapwright::infill::{CellShape, Infilling, Pattern, PlacedPiece};
use lapwright::lattice::{Face, Notch, NotchMate, Panel, Strip};
use lapwright::making::{filled, with_crossing_pieces};
use lapwright::reading::{Job, read_job, read_pattern, shipped_pattern};
use serde_json::{Value, json};

fn shipped(name: &str) -> Pattern {
    let text = shipped_pattern(name).unwrap().text;
    read_pattern(name, text).unwrap().pattern
}

/// A panel that takes one pattern: of squares, or a hexagon of triangles.
fn panel(pattern: &Pattern, pitch: f64, thickness: f64) -> (Job, Infilling) {
    let grid = match pattern.cell {
        CellShape::Triangle => format!(
            "kind = \"triangular\"\nside = \"{} mm\"\nregion = \"hexagon\"\nrings = 1",
            1.5 * pitch
        ),
        _ => format!("kind = \"square\"\npitch = \"{pitch} mm\"\ncolumns = 3\nrows = 2"),
    };
    let text = format!(
        "title = \"solids\"\n[grid]\n{grid}\noverhang = \"12 mm\"\n\
         [strip]\nthickness = \"{thickness} mm\"\ndepth = \"12 mm\"\nleast_web = \"0.5 mm\"\n\
         [infill]\npattern = \"{}\"\n",
        pattern.name
    );
    let job = read_job("panel.toml", &text).unwrap();
    let patterns = std::slice::from_ref(pattern);
    let job = with_crossing_pieces(job, patterns).unwrap();
    let filled = filled(&job, patterns).unwrap();
    (job, filled)
}

fn point(p: Point) -> Value {
    json!([p.x, p.y])
}

fn face(face: Face) -> &'static str {
    face.name()
}

fn strip(strip: &Strip, panel: &Panel) -> Value {
    let notch = |notch: &Notch| {
        json!({
            "centre": notch.centre, "width": notch.width, "angle": notch.angle,
            "depth": notch.depth, "face": face(notch.face),
        })
    };
    json!({
        "name": panel.lattice().label(strip.id),
        "start": point(strip.start),
        "end": point(strip.end),
        "thickness": panel.design().strip.thickness,
        "front": 0,
        "depth": panel.design().strip.depth,
        "notches": strip.notches.iter().map(notch).collect::<Value>(),
    })
}

/// A piece with all its parts.
fn piece(filled: &Infilling, piece: &PlacedPiece) -> Value {
    let stock = filled.stock_of(piece);
    let all = filled.cells.iter().flat_map(|cell| &cell.pieces);
    let own = |other: &&PlacedPiece| match (piece.run, other.run) {
        (Some(one), Some(other)) => one.piece == other.piece,
        _ => std::ptr::eq(*other, piece),
    };
    let parts = all.filter(own).map(|part| {
        let ring = part.outline.iter().map(|p| point(*p));
        ring.collect::<Value>()
    });
    let lap = |lap: &lapwright::infill::PieceLap| {
        json!({
            "centre": lap.centre, "width": lap.width, "angle": lap.angle,
            "depth": lap.fraction * stock.depth, "face": face(lap.face),
        })
    };
    json!({
        "name": piece.name,
        "parts": parts.collect::<Value>(),
        "axis": [point(piece.axis.0), point(piece.axis.1)],
        "reversed": piece.run.is_some_and(|run| run.over[0]),
        "thickness": stock.thickness,
        "front": 0,
        "depth": stock.depth,
        "notches": piece.laps.iter().map(lap).collect::<Value>(),
    })
}

fn described((job, filled): &(Job, Infilling), name: &str) -> Value {
    let all = filled.cells.iter().flat_map(|cell| &cell.pieces);
    let pieces = all.filter(|piece| piece.counts());
    json!({
        "name": name,
        "strips": job.panel.lattice().strips.iter().map(|line| strip(line, &job.panel)).collect::<Value>(),
        "pieces": pieces.map(|placed| piece(filled, placed)).collect::<Value>(),
    })
}

fn check(panels: &[Value]) -> Result<(), String> {
    check_solids(&json!({ "panels": panels }))
}

const LAPPED: [&str; 4] = [
    "crossed-diagonals",
    "horned-well-curb",
    "horned-crossings",
    "three-way-star",
];

#[test]
fn strips_and_pieces_fill_their_laps() {
    let mut panels = Vec::new();
    for name in LAPPED {
        let pattern = shipped(name);
        for (pitch, thickness) in [(36.0, 2.4), (46.0, 3.0), (62.5, 3.6)] {
            let panel = panel(&pattern, pitch, thickness);
            panels.push(described(&panel, &format!("{name} {pitch} {thickness}")));
        }
    }
    check(&panels).unwrap_or_else(|reason| panic!("{reason}"));
}

#[test]
fn what_is_changed_is_refused() {
    let pattern = shipped("horned-crossings");
    let sound = described(&panel(&pattern, 46.0, 3.0), "changed");
    let first = |panel: &Value, lapped: usize| {
        let pieces = panel["pieces"].as_array().unwrap().iter();
        let mut found = pieces.enumerate();
        let is_it =
            |(_, piece): &(usize, &Value)| piece["notches"].as_array().unwrap().len() == lapped;
        found.find(is_it).unwrap().0
    };
    let at = first(&sound, 3);
    let lap = |panel: &mut Value, key: &str, by: f64| {
        let lap = &mut panel["pieces"][at]["notches"][1][key];
        *lap = json!(lap.as_f64().unwrap() + by);
    };
    let mut missing = sound.clone();
    missing["pieces"][at]["notches"]
        .as_array_mut()
        .unwrap()
        .remove(1);
    let mut deeper = sound.clone();
    lap(&mut deeper, "depth", 0.01);
    let mut moved = sound.clone();
    lap(&mut moved, "centre", 0.01);
    let mut wider = sound.clone();
    lap(&mut wider, "width", 0.01);
    let mut other_face = sound.clone();
    other_face["pieces"][at]["notches"][1]["face"] = json!("front");
    let mut uncut = sound.clone();
    let strips = uncut["strips"].as_array_mut().unwrap();
    for strip in strips {
        let notches = strip["notches"].as_array_mut().unwrap();
        notches.retain(|notch| (notch["width"].as_f64().unwrap() - 2.4).abs() > 1e-9);
    }
    check(&[sound]).unwrap();
    for (changed, reason) in [
        (missing, "in common"),
        (deeper, "empty"),
        (moved, "in common"),
        (wider, "beside"),
        (other_face, "empty"),
        (uncut, "in common"),
    ] {
        let refusal = check(&[changed]).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
}

#[test]
fn a_piece_that_runs_over_a_strip_is_two_parts_and_the_strip() {
    let (pitch, t) = (46.0, 3.0);
    let (job, filled) = panel(&shipped("horned-crossings"), pitch, t);
    let opening = pitch - t;
    let thin = 0.8 * t;
    // In a cell 0.3 of the opening and a horn of two thicknesses; over the strip twice that and the strip.
    let part = 0.3 * opening + 2.0 * thin;
    let lengths: Vec<(f64, usize)> = filled
        .kinds
        .iter()
        .filter(|kind| kind.name != "lock")
        .map(|kind| (kind.figures.length, kind.count))
        .collect();
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let of = |length: f64| {
        let alike = lengths.iter().filter(|(own, _)| near(*own, length));
        alike.map(|(_, count)| *count).sum::<usize>()
    };
    // 3 by 2 cells: over 2 inner uprights in 2 rows and over 1 inner cross strip in 3 columns, two bars each
    // side of the cell; at the border each bar ends alone.
    assert_eq!(of(2.0 * part + t), 2 * 2 * 2 + 3 * 2);
    assert_eq!(of(part), 2 * 2 * 2 + 2 * 3 * 2);
    // Each inner strip is crossed at 0.3 of the opening from either wall of each cell.
    let upright = &job.panel.lattice().strips[1];
    let crossed: Vec<&Notch> = upright
        .notches
        .iter()
        .filter(|notch| notch.mate == NotchMate::Piece)
        .collect();
    let from_node = t / 2.0 + 0.3 * opening;
    let wanted = [
        12.0 + from_node,
        12.0 + pitch - from_node,
        12.0 + pitch + from_node,
        12.0 + 2.0 * pitch - from_node,
    ];
    assert_eq!(crossed.len(), 4);
    for (notch, centre) in crossed.iter().zip(wanted) {
        assert!(near(notch.centre, centre), "{notch:?}");
        assert!(near(notch.width, thin) && near(notch.depth, 6.0));
        assert_eq!(notch.face, Face::Front);
    }
    // The rails' laps are open to the front, so that they go in first.
    let names: Vec<Vec<&str>> = filled
        .going_in
        .iter()
        .map(|kinds| {
            kinds
                .iter()
                .map(|at| filled.kinds[*at].name.as_str())
                .collect()
        })
        .collect();
    assert_eq!(names.len(), 2, "{names:?}");
    assert!(
        names[0].iter().all(|name| name.starts_with("rail")),
        "{names:?}"
    );
}

#[test]
fn three_pieces_in_one_point_keep_a_third_each() {
    let (_, filled) = panel(&shipped("three-way-star"), 46.0, 3.0);
    let laps = |name: &str| {
        let cell = filled.cells.iter().find(|cell| !cell.lie.mirrored).unwrap();
        let piece = cell.pieces.iter().find(|piece| piece.name == name).unwrap();
        let laps = piece.laps.iter();
        let mut laps: Vec<(&str, f64)> = laps.map(|lap| (lap.face.name(), lap.fraction)).collect();
        laps.sort_by(|a, b| a.0.cmp(b.0));
        laps
    };
    let near = |found: Vec<(&str, f64)>, wanted: [(&str, f64); 2]| {
        for (found, wanted) in found.iter().zip(wanted) {
            assert!(
                found.0 == wanted.0 && (found.1 - wanted.1).abs() < 1e-12,
                "{found:?}"
            );
        }
        assert_eq!(found.len(), 2);
    };
    near(laps("bar"), [("back", 2.0 / 3.0), ("back", 2.0 / 3.0)]);
    near(laps("bar-2"), [("back", 1.0 / 3.0), ("front", 1.0 / 3.0)]);
    near(laps("bar-3"), [("front", 2.0 / 3.0), ("front", 2.0 / 3.0)]);
}
