//! The margin of an assembly, by a linear program.

use super::joints::Joints;
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

/// The margin: the least of half the room less the residual, over all joints of the best assembly, mm; below
/// zero where it does not go together. Minus infinity where the program finds no answer, which it always has.
///
/// Written in its primal form: the dual loses digits. Offsets are divided by the greatest of them, so that
/// the solver's tolerance is one of these; slants go by half the panel's length. The answer is worked out
/// again from the assembly that was found.
pub fn margin(joints: &Joints) -> f64 {
    if joints.off.is_empty() {
        return f64::INFINITY;
    }
    let off = joints.off.iter().chain(&joints.half_room);
    let scale = off.fold(1e-9_f64, |most, one| most.max(one.abs()));
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let free = (f64::NEG_INFINITY, f64::INFINITY);
    let worst = problem.add_var(1.0, free);
    let mut many = |count: usize| -> Vec<Variable> {
        (0..count).map(|_| problem.add_var(0.0, free)).collect()
    };
    let (places, slants) = (many(joints.mates), many(joints.mates));
    let shifts = many(joints.along.len());
    let along = centred(&joints.along);
    let fixed = fixed(joints.along.len());
    for (holder, mate, off, half) in joints.each() {
        let (Some(place), Some(slant), Some(shift), Some(y)) = (
            places.get(mate),
            slants.get(mate),
            shifts.get(holder),
            along.get(holder),
        ) else {
            continue;
        };
        for side in [1.0, -1.0] {
            let mut row = vec![(*place, side), (*slant, side * y), (worst, -1.0)];
            if !fixed.contains(&holder) {
                row.push((*shift, -side));
            }
            let rest = (half + side * off) / scale;
            problem.add_constraint(row.as_slice(), ComparisonOp::Le, rest);
        }
    }
    let solved = problem
        .solve()
        .ok()
        .and_then(|outcome| outcome.into_solution().ok());
    let Some(solved) = solved else {
        return f64::NEG_INFINITY;
    };
    let value = |all: &[Variable], at: usize| all.get(at).map_or(0.0, |one| solved.var_value(*one));
    let spare = joints.each().map(|(holder, mate, off, half)| {
        let shift = if fixed.contains(&holder) {
            0.0
        } else {
            value(&shifts, holder)
        };
        let slanted = value(&slants, mate) * along.get(holder).unwrap_or(&0.0);
        half - (scale * (value(&places, mate) + slanted - shift) - off).abs()
    });
    spare.fold(f64::INFINITY, f64::min)
}

/// The first and the last holder stay where they are: that takes away the two ways to move all strips that
/// change nothing.
fn fixed(holders: usize) -> Vec<usize> {
    match holders {
        0 => Vec::new(),
        _ => vec![0, holders - 1],
    }
}

/// Places from -1 to 1.
fn centred(along: &[f64]) -> Vec<f64> {
    let low = along.iter().copied().fold(f64::INFINITY, f64::min);
    let high = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let half = ((high - low) / 2.0).max(1e-9);
    along
        .iter()
        .map(|at| (at - (low + high) / 2.0) / half)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(off: &[f64], half: f64) -> Joints {
        let side = 3;
        Joints {
            along: (0..off.len() / side).map(|at| 40.0 * at as f64).collect(),
            mates: side,
            off: off.to_vec(),
            half_room: vec![half; off.len()],
        }
    }

    #[test]
    fn like_strips_spare_all_of_their_room() {
        let like = square(&[0.1, -0.2, 0.3, 0.1, -0.2, 0.3, 0.1, -0.2, 0.3], 0.025);
        assert!((margin(&like) - 0.025).abs() < 1e-10);
        // Shifted and stepped aside in a straight line they are the same.
        let moved = square(&[0.1, -0.2, 0.3, 0.3, 0.0, 0.5, 0.5, 0.2, 0.7], 0.025);
        assert!((margin(&moved) - 0.025).abs() < 1e-10);
    }

    /// One notch of the middle holder off by d: on two slants that is d / 2 to be shared by both sides, the
    /// third point of a line; the residual is |sum w D| / (2 sum |w|) with w = 1, -2, 1 and D = d against
    /// two mates that are not: 2 d / 8 = d / 4.
    #[test]
    fn one_notch_that_is_off() {
        let off = square(&[0.0, 0.0, 0.0, 0.08, 0.0, 0.0, 0.0, 0.0, 0.0], 0.025);
        assert!((margin(&off) - (0.025 - margin_lost(&off))).abs() < 1e-10);
        assert!(margin_lost(&off) >= 0.08 / 4.0 - 1e-10);
        assert!(margin_lost(&off) <= 0.08 / 2.0);
    }

    fn margin_lost(joints: &Joints) -> f64 {
        0.025 - margin(joints)
    }
}
