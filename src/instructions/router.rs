//! What a router does with a lattice's strips. Millimetres in the program's frame, mm/min, s.

use super::degrees;
use super::measured::MeasuredNote;
use super::sled::NotchFigures;
use super::stock::MeasuredStock;
use super::tool_path::{ProgramPart, ToolPath};
use crate::lattice::{Face, PanelEnd};
use crate::units::Rad;
use serde::Serialize;

/// A lattice's strips on a router.
#[derive(Debug, Clone, Serialize)]
pub struct RouterPlan {
    /// What is made.
    pub title: String,
    /// On which machine.
    pub machine: String,
    /// Of the strips, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// Of the machine, where its profile tells how they were measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub measured_figures: Vec<MeasuredNote>,
    /// In working order.
    pub setups: Vec<RouterSetup>,
    /// Estimated, of all set-ups and runs, without clamping.
    pub time_s: f64,
    /// What stands in the tool's room, as the profile says.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub clamps: Vec<ClampFigures>,
}

/// A clamp, from program zero.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClampFigures {
    /// What it is.
    pub name: String,
    /// Least and greatest X.
    pub x_mm: [f64; 2],
    /// Least and greatest Y.
    pub y_mm: [f64; 2],
    /// Its top over the top of the stock.
    pub top_mm: f64,
}

/// One clamping of a bundle and its program.
#[derive(Debug, Clone, Serialize)]
pub struct RouterSetup {
    /// Name of the program's file.
    pub file: String,
    /// Where one program has all set-ups: the number of its stop, from 1, after which the first run
    /// begins; 0 where the program begins with it. Every further run begins after a further stop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after_stop: Option<usize>,
    /// Whether the end stop, taken away for a key, has to stand where it stood again.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub stop_back: bool,
    /// Number of the bundle, from 1; of bundles that are the same part, the first one's.
    pub bundle: usize,
    /// Number of this set-up for the bundle lying this way, from 1.
    pub part: usize,
    /// And of how many: strips longer than the travel are moved along.
    pub parts: usize,
    /// Labels of all strips, runs shortened.
    pub strips: String,
    /// How they lie, bundle by bundle: all that are the same part share the program.
    pub lying: Vec<LyingBundle>,
    /// Those that are notched longer than they are needed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trims: Vec<Trimmed>,
    /// Length of each, as it is notched.
    pub length_mm: f64,
    /// How many strips in all.
    pub count: usize,
    /// How many in one bundle.
    pub strips_per_run: usize,
    /// How often the program runs, with a new bundle each time.
    pub runs: usize,
    /// Pieces of scrap that fill up the last bundle.
    pub fill_with_scrap: usize,
    /// From the strips to the tool's way, counter-clockwise seen from above, radians; degrees when
    /// serialised. The same as between a fence along the strips and the tool's way.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// The fence's angle from square, radians; degrees when serialised.
    #[serde(rename = "from_square_deg", serialize_with = "degrees")]
    pub from_square: f64,
    /// How much farther along X every strip lies than the one before it; below zero where it lies
    /// back.
    pub step_back_mm: f64,
    /// What the front strip lies against.
    pub registered: Registered,
    /// Notches, counted as `notches` are, that earlier programs have cut from the face that lies up.
    pub cut_before: Vec<usize>,
    /// Whether earlier programs have cut notches from the face that lies down now.
    pub rolled_over: bool,
    /// Those of them that line up from strip to strip and lie within the travel.
    pub notches_below: Vec<NotchBelow>,
    /// The cutter.
    #[serde(flatten)]
    pub tool: ToolFigures,
    /// Where the wood is.
    pub stock: Stock,
    /// For moves from notch to notch.
    pub safe_height_mm: f64,
    /// Depth taken at once.
    pub depth_per_pass_mm: f64,
    /// How a notch is cut.
    pub passes: Passes,
    /// Width of scrap before and behind the bundle.
    pub backers_mm: [f64; 2],
    /// While cutting.
    pub feed_mm_per_min: f64,
    /// In wall passes, where their thin slices let the tool go faster.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wall_feed_mm_per_min: Option<f64>,
    /// How far the cutter's end bends aside while roughing, estimated.
    pub deflection_mm: f64,
    /// While going down, in air.
    pub plunge_feed_mm_per_min: f64,
    /// Clockwise.
    pub spindle_rpm: f64,
    /// In the program's frame, on the front strip's centre line. Their numbers count from the end
    /// toward the stop, and are those of the first bundle, as is the face that they enter.
    pub notches: Vec<NotchFigures>,
    /// Way of the tool at cutting feed, through wood or in line with it.
    pub cutting_mm: f64,
    /// Way of the tool in rapid moves.
    pub rapid_mm: f64,
    /// The same if every notch began before the bundle, where they do not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rapid_from_front_mm: Option<f64>,
    /// Estimated with the profile's acceleration and path mode, spin-up included, for one run.
    pub time_s: f64,
    /// The tool's moves.
    #[serde(skip)]
    pub path: ToolPath,
}

/// Strips of a bundle in a set-up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LyingBundle {
    /// Number of the bundle, from 1.
    pub bundle: usize,
    /// What the strips are called.
    pub family: &'static str,
    /// Their labels, runs shortened.
    pub strips: String,
    /// How many.
    pub count: usize,
    /// The face that lies up.
    pub face_up: Face,
    /// Which end lies toward the end stop, as the strip will lie in the panel.
    pub end_at_stop: PanelEnd,
    /// Labels of those whose other end does.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub turned: String,
    /// For notches 1, 2, 3 and so on, as the set-up counts them, their numbers in this bundle as it
    /// is listed elsewhere; nothing where these are the same.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub own_numbers: Vec<usize>,
}

impl LyingBundle {
    /// The number in this bundle of a notch of the set-up; both from 1.
    pub fn own_number(&self, notch: usize) -> usize {
        let own = notch.checked_sub(1).and_then(|at| self.own_numbers.get(at));
        own.copied().unwrap_or(notch)
    }
}

impl RouterSetup {
    /// Whether its strips lie in more than one way, so that each has to be told.
    pub fn lies_mixed(&self) -> bool {
        self.lying.len() > 1 || self.lying.iter().any(|one| !one.turned.is_empty())
    }

    /// Which face lies up: `back face up`, of several bundles with their labels before it.
    pub fn faces(&self) -> String {
        if let [one] = self.lying.as_slice() {
            return format!("{} face up", one.face_up.name());
        }
        let faces = self.lying.iter();
        let faces = faces.map(|one| format!("{} {} face up", one.strips, one.face_up.name()));
        faces.collect::<Vec<_>>().join(", ")
    }

    /// What the strips are: `uprights U1-U5 and cross strips C1-C5`.
    pub fn names(&self) -> String {
        let names = self.lying.iter().map(|one| {
            let s = if one.count == 1 { "" } else { "s" };
            format!("{}{s} {}", one.family, one.strips)
        });
        names.collect::<Vec<_>>().join(" and ")
    }

    /// How many parts of its program are for this set-up: one for every run where a program has all
    /// set-ups, else one.
    pub fn part_count(&self) -> usize {
        if self.after_stop.is_some() {
            self.runs
        } else {
            1
        }
    }

    /// The program's parts for this set-up, the `number`th (from 1) of `count`.
    pub fn parts(&self, number: usize, count: usize) -> impl Iterator<Item = ProgramPart<'_>> {
        let runs = self.part_count();
        (1..=runs).map(move |run| {
            let mut message = format!("Set-up {number} of {count}");
            if runs > 1 {
                message.push_str(&format!(", run {run} of {runs}"));
            }
            if let Registered::Key { on_notch, .. } = self.registered {
                message.push_str(&format!(", notch {on_notch} on key"));
            }
            if self.from_square > 0.0 {
                message.push_str(&format!(", at {}", Rad(self.angle).text()));
            }
            if self.stop_back {
                message.push_str(", end stop back");
            }
            if run == self.runs && self.fill_with_scrap > 0 && runs > 1 {
                message.push_str(&format!(", with {} of scrap", self.fill_with_scrap));
            }
            let lying = self.lying.iter();
            message.extend(lying.map(|one| format!(", {}, {} up", one.strips, one.face_up.name())));
            ProgramPart {
                path: &self.path,
                message,
            }
        })
    }
}

/// A router's cutter, and which of the controller's zeros is set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ToolFigures {
    /// Width of what it cuts.
    #[serde(rename = "tool_diameter_mm")]
    pub cuts_mm: f64,
    /// Over its edges, measured, where a test notch came out wider or narrower than that.
    #[serde(rename = "tool_over_edges_mm", skip_serializing_if = "Option::is_none")]
    pub over_edges_mm: Option<f64>,
    /// From its holder to its end, as the profile says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stick_out_mm: Option<f64>,
    /// G54, where the controller has several zeros.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub work_zero: Option<&'static str>,
}

impl ToolFigures {
    /// What a caliper says over its edges.
    pub fn measured_mm(&self) -> f64 {
        self.over_edges_mm.unwrap_or(self.cuts_mm)
    }
}

/// The passes of a notch, at every depth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Passes {
    /// How many depths, the floor's own included.
    pub depths: usize,
    /// Roughing passes side by side, or the only one of a tool as wide as the notch.
    pub roughing: usize,
    /// Wall passes: two, or none where the tool is as wide as the notch.
    pub walls: usize,
    /// Left on each wall for the wall passes.
    pub wall_allowance_mm: f64,
    /// Left on the floor for a pass of its own.
    pub floor_allowance_mm: f64,
    /// Whether all roughing passes run to the back.
    pub returns_in_air: bool,
    /// Whether the last passes at full depth are made twice.
    pub spring_pass: bool,
}

/// What gives the strips their place along X.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "by", rename_all = "kebab-case")]
pub enum Registered {
    /// The front strip's datum end against the end stop.
    EndStop,
    /// A notch that is already cut on the key.
    Key {
        /// Which, from 1.
        on_notch: usize,
        /// The key's middle at the bundle's front edge, from program zero.
        x_mm: f64,
        /// The same from the low end of the machine's X axis.
        machine_x_mm: f64,
        /// The near edge of the notch on it, on the front strip's centre line, from program zero.
        near_edge_mm: f64,
        /// What all keys between this set-up and the end stop may add up to.
        worst_error_mm: f64,
    },
}

/// A strip that is cut shorter after notching.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trimmed {
    /// Its label.
    pub strip: String,
    /// What is kept, from the datum end.
    pub kept_mm: [f64; 2],
}

/// A notch that looks down, on the front strip's centre line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct NotchBelow {
    /// Which, from 1.
    pub index: usize,
    /// Its middle from program zero.
    pub x_mm: f64,
    /// From the low end of the machine's X axis.
    pub machine_x_mm: f64,
}

/// Where the clamped bundle lies.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stock {
    /// Datum end, other end; of a stepped bundle from the first end to the last.
    pub x_mm: [f64; 2],
    /// Front edge, back edge.
    pub y_mm: [f64; 2],
    /// Bottom, top.
    pub z_mm: [f64; 2],
}
