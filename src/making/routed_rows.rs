//! Pieces that a router cuts in rows on long sticks: their programs, each read back and found right.

use super::not_made::NotMade;
use super::programs::{ProgramFile, written};
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::Infilling;
use crate::instructions::routed_rows::{RoutedRow, RoutedRows};
use crate::lattice::Panel;
use crate::machines::{Chosen, Router, Station};
use crate::planning::plan_rows;
use crate::verification::{HeldPiece, HeldRow, MitringTask, PartTask};
use std::iter::repeat_n;

/// Where a router's findings are.
const ROUTER: Document = Document::Profile(Station::Router);

/// A panel's pieces on a router, with their programs.
#[derive(Debug)]
pub struct MitrePrograms {
    /// What is done with which sticks.
    pub plan: RoutedRows,
    /// Names and contents.
    pub files: Vec<ProgramFile>,
    /// Why some kinds of pieces have no program.
    pub unmade: Vec<Finding>,
    /// What is unusual about it.
    pub warnings: Vec<Finding>,
}

/// Plans a panel's pieces for a router and writes the programs.
///
/// # Errors
/// What the router cannot do, at the fields of its profile; and as for [`proven_mitre_programs`].
pub fn planned_mitre_programs(
    panel: &Panel,
    filled: &Infilling,
    router: Chosen<'_, Router>,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<MitrePrograms, NotMade> {
    let planned = plan_rows(panel, filled, router, file_name);
    let (planned, warnings) = planned.map_err(|faults| NotMade::cannot(faults, ROUTER))?;
    Ok(MitrePrograms {
        files: proven_mitre_programs(&planned.plan, filled, router.machine)?,
        plan: planned.plan,
        unmade: all_in_document(planned.unmade, ROUTER),
        warnings: all_in_document(warnings, ROUTER),
    })
}

/// The programs of a plan for this router, each read back and found right.
///
/// # Errors
/// A plan that makes too few pieces or is for another panel, a program that does not do what was meant,
/// and a temporary file that cannot be written.
pub fn proven_mitre_programs(
    plan: &RoutedRows,
    filled: &Infilling,
    router: &Router,
) -> Result<Vec<ProgramFile>, NotMade> {
    if let Some(text) = too_few(plan, filled) {
        return Err(NotMade::disproved(&text, Vec::new()));
    }
    let mut proven = Vec::new();
    for rows in plan.rows.chunk_by(|a, b| a.file == b.file) {
        let mut tasks = Vec::new();
        for row in rows {
            let Some(task) = row_task(row, filled, router) else {
                let text = format!("the sticks of {} do not lie as its pieces need", row.file);
                return Err(NotMade::disproved(&text, Vec::new()));
            };
            tasks.extend(repeat_n(PartTask::Mitres(task), row.part_count()));
        }
        let parts = rows.iter().flat_map(RoutedRow::parts);
        if let Some(first) = rows.first() {
            proven.push(written(&first.file, parts, &router.controller, &tasks)?);
        }
    }
    Ok(proven)
}

/// What a row's program has to do; `None` where that cannot be right for the panel.
pub(crate) fn row_task(
    row: &RoutedRow,
    filled: &Infilling,
    router: &Router,
) -> Option<MitringTask> {
    let kind = filled.kinds.get(row.number.checked_sub(1)?)?;
    let pieces = row.pieces.iter().map(|piece| HeldPiece {
        from_mm: piece.from_mm,
        turned: piece.turned,
        left_in_front: piece.left_in_front,
    });
    let held = HeldRow {
        stick_mm: row.stick_mm,
        front_edges_mm: row.front_edges_mm.clone(),
        pieces: pieces.collect(),
    };
    MitringTask::of(
        kind,
        (kind.stock.thickness, kind.stock.depth),
        router,
        &held,
    )
}

/// A kind of piece of which the panel takes more than the sticks yield, and that is not told as left
/// out.
fn too_few(plan: &RoutedRows, filled: &Infilling) -> Option<String> {
    for (at, kind) in filled.kinds.iter().enumerate() {
        // Trimmed ones are cut from whole ones.
        let takes =
            filled.kinds.iter().enumerate().filter(|(other, kind)| {
                kind.whole == Some(at) || *other == at && kind.whole.is_none()
            });
        let needed: usize = takes.map(|(_, kind)| kind.count).sum();
        let rows = plan.rows.iter().filter(|row| row.number == at + 1);
        let yielded: usize = rows
            .map(|row| row.pieces.len() * row.front_edges_mm.len() * row.runs)
            .sum();
        let left_out = plan.left_out.iter().any(|piece| piece.number == at + 1);
        if yielded < needed && !left_out {
            return Some(format!(
                "the sticks yield {yielded} of {needed} pieces `{}`",
                kind.name
            ));
        }
    }
    None
}
