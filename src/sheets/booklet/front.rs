//! The first page: the panel, the order of the whole work with the cards that it takes, and what has to
//! lie ready for all of them.

use super::assembly::panel;
use super::work::BookletWork;
use crate::instructions::advice::Advice;
use crate::instructions::drawing::Drawing;
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::lattice::Bundle;
use crate::phrase;
use crate::phrase::{Phrase, counted, plural};
use crate::sheets::advice_words;
use crate::sheets::panel_size::{size_figures, size_remarks};
use crate::units::{Mm, decimal};

/// The first page of a booklet with these cards.
pub(super) fn front(
    work: &BookletWork<'_>,
    cards: &[SetupSheet],
    drawn: Option<Drawing>,
) -> Vec<Section> {
    let mut figures = work.size.map(size_figures).unwrap_or_default();
    figures.push(strips(work));
    figures.extend(pieces(work));
    let mut blocks = vec![Block::Picture(panel(work, drawn)), Block::Figures(figures)];
    let mut remarks: Vec<Phrase> = work.advice.map(advice).into_iter().collect();
    remarks.extend(work.size.map(size_remarks).unwrap_or_default());
    blocks.extend((!remarks.is_empty()).then_some(Block::Remarks(remarks)));
    let mut sections = vec![
        Section {
            heading: "The panel".into(),
            blocks,
        },
        Section {
            heading: "Order of the work".into(),
            blocks: vec![Block::Steps(order(work, cards))],
        },
    ];
    sections.extend(ready(work));
    sections
}

/// What would change the work most is said first.
fn advice(advice: &Advice) -> Phrase {
    let mut words = Phrase::from("Before you begin: ");
    words.append(advice_words(advice));
    words.append(".".into());
    words
}

fn metres(mm: f64) -> String {
    format!("{} m", decimal(mm / 1000.0, 2).unwrap_or_default())
}

/// How many strips of which kind, and how much wood.
fn strips(work: &BookletWork<'_>) -> Figure {
    let lattice = work.lattice;
    let whole: f64 = bundles(work)
        .map(|bundle| bundle.length * count(bundle))
        .sum();
    let families = (0..lattice.families.len()).filter_map(|family| {
        let own = lattice
            .strips
            .iter()
            .filter(|strip| strip.id.family == family);
        let own = own.count();
        (own > 0).then(|| format!("{own} {}", plural(own, lattice.family_name(family))))
    });
    let section = &lattice.section;
    let mut words = Phrase::from(families.collect::<Vec<_>>().join(", "));
    words.append(phrase!(
        "; {} in all, end to end with overhangs, {} thick, {} deep",
        metres(whole),
        Mm(section.thickness),
        Mm(section.depth)
    ));
    Figure::new("strips", lattice.strips.len(), words)
}

fn bundles<'a>(work: &BookletWork<'a>) -> impl Iterator<Item = &'a Bundle> {
    work.lattice.bundles.iter()
}

fn count(bundle: &Bundle) -> f64 {
    bundle.strips.len() as f64
}

/// How many pieces in how many cells.
fn pieces(work: &BookletWork<'_>) -> Option<Figure> {
    let plan = work.pare?;
    let whole = plan.pieces.iter().map(|piece| piece.count).sum::<usize>();
    let mut words = phrase!(
        "{} in {}",
        counted(plan.pieces.len(), "kind"),
        counted(plan.cells_filled + plan.cells_trimmed, "cell")
    );
    // What comes from long sticks is counted with these.
    if plan.mitres.is_none() && plan.routed.is_none() {
        let rough = plan.pieces.iter().map(|piece| {
            let made = piece.made as f64;
            made * piece.rough_length_mm
        });
        words.append(phrase!(
            "; {} in all, cut square to their rough lengths",
            metres(rough.sum())
        ));
    }
    Some(Figure::new("pieces", whole, words))
}

/// One list for the whole work; ways to the same strips are told as such.
fn order(work: &BookletWork<'_>, cards: &[SetupSheet]) -> Vec<Phrase> {
    let card = |part: SheetPart| cards.iter().find(|card| card.part == part);
    let mut steps = Vec::new();
    steps.extend(wood_step(&card));
    steps.extend(strips_step(work, &card));
    let bench = card(SheetPart::Assembly).map_or("", |card| card.heading.as_str());
    if !work.lattice.strips_are_cut {
        steps.push(phrase!(
            "Dry fit the grid and measure its bays (card {}).",
            bench
        ));
        steps.push(phrase!("Glue the grid (the same card)."));
    } else {
        steps.push(phrase!(
            "The strips are cut: put the grid together by card {}.",
            bench
        ));
    }
    if work.pare.is_some() {
        let sawn = card(SheetPart::Mitres).map(|card| card.heading.as_str());
        let guides = card(SheetPart::Pieces).map_or("", |card| card.heading.as_str());
        let mut words = Phrase::from("Make the pieces: ");
        words.append(match sawn {
            Some(sawn) => phrase!("cards {}, then {}", sawn, guides),
            None => phrase!("card {}", guides),
        });
        words.append(phrase!(". Set them: card {}.", bench));
        steps.push(words);
    }
    steps.push(phrase!(
        "Flush the faces with a fine plane or a sanding board; then trim the overhangs (card {}).",
        bench
    ));
    if let Some(card) = card(SheetPart::Rails) {
        steps.push(phrase!(
            "Make the frame and fit the panel: card {}.",
            &card.heading
        ));
    }
    steps
}

/// Buying and milling.
fn wood_step<'c>(card: &impl Fn(SheetPart) -> Option<&'c SetupSheet>) -> Option<Phrase> {
    let shopping = card(SheetPart::Stock)?;
    Some(match card(SheetPart::Milling) {
        Some(milling) => phrase!(
            "Buy the wood and cut it up (card {}), mill it to sticks (card {}).",
            &shopping.heading,
            &milling.heading
        ),
        None => phrase!("Buy the wood and cut it up (card {}).", &shopping.heading),
    })
}

/// Which cards lead to the strips.
fn strips_step<'c>(
    work: &BookletWork<'_>,
    card: &impl Fn(SheetPart) -> Option<&'c SetupSheet>,
) -> Vec<Phrase> {
    let mut steps = Vec::new();
    let wares = || work.laser.iter().map(|plan| plan.what.as_str());
    let by_laser = wares().any(|what| what == "strips");
    let ways: Vec<&str> = [SheetPart::Sled, SheetPart::Router, SheetPart::Laser]
        .into_iter()
        .filter(|part| *part != SheetPart::Laser || by_laser)
        .filter_map(|part| Some(card(part)?.heading.as_str()))
        .collect();
    let jigs: Vec<&str> = wares()
        .filter(|what| !matches!(*what, "strips" | "pieces" | "lapped blanks"))
        .collect();
    if let (false, Some(laser)) = (jigs.is_empty(), card(SheetPart::Laser)) {
        steps.push(phrase!(
            "Cut from sheet what is not at hand: {} (card {}).",
            jigs.join(", "),
            &laser.heading
        ));
    }
    match ways.as_slice() {
        [] => {}
        [only] => steps.push(phrase!("Cut the strips to length and notch them: card {}.", *only)),
        [others @ .., last] => steps.push(phrase!(
            "Choose ONE way for the strips; each makes all of them with all their notches: card {}, or card {}. Put the others' cards aside{}.",
            others.join(", or card "),
            *last,
            if by_laser {
                "; unless it is the last, nothing of the sheets of strips is cut"
            } else {
                ""
            }
        )),
    }
    if let (true, Some(laser)) = (wares().any(|what| what == "pieces"), card(SheetPart::Laser)) {
        steps.push(phrase!(
            "Pieces may come from sheet too (card {}): none of these is made at the guides then.",
            &laser.heading
        ));
    }
    steps
}

/// The strips for whichever way, asked for once: a row for each length.
fn ready(work: &BookletWork<'_>) -> Option<Section> {
    if work.lattice.strips_are_cut {
        return None;
    }
    let row = |bundle: &Bundle| {
        vec![
            TableCell::Count(bundle.strips.len()),
            TableCell::Text(work.lattice.family_name(bundle.family).into()),
            TableCell::Text(work.labels(bundle)),
            TableCell::Length(bundle.length),
        ]
    };
    let section = &work.lattice.section;
    let caption = phrase!(
        "Strips, {} thick, {} deep{}, cut square to these lengths, overhangs included; the same for every way.",
        Mm(section.thickness),
        Mm(section.depth),
        match &section.wood {
            Some(wood) => format!(", {wood}"),
            None => String::new(),
        }
    );
    Some(Section {
        heading: "Have ready".into(),
        blocks: vec![Block::Table(Table {
            caption,
            columns: vec!["count", "strips", "labels", "length"],
            rows: bundles(work).map(row).collect(),
        })],
    })
}
