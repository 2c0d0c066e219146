//! What lies on the machine, and the notches or mortises that it should get.
//!
//! Program frame: x along the strips from the first strip's datum end, y across the bundle from
//! its front face, z up from the top of the stock. Lengths in mm, angles in rad.

use crate::geometry::Point;

/// The clamped bundle. Strip `i` (from 0) lies at y from `i * thickness_mm`, and at x from
/// `datum_mm + i * step_back_mm`; its top is at z 0 and its bottom at `-depth_mm`.
#[derive(Debug, Clone, PartialEq)]
pub struct Workpiece {
    /// Thickness of one strip, across the bundle.
    pub thickness_mm: f64,
    /// Number of strips.
    pub count: usize,
    /// Depth of the strips, downward.
    pub depth_mm: f64,
    /// Length of each strip.
    pub length_mm: f64,
    /// By how much each strip lies farther along x than the one before it.
    pub step_back_mm: f64,
    /// Where the first strip's datum end is; 0 unless the bundle has been moved along.
    pub datum_mm: f64,
    /// Width of scrap clamped before the first and behind the last strip, 0 for none; as long
    /// and as deep as the bundle.
    pub backers_mm: [f64; 2],
    /// Notches that are there before the program runs.
    pub cut_before: Vec<ExpectedNotch>,
}

impl Workpiece {
    /// A bundle without steps, backers or notches.
    pub fn plain(count: usize, thickness_mm: f64, depth_mm: f64, length_mm: f64) -> Self {
        Workpiece {
            thickness_mm,
            count,
            depth_mm,
            length_mm,
            step_back_mm: 0.0,
            datum_mm: 0.0,
            backers_mm: [0.0; 2],
            cut_before: Vec::new(),
        }
    }

    /// x of a strip's datum end.
    pub fn strip_start(&self, strip: usize) -> f64 {
        self.datum_mm + strip as f64 * self.step_back_mm
    }

    /// The rectangles of its strips: x and y, low and high.
    pub fn strips(&self) -> Vec<[[f64; 2]; 2]> {
        let strip = |at: usize| {
            let start = self.strip_start(at);
            let front = at as f64 * self.thickness_mm;
            [
                [start, start + self.length_mm],
                [front, front + self.thickness_mm],
            ]
        };
        (0..self.count).map(strip).collect()
    }

    /// The rectangle that the strips lie in, without backers: x and y, low and high.
    pub fn hull(&self) -> [[f64; 2]; 2] {
        let first = self.strip_start(0);
        let last = self.strip_start(self.count.saturating_sub(1));
        let width = self.count as f64 * self.thickness_mm;
        [
            [first.min(last), first.max(last) + self.length_mm],
            [0.0, width],
        ]
    }
}

/// A notch as it should be, on every strip of the bundle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExpectedNotch {
    /// Its number, for the report.
    pub index: usize,
    /// From the strip's datum end to its centre, on the strip's centre line.
    pub centre_mm: f64,
    /// Width along the strip.
    pub width_mm: f64,
    /// Depth from the top.
    pub depth_mm: f64,
    /// From the strips' direction (x) to the slot's, counter-clockwise; a right angle is straight
    /// across. At y above the strip's centre line the notch lies farther along x by y / tan.
    pub angle_rad: f64,
}

impl ExpectedNotch {
    /// Its ends along the strip, from the datum end, `across` mm off the strip's centre line.
    pub fn ends(&self, across: f64) -> [f64; 2] {
        let centre = self.centre_mm + across * self.angle_rad.cos() / self.angle_rad.sin();
        let half = self.width_mm / 2.0;
        [centre - half, centre + half]
    }
}

/// A mortise as it should be: a pocket in the stock, program frame, mm. The cutter's radius stays in
/// its corners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExpectedMortise {
    /// Its number, for the report.
    pub index: usize,
    /// Low and high wall across x.
    pub x_mm: [f64; 2],
    /// Low and high wall across y.
    pub y_mm: [f64; 2],
    /// Depth from the top.
    pub depth_mm: f64,
}

/// Pieces as they should lie in sticks that lie apart, front edges from y 0, tops at z 0. Mm, program
/// frame.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpectedRows {
    /// y of the sticks' front and back edges.
    pub sticks_y_mm: Vec<[f64; 2]>,
    /// All of them, stick by stick.
    pub pieces: Vec<ExpectedPiece>,
    /// Depth of the mitres from the top; what is below it stays.
    pub mitre_depth_mm: f64,
}

/// A piece in a stick, program frame, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpectedPiece {
    /// Its number, for the report.
    pub index: usize,
    /// Number of its stick, from 0.
    pub stick: usize,
    /// Corners of its plan: convex, either way round.
    pub outline: Vec<Point>,
    /// Its laps, all from the top.
    pub laps: Vec<ExpectedLap>,
}

/// A lap right across a piece, program frame, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExpectedLap {
    /// A point in the middle between its walls.
    pub middle: Point,
    /// Along the stick, from wall to wall.
    pub width_mm: f64,
    /// Depth from the top.
    pub depth_mm: f64,
    /// From x to its walls, counter-clockwise, in (0, pi).
    pub angle_rad: f64,
}

impl ExpectedLap {
    /// Its walls along x at a y.
    pub fn walls(&self, y: f64) -> [f64; 2] {
        let (sine, cosine) = self.angle_rad.sin_cos();
        let centre = self.middle.x + (y - self.middle.y) * cosine / sine;
        [centre - self.width_mm / 2.0, centre + self.width_mm / 2.0]
    }

    /// How far a place in plan is from its middle line, square to it.
    pub fn off(&self, [x, y]: [f64; 2]) -> f64 {
        let (sine, cosine) = self.angle_rad.sin_cos();
        ((x - self.middle.x) * sine - (y - self.middle.y) * cosine).abs()
    }

    /// From its middle line to a wall, square to it.
    pub fn half_width(&self) -> f64 {
        self.width_mm * self.angle_rad.sin() / 2.0
    }
}
