//! The layers of a drawing, one a kind of work.

use crate::instructions::outline::{SheetDrawing, Work};
use crate::machines::Colours;
use std::num::NonZeroU8;

/// Nothing is done on this layer: grey.
pub(in crate::writing) const BRIDGE_COLOUR: NonZeroU8 = NonZeroU8::MIN.saturating_add(7);

/// Colour number of a kind of work's layer.
pub(in crate::writing) fn layer_colour(colours: Colours, work: Work) -> NonZeroU8 {
    match work {
        Work::Letters => colours.letters,
        Work::Bridges => BRIDGE_COLOUR,
        Work::Openings => colours.openings,
        Work::Outlines => colours.outlines,
    }
}

/// The layers besides 0, in their order.
pub(super) struct Layers {
    pub(super) works: Vec<Work>,
    pub(super) colours: Colours,
}

impl Layers {
    /// Those of a drawing: that of the bridges only where it has some.
    pub(super) fn of(drawing: &SheetDrawing, colours: Colours) -> Layers {
        let has = |work| drawing.paths.iter().any(|path| path.work == work);
        Layers {
            works: Work::IN_ORDER
                .into_iter()
                .filter(|work| *work != Work::Bridges || has(*work))
                .collect(),
            colours,
        }
    }
}
