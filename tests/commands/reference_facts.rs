//! Published figures, common practice and elementary geometry, through the program's own answers.
//! Every figure has its source beside it.
#![allow(clippy::float_cmp)]

use std::fs;
use std::path::Path;

use crate::support::jobs::{answer, number};
use serde_json::Value;
use tempfile::TempDir;

/// A grid of equal bays from flags alone: pitch, bays, overhang, thickness, depth in mm.
#[derive(Clone, Copy)]
struct Grid {
    pitch: f64,
    bays: usize,
    overhang: f64,
    thickness: f64,
    depth: f64,
}

const TWO_BY_TWO: Grid = Grid {
    pitch: 46.0,
    bays: 2,
    overhang: 18.0,
    thickness: 2.6,
    depth: 12.0,
};

impl Grid {
    /// The sled's answer; `machine` is a shipped name or a path.
    fn sled(&self, machine: &str) -> Value {
        let mm = |value: f64| format!("{value}mm");
        let bays = self.bays.to_string();
        let flags = [
            ("--pitch", mm(self.pitch)),
            ("--bays", bays),
            ("--overhang", mm(self.overhang)),
            ("--thickness", mm(self.thickness)),
            ("--depth", mm(self.depth)),
            ("--machine", machine.to_owned()),
        ];
        let mut arguments = vec!["sled"];
        arguments.extend(
            flags
                .iter()
                .flat_map(|(flag, value)| [*flag, value.as_str()]),
        );
        answer(Path::new("."), &arguments)
    }
}

/// The shipped profile of a sled with some of its lines replaced, for a closure to use.
fn with_profile<T>(shipped: &str, changes: &[(&str, &str)], run: impl Fn(&str) -> T) -> T {
    let folder = TempDir::new().unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(root.join(format!("profiles/{shipped}.toml"))).unwrap();
    let change = |line: &str| {
        let changed = changes.iter().find(|(key, _)| {
            let rest = line.strip_prefix(key);
            rest.is_some_and(|rest| rest.trim_start().starts_with('='))
        });
        changed.map_or_else(
            || line.to_owned(),
            |(key, value)| format!("{key} = {value}"),
        )
    };
    let lines: Vec<String> = text.lines().map(change).collect();
    for (key, value) in changes {
        assert!(
            lines.contains(&format!("{key} = {value}")),
            "no {key} in {shipped}"
        );
    }
    let path = folder.path().join("machine.toml");
    fs::write(&path, lines.join("\n")).unwrap();
    run(path.to_str().unwrap())
}

fn list(value: &Value) -> &Vec<Value> {
    value
        .as_array()
        .unwrap_or_else(|| panic!("{value} is no list"))
}

#[track_caller]
fn near(value: &Value, wanted: f64, within: f64) {
    let found = number(value);
    assert!((found - wanted).abs() <= within, "{found}, not {wanted}");
}

/// Computed: two overhangs and two pitches.
#[test]
fn two_by_two_bays() {
    let told = TWO_BY_TWO.sled("key-sled");
    let bundles = list(&told["bundles"]);
    assert_eq!(bundles.len(), 2);
    for bundle in bundles {
        assert_eq!(bundle["count"], 3);
        assert_eq!(bundle["length_mm"], 128.0);
        let notches = list(&bundle["notches"]);
        let centres: Vec<_> = notches
            .iter()
            .map(|notch| number(&notch["centre_mm"]))
            .collect();
        assert_eq!(centres, [18.0, 64.0, 110.0]);
    }
    // A half lap: the blade stands half the strip's depth over the sled's base.
    assert_eq!(told["blade"]["height_above_base_mm"], 6.0);
    assert_eq!(number(&told["blade"]["height_above_table_mm"]), 6.0 + 12.0);
}

/// Strips as thick as the kerf: one pass makes the notch, and it fits. Computed.
#[test]
fn strips_as_thick_as_the_kerf_take_one_pass() {
    let told = TWO_BY_TWO.sled("key-sled");
    assert_eq!(told["blade"]["passes_per_notch"], 1);
    assert_eq!(told["fit"]["clearance_mm"], 0.0);
    assert_eq!(told["fit"]["racking_deg"], 0.0);
    assert_eq!(
        list(&told["bundles"][0]["by_stop"][0]["passes_mm"]).len(),
        0
    );
}

/// A rack reaches every pitch that one of its slots measures, and no other that is not a sum of
/// them. Computed.
#[test]
fn key_slots_reach_their_own_pitches() {
    for pitch in [23.0, 31.0, 38.0, 46.0, 54.0, 69.0, 76.0, 92.0] {
        let told = Grid {
            pitch,
            ..TWO_BY_TWO
        }
        .sled("key-sled");
        for bundle in list(&told["bundles"]) {
            assert_eq!(list(&bundle["slots_to_add_mm"]).len(), 0);
            let steps = list(&bundle["steps"]);
            assert_eq!(steps[0]["register"], "stop");
            for step in &steps[1..] {
                assert_eq!(step["register"], "key", "{pitch}");
                let hop = number(&step["notch"]) - number(&step["on_notch"]);
                assert_eq!(number(&step["slot_mm"]), hop * pitch);
                assert_eq!(number(&step["key_mm"]), hop * pitch);
            }
        }
    }
    let told = Grid {
        pitch: 42.0,
        ..TWO_BY_TWO
    }
    .sled("key-sled");
    assert_eq!(list(&told["bundles"][0]["slots_to_add_mm"])[..], [42.0]);
    for step in list(&told["bundles"][0]["steps"]) {
        assert_eq!(step["register"], "stop");
    }
}

/// The stop's face is where the strip's end is, and the kerf lies half to either side of the
/// notch's centre: centre - kerf / 2. Computed from that.
#[test]
fn the_stop_stands_half_a_kerf_short_of_the_centre() {
    for kerf in [2.4, 2.6, 3.175] {
        let text = format!("\"{kerf} mm\"");
        let thick = Grid {
            thickness: kerf,
            ..TWO_BY_TWO
        };
        let told = with_profile("stop-sled", &[("kerf", &text)], |sled| thick.sled(sled));
        for bundle in list(&told["bundles"]) {
            let by_stop = list(&bundle["by_stop"]);
            for ((setting, step), centre) in by_stop
                .iter()
                .zip(list(&bundle["steps"]))
                .zip([18.0, 64.0, 110.0])
            {
                near(&setting["stop_to_kerf_mm"], centre - kerf / 2.0, 1e-9);
                assert_eq!(setting["stop_to_kerf_mm"], step["stop_to_kerf_mm"]);
            }
            // One setting for the farthest notch; a spacer moves the strip back by its length.
            let spacers = &bundle["by_spacers"];
            near(&spacers["stop_to_kerf_mm"], 110.0 - kerf / 2.0, 1e-9);
            for (spacer, wanted) in list(&spacers["spacers_mm"]).iter().zip([92.0, 46.0, 0.0]) {
                near(spacer, wanted, 1e-9);
            }
        }
    }
}

/// n hops over one slot with bias b and repeatability s, read as limits of a uniform spread: n b + 1.959964 s
/// sqrt(n / 3), and of a single hop no more than b + s. A bias adds up with its sign, independent scatter in
/// squares; s / sqrt 3 is the standard uncertainty of JCGM 100:2008, 4.3.7, 1.960 the factor for 95 % of its
/// table G.2.
#[test]
fn errors_of_key_hops_add_up() {
    let slot = [("slots", "[\"46 mm\"]"), ("measured", "[\"46.02 mm\"]")];
    // A stop that reaches the first notch only.
    let short = [slot[0], slot[1], ("farthest", "\"60 mm\"")];
    let long = Grid {
        bays: 9,
        ..TWO_BY_TWO
    };
    let told = with_profile("key-sled", &short, |sled| long.sled(sled));
    assert_eq!(told["warnings"][0]["code"], "key-error-adds-up");
    let steps = list(&told["bundles"][0]["steps"]);
    assert_eq!(steps.len(), 10);
    for (n, step) in steps.iter().enumerate().skip(1) {
        let n = n as f64;
        let scatter = (1.959_964 * 0.03 * (n / 3.0).sqrt()).min(0.03 * n);
        near(&step["uncertainty_mm"], 0.02 * n + scatter, 1e-8);
    }
    // One that reaches all takes over where it does better: 1.959964 x 0.1 sqrt(2 / 3) is 0.1600, four hops
    // come to 0.08 + 0.0679 = 0.1479, five to 0.1759. The hop after that would be 0.02 + 0.1636.
    let told = with_profile("key-sled", &slot, |sled| long.sled(sled));
    let steps = list(&told["bundles"][0]["steps"]);
    let by_key = |step: &&Value| step["register"] == "key";
    assert_eq!(steps.iter().filter(by_key).count(), 4);
    let farther = |step: &&Value| step["notch"].as_u64() > Some(5);
    assert!(
        steps
            .iter()
            .filter(farther)
            .all(|step| step["register"] == "stop")
    );
    // Stops come first, however far along the strip.
    assert!(steps[6..].iter().all(|step| step["register"] == "key"));
    let warning = told["warnings"][0]["text"].as_str().unwrap_or_default();
    assert!(
        warning.contains("0.19 mm against the first; the stop places such notches, within 0.17 mm"),
        "{warning}"
    );
    // A stop set for every notch does not add.
    for step in list(&long.sled("stop-sled")["bundles"][0]["steps"]) {
        let first = step["notch"] == 1;
        let wanted = if first { 0.0 } else { 0.160_030 };
        near(&step["uncertainty_mm"], wanted, 1e-6);
    }
}

/// Passes for a notch wider than the kerf by more than the stop can be set, 0.1: the first gives k,
/// each other at most k - overlap, so ceil((w - k) / (k - overlap)) + 1. Counts worked out by hand.
#[test]
fn passes_for_notches_wider_than_the_kerf() {
    for (width, kerf, overlap, passes) in [
        (2.0, 2.8, 0.3, 1),
        (2.8, 2.8, 0.3, 1),
        (2.9, 2.8, 0.3, 1),
        (2.91, 2.8, 0.3, 2),
        (5.3, 2.8, 0.3, 2),
        (5.31, 2.8, 0.3, 3),
        (6.0, 2.4, 0.2, 3),
        (3.0, 0.6, 0.2, 7),
    ] {
        let (kerf_text, overlap_text) = (format!("\"{kerf} mm\""), format!("\"{overlap} mm\""));
        let changes = [("kerf", &*kerf_text), ("overlap", &*overlap_text)];
        let grid = Grid {
            thickness: width,
            ..TWO_BY_TWO
        };
        let told = with_profile("stop-sled", &changes, |sled| grid.sled(sled));
        assert_eq!(told["blade"]["passes_per_notch"], passes, "{width} {kerf}");
        for (setting, centre) in list(&told["bundles"][0]["by_stop"])
            .iter()
            .zip([18.0, 64.0])
        {
            let settings = list(&setting["passes_mm"]);
            let (Some(first), Some(last)) = (settings.first(), settings.last()) else {
                assert_eq!(passes, 1);
                continue;
            };
            // The first pass's near side and the last one's far side are the notch's edges.
            assert_eq!(settings.len(), passes);
            near(first, centre - width / 2.0, 1e-9);
            near(last, centre + width / 2.0 - kerf, 1e-9);
            for pair in settings.windows(2) {
                let shift = number(&pair[1]) - number(&pair[0]);
                assert!(shift <= kerf - overlap + 1e-8, "{shift}");
            }
        }
    }
}

/// A kerf wider than the strip: loose by c = k - t, and the bare grid can rack until the mate binds
/// at two corners of the slot, where (1 + sin a) / cos a = k / t. 3.2 / 2.6: 11.8123 degrees,
/// computed apart from this code.
#[test]
fn a_wide_kerf_leaves_the_lap_loose() {
    let told = TWO_BY_TWO.sled("stop-sled");
    near(&told["fit"]["clearance_mm"], 0.6, 1e-9);
    near(&told["fit"]["racking_deg"], 11.8123, 5e-5);
}

/// Half the chord of a blade of radius 127 mm at a depth below its crown, R sin(acos(1 - h / R)),
/// computed apart from this code; a sled's travel is the block and half a chord on either side.
#[test]
fn half_chords_and_travel() {
    for (depth, half_chord) in [
        (3.0, 27.4408),
        (4.0, 31.6228),
        (5.0, 35.2846),
        (6.0, 38.5746),
        (7.5, 42.9971),
        (8.0, 44.3621),
        (10.0, 49.3964),
        (12.0, 53.8888),
        (15.0, 59.8749),
    ] {
        let grid = Grid {
            depth: 2.0 * depth,
            ..TWO_BY_TWO
        };
        let told = grid.sled("key-sled");
        let blade = &told["blade"];
        near(&blade["half_chord_mm"], half_chord, 5e-5);
        assert_eq!(number(&blade["height_above_base_mm"]), depth);
        let loads = &told["bundles"][0]["loads"];
        near(&loads["block_width_mm"], 3.0 * 2.6, 1e-9);
        near(&blade["travel_mm"], 3.0 * 2.6 + 2.0 * half_chord, 2e-4);
        near(&loads["single_travel_mm"], 2.6 + 2.0 * half_chord, 2e-4);
    }
}

/// Teeth ground left and right in turn at a bevel leave the floor higher in the middle by
/// k / 2 tan(bevel). Computed apart from this code.
#[test]
fn bevelled_teeth_leave_a_ridge() {
    for (kerf, bevel, ridge) in [
        ("2.4", "15", 0.3215),
        ("3.175", "15", 0.4254),
        ("3.175", "20", 0.5778),
    ] {
        let (kerf, bevel) = (format!("\"{kerf} mm\""), format!("\"{bevel} deg\""));
        let changes = [("kerf", &*kerf), ("bevel", &*bevel)];
        let told = with_profile("stop-sled", &changes, |sled| TWO_BY_TWO.sled(sled));
        near(&told["blade"]["floor_ridge_mm"], ridge, 5e-5);
    }
}

/// Feed = speed x cutting edges x feed per edge (elementary kinematics of milling), held to what
/// the machine can: 18000/min with two edges at 0.05 mm is 1800 mm/min. Worked out by hand.
#[test]
fn feed_from_the_chip_load() {
    let folder = TempDir::new().unwrap();
    fs::write(
        folder.path().join("panel.toml"),
        panel("50 mm", "20 mm", "3 mm", "12 mm"),
    )
    .unwrap();
    for (speed, chip_load, feed) in [
        ("18000", "0.025", 900.0),
        ("18000", "0.05", 1800.0),
        ("12000", "0.05", 1200.0),
        ("18000", "0.1", 3600.0),
        // The mid-size router goes no faster than 5000 mm/min.
        ("24000", "0.2", 5000.0),
    ] {
        let (speed, chip_load) = (format!("\"{speed} rpm\""), format!("\"{chip_load} mm\""));
        let changes = [("speed", &*speed), ("chip_load", &*chip_load)];
        let told = with_profile("mid-router", &changes, |router| {
            let arguments = ["notch", "panel.toml", "--machine", router, "-o", "panel.nc"];
            answer(folder.path(), &arguments)
        });
        for setup in list(&told["setups"]) {
            assert_eq!(number(&setup["feed_mm_per_min"]), feed);
        }
        let limited = list(&told["warnings"]).iter();
        let limited = limited
            .filter(|warning| warning["code"] == "feed-limited")
            .count();
        assert_eq!(limited, usize::from(chip_load.contains("0.2")));
    }
}

fn panel(pitch: &str, overhang: &str, thickness: &str, depth: &str) -> String {
    format!(
        "title = \"Twin\"\n[grid]\nkind = \"square\"\npitch = '{pitch}'\ncolumns = 3\nrows = 4\n\
         overhang = '{overhang}'\n[strip]\nthickness = '{thickness}'\ndepth = '{depth}'\n\
         [machines]\nsled = \"stop-sled\"\nlaser = \"tube-laser\"\nrouter = \"mid-router\"\n"
    )
}

/// 1 in = 25.4 mm exactly (NIST SP 811, appendix B): a job in inches and its metric twin give the
/// same figures and the same files, byte for byte.
#[test]
fn an_inch_is_25_4_mm_in_every_figure() {
    let spellings = [
        panel("1 3/8 in", "3/4 in", "0.125 in", "1/2 in"),
        panel("1-3/8\"", "0.75\"", "1/8\"", "0.5 in"),
        panel("34.925 mm", "19.05 mm", "3.175 mm", "12.7 mm"),
        panel("3.4925 cm", "1.905 cm", "0.3175 cm", "0.0127 m"),
    ];
    let made = spellings.map(|job| {
        let folder = TempDir::new().unwrap();
        fs::write(folder.path().join("panel.toml"), job).unwrap();
        let command = |arguments: &[&str]| answer(folder.path(), arguments);
        let answers = [
            command(&["sled", "panel.toml"]),
            command(&[
                "outline",
                "panel.toml",
                "--what",
                "strips",
                "-o",
                "panel.dxf",
            ]),
            command(&["notch", "panel.toml", "-o", "panel.nc"]),
        ];
        let files = ["panel.dxf", "panel-1.nc", "panel-2.nc"];
        (
            answers,
            files.map(|file| fs::read(folder.path().join(file)).unwrap()),
        )
    });
    for twin in &made[1..] {
        assert!(*twin == made[0]);
    }
    let notches = &made[0].0[0]["bundles"][1]["notches"];
    for (at, notch) in list(notches).iter().enumerate() {
        near(&notch["centre_mm"], 25.4 * (0.75 + 1.375 * at as f64), 1e-9);
        // As drawn: the stop sled's kerf of 3.2 cuts them wider.
        near(&notch["drawn_width_mm"], 3.175, 1e-9);
        near(&notch["depth_mm"], 6.35, 1e-9);
    }
}
