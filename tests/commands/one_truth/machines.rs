//! What sled and router are told.

use super::readers::{Program, Rows, is, list, number, printed};
use super::{Built, Compared};
use serde_json::Value;
use std::collections::BTreeSet;

/// Answers of the single commands, heights, notches, stops and keys.
pub(super) fn sled(built: &Built<'_>, compared: &mut Compared) {
    let Some(plan) = built.json("sled") else {
        return;
    };
    let sheet = built.text("sled");
    same_answer(built, &["sled"], "sled", &plan);
    for setting in list(&plan, "settings") {
        for key in ["height_above_base_mm", "height_above_table_mm"] {
            let height = built.printed(&setting[key]);
            let says = |row: &Vec<String>| row.iter().any(|word| is(word, &height));
            let said =
                says(&built.page) && sheet.iter().any(says) && built.document.iter().any(says);
            built.check(said, || format!("{key} {height}"));
        }
        stops(built, &plan, setting, &sheet, compared);
    }
    for bundle in list(&plan, "bundles")
        .iter()
        .filter(|bundle| bundle.get("same_as_bundle").is_none())
    {
        notches(built, bundle, &sheet, compared);
    }
    for key in list(&plan["key"], "positions") {
        let centre = built.printed(&key["centre_to_centre_mm"]);
        built.all_say(&sheet, &centre, &[built.printed(&key["face_to_kerf_mm"])]);
        compared.keys += 1;
    }
}

/// A single command's answer holds what the folder does. What is told of the job itself stands in the folder's
/// list and on the sheet's first page.
pub(super) fn same_figures(built: &Built<'_>, command: &[&str], plan: &Value) {
    let mut own: Value = serde_json::from_str(&built.alone(command, "json").out).unwrap();
    let mut plan = plan.clone();
    for one in [&mut own, &mut plan] {
        one.as_object_mut().unwrap().remove("warnings");
    }
    let (own, plan) = (own.as_object().unwrap(), plan.as_object().unwrap());
    for key in own.keys().chain(plan.keys()) {
        let agree = own.get(key) == plan.get(key);
        built.check(agree, || {
            format!("{command:?}: {key} {:?} {:?}", own.get(key), plan.get(key))
        });
    }
}

/// Its text too.
fn same_answer(built: &Built<'_>, command: &[&str], name: &str, plan: &Value) {
    same_figures(built, command, plan);
    let text = built.alone(command, "text");
    let told: BTreeSet<&str> = text
        .out
        .split_whitespace()
        .chain(text.err.split_whitespace())
        .collect();
    let file = built.bench.read(&format!("out/{name}.txt"));
    let lacks: Vec<&str> = figures(&file).filter(|word| !told.contains(word)).collect();
    built.check(lacks.is_empty(), || {
        format!("{command:?} does not say {lacks:?}")
    });
}

fn figures(text: &str) -> impl Iterator<Item = &str> {
    text.split_whitespace()
        .filter(|word| word.parse::<f64>().is_ok())
}

/// Every notch has its row of edges; where a sheet tells several settings, more stands after its number.
fn notches(built: &Built<'_>, bundle: &Value, sheet: &Rows, compared: &mut Compared) {
    for notch in list(bundle, "notches") {
        let figures =
            ["centre_mm", "near_edge_mm", "far_edge_mm"].map(|key| built.printed(&notch[key]));
        built.all_say(sheet, &notch["index"].to_string(), &figures);
        let [centre, width] = ["centre_mm", "width_mm"].map(|key| number(&notch[key]));
        let [near, far] = ["near_edge_mm", "far_edge_mm"].map(|key| number(&notch[key]));
        built.check(
            (near - (centre - width / 2.0)).abs() < 2e-9
                && (far - (centre + width / 2.0)).abs() < 2e-9,
            || {
                "(near - (centre - width / 2.0)).abs() < 2e-9 && (far - (centre + width / 2.0)).a"
                    .to_owned()
            },
        );
        compared.notches += 1;
    }
}

/// Every time that the stop is set, with its number and its place at the first pass.
fn stops(built: &Built<'_>, plan: &Value, setting: &Value, sheet: &Rows, compared: &mut Compared) {
    for place in list(setting, "rounds")
        .iter()
        .flat_map(|round| list(round, "places"))
    {
        if place["register"] != "stop" {
            continue;
        }
        let cut = &place["cuts"][0];
        let bundle = cut["bundle"].as_u64().unwrap() - 1;
        let bundle = &list(plan, "bundles")[usize::try_from(bundle).unwrap()];
        let own = list(bundle, "by_stop")
            .iter()
            .find(|own| own["notch"] == cut["notch"])
            .unwrap();
        built.check(own["stop_to_kerf_mm"] == place["stop_to_kerf_mm"], || {
            "own['stop_to_kerf_mm'] == place['stop_to_kerf_mm']".to_owned()
        });
        let step = list(bundle, "steps").iter().find(|step| {
            step["notch"] == cut["notch"] && step["stop_setting"] == place["stop_setting"]
        });
        built.check(
            step.unwrap()["stop_to_kerf_mm"] == place["stop_to_kerf_mm"],
            || "step.unwrap()['stop_to_kerf_mm'] == place['stop_to_kerf_mm']".to_owned(),
        );
        let first = list(own, "passes_mm")
            .first()
            .unwrap_or(&own["stop_to_kerf_mm"]);
        built.all_say(
            sheet,
            "stop",
            &[place["stop_setting"].to_string(), built.printed(first)],
        );
        compared.stops += 1;
    }
}

/// Notches in rows, and in programs as they are cut.
pub(super) fn router(built: &Built<'_>, compared: &mut Compared) {
    let Some(plan) = built.json("router") else {
        return;
    };
    let sheet = built.text("router");
    same_figures(built, &["notch", "-o", "notches.nc"], &plan);
    for setup in list(&plan, "setups") {
        notches(built, setup, &sheet, compared);
        let file = setup["file"].as_str().unwrap();
        let text = built.bench.read(&format!("out/{file}"));
        built.check(text == built.bench.read(file), || format!("{file} differs"));
        cut(built, setup, &Program::read(&text), compared);
    }
}

fn cut(built: &Built<'_>, setup: &Value, program: &Program, compared: &mut Compared) {
    let stock = |axis: &str| -> [f64; 2] { [0, 1].map(|at| number(&setup["stock"][axis][at])) };
    let thickness = stock("y_mm")[1] / setup["strips_per_run"].as_f64().unwrap();
    let tool = number(&setup["tool_diameter_mm"]);
    let slots = program.slots(number(&setup["angle_deg"]).to_radians(), thickness, tool);
    let notches = list(setup, "notches");
    built.check(slots.len() == notches.len(), || {
        format!("{slots:?}\n{notches:?}")
    });
    for (slot, notch) in slots.iter().zip(notches) {
        // Three decimals in the program; a wall pass is one line at each side.
        let close = |a: f64, key: &str| (a - number(&notch[key])).abs() < 0.0016;
        built.check(
            close(slot.centre, "centre_mm")
                && close(slot.width, "width_mm")
                && close(slot.depth, "depth_mm"),
            || format!("{slot:?} {notch}"),
        );
        compared.slots += 1;
    }
    built.check(program.speeds == [number(&setup["spindle_rpm"])], || {
        "program.speeds == [number(&setup['spindle_rpm'])]".to_owned()
    });
    let known = [&setup["feed_mm_per_min"], &setup["plunge_feed_mm_per_min"]].map(number);
    built.check(
        program
            .feeds
            .iter()
            .all(|feed| known.iter().any(|known| (known - feed).abs() < 0.51)),
        || format!("{:?} {known:?}", program.feeds),
    );
    let remarks = &program.remarks;
    let long = format!(
        "{} {} long",
        printed(number(&setup["length_mm"]), "mm"),
        "mm"
    );
    let notched = format!("Notches {}", notches.len());
    let strips = list(setup, "lying")
        .iter()
        .map(|one| one["strips"].as_str().unwrap());
    for said in strips.chain([long.as_str(), &notched]) {
        built.check(remarks.contains(said), || {
            format!("no `{said}` in {remarks}")
        });
    }
}
