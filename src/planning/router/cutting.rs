//! Speeds and feeds of a router.

use crate::finding::Finding;
use crate::machines::Router;
use crate::phrase;
use crate::units::{Feed, Fine, Mm, decimal};

/// Speeds and feeds after the machine's limits.
#[derive(Debug, Clone, Copy)]
pub(super) struct CuttingData {
    pub(super) rpm: f64,
    pub(super) feed: f64,
    pub(super) plunge: f64,
}

impl CuttingData {
    /// Feed = speed x cutting edges x feed per edge, each held to what the machine can; every
    /// figure that was limited is told.
    pub(super) fn of(router: &Router, warnings: &mut Vec<Finding>) -> Self {
        let spindle = router.spindle;
        let rpm = spindle.speed.clamp(spindle.slowest, spindle.fastest);
        let whole = |value: f64| decimal(value, 0).unwrap_or_default();
        if (rpm - spindle.speed).abs() > 0.5 {
            let text = format!(
                "the spindle turns at {} rpm, its limit, instead of {}",
                whole(rpm),
                whole(spindle.speed)
            );
            warnings.push(Finding::warning("speed-limited", "spindle.speed", text));
        }
        let wanted = rpm * f64::from(router.tool.flutes) * router.cutting.chip_load;
        let feed = wanted.min(router.travel.fastest_feed);
        if wanted > router.travel.fastest_feed {
            let text = phrase!(
                "the feed is {}, the machine's limit, instead of {}: chips come out thinner than asked",
                Feed(feed),
                Feed(wanted)
            );
            warnings.push(
                Finding::warning("feed-limited", "cutting.chip_load", text)
                    .hint("a slower spindle keeps the chip load"),
            );
        }
        let plunge = router.cutting.plunge_feed.min(router.travel.fastest_feed);
        if router.cutting.plunge_feed > router.travel.fastest_feed {
            let text = phrase!("the plunge feed is {}, the machine's limit", Feed(plunge));
            warnings.push(Finding::warning(
                "feed-limited",
                "cutting.plunge_feed",
                text,
            ));
        }
        CuttingData { rpm, feed, plunge }
    }

    /// Feed of a wall pass that takes slices `slice` wide: as much faster as they make the chips
    /// thinner, within the machine's limit.
    pub(super) fn wall_feed(&self, router: &Router, slice: Option<f64>) -> f64 {
        let share = slice.map_or(1.0, |slice| thickest_chip(slice, router.tool.diameter));
        if !router.cutting.chip_thinning || share >= 1.0 {
            return self.feed;
        }
        let faster = self.feed / share.max(1.0 / MOST_FASTER);
        faster.min(router.travel.fastest_feed).max(self.feed)
    }

    /// Programs state feeds in whole mm/min, and a feed of none is no feed.
    pub(super) fn faults(&self) -> Vec<Finding> {
        if self.feed >= 1.0 {
            return Vec::new();
        }
        let text = format!(
            "at {:.0} rpm this comes to a feed of less than 1 mm/min",
            self.rpm
        );
        vec![
            Finding::error("feed-too-slow", "cutting.chip_load", text).hint(
                "check the chip load: feed per edge and turn, some hundredths of a millimetre",
            ),
        ]
    }
}

/// Wall passes are driven at most so many times faster: in thinner slices still, it is the cutter's
/// run-out that makes the chips. From memory.
const MOST_FASTER: f64 = 2.0;

/// The thickest part of a chip as a share of the feed per edge, where a cutter of `diameter` takes
/// slices `slice` wide.
///
/// From one edge to the next the cutter moves on by the feed per edge, f, along the wall. Where the
/// radius to an edge stands square to the wall, that move runs along the cut just made and the chip
/// has no thickness; at the angle p from there it lies f sin p farther into the wood. The slice
/// reaches to where the radius has come away from the wall by its width, R - R cos p = slice, so
/// cos p = 1 - 2 s with s = slice / diameter, and the chip there is sin p = 2 sqrt(s - s^2) of f, the
/// whole of it from half the diameter on. Derived; handbooks of milling have the same relation (from
/// memory).
pub(super) fn thickest_chip(slice: f64, diameter: f64) -> f64 {
    let share = slice / diameter;
    if share >= 0.5 {
        return 1.0;
    }
    2.0 * (share - share * share).max(0.0).sqrt()
}

/// Force on a square millimetre of chip, N/mm^2. Particleboard was measured at 32 to 38 (Palubicki,
/// Materials 14 (2021) 2208); softwood along the grain takes less, across it more (from memory).
const CHIP_FORCE: f64 = 30.0;

/// A cutter with flutes bends like a round bar of this share of its diameter (Kops and Vo, CIRP
/// Annals 39, 1990; from memory).
const FLUTED_SHARE: f64 = 0.8;

/// How far the cutter's end bends aside while it roughs `depth` deep, mm: a bar held at one end with
/// the force F at the other bends by F L^3 / 3 E I, I = pi d^4 / 64 (any textbook of strength of
/// materials); F is the chip's section, depth times feed per edge, times the force on it, one edge
/// in the wood at a time.
pub(super) fn deflection(router: &Router, feed: f64, rpm: f64, depth: f64) -> f64 {
    let tool = router.tool;
    let chip = feed / (rpm * f64::from(tool.flutes));
    let force = CHIP_FORCE * depth * chip;
    let section = std::f64::consts::PI * (FLUTED_SHARE * tool.diameter).powi(4) / 64.0;
    force * tool.length().powi(3) / (3.0 * tool.stiffness * section)
}

/// Nobody takes less at once, mm. Common practice, no source.
const LEAST_DEPTH_MM: f64 = 0.1;

/// A warning where the cutter bends aside too far, with the depth per pass that would do.
pub(super) fn deflection_warning(router: &Router, bent: f64, depth: f64) -> Option<Finding> {
    let most = router.cutting.most_deflection;
    if bent <= most || bent <= 0.0 {
        return None;
    }
    // More than asked for, by however little.
    let times = format!("{:.2}", (100.0 * bent / most).ceil() / 100.0);
    let text = phrase!(
        "the cutter's end bends aside by about {} times the {} that is asked for while it takes {} at once",
        times,
        Fine(most),
        Mm(depth)
    );
    // Rounded down, so that it is enough.
    let enough = (depth * most / bent * 100.0).floor() / 100.0;
    let hint = if enough < LEAST_DEPTH_MM {
        phrase!("no depth worth taking would do: a thicker cutter, or one that stands out less")
    } else {
        phrase!(
            "take {} at once (cutting.depth_per_pass), a thicker cutter, or one that stands out less",
            Mm(enough)
        )
    };
    Some(Finding::warning("cutter-bends", "cutting.depth_per_pass", text).hint(hint))
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn thin_slices_make_thin_chips() {
        // Computed apart from this code: a tenth of the diameter 0.6, 0.3 of 3.175 mm 0.585.
        assert!(approx_eq!(
            f64,
            thickest_chip(0.1, 1.0),
            0.6,
            epsilon = 1e-12
        ));
        assert!(approx_eq!(
            f64,
            thickest_chip(0.3, 3.175),
            0.585,
            epsilon = 5e-4
        ));
        assert!(approx_eq!(
            f64,
            thickest_chip(0.8, 3.175),
            0.868,
            epsilon = 5e-4
        ));
        assert!(approx_eq!(
            f64,
            thickest_chip(1.6, 3.0),
            1.0,
            epsilon = 1e-12
        ));
    }
}
