//! The wood that a job is made of: sticks and boards at hand or sold, and how it is milled. Millimetres.

/// A figure of a workshop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShopFigure {
    /// What it is: mm, or a part of one.
    pub value: f64,
    /// Whether somebody gave it; else it is an example.
    pub is_own: bool,
}

impl ShopFigure {
    /// An example, until somebody gives their own.
    pub const fn example(value: f64) -> ShopFigure {
        ShopFigure {
            value,
            is_own: false,
        }
    }

    /// One that somebody gave.
    pub const fn own(value: f64) -> ShopFigure {
        ShopFigure {
            value,
            is_own: true,
        }
    }
}

/// What a job says of its wood. What is shipped are examples: every shop has its own.
#[derive(Debug, Clone, PartialEq)]
pub struct StockWishes {
    /// Whether the job says anything of it.
    pub is_given: bool,
    /// Sticks at hand or sold, each with the section of what it is for.
    pub sticks: Vec<SoldSticks>,
    /// What the cut plan is chosen for.
    pub aim: StockAim,
    /// What prices are in.
    pub currency: Option<String>,
    /// Width of the groove of the saw that cuts sticks to length; the sled's where nobody says.
    pub kerf: Option<f64>,
    /// Lost at each end of a stick before the first part and behind the last.
    pub trim: ShopFigure,
    /// A stick is not cut where what is held would be shorter.
    pub least_held: ShopFigure,
    /// Parts of the count that are made beyond it, of strips, of pieces, of members.
    pub spares: SpareShares,
    /// The board that strips and pieces are milled from.
    pub board: Board,
    /// The board that the frame's members are milled from.
    pub frame_board: Board,
    /// How boards become sticks.
    pub milling: Milling,
    /// What the planer takes.
    pub planer: Planer,
    /// Woods that are thought of, with one's own figures.
    pub woods: Vec<OwnWoodFigures>,
}

/// What somebody knows of a wood; the tables stand in for what is not there.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnWoodFigures {
    /// What it is called.
    pub name: String,
    /// At 12 % of moisture, kg/m3.
    pub density: Option<f64>,
    /// On its side, by Janka, newtons.
    pub hardness: Option<f64>,
    /// Of a cubic metre.
    pub price: Option<f64>,
}

/// Sticks of one length, at hand or sold.
#[derive(Debug, Clone, PartialEq)]
pub struct SoldSticks {
    /// What they have the section of.
    pub used_for: StickUse,
    /// End to end.
    pub length: f64,
    /// How many there are; as many as are wanted where nobody says.
    pub count: Option<usize>,
    /// How many come together.
    pub pack: usize,
    /// Of one stick, or of one pack.
    pub price: Option<f64>,
}

impl SoldSticks {
    /// Whether they lie in the shop: what is counted and has no price.
    pub fn is_in_hand(&self) -> bool {
        self.count.is_some() && self.price.is_none()
    }
}

/// What sticks have the section of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StickUse {
    /// Strips, and pieces of the same section.
    Strips,
    /// Most pieces, where their section is another one.
    Pieces,
    /// The frame's members.
    Frame,
}

impl StickUse {
    /// All, in the order in which they are told.
    pub const ALL: [StickUse; 3] = [StickUse::Strips, StickUse::Pieces, StickUse::Frame];

    /// As jobs and the JSON answer have it.
    pub const fn name(self) -> &'static str {
        match self {
            StickUse::Strips => "strips",
            StickUse::Pieces => "pieces",
            StickUse::Frame => "frame",
        }
    }
}

/// What a cut plan is chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum StockAim {
    /// The fewest sticks.
    #[default]
    Sticks,
    /// The least cost.
    Cost,
}

impl StockAim {
    /// As jobs call it.
    pub const fn name(self) -> &'static str {
        match self {
            StockAim::Sticks => "sticks",
            StockAim::Cost => "cost",
        }
    }
}

/// What is made beyond the count, as a part of it; where it is not none, at least one of each kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpareShares {
    /// Of strips.
    pub strips: ShopFigure,
    /// Of pieces, or of the sticks that they are made on.
    pub pieces: ShopFigure,
    /// Of the frame's members.
    pub members: ShopFigure,
}

/// A board as it is bought. What is not given follows from the job, as an example.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Board {
    /// Between its faces.
    pub thickness: Option<f64>,
    /// Edge to edge.
    pub width: Option<f64>,
    /// As it goes through the machines.
    pub length: Option<f64>,
    /// How its growth rings lie.
    pub sawn: Option<Sawn>,
    /// Of one.
    pub price: Option<f64>,
    /// How many there are.
    pub count: Option<usize>,
}

/// How a board's growth rings lie on its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sawn {
    /// Along its width.
    Flat,
    /// Square to its width.
    Quarter,
}

impl Sawn {
    /// As jobs call it.
    pub const fn name(self) -> &'static str {
        match self {
            Sawn::Flat => "flat",
            Sawn::Quarter => "quarter",
        }
    }
}

/// How boards become sticks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Milling {
    /// Width of the ripping saw's groove.
    pub kerf: ShopFigure,
    /// What planing takes off a strip's thickness behind the saw, both sides together.
    pub planing: ShopFigure,
    /// What planing takes off both faces together of a board, a blank or a member.
    pub surfacing: ShopFigure,
    /// What straightening takes off the width of a board.
    pub straightening: ShopFigure,
    /// What flushing the panel's faces takes off its depth, both together.
    pub flushing: ShopFigure,
    /// Of each end of a board or blank as it goes through the planer: cut off for snipe and checks.
    pub ends: ShopFigure,
    /// What is left of a board or blank is not ripped any more on the saw where it is narrower.
    pub least_rip_width: ShopFigure,
    /// Shorter wood is not ripped on the saw.
    pub least_rip_length: ShopFigure,
    /// Where strips come off.
    pub from: RipFrom,
    /// What brings strips to their thickness.
    pub thin_by: ThinBy,
}

/// What strips are ripped off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RipFrom {
    /// The board's edge, the board being planed to the strips' depth first.
    #[default]
    Edge,
    /// Blanks that are ripped from the board first, as wide as the strips are deep.
    Blanks,
}

impl RipFrom {
    /// As jobs call it.
    pub const fn name(self) -> &'static str {
        match self {
            RipFrom::Edge => "edge",
            RipFrom::Blanks => "blanks",
        }
    }
}

/// What brings a strip to its thickness: finished strips are thinner than a planer takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ThinBy {
    /// A planer, the strip on a carrier board.
    #[default]
    CarrierBoard,
    /// A drum sander.
    DrumSander,
    /// A hand plane between rails.
    HandPlane,
}

impl ThinBy {
    /// As jobs call it.
    pub const fn name(self) -> &'static str {
        match self {
            ThinBy::CarrierBoard => "carrier-board",
            ThinBy::DrumSander => "drum-sander",
            ThinBy::HandPlane => "hand-plane",
        }
    }
}

/// What a thickness planer takes, as its own manual has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planer {
    /// Shorter wood is not fed.
    pub least_length: ShopFigure,
    /// Thinner wood is not fed.
    pub least_thickness: ShopFigure,
    /// Between its feed rollers.
    pub roller_spacing: ShopFigure,
}

/// What wood is longer than the rollers are apart at the least: 2 in (magazines and makers' pages).
const OVER_ROLLERS_MM: f64 = 50.8;

impl Planer {
    /// The shortest wood that it takes.
    pub fn shortest(&self) -> f64 {
        let over = self.roller_spacing.value + OVER_ROLLERS_MM;
        self.least_length.value.max(over)
    }
}

impl Default for StockWishes {
    /// Examples. Common practice, no source, where nothing stands beside them.
    fn default() -> Self {
        let example = ShopFigure::example;
        StockWishes {
            is_given: false,
            sticks: Vec::new(),
            woods: Vec::new(),
            aim: StockAim::default(),
            currency: None,
            kerf: None,
            trim: example(3.0),
            least_held: example(150.0),
            spares: SpareShares {
                strips: example(0.1),
                pieces: example(0.1),
                members: example(0.0),
            },
            board: Board::default(),
            frame_board: Board::default(),
            milling: Milling {
                kerf: example(2.4),
                planing: example(0.8),
                // About 2.5 for each planed face, a furniture-making textbook says.
                surfacing: example(5.0),
                straightening: example(3.0),
                flushing: example(0.4),
                ends: example(75.0),
                least_rip_width: example(40.0),
                least_rip_length: example(305.0),
                from: RipFrom::default(),
                thin_by: ThinBy::default(),
            },
            // 12 in and 1/4 in, after a university's shop rules.
            planer: Planer {
                least_length: example(305.0),
                least_thickness: example(6.35),
                roller_spacing: example(250.0),
            },
        }
    }
}

impl StockWishes {
    /// Width of the groove of a hand saw or a fine blade, where neither the job nor a sled says. Common
    /// practice, no source, mm.
    pub const USUAL_KERF_MM: f64 = 2.0;
}

impl SpareShares {
    /// How many are made beyond `count`: none of none, and none where the share is zero; else the share of it,
    /// up to a whole one.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // few parts
    pub fn of(share: ShopFigure, count: usize) -> usize {
        if count == 0 || share.value <= 0.0 {
            return 0;
        }
        // A share that comes out whole but for rounding is whole.
        let spare = (share.value * count as f64 - 1e-9).ceil();
        spare.max(1.0) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_a_whole_one_at_least() {
        let of = |share, count| SpareShares::of(ShopFigure::own(share), count);
        assert_eq!([of(0.1, 1), of(0.1, 10), of(0.1, 11)], [1, 1, 2]);
        assert_eq!([of(0.0, 10), of(0.3, 0), of(0.3, 10)], [0, 0, 3]);
    }

    #[test]
    fn wood_spans_both_rollers() {
        let mut planer = StockWishes::default().planer;
        assert!((planer.shortest() - 305.0).abs() < 1e-9);
        planer.roller_spacing = ShopFigure::own(300.0);
        assert!((planer.shortest() - 350.8).abs() < 1e-9);
    }
}
