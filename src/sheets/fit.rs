//! Whether a panel goes together, told in a screenful.

use super::overview::OverviewLine;
use crate::instructions::fit::{
    Advice, Closing, ComparedFigure, FitPlan, JointFit, PieceFit, WayFit,
};
use crate::lattice::FitWishes;
use crate::phrase;
use crate::phrase::{Phrase, Word, counted};
use crate::units::{Mm, Rad};

/// A way of working, as a heading and lines below it.
#[derive(Debug, Clone, PartialEq)]
pub struct FitLines {
    /// The way, the machine, and the answer.
    pub heading: String,
    /// What stands below.
    pub lines: Vec<OverviewLine>,
}

/// More kinds of pieces than these are told together.
const MOST_KINDS: usize = 3;

/// What is told of each way.
pub fn fit_lines(plan: &FitPlan) -> Vec<FitLines> {
    plan.ways
        .iter()
        .map(|way| way_lines(way, &plan.wishes))
        .collect()
}

fn way_lines(way: &WayFit, wishes: &FitWishes) -> FitLines {
    let mut lines = Vec::new();
    let mut tell = |label: &str, words: Phrase| lines.push(OverviewLine::new(label, words));
    if let Some(closes) = &way.closes {
        tell("closes", closing_words(closes, way, wishes));
        tell("margin", margin_words(closes, wishes));
    }
    tell("joints", joint_words(&way.joints));
    let told = way
        .compared
        .iter()
        .filter(|figure| !["width", "height"].contains(&figure.kind));
    for (at, figure) in told.enumerate() {
        tell(figure.kind, compared_words(figure, at == 0));
    }
    if let Some(flush) = &way.flush_mm {
        tell(
            "faces",
            phrase!(
                "lapped strips flush in front within {} at worst, {} (k = 2)",
                Mm(flush.known_mm.abs() + flush.worst_mm),
                Mm(flush.known_mm.abs() + flush.expanded_mm)
            ),
        );
    }
    tell("panel", panel_words(way));
    if let Some(mortises) = &way.mortises {
        tell(
            "frame",
            phrase!(
                "ends lie up to {} beside their mortises' middles as drawn, within half a room of {}: all meet in {} of the draws",
                Mm(mortises.off_mm.known_mm.abs() + mortises.off_mm.expanded_mm),
                Mm(mortises.half_room_mm),
                share(mortises.chance)
            ),
        );
    }
    if let Some(words) = piece_words(&way.pieces, wishes) {
        tell("pieces", words);
    }
    if let Some(closes) = way
        .closes
        .as_ref()
        .filter(|closes| closes.bending.force_n > 0.0)
    {
        let bending = &closes.bending;
        tell(
            "bending",
            phrase!(
                "the worst strip springs {} over {}: {} N in the middle of it (F L3 / 48 E I, E {} N/mm2 assumed, notches left out)",
                Mm(bending.deflection_mm),
                Mm(bending.span_mm),
                format!("{:.1}", bending.force_n),
                format!("{:.0}", bending.stiffness)
            ),
        );
    }
    tell("spreads", spread_words(way));
    tell("left out", phrase!("{}", way.not_predicted.join("; ")));
    for advice in &way.advice {
        tell("advice", advice_words(advice));
    }
    FitLines {
        heading: heading(way, wishes),
        lines,
    }
}

fn heading(way: &WayFit, wishes: &FitWishes) -> String {
    let answer = match &way.closes {
        None => "closing is not predicted".to_owned(),
        Some(_) if way.ok => format!(
            "goes together as often as asked ({})",
            share(wishes.least_chance)
        ),
        Some(_) => format!(
            "goes together too seldom ({} is asked for)",
            share(wishes.least_chance)
        ),
    };
    format!("{}, {}: {answer}", way.way.to_uppercase(), way.machine)
}

/// A chance in per cent.
fn share(chance: f64) -> String {
    let percent = 100.0 * chance;
    // What is not all is not told as all, nor what is not nothing as nothing.
    if percent > 99.95 && percent < 100.0 {
        return "over 99.9 %".to_owned();
    }
    if percent > 0.0 && percent < 0.05 {
        return "under 0.1 %".to_owned();
    }
    format!("{percent:.1} %")
}

fn closing_words(closes: &Closing, way: &WayFit, wishes: &FitWishes) -> Phrase {
    let [low, high] = closes.chance_within;
    let mut words = phrase!(
        "{} of {} panels drawn at random ({} to {} with 95 % confidence, Wilson)",
        share(closes.chance),
        way.draws.to_string(),
        share(low),
        share(high)
    );
    if closes.left_open > 0 {
        words.append(phrase!(
            "; {} were left open by the bounds and stand as the {} that were worked out",
            closes.left_open.to_string(),
            closes.decided_by_program.to_string()
        ));
    }
    let crush = if wishes.crush_is_assumed {
        "assumed"
    } else {
        "as the job says"
    };
    words.append(phrase!(
        "; wood gives {} at a joint, {}",
        Mm(closes.crush_mm),
        crush
    ));
    words
}

fn margin_words(closes: &Closing, wishes: &FitWishes) -> Phrase {
    let mut words = if closes.margin_mm >= 0.0 {
        phrase!("{} to spare at the worst joint", Mm(closes.margin_mm))
    } else {
        phrase!("{} lacks at the worst joint", Mm(-closes.margin_mm))
    };
    words.append(phrase!(" where nothing is random, of half its room"));
    if closes.squeeze_mm > 0.0 {
        words.append(phrase!(
            "; the press fit squeezes {} of the {} that wood gives",
            Mm(closes.squeeze_mm),
            Mm(wishes.crush)
        ));
    }
    words
}

fn joint_words(joints: &[JointFit]) -> Phrase {
    let known = joints.iter().map(|joint| joint.clearance_mm);
    let low = known.clone().fold(f64::INFINITY, f64::min);
    let high = known.fold(f64::NEG_INFINITY, f64::max);
    let worst = joints
        .iter()
        .max_by(|a, b| a.bind_chance.total_cmp(&b.bind_chance));
    let mut words = phrase!(
        "{}, {} to {} wider as cut than the strip in them",
        counted(joints.len(), "notch").replace("notchs", "notches"),
        Mm(low),
        Mm(high)
    );
    if let Some(worst) = worst {
        words.append(phrase!(
            "; likeliest to bind: {} in notch {} of {}, {} by draws, {} by formula",
            worst.mate.clone(),
            worst.notch,
            worst.strip.clone(),
            share(worst.bind_chance),
            share(worst.bind_chance_by_formula)
        ));
    }
    words
}

/// Three ways to say how far it may be off, named where they are told first.
fn compared_words(figure: &ComparedFigure, named: bool) -> Phrase {
    let place = figure.kind == "place";
    let mut words = phrase!(
        "worst {}: {} {}, ",
        figure.what.clone(),
        Mm(figure.value_mm),
        if place { "known to be off" } else { "expected" }
    );
    let three = [figure.worst_mm, figure.expanded_mm, figure.drawn_mm].map(Mm);
    let [worst, expanded, drawn] = three;
    words.append(if named {
        phrase!(
            "plus or minus {} (all at their worst), {} (root sum square, k = 2), {} (95 % of the draws)",
            worst, expanded, drawn
        )
    } else {
        phrase!("plus or minus {}, {}, {} (likewise)", worst, expanded, drawn)
    });
    words
}

fn panel_words(way: &WayFit) -> Phrase {
    let mut words = Phrase::default();
    if let ([width, height], [w, h]) = (
        way.panel.size_mm.as_slice(),
        way.panel.size_uncertainty_mm.as_slice(),
    ) {
        words.append(phrase!(
            "{} by {} over the outer faces, plus or minus {} by {} (k = 2); ",
            Mm(*width),
            Mm(*height),
            Mm(*w),
            Mm(*h)
        ));
    }
    words.append(phrase!("the bare grid racks by {}", Rad(way.panel.rack)));
    if let Some(difference) = way.panel.diagonal_difference_mm {
        words.append(phrase!(
            ", its diagonals {} apart then (outer centre lines)",
            Mm(difference)
        ));
    }
    words
}

/// Those that have bays of their own, else a few of them.
fn piece_words(pieces: &[PieceFit], wishes: &FitWishes) -> Option<Phrase> {
    if pieces.is_empty() {
        return None;
    }
    let own: Vec<&PieceFit> = pieces.iter().filter(|piece| !piece.batch).collect();
    let told: Vec<&PieceFit> = if own.is_empty() {
        pieces.iter().collect()
    } else {
        own.clone()
    };
    let mut words = if own.is_empty() {
        phrase!(
            "each kind in one batch (no bay {} off its mean): ",
            Mm(wishes.batch)
        )
    } else {
        phrase!(
            "not in one batch (bays more than {} off the mean): ",
            Mm(wishes.batch)
        )
    };
    for (at, piece) in told.iter().take(MOST_KINDS).enumerate() {
        let join = if at == 0 { "" } else { "; " };
        let [low, high] = piece.range_mm;
        words.append(phrase!(
            "{}{} {} to {} over points, drawn {}",
            join,
            piece.kind.clone(),
            Mm(low),
            Mm(high),
            Mm(piece.drawn_mm)
        ));
        if let Some([column, row]) = piece.own_bays.first() {
            let bays = counted(piece.own_bays.len(), "bay");
            words.append(phrase!(
                ", own pieces for {} (first: column {}, row {})",
                bays,
                *column,
                *row
            ));
        }
    }
    if told.len() > MOST_KINDS {
        words.append(phrase!(
            "; {} more kinds in --format json",
            told.len() - MOST_KINDS
        ));
    }
    Some(words)
}

fn spread_words(way: &WayFit) -> Phrase {
    let read = match way.plus_minus {
        "twice" => "twice the standard deviation",
        "once" => "the standard deviation",
        _ => "limits of a uniform spread",
    };
    let mut words = phrase!("plus or minus, read as {}: ", read);
    for (at, spread) in way.spreads.iter().enumerate() {
        let join = if at == 0 { "" } else { ", " };
        let marked = if spread.from == "assumed" {
            " (assumed)"
        } else {
            ""
        };
        words.append(phrase!(
            "{}{} {}{}",
            join,
            spread.what,
            Mm(spread.plus_minus_mm),
            marked
        ));
    }
    words
}

fn advice_words(advice: &Advice) -> Phrase {
    phrase!(
        "{} of the {} from {} to {}: {} go together",
        advice.setting,
        advice.of,
        Mm(advice.from_mm),
        Word::from(Mm(advice.change_mm)),
        share(advice.gain)
    )
}
