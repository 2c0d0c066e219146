//! The independent proof: reads a program afresh, works out what it removes, compares that with
//! what was wanted, and looks for what would harm work, cutter or hand. Drawings: [`outline`].
//!
//! It knows the file's bytes and what it is told of work and machine, and shares no code with
//! planning and writing, so that no mistake of theirs can hide here.
//!
//! A program: [`prove_program`] for notches, [`prove_mortises`] for mortises, [`prove_mitres`] for rows
//! of pieces, [`prove_parts`] for several parts with stops between them. What such a program has to do follows from the job and the
//! router's profile: [`NotchingTask`], [`MortisingTask`],
//! [`MitringTask`].

pub mod faults;
pub mod gcode;
mod hazards;
mod limits;
mod notches;
pub mod outline;
mod program_proof;
pub mod simulation;
mod tasks;
mod tolerances;
pub mod trace;
mod workpiece;

pub use limits::{Comments, DwellUnit, KeepOut, Limits};
pub use notches::{FoundSlot, NotchReport};
pub use program_proof::{
    PartTask, Program, ProgramReport, Until, prove_mitres, prove_mortises, prove_parts,
    prove_program,
};
pub use tasks::{HeldBundle, HeldPiece, HeldRow, MitringTask, MortisingTask, NotchingTask};
pub use tolerances::Tolerances;
pub use workpiece::{
    ExpectedLap, ExpectedMortise, ExpectedNotch, ExpectedPiece, ExpectedRows, Workpiece,
};
