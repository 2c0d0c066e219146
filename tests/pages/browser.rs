//! The page in Debian's chromium, driven by `tests/reference/browser.py`, and under axe-core.

use super::{ODD_TITLE, demo, titled};
use crate::support;
use crate::support::cli::Bench;
use float_cmp::approx_eq;

#[test]
fn a_browser_shows_the_page_alone_and_keeps_what_was_ticked() {
    let bench = Bench::new();
    bench.write("job.toml", titled(&demo("tea-cabinet"), ODD_TITLE));
    bench.ok(&["sheet", "job.toml", "-o", "set-up.html"]);
    let found = support::browse(&bench.path("set-up.html"));
    let number = |value: &serde_json::Value| value.as_u64().unwrap();

    assert_eq!(found["requests"], serde_json::json!([]));
    assert_eq!(found["console"], serde_json::json!([]));
    assert_eq!(found["h1"], ODD_TITLE);
    assert!(
        found["title"]
            .as_str()
            .unwrap()
            .starts_with("</title><script>")
    );
    assert_eq!(found["first_focus"], "To the sheet");

    let (before, after) = (&found["units"]["before"], &found["units"]["after"]);
    assert!(number(&before["mm"]) > 100 && number(&before["drawn"]) > 10);
    assert_eq!(
        (number(&before["inch"]), number(&before["drawn_inch"])),
        (0, 0)
    );
    // In inches there are columns for the nearest 1/64 besides.
    assert!(number(&after["inch"]) >= number(&before["mm"]));
    assert_eq!((number(&after["mm"]), number(&after["drawn"])), (0, 0));
    assert!(
        before["first"].as_str().unwrap().ends_with(" mm"),
        "{before}"
    );
    assert!(after["first"].as_str().unwrap().contains(" in"), "{after}");

    let ticks = &found["ticks"];
    assert_eq!(ticks["before"]["ticked"], serde_json::json!([1, 2]));
    assert_eq!(ticks["before"]["count"], "1");
    assert_eq!(ticks["reloaded"], ticks["before"]);
    assert_eq!(ticks["reloaded"]["units"], "in");
    for after in ["cleared", "cleared_reloaded"] {
        assert_eq!(ticks[after]["ticked"], serde_json::json!([]));
        assert_eq!(ticks[after]["count"], "0");
    }
    slider(&found["slider"]);
    let bare = &found["without_script"];
    assert_eq!(
        (number(&bare["inch"]), number(&bare["controls"])),
        (0, 0),
        "{bare}"
    );
    assert!(
        number(&bare["mm"]) > 100 && number(&bare["steps"]) > 20,
        "{bare}"
    );
    assert!(number(&bare["pictures"]) > 10, "{bare}");
    for scheme in ["light", "dark"] {
        assert_eq!(found["axe"][scheme], serde_json::json!([]), "{scheme}");
    }
    assert_ne!(found["ground_light"], found["ground_dark"]);
    // Paper is light, whatever the screen is.
    assert_eq!(found["print_ink"], found["ink_light"]);
    assert_eq!(found["phone"]["over"], 0, "{}", found["phone"]);
    assert_eq!(found["phone"]["out"], serde_json::json!([]));
}

/// The tool stands where the words say; the last move is in the air.
fn slider(slider: &serde_json::Value) {
    assert!(slider["max"].as_u64().unwrap() > 20, "{slider}");
    for place in ["first", "half", "last"] {
        let says = slider[place]["says"].as_str().unwrap();
        for (axis, key) in [("X ", "x"), (" Y ", "y")] {
            let at = says.find(axis).unwrap() + axis.len();
            let said: f64 = says[at..].split(' ').next().unwrap().parse().unwrap();
            let drawn = slider[place][key].as_f64().unwrap();
            assert!(
                approx_eq!(f64, said, drawn, epsilon = 1e-6),
                "{says}: {drawn}"
            );
        }
    }
    assert!(
        slider["half"]["says"].as_str().unwrap().contains("cutting"),
        "{slider}"
    );
    assert!(
        slider["last"]["says"].as_str().unwrap().contains("in air"),
        "{slider}"
    );
}
