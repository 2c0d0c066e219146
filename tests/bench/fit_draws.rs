//! How fast panels of 40 by 80 bays are drawn at random, and how many of them the bounds decide without a
//! linear program.

use super::timing::timed;
use lapwright::machines::{Chosen, Machine, SledWork};
use lapwright::predicting::closing::{Joints, Verdict, margin, quick_verdict};
use lapwright::predicting::{Draws, Notcher, Watched, draw_panels};
use lapwright::reading::{read_job, read_machine, shipped_machine};

const COLUMNS: usize = 40;
const ROWS: usize = 80;

/// Panels drawn for the clearances and openings, and for each room.
const PANELS: usize = 400;
const CLOSED: usize = 40;

/// Programs timed for each room.
const PROGRAMS: usize = 2;

/// Rows of the answer, printed.
pub(crate) fn print_draws() {
    for (way, profile) in [("sled", "key-sled"), ("laser", "tube-laser")] {
        draws(way, profile);
    }
    for deviations in [2.0, 3.0, 4.0] {
        closing(deviations);
    }
}

fn draws(way: &str, profile: &str) {
    let text = format!(
        "title = \"large\"\n[grid]\nkind = \"square\"\npitch = \"10 mm\"\ncolumns = {COLUMNS}\nrows = {ROWS}\n\
         overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n"
    );
    let job = read_job("job.toml", &text).unwrap();
    let read = read_machine(profile, shipped_machine(profile).unwrap().text).unwrap();
    let name = profile;
    let notcher = match &read.machine {
        Machine::Sled(machine) => Notcher::Sled(Chosen { name, machine }, SledWork::default()),
        Machine::Laser(machine) => Notcher::Sheet(Chosen { name, machine }),
        _ => panic!("{profile}"),
    };
    let predicted = notcher.predicted(job.panel.lattice()).unwrap();
    let spacings = predicted.spacings();
    let watched = Watched {
        figures: spacings.iter().map(|spacing| &spacing.opening).collect(),
        kept: 0,
        directions: None,
        crush: 0.03,
        ends: Vec::new(),
    };
    let draws = Draws {
        count: PANELS,
        seed: 1,
    };
    let (time, tally) = timed(|| draw_panels(&predicted, &watched, draws));
    assert_eq!(tally.count, PANELS);
    let each = time.as_secs_f64() / PANELS as f64;
    println!(
        "{way}: a panel of {COLUMNS} by {ROWS} bays, {} joints and {} openings, drawn in {:.3} ms; {:.0} in a minute",
        predicted.joints.len(),
        spacings.len(),
        1000.0 * each,
        60.0 / each
    );
}

/// Joints of one direction, all independent: normal offsets of deviation 1, and so much room to each side.
fn closing(room: f64) {
    let (holders, mates) = (ROWS + 1, COLUMNS + 1);
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    // The sum of twelve uniform numbers less six is as good as normal here.
    let mut normal = || (0..12).map(|_| next()).sum::<f64>() - 6.0;
    let panels: Vec<Joints> = (0..CLOSED)
        .map(|_| Joints {
            along: (0..holders).map(|at| 10.0 * at as f64).collect(),
            mates,
            off: (0..holders * mates).map(|_| normal()).collect(),
            half_room: vec![room; holders * mates],
        })
        .collect();
    let (quick, verdicts) = timed(|| panels.iter().map(quick_verdict).collect::<Vec<_>>());
    let count = |wanted: Verdict| verdicts.iter().filter(|one| **one == wanted).count();
    let (exact, found) = timed(|| (panels.iter().take(PROGRAMS)).map(margin).sum::<f64>());
    assert!(found.is_finite());
    println!(
        "closing at {room} deviations to each side, {holders} by {mates} strips: bounds say yes to {}, no to {}, leave \
         {} of {CLOSED} in {:.2} ms each; the program takes {:.0} ms",
        count(Verdict::Closes),
        count(Verdict::DoesNot),
        count(Verdict::Open),
        1000.0 * quick.as_secs_f64() / CLOSED as f64,
        1000.0 * exact.as_secs_f64() / PROGRAMS as f64
    );
}
