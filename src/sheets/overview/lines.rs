//! The figures of a panel, one thing a line.

use super::stations::station_words;
use super::weights::{figure, weight_lines};
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::overview::{
    FrameOverview, GridFigures, Metres, Overview, PieceCount, StripKind, TrimKind, TrimPlace,
};
use crate::instructions::panel_size::{PanelSize, TrimmedEnd};
use crate::phrase;
use crate::phrase::{Phrase, counted, plural};
use crate::sheets::advice::advice_in_short;
use crate::sheets::as_built::bays_words;
use crate::sheets::stock::sticks_words;
use crate::units::{Brief, Mm, Rad, UnitSystem};

/// One thing that is told of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct OverviewLine {
    /// What it is about; unlike that of any other line.
    pub label: String,
    /// What is said.
    pub words: Phrase,
}

impl OverviewLine {
    /// A line of a short answer.
    pub(in crate::sheets) fn new(label: &str, words: Phrase) -> Self {
        OverviewLine {
            label: label.to_owned(),
            words,
        }
    }
}

/// More lengths of a family's strips than this are summed up.
const MOST_LENGTHS: usize = 2;

/// More kinds of pieces than this are told elsewhere.
const MOST_KINDS: usize = 4;

/// All that is told of a panel, in the order in which it is asked for. Metres and kilograms are told
/// in feet and pounds to whom reads inches.
pub fn overview_lines(overview: &Overview, units: UnitSystem) -> Vec<OverviewLine> {
    let mut lines = Vec::new();
    let mut tell = |label: &str, words: Phrase| lines.push(OverviewLine::new(label, words));
    tell(
        "grid",
        match overview.as_built {
            Some(_) => built_grid_words(&overview.grid),
            None => grid_words(&overview.grid),
        },
    );
    if let Some(as_built) = &overview.as_built {
        let mut words = phrase!("the strips are cut; ");
        words.append(bays_words(as_built));
        tell("as built", words);
    }
    tell("section", section_words(overview));
    tell("finished", finished_words(overview));
    if let Some(words) = opening_words(&overview.size) {
        tell("opening", words);
    }
    if let Some(words) = frame_words(overview) {
        tell("frame", words);
    }
    if let Some(words) = overview.frame.as_ref().and_then(corner_words) {
        tell("corners", words);
    }
    if let Some(words) = reveal_words(overview) {
        tell("open", words);
    }
    match &overview.trim {
        Some(trim) => tell("trim", place_words(trim)),
        None => {
            for kinds in overview.trims.chunk_by(|a, b| a.kind == b.kind) {
                let name = kinds.first().map_or("strip", |kind| kind.kind);
                let words = match overview.as_built {
                    Some(_) => built_trim_words(kinds),
                    None => family_trim_words(kinds),
                };
                tell(&format!("trim {name}s"), words);
            }
        }
    }
    tell("strips", strip_words(&overview.strips));
    if !overview.pieces.is_empty() {
        tell("pieces", piece_words(&overview.pieces));
    }
    tell("cells", cell_words(overview));
    tell("joints", joint_words(overview));
    tell("wood", wood_words(overview.metres, units));
    if let Some(stock) = &overview.stock {
        tell("stock", sticks_words(stock));
    }
    for (label, words) in weight_lines(overview, units) {
        tell(label, words);
    }
    for station in &overview.machines {
        tell(station.station, station_words(station));
    }
    if let Some(advice) = &overview.advice {
        tell("less work", advice_in_short(advice));
    }
    lines
}

fn grid_words(grid: &GridFigures) -> Phrase {
    match grid {
        GridFigures::Square {
            pitches_x_mm,
            pitches_y_mm,
        } => {
            let mut words = phrase!(
                "square, {} by {}; between centre lines ",
                counted(pitches_x_mm.len(), "column"),
                counted(pitches_y_mm.len(), "row")
            );
            words.append(pitch_words(pitches_x_mm));
            words.append(" across, ".into());
            words.append(pitch_words(pitches_y_mm));
            words.append(" up".into());
            words
        }
        GridFigures::Diamond { pitch_mm, angle } => phrase!(
            "diamond, {} between centre lines, square to them; {} between the families",
            Mm(*pitch_mm),
            Rad(*angle)
        ),
        GridFigures::Triangular { side_mm } => {
            phrase!("triangular, {} from node to node", Mm(*side_mm))
        }
    }
}

/// Bays as built have their own line, and each a pitch of its own.
fn built_grid_words(grid: &GridFigures) -> Phrase {
    match grid {
        GridFigures::Square {
            pitches_x_mm,
            pitches_y_mm,
        } => phrase!(
            "square, {} by {}",
            counted(pitches_x_mm.len(), "column"),
            counted(pitches_y_mm.len(), "row")
        ),
        slanted => grid_words(slanted),
    }
}

/// Runs of equal pitches are told once.
fn pitch_words(pitches: &[f64]) -> Phrase {
    let same = |a: &f64, b: &f64| (a - b).abs() < SAME_POSITION_MM;
    let runs: Vec<&[f64]> = pitches.chunk_by(same).collect();
    let mut words = Phrase::default();
    for (at, run) in runs.iter().enumerate() {
        let pitch = run.first().copied().unwrap_or_default();
        let lead = if at == 0 { "" } else { " + " };
        words.append(match (runs.len(), run.len()) {
            (1, _) | (_, 1) => phrase!("{}{}", lead, Brief(pitch)),
            (_, count) => phrase!("{}{} x {}", lead, count, Brief(pitch)),
        });
    }
    words
}

fn section_words(overview: &Overview) -> Phrase {
    let section = &overview.section;
    let mut words = phrase!(
        "{} thick as seen, {} deep, clearance {}",
        Mm(section.thickness_mm),
        Mm(section.depth_mm),
        Brief(section.clearance_mm)
    );
    if let Some([thickness, depth]) = section.pieces_mm {
        words.append(phrase!("; pieces {} by {}", Brief(thickness), Brief(depth)));
    }
    if let Some(stock) = &overview.measured_stock {
        words.append(phrase!(
            "; as measured, drawn {} by {}",
            Brief(stock.drawn_thickness_mm),
            Brief(stock.drawn_depth_mm)
        ));
    }
    words
}

fn finished_words(overview: &Overview) -> Phrase {
    let [wide, high] = overview.over_all_mm;
    match (overview.finished_mm, overview.size.inside_mm) {
        (Some([width, height]), _) => {
            let over = match overview.frame {
                Some(_) => "over the frame's outer faces",
                None => "over the strips' ends, cut off flush",
            };
            let mut words = phrase!("{} wide, {} high {}", Mm(width), Mm(height), over);
            let is_more = |a: f64, b: f64| (a - b).abs() > SAME_POSITION_MM;
            if is_more(wide, width) || is_more(high, height) {
                words.append(phrase!(
                    "; over the outer faces of strips along the edge {} wide, {} high",
                    Mm(wide),
                    Mm(high)
                ));
            }
            words
        }
        (None, Some([width, height])) if overview.frame.is_some() => phrase!(
            "{} wide, {} high inside the frame; the job does not say how wide its members are",
            Mm(width),
            Mm(height)
        ),
        (None, _) => phrase!(
            "no upright rectangle; the least one round all wood is {} wide, {} high",
            Mm(wide),
            Mm(high)
        ),
    }
}

fn opening_words(size: &PanelSize) -> Option<Phrase> {
    let opening = size.opening.as_ref()?;
    let [width, height] = opening.opening_mm;
    let mut words = phrase!(
        "{} wide, {} high, measured at {}",
        Mm(width),
        Mm(height),
        opening.measured.words()
    );
    if opening.play_mm > 0.0 {
        words.append(phrase!("; play {} at every side", Mm(opening.play_mm)));
    }
    if opening.scribe.is_some() {
        words.append("; out of square".into());
    }
    Some(words)
}

fn frame_words(overview: &Overview) -> Option<Phrase> {
    let frame = overview.frame.as_ref()?;
    let mut words = phrase!(
        "{}, {} thick, {}",
        counted(frame.members, "member"),
        Mm(frame.thickness_mm),
        frame.joint.words()
    );
    if let Some([width, height]) = overview.size.inside_mm {
        words.append(phrase!("; inside {} wide, {} high", Mm(width), Mm(height)));
    }
    Some(words)
}

/// What no machine's line tells: how the members are joined, and what of it is left to the bench.
fn corner_words(frame: &FrameOverview) -> Option<Phrase> {
    let mut words = match &frame.tenons {
        Some(tenons) => phrase!(
            "{} {} long, {} thick: no machine here has settings for them",
            counted(tenons.count, "tenon"),
            Mm(tenons.length_mm),
            Brief(tenons.thickness_mm)
        ),
        None if frame.mitres > 0 => phrase!("{}", counted(frame.mitres, "mitre")),
        None => return None,
    };
    if frame.mortises > 0 {
        words.append(phrase!(
            "; {} for strips, {} deep",
            counted(frame.mortises, "mortise"),
            Brief(frame.mortise_depth_mm)
        ));
    }
    Some(words)
}

fn reveal_words(overview: &Overview) -> Option<Phrase> {
    let [beside, above] = overview.size.reveal_mm?;
    let is_flush = |mm: f64| mm.abs() < SAME_POSITION_MM;
    if is_flush(beside) && is_flush(above) {
        return None;
    }
    let from = match overview.frame {
        Some(_) => "from the frame's inner faces",
        None => "from the strips' trimmed ends",
    };
    Some(phrase!(
        "{} at the sides, {} above, below: {} to the outer strips",
        Mm(beside),
        Mm(above),
        from
    ))
}

fn place_words(place: &TrimPlace) -> Phrase {
    let cut = match place.ends {
        TrimmedEnd::LetIn => "the cut in the mortise",
        TrimmedEnd::Flush => "the flush cut",
    };
    let mut words = phrase!("{} from the strip's end to {}", Mm(place.from_end_mm), cut);
    match place.from_last_notch_mm {
        Some(mm) => words.append(phrase!(", {} from the last notch's middle", Mm(mm))),
        None => words.append("; from the last notch it differs".into()),
    }
    words
}

/// All strips together where they are cut off alike, else one kind after the other where there are few.
fn family_trim_words(kinds: &[TrimKind]) -> Phrase {
    if let Some(shared) = TrimPlace::shared(kinds.iter().flat_map(|kind| &kind.places)) {
        return place_words(&shared);
    }
    let alone = kinds
        .iter()
        .map(|kind| Some((kind, TrimPlace::shared(&kind.places)?)));
    let alone: Option<Vec<(&TrimKind, TrimPlace)>> = alone.collect();
    let Some(alone) = alone.filter(|alone| alone.len() <= MOST_LENGTHS) else {
        let is_let_in = |place: &TrimPlace| place.ends == TrimmedEnd::LetIn;
        let let_in = kinds.iter().flat_map(|kind| &kind.places).any(is_let_in);
        let list = if let_in {
            "; `lapwright rails` has the list"
        } else {
            ", flush with the panel's edge"
        };
        return phrase!("differs from strip to strip{}", list);
    };
    let mut words = Phrase::default();
    for (at, (kind, place)) in alone.iter().enumerate() {
        let lead = if at == 0 { "" } else { "; " };
        words.append(phrase!("{}{} ", lead, &kind.strips));
        words.append(place_words(place));
    }
    words
}

/// Of strips that are cut the far ends have what the bays are off: only the last notch is a place to measure
/// from.
fn built_trim_words(kinds: &[TrimKind]) -> Phrase {
    let mut places = kinds.iter().flat_map(|kind| &kind.places);
    let first = places.next().and_then(|first| first.from_last_notch_mm);
    let alike = |place: &TrimPlace| {
        let both = first.zip(place.from_last_notch_mm);
        both.is_some_and(|(a, b)| (a - b).abs() < SAME_POSITION_MM)
    };
    match first.filter(|_| places.all(alike)) {
        Some(from_notch) => phrase!(
            "{} from the last notch's middle to the cut; from the strip's end it differs by what the bays are off",
            Mm(from_notch)
        ),
        None => family_trim_words(kinds),
    }
}

/// By family; a family of many lengths is summed up.
fn strip_words(strips: &[StripKind]) -> Phrase {
    let mut words = Phrase::default();
    for (at, kinds) in strips.chunk_by(|a, b| a.kind == b.kind).enumerate() {
        if at > 0 {
            words.append("; ".into());
        }
        if kinds.len() > MOST_LENGTHS {
            words.append(many_strips(kinds));
            continue;
        }
        for (at, kind) in kinds.iter().enumerate() {
            let lead = if at == 0 { "" } else { ", " };
            words.append(phrase!(
                "{}{} {} (trimmed {})",
                lead,
                counted(kind.count, kind.kind),
                Mm(kind.length_mm),
                Mm(kind.trimmed_mm)
            ));
        }
    }
    words
}

fn many_strips(kinds: &[StripKind]) -> Phrase {
    let name = kinds.first().map_or("strip", |kind| kind.kind);
    let count = kinds.iter().map(|kind| kind.count).sum();
    let lengths = kinds.iter().map(|kind| kind.length_mm);
    let trimmed = kinds.iter().map(|kind| kind.trimmed_mm);
    let mut words = phrase!("{} ", counted(count, name));
    words.append(range(lengths));
    words.append(" (trimmed ".into());
    words.append(range(trimmed));
    words.append(")".into());
    words
}

/// From the least to the greatest, or the one that they all are.
fn range(lengths: impl Iterator<Item = f64> + Clone) -> Phrase {
    let least = lengths.clone().fold(f64::INFINITY, f64::min);
    let most = lengths.fold(0.0, f64::max);
    if most - least < SAME_POSITION_MM {
        phrase!("{}", Mm(most))
    } else {
        phrase!("{} to {}", Brief(least), Mm(most))
    }
}

fn piece_words(pieces: &[PieceCount]) -> Phrase {
    let made = || pieces.iter().filter(|piece| piece.made > 0);
    let all: usize = made().map(|piece| piece.made).sum();
    let mut words = phrase!("{}, over points: ", all);
    for (at, piece) in made().take(MOST_KINDS).enumerate() {
        let lead = if at == 0 { "" } else { ", " };
        words.append(phrase!(
            "{}{} {} {}",
            lead,
            piece.made,
            &piece.kind,
            Mm(piece.length_mm)
        ));
    }
    let more = made().count().saturating_sub(MOST_KINDS);
    if more > 0 {
        words.append(phrase!(
            ", and {} more {}: `lapwright pare` has the list",
            more,
            plural(more, "kind")
        ));
    }
    let trimmed = pieces.iter().filter(|piece| piece.trimmed_from.is_some());
    let trimmed: usize = trimmed.map(|piece| piece.count).sum();
    if trimmed > 0 {
        words.append(phrase!("; {} of them trimmed at the panel's edge", trimmed));
    }
    words
}

fn cell_words(overview: &Overview) -> Phrase {
    let cells = &overview.cells;
    let mut patterns: Vec<(&str, usize)> = Vec::new();
    for name in cells.iter().filter_map(|cell| cell.pattern.as_deref()) {
        match patterns.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => patterns.push((name, 1)),
        }
    }
    let filled: usize = patterns.iter().map(|(_, count)| count).sum();
    let mut words = phrase!("{}", cells.len());
    for (at, (name, count)) in patterns.iter().enumerate() {
        words.append(phrase!(
            "{}{} {}",
            if at == 0 { ": " } else { ", " },
            *count,
            *name
        ));
    }
    let lead = if patterns.is_empty() { ": " } else { ", " };
    words.append(phrase!("{}{} open", lead, cells.len() - filled));
    let cut = cells.iter().filter(|cell| !cell.whole).count();
    if cut > 0 {
        words.append(phrase!("; the panel's edge cuts {}", cut));
    }
    words
}

fn joint_words(overview: &Overview) -> Phrase {
    let mut words = phrase!(
        "{} at {}",
        counted(overview.joints, "lap"),
        counted(overview.nodes, "node")
    );
    if overview.joints_trimmed_off > 0 {
        words.append(phrase!(
            "; {} more are cut and go with the overhangs",
            overview.joints_trimmed_off
        ));
    }
    words
}

/// Metres, or feet: 1 ft = 0.3048 m, exactly.
fn length(metres: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Millimetres => format!("{} m", figure(metres, 2)),
        UnitSystem::Inches => format!("{} ft", figure(metres / 0.3048, 1)),
    }
}

fn wood_words(metres: Metres, units: UnitSystem) -> Phrase {
    let mut words = phrase!("{} of strips with overhangs", length(metres.strips, units));
    if metres.pieces > 0.0 {
        words.append(phrase!(
            ", {} of rough pieces",
            length(metres.pieces, units)
        ));
    }
    words.append("; kerfs and spares not counted".into());
    words
}
