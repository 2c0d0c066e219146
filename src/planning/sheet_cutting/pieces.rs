//! Pieces as plan polygons, grain along the piece, from sheet as thick as the strips are deep.

use super::super::measured_stock::stock_of;
use super::batch::WareBatch;
use super::labels::Letters;
use crate::finding::Finding;
use crate::geometry::Point;
use crate::geometry::tolerance::POSITION;
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
        let on_sheet = |kind: &PieceKind| {
            kind.stock
                .depth
                .approx_eq(filled.most_stock.depth, POSITION)
        };
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
        let others = filled.kinds.iter().filter(|kind| !on_sheet(kind));
        warnings.extend(others.map(|kind| not_on_sheet(kind, filled.most_stock.depth)));
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
        [thickness, kind.figures.length - thickness]
    } else {
        whole_thickness(&kind.outline, thickness)
    };
    if height <= 0.0 || height < letters.least || width > to - from {
        return Vec::new();
    }
    let corner = Point::new(f64::midpoint(from, to) - width / 2.0, -height / 2.0);
    lettering::strokes(text, corner, height)
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
