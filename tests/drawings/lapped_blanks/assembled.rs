//! Against shapely: the blanks are what their pieces need, and pared pieces go together.

use super::Case;
use crate::support::check_blanks;
use float_cmp::approx_eq;
use serde_json::{Value, json};

const THIN: &str = "thickness = \"2.2 mm\"\ndepth = \"9 mm\"\nclearance = \"0.05 mm\"";
const THICK: &str = "thickness = \"2.9 mm\"\ndepth = \"8.6 mm\"\nclearance = \"0.3 mm\"";

fn cases() -> Vec<Case> {
    let fitted = |case: Case, wider| Case {
        fit: Some(wider),
        ..case
    };
    let edge = |case: Case| Case {
        grid: "kind = \"diamond\"\npitch = \"45 mm\"\nangle = \"60 deg\"\nstance = \"on-point\"\n\
               region = \"rectangle\"\nwidth = \"260 mm\"\nheight = \"217 mm\""
            .to_owned(),
        infill: "edge = \"fill\"".to_owned(),
        ..case
    };
    vec![
        Case::crossed([45.0, 45.0], THIN),
        Case::at_angle(73.3, 2.2, THIN),
        Case::at_angle(60.0, 2.9, THICK),
        Case::at_angle(106.7, 2.2, THIN),
        fitted(Case::at_angle(60.0, 2.9, THICK), 0.05),
        fitted(Case::crossed([38.5, 38.5], THICK), 0.0),
        Case::posts("same"),
        Case::posts("mirror"),
        edge(Case::crossed([45.0, 45.0], THIN)),
    ]
}

#[test]
fn blanks_hold_the_laps_and_pared_pieces_go_together() {
    let cases = cases();
    let folders: Vec<_> = cases.iter().map(Case::folder).collect();
    let described = cases.iter().zip(&folders);
    let described: Value = described
        .map(|(case, folder)| case.described(folder))
        .collect();
    check_blanks(&described).unwrap_or_else(|reason| panic!("{reason}"));
}

/// Width (2.2 + 0.05) / sin 73.3; slot more by 2.2 / tan 73.3: worked out by hand.
#[test]
fn a_slot_is_as_wide_as_by_hand() {
    let case = Case::at_angle(73.3, 2.2, THIN);
    let described = case.described(&case.folder());
    let near = |value: &Value, wanted: f64| {
        let value = value.as_f64().unwrap();
        assert!(
            approx_eq!(f64, value, wanted, epsilon = 5e-5),
            "{value} {wanted}"
        );
    };
    near(&described["square_cuts"][0]["notch_mm"], 2.3491);
    near(&described["told"][0]["slots"][0]["slot_mm"], 3.0091);
}

/// The check itself: what was changed must be refused.
#[test]
fn changed_blanks_are_refused() {
    let case = Case::posts("same");
    let folder = case.folder();
    let right = case.described(&folder);
    check_blanks(&json!([right])).unwrap();
    type Change = fn(&mut Value);
    let cases: [(Change, &str); 8] = [
        (|job| job["thickness"] = json!(2.61), "told"),
        (|job| job["clearance"] = json!(0.09), "told"),
        (|job| job["allowance"] = json!(3.1), "length"),
        (|job| job["depth"] = json!(9.1), "told"),
        (
            |job| job["told"][0]["slots"][0]["face"] = json!("back"),
            "from the",
        ),
        (
            |job| job["told"][0]["turned_over"] = json!(3),
            "turned over",
        ),
        (|job| job["square_cuts"][0]["gap_mm"] = json!(0.1), "gap_mm"),
        (
            |job| job["cells"][1]["pieces"][1]["laps"][0]["face"] = json!("front"),
            "not all of it",
        ),
    ];
    for (change, reason) in cases {
        let mut changed = right.clone();
        change(&mut changed);
        let refusal = check_blanks(&json!([changed])).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
}
