//! What programs have to do: worked out from the job's geometry and the machine's profile, apart
//! from the planning that wrote them.

mod mitring;
mod mortising;
mod notching;
mod router_limits;

pub use mitring::{HeldPiece, HeldRow, MitringTask};
pub use mortising::MortisingTask;
pub use notching::{HeldBundle, NotchingTask};
