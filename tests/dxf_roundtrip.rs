//! From finished parts to a file and back: what is written proves clean, what is damaged does not.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use lapwright::geometry::Point;
use lapwright::instructions::lettering;
use lapwright::instructions::outline::Part;
use lapwright::planning::nesting::{Sheet, nest_parts};
use lapwright::planning::outlines::sheet_drawing;
use lapwright::verification::outline::{Meant, OutlineReport, check};
use lapwright::writing::dxf::{DxfVersion, LayerColours, dxf};
use proptest::prelude::*;
use std::num::NonZeroU8;

const KERF: f64 = 0.15;
const SHEET: Sheet = Sheet {
    length: 900.0,
    width: 300.0,
    margin: 5.0,
    gap: 1.0,
};
const BOTH: [DxfVersion; 2] = [DxfVersion::R2000, DxfVersion::R12];

fn colours() -> LayerColours {
    let of = |aci| NonZeroU8::new(aci).unwrap();
    LayerColours {
        mark: of(5),
        cut_inner: of(3),
        cut_outer: of(1),
    }
}

/// A notch by its centre, width and whether it is cut from above.
type Notch = (f64, f64, bool);

/// A strip's side: notches to half its depth, from below or from above.
fn strip(name: &str, copy: usize, length: f64, depth: f64, notches: &[Notch]) -> Part {
    let p = Point::new;
    let side = |from_above: bool, face: f64| {
        let of_side = notches.iter().filter(move |notch| notch.2 == from_above);
        of_side.flat_map(move |&(centre, width, _)| {
            let (left, right, floor) = (centre - width / 2.0, centre + width / 2.0, depth / 2.0);
            [
                p(left, face),
                p(left, floor),
                p(right, floor),
                p(right, face),
            ]
        })
    };
    let mut outer = vec![p(0.0, 0.0)];
    outer.extend(side(false, 0.0));
    outer.extend([p(length, 0.0), p(length, depth)]);
    let mut above: Vec<Point> = side(true, depth).collect();
    above.reverse();
    outer.extend(above);
    outer.push(p(0.0, depth));
    Part {
        name: name.to_owned(),
        copy,
        outer,
        holes: Vec::new(),
        strokes: lettering::strokes(&format!("{name} {copy}"), p(2.0, 1.0), depth / 6.0),
    }
}

/// An insert with two slots and a mitred piece with a 15 degree tip, which no mitre reaches.
fn odd_parts() -> [Part; 2] {
    let p = Point::new;
    let slot = |x: f64| vec![p(x, 10.0), p(x + 3.0, 10.0), p(x + 3.0, 30.0), p(x, 30.0)];
    let (sine, cosine) = 7.5_f64.to_radians().sin_cos();
    [
        Part {
            name: "insert".into(),
            copy: 1,
            outer: vec![p(0.0, 0.0), p(80.0, 0.0), p(80.0, 40.0), p(0.0, 40.0)],
            holes: vec![slot(10.0), slot(33.3)],
            strokes: lettering::strokes("X/8", p(50.0, 10.0), 5.0),
        },
        Part {
            name: "point".into(),
            copy: 1,
            outer: vec![
                p(-20.0 * cosine, -20.0 * sine),
                p(0.0, 0.0),
                p(-20.0 * cosine, 20.0 * sine),
            ],
            holes: Vec::new(),
            strokes: Vec::new(),
        },
    ]
}

fn report(bytes: &[u8], parts: &[Part]) -> OutlineReport {
    let meant = Meant {
        parts,
        kerf_mm: KERF,
        sheet_mm: (SHEET.length, SHEET.width),
    };
    check(bytes, &meant)
}

/// One sheet of parts at their places, and its file.
fn sample(version: DxfVersion) -> (Vec<Part>, String) {
    let mut parts = vec![
        strip(
            "upright",
            1,
            98.0,
            12.0,
            &[(15.0, 3.05, false), (57.123_456_7, 3.05, true)],
        ),
        strip(
            "upright",
            2,
            98.0,
            12.0,
            &[(15.0, 3.05, false), (57.123_456_7, 3.05, true)],
        ),
    ];
    parts.extend(odd_parts());
    let (mut sheets, _) = nest_parts(&parts, &SHEET).unwrap();
    let placed = sheets.remove(0);
    let drawing = sheet_drawing(&placed, KERF).unwrap();
    let bytes = dxf(&drawing, version, colours()).unwrap();
    (placed, String::from_utf8(bytes).unwrap())
}

fn strips() -> impl Strategy<Value = Vec<Part>> {
    let notch = (5.0..20.0_f64, 0.4..4.0_f64, any::<bool>());
    let one = (6.0..30.0_f64, prop::collection::vec(notch, 0..12));
    prop::collection::vec(one, 1..30).prop_map(|strips| {
        let build = |(copy, (depth, steps)): (usize, (f64, Vec<Notch>))| {
            let mut centre = 0.0;
            let mut notches = Vec::new();
            for (step, width, above) in steps {
                centre += step;
                notches.push((centre, width, above));
            }
            strip("bar", copy + 1, centre + 20.0, depth, &notches)
        };
        strips.into_iter().enumerate().map(build).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn what_is_written_proves_clean(parts in strips()) {
        let (sheets, _) = nest_parts(&parts, &SHEET).unwrap();
        for placed in sheets {
            let drawing = sheet_drawing(&placed, KERF).unwrap();
            for version in BOTH {
                let bytes = dxf(&drawing, version, colours()).unwrap();
                prop_assert_eq!(&bytes, &dxf(&drawing, version, colours()).unwrap());
                let report = report(&bytes, &placed);
                prop_assert_eq!(&report.faults, &[]);
                prop_assert_eq!(report.contours, drawing.paths.len());
                prop_assert!(report.worst_error_mm < 1e-6, "{}", report.worst_error_mm);
            }
        }
    }

    /// Any digit of any coordinate, down to the fourth decimal.
    #[test]
    fn a_changed_digit_is_found(pick in any::<prop::sample::Index>(), by in 1..10_u8, old in any::<bool>()) {
        let (parts, text) = sample(BOTH[usize::from(old)]);
        let entities = text.find("ENTITIES").unwrap();
        let mut digits = Vec::new();
        let mut at = entities + "ENTITIES\n".len();
        let lines: Vec<&str> = text[at..].lines().collect();
        for (index, line) in lines.iter().enumerate() {
            // The point that every POLYLINE carries is not a vertex.
            let dummy = lines[index.saturating_sub(8)..index].contains(&"66");
            if index % 2 == 1 && ["10", "20"].contains(&lines[index - 1]) && !dummy {
                let significant = line.find('.').unwrap() + 5;
                let places = line.char_indices().take(significant);
                digits.extend(places.filter(|(_, c)| c.is_ascii_digit()).map(|(i, _)| at + i));
            }
            at += line.len() + 1;
        }
        let mut bytes = text.into_bytes();
        let digit = &mut bytes[digits[pick.index(digits.len())]];
        *digit = b'0' + (*digit - b'0' + by) % 10;
        prop_assert!(!report(&bytes, &parts).faults.is_empty());
    }
}

proptest! {
    /// Whatever happens to a file, the proof ends with a report.
    #[test]
    fn no_damage_stops_the_proof(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 0..128_u8), 1..6),
        lines in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>()), 0..3),
        old in any::<bool>(),
    ) {
        let (parts, text) = sample(BOTH[usize::from(old)]);
        let mut all: Vec<&str> = text.lines().collect();
        for (from, to) in lines {
            let moved = all.remove(from.index(all.len()));
            all.insert(to.index(all.len()), moved);
        }
        let mut bytes = (all.join("\n") + "\n").into_bytes();
        for (at, byte) in picks {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = report(&bytes, &parts);
    }
}

#[test]
fn the_sample_is_clean_in_both_forms() {
    for version in BOTH {
        let (parts, text) = sample(version);
        let report = report(text.as_bytes(), &parts);
        assert_eq!(report.faults, []);
        assert!(report.worst_error_mm < 1e-6);
        assert_eq!(report.contours, text.matches("POLYLINE\n").count());
    }
}

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
            on("CUT_OUTER", last_digit),
        );
        assert_found(
            "outline 0.01 mm to the right",
            version,
            &["vertex-off"],
            on("CUT_OUTER", |e| moved(e, "10", 0.01)),
        );
        assert_found(
            "outline 40 mm up",
            version,
            &["missing", "surplus", "extents"],
            on("CUT_OUTER", |e| moved(e, "20", 40.0)),
        );
        assert_found(
            "outline off the sheet",
            version,
            &["off-sheet"],
            on("CUT_OUTER", |e| moved(e, "10", -90.0)),
        );
        assert_found(
            "hole moved",
            version,
            &["vertex-off"],
            on("CUT_INNER", |e| moved(e, "20", 0.01)),
        );
        assert_found(
            "label moved",
            version,
            &["vertex-off"],
            on("MARK", |e| moved(e, "10", 0.01)),
        );
        assert_found(
            "outline left out",
            version,
            &["missing"],
            on("CUT_OUTER", |_| String::new()),
        );
        assert_found(
            "label left out",
            version,
            &["missing"],
            on("MARK", |_| String::new()),
        );
        assert_found(
            "outline twice",
            version,
            &["duplicate", "surplus", "too-close"],
            on("CUT_OUTER", |e| e.to_owned() + e),
        );
        assert_found(
            "closed flag off",
            version,
            &["open"],
            on("CUT_OUTER", |e| swap(e, "\n70\n1\n", "\n70\n0\n")),
        );
        assert_found(
            "stroke closed",
            version,
            &["open"],
            on("MARK", |e| swap(e, "\n70\n0\n", "\n70\n1\n")),
        );
        assert_found(
            "unknown layer",
            version,
            &["layer"],
            on("CUT_OUTER", |e| e.replace("CUT_OUTER", "CUT")),
        );
        assert_found(
            "hole among the outlines",
            version,
            &["missing", "surplus", "order"],
            on("CUT_INNER", |e| e.replace("CUT_INNER", "CUT_OUTER")),
        );
        let outer_first = |text: &str| {
            let entity = entity(text, "CUT_OUTER", 0);
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
        (12.0 + 2.0 * KERF + 0.001, None),
        (12.0 + 2.0 * KERF - 0.001, Some("too-close")),
        (3.0, Some("too-close")),
    ] {
        let bar = strip("bar", 1, 60.0, 12.0, &[(20.0, 3.0, false)]);
        let low = bar.moved(Point::default().to(Point::new(5.0, 5.0)));
        let parts = [
            low.clone(),
            low.moved(Point::default().to(Point::new(0.0, up))),
        ];
        let drawing = sheet_drawing(&parts, KERF).unwrap();
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
            let entity = entity(text, "CUT_OUTER", 0);
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
            let entity = entity(text, "CUT_OUTER", 0);
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
        let entity = entity(text, "CUT_OUTER", 0);
        let (head, _) = entity.rsplit_once("0\nVERTEX\n").unwrap();
        swap(text, &entity, &format!("{head}0\nSEQEND\n8\nCUT_OUTER\n"))
    });
    assert_found("no end of vertices", old, &["entity"], |text| {
        swap(text, "0\nSEQEND\n8\nMARK\n", "")
    });
    assert_found("vertex on another layer", old, &["layer"], |text| {
        swap(text, "0\nVERTEX\n8\nMARK\n", "0\nVERTEX\n8\nCUT_OUTER\n")
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
                "2\nCUT_OUTER\n70\n",
                "2\nOTHER\n70\n",
            ),
            (
                "text",
                &["entity"],
                "2\nENTITIES\n",
                "2\nENTITIES\n0\nTEXT\n8\nMARK\n1\nhello\n",
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
            ("not ASCII", &["not-dxf"], "MARK", "M\u{c4}RK"),
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
