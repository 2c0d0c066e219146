//! A program's lines as blocks, one at a time: line ends, percent signs, block delete.

use super::block::Block;
use crate::verification::faults::Fault;

/// The lines of a text with their numbers from 1, ended by LF, CR or both (NISTIR 6556, 3.3).
#[derive(Debug, Clone)]
pub struct Lines<'a> {
    rest: Option<&'a [u8]>,
    number: usize,
}

/// The lines of a text; a last line end opens no further line.
pub fn lines(text: &[u8]) -> Lines<'_> {
    Lines {
        rest: Some(text).filter(|text| !text.is_empty()),
        number: 0,
    }
}

impl<'a> Iterator for Lines<'a> {
    type Item = (usize, &'a [u8]);

    fn next(&mut self) -> Option<Self::Item> {
        let text = self.rest?;
        self.number += 1;
        let end = text.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
        let Some((line, after)) = end.and_then(|end| text.split_at_checked(end)) else {
            self.rest = None;
            return Some((self.number, text));
        };
        let after = after
            .strip_prefix(b"\r\n")
            .or_else(|| after.split_at_checked(1).map(|(_, after)| after))
            .unwrap_or_default();
        self.rest = Some(after).filter(|after| !after.is_empty());
        Some((self.number, line))
    }
}

/// The blocks of a program that ask for something, up to the closing percent sign if there is
/// one (3.1: what follows it is never read).
#[derive(Debug, Clone)]
pub struct Blocks<'a> {
    lines: Lines<'a>,
    started: bool,
    open: bool,
    closed: bool,
}

/// Reads a program.
pub fn blocks(text: &[u8]) -> Blocks<'_> {
    Blocks {
        lines: lines(text),
        started: false,
        open: false,
        closed: false,
    }
}

impl Blocks<'_> {
    /// Whether the program was ended by its second percent sign.
    pub fn closed_by_percent(&self) -> bool {
        self.closed
    }

    /// After the closing percent sign: the first line that says anything but that again, if there
    /// is one.
    pub fn line_after_end(&mut self) -> Option<usize> {
        let rest = self.lines.by_ref();
        rest.find(|(_, line)| !matches!(line.trim_ascii(), b"" | b"%"))
            .map(|(number, _)| number)
    }

    /// Takes note of a line that begins with a percent sign.
    fn percent(&mut self, line: &[u8], number: usize) -> Result<(), Fault> {
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

    fn read(&mut self, line: &[u8], number: usize) -> Result<Option<Block>, Fault> {
        let line = line.trim_ascii_end();
        let inner = line.trim_ascii_start();
        if inner.is_empty() {
            return Ok(None);
        }
        if inner.first() == Some(&b'%') {
            let noted = self.percent(inner, number);
            self.started = true;
            return noted.map(|()| None);
        }
        self.started = true;
        if inner.first() == Some(&b'/') {
            let text = "a switch at the machine decides whether a line that begins with / is \
                        carried out; take the / or the line away";
            return Err(Fault::at("block-delete", number, text).column(1));
        }
        let block = Block::read(line, number).map_err(|problem| {
            Fault::at(problem.code, number, problem.text).column(problem.column)
        });
        block.map(|block| Some(block).filter(|block| !block.is_blank()))
    }
}

impl Iterator for Blocks<'_> {
    type Item = Result<Block, Fault>;

    fn next(&mut self) -> Option<Self::Item> {
        while !self.closed {
            let (number, line) = self.lines.next()?;
            if let Some(answer) = self.read(line, number).transpose() {
                return Some(answer);
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_line_ends_count_alike() {
        let numbers: Vec<_> = lines(b"a\nb\r\nc\rd\n\ne").collect();
        let expected: Vec<(usize, &[u8])> = vec![
            (1, b"a"),
            (2, b"b"),
            (3, b"c"),
            (4, b"d"),
            (5, b""),
            (6, b"e"),
        ];
        assert_eq!(numbers, expected);
        assert_eq!(lines(b"").count(), 0);
        assert_eq!(lines(b"a\n").count(), 1);
    }

    fn read(text: &str) -> (Vec<usize>, Vec<&'static str>, bool) {
        let mut blocks = blocks(text.as_bytes());
        let (mut good, mut bad) = (Vec::new(), Vec::new());
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
