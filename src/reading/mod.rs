//! Job and profile files, and the flags that stand in for them, to checked values.

mod fields;
mod flags;
mod grid;
mod job;
mod machine;
mod mixed_units;
mod pattern;
mod quantity;
mod shipped;
mod source;

pub use flags::{GridFlags, panel_from_flags};
pub use job::{Job, MachineNames, read_job};
pub use machine::{MachineProfile, read_machine};
pub use pattern::{PatternFile, read_pattern};
pub use shipped::{
    SHIPPED_MACHINES, SHIPPED_PATTERNS, ShippedProfile, shipped_machine, shipped_pattern,
};
pub use source::{Source, Unreadable};
