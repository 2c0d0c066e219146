//! Work under way: how far it is, for somebody who waits at a terminal, and a plain end where they stop it.

use crate::writing::stopping::{self, STOPPED};
use std::io::{IsTerminal, Write, stderr};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

/// Work that is done sooner is not told.
const SOON: Duration = Duration::from_secs(1);

/// Between two looks at the clock, and at whether somebody wants the run to end.
const LOOK: Duration = Duration::from_millis(100);

/// The line on the terminal.
#[derive(Debug)]
struct Line {
    /// What the work is at, in words; nothing once there is an answer.
    at: Option<&'static str>,
    /// Letters that stand there now.
    letters: usize,
}

static LINE: Mutex<Line> = Mutex::new(Line {
    at: None,
    letters: 0,
});

/// A command's work. While it lasts a signal ends the run with a sentence, as long as nothing is written,
/// and a line on standard error says what it is at, where that is a terminal. The line goes when it is over.
#[derive(Debug)]
pub(super) struct UnderWay {
    /// Dropped to end the thread.
    over: Option<Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl UnderWay {
    pub(super) fn begin() -> UnderWay {
        stopping::listen();
        stopping::begin();
        line().at = Some("at work");
        let (over, is_over) = channel();
        let thread = thread::Builder::new().spawn(move || look_after(&is_over));
        UnderWay {
            over: Some(over),
            // Without it all is done as well, only nobody is told.
            thread: thread.ok(),
        }
    }
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        self.over.take();
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
        end();
    }
}

/// Says what the work is at from now on.
pub(super) fn at(words: &'static str) {
    let mut line = line();
    line.at = line.at.map(|_| words);
}

/// Takes the line away, so that something else can be told.
pub(super) fn clear() {
    wipe(&mut line());
}

/// Takes the line away for good: an answer follows.
pub(super) fn end() {
    let mut line = line();
    line.at = None;
    wipe(&mut line);
}

fn line() -> MutexGuard<'static, Line> {
    LINE.lock().unwrap_or_else(PoisonError::into_inner)
}

fn wipe(line: &mut Line) {
    if line.letters > 0 {
        let blank = " ".repeat(line.letters);
        let _ = write!(stderr(), "\r{blank}\r");
        line.letters = 0;
    }
}

/// Until the work is over.
fn look_after(is_over: &Receiver<()>) {
    let begun = Instant::now();
    let mut told = 0;
    let is_seen = stderr().is_terminal() && std::env::var_os("TERM").is_none_or(|it| it != "dumb");
    while let Err(RecvTimeoutError::Timeout) = is_over.recv_timeout(LOOK) {
        if stopping::is_asked() {
            stopping::unless_writing(stop);
        }
        let lasts = begun.elapsed();
        if is_seen && lasts >= SOON && lasts.as_secs() > told {
            told = lasts.as_secs();
            show(told);
        }
    }
}

/// Without escapes, so that any terminal can.
fn show(seconds: u64) {
    let mut line = line();
    let Some(at) = line.at else { return };
    let text = format!("{at}, {seconds} s");
    let _ = write!(stderr(), "\r{text:<0$}", line.letters);
    line.letters = line.letters.max(text.len());
}

fn stop() -> ! {
    end();
    let _ = stderr().write_all(stopping::TOLD.as_bytes());
    std::process::exit(STOPPED.into())
}
