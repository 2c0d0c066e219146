//! A job's text without its grid.

use super::figures::PanelFigures;
use crate::finding::Finding;
use crate::lattice::PieceWay;
use crate::machines::Rates;
use crate::opening::{Framing, HoleMeasures, MeasuredAt, MemberFaces, Opening, Size};
use crate::reading::Job;

/// What stands before and after the table `[grid]`, and what of it decides on the bays. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct JobAround {
    before: String,
    after: String,
    /// Between the frame's inner faces, or between flush ends.
    pub(super) inside: Size,
    /// Of a strip, seen from the front, as the stock has it.
    pub(super) thickness: f64,
    /// Least pitch that leaves the wood that the job wants between notches.
    pub(super) least_pitch: f64,
    /// Least margin that leaves the wood that the job wants outside the last notch.
    pub(super) least_margin: f64,
    /// Whether there are inner faces of a frame that could close the outermost cells.
    pub(super) has_frame: bool,
    /// How the pieces' mitres are made.
    pub(super) way: PieceWay,
    /// How long work by hand takes.
    pub(super) rates: Rates,
}

/// Least wood outside the last notch, where nothing says how much: as between notches. Common practice,
/// no source, mm.
const LEAST_WOOD_MM: f64 = 2.0;

impl JobAround {
    /// Of a job that is to be written from figures.
    ///
    /// # Errors
    /// An opening that leaves nothing inside.
    pub fn of_figures(figures: &PanelFigures) -> Result<JobAround, Vec<Finding>> {
        let [width, height] = figures.opening.each_ref().map(|side| side.mm);
        let opening = Opening {
            measures: HoleMeasures::of(Size { width, height }),
            at: figures.measured,
            play: figures.play.as_ref().map_or(0.0, |play| play.mm),
        };
        let framing = match figures.frame.as_ref().map(|frame| frame.width.as_ref()) {
            None => Framing::Flush,
            Some(None) => Framing::Unmeasured,
            Some(Some(width)) => Framing::Members(MemberFaces {
                bottom: width.mm,
                right: width.mm,
                top: width.mm,
                left: width.mm,
            }),
        };
        if framing == Framing::Unmeasured && figures.measured != MeasuredAt::Inside {
            let text = "how wide the frame's members are is not said, so what is left between them is not known";
            let hint = "add --frame-width, or measure between the inner faces: --measured inside";
            return Err(vec![
                Finding::error("missing", "frame.width", text).hint(hint),
            ]);
        }
        let sizes = opening.sizes(framing)?;
        let clearance = figures.clearance.as_ref().map_or(0.0, |read| read.mm);
        Ok(JobAround {
            before: figures.before(),
            after: figures.after(),
            inside: sizes.inside,
            thickness: figures.thickness.mm,
            least_pitch: figures.thickness.mm + clearance + LEAST_WOOD_MM,
            least_margin: (figures.thickness.mm + clearance) / 2.0 + LEAST_WOOD_MM,
            has_frame: figures.frame.is_some() || figures.measured == MeasuredAt::Inside,
            way: figures.way,
            rates: Rates::default(),
        })
    }

    /// Of a job that has an opening: its own text, whatever its grid.
    ///
    /// # Errors
    /// A job without an opening, and one whose `[grid]` is no table with a heading of its own.
    pub fn of_job(job: &Job) -> Result<JobAround, Vec<Finding>> {
        let Some(fitted) = &job.fitted else {
            let text = "this job has no opening to choose for";
            let hint = "add a table [opening] with measured, width and height; or leave the job out and give --opening";
            return Err(vec![Finding::error("missing", "opening", text).hint(hint)]);
        };
        let Some([before, after]) = around_table(&job.source.text, "grid") else {
            let text = "the grid is no table of its own, so another one cannot be put in its place";
            let hint = "write a line [grid], and the grid's keys below it";
            return Err(vec![Finding::error("not-a-table", "grid", text).hint(hint)]);
        };
        let strip = &job.panel.design().strip;
        let infill = job.panel.design().infill.as_ref();
        Ok(JobAround {
            before,
            after,
            inside: fitted.sizes.inside,
            thickness: strip.thickness,
            least_pitch: strip.thickness + strip.clearance + strip.least_web,
            least_margin: (strip.thickness + strip.clearance) / 2.0 + strip.least_web,
            has_frame: job.frame.is_some() || fitted.opening.at == MeasuredAt::Inside,
            way: infill.map_or(PieceWay::Guides, |infill| infill.way),
            rates: job.rates,
        })
    }

    /// The whole text, with this grid.
    pub(super) fn with_grid(&self, grid: &str) -> String {
        format!("{}{grid}{}", self.before, self.after)
    }
}

/// What stands before a table's heading and after its last key.
fn around_table(text: &str, name: &str) -> Option<[String; 2]> {
    let heading = format!("[{name}]");
    let mut at = 0;
    let mut table: Option<usize> = None;
    let mut end = text.len();
    for line in text.split_inclusive('\n') {
        let bare = line.split('#').next().unwrap_or_default().trim();
        if bare == heading {
            table = Some(at);
        } else if table.is_some() && is_heading(bare) {
            end = at;
            break;
        }
        at += line.len();
    }
    let before = text.get(..table?)?;
    let after = text.get(end..)?;
    // Remarks right above the next heading are about what follows it.
    let kept = text.get(table?..end)?;
    let remarks = kept.trim_end_matches([' ', '\t']).rfind("\n\n");
    let remarks = remarks.and_then(|from| kept.get(from + 1..));
    let remarks = remarks.filter(|rest| {
        let mut lines = rest.lines();
        lines.all(|line| line.trim().is_empty() || line.trim_start().starts_with('#'))
    });
    Some([
        before.to_owned(),
        format!("{}{after}", remarks.unwrap_or("\n")),
    ])
}

/// Whether a line opens a table; one of a list of lists has quotes or commas.
fn is_heading(line: &str) -> bool {
    let name = line
        .strip_prefix('[')
        .and_then(|rest| rest.strip_suffix(']'));
    let plain = |letter: char| letter.is_alphanumeric() || "_-.[] ".contains(letter);
    name.is_some_and(|name| {
        !name.is_empty() && name.chars().all(plain) && name.contains(char::is_alphabetic)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_taken_out_and_nothing_else() {
        let text = "a = 1\n[grid] # here\nlist = [\n  [\"1\"],\n  [\"2\"],\n]\n\n# of the strip\n[strip]\nb = 2\n";
        let [before, after] = around_table(text, "grid").unwrap();
        assert_eq!(before, "a = 1\n");
        assert_eq!(after, "\n# of the strip\n[strip]\nb = 2\n");
        let [before, after] = around_table("[grid]\nkind = 1", "grid").unwrap();
        assert_eq!((before.as_str(), after.as_str()), ("", "\n"));
        assert_eq!(around_table("grid = { kind = 1 }\n[strip]\n", "grid"), None);
    }
}
