//! One panel that could be made.

/// How the bays of a candidate come about. Slots are numbered from 0, as the rack has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ruling {
    /// Every bay is the distance that one slot gives.
    OneSlot {
        /// Which.
        slot: usize,
    },
    /// The inner bays are one slot's, the first and the last of a direction another's.
    TwoSlots {
        /// Of the inner bays.
        inner: usize,
        /// Of the outer bays along x and along y; the inner one where there are none of their own.
        border: [usize; 2],
    },
    /// Square cells of the pitch that was asked for.
    Pitch,
    /// Square cells of the last pitch on the way to a better one that the margins, or what is near, allow.
    LastAllowed,
    /// Square cells of the pitch that leaves the same margin all round.
    EvenMargins,
    /// The largest square cells that leave the least margin in both directions.
    LeastMargins,
    /// Cells as wide and as high as whole numbers of them fill the inside but for the least margin;
    /// not square.
    Fill,
    /// Cells of one clear width and one clear height that fill the inside without a strip at the frame, whose
    /// inner faces close the outermost; their count has these in it.
    FrameCloses {
        /// Whether they come out square.
        square: bool,
    },
}

impl Ruling {
    /// Those that are easier at a sled come first: every step over the key in one slot, then in two, then
    /// square cells by whatever else the sled has; cells that are not square; those that the frame closes last.
    pub fn tier(self) -> usize {
        match self {
            Ruling::OneSlot { .. } => 0,
            Ruling::TwoSlots { .. } => 1,
            Ruling::Pitch | Ruling::LastAllowed | Ruling::EvenMargins | Ruling::LeastMargins => 2,
            Ruling::Fill => 3,
            Ruling::FrameCloses { .. } => 4,
        }
    }
}

/// Uprights and cross strips that go into an inside. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// How its bays come about.
    pub ruling: Ruling,
    /// Of the inner bays along x and along y.
    pub pitch: [f64; 2],
    /// Of the first and last bay along x and along y; the pitch where these are like the others.
    pub border: [f64; 2],
    /// Bays side by side, all of them.
    pub columns: usize,
    /// Bays above each other, all of them.
    pub rows: usize,
    /// Inner face to the outermost centre line: left and right, below and above.
    pub margin: [f64; 2],
}

impl Candidate {
    /// How far the pitch, in the worse direction, is from the one that is wanted; zero where none is.
    pub fn off_pitch(&self, wanted: Option<f64>) -> f64 {
        let off = |wanted: f64| {
            let each = self.pitch.map(|pitch| (pitch - wanted).abs());
            each.into_iter().fold(0.0, f64::max)
        };
        wanted.map_or(0.0, off)
    }

    /// By how much what is seen along x differs from what is seen along y: the margins, and the
    /// outermost bays.
    pub fn unevenness(&self) -> f64 {
        let apart = |[x, y]: [f64; 2]| (x - y).abs();
        apart(self.margin) + apart(self.border)
    }

    /// Whether the outermost bays along an axis (0 is x) are not like the others.
    pub fn has_border(&self, axis: usize) -> bool {
        match self.ruling {
            Ruling::TwoSlots { inner, border } => {
                border.get(axis).is_some_and(|slot| *slot != inner)
            }
            _ => false,
        }
    }
}
