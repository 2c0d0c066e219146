//! A design that mixes inches and millimetres may mean one size and say two.

use super::fields::LengthRead;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::Panel;
use crate::phrase;
use crate::units::Mm;

/// Two figures within this share of each other look like the same nominal size: 1 1/2 in
/// beside 38 mm is 0.3 % apart, 1/4 in beside 6 mm is 5.8 %.
const LOOK_ALIKE: f64 = 0.06;

/// Steps of nominal sizes, mm: half millimetres, and 1/32 in. What a caliper reads seldom lies on
/// one. Common practice, no source.
const NOMINAL_METRIC_MM: f64 = 0.5;
const NOMINAL_INCH_MM: f64 = 25.4 / 32.0;

/// Warns of what [`pitches`] and [`stock`] find.
pub(super) fn mixed_units(lengths: &[LengthRead], panel: &Panel) -> Vec<Finding> {
    let mut found = pitches(lengths, panel);
    found.extend(stock(lengths));
    found
}

/// Warns of what [`look_alike`] finds in the strip's section.
fn stock(lengths: &[LengthRead]) -> Vec<Finding> {
    let named = |field: &str| lengths.iter().find(|length| length.field == field);
    let thickness = named("strip.thickness").zip(named("strip.measured_thickness"));
    let depth = named("strip.depth").zip(named("strip.measured_depth"));
    [thickness, depth]
        .into_iter()
        .flatten()
        .filter_map(|(drawn, measured)| look_alike(drawn, measured))
        .collect()
}

/// Warns of a nominal size in one system that stands as measured for a size drawn in the other and
/// looks like the same: 6 mm for 1/4 in. A caliper that reads in the other system is no fault.
fn look_alike(drawn: &LengthRead, measured: &LengthRead) -> Option<Finding> {
    let field = measured.field.clone();
    let drawn = drawn.length;
    let measured = measured.length;
    let step = if measured.imperial {
        NOMINAL_INCH_MM
    } else {
        NOMINAL_METRIC_MM
    };
    let off_step = (measured.value / step).fract();
    let nominal = off_step.min(1.0 - off_step) * step < SAME_POSITION_MM;
    let gap = (measured.value - drawn.value).abs();
    let mixed = measured.imperial != drawn.imperial;
    if !mixed || !nominal || gap == 0.0 || gap > LOOK_ALIKE * drawn.value {
        return None;
    }
    let message = phrase!(
        "this is {} and stands for {} as drawn, {} apart: it looks like the same size in other units",
        Mm(measured.value),
        Mm(drawn.value),
        Mm(gap)
    );
    let hint = "right if a caliper says so; leave it out if it is what the stock was sold as";
    Some(Finding::warning("mixed-units", field, message).hint(hint))
}

/// Warns of grid pitches of which one is written in inches, the other in mm, and which look
/// like the same size; one warning for each pair of values.
fn pitches(lengths: &[LengthRead], panel: &Panel) -> Vec<Finding> {
    let (imperial, metric): (Vec<_>, Vec<_>) = lengths
        .iter()
        .filter(|length| length.field.starts_with("grid.pitch"))
        .partition(|pitch| pitch.length.imperial);
    let mut warned: Vec<(f64, f64)> = Vec::new();
    let mut found = Vec::new();
    for LengthRead {
        field,
        length: inch,
    } in imperial
    {
        for metric in metric.iter().map(|pitch| pitch.length) {
            let pair = (inch.value, metric.value);
            let gap = (inch.value - metric.value).abs();
            if gap == 0.0 || gap > LOOK_ALIKE * metric.value || warned.contains(&pair) {
                continue;
            }
            warned.push(pair);
            let bays = bays_of(field, panel);
            let message = phrase!(
                "this is {} and stands beside {}: {} a bay, {} over {} bays",
                Mm(inch.value),
                Mm(metric.value),
                Mm(gap),
                Mm(gap * bays as f64),
                bays
            );
            let finding = Finding::warning("mixed-units", field.clone(), message);
            found.push(
                finding.hint("write both in the same unit if they are meant to be the same size"),
            );
        }
    }
    found
}

/// Bays in the direction that a pitch is for; of a pitch for both the greater number.
fn bays_of(field: &str, panel: &Panel) -> usize {
    let Some(grid) = panel.design().grid.with_uneven_pitches() else {
        return 1;
    };
    let columns = grid.pitches_x.len();
    let rows = grid.pitches_y.len();
    if field.starts_with("grid.pitches_x") {
        columns
    } else if field.starts_with("grid.pitches_y") {
        rows
    } else {
        columns.max(rows)
    }
}
