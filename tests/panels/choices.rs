//! Panels chosen for an opening against a brute force over slots, counts and pitches, with arithmetic of
//! its own.
#![allow(clippy::float_cmp, reason = "slots are compared with themselves")]

use lapwright::opening::{BayWish, Candidate, Ruling, Size, candidates, worth_showing};
use proptest::prelude::*;

/// What a candidate is ordered by: tier, what a person would see, cells.
fn seen(found: &Candidate, wish: &BayWish) -> (usize, f64) {
    let tier = match found.ruling {
        Ruling::OneSlot { .. } => 0,
        Ruling::TwoSlots { .. } => 1,
        Ruling::Fill => 3,
        _ => 2,
    };
    let [px, py] = found.pitch;
    let wanted = wish.pitch.unwrap();
    let off = (px - wanted).abs().max((py - wanted).abs());
    let margins = (found.margin[0] - found.margin[1]).abs();
    let borders = (found.border[0] - found.border[1]).abs();
    (tier, off + margins + borders)
}

/// A panel that a brute force found.
struct Tried {
    pitch: f64,
    outer: [f64; 2],
    margin: [f64; 2],
}

impl Tried {
    fn off(&self, wanted: f64) -> f64 {
        (self.pitch - wanted).abs()
            + (self.margin[0] - self.margin[1]).abs()
            + (self.outer[0] - self.outer[1]).abs()
    }
}

/// Whether a margin will do: at least the least one; at most the greatest, or one pitch more.
fn will_do(margin: f64, pitch: f64, wish: &BayWish) -> bool {
    let most = wish.most_margin.unwrap_or(wish.least_margin + pitch);
    margin > wish.least_margin - 1e-6 && margin < most + 1e-6
}

fn is_near(pitch: f64, wanted: f64) -> bool {
    (pitch - wanted).abs() <= wanted / 4.0 + 1e-6
}

/// All layouts on slots: bays laid down one after the other.
fn on_slots(inside: Size, wish: &BayWish, two: bool) -> Vec<Tried> {
    let wanted = wish.pitch.unwrap();
    let sides = [inside.width, inside.height];
    let mut found = Vec::new();
    for &inner in wish.slots.iter().filter(|slot| is_near(**slot, wanted)) {
        let mut each: [Vec<(f64, f64)>; 2] = [Vec::new(), Vec::new()];
        for (side, laid) in sides.into_iter().zip(&mut each) {
            for &outer in &wish.slots {
                let own = outer != inner;
                if own && (outer < inner / 2.0 || outer > 1.5 * inner) {
                    continue;
                }
                for count in if own { 3..60 } else { 1..60 } {
                    let bays = (0..count).map(|bay| match bay == 0 || bay == count - 1 {
                        true => outer,
                        false => inner,
                    });
                    let margin = (side - bays.sum::<f64>()) / 2.0;
                    if will_do(margin, inner, wish) {
                        laid.push((outer, margin));
                    }
                }
            }
        }
        for &(outer_x, margin_x) in &each[0] {
            for &(outer_y, margin_y) in &each[1] {
                let with_borders = outer_x != inner || outer_y != inner;
                if with_borders == two {
                    found.push(Tried {
                        pitch: inner,
                        outer: [outer_x, outer_y],
                        margin: [margin_x, margin_y],
                    });
                }
            }
        }
    }
    found
}

/// Square cells of any pitch, tried in small steps.
fn of_any_pitch(inside: Size, wish: &BayWish, step: f64) -> Vec<Tried> {
    let wanted = wish.pitch.unwrap();
    let mut found = Vec::new();
    let mut pitch = wanted * 0.75;
    while pitch <= wanted * 1.25 {
        // More bays do not go in; with eight fewer no margin asked for here is narrow enough.
        let counts = |side: f64| {
            let most = (side / pitch).floor();
            let counts = (0..8).map(move |fewer| most - f64::from(fewer));
            counts.filter(|count| *count >= 1.0)
        };
        for columns in counts(inside.width) {
            for rows in counts(inside.height) {
                let beside = (inside.width - columns * pitch) / 2.0;
                let above = (inside.height - rows * pitch) / 2.0;
                if will_do(beside, pitch, wish) && will_do(above, pitch, wish) {
                    found.push(Tried {
                        pitch,
                        outer: [pitch; 2],
                        margin: [beside, above],
                    });
                }
            }
        }
        pitch += step;
    }
    found
}

fn least(all: &[Tried], wanted: f64) -> f64 {
    all.iter()
        .map(|tried| tried.off(wanted))
        .fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn nothing_better_is_found_by_brute_force(
        width in 150.0..900.0_f64,
        height in 150.0..900.0_f64,
        pitch in 25.0..60.0_f64,
        thickness in 2.0..5.0_f64,
        slots in prop::collection::vec(20.0..75.0_f64, 9),
        most in prop::option::of(4.0..40.0_f64),
    ) {
        let inside = Size { width, height };
        let least_margin = thickness / 2.0 + 2.0;
        let wish = BayWish {
            pitch: Some(pitch),
            columns: None,
            rows: None,
            least_margin,
            most_margin: most.map(|more| least_margin + more),
            least_pitch: thickness + 2.0,
            frame_closes: None,
            slots,
        };
        let all = candidates(inside, &wish);
        let best = |tier: usize| {
            let of_tier = all.iter().map(|found| seen(found, &wish)).filter(|seen| seen.0 == tier);
            of_tier.map(|seen| seen.1).fold(f64::INFINITY, f64::min)
        };
        // On slots both must find the same.
        for (tier, two) in [(0, false), (1, true)] {
            let tried = least(&on_slots(inside, &wish, two), pitch);
            let same = (best(tier) - tried).abs() < 1e-6 || best(tier) == tried;
            prop_assert!(same, "tier {tier}: {} for {tried}", best(tier));
        }
        // A pitch that no rule gives is moved to a full thousandth: so much may be lost.
        let tried = least(&of_any_pitch(inside, &wish, 0.05), pitch);
        prop_assert!(best(2) <= tried + 0.02, "{} for {tried}", best(2));

        let shown = worth_showing(all.clone(), Some(pitch), 5);
        prop_assert!(shown.len() <= 5 && shown.is_empty() == all.is_empty());
        let better = |a: (usize, f64), b: (usize, f64)| a.0 < b.0 || (a.0 == b.0 && a.1 < b.1 - 1e-5);
        if let Some(first) = shown.first() {
            let first = seen(first, &wish);
            for other in &all {
                prop_assert!(!better(seen(other, &wish), first), "{other:?}");
            }
        }
        for (one, other) in shown.iter().zip(shown.iter().skip(1)) {
            prop_assert!(!better(seen(other, &wish), seen(one, &wish)));
        }
        // What a tier has is shown, and everything fits: bays and margins fill the inside.
        for tier in 0..4 {
            let in_all = all.iter().any(|found| seen(found, &wish).0 == tier);
            let is_first = |found: &&Candidate| seen(found, &wish).0 == tier;
            let covered = shown.iter().any(|found| seen(found, &wish).0 < tier);
            prop_assert!(!in_all || covered || shown.iter().any(|found| is_first(&found)));
        }
        for found in &shown {
            let sums = [(found.columns, 0, width), (found.rows, 1, height)];
            for (count, axis, side) in sums {
                let inner = count.saturating_sub(2) as f64 * found.pitch[axis];
                let outer = count.min(2) as f64 * found.border[axis];
                let sum = inner + outer + 2.0 * found.margin[axis];
                prop_assert!((sum - side).abs() < 1e-6, "{found:?}");
                prop_assert!(found.margin[axis] > least_margin - 1e-6);
            }
        }
    }
}

/// Slots as measured.
const SLOTS: [f64; 4] = [27.96, 34.05, 41.02, 47.93];

fn wish(pitch: Option<f64>, margins: [f64; 2]) -> BayWish {
    BayWish {
        frame_closes: None,
        pitch,
        columns: None,
        rows: None,
        least_margin: margins[0],
        most_margin: Some(margins[1]),
        least_pitch: 5.0,
        slots: SLOTS.to_vec(),
    }
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 0.005, "{found} for {wanted}");
}

#[test]
fn three_slots_of_a_rack_by_hand() {
    // 589 - 20 x 27.96 = 29.8, 372 - 12 x 27.96 = 36.48: margins 14.90 and 18.24, 3.34 apart.
    // 13 and 8 of 41.02 leave 27.87 and 21.92; 16 and 10 of 34.05 leave 22.10 and 15.75.
    let inside = Size {
        width: 589.0,
        height: 372.0,
    };
    let wish = wish(None, [10.0, 30.0]);
    let one_slot = |found: &Candidate| matches!(found.ruling, Ruling::OneSlot { .. });
    let all: Vec<_> = candidates(inside, &wish)
        .into_iter()
        .filter(one_slot)
        .collect();
    let shown = worth_showing(all, None, 5);
    let wanted = [
        (27.96, 20, 12, 14.90, 18.24),
        (41.02, 13, 8, 27.87, 21.92),
        (34.05, 16, 10, 22.10, 15.75),
    ];
    for ((pitch, columns, rows, beside, above), found) in wanted.into_iter().zip(&shown) {
        assert_eq!((found.columns, found.rows), (columns, rows));
        near(found.pitch[0], pitch);
        near(found.margin[0], beside);
        near(found.margin[1], above);
    }
}

#[test]
fn outermost_bays_on_another_slot_by_hand() {
    // 589 - 2 x 41.02 - 10 x 47.93 = 27.66: a margin of 13.83, where 12 and 11 of 47.93 leave 6.92
    // and 30.89. The height is made so that nothing of one slot fits either.
    let inside = Size {
        width: 589.0,
        height: 589.0,
    };
    let wish = wish(Some(47.93), [13.0, 15.0]);
    let shown = worth_showing(candidates(inside, &wish), wish.pitch, 5);
    let first = &shown[0];
    let ruling = Ruling::TwoSlots {
        inner: 3,
        border: [2, 2],
    };
    assert_eq!((first.ruling, first.columns, first.rows), (ruling, 12, 12));
    near(first.margin[0], 13.83);
    near(first.margin[1], 13.83);
    // With room for wider margins one slot goes before two, though two leave the same margins.
    let wide = BayWish {
        most_margin: Some(31.0),
        ..wish
    };
    let shown = worth_showing(candidates(inside, &wide), wide.pitch, 5);
    assert_eq!(shown[0].ruling, Ruling::OneSlot { slot: 3 });
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]
    /// Where the frame closes the outermost cells, cells and strips laid down one after the other fill the
    /// inside, and every number of cells that does with a pitch that is near is found.
    #[test]
    fn the_frame_closes_the_outermost_cells(
        width in 150.0..900.0_f64,
        height in 150.0..900.0_f64,
        pitch in 25.0..60.0_f64,
        thickness in 2.0..5.0_f64,
    ) {
        let wish = BayWish {
            pitch: Some(pitch),
            columns: None,
            rows: None,
            least_margin: thickness,
            most_margin: None,
            least_pitch: thickness + 2.0,
            frame_closes: Some(thickness),
            slots: Vec::new(),
        };
        let inside = Size { width, height };
        let closed = |found: &Candidate| matches!(found.ruling, Ruling::FrameCloses { .. });
        let all: Vec<Candidate> = candidates(inside, &wish).into_iter().filter(closed).collect();
        let counts = |side: f64| (3..60).filter(|count| {
            let clear = (side - (f64::from(*count) - 1.0) * thickness) / f64::from(*count);
            is_near(clear + thickness, pitch)
        }).count();
        prop_assert_eq!(all.len(), counts(width) * counts(height));
        for found in all {
            for (axis, side) in [width, height].into_iter().enumerate() {
                let cells = [found.columns, found.rows][axis];
                let clear = found.pitch[axis] - thickness;
                let mut at = 0.0;
                for cell in 0..cells {
                    if cell == 1 {
                        // The first strip's middle.
                        prop_assert!((at - thickness / 2.0 - found.margin[axis]).abs() < 1e-6);
                    }
                    at += clear + if cell + 1 < cells { thickness } else { 0.0 };
                }
                prop_assert!((at - side).abs() < 1e-6, "{at} for {side}");
            }
        }
    }
}
