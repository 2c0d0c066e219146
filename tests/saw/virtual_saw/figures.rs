//! The plan's JSON as orders.

use super::saw::{Hand, Lay, Order, Side, Thing};
use serde_json::Value;

fn number(value: &Value, key: &str) -> f64 {
    (value[key].as_f64()).unwrap_or_else(|| panic!("no number {key} in {value}"))
}

fn count(value: &Value) -> usize {
    usize::try_from(
        value
            .as_u64()
            .unwrap_or_else(|| panic!("{value} is no count")),
    )
    .unwrap()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn hand(value: &Value) -> Hand {
    match value.as_str() {
        Some("left") => Hand::Left,
        Some("right") => Hand::Right,
        _ => panic!("{value} is no hand"),
    }
}

fn taken(value: &Value) -> impl Iterator<Item = Order> + '_ {
    list(&value["take_away"]).iter().map(|thing| {
        Order::Take(match thing.as_str() {
            Some("key") => Thing::Key,
            Some("stop") => Thing::Stop,
            Some("spacers") => Thing::Spacers,
            _ => panic!("{thing} is nothing to take away"),
        })
    })
}

/// The saw's orders from `lapwright/sled/1`.
pub fn orders(plan: &Value, powered: bool) -> Vec<Order> {
    let mut orders = Vec::new();
    if let Some(height) = plan["key"]["below_mm"].as_f64() {
        orders.push(Order::KeyHeight(height));
    }
    let mut stands = None;
    for setting in list(&plan["settings"]) {
        let fence = &setting["fence"];
        orders.extend(taken(setting));
        let turned = fence.get("end_away");
        orders.push(Order::Fence(turned.map(|end| {
            (number(fence, "from_square_deg").to_radians(), hand(end))
        })));
        orders.push(Order::Blade(number(setting, "height_above_base_mm")));
        for round in list(&setting["rounds"]) {
            orders.push(Order::ClampAnew);
            for place in list(&round["places"]) {
                orders.extend(at_place(plan, setting, place, powered, &mut stands));
            }
        }
    }
    orders
}

/// The bundles that a cut is made in: its own and those that are cut as it.
fn together(plan: &Value, cut: &Value) -> Vec<usize> {
    let all = list(&plan["bundles"]).iter().zip(1..);
    let twins = all.filter(|(twin, _)| twin.get("same_as_bundle") == Some(&cut["bundle"]));
    let twins = twins.map(|(_, twin)| twin);
    std::iter::once(count(&cut["bundle"]))
        .chain(twins)
        .collect()
}

fn step_of<'a>(plan: &'a Value, cut: &Value) -> &'a Value {
    let bundle = &plan["bundles"][count(&cut["bundle"]) - 1];
    let mut steps = list(&bundle["steps"]).iter();
    steps.find(|step| step["notch"] == cut["notch"]).unwrap()
}

/// What is set, and pass by pass all that is cut there.
fn at_place(
    plan: &Value,
    setting: &Value,
    place: &Value,
    powered: bool,
    stands: &mut Option<u64>,
) -> Vec<Order> {
    let cuts = list(&place["cuts"]);
    let mut orders: Vec<Order> = taken(step_of(plan, &cuts[0])).collect();
    for cut in &cuts[1..] {
        assert!(list(&step_of(plan, cut)["take_away"]).is_empty(), "{place}");
    }
    for cut in cuts {
        assert_eq!(step_of(plan, cut)["register"], place["register"]);
        assert_eq!(
            step_of(plan, cut).get("stop_setting"),
            place.get("stop_setting")
        );
    }
    let passes = count(&setting["passes_per_notch"]);
    let shift = number(setting, "pass_shift_along_fence_mm");
    let lays = |cut: &Value| -> Vec<Order> {
        let each = together(plan, cut).into_iter();
        each.map(|bundle| Order::Lay(lay(plan, &setting["fence"], cut, bundle)))
            .collect()
    };
    if place["register"] == "key" {
        orders.push(Order::Key(number(place, "slot_mm")));
        for cut in cuts {
            for lay in lays(cut) {
                orders.push(lay);
                orders.extend(over_key(plan, setting, cut));
            }
        }
        return orders;
    }
    let number_of_stop = place["stop_setting"].as_u64();
    let first = number(place, "stop_to_kerf_mm") - (passes - 1) as f64 / 2.0 * shift;
    orders.push(if *stands == number_of_stop {
        Order::StopStays
    } else {
        Order::SetStop(first)
    });
    *stands = number_of_stop;
    orders.extend(place["spacer_mm"].as_f64().map(Order::Spacers));
    for pass in 0..passes {
        orders.extend((pass > 0).then_some(Order::MoveStop(shift)));
        for lay in cuts.iter().flat_map(lays) {
            orders.extend([lay, Order::CutAtEnd]);
            orders.extend((pass > 0 && !powered).then_some(Order::Pare));
        }
    }
    orders
}

fn lay(plan: &Value, fence: &Value, cut: &Value, bundle: usize) -> Lay {
    let loads = &plan["bundles"][bundle - 1]["loads"];
    let step = fence.get("step_mm").and_then(Value::as_f64).unwrap_or(0.0);
    let toward = fence.get("step_toward").map(hand);
    Lay {
        bundle,
        with: Vec::new(),
        per_block: count(&loads["strips_per_block"]),
        blocks: count(&loads["blocks"]),
        face: cut["face"].as_str().unwrap_or_default().to_owned(),
        step: if toward == Some(Hand::Left) {
            -step
        } else {
            step
        },
    }
}

fn over_key(plan: &Value, setting: &Value, cut: &Value) -> Vec<Order> {
    let passes = count(&setting["passes_per_notch"]);
    let shift = number(setting, "pass_shift_along_fence_mm");
    let on = count(&cut["on_notch"]);
    assert_eq!(cut["on_notch"], step_of(plan, cut)["on_notch"]);
    let kerf = number(&plan["key"], "width_mm");
    let turn = setting["fence"]["from_square_deg"].as_f64().unwrap_or(0.0);
    let within = kerf / turn.to_radians().cos() - shift;
    let sides = [Side::Right, Side::Left, Side::Midway(within)];
    let sides = if passes == 1 {
        &[Side::Fits][..]
    } else {
        &sides[..passes]
    };
    let cuts = sides.iter().map(|side| Order::CutOnKey { on, side: *side });
    cuts.collect()
}
