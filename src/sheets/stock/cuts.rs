//! The cut list: every kind of stick, its parts in the order in which a person cuts.

use super::bar::bar;
use super::stick_view::stick_pictures;
use crate::instructions::sheet::{Block, Section};
use crate::instructions::stock_plan::{CutStick, KerfFrom, StickCut, StockPlan};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::{Brief, Mm, UnitSystem};

/// On paper: a box to tick and a picture for every kind of stick.
pub(super) fn cut_section(plan: &StockPlan) -> Option<Section> {
    let lines = (1..)
        .zip(&plan.sticks)
        .map(|(at, stick)| line(plan, at, stick));
    let blocks = vec![
        Block::Remarks(vec![how(plan)]),
        Block::Ready(lines.collect()),
    ];
    let pictures = stick_pictures(plan).into_iter().map(Block::Picture);
    (!plan.sticks.is_empty()).then(|| Section {
        heading: "Cut list".into(),
        blocks: blocks.into_iter().chain(pictures).collect(),
    })
}

/// On a terminal: a line and a bar for every kind of stick.
pub(super) fn cut_lines(plan: &StockPlan, units: UnitSystem) -> Option<Section> {
    let mut remarks = vec![how(plan)];
    for (at, stick) in (1..).zip(&plan.sticks) {
        remarks.push(line(plan, at, stick));
        remarks.push(bar(stick, units).into());
    }
    (!plan.sticks.is_empty()).then(|| Section {
        heading: "Cut list".into(),
        blocks: vec![Block::Remarks(remarks)],
    })
}

fn line(plan: &StockPlan, at: usize, stick: &CutStick) -> Phrase {
    let mut words = phrase!(
        "{}. {} of {} ({}): ",
        at,
        counted(stick.count, "stick"),
        Mm(stick.stock_mm),
        used_for(plan, stick)
    );
    words.append(cut_words(&stick.cuts));
    words.append(phrase!("; {} left.", Brief(stick.left_mm)));
    words
}

fn used_for(plan: &StockPlan, stick: &CutStick) -> &'static str {
    plan.section(stick.section)
        .map_or("", |section| section.used_for)
}

/// Kerf, ends and what is held, with where they are from.
fn how(plan: &StockPlan) -> Phrase {
    let cutting = &plan.cutting;
    let from = match cutting.kerf_from {
        KerfFrom::Job => "the job's",
        KerfFrom::Sled => "the sled's",
        KerfFrom::Example => "an example",
    };
    phrase!(
        "Kerf {} ({}); {} off each end of a stick, that kerf included; what is held while a part comes off is never shorter than {}{}. Cut in the order of the line, measuring each part from the last cut.",
        Brief(cutting.kerf_mm),
        from,
        Brief(cutting.trim_mm),
        Brief(cutting.least_held_mm),
        if cutting.least_held_is_own {
            ""
        } else {
            " (example: your machine's manual says)"
        }
    )
}

/// Equal parts after each other are told once.
fn cut_words(cuts: &[StickCut]) -> Phrase {
    let mut words = Phrase::default();
    for (at, run) in cuts.chunk_by(|a, b| a.need == b.need).enumerate() {
        let Some(first) = run.first() else { continue };
        let lead = if at == 0 { "" } else { ", " };
        words.append(match run.len() {
            1 => phrase!("{}{} {}", lead, &first.what, Brief(first.length_mm)),
            count => phrase!(
                "{}{} x {} {}",
                lead,
                count,
                &first.what,
                Brief(first.length_mm)
            ),
        });
    }
    words
}
