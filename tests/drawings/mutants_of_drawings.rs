//! Mutants of drawings as they are written, against a proof that knows the strips and no places on
//! the sheet: whatever is not just these strips must be found.
#![allow(clippy::print_stdout)]

use lapwright::machines::{Laser, Machine};
use lapwright::planning::{WareBatch, plan_sheets};
use lapwright::reading::{read_job, read_machine, shipped_machine};
use lapwright::verification::outline::{WantedPart, prove_drawings, strips_wanted};
use lapwright::writing::dxf::{DxfVersion, dxf};
use std::collections::BTreeMap;

/// Strips that look different from either end, so that none is its own mirror image.
const JOB: &str = r#"
title = "Corner of a lamp"
[grid]
kind = "square"
pitches_x = ["30 mm", "35 mm"]
pitches_y = ["30 mm", "40 mm"]
overhang = "15 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
"#;

/// One group of a file: code and value, as written.
type Tag = (String, String);

/// Where an entity's tags begin and end.
type Entity = (usize, usize);

struct Bench {
    laser: Laser,
    wanted: Vec<WantedPart>,
    tags: Vec<Tag>,
}

impl Bench {
    fn new(version: DxfVersion) -> Self {
        let lattice = read_job("job.toml", JOB).unwrap().panel.lattice().clone();
        let text = shipped_machine("tube-laser").unwrap().text;
        let Machine::Laser(laser) = read_machine("laser.toml", text).unwrap().machine else {
            panic!("no laser")
        };
        let strips = WareBatch::strips(&lattice, &laser).unwrap();
        let plan = plan_sheets("", "laser", vec![strips], &laser, &|at, _| {
            format!("{at}.dxf")
        });
        let (plan, _) = plan.unwrap();
        assert_eq!(plan.files.len(), 1);
        let bytes = dxf(&plan.files[0].drawing, version, laser.colours).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let tag = |pair: &[&str]| (pair[0].to_owned(), pair[1].to_owned());
        Bench {
            wanted: strips_wanted(&lattice, None),
            laser,
            tags: lines.chunks(2).map(tag).collect(),
        }
    }

    fn proves(&self, tags: &[Tag]) -> bool {
        self.codes(tags, self.laser.kerf).is_empty()
    }

    fn codes(&self, tags: &[Tag], kerf: f64) -> Vec<&'static str> {
        let text: String = tags
            .iter()
            .map(|(code, value)| format!("{code}\n{value}\n"))
            .collect();
        let sheet = self.laser.sheet;
        let report = prove_drawings(&[text.as_bytes()], &self.wanted, kerf, sheet);
        let of_files = report.files.iter().flat_map(|file| &file.faults);
        let codes = of_files.chain(&report.faults).map(|fault| fault.code);
        codes.collect()
    }

    /// The outlines, in the file's order.
    fn outlines(&self) -> Vec<Entity> {
        let begins = |(code, value): &Tag| {
            code.trim() == "0" && (value == "LWPOLYLINE" || value == "POLYLINE")
        };
        let starts: Vec<usize> = (0..self.tags.len())
            .filter(|at| begins(&self.tags[*at]))
            .collect();
        let end = (starts[0]..)
            .find(|at| self.tags[*at].1 == "ENDSEC")
            .unwrap();
        let ends = starts.iter().skip(1).copied().chain([end]);
        let all = starts.iter().copied().zip(ends);
        all.filter(|(start, end)| {
            let mut tags = self.tags[*start..*end].iter();
            tags.any(|(code, value)| (code.trim(), value.as_str()) == ("8", "OUTLINES"))
        })
        .collect()
    }

    /// The places of an outline's coordinates: x and y of each vertex.
    fn vertices(&self, (start, end): Entity) -> Vec<(usize, usize)> {
        let is = |at: usize, code: &str| self.tags[at].0.trim() == code;
        let places = (start..end - 1).filter(|at| is(*at, "10") && is(at + 1, "20"));
        let dummy = |at: &usize| self.tags[*at].1 == "0.0" && self.tags[at + 1].1 == "0.0";
        places
            .filter(|at| !dummy(at))
            .map(|at| (at, at + 1))
            .collect()
    }

    fn place(&self, (x, y): (usize, usize)) -> [f64; 2] {
        [x, y].map(|at| self.tags[at].1.parse().unwrap())
    }

    /// The tags with an outline's vertices put elsewhere.
    fn moved(&self, entity: Entity, to: impl Fn([f64; 2]) -> [f64; 2]) -> Vec<Tag> {
        let mut tags = self.tags.clone();
        for vertex in self.vertices(entity) {
            let [x, y] = to(self.place(vertex));
            tags[vertex.0].1 = format!("{x:.6}");
            tags[vertex.1].1 = format!("{y:.6}");
        }
        with_extents(tags)
    }

    /// Lowest and highest corner of an outline's box.
    fn corners(&self, entity: Entity) -> [[f64; 2]; 2] {
        let places = self.vertices(entity).into_iter().map(|v| self.place(v));
        let start = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        places.fold(start, |[low, high], [x, y]| {
            [
                [low[0].min(x), low[1].min(y)],
                [high[0].max(x), high[1].max(y)],
            ]
        })
    }
}

/// Puts the extents of what is drawn into the header, as a careful editor would.
fn with_extents(mut tags: Vec<Tag>) -> Vec<Tag> {
    let body = tags.iter().position(|tag| tag.1 == "ENTITIES").unwrap();
    let mut ends = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    for at in body..tags.len() - 1 {
        let pair = [&tags[at], &tags[at + 1]];
        let numbers = pair.map(|tag| tag.1.parse::<f64>());
        if let ("10", "20", [Ok(x), Ok(y)]) = (pair[0].0.trim(), pair[1].0.trim(), numbers)
            && (x, y) != (0.0, 0.0)
        {
            for (axis, value) in [x, y].into_iter().enumerate() {
                ends[0][axis] = ends[0][axis].min(value);
                ends[1][axis] = ends[1][axis].max(value);
            }
        }
    }
    for (name, [x, y]) in [("$EXTMIN", ends[0]), ("$EXTMAX", ends[1])] {
        let at = tags.iter().position(|tag| tag.1 == name).unwrap();
        tags[at + 1].1 = format!("{x:.6}");
        tags[at + 2].1 = format!("{y:.6}");
    }
    tags
}

/// The digits of a number down to its fourth decimal, each changed to some others.
fn changed_digits(number: &str) -> Vec<String> {
    let point = number.find('.').unwrap_or(number.len());
    let places = (0..number.len()).take(point + 5);
    let digits = places.filter(|at| number.as_bytes()[*at].is_ascii_digit());
    let change = |at: usize, step: u8| {
        let mut new = number.as_bytes().to_vec();
        new[at] = b'0' + (new[at] - b'0' + step) % 10;
        String::from_utf8(new).unwrap()
    };
    digits
        .flat_map(|at| [1, 4, 9].map(|step| change(at, step)))
        .collect()
}

type Mutant = (&'static str, Vec<Tag>);

/// One vertex or one tag changed.
fn of_vertices(bench: &Bench, entity: Entity) -> Vec<Mutant> {
    let mut all = Vec::new();
    for (x, y) in bench.vertices(entity) {
        for at in [x, y] {
            for number in changed_digits(&bench.tags[at].1) {
                let mut tags = bench.tags.clone();
                tags[at].1 = number;
                all.push(("digit", with_extents(tags)));
            }
        }
        if bench.tags[x].1 == bench.tags[y].1 {
            continue;
        }
        let mut tags = bench.tags.clone();
        let (one, other) = (tags[x].1.clone(), tags[y].1.clone());
        (tags[x].1, tags[y].1) = (other, one);
        all.push(("x and y exchanged", with_extents(tags)));
    }
    all
}

/// A whole outline changed.
fn of_outlines(bench: &Bench, entity: Entity) -> Vec<Mutant> {
    let (start, end) = entity;
    let [low, high] = bench.corners(entity);
    let middle = [0, 1].map(|axis: usize| (low[axis] + high[axis]) / 2.0);
    let with = |change: &dyn Fn(&mut Vec<Tag>)| {
        let mut tags = bench.tags.clone();
        change(&mut tags);
        with_extents(tags)
    };
    let value = |code: &'static str, new: &'static str| {
        with(&|tags| {
            let group = |tag: &&mut Tag| tag.0.trim() == code;
            tags[start..end].iter_mut().find(group).unwrap().1 = new.to_owned();
        })
    };
    let floor = |by: f64| {
        // Every vertex between the strip's faces is a notch's floor.
        let inside = move |y: f64| y > low[1] + 1.0 && y < high[1] - 1.0;
        bench.moved(entity, move |[x, y]| {
            [x, if inside(y) { y + by } else { y }]
        })
    };
    let copied = |by: f64| {
        let moved = bench.moved(entity, |[x, y]| [x, y + by]);
        let copy = moved[start..end].to_vec();
        let mut tags = bench.tags.clone();
        tags.splice(end..end, copy);
        for (at, tag) in tags[end..2 * end - start].iter_mut().enumerate() {
            // A free handle for each.
            if tag.0.trim() == "5" {
                tag.1 = format!("{:X}", 0xF00 + at);
            }
        }
        if let Some(seed) = tags.iter().position(|tag| tag.1 == "$HANDSEED") {
            tags[seed + 1].1 = "FFFF".to_owned();
        }
        with_extents(tags)
    };
    vec![
        ("left out", with(&|tags| drop(tags.drain(start..end)))),
        ("twice at one place", copied(0.0)),
        ("twice", copied(60.0)),
        ("another layer", value("8", "OPENINGS")),
        ("another layer", value("8", "LETTERS")),
        ("open", value("70", "0")),
        ("notches deeper", floor(0.01)),
        ("notches shallower", floor(-0.01)),
        (
            "mirrored",
            bench.moved(entity, |[x, y]| [2.0 * middle[0] - x, y]),
        ),
        (
            "upside down",
            bench.moved(entity, |[x, y]| [x, 2.0 * middle[1] - y]),
        ),
        (
            "half a turn",
            bench.moved(entity, |[x, y]| [2.0 * middle[0] - x, 2.0 * middle[1] - y]),
        ),
        (
            "a quarter turn",
            bench.moved(entity, |[x, y]| {
                [middle[0] - (y - middle[1]), middle[1] + x - middle[0]]
            }),
        ),
        (
            "longer",
            bench.moved(entity, |[x, y]| [low[0] + (x - low[0]) * 1.0002, y]),
        ),
        (
            "off the sheet",
            bench.moved(entity, |[x, y]| [x - low[0], y]),
        ),
        ("on another", bench.moved(entity, |[x, y]| [x, y + 6.0])),
        (
            "thinner by the kerf",
            bench.moved(entity, |[x, y]| [x, y.min(high[1] - 0.2)]),
        ),
    ]
}

#[test]
fn all_harmful_mutants_are_found() {
    let mut counts: BTreeMap<&str, [usize; 2]> = BTreeMap::new();
    let mut slipped = Vec::new();
    for version in [DxfVersion::R2000, DxfVersion::R12] {
        let bench = Bench::new(version);
        assert!(bench.proves(&bench.tags));
        assert!(bench.proves(&with_extents(bench.tags.clone())));
        let outlines = bench.outlines();
        assert_eq!(outlines.len(), 6);
        for (number, entity) in outlines.iter().enumerate() {
            let mut mutants = of_outlines(&bench, *entity);
            // Strips of one bundle differ only in their places.
            if number % 3 == 0 {
                mutants.extend(of_vertices(&bench, *entity));
            }
            for (kind, tags) in mutants {
                let found = !bench.proves(&tags);
                let count = counts.entry(kind).or_default();
                count[0] += 1;
                count[1] += usize::from(found);
                if !found {
                    slipped.push(format!("{version:?}, outline {number}: {kind}"));
                }
            }
        }
        for kerf in [0.0, bench.laser.kerf + 0.001, bench.laser.kerf - 0.001] {
            assert!(!bench.codes(&bench.tags, kerf).is_empty(), "kerf {kerf}");
        }
    }
    println!("mutants, found: {counts:?}");
    assert!(slipped.is_empty(), "{}", slipped.join("\n"));
}

/// Units, and everything in other units.
#[test]
fn other_units_are_found() {
    for version in [DxfVersion::R2000, DxfVersion::R12] {
        let bench = Bench::new(version);
        for (name, value) in [
            ("$INSUNITS", "1"),
            ("$INSUNITS", "0"),
            ("$MEASUREMENT", "0"),
        ] {
            let mut tags = bench.tags.clone();
            let at = tags.iter().position(|tag| tag.1 == name).unwrap();
            tags[at + 1].1 = value.to_owned();
            assert!(bench.codes(&tags, bench.laser.kerf).contains(&"units"));
        }
        let mut inches = bench.tags.clone();
        for (x, y) in bench.outlines().iter().flat_map(|e| bench.vertices(*e)) {
            for at in [x, y] {
                let mm: f64 = inches[at].1.parse().unwrap();
                inches[at].1 = format!("{:.6}", mm / 25.4);
            }
        }
        assert!(!bench.proves(&with_extents(inches)));
    }
}

/// The proof knows no places: an outline may lie anywhere on the sheet where it has room, if its
/// label comes along.
#[test]
fn an_outline_with_room_may_lie_anywhere() {
    for version in [DxfVersion::R2000, DxfVersion::R12] {
        let mut bench = Bench::new(version);
        // Without labels.
        let first = bench.outlines()[0].0;
        let begins = |tag: &Tag| matches!(tag.1.as_str(), "LWPOLYLINE" | "POLYLINE");
        let labels = bench.tags.iter().position(begins).unwrap();
        bench.tags.drain(labels..first);
        bench.tags = with_extents(bench.tags.clone());
        assert!(bench.proves(&bench.tags));
        let entity = *bench.outlines().last().unwrap();
        let elsewhere = bench.moved(entity, |[x, y]| [x + 20.0, y + 50.0]);
        let codes = bench.codes(&elsewhere, bench.laser.kerf);
        assert!(codes.is_empty(), "{codes:?}");
    }
}
