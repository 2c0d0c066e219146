//! A program's lines as blocks, one at a time: line ends, percent signs, block delete.

use super::block::GcodeBlock;
use crate::verification::faults::Fault;
use memchr::memchr2;
use std::io::{self, BufRead, Seek, SeekFrom};

/// The lines of a text with their numbers from 1, ended by LF, CR or both (NISTIR 6556, 3.3); a last
/// line end opens no further line. Only one line at a time is kept.
#[derive(Debug, Clone)]
pub struct ProgramLines<R> {
    source: R,
    /// A line that came in several portions.
    line: Vec<u8>,
    /// How much of the portion at hand the line given last takes.
    held: usize,
    place: TextPlace,
    /// Whether the last line had an end.
    ended: bool,
    /// The first line not told of yet that ended with a CR alone.
    bare_cr: Option<usize>,
}

/// A place between two lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct TextPlace {
    /// Bytes before it.
    offset: u64,
    /// Number of the line before it.
    number: usize,
    /// Whether that line ended with a CR, which may have an LF behind it.
    after_cr: bool,
}

/// The lines of a text.
pub fn lines<R: BufRead>(source: R) -> ProgramLines<R> {
    ProgramLines {
        source,
        line: Vec::new(),
        held: 0,
        place: TextPlace::default(),
        ended: true,
        bare_cr: None,
    }
}

impl<R: BufRead> ProgramLines<R> {
    /// The next line without its end, and its number.
    ///
    /// # Errors
    /// Those of the source.
    pub fn step(&mut self) -> io::Result<Option<(usize, &[u8])>> {
        self.line.clear();
        self.source.consume(std::mem::take(&mut self.held));
        let mut begun = false;
        loop {
            let mut text = match self.source.fill_buf() {
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                text => text?,
            };
            let mut taken = 0;
            if self.place.after_cr && text.first() == Some(&b'\n') {
                text = text.get(1..).unwrap_or_default();
                taken = 1;
            } else {
                if self.place.after_cr {
                    self.bare_cr.get_or_insert(self.place.number);
                }
                if text.is_empty() {
                    self.place.after_cr = false;
                    self.ended &= !begun;
                    break;
                }
            }
            self.place.after_cr = false;
            let end = memchr2(b'\n', b'\r', text);
            let (line, rest) = text.split_at(end.unwrap_or(text.len()));
            if let Some(length) = end.filter(|_| !begun) {
                // All of it is in this portion, and need not be copied.
                self.place.after_cr = rest.first() == Some(&b'\r');
                self.held = taken + length + 1;
                self.place.offset += self.held as u64;
                self.place.number += 1;
                let text = self.source.fill_buf()?;
                let line = text.get(taken..taken + length).unwrap_or_default();
                return Ok(Some((self.place.number, line)));
            }
            self.line.extend_from_slice(line);
            begun |= !line.is_empty() || end.is_some();
            taken += line.len() + usize::from(end.is_some());
            self.place.after_cr = rest.first() == Some(&b'\r');
            self.source.consume(taken);
            self.place.offset += taken as u64;
            if end.is_some() {
                break;
            }
        }
        self.place.number += usize::from(begun);
        Ok(begun.then_some((self.place.number, &self.line)))
    }

    /// Number of the last line that was given, 0 before the first.
    pub fn number(&self) -> usize {
        self.place.number
    }

    /// The first line since this was last asked whose end, a CR, had no LF behind it.
    pub fn take_bare_cr(&mut self) -> Option<usize> {
        self.bare_cr.take()
    }

    /// Whether the last line that was given had an end.
    pub fn ended(&self) -> bool {
        self.ended
    }
}

/// What percent signs have said so far: what follows the second one is never read (3.1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Percents {
    started: bool,
    open: bool,
    closed: bool,
}

impl Percents {
    /// Whether the program was ended by its second percent sign.
    pub fn closed(&self) -> bool {
        self.closed
    }

    /// Takes note of a line that begins with a percent sign.
    fn note(&mut self, line: &[u8], number: usize) -> Result<(), Fault> {
        if line != b"%" {
            let text = "% stands alone on its line";
            return Err(Fault::at("percent", number, text));
        }
        if self.open {
            self.closed = true;
        } else if self.started {
            let text = "a % at the end needs one on the first line as well";
            return Err(Fault::at("percent", number, text));
        }
        self.open = true;
        Ok(())
    }

    /// Reads a line; `None` where it asks for nothing.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read(&mut self, line: &[u8], number: usize) -> Result<Option<GcodeBlock>, Fault> {
        let line = line.trim_ascii_end();
        let inner = line.trim_ascii_start();
        if inner.is_empty() {
            return Ok(None);
        }
        if inner.first() == Some(&b'%') {
            let noted = self.note(inner, number);
            self.started = true;
            return noted.map(|()| None);
        }
        self.started = true;
        if inner.first() == Some(&b'/') {
            let text = "a switch at the machine decides whether a line that begins with / is \
                        carried out; take the / or the line away";
            return Err(Fault::at("block-delete", number, text).column(1));
        }
        let block = GcodeBlock::read(line, number).map_err(|problem| {
            Fault::at(problem.code, number, problem.text).column(problem.column)
        });
        block.map(|block| Some(block).filter(|block| !block.is_blank()))
    }
}

/// A text and how far it has been read.
#[derive(Debug, Clone)]
pub struct ProgramText<R> {
    pub(in crate::verification) lines: ProgramLines<R>,
    pub(in crate::verification) percents: Percents,
}

/// A place in a text to which one can go back.
#[derive(Debug, Clone, Copy)]
pub struct TextMark {
    place: TextPlace,
    percents: Percents,
}

impl<R: BufRead> ProgramText<R> {
    /// A text, from its beginning.
    pub fn new(source: R) -> Self {
        ProgramText {
            lines: lines(source),
            percents: Percents::default(),
        }
    }
}

impl<R: BufRead + Seek> ProgramText<R> {
    /// Where it is.
    pub fn mark(&self) -> TextMark {
        TextMark {
            place: self.lines.place,
            percents: self.percents,
        }
    }

    /// Goes back to where it was.
    ///
    /// # Errors
    /// Those of the source.
    pub fn back_to(&mut self, mark: TextMark) -> io::Result<()> {
        self.lines.source.seek(SeekFrom::Start(mark.place.offset))?;
        self.lines.held = 0;
        self.lines.place = mark.place;
        self.percents = mark.percents;
        Ok(())
    }
}

/// What a text that ends too early is called.
pub(in crate::verification) fn unreadable(error: &io::Error, number: usize) -> Fault {
    let text = format!("the program cannot be read on from here: {error}");
    Fault::at("unreadable", number, text)
}

/// The blocks of a program that ask for something, up to the closing percent sign if there is one.
#[derive(Debug, Clone)]
pub struct ProgramBlocks<R>(ProgramText<R>);

/// Reads a program.
pub fn blocks<R: BufRead>(source: R) -> ProgramBlocks<R> {
    ProgramBlocks(ProgramText::new(source))
}

impl<R> ProgramBlocks<R> {
    /// Whether the program was ended by its second percent sign.
    pub fn closed_by_percent(&self) -> bool {
        self.0.percents.closed
    }
}

impl<R: BufRead> Iterator for ProgramBlocks<R> {
    type Item = Result<GcodeBlock, Fault>;

    fn next(&mut self) -> Option<Self::Item> {
        let ProgramText { lines, percents } = &mut self.0;
        while !percents.closed {
            let number = lines.number();
            let answer = match lines.step() {
                Ok(line) => {
                    let (number, line) = line?;
                    percents.read(line, number).transpose()
                }
                Err(error) => {
                    // Nothing that follows is known.
                    percents.closed = true;
                    Some(Err(unreadable(&error, number)))
                }
            };
            if answer.is_some() {
                return answer;
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{BufReader, Cursor};

    #[test]
    fn all_line_ends_count_alike() {
        let read = |text: &[u8], room: usize| {
            let mut lines = lines(BufReader::with_capacity(room, text));
            let mut found = Vec::new();
            while let Some((number, line)) = lines.step().unwrap() {
                found.push((number, String::from_utf8(line.to_vec()).unwrap()));
            }
            (found, lines.ended(), lines.place.offset)
        };
        let numbered = |lines: &[&str]| -> Vec<(usize, String)> {
            (1..)
                .zip(lines.iter().map(|line| (*line).to_owned()))
                .collect()
        };
        // However the bytes come in.
        for room in 1..20 {
            let (found, ended, offset) = read(b"a\nb\r\nc\rd\n\nlonger", room);
            let wanted = numbered(&["a", "b", "c", "d", "", "longer"]);
            assert_eq!(found, wanted);
            assert!(!ended && offset == 16);
            for (text, lines) in [
                (&b""[..], &[][..]),
                (b"a\n", &["a"]),
                (b"a\r\n", &["a"]),
                (b"a\n\r", &["a", ""]),
                (b"\r\r\n", &["", ""]),
            ] {
                let (found, ended, offset) = read(text, room);
                assert_eq!(found, numbered(lines));
                assert!(ended && offset == text.len() as u64, "{text:?}");
            }
        }
    }

    #[test]
    fn a_text_can_be_gone_back_in() {
        let mut text = ProgramText::new(Cursor::new("%\nG21\r\nG90\nM2\n%\n"));
        let step = |text: &mut ProgramText<Cursor<&str>>| {
            let (number, line) = text.lines.step().unwrap().unwrap();
            let block = text.percents.read(line, number).unwrap();
            (number, block.is_some())
        };
        assert_eq!([step(&mut text), step(&mut text)], [(1, false), (2, true)]);
        let mark = text.mark();
        for _ in 0..2 {
            assert_eq!(step(&mut text), (3, true));
            assert_eq!(step(&mut text), (4, true));
            assert_eq!(step(&mut text), (5, false));
            assert!(text.percents.closed());
            text.back_to(mark).unwrap();
        }
    }

    fn read(text: &str) -> (Vec<usize>, Vec<&'static str>, bool) {
        let mut blocks = blocks(text.as_bytes());
        let mut good = Vec::new();
        let mut bad = Vec::new();
        for block in blocks.by_ref() {
            match block {
                Ok(block) => good.push(block.line),
                Err(fault) => bad.push(fault.code),
            }
        }
        (good, bad, blocks.closed_by_percent())
    }

    /// NISTIR 6556, 3.1.
    #[test]
    fn percent_signs_come_in_pairs() {
        assert_eq!(read("\n%\nG21\n%\nG20\n"), (vec![3], vec![], true));
        assert_eq!(read("G21\n%\n"), (vec![1], vec!["percent"], false));
        assert_eq!(read("% name\nG21\n"), (vec![2], vec!["percent"], false));
        assert_eq!(read("(a)\n%\nG21\n").1, ["percent"]);
    }

    #[test]
    fn a_block_delete_is_refused() {
        assert_eq!(read(" /G0 X1\n").1, ["block-delete"]);
    }
}
