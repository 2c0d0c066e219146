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
    Pattern(PatternNumber),
    /// What was asked for beside the job: which kinds of parts.
    Request,
}

/// Index of a pattern among those that a job names. Small, so that findings stay small.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PatternNumber(u16);

impl PatternNumber {
    /// The index.
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

impl Document {
    /// The pattern with that index among those that the job names.
    pub fn pattern(index: usize) -> Document {
        // No job has room for as many: a map's letters are fewer.
        Document::Pattern(PatternNumber(u16::try_from(index).unwrap_or(u16::MAX)))
    }
}
