//! The set-up sheet for a sled.

use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Cell, Figure, Section, SetupSheet, Table};
use crate::instructions::sled::{BladeSetting, KeySize, Register, SledBundle, SledPlan, Step};
use crate::phrase;
use crate::phrase::{Phrase, Word};
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
        1 => phrase!["the kerf makes the notch"],
        _ => phrase!["each ", Mm(blade.pass_shift_mm), " from the last"],
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
        1 => phrase!["along the strip: it fills the notch"],
        _ => phrase![
            "along the strip: as wide as the kerf, so that a notch pushed to either side of it gives the outer passes"
        ],
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
    let mut blocks = vec![Block::Figures(vec![
        Figure::new(
            "length of a strip",
            Mm(bundle.length_mm),
            "end to end, overhangs included",
        ),
        Figure::new("notches in each", bundle.notches.len(), notch_words(bundle)),
    ])];
    if let Some(twin) = bundle.same_as_bundle {
        blocks.push(Block::Remarks(vec![phrase![
            "Same length and notch list as bundle ",
            twin,
            ": they can be cut together, and one turned over is the other."
        ]]));
    }
    blocks.push(Block::Table(notch_table(bundle)));
    blocks.push(Block::Remarks(vec![loads_words(bundle, powered)]));
    blocks.push(Block::Steps(steps(
        bundle,
        plan.blade.passes_per_notch,
        plan.blade.pass_shift_mm,
    )));
    Section { heading, blocks }
}

fn notch_words(bundle: &SledBundle) -> Phrase {
    match bundle.notches.first() {
        Some(notch) => phrase![
            "each ",
            Mm(notch.width_mm),
            " wide along the strip, ",
            Mm(notch.depth_mm),
            " deep from the ",
            bundle.face,
            " face"
        ],
        None => Phrase::default(),
    }
}

fn notch_table(bundle: &SledBundle) -> Table {
    let mut columns = vec!["notch", "centre", "near edge", "far edge", "stop"];
    if bundle.by_spacers.is_some() {
        columns.push("spacer");
    }
    let keyed = bundle
        .steps
        .iter()
        .any(|step| matches!(step.register, Register::Key { .. }));
    if keyed {
        columns.extend(["key on notch", "slot"]);
    }
    columns.push("error");
    let rows = bundle
        .notches
        .iter()
        .zip(&bundle.by_stop)
        .zip(&bundle.steps)
        .enumerate();
    let row = |(at, ((notch, stop), step)): (usize, _)| {
        let (notch, stop, step): (
            &crate::instructions::sled::NotchFigures,
            &crate::instructions::sled::StopSetting,
            &Step,
        ) = (notch, stop, step);
        let mut cells = vec![
            Cell::Count(notch.index),
            Cell::Length(notch.centre_mm),
            Cell::Length(notch.near_edge_mm),
            Cell::Length(notch.far_edge_mm),
            Cell::Length(stop.stop_to_kerf_mm),
        ];
        if let Some(spacers) = &bundle.by_spacers {
            cells.push(Cell::length(spacers.spacers_mm.get(at).copied()));
        }
        if keyed {
            cells.extend(match step.register {
                Register::Key {
                    on_notch, slot_mm, ..
                } => [Cell::Count(on_notch), Cell::Length(slot_mm)],
                _ => [Cell::Text("stop".into()), Cell::Empty],
            });
        }
        cells.push(Cell::Length(step.worst_error_mm));
        cells
    };
    let mut caption = phrase![
        "Centre and edges: from the strip's datum end (left or lower end). Stop: its face, or the fence's scale, to the near side of the kerf."
    ];
    if let Some(spacers) = &bundle.by_spacers {
        caption.0.extend([
            Word::from(" Spacer: between the strip's end and a stop that stays at "),
            Mm(spacers.stop_to_kerf_mm).into(),
            ".".into(),
        ]);
    }
    caption.0.push(if keyed {
        " Error: greatest expected, over the key against notch 1, by the stop from the datum end."
            .into()
    } else {
        " Error: greatest expected, from the datum end.".into()
    });
    Table {
        caption,
        columns,
        rows: rows.map(row).collect(),
    }
}

fn loads_words(bundle: &SledBundle, powered: bool) -> Phrase {
    let loads = &bundle.loads;
    let mut words = phrase![
        "As clamped blocks: ",
        loads.blocks,
        if loads.blocks == 1 {
            " block of up to "
        } else {
            " blocks of up to "
        },
        loads.strips_per_block,
        " strips, ",
        Mm(loads.block_width_mm),
        " wide"
    ];
    if let Some(travel) = loads.block_travel_mm {
        words.0.extend([", travel ".into(), Mm(travel).into()]);
    }
    words.0.extend([
        ". Or strip by strip: ".into(),
        bundle.count.into(),
        " times".into(),
    ]);
    if let Some(travel) = loads.single_travel_mm {
        words.0.extend([", travel ".into(), Mm(travel).into()]);
    }
    words.0.push(
        if powered {
            ". Never loose strips side by side."
        } else {
            "."
        }
        .into(),
    );
    words
}

fn steps(bundle: &SledBundle, passes: usize, shift: f64) -> Vec<Phrase> {
    let loads = &bundle.loads;
    let mut steps = vec![phrase![
        "Clamp or tape ",
        loads.strips_per_block,
        " strips into one rigid block, datum ends flush, ",
        bundle.face,
        " face toward the blade; mark the datum end."
    ]];
    let last = passes.saturating_sub(1) as f64;
    for step in &bundle.steps {
        let mut words = match step.register {
            Register::Stop { stop_to_kerf_mm } => {
                let setting = stop_to_kerf_mm - last / 2.0 * shift;
                phrase![
                    "Notch ",
                    step.notch,
                    ": set the stop's face ",
                    Mm(setting),
                    " from the near side of the kerf; push the datum end against it and cut"
                ]
            }
            Register::Spacers {
                stop_to_kerf_mm,
                spacer_mm,
            } => {
                phrase![
                    "Notch ",
                    step.notch,
                    ": stop's face at ",
                    Mm(stop_to_kerf_mm),
                    ", spacers of ",
                    Mm(spacer_mm),
                    " between it and the datum end; cut"
                ]
            }
            Register::Key {
                slot_mm, on_notch, ..
            } => {
                phrase![
                    "Notch ",
                    step.notch,
                    ": key in the ",
                    Mm(slot_mm),
                    " slot; drop notch ",
                    on_notch,
                    " over it and cut"
                ]
            }
        };
        if passes > 1 {
            let more = match step.register {
                Register::Key { .. } => phrase![
                    ", once with the notch pushed to each side of the key",
                    if passes > 2 { ", then between" } else { "" }
                ],
                _ => phrase![
                    ", then ",
                    passes - 1,
                    " more, the stop moved ",
                    Mm(shift),
                    " farther each time"
                ],
            };
            words.0.extend(more.0);
        }
        words.0.push(".".into());
        steps.push(words);
    }
    if loads.blocks > 1 {
        steps.push(phrase![
            "Do the same with the other ",
            loads.blocks - 1,
            " blocks; where the stop is moved, cut the notch in every block before you move it."
        ]);
    }
    steps
}

fn check_section(plan: &SledPlan) -> Section {
    let depth = plan
        .bundles
        .first()
        .and_then(|bundle| bundle.notches.first())
        .map_or(0.0, |notch| notch.depth_mm);
    let mut remarks = vec![
        phrase![
            "Before the first bundle: notch two scraps and lap them. Both depths together should be ",
            Mm(2.0 * depth),
            "; half of what is left over or missing is the correction of the blade's height (height_correction in the profile)."
        ],
        phrase![
            "After the first two notches: measure from near edge to near edge of both before you cut the rest."
        ],
    ];
    let fit = &plan.fit;
    remarks.push(if fit.clearance_mm > 0.0 {
        phrase![
            "Notches come out ",
            Mm(fit.clearance_mm),
            " wider than the strips: the bare grid can rack by ",
            Rad(fit.racking),
            ". Square it by its diagonals before the glue sets."
        ]
    } else {
        phrase![
            "Notches come out ",
            Mm(-fit.clearance_mm),
            " narrower than the strips: a press fit."
        ]
    });
    Section {
        heading: "Check".into(),
        blocks: vec![Block::Remarks(remarks)],
    }
}
