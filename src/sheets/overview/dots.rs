//! Any lattice in braille dots (Unicode, block 2800 to 28FF): two by four of them in a letter.

use super::room::Room;
use crate::geometry::convex::{chord, edges};
use crate::geometry::{Point, SAME_POSITION_MM, bounds};
use crate::lattice::Lattice;

/// Dots in a letter, across and down.
const ACROSS: usize = 2;
const DOWN: usize = 4;

/// Bit of each dot, rows from the top.
const BITS: [[u32; ACROSS]; DOWN] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];

/// Neighbouring lines nearer than this, dots, run together.
const LEAST_APART: f64 = 3.0;

/// Largest scale: no two neighbouring lines are farther apart than this, dots.
const MOST_APART: f64 = 24.0;

/// The centre lines inside the region and the region's edge; nothing where the room does not do.
pub(super) fn dots(lattice: &Lattice, room: Room) -> Option<Vec<String>> {
    let (low, high) = bounds(lattice.region.iter().copied())?;
    let nearest = nearest_lines(lattice)?;
    let size = low.to(high);
    let most = |room: usize, dots: usize, length: f64| {
        (room * dots).saturating_sub(1) as f64 / length.max(SAME_POSITION_MM)
    };
    let scale = most(room.columns, ACROSS, size.x)
        .min(most(room.lines, DOWN, size.y))
        .min(MOST_APART / nearest);
    if nearest * scale < LEAST_APART {
        return None;
    }
    let mut raster = Raster::new([size.x * scale, size.y * scale]);
    let mut draw = |from: Point, to: Point| {
        let dot = |p: Point| Point::new((p.x - low.x) * scale, (high.y - p.y) * scale);
        raster.line(dot(from), dot(to));
    };
    for strip in &lattice.strips {
        let Some(along) = strip.start.to(strip.end).unit() else {
            continue;
        };
        let inside = chord(&lattice.region, strip.start, along, SAME_POSITION_MM);
        if let Some([from, to]) = inside {
            draw(strip.start + along * from, strip.start + along * to);
        }
    }
    for (from, to) in edges(&lattice.region) {
        draw(from, to);
    }
    Some(raster.lines())
}

/// Least distance of neighbouring parallel centre lines, mm.
fn nearest_lines(lattice: &Lattice) -> Option<f64> {
    let families = lattice.strips.chunk_by(|a, b| a.id.family == b.id.family);
    let gaps = families.flat_map(|family| {
        family.windows(2).filter_map(|pair| {
            let [a, b] = pair else { return None };
            let along = a.start.to(a.end).unit()?;
            Some(along.cross(a.start.to(b.start)).abs())
        })
    });
    gaps.min_by(f64::total_cmp)
}

struct Raster {
    width: usize,
    letters: Vec<Vec<u32>>,
}

impl Raster {
    /// For dots from 0 to these.
    fn new([width, height]: [f64; 2]) -> Self {
        let columns = whole(width) / ACROSS + 1;
        let lines = whole(height) / DOWN + 1;
        Raster {
            width: columns,
            letters: vec![vec![0; columns]; lines],
        }
    }

    /// A dot for each step along the longer way.
    fn line(&mut self, from: Point, to: Point) {
        let way = from.to(to);
        let steps = whole(way.x.abs().max(way.y.abs()).ceil()).max(1);
        for step in 0..=steps {
            let at = from + way * (step as f64 / steps as f64);
            self.set(whole(at.x), whole(at.y));
        }
    }

    fn set(&mut self, x: usize, y: usize) {
        let bit = BITS.get(y % DOWN).and_then(|row| row.get(x % ACROSS));
        let letter = self.letters.get_mut(y / DOWN);
        let letter = letter.and_then(|row| row.get_mut(x / ACROSS));
        if let (Some(bit), Some(letter)) = (bit, letter) {
            *letter |= bit;
        }
    }

    fn lines(&self) -> Vec<String> {
        let line = |row: &Vec<u32>| {
            let letters = row.iter().take(self.width);
            let letters = letters.map(|bits| match bits {
                0 => ' ',
                bits => char::from_u32(0x2800 + bits).unwrap_or(' '),
            });
            letters.collect::<String>().trim_end().to_owned()
        };
        self.letters.iter().map(line).collect()
    }
}

/// The nearest whole number of dots.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a screen has few dots
fn whole(length: f64) -> usize {
    length.round().max(0.0) as usize
}
