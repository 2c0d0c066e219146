//! `--watch`: a command that is run again whenever one of its inputs changes.

use super::answers::{Failure, Outcome, tell};
use crate::inputs::{Inputs, State};
use crate::writing::stopping;
use std::path::PathBuf;
use std::thread::sleep;
use std::time::Duration;

/// Between two looks at the inputs.
const PAUSE: Duration = Duration::from_millis(200);

/// Runs a command, and again after every change of its inputs, until somebody presses Ctrl-C. What is
/// wrong is told, and the next change waited for; a run that fails has written nothing, so that the
/// files of the last good one stay. A second Ctrl-C ends a run that is under way.
pub(super) fn watch(run: impl Fn(&Inputs) -> Outcome) -> Outcome {
    stopping::listen();
    let mut watched: Vec<PathBuf> = Vec::new();
    loop {
        let inputs = Inputs::default();
        if let Err(Failure { code, text }) = run(&inputs) {
            tell(&text);
            if code == 2 {
                tell("nothing was written: what an earlier run wrote stays as it is\n");
            }
        }
        let before = inputs.states();
        let paths: Vec<PathBuf> = before.iter().map(|(path, _)| path.clone()).collect();
        if paths != watched {
            tell(&format!("watching {}; Ctrl-C ends\n", listed(&paths)));
            watched = paths;
        }
        match next_change(&before) {
            Some(changed) => tell(&format!("{} changed\n", listed(&changed))),
            None => return Ok(()),
        }
    }
}

/// Waits until inputs are not what they were and stand still; which ones. Nothing once it is ended.
fn next_change(before: &[(PathBuf, State)]) -> Option<Vec<PathBuf>> {
    let mut last: Vec<State> = before.iter().map(|(_, state)| *state).collect();
    loop {
        sleep(PAUSE);
        if stopping::is_asked() {
            return None;
        }
        let now: Vec<State> = before.iter().map(|(path, _)| State::of(path)).collect();
        // An editor may be in the middle of saving.
        let stands_still = now == last;
        last = now;
        let pairs = before.iter().zip(&last);
        let changed = pairs.filter(|((_, old), new)| old != *new);
        let changed: Vec<PathBuf> = changed.map(|((path, _), _)| path.clone()).collect();
        if stands_still && !changed.is_empty() {
            return Some(changed);
        }
    }
}

fn listed(paths: &[PathBuf]) -> String {
    let names: Vec<String> = paths
        .iter()
        .map(|path| path.display().to_string())
        .collect();
    names.join(", ")
}
