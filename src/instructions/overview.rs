//! A panel at a glance: sizes, parts, weight, and what its machines would do. Millimetres, metres,
//! kilograms.

use super::advice::Advice;
use super::as_built::AsBuiltFigures;
use super::measured::MeasuredNote;
use super::panel_size::{PanelSize, TrimmedEnd};
use super::stock::MeasuredStock;
use crate::finding::Finding;
use crate::geometry::Point;
use crate::geometry::tolerance::POSITION;
use crate::units::UnitSystem;
pub use crate::woods::Basis;
use float_cmp::ApproxEq;
use serde::{Serialize, Serializer};
use serde_json::{Value, json};

/// A panel at a glance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Overview {
    /// What is made.
    pub title: String,
    /// Its lines.
    pub grid: GridFigures,
    /// The strips' section, as everything is worked out with it.
    pub section: SectionFigures,
    /// Of the strips, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// The bays as built, where the strips are cut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_built: Option<AsBuiltFigures>,
    /// Over all, width and height, frame included where there is one; nothing where its members'
    /// widths are not known, or where the panel is no upright rectangle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finished_mm: Option<[f64; 2]>,
    /// Of the least upright rectangle round all wood that stays: strips trimmed, and the frame's members
    /// where their widths are known. Strips that lie along the edge of a slanted grid's region reach
    /// half their thickness beyond it.
    pub over_all_mm: [f64; 2],
    /// The largest upright rectangle that goes into the opening that the job starts from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_mm: Option<[f64; 2]>,
    /// Where the strips' ends are cut off, if it is the same at all of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim: Option<TrimPlace>,
    /// The same family by family, strips that are cut off alike together.
    pub trims: Vec<TrimKind>,
    /// Sizes, as the sled's and the rails' answers have them.
    pub size: PanelSize,
    /// The frame, if there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<FrameOverview>,
    /// Strips by kind, family by family.
    pub strips: Vec<StripKind>,
    /// Pieces by kind, in the order of the list that `pare` gives.
    pub pieces: Vec<PieceCount>,
    /// Places where strips meet and that stay in the panel, three strips through one place counted once.
    pub nodes: usize,
    /// Laps of two strips that stay in the panel: three strips through one node make three.
    pub joints: usize,
    /// Laps that are cut and go with the overhangs.
    pub joints_trimmed_off: usize,
    /// Wood to be cut.
    pub metres: Metres,
    /// The wood to get for it; nothing where no stick does for a part, or nothing is made from sticks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock: Option<StockGlance>,
    /// What the panel weighs.
    pub weight: Weight,
    /// What would change the work most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub advice: Option<Advice>,
    /// What each machine would do, in working order.
    pub machines: Vec<StationOverview>,
    /// Row by row from the bottom, each from the left.
    pub cells: Vec<CellOverview>,
}

/// A grid's kind and measures.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum GridFigures {
    /// Uprights and cross strips.
    Square {
        /// Between neighbouring uprights, left to right.
        pitches_x_mm: Vec<f64>,
        /// Between neighbouring cross strips, bottom to top.
        pitches_y_mm: Vec<f64>,
    },
    /// Equal rhombs.
    Diamond {
        /// Between neighbouring strips, square to them.
        pitch_mm: f64,
        /// Between the families, radians; degrees when serialised.
        #[serde(rename = "angle_deg", serialize_with = "super::degrees")]
        angle: f64,
    },
    /// Equal triangles.
    Triangular {
        /// From node to node.
        side_mm: f64,
    },
}

/// What every strip is like.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SectionFigures {
    /// As seen from the front.
    pub thickness_mm: f64,
    /// Front to back.
    pub depth_mm: f64,
    /// Notch less mate.
    pub clearance_mm: f64,
    /// Thickness and depth of the pieces, where they are not those of the strips.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pieces_mm: Option<[f64; 2]>,
    /// Species, as the job calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<String>,
}

/// Where strips' ends are cut off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TrimPlace {
    /// From the strip's end to the cut, along the strip.
    pub from_end_mm: f64,
    /// From the middle of the strip's last notch that stays out to the cut; nothing where this stands for
    /// several ends and differs among them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_last_notch_mm: Option<f64>,
    /// How the end lies afterwards.
    pub ends: TrimmedEnd,
}

impl TrimPlace {
    /// What several ends have in common; nothing where they are not cut off at the same distance from
    /// the strip's end.
    pub fn shared<'a>(places: impl IntoIterator<Item = &'a TrimPlace>) -> Option<TrimPlace> {
        let mut places = places.into_iter();
        let mut shared = *places.next()?;
        for place in places {
            if !place.from_end_mm.approx_eq(shared.from_end_mm, POSITION)
                || place.ends != shared.ends
            {
                return None;
            }
            let both = shared.from_last_notch_mm.zip(place.from_last_notch_mm);
            let same = both.is_some_and(|(a, b)| a.approx_eq(b, POSITION));
            shared.from_last_notch_mm = shared.from_last_notch_mm.filter(|_| same);
        }
        Some(shared)
    }
}

/// Strips of a family whose ends are cut off alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimKind {
    /// What one is called.
    pub kind: &'static str,
    /// Their labels, runs shortened.
    pub strips: String,
    /// At the datum end and at the other one.
    pub places: [TrimPlace; 2],
}

/// A frame at a glance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FrameOverview {
    /// Front to back.
    pub thickness_mm: f64,
    /// How many members go round the panel.
    pub members: usize,
    /// Over the outer faces, width and height; nothing where the widths are not known, or where it is no
    /// upright rectangle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outside_mm: Option<[f64; 2]>,
    /// How its members meet.
    pub joint: FrameJointKind,
    /// Mitres at the members' ends; none where their widths are not known.
    pub mitres: usize,
    /// Tenons at the rails' ends, where the members are tenoned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tenons: Option<TenonsOverview>,
    /// Mortises for the strips' ends.
    pub mortises: usize,
    /// Of these, member's inner face to floor.
    pub mortise_depth_mm: f64,
}

/// Tenons at a glance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TenonsOverview {
    /// How many.
    pub count: usize,
    /// Shoulder to end.
    pub length_mm: f64,
    /// Front to back.
    pub thickness_mm: f64,
}

/// How a frame's members meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FrameJointKind {
    /// Mitred.
    Mitre,
    /// Mortise and tenon.
    MortiseAndTenon,
}

impl FrameJointKind {
    /// After a comma.
    pub fn words(self) -> &'static str {
        match self {
            FrameJointKind::Mitre => "mitred",
            FrameJointKind::MortiseAndTenon => "mortise and tenon",
        }
    }
}

/// Strips of a family that are cut and trimmed to the same lengths.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StripKind {
    /// What one is called.
    pub kind: &'static str,
    /// How many.
    pub count: usize,
    /// Their labels, runs shortened.
    pub strips: String,
    /// As cut, both overhangs included.
    pub length_mm: f64,
    /// As it stays in the panel, along its centre line.
    pub trimmed_mm: f64,
}

/// Equal pieces.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceCount {
    /// Its number in the list that `pare` gives.
    pub number: usize,
    /// Its name in the pattern.
    pub kind: String,
    /// How many the panel takes.
    pub count: usize,
    /// How many are made, those included that are trimmed later.
    pub made: usize,
    /// From extreme point to extreme point; of a trimmed one before it is trimmed.
    pub length_mm: f64,
    /// What it is cut to before its mitres are made.
    pub rough_length_mm: f64,
    /// Of a trimmed one: number of the piece that it is before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trimmed_from: Option<usize>,
}

/// Lengths of wood added up, metres, without kerfs and spares.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Metres {
    /// Of strips as they are notched, overhangs included.
    pub strips: f64,
    /// Of pieces at their rough lengths.
    pub pieces: f64,
}

/// The wood to get for a panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StockGlance {
    /// All that is cut from sticks, spares included, m.
    pub metres: f64,
    /// Section by section.
    pub sticks: Vec<SticksGlance>,
}

/// Sticks of a section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SticksGlance {
    /// What they are for: `strips`, `pieces`, `frame`.
    pub used_for: &'static str,
    /// How many.
    pub count: usize,
    /// How many boards they are milled from, where they are.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub boards: Option<usize>,
    /// Whether the job says what boards; else they are examples.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub boards_are_own: Option<bool>,
}

/// What a panel weighs, without glue and finish.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Weight {
    /// Of wood that stays in the panel: strips trimmed, less their laps, and pieces, cubic centimetres.
    pub volume_cm3: f64,
    /// Its weight without the frame's, kg; nothing where the wood is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
    /// The frame's, where there is one whose members' widths are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<FrameWeight>,
    /// What the density is taken from; nothing where the wood is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density: Option<Density>,
    /// Woods whose names have the job's words in them, where none has just these.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub like: Vec<&'static str>,
}

/// What a frame's members weigh.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FrameWeight {
    /// Of their wood once all is cut, horns and what joints, mortises and a recess take left out, cubic
    /// centimetres.
    pub volume_cm3: f64,
    /// Its weight, kg; nothing where the wood is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
    /// What the density is taken from; nothing where the wood is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density: Option<Density>,
    /// Species, as the job calls it, where it is not the strips'.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<String>,
    /// As [`Weight::like`].
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub like: Vec<&'static str>,
}

/// How heavy a wood is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Density {
    /// What it is called in the table, or by the job that says how heavy it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<String>,
    /// Mass by volume at that moisture.
    pub kg_per_m3: f64,
    /// Mass of water by that of oven-dry wood, in percent; nothing where the job says the density.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moisture_percent: Option<f64>,
    /// How sure the figure is.
    pub basis: Basis,
    /// Where it comes from.
    pub source: &'static str,
}

/// What a machine would do.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StationOverview {
    /// Its place in the job: `sled`, `laser`, `router`, `guides`.
    pub station: &'static str,
    /// The profile.
    pub machine: String,
    /// Of its figures, those that its profile tells how they were measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub measured_figures: Vec<MeasuredNote>,
    /// What it does, piece of work by piece of work.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub does: Vec<Work>,
    /// Why it cannot.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "reasons")]
    pub cannot: Vec<Finding>,
}

/// A piece of work at a machine.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "work", rename_all = "kebab-case")]
pub enum Work {
    /// Strips notched on a sled.
    SawnNotches {
        /// Settings of fence and blade.
        settings: usize,
        /// Notches of one strip of every bundle, each set once.
        notches: usize,
        /// Bundles of equal strips.
        bundles: usize,
        /// Key distances that the rack lacks.
        slots_to_add: usize,
    },
    /// Strips notched by a router.
    RoutedNotches {
        /// Programs, or parts of one program between its stops.
        set_ups: usize,
        /// How often they are run in all.
        runs: usize,
        /// Estimated, without clamping, seconds.
        time_s: f64,
    },
    /// Strips cut from sheet.
    SheetStrips {
        /// Sheets.
        sheets: usize,
        /// Along and across the grain.
        sheet_mm: [f64; 2],
    },
    /// Mitres of pieces sawn on long sticks.
    SawnMitres {
        /// Facets that the saw makes.
        facets: usize,
        /// Settings of fence and blade.
        settings: usize,
    },
    /// Mitres of pieces routed in rows.
    RoutedMitres {
        /// Facets that the router makes.
        facets: usize,
        /// Programs.
        programs: usize,
    },
    /// Mitres of a frame's members sawn on a sled.
    SawnMembers {
        /// Mitres that the sled saws.
        mitres: usize,
        /// Settings of the fence.
        settings: usize,
    },
    /// Mortises in a frame's members routed for the strips' ends.
    RoutedMortises {
        /// Mortises.
        mortises: usize,
        /// Members.
        members: usize,
        /// Estimated, without clamping, seconds.
        time_s: f64,
    },
    /// Facets pared on guides.
    Paring {
        /// Facets, of all pieces.
        facets: usize,
        /// Angles of the guide blocks, radians; degrees when serialised.
        #[serde(rename = "blocks_deg", serialize_with = "all_degrees")]
        blocks: Vec<f64>,
    },
}

/// A cell between centre lines.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CellOverview {
    /// From 1, from the bottom.
    pub row: usize,
    /// From 1, from the left of its row.
    pub column: usize,
    /// On the centre lines, counter-clockwise, panel frame.
    #[serde(serialize_with = "corners")]
    pub corners_mm: Vec<Point>,
    /// Whether the panel's edge leaves it whole.
    pub whole: bool,
    /// The pattern whose pieces it takes; nothing where it stays open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pattern: Option<String>,
    /// The letter that the job's map has for it, or a map of what the job asks for would have; nothing
    /// where it stays open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub letter: Option<char>,
}

fn corners<S: Serializer>(corners: &[Point], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(corners.iter().map(|corner| [corner.x, corner.y]))
}

fn all_degrees<S: Serializer>(angles: &[f64], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(angles.iter().map(|angle| angle.to_degrees()))
}

/// Programs read millimetres, whatever people read.
fn reasons<S: Serializer>(findings: &[Finding], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(findings.iter().map(reason))
}

fn reason(finding: &Finding) -> Value {
    json!({
        "code": finding.code,
        "field": finding.field,
        "text": finding.message.text(UnitSystem::Millimetres),
    })
}
