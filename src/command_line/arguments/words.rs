//! What was said in lengths, so that the answer comes in the same units.

use super::{Command, PatternAction};
use std::path::Path;

/// Where the lengths of a command stand.
pub(in crate::command_line) enum Told<'a> {
    /// In a file.
    Job(&'a Path),
    /// In flags, as they were written.
    Flags(Vec<&'a str>),
    /// Nowhere.
    Nowhere,
}

impl Command {
    /// Where its lengths stand.
    pub(in crate::command_line) fn told(&self) -> Told<'_> {
        match self {
            Command::Choose(asked) => match &asked.job {
                Some(job) => Told::Job(job),
                None => flags(&[
                    &asked.opening,
                    &asked.thickness,
                    &asked.depth,
                    &asked.pitch,
                    &asked.side,
                    &asked.frame_thickness,
                    &asked.frame_width,
                ]),
            },
            Command::Sled(asked) => match &asked.job {
                Some(job) => Told::Job(job),
                None => flags(&[
                    &asked.pitch,
                    &asked.overhang,
                    &asked.thickness,
                    &asked.depth,
                ]),
            },
            Command::Prove(asked) => match &asked.job {
                Some(job) => Told::Job(job),
                None => flags(&[&asked.stock, &asked.tool]),
            },
            Command::Pattern(asked) => match &asked.action {
                PatternAction::Map { job } => Told::Job(job),
                _ => Told::Nowhere,
            },
            Command::File { file } => Told::Job(file),
            Command::Show(asked) => Told::Job(&asked.job),
            Command::Compare(asked) => Told::Job(&asked.first),
            Command::Fit(asked) => Told::Job(&asked.job),
            Command::Movement(asked) => Told::Job(&asked.job),
            Command::Stock(asked) => Told::Job(&asked.job),
            Command::Outline(asked) => Told::Job(&asked.job),
            Command::Notch(asked) => Told::Job(&asked.job),
            Command::Pare(asked) => Told::Job(&asked.job),
            Command::Rails(asked) => Told::Job(&asked.job),
            Command::Build(asked) => Told::Job(&asked.job),
            Command::Sheet(asked) => Told::Job(&asked.job),
            Command::Machine(_)
            | Command::Help(_)
            | Command::Schema(_)
            | Command::Man(_)
            | Command::New(_)
            | Command::Completions { .. } => Told::Nowhere,
        }
    }
}

fn flags<'a>(given: &[&'a Option<String>]) -> Told<'a> {
    let given = given.iter();
    Told::Flags(given.filter_map(|flag| flag.as_deref()).collect())
}
