//! Signals that end a run while it writes.

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};

/// As shells have it for a program that Ctrl-C ended: 128 and the signal's number.
pub const STOPPED: u8 = 130;

#[cfg(unix)]
const SIGNALS: [i32; 3] = [SIGINT, SIGTERM, signal_hook::consts::SIGHUP];

#[cfg(not(unix))]
const SIGNALS: [i32; 2] = [SIGINT, SIGTERM];

static ASKED: OnceLock<Arc<AtomicBool>> = OnceLock::new();

/// From now on a signal ends the run at the next place where nothing of a file is left behind
/// ([`is_asked`]), and a second one at once. Before, a run has nothing to tidy up, and ends as any
/// program does. Where signals cannot be heard all stays as it is.
pub fn listen() {
    ASKED.get_or_init(|| {
        let asked = Arc::new(AtomicBool::new(false));
        for signal in SIGNALS {
            // In this order: the first signal finds the flag unset.
            let _ = flag::register_conditional_shutdown(signal, STOPPED.into(), Arc::clone(&asked))
                .and_then(|_| flag::register(signal, Arc::clone(&asked)));
        }
        asked
    });
}

/// Whether somebody wants the run to end.
pub fn is_asked() -> bool {
    ASKED
        .get()
        .is_some_and(|asked| asked.load(Ordering::Relaxed))
}
