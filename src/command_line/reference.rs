//! `lapwright help`, `lapwright schema` and `lapwright man`.

use super::answers::{Failure, Outcome, print};
use super::arguments::{Arguments, FileKind, HelpArguments, ManArguments, SchemaArguments};
use super::files::write_into;
use crate::inputs::Inputs;
use crate::machines::MachineKind;
use crate::reading::{JOB, PATTERN, Reference};
use clap::{CommandFactory, Parser};
use std::io;

/// What a file may hold, or how a command is used. What both is, a machine and a pattern, is told as
/// both.
pub(super) fn help(asked: &HelpArguments) -> Outcome {
    let words: Vec<&str> = asked.about.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["job"] => print(&JOB.text()),
        ["pattern"] => {
            usage(&words)?;
            print(&format!("\nIn a pattern file\n\n{}", PATTERN.text()))
        }
        ["machine"] => {
            usage(&words)?;
            let profiles: Vec<String> = MachineKind::ALL.into_iter().map(profile).collect();
            print(&format!("\n{}", profiles.join("\n\n")))
        }
        ["machine", kind] => match MachineKind::ALL
            .into_iter()
            .find(|known| known.name() == *kind)
        {
            Some(kind) => print(&profile(kind)),
            None => usage(&words),
        },
        _ => usage(&words),
    }
}

fn profile(kind: MachineKind) -> String {
    let name = kind.name();
    let text = Reference::of_machine(kind).text();
    format!("In a profile with kind = \"{name}\"\n\n{text}")
}

/// How a command is used: what `--help` behind it says.
fn usage(words: &[&str]) -> Outcome {
    let words = ["lapwright"].iter().chain(words).chain(&["--help"]);
    match Arguments::try_parse_from(words) {
        Err(error) if !error.use_stderr() => {
            let _ = error.print();
            Ok(())
        }
        Err(error) => Err(Failure {
            code: 2,
            text: error.render().ansi().to_string(),
        }),
        Ok(_) => Err(Failure::input("no help for that; see `lapwright help`")),
    }
}

/// A schema for an editor.
pub(super) fn schema(asked: &SchemaArguments) -> Outcome {
    let schema = match asked.of {
        FileKind::Job => JOB.schema(),
        FileKind::Pattern => PATTERN.schema(),
        FileKind::Machine => {
            Reference::schema_of_kinds("machine", &MachineKind::ALL.map(Reference::of_machine))
        }
    };
    print(&format!("{schema:#}\n"))
}

/// A page of the manual for each command.
pub(super) fn man(asked: &ManArguments, inputs: &Inputs) -> Outcome {
    let mut command = Arguments::command();
    command.build();
    let mut pages = Vec::new();
    add_pages(&command, &mut pages)
        .map_err(|error| Failure::input(format!("the pages cannot be made: {error}")))?;
    write_into(inputs, &asked.output, pages)
}

fn add_pages(command: &clap::Command, pages: &mut Vec<(String, Vec<u8>)>) -> io::Result<()> {
    let page = clap_mangen::Man::new(command.clone());
    let mut text = Vec::new();
    page.render(&mut text)?;
    pages.push((page.get_filename(), text));
    for inner in command
        .get_subcommands()
        .filter(|inner| !inner.is_hide_set())
    {
        add_pages(inner, pages)?;
    }
    Ok(())
}
