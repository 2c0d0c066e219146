//! The outside programs themselves: that they run, see what is there, and can refuse.

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{Canonical, LengthUnits, check_strips, read_dxf, rs274, try_rs274};
use serde_json::{Value, json};
use tempfile::TempDir;

fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/data")
        .join(name)
}

/// A file with the given text in a folder of its own.
fn written(name: &str, text: &str) -> (TempDir, PathBuf) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join(name);
    fs::write(&path, text).unwrap();
    (folder, path)
}

/// A drawing of `tests/data` with some of its text replaced; every group stands on two lines.
fn altered(name: &str, from: &str, to: &str) -> (TempDir, PathBuf) {
    let text = fs::read_to_string(data(name)).unwrap();
    assert!(text.contains(from), "{name} has no {from:?}");
    written("altered.dxf", &text.replacen(from, to, 1))
}

/// The calls that move, in order, without the interpreter's remarks and settings.
fn main_calls(program: &str) -> Vec<Canonical> {
    let (_folder, path) = written("program.ngc", program);
    rs274(&path)
        .into_iter()
        .filter(|call| !matches!(call, Canonical::Other(_)))
        .filter(|call| !matches!(call, Canonical::Comment(text) if text.starts_with("interpreter")))
        .collect()
}

#[test]
fn the_interpreter_makes_the_moves_of_a_program() {
    let program = "(two \"cuts\", one bend)\nG21\nG17 G90 G94\nG54\nG0 Z5.\nG0 X1.5 Y-2.25\n\
                   S12000\nM3\nG4 P3.\nG1 Z-1. F300.\nG1 X10.125 F600.\n\
                   G2 X12. Y-2.25 I0.9375 J0.\nM5\nM2\n";
    let (x, y) = (1.5, -2.25);
    let expected = [
        Canonical::Comment("two \"cuts\", one bend".to_owned()),
        Canonical::UseLengthUnits(LengthUnits::Millimetres),
        Canonical::SetFeed(0.0), // by G94
        Canonical::Traverse {
            x: 0.0,
            y: 0.0,
            z: 5.0,
        },
        Canonical::Traverse { x, y, z: 5.0 },
        Canonical::SetSpeed(12000.0),
        Canonical::SpindleOn { clockwise: true },
        Canonical::Dwell(3.0),
        Canonical::SetFeed(300.0),
        Canonical::Feed { x, y, z: -1.0 },
        Canonical::SetFeed(600.0),
        Canonical::Feed {
            x: 10.125,
            y,
            z: -1.0,
        },
        Canonical::Arc {
            x: 12.0,
            y,
            z: -1.0,
            center_x: 11.0625,
            center_y: y,
            turns: -1,
        },
        Canonical::SpindleOff,
        Canonical::SetFeed(0.0), // by M2, as the next
        Canonical::SpindleOff,
        Canonical::ProgramEnd,
    ];
    assert_eq!(main_calls(program), expected);
}

#[test]
fn the_interpreter_prints_the_units_of_the_program() {
    let calls = main_calls("G20\nG90\nG0 X0.5\nM30\n");
    assert_eq!(
        calls[0],
        Canonical::UseLengthUnits(LengthUnits::Inches),
        "{calls:?}"
    );
    let half = Canonical::Traverse {
        x: 0.5,
        y: 0.0,
        z: 0.0,
    };
    assert_eq!(calls[1], half, "{calls:?}");
}

/// NISTIR 6556, 3.3.5: no two words of one modal group in a block. 3.1: a program ends with M2,
/// M30 or a percent sign.
#[test]
fn the_interpreter_refuses_bad_programs() {
    for (program, reason) in [
        ("G21\nG0 G1 X1.\nM2\n", "same modal group"),
        ("G21\nG90\nG1 F100. X2.\n", "program end"),
        ("G21\nG1 X2.\nM2\n", "feed rate"),
        (
            "G21\nG90\nF100.\nG2 X4. Y0. I1. J0.\nM2\n",
            "adius to end of arc differs",
        ),
        ("G21\nG0 X1E-5\nM2\n", "E word"),
    ] {
        let (_folder, path) = written("bad.ngc", program);
        let refusal = try_rs274(&path).expect_err(program);
        assert!(refusal.contains(reason), "{program}: {refusal}");
    }
}

/// The interpreter keeps parameters and a tool table in files: runs must not share them. G10 L2
/// stores a work zero (NISTIR 6556, 3.5.5), parameter 5221 is that of G54 along x.
#[test]
fn runs_of_the_interpreter_do_not_disturb_each_other() {
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                main_calls("G21\nG10 L2 P1 X7.\nM2\n");
                let moves = main_calls("G21\nG90\nG0 X#5221\nM2\n");
                let origin = Canonical::Traverse {
                    x: 0.0,
                    y: 0.0,
                    z: 0.0,
                };
                assert!(moves.contains(&origin), "{moves:?}");
            });
        }
    });
}

#[test]
fn both_readers_see_an_r12_drawing() {
    let path = data("two_strips_r12.dxf");
    let name = path.to_str().unwrap();
    let seen = &read_dxf(&[&path])[name];
    let mark = json!([[10.0, 8.0], [12.0, 10.0], [14.0, 8.0]]);
    let strip = json!([
        [5.0, 5.0],
        [65.2, 5.0],
        [65.2, 17.2],
        [28.0, 17.2],
        [28.0, 11.2],
        [25.2, 11.2],
        [25.2, 17.2],
        [5.0, 17.2]
    ]);
    let ezdxf = &seen["ezdxf"];
    assert_eq!(ezdxf["version"], "AC1009");
    assert_eq!(ezdxf["insunits"], 4);
    assert_eq!(ezdxf["measurement"], 1);
    assert_eq!(ezdxf["extmin"], json!([5.0, 5.0, 0.0]));
    assert_eq!(ezdxf["extmax"], json!([65.2, 29.8, 0.0]));
    assert_eq!(ezdxf["audit_errors"], json!([]));
    assert_eq!(ezdxf["audit_fixes"], json!([]));
    assert_eq!(ezdxf["other_entities"], json!([]));
    assert_eq!(ezdxf["polylines"].as_array().map(Vec::len), Some(3));
    assert_eq!(seen["gdal"]["features"].as_array().map(Vec::len), Some(3));
    for (of_reader, list) in [(ezdxf, "polylines"), (&seen["gdal"], "features")] {
        let lines = &of_reader[list];
        assert_eq!(lines[0]["layer"], "LETTERS", "{list}");
        assert_eq!(lines[0]["closed"], false, "{list}");
        assert_eq!(lines[0]["vertices"], mark, "{list}");
        assert_eq!(lines[1]["layer"], "OUTLINES", "{list}");
        assert_eq!(lines[1]["closed"], true, "{list}");
        assert_eq!(lines[1]["vertices"], strip, "{list}");
    }
}

#[test]
fn the_readers_tell_what_an_r2000_drawing_lacks() {
    let (_folder, path) = altered(
        "one_strip_r2000.dxf",
        "\n8\nLETTERS\n",
        "\n8\nLETTERS\n6\nnowhere\n",
    );
    let seen = read_dxf(&[&path]);
    let ezdxf = &seen[path.to_str().unwrap()]["ezdxf"];
    assert_eq!(ezdxf["version"], "AC1015");
    assert_eq!(ezdxf["measurement"], Value::Null);
    assert_eq!(ezdxf["extmin"], Value::Null);
    assert_eq!(ezdxf["polylines"][0]["closed"], true);
    let line = json!([{"type": "LINE", "layer": "LETTERS", "layout": "Model"}]);
    assert_eq!(ezdxf["other_entities"], line);
    let fixes = ezdxf["audit_fixes"].to_string();
    assert!(fixes.contains("nowhere"), "{fixes}");
}

#[test]
#[should_panic(expected = "altered.dxf: ezdxf: ")]
fn the_strict_reader_refuses_an_outline_without_subclass_markers() {
    let (_folder, path) = altered("one_strip_r2000.dxf", "\n100\nAcDbPolyline\n", "\n");
    read_dxf(&[&path]);
}

/// The drawing's contours are drawn 0.1 mm outside of these strips, one kerf of 0.2 mm in all.
fn two_strips(drawing: &Path) -> Value {
    json!({
        "files": [drawing],
        "kerf_mm": 0.2,
        "parts": [{
            "name": "upright",
            "count": 2,
            "outline": [[0, 0], [60, 0], [60, 12], [23, 12], [23, 6], [20, 6], [20, 12], [0, 12]],
        }],
    })
}

#[test]
fn the_strip_check_accepts_the_strips_that_are_meant() {
    let right = two_strips(&data("two_strips_r12.dxf"));
    assert_eq!(check_strips(&right), Ok(()));

    let mut clockwise_and_begun_elsewhere = right;
    clockwise_and_begun_elsewhere["parts"][0]["outline"] = json!([
        [123, 6],
        [123, 12],
        [160, 12],
        [160, 0],
        [100, 0],
        [100, 12],
        [120, 12],
        [120, 6]
    ]);
    assert_eq!(check_strips(&clockwise_and_begun_elsewhere), Ok(()));
}

#[test]
fn the_strip_check_refuses_what_is_not_meant() {
    type Change = fn(&mut Value);
    let changes: [(Change, &str); 6] = [
        (|d| d["kerf_mm"] = json!(0.19999), "is no part"),
        (|d| d["kerf_mm"] = json!(0.6), "contours 0.4"),
        (|d| d["parts"][0]["count"] = json!(1), "too many"),
        (|d| d["parts"][0]["count"] = json!(3), "missing: 1 upright"),
        (
            |d| d["parts"][0]["outline"][3] = json!([23.00001, 12]),
            "is no part",
        ),
        (
            // The same strip turned by half a turn.
            |d| {
                d["parts"][0]["outline"] = json!([
                    [0, 0],
                    [37, 0],
                    [37, 6],
                    [40, 6],
                    [40, 0],
                    [60, 0],
                    [60, 12],
                    [0, 12]
                ]);
            },
            "is no part",
        ),
    ];
    for (change, reason) in changes {
        let mut description = two_strips(&data("two_strips_r12.dxf"));
        change(&mut description);
        let refusal = check_strips(&description).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
}

#[test]
fn the_strip_check_refuses_spoilt_drawings() {
    let spoils = [
        // One vertex of the notch off by 0.00001 mm.
        ("\n28.0\n20\n11.2\n", "\n28.00001\n20\n11.2\n", "is no part"),
        // The second contour, on the first.
        ("\n20\n17.6\n", "\n20\n17.1\n", "contours 0.0 mm apart"),
        // The flag of the first outline (the mark before it is open anyway).
        ("\n70\n1\n0\nVERTEX", "\n70\n0\n0\nVERTEX", "no closed"),
    ];
    for (from, to, reason) in spoils {
        let (_folder, path) = altered("two_strips_r12.dxf", from, to);
        let refusal = check_strips(&two_strips(&path)).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
}
