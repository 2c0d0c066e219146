//! What `show` and `compare` share: a job at a glance.

use super::answers::{Failure, Shown, warn};
use super::inputs;
use super::whole_job::WholeJob;
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::overview::Overview;
use crate::making::{GlanceOrder, Warnings, filled};
use std::path::Path;

/// A job with its figures.
pub(super) struct Glance {
    pub(super) whole: WholeJob,
    pub(super) overview: Overview,
    pub(super) warnings: Warnings,
}

impl Glance {
    /// # Errors
    /// All problems of the job, of its machines' profiles and of its pattern.
    pub(super) fn read(inputs: &Inputs, path: &Path, shown: Shown) -> Result<Self, Failure> {
        let job = inputs::job(inputs, path, shown)?;
        let whole = WholeJob::of(inputs, job, path, shown)?;
        let refused = |error| Failure::not_made(error, &whole.documents(), shown);
        let has_pieces = whole.job.panel.design().infill.is_some();
        let filled = has_pieces.then(|| filled(&whole.job, whole.patterns()));
        let filled = filled.transpose().map_err(refused)?;
        let order = GlanceOrder {
            job: &whole.job,
            filled: filled.as_ref(),
            workshop: &whole.workshop,
        };
        let overview = order.overview().map_err(refused)?;
        let mut warnings = Warnings::default();
        warnings.add(Document::Job, whole.job.warnings.clone());
        let of_pieces = filled.iter().flat_map(|filled| filled.warnings.clone());
        warnings.add(Document::Job, of_pieces);
        Ok(Glance {
            whole,
            overview,
            warnings,
        })
    }

    /// Shows its warnings on standard error.
    pub(super) fn warn(&self, shown: Shown) {
        warn(&self.warnings, &self.whole.documents(), shown);
    }
}
