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
    for setting in list(&plan["settings"]) {
        let fence = &setting["fence"];
        orders.extend(taken(setting));
        let turned = fence.get("end_away");
        orders.push(Order::Fence(turned.map(|end| {
            (number(fence, "from_square_deg").to_radians(), hand(end))
        })));
        orders.push(Order::Blade(number(setting, "height_above_base_mm")));
        for work in list(&setting["work"]) {
            orders.push(Order::Lay(lay(plan, fence, work)));
            let bundle = &plan["bundles"][count(&work["bundle"]) - 1];
            let own = list(&bundle["steps"]).iter().filter(|step| {
                step["setting"] == setting["number"]
                    && list(&work["notches"]).contains(&step["notch"])
            });
            for step in own {
                orders.extend(taken(step));
                orders.extend(cuts(plan, setting, step, powered));
            }
        }
    }
    orders
}

fn lay(plan: &Value, fence: &Value, work: &Value) -> Lay {
    let bundle = &plan["bundles"][count(&work["bundle"]) - 1];
    let loads = &bundle["loads"];
    let step = fence.get("step_mm").and_then(Value::as_f64).unwrap_or(0.0);
    let toward = fence.get("step_toward").map(hand);
    Lay {
        bundle: count(&work["bundle"]),
        with: (list(&plan["bundles"]).iter().zip(1..))
            .filter(|(twin, _)| twin.get("same_as_bundle") == Some(&work["bundle"]))
            .map(|(_, twin)| twin)
            .collect(),
        per_block: count(&loads["strips_per_block"]),
        blocks: count(&loads["blocks"]),
        face: work["face"].as_str().unwrap_or_default().to_owned(),
        step: if toward == Some(Hand::Left) {
            -step
        } else {
            step
        },
    }
}

fn cuts(plan: &Value, setting: &Value, step: &Value, powered: bool) -> Vec<Order> {
    let passes = count(&setting["passes_per_notch"]);
    let shift = number(setting, "pass_shift_along_fence_mm");
    let first = |at: f64| Order::SetStop(at - (passes - 1) as f64 / 2.0 * shift);
    let mut by_end = vec![Order::CutAtEnd];
    for _ in 1..passes {
        by_end.extend([Order::MoveStop(shift), Order::CutAtEnd]);
    }
    if passes > 1 && !powered {
        by_end.push(Order::Pare);
    }
    match step["register"].as_str() {
        Some("stop") => {
            let mut orders = vec![first(number(step, "stop_to_kerf_mm"))];
            orders.extend(by_end);
            orders
        }
        Some("spacers") => {
            let at = first(number(step, "stop_to_kerf_mm"));
            let mut orders = vec![at, Order::Spacers(number(step, "spacer_mm"))];
            orders.extend(by_end);
            orders
        }
        Some("key") => {
            let on = count(&step["on_notch"]);
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
            let slot = Order::Key(number(step, "slot_mm"));
            std::iter::once(slot).chain(cuts).collect()
        }
        _ => panic!("{step}"),
    }
}
