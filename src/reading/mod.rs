//! Text to checked values: job files, machine profiles, patterns, and the flags that stand in for a
//! job.
//!
//! | text | read by | gives |
//! | --- | --- | --- |
//! | a job | [`read_job`] | [`Job`]: a [`Panel`](crate::lattice::Panel) that can be built, and the names of its machines |
//! | a machine's profile | [`read_machine`] | [`MachineProfile`] |
//! | a pattern | [`read_pattern`] | [`PatternFile`] |
//! | readings from test pieces | [`read_readings`] | [`Readings`](crate::measuring::Readings) |
//!
//! Each takes a name, which messages use, and the text itself: which files there are is the caller's
//! to know. Each gives a value that can be used, or [`Unreadable`] with all that is wrong with the
//! text, never a part of either. [`Documents::report`] shows findings at their places in the texts,
//! also those that planning has later about a job or a machine.
//!
//! What comes with the program is text as well: [`shipped_machine`], [`shipped_pattern`],
//! [`shipped_starter`].
//!
//! ```
//! use lapwright::reading::read_job;
//! use lapwright::units::UnitSystem;
//!
//! let text = r#"
//!     title = "two by two"
//!     [grid]
//!     kind = "square"
//!     columns = 2
//!     rows = 2
//!     pitch = "40 mm"
//!     overhang = "10 mm"
//!     [strip]
//!     thickness = "6 mm"
//!     depth = "12 mm"
//! "#;
//! match read_job("panel.toml", text) {
//!     Ok(job) => assert_eq!(job.panel.design().strip.thickness, 6.0),
//!     Err(bad) => panic!("{}", bad.source.report(&bad.findings, UnitSystem::Millimetres)),
//! }
//!
//! // Without a unit a number is nothing; the report has the line and the field.
//! let bad = read_job("panel.toml", &text.replace("\"40 mm\"", "40")).unwrap_err();
//! assert_eq!(bad.findings[0].code, "bare-number");
//! assert_eq!(bad.findings[0].field, "grid.pitch");
//! ```

mod as_built;
mod climate;
mod documents;
mod fields;
mod fit;
mod flags;
mod frame;
mod grid;
mod infill;
mod infill_map;
mod job;
mod lesson;
mod machine;
mod mixed_units;
mod opening;
mod panel_flags;
mod pattern;
mod quantity;
mod rates;
mod readings;
mod reference;
mod shipped;
mod sled_work;
mod source;
mod stock;
mod written_in;

pub use documents::Documents;
pub(crate) use flags::{GridFlags, panel_from_flags};
pub use job::{Job, MachineNames, read_job};
pub use lesson::PATTERN_LESSON;
pub use machine::{MachineProfile, WrittenLength, read_machine};
pub use panel_flags::Written;
pub(crate) use panel_flags::{CellKind, FrameSection, PanelFlags, Stance, read_panel_flags};
pub use pattern::{PatternFile, read_pattern};
pub use readings::{ReadingsFormat, read_readings};
pub use reference::{Field, Holds, JOB, Needed, PATTERN, Reference, Rule, Shipped, Table, When};
pub use shipped::{
    SHIPPED_MACHINES, SHIPPED_PATTERNS, SHIPPED_STARTERS, ShippedProfile, shipped_machine,
    shipped_pattern, shipped_starter,
};
pub use source::{Source, Unreadable};
pub use written_in::{most_of, written_in};
