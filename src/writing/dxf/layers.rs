//! The layers of a drawing, one a kind of work.

use crate::instructions::outline::{CutWork, FrameLine, SheetDrawing};
use crate::machines::Colours;
use std::num::NonZeroU8;

/// Nothing is done on this layer: grey.
pub(in crate::writing) const BRIDGE_COLOUR: NonZeroU8 = NonZeroU8::MIN.saturating_add(7);

/// Colour number of a kind of work's layer.
pub(in crate::writing) fn layer_colour(colours: Colours, work: CutWork) -> NonZeroU8 {
    match work {
        CutWork::Letters => colours.letters,
        CutWork::Frame(line) => frame_colour(line),
        CutWork::Bridges => BRIDGE_COLOUR,
        CutWork::Openings => colours.openings,
        CutWork::Outlines => colours.outlines,
    }
}

/// Colour number of a frame's line: they show on white and on black, and differ in lightness from the
/// outlines beside them, for an eye that does not tell red from green.
fn frame_colour(line: FrameLine) -> NonZeroU8 {
    let number = |number: u8| NonZeroU8::MIN.saturating_add(number - 1);
    match line {
        FrameLine::Members => number(34),
        FrameLine::Mortises => number(140),
        FrameLine::Rebates | FrameLine::Grooves => number(210),
        FrameLine::Shoulders => number(94),
        FrameLine::BackShoulders => number(8),
    }
}

/// The layers besides 0, in their order.
pub(super) struct Layers {
    pub(super) works: Vec<CutWork>,
    pub(super) colours: Colours,
}

impl Layers {
    /// Those of a drawing: those of bridges and of a frame only where it has some.
    pub(super) fn of(drawing: &SheetDrawing, colours: Colours) -> Layers {
        let has = |work| drawing.paths.iter().any(|path| path.work == work);
        Layers {
            works: CutWork::IN_ORDER
                .into_iter()
                .filter(|work| work.always_there() || has(*work))
                .collect(),
            colours,
        }
    }
}
