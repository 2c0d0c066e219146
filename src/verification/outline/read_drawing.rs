//! A drawing's file, read once for all that is asked of it.

use super::contours::{self, Contour};
use super::dxf_survey::{Survey, survey};
use super::report::OutlineFault;

/// A drawing's file as it was read.
pub struct ReadDrawing {
    /// What is wrong with it as a file.
    pub(super) faults: Vec<OutlineFault>,
    /// What its text says, and its contours; nothing where it cannot be read.
    pub(super) read: Option<(Survey, Vec<Contour>)>,
}

impl ReadDrawing {
    /// From a file's bytes. It never fails: what cannot be read is told by whatever is asked of it.
    pub fn of(bytes: &[u8]) -> Self {
        let mut faults = Vec::new();
        let read = survey(bytes, &mut faults)
            .and_then(|survey| Ok((survey, contours::read(bytes, &mut faults)?)));
        let read = match read {
            Ok(read) => Some(read),
            Err(fault) => {
                faults.push(fault);
                None
            }
        };
        ReadDrawing { faults, read }
    }

    /// Its contours; none where it cannot be read.
    pub(super) fn contours(&self) -> &[Contour] {
        self.read
            .as_ref()
            .map_or(&[], |(_, contours)| contours.as_slice())
    }
}
