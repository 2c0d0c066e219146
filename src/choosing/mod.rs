//! From an opening and the machines at hand to the few panels worth making, each as a job that was read
//! and planned before anybody sees it.
//!
//! [`choose`] takes the job's text but for its grid ([`JobAround`]) and what is wanted of the bays. It
//! asks [`crate::opening::candidates`] for all panels, writes the best of them as jobs, reads these, and
//! asks each machine what it would have to do.

mod around;
mod choose;
mod draft;
mod machines;
mod reason;

pub use around::{JobAround, PanelFigures};
pub use choose::{ChosenPanels, PanelRequest, choose};
