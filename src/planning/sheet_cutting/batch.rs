//! Parts of one kind, and several kinds together on the same sheets.

use super::labels::Letters;
use super::lay_out::{SheetOrder, lay_out};
use super::sheet_faults::{SheetNeed, too_thick, two_sheets};
use crate::finding::{Finding, Severity};
use crate::geometry::bounds;
use crate::geometry::tolerance::POSITION;
use crate::instructions::laser::{
    LappedBlank, LaserPlan, SquareCut, Stack, StickLabels, Unlabelled, Ware,
};
use crate::instructions::outline::CutPart;
use crate::instructions::panel::AssemblyStep;
use crate::instructions::stock::MeasuredStock;
use crate::machines::Laser;
use crate::units::UnitSystem;
use float_cmp::ApproxEq;
use std::collections::HashMap;

/// Parts of one kind with what has to be told of them.
#[derive(Debug, Clone)]
pub struct WareBatch {
    /// What they are.
    pub ware: Ware,
    /// Thickness of the sheet that they need, mm; none where any will do.
    pub(super) thickness: Option<f64>,
    /// The stock of the strips that they are, or belong to, where it is not as drawn.
    pub(super) stock: Option<MeasuredStock>,
    pub(super) parts: Vec<CutPart>,
    /// Of a guide: how its layers are glued.
    pub(super) stack: Option<Stack>,
    /// Of strips, pieces and lapped blanks: the labels of the parts, in their order.
    pub(super) labels: Vec<String>,
    pub(super) square_cuts: Vec<SquareCut>,
    pub(super) stick_labels: StickLabels,
    /// Units of places that are written on it.
    pub(super) marked_in: UnitSystem,
    pub(super) lapped: Vec<LappedBlank>,
    pub(super) assembly: Vec<AssemblyStep>,
    /// Whether the slot that fitted has a say in them.
    pub(super) fitted: bool,
    pub(super) warnings: Vec<Finding>,
}

impl WareBatch {
    pub(super) fn new(
        ware: Ware,
        thickness: Option<f64>,
        stock: Option<MeasuredStock>,
        parts: Vec<CutPart>,
    ) -> Self {
        WareBatch {
            ware,
            thickness,
            stock,
            parts,
            stack: None,
            labels: Vec::new(),
            square_cuts: Vec::new(),
            stick_labels: StickLabels::default(),
            marked_in: UnitSystem::default(),
            lapped: Vec::new(),
            assembly: Vec::new(),
            fitted: false,
            warnings: Vec::new(),
        }
    }

    /// The same, unless all of its parts were left out: then why they were.
    ///
    /// # Errors
    /// What is said of each of them.
    pub fn with_parts(self) -> Result<WareBatch, Vec<Finding>> {
        if !self.parts.is_empty() || self.warnings.is_empty() {
            return Ok(self);
        }
        let refused = |warning: Finding| Finding {
            severity: Severity::Error,
            ..warning
        };
        Err(self.warnings.into_iter().map(refused).collect())
    }

    /// The sheet that they ask for, if any will not do.
    fn need(&self) -> Option<SheetNeed> {
        Some(SheetNeed {
            ware: self.ware,
            thickness: self.thickness?,
        })
    }
}

/// Lays batches out together for a laser called `machine`; `file_name` gives the name of sheet n
/// (from 0) of how many.
///
/// # Errors
/// All that keeps them from being cut; fields are those of the laser's profile, or `what` where
/// the batches need sheets of different thickness.
pub fn plan_sheets(
    title: &str,
    machine: &str,
    batches: Vec<WareBatch>,
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(LaserPlan, Vec<Finding>), Vec<Finding>> {
    let needs: Vec<SheetNeed> = batches.iter().filter_map(WareBatch::need).collect();
    if let Some((first, rest)) = needs.split_first() {
        for other in rest {
            if other.thickness.approx_ne(first.thickness, POSITION) {
                return Err(vec![two_sheets(*first, *other)]);
            }
        }
    }
    for need in &needs {
        if need.thickness > laser.thickest {
            return Err(vec![too_thick(*need, laser)]);
        }
    }
    let order = SheetOrder {
        title,
        machine,
        wares: batches.iter().map(|batch| batch.ware).collect(),
        sheet_thickness: needs.first().map(|need| need.thickness),
        measured_stock: batches.iter().find_map(|batch| batch.stock.clone()),
    };
    let fitted = laser
        .fit
        .filter(|_| batches.iter().any(|batch| batch.fitted));
    let mut warnings: Vec<Finding> = Letters::of(laser).warning.into_iter().collect();
    let stack = batches.iter().find_map(|batch| batch.stack);
    let mut parts = Vec::new();
    let mut square_cuts: Vec<SquareCut> = Vec::new();
    let mut stick_labels = StickLabels::default();
    let mut marked_in = UnitSystem::default();
    let mut lapped = Vec::new();
    let mut assembly = Vec::new();
    let mut labels = HashMap::new();
    for batch in batches {
        for (part, label) in batch.parts.iter().zip(batch.labels) {
            let label = WantedLabel {
                ware: batch.ware,
                text: label,
            };
            labels.insert((part.name.clone(), part.copy), label);
        }
        parts.extend(batch.parts);
        stick_labels.faces |= batch.stick_labels.faces;
        stick_labels.angles |= batch.stick_labels.angles;
        if matches!(batch.ware, Ware::Sticks | Ware::Inserts) {
            marked_in = batch.marked_in;
        }
        lapped.extend(batch.lapped);
        for cut in batch.square_cuts {
            if !square_cuts.iter().any(|known| known.is_like(&cut)) {
                square_cuts.push(cut);
            }
        }
        assembly.extend(batch.assembly);
        warnings.extend(batch.warnings);
    }
    let laid = lay_out(&order, &parts, laser, file_name)?;
    let plan = LaserPlan {
        stack,
        assembly,
        square_cuts,
        stick_labels,
        marked_in,
        lapped,
        fitted_clearance_mm: fitted.map(|fit| fit.slot - fit.strip),
        unlabelled: unlabelled(&laid, &labels),
        ..laid
    };
    Ok((plan, warnings))
}

/// What stands on a part, or would if it had room.
struct WantedLabel {
    ware: Ware,
    text: String,
}

/// Where those parts lie on which their label has no room, row by row from the lower left.
fn unlabelled(plan: &LaserPlan, labels: &HashMap<(String, usize), WantedLabel>) -> Vec<Unlabelled> {
    let mut all = Vec::new();
    for file in &plan.files {
        let bare = file.finished.iter().filter(|part| part.strokes.is_empty());
        for part in bare {
            let Some(label) = labels.get(&(part.name.clone(), part.copy)) else {
                continue;
            };
            let (low, _) = bounds(part.outer.iter().copied()).unwrap_or_default();
            all.push(Unlabelled {
                ware: label.ware,
                sheet: file.sheet,
                name: part.name.clone(),
                copy: part.copy,
                label: label.text.clone(),
                at_mm: [low.x, low.y],
            });
        }
    }
    all.sort_by(|a, b| {
        let row = a.at_mm[1].total_cmp(&b.at_mm[1]);
        a.sheet
            .cmp(&b.sheet)
            .then(row)
            .then(a.at_mm[0].total_cmp(&b.at_mm[0]))
    });
    all
}
