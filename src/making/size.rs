//! How large a job's panel comes out.

use crate::instructions::panel_size::PanelSize;
use crate::planning::{SizedPanel, panel_size};
use crate::reading::Job;

/// The sizes of a job's panel, of its frame and of the opening that it is for.
pub fn size_of(job: &Job) -> PanelSize {
    panel_size(SizedPanel {
        panel: &job.panel,
        frame: job.frame.as_ref(),
        fitted: job.fitted.as_ref(),
    })
}
