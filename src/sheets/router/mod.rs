//! The set-up sheet for a router.

mod mortises;
mod rows;
mod words;

use super::measured_figures::measured_section;
use super::measured_stock::stock_section;
use crate::instructions::router::{Passes, Registered, RouterPlan, RouterSetup, Trimmed};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::router::lying_words::{lying, marking};
use crate::planning::router::remarks::{clamp_words, each, plural, runs_words, which, whole, zero};
use crate::units::{Feed, Mm, decimal};
use words::{against, go_on, measured_from, rest_of_clamping};
pub(super) use words::{fit_tool, program_words, tool_words};

pub(super) use mortises::program_sections;
pub(super) use rows::{measures_table, places_table, row_steps, setups_table};

/// The sheet for a plan.
pub fn router_sheet(plan: &RouterPlan) -> SetupSheet {
    let setups = plan.setups.iter().enumerate();
    let mut sections = Vec::from_iter(stock_section(plan.measured_stock.as_ref()));
    sections.extend(measured_section(&plan.measured_figures));
    sections.extend(setups.map(|(at, setup)| setup_section(at + 1, setup, plan)));
    SetupSheet {
        sections,
        ..blank_sheet(plan)
    }
}

/// A plan's sheet with nothing on it yet.
pub(in crate::sheets) fn blank_sheet(plan: &RouterPlan) -> SetupSheet {
    SetupSheet {
        part: SheetPart::Router,
        title: format!("{} - {}", plan.title, plan.machine),
        heading: format!("Router: {}", plan.machine),
        safety: SafetyNotes::for_router(),
        sections: Vec::new(),
    }
}

/// What is done in a set-up; `number` from 1.
pub(in crate::sheets) fn setup_section(
    number: usize,
    setup: &RouterSetup,
    plan: &RouterPlan,
) -> Section {
    let heading = format!(
        "Set-up {number}: {}{}",
        each(setup, ["(", ")"]),
        which(setup)
    );
    let rows = setup.notches.iter().map(rows::notch_row);
    let table = Table {
        caption: caption(setup).into(),
        columns: vec!["notch", "centre", "near edge", "far edge", "depth"],
        rows: rows.collect(),
    };
    let mut figures = figures(setup);
    figures.push(time(setup, plan));
    let mut blocks = vec![Block::Figures(figures)];
    let mut lying = lying(setup);
    lying.extend(plan.clamps.iter().map(clamp_words));
    if !lying.is_empty() {
        blocks.push(Block::Remarks(lying));
    }
    blocks.extend([Block::Table(table), Block::Steps(steps(setup, plan))]);
    let after = after(setup);
    let is_last = (plan.setups.get(number)).is_none_or(|next| next.bundle != setup.bundle);
    if is_last && !after.is_empty() {
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
pub(in crate::sheets) fn after(setup: &RouterSetup) -> Vec<Phrase> {
    let trim = |trim: &Trimmed| {
        let [low, high] = trim.kept_mm;
        phrase!(
            "Trim {}: keep from {} to {} from the end that lay toward the stop.",
            &trim.strip,
            Mm(low),
            Mm(high)
        )
    };
    setup.trims.iter().map(trim).collect()
}

/// What is set, and what the program does.
pub(in crate::sheets) fn figures(setup: &RouterSetup) -> Vec<Figure> {
    let along = setup.notches.first().map_or(0.0, |notch| notch.width_mm);
    let mut cutter = tool_words(&setup.tool);
    cutter.append(phrase!("; notches are {} wide", Mm(along)));
    if setup.from_square > 0.0 {
        cutter.append(phrase!(
            " along the strip, {} square to their walls",
            Mm(along * setup.angle.sin())
        ));
    }
    vec![
        Figure::new(
            "program",
            setup.file.as_str(),
            program_words(setup.after_stop, setup.runs).unwrap_or("load this file".into()),
        ),
        Figure::new("tool", Mm(setup.tool.measured_mm()), cutter),
        Figure::new("bundle", setup.strips_per_run, bundle_words(setup)),
        Figure::new("zero", setup.tool.work_zero.unwrap_or("set"), zero(setup)),
        Figure::new(
            "safe height",
            Mm(setup.safe_height_mm),
            "above the top of the stock",
        ),
        Figure::new(
            "depth per pass",
            Mm(setup.depth_per_pass_mm),
            "deeper each time, from the top of the stock",
        ),
        Figure::new("passes", setup.passes.depths, passes_words(&setup.passes)),
        Figure::new(
            "spindle",
            format!("{} rpm", whole(setup.spindle_rpm)),
            "clockwise seen from above",
        ),
        Figure::new("feed", Feed(setup.feed_mm_per_min), feed_words(setup)),
        Figure::new(
            "cutting way",
            format!(
                "{} m",
                decimal(setup.cutting_mm / 1000.0, 2).unwrap_or_default()
            ),
            rapid_words(setup),
        ),
    ]
}

fn time(setup: &RouterSetup, plan: &RouterPlan) -> Figure {
    let minutes = |seconds: f64| decimal(seconds / 60.0, 1).unwrap_or_default();
    let mut measured =
        String::from("each run, estimated from the profile's feeds and acceleration");
    if plan.setups.len() > 1 || setup.runs > 1 {
        let all = minutes(plan.time_s);
        measured.push_str(&format!("; {all} min for all programs and runs"));
    }
    Figure::new("time", format!("{} min", minutes(setup.time_s)), measured)
}

fn feed_words(setup: &RouterSetup) -> Phrase {
    let down = Feed(setup.plunge_feed_mm_per_min);
    match setup.wall_feed_mm_per_min {
        None => phrase!("cutting; {} down, beside the bundle", down),
        Some(walls) => phrase!(
            "cutting, {} in wall passes; {} down, beside the bundle",
            Feed(walls),
            down
        ),
    }
}

/// What happens at every depth.
fn passes_words(passes: &Passes) -> Phrase {
    let s = plural(passes.depths);
    let mut words = match (passes.walls, passes.roughing) {
        (0, _) => phrase!(
            "depth{}, each with one pass of a tool as wide as the notch",
            s
        ),
        (_, 1) => phrase!("depth{}, each with a roughing pass", s),
        (_, several) => phrase!("depth{}, each with {} roughing passes", s, several),
    };
    if passes.walls > 0 {
        words.append(phrase!(
            " and both walls in the climb direction, {} left for them",
            Mm(passes.wall_allowance_mm)
        ));
    }
    if passes.returns_in_air {
        words.append(phrase!("; roughing to the back only"));
    }
    if passes.floor_allowance_mm > 0.0 {
        words.append(phrase!(
            "; the last takes {} off the floor",
            Mm(passes.floor_allowance_mm)
        ));
    }
    if passes.spring_pass {
        words.append(phrase!("; the last passes twice"));
    }
    words
}

fn rapid_words(setup: &RouterSetup) -> String {
    let metres = |mm: f64| decimal(mm / 1000.0, 2).unwrap_or_default();
    let rapid = metres(setup.rapid_mm);
    match setup.rapid_from_front_mm {
        None => format!("and {rapid} m of rapid moves, each run"),
        Some(longer) => format!(
            "and {rapid} m of rapid moves, each run; {} m if every notch began at the front",
            metres(longer)
        ),
    }
}

fn bundle_words(setup: &RouterSetup) -> Phrase {
    let [low, high] = setup.stock.y_mm;
    let mut words = phrase!(
        "strip{} on edge, {} across, {} long; ",
        plural(setup.strips_per_run),
        Mm(high - low),
        Mm(setup.length_mm)
    );
    words.0.push(runs_words(setup).into());
    words
}

/// What the near edges of the first and the last notch are from that of the notch on the key.
fn from_key(setup: &RouterSetup) -> Phrase {
    let Registered::Key { near_edge_mm, .. } = setup.registered else {
        return phrase!("");
    };
    let (Some(first), Some(last)) = (setup.notches.first(), setup.notches.last()) else {
        return phrase!("");
    };
    let mut words = phrase!(
        " They are {} to notch {}",
        Mm(first.near_edge_mm - near_edge_mm),
        first.index
    );
    if last.index != first.index {
        words.append(phrase!(
            ", {} to notch {}",
            Mm(last.near_edge_mm - near_edge_mm),
            last.index
        ));
    }
    words.append(phrase!("."));
    words
}

/// The block of strips and scrap.
fn clamping(setup: &RouterSetup) -> Phrase {
    let mut clamp = phrase!(
        "Clamp {} strip{} on edge as one rigid block, {}, {}",
        setup.strips_per_run,
        plural(setup.strips_per_run),
        against(setup),
        setup.faces()
    );
    clamp.append(rest_of_clamping(setup));
    clamp
}

fn steps(setup: &RouterSetup, plan: &RouterPlan) -> Vec<Phrase> {
    let mut steps = Vec::from_iter(marking(setup, plan));
    steps.extend([
        clamping(setup),
        phrase!(
            "Measure the block of strips: {} across, {} deep. Where it is not, put what one strip measures into the job (strip.measured_thickness, strip.measured_depth) and make the programs again.",
            Mm(setup.stock.y_mm[1] - setup.stock.y_mm[0]),
            Mm(-setup.stock.z_mm[0])
        ),
    ]);
    steps.extend(match setup.after_stop {
        Some(stop) if stop > 0 => go_on(setup),
        _ => start(setup),
    });
    let mut measure = phrase!(
        "Measure the first and the last notch: near edges from {}, width and depth, before you unclamp.",
        measured_from(setup)
    );
    measure.append(from_key(setup));
    steps.push(measure);
    if setup.after_stop.is_some() && setup.runs > 1 {
        steps.push(phrase!(
            "The program stops after every run: put in the next bundle in the same way, then let it go on."
        ));
    }
    steps
}

/// From the tool to the first chip.
fn start(setup: &RouterSetup) -> Vec<Phrase> {
    vec![
        fit_tool(&setup.tool),
        phrase!("Set zero: {}.", zero(setup)),
        phrase!(
            "Run {} in the air first, zero raised well above the stock and clamps; watch the first notch's place.",
            &setup.file
        ),
        phrase!("Set zero down again, close the enclosure, start; see the spindle up to speed."),
    ]
}
