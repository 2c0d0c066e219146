//! The set-up sheet for a router, and what stands at the head of its programs.

use super::lying::lying;
use crate::instructions::router::{Registered, RouterPlan, RouterSetup};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Cell, Figure, Section, SetupSheet, Table};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad, UnitSystem, decimal};

/// Where a router's program starts from, for people.
fn zero(setup: &RouterSetup) -> String {
    let x = match setup.registered {
        Registered::Key { .. } => "where the end stop's face stands",
        Registered::EndStop if setup.step_back_mm.abs() > 0.0 => "at the front strip's datum end",
        Registered::EndStop => "at the strips' datum end",
    };
    format!("X {x}, Y at the bundle's front edge, Z at the top of the stock")
}

/// The sheet for a plan.
pub fn router_sheet(plan: &RouterPlan) -> SetupSheet {
    let sections = plan.setups.iter().enumerate().map(|(at, setup)| {
        let next = plan.setups.get(at + 1);
        let last_of_bundle = next.is_none_or(|next| next.bundle != setup.bundle);
        section(at + 1, setup, last_of_bundle)
    });
    SetupSheet {
        title: plan.title.clone(),
        machine: plan.machine.clone(),
        safety: SafetyNotes::for_router(),
        sections: sections.collect(),
    }
}

fn section(number: usize, setup: &RouterSetup, last_of_bundle: bool) -> Section {
    let heading = format!(
        "Set-up {number}: {} {}{} ({}), {} face up{}",
        setup.count,
        setup.family,
        plural(setup.count),
        setup.strips,
        setup.face,
        which(setup)
    );
    let rows = setup.notches.iter().map(|notch| {
        vec![
            Cell::Count(notch.index),
            Cell::Length(notch.centre_mm),
            Cell::Length(notch.near_edge_mm),
            Cell::Length(notch.far_edge_mm),
            Cell::Length(notch.depth_mm),
        ]
    });
    let table = Table {
        caption: caption(setup).into(),
        columns: vec!["notch", "centre", "near edge", "far edge", "depth"],
        rows: rows.collect(),
    };
    let mut blocks = vec![Block::Figures(figures(setup))];
    let lying = lying(setup);
    if !lying.is_empty() {
        blocks.push(Block::Remarks(lying));
    }
    blocks.extend([Block::Table(table), Block::Steps(steps(setup))]);
    let after = after(setup);
    if last_of_bundle && !after.is_empty() {
        blocks.push(Block::Remarks(after));
    }
    Section { heading, blocks }
}

fn caption(setup: &RouterSetup) -> &'static str {
    if matches!(setup.registered, Registered::EndStop) && setup.from_square <= 0.0 {
        return "Positions from the datum end (X zero); depth from the top of the stock.";
    }
    "Positions along X from zero, on the front strip's centre line; depth from the top of the stock."
}

/// What becomes of strips that are not simply taken out and laid.
fn after(setup: &RouterSetup) -> Vec<Phrase> {
    let mut said = Vec::new();
    if !setup.turned.is_empty() {
        said.push(phrase!(
            "In the panel these lie turned end for end: {}.",
            &setup.turned
        ));
    }
    said.extend(setup.trims.iter().map(|trim| {
        let [low, high] = trim.kept_mm;
        phrase!(
            "Trim {}: keep from {} to {} from the datum end.",
            &trim.strip,
            Mm(low),
            Mm(high)
        )
    }));
    said
}

/// What tells this set-up from others of the same bundle: the slots' angle where it is not square,
/// and the part where the strips are moved along.
fn which(setup: &RouterSetup) -> String {
    let mut text = String::new();
    if setup.from_square > 0.0 {
        text.push_str(&format!(", at {}", Rad(setup.angle).text()));
    }
    if setup.parts > 1 {
        text.push_str(&format!(", part {} of {}", setup.part, setup.parts));
    }
    text
}

fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}

fn whole(value: f64) -> String {
    decimal(value, 0).unwrap_or_default()
}

fn figures(setup: &RouterSetup) -> Vec<Figure> {
    let along = setup.notches.first().map_or(0.0, |notch| notch.width_mm);
    let mut cutter = phrase!(
        "diameter over the edges, measured; notches are {} wide",
        Mm(along)
    );
    if setup.from_square > 0.0 {
        cutter.append(phrase!(
            " along the strip, {} square to their walls",
            Mm(along * setup.angle.sin())
        ));
    }
    vec![
        Figure::new("program", setup.file.as_str(), "load this file"),
        Figure::new("tool", Mm(setup.tool_diameter_mm), cutter),
        Figure::new("bundle", setup.strips_per_run, bundle_words(setup)),
        Figure::new("zero", "G54", zero(setup)),
        Figure::new(
            "safe height",
            Mm(setup.safe_z_mm),
            "above the top of the stock",
        ),
        Figure::new(
            "step down",
            Mm(setup.step_down_mm),
            "deeper each time, from the top of the stock",
        ),
        Figure::new(
            "spindle",
            format!("{} rpm", whole(setup.spindle_rpm)),
            "clockwise seen from above",
        ),
        Figure::new(
            "feed",
            format!("{} mm/min", whole(setup.feed_mm_per_min)),
            format!(
                "cutting; {} mm/min down, beside the bundle",
                whole(setup.plunge_mm_per_min)
            ),
        ),
        Figure::new(
            "cutting way",
            format!(
                "{} m",
                decimal(setup.cutting_mm / 1000.0, 2).unwrap_or_default()
            ),
            format!(
                "and {} m of rapid moves, each run",
                decimal(setup.rapid_mm / 1000.0, 2).unwrap_or_default()
            ),
        ),
        Figure::new(
            "time",
            format!(
                "{} min",
                decimal(setup.time_s / 60.0, 1).unwrap_or_default()
            ),
            "each run, estimated from the profile's feeds and acceleration",
        ),
    ]
}

fn bundle_words(setup: &RouterSetup) -> Phrase {
    let [low, high] = setup.stock.y_mm;
    let mut words = phrase!(
        "strips on edge, {} across, {} long; ",
        Mm(high - low),
        Mm(setup.length_mm)
    );
    words.0.push(runs_words(setup).into());
    words
}

fn runs_words(setup: &RouterSetup) -> String {
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

/// Where the strips' ends or notches lie.
fn against(setup: &RouterSetup) -> &'static str {
    match setup.registered {
        Registered::Key { .. } => "a notch over the key as said above",
        Registered::EndStop if setup.step_back_mm.abs() > 0.0 && setup.strips_per_run > 1 => {
            "stepped as said above, the front strip's datum end against the end stop"
        }
        Registered::EndStop => "datum ends against the end stop",
    }
}

fn steps(setup: &RouterSetup) -> Vec<Phrase> {
    vec![
        phrase!(
            "Clamp {} strips on edge as one rigid block, {}, {} face up.",
            setup.strips_per_run,
            against(setup),
            setup.face
        ),
        phrase!(
            "Fit the tool of {}; check its diameter and that its edges are clean.",
            Mm(setup.tool_diameter_mm)
        ),
        phrase!("Set zero: {}.", zero(setup)),
        phrase!(
            "Run {} in the air first, zero raised well above the stock and clamps; watch the first notch's place.",
            &setup.file
        ),
        phrase!("Set zero down again, close the enclosure, start; see the spindle up to speed."),
        phrase!(
            "Measure the first and the last notch: near edges from the datum end, width and depth, before you unclamp."
        ),
    ]
}

/// What stands at the head of a set-up's program. Plain words; who writes the program sees to it
/// that the controller can take them.
pub(super) fn program_remarks(setup: &RouterSetup, title: &str, machine: &str) -> Vec<String> {
    let mm = |value: f64| Mm(value).text(UnitSystem::Millimetres);
    let [_, width] = setup.stock.y_mm;
    let mut remarks = vec![
        format!("Job {title}"),
        format!("Machine {machine}"),
        format!(
            "Set-up {} {}{} {}, {} face up{}",
            setup.count,
            setup.family,
            plural(setup.count),
            setup.strips,
            setup.face,
            which(setup)
        ),
        format!(
            "Bundle of {} strips on edge, {} across, {} long, {} deep, {}",
            setup.strips_per_run,
            mm(width),
            mm(setup.length_mm),
            mm(-setup.stock.z_mm[0]),
            runs_words(setup)
        ),
        format!(
            "Tool flat end cutter, diameter {}, {} rpm clockwise",
            mm(setup.tool_diameter_mm),
            whole(setup.spindle_rpm)
        ),
        format!("Zero {}", zero(setup)),
        format!(
            "Notches {}, depth {}",
            setup.notches.len(),
            mm(setup.notches.first().map_or(0.0, |notch| notch.depth_mm))
        ),
    ];
    remarks.extend(
        lying(setup)
            .iter()
            .map(|said| said.text(UnitSystem::Millimetres)),
    );
    remarks.extend(
        SafetyNotes::for_router()
            .notes()
            .iter()
            .map(|note| format!("Safety {note}")),
    );
    remarks
}
