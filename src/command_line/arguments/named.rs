//! Names that come with the program, or paths: any text is taken, and shells complete the names.

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
