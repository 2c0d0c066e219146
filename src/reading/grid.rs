//! The `[grid]` table of a job file.

use super::fields::Fields;
use crate::finding::Finding;
use crate::geometry::{Point, signed_area};
use crate::lattice::{
    DiamondGrid, DiamondStance, Grid, MOST_BAYS, Region, SquareGrid, TriangularGrid,
    TriangularStance,
};
use crate::units::Kind;

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum GridKind {
    Square,
    Diamond,
    Triangular,
}

pub(super) const GRID_KINDS: [(&str, GridKind); 3] = [
    ("square", GridKind::Square),
    ("diamond", GridKind::Diamond),
    ("triangular", GridKind::Triangular),
];

#[derive(Clone, Copy)]
enum RegionKind {
    Rectangle,
    Hexagon,
    Polygon,
}

/// Keys of a grid that say something only beside an opening.
const OPENING_KEYS: [&str; 8] = [
    "pitch_about",
    "side_about",
    "cells",
    "rest",
    "least_border",
    "edge",
    "least_margin",
    "centre",
];

pub(super) fn read_grid(fields: Fields<'_>) -> Option<Grid> {
    for key in OPENING_KEYS {
        if fields.has_foreign(key) {
            let text = "this says how a grid fills an opening, and the job has none";
            let hint = "add [opening] with `measured`, `width` and `height`, or leave this out";
            fields.report(Finding::error("needs-opening", fields.path(key), text).hint(hint));
        }
    }
    let grid = match fields.required_choice("kind", &GRID_KINDS) {
        Some(GridKind::Square) => read_square(&fields).map(Grid::Square),
        Some(GridKind::Diamond) => read_diamond(&fields).map(Grid::Diamond),
        Some(GridKind::Triangular) => read_triangular(&fields).map(Grid::Triangular),
        None => {
            // Which keys belong here is not known, but what is known can still be wrong.
            fields.quantity("pitch", Kind::Length);
            fields.quantity("overhang", Kind::Length);
            fields.finish_missing();
            return None;
        }
    };
    fields.finish();
    grid
}

fn read_square(fields: &Fields<'_>) -> Option<SquareGrid> {
    let pitch = fields.quantity("pitch", Kind::Length);
    let xs = read_pitches(fields, "pitches_x", "columns", pitch);
    let ys = read_pitches(fields, "pitches_y", "rows", pitch);
    if fields.has("pitch") && fields.has("pitches_x") && fields.has("pitches_y") {
        let message = "both directions have their own list, so this says nothing";
        fields.report(
            Finding::error("said-twice", fields.path("pitch"), message).hint("leave it out"),
        );
    }
    let overhang = fields.required_quantity("overhang", Kind::Length);
    Some(SquareGrid {
        pitches_x: xs?,
        pitches_y: ys?,
        overhang: overhang?,
    })
}

fn read_diamond(fields: &Fields<'_>) -> Option<DiamondGrid> {
    let stances = [
        ("upright", DiamondStance::Upright),
        ("on-point", DiamondStance::OnPoint),
    ];
    let pitch = fields.required_quantity("pitch", Kind::Length);
    let angle = fields.required_quantity("angle", Kind::Angle);
    let stance = fields.choice_or_usual("stance", &stances);
    let kinds = [
        ("rectangle", RegionKind::Rectangle),
        ("polygon", RegionKind::Polygon),
    ];
    let region = read_region(fields, &kinds);
    let overhang = fields.required_quantity("overhang", Kind::Length);
    Some(DiamondGrid {
        pitch: pitch?,
        angle: angle?,
        stance: stance?,
        region: region?,
        overhang: overhang?,
    })
}

fn read_triangular(fields: &Fields<'_>) -> Option<TriangularGrid> {
    let stances = [
        ("lying", TriangularStance::Lying),
        ("upright", TriangularStance::Upright),
    ];
    let side = fields.required_quantity("side", Kind::Length);
    let stance = fields.choice_or_usual("stance", &stances);
    let kinds = [
        ("hexagon", RegionKind::Hexagon),
        ("rectangle", RegionKind::Rectangle),
        ("polygon", RegionKind::Polygon),
    ];
    let region = read_region(fields, &kinds);
    let overhang = fields.required_quantity("overhang", Kind::Length);
    Some(TriangularGrid {
        side: side?,
        stance: stance?,
        region: region?,
        overhang: overhang?,
    })
}

fn read_region(fields: &Fields<'_>, kinds: &[(&'static str, RegionKind)]) -> Option<Region> {
    match fields.required_choice("region", kinds) {
        Some(RegionKind::Hexagon) => Some(Region::Hexagon {
            rings: count_of(fields, "rings")?,
        }),
        Some(RegionKind::Polygon) => read_polygon(fields),
        Some(RegionKind::Rectangle) if fields.has("columns") || fields.has("rows") => {
            let columns = count_of(fields, "columns");
            let rows = count_of(fields, "rows");
            Some(Region::Cells {
                columns: columns?,
                rows: rows?,
            })
        }
        Some(RegionKind::Rectangle) => {
            let width = fields.required_quantity("width", Kind::Length);
            let height = fields.required_quantity("height", Kind::Length);
            Some(Region::Rectangle {
                width: width?,
                height: height?,
            })
        }
        None => {
            // All keys of all regions are let pass.
            for key in [
                "columns", "rows", "width", "height", "rings", "corners", "node",
            ] {
                fields.has(key);
            }
            None
        }
    }
}

pub(super) fn count_of(fields: &Fields<'_>, key: &'static str) -> Option<usize> {
    let most = u32::try_from(MOST_BAYS).unwrap_or(u32::MAX);
    fields
        .required_count(key, 1..=most)
        .map(|count| count as usize)
}

/// Corners in any direction round; a node of the grid lies at the first of them unless said
/// otherwise.
fn read_polygon(fields: &Fields<'_>) -> Option<Region> {
    let mut corners = fields.points("corners");
    let node = if fields.has("node") {
        fields.point("node")
    } else {
        Some(None)
    };
    fields.require(
        "corners",
        "a list such as [[\"0 mm\", \"0 mm\"], [\"300 mm\", \"0 mm\"], [\"150 mm\", \"200 mm\"]]",
    );
    let first = corners.as_ref()?.first().copied();
    if let Some(corners) = corners.as_mut().filter(|ring| signed_area(ring) < 0.0) {
        corners.reverse();
    }
    let node = node?.or(first).unwrap_or(Point::default());
    Some(Region::Polygon {
        corners: corners?,
        node,
    })
}

/// One direction's pitches: a list of its own, or `pitch` as often as the count says.
fn read_pitches(
    fields: &Fields<'_>,
    list: &'static str,
    count: &'static str,
    pitch: Option<f64>,
) -> Option<Vec<f64>> {
    let most = u32::try_from(MOST_BAYS).unwrap_or(u32::MAX);
    if !fields.has(list) {
        let count = fields.required_count(count, 1..=most);
        if !fields.has("pitch") {
            let message = format!("neither `pitch` nor `{list}` is given");
            let field = fields.path("pitch");
            fields.report(Finding::error("missing", field, message).hint(
                "add `pitch`: the distance between neighbouring centre lines, such as \"42 mm\"",
            ));
        }
        fields.alias(fields.path(list), fields.path("pitch"));
        return Some(vec![pitch?; count? as usize]);
    }
    let pitches = fields.quantities(list, Kind::Length)?;
    if let Some(bays) = fields.count(count, 1..=most)
        && bays as usize != pitches.len()
    {
        let message = format!(
            "{bays} bays here, but {} pitches in `{list}`",
            pitches.len()
        );
        fields.report(
            Finding::error("said-twice", fields.path(count), message)
                .hint(format!("leave out `{count}`: the list counts the bays")),
        );
    }
    Some(pitches)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::read_job;

    /// A grid type that nobody taught this file does not compile here.
    fn kind_of(grid: &Grid) -> GridKind {
        match grid {
            Grid::Square(_) => GridKind::Square,
            Grid::Diamond(_) => GridKind::Diamond,
            Grid::Triangular(_) => GridKind::Triangular,
        }
    }

    fn measures(kind: GridKind) -> &'static str {
        match kind {
            GridKind::Square => "pitch = \"40 mm\"\ncolumns = 3\nrows = 2",
            GridKind::Diamond => {
                "pitch = \"40 mm\"\nangle = \"60 deg\"\nregion = \"rectangle\"\ncolumns = 3\nrows = 2"
            }
            GridKind::Triangular => "side = \"60 mm\"\nregion = \"hexagon\"\nrings = 2",
        }
    }

    #[test]
    fn each_kind_makes_its_own_grid() {
        for (name, kind) in GRID_KINDS {
            let job = format!(
                "title = \"a panel\"\n[grid]\nkind = \"{name}\"\noverhang = \"18 mm\"\n{}\n\
                 [strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n\
                 least_web = \"2 mm\"\n",
                measures(kind)
            );
            let read = read_job("job.toml", &job).unwrap();
            assert_eq!(kind_of(&read.panel.design().grid), kind);
        }
    }
}
