//! A page that is written again and again loads itself again, from its file and in a real browser.

use crate::demo;
use crate::support::cli::with_line;
use crate::support::renewed;
use lapwright::making::{JobOrder, Made, SheetFormat, Workshop, set_up_file};
use lapwright::reading::{read_job, read_machine, shipped_machine};
use lapwright::writing::html::Renewal;
use serde_json::{Value, json};
use std::fs;

/// The sheet of a job with a sled alone.
fn page(text: &str, renewal: Renewal) -> Vec<u8> {
    let job = read_job("job.toml", text).unwrap();
    let sled = shipped_machine("key-sled").unwrap();
    let workshop = Workshop::new([read_machine(sled.name, sled.text).unwrap()]);
    let order = JobOrder::new(&job, &workshop);
    let booklet = Made::of(&order).unwrap().booklet(&job, &workshop);
    let format = SheetFormat::Page(renewal);
    set_up_file(&booklet, format, order.units).unwrap().bytes
}

#[test]
fn a_page_shows_what_is_written_over_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let lamp = demo("reading-lamp");
    fs::write(path("page.html"), page(&lamp, Renewal::WhenRewritten)).unwrap();
    let other = with_line(&lamp, "overhang", "overhang = \"17 mm\"");
    fs::write(path("other.html"), page(&other, Renewal::WhenRewritten)).unwrap();
    let found = renewed(&path("page.html"), &path("other.html"));
    assert_eq!(found["still"], json!(true), "{found}");
    assert!(found["rounds"].as_f64().unwrap() >= 3.0, "{found}");
    assert!(found["job"].is_string(), "{found}");
    assert_ne!(found["renewed"], found["job"], "{found}");
    for quiet in ["asked", "said"] {
        assert_eq!(found[quiet], Value::Array(Vec::new()), "{found}");
    }
}

#[test]
fn a_page_for_good_looks_for_nothing() {
    let still = String::from_utf8(page(&demo("reading-lamp"), Renewal::Never)).unwrap();
    assert!(!still.contains("iframe") && !still.contains("frame-src"));
}
