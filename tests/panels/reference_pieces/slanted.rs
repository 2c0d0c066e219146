//! Panels of triangles and rhombs, trimmed at their edge.

use super::*;
use lapwright::geometry::Vector;
use lapwright::lattice::CellMeasures;
use lapwright::reading::read_job;

pub(super) fn slanted_job(grid: &str, t: f64) -> Panel {
    let text = format!(
        "title = \"t\"\n[grid]\n{grid}\noverhang = \"40 mm\"\n\
         [strip]\nthickness = \"{t} mm\"\ndepth = \"12 mm\"\n"
    );
    match read_job("job.toml", &text) {
        Ok(job) => job.panel,
        Err(bad) => panic!("{text}: {:?}", bad.findings),
    }
}

/// A filled panel of a slanted grid, trimmed at its region's edge. Where short grid lines have no
/// strip, strips and cells do not fill the region. `None` where no whole cell shows what a cut one
/// would hold.
pub(super) fn slanted_panel(pattern: &Pattern, panel: &Panel, name: &str) -> Option<Value> {
    let lattice = panel.lattice();
    let t = panel.design().strip.thickness;
    let gaps = lattice.left_out > 0;
    let filled = fill(panel, pattern, EdgeCells::Fill).unwrap();
    let strip = |line: &lapwright::lattice::Strip| {
        let along = line.start.to(line.end).unit().unwrap();
        let half = Vector::new(-along.y, along.x) * (t / 2.0);
        let back = -half;
        ring(&[
            line.start + back,
            line.end + back,
            line.end + half,
            line.start + half,
        ])
    };
    let touching = |cell: &FilledCell| {
        let seen = clear_cell(panel).seen(cell.lie).unwrap();
        touching(&solved(pattern, &seen, t).unwrap())
    };
    let (whole, cut): (Vec<_>, Vec<_>) = filled.cells.iter().partition(|cell| cell.whole);
    let cut = cut.into_iter();
    let cut = cut.map(|cell| cut_cell(cell, &whole, gaps && cell.pieces.is_empty()));
    let cut = cut.collect::<Option<Value>>()?;
    Some(json!({
        "name": format!("{} in {name}, {t}", pattern.name),
        "thickness": t,
        "outline": ring(&panel.design().grid.region()),
        "strips": lattice.strips.iter().map(strip).collect::<Value>(),
        "cells": whole.iter().map(|cell| filled_cell(cell, &touching(cell))).collect::<Value>(),
        "cut_cells": cut,
        "left_out": filled.left_out,
        "gaps": gaps,
    }))
}

fn clear_cell(panel: &Panel) -> Cell {
    let t = panel.design().strip.thickness;
    match panel.design().grid.cells()[0].measures {
        CellMeasures::Rhomb { pitch, angle } => Cell::rhomb_of_grid(pitch, angle, t),
        CellMeasures::Triangle { side } => Cell::triangle_of_grid(side, t),
        CellMeasures::Rectangle { .. } => None,
    }
    .unwrap()
}

/// A cut cell, and the pieces that it would have if it were whole: those of a whole cell that lies
/// alike, moved there.
fn cut_cell(cell: &FilledCell, whole: &[&FilledCell], open: bool) -> Option<Value> {
    let moved = |like: &&&FilledCell| {
        let by = like.outline[0].to(cell.outline[0]);
        let mut corners = like.outline.iter().zip(&cell.outline);
        like.lie == cell.lie && corners.all(|(p, q)| (*p + by).to(*q).length() < 1e-6)
    };
    let like = whole.iter().find(moved)?;
    let by = like.outline[0].to(cell.outline[0]);
    let before = like.pieces.iter().filter(|_| !open).map(|piece| {
        let moved: Vec<Point> = piece.outline.iter().map(|p| *p + by).collect();
        ring(&moved)
    });
    let place = |name: &str| cell.pieces.iter().position(|piece| piece.name == name);
    let laps = cell.pieces.iter().enumerate().flat_map(|(at, piece)| {
        let mates = piece.laps.iter().map(|lap| place(&lap.mate).unwrap());
        mates.map(move |mate| json!([at, mate]))
    });
    let named = |piece: &lapwright::infill::PlacedPiece| json!({ "name": piece.name, "outline": ring(&piece.outline) });
    Some(json!({
        "outline": ring(&cell.outline),
        "pieces": cell.pieces.iter().map(named).collect::<Value>(),
        "laps": laps.collect::<Value>(),
        "before": before.collect::<Value>(),
    }))
}

/// Regions that leave cells whole, and ones that cut them in every way.
pub(super) fn slanted_panels() -> Vec<(&'static str, Panel)> {
    let mut all = Vec::new();
    for (stance, other) in [("lying", "upright"), ("upright", "on-point")] {
        let hexagon = format!(
            "kind = \"triangular\"\nside = \"50 mm\"\nstance = \"{stance}\"\n\
             region = \"hexagon\"\nrings = 2"
        );
        let triangles = format!("kind = \"triangular\"\nside = \"50 mm\"\nstance = \"{stance}\"");
        let mut thicknesses = [1.0, 2.8, 4.5].into_iter().cycle();
        let mut add = |name, job: &str| {
            all.push((name, slanted_job(job, thicknesses.next().unwrap())));
        };
        add("hexagon", &hexagon);
        for region in REGIONS {
            add("triangles", &format!("{triangles}\n{region}"));
        }
        for angle in [35.0, 60.0, 77.5, 90.0, 120.0] {
            for region in REGIONS {
                let rhombs = format!(
                    "kind = \"diamond\"\npitch = \"35 mm\"\nangle = \"{angle} deg\"\n\
                     stance = \"{other}\"\n{region}"
                );
                add("rhombs", &rhombs);
            }
        }
    }
    all
}

pub(super) const REGIONS: [&str; 4] = [
    "region = \"rectangle\"\nwidth = \"260 mm\"\nheight = \"217 mm\"",
    "region = \"rectangle\"\nwidth = \"300 mm\"\nheight = \"240 mm\"",
    "region = \"polygon\"\ncorners = [[\"0 mm\", \"0 mm\"], [\"300 mm\", \"20 mm\"], \
     [\"320 mm\", \"200 mm\"], [\"100 mm\", \"280 mm\"]]",
    "region = \"polygon\"\ncorners = [[\"0 mm\", \"60 mm\"], [\"60 mm\", \"0 mm\"], \
     [\"250 mm\", \"0 mm\"], [\"310 mm\", \"80 mm\"], [\"250 mm\", \"250 mm\"], [\"60 mm\", \"250 mm\"]]",
];

#[test]
fn pieces_of_triangles_and_rhombs_fit_and_are_trimmed_at_the_edge() {
    let (triangles, squares) = (patterns(CellShape::Triangle), patterns(CellShape::Square));
    let rhombs = patterns(CellShape::Rhomb);
    let mut panels = Vec::new();
    let mut cut = 0;
    for (number, (name, panel)) in slanted_panels().into_iter().enumerate() {
        let is_triangular = matches!(panel.design().grid, Grid::Triangular(_));
        let of_rhombs = rhombs
            .iter()
            .chain(squares.iter().filter(|pattern| pattern.rhombs));
        let all: Vec<&Pattern> = if is_triangular {
            triangles.iter().collect()
        } else {
            of_rhombs.collect()
        };
        // Each pattern in every fourth panel: regions, stances, angles and thicknesses go by other steps.
        let in_turn = all.into_iter().enumerate();
        let in_turn = in_turn.filter(|(at, _)| (at + number).is_multiple_of(4));
        for (_, pattern) in in_turn {
            let described = slanted_panel(pattern, &panel, name);
            let Some(described) = described else {
                continue;
            };
            cut += described["cut_cells"].as_array().unwrap().len();
            panels.push(described);
        }
    }
    println!("{} panels, {cut} cut cells", panels.len());
    assert!(panels.len() > 100 && cut > 1000, "{} {cut}", panels.len());
    check(&panels);
}

/// The check itself: what was changed must be refused.
#[test]
fn changed_cut_cells_are_refused() {
    let cut_in_two = "kind = \"triangular\"\nside = \"50 mm\"\nregion = \"rectangle\"\n\
                      width = \"260 mm\"\nheight = \"173 mm\"";
    let trimmed = slanted_job(cut_in_two, 3.0);
    let leaf_of_three = &patterns(CellShape::Triangle)[0];
    let trimmed = slanted_panel(leaf_of_three, &trimmed, "").unwrap();
    check(std::slice::from_ref(&trimmed));
    let cut_cells = trimmed["cut_cells"].as_array().unwrap();
    let has_pieces = |cell: &Value| !cell["pieces"].as_array().unwrap().is_empty();
    let at = cut_cells.iter().position(has_pieces).unwrap();
    type Change = fn(&mut Value);
    let cases: [(Change, &str); 3] = [
        (
            |cell| drop(cell["pieces"].as_array_mut().unwrap().pop()),
            "is missing",
        ),
        (
            |cell| drop(cell["before"].as_array_mut().unwrap().pop()),
            "is no part of a whole piece",
        ),
        (
            |cell| {
                for p in cell["pieces"][0]["outline"].as_array_mut().unwrap() {
                    p[0] = json!(p[0].as_f64().unwrap() + 0.01);
                }
            },
            "outside its cell",
        ),
    ];
    for (change, reason) in cases {
        let mut changed = trimmed.clone();
        change(&mut changed["cut_cells"][at]);
        let refusal = check_pieces(&json!({ "panels": [changed] })).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
}
