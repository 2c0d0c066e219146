//! Profiles of paring guides.

use crate::finding::Finding;
use crate::machines::Guides;
use crate::reading::fields::{Bound, Fields};
use crate::units::Kind;
use std::f64::consts::{FRAC_PI_2, PI};

/// Angles closer to a right one than this are right, rad.
const SQUARE: f64 = 1e-9;

pub(super) fn read_guides(top: &Fields<'_>) -> Option<Guides> {
    let fields = top.required_table("guides")?;
    let angles = fields.quantities("angles", Kind::Angle);
    fields.require(
        "angles",
        "a list of angles, such as [\"22.5 deg\", \"45 deg\"]",
    );
    if angles.as_ref().is_some_and(Vec::is_empty) {
        fields.report(Finding::error(
            "empty-list",
            fields.path("angles"),
            "guides have at least one angle",
        ));
    }
    for (at, angle) in angles.iter().flatten().enumerate() {
        let is_square = (*angle - FRAC_PI_2).abs() < SQUARE;
        if !(*angle > 0.0 && *angle < PI) || is_square {
            fields.report(Finding::error(
                "angle-out-of-range",
                format!("{}[{at}]", fields.path("angles")),
                "a block's angle lies between 0 and 90 deg, of one for birds' mouths between 90 and 180 deg",
            ));
        }
    }
    let nearest = fields.required_quantity("stop_nearest", Kind::Length);
    let farthest = fields.positive_length("stop_farthest");
    fields.check_order(
        Bound::of("stop_nearest", nearest),
        Bound::of("stop_farthest", farthest),
    );
    let block_length = fields.positive_length("block_length");
    fields.finish();
    Some(Guides {
        angles: angles?,
        stop_nearest: nearest?,
        stop_farthest: farthest?,
        block_length: block_length?,
        measured: Vec::new(),
    })
}
