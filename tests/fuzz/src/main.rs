//! Hands damaged files to the readers and proofs of lapwright, and says which of them end in a panic, in a
//! hang, in too much memory, or in a refusal that does not say where.
//!
//! `lapwright-fuzz TARGET CASES [SEED]`; a case that fails is kept in `target/fuzz-found/`, and the run goes
//! on. The same seed gives the same cases.

mod corpus;
mod damage;
mod targets;
mod watch;

use damage::Damage;
use std::process::ExitCode;
use std::time::Instant;
use targets::Target;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let named = arguments.first().and_then(|name| Target::named(name));
    let cases = arguments.get(1).and_then(|count| count.parse::<u64>().ok());
    let (Some(target), Some(cases)) = (named, cases) else {
        eprintln!(
            "lapwright-fuzz TARGET CASES [SEED]; targets: {}",
            Target::NAMES.join(", ")
        );
        return ExitCode::from(2);
    };
    let seed = arguments
        .get(2)
        .and_then(|seed| seed.parse().ok())
        .unwrap_or(1);
    let found = run(target, cases, seed);
    if found == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

/// How many cases failed.
fn run(target: Target, cases: u64, seed: u64) -> u64 {
    let mut damage = Damage::new(target.corpus(), seed);
    let mut bench = target.bench();
    let mut watch = watch::Watch::new(target.name());
    let begun = Instant::now();
    let mut accepted = 0;
    for case in 0..cases {
        let bytes = target.case(&mut damage);
        if let Some(taken) = watch.over(&bytes, || bench.takes(&bytes)) {
            accepted += u64::from(taken);
        }
        if (case + 1) % (cases / 20).max(1) == 0 {
            tell(target, case + 1, accepted, &watch, begun);
        }
    }
    watch.failed()
}

fn tell(target: Target, cases: u64, accepted: u64, watch: &watch::Watch, begun: Instant) {
    println!(
        "{} {cases} cases, {accepted} accepted, {} failed, {:.1} min, slowest {:.2} s, most memory {:.0} MB",
        target.name(),
        watch.failed(),
        begun.elapsed().as_secs_f64() / 60.0,
        watch.slowest().as_secs_f64(),
        watch.most_memory() / 1e6,
    );
}
