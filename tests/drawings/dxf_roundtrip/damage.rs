//! Files damaged in one known way, and the code of the fault that must be found.

use super::samples::{BOTH, KERF, SHEET, colours, report, sample, strip};
use lapwright::geometry::Point;
use lapwright::instructions::safety::SafetyNotes;
use lapwright::planning::sheet_cutting::outlines::sheet_drawing;
use lapwright::writing::dxf::{DxfVersion, dxf};

/// The text of the `n`th entity of a layer, with its vertices.
fn entity(text: &str, layer: &str, n: usize) -> String {
    let entities = text.split_once("2\nENTITIES\n").unwrap().1;
    let entities = entities.split_once("0\nENDSEC\n").unwrap().0;
    let marked = entities.replace("0\nLWPOLYLINE\n", "\u{1}0\nLWPOLYLINE\n");
    let marked = marked.replace("0\nPOLYLINE\n", "\u{1}0\nPOLYLINE\n");
    let on_layer = |entity: &&str| entity.contains(&format!("\n8\n{layer}\n"));
    marked
        .split('\u{1}')
        .filter(on_layer)
        .nth(n)
        .unwrap()
        .to_owned()
}

/// Replaces what must be there.
fn swap(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from:?} is not in the text");
    text.replacen(from, to, 1)
}

/// The same entity with all its coordinates of one group moved.
fn moved(entity: &str, code: &str, by: f64) -> String {
    let mut lines: Vec<String> = entity.lines().map(str::to_owned).collect();
    for index in (1..lines.len()).step_by(2) {
        if lines[index - 1] == code && lines[index] != "0.0" {
            lines[index] = format!("{:.6}", lines[index].parse::<f64>().unwrap() + by);
        }
    }
    lines.join("\n") + "\n"
}

/// Damages an outline of the sample and says which codes are to be among the faults.
fn assert_found(damage: &str, version: DxfVersion, codes: &[&str], edit: impl Fn(&str) -> String) {
    let (parts, text) = sample(version);
    let damaged = edit(&text);
    assert_ne!(text, damaged, "{damage}");
    let report = report(damaged.as_bytes(), &parts);
    for code in codes {
        assert!(
            report.faults.iter().any(|fault| fault.code == *code),
            "{damage}, {version:?}: no {code} in {:?}",
            report.faults
        );
    }
}

#[test]
fn damage_to_the_geometry_is_found_by_its_code() {
    for version in BOTH {
        let on = |layer: &'static str, edit: fn(&str) -> String| {
            move |text: &str| {
                let entity = entity(text, layer, 0);
                swap(text, &entity, &edit(&entity))
            }
        };
        let last_digit = |e: &str| {
            let (head, tail) = e.rsplit_once("\n20\n").unwrap();
            let (y, rest) = tail.split_once('\n').unwrap();
            format!(
                "{head}\n20\n{:.6}\n{rest}",
                y.parse::<f64>().unwrap() + 2e-4
            )
        };
        assert_found(
            "one vertex 0.0002 mm off",
            version,
            &["vertex-off"],
            on("OUTLINES", last_digit),
        );
        assert_found(
            "outline 0.01 mm to the right",
            version,
            &["vertex-off"],
            on("OUTLINES", |e| moved(e, "10", 0.01)),
        );
        assert_found(
            "outline 40 mm up",
            version,
            &["missing", "surplus", "extents"],
            on("OUTLINES", |e| moved(e, "20", 40.0)),
        );
        assert_found(
            "outline off the sheet",
            version,
            &["off-sheet"],
            on("OUTLINES", |e| moved(e, "10", -90.0)),
        );
        assert_found(
            "hole moved",
            version,
            &["vertex-off"],
            on("OPENINGS", |e| moved(e, "20", 0.01)),
        );
        assert_found(
            "label moved",
            version,
            &["vertex-off"],
            on("LETTERS", |e| moved(e, "10", 0.01)),
        );
        assert_found(
            "outline left out",
            version,
            &["missing"],
            on("OUTLINES", |_| String::new()),
        );
        assert_found(
            "label left out",
            version,
            &["missing"],
            on("LETTERS", |_| String::new()),
        );
        assert_found(
            "outline twice",
            version,
            &["duplicate", "surplus", "too-close"],
            on("OUTLINES", |e| e.to_owned() + e),
        );
        assert_found(
            "closed flag off",
            version,
            &["open"],
            on("OUTLINES", |e| swap(e, "\n70\n1\n", "\n70\n0\n")),
        );
        assert_found(
            "stroke closed",
            version,
            &["open"],
            on("LETTERS", |e| swap(e, "\n70\n0\n", "\n70\n1\n")),
        );
        assert_found(
            "unknown layer",
            version,
            &["layer"],
            on("OUTLINES", |e| e.replace("OUTLINES", "CUT")),
        );
        assert_found(
            "hole among the outlines",
            version,
            &["missing", "surplus", "order"],
            on("OPENINGS", |e| e.replace("OPENINGS", "OUTLINES")),
        );
        let outer_first = |text: &str| {
            let entity = entity(text, "OUTLINES", 0);
            let without = swap(text, &entity, "");
            swap(&without, "2\nENTITIES\n", &format!("2\nENTITIES\n{entity}"))
        };
        assert_found("outline before holes", version, &["order"], outer_first);
    }
}

#[test]
fn outlines_too_close_to_each_other_are_found() {
    // Right by themselves and by their parts: only the places are wrong.
    for (up, code) in [
        (12.0 + SHEET.gap + 0.001, None),
        (12.0 + SHEET.gap - 0.001, Some("too-close")),
        (3.0, Some("too-close")),
    ] {
        let bar = strip("bar", 1, 60.0, 12.0, &[(20.0, 3.0, false)]);
        let low = bar.moved(Point::default().to(Point::new(6.0, 6.0)));
        let parts = [
            low.clone(),
            low.moved(Point::default().to(Point::new(0.0, up))),
        ];
        let drawing = sheet_drawing(&parts, KERF, SafetyNotes::for_laser()).unwrap();
        let bytes = dxf(&drawing, DxfVersion::R2000, colours()).unwrap();
        let report = report(&bytes, &parts);
        assert_eq!(report.faults.first().map(|fault| fault.code), code, "{up}");
    }
}

#[test]
fn damage_to_vertices_is_found_in_both_forms() {
    let first_vertex_again = |e: &str| {
        let start = e.find("\n10\n").unwrap() + 1;
        let end = e[start + 3..].find("\n10\n").unwrap() + start + 4;
        e.to_owned() + &e[start..end]
    };
    let new = |edit: fn(&str) -> String| {
        move |text: &str| {
            let entity = entity(text, "OUTLINES", 0);
            swap(text, &entity, &edit(&entity))
        }
    };
    let version = DxfVersion::R2000;
    assert_found(
        "vertex dropped, count kept",
        version,
        &["vertex-count", "shape"],
        new(|e| {
            let (head, _) = e.rsplit_once("10\n").unwrap();
            head.to_owned()
        }),
    );
    assert_found(
        "vertex dropped, count right",
        version,
        &["shape"],
        new(|e| {
            let (head, _) = e.rsplit_once("10\n").unwrap();
            swap(head, "\n90\n12\n", "\n90\n11\n")
        }),
    );
    assert_found(
        "first vertex repeated",
        version,
        &["zero-length", "vertex-count"],
        |text| {
            let entity = entity(text, "OUTLINES", 0);
            swap(text, &entity, &first_vertex_again(&entity))
        },
    );
    assert_found(
        "arc",
        version,
        &["group"],
        new(|e| e.to_owned() + "42\n0.5\n"),
    );
    assert_found(
        "not a number",
        version,
        &["number", "unreadable"],
        new(|e| swap(e, "\n10\n", "\n10\nnan\n20\n1.0\n10\n")),
    );
    assert_found(
        "exponent",
        version,
        &["number"],
        new(|e| swap(e, "\n20\n", "\n20\n1.0e1\n10\n5.0\n20\n")),
    );
    assert_found(
        "unread rest",
        version,
        &["unreadable"],
        new(|e| swap(e, "\n10\n", "\n10\n1-2\n20\n1.0\n10\n")),
    );
    assert_found(
        "second handle",
        version,
        &["handle"],
        new(|e| swap(e, "0\nLWPOLYLINE\n5\n", "0\nLWPOLYLINE\n5\n100\n5\n")),
    );
    let old = DxfVersion::R12;
    assert_found("vertex dropped", old, &["shape"], |text| {
        let entity = entity(text, "OUTLINES", 0);
        let (head, _) = entity.rsplit_once("0\nVERTEX\n").unwrap();
        swap(text, &entity, &format!("{head}0\nSEQEND\n8\nOUTLINES\n"))
    });
    assert_found("no end of vertices", old, &["entity"], |text| {
        swap(text, "0\nSEQEND\n8\nLETTERS\n", "")
    });
    assert_found("vertex on another layer", old, &["layer"], |text| {
        swap(text, "0\nVERTEX\n8\nLETTERS\n", "0\nVERTEX\n8\nOUTLINES\n")
    });
    assert_found("66 missing", old, &["flag"], |text| {
        swap(text, "66\n1\n", "")
    });
    assert_found("height", old, &["group"], |text| {
        swap(text, "30\n0.0\n0\nVERTEX", "30\n3.0\n0\nVERTEX")
    });
}

#[test]
fn damage_to_the_file_is_found() {
    for version in BOTH {
        let replaced =
            |from: &'static str, to: &'static str| move |text: &str| swap(text, from, to);
        let cases: [(&str, &[&str], &'static str, &'static str); 11] = [
            (
                "inches",
                &["units"],
                "$INSUNITS\n70\n4\n",
                "$INSUNITS\n70\n1\n",
            ),
            ("units missing", &["units"], "9\n$INSUNITS\n70\n4\n", ""),
            (
                "not metric",
                &["units"],
                "$MEASUREMENT\n70\n1\n",
                "$MEASUREMENT\n70\n0\n",
            ),
            (
                "units twice",
                &["units"],
                "9\n$INSUNITS\n",
                "9\n$INSUNITS\n70\n4\n9\n$INSUNITS\n",
            ),
            ("extents", &["extents"], "$EXTMAX\n10\n", "$EXTMAX\n10\n1"),
            (
                "layer not declared",
                &["layer"],
                "2\nOUTLINES\n70\n",
                "2\nOTHER\n70\n",
            ),
            (
                "text",
                &["entity"],
                "2\nENTITIES\n",
                "2\nENTITIES\n0\nTEXT\n8\nLETTERS\n1\nhello\n",
            ),
            (
                "in a block",
                &["entity"],
                "0\nENDBLK\n",
                "0\nLINE\n8\n0\n0\nENDBLK\n",
            ),
            ("cut short", &["not-dxf"], "0\nEOF\n", ""),
            (
                "empty line",
                &["not-dxf"],
                "2\nENTITIES\n",
                "2\nENTITIES\n\n",
            ),
            ("not ASCII", &["not-dxf"], "LETTERS", "M\u{c4}RK"),
        ];
        for (damage, codes, from, to) in cases {
            assert_found(damage, version, codes, replaced(from, to));
        }
    }
    let newer = |text: &str| swap(text, "AC1015", "AC1032");
    assert_found("newer version", DxfVersion::R2000, &["version"], newer);
    let (parts, _) = sample(DxfVersion::R2000);
    for nonsense in ["", "0\n", "\u{0}", "0\nEOF\n"] {
        assert!(!report(nonsense.as_bytes(), &parts).faults.is_empty());
    }
}
