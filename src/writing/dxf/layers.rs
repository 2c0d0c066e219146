//! The layers of a drawing, one a kind of work.

use crate::instructions::outline::{CutWork, SheetDrawing};
use crate::machines::Colours;
use std::num::NonZeroU8;

/// Nothing is done on this layer: grey.
pub(in crate::writing) const BRIDGE_COLOUR: NonZeroU8 = NonZeroU8::MIN.saturating_add(7);

/// Colour number of a kind of work's layer.
pub(in crate::writing) fn layer_colour(colours: Colours, work: CutWork) -> NonZeroU8 {
    match work {
        CutWork::Letters => colours.letters,
        CutWork::Bridges => BRIDGE_COLOUR,
        CutWork::Openings => colours.openings,
        CutWork::Outlines => colours.outlines,
    }
}

/// The layers besides 0, in their order.
pub(super) struct Layers {
    pub(super) works: Vec<CutWork>,
    pub(super) colours: Colours,
}

impl Layers {
    /// Those of a drawing: that of the bridges only where it has some.
    pub(super) fn of(drawing: &SheetDrawing, colours: Colours) -> Layers {
        let has = |work| drawing.paths.iter().any(|path| path.work == work);
        Layers {
            works: CutWork::IN_ORDER
                .into_iter()
                .filter(|work| *work != CutWork::Bridges || has(*work))
                .collect(),
            colours,
        }
    }
}
