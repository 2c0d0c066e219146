//! What a router cannot do, told at the fields of its profile.

use super::{Case, case, long_cutter, own_case, programs, rungs, square};
use crate::support::routers::router;
use lapwright::finding::Finding;
use lapwright::machines::{Chosen, Router};
use lapwright::making::{NotMade, planned_mitre_programs};
use lapwright::reading::read_machine;
use lapwright::units::UnitSystem;

fn faults(case: &Case, router: &Router) -> Vec<Finding> {
    let chosen = Chosen {
        name: "router",
        machine: router,
    };
    let made = planned_mitre_programs(&case.job.panel, &case.filled, chosen, &|_, _| "x".into());
    match made {
        Err(NotMade::Cannot(faults)) => faults,
        Ok(made) => made.unmade,
        Err(other) => panic!("{other:?}"),
    }
}

fn leaf() -> Case {
    case("square-hemp-leaf", &square(37.3, 2), [2.6, 9.0])
}

#[test]
fn what_the_router_cannot_do_is_told_at_its_fields() {
    let deep = case("square-hemp-leaf", &square(37.3, 2), [2.6, 12.0]);
    let crossed = case("crossed-diagonals", &square(37.3, 2), [2.6, 9.0]);
    let told = [
        (&deep, router(&[]), "flute-too-short", "tool.flute_length"),
        (
            &leaf(),
            long_cutter(&[("longest_stick = \"300 mm\"", "longest_stick = \"90 mm\"")]),
            "stick-too-long",
            "mitres.longest_stick",
        ),
        (
            &leaf(),
            long_cutter(&[("x = \"280 mm\"", "x = \"100 mm\"")]),
            "travel-too-short",
            "travel.x",
        ),
        (
            &leaf(),
            long_cutter(&[("clear_beside = \"8 mm\"", "clear_beside = \"3 mm\"")]),
            "no-room-beside",
            "fixture.clear_beside",
        ),
        (
            &leaf(),
            long_cutter(&[
                ("stick_out = \"18 mm\"", "stick_out = \"14 mm\""),
                ("clamp_height = \"4 mm\"", "clamp_height = \"6 mm\""),
            ]),
            "holder-too-low",
            "tool.stick_out",
        ),
        (
            &crossed,
            long_cutter(&[("diameter = \"2.000 mm\"", "diameter = \"2.800 mm\"")]),
            "tool-too-wide",
            "tool.diameter",
        ),
        (
            &leaf(),
            long_cutter(&[(
                "# [[fixture.clamps]]     #",
                "[[fixture.clamps]]\nname = \"toggle clamp\"\nx_from = \"60 mm\"\nx_to = \"75 mm\"\ny_from = \"-5 mm\"\ny_to = \"20 mm\"\ntop = \"6 mm\"  #",
            )]),
            "clamp-in-the-way",
            "fixture.clamps[0]",
        ),
    ];
    for (case, router, code, field) in told {
        let found = faults(case, &router);
        let one = found.iter().find(|fault| fault.code == code);
        let one = one.unwrap_or_else(|| panic!("{code}: {found:?}"));
        assert_eq!(one.field, field, "{code}");
    }
}

#[test]
fn a_profile_without_sticks_says_what_to_add() {
    let mut bare = router(&[]);
    bare.mitres = None;
    let found = faults(&leaf(), &bare);
    assert_eq!(found[0].code, "no-mitres");
    let hint = found[0]
        .hint
        .as_ref()
        .unwrap()
        .text(UnitSystem::Millimetres);
    for key in [
        "[mitres]",
        "skin",
        "least_skin",
        "height_error",
        "depth_spread",
        "grip",
        "longest_stick",
    ] {
        assert!(hint.contains(key), "{hint}");
    }
}

#[test]
fn a_skin_that_may_be_cut_through_is_no_profile() {
    let path = format!("{}/profiles/small-router.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    for (old, new, code) in [
        ("skin = \"0.5 mm\"", "skin = \"0.35 mm\"", "skin-too-thin"),
        ("skin = \"0.5 mm\"", "skin = \"0 mm\"", "skin-too-thin"),
        (
            "longest_stick = \"300 mm\"",
            "longest_stick = \"50 mm\"",
            "nothing-between",
        ),
    ] {
        let wrong = read_machine("router.toml", &text.replacen(old, new, 1)).unwrap_err();
        assert!(
            wrong.findings.iter().any(|fault| fault.code == code),
            "{new}: {:?}",
            wrong.findings
        );
    }
}

/// The piece alone is left out and named; the others are made.
#[test]
fn laps_in_both_faces_are_left_to_the_bench() {
    let text = rungs(["low", "", "long"]);
    let case = own_case("rungs", &text, &square(63.0, 2), [2.9, 10.0]);
    let made = programs(&case, &long_cutter(&[]));
    let codes: Vec<&str> = made.unmade.iter().map(|fault| fault.code).collect();
    assert_eq!(codes, ["laps-in-both-faces"]);
    let names: Vec<&str> = made
        .plan
        .left_out
        .iter()
        .map(|one| one.name.as_str())
        .collect();
    assert_eq!(names, ["long"]);
    assert!(made.plan.rows.len() >= 2);
}
