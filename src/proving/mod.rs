//! From a file back to its job: what a program or a drawing is for, and whether it does that.
//!
//! Planning says here only which set-ups and parts there are; what they have to do, and whether the
//! file does it, [`crate::verification`] works out by itself.

mod alone;
mod answer;
mod candidates;
mod drawing;
mod picture;
mod pieces;
mod program;
mod rails;
mod remarks;

pub use alone::prove_alone;
pub use drawing::{DrawingProof, are_members, prove_drawings, prove_members, prove_panel};
pub use picture::proof_picture;
pub use pieces::JobPieces;
pub use program::{NoAnswer, ProgramProof, ProgramQuestion, ProvenPart, prove_program};
