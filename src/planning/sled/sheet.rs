//! The set-up sheet for a sled.

use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Cell, Figure, Section, SetupSheet, Table};
use crate::instructions::sled::{
    BladeSetting, KeySize, NotchFigures, Register, SledBundle, SledPlan, Step,
};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};

/// The sheet for a plan; `powered` as the sled's profile says.
pub fn sled_sheet(plan: &SledPlan, powered: bool) -> SetupSheet {
    let mut sections = vec![saw_section(&plan.blade, powered)];
    sections.extend(
        plan.key
            .as_ref()
            .map(|key| key_section(key, plan.blade.passes_per_notch)),
    );
    for (at, bundle) in plan.bundles.iter().enumerate() {
        sections.push(bundle_section(at + 1, bundle, plan, powered));
    }
    sections.push(check_section(plan));
    SetupSheet {
        title: plan.title.clone(),
        machine: plan.machine.clone(),
        safety: SafetyNotes::for_sled(powered),
        sections,
    }
}

fn saw_section(blade: &BladeSetting, powered: bool) -> Section {
    let mut figures = Vec::new();
    if powered {
        figures.push(Figure::new(
            "blade over the base",
            Mm(blade.height_above_base_mm),
            "top of the sled's base to the top of the highest tooth",
        ));
        figures.push(Figure::new(
            "blade over the table",
            Mm(blade.height_above_table_mm),
            "saw table to the top of the highest tooth, sled taken off",
        ));
    } else {
        figures.push(Figure::new(
            "depth of the saw cut",
            Mm(blade.height_above_base_mm),
            "strip's upper face to the notch's floor: set the saw's depth stop to it",
        ));
    }
    let passes = match blade.passes_per_notch {
        1 => phrase!("the kerf makes the notch"),
        _ if !powered => phrase!("one for each wall; the waste between is pared out"),
        _ => phrase!("each {} from the last", Mm(blade.pass_shift_mm)),
    };
    figures.push(Figure::new(
        "passes for each notch",
        blade.passes_per_notch,
        passes,
    ));
    if let Some(half_chord) = blade.half_chord_mm {
        figures.push(Figure::new(
            "half chord",
            Mm(half_chord),
            "arbor's centre line to where the blade leaves the base, at this height",
        ));
    }
    if let Some(travel) = blade.travel_mm {
        figures.push(Figure::new(
            "travel of the sled",
            Mm(travel),
            "least, for the widest block to come clear of the blade on both sides",
        ));
    }
    Section {
        heading: if powered { "Saw" } else { "Hand saw" }.into(),
        blocks: vec![Block::Figures(figures)],
    }
}

fn key_section(key: &KeySize, passes: usize) -> Section {
    let width = match passes {
        1 => phrase!("along the strip: it fills the notch"),
        _ => phrase!(
            "along the strip: as wide as the kerf, so that a notch pushed to either side of it gives the outer passes"
        ),
    };
    let rows = key.positions.iter().map(|position| {
        vec![
            Cell::Length(position.centre_to_centre_mm),
            Cell::Length(position.face_to_kerf_mm),
            position
                .slot_mm
                .map_or(Cell::Text("none: add it".into()), Cell::Length),
        ]
    });
    let table = Table {
        caption: "Key positions for the steps of this grid. Centre: key's centre to kerf's centre. Face: the key's face to the side of the kerf that it faces.".into(),
        columns: vec!["centre", "face", "slot"],
        rows: rows.collect(),
    };
    let figures = vec![Figure::new("width of the key", Mm(key.width_mm), width)];
    Section {
        heading: "Key".into(),
        blocks: vec![Block::Figures(figures), Block::Table(table)],
    }
}

fn bundle_section(number: usize, bundle: &SledBundle, plan: &SledPlan, powered: bool) -> Section {
    let heading = format!(
        "Bundle {number}: {} {}{} ({}), notched in the {} face",
        bundle.count,
        bundle.family,
        if bundle.count == 1 { "" } else { "s" },
        bundle.strips,
        bundle.face,
    );
    if let Some(twin) = bundle.same_as_bundle {
        let remark = phrase!(
            "Length, notches and settings are those of bundle {}: cut both together, {} strips more. Turned over along its length one is the other.",
            twin,
            bundle.count
        );
        return Section {
            heading,
            blocks: vec![Block::Remarks(vec![remark])],
        };
    }
    let figures = vec![
        Figure::new(
            "length of a strip",
            Mm(bundle.length_mm),
            "end to end, overhangs included",
        ),
        Figure::new("notches in each", bundle.notches.len(), notch_words(bundle)),
    ];
    let blocks = vec![
        Block::Figures(figures),
        Block::Table(notch_table(bundle)),
        Block::Remarks(vec![loads_words(bundle, powered)]),
        Block::Steps(steps(bundle, &plan.blade, powered)),
    ];
    Section { heading, blocks }
}

fn notch_words(bundle: &SledBundle) -> Phrase {
    match bundle.notches.first() {
        Some(notch) => phrase!(
            "each {} wide along the strip, {} deep from the {} face",
            Mm(notch.width_mm),
            Mm(notch.depth_mm),
            bundle.face
        ),
        None => Phrase::default(),
    }
}

fn notch_table(bundle: &SledBundle) -> Table {
    let passes = bundle
        .by_stop
        .first()
        .map_or(0, |stop| stop.passes_mm.len());
    let keyed = bundle
        .steps
        .iter()
        .any(|step| matches!(step.register, Register::Key { .. }));
    let mut columns = vec!["notch", "centre", "near edge", "far edge"];
    columns.extend(if passes > 1 {
        vec!["stop first", "stop last"]
    } else {
        vec!["stop"]
    });
    if bundle.by_spacers.is_some() {
        columns.push("spacer");
    }
    if keyed {
        columns.extend(["key on notch", "slot"]);
    }
    columns.push("error");
    let row = |(at, notch): (usize, &NotchFigures)| {
        let mut cells = vec![
            Cell::Count(notch.index),
            Cell::Length(notch.centre_mm),
            Cell::Length(notch.near_edge_mm),
            Cell::Length(notch.far_edge_mm),
        ];
        let stop = bundle.by_stop.get(at);
        if passes > 1 {
            let passes = stop.map_or(&[][..], |stop| &stop.passes_mm);
            cells.extend([passes.first(), passes.last()].map(|pass| Cell::length(pass.copied())));
        } else {
            cells.push(Cell::length(stop.map(|stop| stop.stop_to_kerf_mm)));
        }
        if let Some(spacers) = &bundle.by_spacers {
            cells.push(Cell::length(spacers.spacers_mm.get(at).copied()));
        }
        let step = bundle.steps.get(at);
        if keyed {
            cells.extend(match step.map(|step| &step.register) {
                Some(Register::Key {
                    on_notch, slot_mm, ..
                }) => [Cell::Count(*on_notch), Cell::Length(*slot_mm)],
                _ => [Cell::Text("stop".into()), Cell::Empty],
            });
        }
        cells.push(Cell::length(step.map(|step| step.worst_error_mm)));
        cells
    };
    let rows = bundle.notches.iter().enumerate().map(row).collect();
    Table {
        caption: table_caption(bundle, passes, keyed),
        columns,
        rows,
    }
}

fn table_caption(bundle: &SledBundle, passes: usize, keyed: bool) -> Phrase {
    let mut caption = phrase!(
        "Centre and edges: from the strip's datum end (left or lower end). Stop: its face, or the fence's scale, to the near side of the kerf{}.",
        if passes > 1 {
            ", at the first and at the last pass"
        } else {
            ""
        }
    );
    if let Some(spacers) = &bundle.by_spacers {
        caption.append(phrase!(
            " Spacer: between the strip's end and a stop that stays at {}{}.",
            Mm(spacers.stop_to_kerf_mm),
            if passes > 1 {
                " (middle of the passes)"
            } else {
                ""
            }
        ));
    }
    caption.append(if keyed {
        phrase!(" Error: greatest expected, over the key against notch 1, by the stop from the datum end.")
    } else {
        phrase!(" Error: greatest expected, from the datum end.")
    });
    caption
}

fn loads_words(bundle: &SledBundle, powered: bool) -> Phrase {
    let loads = &bundle.loads;
    let travel = |travel: Option<f64>| match travel {
        Some(travel) => phrase!(", travel {}", Mm(travel)),
        None => Phrase::default(),
    };
    let mut words = phrase!(
        "As clamped blocks: {} block{} of up to {} strips, {} wide",
        loads.blocks,
        if loads.blocks == 1 { "" } else { "s" },
        loads.strips_per_block,
        Mm(loads.block_width_mm)
    );
    words.append(travel(loads.block_travel_mm));
    words.append(phrase!(". Or strip by strip: {} times", bundle.count));
    words.append(travel(loads.single_travel_mm));
    words.append(phrase!(
        "{}",
        if powered {
            ". Never loose strips side by side."
        } else {
            "."
        }
    ));
    words
}

fn steps(bundle: &SledBundle, blade: &BladeSetting, powered: bool) -> Vec<Phrase> {
    let loads = &bundle.loads;
    let mut steps = vec![phrase!(
        "Clamp or tape {} strips into one rigid block, datum ends flush, {} face toward the blade; mark the datum end.",
        loads.strips_per_block,
        bundle.face
    )];
    steps.extend(
        bundle
            .steps
            .iter()
            .map(|step| cut_words(step, blade, powered)),
    );
    if loads.blocks > 1 {
        steps.push(phrase!(
            "Do the same with the other {} blocks; where the stop is moved, cut the notch in every block before you move it.",
            loads.blocks - 1
        ));
    }
    steps
}

/// One notch: what to set, and how its passes follow each other.
fn cut_words(step: &Step, blade: &BladeSetting, powered: bool) -> Phrase {
    let (passes, shift) = (blade.passes_per_notch, blade.pass_shift_mm);
    let to_first_pass = passes.saturating_sub(1) as f64 / 2.0 * shift;
    let mut words = match step.register {
        Register::Stop { stop_to_kerf_mm } => phrase!(
            "Notch {}: set the stop's face {} from the near side of the kerf; push the datum end against it and cut",
            step.notch,
            Mm(stop_to_kerf_mm - to_first_pass)
        ),
        Register::Spacers {
            stop_to_kerf_mm,
            spacer_mm,
        } => phrase!(
            "Notch {}: stop's face at {}, spacers of {} between it and the datum end; cut",
            step.notch,
            Mm(stop_to_kerf_mm - to_first_pass),
            Mm(spacer_mm)
        ),
        Register::Key {
            slot_mm, on_notch, ..
        } => phrase!(
            "Notch {}: key in the {} slot; drop notch {} over it and cut",
            step.notch,
            Mm(slot_mm),
            on_notch
        ),
    };
    if passes > 1 {
        words.append(match step.register {
            Register::Key { .. } => phrase!(
                ", once with the notch pushed to each side of the key{}",
                if passes > 2 { ", then between" } else { "" }
            ),
            _ if !powered => phrase!(
                " one wall; move the stop {} farther and saw the other; pare out the waste",
                Mm(shift)
            ),
            _ if passes == 2 => phrase!(", then move the stop {} farther and cut again", Mm(shift)),
            _ => phrase!(
                ", then {} more, the stop moved {} farther each time",
                passes - 1,
                Mm(shift)
            ),
        });
    }
    words.append(phrase!("."));
    words
}

/// Smaller differences are printed as nothing.
const PRINTED_MM: f64 = 0.005;

fn check_section(plan: &SledPlan) -> Section {
    let depth = plan
        .bundles
        .first()
        .and_then(|bundle| bundle.notches.first())
        .map_or(0.0, |notch| notch.depth_mm);
    let mut remarks = vec![
        phrase!(
            "Before the first bundle: notch two scraps and lap them. Both depths together should be {}; half of what is left over or missing is the correction of the blade's height (height_correction in the profile).",
            Mm(2.0 * depth)
        ),
        phrase!(
            "After the first two notches: measure from near edge to near edge of both before you cut the rest."
        ),
    ];
    let fit = &plan.fit;
    remarks.push(if fit.clearance_mm >= PRINTED_MM {
        phrase!(
            "Notches come out {} wider than the strips: the bare grid can rack by {}. Square it by its diagonals before the glue sets.",
            Mm(fit.clearance_mm),
            Rad(fit.racking)
        )
    } else if fit.clearance_mm > -PRINTED_MM {
        phrase!("Notches come out as wide as the strips: a push fit.")
    } else {
        phrase!("Notches come out {} narrower than the strips: a press fit.", Mm(-fit.clearance_mm))
    });
    Section {
        heading: "Check".into(),
        blocks: vec![Block::Remarks(remarks)],
    }
}
