//! The comb: slots of rising width, to find the fit by.

use super::rings::points;
use super::wanted_part::{Engraved, EngravedText, WantedPart, figure};
use crate::lattice::Lattice;

/// A comb: 12 mm of wood, then slots and teeth of 8 mm in turn, as deep as the deepest notch, under
/// a back of 24 mm; each slot's width stands above it. Without `widths` they are the strips'
/// thickness less 0.2 mm to more 0.2 mm in steps of 0.05 mm.
pub fn comb_wanted(lattice: &Lattice, widths: Option<&[f64]>) -> Vec<WantedPart> {
    let thickness = lattice.section.thickness;
    let usual: Vec<f64> = (0..9)
        .map(|n| thickness - 0.2 + 0.05 * f64::from(n))
        .collect();
    let widths = widths.unwrap_or(&usual);
    let all = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    let depth = all.map(|notch| notch.depth).fold(0.0, f64::max);
    let mut lower = vec![(0.0, 0.0)];
    let mut texts = Vec::new();
    let mut left = 12.0;
    for width in widths {
        let right = left + width;
        lower.extend([(left, 0.0), (left, depth), (right, depth), (right, 0.0)]);
        let three = figure(*width, 3);
        let words = three.strip_suffix('0').unwrap_or(&three);
        texts.push(EngravedText::about(
            words,
            (left + right) / 2.0,
            width / 4.0,
        ));
        left = right + 8.0;
    }
    let length = (left + 4.0).max(60.0);
    lower.extend([(length, 0.0), (length, depth + 24.0), (0.0, depth + 24.0)]);
    texts.push(EngravedText::anywhere("50 MM"));
    let comb = WantedPart::plain("comb", points(&lower), 1)
        .with_engraving(Engraved::beside_check_line(Vec::new(), texts))
        .on_laid_edge();
    vec![comb]
}
