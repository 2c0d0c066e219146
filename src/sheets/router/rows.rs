//! Several set-ups of a router on one card: what differs from one to the next stands in rows, and the
//! steps say so.

use super::words::{against, fit_tool, go_on, measured_from, rest_of_clamping};
use crate::instructions::router::{Registered, RouterPlan, RouterSetup};
use crate::instructions::sheet::{Table, TableCell};
use crate::instructions::sled::NotchFigures;
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::router::lying_words::marking;
use crate::planning::router::remarks::zero;
use crate::sheets::alike::{joined, set_ups};
use crate::units::{Rad, decimal};

/// A row for each set-up: what is put in.
pub(in crate::sheets) fn setups_table(plan: &RouterPlan) -> Table {
    let mut columns = vec!["set-up", "program", "strips", "face up"];
    let slanted = plan.setups.iter().any(|setup| setup.from_square > 0.0);
    let moved = plan.setups.iter().any(|setup| setup.parts > 1);
    let stops = plan.setups.iter().any(|setup| setup.after_stop.is_some());
    let scrap = plan.setups.iter().any(|setup| setup.fill_with_scrap > 0);
    let mut caption = phrase!(
        "In working order. In a block: strips that are clamped together; runs: how often the program is started, each time with a new block; time: of one run, estimated from the profile's feeds and acceleration"
    );
    if slanted {
        columns.extend(["angle", "step"]);
        caption.append(phrase!(
            ". Angle: between the strips and the tool's way, counter-clockwise seen from above. Step: how much farther from the end stop each strip of the block lies than the one before it, counted from the front edge; with a minus, farther back"
        ));
    }
    if moved {
        columns.push("part");
    }
    if stops {
        columns.push("after stop");
        caption.append(phrase!(
            ". After stop: the number of the program's stop after which the first run begins, and can be started"
        ));
    }
    columns.extend(["in a block", "runs"]);
    if scrap {
        columns.push("scrap");
        caption.append(phrase!(
            ". Scrap: strips of scrap that fill up the last block"
        ));
    }
    columns.push("time");
    caption.append(phrase!(
        "; {} min for all programs and runs.",
        decimal(plan.time_s / 60.0, 1).unwrap_or_default()
    ));
    let row = |(number, setup): (usize, &RouterSetup)| {
        let mut cells = vec![
            TableCell::Count(number),
            TableCell::Text(setup.file.clone()),
            TableCell::Text(strips(setup)),
            TableCell::Text(faces(setup)),
        ];
        if slanted {
            cells.push(TableCell::Text(Rad(setup.angle).text()));
            let steps = setup.step_back_mm.abs() > 0.0 && setup.strips_per_run > 1;
            cells.push(TableCell::length(steps.then_some(setup.step_back_mm)));
        }
        if moved {
            cells.push(TableCell::Text(format!(
                "{} of {}",
                setup.part, setup.parts
            )));
        }
        if stops {
            cells.push(setup.after_stop.map_or(TableCell::Empty, TableCell::Count));
        }
        cells.push(TableCell::Count(setup.strips_per_run));
        cells.push(TableCell::Count(setup.runs));
        if scrap {
            cells.push(TableCell::Count(setup.fill_with_scrap));
        }
        let minutes = decimal(setup.time_s / 60.0, 1).unwrap_or_default();
        cells.push(TableCell::Text(format!("{minutes} min")));
        cells
    };
    Table {
        caption,
        columns,
        rows: (1..).zip(&plan.setups).map(row).collect(),
    }
}

/// How many of which: `5 uprights U1-U5`.
fn strips(setup: &RouterSetup) -> String {
    let each = setup.lying.iter();
    let each = each.map(|one| format!("{} {}", one.count, one.strips));
    each.collect::<Vec<_>>().join(", ")
}

fn faces(setup: &RouterSetup) -> String {
    match setup.lying.as_slice() {
        [one] => one.face_up.name().to_owned(),
        several => {
            let faces = several.iter();
            let faces = faces.map(|one| format!("{} {}", one.strips, one.face_up.name()));
            faces.collect::<Vec<_>>().join(", ")
        }
    }
}

/// A row for each set-up: what is measured of it, before and behind the run, and the tool's way.
pub(in crate::sheets) fn measures_table(plan: &RouterPlan) -> Table {
    let keyed = |setup: &RouterSetup| matches!(setup.registered, Registered::Key { .. });
    let key = plan.setups.iter().any(keyed);
    let from_front = plan
        .setups
        .iter()
        .any(|setup| setup.rapid_from_front_mm.is_some());
    let mut columns = vec![
        "set-up",
        "across",
        "deep",
        "long",
        "first",
        "near edge",
        "last",
        "near edge",
    ];
    let mut caption = phrase!(
        "Across, deep: the block of strips as clamped. Long: each strip. First, last: the number of that notch, and on the front strip's centre line from the datum end, X zero, to its near edge"
    );
    if key {
        columns.extend(["on key", "to first", "to last"]);
        caption.append(phrase!(
            "; where strips lie on the key, from the place where the end stop stood. On key: the notch that lies there; to first, to last: from its near edge, which is measured from there, to theirs"
        ));
    }
    columns.extend(["cutting", "rapid"]);
    caption.append(phrase!(". Cutting, rapid: the tool's way in each run"));
    if from_front {
        columns.push("from front");
        caption.append(phrase!(
            "; from front: rapid moves if every notch began at the front"
        ));
    }
    caption.append(phrase!("."));
    let metres =
        |mm: f64| TableCell::Text(format!("{} m", decimal(mm / 1000.0, 2).unwrap_or_default()));
    let row = |(number, setup): (usize, &RouterSetup)| {
        let first = setup.notches.first();
        let last = setup.notches.last().filter(|_| setup.notches.len() > 1);
        let mut cells = vec![
            TableCell::Count(number),
            TableCell::Length(setup.stock.y_mm[1] - setup.stock.y_mm[0]),
            TableCell::Length(-setup.stock.z_mm[0]),
            TableCell::Length(setup.length_mm),
        ];
        for notch in [first, last] {
            cells.push(notch.map_or(TableCell::Empty, |notch| TableCell::Count(notch.index)));
            cells.push(TableCell::length(notch.map(|notch| notch.near_edge_mm)));
        }
        if key {
            match setup.registered {
                Registered::Key {
                    on_notch,
                    near_edge_mm,
                    ..
                } => {
                    let from = |notch: &NotchFigures| notch.near_edge_mm - near_edge_mm;
                    cells.push(TableCell::Count(on_notch));
                    cells.push(TableCell::length(first.map(from)));
                    cells.push(TableCell::length(last.map(from)));
                }
                Registered::EndStop => {
                    cells.extend([TableCell::Empty, TableCell::Empty, TableCell::Empty]);
                }
            }
        }
        cells.push(metres(setup.cutting_mm));
        cells.push(metres(setup.rapid_mm));
        if from_front {
            cells.push(setup.rapid_from_front_mm.map_or(TableCell::Empty, metres));
        }
        cells
    };
    Table {
        caption,
        columns,
        rows: (1..).zip(&plan.setups).map(row).collect(),
    }
}

/// A notch at its place.
pub(super) fn notch_row(notch: &NotchFigures) -> Vec<TableCell> {
    vec![
        TableCell::Count(notch.index),
        TableCell::Length(notch.centre_mm),
        TableCell::Length(notch.near_edge_mm),
        TableCell::Length(notch.far_edge_mm),
        TableCell::Length(notch.depth_mm),
    ]
}

/// A row for each notch at its place; those that several set-ups have stand once.
pub(in crate::sheets) fn places_table(plan: &RouterPlan) -> Table {
    let table = |setup: &RouterSetup| {
        Table {
        caption: "Notches as each set-up counts them, from the end toward the stop. Positions along X from zero, on the front strip's centre line; depth from the top of the stock.".into(),
        columns: vec!["notch", "centre", "near edge", "far edge", "depth"],
        rows: setup.notches.iter().map(notch_row).collect(),
    }
    };
    let tables = (1..).zip(plan.setups.iter().map(table));
    let joined = joined(tables.collect(), "set-ups", set_ups);
    joined.into_iter().next().unwrap_or_default()
}

/// The steps of a set-up that stands in a row, without what the row says.
pub(in crate::sheets) fn row_steps(setup: &RouterSetup, plan: &RouterPlan) -> Vec<Phrase> {
    let mut steps = Vec::from_iter(marking(setup, plan));
    let mut clamp = phrase!(
        "Clamp as many strips as its row says on edge as one rigid block, {}, the face up that it says",
        against(setup)
    );
    clamp.append(rest_of_clamping(setup));
    steps.push(clamp);
    steps.push(phrase!(
        "Measure the block of strips: across and deep as its row says. Where it is not, put what one strip measures into the job (strip.measured_thickness, strip.measured_depth) and make the programs again."
    ));
    steps.extend(match setup.after_stop {
        Some(stop) if stop > 0 => go_on(setup),
        _ => vec![
            fit_tool(&setup.tool),
            phrase!("Set zero: {}.", zero(setup)),
            phrase!(
                "Load the row's program and run it in the air first, zero raised well above the stock and clamps; watch the first notch's place."
            ),
            phrase!("Set zero down again, close the enclosure, start; see the spindle up to speed."),
        ],
    });
    let from = match setup.registered {
        Registered::EndStop => measured_from(setup),
        Registered::Key { .. } => "the near edge of the notch that lay on the key".into(),
    };
    steps.push(phrase!(
        "Measure the first and the last notch: near edges from {}, width and depth, before you unclamp.",
        from
    ));
    if setup.after_stop.is_some() && setup.runs > 1 {
        steps.push(phrase!(
            "The program stops after every run: put in the next bundle in the same way, then let it go on."
        ));
    }
    steps
}
