//! Plain numbers without a unit: parts of something that the file names.

use super::asked::{Asked, record};
use super::table::Fields;
use crate::finding::Finding;

impl Fields<'_> {
    /// A plain number, or a fraction in quotes such as "3/4", between two others: `Some(None)` where it is
    /// not written, `None` where it is written wrong.
    pub(in crate::reading) fn part_within(
        &self,
        key: &'static str,
        least: &'static str,
        most: &'static str,
    ) -> Option<Option<f64>> {
        if !self.has(key) {
            return Some(None);
        }
        record(|| self.path(key), || Asked::Part(least, most));
        let value = self.get(key)?;
        let part = self.item(self.path(key), value).number(PART)?;
        let limit = |text: &str| text.parse::<f64>().ok();
        if limit(least)? <= part && part <= limit(most)? {
            return Some(Some(part));
        }
        let message = format!("this must be {least} to {most}");
        self.report(Finding::error("out-of-range", self.path(key), message).hint(PART));
        None
    }
}

const PART: &str = "write a plain number such as 0.8, or a fraction in quotes such as \"3/4\"";
