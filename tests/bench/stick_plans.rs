//! How fast a wall's sticks are planned, how near the plan comes to its bound, and how the time grows with the
//! number of parts and of lengths.

use super::timing::timed;
use lapwright::stick_cutting::{Aim, CutTask, Part, Saw, Stock, Supply, cut_plan};

const SAW: Saw = Saw {
    kerf: 2.4,
    trim: 10.0,
    hold: 150.0,
};

fn shop(length: f64, price: f64) -> Stock {
    Stock {
        length,
        count: None,
        supply: Supply::Shop { price: Some(price) },
    }
}

fn part(length: f64, count: usize) -> Part {
    Part { length, count }
}

/// Rows of the answer, printed.
pub(crate) fn print_plans() {
    // A wall of 400 by 800 bays: 401 and 801 strips, and 320,000 cells of four leaves, 36 of them to a stick.
    let wall = vec![
        part(1846.3, 401),
        part(923.7, 801),
        part(742.0, 35_556),
        part(311.5, 212),
    ];
    let one = vec![shop(2400.0, 4.2)];
    let three = vec![shop(1800.0, 2.9), shop(2400.0, 4.2), shop(3000.0, 5.5)];
    planned("wall", &wall, &one, Aim::FewestSticks);
    planned("wall, three lengths", &wall, &three, Aim::LeastCost);
    for times in [1, 10, 100] {
        let parts: Vec<Part> = made_up(12, 10)
            .iter()
            .map(|own| part(own.length, own.count * times))
            .collect();
        planned("12 lengths", &parts, &one, Aim::FewestSticks);
    }
    for kinds in [5, 10, 20, 40] {
        planned("made up", &made_up(kinds, 30), &one, Aim::FewestSticks);
        planned(
            "made up, three lengths",
            &made_up(kinds, 30),
            &three,
            Aim::LeastCost,
        );
    }
}

/// So many lengths, up to `most` of each; the same everywhere.
fn made_up(kinds: usize, most: usize) -> Vec<Part> {
    let mut state = 7_u64;
    let mut next = |most: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % most
    };
    let each = (0..kinds).map(|_| part(60.0 + next(9000) as f64 / 10.0, 1 + next(most)));
    each.collect()
}

fn planned(name: &str, parts: &[Part], stocks: &[Stock], aim: Aim) {
    let task = CutTask {
        parts: parts.to_vec(),
        stocks: stocks.to_vec(),
        saw: SAW,
        aim,
    };
    let (taken, plan) = timed(|| cut_plan(&task).unwrap());
    let count: usize = parts.iter().map(|part| part.count).sum();
    println!(
        "{name}: {count} parts of {} lengths cut from {} sticks in {:.3} s; {:.1} against at least {:.1} ({:.3} % above)",
        parts.len(),
        plan.sticks_used(),
        taken.as_secs_f64(),
        plan.amount,
        plan.bound,
        100.0 * (plan.amount / plan.bound - 1.0),
    );
}
