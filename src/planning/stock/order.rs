//! What a stock plan is made from.

use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::stock_plan::NeedFrom;
use crate::instructions::work_time::WorkTime;
use crate::lattice::{Frame, Lattice};
use crate::machines::{Chosen, Sled, StockWishes};
use crate::woods::GrowthRings;

/// A job's parts, and what is known of the wood for them.
#[derive(Debug, Clone, Copy)]
pub struct StockOrder<'a> {
    /// The panel's strips.
    pub lattice: &'a Lattice,
    /// The pieces, and how they get their mitres.
    pub pare: Option<&'a ParePlan>,
    /// Thickness and depth of the wood that most pieces are made of.
    pub piece_section: [f64; 2],
    /// The frame.
    pub rails: Option<&'a RailPlan>,
    /// Its wood.
    pub frame: Option<&'a Frame>,
    /// What the job says of its wood.
    pub wishes: &'a StockWishes,
    /// The sled, where there is one.
    pub sled: Option<Chosen<'a, Sled>>,
    /// What strips are made from.
    pub strips_from: NeedFrom,
    /// What pieces are made from.
    pub pieces_from: NeedFrom,
    /// What the paring guide is made from.
    pub guide_from: NeedFrom,
    /// What machines are tried on.
    pub tests: &'a [TestScraps],
    /// What wood gives at a lap, mm.
    pub crush: f64,
    /// How the growth rings of strips are to lie, where the job says so.
    pub rings: Option<GrowthRings>,
    /// How long its work takes.
    pub time: &'a WorkTime,
}

/// Scraps of the strips' section that a machine is tried on.
#[derive(Debug, Clone, PartialEq)]
pub struct TestScraps {
    /// What for.
    pub what: String,
    /// How many.
    pub count: usize,
    /// Each, mm.
    pub length: f64,
}
