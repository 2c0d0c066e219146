//! What stands at the head of programs, for strips and for rails. The sheets say the same in the same
//! words.

use super::lying_words::lying;
use crate::instructions::rails::RailProgram;
use crate::instructions::routed_rows::RoutedRow;
use crate::instructions::router::{ClampFigures, Registered, RouterSetup, ToolFigures};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad, UnitSystem, decimal};

/// What a set-up's program says of it. Plain words; who writes the program sees to it that the
/// controller can take them.
pub(super) fn program_remarks(setup: &RouterSetup, clamps: &[ClampFigures]) -> Vec<String> {
    let mm = |value: f64| Mm(value).text(UnitSystem::Millimetres);
    let [_, width] = setup.stock.y_mm;
    let mut remarks = vec![
        format!("Set-up for {}{}", each(setup, ["", ""]), which(setup)),
        format!(
            "Bundle of {} strip{} on edge, {} across, {} long, {} deep, {}",
            setup.strips_per_run,
            plural(setup.strips_per_run),
            mm(width),
            mm(setup.length_mm),
            mm(-setup.stock.z_mm[0]),
            runs_words(setup)
        ),
        tool_remark(&setup.tool, setup.spindle_rpm),
        format!("Zero {}", zero(setup)),
        format!(
            "Notches {}, depth {}",
            setup.notches.len(),
            mm(setup.notches.first().map_or(0.0, |notch| notch.depth_mm))
        ),
    ];
    let [front, back] = setup.backers_mm;
    if front > 0.0 || back > 0.0 {
        remarks.push(format!(
            "Scrap beside the bundle, {} before and {} behind",
            mm(front),
            mm(back)
        ));
    }
    let said = lying(setup)
        .into_iter()
        .chain(clamps.iter().map(clamp_words));
    remarks.extend(said.map(|said| said.text(UnitSystem::Millimetres)));
    remarks
}

/// What a rail's program says of it.
pub(super) fn rail_remarks(program: &RailProgram) -> Vec<String> {
    let mm = |value: f64| Mm(value).text(UnitSystem::Millimetres);
    vec![
        format!("Mortises in {}, {}", rail_list(program), rail_runs(program)),
        format!(
            "Rail {} front to back, {} between the inner corners, inner face up, front face toward Y zero",
            mm(program.stock_y_mm[1]),
            mm(program.inner_length_mm)
        ),
        tool_remark(&program.tool, program.spindle_rpm),
        format!(
            "Zero X at the inner corner at the left, {}, Y at the front face, Z at the inner face",
            rail_zeros(program)
        ),
        "See that every rail lies with its inner face at the height where Z was set".into(),
        format!(
            "Mortises {}, depth {}",
            program.mortises.len(),
            mm(program.depth_mm)
        ),
    ]
}

/// What the program of a row says of it.
pub(super) fn row_remarks(row: &RoutedRow, clamps: &[ClampFigures]) -> Vec<String> {
    let mm = |value: f64| Mm(value).text(UnitSystem::Millimetres);
    let mut remarks = vec![
        format!(
            "Pieces {} {}, {} on a stick, {} wanted, {} spare",
            row.number, row.piece, row.pieces_a_stick, row.wanted, row.spare
        ),
        format!(
            "Sticks {} on edge, {} across, {} deep, {} long or more, {}, {}",
            row.sticks_a_run,
            mm(row.thickness_mm),
            mm(row.depth_mm),
            mm(row.stick_mm),
            row_face(row),
            row_runs(row)
        ),
        "Tape every stick to the waste board over its full length, a bare skin does not hold a piece"
            .into(),
        format!(
            "Clamp both ends of every stick, the tool stays out of {} at either end",
            mm(row.grip_mm)
        ),
        tool_remark(&row.tool, row.spindle_rpm),
        "Zero X at the sticks' datum ends, all in one line, Y at the front edge of the first stick, Z at the top of the sticks".into(),
    ];
    if row.sticks_a_run > 1 {
        let fronts: Vec<String> = row.front_edges_mm.iter().map(|y| mm(*y)).collect();
        remarks.push(format!(
            "Spacers {} wide between the sticks, front edges at Y {}",
            mm(row.apart_mm),
            fronts.join(", ")
        ));
    }
    if !row.laps.is_empty() {
        remarks.push(format!("Laps {} on a stick, cut first", row.laps.len()));
    }
    remarks.push(format!(
        "Mitres {} on a stick, depth {}, {} of skin stay over the waste board",
        row.mitres.len(),
        mm(row.depth_mm - row.skin_mm),
        mm(row.skin_mm)
    ));
    let clamps = clamps.iter().map(clamp_words);
    remarks.extend(clamps.map(|said| said.text(UnitSystem::Millimetres)));
    remarks
}

/// Which face of a row's pieces lies up.
pub(crate) fn row_face(row: &RoutedRow) -> String {
    match row.face_up {
        Some(face) => format!("the pieces' {} face up", face.name()),
        None => "either face up".into(),
    }
}

pub(crate) fn row_runs(row: &RoutedRow) -> String {
    match row.runs {
        1 => "one run".into(),
        runs => format!("{runs} runs, new sticks for each"),
    }
}

/// Without decimals.
pub(crate) fn whole(value: f64) -> String {
    decimal(value, 0).unwrap_or_default()
}

/// The same for a program's head.
pub(crate) fn tool_remark(tool: &ToolFigures, rpm: f64) -> String {
    let mm = |value: f64| Mm(value).text(UnitSystem::Millimetres);
    let cuts = match tool.over_edges_mm {
        Some(_) => format!(" that cuts {} wide", mm(tool.cuts_mm)),
        None => String::new(),
    };
    format!(
        "Tool flat end cutter, diameter {}{cuts}, {} rpm clockwise",
        mm(tool.measured_mm()),
        whole(rpm)
    )
}

/// What programs say of their job.
pub(crate) fn job_remarks(title: &str, machine: &str) -> Vec<String> {
    vec![format!("Job {title}"), format!("Machine {machine}")]
}

/// Where a router's program starts from, for people.
pub(crate) fn zero(setup: &RouterSetup) -> String {
    let [front, _] = setup.backers_mm;
    let edge = if front > 0.0 {
        "first strip's front"
    } else {
        "bundle's front"
    };
    let x = match setup.registered {
        Registered::Key { .. } => "where the end stop's face stood, as it was set",
        Registered::EndStop if setup.step_back_mm.abs() > 0.0 => "at the front strip's datum end",
        Registered::EndStop => "at the strips' datum end",
    };
    format!("X {x}, Y at the {edge} edge, Z at the top of the stock")
}

/// Bundle by bundle how many strips, which, and which face lies up; labels between `around`.
pub(crate) fn each(setup: &RouterSetup, around: [&str; 2]) -> String {
    let [before, behind] = around;
    let each = setup.lying.iter().map(|one| {
        format!(
            "{} {}{} {before}{}{behind}, {} face up",
            one.count,
            one.family,
            plural(one.count),
            one.strips,
            one.face_up.name()
        )
    });
    each.collect::<Vec<_>>().join(", and ")
}

/// What tells this set-up from others of the same bundle: the slots' angle where it is not square,
/// and the part where the strips are moved along.
pub(crate) fn which(setup: &RouterSetup) -> String {
    let mut text = String::new();
    if setup.from_square > 0.0 {
        text.push_str(&format!(", at {}", Rad(setup.angle).text()));
    }
    if setup.parts > 1 {
        text.push_str(&format!(", part {} of {}", setup.part, setup.parts));
    }
    text
}

pub(crate) fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}

pub(crate) fn runs_words(setup: &RouterSetup) -> String {
    let scrap = match setup.fill_with_scrap {
        0 => String::new(),
        1 => ", the last filled up with 1 strip of scrap".into(),
        n => format!(", the last filled up with {n} strips of scrap"),
    };
    if setup.runs == 1 {
        "one run".into()
    } else {
        format!("{} runs{scrap}", setup.runs)
    }
}

/// Where a clamp must stand for the program to be right about it.
pub(crate) fn clamp_words(clamp: &ClampFigures) -> Phrase {
    let [x_from, x_to] = clamp.x_mm;
    let [y_from, y_to] = clamp.y_mm;
    phrase!(
        "In the tool's room, from program zero: {}, X {} to {}, Y {} to {}, its top {} over the stock. The program is right only while it stands there.",
        &clamp.name,
        Mm(x_from),
        Mm(x_to),
        Mm(y_from),
        Mm(y_to),
        Mm(clamp.top_mm)
    )
}

pub(crate) fn rail_list(program: &RailProgram) -> String {
    let names: Vec<&str> = program
        .rails
        .iter()
        .map(|rail| rail.name.as_str())
        .collect();
    names.join(", ")
}

pub(crate) fn rail_runs(program: &RailProgram) -> String {
    match program.rails.len() {
        1 => "one run".into(),
        runs => format!("{runs} runs, one for each rail"),
    }
}

/// Which mark each rail is zeroed at.
pub(crate) fn rail_zeros(program: &RailProgram) -> String {
    let zeros = program.rails.iter().map(|rail| {
        format!(
            "{} at its {} inner corner",
            rail.name,
            rail.zero_corner.name()
        )
    });
    zeros.collect::<Vec<_>>().join(", ")
}
