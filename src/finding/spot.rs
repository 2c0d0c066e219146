//! What sets a finding apart from others like it: where it is, and its figures.

/// Where a finding is in a lattice; numbers count from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FindingPlace {
    /// Number of the bundle.
    pub bundle: usize,
    /// Number of the notch in it; none where it is about the bundle.
    pub notch: Option<usize>,
}

/// Figures that a machine does not allow, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// The least of them.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
    /// How far the worst of them lies beyond what is allowed.
    pub beyond: f64,
}

/// What sets a finding apart from others like it. In a box: most findings have none.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Spot {
    /// Where it is, in order; empty where it is about no bundle.
    pub places: Vec<FindingPlace>,
    /// The figures that are too much, or too little.
    pub extent: Option<Extent>,
}
