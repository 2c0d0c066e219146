//! Patterns in lists and pictures, as a person or a script uses them.

use crate::support::cli::Bench;
use lapwright::reading::SHIPPED_PATTERNS;
use lapwright::units::UnitSystem;
use std::collections::BTreeMap;

/// Groups of the list in text, each with the names below it.
fn groups(list: &str) -> Vec<(String, Vec<String>)> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for line in list.lines().filter(|line| !line.is_empty()) {
        match line.strip_prefix("  ") {
            None => groups.push((line.to_owned(), Vec::new())),
            Some(rest) if !rest.starts_with(' ') => {
                let name = rest.split_whitespace().next().unwrap().to_owned();
                groups.last_mut().unwrap().1.push(name);
            }
            Some(_) => {}
        }
    }
    groups
}

#[test]
fn patterns_are_listed_by_cell_with_what_they_need() {
    let bench = Bench::new();
    let list = bench.ok(&["pattern", "list"]).out;
    assert!(
        list.lines().all(|line| line.chars().count() <= 100),
        "{list}"
    );
    let groups = groups(&list);
    let headings: Vec<&str> = groups.iter().map(|(heading, _)| heading.as_str()).collect();
    assert_eq!(
        headings,
        [
            "In squares",
            "In triangles",
            "In triangles, figures about every third crossing",
            "In rhombs"
        ]
    );
    let in_group = |name: &str| {
        let group = groups
            .iter()
            .position(|(_, names)| names.iter().any(|n| n == name));
        group.unwrap_or_else(|| panic!("{name} is not listed"))
    };
    for shipped in SHIPPED_PATTERNS {
        in_group(shipped.name);
    }
    let placed = [
        "well-curb",
        "triangular-hemp-leaf",
        "hexagon-star",
        "rhomb-spokes",
    ];
    assert_eq!(placed.map(in_group), [0, 1, 2, 3]);
    // Three leaves at 120 degrees, each between two others and in a corner of 60 degrees.
    let hemp = "  triangular-hemp-leaf  hemp leaf for triangular cells (asanoha)\n                        3 pieces; thickness at most 0.309 of the pitch; guides 30, 60 deg\n";
    assert!(list.contains(hemp), "{list}");
    assert!(list.contains("all ends square: no guides"));
}

#[test]
fn the_list_for_programs_holds_the_figures() {
    let bench = Bench::new();
    let list = bench.ok(&["--format", "json", "pattern", "list"]).json();
    let by_name: BTreeMap<&str, &serde_json::Value> = list["patterns"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pattern| (pattern["name"].as_str().unwrap(), pattern))
        .collect();
    assert_eq!(by_name.len(), SHIPPED_PATTERNS.len());
    let hemp = by_name["square-hemp-leaf"];
    assert_eq!(hemp["group"], "squares");
    assert_eq!(hemp["pieces"], 7);
    assert_eq!(
        hemp["guide_angles_deg"],
        serde_json::json!([22.5, 45.0, 67.5])
    );
    assert_eq!(
        by_name["upright-cross"]["guide_angles_deg"],
        serde_json::json!([])
    );
    // What a pattern says itself is what it is listed with.
    for shipped in SHIPPED_PATTERNS {
        let line = shipped
            .text
            .lines()
            .find(|line| line.starts_with("greatest"));
        let Some(line) = line else { continue };
        let said = line.split(['=', '#']).nth(1).unwrap().trim();
        let said: f64 = said.parse().unwrap();
        let listed = &by_name[shipped.name]["greatest_thickness_to_pitch"];
        let listed = listed.as_f64().unwrap();
        assert!((listed - said).abs() < 1e-12, "{}", shipped.name);
    }
    // And it is the limit: a little thicker is refused, a little thinner is not.
    for (name, pattern) in &by_name {
        let greatest = pattern["greatest_thickness_to_pitch"].as_f64().unwrap();
        // The pitch of triangles is the height of those between the centre lines.
        let pitch = match pattern["cell"].as_str().unwrap() {
            "triangle" => 100.0 / 0.75_f64.sqrt(),
            _ => 100.0,
        };
        for (aside, holds) in [(-0.0011, true), (0.0011, false)] {
            let thickness = format!("{:.4} mm", (greatest + aside) * 100.0);
            let pitch = format!("{pitch:.9} mm");
            let sizes = ["--pitch", &pitch, "--thickness", &thickness];
            let check = bench.run(&[&["pattern", "check", name], &sizes[..]].concat());
            let is_beyond = greatest >= 0.5 && !holds;
            assert!(
                check.code == i32::from(!holds) * 2 || is_beyond,
                "{name}: {}",
                check.err
            );
        }
    }
}

/// The texts of an SVG with their boxes: left, low, right, high, as wide as they may come out.
fn texts(svg: &str) -> Vec<(String, [f64; 4])> {
    let mut found = Vec::new();
    for line in svg.lines().filter(|line| line.starts_with("<text")) {
        let value = |key: &str| {
            let from = line.find(&format!("{key}=\"")).unwrap() + key.len() + 2;
            line[from..].split('"').next().unwrap().to_owned()
        };
        let number = |key: &str| value(key).parse::<f64>().unwrap();
        let text = line.split('>').nth(1).unwrap().split('<').next().unwrap();
        // Letters of DejaVu Sans are 0.62 em wide on average, capitals 0.73 em high.
        let size = number("font-size");
        let wide = 0.62 * size * text.chars().count() as f64;
        let left = match value("text-anchor").as_str() {
            "start" => number("x"),
            _ => number("x") - wide / 2.0,
        };
        let (low, high) = (number("y") + 0.2 * size, number("y") - 0.73 * size);
        found.push((text.to_owned(), [left, low, left + wide, high]));
        // 7 points are 2.47 mm.
        assert!(size >= 2.47, "{line}");
    }
    found
}

fn no_text_on_another(name: &str, svg: &str) {
    let all = texts(svg);
    for (at, (text, one)) in all.iter().enumerate() {
        for (other_text, other) in &all[..at] {
            let apart =
                one[2] < other[0] || other[2] < one[0] || one[1] < other[3] || other[1] < one[3];
            assert!(apart, "{name}: `{text}` on `{other_text}`");
        }
    }
}

#[test]
fn a_pattern_is_drawn_in_one_cell_and_in_several_with_names_that_can_be_read() {
    let bench = Bench::new();
    for shipped in SHIPPED_PATTERNS {
        let name = shipped.name;
        bench.ok(&["pattern", "show", name, "--picture", "p.svg"]);
        let svg = bench.read("p.svg");
        no_text_on_another(name, &svg);
        let cell = bench
            .ok(&["--format", "json", "pattern", "show", name])
            .json();
        let all = texts(&svg);
        for piece in cell["pieces"].as_array().unwrap() {
            let called = piece["name"].as_str().unwrap();
            let length = piece["length_over_points_mm"].as_f64().unwrap();
            let length = lapwright::units::Mm(length).text(UnitSystem::Millimetres);
            let told =
                |text: &String| text.contains(&format!("{called} ")) && text.ends_with(&length);
            assert!(
                all.iter().any(|(text, _)| told(text)),
                "{name}: {called} {length}: {all:?}"
            );
        }
        assert!(
            all.iter().any(|(text, _)| text == "several cells"),
            "{name}"
        );
    }
}

#[test]
fn names_too_long_for_their_pieces_give_way_to_numbers() {
    let bench = Bench::new();
    let leaf = SHIPPED_PATTERNS
        .iter()
        .find(|known| known.name == "fine-hemp-leaf")
        .unwrap();
    bench.write("p.toml", leaf.text.replace("leaf", "leaf-with-a-long-nm"));
    bench.ok(&["pattern", "show", "p.toml", "--picture", "p.svg"]);
    let svg = bench.read("p.svg");
    no_text_on_another("p.toml", &svg);
    let all = texts(&svg);
    let cell = bench
        .ok(&["--format", "json", "pattern", "show", "p.toml"])
        .json();
    for (at, piece) in cell["pieces"].as_array().unwrap().iter().enumerate() {
        let number = (at + 1).to_string();
        assert!(all.iter().any(|(text, _)| *text == number), "{number}");
        let lead = format!("{number}  {}  ", piece["name"].as_str().unwrap());
        assert!(
            all.iter().any(|(text, _)| text.starts_with(&lead)),
            "{lead} {all:?}"
        );
    }
}

#[test]
fn all_patterns_stand_on_one_sheet() {
    let bench = Bench::new();
    bench.ok(&["pattern", "list", "-o", "all.svg"]);
    let svg = bench.read("all.svg");
    no_text_on_another("all", &svg);
    let all = texts(&svg);
    for shipped in SHIPPED_PATTERNS {
        assert!(
            all.iter().any(|(text, _)| text == shipped.name),
            "{}",
            shipped.name
        );
    }
    let refused = bench.run(&["pattern", "list", "--picture", "all.pdf"]);
    assert_eq!(refused.code, 2);
    assert!(
        refused.err.contains("let the name end in .html or .svg"),
        "{}",
        refused.err
    );
    let refused = bench.run(&["pattern", "show", "octagons", "--picture", "o.html"]);
    assert_eq!(refused.code, 2);
    assert!(!bench.path("o.html").exists());
}
