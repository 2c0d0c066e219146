//! How strips come out of a sheet: each by itself, every edge of a notch where the axes went for it.

use super::form::{Form, Sources};
use super::strips_made::{CutNotch, MadeNotch, MadeStrip, StripsMade};
use crate::lattice::Lattice;
use crate::machines::Laser;
use crate::planning::fitted_notch;

/// The strips of a lattice as a laser or a sheet router cuts them. A slot of a comb that fitted is taken at
/// its word: notches are as much wider or narrower as it was.
pub fn strips_off_the_sheet(lattice: &Lattice, laser: &Laser) -> StripsMade {
    let spread = laser.spread;
    let mut made = StripsMade {
        sources: Sources::default(),
        ..StripsMade::default()
    };
    for strip in &lattice.strips {
        let mut notches = Vec::new();
        for notch in &strip.notches {
            let mut scatter = |half: f64| made.sources.form(half, spread.plus_minus);
            let kerf = scatter(spread.kerf.half);
            let [near, far, floor] = [(); 3].map(|()| scatter(spread.place.half));
            let wider = fitted_notch(lattice, laser, notch).width - notch.width;
            let edge = |side: f64, place: &Form| {
                let known = Form::of_known(side * wider / 2.0);
                known.plus(1.0, place).plus(side / 2.0, &kerf)
            };
            made.cuts.push(CutNotch {
                near: edge(-1.0, &near),
                far: edge(1.0, &far),
                depth: floor.plus(0.5, &kerf),
            });
            notches.push(MadeNotch {
                cut: made.cuts.len() - 1,
                mirrored: false,
            });
        }
        made.strips.push(MadeStrip {
            thickness: made
                .sources
                .form(spread.strip_thickness.half, spread.plus_minus),
            notches,
        });
    }
    made
}
