//! Arguments of a command that are laid out when it is the one that was asked for.

use std::ops::Deref;

use clap::{ArgMatches, Args, Command, Error};

/// Arguments of a command. To lay out those of all the others takes longer than to read a plan.
#[derive(Debug)]
pub(crate) struct Later<T>(T);

impl<T> Deref for Later<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T: Args> Args for Later<T> {
    fn augment_args(command: Command) -> Command {
        command.defer(T::augment_args)
    }

    fn augment_args_for_update(command: Command) -> Command {
        command.defer(T::augment_args_for_update)
    }
}

impl<T: Args> clap::FromArgMatches for Later<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches(matches).map(Self)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        self.0.update_from_arg_matches(matches)
    }
}
