//! What machine, cutter and control can do, as far as a proof is told.
//!
//! Program frame, as in [`Workpiece`](super::workpiece::Workpiece); lengths in mm.

/// A box that the tool may not touch, program frame.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepOut {
    /// What stands there, for the report.
    pub name: String,
    /// Low corner.
    pub low: [f64; 3],
    /// High corner; only its z counts, whatever stands below is in the way as well.
    pub high: [f64; 3],
}

/// Unit of a dwell's P.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DwellUnit {
    /// NISTIR 6556, 3.5.4.
    Seconds,
    /// Some small firmwares.
    Milliseconds,
}

/// Comments that a control takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comments {
    /// ( … ) only, as in NISTIR 6556.
    Parentheses,
    /// ; to the end of the line only.
    Semicolon,
    /// Both.
    Both,
    /// None at all.
    Nothing,
}

/// What machine, tool and control can do. What is `None` is not known and not checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Diameter of the cutter: flat end, straight sides.
    pub tool_diameter_mm: f64,
    /// Length of its flutes.
    pub flute_length_mm: Option<f64>,
    /// Diameter above the flutes.
    pub shank_diameter_mm: Option<f64>,
    /// From the cutter's end to its holder, and the holder's diameter.
    pub holder_mm: Option<[f64; 2]>,
    /// Travel of x, y and z in machine coordinates, low and high.
    pub travel_mm: Option<[[f64; 2]; 3]>,
    /// The program's zero (G54) in machine coordinates.
    pub program_zero_mm: Option<[f64; 3]>,
    /// Fastest feed, mm/min.
    pub max_feed: Option<f64>,
    /// Slowest feed while cutting, mm/min: below it the cutter rubs and burns.
    pub min_feed: Option<f64>,
    /// Fastest feed downward, mm/min.
    pub max_plunge: Option<f64>,
    /// Fastest spindle speed, 1/min.
    pub max_rpm: Option<f64>,
    /// Slowest spindle speed, 1/min.
    pub min_rpm: Option<f64>,
    /// Deepest pass.
    pub max_depth_per_pass_mm: Option<f64>,
    /// How long the spindle takes to come up to speed, seconds.
    pub spin_up_s: Option<f64>,
    /// Clamps, stops, screws.
    pub keep_outs: Vec<KeepOut>,
    /// Height of the table (or of what lies on it to be cut into), program frame.
    pub table_z_mm: Option<f64>,
    /// Least height of a sideways rapid above wood.
    pub clearance_mm: Option<f64>,
    /// Unit of a dwell.
    pub dwell_unit: Option<DwellUnit>,
    /// Bytes in a line, line end not counted.
    pub max_line_length: Option<usize>,
    /// Comments.
    pub comments: Option<Comments>,
    /// G and M numbers that the control does not take: letter, number in tenths.
    pub codes_not_taken: Vec<(char, u32)>,
    /// Whether the control has no work zeros to choose from, so that none has to be said.
    pub one_zero: bool,
    /// By how much the control may round a corner that touches a strip.
    pub blending_tolerance_mm: Option<f64>,
    /// By how much it rounds a corner at most where the program sets no bound.
    pub unbounded_blend_mm: Option<f64>,
    /// Of every axis, mm/s^2: tells how far a corner is rounded at the program's own feeds.
    pub acceleration: Option<f64>,
    /// Thickest chip of a turn, all edges together, mm: the feed over the spindle's speed.
    pub max_feed_per_turn_mm: Option<f64>,
    /// How many times that where the cutter takes thin slices off a wall, as their chips come out
    /// thinner; 1 where the feed is the same everywhere.
    pub most_thinning: f64,
    /// Whether `program_zero_mm` is where the zero should be rather than where it was set: good
    /// for travel along X and Y, not for cutting in the machine's frame. Z is set to the stock's
    /// top, wherever that is: the moves must fit between the travel's ends.
    pub zero_is_nominal: bool,
    /// Whether the control takes G61 without heeding it, and rounds corners all the same.
    pub exact_path_ignored: bool,
}

impl Limits {
    /// Nothing is known but the cutter's diameter.
    pub fn tool_only(tool_diameter_mm: f64) -> Self {
        Limits {
            tool_diameter_mm,
            flute_length_mm: None,
            shank_diameter_mm: None,
            holder_mm: None,
            travel_mm: None,
            program_zero_mm: None,
            max_feed: None,
            min_feed: None,
            max_plunge: None,
            max_rpm: None,
            min_rpm: None,
            max_depth_per_pass_mm: None,
            spin_up_s: None,
            keep_outs: Vec::new(),
            table_z_mm: None,
            clearance_mm: None,
            dwell_unit: None,
            max_line_length: None,
            comments: None,
            codes_not_taken: Vec::new(),
            one_zero: false,
            blending_tolerance_mm: None,
            unbounded_blend_mm: None,
            acceleration: None,
            max_feed_per_turn_mm: None,
            most_thinning: 1.0,
            zero_is_nominal: false,
            exact_path_ignored: false,
        }
    }

    /// Half the diameter.
    pub fn tool_radius_mm(&self) -> f64 {
        self.tool_diameter_mm / 2.0
    }
}
