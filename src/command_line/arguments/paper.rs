//! Sizes of paper that can be asked for.

use crate::writing::pdf;
use clap::ValueEnum;

/// Sizes of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum Paper {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 in
    Letter,
    /// 148 by 210 mm, for a pocket
    A5,
    /// 5.5 by 8.5 in, for a pocket
    HalfLetter,
}

impl From<Paper> for pdf::Paper {
    fn from(paper: Paper) -> pdf::Paper {
        match paper {
            Paper::A4 => pdf::Paper::A4,
            Paper::Letter => pdf::Paper::Letter,
            Paper::A5 => pdf::Paper::A5,
            Paper::HalfLetter => pdf::Paper::HalfLetter,
        }
    }
}
