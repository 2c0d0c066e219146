//! A panel as built in the opening that it was drawn for.

use super::lay_out::Fitted;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::{Grid, Margins, Panel};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm};

impl Fitted {
    /// The same round a panel as built: the inside stays as large as it is, and the margins take up what the
    /// bays are off, half of it at either side, `m = (W - sum of the pitches) / 2`. Ends are let into the
    /// frame by `let_in` mm.
    ///
    /// # Errors
    /// A panel that has no room in there any more, and strips that were cut too short for it.
    pub fn as_built(self, panel: &Panel, let_in: f64) -> Result<Fitted, Vec<Finding>> {
        let Grid::Square(grid) = &panel.design().grid else {
            return Ok(self);
        };
        let half = panel.design().strip.thickness / 2.0;
        let ways = [
            (
                "as_built.openings_x",
                &grid.pitches_x,
                self.sizes.inside.width,
            ),
            (
                "as_built.openings_y",
                &grid.pitches_y,
                self.sizes.inside.height,
            ),
        ];
        let lengths = [grid.width(), grid.height()];
        let as_cut = panel.known_as_built().map_or(lengths, |as_built| {
            [as_built.drawn.width(), as_built.drawn.height()]
        });
        let mut margins = [0.0; 2];
        let mut faults = Vec::new();
        let ways = ways.into_iter().zip(as_cut).zip(&mut margins);
        for (((field, pitches, inside), as_cut), margin) in ways {
            let bays: f64 = pitches.iter().sum();
            *margin = (inside - bays) / 2.0;
            if *margin < half - SAME_POSITION_MM {
                faults.push(no_room(field, bays + 2.0 * half, inside));
            }
            // The datum ends lie as drawn; the other ends have what is left of the strips.
            let beyond = grid.overhang.min(as_cut - grid.overhang - bays);
            if beyond < *margin + let_in - SAME_POSITION_MM {
                faults.push(too_short(field, *margin + let_in, beyond));
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let [x, y] = margins;
        Ok(Fitted {
            grid: panel.design().grid.clone(),
            margins: Margins { x, y },
            ..self
        })
    }
}

fn no_room(field: &str, outer: f64, inside: f64) -> Finding {
    let text = phrase!(
        "the panel as built is {} over the faces of its outermost strips, and there are {} for it",
        Mm(outer),
        Mm(inside)
    );
    let hint = phrase!(
        "measure again; or make what goes round it {} larger, and write that size into [opening]",
        AtLeast(outer - inside)
    );
    fault(field, text, hint)
}

fn too_short(field: &str, wanted: f64, there: f64) -> Finding {
    let text = phrase!(
        "the strips as cut reach {} beyond the middle of their outermost notch; {} are wanted",
        Mm(there),
        Mm(wanted)
    );
    let hint = phrase!("measure again, or make the opening smaller");
    fault(field, text, hint)
}

fn fault(field: &str, text: Phrase, hint: Phrase) -> Finding {
    Finding::error("no-room-as-built", field, text).hint(hint)
}
