//! A bundle: its notches, where they are placed, how many strips at once.

use super::steps::steps;
use crate::instructions::panel::AlikeBundles;
use crate::instructions::rounds::CutOrder;
use crate::instructions::sheet::{Block, Figure, Section, Table, TableCell};
use crate::instructions::sled::{
    NotchFigures, NotchedFaces, Register, RouteAim, SledBundle, SledPlan,
};
use crate::lattice::Turn;
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::panel::ends_words;
use crate::units::{AtLeast, AtMost, Brief, Mm, Rad};

pub(super) fn bundle_section(
    number: usize,
    bundle: &SledBundle,
    plan: &SledPlan,
    powered: bool,
    plain: bool,
) -> Section {
    let heading = format!(
        "Bundle {number}: {} {}{} ({}), notched in {}",
        bundle.count,
        bundle.family,
        if bundle.count == 1 { "" } else { "s" },
        bundle.strips,
        faces(bundle),
    );
    if let Some(twin) = bundle.same_as_bundle {
        let remark = phrase!(
            "Length, notches and settings are those of bundle {}: cut both together, {} strip{} more. {}",
            twin,
            bundle.count,
            if bundle.count == 1 { "" } else { "s" },
            twin_words(number, plan)
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
    let mut blocks = vec![Block::Figures(figures)];
    if !plain {
        blocks.push(Block::Table(slot_table(number, bundle, plan)));
    }
    blocks.push(Block::Table(notch_table(number, bundle, plan, plain)));
    let mut remarks = Vec::from_iter(route_words(bundle, plan));
    remarks.push(loads_words(bundle, powered, plain));
    blocks.push(Block::Remarks(remarks));
    if plain && plan.order == CutOrder::Bundles {
        blocks.push(Block::Steps(steps(number, bundle, plan, powered)));
    }
    Section { heading, blocks }
}

fn faces(bundle: &SledBundle) -> String {
    match bundle.face {
        NotchedFaces::Both => "both faces".into(),
        face @ (NotchedFaces::Front | NotchedFaces::Back) => format!("the {} face", face.name()),
    }
}

/// How one of two alike parts becomes the other.
fn twin_words(number: usize, plan: &SledPlan) -> String {
    let mut alike = plan.panel.alike.iter();
    match alike.find(|alike| alike.bundle == number) {
        Some(AlikeBundles {
            turn: Some(Turn::AsIs),
            ..
        }) => "They need no turning.".into(),
        Some(
            own @ AlikeBundles {
                turn: Some(turn), ..
            },
        ) => format!(
            "Turned {}, each is the same part as the other.{}",
            turn.name(),
            ends_words(own)
        ),
        _ => String::new(),
    }
}

fn notch_words(bundle: &SledBundle) -> Phrase {
    let Some(first) = bundle.notches.first() else {
        return Phrase::default();
    };
    let varied = |other: &NotchFigures| {
        other.face != first.face || other.depth_mm.to_bits() != first.depth_mm.to_bits()
    };
    if bundle.notches.iter().any(varied) {
        return phrase!("see the table for widths and depths");
    }
    let mut words = phrase!("each {} wide along the strip", Mm(first.width_mm));
    words.append(match first.drawn_width_mm {
        Some(drawn) => phrase!(" as cut (drawn {})", Brief(drawn)),
        None => Phrase::default(),
    });
    words.append(phrase!(
        ", {} deep from the {} face",
        Mm(first.depth_mm),
        bundle.face.name()
    ));
    words
}

/// What edges are that do not lie where they are drawn.
fn edges_as_cut(bundle: &SledBundle) -> Phrase {
    let first = bundle.notches.first();
    let wider = first.and_then(|notch| Some(notch.width_mm - notch.drawn_width_mm?));
    match wider {
        None => Phrase::default(),
        Some(wider) if wider > 0.0 => phrase!(
            " Edges as cut: each lies {} farther from the centre than drawn, since the kerf is wider than the notch.",
            Brief(wider / 2.0)
        ),
        Some(wider) => phrase!(
            " Edges as cut: each lies {} nearer to the centre than drawn, since a second pass could not be set.",
            Brief(-wider / 2.0)
        ),
    }
}

/// How the table of slots is read.
pub(super) fn slots_read(bundle: &SledBundle, plan: &SledPlan) -> Phrase {
    let mut caption = phrase!(
        "Centre and edges: from the strip's datum end (left or lower end), on its centre line."
    );
    caption.append(edges_as_cut(bundle));
    if super::is_slanted(plan) {
        caption.append(phrase!(
            " Angle: from the strip's direction to the slot, counter-clockwise, seen from the panel's front."
        ));
    }
    caption
}

/// The slots as they lie in the strip.
pub(super) fn slot_table(number: usize, bundle: &SledBundle, plan: &SledPlan) -> Table {
    let setting = |notch: &NotchFigures| {
        let mut steps = bundle.steps.iter();
        steps
            .find(|step| step.notch == notch.index)
            .map_or(0, |step| step.setting)
    };
    let row = |notch: &NotchFigures| {
        vec![
            TableCell::Count(notch.index),
            TableCell::Text(notch.face.name().into()),
            TableCell::Text(Rad(notch.angle).text()),
            TableCell::Length(notch.centre_mm),
            TableCell::Length(notch.near_edge_mm),
            TableCell::Length(notch.far_edge_mm),
            TableCell::Length(notch.depth_mm),
            TableCell::Count(setting(notch)),
        ]
    };
    Table {
        caption: said_once(number, plan, |other| slots_read(other, plan)),
        columns: vec![
            "notch",
            "face",
            "angle",
            "centre",
            "near edge",
            "far edge",
            "depth",
            "setting",
        ],
        rows: bundle.notches.iter().map(row).collect(),
    }
}

/// How notches are placed.
pub(super) fn notch_table(
    number: usize,
    bundle: &SledBundle,
    plan: &SledPlan,
    plain: bool,
) -> Table {
    let passes = passes_by_stop(bundle);
    let keyed = bundle.takes_key();
    let mut columns = vec!["notch"];
    if plain {
        columns.extend(["centre", "near edge", "far edge"]);
    }
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
        let mut cells = vec![TableCell::Count(notch.index)];
        if plain {
            let edges = [notch.centre_mm, notch.near_edge_mm, notch.far_edge_mm];
            cells.extend(edges.map(TableCell::Length));
        }
        let stop = bundle.by_stop.get(at);
        if passes > 1 {
            let passes = stop.map_or(&[][..], |stop| &stop.passes_mm);
            cells.extend(
                [passes.first(), passes.last()].map(|pass| TableCell::length(pass.copied())),
            );
        } else {
            cells.push(TableCell::length(stop.map(|stop| stop.stop_to_kerf_mm)));
        }
        if let Some(spacers) = &bundle.by_spacers {
            cells.push(TableCell::length(spacers.spacers_mm.get(at).copied()));
        }
        let mut steps = bundle.steps.iter();
        let step = steps.find(|step| step.notch == notch.index);
        if keyed {
            cells.extend(match step.map(|step| &step.register) {
                Some(Register::Key {
                    on_notch, slot_mm, ..
                }) => [TableCell::Count(*on_notch), TableCell::Length(*slot_mm)],
                Some(Register::Spacers { .. }) => {
                    [TableCell::Text("spacers".into()), TableCell::Empty]
                }
                _ => [TableCell::Text("stop".into()), TableCell::Empty],
            });
        }
        cells.push(match step {
            Some(step) if step.notch == step.from_notch => TableCell::Text("datum".into()),
            Some(step) => TableCell::AtLeast(step.uncertainty_mm),
            None => TableCell::Empty,
        });
        cells
    };
    let rows = bundle.notches.iter().enumerate().map(row).collect();
    Table {
        caption: table_caption(number, plan, plain),
        columns,
        rows,
    }
}

/// What is said of a bundle's table; where an earlier bundle has the same words, that it is read so.
fn said_once(number: usize, plan: &SledPlan, says: impl Fn(&SledBundle) -> Phrase) -> Phrase {
    let own = plan.bundles.get(number - 1).map(&says).unwrap_or_default();
    let earlier = (1..number).zip(&plan.bundles);
    let mut earlier = earlier.filter(|(_, other)| other.same_as_bundle.is_none());
    match earlier.find(|(_, other)| says(other) == own) {
        Some((known, _)) => phrase!("To be read as under bundle {}.", known),
        None => own,
    }
}

/// How the table is read: said once, where it is the same for several bundles; and what only this one has.
fn table_caption(number: usize, plan: &SledPlan, plain: bool) -> Phrase {
    let Some(bundle) = plan.bundles.get(number - 1) else {
        return Phrase::default();
    };
    let mut caption = said_once(number, plan, |other| how_read(other, plain));
    if let Some(spacers) = &bundle.by_spacers {
        caption.append(phrase!(" With spacers the stop stays at "));
        caption.append(match spacers.passes_mm.as_slice() {
            [first, .., last] => phrase!(
                "{} for the first pass and {} for the last.",
                Mm(*first),
                Mm(*last)
            ),
            _ => phrase!("{}.", Mm(spacers.stop_to_kerf_mm)),
        });
    }
    caption
}

/// How the table of notches is read.
pub(super) fn how_read(bundle: &SledBundle, plain: bool) -> Phrase {
    let mut caption = Phrase::default();
    if plain {
        caption.append(phrase!(
            "Centre and edges: from the strip's datum end (left or lower end)."
        ));
        caption.append(edges_as_cut(bundle));
        caption.append(phrase!(" "));
    }
    caption.append(phrase!(
        "Stop: its face, or the fence's scale, to the near side of the kerf{}{}.",
        if plain { "" } else { ", along the fence" },
        if passes_by_stop(bundle) > 1 {
            ", at the first and at the last pass"
        } else {
            ""
        }
    ));
    if bundle.by_spacers.is_some() {
        caption.append(phrase!(
            " Spacer: between the strip's end and the stop{}.",
            if plain {
                ""
            } else {
                ", which is set again after every change of the fence"
            }
        ));
    }
    let route = &bundle.route;
    caption.append(phrase!(
        " Error: how far its middle may lie from its place, counted from the notch called datum, the nearest to the datum end{}; that one lies within {} of its own place from the datum end (95 of 100, see Check).",
        if plain { "" } else { " of those at that angle" },
        AtLeast(route.datum_uncertainty_mm)
    ));
    caption
}

fn passes_by_stop(bundle: &SledBundle) -> usize {
    let first = bundle.by_stop.first();
    first.map_or(0, |stop| stop.passes_mm.len())
}

/// What the way over the rack was chosen for, and whether it is the best.
pub(super) fn route_words(bundle: &SledBundle, plan: &SledPlan) -> Option<Phrase> {
    plan.key.as_ref()?;
    let route = &bundle.route;
    let (reached, mut words) = match (route.aim, route.bays_mm) {
        (RouteAim::Bays, Some(bays)) => (
            bays,
            phrase!(
                "Way over the rack chosen for bays: two bays of a strip that are drawn equal differ by no more than {} from notch to notch, and no notch lies more than {} off its place",
                AtLeast(bays),
                AtLeast(route.places_mm)
            ),
        ),
        _ => (
            route.places_mm,
            phrase!(
                "Way over the rack chosen for places: no notch lies more than {} off its place",
                AtLeast(route.places_mm)
            ),
        ),
    };
    words.append(phrase!(" (95 of 100). "));
    words.append(if route.proved {
        phrase!("Proved: of all ways none does better than {}.", AtLeast(reached))
    } else {
        phrase!(
            "Not proved: the search was stopped before all ways were tried; none does better than {}.",
            AtMost(route.least_mm)
        )
    });
    Some(words)
}

fn loads_words(bundle: &SledBundle, powered: bool, plain: bool) -> Phrase {
    let loads = &bundle.loads;
    let travel = |travel: Option<f64>| match travel {
        Some(travel) => phrase!(", travel {}", Mm(travel)),
        None => Phrase::default(),
    };
    let one_by_one = counted(bundle.count, "time");
    let mut words = if loads.strips_per_block < 2 {
        phrase!("Strip by strip: {}", one_by_one)
    } else {
        let mut words = phrase!(
            "As clamped blocks: {} of up to {}, {} wide{}",
            counted(loads.blocks, "block"),
            counted(loads.strips_per_block, "strip"),
            Mm(loads.block_width_mm),
            if plain { "" } else { " along the cut" }
        );
        words.append(travel(loads.block_travel_mm));
        words.append(phrase!(". Or strip by strip: {}", one_by_one));
        words
    };
    words.append(travel(loads.single_travel_mm));
    words.append(phrase!(
        "{}",
        if powered && bundle.count > 1 {
            ". Never loose strips side by side."
        } else {
            "."
        }
    ));
    words
}
