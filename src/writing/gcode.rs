//! Tool paths as programs in the portable core of RS274/NGC.
//!
//! Layout and order after NISTIR 6556 (the NIST RS274NGC interpreter, version 3): units in a block
//! of their own before anything that depends on them, every mode stated that the program relies
//! on, spindle and dwell in blocks of their own, one motion word a block.

use crate::dialects::{Controller, DwellUnit, PathMode, ProgramEnd};
use crate::instructions::tool_path::{Motion, NotchPath, Position, ToolPath};
use crate::units::{NotPrintable, decimal};

/// N words have at most five digits (NISTIR 6556, 3.3.1).
const GREATEST_LINE_NUMBER: usize = 99_999;

/// The program of a tool path, ASCII, one line feed after every line.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite, or a numbered program has too many lines.
pub fn program(path: &ToolPath, controller: &Controller) -> Result<String, NotPrintable> {
    let mut out = Program {
        text: String::new(),
        lines: 0,
        controller,
    };
    if controller.percent_signs {
        out.text.push_str("%\n");
    }
    out.comment("Lapwright notching program");
    for remark in &path.remarks {
        out.comment(remark);
    }
    out.block("G21")?;
    out.block("G17 G90 G94")?;
    out.block("G54")?;
    match controller.path_mode {
        Some(PathMode::ExactPath) => out.block("G61")?,
        Some(PathMode::Continuous) => out.block("G64")?,
        None => {}
    }
    let safe = out.number(path.safe_z)?;
    out.block(&format!("G0 Z{safe}"))?;
    out.block(&format!("S{} M3", decimal(path.spindle_rpm, 0)?))?;
    let dwell = match controller.dwell {
        DwellUnit::Seconds => decimal(up(path.spin_up_s, 0.1), 1)?,
        DwellUnit::Milliseconds => decimal(up(path.spin_up_s * 1000.0, 1.0), 0)?,
    };
    out.block(&format!("G4 P{dwell}"))?;
    for notch in &path.notches {
        out.notch(notch)?;
    }
    out.block(&format!("G0 Z{safe}"))?;
    out.block("M5")?;
    out.block(match controller.program_end {
        ProgramEnd::M2 => "M2",
        ProgramEnd::M30 => "M30",
    })?;
    if controller.percent_signs {
        out.text.push_str("%\n");
    }
    Ok(out.text)
}

/// The next whole multiple of `step`: a wait may be longer than asked, not shorter.
fn up(value: f64, step: f64) -> f64 {
    // Rounding noise of a whole multiple must not add a step.
    (value / step - 1e-9).ceil() * step
}

/// The whole number below: a feed may be less than planned, not more, as it may be a limit.
fn down(value: f64) -> f64 {
    // Rounding noise of a whole number must not take one off.
    (value + 1e-6).floor()
}

/// A character as it may stand in a comment; apostrophes go without leaving a gap.
fn plain(character: char) -> Option<char> {
    match character {
        '\'' => None,
        ';' | ':' => Some(','),
        c if c.is_ascii_alphanumeric() || ".,-+=/".contains(c) => Some(c),
        _ => Some(' '),
    }
}

struct Program<'a> {
    text: String,
    lines: usize,
    controller: &'a Controller,
}

impl Program<'_> {
    fn number(&self, value: f64) -> Result<String, NotPrintable> {
        decimal(value, self.controller.decimals)
    }

    fn block(&mut self, words: &str) -> Result<(), NotPrintable> {
        self.lines += 1;
        if self.controller.line_numbers {
            if self.lines > GREATEST_LINE_NUMBER {
                return Err(NotPrintable);
            }
            self.text.push_str(&format!("N{} ", self.lines));
        }
        self.text.push_str(words);
        self.text.push('\n');
        Ok(())
    }

    /// A remark as comment lines that no controller can take for anything else: only letters,
    /// digits, spaces and `.,-+=/` are left of it, and a continued line starts with a dash, so
    /// that no word of a title (such as `MSG,`) can come first in a comment.
    fn comment(&mut self, remark: &str) {
        let plain: String = remark.chars().filter_map(plain).collect();
        let room = self.controller.longest_line - 2;
        let mut line = String::new();
        for word in plain.split_whitespace() {
            // A word longer than a line is cut: nothing of it is data that anybody needs whole.
            let word = word.get(..room / 2).unwrap_or(word);
            if !line.is_empty() && line.len() + 1 + word.len() > room {
                self.text.push_str(&format!("({line})\n"));
                line = String::from("-");
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        self.text.push_str(&format!("({line})\n"));
    }

    /// A notch's moves. The feed is stated anew at its start, so that a program that is started
    /// again in the middle runs as written.
    fn notch(&mut self, notch: &NotchPath) -> Result<(), NotPrintable> {
        self.comment(&format!("Notch {}", notch.index));
        let mut at: Option<Position> = None;
        let mut feed_stated = None;
        for step in &notch.moves {
            let mut words = String::new();
            let feed = match step.motion {
                Motion::Rapid => None,
                Motion::Air(feed) | Motion::Cut(feed) => Some(feed),
            };
            words.push_str(if feed.is_some() { "G1" } else { "G0" });
            words.push_str(&self.axes(at, step.to)?);
            if let Some(feed) = feed
                && feed_stated != Some(feed)
            {
                words.push_str(&format!(" F{}", decimal(down(feed), 0)?));
                feed_stated = Some(feed);
            }
            self.block(&words)?;
            at = Some(step.to);
        }
        Ok(())
    }

    /// The axis words that differ from where the tool stands. At a notch's start it stands at the
    /// safe height, over wherever the last notch ended.
    fn axes(&self, from: Option<Position>, to: Position) -> Result<String, NotPrintable> {
        let mut words = String::new();
        let axes = [
            ('X', from.map(|from| from.x), to.x),
            ('Y', from.map(|from| from.y), to.y),
            ('Z', from.map_or(Some(to.z), |from| Some(from.z)), to.z),
        ];
        for (letter, from, to) in axes {
            let text = self.number(to)?;
            let before = from.map(|from| self.number(from)).transpose()?;
            if before.as_ref() != Some(&text) {
                words.push_str(&format!(" {letter}{text}"));
            }
        }
        Ok(words)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::tool_path::Move;

    fn controller() -> Controller {
        Controller {
            decimals: 3,
            dwell: DwellUnit::Seconds,
            program_end: ProgramEnd::M30,
            path_mode: None,
            line_numbers: false,
            percent_signs: false,
            longest_line: 72,
        }
    }

    #[test]
    fn no_title_can_put_a_code_into_a_program() {
        for title in [
            "a) M3 S9 (b",
            "x\nG0 Z-5",
            "; G1 X9",
            "%",
            "MSG,hello",
            "\u{2212}5 \u{b0}!?~$",
        ] {
            let remarks = vec![
                format!("Job {title}"),
                format!("Job {}", "word ".repeat(40) + title),
            ];
            let path = ToolPath {
                remarks,
                spindle_rpm: 1e4,
                spin_up_s: 3.0,
                safe_z: 8.0,
                notches: Vec::new(),
            };
            let text = program(&path, &controller()).unwrap();
            let codes: Vec<_> = text.lines().filter(|line| !line.starts_with('(')).collect();
            assert_eq!(
                codes,
                [
                    "G21",
                    "G17 G90 G94",
                    "G54",
                    "G0 Z8.000",
                    "S10000 M3",
                    "G4 P3.0",
                    "G0 Z8.000",
                    "M5",
                    "M30"
                ]
            );
            for line in text.lines().filter(|line| line.starts_with('(')) {
                let inside = &line[1..line.len() - 1];
                assert!(line.ends_with(')') && line.len() <= 72, "{line}");
                assert!(
                    inside
                        .chars()
                        .all(|c| c.is_ascii_alphanumeric() || " .,-+=/".contains(c))
                );
                assert!(!inside.starts_with("MSG"), "{line}");
            }
        }
    }

    #[test]
    fn waits_are_never_cut_short() {
        for (spin_up_s, seconds, milliseconds) in [
            (4.0, "P4.0", "P4000"),
            (2.73, "P2.8", "P2730"),
            (0.3, "P0.3", "P300"),
            (0.100_04, "P0.2", "P101"),
        ] {
            for (dwell, wanted) in [
                (DwellUnit::Seconds, seconds),
                (DwellUnit::Milliseconds, milliseconds),
            ] {
                let path = ToolPath {
                    spin_up_s,
                    ..ToolPath::default()
                };
                let controller = Controller {
                    dwell,
                    ..controller()
                };
                let text = program(&path, &controller).unwrap();
                assert!(text.contains(&format!("G4 {wanted}\n")), "{text}");
            }
        }
    }

    #[test]
    fn feeds_never_exceed_what_was_planned() {
        for (planned, word) in [(838.8, "F838\n"), (800.0 - 1e-10, "F800\n")] {
            let step = |motion, z| Move {
                motion,
                to: Position { x: 0.0, y: 0.0, z },
            };
            let path = ToolPath {
                notches: vec![NotchPath {
                    index: 1,
                    moves: vec![step(Motion::Rapid, 8.0), step(Motion::Cut(planned), -1.0)],
                }],
                ..ToolPath::default()
            };
            let text = program(&path, &controller()).unwrap();
            assert!(text.contains(word), "{text}");
        }
    }

    #[test]
    fn a_figure_that_is_not_finite_writes_nothing() {
        let path = ToolPath {
            spindle_rpm: f64::NAN,
            safe_z: 8.0,
            ..ToolPath::default()
        };
        assert!(program(&path, &controller()).is_err());
    }
}
