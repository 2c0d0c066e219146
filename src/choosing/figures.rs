//! A panel's figures as a person wrote them, as the text of a job.

use crate::lattice::PieceWay;
use crate::machines::{Rates, Station};
use crate::opening::MeasuredAt;
use crate::reading::Written;
use std::fmt::Write;

/// A panel's figures as they were written, with the names of pattern and machines.
#[derive(Debug, Clone)]
pub struct PanelFigures {
    /// Width and height of the opening.
    pub opening: [Written; 2],
    /// Where the tape was held.
    pub measured: MeasuredAt,
    /// Air at every side.
    pub play: Option<Written>,
    /// Of a strip, seen from the front.
    pub thickness: Written,
    /// Front to back.
    pub depth: Written,
    /// Notch width less strip thickness.
    pub clearance: Option<Written>,
    /// Round it, if there is one.
    pub frame: Option<FrameWritten>,
    /// Of the pieces.
    pub pattern: Option<String>,
    /// How their mitres are made.
    pub way: PieceWay,
    /// Names or paths of the machines' profiles, as seen from the job.
    pub machines: Vec<(Station, String)>,
}

/// A frame's figures as they were written.
#[derive(Debug, Clone)]
pub struct FrameWritten {
    /// Of the members, front to back.
    pub thickness: Written,
    /// Of the members, seen from the front.
    pub width: Option<Written>,
    /// Of the strips' mortises, from the members' inner faces.
    pub mortise_depth: Written,
    /// Of a rebate at the back: its width from the inner face, its depth from the back face.
    pub rebate: Option<[Written; 2]>,
}

impl PanelFigures {
    pub(super) fn before(&self) -> String {
        let [width, height] = self.opening.each_ref().map(|side| quoted(&side.text));
        let title = format!(
            "Panel for an opening {} by {}",
            self.opening[0].text, self.opening[1].text
        );
        let (measured, place) = match self.measured {
            MeasuredAt::Hole => ("hole", "that the panel goes into"),
            MeasuredAt::Inside => ("inside", "between the frame's inner faces"),
            MeasuredAt::Panel => ("panel", "over the finished panel"),
        };
        let mut text = format!(
            "# Written by `lapwright choose`. It can be built as it stands, and edited.\ntitle = {}\n\n[opening]\n",
            quoted(&title)
        );
        let _ = writeln!(text, "measured = \"{measured}\"        # {place}");
        let _ = writeln!(text, "width = {width}");
        let _ = writeln!(text, "height = {height}");
        if let Some(play) = &self.play {
            let _ = writeln!(
                text,
                "play = {}          # air at every side",
                quoted(&play.text)
            );
        }
        text.push('\n');
        text
    }

    pub(super) fn after(&self) -> String {
        let mut text = String::from("\n[strip]\n");
        let thickness = quoted(&self.thickness.text);
        let depth = quoted(&self.depth.text);
        let _ = writeln!(text, "thickness = {thickness}     # as seen from the front");
        let _ = writeln!(text, "depth = {depth}         # front to back");
        let clearance = self.clearance.as_ref();
        let clearance = clearance.map_or("0 mm", |read| read.text.as_str());
        let _ = writeln!(
            text,
            "clearance = {}     # notch width less strip thickness; cut a test lap",
            quoted(clearance)
        );
        if let Some(frame) = &self.frame {
            frame.write(&mut text);
        }
        if let Some(pattern) = &self.pattern {
            let _ = writeln!(text, "\n[infill]\npattern = {}", quoted(pattern));
            if self.way != PieceWay::default() {
                let _ = writeln!(text, "way = \"{}\"", self.way.name());
            }
        }
        if !self.machines.is_empty() {
            text.push_str("\n[machines]\n");
        }
        for (station, name) in &self.machines {
            let _ = writeln!(text, "{} = {}", station.name(), quoted(name));
        }
        text.push_str(&example_rates());
        text
    }
}

impl FrameWritten {
    fn write(&self, text: &mut String) {
        let [thickness, mortise] =
            [&self.thickness, &self.mortise_depth].map(|of| quoted(&of.text));
        let _ = writeln!(text, "\n[frame]");
        let _ = writeln!(
            text,
            "thickness = {thickness}     # of the members, front to back"
        );
        if let Some(width) = &self.width {
            let width = quoted(&width.text);
            let _ = writeln!(
                text,
                "width = {width}         # of the members, from the front"
            );
        }
        let _ = writeln!(
            text,
            "mortise_depth = {mortise}  # for the strips' ends, from the members' inner faces"
        );
        if let Some([width, depth]) = self.rebate.as_ref().map(<[Written; 2]>::each_ref) {
            let [width, depth] = [width, depth].map(|of| quoted(&of.text));
            let _ = writeln!(
                text,
                "rebate = {{ width = {width}, depth = {depth} }}   # at the back, along the inner faces"
            );
        }
    }
}

/// What rough times are reckoned with until somebody takes the signs away and puts their own.
fn example_rates() -> String {
    let mut text = String::from(
        "\n# Rough times are reckoned with these examples (common practice, no source); put your own:\n# [rates]\n",
    );
    for (name, rate) in Rates::default().named() {
        let _ = writeln!(text, "# {name} = \"{} s\"", rate.seconds);
    }
    text
}

/// A text as a TOML string.
pub(super) fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_person_typed_stays_a_string() {
        assert_eq!(quoted("24 1/8 in"), "\"24 1/8 in\"");
        let back: toml::Value = format!("a = {}", quoted("24 \"\\ '"))
            .parse::<toml::Table>()
            .unwrap()["a"]
            .clone();
        assert_eq!(back.as_str(), Some("24 \"\\ '"));
    }
}
