//! From boards to sticks, section by section.

use super::board_view::board_end;
use super::buy::section_words;
use super::mill_words::{PlanerWords, Told, step_words};
use crate::instructions::milling::{MilledBoard, MillingStep, RingsLie, Ripped, RippedFrom};
use crate::instructions::sheet::{Block, Section};
use crate::instructions::stock_plan::{SectionStock, StockPlan, Supply};
use crate::machines::StockWishes;
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::overview::figure;
use crate::units::{Brief, Mm};

/// One for every section that is milled; pictures only on paper.
pub(super) fn milling_sections(
    plan: &StockPlan,
    wishes: &StockWishes,
    with_pictures: bool,
) -> Vec<Section> {
    let mut all = Vec::new();
    for section in &plan.sections {
        let Supply::Boards(milled) = &section.supply else {
            continue;
        };
        all.push(one(plan, section, milled, wishes, with_pictures));
    }
    all
}

fn one(
    plan: &StockPlan,
    section: &SectionStock,
    milled: &MilledBoard,
    wishes: &StockWishes,
    with_pictures: bool,
) -> Section {
    let steps: Vec<&MillingStep> = (plan.milling.iter())
        .filter(|step| step.section == section.number)
        .collect();
    let planer = PlanerWords::of(&wishes.planer);
    let told = Told {
        what: if section.used_for == "frame" {
            "member"
        } else {
            "strip"
        },
        planer: &planer,
        from_narrow: milled.ripped.from_narrow_rest,
        blanks: milled.ripped.blanks,
        least_rip_width: wishes.milling.least_rip_width.value,
        kerf: wishes.milling.kerf.value,
    };
    let sentences = steps
        .iter()
        .enumerate()
        .map(|(at, step)| step_words(step, at, &told));
    let mut size = section_words(section);
    size.append(", finished.".into());
    let mut blocks = vec![Block::Remarks(vec![size])];
    if with_pictures {
        blocks.push(Block::Picture(board_end(section, milled, wishes)));
    }
    blocks.push(Block::Steps(sentences.collect()));
    let mut remarks = vec![yield_words(milled)];
    if section.used_for == "strips" {
        remarks.extend(run_out_words(plan));
        remarks.extend(thickness_words(plan));
    }
    if section.used_for != "frame" {
        remarks.push(rings_words(milled));
        remarks.extend(milled.otherwise.as_ref().map(other_words));
    }
    blocks.push(Block::Remarks(remarks));
    let same = plan
        .sections
        .iter()
        .filter(|other| other.used_for == section.used_for);
    let number = if same.count() > 1 {
        format!(" ({})", section.number)
    } else {
        String::new()
    };
    Section {
        heading: format!("Milling: {}{number}", section.used_for),
        blocks,
    }
}

fn percent(share: f64) -> String {
    format!("{} %", figure(share * 100.0, 0))
}

/// What becomes of the wood.
fn yield_words(milled: &MilledBoard) -> Phrase {
    let Ripped {
        from,
        blanks,
        sticks_per_blank,
        shares,
        kept_of_board,
        blank_mm: [width, _],
        ..
    } = &milled.ripped;
    let of = match from {
        RippedFrom::Blanks => "of each blank",
        RippedFrom::Edge | RippedFrom::Members => "of the board",
    };
    phrase!(
        "{} off a board. Of the {} {} that they are ripped off, {} stays and {} is lost: kerfs {}, planing {}, left over {}. Of the board's whole end {} stays in finished sticks.",
        counted(blanks * sticks_per_blank, "stick"),
        Mm(*width),
        of,
        percent(shares.kept),
        percent(shares.lost()),
        percent(shares.kerfs),
        percent(shares.planed),
        percent(shares.rest),
        percent(*kept_of_board)
    )
}

/// How steep fibres may run out.
fn run_out_words(plan: &StockPlan) -> Option<Phrase> {
    let one_in = plan.run_out_one_in?;
    Some(phrase!(
        "Fibres along the strip: run-out no steeper than 1 in {}, so that a fibre stays in the strip from notch to notch (common practice, no source). Find it by a split or a swivel stylus, not by growth rings.",
        figure(one_in.ceil(), 0)
    ))
}

/// How thick, and how much strips may differ.
fn thickness_words(plan: &StockPlan) -> Option<Phrase> {
    let told = plan.thickness.as_ref()?;
    let machine = told.machine.as_deref().unwrap_or_default();
    let mut words = phrase!(
        "Strips are {} thick, as notches are reckoned.",
        Mm(told.thickness_mm)
    );
    if let Some(one_pass) = told.one_pass_mm
        && (one_pass - told.thickness_mm).abs() > 5e-3
    {
        words.append(phrase!(
            " One pass of {} suits strips of {}: plane to that and write it as thickness, or leave the lap looser.",
            machine,
            Mm(one_pass)
        ));
    }
    words.append(match told.good_within_mm {
        Some(within) => phrase!(
            " They may differ by plus or minus {} (read as {}, as {} has it): then 95 of 100 laps still go together, clearance {} and what wood gives, {}, reckoned with.",
            Brief(within),
            told.plus_minus,
            machine,
            Brief(told.clearance_mm),
            Brief(told.crush_mm)
        ),
        None => phrase!(
            " With a clearance of {} and {} that wood gives, the notches of {} alone differ by more than there is room for, however even strips are: `lapwright fit` says what helps.",
            Brief(told.clearance_mm),
            Brief(told.crush_mm),
            machine
        ),
    });
    Some(words)
}

fn lie_words(lie: RingsLie) -> &'static str {
    match lie {
        RingsLie::AcrossThickness => {
            "growth rings cross the strip's thickness: it moves least, and straight lines show in front"
        }
        RingsLie::AlongThickness => {
            "growth rings run along the strip's thickness: it moves most, and the figure of the board's face shows in front"
        }
    }
}

fn rings_words(milled: &MilledBoard) -> Phrase {
    let [flat, quarter] = milled.ripped.rings;
    match milled.board.sawn {
        Some("flat") => phrase!("Off a flat-sawn board {}.", lie_words(flat)),
        Some(_) => phrase!("Off a quarter-sawn board {}.", lie_words(quarter)),
        None => phrase!(
            "Off a flat-sawn board {}; off a quarter-sawn one {}.",
            lie_words(flat),
            lie_words(quarter)
        ),
    }
}

/// The other way to rip the same board.
fn other_words(other: &Ripped) -> Phrase {
    let way = match other.from {
        RippedFrom::Blanks => {
            "from = \"blanks\" in [stock.milling]: blanks first, strips off their thick side"
        }
        RippedFrom::Edge | RippedFrom::Members => {
            "from = \"edge\" in [stock.milling]: off the board's edge"
        }
    };
    let [flat, quarter] = other.rings;
    phrase!(
        "The same board ripped the other way ({}) gives {}, and {} of its end stays; off a flat-sawn board the rings lie {} then, off a quarter-sawn one {}.",
        way,
        counted(other.blanks * other.sticks_per_blank, "stick"),
        percent(other.kept_of_board),
        flat.name(),
        quarter.name()
    )
}
