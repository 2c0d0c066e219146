//! Mitres of a frame's members, as a person or a script asks for them.

use crate::support::cli::{Bench, JOB, shipped, with_line};
use float_cmp::approx_eq;
use serde_json::Value;

/// Texts are broken into lines.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The job with a frame and a sled of its own.
fn bench(frame: &str, sled: &str) -> Bench {
    let bench = Bench::new();
    let job = with_line(JOB, "sled", "sled = \"sled.toml\"");
    let table =
        format!("[frame]\nthickness = \"20 mm\"\nmortise_depth = \"5 mm\"\n{frame}\n\n[machines]");
    bench.write("job.toml", job.replace("[machines]", &table));
    bench.write("sled.toml", sled);
    bench
}

fn rails(bench: &Bench) -> Value {
    bench.ok(&["rails", "job.toml", "--format", "json"]).json()
}

fn names(list: &Value) -> Vec<&str> {
    let names = list.as_array().unwrap().iter();
    names.map(|name| name.as_str().unwrap()).collect()
}

#[test]
fn a_frame_without_widths_has_no_mitres() {
    let bench = bench("", &shipped("stop-sled"));
    let told = bench.ok(&["rails", "job.toml"]).out;
    assert!(!told.to_lowercase().contains("mitre"), "{told}");
    assert!(rails(&bench).get("mitres").is_none());
    // The sled is not asked for.
    bench.write("sled.toml", "nonsense");
    bench.ok(&["rails", "job.toml"]);
}

/// Figures by hand: inner edges 163 and 203 (4 by 40 and 5 by 40, a strip more), widths 32 for flat
/// rails and 21 for stiles.
#[test]
fn figures_by_hand() {
    let widths = r#"widths = ["32 mm", "21 mm", "32 mm", "21 mm"]"#;
    let bench = bench(widths, &shipped("stop-sled"));
    let plan = rails(&bench);
    let mitres = &plan["mitres"];
    let near = |value: &Value, wanted: f64| {
        let found = value.as_f64().unwrap();
        assert!(
            approx_eq!(f64, found, wanted, epsilon = 1e-4),
            "{found} {wanted}"
        );
    };
    let bottom = &mitres["members"][0];
    assert_eq!(bottom["name"], "bottom rail");
    near(&bottom["mitres"][0]["mitre_deg"], 56.7251);
    near(&mitres["members"][1]["mitres"][0]["mitre_deg"], 33.2749);
    near(&bottom["inner_length_mm"], 163.0);
    near(&bottom["outer_length_mm"], 163.0 + 42.0);
    near(&bottom["blank_mm"], 205.0 + 20.0);
    near(&bottom["mark_to_inner_corner_mm"], 10.0 + 21.0);
    near(&mitres["diagonals_mm"][0], 163_f64.hypot(203.0));
    // Fence 33.2749 from square first, the blunter mitre; then 56.7251. Left ends away both times.
    let sled = &mitres["sled"];
    near(&sled["blade"]["height_above_base_mm"], 23.0);
    near(&sled["blade"]["height_above_table_mm"], 38.0);
    let settings = sled["settings"].as_array().unwrap();
    assert_eq!(settings.len(), 2);
    for (setting, [turn, length]) in settings.iter().zip([[33.2749, 205.0], [56.7251, 267.0]]) {
        near(&setting["from_square_deg"], turn);
        near(&setting["to_blade_deg"], 90.0 - turn);
        assert_eq!(setting["end_away"], "left");
        let cuts = setting["cuts"].as_array().unwrap();
        // Both members of a pair in one go, one on its front face; blanks 10 longer at the stop.
        assert_eq!(cuts.len(), 2);
        for (cut, [contact, more]) in cuts.iter().zip([["blank", "10"], ["long point", "0"]]) {
            assert_eq!(cut["at_stop"], contact);
            near(
                &cut["stop_to_kerf_mm"],
                length + more.parse::<f64>().unwrap(),
            );
            assert_eq!(cut["edge_on_fence"], "outer");
            let lies = cut["members"].as_array().unwrap().iter();
            let faces: Vec<&Value> = lies.map(|lie| &lie["face_down"]).collect();
            assert_eq!(faces, ["back", "front"]);
        }
    }
    assert!(settings[0].get("wedge").is_none());
    // The fence of this sled turns 45 degrees.
    near(&settings[1]["wedge"]["angle_deg"], 56.7251);
    let right = &settings[0]["cuts"][0]["members"];
    assert_eq!(right[0]["name"], "bottom rail");
    assert_eq!(right[0]["end"], "right end");
    // A mitre goes through.
    let text = squeezed(&bench.ok(&["rails", "job.toml"]).out);
    assert!(text.contains("riving knife on"));
    assert!(!text.contains("does not go through"));
    assert!(text.contains("a wedge of 56.725 deg"), "{text}");
}

#[test]
fn a_hand_saw_sees_the_other_side() {
    let by = |sled: &str| rails(&bench("width = \"25 mm\"", &shipped(sled)));
    let (saw, hook) = (by("stop-sled"), by("bench-hook"));
    let setting = |plan: &Value| plan["mitres"]["sled"]["settings"][0].clone();
    let (saw_set, hook_set) = (setting(&saw), setting(&hook));
    assert_eq!(saw_set["end_away"], "left");
    assert_eq!(hook_set["end_away"], "right");
    let down = |set: &Value, end: &str| {
        let lies = set["cuts"][0]["members"].as_array().unwrap().clone();
        let mut lies = lies.into_iter();
        lies.find(|lie| lie["name"] == "bottom rail" && lie["end"] == end)
            .unwrap()["face_down"]
            .clone()
    };
    assert_eq!(down(&saw_set, "right end"), "back");
    assert_eq!(down(&hook_set, "right end"), "front");
    assert_eq!(
        saw_set["cuts"][0]["stop_to_kerf_mm"],
        hook_set["cuts"][0]["stop_to_kerf_mm"]
    );
    assert!(hook["mitres"]["sled"].get("blade").is_none());
}

/// What a sled cannot do is told with its field, and all else with it.
#[test]
fn what_the_sled_cannot_do() {
    // Inner edges 163 and 203, over points 223 and 263, blanks 20 longer; 30 wide, 42.43 along a cut.
    let cases = [
        (
            "longest_strip",
            "250 mm",
            "sled.longest_strip",
            "a blank 283.00 mm long",
            2,
        ),
        (
            "shortest_strip",
            "230 mm",
            "sled.shortest_strip",
            "a member 223.00 mm long over its points",
            2,
        ),
        (
            "widest_block",
            "42 mm",
            "sled.widest_block",
            "is 42.43 mm wide along a cut at 45 deg",
            4,
        ),
        (
            "highest",
            "37 mm",
            "blade.highest",
            "must stand 38.00 mm over the table",
            4,
        ),
        (
            "travel",
            "150 mm",
            "blade.travel",
            "of travel to pass the blade at 45 deg",
            4,
        ),
        (
            "farthest",
            "250 mm",
            "stop.farthest",
            "needs the stop's face 273.00 mm",
            2,
        ),
        (
            "nearest",
            "225 mm",
            "stop.nearest",
            "needs the stop's face 223.00 mm",
            2,
        ),
    ];
    for (key, value, field, why, count) in cases {
        let sled = with_line(&shipped("stop-sled"), key, &format!("{key} = \"{value}\""));
        let bench = bench("width = \"30 mm\"", &sled);
        let ran = bench.run(&["rails", "job.toml", "--format", "json"]);
        assert_eq!(ran.code, 1, "{key}: {}", ran.err);
        for said in [
            field,
            "no settings for this: ",
            why,
            "sled.toml:",
            "not made: settings for the mitres of the ",
        ] {
            assert!(ran.err.contains(said), "{key}: {said}\n{}", ran.err);
        }
        let plan = ran.json();
        let mitres = &plan["mitres"];
        let unsawn = names(&mitres["without_settings"]);
        assert_eq!(unsawn.len(), count, "{key}: {unsawn:?}");
        assert_eq!(mitres.get("sled").is_none(), count == 4, "{key}");
        // What is sawn is not what is left out.
        let sawn = mitres["sled"]["settings"].to_string();
        assert!(unsawn.iter().all(|name| !sawn.contains(*name)), "{key}");
        let text = bench.run(&["rails", "job.toml"]);
        assert_eq!(text.code, 1);
        let told = squeezed(&text.out);
        assert!(told.contains("MEMBERS OF THE FRAME"));
        assert_eq!(told.contains("MITRES AT THE SLED.TOML"), count < 4, "{key}");
    }
}

#[test]
fn build_lacks_what_the_sled_does_not_saw() {
    let sled = shipped("stop-sled");
    let whole = bench("width = \"30 mm\"", &sled);
    whole.ok(&["build", "job.toml", "-o", "out"]);
    let text = squeezed(&whole.read("out/rails.txt"));
    assert!(text.contains("MITRES AT THE SLED.TOML"), "{text}");
    assert!(!whole.read("out/rails.txt").contains("NOT MADE"));
    // Strips are 190 and 230 long: they lie on it, the stiles' blanks do not.
    let short = with_line(&sled, "longest_strip", "longest_strip = \"250 mm\"");
    let bench = bench("width = \"30 mm\"", &short);
    let ran = bench.run(&["build", "job.toml", "-o", "out"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    let what = "settings for the mitres of the right stile and the left stile";
    assert!(ran.err.contains(what), "{}", ran.err);
    let manifest: Value = serde_json::from_str(&bench.read("out/manifest.json")).unwrap();
    assert_eq!(manifest["missing"][0]["what"], what);
    assert_eq!(manifest["missing"][0]["part"], "rails");
    let text = squeezed(&bench.read("out/rails.txt"));
    assert!(
        text.contains("NOT MADE No settings for the mitres of the"),
        "{text}"
    );
    assert!(text.contains("Not at this sled: the mitres of the right stile"));
}

/// Wherever tenons are told: the answer, its JSON, a build's sheets, the drawing of the members.
#[test]
fn tenons_have_cautions_of_their_own() {
    let of = |joint: &str| {
        bench(
            &format!("width = \"36 mm\"\n{joint}"),
            &shipped("stop-sled"),
        )
    };
    let (tenoned, mitred) = (of("joint = \"mortise-and-tenon\""), of(""));
    let jig = "Clamp it upright in a tenoning jig";
    let deferred = "do not replace the machine's manual";
    for (bench, has) in [(&tenoned, true), (&mitred, false)] {
        let told = squeezed(&bench.ok(&["rails", "job.toml"]).out);
        assert_eq!(told.contains(jig), has, "{told}");
        assert!(told.contains(deferred));
        let notes = rails(bench)["safety"].to_string();
        assert_eq!(notes.contains(jig), has);
        bench.ok(&["build", "job.toml", "-o", "out"]);
        for sheet in ["out/rails.txt", "out/rails.json", "out/set-up.html"] {
            assert_eq!(squeezed(&bench.read(sheet)).contains(jig), has, "{sheet}");
        }
        let drawing = bench.read("out/frame.dxf");
        assert_eq!(
            drawing.contains("cheeks only in a tenoning jig or by hand"),
            has
        );
        assert!(drawing.contains("manual, local codes and licensed practice"));
    }
}
