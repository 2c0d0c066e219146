//! From an opening and the machines at hand to the few panels worth making, each as a job that was read
//! and planned before anybody sees it.
//!
//! [`choose`] takes the job's text but for its grid ([`JobAround`]) and what is wanted of the bays. It
//! asks [`crate::opening::candidates`] or [`crate::opening::slanted_candidates`] for all panels, writes the
//! best of them as jobs, reads these, and asks each machine what it would have to do.

mod around;
mod choose;
mod draft;
mod figures;
mod machines;
mod pieces;
mod reason;
mod request;
mod slanted;
mod slanted_reason;
mod square;

pub use around::JobAround;
pub use choose::{ChosenPanels, choose};
pub use figures::{FrameWritten, PanelFigures};
pub use request::PanelRequest;
