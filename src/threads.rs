//! Separate work on several processors. What comes of it is in the order of the work, never in that in which it
//! was done: the same bytes with any number of threads.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{available_parallelism, scope};

/// The variable that says how many threads are used; else as many as there are processors.
pub const THREADS: &str = "LAPWRIGHT_THREADS";

/// More threads than this are not used, whatever is asked for.
const MOST: usize = 64;

/// How many threads are used at once.
pub fn count() -> usize {
    let asked = std::env::var(THREADS).ok();
    let asked = asked.and_then(|text| text.parse().ok());
    let own = || available_parallelism().map_or(1, std::num::NonZero::get);
    asked.unwrap_or_else(own).clamp(1, MOST)
}

/// The same work on each of some things; what comes of it in their order.
pub fn each<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = count().min(things.len());
    if threads <= 1 {
        return things.iter().map(work).collect();
    }
    let next = AtomicUsize::new(0);
    let worker = || {
        let mut own = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(thing) = things.get(at) else {
                return own;
            };
            own.push((at, work(thing)));
        }
    };
    let mut done: Vec<(usize, R)> = scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(worker)).collect();
        let mut done = worker();
        for other in others {
            match other.join() {
                Ok(own) => done.extend(own),
                Err(panic) => resume_unwind(panic),
            }
        }
        done
    });
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}

/// Two kinds of work at once.
pub fn both<A: Send, B>(first: impl FnOnce() -> A + Send, second: impl FnOnce() -> B) -> (A, B) {
    if count() == 1 {
        return (first(), second());
    }
    scope(|scope| {
        let first = scope.spawn(first);
        let second = second();
        match first.join() {
            Ok(first) => (first, second),
            Err(panic) => resume_unwind(panic),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_of_it_is_in_the_order_of_the_work() {
        let things: Vec<u64> = (0..200).collect();
        let slow_at_first = |thing: &u64| {
            let turns = (200 - thing) * 500;
            let spent = (0..turns).fold(0_u64, |sum, at| sum.wrapping_mul(31).wrapping_add(at));
            (*thing, std::hint::black_box(spent))
        };
        let done = each(&things, slow_at_first);
        let order: Vec<u64> = done.iter().map(|(thing, _)| *thing).collect();
        assert_eq!(order, things);
        assert_eq!(both(|| 1, || 2), (1, 2));
    }
}
