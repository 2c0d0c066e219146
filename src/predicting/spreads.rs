//! Every spread that a prediction uses, as its profile has it or as it is assumed.

use super::order::Notcher;
use crate::instructions::fit::SpreadUsed;
use crate::machines::{PlusMinus, SpreadFigure, StepOrder};

/// Every figure plus or minus that this way uses.
pub(super) fn spreads(notcher: Notcher<'_>) -> Vec<SpreadUsed> {
    let spread = notcher.spread();
    let reading = spread.plus_minus;
    let mut all = Vec::new();
    let mut given = |what, field, half| {
        all.push(used(reading, what, field, SpreadFigure::given(half)));
    };
    match notcher {
        Notcher::Sled(chosen, work) => {
            let sled = chosen.machine;
            if let Some(stop) = sled.stop {
                given(
                    match work.order {
                        StepOrder::Stops => "setting of the stop, one for all strips cut at it",
                        StepOrder::Bundles => "setting of the stop, one for each bundle",
                    },
                    "stop.repeatability",
                    stop.repeatability,
                );
            }
            if let Some(rack) = &sled.rack {
                given(
                    "landing on the key",
                    "rack.repeatability",
                    rack.repeatability,
                );
            }
            if let Some(spacers) = sled.spacers {
                given("spacers", "spacers.tolerance", spacers.tolerance);
            }
        }
        Notcher::Router(chosen) => {
            if let Some(key) = chosen.machine.fixture.key {
                given("place on the key", "fixture.key_error", key.error);
            }
        }
        Notcher::Sheet(_) => {}
    }
    let rows = [
        ("kerf", "spread.kerf", spread.kerf),
        (
            "strip thickness",
            "spread.strip_thickness",
            spread.strip_thickness,
        ),
        ("height of the cut", "spread.height", spread.height),
        ("seat on the stop", "spread.seat", spread.seat),
        ("key against kerf", "spread.key", spread.key),
        ("place of the axes", "spread.place", spread.place),
    ];
    let has_key = matches!(notcher, Notcher::Sled(chosen, _) if chosen.machine.rack.is_some());
    let there = rows.into_iter().filter(|(_, field, figure)| {
        (figure.half > 0.0 || !figure.is_assumed) && (*field != "spread.key" || has_key)
    });
    all.extend(there.map(|(what, field, figure)| used(reading, what, field, figure)));
    all
}

fn used(
    reading: PlusMinus,
    what: &'static str,
    field: &'static str,
    figure: SpreadFigure,
) -> SpreadUsed {
    SpreadUsed {
        what,
        field,
        plus_minus_mm: figure.half,
        deviation_mm: reading.deviation(figure.half),
        from: if figure.is_assumed {
            "assumed"
        } else {
            "profile"
        },
    }
}
