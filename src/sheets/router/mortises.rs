//! What is told of a rail's program.

use super::words::{fit_tool, program_words, tool_words};
use crate::instructions::rails::{PocketFigures, RailProgram};
use crate::instructions::sheet::{Block, Figure, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::router::remarks::{rail_list, rail_runs, rail_zeros, whole};
use crate::units::{Feed, Mm, Rad, decimal};

/// The programs' part of the rails' sheet: what is the same for all, then program by program.
pub(in crate::sheets) fn program_sections(programs: &[RailProgram]) -> Vec<Section> {
    let common = programs.first().map(|first| Section {
        heading: "Router, every rail".into(),
        blocks: vec![Block::Figures(figures(first)), Block::Steps(steps(first))],
    });
    let sections = programs.iter().map(program_section);
    common.into_iter().chain(sections).collect()
}

fn program_section(program: &RailProgram) -> Section {
    let row = |mortise: &PocketFigures| {
        vec![
            TableCell::Count(mortise.index),
            TableCell::Length(mortise.near_edge_mm),
            TableCell::Length(mortise.far_edge_mm),
            TableCell::Length(mortise.far_edge_mm - mortise.near_edge_mm),
        ]
    };
    let table = Table {
        caption: phrase!(
            "Walls along X from the mark at X zero; the marks are {} apart.",
            Mm(program.inner_length_mm)
        ),
        columns: vec!["mortise", "near edge", "far edge", "width"],
        rows: program.mortises.iter().map(row).collect(),
    };
    let minutes = decimal(program.time_s / 60.0, 1).unwrap_or_default();
    let figures = vec![
        Figure::new(
            "program",
            program.file.as_str(),
            program_words(program.after_stop, program.rails.len()).unwrap_or(rail_runs(program)),
        ),
        Figure::new("X zero", "left", rail_zeros(program)),
        Figure::new(
            "time",
            format!("{minutes} min"),
            "each rail, estimated from the profile's feeds and acceleration",
        ),
    ];
    Section {
        heading: format!("Router: {}", rail_list(program)),
        blocks: vec![Block::Figures(figures), Block::Table(table)],
    }
}

fn figures(program: &RailProgram) -> Vec<Figure> {
    let walls = match program.wall_allowance_mm {
        left if left > 0.0 => {
            "left on each by roughing, for a last way round in the climb direction"
        }
        _ => "left: the tool is as wide as the mortises",
    };
    let mut cutter = tool_words(&program.tool);
    cutter.append(phrase!(
        "; leaves corners of radius {}",
        Mm(program.corner_radius_mm)
    ));
    vec![
        Figure::new("tool", Mm(program.tool.measured_mm()), cutter),
        Figure::new(
            "front wall",
            Mm(program.y_mm[0]),
            "Y, from the rail's front face",
        ),
        Figure::new(
            "back wall",
            Mm(program.y_mm[1]),
            "Y, from the rail's front face",
        ),
        Figure::new("depth", Mm(program.depth_mm), "from the rail's inner face"),
        Figure::new(
            "safe height",
            Mm(program.safe_height_mm),
            "above the rail's inner face",
        ),
        Figure::new(
            "depth per pass",
            Mm(program.depth_per_pass_mm),
            phrase!("deeper each time, along ramps of {}", Rad(program.ramp)),
        ),
        Figure::new("walls", Mm(program.wall_allowance_mm), walls),
        Figure::new(
            "spindle",
            format!("{} rpm", whole(program.spindle_rpm)),
            "clockwise seen from above",
        ),
        Figure::new(
            "feed",
            Feed(program.feed_mm_per_min),
            if program.rests_in_corners {
                "cutting; the tool rests in every corner, as the control would round it"
            } else {
                "cutting"
            },
        ),
    ]
}

fn steps(program: &RailProgram) -> Vec<Phrase> {
    let mut steps = vec![
        phrase!("Mark both inner corners of the frame on the rail's inner face."),
        phrase!(
            "Clamp the rail by its front and back faces, inner face up and level, front face toward Y zero and along X; no jaw above the inner face."
        ),
        phrase!(
            "Measure the rail: {} front to back.",
            Mm(program.stock_y_mm[1])
        ),
        fit_tool(&program.tool),
        phrase!(
            "Set zero{}: X at the mark at the left as the rail lies now, Y at the rail's front face, Z at its inner face.",
            program
                .tool
                .work_zero
                .map_or(String::new(), |zero| format!(" ({zero})"))
        ),
        phrase!(
            "Run the rail's program in the air first, zero raised well above rail and clamps; watch the first mortise's place."
        ),
        phrase!("Set zero down again, close the enclosure, start; see the spindle up to speed."),
        phrase!(
            "Before you unclamp, measure the first and the last mortise: near edges from the mark, front wall from the front face, width, depth."
        ),
        phrase!(
            "Square the corners with a chisel, or round the strips' ends by {}.",
            Mm(program.corner_radius_mm)
        ),
    ];
    if program.after_stop.is_some() {
        steps.push(phrase!(
            "The program stops after every rail and tells which is next: put it in the same way, its mark where X was set and its inner face at the height where Z was set, else set them again; hands away, then let it go on. The spindle starts again by itself."
        ));
    }
    steps
}
