//! What is wrong with a program: code, place, sentence; and the ledger that collects it.

use crate::phrase::Phrase;
use crate::units::Fine;

/// Every code of a fault, and what it means.
pub const CODES: &[(&str, &str)] = &[
    // What cannot be read.
    (
        "character",
        "a character that is no part of the language, or that the control may not take",
    ),
    ("number", "no number, or one that cannot be taken"),
    (
        "comment",
        "a comment that is not closed, is nested, acts, or is of a kind not taken",
    ),
    ("percent", "a percent sign where none may be"),
    ("parameter", "a parameter"),
    ("expression", "an expression"),
    ("subprogram", "an O word"),
    (
        "block-delete",
        "a line that a switch at the machine can take away",
    ),
    ("axis", "an axis other than X, Y, Z"),
    ("words", "a word too many, too few, or that nothing uses"),
    ("modal-group", "two words of one group"),
    (
        "unknown-code",
        "a G or M number that is not known or refused",
    ),
    (
        "code-not-taken",
        "a G or M number that this control does not take",
    ),
    ("line-too-long", "a line longer than the control takes"),
    ("line-end", "a line that ends with CR alone"),
    ("last-line-open", "the last line has no line end"),
    ("arc", "an arc that does not exist"),
    (
        "arc-rounding",
        "an arc whose centre hangs on the last digit",
    ),
    ("cycle", "a drilling cycle that cannot be carried out"),
    // How the program begins and ends.
    ("units-unstated", "moves before G20 or G21"),
    ("distance-unstated", "moves before G90 or G91"),
    ("plane-unstated", "arcs before G17, G18 or G19"),
    ("feed-mode-unstated", "cutting moves before G93 or G94"),
    ("work-zero-unstated", "moves before G54"),
    ("units-changed", "a change of units in mid-program"),
    ("feed-before-units", "F in the line that changes the units"),
    ("no-end", "no M2 or M30"),
    ("text-after-end", "words after the end"),
    (
        "not-retracted",
        "the cutter stays down at the end or at a stop between set-ups",
    ),
    // Zeros and positions.
    (
        "position-unknown",
        "a move from or to a place that cannot be known",
    ),
    ("home", "G28 or G30"),
    ("renamed-zero", "G92"),
    ("stored-zero", "G10"),
    ("other-zero", "a work zero other than G54"),
    ("tool-length", "G43"),
    ("tool-change", "another tool after the first has cut"),
    // Spindle, feed, waiting.
    (
        "spindle-stopped",
        "the cutter against wood with the spindle stopped",
    ),
    (
        "spindle-backwards",
        "the cutter against wood with the spindle turning backwards",
    ),
    ("no-spindle-speed", "the spindle started without a speed"),
    ("spindle-speed", "a spindle speed beyond the limits"),
    (
        "no-spin-up",
        "the cutter against wood before the spindle is up to speed",
    ),
    (
        "spindle-switched-in-stock",
        "the spindle started or stopped with the cutter in the wood",
    ),
    ("no-spindle-stop", "no M5 before the end"),
    (
        "stop-while-turning",
        "a stop for the hand while the spindle turns",
    ),
    ("dwell-unit", "a wait in the wrong unit"),
    ("no-feed", "a cutting move without a feed"),
    ("feed-too-fast", "a feed above the limit"),
    (
        "chip-too-thick",
        "a feed above what the cutter's edges take at the spindle's speed",
    ),
    ("feed-too-slow", "cutting so slowly that the cutter rubs"),
    ("plunge-too-fast", "a feed downward above the limit"),
    // Where the tool goes.
    ("rapid-in-stock", "a rapid through wood"),
    ("low-rapid", "a rapid sideways too low above wood"),
    ("plunge", "a plunge into wood"),
    ("ramp-too-steep", "a way down into wood that is no ramp"),
    ("pass-too-deep", "a pass deeper than the limit"),
    ("shank-in-stock", "the shank in the wood"),
    ("into-table", "the cutter in the table"),
    ("keep-out", "the tool in a clamp or stop"),
    ("outside-travel", "a place that the machine cannot reach"),
    (
        "blended-corner",
        "a corner in the wood that the control may round",
    ),
    // What comes out.
    ("tool-too-wide", "the cutter is wider than a notch"),
    ("notch-missing", "a notch that is not cut"),
    ("notch-surplus", "a cut that nobody wanted"),
    ("notch-centre", "a notch in the wrong place"),
    ("notch-width", "a notch of the wrong width"),
    ("notch-depth", "a notch of the wrong depth"),
    ("notch-angle", "a notch at the wrong angle"),
    ("thin-web", "less wood between two notches than planned"),
];

/// Codes of faults that only programs for mortises have, and what they mean.
pub const MORTISE_CODES: &[(&str, &str)] = &[
    ("mortise-missing", "a mortise that is not cut"),
    ("mortise-surplus", "a cut outside the mortises"),
    ("mortise-walls", "a mortise whose walls stand too far in"),
    ("mortise-depth", "a mortise of the wrong depth"),
];

/// Codes of faults that only programs for rows of pieces have, and what they mean.
pub const MITRE_CODES: &[(&str, &str)] = &[
    ("piece-cut", "a way of the tool that comes into a piece"),
    (
        "skin-cut",
        "a way of the tool into the skin that joins pieces",
    ),
    ("facet-missing", "a facet that is not cut"),
    ("facet-off", "a facet that is not cut far enough"),
    ("mitre-depth", "a mitre that is not deep enough"),
    ("lap-missing", "a lap that is not cut"),
    ("lap-width", "a lap whose walls stand too far in"),
    ("lap-depth", "a lap of the wrong depth"),
    (
        "lap-late",
        "a lap cut after mitres of its stick, when only a skin holds the piece",
    ),
];

/// Codes of faults that only files and programs of several parts have, and what they mean.
pub const PART_CODES: &[(&str, &str)] = &[
    ("unreadable", "a file that cannot be read to its end"),
    ("set-up-missing", "an end before the last set-up"),
    ("set-up-surplus", "a stop more than there are set-ups"),
];

/// A length for a sentence about a program: to a program's own last digit.
pub(super) fn figure(mm: f64) -> Fine {
    Fine(mm)
}

/// One thing that is wrong with a program, or that the person at the machine should know.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Stable short name, one of [`CODES`], [`MORTISE_CODES`] or [`PART_CODES`].
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
pub struct FaultLedger {
    kept: Vec<Fault>,
    counts: Vec<(&'static str, usize)>,
}

impl FaultLedger {
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
        let mut ledger = FaultLedger::default();
        for line in 0..1000 {
            ledger.add(Fault::at("character", line, "x"));
        }
        ledger.add(Fault::at("no-feed", 3, "y"));
        let (kept, more) = ledger.close();
        assert_eq!(kept.len(), KEPT_PER_CODE + 1);
        assert_eq!(more, [("character", 980)]);
    }
}
