//! Programs for rows with something wrong in them: the proof must find it.

use super::{Case, case, kind, long_cutter, programs, square, texts};
use lapwright::instructions::routed_rows::RoutedRow;
use lapwright::machines::Router;
use lapwright::verification::{
    HeldPiece, HeldRow, MitringTask, ProgramReport, Tolerances, prove_mitres,
};
use std::collections::BTreeSet;

/// A program, what it should do, and how it is told.
struct Good {
    text: String,
    row: RoutedRow,
    task: MitringTask,
}

fn held(row: &RoutedRow) -> HeldRow {
    let pieces = row.pieces.iter().map(|piece| HeldPiece {
        from_mm: piece.from_mm,
        turned: piece.turned,
        left_in_front: piece.left_in_front,
    });
    HeldRow {
        stick_mm: row.stick_mm,
        front_edges_mm: row.front_edges_mm.clone(),
        pieces: pieces.collect(),
    }
}

fn task(case: &Case, row: &RoutedRow, router: &Router, held: &HeldRow) -> Option<MitringTask> {
    let strip = &case.job.panel.design().strip;
    let wood = (strip.thickness, strip.depth);
    MitringTask::of(kind(case, row), wood, router, held)
}

fn good(case: &Case, router: &Router, number: usize) -> Good {
    let mut made = programs(case, router);
    let text = texts(&mut made)[number].1.clone();
    let row = made.plan.rows[number].clone();
    let task = task(case, &row, router, &held(&row)).unwrap();
    Good { text, row, task }
}

impl Good {
    fn prove(&self, text: &str) -> ProgramReport {
        prove_mitres(
            text.as_bytes(),
            &self.task.workpiece,
            &self.task.expected,
            &self.task.limits,
            &Tolerances::default(),
        )
    }

    fn codes(&self, text: &str) -> BTreeSet<&'static str> {
        let report = self.prove(text);
        assert_eq!(
            report.ok(),
            report.faults.is_empty(),
            "{:?}",
            report.notches
        );
        report.faults.iter().map(|fault| fault.code).collect()
    }

    /// Head, cut by cut, tail.
    fn cuts(&self) -> (String, Vec<String>, String) {
        let mut parts = self.text.split("(Cut ");
        let head = parts.next().unwrap().to_owned();
        let mut cuts: Vec<String> = parts.map(|cut| format!("(Cut {cut}")).collect();
        let last = cuts.pop().unwrap();
        // The last rise, the spindle's stop and the end.
        let at = last.rfind("G0 Z").unwrap();
        cuts.push(last[..at].to_owned());
        (head, cuts, last[at..].to_owned())
    }

    /// The program with its cuts changed.
    fn with(&self, change: impl FnOnce(&mut Vec<String>)) -> String {
        let (head, mut cuts, tail) = self.cuts();
        change(&mut cuts);
        head + &cuts.concat() + &tail
    }

    /// The program with all numbers of an axis changed in one cut.
    fn moved(&self, cut: usize, axis: char, change: impl Fn(f64) -> f64) -> String {
        self.with(|cuts| cuts[cut] = changed(&cuts[cut], axis, &change))
    }

    fn whole(&self, axis: char, change: impl Fn(f64) -> f64) -> String {
        let (head, cuts, tail) = self.cuts();
        let cuts: Vec<String> = cuts.iter().map(|cut| changed(cut, axis, &change)).collect();
        head + &cuts.concat() + &tail
    }
}

/// A text of blocks with all numbers of an axis changed.
fn changed(text: &str, axis: char, change: &impl Fn(f64) -> f64) -> String {
    let line = |line: &str| {
        if line.starts_with('(') {
            return line.to_owned();
        }
        let words = line.split(' ').map(|word| match word.strip_prefix(axis) {
            Some(number) => format!("{axis}{:.3}", change(number.parse().unwrap())),
            None => word.to_owned(),
        });
        words.collect::<Vec<_>>().join(" ")
    };
    text.lines().map(|text| line(text) + "\n").collect()
}

/// Below the top only.
fn below(change: impl Fn(f64) -> f64) -> impl Fn(f64) -> f64 {
    move |z| if z < 0.0 { change(z) } else { z }
}

#[test]
fn what_is_wrong_with_mitres_is_found() {
    let case = case("square-hemp-leaf", &square(37.3, 2), [2.6, 9.0]);
    let router = long_cutter(&[]);
    // The hinge: sharp and blunt ends, ridges off the axis.
    let good = good(&case, &router, 1);
    assert!(good.codes(&good.text).is_empty());
    let (_, cuts, _) = good.cuts();
    assert_eq!(cuts.len(), good.row.mitres.len() * good.row.sticks_a_run);
    let ends = good.row.pieces[0].from_mm + good.row.pieces[0].to_mm;
    let middle = good.row.mitres[2].centre_mm;
    let floor = good.row.skin_mm - good.row.depth_mm;
    let deepest = below(move |z| if z < floor + 0.001 { z - 0.02 } else { z });
    let through = below(move |z| if z < floor + 0.001 { z - 0.6 } else { z });
    let higher = below(move |z| if z < floor + 0.001 { z + 0.02 } else { z });
    let wide = good.row.tool.cuts_mm / good.row.mitres[2].angle.sin();
    let mutants: Vec<(&str, String, &[&str])> = vec![
        (
            "a mitre aside by 0.02",
            good.moved(2, 'X', |x| x + 0.02),
            &["piece-cut", "facet-off"],
        ),
        (
            "a mitre on the kept side",
            good.moved(2, 'X', |x| x + wide),
            &["piece-cut", "facet-missing"],
        ),
        (
            "on the other kept side",
            good.moved(2, 'X', |x| x - wide),
            &["piece-cut", "facet-missing"],
        ),
        (
            "a mitre of the other hand",
            good.moved(2, 'X', |x| 2.0 * middle - x),
            &["piece-cut", "facet-missing"],
        ),
        (
            "a facet missing",
            good.with(|cuts| {
                cuts.remove(3);
            }),
            &["facet-missing"],
        ),
        (
            "the last facet missing",
            good.with(|cuts| {
                cuts.pop();
            }),
            &["facet-missing"],
        ),
        (
            "a wrong angle",
            good.moved(2, 'X', |x| middle + (x - middle) * 1.02),
            &["piece-cut"],
        ),
        (
            "facets at the wrong ends",
            good.whole('X', |x| ends - x),
            &["piece-cut"],
        ),
        ("all aside", good.whole('X', |x| x - 0.05), &["piece-cut"]),
        (
            "a stick aside",
            good.whole('Y', |y| y + 0.02),
            &["piece-cut"],
        ),
        (
            "the skin thinner by 0.02",
            good.whole('Z', &deepest),
            &["skin-cut"],
        ),
        (
            "a cut through the skin",
            good.moved(4, 'Z', &through),
            &["skin-cut", "into-table"],
        ),
        (
            "the skin thicker by 0.02",
            good.moved(4, 'Z', &higher),
            &["mitre-depth"],
        ),
        (
            "a cut that ends inside",
            good.moved(0, 'Y', |y| if y > 2.0 { 1.3 } else { y }),
            &["plunge"],
        ),
        (
            "a cut into a grip",
            good.moved(0, 'X', |x| x - 12.0),
            &["keep-out"],
        ),
        (
            "a plunge in the stick",
            good.moved(0, 'Y', |y| if y < 0.0 { 1.0 } else { y }),
            &["plunge"],
        ),
        (
            "all depth at once",
            good.moved(0, 'Z', below(move |_| floor)),
            &["pass-too-deep"],
        ),
        (
            "no spindle",
            good.text.replace(" M3", ""),
            &["spindle-stopped"],
        ),
        (
            "no feed",
            good.text.replace(" F800", "").replace(" F300", ""),
            &["no-feed"],
        ),
        (
            "a rapid through a stick",
            good.text.replacen("G1 X", "G0 X", 1),
            &["rapid-in-stock"],
        ),
        (
            "inches",
            good.text.replace("G21", "G20"),
            &["outside-travel"],
        ),
    ];
    for (what, text, expected) in &mutants {
        assert!(*text != good.text, "{what}: nothing is changed");
        let found = good.codes(text);
        for code in *expected {
            assert!(found.contains(code), "{what}: {code} is not in {found:?}");
        }
    }
}

#[test]
fn what_is_wrong_with_laps_is_found() {
    let flat = "kind = \"square\"\npitches_x = [\"36 mm\", \"36 mm\"]\npitches_y = [\"47 mm\", \"47 mm\"]\noverhang = \"14 mm\"";
    let case = case("crossed-diagonals", flat, [3.4, 9.4]);
    let router = long_cutter(&[]);
    let good = good(&case, &router, 0);
    assert!(good.codes(&good.text).is_empty());
    let laps = good.row.laps.len();
    assert!(laps > 1);
    let floor = -good.row.laps[0].depth_mm;
    let deeper = below(move |z| if z < floor + 0.001 { z - 0.02 } else { z });
    let higher = below(move |z| if z < floor + 0.001 { z + 0.02 } else { z });
    // Wall passes from outermost to innermost, as they lie on the line before the stick.
    let middle = good.row.laps[1].centre_mm;
    let lean = 1.0 / good.row.laps[1].angle.tan();
    let front = -1.0 - good.row.run_out_mm;
    let at_front = middle + (front - good.row.thickness_mm / 2.0) * lean;
    let at_back = middle + (good.row.thickness_mm / 2.0 - front) * lean;
    let spread = |by: f64| {
        move |x: f64| {
            let centre = if (x - at_front).abs() < (x - at_back).abs() {
                at_front
            } else {
                at_back
            };
            x + by * (x - centre).signum()
        }
    };
    let mutants: Vec<(&str, String, &[&str])> = vec![
        (
            "a lap missing",
            good.with(|cuts| {
                cuts.remove(1);
            }),
            &["lap-missing"],
        ),
        (
            "a lap aside by 0.1",
            good.moved(1, 'X', |x| x + 0.1),
            &["piece-cut", "lap-width"],
        ),
        (
            "a lap wider by 0.1",
            good.moved(1, 'X', spread(0.05)),
            &["piece-cut"],
        ),
        (
            "a lap narrower by 0.1",
            good.moved(1, 'X', spread(-0.05)),
            &["lap-width"],
        ),
        (
            "a lap deeper by 0.02",
            good.moved(1, 'Z', &deeper),
            &["piece-cut", "lap-depth"],
        ),
        (
            "a lap less deep by 0.02",
            good.moved(1, 'Z', &higher),
            &["lap-depth"],
        ),
        (
            "a lap at the wrong angle",
            good.moved(1, 'X', |x| middle + (x - middle) * 1.1),
            &["piece-cut"],
        ),
        (
            "a lap of the other hand",
            good.moved(1, 'X', |x| 2.0 * middle - x),
            &["piece-cut"],
        ),
        (
            "a lap after the mitres",
            good.with(|cuts| {
                let lap = cuts.remove(1);
                cuts.insert(laps + 3, lap);
            }),
            &["lap-late"],
        ),
        (
            "a facet missing",
            good.with(|cuts| {
                cuts.remove(laps + 1);
            }),
            &["facet-missing"],
        ),
    ];
    for (what, text, expected) in &mutants {
        assert!(*text != good.text, "{what}: nothing is changed");
        let found = good.codes(text);
        for code in *expected {
            assert!(found.contains(code), "{what}: {code} is not in {found:?}");
        }
    }
}

/// A plan that is wrong in itself has no task, or no right program.
#[test]
fn what_is_wrong_with_the_plan_is_found() {
    let case = case("crossed-diagonals", &square(37.3, 2), [2.6, 9.0]);
    let router = long_cutter(&[]);
    let good = good(&case, &router, 0);
    let sticks = |change: &dyn Fn(&mut HeldRow)| {
        let mut held = held(&good.row);
        change(&mut held);
        task(&case, &good.row, &router, &held)
    };
    // Laps that look down.
    assert!(sticks(&|held| held.pieces[0].turned = !held.pieces[0].turned).is_none());
    let over = |held: &mut HeldRow| {
        held.pieces[0].left_in_front = !held.pieces[0].left_in_front;
    };
    assert!(sticks(&over).is_none());
    // Sticks on top of each other.
    assert!(sticks(&|held| held.front_edges_mm[1] = 1.0).is_none());
    // Pieces elsewhere, sticks shorter or elsewhere.
    let changes: [&dyn Fn(&mut HeldRow); 3] = [
        &|held| held.pieces[0].from_mm += 0.02,
        &|held| held.stick_mm -= 1.0,
        &|held| held.front_edges_mm[1] += 0.02,
    ];
    for (at, change) in changes.into_iter().enumerate() {
        let wrong = Good {
            task: sticks(change).unwrap(),
            text: good.text.clone(),
            row: good.row.clone(),
        };
        assert!(!wrong.codes(&wrong.text).is_empty(), "{at}");
    }
}
