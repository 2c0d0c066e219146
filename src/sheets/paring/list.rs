//! The list of pieces as a table for other programs.

use crate::infill::FacetSide;
use crate::instructions::as_built::LeafFigures;
use crate::instructions::pare::{
    CellKindFigures, EndFigures, FacetFigures, ParePlan, PieceFigures,
};
use crate::units::{NotPrintable, decimal};

/// Names of a piece's two ends, as on the sheet.
const ENDS: [&str; 2] = ["a", "b"];

/// What a facet cuts into, as on the sheet.
const SIDES: [FacetSide; 3] = [FacetSide::Left, FacetSide::Right, FacetSide::Across];

/// The list of pieces as rows of text, headings first; lengths in mm with three decimals, angles in
/// degrees with four. What a piece has none of is empty.
///
/// Headings are the names that the figures have in the JSON answer. One of several is named by its
/// number: `lap_2_centre_mm`, `opening_mm_1`; an end by its letter and a facet by its side:
/// `end_a_left_shoulder_mm`. There are as many laps and cuts at the edge as the piece with most of
/// them has, and sides that some piece has.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn piece_list(plan: &ParePlan) -> Result<Vec<Vec<String>>, NotPrintable> {
    let most = |count: fn(&PieceFigures) -> usize| plan.pieces.iter().map(count).max().unwrap_or(0);
    let shape = Shape {
        locks: plan.pieces.iter().any(|piece| piece.locks),
        drawn: plan.pieces.iter().any(|p| p.drawn_length_mm.is_some()),
        wood: plan.pieces.iter().any(|p| p.wood_mm.is_some()),
        spacers: plan.pieces.iter().any(has_spacer),
        laps: most(|piece| piece.laps.len()),
        folds: most(|piece| piece.folds.len()),
        trims: most(|piece| piece.trims.len()),
        mouths: (plan.pieces.iter().flat_map(|piece| &piece.ends)).any(|end| end.mouth.is_some()),
        sides: SIDES
            .into_iter()
            .filter(|side| is_cut(plan, *side))
            .collect(),
    };
    let rows = plan.pieces.iter().map(|piece| {
        let mut row = row(piece, &shape)?;
        row.extend(as_built(piece, plan)?);
        Ok(row)
    });
    let rows: Vec<Row> = rows.collect::<Result<_, _>>()?;
    let headings = rows.first().map(|row| {
        let names = row.iter().map(|(name, _)| name.clone());
        names.collect()
    });
    let cells = rows
        .into_iter()
        .map(|row| row.into_iter().map(|(_, cell)| cell).collect());
    Ok(headings.into_iter().chain(cells).collect())
}

fn is_cut(plan: &ParePlan, side: FacetSide) -> bool {
    let ends = plan.pieces.iter().flat_map(|piece| &piece.ends);
    let mut facets = ends.flat_map(|end| &end.facets);
    facets.any(|facet| facet.side == side)
}

fn has_spacer(piece: &PieceFigures) -> bool {
    let mut facets = piece.ends.iter().flat_map(|end| &end.facets);
    facets.any(|facet| facet.spacer_mm.is_some())
}

/// Which columns a list has beside those that all lists have.
struct Shape {
    sides: Vec<FacetSide>,
    /// Whether some go in last and hold the others.
    locks: bool,
    drawn: bool,
    /// Whether some end is a bird's mouth.
    mouths: bool,
    /// Pieces of other wood than most.
    wood: bool,
    /// Pieces too short for the guides' stop.
    spacers: bool,
    laps: usize,
    folds: usize,
    trims: usize,
}

/// Cells with their headings.
type Row = Vec<(String, String)>;

fn row(piece: &PieceFigures, shape: &Shape) -> Result<Row, NotPrintable> {
    let mut row = Row::new();
    let mut add = |name: &str, cell: String| row.push((name.to_owned(), cell));
    add("number", piece.number.to_string());
    add("name", piece.name.clone());
    add("count", piece.count.to_string());
    add("made", piece.made.to_string());
    let whole = piece.trimmed_from.map(|number| number.to_string());
    add("trimmed_from", whole.unwrap_or_default());
    let [first, second] = piece.opening_mm;
    add("opening_mm_1", mm(Some(first))?);
    add("opening_mm_2", mm(Some(second))?);
    add("rough_length_mm", mm(Some(piece.rough_length_mm))?);
    let length = piece.length_over_points_mm;
    add("length_over_points_mm", mm(Some(length))?);
    if shape.drawn {
        add("drawn_length_mm", mm(piece.drawn_length_mm)?);
    }
    if shape.wood {
        let [thickness, depth] = piece.wood_mm.map_or([None; 2], |wood| wood.map(Some));
        add("own_thickness_mm", mm(thickness)?);
        add("own_depth_mm", mm(depth)?);
    }
    add("first_end", piece.first_end.name().to_owned());
    for (at, letter) in ENDS.into_iter().enumerate() {
        row.extend(end(piece.ends.get(at), letter, shape)?);
    }
    row.extend(laps(piece, shape.laps)?);
    row.extend(folds(piece, shape.folds)?);
    row.extend(trims(piece, shape.trims)?);
    if shape.locks {
        let locks = if piece.locks { "true" } else { "" };
        row.push(("locks".to_owned(), locks.to_owned()));
    }
    Ok(row)
}

/// Of a panel as built: the kinds of cells that take the piece, and how far off their openings are at most from
/// what it is made for.
fn as_built(piece: &PieceFigures, plan: &ParePlan) -> Result<Row, NotPrintable> {
    if plan.as_built.is_none() || plan.cell_kinds.is_empty() {
        return Ok(Row::new());
    }
    let takes = |kind: &&CellKindFigures| {
        let mut pieces = kind.pieces.iter();
        pieces.any(|taken| taken.number == piece.number)
    };
    let kinds: Vec<&CellKindFigures> = plan.cell_kinds.iter().filter(takes).collect();
    let names: Vec<&str> = kinds.iter().map(|kind| kind.kind.as_str()).collect();
    let most = |of: fn(&LeafFigures) -> f64| {
        let leaves = kinds.iter().filter_map(|kind| kind.as_built.as_ref());
        mm(leaves.map(of).reduce(f64::max))
    };
    Ok(vec![
        ("kinds_of_cells".to_owned(), names.join(" ")),
        ("too_long_mm".to_owned(), most(|leaf| leaf.too_long_mm)?),
        ("too_short_mm".to_owned(), most(|leaf| leaf.too_short_mm)?),
    ])
}

/// The sides of an end.
fn end(end: Option<&EndFigures>, letter: &str, shape: &Shape) -> Result<Row, NotPrintable> {
    let mut row = Row::new();
    for side in &shape.sides {
        let facet = end.and_then(|end| end.facets.iter().find(|facet| facet.side == *side));
        let figure = |of: fn(&FacetFigures) -> f64| facet.map(of);
        let mut add =
            |name: &str, cell| row.push((format!("end_{letter}_{}_{name}", side.name()), cell));
        let block = figure(|facet| facet.block_angle);
        add("block_angle_deg", degrees(block)?);
        add(
            "on_fence",
            facet.map_or("", |facet| facet.on_fence.name()).to_owned(),
        );
        add("shoulder_mm", mm(figure(|facet| facet.shoulder_mm))?);
        add("stop_mm", mm(figure(|facet| facet.stop_mm))?);
        if shape.spacers {
            add("spacer_mm", mm(facet.and_then(|facet| facet.spacer_mm))?);
        }
        let cut = facet.map_or("", |facet| facet.cut.name());
        add("cut", cut.to_owned());
    }
    let mut add = |name: &str, cell| row.push((format!("end_{letter}_{name}"), cell));
    add(
        "on_stop",
        end.map_or("", |end| end.on_stop.name()).to_owned(),
    );
    add("tip_angle_deg", degrees(end.map(|end| end.tip_angle))?);
    add(
        "ridge_offset_mm",
        mm(end.and_then(|end| end.ridge_offset_mm))?,
    );
    if shape.mouths {
        let mouth = end.and_then(|end| end.mouth.as_ref());
        add("mouth_angle_deg", degrees(mouth.map(|mouth| mouth.angle))?);
        add("mouth_depth_mm", mm(mouth.map(|mouth| mouth.depth_mm))?);
        add("mouth_apex_mm", mm(mouth.map(|mouth| mouth.apex_mm))?);
        add(
            "mouth_from_stop_mm",
            mm(mouth.map(|mouth| mouth.from_stop_mm))?,
        );
    }
    Ok(row)
}

fn laps(piece: &PieceFigures, most: usize) -> Result<Row, NotPrintable> {
    let mut row = Row::new();
    for at in 0..most {
        let lap = piece.laps.get(at);
        let mut add = |name: &str, cell| row.push((format!("lap_{}_{name}", at + 1), cell));
        add("mate", lap.map_or(String::new(), |lap| lap.mate.clone()));
        add("centre_mm", mm(lap.map(|lap| lap.centre_mm))?);
        add("width_mm", mm(lap.map(|lap| lap.width_mm))?);
        add("depth_mm", mm(lap.map(|lap| lap.depth_mm))?);
        add("face", lap.map_or("", |lap| lap.face.name()).to_owned());
        add("angle_deg", degrees(lap.map(|lap| lap.angle))?);
    }
    Ok(row)
}

fn folds(piece: &PieceFigures, most: usize) -> Result<Row, NotPrintable> {
    let mut row = Row::new();
    for at in 0..most {
        let fold = piece.folds.get(at);
        let mut add = |name: &str, cell| row.push((format!("fold_{}_{name}", at + 1), cell));
        add(
            "outer",
            fold.map_or("", |fold| fold.outer.name()).to_owned(),
        );
        add("from_a_mm", mm(fold.map(|fold| fold.from_a_mm))?);
        add("from_b_mm", mm(fold.map(|fold| fold.from_b_mm))?);
        add("at_mm", mm(fold.map(|fold| fold.at_mm))?);
        add("v_angle_deg", degrees(fold.map(|fold| fold.v_angle))?);
        add("depth_mm", mm(fold.map(|fold| fold.depth_mm))?);
        add("skin_mm", mm(fold.map(|fold| fold.skin_mm))?);
        add(
            "block_angle_deg",
            degrees(fold.map(|fold| fold.block_angle))?,
        );
        let walls = fold.map(|fold| fold.walls);
        for (wall, letter) in ENDS.into_iter().enumerate() {
            let wall = walls.and_then(|walls| walls.get(wall).copied());
            add(
                &format!("stop_{letter}_mm"),
                mm(wall.map(|wall| wall.stop_mm))?,
            );
        }
    }
    Ok(row)
}

fn trims(piece: &PieceFigures, most: usize) -> Result<Row, NotPrintable> {
    let mut row = Row::new();
    for at in 0..most {
        let trim = piece.trims.get(at);
        let mut add = |name: &str, cell| row.push((format!("trim_{}_{name}", at + 1), cell));
        add(
            "keeps",
            trim.map_or("", |trim| trim.keeps.name()).to_owned(),
        );
        add("at_mm", mm(trim.map(|trim| trim.at_mm))?);
        add("kept_mm", mm(trim.map(|trim| trim.kept_mm))?);
        add("left_mm", mm(trim.and_then(|trim| trim.left_mm))?);
        add("right_mm", mm(trim.and_then(|trim| trim.right_mm))?);
        add("angle_deg", degrees(trim.map(|trim| trim.angle))?);
    }
    Ok(row)
}

fn mm(length: Option<f64>) -> Result<String, NotPrintable> {
    length.map_or(Ok(String::new()), |mm| decimal(mm, 3))
}

/// Four decimals: on a piece a metre long the last one is 2 thousandths of a millimetre.
fn degrees(angle: Option<f64>) -> Result<String, NotPrintable> {
    angle.map_or(Ok(String::new()), |angle| decimal(angle.to_degrees(), 4))
}
