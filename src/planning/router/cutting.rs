//! Speeds and feeds of a router.

use crate::finding::Finding;
use crate::machines::Router;
use crate::units::decimal;

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
}
