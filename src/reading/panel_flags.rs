//! An opening, strips, a frame and bays from the command line's flags.

use super::flags::FlagReader;
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::lattice::{DiamondStance, MOST_BAYS, TriangularStance};
use crate::opening::Slanted;

/// A length as a person wrote it.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// With its unit.
    pub text: String,
    /// What it is.
    pub mm: f64,
}

/// What the cells are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum CellKind {
    /// Squares.
    #[default]
    Square,
    /// Rhombs.
    Diamond,
    /// Triangles.
    Triangular,
}

/// How slanted cells lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stance {
    /// One family stands.
    Upright,
    /// Rhombs stand on a corner.
    OnPoint,
    /// One family of triangles' strips lies level.
    Lying,
}

/// What the flags said, as written.
#[derive(Debug, Clone, Default)]
pub(crate) struct PanelFlags {
    /// `--kind`, or that of the job.
    pub(crate) kind: CellKind,
    /// `--stance`
    pub(crate) stance: Option<Stance>,
    /// `--angle`
    pub(crate) angle: Option<String>,
    /// `--side`
    pub(crate) side: Option<String>,
    /// `--frame-thickness`
    pub(crate) frame_thickness: Option<String>,
    /// `--frame-width`
    pub(crate) frame_width: Option<String>,
    /// `--mortise-depth`
    pub(crate) mortise_depth: Option<String>,
    /// `--rebate`, its width and depth.
    pub(crate) rebate: Option<String>,
    /// `--opening`, width and height.
    pub(crate) opening: Option<String>,
    /// `--play`
    pub(crate) play: Option<String>,
    /// `--thickness`
    pub(crate) thickness: Option<String>,
    /// `--depth`
    pub(crate) depth: Option<String>,
    /// `--clearance`
    pub(crate) clearance: Option<String>,
    /// `--pitch`
    pub(crate) pitch: Option<String>,
    /// `--columns`
    pub(crate) columns: Option<String>,
    /// `--rows`
    pub(crate) rows: Option<String>,
    /// `--least-margin`
    pub(crate) least_margin: Option<String>,
    /// `--most-margin`
    pub(crate) most_margin: Option<String>,
}

/// What they mean.
#[derive(Debug, Clone)]
pub(crate) struct ReadPanelFlags {
    /// Opening and strips, where no job has them.
    pub(crate) section: Option<OpeningAndStrip>,
    /// Rhombs or triangles, with what flags say of them.
    pub(crate) slanted: Option<SlantedFlags>,
    /// About this pitch, mm: that of triangles is their height.
    pub(crate) pitch: Option<f64>,
    /// So many bays side by side.
    pub(crate) columns: Option<usize>,
    /// So many bays above each other.
    pub(crate) rows: Option<usize>,
    /// Least margin, mm.
    pub(crate) least_margin: Option<f64>,
    /// Greatest margin, mm.
    pub(crate) most_margin: Option<f64>,
    /// Where findings about them point.
    pub(crate) source: Source,
}

/// What flags say of a slanted grid; nothing where they do not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum SlantedFlags {
    /// Rhombs: how they lie, and the angle between their families, rad.
    Diamond {
        /// How they lie.
        stance: Option<DiamondStance>,
        /// Between the families, rad.
        angle: Option<f64>,
    },
    /// Triangles.
    Triangular {
        /// How they lie.
        stance: Option<TriangularStance>,
    },
}

impl SlantedFlags {
    /// With what a job has where flags say nothing; else rhombs stand on a corner and triangles lie.
    pub(crate) fn or(self, job: Option<Slanted>) -> Slanted {
        match self {
            SlantedFlags::Diamond { stance, angle } => {
                let of_job = match job {
                    Some(Slanted::Diamond { stance, angle }) => Some((stance, angle)),
                    _ => None,
                };
                let usual = of_job.map_or(DiamondStance::OnPoint, |(stance, _)| stance);
                Slanted::Diamond {
                    stance: stance.unwrap_or(usual),
                    angle: angle.or(of_job.and_then(|(_, angle)| angle)),
                }
            }
            SlantedFlags::Triangular { stance } => {
                let usual = match job {
                    Some(Slanted::Triangular { stance }) => stance,
                    _ => TriangularStance::Lying,
                };
                Slanted::Triangular {
                    stance: stance.unwrap_or(usual),
                }
            }
        }
    }
}

/// A frame's figures as flags give them.
#[derive(Debug, Clone)]
pub(crate) struct FrameSection {
    /// Of the members, front to back.
    pub(crate) thickness: Written,
    /// Of the members, seen from the front.
    pub(crate) width: Option<Written>,
    /// Of the strips' mortises.
    pub(crate) mortise_depth: Written,
    /// Width and depth.
    pub(crate) rebate: Option<[Written; 2]>,
}

/// What a job says of opening, strips and frame.
#[derive(Debug, Clone)]
pub(crate) struct OpeningAndStrip {
    /// Width and height.
    pub(crate) opening: [Written; 2],
    /// Air at every side.
    pub(crate) play: Option<Written>,
    /// As seen from the front.
    pub(crate) thickness: Written,
    /// Front to back.
    pub(crate) depth: Written,
    /// Notch width less strip thickness.
    pub(crate) clearance: Option<Written>,
    /// Round it, if there is one.
    pub(crate) frame: Option<FrameSection>,
}

/// Reads the flags; those of opening and strips only where no job stands for them.
///
/// # Errors
/// All that is wrong with them; they point into a command line written out again.
pub(crate) fn read_panel_flags(
    flags: &PanelFlags,
    with_job: bool,
) -> Result<ReadPanelFlags, Unreadable> {
    let missing = "give a job file with an [opening], or all of --opening --thickness --depth";
    let mut reader = FlagReader::new(missing);
    let section = (!with_job).then(|| read_section(&mut reader, flags));
    let pitch = read_pitch(&mut reader, flags);
    let slanted = read_slanted(&mut reader, flags);
    let columns = count(&mut reader, "--columns", &flags.columns);
    let rows = count(&mut reader, "--rows", &flags.rows);
    let least_margin = above_zero(
        &mut reader,
        "--least-margin",
        &flags.least_margin,
        "grid.least_margin",
    );
    let most_margin = above_zero(
        &mut reader,
        "--most-margin",
        &flags.most_margin,
        "grid.most_margin",
    );
    for field in ["opening", "opening.width", "opening.height"] {
        reader.source.alias(field, "--opening");
    }
    // What is wrong with a width that is not there is told at what the frame has.
    if flags.frame_width.is_none() {
        reader.source.alias("frame.width", "--frame-thickness");
    }
    if reader.findings.is_empty() {
        Ok(ReadPanelFlags {
            section: section.flatten(),
            slanted,
            pitch,
            columns,
            rows,
            least_margin: least_margin.map(|read| read.mm),
            most_margin: most_margin.map(|read| read.mm),
            source: reader.source,
        })
    } else {
        Err(Unreadable {
            source: reader.source,
            findings: reader.findings,
        })
    }
}

fn read_section(reader: &mut FlagReader, flags: &PanelFlags) -> Option<OpeningAndStrip> {
    let opening = pair(reader, "--opening", &flags.opening, "opening");
    let play = optional(reader, "--play", &flags.play, "opening.play");
    let thickness = required(reader, "--thickness", &flags.thickness, "strip.thickness");
    let depth = required(reader, "--depth", &flags.depth, "strip.depth");
    let clearance = flags.clearance.as_ref().and_then(|text| {
        let mm = reader.signed("--clearance", &flags.clearance, "strip.clearance")?;
        Some(written(text, mm))
    });
    let frame = read_frame(reader, flags);
    Some(OpeningAndStrip {
        opening: opening?,
        play,
        thickness: thickness?,
        depth: depth?,
        clearance,
        frame: frame?,
    })
}

/// A frame where one of its flags is there; then its thickness and its mortises' depth have to be.
fn read_frame(reader: &mut FlagReader, flags: &PanelFlags) -> Option<Option<FrameSection>> {
    let all = [
        &flags.frame_thickness,
        &flags.frame_width,
        &flags.mortise_depth,
        &flags.rebate,
    ];
    if all.iter().all(|flag| flag.is_none()) {
        return Some(None);
    }
    let needed = [
        (
            "--frame-thickness",
            &flags.frame_thickness,
            "frame.thickness",
        ),
        (
            "--mortise-depth",
            &flags.mortise_depth,
            "frame.mortise_depth",
        ),
    ];
    let [thickness, mortise_depth] = needed.map(|(flag, given, field)| {
        if given.is_some() {
            return above_zero(reader, flag, given, field);
        }
        let message = "this flag is missing: a frame needs it";
        let hint = "give both --frame-thickness and --mortise-depth, or no frame at all";
        let finding = Finding::error("missing", flag, message).hint(hint);
        reader.findings.push(finding);
        None
    });
    let width = above_zero(reader, "--frame-width", &flags.frame_width, "frame.width");
    let rebate = match &flags.rebate {
        None => Some(None),
        given => pair(reader, "--rebate", given, "frame.rebate").map(Some),
    };
    Some(Some(FrameSection {
        thickness: thickness?,
        width,
        mortise_depth: mortise_depth?,
        rebate: rebate?,
    }))
}

/// The pitch, or that of triangles of a side: their height.
fn read_pitch(reader: &mut FlagReader, flags: &PanelFlags) -> Option<f64> {
    let pitch = above_zero(reader, "--pitch", &flags.pitch, "grid.pitch_about");
    let side = above_zero(reader, "--side", &flags.side, "grid.side_about");
    if flags.side.is_some() && flags.kind != CellKind::Triangular {
        let hint =
            "give --pitch, the distance between neighbouring centre lines; or --kind triangular";
        let finding = Finding::error("no-side", "--side", "only triangles are told by their side");
        reader.findings.push(finding.hint(hint));
        return None;
    }
    if pitch.is_some() && side.is_some() {
        let text = "`--pitch` is given as well";
        let hint = "leave one out: the pitch of triangles is their height, 0.866 of their side";
        let finding = Finding::error("both-given", "--side", text).hint(hint);
        reader.findings.push(finding);
        return None;
    }
    let side = side.map(|side| side.mm * 0.75_f64.sqrt());
    pitch.map(|read| read.mm).or(side)
}

fn read_slanted(reader: &mut FlagReader, flags: &PanelFlags) -> Option<SlantedFlags> {
    let angle = match &flags.angle {
        None => None,
        given => reader.angle("--angle", given, "grid.angle"),
    };
    let wrong = |reader: &mut FlagReader, flag: &str, text: &str, hint: &str| {
        let finding = Finding::error("not-of-this-grid", flag, text).hint(hint);
        reader.findings.push(finding);
    };
    if flags.angle.is_some() && flags.kind != CellKind::Diamond {
        let text =
            "only diamonds have an angle to choose: squares stand at 90 degrees, triangles at 60";
        wrong(
            reader,
            "--angle",
            text,
            "leave it out, or add --kind diamond",
        );
    }
    let stance = |reader: &mut FlagReader, hint: &str| {
        let text = "cells of this grid do not lie so";
        wrong(reader, "--stance", text, hint);
    };
    match (flags.kind, flags.stance) {
        (CellKind::Square, None) => None,
        (CellKind::Square, Some(_)) => {
            stance(
                reader,
                "leave it out, or add --kind diamond or --kind triangular",
            );
            None
        }
        (CellKind::Diamond, given) => {
            let stance = match given {
                None => None,
                Some(Stance::Upright) => Some(DiamondStance::Upright),
                Some(Stance::OnPoint) => Some(DiamondStance::OnPoint),
                Some(Stance::Lying) => {
                    stance(reader, "diamonds are upright or on-point");
                    None
                }
            };
            Some(SlantedFlags::Diamond { stance, angle })
        }
        (CellKind::Triangular, given) => {
            let stance = match given {
                None => None,
                Some(Stance::Upright) => Some(TriangularStance::Upright),
                Some(Stance::Lying) => Some(TriangularStance::Lying),
                Some(Stance::OnPoint) => {
                    stance(reader, "triangles are lying or upright");
                    None
                }
            };
            Some(SlantedFlags::Triangular { stance })
        }
    }
}

/// Width and the other side, with a comma between them.
fn pair(
    reader: &mut FlagReader,
    flag: &'static str,
    given: &Option<String>,
    field: &str,
) -> Option<[Written; 2]> {
    let (second, example) = match flag {
        "--opening" => ("height", "612mm,388mm"),
        _ => ("depth", "8mm,6mm"),
    };
    let text = reader.note(flag, given, field)?;
    let sides: Vec<&str> = text.split(',').map(str::trim).collect();
    let [width, height] = sides.as_slice() else {
        let message =
            format!("this must be two lengths, width and {second}, with a comma between them");
        let hint = format!("write {flag} {example}");
        reader
            .findings
            .push(Finding::error("not-two", flag, message).hint(hint));
        return None;
    };
    let mut side = |text: &str| {
        let length = reader.part(flag, text)?;
        if length > 0.0 {
            return Some(written(text, length));
        }
        let message = format!("width and {second} must be above zero");
        let finding = Finding::error("not-positive", flag, message);
        reader.findings.push(finding);
        None
    };
    let (width, height) = (side(width), side(height));
    Some([width?, height?])
}

fn written(text: &str, mm: f64) -> Written {
    Written {
        text: text.trim().to_owned(),
        mm,
    }
}

fn required(
    reader: &mut FlagReader,
    flag: &str,
    given: &Option<String>,
    field: &str,
) -> Option<Written> {
    if given.is_some() {
        return above_zero(reader, flag, given, field);
    }
    // What is missing is told.
    reader.length(flag, given, field);
    None
}

fn optional(
    reader: &mut FlagReader,
    flag: &str,
    given: &Option<String>,
    field: &str,
) -> Option<Written> {
    let text = given.as_ref()?;
    let mm = reader.length(flag, given, field)?;
    Some(written(text, mm))
}

fn above_zero(
    reader: &mut FlagReader,
    flag: &str,
    given: &Option<String>,
    field: &str,
) -> Option<Written> {
    let read = optional(reader, flag, given, field)?;
    if read.mm > 0.0 {
        return Some(read);
    }
    let finding = Finding::error("not-positive", flag, "this must be above zero");
    reader.findings.push(finding);
    None
}

fn count(reader: &mut FlagReader, flag: &str, given: &Option<String>) -> Option<usize> {
    given.as_ref()?;
    let text = reader.note(flag, given, &flag.replace("--", "grid."))?;
    let count = text.trim().parse().ok();
    let count = count.filter(|count| (1..=MOST_BAYS).contains(count));
    if count.is_none() {
        let message = format!("this must be a whole number from 1 to {MOST_BAYS}");
        reader
            .findings
            .push(Finding::error("count-out-of-range", flag, message));
    }
    count
}
