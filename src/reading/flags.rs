//! A square or diamond grid from the command line's flags alone.

use super::job::USUAL_LEAST_WEB_MM;
use super::quantity::quantity;
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::geometry::tolerance::DIRECTION;
use crate::lattice::{
    Design, DiamondGrid, DiamondStance, Grid, Joinery, MOST_BAYS, Panel, Region, SquareGrid,
    StripSection,
};
use crate::units::Kind;
use float_cmp::ApproxEq;
use std::f64::consts::FRAC_PI_2;

/// What the flags said, as written.
#[derive(Debug, Clone, Default)]
pub(crate) struct GridFlags {
    /// `--pitch`
    pub(crate) pitch: Option<String>,
    /// `--bays`
    pub(crate) bays: Option<String>,
    /// `--angle`
    pub(crate) angle: Option<String>,
    /// `--overhang`
    pub(crate) overhang: Option<String>,
    /// `--thickness`
    pub(crate) thickness: Option<String>,
    /// `--depth`
    pub(crate) depth: Option<String>,
    /// `--clearance`
    pub(crate) clearance: Option<String>,
}

/// A panel of `bays` by `bays` equal bays: square, or rhombs where an angle is given.
///
/// # Errors
/// All that is wrong with the flags; they point into a command line written out again.
pub(crate) fn panel_from_flags(flags: &GridFlags) -> Result<(Panel, Source), Unreadable> {
    let missing = "give a job file, or all of --pitch --bays --overhang --thickness --depth";
    let mut reader = FlagReader::new(missing);
    let design = read_design(&mut reader, flags);
    let FlagReader {
        source, findings, ..
    } = reader;
    let Some(design) = design else {
        return Err(Unreadable { source, findings });
    };
    match Panel::new(design) {
        Ok(panel) => Ok((panel, source)),
        Err(findings) => Err(Unreadable { source, findings }),
    }
}

fn read_design(reader: &mut FlagReader, flags: &GridFlags) -> Option<Design> {
    let pitch = reader.length("--pitch", &flags.pitch, "grid.pitch");
    let bays = reader.bays(&flags.bays);
    let overhang = reader.length("--overhang", &flags.overhang, "grid.overhang");
    let thickness = reader.length("--thickness", &flags.thickness, "strip.thickness");
    let depth = reader.length("--depth", &flags.depth, "strip.depth");
    let clearance = match &flags.clearance {
        None => Some(0.0),
        given => reader.quantity("--clearance", given, "strip.clearance", Kind::SignedLength),
    };
    let angle = match &flags.angle {
        None => Some(FRAC_PI_2),
        given => reader.quantity("--angle", given, "grid.angle", Kind::Angle),
    };
    for list in ["grid.pitches_x", "grid.pitches_y"] {
        reader.source.alias(list, "--pitch");
    }
    reader.source.alias("grid.corners", "--bays");
    Some(Design {
        title: String::from("grid from the command line"),
        grid: grid(pitch?, bays?, angle?, overhang?),
        strip: StripSection {
            thickness: thickness?,
            depth: depth?,
            clearance: clearance?,
            drawn: None,
            least_web: USUAL_LEAST_WEB_MM,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        },
        infill: None,
    })
}

/// Bays in a square, or in a rhomb with the grid's own angle, so that all strips of a family are
/// alike.
fn grid(pitch: f64, bays: usize, angle: f64, overhang: f64) -> Grid {
    if angle.approx_eq(FRAC_PI_2, DIRECTION) {
        return Grid::Square(SquareGrid {
            pitches_x: vec![pitch; bays],
            pitches_y: vec![pitch; bays],
            overhang,
        });
    }
    let side = bays as f64 * pitch / angle.sin();
    let rise = side * angle.cos();
    let run = side * angle.sin();
    let corners = vec![
        Point::new(0.0, 0.0),
        Point::new(run, rise),
        Point::new(run, rise + side),
        Point::new(0.0, side),
    ];
    Grid::Diamond(DiamondGrid {
        pitch,
        angle,
        stance: DiamondStance::Upright,
        region: Region::Polygon {
            corners,
            node: Point::default(),
        },
        overhang,
    })
}

/// The flags on their way to values: the command line written out again, and what is wrong with it.
pub(super) struct FlagReader {
    pub(super) source: Source,
    pub(super) findings: Vec<Finding>,
    /// What would be right where a flag is missing.
    missing: &'static str,
}

impl FlagReader {
    /// No flags yet.
    pub(super) fn new(missing: &'static str) -> Self {
        FlagReader {
            source: Source::new("command line", ""),
            findings: Vec::new(),
            missing,
        }
    }

    /// A length that stands alone in its flag.
    pub(super) fn length(
        &mut self,
        flag: &str,
        given: &Option<String>,
        field: &str,
    ) -> Option<f64> {
        self.quantity(flag, given, field, Kind::Length)
    }

    /// The same, and it may be below zero.
    pub(super) fn signed(
        &mut self,
        flag: &str,
        given: &Option<String>,
        field: &str,
    ) -> Option<f64> {
        self.quantity(flag, given, field, Kind::SignedLength)
    }

    /// An angle.
    pub(super) fn angle(&mut self, flag: &str, given: &Option<String>, field: &str) -> Option<f64> {
        self.quantity(flag, given, field, Kind::Angle)
    }

    /// A length that is one of several in a flag.
    pub(super) fn part(&mut self, flag: &str, text: &str) -> Option<f64> {
        quantity(flag, text, Kind::Length)
            .map_err(|finding| {
                // It points into the part, and the flag has more than that.
                self.findings.push(Finding {
                    part: None,
                    ..finding
                });
            })
            .ok()
            .map(|quantity| quantity.value)
    }

    fn quantity(
        &mut self,
        flag: &str,
        given: &Option<String>,
        field: &str,
        kind: Kind,
    ) -> Option<f64> {
        let text = self.note(flag, given, field)?;
        quantity(flag, &text, kind)
            .map_err(|finding| self.findings.push(finding))
            .ok()
            .map(|quantity| quantity.value)
    }

    fn bays(&mut self, given: &Option<String>) -> Option<usize> {
        let text = self.note("--bays", given, "grid.bays")?;
        let bays = text
            .trim()
            .parse()
            .ok()
            .filter(|bays| (1..=MOST_BAYS).contains(bays));
        if bays.is_none() {
            let message = format!("this must be a whole number from 1 to {MOST_BAYS}");
            self.findings
                .push(Finding::error("count-out-of-range", "--bays", message));
        }
        bays
    }

    /// Writes the flag into the source, so that findings can point at it.
    pub(super) fn note(
        &mut self,
        flag: &str,
        given: &Option<String>,
        field: &str,
    ) -> Option<String> {
        let Some(text) = given else {
            let finding = Finding::error("missing", flag, "this flag is missing");
            self.findings.push(finding.hint(self.missing));
            return None;
        };
        let line = &mut self.source.text;
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(flag);
        line.push(' ');
        let start = line.len();
        line.push_str(text);
        let end = line.len();
        self.source.note(flag, start..end);
        self.source.alias(field, flag);
        Some(text.clone())
    }
}
