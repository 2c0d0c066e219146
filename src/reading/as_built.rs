//! The `[as_built]` table of a job file: bays as measured once the strips were put together.

use super::fields::Fields;
use crate::finding::Finding;
use crate::lattice::{Frame, MeasuredBays, Panel, USUAL_SAME_WITHIN_MM};
use crate::opening::Fitted;
use crate::units::Kind;

pub(super) fn read_as_built(fields: Fields<'_>) -> Option<MeasuredBays> {
    let list = |key: &'static str| match fields.has(key) {
        true => fields.quantities(key, Kind::Length).map(Some),
        false => Some(None),
    };
    let openings_x = list("openings_x");
    let openings_y = list("openings_y");
    let same_within = match fields.has("same_within") {
        true => fields.quantity_within("same_within", Kind::Length, "0 mm", "1 mm"),
        false => Some(USUAL_SAME_WITHIN_MM),
    };
    fields.finish();
    Some(MeasuredBays {
        openings_x: openings_x?,
        openings_y: openings_y?,
        same_within: same_within?,
    })
}

/// A panel as built, with what goes round it.
pub(super) struct Built {
    pub(super) panel: Panel,
    pub(super) frame: Option<Frame>,
    pub(super) fitted: Option<Fitted>,
}

impl Built {
    /// With its bays as measured. A frame that was made for an opening stays where it is, and the margins
    /// take up what the bays are off.
    pub(super) fn with_bays(self, bays: &MeasuredBays) -> Result<Built, Vec<Finding>> {
        let panel = self.panel.as_built(bays)?;
        let let_in = self
            .frame
            .as_ref()
            .map_or(0.0, |frame| frame.mortise_depth - frame.end_gap);
        let fitted = self.fitted.map(|fitted| fitted.as_built(&panel, let_in));
        let fitted = fitted.transpose()?;
        let frame = self.frame.map(|frame| Frame {
            margins: fitted
                .as_ref()
                .map_or(frame.margins, |fitted| fitted.margins),
            ..frame
        });
        Ok(Built {
            panel,
            frame,
            fitted,
        })
    }
}
