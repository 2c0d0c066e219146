//! The page of all patterns in a real browser.

use crate::support::{cli::Bench, look_at};
use lapwright::reading::SHIPPED_PATTERNS;
use serde_json::json;

#[test]
fn the_page_of_patterns_is_read_on_a_phone_and_in_the_dark() {
    let bench = Bench::new();
    bench.ok(&["pattern", "list", "--picture", "patterns.html"]);
    let found = look_at(&bench.path("patterns.html"));
    assert_eq!(found["requests"], json!([]));
    for scheme in ["light", "dark"] {
        assert_eq!(found["axe"][scheme], json!([]), "{scheme}");
    }
    for size in ["wide", "phone"] {
        assert_eq!(found[size]["over"], 0, "{found}");
        assert_eq!(found[size]["out"], json!([]), "{found}");
    }
    assert_eq!(found["columns"], 2, "{found}");
    let names = found["pictures"].as_array().unwrap();
    assert_eq!(names.len(), SHIPPED_PATTERNS.len());
    for shipped in SHIPPED_PATTERNS {
        let lead = format!("{}: ", shipped.name);
        let is_it = |name: &&serde_json::Value| name.as_str().unwrap().starts_with(&lead);
        assert_eq!(names.iter().filter(is_it).count(), 1, "{}", shipped.name);
    }
}
