//! Notch by notch: what the simulated bundle shows beside what was wanted.

mod alone;
mod compare;
mod crossed;
mod measure;
mod report;
mod seen;
mod slots;
mod webs;

pub(super) use compare::compare;
pub use report::NotchReport;
pub use slots::FoundSlot;
pub(super) use slots::find_slots;
