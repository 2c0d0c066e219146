//! Several bundles on one card: a row for each, and their notches once where they are alike.

use super::bundle::{bundle_section, how_read, notch_table, route_words, slot_table, slots_read};
use crate::instructions::rounds::CutOrder;
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::instructions::sled::{NotchFigures, SledBundle, SledPlan};
use crate::phrase;
use crate::phrase::Phrase;
use crate::sheets::alike::{bundles, joined, said_once};
use crate::units::{Brief, Mm};

/// The bundles of a plan, those that are cut as another one told with it. `plain`: one setting of the saw
/// does all, square and from one face.
pub(super) fn strips_sections(plan: &SledPlan, powered: bool, plain: bool) -> Vec<Section> {
    let own: Vec<(usize, &SledBundle)> = (1..)
        .zip(&plan.bundles)
        .filter(|(_, bundle)| bundle.same_as_bundle.is_none())
        .collect();
    let steps_apart = plain && plan.order == CutOrder::Bundles;
    if own.len() < 2 || steps_apart {
        let sections = own
            .iter()
            .map(|(number, bundle)| bundle_section(*number, bundle, plan, powered, plain));
        let mut sections: Vec<Section> = sections.collect();
        let twins = twin_remarks(plan, powered, plain);
        if let Some(last) = sections.last_mut().filter(|_| !twins.is_empty()) {
            last.blocks.push(Block::Remarks(twins));
        }
        return sections;
    }
    let mut blocks = vec![Block::Table(bundles_table(plan, &own, powered))];
    let twins = twin_remarks(plan, powered, plain);
    blocks.extend((!twins.is_empty()).then_some(Block::Remarks(twins)));
    if !plain {
        let slots = own.iter().map(|(number, bundle)| {
            let table = Table {
                caption: slots_read(bundle, plan),
                ..slot_table(*number, bundle, plan)
            };
            (*number, table)
        });
        let slots = joined(slots.collect(), "bundles", bundles);
        blocks.extend(slots.into_iter().map(Block::Table));
    }
    let placed = own.iter().map(|(number, bundle)| {
        let table = Table {
            caption: how_read(bundle, plain),
            ..notch_table(*number, bundle, plan, plain)
        };
        (*number, without_spacers(table))
    });
    let placed = joined(placed.collect(), "bundles", bundles);
    blocks.extend(placed.into_iter().map(Block::Table));
    let mut remarks: Vec<Phrase> = own.iter().filter_map(spacers).collect();
    let routes: Vec<Vec<Phrase>> = own
        .iter()
        .map(|(_, bundle)| Vec::from_iter(route_words(bundle, plan)))
        .collect();
    remarks.extend(said_once(&routes, |places| {
        let numbers = places.iter().filter_map(|place| own.get(place - 1));
        bundles(&numbers.map(|(number, _)| *number).collect::<Vec<_>>())
    }));
    blocks.extend((!remarks.is_empty()).then_some(Block::Remarks(remarks)));
    vec![Section {
        heading: "Strips, bundle by bundle".into(),
        blocks,
    }]
}

/// What is said of bundles that are cut as another one.
fn twin_remarks(plan: &SledPlan, powered: bool, plain: bool) -> Vec<Phrase> {
    let twins = (1..).zip(&plan.bundles);
    let twins = twins.filter(|(_, bundle)| bundle.same_as_bundle.is_some());
    let said = twins.flat_map(|(number, bundle)| {
        let section = bundle_section(number, bundle, plan, powered, plain);
        let said = section.blocks.into_iter().filter_map(|block| match block {
            Block::Remarks(remarks) => Some(remarks),
            _ => None,
        });
        let said: Vec<Phrase> = said.flatten().collect();
        said.into_iter().map(move |remark| {
            let mut words = phrase!("{}: ", section.heading.as_str());
            words.append(remark);
            words
        })
    });
    said.collect()
}

/// A row for each bundle: its strips, its notches, how many strips at once.
fn bundles_table(plan: &SledPlan, own: &[(usize, &SledBundle)], powered: bool) -> Table {
    let drawn = own
        .iter()
        .flat_map(|(_, bundle)| &bundle.notches)
        .any(|notch| notch.drawn_width_mm.is_some());
    let travel = own
        .iter()
        .any(|(_, bundle)| bundle.loads.single_travel_mm.is_some());
    let mut columns = vec![
        "bundle", "strips", "count", "long", "face", "notches", "wide",
    ];
    columns.extend(drawn.then_some("drawn"));
    columns.extend(["deep", "blocks", "of up to", "block"]);
    if travel {
        columns.extend(["travel", "single"]);
    }
    let row = |(number, bundle): &(usize, &SledBundle)| {
        let notches = &bundle.notches;
        // A figure that differs from notch to notch stands in their table.
        let of_all = |of: fn(&NotchFigures) -> f64| {
            let first = of(notches.first()?);
            let same = |notch: &NotchFigures| of(notch).to_bits() == first.to_bits();
            notches.iter().all(same).then_some(first)
        };
        let loads = &bundle.loads;
        let mut cells = vec![
            TableCell::Count(*number),
            TableCell::Text(bundle.strips.clone()),
            TableCell::Count(bundle.count),
            TableCell::Length(bundle.length_mm),
            TableCell::Text(bundle.face.name().into()),
            TableCell::Count(notches.len()),
            TableCell::length(of_all(|notch| notch.width_mm)),
        ];
        if drawn {
            let drawn = notches.first().and_then(|notch| notch.drawn_width_mm);
            cells.push(TableCell::length(drawn));
        }
        cells.extend([
            TableCell::length(of_all(|notch| notch.depth_mm)),
            TableCell::Count(loads.blocks),
            TableCell::Count(loads.strips_per_block),
            TableCell::Length(loads.block_width_mm),
        ]);
        if travel {
            cells.push(TableCell::length(loads.block_travel_mm));
            cells.push(TableCell::length(loads.single_travel_mm));
        }
        cells
    };
    let mut caption = phrase!(
        "Long: end to end, overhangs included. Face: that the notches enter. Wide: along the strip{}. Deep: from that face. Blocks: how many, of up to how many strips clamped together; block: its width along the cut",
        if drawn {
            ", as cut; drawn: as the job asks for it"
        } else {
            ""
        }
    );
    if travel {
        caption.append(phrase!(
            ". Travel of the sled, for a block, and for a single strip: each can be cut strip by strip too"
        ));
    }
    let several = plan.bundles.iter().any(|bundle| bundle.count > 1);
    caption.append(phrase!(
        "{}",
        if powered && several {
            ". Never loose strips side by side."
        } else {
            "."
        }
    ));
    Table {
        caption,
        columns,
        rows: own.iter().map(row).collect(),
    }
}

/// A table without its column of spacers, which are told bundle by bundle.
fn without_spacers(mut table: Table) -> Table {
    if let Some(at) = table.columns.iter().position(|column| *column == "spacer") {
        table.columns.remove(at);
        for row in &mut table.rows {
            row.remove(at);
        }
    }
    table
}

/// The spacers of a bundle in the order of its notches, and where the stop stays.
fn spacers((number, bundle): &(usize, &SledBundle)) -> Option<Phrase> {
    let spacers = bundle.by_spacers.as_ref()?;
    let mut words = phrase!("Bundle {} by spacers, the stop staying at ", *number);
    words.append(match spacers.passes_mm.as_slice() {
        [first, .., last] => phrase!(
            "{} for the first pass and {} for the last",
            Mm(*first),
            Mm(*last)
        ),
        _ => phrase!("{}", Mm(spacers.stop_to_kerf_mm)),
    });
    for (notch, spacer) in bundle.notches.iter().zip(&spacers.spacers_mm) {
        let lead = if notch.index == 1 { ":" } else { "," };
        words.append(phrase!(
            "{} {} for notch {}",
            lead,
            Brief(*spacer),
            notch.index
        ));
    }
    words.append(phrase!("."));
    Some(words)
}
