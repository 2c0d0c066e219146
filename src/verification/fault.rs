//! What is wrong with a program: code, place, sentence; and the ledger that collects it.

use crate::phrase::Phrase;

/// One thing that is wrong with a program, or that the person at the machine should know.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Stable short name, one of [`super::codes::CODES`].
    pub code: &'static str,
    /// Line of the program, from 1; 0 where it is about the program as a whole.
    pub line: usize,
    /// Column of the word at fault, in bytes from 1; 0 where it is about the whole line.
    pub column: usize,
    /// A plain sentence.
    pub text: Phrase,
}

impl Fault {
    /// A fault of a whole line.
    pub fn at(code: &'static str, line: usize, text: impl Into<Phrase>) -> Self {
        Fault {
            code,
            line,
            column: 0,
            text: text.into(),
        }
    }

    /// The same at a column.
    #[must_use]
    pub fn column(mut self, column: usize) -> Self {
        self.column = column;
        self
    }
}

/// At most this many faults of one code are kept with their sentences; the rest are counted, so
/// that a long bad program needs no more memory than a short one.
pub const KEPT_PER_CODE: usize = 20;

/// Faults in the order in which they were found, bounded in number.
#[derive(Debug, Clone, Default)]
pub struct Ledger {
    kept: Vec<Fault>,
    counts: Vec<(&'static str, usize)>,
}

impl Ledger {
    /// Adds a fault, or only counts it.
    pub fn add(&mut self, fault: Fault) {
        let known = self.counts.iter_mut().find(|(code, _)| *code == fault.code);
        let count = match known {
            Some((_, count)) => {
                *count += 1;
                *count
            }
            None => {
                self.counts.push((fault.code, 1));
                1
            }
        };
        if count <= KEPT_PER_CODE {
            self.kept.push(fault);
        }
    }

    /// The faults, and for every code of which not all were kept, how many were left out.
    pub fn close(self) -> (Vec<Fault>, Vec<(&'static str, usize)>) {
        let more = self
            .counts
            .into_iter()
            .filter(|(_, count)| *count > KEPT_PER_CODE)
            .map(|(code, count)| (code, count - KEPT_PER_CODE))
            .collect();
        (self.kept, more)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_bad_program_is_counted_not_stored() {
        let mut ledger = Ledger::default();
        for line in 0..1000 {
            ledger.add(Fault::at("character", line, "x"));
        }
        ledger.add(Fault::at("no-feed", 3, "y"));
        let (kept, more) = ledger.close();
        assert_eq!(kept.len(), KEPT_PER_CODE + 1);
        assert_eq!(more, [("character", 980)]);
    }
}
