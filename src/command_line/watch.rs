//! `--watch`: a command that is run again whenever one of its inputs changes.

use super::answers::{Failure, Outcome, tell};
use crate::inputs::{Inputs, State};
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::sleep;
use std::time::Duration;

/// Between two looks at the inputs.
const PAUSE: Duration = Duration::from_millis(200);

/// Runs a command, and again after every change of its inputs, until somebody presses Ctrl-C. What is
/// wrong is told, and the next change waited for; a run that fails has written nothing, so that the
/// files of the last good one stay.
///
/// # Errors
/// Where Ctrl-C cannot be listened for.
pub(super) fn watch(run: impl Fn(&Inputs) -> Outcome) -> Outcome {
    let ended = ctrl_c()?;
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
        match next_change(&before, &ended) {
            Some(changed) => tell(&format!("{} changed\n", listed(&changed))),
            None => return Ok(()),
        }
    }
}

/// Set once somebody wants to end. A run is ended after its files are written; a second Ctrl-C ends at
/// once.
fn ctrl_c() -> Result<Arc<AtomicBool>, Failure> {
    /// As shells have it for a program that Ctrl-C ended: 128 and the signal's number.
    const AT_ONCE: i32 = 130;
    let ended = Arc::new(AtomicBool::new(false));
    for signal in [SIGINT, SIGTERM] {
        // In this order: the first one finds the flag unset.
        flag::register_conditional_shutdown(signal, AT_ONCE, Arc::clone(&ended))
            .and_then(|_| flag::register(signal, Arc::clone(&ended)))
            .map_err(|error| Failure::input(format!("--watch: Ctrl-C is not heard: {error}")))?;
    }
    Ok(ended)
}

/// Waits until inputs are not what they were and stand still; which ones. Nothing once it is ended.
fn next_change(before: &[(PathBuf, State)], ended: &AtomicBool) -> Option<Vec<PathBuf>> {
    let mut last: Vec<State> = before.iter().map(|(_, state)| *state).collect();
    loop {
        sleep(PAUSE);
        if ended.load(Ordering::Relaxed) {
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
