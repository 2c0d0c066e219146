//! A crosscut sled on a table saw; a bench hook with a hand saw is the same geometry without a
//! motor. Millimetres.

use super::long_sticks::SledMitres;
use super::spread::Spread;

/// A sled and how strips are registered on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sled {
    /// The blade that cuts the notches.
    pub blade: Blade,
    /// Thickness of the sled's base, through which the blade stands.
    pub base_thickness: f64,
    /// Widest block of strips that it holds as one clamped piece, measured along the cut.
    pub widest_block: f64,
    /// Shorter strips are not to be cut on it.
    pub shortest_strip: f64,
    /// Longer strips do not fit.
    pub longest_strip: f64,
    /// How far its fence turns from square to the blade, either way, radians; 0 for a fixed one.
    pub swing: f64,
    /// Added to the blade's height over the base (or the depth of the saw cut). A lap of two scraps
    /// tells what it lacks: half of the strip's depth less the sum of both notches' depths, above zero
    /// where they are too shallow.
    pub height_correction: f64,
    /// A stop for the strip's end.
    pub stop: Option<Stop>,
    /// Blocks of known length between stop and strip.
    pub spacers: Option<Spacers>,
    /// Slots for a key.
    pub rack: Option<Rack>,
    /// What it has for mitres of pieces, where it makes any.
    pub mitres: Option<SledMitres>,
    /// How far its work scatters beside what stop and rack say.
    pub spread: Spread,
}

/// A saw blade.
#[derive(Debug, Clone, PartialEq)]
pub struct Blade {
    /// Width of the groove it leaves, measured on a test cut.
    pub kerf: f64,
    /// How its teeth leave the floor.
    pub tooth: Tooth,
    /// Set for a table saw, not for a hand saw.
    pub powered: Option<Powered>,
}

/// The form of a blade's teeth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tooth {
    /// Leaves a flat floor.
    FlatTop,
    /// Ground left and right in turn, at a bevel in radians.
    AlternateBevel(f64),
}

/// What only a saw with a motor has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Powered {
    /// Of the blade over its teeth.
    pub diameter: f64,
    /// Greatest height of the blade over the table.
    pub highest: f64,
    /// How far the sled can move along the cut.
    pub travel: f64,
    /// Least overlap of neighbouring passes.
    pub overlap: f64,
}

/// A stop block, or a fence with a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Least distance from its face to the near side of the kerf.
    pub nearest: f64,
    /// Greatest such distance.
    pub farthest: f64,
    /// How closely a setting comes out, plus or minus.
    pub repeatability: f64,
}

/// Spacer blocks between stop and strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spacers {
    /// How closely their length is known, plus or minus.
    pub tolerance: f64,
}

/// The key slots of a sled.
#[derive(Debug, Clone, PartialEq)]
pub struct Rack {
    /// Centre of the key to centre of the kerf, for each slot.
    pub slots: Vec<RackSlot>,
    /// How closely a notch lands when registered on the key, plus or minus.
    pub repeatability: f64,
    /// A slot serves a step if its measured distance differs from it by no more than this.
    pub greatest_misfit: f64,
}

/// One slot of a rack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RackSlot {
    /// What it is called.
    pub nominal: f64,
    /// What it measures.
    pub measured: f64,
}
