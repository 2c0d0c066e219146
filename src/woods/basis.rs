//! How sure a figure is.

/// How sure a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// Read in the publication.
    Published,
    /// Read where somebody repeats a publication.
    Secondary,
    /// Remembered, not looked up.
    FromMemory,
    /// Worked out from another figure of the same wood.
    Derived,
    /// Written in the job.
    Job,
}

impl Basis {
    /// Beside the figure.
    pub fn words(self) -> &'static str {
        match self {
            Basis::Published => "published",
            Basis::Secondary => "secondary",
            Basis::FromMemory => "from memory",
            Basis::Derived => "derived",
            Basis::Job => "given",
        }
    }
}
