//! What a panel will be like before it is cut: which notch comes out where, which joint binds, whether the
//! strips go together. Pure functions from a lattice and a machine's plan.

mod advice;
mod answer;
mod bending;
mod chance;
pub mod closing;
mod draws;
mod form;
mod joints;
mod order;
mod panel;
mod pieces;
mod router;
mod sheet;
mod sled;
mod spreads;
mod strips_made;
mod way;

pub use advice::advise;
pub use chance::{below_zero, wilson};
pub use draws::{Draws, Tally, Watched, draw_panels};
pub use form::{Form, Source, Sources};
pub use joints::{Joint, Predicted, Spacing};
pub use order::{FitOrder, Notcher, USUAL_SEED};
pub use panel::Direction;
pub use router::strips_off_the_router;
pub use sheet::strips_off_the_sheet;
pub use sled::strips_off_the_sled;
pub use strips_made::{CutNotch, MadeNotch, MadeStrip, StripsMade};
pub use way::{closing_chance, predict_way, usual_draws};
