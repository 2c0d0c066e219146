//! What the machines' parts of the sheet share, and the part of the guides: what has to lie ready, the
//! settings of all pieces row by row, their pictures and counts, check cuts.

use super::guide_view;
use crate::instructions::laser::{LaserPlan, Ware};
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::instructions::sheet::{Block, Check, Gallery, Picture, Section, SetupSheet, Tally};
use crate::phrase;
use crate::phrase::{Phrase, plural};
use crate::sheets::alike::said_once;
use crate::sheets::paring;
use crate::sheets::paring::{
    card_remarks, card_steps, numbered, pare_sections, settings_table, whole_pieces,
};
use crate::sheets::sheet_cutting::guide_words;
use crate::units::{Mm, Rad};

pub(super) fn ready(items: Vec<Phrase>) -> Section {
    Section {
        heading: "Have ready".into(),
        blocks: vec![Block::Ready(items)],
    }
}

impl Section {
    /// Puts pictures behind the settings, before the first steps and the remark that leads to them.
    pub(super) fn illustrate(&mut self, pictures: impl IntoIterator<Item = Picture>) {
        let pictures = pictures.into_iter().map(Block::Picture);
        self.put_before_steps(pictures.collect());
    }

    /// The same, two of them beside each other.
    pub(super) fn illustrate_in_rows(&mut self, pictures: Vec<Picture>) {
        if !pictures.is_empty() {
            self.put_before_steps(vec![Block::Gallery(Gallery {
                columns: 2,
                pictures,
            })]);
        }
    }

    /// The same at the end.
    pub(super) fn illustrate_behind(&mut self, pictures: Vec<Picture>) {
        if !pictures.is_empty() {
            self.blocks.push(Block::Gallery(Gallery {
                columns: 2,
                pictures,
            }));
        }
    }

    fn put_before_steps(&mut self, blocks: Vec<Block>) {
        let is_steps = |block: &Block| matches!(block, Block::Steps(_));
        let steps = self.blocks.iter().position(is_steps);
        let mut at = steps.unwrap_or(self.blocks.len());
        let before = self.blocks.get(..at).and_then(<[Block]>::last);
        if steps.is_some() && matches!(before, Some(Block::Remarks(_))) {
            at -= 1;
        }
        self.blocks.splice(at..at, blocks);
    }
}

/// The card of the pieces and their guides, `cut` what comes from sheet.
pub(super) fn guides(plan: &ParePlan, cut: &[LaserPlan]) -> SetupSheet {
    let told = pare_sections(plan);
    let pieces = whole_pieces(plan);
    let mut sections = vec![ready(guides_ready(plan))];
    sections.extend(told.stock);
    sections.push(told.list);
    sections.extend(told.folds);
    let mut blocks = told.blocks;
    let mut wares = cut.iter().flat_map(|cut| &cut.wares);
    let from_sheet = wares.any(|ware| *ware == Ware::Guide);
    let built = from_sheet.then(|| {
        let mut words = Phrase::from("Parts from sheet: ");
        words.append(guide_words());
        Block::Remarks(vec![words])
    });
    blocks.blocks.extend(built);
    sections.push(blocks);
    sections.extend(guide_settings(plan, &pieces));
    sections.push(guide_work(&pieces));
    sections.extend(told.trims);
    sections.push(told.take_off);
    SetupSheet {
        sections,
        ..paring::blank_sheet(plan)
    }
}

/// Block and stop for every facet of every piece, and how it looks.
fn guide_settings(plan: &ParePlan, pieces: &[&PieceFigures]) -> Option<Section> {
    let mut blocks = Vec::from_iter(settings_table(pieces).map(Block::Table));
    let remarks: Vec<Vec<Phrase>> = pieces.iter().map(|piece| card_remarks(piece)).collect();
    let remarks = said_once(&remarks, |numbers| names(pieces, numbers));
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    let said = phrase!(
        "In the pictures, from above and to scale: the side that is named against fence and block, the chisel's back to the block; stop: from its face to the block's sharp corner. What lies past the chisel goes."
    );
    let mut pictures = Vec::from_iter(guide_view::whole(plan));
    pictures.extend(guide_view::of_each_kind(plan));
    if !pictures.is_empty() {
        blocks.push(Block::Remarks(vec![said]));
        blocks.push(Block::Gallery(Gallery {
            columns: 2,
            pictures,
        }));
    }
    (!blocks.is_empty()).then(|| Section {
        heading: "Settings of block and stop".into(),
        blocks,
    })
}

/// What is done with all pieces, what is counted and measured of each.
fn guide_work(pieces: &[&PieceFigures]) -> Section {
    let steps: Vec<Vec<Phrase>> = pieces.iter().map(|piece| card_steps(piece)).collect();
    let mut blocks = vec![Block::Steps(said_once(&steps, |numbers| {
        names(pieces, numbers)
    }))];
    blocks.extend(pieces.iter().map(|piece| {
        Block::Tally(Tally {
            what: format!("{} finished", plural(2, &piece.name)),
            count: piece.made,
        })
    }));
    blocks.push(Block::Checks(
        pieces.iter().map(|piece| length_check(piece)).collect(),
    ));
    Section {
        heading: "Steps, piece by piece".into(),
        blocks,
    }
}

/// `1 diagonal, 3 lock`.
fn names(pieces: &[&PieceFigures], numbers: &[usize]) -> String {
    let named = numbers.iter().filter_map(|number| pieces.get(number - 1));
    let named: Vec<String> = named.map(|piece| numbered(piece)).collect();
    named.join(", ")
}

fn length_check(piece: &PieceFigures) -> Check {
    Check {
        what: match piece.folds.is_empty() {
            true => phrase!("First {}: length over points", &piece.name),
            false => phrase!(
                "First {}: length over points, before it is bent",
                &piece.name
            ),
        },
        should: Mm(piece.length_over_points_mm).into(),
        otherwise: phrase!(
            "too long: pare once more, the table of what it takes off is the last of this part; too short: measure the cell and work out the pieces for it (pare --cell-opening)"
        ),
    }
}

/// A piece before it is pared; nothing of one that comes finished from its stick.
fn piece_ready(piece: &PieceFigures) -> Option<Phrase> {
    // Those that are trimmed later are pared like the others.
    let named = plural(piece.made, &piece.name);
    match piece.machined.as_slice() {
        [] => Some(phrase!(
            "{} {}, cut square to {}.",
            piece.made,
            named,
            Mm(piece.rough_length_mm)
        )),
        [end] => Some(phrase!(
            "{} {} from their sticks, end {} finished.",
            piece.made,
            named,
            end.name()
        )),
        _ => None,
    }
}

fn guides_ready(plan: &ParePlan) -> Vec<Phrase> {
    let blocks: Vec<String> = plan
        .blocks
        .iter()
        .map(|block| Rad(block.jig_angle).text())
        .collect();
    let mut items = Vec::new();
    if !blocks.is_empty() {
        items.push(phrase!(
            "Guide {} of {}.",
            plural(blocks.len(), "block"),
            blocks.join(", ")
        ));
    }
    items.extend(whole_pieces(plan).into_iter().filter_map(piece_ready));
    items.push(phrase!(
        "Guide with fence and stop; a stick to hold pieces by; a sharp chisel, wider than a facet and as much of the block; caliper."
    ));
    items
}
