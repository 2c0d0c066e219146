//! `machine thickness` as a person at the planer uses it.

use crate::support::cli::Bench;

#[test]
fn what_to_plane_to_and_what_to_do_with_strips_as_they_are() {
    let bench = Bench::new();
    let told = bench
        .ok(&[
            "machine",
            "thickness",
            "key-sled",
            "--clearance",
            "0.05mm",
            "--have",
            "3.12mm",
        ])
        .out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    // Kerf 2.60: planed to 2.55; strips of 3.12 want a groove of 3.17, so a shim of 0.57 and 0.57 to plane off.
    for said in [
        "plane to 2.55 mm",
        "a shim of 0.57 mm",
        "Or plane 0.57 mm off",
        "(assumed)",
        "Safety: ",
    ] {
        assert!(told.contains(said), "{said}\n{told}");
    }
    let json = bench
        .ok(&[
            "machine",
            "thickness",
            "bench-hook",
            "--clearance=-0.02mm",
            "--have",
            "0.5mm",
            "--format",
            "json",
        ])
        .json();
    assert_eq!(json["schema"], "lapwright/machine-thickness/1");
    assert!(json.get("thickest_two_passes_mm").is_none());
    assert!(json["in_hand"].get("with_shim").is_none(), "{json}");
}

#[test]
fn what_cannot_be_is_refused() {
    let bench = Bench::new();
    for (args, said) in [
        (
            &["key-sled", "--clearance", "3mm"][..],
            "no more than the clearance",
        ),
        (&["key-sled", "--have", "0mm"], "above zero"),
        (&["key-sled", "--have", "3"], "no unit"),
        (&["tube-laser"], "sled"),
        (&["nowhere.toml"], "nowhere.toml"),
    ] {
        let ran = bench.run(&[&["machine", "thickness"], args].concat());
        assert_eq!(
            (ran.code, ran.out.as_str()),
            (2, ""),
            "{args:?}: {}",
            ran.err
        );
        assert!(ran.err.contains(said), "{args:?}: {}", ran.err);
    }
}
