//! The sheet read back: its figures are those of the JSON, to the printed digit.

use super::{DEMOS, ODD_TITLE, built, demo, titled};
use crate::support::cli::{Bench, JOB, with_line};
use serde_json::Value;
use std::collections::BTreeSet;

/// Two decimals, ties away from zero.
fn printed(mm: &Value) -> String {
    let mm = mm.as_f64().unwrap();
    let hundredths = (mm.abs() * 100.0 + 1e-7).round();
    let text = format!("{:.2}", hundredths / 100.0);
    if mm < 0.0 && hundredths > 0.0 {
        format!("-{text}")
    } else {
        text
    }
}

/// Four decimals of an inch, ties away from zero.
fn inches(mm: &Value) -> String {
    format!(
        "{:.4}",
        (mm.as_f64().unwrap() / 25.4 * 1e4 + 1e-7).round() / 1e4
    )
}

/// A fraction of an inch, such as `1-3/8`, in four decimals.
fn in_decimals(fraction: &str) -> String {
    let parts: Vec<f64> = fraction
        .split(['-', '/'])
        .map(|part| part.parse().unwrap_or(f64::NAN))
        .collect();
    let value = match parts[..] {
        [whole] => whole,
        [top, bottom] => top / bottom,
        [whole, top, bottom] => whole + top / bottom,
        _ => f64::NAN,
    };
    format!("{:.4}", (value * 1e4 + 1e-7).round() / 1e4)
}

/// The page's text for one system of units, tags as line ends.
pub(super) fn text(html: &str, unit: &str) -> String {
    let body = &html[html.find("<main").unwrap()..html.find("<script>").unwrap()];
    let other = if unit == "mm" { "in" } else { "mm" };
    let mut text = String::new();
    let mut rest = body;
    while let Some(at) = rest.find('<') {
        text.push_str(&rest[..at]);
        let end = at + rest[at..].find('>').unwrap() + 1;
        let tag = &rest[at..end];
        let classes = tag.split("class=\"").nth(1).unwrap_or_default();
        let mut classes = classes.split('"').next().unwrap_or_default().split(' ');
        let hidden = classes.any(|class| class == other);
        rest = &rest[end..];
        if hidden {
            // Neither system's texts hold tags but the small note of an inch.
            let name = tag[1..].split([' ', '>']).next().unwrap();
            rest = &rest[rest.find(&format!("</{name}>")).unwrap()..];
        } else if !tag.starts_with("<span") && !tag.starts_with("</span") {
            text.push('\n');
        }
    }
    text
}

/// Rows of the page's tables, cell by cell.
fn rows(html: &str, unit: &str) -> Vec<Vec<String>> {
    let rows = html.split("<tr ").skip(1);
    rows.map(|row| {
        let row = &row[..row.find("</tr>").unwrap()];
        let cells = row.split("<td").skip(1);
        cells
            .map(|cell| {
                let span = format!("<span class=\"{unit}\">");
                match cell.find(&span) {
                    Some(at) => cell[at + span.len()..]
                        .split('<')
                        .next()
                        .unwrap()
                        .to_owned(),
                    None => cell
                        .split_once('>')
                        .unwrap()
                        .1
                        .split('<')
                        .next()
                        .unwrap()
                        .to_owned(),
                }
            })
            .collect()
    })
    .collect()
}

fn json(bench: &Bench, name: &str) -> Option<Value> {
    let there = bench.path(name).is_file();
    there.then(|| serde_json::from_str(&bench.read(name)).unwrap())
}

/// What the first four cells of a notch's row must be.
fn notch(figures: &Value, figure: fn(&Value) -> String) -> Vec<String> {
    let mut cells = vec![figures["index"].to_string()];
    cells.extend(["centre_mm", "near_edge_mm", "far_edge_mm"].map(|key| figure(&figures[key])));
    cells
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

#[test]
fn the_page_says_the_plans_figures_in_both_units() {
    for name in DEMOS {
        let bench = built(&demo(name), &[]);
        let page = bench.read("out/set-up.html");
        for (unit, figure) in [("mm", printed as fn(&Value) -> String), ("in", inches)] {
            every_notch(name, &bench, &rows(&page, unit), figure);
            writing_is_apart(name, &page, unit);
        }
        settings_and_pictures(name, &bench, &text(&page, "mm"));
        pieces(name, &bench, &rows(&page, "mm"));
    }
}

/// Every notch of sled and router has its row.
fn every_notch(name: &str, bench: &Bench, rows: &[Vec<String>], figure: fn(&Value) -> String) {
    let mut told = 0;
    let mut find = |figures: &Value, from: &str| {
        let wanted = notch(figures, figure);
        // Where a sled has several settings, face and angle stand between index and centre.
        let same = |cells: &[String]| {
            let mut pairs = cells.iter().zip(&wanted[1..]);
            pairs.all(|(cell, wanted)| cell == wanted || &in_decimals(cell) == wanted)
        };
        let found = rows.iter().any(|row| {
            let mut places = [1, 3]
                .into_iter()
                .filter_map(|from| row.get(from..from + 3));
            row.first() == wanted.first() && places.any(same)
        });
        assert!(found, "{name}, {from}: no row {wanted:?}");
        told += 1;
    };
    let sled = json(bench, "out/sled.json").unwrap();
    let own = |bundle: &&Value| bundle.get("same_as_bundle").is_none();
    for bundle in list(&sled, "bundles").iter().filter(own) {
        list(bundle, "notches")
            .iter()
            .for_each(|notch| find(notch, "sled"));
    }
    for setup in list(&json(bench, "out/router.json").unwrap(), "setups") {
        list(setup, "notches")
            .iter()
            .for_each(|notch| find(notch, "router"));
    }
    assert!(told > 10, "{name}");
}

/// What is drawn says what is set.
fn settings_and_pictures(name: &str, bench: &Bench, page: &str) {
    let says = |words: String| assert!(page.contains(&words), "{name}: `{words}` is missing");
    let sled = json(bench, "out/sled.json").unwrap();
    for setting in list(&sled, "settings") {
        says(format!(
            "\nover base {} mm\n",
            printed(&setting["height_above_base_mm"])
        ));
        says(format!(
            "\nover table {} mm\n",
            printed(&setting["height_above_table_mm"])
        ));
    }
    let first = &sled["bundles"][0];
    let step = &first["steps"][0];
    let by_stop = list(first, "by_stop")
        .iter()
        .find(|stop| stop["notch"] == step["notch"]);
    let passes = list(by_stop.unwrap(), "passes_mm");
    let stop = passes.first().unwrap_or(&step["stop_to_kerf_mm"]);
    says(format!("\nstop to kerf {} mm\n", printed(stop)));
    let router = json(bench, "out/router.json").unwrap();
    let first = &list(&router, "setups")[0];
    says(format!(
        "\ntool {} mm\n",
        printed(&first["tool_diameter_mm"])
    ));
    says(format!("\nsafe {} mm\n", printed(&first["safe_height_mm"])));
    says(format!("\nstrip {} mm\n", printed(&first["length_mm"])));
    let near = printed(&first["notches"][0]["near_edge_mm"]);
    assert!(
        page.contains(&format!("\nfirst {near} mm\n"))
            || page.contains(&format!("\nnotch {near} mm\n")),
        "{name}: {near}"
    );
}

/// In no picture does a name or a measure touch another one.
fn writing_is_apart(name: &str, page: &str, unit: &str) {
    let other = if unit == "mm" { " in\"" } else { " mm\"" };
    let mut pairs = 0;
    for picture in page.split("<svg ").skip(1) {
        let picture = picture.split("</svg>").next().unwrap();
        let texts = picture.split("<text ").skip(1);
        let texts = texts.filter(|text| {
            let class = text.split('>').next().unwrap();
            !class.contains("class=\"label") && !class.contains(other)
        });
        let boxes: Vec<_> = texts.map(room_of).collect();
        for (at, a) in boxes.iter().enumerate() {
            for b in &boxes[at + 1..] {
                let apart =
                    a.1[1] <= b.1[0] || b.1[1] <= a.1[0] || a.2[1] <= b.2[0] || b.2[1] <= a.2[0];
                assert!(apart, "{name}: `{}` touches `{}` in {unit}", a.0, b.0);
                pairs += 1;
            }
        }
    }
    assert!(pairs > 20, "{name}");
}

/// A text, and from where to where it reaches along x and y: capitals of DejaVu Sans are 0.73 of
/// its size high, letters less than 0.62 wide on the average.
fn room_of(text: &str) -> (String, [f64; 2], [f64; 2]) {
    let attribute = |key: &str| {
        text.split(&format!(" {key}=\""))
            .nth(1)
            .unwrap()
            .split('"')
            .next()
            .unwrap()
    };
    let number = |key: &str| attribute(key).parse::<f64>().unwrap();
    let said = text.split_once('>').unwrap().1.split('<').next().unwrap();
    let size = number("font-size");
    let width = 0.62 * size * said.chars().count() as f64;
    let (x, y) = (number("x"), number("y"));
    let left = match attribute("text-anchor") {
        "start" => x,
        "middle" => x - width / 2.0,
        _ => x - width,
    };
    (said.to_owned(), [left, left + width], [y - 0.73 * size, y])
}

fn pieces(name: &str, bench: &Bench, rows: &[Vec<String>]) {
    let Some(plan) = json(bench, "out/pieces.json") else {
        return;
    };
    for piece in list(&plan, "pieces") {
        let length = printed(&piece["length_over_points_mm"]);
        let is_row = |row: &Vec<String>| row.contains(&length);
        assert!(rows.iter().any(is_row), "{name}: no row with {length}");
        // A row of its settings: piece, end, side, what is on the stop, block, stop.
        let own = format!("{} {}", piece["number"], piece["name"].as_str().unwrap());
        for facet in list(piece, "ends")
            .iter()
            .flat_map(|end| list(end, "facets"))
        {
            let stop = printed(&facet["stop_mm"]);
            let is_row = |row: &Vec<String>| row.first() == Some(&own) && row.contains(&stop);
            assert!(
                rows.iter().any(is_row),
                "{name}: no row of {own} with {stop}"
            );
        }
    }
}

#[test]
fn the_slider_goes_where_the_program_goes() {
    let bench = built(&demo("reading-lamp"), &[]);
    let page = bench.read("out/set-up.html");
    let ways: Vec<&str> = page
        .split("data-way=\"")
        .skip(1)
        .map(|rest| rest.split('"').next().unwrap())
        .collect();
    assert_eq!(ways.len(), 2);
    for (way, program) in ways.iter().zip(["out/notches-1.nc", "out/notches-2.nc"]) {
        assert_eq!(ends(way), moves(&bench.read(program)), "{program}");
    }
}

/// Places as hundredths of a micrometre would be too fine: thousandths of a millimetre.
type Place = [i64; 3];

fn thousandths(text: &str) -> i64 {
    #[allow(clippy::cast_possible_truncation)]
    let thousandths = (text.parse::<f64>().unwrap() * 1000.0).round() as i64;
    thousandths
}

fn ends(way: &str) -> Vec<Place> {
    let end = |stop: &str| {
        let parts: Vec<&str> = stop.split(',').collect();
        [0, 1, 2].map(|at| thousandths(parts[at]))
    };
    way.split(';').map(end).collect()
}

/// Where the moves of a program end that move something, from the first notch on.
fn moves(program: &str) -> Vec<Place> {
    let mut at = [None::<i64>; 3];
    let mut ends: Vec<Place> = Vec::new();
    for line in program.lines() {
        let code = line.split(['(', ';']).next().unwrap();
        let mut moved = false;
        for word in code.split_whitespace() {
            let axis = match word.as_bytes()[0] {
                b'X' => 0,
                b'Y' => 1,
                b'Z' => 2,
                _ => continue,
            };
            at[axis] = Some(thousandths(&word[1..]));
            moved = true;
        }
        if let ([Some(x), Some(y), Some(z)], true) = (at, moved) {
            ends.push([x, y, z]);
        }
    }
    // A program ends where its last notch does, said once more.
    ends.dedup();
    ends
}

#[test]
fn odd_titles_are_text_and_nothing_else() {
    let long = "A very long title ".repeat(11) + "xx";
    for title in [ODD_TITLE, long.as_str(), &"w".repeat(200), ""] {
        let bench = built(&titled(JOB, title), &[]);
        let page = bench.read("out/set-up.html");
        assert_eq!(page.matches("<script>").count(), 1, "{title}");
        assert_eq!(page.matches("</title>").count(), 1, "{title}");
        assert_eq!(page.matches("<h1").count(), 1);
        assert!(!page.contains("onerror=") && !page.contains("<b>'"));
        // Nothing is drawn from elsewhere.
        assert!(!page.contains("src=") && !page.contains("@import") && !page.contains("url("));
    }
}

#[test]
fn ticks_stay_with_steps_that_are_the_same_and_with_no_others() {
    let page = |job: &str| built(job, &[]).read("out/set-up.html");
    let own = |page: &str| marks(page, "data-job=\"")[0].to_owned();
    let steps = |page: &str| -> BTreeSet<String> {
        marks(page, "data-step=\"")
            .into_iter()
            .map(str::to_owned)
            .collect()
    };
    let (before, same) = (page(JOB), page(JOB));
    assert_eq!((own(&before), steps(&before)), (own(&same), steps(&same)));
    let changed = page(&with_line(JOB, "overhang", "overhang = \"16 mm\""));
    assert_eq!(own(&before), own(&changed));
    // What is set is another figure, what is laid ready is not.
    let kept = steps(&before).intersection(&steps(&changed)).count();
    assert!(kept > 10 && kept < steps(&before).len() - 3, "{kept}");
    assert_ne!(own(&before), own(&page(&titled(JOB, "another"))));
}

fn marks<'a>(page: &'a str, key: &str) -> Vec<&'a str> {
    let parts = page.split(key).skip(1);
    parts.map(|part| part.split('"').next().unwrap()).collect()
}

#[test]
fn a_job_of_two_hundred_strips() {
    let many = with_line(
        &with_line(JOB, "columns", "columns = 99"),
        "rows",
        "rows = 99",
    );
    let many = with_line(
        &with_line(&many, "pitch", "pitch = \"5.5 mm\""),
        "thickness",
        "thickness = \"2.6 mm\"",
    );
    let many = with_line(&many, "laser", "");
    let many = with_line(&many, "router", "router = \"mid-router\"");
    let many = with_line(&many, "least_web", "least_web = \"1 mm\"");
    let bench = built(&many, &[]);
    let page = bench.read("out/set-up.html");
    assert!(page.contains("100 uprights (U1-U100)"));
    assert!(page.len() < 4_000_000, "{}", page.len());
}

#[test]
fn a_set_up_of_one_notch() {
    // A strip needs two notches to be held; woven, it is cut from both faces, one by one.
    let single = with_line(
        &with_line(JOB, "columns", "columns = 1"),
        "rows",
        "rows = 1",
    );
    let single = with_line(&single, "wood", "weave = \"alternate\"");
    let single = with_line(&single, "overhang", "overhang = \"45 mm\"");
    let bench = built(&single, &[]);
    let router = json(&bench, "out/router.json").unwrap();
    let mut counts = list(&router, "setups")
        .iter()
        .map(|setup| list(setup, "notches").len());
    assert!(counts.any(|count| count == 1), "{router:#}");
    let page = bench.read("out/set-up.html");
    assert!(page.contains("class=\"picture play\""));
}

#[test]
fn a_sheet_needs_a_known_ending_and_a_machine() {
    let bench = Bench::with_job();
    let wrong = bench.run(&["sheet", "job.toml", "-o", "sheet.doc"]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains(".html or .pdf"), "{}", wrong.err);
    let bare = JOB.split("[machines]").next().unwrap();
    bench.write("bare.toml", bare);
    let wrong = bench.run(&["sheet", "bare.toml", "-o", "sheet.html"]);
    assert!(
        wrong.code == 2 && wrong.err.contains("[machines]"),
        "{}",
        wrong.err
    );
    assert!(!bench.path("sheet.html").exists());
}

#[test]
fn texts_for_the_terminal_are_no_wider_than_100_columns_in_inches_too() {
    for name in DEMOS {
        let bench = built(&titled(&demo(name), &"w".repeat(200)), &["--units", "in"]);
        for file in ["sled", "laser", "router", "pieces"] {
            let file = format!("out/{file}.txt");
            if !bench.path(&file).is_file() {
                continue;
            }
            for line in bench.read(&file).lines() {
                assert!(line.chars().count() <= 100, "{name}, {file}: {line}");
                assert!(
                    !line.contains(['\u{1b}', '\t', '\r']),
                    "{name}, {file}: {line}"
                );
            }
        }
    }
}
