//! The fewest rows that parts of one height lie in: against every way of laying few of them out, and
//! against published instances of bin packing.

use crate::support::cli::Bench;
use float_cmp::approx_eq;
use lapwright::machines::Sheet;
use lapwright::planning::sheet_cutting::nesting::{Layout, Rectangle, nest};
use std::fs;

/// Parts of these lengths, all as high, on one sheet that is wide enough for all.
fn laid(lengths: &[f64], room: f64, gap: f64, height: impl Fn(usize) -> f64) -> Layout {
    let parts = lengths.iter().enumerate().map(|(at, length)| Rectangle {
        name: "bar",
        length: *length,
        height: height(at),
        area: length * 5.0,
    });
    let sheet = Sheet {
        length: room + 6.0,
        width: 6.0 + lengths.len() as f64 * (5.0 + gap) + 1.0,
        margin: 3.0,
        gap,
    };
    let layout = nest(&parts.collect::<Vec<_>>(), &sheet).unwrap();
    assert_eq!(layout.sheets.len(), 1);
    // The rows that are told are those that can be counted, and in each there is room.
    let mut rows: Vec<(f64, Vec<[f64; 2]>)> = Vec::new();
    for (length, place) in lengths.iter().zip(&layout.places) {
        let bar = [place.corner.x, place.corner.x + length];
        assert!(bar[0] > 3.0 - 1e-9 && bar[1] < 3.0 + room + 1e-6);
        match rows
            .iter_mut()
            .find(|(y, _)| approx_eq!(f64, *y, place.corner.y, epsilon = 1e-6))
        {
            Some((_, bars)) => bars.push(bar),
            None => rows.push((place.corner.y, vec![bar])),
        }
    }
    for (_, bars) in &mut rows {
        bars.sort_by(|a, b| a[0].total_cmp(&b[0]));
        assert!(
            bars.windows(2)
                .all(|pair| pair[1][0] - pair[0][1] > gap - 1e-9)
        );
    }
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert!(
        rows.windows(2)
            .all(|pair| pair[1].0 - pair[0].0 > 5.0 + gap - 1e-6)
    );
    assert_eq!(layout.rows, Some(rows.len()));
    layout
}

/// The fewest bins, by trying every bin for every length.
fn fewest(lengths: &[u32], room: u32, filled: &mut Vec<u32>, best: &mut usize) {
    if filled.len() >= *best {
        return;
    }
    let Some((first, rest)) = lengths.split_first() else {
        *best = filled.len();
        return;
    };
    for at in 0..filled.len() {
        if filled[at] + first <= room {
            filled[at] += first;
            fewest(rest, room, filled, best);
            filled[at] -= first;
        }
    }
    filled.push(*first);
    fewest(rest, room, filled, best);
    filled.pop();
}

/// A generator of its own, the same everywhere: below `most`.
fn numbers(mut state: u64) -> impl FnMut(u32) -> u32 {
    move |most| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        u32::try_from((state >> 33) % u64::from(most)).unwrap()
    }
}

/// 600 jobs of up to 9 parts: the rows are the fewest there are, and said to be proved; also where
/// heights carry an error of rounding.
#[test]
fn few_parts_lie_in_the_fewest_rows_there_are() {
    let mut next = numbers(5);
    let mut several = 0;
    for job in 0..600 {
        let room = 20 + next(100);
        let most = 1 + next(7);
        let kinds: Vec<u32> = (0..most).map(|_| 1 + next(room)).collect();
        let count = 1 + next(9) as usize;
        let mut lengths: Vec<u32> = Vec::new();
        lengths.resize_with(count, || kinds[next(most) as usize]);
        lengths.sort_by(|a, b| b.cmp(a));
        let gap = next(3);
        // A gap goes with every part, and one more into the row.
        let with_gaps: Vec<u32> = lengths.iter().map(|length| length + gap).collect();
        let mut best = usize::MAX;
        fewest(&with_gaps, room + gap, &mut Vec::new(), &mut best);
        let lengths: Vec<f64> = lengths.into_iter().map(f64::from).collect();
        let noise = |at: usize| 5.0 + if job % 2 == 0 { 0.0 } else { at as f64 * 1e-13 };
        let layout = laid(&lengths, f64::from(room), f64::from(gap), noise);
        let least = layout.bounds.rows.unwrap().rows;
        assert_eq!(
            (layout.rows, least),
            (Some(best), best),
            "{lengths:?} {room} {gap}"
        );
        // On one sheet the width is that of the rows and of the gaps between them.
        let width = best as f64 * (5.0 + f64::from(gap)) - f64::from(gap);
        assert!(approx_eq!(
            f64,
            layout.bounds.width(1),
            width,
            epsilon = 1e-9
        ));
        several += usize::from(best > 2);
    }
    assert!(several > 200, "{several}");
}

/// Falkenauer's instances: no bound above the fewest bins that are known, most of them reached.
#[test]
fn published_instances() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/rows.txt");
    let text = fs::read_to_string(path).unwrap();
    let mut reached = 0;
    let mut all = 0;
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let (name, figures) = line.split_once(' ').unwrap();
        let figures: Vec<f64> = figures.split(' ').map(|n| n.parse().unwrap()).collect();
        let [room, known, lengths @ ..] = &figures[..] else {
            panic!("{name}")
        };
        assert_eq!(lengths.len(), 120, "{name}");
        let layout = laid(lengths, *room, 0.0, |_| 5.0);
        let (taken, least) = (layout.rows.unwrap(), layout.bounds.rows.unwrap().rows);
        assert!(least as f64 <= *known, "{name}: {least}");
        assert!(
            taken as f64 >= *known && taken as f64 <= known + 1.0,
            "{name}: {taken}"
        );
        reached += usize::from(taken as f64 <= *known && least == taken);
        all += 1;
    }
    assert!(reached >= 9 && all == 12, "{reached} of {all}");
}

/// Its strips took ten rows as they came; nine do.
#[test]
fn strips_of_the_stair_window_lie_in_nine_rows() {
    let bench = Bench::new();
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/stair-window.toml");
    bench.write("job.toml", fs::read(demo).unwrap());
    let draw = ["outline", "job.toml", "--what", "strips", "-o", "d.dxf"];
    let answer = bench
        .ok(&[&["--format", "json"], &draw[..]].concat())
        .json();
    let rows = &answer["rows"];
    let found = (
        rows["taken"].as_u64(),
        rows["fewest"].as_u64(),
        rows["proved"].as_bool(),
    );
    assert_eq!(found, (Some(9), Some(9), Some(true)), "{rows}");
    let width = |key: &str| answer[key].as_f64().unwrap();
    assert!(approx_eq!(
        f64,
        width("width_taken_mm"),
        width("least_width_mm"),
        epsilon = 1e-6
    ));
    bench.ok(&["prove", "d.dxf", "job.toml"]);
    let sheet = bench.ok(&draw).out;
    assert!(
        sheet.contains("it is proved that no layout has fewer"),
        "{sheet}"
    );
}

/// Strips and guide blocks lie in rows of several heights: no number of rows is told then.
#[test]
fn rows_are_told_of_parts_of_one_height_only() {
    let bench = super::kinds::folder();
    let draw = [
        "--format",
        "json",
        "outline",
        "job.toml",
        "--what",
        "strips,blocks",
    ];
    let answer = bench.ok(&[&draw[..], &["-o", "d.dxf"]].concat()).json();
    assert!(answer["rows"].is_null() && answer["width_taken_mm"].is_number());
    bench.ok(&["prove", "d.dxf", "job.toml"]);
}
