//! An opening, strips and bays from the command line's flags.

use super::flags::FlagReader;
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::lattice::MOST_BAYS;

/// A length as a person wrote it.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// With its unit.
    pub text: String,
    /// What it is.
    pub mm: f64,
}

/// What the flags said, as written.
#[derive(Debug, Clone, Default)]
pub(crate) struct PanelFlags {
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
    /// About this pitch, mm.
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

/// What a job says of opening and strips.
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
    let pitch = above_zero(&mut reader, "--pitch", &flags.pitch, "grid.pitch_about");
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
    if reader.findings.is_empty() {
        Ok(ReadPanelFlags {
            section: section.flatten(),
            pitch: pitch.map(|read| read.mm),
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
    let opening = read_opening(reader, &flags.opening);
    let play = optional(reader, "--play", &flags.play, "opening.play");
    let thickness = required(reader, "--thickness", &flags.thickness, "strip.thickness");
    let depth = required(reader, "--depth", &flags.depth, "strip.depth");
    let clearance = flags.clearance.as_ref().and_then(|text| {
        let mm = reader.signed("--clearance", &flags.clearance, "strip.clearance")?;
        Some(written(text, mm))
    });
    Some(OpeningAndStrip {
        opening: opening?,
        play,
        thickness: thickness?,
        depth: depth?,
        clearance,
    })
}

/// Width and height, with a comma between them.
fn read_opening(reader: &mut FlagReader, given: &Option<String>) -> Option<[Written; 2]> {
    let text = reader.note("--opening", given, "opening")?;
    let sides: Vec<&str> = text.split(',').map(str::trim).collect();
    let [width, height] = sides.as_slice() else {
        let message = "this must be two lengths, width and height, with a comma between them";
        reader.findings.push(
            Finding::error("not-two", "--opening", message).hint("write --opening 612mm,388mm"),
        );
        return None;
    };
    let mut side = |text: &str| {
        let length = reader.part("--opening", text)?;
        if length > 0.0 {
            return Some(written(text, length));
        }
        let message = "width and height must be above zero";
        let finding = Finding::error("not-positive", "--opening", message);
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
