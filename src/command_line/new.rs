//! `lapwright new`

use super::answers::{Failure, Outcome, Shown, print};
use super::arguments::{Format, NewArguments};
use super::files::write;
use crate::inputs::Inputs;
use crate::reading::{SHIPPED_STARTERS, shipped_starter};
use crate::writing::json;
use serde_json::json;

pub(super) fn run(asked: &NewArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let NewArguments { kind, output } = asked;
    let path = output.display().to_string();
    let Some(starter) = shipped_starter(kind) else {
        let names: Vec<&str> = SHIPPED_STARTERS
            .iter()
            .map(|starter| starter.name)
            .collect();
        return Err(Failure::input(format!(
            "no starter is called `{kind}`\n  there are: {}",
            names.join(", ")
        )));
    };
    if output.exists() {
        return Err(Failure::input(format!(
            "{path}: this is there already; choose another name"
        )));
    }
    write(inputs, [(path.clone(), starter.text.as_bytes().to_vec())])?;
    match shown.format {
        Format::Text => print(&format!(
            "{path}: a starter job, {kind}; edit it, then: lapwright build {path} -o FOLDER\n"
        )),
        Format::Json => {
            let written = json!({ "path": path, "kind": kind });
            print(&json::answer("lapwright/new/1", &written, &[], &[])?)
        }
    }
}
