//! One test on all cores: where a test's many cases take longer than the other tests together,
//! these end and leave it alone.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// What a check finds of each case, in the order of the cases. Panics where one does.
pub fn on_all_cores<T: Sync, R: Send>(cases: &[T], check: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut found = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(case) = cases.get(at) else {
                return found;
            };
            found.push((at, check(case)));
        }
    };
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let mut found: Vec<(usize, R)> = thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
        let ends = threads.into_iter().map(thread::ScopedJoinHandle::join);
        let found = ends.map(|end| end.unwrap_or_else(|panic| resume_unwind(panic)));
        found.flatten().collect()
    });
    found.sort_by_key(|(at, _)| *at);
    found.into_iter().map(|(_, found)| found).collect()
}
