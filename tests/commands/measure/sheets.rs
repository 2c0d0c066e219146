//! The measuring sheet and the file that is begun with it.

use super::bench_with;
use lapwright::reading::SHIPPED_MACHINES;

#[test]
fn every_list_of_the_file_stands_on_the_sheet() {
    for shipped in SHIPPED_MACHINES {
        let bench = bench_with(shipped.name);
        bench.ok(&[
            "machine",
            "measure",
            "mine.toml",
            "--sheet",
            "m.txt",
            "--begin",
            "r.toml",
        ]);
        let sheet = bench.read("m.txt");
        let begun: toml::Table = bench.read("r.toml").parse().unwrap();
        let mut lists = 0;
        for (name, table) in &begun {
            let tables = match table {
                toml::Value::Table(table) => vec![table],
                toml::Value::Array(all) => all.iter().filter_map(toml::Value::as_table).collect(),
                _ => continue,
            };
            assert!(
                sheet.contains(&format!("[ ] {name} - ")),
                "{}: {name}\n{sheet}",
                shipped.name
            );
            for key in tables
                .iter()
                .flat_map(|table| table.iter())
                .filter(|(_, value)| value.is_array())
            {
                assert!(
                    sheet.contains(&format!("{name}.{}", key.0)),
                    "{}: {name}.{}",
                    shipped.name,
                    key.0
                );
                lists += 1;
            }
        }
        assert!(lists > 0, "{}", shipped.name);
        assert!(sheet.contains("SAFETY FIRST"));
        // Nothing is typed in yet; the same file is not begun twice.
        let ran = bench.run(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
        assert!(
            ran.code == 2 && ran.err.contains("nothing-read"),
            "{}",
            ran.err
        );
        let ran = bench.run(&["machine", "measure", "mine.toml", "--begin", "r.toml"]);
        assert!(
            ran.code == 2 && ran.err.contains("there already"),
            "{}",
            ran.err
        );
    }
}

/// What a hand saw has no guard for is not asked of it.
#[test]
fn a_hand_saw_has_no_riving_knife() {
    for (name, knife) in [("bench-hook", false), ("key-sled", true)] {
        let bench = bench_with(name);
        let told = bench.ok(&["machine", "measure", "mine.toml"]).out;
        assert_eq!(told.contains("riving knife on"), knife, "{told}");
    }
}

#[test]
fn a_sled_takes_two_pages() {
    for shipped in SHIPPED_MACHINES {
        let bench = bench_with(shipped.name);
        bench.ok(&["machine", "measure", "mine.toml", "--sheet", "m.pdf"]);
        bench.ok(&["machine", "measure", "mine.toml", "--sheet", "m.html"]);
        let info = std::process::Command::new("pdfinfo")
            .arg(bench.path("m.pdf"))
            .output()
            .unwrap();
        let info = String::from_utf8(info.stdout).unwrap();
        let pages = info
            .lines()
            .find_map(|line| line.strip_prefix("Pages:"))
            .unwrap();
        let pages: usize = pages.trim().parse().unwrap();
        assert!((1..=2).contains(&pages), "{}: {pages}", shipped.name);
    }
    let bench = bench_with("key-sled");
    let ran = bench.run(&["machine", "measure", "mine.toml", "--sheet", "m.doc"]);
    assert!(
        ran.code == 2 && ran.err.contains(".html, .pdf or .txt"),
        "{}",
        ran.err
    );
}

/// A longer caliper takes more steps.
#[test]
fn steps_follow_the_caliper() {
    let bench = bench_with("key-sled");
    bench.ok(&["machine", "measure", "mine.toml", "--begin", "a.toml"]);
    bench.ok(&[
        "machine",
        "measure",
        "mine.toml",
        "--begin",
        "b.toml",
        "--caliper",
        "300mm",
    ]);
    let steps = |name: &str| {
        let table: toml::Table = bench.read(name).parse().unwrap();
        let slots = table["slot"].as_array().unwrap().clone();
        slots
            .iter()
            .map(|slot| slot["steps"].as_integer().unwrap())
            .collect::<Vec<_>>()
    };
    assert_eq!(steps("a.toml"), [6, 4, 3, 3, 2, 2, 1, 1]);
    assert_eq!(steps("b.toml"), [12, 9, 7, 6, 5, 4, 3, 3]);
}
