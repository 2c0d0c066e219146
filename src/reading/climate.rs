//! The table `[climate]` of a job: where the panel is made, and where it hangs.

use super::fields::{Bound, Fields};
use crate::finding::Finding;
use crate::units::Kind;
use crate::woods::{Air, Climate, GrowthRings, Movement};

/// What is not given stays an example.
pub(super) fn read_climate(fields: Fields<'_>) -> Option<Climate> {
    let examples = Climate::default();
    let bench = read_bench(&fields, examples.bench);
    let driest = read_air(&fields, "driest", examples.driest);
    let dampest = read_air(&fields, "dampest", examples.dampest);
    let moisture = |air: Option<Air>| air.map(Air::moisture_percent);
    fields.check_order(
        Bound::of("driest", moisture(driest)),
        Bound::of("dampest", moisture(dampest)),
    );
    let ways = [
        ("across-thickness", GrowthRings::AcrossThickness),
        ("along-thickness", GrowthRings::AlongThickness),
    ];
    let rings = if fields.has("rings") {
        fields.choice("rings", &ways).map(Some)
    } else {
        Some(None)
    };
    let movement = read_movement(&fields);
    fields.finish();
    Some(Climate {
        bench: bench?,
        driest: driest?,
        dampest: dampest?,
        rings: rings?,
        movement: movement?,
    })
}

/// The air's humidity, or the strips' own moisture by a meter.
fn read_bench(fields: &Fields<'_>, example: Air) -> Option<Air> {
    if !fields.has("bench_moisture") {
        return read_air(fields, "bench", example);
    }
    if fields.has("bench") {
        let text = "`bench` is given as well";
        let hint = "leave one out: `bench` is the air's humidity, `bench_moisture` what a meter says of the strips";
        fields.report(Finding::error("both-given", fields.path("bench_moisture"), text).hint(hint));
        return None;
    }
    let moisture = fields.quantity_within("bench_moisture", Kind::Share, "2 %", "24 %");
    moisture.map(|moisture| Air::Moisture(moisture * 100.0))
}

fn read_air(fields: &Fields<'_>, key: &'static str, example: Air) -> Option<Air> {
    if !fields.has(key) {
        return Some(example);
    }
    let humidity = fields.quantity_within(key, Kind::Share, "5 %", "95 %");
    humidity.map(|humidity| Air::Humidity {
        humidity,
        is_own: true,
    })
}

fn read_movement(fields: &Fields<'_>) -> Option<Option<Movement>> {
    if !fields.has("radial") && !fields.has("tangential") {
        return Some(None);
    }
    let coefficient = |key| fields.quantity_within(key, Kind::Share, "0.01 %", "1 %");
    let radial = coefficient("radial");
    let tangential = coefficient("tangential");
    Some(Some(Movement {
        radial: radial?,
        tangential: tangential?,
    }))
}
