//! The rails that a mortise program may be for.

use crate::geometry::tolerance::POSITION;
use crate::instructions::rails::RailProgram;
use crate::verification::MortisingTask;
use float_cmp::ApproxEq;

/// The program that is for a rail.
pub(super) fn program_of<'p>(
    programs: &'p [RailProgram],
    name: &str,
) -> impl Iterator<Item = &'p RailProgram> {
    let has = move |program: &&RailProgram| program.rails.iter().any(|rail| rail.name == name);
    programs.iter().find(has).into_iter()
}

/// A rail with mortises.
pub(super) struct RailSought {
    pub(super) number: usize,
    pub(super) name: String,
    pub(super) length: f64,
    pub(super) task: MortisingTask,
}

impl RailSought {
    /// What it is, and which other rails are its mirror images, as stiles are of each other: their
    /// mortises are the same in number and size, but come in the other order.
    pub(super) fn words(&self, all: &[RailSought]) -> String {
        let count = self.task.expected.len();
        let mut text = format!(
            "the {} of the job, {} mortise{}",
            self.name,
            count,
            if count == 1 { "" } else { "s" }
        );
        let other = |rail: &&RailSought| self.mirrors(rail) && !self.is_like(rail);
        let names: Vec<&str> = all
            .iter()
            .filter(other)
            .map(|rail| rail.name.as_str())
            .collect();
        if !names.is_empty() {
            text.push_str(&format!(
                "; not for its mirror image, the {}",
                names.join(" and the ")
            ));
        }
        text
    }

    fn walls(&self) -> Vec<f64> {
        let pockets = self.task.expected.iter();
        pockets.flat_map(|pocket| pocket.x_mm).collect()
    }

    fn is_like(&self, other: &RailSought) -> bool {
        same(&self.walls(), &other.walls())
    }

    fn mirrors(&self, other: &RailSought) -> bool {
        let walls = other.walls();
        let mirrored: Vec<f64> = walls.iter().rev().map(|x| other.length - x).collect();
        same(&self.walls(), &mirrored)
    }
}

/// Lengths that are the same but for rounding.
fn same(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.approx_eq(*b, POSITION))
}
