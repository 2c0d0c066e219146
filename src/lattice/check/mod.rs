//! What keeps a design from being built, and what is unusual about it.

mod by_grid;
mod limits;
mod pieces;
mod slanted;
mod solid;
mod square;
mod stock;

pub use limits::{MOST_BAYS, MOST_STRIP_LENGTH_MM};
pub use slanted::SHARPEST;

use super::design::{Design, LapRule, StripSection, Weave};
use super::laps::Parting;
use super::layout::Lattice;

use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm};
use float_cmp::ApproxEq;

/// Longer strips than this, notched from one face only, make a panel that bows: the notches'
/// walls press on one side. Common practice, no source, mm.
const BOWING_LENGTH_MM: f64 = 600.0;

/// Customary sections of kumiko strips: thickness 2 to 6, depth 6 to 30 mm. Common practice, no
/// source; outside them there is a warning only.
const USUAL_THICKNESS_MM: std::ops::RangeInclusive<f64> = 2.0..=6.0;
const USUAL_DEPTH_MM: std::ops::RangeInclusive<f64> = 6.0..=30.0;

/// Whether a design's measures make sense, each by itself and beside the others.
///
/// # Errors
/// Those that do not.
pub(super) fn measures(design: &Design) -> Result<(), Vec<Finding>> {
    let mut found = section_faults(&design.strip);
    found.extend(floor_faults(design));
    found.extend(pieces::faults(design));
    found.extend(by_grid::measure_faults(design));
    none_of(found)
}

/// Whether the strips of a design whose measures make sense can be made and put together.
///
/// # Errors
/// What keeps it from being built.
pub(super) fn strips(design: &Design, lattice: &Lattice) -> Result<(), Vec<Finding>> {
    none_of(solid::faults(design, lattice))
}

/// Whether strips with notches for pieces that run over them keep enough wood.
///
/// # Errors
/// The worst place where one does not.
pub(super) fn crossed_strips(design: &Design, lattice: &Lattice) -> Result<(), Vec<Finding>> {
    none_of(solid::crossed_faults(design, lattice))
}

fn none_of(faults: Vec<Finding>) -> Result<(), Vec<Finding>> {
    if faults.is_empty() {
        Ok(())
    } else {
        Err(faults)
    }
}

/// What is unusual about a design that can be built.
pub(super) fn warnings(design: &Design, lattice: &Lattice) -> Vec<Finding> {
    let mut found = section_warnings(&design.strip);
    found.extend(pieces::warnings(design, lattice));
    let longest = lattice
        .strips
        .iter()
        .map(|strip| strip.length)
        .fold(0.0, f64::max);
    if design.strip.joinery.weave == Weave::OneFace && longest > BOWING_LENGTH_MM {
        let text = phrase!(
            "strips up to {} long are notched from one face only: a panel that wide tends to bow",
            Mm(longest)
        );
        let hint = "weave = \"alternate\" lays every other strip on the other side; or keep the \
                    notches from being tight, and clamp the panel flat while the glue sets";
        found.push(Finding::warning("one-faced", "strip.weave", text).hint(hint));
    }
    if design.strip.joinery.rule == LapRule::SameDepth && design.grid.families().len() == 2 {
        let text = "two layers share every node: this changes nothing here";
        found.push(Finding::warning("lap-without-effect", "strip.lap", text));
    }
    if lattice.left_out > 0 {
        let text = phrase!(
            "{} short grid line{} at the region's edge would be held at one place only: no strip is made for {}",
            lattice.left_out,
            if lattice.left_out == 1 { "" } else { "s" },
            if lattice.left_out == 1 { "it" } else { "them" }
        );
        found.push(Finding::warning("lines-left-out", "grid.region", text));
    }
    found
}

fn section_warnings(section: &StripSection) -> Vec<Finding> {
    let StripSection {
        thickness,
        depth,
        clearance,
        ..
    } = *section;
    let mut found = stock::warnings(section);
    if !USUAL_THICKNESS_MM.contains(&thickness) {
        let text = phrase!(
            "{} is an unusual strip thickness; lattice strips are mostly {} to {}",
            Mm(thickness),
            Mm(*USUAL_THICKNESS_MM.start()),
            Mm(*USUAL_THICKNESS_MM.end())
        );
        let field = section.thickness_field();
        found.push(Finding::warning("unusual-thickness", field, text));
    }
    if !USUAL_DEPTH_MM.contains(&depth) {
        let text = phrase!(
            "{} is an unusual strip depth; lattice strips are mostly {} to {}",
            Mm(depth),
            Mm(*USUAL_DEPTH_MM.start()),
            Mm(*USUAL_DEPTH_MM.end())
        );
        found.push(Finding::warning(
            "unusual-depth",
            section.depth_field(),
            text,
        ));
    }
    if clearance > thickness / 10.0 {
        let text = phrase!(
            "a clearance of {} is more than a tenth of the thickness: the laps will be loose",
            Mm(clearance)
        );
        found.push(Finding::warning("loose-lap", "strip.clearance", text));
    }
    if clearance < -thickness / 20.0 {
        let text = phrase!(
            "a press fit of {} is more than a twentieth of the thickness: the laps may split",
            Mm(-clearance)
        );
        found.push(Finding::warning("tight-lap", "strip.clearance", text));
    }
    found
}

fn section_faults(strip: &StripSection) -> Vec<Finding> {
    let StripSection {
        thickness,
        depth,
        clearance,
        least_web,
        ..
    } = *strip;
    let mut found = stock::faults(strip);
    let mut not_positive = |field: &str, value: f64| {
        if value <= 0.0 {
            let text = phrase!("{} leaves no wood", Mm(value));
            found.push(Finding::error("not-positive", field, text).hint("give a size above zero"));
        }
    };
    not_positive(strip.thickness_field(), thickness);
    not_positive(strip.depth_field(), depth);
    not_positive("strip.least_web", least_web);
    if thickness > 0.0 && clearance.abs() > thickness / 2.0 {
        let text = phrase!(
            "a {} of {} is more than half the strip's thickness of {}",
            if clearance < 0.0 {
                "press fit"
            } else {
                "clearance"
            },
            Mm(clearance.abs()),
            Mm(thickness)
        );
        found.push(
            Finding::error("clearance-too-large", "strip.clearance", text)
                .hint("clearance is what the notch is wider than the strip that lies in it, some hundredths of a millimetre"),
        );
    }
    found
}

/// Too little wood at a node, or shares that do not make up the depth.
fn floor_faults(design: &Design) -> Vec<Finding> {
    let strip = &design.strip;
    let layers = design.grid.families().len();
    let depth = strip.depth;
    let least = strip.joinery.least_floor;
    let field = "strip.keeps";
    // Shares are drawn as the depth is.
    let (drawn_depth, drawn_kept) = match &strip.drawn {
        Some(drawn) => (drawn.depth, &drawn.kept),
        None => (depth, &strip.joinery.kept),
    };
    if depth.min(drawn_depth) <= 0.0 {
        return Vec::new();
    }
    if least <= 0.0 {
        let text = phrase!("{} leaves no wood", Mm(least));
        let fault = Finding::error("not-positive", "strip.least_floor", text);
        return vec![fault.hint("give a size above zero")];
    }
    if let Some(kept) = drawn_kept {
        let sum: f64 = kept.iter().sum();
        if kept.len() != layers {
            let text = phrase!("{} shares for {} layers", kept.len(), layers);
            let hint = "one for each family of strips, front layer first";
            return vec![Finding::error("shares-miscounted", field, text).hint(hint)];
        }
        if sum.approx_ne(drawn_depth, POSITION) {
            let fault = |text: Phrase| Finding::error("shares-not-the-depth", field, text);
            return vec![if strip.drawn.is_some() {
                let text = phrase!(
                    "together {}; the strips are drawn {} deep",
                    Mm(sum),
                    Mm(drawn_depth)
                );
                fault(text).hint("what the layers keep at a node makes up the depth as drawn; what they keep of the measured depth is worked out from it in proportion")
            } else {
                let text = phrase!("together {}; the strips are {} deep", Mm(sum), Mm(depth));
                fault(text).hint("what the layers keep at a node must make up the strip's depth")
            }];
        }
        if let (LapRule::SameDepth, &[front, _, back]) = (strip.joinery.rule, &kept[..])
            && front.approx_ne(back, POSITION)
        {
            let text = phrase!(
                "front and back strips are not the same part where they keep {} and {}",
                Mm(front),
                Mm(back)
            );
            let hint = "give both the same share, or lap = \"least-cut\"";
            return vec![Finding::error("shares-not-alike", field, text).hint(hint)];
        }
    }
    let parting = Parting::of(strip);
    let kept = parting.kept(layers).into_iter().chain(parting.kept(2));
    let thinnest = kept.fold(f64::INFINITY, f64::min);
    if thinnest >= least - SAME_POSITION_MM {
        return Vec::new();
    }
    let fits_as_drawn = thinnest * drawn_depth / depth >= least - SAME_POSITION_MM;
    if drawn_kept.is_some() && fits_as_drawn {
        let text = phrase!(
            "in stock {} deep instead of {} the shares that are drawn do not fit: a strip keeps {} at a node, at least {} must stay",
            Mm(depth),
            Mm(drawn_depth),
            Mm(thinnest),
            Mm(least)
        );
        let hint = phrase!(
            "other `keeps`, or stock {} deep or more",
            AtLeast(depth * least / thinnest)
        );
        return vec![Finding::error("too-thin-for-laps", strip.depth_field(), text).hint(hint)];
    }
    let even = depth / layers as f64;
    let text = if strip.joinery.kept.is_some() {
        phrase!(
            "a strip keeps {} at a node; at least {} must stay",
            Mm(thinnest),
            Mm(least)
        )
    } else if layers == 2 {
        phrase!(
            "a strip {} deep keeps {} at a half lap",
            Mm(depth),
            Mm(even)
        )
    } else {
        phrase!(
            "a strip {} deep keeps {} where three lap",
            Mm(depth),
            Mm(even)
        )
    };
    let hint = phrase!(
        "at least {} must stay: make it {} deep or more",
        Mm(least),
        AtLeast(layers as f64 * least)
    );
    vec![if strip.joinery.kept.is_some() {
        Finding::error("too-thin-for-laps", field, text)
    } else {
        Finding::error("too-thin-for-laps", strip.depth_field(), text).hint(hint)
    }]
}
