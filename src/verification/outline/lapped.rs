//! The blanks of pieces that lap each other, from the pieces' plan.
//!
//! In the plan the piece and its mate are bands. What a beam square to the piece's side must take
//! away for the mate is as long as the mate's room is within the piece: from the first to the last of
//! the four corners in which the sides of both meet.

use super::guide::Labels;
use super::pieces::SAME_SIZE_MM;
use super::strips::{ProfileSlot, skyline};
use super::wanted_part::{Engraved, EngravedText, WantedPart, alike_together};
use crate::geometry::{Point, Vector, bounds};
use crate::infill::{Infilling, PieceKind, PieceLap};
use crate::lattice::Face;
use crate::machines::Fit;

/// What blanks are made for and of. Millimetres.
#[derive(Debug, Clone, Copy)]
pub struct LappedOrder<'a> {
    /// The pieces.
    pub filled: &'a Infilling,
    /// What rough pieces are longer: half of it at either end.
    pub allowance: f64,
    /// The slot that was tried: a mate has as much room in a lap as the strip had there.
    pub fit: Option<Fit>,
}

impl LappedOrder<'_> {
    /// A blank for each piece that has laps, those that are trimmed at the panel's edge later as the
    /// whole ones that they are made of. Seen with end A at the left and the front face up.
    pub fn blanks(&self, labels: Labels) -> Vec<WantedPart> {
        let kinds = self.filled.kinds.iter().enumerate();
        let most = self.filled.most_stock.thickness;
        let whole = kinds.filter(|(_, kind)| {
            let on_sheet = (kind.stock.thickness - most).abs() < SAME_SIZE_MM;
            kind.whole.is_none() && !kind.figures.laps.is_empty() && on_sheet
        });
        alike_together(whole.map(|(at, kind)| self.blank(at, kind, labels)))
    }

    fn blank(&self, at: usize, kind: &PieceKind, labels: Labels) -> WantedPart {
        let trimmed = self
            .filled
            .kinds
            .iter()
            .filter(|other| other.whole == Some(at));
        let count = kind.count + trimmed.map(|kind| kind.count).sum::<usize>();
        let (low, high) = bounds(kind.outline.iter().copied()).unwrap_or_default();
        let depth = kind.stock.depth;
        let end = self.allowance / 2.0;
        let length = high.x - low.x + 2.0 * end;
        let (mut back, mut front) = (Vec::new(), Vec::new());
        let mut first = length;
        for lap in &kind.figures.laps {
            let [from, to] = self.room(kind, lap).map(|x| end + lap.centre + x);
            first = first.min(from);
            let slot = ProfileSlot {
                from,
                to,
                depth: lap.fraction * depth,
            };
            match lap.face {
                Face::Back => back.push(slot),
                Face::Front => front.push(slot),
            }
        }
        let mut ring = skyline(&back, length);
        let upper = skyline(&front, length).into_iter().rev();
        ring.extend(upper.map(|p| Point::new(p.x, depth - p.y)));
        let number = at + 1;
        let name = format!("blanks of {number} {}", kind.name);
        // Nearer to end A than the first lap.
        let label = EngravedText::about(format!("{number}A"), first / 2.0, first / 2.0);
        WantedPart::plain(name, ring, count).with_engraving(match labels {
            Labels::None => Engraved::default(),
            Labels::All | Labels::WhereRoom => Engraved {
                texts: vec![label],
                or_nothing: true,
                ..Engraved::default()
            },
        })
    }

    /// From where to where along a piece its mate lies in a lap, from the lap's centre.
    fn room(&self, kind: &PieceKind, lap: &PieceLap) -> [f64; 2] {
        let stock = kind.stock;
        let clearance = self.fit.map_or(stock.clearance, |fit| fit.slot - fit.strip);
        // Of the mate: the lap as it is drawn, less the job's clearance.
        let thick = lap.width * lap.angle.sin() - stock.clearance;
        let mate = Vector::new(lap.angle.cos(), lap.angle.sin());
        let mut ends = [f64::INFINITY, f64::NEG_INFINITY];
        for side in [-stock.thickness / 2.0, stock.thickness / 2.0] {
            for edge in [-0.5, 0.5] {
                // A point u along the piece's side lies so far to the right of the mate's middle:
                // u sin A - side cos A.
                let off = edge * (thick + clearance);
                let u = (off + side * mate.x) / mate.y;
                ends = [ends[0].min(u), ends[1].max(u)];
            }
        }
        ends
    }
}
