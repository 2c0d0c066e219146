//! Measures of a slanted grid that make no sense, before any strip is laid out.

use super::limits::{MOST_BAYS, MOST_STRIP_LENGTH_MM};
use crate::finding::Finding;
use crate::geometry::convex::is_convex;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::lattice::design::StripSection;
use crate::lattice::grid_types::{DiamondGrid, Region, TriangularGrid};
use crate::lattice::strip::notch_width;
use crate::phrase;
use crate::units::{AtLeast, Mm, Rad};
use std::f64::consts::{FRAC_PI_3, PI};

/// Sharper crossings than this, rad, cannot be notched: the slots run along the strips.
pub const SHARPEST: f64 = PI / 9.0;

/// What widens the webs between slots of a slanted grid.
pub(super) struct Spacing {
    /// Where it stands.
    pub(super) field: &'static str,
    /// The least that leaves the webs, mm.
    pub(super) least: f64,
}

/// Slots of equal slant lie a pitch apart, square to them.
pub(super) fn diamond_spacing(strip: &StripSection) -> Spacing {
    Spacing {
        field: "grid.pitch",
        least: strip.thickness + strip.clearance + strip.least_web,
    }
}

/// Slots of both slants lie a side apart, along the strip.
pub(super) fn triangular_spacing(strip: &StripSection) -> Spacing {
    let width = notch_width(strip.thickness, strip.clearance, FRAC_PI_3);
    Spacing {
        field: "grid.side",
        least: slanted_step(width, strip),
    }
}

pub(super) fn diamond_faults(grid: &DiamondGrid, strip: &StripSection) -> Vec<Finding> {
    if !(SHARPEST..=PI - SHARPEST).contains(&grid.angle) {
        let text = phrase!(
            "families at {} cross too sharply to be notched",
            Rad(grid.angle)
        );
        let hint = phrase!("{} to {} can be built", Rad(SHARPEST), Rad(PI - SHARPEST));
        return vec![Finding::error("angle-out-of-range", "grid.angle", text).hint(hint)];
    }
    let measures = Measures {
        spacing: diamond_spacing(strip),
        drawn: grid.pitch,
        pitch: grid.pitch,
        angle: grid.angle,
        cell: grid.cell(),
        step: grid.step(),
        overhang: grid.overhang,
    };
    measures.faults(&grid.region, strip)
}

pub(super) fn triangular_faults(grid: &TriangularGrid, strip: &StripSection) -> Vec<Finding> {
    let measures = Measures {
        spacing: triangular_spacing(strip),
        drawn: grid.side,
        pitch: grid.pitch(),
        angle: FRAC_PI_3,
        cell: grid.cell(),
        step: grid.side,
        overhang: grid.overhang,
    };
    measures.faults(&grid.region, strip)
}

/// A step that leaves the least web between slots that slant against each other at 60 degrees:
/// each reaches half its width and half its slant, t / tan 60, toward the other, and a web that
/// stands at 60 degrees to the strip is seen along it through the sine.
fn slanted_step(width: f64, strip: &StripSection) -> f64 {
    width + strip.thickness / FRAC_PI_3.tan() + strip.least_web / FRAC_PI_3.sin()
}

/// What both kinds of grid have.
struct Measures {
    spacing: Spacing,
    /// The spacing as it was drawn.
    drawn: f64,
    pitch: f64,
    angle: f64,
    cell: Vector,
    step: f64,
    overhang: f64,
}

impl Measures {
    fn faults(&self, region: &Region, strip: &StripSection) -> Vec<Finding> {
        if self.drawn <= 0.0 {
            let text = phrase!("{} leaves no opening", Mm(self.drawn));
            let fault = Finding::error("not-positive", self.spacing.field, text);
            return vec![fault.hint("give a size above zero")];
        }
        let mut found = Vec::new();
        if self.pitch <= strip.thickness {
            let text = phrase!(
                "centre lines {} apart leave no opening between strips {} thick",
                Mm(self.pitch),
                Mm(strip.thickness)
            );
            let hint = phrase!("make it {} or more", AtLeast(self.spacing.least));
            found.push(
                Finding::error("pitch-within-thickness", self.spacing.field, text).hint(hint),
            );
        }
        found.extend(self.overhang_fault(strip));
        found.extend(self.region_faults(region));
        found
    }

    /// The first slot must leave a web before the strip's end, on both sides of the strip.
    fn overhang_fault(&self, strip: &StripSection) -> Option<Finding> {
        let width = notch_width(strip.thickness, strip.clearance, self.angle);
        let reach = width / 2.0 + strip.thickness / 2.0 / self.angle.tan().abs();
        let left = self.overhang - reach;
        if left >= strip.least_web - SAME_POSITION_MM {
            return None;
        }
        let text = phrase!(
            "an overhang of {} leaves {} between a notch at the region's edge and the strip's end; at least {} must stay",
            Mm(self.overhang),
            Mm(left.max(0.0)),
            Mm(strip.least_web)
        );
        let hint = phrase!(
            "make the overhang {} or more; it is trimmed off after glue-up",
            AtLeast(strip.least_web + reach)
        );
        Some(Finding::error("overhang-too-short", "grid.overhang", text).hint(hint))
    }

    fn region_faults(&self, region: &Region) -> Vec<Finding> {
        let mut found = Vec::new();
        let mut count = |field: &str, count: usize| {
            if count == 0 || count > MOST_BAYS {
                let text = phrase!("{} of them", count);
                let hint = phrase!("1 to {} can be built", MOST_BAYS);
                found.push(Finding::error("bays-out-of-range", field, text).hint(hint));
            }
        };
        match region {
            Region::Cells { columns, rows } => {
                count("grid.columns", *columns);
                count("grid.rows", *rows);
            }
            Region::Hexagon { rings } => count("grid.rings", *rings),
            Region::Rectangle { width, height } => {
                found.extend(self.too_small("grid.width", *width, self.cell.x));
                found.extend(self.too_small("grid.height", *height, self.cell.y));
            }
            Region::Polygon { corners, .. } if !is_convex(corners) => {
                let text = phrase!("these corners are not those of a convex polygon");
                let hint = "three corners or more, in order round the panel, turning the same way \
                            at each of them";
                found.push(Finding::error("region-not-convex", "grid.corners", text).hint(hint));
            }
            Region::Polygon { .. } => {}
        }
        if found.is_empty() {
            found.extend(self.too_large(region));
        }
        found
    }

    fn too_small(&self, field: &str, size: f64, cell: f64) -> Option<Finding> {
        if Region::whole_cells(size, cell) >= 1.0 {
            return None;
        }
        let text = phrase!("{} holds no whole cell of {}", Mm(size), Mm(cell));
        let hint = phrase!("make it {} or more", AtLeast(cell));
        Some(Finding::error("region-too-small", field, text).hint(hint))
    }

    fn too_large(&self, region: &Region) -> Option<Finding> {
        let (field, extent) = match region {
            Region::Cells { columns, rows } => {
                let size = (*columns as f64 * self.cell.x).hypot(*rows as f64 * self.cell.y);
                (self.spacing.field, size)
            }
            Region::Hexagon { rings } => ("grid.rings", 2.0 * *rings as f64 * self.step),
            Region::Rectangle { width, height } => ("grid.width", width.hypot(*height)),
            Region::Polygon { corners, .. } => {
                let (low, high) = bounds(corners.iter().copied()).unwrap_or_default();
                ("grid.corners", Point::to(low, high).length())
            }
        };
        let longest = extent + 2.0 * self.overhang;
        if longest > MOST_STRIP_LENGTH_MM + SAME_POSITION_MM {
            let text = phrase!("strips may come out {} long", Mm(longest));
            let hint = phrase!(
                "no strip is longer than {}: check the units",
                Mm(MOST_STRIP_LENGTH_MM)
            );
            let most = if 2.0 * self.overhang > extent {
                "grid.overhang"
            } else {
                field
            };
            return Some(Finding::error("strip-too-long", most, text).hint(hint));
        }
        let bays = extent / self.pitch;
        (bays > 2.0 * MOST_BAYS as f64).then(|| {
            let text = format!("{bays:.0} bays across the panel");
            let hint = phrase!("at most {} can be built", 2 * MOST_BAYS);
            Finding::error("bays-out-of-range", self.spacing.field, text).hint(hint)
        })
    }
}
