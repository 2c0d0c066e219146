//! Programs: read afresh, carried out on a simulated bundle under watch, and what comes out
//! compared with what was wanted.

mod carry_out;
mod mitring;
mod mortising;
mod notching;
mod parts;
mod piece_measure;
mod report;

pub use carry_out::{Program, Until};
pub use mitring::prove_mitres;
pub use mortising::prove_mortises;
pub use notching::prove_program;
pub use parts::{PartTask, prove_parts};
pub use report::ProgramReport;
