//! From an opening to a panel: the size that a frame or a panel may have, and the grid that fills it.
//!
//! A person starts with a hole. What is measured of it gives the largest upright rectangle that goes into
//! it (`hole`), less play the outside of what is made, less the frame's members its inside (`sizes`).
//! The inside is then ruled: with squares (`square`), or with slanted lines (`slanted`); `lay_out` makes
//! of that the ordinary grid of a design and the frame's margins; `search` finds the panels among which a
//! person may choose. Millimetres, radians.

mod as_built;
mod hole;
mod lay_out;
mod ruled_slanted;
mod ruled_square;
mod search;
mod size;
mod sizes;
mod slanted;
mod square;
mod wish;

pub use hole::{HoleMeasures, Scribe, UprightRectangle};
pub use lay_out::{Fitted, Surroundings, fit};
pub use search::{
    BayWish, Candidate, FREE_ANGLES, Filled, NEAR, Rank, Ruling, Slanted, SlantedBayWish,
    SlantedCandidate, SlantedRank, SlantedRuling, WIDEST_BORDER, candidates, slanted_candidates,
    slanted_worth_showing, worth_showing,
};
pub use size::Size;
pub use sizes::{Framing, MeasuredAt, MemberFaces, Opening, Sizes};
pub use slanted::{
    RhombFit, SlantedRoom, clear_rhomb, free_rhomb, given_rhomb, given_triangle, line_count,
    longest_at, triangle_by_rows, triangle_nodes,
};
pub use square::{
    BorderFit, Edge, MarginRange, SlotFit, SquareFit, TwoSlotFit, border_bays, equal_margins,
    margin, most_bays, nearly_square, on_one_slot, on_two_slots, pitch_of,
};
pub use wish::{
    DiamondWish, GridWish, NodePlace, Rest, SlantedRest, SquareCells, SquareWish, TriangularWish,
    Wanted,
};
