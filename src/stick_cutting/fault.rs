//! Why there is no plan.

use super::task::{Aim, CutTask, Stock, Supply};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, AtMost, Brief};

/// Longer than anything that a person saws, mm; sums stay exact below it.
const LONGEST_MM: f64 = 1e6;

/// More than a person saws.
const MOST_PARTS: usize = 10_000_000;

/// Dearer than any stick.
const DEAREST: f64 = 1e6;

/// What is wrong with a task. Parts and stocks by their places in it, lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum CutFault {
    /// A kerf has to be above zero, and finite: a saw turns wood to dust.
    Kerf,
    /// The trim has to be zero or more, and finite.
    Trim,
    /// The least length that is held has to be zero or more, and finite.
    Hold,
    /// A part's length has to be above zero and below a kilometre.
    PartLength {
        /// Which part.
        part: usize,
    },
    /// More than ten million parts.
    TooManyParts,
    /// A stock's length has to be above zero and below a kilometre.
    StockLength {
        /// Which stock.
        stock: usize,
    },
    /// There are no sticks at all.
    NoStock,
    /// A price has to be zero or more, and no more than a million.
    Price {
        /// Which stock.
        stock: usize,
    },
    /// The least cost is asked for, and this stock has no price.
    PriceMissing {
        /// Which stock.
        stock: usize,
    },
    /// No stick is long enough.
    PartTooLong {
        /// Which part.
        part: usize,
        /// The longest that could be cut: the longest stick less both trims.
        longest: f64,
    },
    /// Neither the part nor what would be left of any stick is long enough to be held, and no part that is goes
    /// beside it.
    PartNotHeld {
        /// Which part.
        part: usize,
        /// A stick this long would do.
        needed: f64,
    },
    /// There are sticks, but not enough of them.
    TooFewSticks {
        /// Parts that the best try had no stick for, and how many of each.
        lacking: Vec<(usize, usize)>,
        /// Their lengths together.
        length: f64,
        /// Whether no way whatever of cutting does with these sticks; else none was found.
        proved: bool,
    },
}

/// What is wrong before anything is worked out; all of it.
pub(super) fn faults(task: &CutTask) -> Vec<CutFault> {
    let saw = &task.saw;
    let mut faults = Vec::new();
    let is_length = |mm: f64| mm > 0.0 && mm <= LONGEST_MM;
    let is_some_or_none = |mm: f64| (0.0..=LONGEST_MM).contains(&mm);
    if !is_length(saw.kerf) {
        faults.push(CutFault::Kerf);
    }
    if !is_some_or_none(saw.trim) {
        faults.push(CutFault::Trim);
    }
    if !is_some_or_none(saw.hold) {
        faults.push(CutFault::Hold);
    }
    let parts = task.parts.iter().enumerate();
    let wrong = parts.filter(|(_, part)| !is_length(part.length));
    faults.extend(wrong.map(|(part, _)| CutFault::PartLength { part }));
    let counts = task.parts.iter().map(|part| part.count);
    if counts.fold(0, usize::saturating_add) > MOST_PARTS {
        faults.push(CutFault::TooManyParts);
    }
    if task.stocks.iter().all(|stock| stock.count == Some(0)) {
        faults.push(CutFault::NoStock);
    }
    for (at, stock) in task.stocks.iter().enumerate() {
        if !is_length(stock.length) {
            faults.push(CutFault::StockLength { stock: at });
        }
        faults.extend(price_fault(task.aim, at, stock));
    }
    faults
}

fn price_fault(aim: Aim, at: usize, stock: &Stock) -> Option<CutFault> {
    match stock.supply {
        Supply::Shop { price: Some(price) } if !(0.0..=DEAREST).contains(&price) => {
            Some(CutFault::Price { stock: at })
        }
        Supply::Shop { price: None } if aim == Aim::LeastCost => {
            Some(CutFault::PriceMissing { stock: at })
        }
        _ => None,
    }
}

impl CutFault {
    /// What is wrong, as a sentence without its end; what the part or the stock is called stands before it.
    pub fn words(&self) -> Phrase {
        match self {
            CutFault::Kerf => "a saw turns wood to dust: its kerf has to be above zero".into(),
            CutFault::Trim => "what is trimmed off a stick's ends has to be zero or more".into(),
            CutFault::Hold => "the least length that is held has to be zero or more".into(),
            CutFault::PartLength { .. } | CutFault::StockLength { .. } => {
                phrase!(
                    "a length has to be above zero and at most {}",
                    Brief(LONGEST_MM)
                )
            }
            CutFault::TooManyParts => format!("more than {MOST_PARTS} parts").into(),
            CutFault::NoStock => "there are no sticks to cut from".into(),
            CutFault::Price { .. } => {
                format!("a price has to be zero or more, at most {DEAREST}").into()
            }
            CutFault::PriceMissing { .. } => {
                "the least cost is asked for, and there is no price".into()
            }
            CutFault::PartTooLong { longest, .. } => phrase!(
                "no stick is long enough: the longest part that comes out of one is {}",
                AtMost(*longest)
            ),
            CutFault::PartNotHeld { needed, .. } => phrase!(
                "too short to be held, and so is what would be left of any stick: it takes a stick of {}, or a \
                 longer part beside it",
                AtLeast(*needed)
            ),
            CutFault::TooFewSticks {
                lacking,
                length,
                proved,
            } => {
                let count: usize = lacking.iter().map(|(_, count)| count).sum();
                let parts = if count == 1 { "part" } else { "parts" };
                let mut words = phrase!(
                    "{} {}, {} together, find no stick",
                    count.to_string(),
                    parts,
                    Brief(*length)
                );
                words.append(if *proved {
                    "".into()
                } else {
                    "; no plan was found, which proves none wrong".into()
                });
                words
            }
        }
    }
}
