//! Speeds and feeds of a router.

use crate::finding::Finding;
use crate::machines::Router;
use crate::units::decimal;

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
        let plunge = router.cutting.plunge_feed.min(router.travel.fastest_feed);
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
        CuttingData { rpm, feed, plunge }
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
