//! What a job takes of wood: what is to be made, what to buy, how it is cut up and milled. Millimetres.

use super::milling::{MilledBoard, MillingStep, ThicknessFigures};
use super::overview::Density;
use super::stock::MeasuredStock;
use super::work_time::WorkTime;
use crate::lattice::PieceWay;
use serde::Serialize;

/// A job's wood.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StockPlan {
    /// What is made.
    pub title: String,
    /// Of the strips, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// Whether the job says anything of its wood; else all figures of the workshop are examples.
    pub stock_is_given: bool,
    /// All that is made of wood, in the order in which it is told.
    pub needs: Vec<Need>,
    /// The sections that sticks are needed of.
    pub sections: Vec<SectionStock>,
    /// Sticks as they are cut up, those that are cut alike together.
    pub sticks: Vec<CutStick>,
    /// No plan takes fewer sticks, or costs less where the least cost is asked for; of all sections together. Nothing where
    /// a price is missing for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bound: Option<f64>,
    /// Whether no plan is better, of any section.
    pub proved: bool,
    /// What sticks are cut up for: `sticks` or `cost`.
    pub aim: &'static str,
    /// How sticks are cut.
    pub cutting: CuttingFigures,
    /// What the shop's off-cuts give for test pieces.
    pub off_cuts: OffCuts,
    /// From boards to sticks, section by section, in working order.
    pub milling: Vec<MillingStep>,
    /// How thick strips come out of it, and how much they may differ.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness: Option<ThicknessFigures>,
    /// A fibre that runs out one in so many stays in a strip from notch to notch; nothing where no strip has two notches.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub run_out_one_in: Option<f64>,
    /// Finished wood of all that is cut from sticks, spares included, m3.
    pub volume_m3: f64,
    /// The same in board feet: cubic inches by 144, nothing rounded up.
    pub board_feet: f64,
    /// Lengths of all that is cut from sticks, spares included, m.
    pub metres: f64,
    /// Weight of that wood, kg; nothing where a wood is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
    /// What all that is bought costs, by the job's own prices; nothing where one is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// What it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub currency: Option<String>,
    /// Fields of the job that lack a price.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without_price: Vec<String>,
    /// How long it takes, by the job's rates.
    pub time: WorkTime,
}

/// Parts that are alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Need {
    /// What one is called.
    pub what: String,
    /// What kind of part.
    pub kind: NeedKind,
    /// Thickness as seen from the front and depth front to back; of a member its width and thickness.
    pub section_mm: [f64; 2],
    /// As it is cut, end to end.
    pub length_mm: f64,
    /// How many the panel takes.
    pub count: usize,
    /// How many more are made.
    pub spare: usize,
    /// What it is made from.
    pub from: NeedFrom,
    /// Number, from 1, of its section, where it is cut from a stick.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub section: Option<usize>,
    /// What the section is before it is planed, where it is sawn from a board.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rough_mm: Option<[f64; 2]>,
    /// What is to be known of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<NeedNote>,
}

/// A kind of part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NeedKind {
    /// A strip of the lattice.
    Strip,
    /// A piece at its rough length.
    Piece,
    /// A stick that pieces are made on.
    PieceStick,
    /// A member of the frame.
    Member,
    /// What a stick of a row is taped to.
    Batten,
    /// A part of the paring guide.
    Guide,
    /// A scrap that something is tried on.
    TestPiece,
}

/// What a part is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NeedFrom {
    /// A stick of its section.
    Stick,
    /// Sheet, on the laser or the sheet router.
    Sheet,
    /// Whatever wood lies about.
    Scrap,
    /// What sticks of its section leave.
    OffCut,
}

/// What is to be known of a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "note", rename_all = "kebab-case")]
pub enum NeedNote {
    /// A stick, both grips included, for so many pieces.
    Row {
        /// How they are made.
        way: PieceWay,
        /// On one stick.
        pieces: usize,
        /// That the panel takes.
        wanted: usize,
    },
    /// Cut nearly through and bent.
    Folded,
    /// One end at least is a bird's mouth.
    Mouth,
    /// Both horns included.
    Horns {
        /// At each end.
        horn_mm: f64,
    },
    /// Longer than its long points at each end.
    Allowance {
        /// At each end.
        allowance_mm: f64,
    },
    /// Thicker wood does as well.
    OrThicker,
}

/// A section that sticks are needed of.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SectionStock {
    /// From 1.
    pub number: usize,
    /// What it is for: `strips`, `pieces`, `frame`.
    pub used_for: &'static str,
    /// Thickness and depth, as [`Need::section_mm`].
    pub section_mm: [f64; 2],
    /// As the job calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<String>,
    /// How heavy it is; nothing where it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density: Option<Density>,
    /// Lengths of all parts, spares included, m.
    pub metres: f64,
    /// Finished wood of all parts, m3.
    pub volume_m3: f64,
    /// Where its sticks come from.
    pub supply: Supply,
    /// How many sticks.
    pub sticks: usize,
    /// What it takes at the least.
    pub bound: f64,
    /// Sticks or cost; of boards always sticks.
    pub bound_in: BoundIn,
    /// What that is counted of.
    pub bound_of: BoundOf,
    /// Whether no plan is better.
    pub proved: bool,
    /// What is left of all sticks, kerfs and ends not counted, m.
    pub left_m: f64,
}

/// What a bound is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BoundIn {
    /// A number of sticks.
    Sticks,
    /// Money.
    Cost,
}

/// What a bound is counted of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BoundOf {
    /// Sticks that are cut into.
    Used,
    /// What is bought beside what lies in the shop.
    Bought,
}

/// Where sticks come from.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "supply", rename_all = "kebab-case")]
pub enum Supply {
    /// Sticks at hand or bought.
    Sticks {
        /// By length.
        bought: Vec<BoughtSticks>,
    },
    /// Milled from boards.
    Boards(Box<MilledBoard>),
}

/// Sticks of one length.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoughtSticks {
    /// End to end.
    pub length_mm: f64,
    /// How many are cut up.
    pub count: usize,
    /// How many packs that takes, where they come in packs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub packs: Option<usize>,
    /// How many in a pack.
    pub pack: usize,
    /// How many there are, where the job says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_hand: Option<usize>,
    /// Whether they lie in the shop and cost nothing any more.
    pub in_hand: bool,
    /// The job's field of their price.
    #[serde(skip)]
    pub field: String,
    /// Of one stick, or of one pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_each: Option<f64>,
    /// Of all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
}

/// How sticks are cut to length.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CuttingFigures {
    /// Width of the saw's groove.
    pub kerf_mm: f64,
    /// Where that is from.
    pub kerf_from: KerfFrom,
    /// Lost at each end of a stick, the kerf that takes it off included.
    pub trim_mm: f64,
    /// What is held of a stick is never shorter.
    pub least_held_mm: f64,
    /// Whether the job says so.
    pub least_held_is_own: bool,
}

/// Where a kerf is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum KerfFrom {
    /// The job's `[stock]`.
    Job,
    /// The blade of the sled that the job names.
    Sled,
    /// Nobody said: an example.
    Example,
}

/// Sticks that are cut up alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutStick {
    /// Number, from 1, of their section.
    pub section: usize,
    /// End to end.
    pub stock_mm: f64,
    /// Place in the job's list of sticks, from 0, where they stand in it.
    #[serde(skip)]
    pub sold: Option<usize>,
    /// How many sticks.
    pub count: usize,
    /// In the order in which a person cuts.
    pub cuts: Vec<StickCut>,
    /// What stays in the hand after the last cut, the trimmed end included.
    pub left_mm: f64,
    /// Taken off first, its kerf included, so that the end is square.
    pub trim_mm: f64,
    /// Of every cut, behind its part.
    pub kerf_mm: f64,
}

/// A part of a stick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StickCut {
    /// What it is called.
    pub what: String,
    /// End to end.
    pub length_mm: f64,
    /// Number, from 1, of the need.
    pub need: usize,
}

/// What sticks leave.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct OffCuts {
    /// Test pieces that are wanted.
    pub wanted: usize,
    /// The length of the longest of them.
    pub length_mm: f64,
    /// How many of that length the strips' sticks leave.
    pub there: usize,
}

impl SectionStock {
    /// Whether some of its sticks lie in the shop.
    pub fn has_in_hand(&self) -> bool {
        match &self.supply {
            Supply::Sticks { bought } => bought.iter().any(|sticks| sticks.in_hand),
            Supply::Boards(_) => false,
        }
    }
}

impl StockPlan {
    /// A section by its number.
    pub fn section(&self, number: usize) -> Option<&SectionStock> {
        self.sections
            .iter()
            .find(|section| section.number == number)
    }
}
