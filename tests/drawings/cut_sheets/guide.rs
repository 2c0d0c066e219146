//! The guide put together from its drawings alone.

use super::plain::{Line, lines, on};
use crate::support::cli::{Bench, shipped};
use float_cmp::approx_eq;
use std::path::Path;

const JOB: &str = r#"title = "Cabinet"

[grid]
kind = "square"
pitch = "50 mm"
columns = 2
rows = 3
overhang = "20 mm"

[strip]
thickness = "2.8 mm"
depth = "8 mm"

[infill]
pattern = "square-hemp-leaf"
allowance = "4 mm"

[machines]
laser = "laser.toml"
guides = "guides.toml"
"#;

const TRIANGLES: &str = r#"title = "Window"

[grid]
kind = "triangular"
side = "45 mm"
region = "hexagon"
rings = 1
overhang = "15 mm"

[strip]
thickness = "3 mm"
depth = "15 mm"

[infill]
pattern = "triangular-hemp-leaf"

[machines]
laser = "laser.toml"
guides = "guides.toml"
"#;

const KERF: f64 = 0.16;
const NEAR: f64 = 2e-6;

fn bench(job: &str, thickest: &str, block_length: &str) -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", job);
    let laser = shipped("tube-laser").replace("\"9 mm\"", &format!("\"{thickest}\""));
    bench.write("laser.toml", laser);
    let guides = shipped("paring-guides").replace("\"120 mm\"", &format!("\"{block_length}\""));
    bench.write("guides.toml", guides);
    bench
}

/// A part, the groove taken off again, moved to the origin.
#[derive(Debug, Clone)]
struct Part {
    size: [f64; 2],
    /// Lower left and upper right corners.
    holes: Vec<[[f64; 2]; 2]>,
    /// Of a block: between its lower side and the side that leans back over it, degrees.
    face: f64,
}

fn parts(path: &Path) -> Vec<Part> {
    let lines = lines(path);
    let holes = on(&lines, "OPENINGS");
    let half = KERF / 2.0;
    let part = |outline: &Line| {
        let [low, high] = outline.bounds();
        let inside = |hole: &&Line| {
            let [from, to] = hole.bounds();
            (0..2).all(|axis| from[axis] > low[axis] && to[axis] < high[axis])
        };
        let hole = |hole: &Line| {
            let [from, to] = hole.bounds();
            let zero = [low[0] + half, low[1] + half];
            [
                [from[0] - half - zero[0], from[1] - half - zero[1]],
                [to[0] + half - zero[0], to[1] + half - zero[1]],
            ]
        };
        // A sharp corner's groove runs out farther than half the kerf: the length is worked out
        // from the far side.
        let right = |wanted: f64| {
            let there = outline
                .points
                .iter()
                .filter(|p| approx_eq!(f64, p[1], wanted, epsilon = 1e-9));
            there.map(|p| p[0]).fold(f64::NEG_INFINITY, f64::max)
        };
        let (foot, head) = (right(low[1]), right(high[1]));
        let face = (high[1] - low[1]).atan2(foot - head);
        let reach = half / (face / 2.0).tan();
        Part {
            size: [foot - reach - low[0] - half, high[1] - low[1] - KERF],
            holes: holes.iter().filter(inside).map(hole).collect(),
            face: face.to_degrees(),
        }
    };
    on(&lines, "OUTLINES").iter().map(part).collect()
}

fn middle([low, high]: [[f64; 2]; 2]) -> [f64; 2] {
    [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0]
}

fn near(found: f64, wanted: f64, what: &str) {
    assert!(
        (found - wanted).abs() < NEAR,
        "{what}: {found} is not {wanted}"
    );
}

/// Fence flush with the base's far and left edges, block butted to its right end with the front edges
/// in line, bolts through the holes, stop on the slot.
fn goes_together(bench: &Bench, depth: f64, sheet: f64, block_length: f64) {
    let pare = bench.ok(&["--format", "json", "pare", "job.toml"]).json();
    bench.ok(&[
        "outline",
        "job.toml",
        "--what",
        "guide,blocks",
        "-o",
        "g.dxf",
    ]);
    bench.ok(&["prove", "g.dxf", "job.toml"]);
    let all = parts(&bench.path("g.dxf"));
    let of = |holes: usize, face: bool| -> Vec<Part> {
        let like = |part: &&Part| part.holes.len() == holes && (part.face < 89.9) == face;
        all.iter().filter(like).cloned().collect()
    };
    let (bases, fences, stops, blocks) = (of(3, false), of(0, false), of(1, false), of(2, true));
    assert_eq!(
        bases.len() + fences.len() + stops.len() + blocks.len(),
        all.len()
    );
    let [base] = &bases[..] else {
        panic!("{bases:?}")
    };

    // As high as the strips are deep, not a layer more.
    let layers = fences.len();
    assert!(layers as f64 * sheet >= depth && (layers - 1) as f64 * sheet < depth);
    let angles: Vec<f64> = pare["blocks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|block| block["jig_angle_deg"].as_f64().unwrap())
        .collect();
    assert_eq!((stops.len(), blocks.len()), (layers, layers * angles.len()));
    for angle in &angles {
        let same = blocks
            .iter()
            .filter(|block| approx_eq!(f64, block.face, *angle, epsilon = 1e-4));
        assert_eq!(same.count(), layers, "{angle}");
    }

    let front = base.size[1] - fences[0].size[1];
    let fence = fences[0].size[0];
    let slot = base.holes.iter().max_by(|a, b| {
        let long = |hole: &[[f64; 2]; 2]| hole[1][0] - hole[0][0];
        long(a).total_cmp(&long(b))
    });
    let slot = *slot.unwrap();
    let bolts: Vec<[f64; 2]> = {
        let mut bolts: Vec<[f64; 2]> = base
            .holes
            .iter()
            .filter(|hole| **hole != slot)
            .map(|hole| middle(*hole))
            .collect();
        bolts.sort_by(|a, b| a[0].total_cmp(&b[0]));
        bolts
    };
    for block in &blocks {
        near(block.size[0], block_length, "block");
        let mut holes: Vec<[f64; 2]> = block.holes.iter().map(|hole| middle(*hole)).collect();
        holes.sort_by(|a, b| a[0].total_cmp(&b[0]));
        for (hole, bolt) in holes.iter().zip(&bolts) {
            near(fence + hole[0], bolt[0], "bolt along the fence");
            near(front + hole[1], bolt[1], "bolt from the front edge");
        }
        // Wood around the holes, the face included.
        for [low, high] in &block.holes {
            assert!(low[0] > 5.0 && low[1] > 5.0 && high[1] < block.size[1] - 5.0);
            let from_face = (block.size[0] - high[0]) * block.face.to_radians().sin()
                - high[1] * block.face.to_radians().cos();
            assert!(from_face > 3.0, "{from_face}");
        }
    }

    // The stop: its face at every setting of the job's pieces, its bolt in the slot.
    let corner = fence + block_length;
    let stop = &stops[0];
    let bolt = middle(stop.holes[0]);
    near(bolt[1] + front - stop.size[1], middle(slot)[1], "slot");
    let half = (stop.holes[0][1][0] - stop.holes[0][0][0]) / 2.0;
    let mut settings = 0;
    for piece in pare["pieces"].as_array().unwrap() {
        for facet in piece["ends"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|end| end["facets"].as_array().unwrap())
        {
            let left = corner - facet["stop_mm"].as_f64().unwrap() - stop.size[0];
            let at = left + bolt[0];
            assert!(at - half >= slot[0][0] - NEAR && at + half <= slot[1][0] + NEAR);
            assert!(left >= -NEAR, "the stop leaves the base");
            settings += 1;
        }
    }
    assert!(settings > 1);
    // All of it on the base, the pared end too.
    assert!(corner + 20.0 < base.size[0] && slot[0][0] > 5.0 && slot[0][1] > 5.0);
    assert!(slot[1][1] < front - 5.0 && bolts[0][0] > fence + 5.0);
}

#[test]
fn base_fence_stop_and_blocks_go_together() {
    goes_together(&bench(JOB, "8 mm", "120 mm"), 8.0, 8.0, 120.0);
    goes_together(&bench(JOB, "3 mm", "150 mm"), 8.0, 3.0, 150.0);
    goes_together(&bench(TRIANGLES, "6 mm", "110 mm"), 15.0, 6.0, 110.0);
}

/// A piece longer than the profile's stop reaches makes a longer base.
#[test]
fn the_stop_reaches_long_pieces_too() {
    let long = JOB.replace("\"50 mm\"", "\"140 mm\"");
    goes_together(&bench(&long, "8 mm", "120 mm"), 8.0, 8.0, 120.0);
}

#[test]
fn layers_are_told_and_follow_the_sheet_that_is_shared() {
    let bench = bench(JOB, "5 mm", "120 mm");
    let drawn = |what: &str| {
        let drawn = bench.ok(&[
            "--format", "json", "outline", "job.toml", "--what", what, "-o", "x.dxf",
        ]);
        bench.ok(&["prove", "x.dxf", "job.toml"]);
        drawn.json()
    };
    let alone = drawn("blocks");
    assert_eq!(alone["stack"]["layers"], 2);
    assert_eq!(alone["stack"]["least_sheet_mm"], 4.0);
    assert_eq!(alone["files"][0]["parts"].as_array().unwrap().len(), 6);
    // Strips lie on their side: 2.8 mm sheet, three layers to 8 mm.
    assert_eq!(drawn("strips,blocks")["stack"]["layers"], 3);
    let told = bench
        .ok(&["outline", "job.toml", "--what", "blocks", "-o", "x.dxf"])
        .out;
    assert!(
        told.contains("layers") && told.contains("4.00 mm thick or thicker"),
        "{told}"
    );
}
