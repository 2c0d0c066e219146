//! How the laps fit. Millimetres, radians.

use super::blade::{cut_width, drawn_width};
use super::slant::Slant;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::sled::LapFit;
use crate::lattice::Lattice;
use crate::machines::Sled;
use crate::phrase;
use crate::units::{Mm, Rad};

/// How loose the laps come out, with the notches as they are cut.
pub(super) fn lap_fit(lattice: &Lattice, sled: &Sled, warnings: &mut Vec<Finding>) -> LapFit {
    let width = drawn_width(lattice);
    let thickness = lattice.section.thickness;
    let clearance_mm = cut_width(lattice, sled) - thickness;
    // Straight strips in triangles cannot turn against each other.
    let stiff = lattice.families.len() > 2;
    let racking = if clearance_mm > 0.0 && !stiff {
        (clearance_mm / (thickness * least_seat(lattice))).atan()
    } else {
        0.0
    };
    if sled.blade.kerf > width + SAME_POSITION_MM {
        let mut text = phrase!(
            "the kerf of {} is wider than the notch of {}: ",
            Mm(sled.blade.kerf),
            Mm(width)
        );
        text.append(if clearance_mm > 0.0 {
            let mut loose = phrase!("laps will be {} loose", Mm(clearance_mm));
            if !stiff {
                loose.append(phrase!(", and the bare grid can rack by {}", Rad(racking)));
            }
            loose
        } else {
            phrase!(
                "the press fit will be {} instead of {}",
                Mm(-clearance_mm),
                Mm(thickness - width)
            )
        });
        warnings.push(
            Finding::warning("kerf-wider-than-notch", "blade.kerf", text)
                .hint("a thinner blade, or strips as thick as the kerf"),
        );
    }
    LapFit {
        clearance_mm,
        racking,
    }
}

/// Length of the seat that holds a mate from turning, as a multiple of the thickness, where it is
/// shortest: 1 at square laps.
///
/// A slot's walls are `t / sin A` long and shifted against each other by `t / tan A`. A mate that
/// turns one way is held by the ends that lie farther apart, `t (1 + cos A) / sin A`, the other
/// way by those that lie nearer, `t (1 - cos A) / sin A = t tan (A / 2)` for an acute A.
fn least_seat(lattice: &Lattice) -> f64 {
    let notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    notches.map(Slant::of).fold(1.0, |least: f64, slant| {
        if slant.is_square() {
            least
        } else {
            least.min((slant.to_blade() / 2.0).tan())
        }
    })
}
