//! Speeds and feeds of a router.

use crate::dialects::PathMode;
use crate::finding::Finding;
use crate::machines::Router;
use crate::phrase;
use crate::units::{AtLeast, Mm, decimal};

/// The whole number below, but for binary noise.
fn down(value: f64) -> f64 {
    (value + 1e-6).floor()
}

/// Speeds and feeds after the machine's limits.
#[derive(Debug, Clone, Copy)]
pub(super) struct CuttingData {
    pub(super) rpm: f64,
    pub(super) feed: f64,
    pub(super) plunge: f64,
}

impl CuttingData {
    /// Feed = speed x cutting edges x feed per edge, each held to what the machine can; every
    /// figure that was limited is told. All are whole numbers, as programs state them, on the right
    /// side of their limits.
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
        let feed = down(wanted.min(router.travel.fastest_feed));
        if wanted > router.travel.fastest_feed {
            let text = format!(
                "the feed is {} mm/min, the machine's limit, instead of {}: chips come out thinner than asked",
                whole(feed),
                whole(wanted)
            );
            warnings.push(
                Finding::warning("feed-limited", "cutting.chip_load", text)
                    .hint("a slower spindle keeps the chip load"),
            );
        }
        let plunge = down(router.cutting.plunge_feed.min(router.travel.fastest_feed));
        if router.cutting.plunge_feed > router.travel.fastest_feed {
            let text = format!(
                "the plunge feed is {} mm/min, the machine's limit",
                whole(plunge)
            );
            warnings.push(Finding::warning(
                "feed-limited",
                "cutting.plunge_feed",
                text,
            ));
        }
        let whole_rpm = match rpm.round() {
            above if above > spindle.fastest => rpm.floor(),
            below if below < spindle.slowest => rpm.ceil(),
            near => near,
        };
        CuttingData {
            rpm: whole_rpm,
            feed,
            plunge,
        }
    }

    /// What no program can be written with.
    pub(super) fn faults(&self, router: &Router) -> Vec<Finding> {
        let mut faults = Vec::new();
        if self.feed < 1.0 {
            let text = format!(
                "at {:.0} rpm this comes to a feed of less than 1 mm/min",
                self.rpm
            );
            faults.push(
                Finding::error("feed-too-slow", "cutting.chip_load", text).hint(
                    "check the chip load: feed per edge and turn, some hundredths of a millimetre",
                ),
            );
        }
        faults.extend(self.rounded_corner(router));
        faults
    }

    /// A control that keeps its feed through a corner rounds it by up to e = v^2 / 2a and leaves
    /// the path up to e / (sqrt 2 - 1) before a right angle (the bisector of a circle that touches
    /// both legs): the tool must be that far out of the wood where it turns.
    fn rounded_corner(&self, router: &Router) -> Option<Finding> {
        if router.controller.path_mode == Some(PathMode::ExactPath) {
            return None;
        }
        let feed = self.feed / 60.0;
        let rounding = feed * feed / (2.0 * router.travel.acceleration);
        let needed = rounding / (2.0_f64.sqrt() - 1.0);
        if needed <= router.cutting.run_out {
            return None;
        }
        let text = phrase!(
            "at this feed and acceleration the control may leave the path {} before a corner, and the tool turns {} beside the bundle",
            Mm(needed),
            Mm(router.cutting.run_out)
        );
        let hint = phrase!(
            "make the run-out {} or more, or say path_mode = \"exact-path\" in [controller] if the control knows it",
            AtLeast(needed)
        );
        Some(Finding::error("corner-rounded", "cutting.run_out", text).hint(hint))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::Machine;
    use crate::reading::{read_machine, shipped_machine};

    fn router(name: &str) -> Router {
        let profile = read_machine(name, shipped_machine(name).unwrap().text).unwrap();
        match profile.machine {
            Machine::Router(router) => router,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn figures_are_whole_and_within_their_limits() {
        let mut router = router("small-router");
        let data = |router: &Router| CuttingData::of(router, &mut Vec::new());
        // 16000 rpm x 2 edges x 0.025 mm.
        let shipped = data(&router);
        assert_eq!(
            (shipped.rpm, shipped.feed, shipped.plunge),
            (16000.0, 800.0, 300.0)
        );
        router.cutting.plunge_feed = 838.8;
        router.travel.fastest_feed = 799.9;
        router.spindle.fastest = 15_999.9;
        let held = data(&router);
        assert_eq!((held.rpm, held.feed, held.plunge), (15_999.0, 799.0, 799.0));
        router.spindle.slowest = 15_999.2;
        router.spindle.fastest = 16_100.0;
        router.spindle.speed = 9000.0;
        assert_eq!(data(&router).rpm, 16_000.0);
    }

    #[test]
    fn a_control_that_rounds_corners_needs_room_for_it() {
        let mut router = router("small-router");
        let faults = |router: &Router| {
            let data = CuttingData::of(router, &mut Vec::new());
            data.faults(router)
        };
        assert_eq!(faults(&router), []);
        // 800 mm/min is 13.333 mm/s; at 100 mm/s^2: 0.889 mm, times 2.414: 2.146 mm.
        router.travel.acceleration = 100.0;
        router.cutting.run_out = 2.14;
        assert_eq!(faults(&router)[0].code, "corner-rounded");
        router.cutting.run_out = 2.15;
        assert_eq!(faults(&router), []);
        router.cutting.run_out = 0.5;
        router.controller.path_mode = Some(PathMode::ExactPath);
        assert_eq!(faults(&router), []);
    }
}
