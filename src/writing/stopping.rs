//! Signals that end a run, so that it leaves nothing behind.

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

/// As shells have it for a program that Ctrl-C ended: 128 and the signal's number.
pub const STOPPED: u8 = 130;

#[cfg(unix)]
const SIGNALS: [i32; 3] = [SIGINT, SIGTERM, signal_hook::consts::SIGHUP];

#[cfg(not(unix))]
const SIGNALS: [i32; 2] = [SIGINT, SIGTERM];

/// What is told of a run that was ended before it wrote anything.
pub const TOLD: &str = "stopped: nothing was written\n";

/// How far a run is with its files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Files {
    /// None is begun.
    None,
    /// So many batches have something on the disk that is to go again where they come to nothing.
    Begun(usize),
    /// Some have their names, or went to standard output.
    Written,
}

static FILES: Mutex<Files> = Mutex::new(Files::None);

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

fn files() -> MutexGuard<'static, Files> {
    FILES.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A run begins: nothing is written.
pub fn begin() {
    *files() = Files::None;
}

/// Something is about to be named or shown: from now on a run is carried to its end.
pub fn is_written() {
    *files() = Files::Written;
}

/// Ends the run where it has nothing on the disk to tidy up; else whoever writes asks [`is_asked`].
pub fn unless_writing(end: fn() -> !) {
    // Held until the end, so that nothing is begun meanwhile.
    let files = files();
    if *files == Files::None {
        end();
    }
}

/// Files that are begun and have no names yet.
#[derive(Debug)]
pub(super) struct Begun(());

impl Begun {
    pub(super) fn now() -> Begun {
        let mut files = files();
        *files = match *files {
            Files::None => Files::Begun(1),
            Files::Begun(count) => Files::Begun(count + 1),
            Files::Written => Files::Written,
        };
        Begun(())
    }
}

impl Drop for Begun {
    fn drop(&mut self) {
        let mut files = files();
        if let Files::Begun(count) = *files {
            *files = if count > 1 {
                Files::Begun(count - 1)
            } else {
                Files::None
            };
        }
    }
}
