//! The table of a job that bays as built stand in.

use crate::instructions::as_built::SlotBays;
use crate::instructions::safety::SafetyNotes;
use crate::units::{NotPrintable, decimal};
use std::fmt::Write;

/// The table `[as_built]` that goes into a job, with what its figures are: millimetres, three decimals.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn table(bays: &SlotBays, safety: &SafetyNotes) -> Result<String, NotPrintable> {
    let list = |openings: &[f64]| {
        let written = openings
            .iter()
            .map(|open| Ok(format!("\"{} mm\"", decimal(*open, 3)?)));
        let written: Result<Vec<String>, NotPrintable> = written.collect();
        Ok::<String, NotPrintable>(written?.join(", "))
    };
    let mut text = format!(
        "# Clear openings that the slots of {} give as measured, by the steps of its plan; notches by the\n\
         # stop are taken as drawn. For the job once its strips are cut; what is measured after the dry fit is better.\n",
        bays.machine
    );
    for note in safety.short() {
        let _ = writeln!(text, "# Safety: {note}");
    }
    let _ = writeln!(text, "[as_built]");
    let _ = writeln!(text, "openings_x = [{}]", list(&bays.openings_x_mm)?);
    let _ = writeln!(text, "openings_y = [{}]", list(&bays.openings_y_mm)?);
    Ok(text)
}
