//! What no case may do: panic, take longer or more memory than any file deserves, be refused without a place.

use peak_alloc::PeakAlloc;
use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Longer than this no file may keep the program busy, on a machine that has other things to do.
const LONGEST: Duration = Duration::from_secs(60);

/// More than this no case may take beside what was held before it, bytes.
const MOST_BYTES: f64 = 1e9;

/// The case under way and when it began.
type UnderWay = Arc<Mutex<Option<(Instant, Vec<u8>)>>>;

pub struct Watch {
    name: &'static str,
    under_way: UnderWay,
    failed: u64,
    slowest: Duration,
    most_memory: f64,
}

impl Watch {
    pub fn new(name: &'static str) -> Self {
        let under_way = UnderWay::default();
        let watched = Arc::clone(&under_way);
        std::thread::spawn(move || ends_a_hang(name, &watched));
        std::panic::set_hook(Box::new(|panic| println!("{panic}")));
        Watch {
            name,
            under_way,
            failed: 0,
            slowest: Duration::ZERO,
            most_memory: 0.0,
        }
    }

    /// Carries out a case: whether its file was accepted; nothing where it failed.
    pub fn over(
        &mut self,
        bytes: &[u8],
        case: impl FnOnce() -> Result<bool, String>,
    ) -> Option<bool> {
        *self.under_way.lock().unwrap() = Some((Instant::now(), bytes.to_owned()));
        MEMORY.reset_peak_usage();
        let before = MEMORY.current_usage();
        let begun = Instant::now();
        let ended = catch_unwind(AssertUnwindSafe(case));
        self.slowest = self.slowest.max(begun.elapsed());
        let memory = MEMORY.peak_usage().saturating_sub(before) as f64;
        self.most_memory = self.most_memory.max(memory);
        *self.under_way.lock().unwrap() = None;
        let wrong = match ended {
            Err(_) => "panic".to_owned(),
            Ok(Err(wrong)) => wrong,
            Ok(Ok(_)) if memory > MOST_BYTES => format!("{memory} bytes of memory"),
            Ok(Ok(accepted)) => return Some(accepted),
        };
        self.failed += 1;
        keep(self.name, bytes, &wrong);
        None
    }

    pub fn failed(&self) -> u64 {
        self.failed
    }

    pub fn slowest(&self) -> Duration {
        self.slowest
    }

    /// Bytes.
    pub fn most_memory(&self) -> f64 {
        self.most_memory
    }
}

/// A hang cannot be ended from outside: its file is kept, and the run is over.
fn ends_a_hang(name: &str, under_way: &UnderWay) {
    loop {
        std::thread::sleep(Duration::from_secs(1));
        let case = under_way.lock().unwrap().clone();
        if let Some((begun, bytes)) = case
            && begun.elapsed() > LONGEST
        {
            keep(name, &bytes, "hang");
            std::process::exit(3);
        }
    }
}

/// Keeps a case's file and says what was wrong.
fn keep(name: &str, bytes: &[u8], wrong: &str) {
    let mut hasher = DefaultHasher::new();
    bytes.hash(&mut hasher);
    let folder = PathBuf::from("target/fuzz-found");
    let path = folder.join(format!("{name}-{:016x}", hasher.finish()));
    let kept = std::fs::create_dir_all(&folder).and_then(|()| std::fs::write(&path, bytes));
    println!(
        "{}: {wrong}{}",
        path.display(),
        if kept.is_ok() { "" } else { " (not kept)" }
    );
}
