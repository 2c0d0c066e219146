//! Ways whose height changes, cut into pieces of one height.

/// Pieces are at most so high, mm, ...
const PIECE_HEIGHT_MM: f64 = 0.002;

/// ... but no more than so many on a way up or down.
const MOST_PIECES: usize = 1000;

/// Cuts a steady way from one height to another into steps below `top`: each with the height where it begins
/// and where it ends. A level way is one step.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
#[allow(clippy::float_cmp)] // exact: a level way has the same height at both ends
pub(super) fn steps_below(top: f64, [z0, z1]: [f64; 2], each: &mut dyn FnMut(f64, f64)) {
    let low = z0.min(z1);
    let high = z0.max(z1).min(top);
    if low >= top {
        return;
    }
    if z0 == z1 {
        return each(z0, z1);
    }
    let count = ((high - low) / PIECE_HEIGHT_MM)
        .ceil()
        .clamp(1.0, MOST_PIECES as f64) as usize;
    let height = |step: usize| match step {
        0 => high,
        _ if step == count => low,
        _ => high - (high - low) * step as f64 / count as f64,
    };
    for step in 0..count {
        if z1 < z0 {
            each(height(step), height(step + 1));
        } else {
            each(height(count - step), height(count - step - 1));
        }
    }
}
