//! Lapwright works out what a kumiko lattice needs at each machine: settings of a table-saw sled,
//! outlines for a laser or a sheet router, notching programs for a small router, lengths and jig angles
//! of the mitred pieces. It proves what it writes before anyone cuts.
//!
//! # From a job to proven files
//!
//! Data flows one way: text is read into a design that can be built; the design is laid out as a
//! lattice; a machine's plan follows from the lattice; files are written from the plan; a proof reads
//! the files afresh and compares them with the lattice. Lengths are millimetres, angles radians;
//! nothing is rounded before it is printed.
//!
//! ```
//! use lapwright::{Router, Workshop, plan_router, proven_programs, read_job, read_machine};
//!
//! # let text = include_str!("../demo/reading-lamp.toml");
//! let job = read_job("lamp.toml", text).expect("a job that can be built");
//! let profile = lapwright::shipped_machine("small-router").expect("it comes with the library");
//! let workshop = Workshop::new([read_machine(profile.name, profile.text).expect("it is sound")]);
//! let router = workshop.machine::<Router>().expect("it is in the workshop");
//!
//! let lattice = job.panel.lattice();
//! let file_name = |at: usize, _count: usize| format!("lamp-{}.nc", at + 1);
//! let (plan, _warnings) = plan_router(lattice, router.name, router.machine, &file_name)
//!     .expect("strips that the router has room for");
//! // Each program is written, read back and simulated; one that does not cut just the notches of its
//! // set-up is an error.
//! let programs = proven_programs(&plan, lattice, router).expect("programs that do what was meant");
//! assert_eq!(programs[0].0, "lamp-1.nc");
//! ```
//!
//! [`Made::of`] does all that for a job with all its machines, and tells what some of them cannot make:
//!
//! ```
//! use lapwright::{JobOrder, Made, Workshop, read_job, read_machine, shipped_machine};
//!
//! # let text = include_str!("../demo/reading-lamp.toml");
//! let job = read_job("lamp.toml", text).expect("a job that can be built");
//! let sled = shipped_machine("key-sled").expect("it comes with the library");
//! let workshop = Workshop::new([read_machine(sled.name, sled.text).expect("it is sound")]);
//! let made = Made::of(&JobOrder::new(&job, &workshop)).expect("a job that the sled can make");
//! let picture = &made.files[0];
//! assert_eq!((picture.name.as_str(), made.lacking.len()), ("panel.svg", 0));
//! ```
//!
//! A file that somebody else wrote, or that was edited, is held against its job by
//! [`proving::prove_program`] and [`proving::prove_drawings`].
//!
//! # What is wrong
//!
//! Whatever can be refused gives all its [`Finding`]s at once: a stable code, the field at fault, a
//! sentence, what would be right. [`Documents`] shows them at their lines.
//!
//! # Rooms
//!
//! A caller needs the items that are named below and, for their fields, [`instructions`], [`lattice`],
//! [`machines`] and [`infill`]. The other modules are public for the tests of this project, which take
//! them one by one; they may change from one version to the next.
#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::float_cmp
    )
)]

pub mod choosing;
#[doc(hidden)]
pub mod command_line;
pub mod dialects;
pub mod finding;
pub mod geometry;
pub mod infill;
pub mod inputs;
pub mod instructions;
pub mod lattice;
pub mod machines;
pub mod making;
pub mod measuring;
pub mod opening;
pub mod phrase;
pub mod planning;
pub mod predicting;
pub mod proving;
pub mod reading;
pub mod sheets;
pub mod stick_cutting;
pub mod threads;
pub mod units;
pub mod verification;
pub mod woods;
pub mod writing;

pub use finding::{Document, Finding};
pub use lattice::{Design, Lattice, Panel};
pub use machines::{Chosen, Guides, Laser, Machine, Router, Sled};
pub use making::{JobOrder, Made, NotMade, Workshop, filled, proven_programs};
pub use planning::{plan_pieces, plan_router, plan_sled};
pub use reading::{
    Documents, Job, MachineProfile, Source, Unreadable, read_job, read_machine, read_pattern,
    shipped_machine, shipped_pattern,
};
pub use units::UnitSystem;
