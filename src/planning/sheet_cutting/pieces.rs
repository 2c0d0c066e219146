//! Pieces as plan polygons, grain along the piece, from sheet as thick as the strips are deep.

use super::super::measured_stock::stock_of;
use super::batch::WareBatch;
use super::labels::Letters;
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::infill::{Infilling, PieceKind};
use crate::instructions::laser::Ware;
use crate::instructions::lettering;
use crate::instructions::outline::CutPart;
use crate::lattice::Panel;
use crate::machines::Laser;
use crate::phrase;
use crate::phrase::counted;
use crate::units::Mm;
use float_cmp::ApproxEq;

impl WareBatch {
    /// A panel's pieces as parts.
    ///
    /// The slot that fitted has no say in them: it tells how much wider than a strip a slot must be,
    /// and a piece sits in no slot.
    pub fn pieces(panel: &Panel, filled: &Infilling, laser: &Laser) -> WareBatch {
        let letters = Letters::of(laser);
        let mut parts = Vec::new();
        let mut labels = Vec::new();
        let as_deep = |kind: &PieceKind| {
            kind.stock
                .depth
                .approx_eq(filled.most_stock.depth, POSITION)
        };
        // A round cutter cuts no V to a point.
        let all = laser.cutter.is_none();
        let on_sheet = |kind: &PieceKind| as_deep(kind) && (all || kind.figures.folds.is_empty());
        let kinds = filled.kinds.iter().zip(1_usize..);
        for (kind, number) in kinds.filter(|(kind, _)| on_sheet(kind)) {
            let strokes = label(&number.to_string(), kind, kind.stock.thickness, &letters);
            parts.extend((1..=kind.count).map(|copy| CutPart {
                name: format!("{number} {}", kind.name),
                copy,
                outer: kind.outline.clone(),
                holes: Vec::new(),
                strokes: strokes.clone(),
                laid_edge: false,
            }));
            labels.resize(parts.len(), number.to_string());
        }
        let lapped = filled
            .kinds
            .iter()
            .filter(|kind| kind.whole.is_none() && !kind.figures.laps.is_empty());
        let mut warnings: Vec<Finding> = lapped.map(lap_not_drawn).collect();
        let others = filled.kinds.iter().filter(|kind| !as_deep(kind));
        warnings.extend(others.map(|kind| not_on_sheet(kind, filled.most_stock.depth)));
        let folded = filled.kinds.iter().filter(|kind| as_deep(kind));
        warnings.extend(folded.filter_map(|kind| fold_on_sheet(kind, laser)));
        warnings.extend(no_room(&parts, &letters, laser));
        WareBatch {
            labels,
            warnings,
            ..WareBatch::new(
                Ware::Pieces,
                Some(filled.most_stock.depth),
                stock_of(panel),
                parts,
            )
        }
    }
}

fn not_on_sheet(kind: &PieceKind, sheet: f64) -> Finding {
    let text = phrase!(
        "the {} is {} deep and no part of a sheet {} thick: it is not drawn",
        kind.name.as_str(),
        Mm(kind.stock.depth),
        Mm(sheet)
    );
    Finding::warning("piece-not-on-sheet", "laser", text).hint("saw and pare it")
}

/// What a beam or a cutter makes of a V's point: its middle stays half a kerf from both walls, so its round
/// edge comes to `(1 / sin(b / 2) - 1)` half kerfs from the point of a V of the angle b, no nearer.
fn fold_on_sheet(kind: &PieceKind, laser: &Laser) -> Option<Finding> {
    let fold = kind.figures.folds.first()?;
    let name = kind.name.as_str();
    if let Some(cutter) = laser.cutter {
        let text = phrase!(
            "the {} is folded, and a cutter of {} cuts no V to a point, with a skin of {} beyond it: it is not drawn",
            name,
            Mm(cutter.diameter),
            Mm(fold.skin)
        );
        return Some(
            Finding::warning("fold-not-routed", "cutter.diameter", text)
                .hint("saw and pare it, its V along a block; or cut it on a laser"),
        );
    }
    let folds = kind.figures.folds.iter();
    let sharpest = folds.map(|fold| fold.angle).fold(f64::INFINITY, f64::min);
    let left = laser.kerf / 2.0 * (1.0 / (sharpest / 2.0).sin() - 1.0);
    (left > SAME_POSITION_MM).then(|| {
        let text = phrase!(
            "a round beam does not reach the point of the V of the {}: with a kerf of {} it leaves {} of wood before it, beside the skin of {}",
            name,
            Mm(laser.kerf),
            Mm(left),
            Mm(fold.skin)
        );
        Finding::warning("v-point-not-reached", "laser.kerf", text)
            .hint("take it out with a knife along the point before it is bent: else the walls do not close")
    })
}

fn lap_not_drawn(kind: &PieceKind) -> Finding {
    let text = phrase!(
        "the half laps of the {} are not in its outline: saw them",
        kind.name.as_str()
    );
    Finding::warning("lap-not-drawn", "laser", text).hint(
        "or cut those as blanks with their laps in them, both ends square, and pare them after that: `lapwright outline JOB --what lapped -o lapped.dxf`",
    )
}

/// Where letters are asked for and some pieces have no room for them.
fn no_room(parts: &[CutPart], letters: &Letters, laser: &Laser) -> Option<Finding> {
    let bare = parts.iter().filter(|part| part.strokes.is_empty()).count();
    (letters.height > 0.0 && bare > 0).then(|| {
        let text = phrase!(
            "{} of {} have no room for a number that can be read",
            bare,
            counted(parts.len(), "piece")
        );
        Finding::warning("no-room-for-label", Letters::field(laser), text)
            .hint("the sheet says where pieces without a number lie")
    })
}

/// A piece's number in its middle; nothing where there is no room.
fn label(text: &str, kind: &PieceKind, thickness: f64, letters: &Letters) -> Vec<Vec<Point>> {
    let height = letters.height.min(thickness - 2.0 * letters.clear);
    let width = lettering::width(text, height);
    // A piece has its whole thickness between its shoulders; they lie at most a thickness in. One
    // that is cut off at the panel's edge may end in any way.
    let [from, to] = if kind.trims.is_empty() {
        between_folds(kind, [thickness, kind.figures.length - thickness])
    } else {
        whole_thickness(&kind.outline, thickness)
    };
    if height <= 0.0 || height < letters.least || width > to - from {
        return Vec::new();
    }
    let corner = Point::new(f64::midpoint(from, to) - width / 2.0, -height / 2.0);
    lettering::strokes(text, corner, height)
}

/// The longest part of a piece clear of its V's.
fn between_folds(kind: &PieceKind, [from, to]: [f64; 2]) -> [f64; 2] {
    let folds = kind.figures.folds.iter();
    let ends = folds.map(|fold| [fold.at - fold.half_width(), fold.at + fold.half_width()]);
    let mut longest = [from, from];
    let mut start = from;
    for [low, high] in ends.chain([[to, to]]) {
        if low - start > longest[1] - longest[0] {
            longest = [start, low];
        }
        start = high;
    }
    longest
}

/// Where along its axis a piece has both its long sides.
pub(super) fn whole_thickness(outline: &[Point], thickness: f64) -> [f64; 2] {
    let left = long_side(outline, thickness / 2.0);
    let right = long_side(outline, -thickness / 2.0);
    [left[0].max(right[0]), left[1].min(right[1])]
}

/// Where the side at a height begins and ends.
pub(super) fn long_side(outline: &[Point], y: f64) -> [f64; 2] {
    let on_side = outline.iter().filter(|p| p.y.approx_eq(y, POSITION));
    on_side.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| {
        [low.min(p.x), high.max(p.x)]
    })
}
