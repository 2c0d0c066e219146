//! A joint of two pieces in a stick, as it lies on the saw.

use crate::instructions::mitres::{MitrePlan, MitreSetting};
use crate::instructions::sheet::Picture;

/// The cut of a setting through a joint of the first sticks that it cuts.
pub(super) fn picture(_setting: &MitreSetting, _plan: &MitrePlan) -> Option<Picture> {
    None
}
