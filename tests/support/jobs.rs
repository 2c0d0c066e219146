//! Jobs made up for tests: their text as a person may write it, and the strips that follow from
//! their numbers. Nothing here asks the library for a length or a position.

use std::path::{Path, PathBuf};
use std::process::Command;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde_json::Value;

/// A length as a file spells it, and what that is in millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct Length {
    pub text: String,
    pub mm: f64,
}

impl Length {
    /// A length spelled by the shortest decimal that gives this float.
    pub fn of(mm: f64) -> Length {
        Length {
            text: format!("{mm} mm"),
            mm,
        }
    }

    /// The same length turned negative.
    pub fn negative(self) -> Length {
        Length {
            text: format!("-{}", self.text),
            mm: -self.mm,
        }
    }

    pub fn quoted(&self) -> String {
        quoted(&self.text)
    }
}

/// A TOML string.
pub fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// One way to spell a length: how many of its counts make a unit of so many tenths of a
/// millimetre, and the text of a count.
struct Spelling {
    counts_per_unit: i64,
    tenths_per_unit: i64,
    text: fn(i64) -> String,
}

const SPELLINGS: [Spelling; 5] = [
    Spelling {
        counts_per_unit: 1000,
        tenths_per_unit: 10,
        text: |count| format!("{} mm", decimal(count, 3)),
    },
    Spelling {
        counts_per_unit: 10,
        tenths_per_unit: 10,
        text: |count| format!("{}mm", decimal(count, 1)),
    },
    Spelling {
        counts_per_unit: 1000,
        tenths_per_unit: 100,
        text: |count| format!("{} cm", decimal(count, 3)),
    },
    // 1 in = 25.4 mm exactly: NIST SP 811, appendix B.
    Spelling {
        counts_per_unit: 64,
        tenths_per_unit: 254,
        text: sixty_fourths,
    },
    Spelling {
        counts_per_unit: 1000,
        tenths_per_unit: 254,
        text: |count| format!("{} in", decimal(count, 3)),
    },
];

fn decimal(count: i64, places: u32) -> String {
    let scale = 10_i64.pow(places);
    let places = places as usize;
    format!("{}.{:0places$}", count / scale, count % scale)
}

fn sixty_fourths(count: i64) -> String {
    let (whole, mut top, mut bottom) = (count / 64, count % 64, 64);
    while top != 0 && top % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    match (whole, top) {
        (_, 0) => format!("{whole} in"),
        (0, _) => format!("{top}/{bottom} in"),
        _ => format!("{whole}-{top}/{bottom}\""),
    }
}

/// A length of `least` to `most` mm in any spelling that has one there.
#[allow(clippy::cast_possible_truncation)] // small counts
pub fn length(least: f64, most: f64) -> impl Strategy<Value = Length> + Clone {
    (0..SPELLINGS.len(), 0.0..1.0_f64).prop_map(move |(index, share)| {
        let of = |spelling: &Spelling| {
            let step = spelling.tenths_per_unit as f64 / 10.0 / spelling.counts_per_unit as f64;
            let low = (least / step - 1e-9).ceil();
            let high = (most / step + 1e-9).floor();
            let count = (low + share * (high - low)).round() as i64;
            let tenths = (count * spelling.tenths_per_unit) as f64;
            (low <= high).then(|| Length {
                text: (spelling.text)(count),
                mm: tenths / (10 * spelling.counts_per_unit) as f64,
            })
        };
        of(&SPELLINGS[index])
            .or_else(|| of(&SPELLINGS[0]))
            .unwrap_or_else(|| panic!("no length from {least} to {most}"))
    })
}

/// A panel with uprights and cross strips.
#[derive(Debug, Clone)]
pub struct Job {
    pub title: String,
    /// From upright to upright, left to right.
    pub pitches_x: Vec<Length>,
    /// From cross strip to cross strip, bottom to top.
    pub pitches_y: Vec<Length>,
    pub overhang: Length,
    pub thickness: Length,
    pub depth: Length,
    pub clearance: Option<Length>,
    pub least_web: Option<Length>,
}

/// Strips of one direction, all alike. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct StripKind {
    pub name: &'static str,
    /// The face that all notches enter.
    pub face: &'static str,
    pub count: usize,
    pub length: f64,
    /// Front to back, of the strip.
    pub depth: f64,
    /// Notches, from the datum end.
    pub centres: Vec<f64>,
    pub notch_width: f64,
    pub notch_depth: f64,
}

impl StripKind {
    /// Side of a strip, the back face on the x axis: x along it from the datum end, y toward the
    /// front face.
    pub fn outline(&self) -> Vec<[f64; 2]> {
        let mut notched = vec![[0.0, 0.0]];
        for centre in &self.centres {
            let [near, far] = [-0.5, 0.5].map(|side| centre + side * self.notch_width);
            let floor = self.notch_depth;
            notched.extend([[near, 0.0], [near, floor], [far, floor], [far, 0.0]]);
        }
        let (length, depth) = (self.length, self.depth);
        notched.extend([[length, 0.0], [length, depth], [0.0, depth]]);
        if self.face == "front" {
            for point in &mut notched {
                point[1] = depth - point[1];
            }
        }
        notched
    }
}

impl Job {
    /// Uprights, then cross strips. Uprights lie in front: a half lap takes their back half and
    /// the cross strips' front half.
    pub fn kinds(&self) -> [StripKind; 2] {
        let sum = |pitches: &[Length]| pitches.iter().map(|pitch| pitch.mm).sum::<f64>();
        let kind = |name, face, own: &[Length], along: &[Length]| StripKind {
            name,
            face,
            count: own.len() + 1,
            length: 2.0 * self.overhang.mm + sum(along),
            depth: self.depth.mm,
            centres: (0..=along.len())
                .map(|n| self.overhang.mm + sum(&along[..n]))
                .collect(),
            notch_width: self.notch_width(),
            notch_depth: self.depth.mm / 2.0,
        };
        let (xs, ys) = (&self.pitches_x, &self.pitches_y);
        [
            kind("upright", "back", xs, ys),
            kind("cross strip", "front", ys, xs),
        ]
    }

    pub fn notch_width(&self) -> f64 {
        self.thickness.mm
            + self
                .clearance
                .as_ref()
                .map_or(0.0, |clearance| clearance.mm)
    }

    /// The job's file. Equal pitches are said once.
    pub fn toml(&self) -> String {
        let all = || self.pitches_x.iter().chain(&self.pitches_y);
        let list = |pitches: &[Length]| {
            let texts: Vec<_> = pitches.iter().map(Length::quoted).collect();
            format!("[{}]", texts.join(", "))
        };
        let grid = if all().all(|pitch| *pitch == self.pitches_x[0]) {
            format!(
                "pitch = {}\ncolumns = {}\nrows = {}\n",
                self.pitches_x[0].quoted(),
                self.pitches_x.len(),
                self.pitches_y.len()
            )
        } else {
            format!(
                "pitches_x = {}\npitches_y = {}\n",
                list(&self.pitches_x),
                list(&self.pitches_y)
            )
        };
        let mut text = format!(
            "title = {}\n[grid]\nkind = \"square\"\n{grid}overhang = {}\n\
             [strip]\nthickness = {}\ndepth = {}\n",
            quoted(&self.title),
            self.overhang.quoted(),
            self.thickness.quoted(),
            self.depth.quoted()
        );
        for (key, value) in [
            ("clearance", &self.clearance),
            ("least_web", &self.least_web),
        ] {
            if let Some(value) = value {
                text.push_str(&format!("{key} = {}\n", value.quoted()));
            }
        }
        text
    }
}

/// Titles are data: some look like codes.
const TITLES: [&str; 6] = [
    "Hall lantern, side panel",
    "a) G0 Z-9 (b",
    "MSG, G91 M30 ; % G92 X0",
    "Tür \u{2212}5 \u{b0} \"best\" {x} [y] !?~$ #1=2 -0.000",
    "a word and again a word and again a word and again a word and again a word and again a word",
    "onelongwordonelongwordonelongwordonelongwordonelongwordonelongwordonelongwordonelongword",
];

/// Jobs that can be built.
pub fn jobs() -> impl Strategy<Value = Job> {
    let clearance = prop_oneof![
        Just(None),
        length(0.01, 0.12).prop_map(Some),
        length(0.01, 0.06).prop_map(|length| Some(length.negative())),
    ];
    (length(1.5, 6.5), clearance).prop_flat_map(|(thickness, clearance)| {
        let width = thickness.mm + clearance.as_ref().map_or(0.0, |clearance| clearance.mm);
        // The usual least web is 2 mm.
        let pitch = length(width.max(thickness.mm) + 2.1, width + 70.0);
        let uneven = || prop::collection::vec(pitch.clone(), 1..=7);
        let pitches = prop_oneof![
            (uneven(), uneven()),
            (pitch.clone(), 1..=7_usize, 1..=7_usize).prop_map(|(pitch, columns, rows)| (
                vec![pitch.clone(); columns],
                vec![pitch; rows]
            )),
        ];
        let web = prop_oneof![Just(None), length(0.8, 2.0).prop_map(Some)];
        (
            prop::sample::select(&TITLES[..]),
            pitches,
            length(width / 2.0 + 2.1, 40.0),
            length(4.0, 30.0),
            web,
        )
            .prop_map(
                move |(title, (pitches_x, pitches_y), overhang, depth, least_web)| Job {
                    title: title.to_owned(),
                    pitches_x,
                    pitches_y,
                    overhang,
                    thickness: thickness.clone(),
                    depth,
                    clearance: clearance.clone(),
                    least_web,
                },
            )
    })
}

/// The same `count` values at every run.
pub fn samples<S: Strategy>(strategy: &S, count: usize) -> Vec<S::Value> {
    let mut runner = TestRunner::deterministic();
    let value = |_| {
        let tree = strategy.new_tree(&mut runner);
        tree.unwrap_or_else(|reason| panic!("{reason}")).current()
    };
    (0..count).map(value).collect()
}

/// The jobs of the demo folder with their numbers, copied by hand.
pub fn demo_jobs() -> [(PathBuf, Job); 2] {
    let path = |name| {
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("demo")
            .join(name)
    };
    let lengths = |list: &[f64]| list.iter().copied().map(Length::of).collect::<Vec<_>>();
    let lamp = Job {
        title: "Reading lamp, side panel".to_owned(),
        pitches_x: lengths(&[31.0, 54.0, 54.0, 31.0]),
        pitches_y: lengths(&[31.0, 43.0, 43.0, 43.0, 43.0, 31.0]),
        overhang: Length::of(15.0),
        thickness: Length::of(3.0),
        depth: Length::of(12.0),
        clearance: Some(Length::of(0.05)),
        least_web: None,
    };
    let door = Job {
        title: "Pantry door, lower lattice".to_owned(),
        pitches_x: lengths(&[50.8; 4]),
        pitches_y: lengths(&[50.8; 8]),
        overhang: Length::of(19.05),
        thickness: Length::of(3.175),
        depth: Length::of(12.7),
        clearance: Some(Length::of(0.0508)),
        least_web: None,
    };
    [
        (path("reading-lamp.toml"), lamp),
        (path("pantry-door.toml"), door),
    ]
}

/// Runs lapwright in a folder for its JSON answer. Panics where it fails.
pub fn answer(folder: &Path, arguments: &[&str]) -> Value {
    let output = Command::new(env!("CARGO_BIN_EXE_lapwright"))
        .args(arguments)
        .args(["--format", "json"])
        .current_dir(folder)
        .output()
        .unwrap_or_else(|error| panic!("lapwright: {error}"));
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.success(),
        "{arguments:?} in {}: {errors}",
        folder.display()
    );
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{arguments:?}: {error}"))
}

/// A number of a JSON answer.
pub fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}
