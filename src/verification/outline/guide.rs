//! The paring guide that a panel's pieces need, from the job and the profiles.

use super::pieces::block_angles;
use super::rings::{points, rectangle};
use super::wanted_part::{Engraved, EngravedText, WantedPart, figure};
use crate::geometry::Point;
use crate::infill::Infilling;
use crate::machines::{Guides, Laser};

/// Which parts of a guide have labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Labels {
    /// None: nothing is engraved.
    None,
    /// All.
    All,
    /// Those that have room for letters which the tool for them can draw.
    WhereRoom,
}

impl Labels {
    /// What a machine's profile asks for.
    pub fn of(laser: &Laser) -> Self {
        match laser.label_height > 0.0 {
            false => Labels::None,
            true if laser.letter_line > 0.0 => Labels::WhereRoom,
            true => Labels::All,
        }
    }

    fn engraved(self, texts: Vec<EngravedText>) -> Engraved {
        match self {
            Labels::None => Engraved::default(),
            Labels::All | Labels::WhereRoom => Engraved {
                or_nothing: self == Labels::WhereRoom,
                ..Engraved::beside_check_line(Vec::new(), texts)
            },
        }
    }
}

/// What a guide is made for and of. Millimetres.
#[derive(Debug, Clone, Copy)]
pub struct GuideOrder<'a> {
    /// The pieces.
    pub filled: &'a Infilling,
    /// What rough pieces are longer.
    pub allowance: f64,
    /// Of the strips.
    pub depth: f64,
    /// How thick the sheet is.
    pub sheet: f64,
    /// The guides' profile.
    pub guides: &'a Guides,
}

/// Side of a hole.
const HOLE: f64 = 6.6;

/// A block, 20 mm at the least at its far edge and 40 mm broad at the most, and its two bolts: the
/// first 12 mm from the square end, the second as far from it as leaves 9 mm to the face, 70 mm at
/// the most. Both are 15 mm from the front edge, nearer where a block is less than 30 mm broad.
struct BlockSizes {
    angles: Vec<f64>,
    length: f64,
    bolts: [f64; 2],
    bolts_in: f64,
}

/// A block with a blunt corner is as broad as the fence.
fn breadth(length: f64, angle: f64) -> f64 {
    if angle.cos() < 0.0 {
        return 40.0;
    }
    ((length - 20.0) * angle.tan()).min(40.0)
}

/// How far from the square end a bolt may be that is `bolts_in` from the front edge: 9 mm from the
/// face, whose line runs through the sharp corner.
fn last_bolt(length: f64, bolts_in: f64, angle: f64) -> f64 {
    length - (9.0 + bolts_in * angle.cos()) / angle.sin()
}

/// Whether a block of this length takes two bolts 20 mm apart, with 9 mm of wood on all sides.
fn has_room(length: f64, angle: f64) -> bool {
    let broad = breadth(length, angle);
    broad >= 18.0 && last_bolt(length, (broad / 2.0).min(15.0), angle) >= 32.0
}

impl BlockSizes {
    fn of(angles: Vec<f64>, wished: f64) -> BlockSizes {
        let mut length = wished.max(80.0);
        for angle in &angles {
            if !has_room(length, *angle) {
                // Halved a hundred times no `f64` lies between the two any more.
                let mut short = length;
                let mut long = 1e6;
                for _ in 0..100 {
                    let middle = f64::midpoint(short, long);
                    if has_room(middle, *angle) {
                        long = middle;
                    } else {
                        short = middle;
                    }
                }
                length = long;
            }
        }
        let mut bolts_in: f64 = 15.0;
        for angle in &angles {
            bolts_in = bolts_in.min(breadth(length, *angle) / 2.0);
        }
        let mut second: f64 = 82.0;
        for angle in &angles {
            second = second.min(last_bolt(length, bolts_in, *angle));
        }
        BlockSizes {
            angles,
            length,
            bolts: [12.0, second],
            bolts_in,
        }
    }
}

/// A hole for a bolt.
fn bolt_hole(at: (f64, f64)) -> Vec<Point> {
    slot(at.0, at.0, at.1)
}

/// A hole as high as a bolt's, in which a bolt goes from one x to another.
fn slot(from: f64, to: f64, y: f64) -> Vec<Point> {
    let half = HOLE / 2.0;
    let left = from - half;
    let right = to + half;
    let low = y - half;
    let high = y + half;
    points(&[(left, low), (right, low), (right, high), (left, high)])
}

impl GuideOrder<'_> {
    fn block_sizes(&self) -> BlockSizes {
        BlockSizes::of(block_angles(self.filled), self.guides.block_length)
    }

    /// The fewest layers that are no lower than the strips are deep.
    fn layers(&self) -> usize {
        let mut layers = 1_u32;
        while f64::from(layers) * self.sheet < self.depth - 1e-9 * self.sheet && layers < 10_000 {
            layers += 1;
        }
        layers as usize
    }

    /// The guide blocks, one for each jig angle in as many layers as it takes: the front edge below,
    /// from the square end to the sharp corner, where the face leans back over it at the angle; out
    /// beyond it where that is more than a right one.
    pub fn blocks(&self, labels: Labels) -> Vec<WantedPart> {
        let sizes = self.block_sizes();
        let angles = sizes.angles.iter();
        angles
            .map(|angle| self.block(*angle, &sizes, labels))
            .collect()
    }

    fn block(&self, angle: f64, sizes: &BlockSizes, labels: Labels) -> WantedPart {
        let length = sizes.length;
        let broad = breadth(length, angle);
        let far = length - broad / angle.tan();
        let words = figure(angle.to_degrees(), 3);
        let words = words.trim_end_matches('0').trim_end_matches('.');
        let texts = vec![
            EngravedText::about(words, far.min(length) / 2.0, far.min(length) / 4.0),
            EngravedText::anywhere("50 MM"),
        ];
        let ring = points(&[(0.0, 0.0), (length, 0.0), (far, broad), (0.0, broad)]);
        WantedPart::plain(format!("block of {words} deg"), ring, self.layers())
            .with_holes(sizes.bolts.map(|at| bolt_hole((at, sizes.bolts_in))).into())
            .with_engraving(labels.engraved(texts))
            .on_laid_edge()
    }

    /// What the blocks go with. The stop, 40 mm by 30 mm with a hole in its middle, and the fence, 40 mm
    /// broad, in as many layers as a block; the fence as long as lets the stop, its face at the
    /// farthest from a block's corner, end where the base begins. The base reaches 40 mm beyond the
    /// corner and 40 mm before the front edges: its slot lets the stop's bolt, 15 mm before the
    /// front edges, from that place to where the stop's face is at the corner.
    pub fn rest(&self, labels: Labels) -> Vec<WantedPart> {
        let sizes = self.block_sizes();
        let lengths = self.filled.kinds.iter().map(|kind| kind.figures.length);
        let longest = lengths.map(|length| length + self.allowance);
        let reach = longest.fold(self.guides.stop_farthest, f64::max);
        let fence = (reach + 40.0 - sizes.length).max(40.0);
        let corner = fence + sizes.length;
        let mut holes = vec![slot(corner - reach - 20.0, corner - 20.0, 25.0)];
        for bolt in sizes.bolts {
            holes.push(bolt_hole((fence + bolt, 40.0 + sizes.bolts_in)));
        }
        let base_texts = vec![EngravedText::anywhere("50 MM")];
        vec![
            WantedPart::plain("base", rectangle(corner + 40.0, 80.0), 1)
                .with_holes(holes)
                .with_engraving(labels.engraved(base_texts)),
            WantedPart::plain("fence", rectangle(fence, 40.0), self.layers())
                .with_engraving(Engraved::default())
                .on_laid_edge(),
            WantedPart::plain("stop", rectangle(40.0, 30.0), self.layers())
                .with_holes(vec![bolt_hole((20.0, 15.0))])
                .with_engraving(Engraved::default())
                .on_laid_edge(),
        ]
    }
}
