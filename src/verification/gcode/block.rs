//! One line's words as a block: at most one word of each modal group and of each other letter
//! (NISTIR 6556, 3.3.5 and 3.4), and no word that nothing in the block uses.

use super::codes::{
    ArcPlane, Code, MotionCode, NonModal, ProgramStop, SpindleTurn, g_code, m_code,
};
use super::letters::Letters;
use super::lexer::{BlockProblem, LineItem, ProgramWord, items};
use smallvec::SmallVec;

/// How far a G or M number, or a whole number, may be from a legal one (3.3.2.1).
const WHOLE: f64 = 1e-4;

/// A line of a program, checked as a whole, not yet carried out.
#[derive(Debug, Clone, Default)]
pub struct GcodeBlock {
    /// Line of the program, from 1.
    pub line: usize,
    /// Group 1.
    pub motion: Option<MotionCode>,
    /// Group 2.
    pub plane: Option<ArcPlane>,
    /// Group 3: absolute?
    pub absolute: Option<bool>,
    /// Centres of arcs: absolute?
    pub arc_absolute: Option<bool>,
    /// Group 5: inverse time?
    pub inverse_time: Option<bool>,
    /// Group 6: inches?
    pub inches: Option<bool>,
    /// Group 8: a length offset?
    pub length_offset: Option<bool>,
    /// Group 10: back to the old height?
    pub retract_to_old: Option<bool>,
    /// Group 12.
    pub work_zero: Option<usize>,
    /// Group 13: exact?
    pub exact_path: Option<bool>,
    /// Group 0.
    pub non_modal: Option<NonModal>,
    /// M group 4.
    pub stop: Option<ProgramStop>,
    /// M6.
    pub tool_change: bool,
    /// M group 7.
    pub spindle: Option<SpindleTurn>,
    no_radius_offset: Option<()>,
    coolant: Option<bool>,
    m_words: usize,
    /// All others, in the order in which they stand.
    words: SmallVec<[ProgramWord; 4]>,
    /// Of which letters.
    letters: Letters,
    /// The G and M words as written, for dialects that lack some.
    pub codes: SmallVec<[WrittenCode; 2]>,
}

/// A G or M word as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WrittenCode {
    /// G or M.
    pub letter: char,
    /// Its number in tenths.
    pub tenths: u32,
    /// Column of the letter, in bytes from 1.
    pub column: usize,
}

fn set<T>(slot: &mut Option<T>, value: T) -> bool {
    slot.replace(value).is_some()
}

fn problem(code: &'static str, column: usize, text: impl Into<String>) -> BlockProblem {
    BlockProblem {
        code,
        column,
        text: text.into(),
    }
}

impl GcodeBlock {
    /// Reads a line without its line end, percent sign or block delete.
    ///
    /// # Errors
    /// The first thing in the line that is wrong.
    pub fn read(line: &[u8], number: usize) -> Result<Self, BlockProblem> {
        let mut block = GcodeBlock {
            line: number,
            ..GcodeBlock::default()
        };
        for (place, item) in items(line).enumerate() {
            match item? {
                LineItem::Comment { text, column, .. } => check_comment(text, column)?,
                LineItem::Word(word) if word.letter == 'N' && place > 0 => {
                    return Err(problem("words", word.column, "N stands first in its line"));
                }
                LineItem::Word(word) => block.take(word)?,
            }
        }
        if block.whole('N')?.is_some_and(|number| number > 99_999) {
            return Err(problem("number", 1, "N goes up to 99999"));
        }
        block.check_groups()?;
        Ok(block)
    }

    /// Whether it asks for nothing (a comment, a line number, nothing at all).
    pub fn is_blank(&self) -> bool {
        self.codes.is_empty() && const { Letters::of("N") }.hold(self.letters)
    }

    /// Whether it only ends the program.
    pub fn only_ends(&self) -> bool {
        self.is_only(ProgramStop::End)
    }

    /// Whether it only stops the program, whatever switches say.
    pub fn only_stops(&self) -> bool {
        self.is_only(ProgramStop::Always)
    }

    fn is_only(&self, stop: ProgramStop) -> bool {
        let only_number = const { Letters::of("N") }.hold(self.letters);
        self.codes.len() == 1 && self.stop == Some(stop) && only_number
    }

    /// The word of a letter.
    pub fn word(&self, letter: char) -> Option<ProgramWord> {
        if !self.letters.has(letter) {
            return None;
        }
        let mut words = self.words.iter();
        words.find(|word| word.letter == letter).copied()
    }

    /// The number of a letter.
    pub fn number(&self, letter: char) -> Option<f64> {
        self.word(letter).map(|word| word.value)
    }

    /// The whole, unsigned number of a letter.
    ///
    /// # Errors
    /// Where the number has a sign or a fraction.
    pub fn whole(&self, letter: char) -> Result<Option<u32>, BlockProblem> {
        self.word(letter)
            .map(|word| {
                whole(word.value).ok_or_else(|| {
                    let text = format!("{letter} takes a whole number without a sign");
                    problem("number", word.column, text)
                })
            })
            .transpose()
    }

    /// Whether any of X, Y and Z is there.
    pub fn has_axes(&self) -> bool {
        self.letters.meet(const { Letters::of("XYZ") })
    }

    /// Whether the axis words belong to a code that acts once.
    pub fn non_modal_takes_axes(&self) -> bool {
        matches!(
            self.non_modal,
            Some(NonModal::StoreZero | NonModal::Home | NonModal::SecondHome | NonModal::Rename)
        )
    }

    fn take(&mut self, word: ProgramWord) -> Result<(), BlockProblem> {
        match word.letter {
            'G' | 'M' => self.take_code(word),
            letter if self.letters.has(letter) => {
                let text = format!("a second {letter} in one line");
                Err(problem("words", word.column, text))
            }
            letter => {
                self.letters = self.letters.with(letter);
                self.words.push(word);
                Ok(())
            }
        }
    }

    fn take_code(&mut self, word: ProgramWord) -> Result<(), BlockProblem> {
        let refuse = |text| problem("unknown-code", word.column, text);
        let letter = word.letter;
        let unknown = || refuse(format!("{letter}{} is not known here", word.value));
        let tenths = whole_within(word.value * 10.0, WHOLE * 10.0).ok_or_else(unknown)?;
        let code = match letter {
            'G' => g_code(tenths).map_err(refuse)?,
            _ if tenths % 10 == 0 => m_code(tenths / 10).map_err(refuse)?,
            _ => return Err(unknown()),
        };
        if letter == 'M' {
            self.m_words += 1;
        }
        if self.m_words > 4 {
            let text = "more than four M words in one line";
            return Err(problem("modal-group", word.column, text));
        }
        if self.put(code) {
            let text = "two words of one kind in one line: only one of them could act";
            return Err(problem("modal-group", word.column, text));
        }
        self.codes.push(WrittenCode {
            letter,
            tenths,
            column: word.column,
        });
        Ok(())
    }

    /// Stores a code; true if its group was taken already.
    fn put(&mut self, code: Code) -> bool {
        match code {
            Code::Motion(motion) => set(&mut self.motion, motion),
            Code::Plane(plane) => set(&mut self.plane, plane),
            Code::Absolute(on) => set(&mut self.absolute, on),
            Code::ArcAbsolute(on) => set(&mut self.arc_absolute, on),
            Code::InverseTime(on) => set(&mut self.inverse_time, on),
            Code::Inches(on) => set(&mut self.inches, on),
            Code::NoRadiusOffset => set(&mut self.no_radius_offset, ()),
            Code::LengthOffset(on) => set(&mut self.length_offset, on),
            Code::RetractToOld(on) => set(&mut self.retract_to_old, on),
            Code::WorkZero(which) => set(&mut self.work_zero, which),
            Code::ExactPath(on) => set(&mut self.exact_path, on),
            Code::NonModal(code) => set(&mut self.non_modal, code),
            Code::Stop(stop) => set(&mut self.stop, stop),
            Code::ToolChange => std::mem::replace(&mut self.tool_change, true),
            Code::Spindle(turn) => set(&mut self.spindle, turn),
            Code::Coolant(on) => set(&mut self.coolant, on),
        }
    }

    /// Codes that cannot share a block (3.4).
    fn check_groups(&self) -> Result<(), BlockProblem> {
        let moves = self
            .motion
            .is_some_and(|motion| motion != MotionCode::Cancel);
        if self.non_modal_takes_axes() && self.motion.is_some() {
            let text = "a motion and a code that takes the same axis words in one line";
            return Err(problem("modal-group", 0, text));
        }
        if self.non_modal == Some(NonModal::Dwell) && (self.has_axes() || moves) {
            let text = "a dwell stands in a line of its own";
            return Err(problem("modal-group", 0, text));
        }
        if self.non_modal == Some(NonModal::Rename) && !self.has_axes() {
            return Err(problem("words", 0, "G92 says X, Y or Z"));
        }
        Ok(())
    }

    /// Checks that every word is used by something in the block, given the motion that will be
    /// carried out (if any) and its plane.
    ///
    /// # Errors
    /// The first word that would be ignored, or that two codes would read.
    pub fn check_words(
        &self,
        motion: Option<MotionCode>,
        plane: ArcPlane,
    ) -> Result<(), BlockProblem> {
        const NONE: Letters = Letters::of("");
        const EVERYWHERE: Letters = Letters::of("NFST");
        const XYZ: Letters = Letters::of("XYZ");
        const P: Letters = Letters::of("P");
        let non_modal = match self.non_modal {
            Some(NonModal::Dwell) => P,
            Some(NonModal::StoreZero) => const { Letters::of("LPXYZ") },
            Some(NonModal::Home | NonModal::SecondHome | NonModal::Rename) => XYZ,
            Some(NonModal::MachineFrame | NonModal::RenameOff) | None => NONE,
        };
        let motion = match (motion, plane) {
            (Some(MotionCode::Rapid | MotionCode::Feed), _) => XYZ,
            (Some(MotionCode::Clockwise | MotionCode::CounterClockwise), plane) => match plane {
                ArcPlane::Xy => const { Letters::of("XYZIJR") },
                ArcPlane::Zx => const { Letters::of("XYZIKR") },
                ArcPlane::Yz => const { Letters::of("XYZJKR") },
            },
            (Some(MotionCode::Drill), _) => const { Letters::of("XYZRL") },
            (Some(MotionCode::DrillDwell), _) => const { Letters::of("XYZRLP") },
            (Some(MotionCode::DrillPeck), _) => const { Letters::of("XYZRLQ") },
            (Some(MotionCode::Cancel) | None, _) => NONE,
        };
        let length = if self.length_offset == Some(true) {
            const { Letters::of("H") }
        } else {
            NONE
        };
        let blend = if self.exact_path == Some(false) {
            P
        } else {
            NONE
        };
        let users = [EVERYWHERE, non_modal, motion, length, blend];
        let mut once = Letters::default();
        let mut twice = Letters::default();
        for letters in users {
            twice = twice.or(once.and(letters));
            once = once.or(letters);
        }
        let fine = once.without(twice);
        if fine.hold(self.letters) {
            return Ok(());
        }
        let wrong = self.words.iter().filter(|word| !fine.has(word.letter));
        let Some(word) = wrong.min_by_key(|word| word.letter) else {
            return Ok(());
        };
        let letter = word.letter;
        let what = if twice.has(letter) {
            "would be read by two codes of this line"
        } else if "XYZ".contains(letter) {
            "has no motion to belong to"
        } else {
            "is used by nothing in this line"
        };
        let text = format!("{letter} {what}");
        Err(problem("words", word.column, text))
    }
}

fn whole(value: f64) -> Option<u32> {
    whole_within(value, WHOLE)
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // in range by the check
fn whole_within(value: f64, tolerance: f64) -> Option<u32> {
    let rounded = value.round();
    let legal = (value - rounded).abs() <= tolerance && (0.0..1e6).contains(&rounded);
    legal.then_some(rounded as u32)
}

/// Comments that some controls carry out.
fn check_comment(text: &[u8], column: usize) -> Result<(), BlockProblem> {
    let start: Vec<u8> = text
        .iter()
        .filter(|byte| !byte.is_ascii_whitespace())
        .take(12)
        .map(u8::to_ascii_uppercase)
        .collect();
    let acting: [&[u8]; 9] = [
        b"DEBUG,",
        b"PRINT,",
        b"LOG,",
        b"LOGOPEN,",
        b"LOGAPPEND,",
        b"LOGCLOSE",
        b"PROBEOPEN",
        b"PROBECLOSE",
        b"PY,",
    ];
    if acting.iter().any(|word| start.starts_with(word)) {
        let text = "some controls carry this comment out as a command; word it differently";
        return Err(problem("comment", column, text));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str) -> Result<GcodeBlock, BlockProblem> {
        GcodeBlock::read(line.as_bytes(), 1)
    }

    #[test]
    fn groups_and_letters_come_once() {
        for line in [
            "G0 G1", "G0 G0", "G90 G91", "G20 G21", "M3 M5", "M7 M8", "G17 G18", "G54 G55",
        ] {
            assert_eq!(read(line).unwrap_err().code, "modal-group", "{line}");
        }
        assert_eq!(read("M3 M8 M6 M0 M9").unwrap_err().code, "modal-group");
        assert_eq!(read("X1 X2").unwrap_err().column, 4);
        assert!(read("M3 M8 M6 M0").is_ok());
        assert!(read("G1.00001 X1").is_ok());
        assert_eq!(read("G1.001").unwrap_err().code, "unknown-code");
    }

    #[test]
    fn line_numbers_stand_first_and_are_whole() {
        assert!(read("N10 G1 X1").is_ok());
        assert_eq!(read("G1 N10").unwrap_err().code, "words");
    }

    #[test]
    fn codes_that_fight_for_axis_words_cannot_share_a_line() {
        for line in ["G92 X1 G1", "G28 G0 X1", "G4 P1 X2", "G92"] {
            assert!(read(line).is_err(), "{line}");
        }
    }

    #[test]
    fn no_word_is_ignored() {
        let check = |line: &str, motion| read(line).unwrap().check_words(motion, ArcPlane::Xy);
        assert!(check("X1 I2", Some(MotionCode::Feed)).is_err());
        assert!(check("X1 I2", Some(MotionCode::Clockwise)).is_ok());
        assert!(check("X1 K2", Some(MotionCode::Clockwise)).is_err());
        assert!(check("P2", None).is_err());
        assert!(check("H1", None).is_err());
        assert!(check("G43 H1", None).is_ok());
        assert!(check("D1", None).is_err());
        assert!(check("X1", None).is_err());
        assert!(check("G64 P0.1 G82 X1 Z1 R1", Some(MotionCode::DrillDwell)).is_err());
    }

    #[test]
    fn comments_that_act_are_refused() {
        assert_eq!(read("(print, #1)").unwrap_err().code, "comment");
        assert_eq!(read("(L O G OPEN,x)").unwrap_err().code, "comment");
        assert!(read("(MSG, turn the bundle)").is_ok());
    }
}
