//! The `[opening]` table of a job file, and the `[grid]` table of a job that has one.

use super::fields::Fields;
use super::grid::{GRID_KINDS, GridKind, count_of};
use crate::finding::Finding;
use crate::lattice::{DiamondStance, TriangularStance};
use crate::opening::{
    DiamondWish, GridWish, HoleMeasures, MeasuredAt, NodePlace, Opening, Rest, SlantedRest,
    SquareCells, SquareWish, TriangularWish, Wanted,
};
use crate::units::Kind;

/// Where a person held the tape, as jobs write it.
const MEASURED: [(&str, MeasuredAt); 3] = [
    ("hole", MeasuredAt::Hole),
    ("inside", MeasuredAt::Inside),
    ("panel", MeasuredAt::Panel),
];

/// Keys of a slanted grid that an opening stands for.
const REGION_KEYS: [&str; 6] = ["region", "width", "height", "rings", "corners", "node"];

pub(super) fn read_opening(fields: Fields<'_>) -> Option<Opening> {
    let at = fields.required_choice("measured", &MEASURED);
    let play = fields.quantity_or("play", Kind::Length, 0.0);
    let widths = three(&fields, "width", "widths", "bottom, middle, top");
    let heights = three(&fields, "height", "heights", "left, middle, right");
    let diagonals = if fields.has("diagonals") {
        let wanted = "from the lower left corner, from the lower right corner";
        lengths::<2>(&fields, "diagonals", wanted).map(Some)
    } else {
        Some(None)
    };
    if at == Some(MeasuredAt::Panel) {
        for key in ["widths", "heights", "diagonals", "play"] {
            if fields.has(key) {
                let text = "the finished panel is made square, to the size that is wanted";
                let hint =
                    "give `width` and `height` alone; what it goes into is measured = \"hole\"";
                fields.report(Finding::error("panel-is-square", fields.path(key), text).hint(hint));
            }
        }
    }
    fields.finish();
    let measures = HoleMeasures {
        widths: widths?,
        heights: heights?,
        diagonals: diagonals?,
    };
    Some(Opening {
        measures,
        at: at?,
        play: play?,
    })
}

/// One figure for all three places, or one for each.
fn three(
    fields: &Fields<'_>,
    one: &'static str,
    each: &'static str,
    places: &'static str,
) -> Option<[f64; 3]> {
    if fields.has(each) {
        if fields.has(one) {
            let text = format!("`{one}` is given as well");
            let hint = format!("leave one out: `{each}` has the three places {places}");
            fields.report(Finding::error("both-given", fields.path(each), text).hint(hint));
            return None;
        }
        return lengths::<3>(fields, each, places);
    }
    fields.positive_length(one).map(|length| [length; 3])
}

/// A list of so many lengths above zero.
fn lengths<const N: usize>(
    fields: &Fields<'_>,
    key: &'static str,
    places: &'static str,
) -> Option<[f64; N]> {
    let found = fields.quantities(key, Kind::Length)?;
    let count = found.len();
    let Ok(found) = <[f64; N]>::try_from(found) else {
        let text = format!("{count} lengths where {N} are wanted");
        let hint = format!("write them in this order: {places}");
        fields.report(Finding::error("lists-differ", fields.path(key), text).hint(hint));
        return None;
    };
    if found.iter().all(|length| *length > 0.0) {
        return Some(found);
    }
    let text = "every one of them must be above zero";
    fields.report(Finding::error("not-positive", fields.path(key), text));
    None
}

/// The grid of a job with an opening.
pub(super) fn read_wish(fields: Fields<'_>) -> Option<GridWish> {
    let kind = fields.required_choice("kind", &GRID_KINDS);
    let wish = match kind {
        Some(GridKind::Square) => read_square(&fields).map(GridWish::Square),
        Some(GridKind::Diamond) => read_diamond(&fields).map(GridWish::Diamond),
        Some(GridKind::Triangular) => read_triangular(&fields).map(GridWish::Triangular),
        None => {
            fields.finish_missing();
            return None;
        }
    };
    for key in REGION_KEYS {
        if fields.has_foreign(key) {
            let text = "the opening is what the grid fills";
            let hint = if key == "node" {
                "leave it out; `centre = \"node\"` or \"corner\" says where a node lies"
            } else {
                "leave it out, or leave [opening] out"
            };
            fields.report(Finding::error("said-twice", fields.path(key), text).hint(hint));
        }
    }
    fields.finish();
    wish
}

/// A pitch that is kept, or one that is only about.
fn read_wanted(fields: &Fields<'_>, exact: &'static str, about: &'static str) -> Option<Wanted> {
    if fields.has(exact) && fields.has(about) {
        let text = format!("`{exact}` is given as well");
        let hint =
            format!("leave one out: `{exact}` is kept as it is, `{about}` gives way to whole bays");
        fields.report(Finding::error("both-given", fields.path(about), text).hint(hint));
        return None;
    }
    if fields.has(exact) {
        return fields.positive_length(exact).map(Wanted::Exactly);
    }
    if fields.has(about) {
        return fields.positive_length(about).map(Wanted::About);
    }
    Some(Wanted::Free)
}

fn optional_count(fields: &Fields<'_>, key: &'static str) -> Option<Option<usize>> {
    if fields.has(key) {
        count_of(fields, key).map(Some)
    } else {
        Some(None)
    }
}

fn optional_length(fields: &Fields<'_>, key: &'static str) -> Option<Option<f64>> {
    if fields.has(key) {
        fields.quantity(key, Kind::Length).map(Some)
    } else {
        Some(None)
    }
}

fn read_square(fields: &Fields<'_>) -> Option<SquareWish> {
    let pitch = read_wanted(fields, "pitch", "pitch_about");
    let columns = optional_count(fields, "columns");
    let rows = optional_count(fields, "rows");
    let cells = read_cells(fields);
    let edges = [("strips", false), ("frame", true)];
    let frame_closes = fields.choice_or_usual("edge", &edges);
    let least_margin = optional_length(fields, "least_margin");
    let pitches_x = read_list(fields, "pitches_x", "columns");
    let pitches_y = read_list(fields, "pitches_y", "rows");
    let overhang = optional_length(fields, "overhang");
    if frame_closes == Some(true) {
        for key in ["least_margin", "least_border"] {
            if fields.has(key) {
                let text = "where the frame closes the outermost cells, they are as wide as the others or wider";
                let hint = "leave it out, or leave `edge` out";
                fields.report(Finding::error("said-twice", fields.path(key), text).hint(hint));
            }
        }
        if matches!(cells, Some(SquareCells::Square(Rest::BorderBays(_)))) {
            let text =
                "where the frame closes the outermost cells, what is left over goes to these";
            let hint = "leave out `rest`, or leave out `edge`";
            fields.report(Finding::error("said-twice", fields.path("rest"), text).hint(hint));
            return None;
        }
    }
    // Where a pitch that follows is told, it stands for what it follows from.
    let from = ["pitch", "pitch_about", "columns", "rows"];
    let stands = from.into_iter().find(|key| fields.has(key));
    for list in ["pitches_x", "pitches_y"] {
        if !fields.has(list) {
            fields.alias(fields.path(list), fields.path(stands.unwrap_or("kind")));
        }
    }
    fields.alias("grid.overhang", "opening");
    Some(SquareWish {
        pitch: pitch?,
        columns: columns?,
        rows: rows?,
        pitches_x: pitches_x?,
        pitches_y: pitches_y?,
        cells: cells?,
        frame_closes: frame_closes?,
        least_margin: least_margin?,
        overhang: overhang?,
    })
}

fn read_list(
    fields: &Fields<'_>,
    list: &'static str,
    count: &'static str,
) -> Option<Option<Vec<f64>>> {
    if !fields.has(list) {
        return Some(None);
    }
    if fields.has(count) {
        let text = format!("`{list}` counts the bays");
        let hint = format!("leave out `{count}`");
        fields.report(Finding::error("said-twice", fields.path(count), text).hint(hint));
    }
    fields.quantities(list, Kind::Length).map(Some)
}

#[derive(Clone, Copy, PartialEq)]
enum CellsKey {
    Square,
    Fill,
}

#[derive(Clone, Copy, PartialEq)]
enum RestKey {
    Margins,
    EvenMargins,
    BorderBays,
}

fn read_cells(fields: &Fields<'_>) -> Option<SquareCells> {
    let words = [("square", CellsKey::Square), ("fill", CellsKey::Fill)];
    let rests = [
        ("margins", RestKey::Margins),
        ("even-margins", RestKey::EvenMargins),
        ("border-bays", RestKey::BorderBays),
    ];
    let cells = if fields.has("cells") {
        fields.choice("cells", &words)
    } else {
        Some(CellsKey::Square)
    };
    let rest = if fields.has("rest") {
        fields.choice("rest", &rests)
    } else {
        Some(RestKey::Margins)
    };
    let least_border = optional_length(fields, "least_border");
    if cells == Some(CellsKey::Fill) && fields.has("rest") {
        let text = "cells that fill the opening leave nothing over";
        let hint = "leave out `rest`, or `cells = \"fill\"`";
        fields.report(Finding::error("said-twice", fields.path("rest"), text).hint(hint));
        return None;
    }
    if fields.has("least_border") && rest.is_some_and(|rest| rest != RestKey::BorderBays) {
        let text = "there are no border bays that could be too narrow";
        let hint = "leave it out, or write `rest = \"border-bays\"`";
        fields.report(Finding::error("said-twice", fields.path("least_border"), text).hint(hint));
        return None;
    }
    let least_border = least_border?;
    Some(match (cells?, rest?) {
        (CellsKey::Fill, _) => SquareCells::Fill,
        (_, RestKey::Margins) => SquareCells::Square(Rest::Margins),
        (_, RestKey::EvenMargins) => SquareCells::Square(Rest::EvenMargins),
        (_, RestKey::BorderBays) => SquareCells::Square(Rest::BorderBays(least_border)),
    })
}

const CENTRES: [(&str, NodePlace); 2] =
    [("node", NodePlace::Middle), ("corner", NodePlace::Corner)];

const SLANTED_RESTS: [(&str, SlantedRest); 2] = [
    ("cut-cells", SlantedRest::CutCells),
    ("margins", SlantedRest::Margins),
];

fn read_diamond(fields: &Fields<'_>) -> Option<DiamondWish> {
    let stances = [
        ("upright", DiamondStance::Upright),
        ("on-point", DiamondStance::OnPoint),
    ];
    let pitch = read_wanted(fields, "pitch", "pitch_about");
    let angle = if fields.has("angle") {
        fields.quantity("angle", Kind::Angle).map(Some)
    } else {
        Some(None)
    };
    let stance = fields.choice_or_usual("stance", &stances);
    let columns = optional_count(fields, "columns");
    let rows = optional_count(fields, "rows");
    let node = fields.choice_or_usual("centre", &CENTRES);
    let rest = fields.choice_or_usual("rest", &SLANTED_RESTS);
    let least_margin = optional_length(fields, "least_margin");
    let overhang = optional_length(fields, "overhang");
    stand_in(fields, "pitch", "pitch_about");
    Some(DiamondWish {
        pitch: pitch?,
        angle: angle?,
        stance: stance?,
        columns: columns?,
        rows: rows?,
        node: node?,
        rest: rest?,
        least_margin: least_margin?,
        overhang: overhang?,
    })
}

fn read_triangular(fields: &Fields<'_>) -> Option<TriangularWish> {
    let stances = [
        ("lying", TriangularStance::Lying),
        ("upright", TriangularStance::Upright),
    ];
    let side = read_wanted(fields, "side", "side_about");
    let stance = fields.choice_or_usual("stance", &stances);
    let columns = optional_count(fields, "columns");
    let rows = optional_count(fields, "rows");
    let node = fields.choice_or_usual("centre", &CENTRES);
    let rest = fields.choice_or_usual("rest", &SLANTED_RESTS);
    let least_margin = optional_length(fields, "least_margin");
    let overhang = optional_length(fields, "overhang");
    stand_in(fields, "side", "side_about");
    Some(TriangularWish {
        side: side?,
        stance: stance?,
        columns: columns?,
        rows: rows?,
        node: node?,
        rest: rest?,
        least_margin: least_margin?,
        overhang: overhang?,
    })
}

/// What is said of a size that follows stands at what it follows from.
fn stand_in(fields: &Fields<'_>, size: &'static str, about: &'static str) {
    let given = [about, "columns", "rows"].into_iter();
    if let Some(from) = given.into_iter().find(|key| fields.has(key))
        && !fields.has(size)
    {
        fields.alias(fields.path(size), fields.path(from));
    }
    fields.alias("grid.corners", "opening");
    fields.alias("grid.overhang", "opening");
}
