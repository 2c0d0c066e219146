//! Pieces that lie in a row on a long stick while a machine makes their mitres. Millimetres.

/// What a machine needs to know of sticks whose pieces stay joined by a skin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LongSticks {
    /// What a mitre's cut leaves of the stick's depth, so that no piece comes free.
    pub skin: f64,
    /// At its thinnest place the skin must be as thick as this.
    pub least_skin: f64,
    /// How closely the cut's depth comes out, plus or minus.
    pub height_error: f64,
    /// How far the sticks' depths differ from what was measured, plus or minus.
    pub depth_spread: f64,
    /// Of a stick at either end, for clamps: from its end to where the first piece's point, or its
    /// square end, may lie.
    pub grip: f64,
    /// Longer sticks are not taken for a row.
    pub longest: f64,
}

impl LongSticks {
    /// What is left of the skin where all that can go wrong makes it thinner.
    pub fn thinnest_skin(&self) -> f64 {
        self.skin - self.height_error - self.depth_spread
    }

    /// What is left of it where all makes it thicker; `ridge` is what bevelled teeth leave standing
    /// in the middle of their kerf.
    pub fn thickest_skin(&self, ridge: f64) -> f64 {
        self.skin + self.height_error + self.depth_spread + ridge
    }
}

/// What a sled has for mitres beside the fence that it swings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SledMitres {
    /// For rows on long sticks.
    pub sticks: LongSticks,
    /// Whether a board parallel to the blade can serve as stop: it steps a block by itself.
    pub stop_board: bool,
    /// Whether a straight board can be fixed square to the fence, for sticks to lie along.
    pub cross_board: bool,
    /// Steepest wedge between fence and sticks, radians; 0 for none.
    pub steepest_wedge: f64,
}
