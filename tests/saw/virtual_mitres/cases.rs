//! Jobs and sleds for mitres: patterns in grids, and what a sled brings to them.

use crate::support::cli::{Bench, shipped, with_line};
use serde_json::{Value, json};

/// A grid, as a job and as the reference is told of it.
#[derive(Debug, Clone)]
pub enum Grid {
    /// Pitches to the right and up.
    Square(Vec<f64>, Vec<f64>),
    /// Side.
    Triangular(f64),
    /// Pitch, and the angle in degrees.
    Diamond(f64, f64),
}

impl Grid {
    pub fn even(pitch: f64, columns: usize, rows: usize) -> Grid {
        Grid::Square(vec![pitch; columns], vec![pitch; rows])
    }

    fn toml(&self) -> String {
        let list = |pitches: &[f64]| {
            let lengths: Vec<String> = pitches.iter().map(|p| format!("\"{p} mm\"")).collect();
            lengths.join(", ")
        };
        match self {
            Grid::Square(x, y) => format!(
                "kind = \"square\"\npitches_x = [{}]\npitches_y = [{}]",
                list(x),
                list(y)
            ),
            Grid::Triangular(side) => format!(
                "kind = \"triangular\"\nside = \"{side} mm\"\nregion = \"hexagon\"\nrings = 2"
            ),
            Grid::Diamond(pitch, angle) => format!(
                "kind = \"diamond\"\npitch = \"{pitch} mm\"\nangle = \"{angle} deg\"\n\
                 region = \"rectangle\"\ncolumns = 4\nrows = 3"
            ),
        }
    }

    /// `filled` is asked for where a region cuts cells.
    fn told(&self, filled: &Value) -> Value {
        match self {
            Grid::Square(x, y) => json!({ "kind": "square", "x": x, "y": y }),
            Grid::Triangular(side) => json!({ "kind": "triangular", "side": side, "cells": 24 }),
            Grid::Diamond(pitch, angle) => {
                json!({ "kind": "diamond", "pitch": pitch, "angle": angle, "cells": filled })
            }
        }
    }
}

/// What a sled has for mitres.
#[derive(Debug, Clone, Copy)]
pub struct Sled {
    pub kerf: f64,
    /// Degrees.
    pub swing: f64,
    /// Degrees.
    pub wedge: f64,
    pub stop_board: bool,
    pub cross_board: bool,
    pub correction: f64,
    pub grip: f64,
    pub longest_stick: f64,
}

/// Turns by itself as far as is ever asked for; a block as stop.
pub const SLED: Sled = Sled {
    kerf: 2.2,
    swing: 70.0,
    wedge: 0.0,
    stop_board: false,
    cross_board: false,
    correction: 0.0,
    grip: 55.0,
    longest_stick: 440.0,
};

/// A sled of each kind: turning, fixed with wedges, turning with boards, with a wedge for the rest,
/// and ones that do not reach every angle.
pub const SLEDS: [Sled; 6] = [
    SLED,
    Sled {
        swing: 0.0,
        wedge: 70.0,
        kerf: 2.4,
        ..SLED
    },
    Sled {
        swing: 45.0,
        stop_board: true,
        cross_board: true,
        kerf: 2.83,
        ..SLED
    },
    Sled {
        swing: 30.0,
        wedge: 45.0,
        stop_board: true,
        correction: 0.17,
        kerf: 2.6,
        ..SLED
    },
    Sled {
        swing: 45.0,
        kerf: 3.2,
        ..SLED
    },
    Sled {
        swing: 30.0,
        cross_board: true,
        correction: -0.12,
        longest_stick: 700.0,
        ..SLED
    },
];

impl Sled {
    fn toml(&self) -> String {
        let lines = [
            ("kerf", format!("kerf = \"{} mm\"", self.kerf)),
            ("swing", format!("swing = \"{} deg\"", self.swing)),
            ("wedge", format!("wedge = \"{} deg\"", self.wedge)),
            ("stop_board", format!("stop_board = {}", self.stop_board)),
            ("cross_board", format!("cross_board = {}", self.cross_board)),
            (
                "height_correction",
                format!("height_correction = \"{} mm\"", self.correction),
            ),
            ("grip", format!("grip = \"{} mm\"", self.grip)),
            (
                "longest_stick",
                format!("longest_stick = \"{} mm\"", self.longest_stick),
            ),
        ];
        let shipped = shipped("key-sled");
        let change = |text: String, (key, line): &(&str, String)| with_line(&text, key, line);
        lines.iter().fold(shipped, change)
    }
}

/// A job at a sled.
#[derive(Debug, Clone)]
pub struct Case {
    pub pattern: &'static str,
    pub grid: Grid,
    pub thickness: f64,
    pub depth: f64,
    /// What the caliper says of both, where it says something else.
    pub measured: Option<[f64; 2]>,
    pub sled: Sled,
    pub way: &'static str,
    pub mutations: &'static [&'static str],
    /// Stops, figures and lengths that were worked out beside this program.
    pub known: Value,
}

const CLEARANCE: f64 = 0.05;
/// Of rough pieces.
const ALLOWANCE: f64 = 4.0;

impl Case {
    pub fn new(pattern: &'static str, grid: Grid, thickness: f64, sled: Sled) -> Case {
        Case {
            pattern,
            grid,
            thickness,
            depth: 9.0,
            measured: None,
            sled,
            way: "rows",
            mutations: &[],
            known: json!({}),
        }
    }

    pub fn on_ends(self) -> Case {
        Case {
            way: "stick-ends",
            ..self
        }
    }

    fn job(&self) -> String {
        let measured = self.measured.map_or(String::new(), |[thickness, depth]| {
            format!("measured_thickness = \"{thickness} mm\"\nmeasured_depth = \"{depth} mm\"\n")
        });
        format!(
            "title = \"Panel\"\n[grid]\n{}\noverhang = \"18 mm\"\n\
             [strip]\nthickness = \"{} mm\"\ndepth = \"{} mm\"\nclearance = \"{CLEARANCE} mm\"\n\
             {measured}[infill]\npattern = \"{}\"\nallowance = \"{ALLOWANCE} mm\"\nway = \"{}\"\n\
             [machines]\nsled = \"sled.toml\"\n",
            self.grid.toml(),
            self.thickness,
            self.depth,
            self.pattern,
            self.way
        )
    }

    /// What the reference plays; nothing where the sled refuses the job as out of its reach.
    pub fn told(&self) -> Option<Value> {
        let bench = Bench::new();
        bench.write("job.toml", self.job());
        bench.write("sled.toml", self.sled.toml());
        let text = bench.run(&["pare", "job.toml"]);
        if text.code != 0 {
            let refused = text.err.contains("error[no-mitre-reached]");
            assert!(refused, "{self:?}: {}", text.err);
            return None;
        }
        let answer = bench.ok(&["pare", "job.toml", "--format", "json"]).json();
        // One pass makes a lap as wide as its kerf, where that is as good as the stop repeats.
        let [thickness, depth] = self.measured.unwrap_or([self.thickness, self.depth]);
        let drawn = thickness + CLEARANCE;
        let one_pass = drawn - self.sled.kerf <= 0.1;
        let told = json!({
            "name": format!("{self:?}"),
            "pattern": self.pattern,
            "grid": self.grid.told(&answer["cells_filled"]),
            "thickness": thickness,
            "depth": depth,
            "clearance": CLEARANCE,
            "lap_width": if one_pass { self.sled.kerf } else { drawn },
            "kerf": self.sled.kerf,
            "base": 12.0,
            "blade": 254.0,
            "least": 80.0,
            "correction": self.sled.correction,
            "rough": ALLOWANCE / 2.0,
            "text": text.out,
            "json": answer,
            "mutations": self.mutations,
        });
        let mut told = told;
        let known = self.known.as_object().unwrap().clone();
        told.as_object_mut().unwrap().extend(known);
        Some(told)
    }
}
