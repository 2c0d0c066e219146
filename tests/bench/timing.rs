//! Times of things that are set side by side.

use std::time::{Duration, Instant};

/// The best of a few runs.
#[allow(dead_code)] // each benchmark takes what it needs
pub(crate) fn best<T>(mut run: impl FnMut() -> T) -> (Duration, T) {
    let mut least = Duration::MAX;
    let mut last = None;
    for _ in 0..5 {
        let (taken, result) = timed(&mut run);
        last = Some(result);
        least = least.min(taken);
    }
    (least, last.unwrap())
}

/// One run.
pub(crate) fn timed<T>(run: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let result = run();
    (start.elapsed(), result)
}

/// How many times `b` is `a`.
pub(crate) fn ratio(a: Duration, b: Duration) -> f64 {
    a.as_secs_f64() / b.as_secs_f64()
}
