//! What to buy, and what it comes to.

use crate::instructions::milling::MilledBoard;
use crate::instructions::overview::StockGlance;
use crate::instructions::sheet::{Block, Section};
use crate::instructions::stock_plan::{
    BoughtSticks, BoundIn, BoundOf, SectionStock, StockPlan, Supply,
};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::overview::figure;
use crate::units::{Brief, Mm};

/// Things to buy, each with a box to tick, then what they come to.
pub(super) fn buy_section(plan: &StockPlan) -> Section {
    let mut ready: Vec<Phrase> = Vec::new();
    for section in &plan.sections {
        match &section.supply {
            Supply::Sticks { bought } => {
                ready.extend(
                    bought
                        .iter()
                        .map(|sticks| bought_words(section, sticks, plan)),
                );
            }
            Supply::Boards(milled) => ready.push(board_words(section, milled, plan)),
        }
    }
    let mut blocks = Vec::new();
    if ready.is_empty() {
        blocks.push(Block::Remarks(vec![
            "No stick is needed: nothing is made from sticks here.".into(),
        ]));
    } else {
        blocks.push(Block::Ready(ready));
        let sections = plan.sections.iter();
        let mut remarks: Vec<Phrase> = sections.map(sticks_line).collect();
        remarks.push(price_words(plan));
        remarks.extend(examples_words(plan));
        blocks.push(Block::Remarks(remarks));
    }
    Section {
        heading: "To buy, or to take from the shop".into(),
        blocks,
    }
}

fn wood(section: &SectionStock) -> String {
    section
        .wood
        .as_ref()
        .map_or_else(String::new, |wood| format!(" of {wood}"))
}

/// What a section's sticks are for, and their section.
pub(super) fn section_words(section: &SectionStock) -> Phrase {
    let [across, deep] = section.section_mm;
    phrase!("{} {} x {}", section.used_for, Brief(across), Brief(deep))
}

fn bought_words(section: &SectionStock, sticks: &BoughtSticks, plan: &StockPlan) -> Phrase {
    let mut words = match sticks.packs {
        Some(packs) => phrase!(
            "{} of {} sticks of {}{} for the ",
            counted(packs, "pack"),
            sticks.pack,
            Mm(sticks.length_mm),
            wood(section)
        ),
        None => phrase!(
            "{} of {}{} for the ",
            counted(sticks.count, "stick"),
            Mm(sticks.length_mm),
            wood(section)
        ),
    };
    words.append(section_words(section));
    if sticks.in_hand {
        words.append(", from your shop.".into());
        return words;
    }
    if let Some(there) = sticks.at_hand {
        words.append(phrase!(" ({} to be had)", there));
    }
    words.append(own_price(sticks.price, plan));
    words
}

fn own_price(price: Option<f64>, plan: &StockPlan) -> Phrase {
    match price {
        Some(price) => phrase!(": {}", money(price, plan)),
        None => phrase!("."),
    }
}

fn money(price: f64, plan: &StockPlan) -> String {
    let currency = plan.currency.as_ref();
    let currency = currency.map_or_else(String::new, |currency| format!(" {currency}"));
    format!("{}{currency}", figure(price, 2))
}

fn board_words(section: &SectionStock, milled: &MilledBoard, plan: &StockPlan) -> Phrase {
    let board = &milled.board;
    let sawn = board
        .sawn
        .map_or_else(String::new, |sawn| format!(", {sawn}-sawn"));
    let mut words = phrase!(
        "{}{} {} thick, {} wide, {} long{}{} for the ",
        counted(milled.boards, "board"),
        wood(section),
        Mm(board.thickness_mm),
        Mm(board.width_mm),
        Mm(board.length_mm),
        sawn,
        if board.is_own { "" } else { " (example sizes)" }
    );
    words.append(section_words(section));
    if let Some(there) = milled.at_hand {
        words.append(phrase!(" ({} to be had)", there));
    }
    words.append(own_price(milled.price, plan));
    words
}

/// How many sticks, how good the plan is.
fn sticks_line(section: &SectionStock) -> Phrase {
    let mut words = section_words(section);
    words.append(phrase!(": {} to cut up", counted(section.sticks, "stick")));
    if let Supply::Boards(milled) = &section.supply {
        let each = milled.ripped.blanks * milled.ripped.sticks_per_blank;
        words.append(phrase!(
            ", each {} long, {} off a board",
            Brief(milled.stick_mm),
            each
        ));
    }
    words.append(proof_words(section));
    words
}

/// How good the plan is, by the bound.
fn proof_words(section: &SectionStock) -> Phrase {
    let (does, least) = match (section.bound_in, section.bound_of) {
        (BoundIn::Cost, _) => ("costs less", figure(section.bound, 2)),
        (BoundIn::Sticks, BoundOf::Bought) if section.has_in_hand() => {
            ("buys fewer", figure(section.bound, 0))
        }
        (BoundIn::Sticks, _) => ("takes fewer", figure(section.bound, 0)),
    };
    if section.proved {
        return phrase!("; no plan {}.", does);
    }
    phrase!(
        "; no plan {} than {}, and whether one {} than this is open.",
        does,
        least,
        does
    )
}

/// What it all comes to.
pub(super) fn wood_section(plan: &StockPlan) -> Section {
    Section {
        heading: "Volume and weight".into(),
        blocks: vec![Block::Remarks(vec![wood_words(plan)])],
    }
}

/// In metres and feet, kilograms and pounds: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg, exactly.
fn metres(metres: f64) -> String {
    format!(
        "{} m ({} ft)",
        figure(metres, 2),
        figure(metres / 0.3048, 1)
    )
}

fn wood_words(plan: &StockPlan) -> Phrase {
    let mut words = phrase!(
        "Finished parts with spares: {}, {} m3 ({} board feet)",
        metres(plan.metres),
        figure(plan.volume_m3, 6),
        figure(plan.board_feet, 3)
    );
    words.append(match plan.kg {
        Some(kg) => phrase!(
            ", about {} kg ({} lb)",
            figure(kg, 3),
            figure(kg / 0.453_592_37, 2)
        ),
        None => phrase!("; weight not known: name a wood of the table, or say `density`"),
    });
    let mut densities: Vec<String> = Vec::new();
    for density in plan
        .sections
        .iter()
        .filter_map(|section| section.density.as_ref())
    {
        let wood = density.wood.as_deref().unwrap_or("wood");
        let words = format!(
            "{wood} {} kg/m3 ({}: {})",
            figure(density.kg_per_m3, 0),
            density.basis.words(),
            density.source
        );
        if !densities.contains(&words) {
            densities.push(words);
        }
    }
    if plan.kg.is_some() {
        words.append(phrase!(", by {}", densities.join("; ")));
    }
    let boards = plan
        .sections
        .iter()
        .filter_map(|section| match &section.supply {
            Supply::Boards(milled) => Some(milled),
            Supply::Sticks { .. } => None,
        });
    let boards: Vec<&Box<MilledBoard>> = boards.collect();
    if !boards.is_empty() {
        let volume: f64 = boards.iter().map(|milled| milled.volume_m3).sum();
        let exact: f64 = boards.iter().map(|milled| milled.board_feet).sum();
        let dealt: f64 = boards.iter().map(|milled| milled.board_feet_hardwood).sum();
        words.append(phrase!(
            ". Boards to buy for it: {} m3, {} board feet; as a dealer in hardwood counts {}",
            figure(volume, 4),
            figure(exact, 2),
            figure(dealt, 2)
        ));
    }
    words.append(".".into());
    words
}

fn price_words(plan: &StockPlan) -> Phrase {
    match plan.price {
        Some(price) => phrase!("Price by your own figures: {}.", money(price, plan)),
        None => phrase!(
            "Price not known: the job has none at {}.",
            plan.without_price.join(", ")
        ),
    }
}

fn examples_words(plan: &StockPlan) -> Option<Phrase> {
    (!plan.stock_is_given).then(|| {
        "The job has no [stock]: boards, allowances and spares are examples (common practice, no source). \
         `lapwright help job` has the keys."
            .into()
    })
}

/// In a line: metres and sticks.
pub(in crate::sheets) fn sticks_words(glance: &StockGlance) -> Phrase {
    let mut words = phrase!("{} with spares", metres(glance.metres));
    for (at, sticks) in glance.sticks.iter().enumerate() {
        let lead = if at == 0 { ": " } else { "; " };
        words.append(phrase!(
            "{}{} for {}",
            lead,
            counted(sticks.count, "stick"),
            sticks.used_for
        ));
    }
    words
}
