//! Bays that a rack's slots give.

use super::bay_wish::{BayWish, WIDEST_BORDER};
use super::candidate::{Candidate, Ruling};
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::MOST_BAYS;
use crate::opening::size::Size;

/// One direction laid out: so many bays in all, the outermost by a slot of their own or not.
#[derive(Clone, Copy)]
struct Laid {
    border: usize,
    outer: f64,
    count: usize,
    margin: f64,
}

pub(super) fn slot_candidates(inside: Size, wish: &BayWish) -> Vec<Candidate> {
    let mut found = Vec::new();
    for (slot, &pitch) in wish.slots.iter().enumerate() {
        if !wish.is_near(pitch) {
            continue;
        }
        let across = laid(wish.columns, inside.width, wish, slot);
        let up = laid(wish.rows, inside.height, wish, slot);
        for x in &across {
            for y in &up {
                let ruling = if x.border == slot && y.border == slot {
                    Ruling::OneSlot { slot }
                } else {
                    Ruling::TwoSlots {
                        inner: slot,
                        border: [x.border, y.border],
                    }
                };
                found.push(Candidate {
                    ruling,
                    pitch: [pitch; 2],
                    border: [x.outer, y.outer],
                    columns: x.count,
                    rows: y.count,
                    margin: [x.margin, y.margin],
                });
            }
        }
    }
    found
}

/// All ways to lay out a direction with inner bays at a slot: `m = (W - n s) / 2` with equal bays,
/// `m = (W - 2 b - (n - 2) s) / 2` with outermost bays b, for every count whose margin will do.
fn laid(wanted: Option<usize>, inside: f64, wish: &BayWish, slot: usize) -> Vec<Laid> {
    let Some(&pitch) = wish.slots.get(slot) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (border, &outer) in wish.slots.iter().enumerate() {
        let fits = (pitch / 2.0..=pitch * WIDEST_BORDER).contains(&outer);
        let like_inner = border != slot && (outer - pitch).abs() < SAME_POSITION_MM;
        if border != slot && (!fits || like_inner) {
            continue;
        }
        let least = if border == slot { 1 } else { 3 };
        let margin = |count: usize| {
            let taken = match border == slot {
                true => count as f64 * pitch,
                false => 2.0 * outer + (count as f64 - 2.0) * pitch,
            };
            (inside - taken) / 2.0
        };
        let counts = wanted.map_or(least..=MOST_BAYS, |count| count.max(least)..=count);
        let counts =
            counts.take_while(|count| margin(*count) >= wish.least_margin - SAME_POSITION_MM);
        let laid = counts.map(|count| Laid {
            border,
            outer,
            count,
            margin: margin(count),
        });
        found.extend(laid.filter(|laid| wish.holds(laid.margin, pitch)));
    }
    found
}
