//! Names that come with the program, or paths, and words about which there is help: any text is taken, and
//! shells complete the names.

use crate::machines::MachineKind;
use crate::reading::{SHIPPED_MACHINES, SHIPPED_PATTERNS, ShippedProfile};
use clap::builder::{PossibleValue, StringValueParser, TypedValueParser};
use clap::{Arg, Command, Error};
use std::ffi::OsStr;

/// The profile of a machine.
pub(super) const MACHINE: NameOrPath = NameOrPath(SHIPPED_MACHINES);

/// A pattern of pieces.
pub(super) const PATTERN: NameOrPath = NameOrPath(SHIPPED_PATTERNS);

#[derive(Clone, Copy)]
pub(super) struct NameOrPath(&'static [ShippedProfile]);

impl TypedValueParser for NameOrPath {
    type Value = String;

    fn parse_ref(
        &self,
        command: &Command,
        argument: Option<&Arg>,
        value: &OsStr,
    ) -> Result<String, Error> {
        StringValueParser::new().parse_ref(command, argument, value)
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        let names = self.0.iter().map(|profile| profile.name);
        Some(Box::new(names.map(PossibleValue::new)))
    }
}

/// What `help` is asked about: commands, kinds of files, and behind `machine` kinds of machines.
pub(super) const HELP: HelpWord = HelpWord;

const ABOUT: &[&str] = &[
    "choose",
    "show",
    "compare",
    "movement",
    "fit",
    "stock",
    "sled",
    "outline",
    "notch",
    "pare",
    "rails",
    "pattern",
    "prove",
    "build",
    "sheet",
    "machine",
    "schema",
    "man",
    "new",
    "completions",
    "job",
];

#[derive(Clone, Copy)]
pub(super) struct HelpWord;

impl TypedValueParser for HelpWord {
    type Value = String;

    fn parse_ref(
        &self,
        command: &Command,
        argument: Option<&Arg>,
        value: &OsStr,
    ) -> Result<String, Error> {
        StringValueParser::new().parse_ref(command, argument, value)
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        let kinds = MachineKind::ALL.into_iter().map(MachineKind::name);
        // A sled is a command too.
        let kinds = kinds.filter(|kind| !ABOUT.contains(kind));
        let words = ABOUT.iter().copied().chain(kinds);
        Some(Box::new(words.map(PossibleValue::new)))
    }
}
