//! What decides about most panels without a linear program.

use super::joints::Joints;

/// What the bounds say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It goes together, even with straight and square strips.
    Closes,
    /// It does not.
    DoesNot,
    /// Only the linear program knows.
    Open,
}

/// What can be said of a panel quickly, and is exact where it is said.
pub fn quick_verdict(joints: &Joints) -> Verdict {
    if joints.half_room.iter().any(|half| *half < 0.0) {
        return Verdict::DoesNot;
    }
    if goes_together_unslanted(joints) {
        return Verdict::Closes;
    }
    if some_minor_forbids(joints) {
        return Verdict::DoesNot;
    }
    Verdict::Open
}

/// Changes smaller than this are rounding, mm.
const NOTHING_MM: f64 = 1e-12;

/// Whether shifts and places exist without slants. Then `X_i - s_j <= e_ij + h_ij` and
/// `s_j - X_i <= h_ij - e_ij` are differences only, and such a system has a solution just where no ring of
/// them adds up to less than nothing: potentials that start at zero come to rest within as many rounds
/// as there are strips (Bellman and Ford, any textbook on shortest ways).
fn goes_together_unslanted(joints: &Joints) -> bool {
    let mut places = vec![0.0_f64; joints.mates];
    let mut shifts = vec![0.0_f64; joints.along.len()];
    for _ in 0..=(joints.mates + joints.along.len()) {
        let mut moved = false;
        for (holder, mate, off, half) in joints.each() {
            let (Some(place), Some(shift)) = (places.get_mut(mate), shifts.get_mut(holder)) else {
                continue;
            };
            let most = *shift + off + half;
            if *place > most + NOTHING_MM {
                *place = most;
                moved = true;
            }
            let most = *place - off + half;
            if *shift > most + NOTHING_MM {
                *shift = most;
                moved = true;
            }
        }
        if !moved {
            return true;
        }
    }
    false
}

/// Whether two mates and three holders alone do not go together, slants and all. With D the difference of
/// two mates' offsets in holders j, k, m and w = (y_k - y_m, y_m - y_j, y_j - y_k), places, shifts and
/// slants fall out of `sum w D`, so that the residuals have to make it up:
/// `|sum w D| <= sum |w| (h of both mates)`. Holders are taken first, middle, last and one after the other.
fn some_minor_forbids(joints: &Joints) -> bool {
    let holders = joints.along.len();
    if holders < 3 {
        return false;
    }
    let neighbours = (0..holders - 2).map(|at| [at, at + 1, at + 2]);
    let wide = (1..holders - 1).map(|middle| [0, middle, holders - 1]);
    let triples: Vec<[usize; 3]> = neighbours.chain(wide).collect();
    triples.iter().any(|triple| triple_forbids(joints, *triple))
}

/// See [`some_minor_forbids`]: for all pairs of mates, the sum falls apart into one for each mate.
fn triple_forbids(joints: &Joints, triple: [usize; 3]) -> bool {
    let y = |at: usize| joints.along.get(at).copied().unwrap_or(0.0);
    let [j, k, m] = triple;
    let weights = [y(k) - y(m), y(m) - y(j), y(j) - y(k)];
    // Of each mate its share of the sum, and the room that it has for it.
    let of_mate = |mate: usize| {
        let each = triple.iter().zip(weights);
        each.fold((0.0, 0.0), |(sum, room), (holder, w)| {
            (
                sum + w * joints.off(*holder, mate),
                room + w.abs() * joints.half_room(*holder, mate),
            )
        })
    };
    // The pair that differs most for its room: greatest of (sum - room) and least of (sum + room).
    let mut low = f64::INFINITY;
    let mut high = f64::NEG_INFINITY;
    for mate in 0..joints.mates {
        let (sum, room) = of_mate(mate);
        high = high.max(sum - room);
        low = low.min(sum + room);
    }
    high - low > NOTHING_MM * (1.0 + weights.iter().map(|w| w.abs()).sum::<f64>())
}

#[cfg(test)]
mod tests {
    use super::super::{closes, margin};
    use super::*;

    /// Offsets from a small generator of its own.
    fn made_up(seed: usize, holders: usize, mates: usize, half: f64) -> Joints {
        let mut state = (seed as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
        let mut next = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        let off: Vec<f64> = (0..holders * mates).map(|_| 0.1 * next()).collect();
        let half_room = (0..holders * mates)
            .map(|_| half * (1.0 + 0.2 * next()))
            .collect();
        let along = (0..holders)
            .map(|at| 37.0 * at as f64 + 5.0 * next())
            .collect();
        Joints {
            along,
            mates,
            off,
            half_room,
        }
    }

    /// Wherever the bounds decide they decide as the program does, and they decide often.
    #[test]
    fn bounds_agree_with_the_program() {
        let mut decided = [0, 0, 0];
        for seed in 0..300 {
            let half = 0.02 + 0.04 * (seed % 10) as f64 / 10.0;
            let joints = made_up(seed, 3 + seed % 5, 3 + seed % 4, half);
            let spare = margin(&joints);
            match quick_verdict(&joints) {
                Verdict::Closes => {
                    decided[0] += 1;
                    assert!(spare > -1e-9, "{seed}: {spare}");
                }
                Verdict::DoesNot => {
                    decided[1] += 1;
                    assert!(spare < 1e-9, "{seed}: {spare}");
                }
                Verdict::Open => decided[2] += 1,
            }
            assert_eq!(closes(&joints), spare >= 0.0, "{seed}");
        }
        assert!(decided[0] > 40 && decided[1] > 40, "{decided:?}");
    }
}
