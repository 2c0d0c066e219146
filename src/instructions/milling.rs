//! From boards to sticks. Millimetres; shares are parts of one.

use serde::Serialize;

/// A board, and the sticks that come of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MilledBoard {
    /// As it is bought.
    pub board: BoardFigures,
    /// How many of them.
    pub boards: usize,
    /// How many there are, where the job says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_hand: Option<usize>,
    /// Of one, where the job says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_each: Option<f64>,
    /// Of all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// Of all boards, m3.
    pub volume_m3: f64,
    /// Of all boards, nothing rounded up.
    pub board_feet: f64,
    /// Of all boards as a dealer in hardwood counts: the surface of each to a whole foot, stock under an inch as an
    /// inch.
    pub board_feet_hardwood: f64,
    /// How it is ripped.
    pub ripped: Ripped,
    /// The other way to rip it, where that gives sticks too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub otherwise: Option<Ripped>,
    /// Of a stick, once its ends are cut off.
    pub stick_mm: f64,
}

/// A board as it is bought.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BoardFigures {
    /// Between its faces.
    pub thickness_mm: f64,
    /// Edge to edge.
    pub width_mm: f64,
    /// As it goes through the machines.
    pub length_mm: f64,
    /// Whether the job gives all three; else what it does not give is an example.
    pub is_own: bool,
    /// How its rings lie: `flat` or `quarter`; nothing where nobody says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sawn: Option<&'static str>,
}

/// How a board is ripped, and what becomes of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Ripped {
    /// Off the edge of the board, or off blanks.
    pub from: RippedFrom,
    /// Blanks of a board; the board itself is one.
    pub blanks: usize,
    /// Sticks of a blank.
    pub sticks_per_blank: usize,
    /// Of these, those that come off while the rest is too narrow to be ripped on the saw.
    pub from_narrow_rest: usize,
    /// Of a blank once it is planed, along the rips' steps and across.
    pub blank_mm: [f64; 2],
    /// Of a blank as it is ripped from the board, where it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blank_rough_mm: Option<f64>,
    /// Of a stick as it is ripped.
    pub rough_mm: f64,
    /// From stick to stick, kerf included.
    pub step_mm: f64,
    /// What is left over behind the last stick, its kerf taken off.
    pub rest_mm: f64,
    /// Of what the sticks come off, the parts of its width that stay, go into kerfs, are planed off, are left over.
    pub shares: RipShares,
    /// Of the board's whole end, what stays in finished sticks.
    pub kept_of_board: f64,
    /// How growth rings lie to the stick's thickness, by how the board is sawn: flat and quarter.
    pub rings: [RingsLie; 2],
}

/// What sticks come off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RippedFrom {
    /// The board's edge.
    Edge,
    /// Blanks as wide as the sticks are deep.
    Blanks,
    /// The board's edge, the sticks as wide as they are: members of a frame.
    Members,
}

/// Parts of a width; together one.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RipShares {
    /// In finished sticks.
    pub kept: f64,
    /// Sawdust.
    pub kerfs: f64,
    /// Planed off the sticks.
    pub planed: f64,
    /// Left over.
    pub rest: f64,
}

impl RipShares {
    /// All that is no stick in the end.
    pub fn lost(&self) -> f64 {
        self.kerfs + self.planed + self.rest
    }
}

/// How growth rings lie to a stick's thickness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RingsLie {
    /// Crossed by it: it moves least, and straight lines show in front.
    AcrossThickness,
    /// Running along it: it moves most, and the figure of a flat-sawn face shows in front.
    AlongThickness,
}

impl RingsLie {
    /// As jobs have it.
    pub fn name(self) -> &'static str {
        match self {
            RingsLie::AcrossThickness => "across-thickness",
            RingsLie::AlongThickness => "along-thickness",
        }
    }
}

/// A step from boards to sticks.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MillingStep {
    /// Number, from 1, of the section.
    pub section: usize,
    /// What is done.
    pub step: Mill,
    /// The figure that it is done to.
    pub figure_mm: f64,
    /// How many pieces of wood there are then, of one board.
    pub count: usize,
    /// What goes through it: length, width, thickness as it lies.
    pub before_mm: [f64; 3],
    /// What each of them is then.
    pub after_mm: [f64; 3],
}

/// A kind of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mill {
    /// Let boards, or blanks, lie indoors until they are steady.
    Rest,
    /// Joint one face and an edge, plane the other face parallel: to a thickness.
    Surface,
    /// Plane the board or blank on: to a thickness.
    Plane,
    /// The same on a carrier board, since it is thinner than the planer takes.
    PlaneOnCarrier,
    /// Rip blanks: to a width.
    RipBlanks,
    /// Rip sticks: to a thickness as sawn.
    RipSticks,
    /// Bring a strip to its thickness in the planer, which takes it bare.
    ThinInPlaner,
    /// Bring a strip to its thickness on a carrier board.
    ThinOnCarrier,
    /// The same in a drum sander.
    ThinInDrumSander,
    /// The same with a hand plane between rails.
    ThinByHand,
    /// Plane a member's edges: to a width.
    PlaneEdges,
    /// Cut both ends off: to a length.
    CutEnds,
    /// Plane the glued panel's faces flush: to a depth.
    Flush,
}

/// How thick strips come out, and how much they may differ.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThicknessFigures {
    /// What everything is worked out with.
    pub thickness_mm: f64,
    /// The blade's kerf less the wanted clearance: what one pass of the sled suits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub one_pass_mm: Option<f64>,
    /// The sled.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// Plus or minus so much about that thickness 95 of 100 laps still go together, what wood gives included; nothing
    /// where notches alone differ by more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub good_within_mm: Option<f64>,
    /// Notch less strip that this is reckoned with.
    pub clearance_mm: f64,
    /// What wood gives.
    pub crush_mm: f64,
    /// How the profile's figures plus or minus are read.
    pub plus_minus: &'static str,
}
