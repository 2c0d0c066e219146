//! Blanks of pieces that lap each other: drawn, proved, told; against shapely and against damage.

mod assembled;
mod damaged;
mod told;

use crate::support::cli::{Bench, shipped};
use lapwright::infill::{Infilling, PlacedPiece};
use lapwright::making::filled;
use lapwright::reading::{Job, read_job, read_pattern};
use serde_json::{Value, json};

/// A job with a pattern of its own and a laser.
struct Case {
    grid: String,
    strip: String,
    infill: String,
    pattern: String,
    /// What a slot that was tried has over its strip, mm.
    fit: Option<f64>,
    /// Pairs of pieces: the first is notched from the front for the second.
    front: Vec<[&'static str; 2]>,
}

impl Case {
    /// Both diagonals of cells with this pitch.
    fn crossed(pitch: [f64; 2], strip: &str) -> Case {
        Case {
            grid: format!(
                "kind = \"square\"\npitches_x = [\"{0} mm\", \"{0} mm\"]\npitches_y = [\"{1} mm\", \"{1} mm\"]",
                pitch[0], pitch[1]
            ),
            strip: strip.to_owned(),
            infill: "allowance = \"3 mm\"".to_owned(),
            pattern: shipped_pattern("crossed-diagonals"),
            fit: None,
            front: vec![["falling", "rising"]],
        }
    }

    /// Cells whose diagonals cross at an angle in degrees.
    fn at_angle(angle: f64, thickness: f64, strip: &str) -> Case {
        let high = 44.0;
        let wide = high * (angle / 2.0).to_radians().tan();
        Case::crossed([wide + thickness, high + thickness], strip)
    }

    /// Two posts and a rail that laps both on a slant, off their middles, once from each face.
    fn posts(neighbours: &str) -> Case {
        let strip = "thickness = \"2.6 mm\"\ndepth = \"9 mm\"\nclearance = \"0.08 mm\"";
        Case {
            pattern: format!(
                "about = \"posts\"\ncell = \"square\"\nneighbours = \"{neighbours}\"\n[points]\n\
                 a = [0.25, 0]\nb = [0.25, 1]\nc = [0.7, 0]\nd = [0.7, 1]\n\
                 west = [0, 0.2]\nhigh = [1, 0.6]\n\
                 [[piece]]\nname = \"left\"\nfrom = \"a\"\nto = \"b\"\nlap = \"rail\"\n\
                 [[piece]]\nname = \"right\"\nfrom = \"c\"\nto = \"d\"\n\
                 [[piece]]\nname = \"rail\"\nfrom = \"west\"\nto = \"high\"\nlap = \"right\"\n"
            ),
            front: vec![["left", "rail"], ["rail", "right"]],
            ..Case::crossed([60.0, 60.0], strip)
        }
    }

    fn job_text(&self) -> String {
        format!(
            "title = \"t\"\n[grid]\n{}\noverhang = \"20 mm\"\n[strip]\n{}\n[infill]\npattern = \
             \"pattern.toml\"\n{}\n[machines]\nlaser = \"laser.toml\"\n",
            self.grid, self.strip, self.infill
        )
    }

    fn laser_text(&self) -> String {
        let fit = self.fit.map_or(String::new(), |wider| {
            format!("[fit]\nslot = \"{} mm\"\nstrip = \"3 mm\"\n", 3.0 + wider)
        });
        shipped("tube-laser") + &fit
    }

    /// A folder with all of it.
    fn folder(&self) -> Bench {
        let folder = Bench::new();
        folder.write("job.toml", self.job_text());
        folder.write("pattern.toml", &self.pattern);
        folder.write("laser.toml", self.laser_text());
        folder
    }

    fn job(&self) -> Job {
        read_job("job.toml", &self.job_text()).unwrap()
    }

    fn filled(&self) -> Infilling {
        let pattern = read_pattern("pattern.toml", &self.pattern).unwrap().pattern;
        filled(&self.job(), &[pattern]).unwrap()
    }

    /// The faces by which a piece is notched, as its pattern says, for the pieces of its cell.
    fn laps(&self, pieces: &[PlacedPiece], name: &str) -> Value {
        let at = |mate: &str| pieces.iter().position(|piece| piece.name == mate).unwrap();
        let pairs = self.front.iter();
        let laps = pairs.filter_map(|[front, back]| match name {
            _ if name == *front => Some(json!({ "mate": at(back), "face": "front" })),
            _ if name == *back => Some(json!({ "mate": at(front), "face": "back" })),
            _ => None,
        });
        laps.collect()
    }

    /// What `tests/reference/check_blanks.py` compares: whole cells and what was drawn and told.
    fn described(&self, folder: &Bench) -> Value {
        let what = [
            "outline",
            "job.toml",
            "--what",
            "lapped",
            "-o",
            "lapped.dxf",
        ];
        let drawn = folder
            .ok(&[&["--format", "json"][..], &what].concat())
            .json();
        let files = drawn["files"].as_array().unwrap().iter();
        let files = files.map(|file| json!(folder.path(file["path"].as_str().unwrap())));
        let job = self.job();
        let filled = self.filled();
        let strip = &job.panel.design().strip;
        let cells: Vec<_> = (filled.cells.iter())
            .filter(|cell| cell.whole && !cell.pieces.is_empty())
            .collect();
        let piece = |pieces: &[PlacedPiece], piece: &PlacedPiece| {
            let (from, to) = piece.axis;
            json!({
                "name": piece.name,
                "kind": piece.kind,
                "outline": piece.outline.iter().map(|p| json!([p.x, p.y])).collect::<Value>(),
                "axis": [[from.x, from.y], [to.x, to.y]],
                "laps": self.laps(pieces, &piece.name),
            })
        };
        let whole = filled.kinds.iter().enumerate();
        let whole = whole.filter(|(_, kind)| kind.whole.is_none() && !kind.figures.laps.is_empty());
        let kinds = whole.map(|(at, kind)| {
            // The first of its name; a mirror image has that of the piece with a word more.
            let like = cells.iter().enumerate().find_map(|(number, cell)| {
                let is_named = |name: &str| kind.name.split(' ').next() == Some(name);
                let is_first = |piece: &PlacedPiece| piece.kind == at && is_named(&piece.name);
                Some([number, cell.pieces.iter().position(is_first)?])
            });
            let made_of = |piece: &&PlacedPiece| {
                piece.kind == at || filled.kinds[piece.kind].whole == Some(at)
            };
            let all = filled.cells.iter().flat_map(|cell| &cell.pieces);
            json!({ "name": kind.name, "count": all.filter(made_of).count(), "made_like": like })
        });
        json!({
            "files": files.collect::<Value>(),
            "kerf_mm": 0.16,
            "thickness": strip.thickness,
            "clearance": self.fit.unwrap_or(strip.clearance),
            "depth": strip.depth,
            "allowance": job.panel.design().infill.as_ref().unwrap().allowance,
            "kinds": kinds.collect::<Value>(),
            "told": drawn["lapped"],
            "square_cuts": if drawn["square_cuts"].is_null() { json!([]) } else { drawn["square_cuts"].clone() },
            "cells": cells.iter().map(|cell| json!({
                "pieces": cell.pieces.iter().map(|one| piece(&cell.pieces, one)).collect::<Value>(),
            })).collect::<Value>(),
        })
    }
}

fn shipped_pattern(name: &str) -> String {
    lapwright::reading::shipped_pattern(name)
        .unwrap()
        .text
        .to_owned()
}
