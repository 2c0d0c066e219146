//! Which text a finding is about.

use crate::machines::Station;

/// The text that a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Document {
    /// The job, or the flags that stand for one.
    Job,
    /// The profile of the machine that stands there.
    Profile(Station),
    /// The pattern of the pieces with that index among those that the job names.
    Pattern(usize),
    /// What was asked for beside the job: which kinds of parts.
    Request,
}
