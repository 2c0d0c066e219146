//! A plain reader of R2000 drawings: layers and vertices, nothing else. And plain distances.

use std::fs;
use std::path::Path;

/// A line of a drawing.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) layer: String,
    pub(super) closed: bool,
    pub(super) points: Vec<[f64; 2]>,
}

pub(super) fn lines(path: &Path) -> Vec<Line> {
    let text = fs::read_to_string(path).unwrap();
    let rows: Vec<&str> = text.lines().map(str::trim).collect();
    let from = rows.iter().position(|row| *row == "ENTITIES").unwrap();
    let mut found: Vec<Line> = Vec::new();
    for pair in rows[from + 1..].chunks(2) {
        let [code, value] = pair else { break };
        match (*code, *value) {
            ("0", "ENDSEC") => break,
            ("0", _) => found.push(Line {
                layer: String::new(),
                closed: false,
                points: Vec::new(),
            }),
            (code, value) => {
                let line = found.last_mut().unwrap();
                match code {
                    "8" => value.clone_into(&mut line.layer),
                    "70" => line.closed = value == "1",
                    "10" => line.points.push([value.parse().unwrap(), f64::NAN]),
                    "20" => line.points.last_mut().unwrap()[1] = value.parse().unwrap(),
                    _ => {}
                }
            }
        }
    }
    found
}

pub(super) fn on(lines: &[Line], layer: &str) -> Vec<Line> {
    let of = lines.iter().filter(|line| line.layer == layer);
    of.cloned().collect()
}

impl Line {
    pub(super) fn edges(&self) -> Vec<[[f64; 2]; 2]> {
        let mut edges: Vec<_> = self
            .points
            .windows(2)
            .map(|pair| [pair[0], pair[1]])
            .collect();
        if self.closed {
            edges.push([*self.points.last().unwrap(), self.points[0]]);
        }
        edges
    }

    /// Lower left and upper right corner of its box.
    pub(super) fn bounds(&self) -> [[f64; 2]; 2] {
        let of = |axis: usize, pick: fn(f64, f64) -> f64| {
            let all = self.points.iter().map(|point| point[axis]);
            all.reduce(pick).unwrap()
        };
        [
            [of(0, f64::min), of(1, f64::min)],
            [of(0, f64::max), of(1, f64::max)],
        ]
    }

    pub(super) fn size(&self) -> [f64; 2] {
        let [low, high] = self.bounds();
        [high[0] - low[0], high[1] - low[1]]
    }

    /// Least distance; lines that cross are told by their vertices in these drawings.
    pub(super) fn distance(&self, other: &Line) -> f64 {
        let ends = |one: &Line, two: &Line| {
            let edges = two.edges();
            let mut least = f64::INFINITY;
            for point in &one.points {
                for edge in &edges {
                    least = least.min(to_edge(*point, *edge));
                }
            }
            least
        };
        ends(self, other).min(ends(other, self))
    }
}

fn to_edge(p: [f64; 2], [a, b]: [[f64; 2]; 2]) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let to = [p[0] - a[0], p[1] - a[1]];
    let squared = along[0] * along[0] + along[1] * along[1];
    let part = ((to[0] * along[0] + to[1] * along[1]) / squared).clamp(0.0, 1.0);
    (to[0] - part * along[0]).hypot(to[1] - part * along[1])
}
