//! How wide the notches come out, and how the laps fit. Millimetres, radians.

use super::blade::cut_width;
use super::passes::{drawn_width, width_of};
use super::slant::Slant;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::instructions::sled::{LapFit, NotchFigures};
use crate::lattice::{Bundle, Lattice, Notch, NotchMate};
use crate::machines::Sled;
use crate::phrase;
use crate::planning::notch_figures::notch_figures;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;
use std::f64::consts::FRAC_PI_2;

/// The last digit that a length is printed with, and the best that a caliper tells of a kerf or a
/// strip. From memory, mm.
const TOLD_MM: f64 = 0.01;

/// A bundle's notches as they are cut. One pass has the notch's middle: what it cuts more or less than
/// drawn lies half at either edge.
pub(super) fn notches_as_cut(bundle: &Bundle, sled: &Sled) -> Vec<NotchFigures> {
    let as_cut = bundle.notches.iter().map(|notch| {
        let drawn = width_of(notch);
        let cut = cut_width(drawn, sled);
        let differs = cut.approx_ne(drawn, POSITION);
        let width = Slant::of(notch).along(cut);
        let width = if differs { width } else { notch.width };
        (Notch { width, ..*notch }, differs.then_some(notch.width))
    });
    let (notches, drawn): (Vec<Notch>, Vec<Option<f64>>) = as_cut.unzip();
    let mut figures = notch_figures(&notches);
    for (figures, drawn) in figures.iter_mut().zip(drawn) {
        figures.drawn_width_mm = drawn;
    }
    figures
}

/// How loose the laps come out.
pub(super) fn lap_fit(lattice: &Lattice, sled: &Sled, warnings: &mut Vec<Finding>) -> LapFit {
    let drawn = drawn_width(lattice);
    let thickness = lattice.section.thickness;
    let width = cut_width(drawn, sled);
    let racking = grid_racking(lattice, width);
    let fit = LapFit {
        clearance_mm: width - thickness,
        racking,
        racking_within: grid_racking(lattice, width + TOLD_MM) - racking,
    };
    if width > drawn + SAME_POSITION_MM {
        warnings.push(kerf_wider_than_notch(&fit, sled, drawn, thickness));
    }
    warnings.extend(fit_of_pieces(lattice, sled));
    fit
}

/// Notches for pieces that run over the strips which come out wider or narrower than drawn: of those the
/// narrowest.
fn fit_of_pieces(lattice: &Lattice, sled: &Sled) -> Option<Finding> {
    let notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    let of_pieces = notches.filter(|notch| notch.mate == NotchMate::Piece);
    let drawn = of_pieces.map(width_of).reduce(f64::min)?;
    let loose = cut_width(drawn, sled) - drawn;
    if loose <= -TOLD_MM {
        let text = phrase!(
            "notches for pieces that run over the strips come out {} narrower than the {} drawn, as one pass of a kerf of {} makes them: pieces press there",
            Mm(-loose),
            Mm(drawn),
            Mm(sled.blade.kerf)
        );
        let hint = "pieces as thick as the kerf less the clearance";
        let warning = Finding::warning("narrower-for-pieces", "blade.kerf", text);
        return Some(warning.hint(hint));
    }
    let text = phrase!(
        "the kerf of {} is {} wider than the notch of {} for pieces that run over the strips: they will be so much looser there than drawn",
        Mm(sled.blade.kerf),
        Mm(loose),
        Mm(drawn)
    );
    let hint = "a thinner blade for these notches, pieces as thick as the kerf, or a router or laser for the \
                strips";
    let warning = Finding::warning("kerf-wider-than-piece", "blade.kerf", text).hint(hint);
    (loose >= TOLD_MM).then_some(warning)
}

fn kerf_wider_than_notch(fit: &LapFit, sled: &Sled, drawn: f64, thickness: f64) -> Finding {
    let mut text = phrase!(
        "the kerf of {} is wider than the notch of {}: ",
        Mm(sled.blade.kerf),
        Mm(drawn)
    );
    text.append(if fit.clearance_mm > 0.0 {
        let mut loose = phrase!("laps will be {} loose", Mm(fit.clearance_mm));
        if fit.racking > 0.0 {
            let racking = Rad(fit.racking).text_within(fit.racking_within);
            loose.append(phrase!(", and the bare grid can rack by {}", racking));
        }
        loose
    } else {
        phrase!(
            "the press fit will be {} instead of {}",
            Mm(-fit.clearance_mm),
            Mm(thickness - drawn)
        )
    });
    Finding::warning("kerf-wider-than-notch", "blade.kerf", text)
        .hint("a thinner blade, or strips as thick as the kerf")
}

/// How far the angles of a grid can change whose notches are `width` wide square to themselves. All
/// nodes turn together, like the joints of parallelograms side by side, so the grid turns as far as
/// one lap does. Straight strips in triangles cannot turn against each other.
fn grid_racking(lattice: &Lattice, width: f64) -> f64 {
    if lattice.families.len() > 2 {
        return 0.0;
    }
    let notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    let of_strips = notches.filter(|notch| notch.mate != NotchMate::Piece);
    let racks = of_strips.map(|notch| {
        let slant = Slant::of(notch);
        let acute = if slant.is_square() {
            FRAC_PI_2
        } else {
            slant.to_blade()
        };
        lap_racking(width, lattice.section.thickness, acute)
    });
    racks.reduce(f64::min).unwrap_or(0.0)
}

/// How far a strip turns in a slot before it binds. Both strips are `thickness` thick, the slot is
/// `width` wide square to its walls and crosses at `angle`, acute or right, which the turn opens; the
/// other way the slot holds sooner, or as soon where it is square.
///
/// In the slot's own frame, v along its walls and n across them with 0 in its middle, the walls lie
/// at n = w/2 and -w/2. The slotted strip's long sides cut them off: across the strip a point lies at
/// `v sin A + n cos A`, so the wall at w/2 ends at `v = (t/2 - w/2 cos A) / sin A = L/2`, and the
/// other one at -L/2, with
///
/// `L = (t - w cos A) / sin A`.
///
/// The mate lies along v and takes t across. Turned by a, it reaches the corner `(L/2, w/2)` when that
/// corner is t/2 from its middle line: `w/2 cos a - L/2 sin a = t/2`. The corner across the node
/// binds at the same turn, so nothing is gained by moving it sideways. The left side is
/// `R/2 cos(a + atan2(L, w))` with `R = sqrt(w^2 + L^2)`, hence
///
/// `a = acos(t / R) - atan2(L, w)`.
///
/// At right angles L = t, and `w cos a = t (1 + sin a)`, which is `(1 + sin a) / cos a = w / t`;
/// as the left side is `tan(pi/4 + a/2)`, there `a = 2 atan(w / t) - pi/2`. The other way L is
/// `(t + w cos A) / sin A`, which is longer: the angle closes by less. In the mate's slot the slotted
/// strip makes the same figure seen in a mirror, so both bind at once.
pub(crate) fn lap_racking(width: f64, thickness: f64, angle: f64) -> f64 {
    if width <= thickness {
        return 0.0;
    }
    let (sin, cos) = if angle < FRAC_PI_2 {
        angle.sin_cos()
    } else {
        (1.0, 0.0)
    };
    let seat = (thickness - width * cos) / sin;
    let reach = width.hypot(seat);
    ((thickness / reach).acos() - seat.atan2(width)).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn a_square_lap_racks_by_the_closed_form() {
        // (1 + sin a) / cos a = w / t, for kerfs from nearly tight to nearly twice the strip.
        for width in [3.0001, 3.05, 3.2, 3.53, 4.5, 5.9] {
            let a = lap_racking(width, 3.0, FRAC_PI_2);
            assert!(approx_eq!(
                f64,
                (1.0 + a.sin()) / a.cos(),
                width / 3.0,
                epsilon = 1e-12
            ));
            assert!(approx_eq!(
                f64,
                a,
                2.0 * (width / 3.0_f64).atan() - FRAC_PI_2,
                epsilon = 1e-12
            ));
        }
        assert_eq!(lap_racking(3.0, 3.0, FRAC_PI_2), 0.0);
        assert_eq!(lap_racking(2.9, 3.0, FRAC_PI_2), 0.0);
    }

    #[test]
    fn a_diamond_tends_to_the_square_as_its_angle_does() {
        let square = lap_racking(3.3, 3.0, FRAC_PI_2);
        let nearly = lap_racking(3.3, 3.0, FRAC_PI_2 - 1e-9);
        assert!(approx_eq!(f64, square, nearly, epsilon = 1e-8));
        assert!(lap_racking(3.3, 3.0, 1.0) > square);
    }
}
