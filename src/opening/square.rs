//! Upright strips and bays in a width: closed forms of one direction, and of both together.
//!
//! The width `W` is that between the frame's inner faces, `t` a strip's thickness, `p` a pitch, `m` the
//! margin from the frame to the outermost centre line. With n bays between the outermost strips
//! `W = n p + 2 m`. Where the frame itself closes the outermost cells, N cells stand between N - 1 strips.

use super::size::Size;
use crate::geometry::SAME_POSITION_MM;

/// What closes the outermost cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// A strip, whose centre line lies at least this far from the frame's inner face, mm; half a
    /// strip's thickness where it lies against the frame.
    Strip {
        /// Frame's inner face to the outermost centre line.
        margin: f64,
    },
    /// The frame: its inner face is a wall of the outermost cells.
    Frame {
        /// Of a strip, seen from the front, mm.
        thickness: f64,
    },
}

impl Edge {
    /// What N cells of pitch p may take up: `N p <= room`.
    ///
    /// Between strips N bays take N p and leave `W - N p >= 2 m`. Within the frame, N cells of clear width
    /// p - t and N - 1 strips take `N (p - t) + (N - 1) t = N p - t`, which is at most W.
    pub fn room(self, inside: f64) -> f64 {
        match self {
            Edge::Strip { margin } => inside - 2.0 * margin,
            Edge::Frame { thickness } => inside + thickness,
        }
    }

    /// Bays between strips, of so many cells.
    pub fn bays(self, cells: usize) -> usize {
        match self {
            Edge::Strip { .. } => cells,
            Edge::Frame { .. } => cells.saturating_sub(2),
        }
    }
}

/// The pitch at which so many equal cells fill a width, mm: `p = (W - 2 m) / n` between strips,
/// `p = (W + t) / N` within a frame. See [`Edge::room`].
pub fn pitch_of(inside: f64, cells: usize, edge: Edge) -> f64 {
    edge.room(inside) / cells as f64
}

/// The most cells of a pitch that a width holds: `floor(room / p)`.
pub fn most_bays(inside: f64, pitch: f64, edge: Edge) -> usize {
    whole(edge.room(inside), pitch)
}

/// The margin that so many cells leave at both sides, mm: `m = (W - n p) / 2`, n the bays between strips.
pub fn margin(inside: f64, pitch: f64, cells: usize, edge: Edge) -> f64 {
    (inside - edge.bays(cells) as f64 * pitch) / 2.0
}

/// How often a length goes into another; one that lacks less than [`SAME_POSITION_MM`] counts.
fn whole(room: f64, length: f64) -> usize {
    let times = ((room + SAME_POSITION_MM) / length).floor();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` saturates
    if length > 0.0 {
        times.max(0.0) as usize
    } else {
        0
    }
}

/// Bays of a pitch, and one bay at each side that takes what is left over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BorderFit {
    /// Bays of the pitch.
    pub inner: usize,
    /// Pitch of the two bays at the sides, mm.
    pub border: f64,
}

/// The most bays of a pitch between two equal border bays of at least `least`; nothing where not even
/// these have room.
///
/// `W - 2 m = k p + 2 b`, so `b = (W - 2 m - k p) / 2`, and `b >= least` holds for
/// `k <= (W - 2 m - 2 least) / p`. With the greatest k the border lies between `least` and
/// `least + p / 2`.
pub fn border_bays(inside: f64, pitch: f64, margin: f64, least: f64) -> Option<BorderFit> {
    let room = inside - 2.0 * margin;
    if room < 2.0 * least - SAME_POSITION_MM {
        return None;
    }
    let inner = whole(room - 2.0 * least, pitch);
    Some(BorderFit {
        inner,
        border: (room - inner as f64 * pitch) / 2.0,
    })
}

/// Margins that are wanted, from the frame's inner face to the outermost centre line, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarginRange {
    /// At least.
    pub least: f64,
    /// At most.
    pub most: f64,
}

impl MarginRange {
    fn holds(self, margin: f64) -> bool {
        (self.least - SAME_POSITION_MM..=self.most + SAME_POSITION_MM).contains(&margin)
    }
}

/// Bays in both directions. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareFit {
    /// Along x and y; equal for square cells.
    pub pitch: [f64; 2],
    /// Side by side.
    pub columns: usize,
    /// Above each other.
    pub rows: usize,
    /// Beside and above: inner face to the outermost centre line.
    pub margin: [f64; 2],
}

/// All ways to lay square cells with the same margin all round, least difference of columns and rows
/// first.
///
/// `W = nx p + 2 m` and `H = ny p + 2 m` give `W - H = (nx - ny) p`: for every whole difference d that has
/// the sign of W - H one pitch, `p = (W - H) / d`, and for it every nx whose margin `m = (W - nx p) / 2` is
/// in the range. Where W = H, d is 0 and every pitch does: none is found here; see [`pitch_of`].
pub fn equal_margins(
    inside: Size,
    pitches: std::ops::RangeInclusive<f64>,
    margins: MarginRange,
) -> Vec<SquareFit> {
    let over = inside.width - inside.height;
    let mut found = Vec::new();
    if over.abs() < SAME_POSITION_MM || *pitches.start() <= 0.0 {
        return found;
    }
    for difference in 1..=whole(over.abs(), *pitches.start()) {
        let pitch = over.abs() / difference as f64;
        if pitch > *pitches.end() + SAME_POSITION_MM {
            continue;
        }
        let edge = Edge::Strip {
            margin: margins.least,
        };
        for short in 1..=most_bays(inside.width.min(inside.height), pitch, edge) {
            let long = short + difference;
            let (columns, rows) = if over > 0.0 {
                (long, short)
            } else {
                (short, long)
            };
            let both = margin(inside.width, pitch, columns, edge);
            if margins.holds(both) {
                found.push(SquareFit {
                    pitch: [pitch; 2],
                    columns,
                    rows,
                    margin: [both; 2],
                });
            }
        }
    }
    found
}

/// Cells that are all but square and fill an inside, the least different pitches first.
///
/// Exactly square cells of the same pitch fill both directions only where the rooms are as nx to ny. For
/// every number of rows the nearest number of columns is that with `nx = round(ny roomx / roomy)`; what
/// it misses is the difference of both pitches.
pub fn nearly_square(
    inside: Size,
    edge: Edge,
    pitches: std::ops::RangeInclusive<f64>,
) -> Vec<SquareFit> {
    let rooms = [edge.room(inside.width), edge.room(inside.height)];
    let mut found = Vec::new();
    if *pitches.start() <= 0.0 || rooms.iter().any(|room| *room <= 0.0) {
        return found;
    }
    for rows in 1..=whole(rooms[1], *pitches.start()) {
        let columns = (rows as f64 * rooms[0] / rooms[1]).round();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let columns = columns as usize;
        if columns == 0 {
            continue;
        }
        let pitch = [rooms[0] / columns as f64, rooms[1] / rows as f64];
        if pitch.iter().all(|pitch| pitches.contains(pitch)) {
            found.push(SquareFit {
                pitch,
                columns,
                rows,
                margin: [
                    margin(inside.width, pitch[0], columns, edge),
                    margin(inside.height, pitch[1], rows, edge),
                ],
            });
        }
    }
    let misfit = |fit: &SquareFit| (fit.pitch[0] - fit.pitch[1]).abs();
    found.sort_by(|a, b| misfit(a).total_cmp(&misfit(b)));
    found
}

/// A grid whose pitch is that of a rack's slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlotFit {
    /// Which slot, from 0.
    pub slot: usize,
    /// What it makes.
    pub fit: SquareFit,
}

/// All grids of equal square bays at a slot's pitch, as measured, whose margins are in the range: the
/// least different margins first, and of those that are alike the one with fewer bays.
///
/// For a slot s, `m = (W - n s) / 2` lies in the range for n from `(W - 2 most) / s` to
/// `(W - 2 least) / s`, in each direction by itself.
///
/// A slot that is out by e puts every bay out by e, and as bays go out from the middle, each margin by
/// `- n e / 2`.
pub fn on_one_slot(inside: Size, slots: &[f64], margins: MarginRange) -> Vec<SlotFit> {
    let mut found = Vec::new();
    for (slot, &pitch) in slots.iter().enumerate() {
        let counts = |size: f64| {
            let edge = Edge::Strip {
                margin: margins.least,
            };
            (1..=most_bays(size, pitch, edge))
                .rev()
                .map(move |count| (count, margin(size, pitch, count, edge)))
                .take_while(move |(_, margin)| margins.holds(*margin))
        };
        for (columns, beside) in counts(inside.width) {
            for (rows, above) in counts(inside.height) {
                found.push(SlotFit {
                    slot,
                    fit: SquareFit {
                        pitch: [pitch; 2],
                        columns,
                        rows,
                        margin: [beside, above],
                    },
                });
            }
        }
    }
    let rank = |found: &SlotFit| {
        let [beside, above] = found.fit.margin;
        ((beside - above).abs(), found.fit.columns * found.fit.rows)
    };
    found.sort_by(|a, b| {
        let (a, b) = (rank(a), rank(b));
        a.0.total_cmp(&b.0).then(a.1.cmp(&b.1))
    });
    found
}

/// One direction with inner bays at one slot and a border bay at each side at another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoSlotFit {
    /// Slot of the border bays, from 0.
    pub border: usize,
    /// Slot of the inner bays, from 0.
    pub inner: usize,
    /// Inner bays.
    pub bays: usize,
    /// Inner face to the outermost centre line, mm.
    pub margin: f64,
}

/// All of these whose margin is in the range: `m = (W - 2 border - k inner) / 2`, the most bays first.
pub fn on_two_slots(inside: f64, slots: &[f64], margins: MarginRange) -> Vec<TwoSlotFit> {
    let mut found = Vec::new();
    for (border, &outer) in slots.iter().enumerate() {
        for (inner, &pitch) in slots.iter().enumerate() {
            if border == inner {
                continue;
            }
            let most = whole(inside - 2.0 * outer - 2.0 * margins.least, pitch);
            let left = |bays: usize| (inside - 2.0 * outer - bays as f64 * pitch) / 2.0;
            let fits = (1..=most).rev().map(|bays| TwoSlotFit {
                border,
                inner,
                bays,
                margin: left(bays),
            });
            found.extend(fits.take_while(|fit| margins.holds(fit.margin)));
        }
    }
    found.sort_by_key(|fit| std::cmp::Reverse(fit.bays));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[track_caller]
    fn near(found: f64, wanted: f64) {
        assert!(
            approx_eq!(f64, found, wanted, epsilon = 5.1e-5),
            "{found} for {wanted}"
        );
    }

    #[test]
    fn cells_within_a_frame_and_between_strips() {
        // Eleven cells and ten strips of 3.2: 437 - 32 = 405, a cell 36.8182.
        let frame = Edge::Frame { thickness: 3.2 };
        let pitch = pitch_of(437.0, 11, frame);
        near(pitch, 40.0182);
        near(pitch - 3.2, 36.8182);
        // The first strip's centre: a cell and half a strip.
        near(margin(437.0, pitch, 11, frame), 38.4182);
        assert_eq!(frame.bays(11), 9);
        // Twelve strips, the outer two against the frame.
        let strip = Edge::Strip { margin: 1.6 };
        let pitch = pitch_of(437.0, 11, strip);
        near(pitch, 39.4364);
        near(pitch - 3.2, 36.2364);
        near(margin(437.0, pitch, 11, strip), 1.6);
    }

    #[test]
    fn a_pitch_that_is_kept() {
        // At least 12 clear beside a strip of 3.2.
        let edge = Edge::Strip { margin: 13.6 };
        assert_eq!(most_bays(437.0, 38.0, edge), 10);
        let left = margin(437.0, 38.0, 10, edge);
        near(left, 28.5);
        near(left - 1.6, 26.9);
        // What fits exactly fits, whatever binary fractions make of it.
        assert_eq!(most_bays(0.3, 0.1, Edge::Strip { margin: 0.0 }), 3);
    }

    #[test]
    fn square_cells_with_one_margin_all_round() {
        let inside = Size {
            width: 622.0,
            height: 410.0,
        };
        let margins = MarginRange {
            least: 10.0,
            most: 26.0,
        };
        let found = equal_margins(inside, 36.0..=48.0, margins);
        assert_eq!(found.len(), 1, "{found:?}");
        near(found[0].pitch[0], 42.4);
        near(found[0].margin[0], 14.2);
        assert_eq!((found[0].columns, found[0].rows), (14, 9));
        let turned = Size {
            width: 410.0,
            height: 622.0,
        };
        let found = equal_margins(turned, 36.0..=48.0, margins);
        assert_eq!((found[0].columns, found[0].rows), (9, 14));
    }

    #[test]
    fn all_but_square_cells_without_margins() {
        let inside = Size {
            width: 700.0,
            height: 455.0,
        };
        let found = nearly_square(inside, Edge::Frame { thickness: 4.0 }, 25.0..=45.0);
        assert_eq!((found[0].columns, found[0].rows), (23, 15));
        near(found[0].pitch[0], 30.6087);
        near(found[0].pitch[1], 30.6);
    }

    #[test]
    fn the_rest_to_the_border() {
        // Border bays at least 15 clear of strips of 4.
        let fit = border_bays(512.0, 41.0, 2.0, 19.0).unwrap();
        assert_eq!(fit.inner, 11);
        near(fit.border, 28.5);
        assert_eq!(border_bays(30.0, 41.0, 2.0, 19.0), None);
    }

    const SLOTS: [f64; 4] = [27.96, 34.05, 41.02, 47.93];

    #[test]
    fn pitches_of_a_rack() {
        let inside = Size {
            width: 589.0,
            height: 372.0,
        };
        let margins = MarginRange {
            least: 10.0,
            most: 30.0,
        };
        let found = on_one_slot(inside, &SLOTS, margins);
        let wanted = [
            (0, 20, 12, 14.90, 18.24),
            (2, 13, 8, 27.87, 21.92),
            (1, 16, 10, 22.10, 15.75),
        ];
        for (slot, columns, rows, beside, above) in wanted {
            let fit = found.iter().find(|fit| fit.slot == slot).unwrap();
            assert_eq!((fit.fit.columns, fit.fit.rows), (columns, rows));
            near(fit.fit.margin[0], beside);
            near(fit.fit.margin[1], above);
        }
        assert_eq!(found[0].slot, 0);
        let apart = |fit: &SlotFit| (fit.fit.margin[0] - fit.fit.margin[1]).abs();
        assert!(found.is_sorted_by(|a, b| apart(a) <= apart(b)));
    }

    #[test]
    fn border_bays_on_another_slot() {
        let margins = MarginRange {
            least: 13.0,
            most: 15.0,
        };
        let found = on_two_slots(589.0, &SLOTS, margins);
        let nearest = found
            .iter()
            .min_by(|a, b| (a.margin - 14.0).abs().total_cmp(&(b.margin - 14.0).abs()))
            .unwrap();
        assert_eq!((nearest.border, nearest.inner, nearest.bays), (2, 3, 10));
        near(nearest.margin, 13.83);
    }
}
