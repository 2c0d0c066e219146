//! The `lapwright` command: arguments to work to answers and exit codes.

mod answers;
mod arguments;
mod build;
mod choose;
mod compare;
mod completions;
mod file;
mod files;
mod fit;
mod glance;
mod inputs;
mod lengths;
mod machine;
mod measure;
mod measured_answer;
mod movement;
mod new;
mod notch;
mod outline;
mod pare;
mod pattern;
mod proof_report;
mod prove;
mod prove_drawing;
mod prove_program;
mod proved_files;
mod rails;
mod reference;
mod sheet;
mod show;
mod sled;
mod stock;
mod thickness;
mod under_way;
mod watch;
mod whole_job;

use crate::inputs::Inputs;
use crate::units::UnitSystem;
use answers::{Failure, Outcome, Shown};
use arguments::{Arguments, Command};
use clap::Parser;
use files::STANDARD;
use std::ffi::OsString;
use std::process::ExitCode;
use under_way::UnderWay;

/// Runs the program on the process's arguments. Exit codes: 0 done; 1 done, and the answer is no, or
/// something is missing beside what was made; 2 wrong input or usage, or nothing can be made: nothing
/// written.
pub fn run() -> ExitCode {
    if let Some(refused) = endless_argument(std::env::args_os()) {
        answers::tell(&refused.text);
        return ExitCode::from(refused.code);
    }
    let arguments = match Arguments::try_parse_from(file::with_verb(std::env::args_os())) {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version are answers, everything else is wrong usage.
            let code = if error.use_stderr() { 2 } else { 0 };
            let _ = error.print();
            return ExitCode::from(code);
        }
    };
    let run = |inputs: &Inputs| {
        let _under_way = UnderWay::begin();
        let asked = arguments.units.map(UnitSystem::from);
        let shown = Shown {
            format: arguments.format,
            units: asked.unwrap_or_else(|| inputs::units_of(inputs, &arguments.command.told())),
        };
        carry_out(&arguments.command, inputs, shown)
    };
    let outcome = if arguments.command.is_watched()
        && std::env::args_os().any(|one| one == STANDARD)
    {
        let text = "--watch: standard input and output are no files that can be looked at again";
        Err(Failure::input(text))
    } else if arguments.command.is_watched() {
        watch::watch(run)
    } else {
        run(&Inputs::default())
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(Failure { code, text }) => {
            answers::tell(&text);
            ExitCode::from(code)
        }
    }
}

/// An argument longer than any path or figure, which no message has room for.
fn endless_argument(mut arguments: impl Iterator<Item = OsString>) -> Option<Failure> {
    const MOST_BYTES: usize = 4096;
    let endless = arguments.position(|argument| argument.len() > MOST_BYTES)?;
    let text = format!("argument {endless} is longer than {MOST_BYTES} bytes");
    Some(Failure::input(text))
}

/// Does what a command asks for, once.
fn carry_out(command: &Command, inputs: &Inputs, shown: Shown) -> Outcome {
    match command {
        Command::Choose(asked) => choose::run(asked, inputs, shown),
        Command::Help(asked) => reference::help(asked),
        Command::Schema(asked) => reference::schema(asked),
        Command::Man(asked) => reference::man(asked, inputs),
        Command::New(asked) => new::run(asked, inputs, shown),
        Command::File { file } => file::run(file, inputs, shown),
        Command::Show(asked) => show::run(asked, inputs, shown),
        Command::Movement(asked) => movement::run(asked, inputs, shown),
        Command::Compare(asked) => compare::run(asked, inputs, shown),
        Command::Fit(asked) => fit::run(asked, inputs, shown),
        Command::Sled(asked) => sled::run(asked, inputs, shown),
        Command::Stock(asked) => stock::run(asked, inputs, shown),
        Command::Outline(asked) => outline::run(asked, inputs, shown),
        Command::Notch(asked) => notch::run(asked, inputs, shown),
        Command::Pare(asked) => pare::run(asked, inputs, shown),
        Command::Rails(asked) => rails::run(asked, inputs, shown),
        Command::Pattern(asked) => pattern::run(asked, inputs, shown),
        Command::Prove(asked) => prove::run(asked, inputs, shown),
        Command::Build(asked) => build::run(asked, inputs, shown),
        Command::Sheet(asked) => sheet::run(asked, inputs, shown),
        Command::Machine(asked) => machine::run(asked, inputs, shown),
        Command::Completions { shell } => completions::run(*shell),
    }
}
