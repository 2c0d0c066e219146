//! Arguments that are described only to who asks for them: of two dozen commands a run takes one.

use clap::{ArgMatches, Args, Command, Error, FromArgMatches, Id};
use std::ops::Deref;

/// A command's arguments, described when that command is met on the line, in its help, or where all are told.
#[derive(Debug)]
pub(in crate::command_line) struct Deferred<T>(T);

impl<T> Deref for Deferred<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T: FromArgMatches> FromArgMatches for Deferred<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches(matches).map(Deferred)
    }

    fn from_arg_matches_mut(matches: &mut ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches_mut(matches).map(Deferred)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        self.0.update_from_arg_matches(matches)
    }
}

impl<T: Args> Args for Deferred<T> {
    fn group_id() -> Option<Id> {
        T::group_id()
    }

    fn augment_args(command: Command) -> Command {
        command.defer(T::augment_args)
    }

    fn augment_args_for_update(command: Command) -> Command {
        command.defer(T::augment_args_for_update)
    }
}
