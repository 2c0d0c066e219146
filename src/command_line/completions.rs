//! `lapwright completions`

use super::answers::{Outcome, print};
use super::arguments::Arguments;
use clap::{Command, CommandFactory};
use clap_complete::Shell;

pub(super) fn run(shell: Shell) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "lapwright", &mut script);
    let mut script = String::from_utf8_lossy(&script).into_owned();
    if shell == Shell::Fish {
        script.push_str(&names_for_fish());
    }
    print(&script)
}

/// Names of starters, profiles, patterns and words of help where they stand by themselves: the generator for
/// this shell has only those behind flags.
fn names_for_fish() -> String {
    let mut lines = String::new();
    let mut command = Arguments::command();
    command.build();
    for outer in command.get_subcommands() {
        let using = format!("__fish_lapwright_using_subcommand {}", outer.get_name());
        lines += &line(&using, outer);
        for inner in outer.get_subcommands() {
            let from = format!(
                "{using}; and __fish_seen_subcommand_from {}",
                inner.get_name()
            );
            lines += &line(&from, inner);
        }
    }
    lines
}

/// What may stand behind a command; nothing where that is no name.
fn line(condition: &str, command: &Command) -> String {
    let names: Vec<String> = command
        .get_positionals()
        .flat_map(clap::Arg::get_possible_values)
        .map(|value| value.get_name().to_owned())
        .collect();
    if names.is_empty() {
        return String::new();
    }
    format!(
        "complete -c lapwright -n \"{condition}\" -a \"{}\"\n",
        names.join(" ")
    )
}
