//! Panels cut by the emitted steps of a sled in a shop of its own (`tests/reference/cut_panels.py`), put
//! together by scipy, beside what is predicted of them.

use crate::made_up::{BY_KEY, BY_STOP, SledText, job, job_text, order, worked};
use crate::support::cut_panels;
use lapwright::lattice::{Bundle, Strip};
use lapwright::making::with_crossing_pieces;
use lapwright::planning::plan_sled;
use lapwright::predicting::predict_way;
use lapwright::reading::{Job, read_job, read_pattern, shipped_pattern};
use lapwright::writing::json;
use serde_json::{Value, json};

const PANELS: usize = 400;

fn cut(job: &Job, sled: &SledText, halves: &Value, rack: &Value) -> Value {
    let lattice = job.panel.lattice();
    let profile = sled.sled();
    let (plan, _) = plan_sled(lattice, "made up", &profile, job.sled).unwrap();
    let plan: Value =
        serde_json::from_str(&json::answer("lapwright/sled/1", &plan, &[], &[]).unwrap()).unwrap();
    let laps: Vec<Vec<usize>> = lattice.bundles.iter().map(laps).collect();
    let asked = json!({
        "strips": lattice.bundles.iter().map(numbers).collect::<Vec<_>>(),
        "laps": laps, "plan": plan, "thickness_mm": lattice.section.thickness, "kerf_mm": profile.blade.kerf,
        "crush_mm": job.fit.crush, "rack": rack, "halves": halves, "panels": PANELS, "seed": 7
    });
    cut_panels(&asked)
}

/// Numbers of a bundle's strips in their family, in the order of its blocks; none lies turned or rides along.
fn numbers(bundle: &Bundle) -> Vec<usize> {
    assert!(bundle.turned.is_empty() && bundle.trims.is_empty());
    bundle.strips.iter().map(|id| id.number).collect()
}

/// Indices of the notches that take strips, from 1.
fn laps(bundle: &Bundle) -> Vec<usize> {
    let notches = (1..).zip(&bundle.notches);
    let laps = notches.filter(|(_, notch)| notch.mate.strip().is_some());
    laps.map(|(at, _)| at).collect()
}

/// Prediction and shop beside each other: how often panels close, how many notches lie within what is
/// told of their places, how many widths within theirs.
fn compare(name: &str, job: &Job, sled: &SledText, halves: &Value, rack: &Value) -> f64 {
    let shop = cut(job, sled, halves, rack);
    let profile = sled.sled();
    let way = predict_way(&order(job, 20_000), worked(&profile, job.sled)).unwrap();
    let closed = shop["closes"].as_u64().unwrap() as f64 / PANELS as f64;
    let closes = way.closes.as_ref().unwrap();
    let deviation = (closes.chance * (1.0 - closes.chance) / PANELS as f64).sqrt();
    let lattice = job.panel.lattice();
    let (mut places, mut widths, mut all) = (0, 0, 0);
    let mut beyond = 0;
    for panel in 0..PANELS {
        for joint in &way.joints {
            let family = lattice
                .families
                .iter()
                .position(|one| one.name == joint.family)
                .unwrap();
            let number: usize = joint.strip[1..].parse().unwrap();
            let is = |strip: &&Strip| strip.id.family == family && strip.id.number == number;
            let strip = lattice.strips.iter().find(is).unwrap();
            let notches = &strip.notches[..joint.notch - 1];
            let lap = notches
                .iter()
                .filter(|notch| notch.mate.strip().is_some())
                .count();
            let at = |list: &Value| list[panel][family][number - 1][lap].as_f64().unwrap();
            let off = at(&shop["off"]) - joint.place_error_mm.known_mm;
            let wide = at(&shop["width"]) - lattice.section.thickness - joint.clearance_mm;
            all += 1;
            places += usize::from(off.abs() <= joint.place_error_mm.expanded_mm);
            beyond += usize::from(off.abs() > joint.place_error_mm.worst_mm + 1e-9);
            // The mate's own thickness comes on top of the width.
            widths += usize::from(wide.abs() <= joint.clearance_uncertainty_mm);
        }
    }
    let share = |count: usize| count as f64 / all as f64;
    println!(
        "{name}: {:.3} of {PANELS} panels closed, {:.3} predicted; {:.4} of {all} places within 2 deviations, \
         {beyond} beyond the worst case; {:.4} widths",
        closed,
        closes.chance,
        share(places),
        share(widths)
    );
    assert!(
        (closed - closes.chance).abs() < 4.0 * deviation + 0.01,
        "{closed} {closes:?}"
    );
    assert_eq!(beyond, 0);
    assert!((0.93..1.0).contains(&share(places)));
    assert!(share(widths) > 0.95);
    closes.chance
}

#[test]
fn panels_by_the_stop_in_several_blocks() {
    let sled = SledText {
        block: "12 mm",
        ..BY_STOP
    };
    let halves = json!({"stop": 0.03, "seat": 0.01, "land": 0.0, "kerf": 0.01, "thickness": 0.02, "key": 0.0});
    for clearance in ["0.03 mm", "0.06 mm"] {
        let job = job(5, 4, clearance, "[fit]\ncrush = \"0.02 mm\"\n");
        compare(
            &format!("by the stop, clearance {clearance}"),
            &job,
            &sled,
            &halves,
            &json!([]),
        );
    }
}

/// Pieces run over some of the strips, so a family's strips are several bundles: where these share the stop's
/// settings, all cross strips want an upright at the same place, and the panel closes far more often.
#[test]
fn panels_by_stops_that_bundles_share() {
    let sled = SledText {
        stop: "0.05 mm",
        ..BY_STOP
    };
    let halves = json!({"stop": 0.05, "seat": 0.01, "land": 0.0, "kerf": 0.01, "thickness": 0.02, "key": 0.0});
    let chances = ["stops", "bundles"].map(|by| {
        let more = format!(
            "[infill]\nthickness = \"3 mm\"\nmap = [\"H....\", \"HH...\", \".H...\", \".....\"]\n\
             [infill.legend]\nH = \"horned-crossings\"\n[fit]\ncrush = \"0.02 mm\"\n[sled]\norder = \"{by}\"\n"
        );
        let text = job_text(5, 4, "0.06 mm", &more).replace("40 mm", "54 mm").replace("15 mm", "18 mm");
        let job = read_job("job.toml", &text).unwrap_or_else(|bad| panic!("{:?}", bad.findings));
        let pattern = shipped_pattern("horned-crossings").unwrap();
        let pattern = read_pattern(pattern.name, pattern.text).ok().unwrap().pattern;
        let job = with_crossing_pieces(job, &[pattern]).ok().unwrap();
        assert!(job.panel.lattice().bundles.len() > 4);
        compare(by, &job, &sled, &halves, &json!([]))
    });
    assert!(chances[0] > chances[1] + 0.2, "{chances:?}");
}

#[test]
fn panels_over_the_key() {
    let halves = json!({"stop": 0.2, "seat": 0.01, "land": 0.01, "kerf": 0.01, "thickness": 0.02, "key": 0.005});
    let job = job(5, 4, "0.1 mm", "[fit]\ncrush = \"0.02 mm\"\n");
    compare(
        "over the key",
        &job,
        &BY_KEY,
        &halves,
        &json!([[40.0, 40.01]]),
    );
}

#[test]
fn strips_one_by_one() {
    let sled = SledText {
        block: "3.5 mm",
        ..BY_STOP
    };
    let halves = json!({"stop": 0.03, "seat": 0.01, "land": 0.0, "kerf": 0.01, "thickness": 0.02, "key": 0.0});
    let job = job(4, 3, "0.05 mm", "[fit]\ncrush = \"0.02 mm\"\n");
    compare("one by one", &job, &sled, &halves, &json!([]));
}
