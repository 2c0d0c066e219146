//! Programs, line by line.

use super::comment::plain_text;
use super::numbers::{WrittenPosition, number, rounded_down, rounded_up};
use crate::dialects::{Controller, DwellUnit, PathMode, ProgramEnd};
use crate::instructions::tool_path::{Motion, Move, NotchPath, ProgramPart, ProgramWork, ToolPath};
use crate::units::NotPrintable;
use std::io::{self, Write};

/// N words have at most five digits; numbers may be used again (NISTIR 6556, 3.3.1).
const GREATEST_LINE_NUMBER: u32 = 99_999;

/// Text is handed on in portions of about this many bytes.
const PORTION: usize = 1 << 16;

/// The program of a tool path, ASCII, one line feed after every line.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn program(path: &ToolPath, controller: &Controller) -> Result<String, NotPrintable> {
    let part = ProgramPart {
        path,
        message: String::new(),
    };
    let mut text = Vec::new();
    // Memory takes everything: what fails is a figure.
    write_program([part], controller, &mut text).map_err(|_| NotPrintable)?;
    String::from_utf8(text).map_err(|_| NotPrintable)
}

/// Writes a program of one or several parts, portion by portion, so that it needs no room of its
/// own that grows with the program. Between parts it stops, the tool up and the spindle off, and
/// tells what comes next; every part states its modes anew and starts the spindle, so that a person
/// can start the program at any of its stops.
///
/// # Errors
/// Those of `out`, and [`NotPrintable`] as [`io::ErrorKind::InvalidData`] where a figure is not
/// finite.
pub fn write_program<'a>(
    parts: impl IntoIterator<Item = ProgramPart<'a>>,
    controller: &Controller,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut program = ProgramWriter {
        out,
        text: Vec::with_capacity(PORTION + 512),
        number: 0,
        controller,
    };
    if controller.percent_signs {
        program.line(b"%")?;
    }
    for (at, ProgramPart { path, message }) in parts.into_iter().enumerate() {
        if at == 0 {
            program.title(path)?;
        } else {
            program.stop(path, &message)?;
        }
        program.part(path)?;
    }
    let end = match controller.program_end {
        ProgramEnd::M2 => "M2",
        ProgramEnd::M30 => "M30",
    };
    program.block(&[(end, None)], 0)?;
    if controller.percent_signs {
        program.line(b"%")?;
    }
    program.hand_on()
}

/// A program on its way out, handed on in portions.
struct ProgramWriter<'a, W> {
    out: &'a mut W,
    /// What has not been handed on yet.
    text: Vec<u8>,
    /// Of the last numbered block.
    number: u32,
    controller: &'a Controller,
}

impl<W: Write> ProgramWriter<'_, W> {
    fn hand_on(&mut self) -> io::Result<()> {
        self.out.write_all(&self.text)?;
        self.text.clear();
        Ok(())
    }

    fn end_line(&mut self) -> io::Result<()> {
        self.text.push(b'\n');
        if self.text.len() < PORTION {
            return Ok(());
        }
        self.hand_on()
    }

    fn line(&mut self, text: &[u8]) -> io::Result<()> {
        self.text.extend_from_slice(text);
        self.end_line()
    }

    /// The N word, where the controller wants one. After the greatest number it starts again.
    fn start_block(&mut self) -> io::Result<()> {
        if self.controller.line_numbers {
            self.number = self.number % GREATEST_LINE_NUMBER + 1;
            self.text.push(b'N');
            number(f64::from(self.number), 0)?.push_to(&mut self.text);
            self.text.push(b' ');
        }
        Ok(())
    }

    /// A block of words, each with a figure behind it or complete in itself.
    fn block(&mut self, words: &[(&str, Option<f64>)], places: u32) -> io::Result<()> {
        self.start_block()?;
        for (word, value) in words {
            self.text.extend_from_slice(word.as_bytes());
            if let Some(value) = value {
                number(*value, places)?.push_to(&mut self.text);
            }
        }
        self.end_line()
    }

    /// What is said once, before anything else.
    fn title(&mut self, path: &ToolPath) -> io::Result<()> {
        self.comment(match path.work {
            ProgramWork::Notches => "Lapwright notching program",
            ProgramWork::Mortises => "Lapwright mortising program",
            ProgramWork::Mitres => "Lapwright mitring program",
        })?;
        for remark in path.job.iter().chain(&path.set_up) {
            self.comment(remark)?;
        }
        for note in path.safety.notes() {
            self.comment(&format!("Safety {note}"))?;
        }
        Ok(())
    }

    /// A stop for a hand, and what it has to do. The last comment is a message, which RS274/NGC
    /// shows (NISTIR 6556, 3.3.4); for other controls it is a comment like any other.
    fn stop(&mut self, path: &ToolPath, message: &str) -> io::Result<()> {
        for remark in &path.set_up {
            self.comment(remark)?;
        }
        let plain = plain_text(message);
        let plain = plain
            .get(..self.controller.longest_line - 6)
            .unwrap_or(&plain);
        self.line(format!("(MSG,{plain})").as_bytes())?;
        self.block(&[("M0", None)], 0)
    }

    /// A part from its modes to the stop of the spindle, the tool up.
    fn part(&mut self, path: &ToolPath) -> io::Result<()> {
        self.head(path)?;
        let one = match path.work {
            ProgramWork::Notches => "Notch",
            ProgramWork::Mortises => "Mortise",
            ProgramWork::Mitres => "Cut",
        };
        for notch in path.cuts.all() {
            self.notch(one, &notch)?;
        }
        self.block(
            &[("G0 Z", Some(path.safe_height))],
            self.controller.decimals,
        )?;
        self.block(&[("M5", None)], 0)
    }

    /// Modes, the first rise, the spindle and the wait for it.
    fn head(&mut self, path: &ToolPath) -> io::Result<()> {
        self.block(&[("G21", None)], 0)?;
        self.block(&[("G17 G90 G94", None)], 0)?;
        if self.controller.cancels {
            for word in ["G40", "G49", "G80"] {
                self.block(&[(word, None)], 0)?;
            }
        }
        if self.controller.work_zero {
            self.block(&[("G54", None)], 0)?;
        }
        match self.controller.path_mode {
            Some(PathMode::ExactPath) => self.block(&[("G61", None)], 0)?,
            Some(PathMode::Continuous) => self.block(&[("G64", None)], 0)?,
            None => {}
        }
        self.block(
            &[("G0 Z", Some(path.safe_height))],
            self.controller.decimals,
        )?;
        self.block(&[("S", Some(path.spindle_rpm)), (" M3", None)], 0)?;
        self.dwell(path.spin_up_s)
    }

    fn dwell(&mut self, seconds: f64) -> io::Result<()> {
        match self.controller.dwell {
            DwellUnit::Seconds => self.block(&[("G4 P", Some(rounded_up(seconds, 0.1)))], 1),
            DwellUnit::Milliseconds => {
                self.block(&[("G4 P", Some(rounded_up(seconds * 1000.0, 1.0)))], 0)
            }
        }
    }

    /// A remark as comment lines that no controller can take for anything else: only letters,
    /// digits, spaces and `.,-+=/` are left of it, and a continued line starts with a dash, so
    /// that no word of a title (such as `MSG,`) can come first in a comment.
    fn comment(&mut self, remark: &str) -> io::Result<()> {
        let plain = plain_text(remark);
        let room = self.controller.longest_line - 2;
        let mut line = String::new();
        for word in plain.split_whitespace() {
            // A word longer than a line is cut: nothing of it is data that anybody needs whole.
            let word = word.get(..room / 2).unwrap_or(word);
            if !line.is_empty() && line.len() + 1 + word.len() > room {
                self.line(format!("({line})").as_bytes())?;
                line = String::from("-");
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        self.line(format!("({line})").as_bytes())
    }

    /// The moves of a notch or mortise. The feed is stated anew at its start, so that a program that is started
    /// again in the middle runs as written.
    fn notch(&mut self, name: &str, notch: &NotchPath) -> io::Result<()> {
        self.comment(&format!("{name} {}", notch.index))?;
        let mut at = WrittenPosition::unknown();
        let mut feed_stated = None;
        for step in &notch.moves {
            if let Motion::Rest(seconds) = step.motion {
                self.dwell(seconds)?;
            } else {
                self.step(step, &mut at, &mut feed_stated)?;
            }
        }
        Ok(())
    }

    /// One move: the axis words that differ from where the tool stands. At a notch's start it
    /// stands at the safe height, over wherever the last notch ended.
    fn step(
        &mut self,
        step: &Move,
        at: &mut WrittenPosition,
        feed_stated: &mut Option<f64>,
    ) -> io::Result<()> {
        let feed = match step.motion {
            Motion::Rapid | Motion::Rest(_) => None,
            Motion::Air(feed) | Motion::Cut(feed) => Some(feed),
        };
        self.start_block()?;
        self.text
            .extend_from_slice(if feed.is_some() { b"G1" } else { b"G0" });
        at.go(step.to, self.controller.decimals, &mut self.text)?;
        if let Some(feed) = feed
            && *feed_stated != Some(feed)
        {
            number(rounded_down(feed), 0)?.push_word(b'F', &mut self.text);
            *feed_stated = Some(feed);
        }
        self.end_line()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::tool_path::{Move, Position};
    use std::sync::Arc;

    fn controller() -> Controller {
        Controller {
            work_zero: true,
            ..Controller::BARE
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
            let set_up = vec![
                format!("Job {title}"),
                format!("Job {}", "word ".repeat(40) + title),
            ];
            let path = ToolPath {
                set_up,
                spindle_rpm: 1e4,
                spin_up_s: 3.0,
                safe_height: 8.0,
                ..ToolPath::default()
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
                cuts: Arc::new(vec![NotchPath {
                    index: 1,
                    moves: vec![step(Motion::Rapid, 8.0), step(Motion::Cut(planned), -1.0)],
                }]),
                ..ToolPath::default()
            };
            let text = program(&path, &controller()).unwrap();
            assert!(text.contains(word), "{text}");
        }
    }

    #[test]
    fn numbers_of_blocks_have_five_digits_and_start_again() {
        // NISTIR 6556, 3.3.1: at most five digits, numbers may be repeated.
        let step = |at: u32| Move {
            motion: Motion::Rapid,
            to: Position {
                x: f64::from(at),
                y: 0.0,
                z: 8.0,
            },
        };
        let path = ToolPath {
            cuts: Arc::new(vec![NotchPath {
                index: 1,
                moves: (0..100_001).map(step).collect(),
            }]),
            ..ToolPath::default()
        };
        let controller = Controller {
            line_numbers: true,
            ..controller()
        };
        let text = program(&path, &controller).unwrap();
        assert!(text.contains("\nN99999 G0 X99992.000\nN1 G0 X99993.000\n"));
        assert!(
            text.ends_with("\nN10 M5\nN11 M30\n"),
            "{}",
            &text[text.len() - 60..]
        );
    }

    #[test]
    fn parts_can_be_started_alone() {
        let path = |rpm| ToolPath {
            job: vec!["Job".into()],
            set_up: vec![format!("Notch 3 on the key, {rpm}")],
            spindle_rpm: rpm,
            spin_up_s: 3.0,
            safe_height: 8.0,
            ..ToolPath::default()
        };
        let first = path(9000.0);
        let second = path(8000.0);
        let part = |path, message: &str| ProgramPart {
            path,
            message: message.into(),
        };
        let parts = [
            part(&first, ""),
            part(&second, "Set-up 2"),
            part(&second, "Set-up (2), run: 2 of 2"),
        ];
        let mut text = Vec::new();
        let controller = Controller {
            line_numbers: true,
            ..controller()
        };
        write_program(parts, &controller, &mut text).unwrap();
        let text = String::from_utf8(text).unwrap();
        let again = "G21|G17 G90 G94|G54|G0 Z8.000|S8000 M3|G4 P3.0|G0 Z8.000|M5";
        let wanted = format!(
            "(Lapwright notching program)|(Job)|(Notch 3 on the key, 9000)|(Safety)|{}|\
             (Notch 3 on the key, 8000)|(MSG,Set-up 2)|M0|{again}|\
             (Notch 3 on the key, 8000)|(MSG,Set-up  2 , run, 2 of 2)|M0|{again}|M30",
            again.replace("8000 M", "9000 M")
        );
        // All notes stand as one here.
        let mut bare: Vec<&str> = text
            .lines()
            .filter(|line| !line.starts_with("(- "))
            .map(|line| match line.strip_prefix('N') {
                Some(numbered) => numbered.split_once(' ').unwrap().1,
                None if line.starts_with("(Safety ") => "(Safety)",
                None => line,
            })
            .collect();
        bare.dedup();
        assert_eq!(bare.join("|"), wanted);
        assert!(text.contains("\nN9 M0\nN10 G21\n"));
    }

    #[test]
    fn a_figure_that_is_not_finite_writes_nothing() {
        let path = ToolPath {
            spindle_rpm: f64::NAN,
            safe_height: 8.0,
            ..ToolPath::default()
        };
        assert!(program(&path, &controller()).is_err());
    }
}
