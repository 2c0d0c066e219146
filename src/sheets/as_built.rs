//! What sheets and `show` tell of bays as built.

use crate::geometry::SAME_POSITION_MM;
use crate::instructions::as_built::{AsBuiltFigures, BayFigures};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Brief, Mm};

/// The bays of both directions, as measured or as drawn: `columns measured 35.41 to 35.62 mm clear, drawn
/// 35.4 mm; rows as drawn`.
pub(super) fn bays_words(as_built: &AsBuiltFigures) -> Phrase {
    let mut words = direction("columns", &as_built.columns);
    words.append("; ".into());
    words.append(direction("rows", &as_built.rows));
    words
}

fn direction(name: &str, bays: &[BayFigures]) -> Phrase {
    let of = |figure: fn(&BayFigures) -> f64| {
        let figures = || bays.iter().map(figure);
        [
            figures().fold(f64::INFINITY, f64::min),
            figures().fold(f64::NEG_INFINITY, f64::max),
        ]
    };
    if bays.is_empty() {
        return phrase!("{} as drawn", name);
    }
    let [least, most] = of(|bay| bay.measured_mm);
    let mut words = match is_one(least, most) {
        true => phrase!("{} measured {} clear, drawn ", name, Mm(least)),
        false => phrase!(
            "{} measured {} to {} clear, drawn ",
            name,
            Mm(least),
            Mm(most)
        ),
    };
    let [least, most] = of(|bay| bay.drawn_mm);
    words.append(match is_one(least, most) {
        true => phrase!("{}", Brief(least)),
        false => phrase!("{} to {}", Brief(least), Brief(most)),
    });
    words
}

fn is_one(least: f64, most: f64) -> bool {
    most - least < SAME_POSITION_MM
}
