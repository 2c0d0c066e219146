//! How a job wants its strips notched on a sled.

/// What a job chooses of the work at a sled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SledWork {
    /// What the way over the rack is chosen for.
    pub aim: Aim,
    /// By what the steps are put in order.
    pub order: StepOrder,
}

/// By what the steps of a setting of the saw are put in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum StepOrder {
    /// By their place: stop and key are moved as seldom as can be, and every bundle is cut at each.
    #[default]
    Stops,
    /// Bundle by bundle.
    Bundles,
}

impl StepOrder {
    /// As jobs and flags call it.
    pub fn name(self) -> &'static str {
        match self {
            StepOrder::Stops => "stops",
            StepOrder::Bundles => "bundles",
        }
    }
}

/// What the way over a rack's key slots is chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Aim {
    /// Every notch as near as can be to its place, counted from the first that is cut.
    #[default]
    Places,
    /// Like steps take like slots: bays that are drawn equal come out as equal as can be, so that pieces
    /// for them can be made in batches.
    Bays,
}

impl Aim {
    /// As jobs call it.
    pub fn name(self) -> &'static str {
        match self {
            Aim::Places => "places",
            Aim::Bays => "bays",
        }
    }
}
