//! What it takes to bend a strip into its notches. Millimetres, N.

use super::form::Form;
use super::joints::Predicted;
use super::panel::Direction;
use crate::instructions::fit::Bending;

/// Young's modulus along the grain of common softwoods and middling hardwoods, about; from memory, N/mm2.
const STIFFNESS: f64 = 10_000.0;

/// The strip that has to bend most: over three holders in a row, how far the middle notch lies beside the
/// line through the outer two, each holder shifted to the mean of its own notches; with two standard
/// deviations. A force in the middle of the span L of a beam on two supports bends it by
/// `F L^3 / (48 E I)` (any handbook), with `I = d t^3 / 12` of a strip t thick and d deep bent sideways.
/// Notches weaken it, so that less will do.
pub(super) fn bending(predicted: &Predicted<'_>, directions: &[Direction; 2]) -> Bending {
    let section = &predicted.lattice.section;
    let inertia = section.depth * section.thickness.powi(3) / 12.0;
    let none = Bending {
        deflection_mm: 0.0,
        span_mm: 0.0,
        force_n: 0.0,
        stiffness: STIFFNESS,
    };
    let all = directions.iter().flat_map(|direction| {
        let rows = residuals(predicted, direction);
        let triples = 1..direction.along.len().saturating_sub(1);
        triples.flat_map(move |at| {
            let span = direction.along.get(at + 1).unwrap_or(&0.0)
                - direction.along.get(at - 1).unwrap_or(&0.0);
            let [low, middle, high] =
                [at - 1, at, at + 1].map(|row| rows.get(row).cloned().unwrap_or_default());
            let mates = low.into_iter().zip(middle).zip(high);
            let bent: Vec<(f64, f64)> = mates
                .map(|((low, middle), high)| {
                    let beside = middle.plus(-0.5, &low).plus(-0.5, &high);
                    (
                        beside.known.abs() + beside.expanded(&predicted.sources),
                        span.abs(),
                    )
                })
                .collect();
            bent
        })
    });
    let bent = all.map(|(deflection, span)| Bending {
        deflection_mm: deflection,
        span_mm: span,
        force_n: force(deflection, span, inertia),
        stiffness: STIFFNESS,
    });
    bent.max_by(|a, b| a.force_n.total_cmp(&b.force_n))
        .unwrap_or(none)
}

/// In the middle of a beam on two supports, N.
fn force(deflection: f64, span: f64, inertia: f64) -> f64 {
    48.0 * STIFFNESS * inertia * deflection / span.powi(3).max(1e-9)
}

/// Holder by holder, how far each notch is off the mean of its holder's.
fn residuals(predicted: &Predicted<'_>, direction: &Direction) -> Vec<Vec<Form>> {
    let rows = direction
        .joints
        .chunks(direction.mates.len().max(1))
        .map(|row| {
            let offs: Vec<&Form> = row
                .iter()
                .filter_map(|at| Some(&predicted.joints.get(*at)?.off))
                .collect();
            let mean = Form::mean(offs.iter().copied());
            offs.iter().map(|off| off.plus(-1.0, &mean)).collect()
        });
    rows.collect()
}

#[cfg(test)]
mod tests {
    /// 3 by 12 mm bent by 0.1 mm over 80 mm: I = 27 mm4, F = 48 x 10000 x 27 x 0.1 / 512000 = 2.53 N.
    #[test]
    fn a_beam_by_hand() {
        assert!((super::force(0.1, 80.0, 27.0) - 2.531_25).abs() < 1e-9);
    }
}
