//! Leaves of the page have their pictures, counts and check cuts, whatever their headings say.

use super::{DEMOS, built, demo};
use crate::support::cli::Bench;
use serde_json::Value;

const PICTURE: &str = "<figure class=\"picture\"";
const PLAY: &str = "<figure class=\"picture play\"";
const COUNT: &str = "<div class=\"tally\"";
const CHECKS: &str = "<ul class=\"checks\"";

/// The leaves of a part, as they stand.
fn leaves<'a>(page: &'a str, part: &str) -> Vec<&'a str> {
    let start = format!("aria-labelledby=\"{part}\"");
    let Some(part) = page.split(&start).nth(1) else {
        return Vec::new();
    };
    let part = part.split("</section>").next().unwrap();
    part.split("<div class=\"leaf\">").skip(1).collect()
}

fn with<'a>(leaves: &[&'a str], what: &str) -> Vec<&'a str> {
    let has = |leaf: &&&str| leaf.contains(what);
    leaves.iter().filter(has).copied().collect()
}

fn list(bench: &Bench, file: &str, key: &str) -> Vec<Value> {
    if !bench.path(file).is_file() {
        return Vec::new();
    }
    let plan: Value = serde_json::from_str(&bench.read(file)).unwrap();
    plan[key].as_array().cloned().unwrap_or_default()
}

fn check(name: &str, job: &str) {
    let bench = built(job, &[]);
    let page = bench.read("out/set-up.html");
    sled(name, &bench, &leaves(&page, "sled"));

    let setups = list(&bench, "out/router.json", "setups");
    let router = leaves(&page, "router").concat();
    assert_eq!(router.matches(PLAY).count(), setups.len(), "{name}");
    for setup in &setups {
        assert!(router.contains(setup["file"].as_str().unwrap()), "{name}");
    }
    for what in [PICTURE, COUNT, CHECKS, "<ol class=\"steps\""] {
        assert!(router.contains(what), "{name}: a router without {what}");
    }

    let pared = list(&bench, "out/pieces.json", "pieces");
    let pared = pared
        .iter()
        .filter(|piece| piece.get("trimmed_from").is_none());
    let pared = pared.count();
    let pieces = leaves(&page, "pieces").concat();
    assert_eq!(pieces.matches(COUNT).count(), pared, "{name}");
    assert_eq!(
        pieces.contains(PICTURE) && pieces.contains(CHECKS),
        pared > 0
    );

    let laser = leaves(&page, "laser").concat();
    assert!(
        laser.contains("sheets cut") && laser.contains("OUTLINES"),
        "{name}"
    );
    let files = list(&bench, "out/laser.json", "files");
    assert!(laser.matches(PICTURE).count() >= files.len(), "{name}");
}

/// Every setting shows the blade and the sled; every bundle that is cut is counted, by its steps
/// where it has them.
fn sled(name: &str, bench: &Bench, leaves: &[&str]) {
    let settings = list(bench, "out/sled.json", "settings").len();
    let bundles = list(bench, "out/sled.json", "bundles");
    assert_eq!(with(leaves, COUNT).len(), 1, "{name}");
    let whole = leaves.concat();
    for bundle in bundles {
        assert!(whole.contains(bundle["strips"].as_str().unwrap()), "{name}");
    }
    assert_eq!(
        with(leaves, "Blade against a strip's section").len(),
        settings,
        "{name}"
    );
    assert_eq!(with(leaves, CHECKS).len(), 1, "{name}");
    // Steps and views from above stand together.
    let shown = with(leaves, "Sled from above");
    assert!(!shown.is_empty(), "{name}");
    for leaf in shown {
        assert!(leaf.contains("<ol class=\"steps\""), "{name}: {leaf}");
    }
}

#[test]
fn every_bundle_set_up_and_piece_has_its_pictures_counts_and_checks() {
    for name in DEMOS {
        check(name, &demo(name));
    }
}
