//! What plans tell of their machines' figures that were measured.

use crate::instructions::measured::MeasuredNote;
use crate::machines::MeasuredFigure;

/// Tables of figures that only rows of mitred pieces use.
const OF_ROWS: &str = "mitres.";

/// All of them, as a plan has them.
pub(crate) fn measured_figures(figures: &[MeasuredFigure]) -> Vec<MeasuredNote> {
    figures.iter().map(note).collect()
}

/// Those that the notching of strips uses.
pub(crate) fn measured_for_notches(figures: &[MeasuredFigure]) -> Vec<MeasuredNote> {
    let used = figures
        .iter()
        .filter(|figure| !figure.field.starts_with(OF_ROWS));
    used.map(note).collect()
}

fn note(figure: &MeasuredFigure) -> MeasuredNote {
    MeasuredNote {
        field: figure.field.clone(),
        name: figure.name.clone(),
        value_mm: figure.value,
        date: figure.date.to_string(),
        readings: figure.readings,
        deviation_mm: figure.deviation,
        expanded_uncertainty_mm: figure.uncertainty,
    }
}
