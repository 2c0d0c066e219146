//! A machine that was chosen for a job.

/// A machine with the name of its profile.
#[derive(Debug)]
pub struct Chosen<'a, M> {
    /// What the job calls it.
    pub name: &'a str,
    /// What it is and can do.
    pub machine: &'a M,
}

// By hand: a derived one would ask the machine itself to be copied.
impl<M> Clone for Chosen<'_, M> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<M> Copy for Chosen<'_, M> {}
