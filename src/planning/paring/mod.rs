//! The pieces of a panel: what to cut, at which angles, with which stops.

mod cells;
mod folds;
mod guide;
pub mod settings;
mod spacers;

use super::as_built::as_built_of;
use super::measured_stock::stock_of;
use crate::finding::Finding;
use crate::geometry::Point;
use crate::infill::{
    CellShape, End, Facet, FacetSide, Figures, FilledCell, Infilling, MeasuredCell, Mouth,
    PieceKind, PieceLap, PieceStock, TrimCut,
};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::pare::{
    BlockFigures, Cut, EndFigures, FacetFigures, LapFigures, MouthFigures, OnFence, OnStop,
    ParePlan, PieceFigures, PieceWood, TakeOff, TrimFigures,
};
use crate::lattice::{Panel, PieceWay};
use crate::machines::{Chosen, Guides};
use crate::phrase;
use crate::units::{Mm, Rad};
use std::f64::consts::FRAC_PI_2;

pub(crate) use guide::{block_breadth, guide_figures};
use settings::{
    FacetSetting, GapAt, NearestBlock, block_gap, corner_gap, is_square, nearest_blocks,
    shortening_table, stop_settings, tip_angle,
};

/// Guide faces closer than this are the same angle, rad: a hundredth of a degree.
const SAME_ANGLE: f64 = 1.75e-4;

/// Pieces for the panel as drawn, all pared, on `guides` where there are any.
pub fn plan_pieces(
    panel: &Panel,
    filled: &Infilling,
    allowance: f64,
    guides: Option<Chosen<'_, Guides>>,
) -> (ParePlan, Vec<Finding>) {
    plan_rest(panel, filled, allowance, guides, &[])
}

/// The same where a machine has cut some ends: what stays for the guides.
pub fn plan_rest(
    panel: &Panel,
    filled: &Infilling,
    allowance: f64,
    guides: Option<Chosen<'_, Guides>>,
    machined: &[MachinedEnds],
) -> (ParePlan, Vec<Finding>) {
    let pieces = filled.kinds.iter().enumerate().map(|(at, kind)| {
        let (width, height) = kind.opening();
        let figures = DistinctPiece {
            number: at + 1,
            name: &kind.name,
            locks: kind.locks,
            count: kind.count,
            opening: [width, height],
            figures: &kind.figures,
            outline: &kind.outline,
            stock: kind.stock,
            machined: of_piece(machined, at + 1),
        };
        let length = kind.figures.length;
        let thickness = kind.stock.thickness;
        let trims = kind.trims.iter();
        PieceFigures {
            made: pieces_made(filled, at, kind),
            trims: trims
                .map(|trim| trim_figures(trim, length, thickness))
                .collect(),
            trimmed_from: kind.whole.map(|whole| whole + 1),
            ..figures.plan(filled, allowance)
        }
    });
    let (plan, warnings) = plan(panel, filled, pieces.collect(), guides);
    let cell_kinds = cells::figures(panel, filled);
    (ParePlan { cell_kinds, ..plan }, warnings)
}

/// How many are made whole of a kind: of one that is trimmed none, of one that others are trimmed
/// from theirs too.
pub(in crate::planning) fn pieces_made(filled: &Infilling, at: usize, kind: &PieceKind) -> usize {
    if kind.whole.is_some() {
        return 0;
    }
    let of_this = filled.kinds.iter().filter(|other| other.whole == Some(at));
    kind.count + of_this.map(|kind| kind.count).sum::<usize>()
}

/// Pieces for one cell of the panel as it was built and measured.
pub fn plan_measured(
    panel: &Panel,
    filled: &Infilling,
    measured: &MeasuredCell,
    allowance: f64,
    guides: Option<Chosen<'_, Guides>>,
) -> (ParePlan, Vec<Finding>) {
    let opening = [measured.opening.width, measured.opening.height];
    let pieces = measured.pieces.iter().enumerate().map(|(at, piece)| {
        let figures = DistinctPiece {
            number: at + 1,
            name: &piece.name,
            locks: piece.locks,
            count: piece.count,
            opening,
            figures: &piece.built,
            outline: &piece.outline,
            stock: piece.stock,
            machined: None,
        };
        PieceFigures {
            drawn_length_mm: Some(piece.drawn.length),
            ..figures.plan(filled, allowance)
        }
    });
    plan(panel, filled, pieces.collect(), guides)
}

fn plan(
    panel: &Panel,
    filled: &Infilling,
    mut pieces: Vec<PieceFigures>,
    guides: Option<Chosen<'_, Guides>>,
) -> (ParePlan, Vec<Finding>) {
    if let Some(Chosen {
        machine: guides, ..
    }) = guides
    {
        for piece in &mut pieces {
            spacers::put(piece, guides);
            spacers::put_to_walls(piece, guides);
        }
    }
    let cut = filled.cells.iter().filter(|cell| !cell.whole).count();
    let trimmed = count_cells(filled, |cell| !cell.whole && !cell.pieces.is_empty());
    let blocks = blocks(&pieces, guides.map(|named| named.machine));
    let warnings = guides.map_or_else(Vec::new, |named| {
        guide_warnings(&pieces, &blocks, named.machine, filled.most_stock.thickness)
    });
    let usual = Guides::usual();
    let sizes = guides.map_or(&usual, |named| named.machine);
    let plan = ParePlan {
        guide: guide_figures(&blocks, &pieces, sizes, deepest(filled)),
        title: panel.design().title.clone(),
        pattern: filled.pattern_names(),
        machine: guides.map(|named| named.name.to_owned()),
        measured_stock: stock_of(panel),
        as_built: as_built_of(panel),
        wood: own_wood(panel, filled),
        cell: (filled.cells.first()).map_or(CellShape::Square, |cell| cell.shape),
        cells_filled: count_cells(filled, |cell| cell.whole && !cell.pieces.is_empty()),
        cells_open: count_cells(filled, |cell| cell.whole && cell.pieces.is_empty()),
        cells_cut: cut,
        cells_trimmed: trimmed,
        pieces_left_out: filled.left_out,
        pieces,
        cell_kinds: Vec::new(),
        way: (panel.design().infill.as_ref()).map_or(PieceWay::Guides, |infill| infill.way),
        ways: Vec::new(),
        mitres: None,
        routed: None,
        blocks,
    };
    (plan, warnings)
}

/// The pieces' wood where it is not the strips'.
fn own_wood(panel: &Panel, filled: &Infilling) -> Option<PieceWood> {
    let section = panel.piece_section();
    let strip = &panel.design().strip;
    let most = filled.most_stock;
    let as_strips = most.is_like(&PieceStock::of(&strip.for_pieces()));
    (section != strip.for_pieces() || !as_strips).then_some(PieceWood {
        thickness_mm: most.thickness,
        depth_mm: most.depth,
        setback_mm: section.setback,
        behind_mm: strip.depth - section.setback - most.depth,
        fit_mm: section.fit,
    })
}

/// As deep as the deepest piece, mm.
fn deepest(filled: &Infilling) -> f64 {
    filled.depths().into_iter().fold(0.0, f64::max)
}

fn count_cells(filled: &Infilling, is_counted: impl Fn(&FilledCell) -> bool) -> usize {
    filled.cells.iter().filter(|cell| is_counted(cell)).count()
}

/// A distinct piece, from a drawing or from a measured opening.
struct DistinctPiece<'a> {
    number: usize,
    name: &'a str,
    locks: bool,
    count: usize,
    opening: [f64; 2],
    figures: &'a Figures,
    outline: &'a [Point],
    stock: PieceStock,
    /// What a machine cuts of it.
    machined: Option<&'a MachinedEnds>,
}

/// Ends of a kind of piece that a machine cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct MachinedEnds {
    /// Number of the piece, from 1.
    pub piece: usize,
    /// The ends.
    pub ends: Vec<EndLetter>,
    /// Whether it cuts the half laps too.
    pub laps: bool,
}

fn of_piece(machined: &[MachinedEnds], piece: usize) -> Option<&MachinedEnds> {
    machined.iter().find(|ends| ends.piece == piece)
}

impl DistinctPiece<'_> {
    fn plan(&self, filled: &Infilling, allowance: f64) -> PieceFigures {
        let ends_machined = self.machined.map_or(&[][..], |machined| &machined.ends);
        let first = match ends_machined {
            // It is finished, and stands on the stop.
            [one] => usize::from(*one == EndLetter::B),
            _ => first_end(self.figures),
        };
        let is_machined = !ends_machined.is_empty();
        let section = self.stock;
        let own = !section.is_like(&filled.most_stock);
        let ends = self.figures.ends().into_iter().enumerate();
        let laps = self.figures.laps.iter();
        let outline = self.outline.iter();
        PieceFigures {
            first_end: if first == 0 {
                EndLetter::A
            } else {
                EndLetter::B
            },
            number: self.number,
            name: self.name.to_owned(),
            locks: self.locks,
            count: self.count,
            machined: ends_machined.to_vec(),
            laps_machined: self.machined.is_some_and(|machined| machined.laps),
            made: self.count,
            wood_mm: own.then_some([section.thickness, section.depth]),
            opening_mm: self.opening,
            length_over_points_mm: self.figures.length,
            rough_length_mm: self.figures.length + allowance,
            drawn_length_mm: None,
            ends: ends
                .map(|(at, end)| match at == first && !is_machined {
                    true => rough_end_figures(end, allowance, section.thickness),
                    false => end_figures(end, 0.0, section.thickness),
                })
                .collect(),
            laps: laps.map(|lap| lap_figures(lap, section.depth)).collect(),
            folds: folds::fold_figures(self.figures),
            trimmed_from: None,
            trims: Vec::new(),
            outline_mm: outline.map(|point| [point.x, point.y]).collect(),
        }
    }
}

/// A cut at the panel's edge through a piece of a length over points.
fn trim_figures(trim: &TrimCut, length: f64, thickness: f64) -> TrimFigures {
    let keeps = if trim.keeps_first {
        EndLetter::A
    } else {
        EndLetter::B
    };
    let kept = |at: f64| if trim.keeps_first { at } else { length - at };
    let side = |y: f64| {
        let at = trim.at + y / trim.angle.tan();
        (0.0..=length).contains(&at).then(|| kept(at))
    };
    TrimFigures {
        at_mm: trim.at,
        kept_mm: kept(trim.at),
        left_mm: side(thickness / 2.0),
        right_mm: side(-thickness / 2.0),
        angle: trim.angle,
        keeps,
    }
}

/// The end, 0 or 1, that is pared first: the blunter one, so that a sharp tip is made last and does
/// not stand on the stop.
fn first_end(figures: &Figures) -> usize {
    let [a, b] = figures.ends().map(tip_angle);
    usize::from(b > a + SAME_ANGLE)
}

/// The end that is pared first, its other one still square: half of what the rough piece is longer
/// stands at either end until that one is pared.
fn rough_end_figures(end: &End, allowance: f64, thickness: f64) -> EndFigures {
    EndFigures {
        on_stop: OnStop::SquareEnd,
        ..end_figures(end, allowance / 2.0, thickness)
    }
}

/// An end that is pared while the other one, finished or `rough` longer, stands on the stop.
pub(crate) fn end_figures(end: &End, rough: f64, thickness: f64) -> EndFigures {
    let settings = stop_settings(end, rough, thickness);
    let has_heavier = settings.iter().any(|setting| setting.heavier);
    let facets = end.facets.iter().zip(settings);
    let take_off = shortening_table(end).map(|(pared_mm, shortens_mm)| TakeOff {
        pared_mm,
        shortens_mm,
    });
    EndFigures {
        on_stop: OnStop::Point,
        tip_angle: tip_angle(end),
        facets: facets
            .map(|(facet, setting)| facet_figures(facet, setting, has_heavier))
            .collect(),
        ridge_offset_mm: end.ridge_offset,
        mouth: end.mouth().map(|mouth| mouth_figures(end, mouth, rough)),
        take_off: take_off.into(),
    }
}

fn mouth_figures(end: &End, mouth: Mouth, rough: f64) -> MouthFigures {
    let points = end.facets.iter().map(|facet| facet.shoulder);
    let apex = points.fold(f64::NEG_INFINITY, f64::max) - mouth.depth;
    MouthFigures {
        angle: mouth.angle,
        depth_mm: mouth.depth,
        apex_mm: apex,
        from_stop_mm: apex + rough,
    }
}

fn facet_figures(facet: &Facet, setting: FacetSetting, has_heavier: bool) -> FacetFigures {
    FacetFigures {
        side: facet.side,
        jig_angle: facet.jig_angle,
        block_angle: setting.block_angle,
        on_fence: match setting.on_fence {
            FacetSide::Across => OnFence::Either,
            FacetSide::Left => OnFence::Left,
            FacetSide::Right => OnFence::Right,
        },
        shoulder_mm: facet.shoulder,
        stop_mm: setting.stop,
        spacer_mm: None,
        beyond_stop: false,
        cut: match (has_heavier, setting.heavier) {
            (false, _) => Cut::Even,
            (true, true) => Cut::Heavy,
            (true, false) => Cut::Light,
        },
    }
}

fn lap_figures(lap: &PieceLap, depth: f64) -> LapFigures {
    LapFigures {
        mate: lap.mate.clone(),
        centre_mm: lap.centre,
        width_mm: lap.width,
        depth_mm: lap.fraction * depth,
        face: lap.face,
        angle: lap.angle,
    }
}

/// The blocks that the pieces need, the sharpest first. A square end needs none.
fn blocks(pieces: &[PieceFigures], guides: Option<&Guides>) -> Vec<BlockFigures> {
    let pared = pieces.iter().flat_map(PieceFigures::pared);
    let folds = pieces.iter().flat_map(|piece| &piece.folds);
    let walls = folds.map(|fold| fold.block_angle);
    let mut angles: Vec<f64> = pared.map(|facet| facet.block_angle).chain(walls).collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < SAME_ANGLE);
    angles.retain(|angle| !is_square(*angle));
    let mut blocks = Vec::with_capacity(angles.len());
    for angle in angles {
        blocks.push(BlockFigures {
            jig_angle: angle,
            at_hand: guides.map(|guides| has_block(guides, angle)),
        });
    }
    blocks
}

fn has_block(guides: &Guides, angle: f64) -> bool {
    let mut angles = guides.angles.iter();
    angles.any(|known| (known - angle).abs() < SAME_ANGLE)
}

fn guide_warnings(
    pieces: &[PieceFigures],
    blocks: &[BlockFigures],
    guides: &Guides,
    thickness: f64,
) -> Vec<Finding> {
    let mut warnings = Vec::new();
    for block in blocks.iter().filter(|block| block.at_hand == Some(false)) {
        warnings.push(missing_block(block.jig_angle, guides, thickness));
    }
    // A trimmed piece was pared as the whole one that it was.
    for piece in pieces.iter().filter(|piece| piece.trimmed_from.is_none()) {
        let out = piece
            .pared()
            .filter(|facet| facet.beyond_stop)
            .map(|facet| facet.stop_mm);
        // What is too near has a spacer.
        if let Some(stop) = out.max_by(f64::total_cmp) {
            let text = phrase!(
                "the {} needs the stop at {}; these guides reach {} to {}",
                piece.name.as_str(),
                Mm(stop),
                Mm(guides.stop_nearest),
                Mm(guides.stop_farthest)
            );
            warnings.push(Finding::warning(
                "stop-out-of-reach",
                "guides.stop_farthest",
                text,
            ));
        }
    }
    warnings
}

/// A block that the guides lack; where one of theirs is near, what it would leave instead.
fn missing_block(right: f64, guides: &Guides, thickness: f64) -> Finding {
    let text = phrase!("a block of {} is needed; the guides have none", Rad(right));
    let finding = Finding::warning("block-missing", "guides.angles", text);
    let nearest = nearest_blocks(&[right], &guides.angles);
    let near = |near: &&NearestBlock| (near.block - right).abs() < NEAR_ANGLE;
    match nearest
        .first()
        .filter(|block| right < FRAC_PI_2 && near(block))
    {
        Some(near) => {
            let gap = block_gap(right, near.block, thickness);
            finding.hint(phrase!(
                "the block of {} does not do: a facet pared on it is {} off, a point of two such facets {} off the corner that it should fill; a facet across the whole thickness leaves a gap of {} {}, each of two at a centred point half of that. Make its own: `lapwright outline JOB --what blocks -o blocks.dxf`",
                Rad(near.block),
                Rad((right - near.block).abs()),
                Rad(corner_gap(2.0 * right, &[near.block; 2]).abs()),
                Mm(gap.map_or(0.0, |gap| gap.width)),
                match gap.map(|gap| gap.at) {
                    Some(GapAt::Shoulder) => "at its shoulders",
                    Some(GapAt::Tip) | None => "at its tip",
                }
            ))
        }
        None => finding.hint(
            "make it, `lapwright outline JOB --what blocks -o blocks.dxf`, and add its angle to angles",
        ),
    }
}

/// Blocks nearer than this could be taken for each other, rad: 5 degrees.
const NEAR_ANGLE: f64 = 0.0873;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::UnitSystem;

    #[test]
    fn a_wrong_block_leaves_twice_its_error() {
        let guides = Guides {
            angles: vec![24.0_f64.to_radians()],
            stop_nearest: 1.0,
            stop_farthest: 100.0,
            block_length: 100.0,
            measured: Vec::new(),
        };
        let found = missing_block(22.5_f64.to_radians(), &guides, 3.0);
        let hint = found.hint.unwrap().text(UnitSystem::Millimetres);
        assert!(
            hint.contains("24 deg")
                && hint.contains("1.5 deg off")
                && hint.contains("3 deg off")
                && hint.contains("0.50 mm at its tip"),
            "{hint}"
        );
    }
}
