//! What each machine would do, in a sentence.

use crate::instructions::overview::{StationOverview, Work};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::{Brief, Rad, decimal};

/// The machine, what it does, and why it does not do the rest.
pub(super) fn station_words(station: &StationOverview) -> Phrase {
    let mut words = phrase!("{}: ", &station.machine);
    for (at, work) in station.does.iter().enumerate() {
        if at > 0 {
            words.append("; ".into());
        }
        words.append(work_words(work));
    }
    if let Some((first, more)) = station.cannot.split_first() {
        if !station.does.is_empty() {
            words.append("; ".into());
        }
        words.append("cannot: ".into());
        words.append(first.message.clone());
        if !more.is_empty() {
            words.append(phrase!(
                "; {}: `lapwright build` tells all",
                counted(more.len(), "more reason")
            ));
        }
    } else if station.does.is_empty() {
        words.append("nothing to do".into());
    }
    words.append(measured_words(station));
    words
}

/// How many of its figures were measured, and since when; nothing where none was.
fn measured_words(station: &StationOverview) -> Phrase {
    let figures = &station.measured_figures;
    let dates = || figures.iter().map(|figure| figure.date.as_str());
    match (dates().min(), dates().max()) {
        (Some(first), Some(last)) if first == last => {
            phrase!("; {} measured {}", counted(figures.len(), "figure"), first)
        }
        (Some(first), Some(last)) => phrase!(
            "; {} measured {} to {}",
            counted(figures.len(), "figure"),
            first,
            last
        ),
        _ => Phrase::default(),
    }
}

fn work_words(work: &Work) -> Phrase {
    match work {
        Work::SawnNotches {
            settings,
            notches,
            bundles,
            slots_to_add,
        } => {
            let mut words = phrase!(
                "{} in {}, {} of fence and blade",
                counted(*notches, "notch place"),
                counted(*bundles, "bundle"),
                counted(*settings, "setting")
            );
            if *slots_to_add > 0 {
                words.append(phrase!(
                    "; the rack lacks {}",
                    counted(*slots_to_add, "key distance")
                ));
            }
            words
        }
        Work::RoutedNotches {
            set_ups,
            runs,
            time_s,
        } => phrase!(
            "{}, {}, about {} without clamping",
            counted(*set_ups, "set-up"),
            counted(*runs, "run"),
            minutes(*time_s)
        ),
        Work::SheetStrips { sheets, sheet_mm } => {
            let [along, across] = *sheet_mm;
            phrase!(
                "strips on {} of {} by {}",
                counted(*sheets, "sheet"),
                Brief(along),
                Brief(across)
            )
        }
        Work::SawnMitres { facets, settings } => phrase!(
            "{} of pieces on sticks, {}",
            counted(*facets, "facet"),
            counted(*settings, "setting")
        ),
        Work::RoutedMitres { facets, programs } => phrase!(
            "{} of pieces in rows, {}",
            counted(*facets, "facet"),
            counted(*programs, "program")
        ),
        Work::SawnMembers { mitres, settings } => phrase!(
            "{} of the frame, {} of the fence",
            counted(*mitres, "mitre"),
            counted(*settings, "setting")
        ),
        Work::RoutedMortises {
            mortises,
            members,
            time_s,
        } => phrase!(
            "{} in {} of the frame, about {}",
            counted(*mortises, "mortise"),
            counted(*members, "member"),
            minutes(*time_s)
        ),
        Work::Paring { facets, blocks } => paring_words(*facets, blocks),
    }
}

fn paring_words(facets: usize, blocks: &[f64]) -> Phrase {
    let mut words = phrase!("{} pared", counted(facets, "facet"));
    for (at, block) in blocks.iter().enumerate() {
        let lead = match (at, blocks.len()) {
            (0, 1) => " on a block of ",
            (0, _) => " on blocks of ",
            _ => ", ",
        };
        words.append(phrase!("{}{}", lead, Rad(*block)));
    }
    words
}

/// Whole minutes, one at least.
fn minutes(seconds: f64) -> String {
    let text = decimal((seconds / 60.0).ceil().max(1.0), 0);
    format!("{} min", text.unwrap_or_else(|_| "(not a number)".into()))
}
