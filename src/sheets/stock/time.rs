//! How long it takes, in words.

use crate::instructions::sheet::{Block, Section};
use crate::instructions::stock_plan::StockPlan;
use crate::instructions::work_time::{WayTime, WorkCount};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::overview::figure;

/// Strips way by way, pieces way by way, assembly, and whose rates they are.
pub(super) fn time_section(plan: &StockPlan) -> Section {
    let time = &plan.time;
    let mut remarks: Vec<Phrase> = Vec::new();
    remarks.extend(
        time.strips
            .iter()
            .map(|way| way_words("Notches of the strips", way)),
    );
    remarks.extend(faster("notches", &time.strips));
    remarks.extend(
        time.pieces
            .iter()
            .map(|way| way_words("Mitres of the pieces", way)),
    );
    remarks.extend(faster("mitres", &time.pieces));
    remarks.push(way_words("Putting it together", &time.assembly));
    remarks.push(rates_words(plan));
    Section {
        heading: "Time".into(),
        blocks: vec![Block::Remarks(remarks)],
    }
}

fn minutes(seconds: f64) -> String {
    let whole = (seconds / 60.0).round().max(1.0);
    if whole < 120.0 {
        return format!("{} min", figure(whole, 0));
    }
    format!("{} h", figure(whole / 60.0, 1))
}

fn way_words(what: &str, way: &WayTime) -> Phrase {
    let mut lead = format!("{what}, {}", way.way);
    if let Some(machine) = &way.machine {
        lead.push_str(&format!(" ({machine})"));
    }
    if way.way == "bench" {
        lead = what.to_owned();
    }
    let counts: Vec<String> = way.work.iter().map(count_words).collect();
    let mut counts = counts.join(", ");
    if let Some(machine_s) = way.machine_s {
        let lead = if counts.is_empty() { "" } else { ", " };
        counts.push_str(&format!("{lead}programs {}", minutes(machine_s)));
    }
    match (way.time_s, way.not_told) {
        (Some(time), _) => phrase!("{}: about {} ({}).", lead, minutes(time), counts),
        (None, why) => {
            let counts = if counts.is_empty() {
                counts
            } else {
                format!(" ({counts})")
            };
            phrase!(
                "{}: not told, {}{}.",
                lead,
                why.unwrap_or("not known"),
                counts
            )
        }
    }
}

fn count_words(work: &WorkCount) -> String {
    let noun = match work.rate {
        "setting" => "setting",
        "cut" => "cut",
        "block" => "guide block",
        "facet" => "pared facet",
        "piece" => "piece fitted",
        "strip" => "strip laid in",
        _ => "load",
    };
    let (first, rest) = noun.split_once(' ').unwrap_or((noun, ""));
    match (noun, rest) {
        ("guide block" | "pared facet", _) => counted(work.count, noun),
        (_, "") => counted(work.count, noun),
        _ => format!("{} {rest}", counted(work.count, first)),
    }
}

/// Which of several ways is faster, as far as they can be told.
fn faster(what: &str, ways: &[WayTime]) -> Option<Phrase> {
    let mut told: Vec<(&WayTime, f64)> = ways
        .iter()
        .filter_map(|way| Some((way, way.time_s?)))
        .collect();
    told.sort_by(|a, b| a.1.total_cmp(&b.1));
    let (first, second) = (told.first()?, told.get(1)?);
    let unknown = ways.len() > told.len();
    Some(phrase!(
        "By these figures the {} way is the fastest for the {} of this panel, {} against {}{}: a difference of less than half says little.",
        first.0.way,
        what,
        minutes(first.1),
        minutes(second.1),
        if unknown {
            ", as far as they can be told"
        } else {
            ""
        }
    ))
}

fn rates_words(plan: &StockPlan) -> Phrase {
    let rates = &plan.time.rates;
    let examples: Vec<&str> = (rates.iter())
        .filter(|rate| !rate.is_own)
        .map(|rate| rate.rate)
        .collect();
    if examples.len() == rates.len() {
        return "All rates are examples (common practice, no source): put your own in [rates] of the job. Milling, \
                breaks, sharpening and what goes wrong are not in it."
            .into();
    }
    if examples.is_empty() {
        return "By your own rates; milling, breaks, sharpening and what goes wrong are not in it."
            .into();
    }
    phrase!(
        "By your own rates, but for these examples: {}. Milling, breaks, sharpening and what goes wrong are not in it.",
        examples.join(", ")
    )
}
