//! The `lapwright` program; all it does is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    lapwright::command_line::run()
}
