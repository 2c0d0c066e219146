//! What is told of stock that is not as it was drawn.

use crate::instructions::stock::{MeasuredShares, MeasuredStock};
use crate::lattice::{Lattice, Panel};

/// The stock of a lattice, where it is not as drawn.
pub(crate) fn measured_stock(lattice: &Lattice) -> Option<MeasuredStock> {
    let section = &lattice.section;
    let drawn = section.drawn.as_ref()?;
    let deeper = section.depth - drawn.depth;
    let shares = drawn.kept.clone().zip(section.joinery.kept.clone());
    let shares = shares.filter(|_| deeper.abs() > 0.0);
    Some(MeasuredStock {
        drawn_thickness_mm: drawn.thickness,
        measured_thickness_mm: section.thickness,
        thicker_mm: section.thickness - drawn.thickness,
        drawn_depth_mm: drawn.depth,
        measured_depth_mm: section.depth,
        deeper_mm: deeper,
        keeps: shares.map(|(drawn_mm, measured_mm)| MeasuredShares {
            drawn_mm,
            measured_mm,
        }),
        centres_as_drawn: lattice.centres_as_drawn,
    })
}

/// The stock of a panel, where it is not as drawn.
pub(crate) fn stock_of(panel: &Panel) -> Option<MeasuredStock> {
    panel.design().strip.drawn.as_ref()?;
    measured_stock(panel.lattice())
}
