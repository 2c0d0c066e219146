//! Story sticks, combs, base inserts and guide blocks prove clean against the job, and against
//! nothing that differs from it in one mark, hole, corner or digit.

use lapwright::infill::fill;
use lapwright::instructions::laser::LaserPlan;
use lapwright::machines::{Guides, Laser, Machine, Sled};
use lapwright::planning::{RackOrder, WareBatch, plan_pieces, plan_sheets};
use lapwright::reading::{read_job, read_machine, read_pattern, shipped_machine, shipped_pattern};
use lapwright::units::UnitSystem;
use lapwright::verification::outline::{
    GuideOrder, Labels, WantedPart, comb_wanted, gauge_wanted, prove_drawings, rack_wanted,
};
use lapwright::writing::dxf::{DxfVersion, dxf};

/// More than the proof's tolerance of 0.00001 mm.
const OFF: f64 = 2.5e-5;

fn machine(name: &str) -> Machine {
    read_machine(name, shipped_machine(name).unwrap().text)
        .unwrap()
        .machine
}

fn laser_and_sled() -> (Laser, Sled) {
    match (machine("tube-laser"), machine("key-sled")) {
        (Machine::Laser(laser), Machine::Sled(sled)) => (laser, sled),
        _ => panic!("other machines"),
    }
}

const JOB: &str = r#"
title = "Screen"
[grid]
kind = "square"
pitches_x = ["30 mm", "35 mm", "41.5 mm"]
pitches_y = ["30 mm", "35 mm", "41.5 mm"]
overhang = "15 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
[infill]
pattern = "square-hemp-leaf"
"#;

/// Another one, whose strips are as long: only what is engraved tells its sticks apart.
fn turned(job: &str) -> String {
    job.replace(
        r#"pitches_y = ["30 mm", "35 mm", "41.5 mm"]"#,
        r#"pitches_y = ["35 mm", "30 mm", "41.5 mm"]"#,
    )
}

const MM: UnitSystem = UnitSystem::Millimetres;

struct Case {
    plan: LaserPlan,
    wanted: Vec<WantedPart>,
}

fn cases(text: &str, laser: &Laser, sled: &Sled) -> Vec<Case> {
    let job = read_job("job.toml", text).unwrap();
    let lattice = job.panel.lattice();
    let name = |at: usize, _| format!("{at}.dxf");
    let laid = |batch| {
        let planned = plan_sheets("", "laser", vec![batch], laser, &name);
        planned.unwrap().0
    };
    let list = [30.0, 31.0, 77.25];
    let rack = |distances| {
        let order = RackOrder {
            sled,
            distances,
            marked_in: MM,
        };
        Case {
            plan: laid(WareBatch::inserts(lattice, &order, laser).unwrap()),
            wanted: rack_wanted(lattice, sled, laser.fit, distances, MM),
        }
    };
    let pattern = shipped_pattern("square-hemp-leaf").unwrap();
    let pattern = read_pattern("leaf", pattern.text).unwrap();
    let filled = fill(&job.panel, &pattern.pattern, job.edge).unwrap();
    let (pare, _) = plan_pieces(&job.panel, &filled, 4.0, None);
    let guides = Guides::usual();
    let order = GuideOrder {
        filled: &filled,
        allowance: 4.0,
        depth: 12.0,
        sheet: 5.0,
        guides: &guides,
    };
    vec![
        rack(None),
        rack(Some(&list)),
        Case {
            plan: laid(WareBatch::sticks(lattice, laser, MM).unwrap()),
            wanted: gauge_wanted(lattice, laser.fit, MM),
        },
        Case {
            plan: laid(WareBatch::comb(lattice, None, laser).unwrap()),
            wanted: comb_wanted(lattice, None),
        },
        Case {
            plan: laid(WareBatch::blocks(&pare, laser, 5.0)),
            wanted: order.blocks(Labels::All),
        },
        Case {
            plan: laid(WareBatch::guide(&pare, laser, 5.0)),
            wanted: order.rest(Labels::All),
        },
    ]
}

/// The codes of all that is wrong.
fn faults(
    plan: &LaserPlan,
    wanted: &[WantedPart],
    laser: &Laser,
    version: DxfVersion,
) -> Vec<&'static str> {
    let files = plan.files.iter();
    let files: Vec<Vec<u8>> = files
        .map(|file| dxf(&file.drawing, version, laser.colours).unwrap())
        .collect();
    let bytes: Vec<&[u8]> = files.iter().map(Vec::as_slice).collect();
    let report = prove_drawings(&bytes, wanted, laser.kerf, laser.sheet);
    let of_files = report.files.iter().flat_map(|file| &file.faults);
    of_files
        .chain(&report.faults)
        .map(|fault| fault.code)
        .collect()
}

#[test]
fn they_prove_clean_in_both_versions() {
    let (laser, sled) = laser_and_sled();
    for text in [JOB.to_owned(), turned(JOB)] {
        for case in cases(&text, &laser, &sled) {
            for version in [DxfVersion::R2000, DxfVersion::R12] {
                let found = faults(&case.plan, &case.wanted, &laser, version);
                assert!(found.is_empty(), "{}: {found:?}", case.plan.what);
            }
        }
    }
}

/// The same wish with one thing changed: what, and what the proof should call it.
fn changed(wanted: &[WantedPart]) -> Vec<(Vec<WantedPart>, &'static str)> {
    let mut all = Vec::new();
    for (at, part) in wanted.iter().enumerate() {
        let mut add = |code, change: &dyn Fn(&mut WantedPart)| {
            let mut other = wanted.to_vec();
            change(&mut other[at]);
            all.push((other, code));
        };
        for corner in 1..part.ring.len() - 1 {
            add("vertex-off", &|part| part.ring[corner].x -= OFF);
        }
        for hole in 0..part.holes.len() {
            add("vertex-off", &|part| {
                part.holes[hole].iter_mut().for_each(|p| p.x += OFF);
            });
            add("surplus", &|part| drop(part.holes.remove(hole)));
        }
        let engraved = part.engraved.as_ref().unwrap();
        for mark in 0..engraved.marks.len() {
            add("mark-missing", &|part| {
                part.engraved.as_mut().unwrap().marks[mark][0].x += OFF;
            });
        }
        for text in 0..engraved.texts.len() {
            for (place, letter) in engraved.texts[text].words.char_indices() {
                let other = match letter {
                    '9' => "0".to_owned(),
                    '0'..='8' => ((letter as u8 + 1) as char).to_string(),
                    _ => continue,
                };
                add("words", &|part| {
                    let words = &mut part.engraved.as_mut().unwrap().texts[text].words;
                    words.replace_range(place..=place, &other);
                });
            }
        }
        if engraved.check_line {
            add("mark-surplus", &|part| {
                part.engraved.as_mut().unwrap().check_line = false;
            });
        }
        add("count", &|part| part.count += 1);
    }
    all
}

#[test]
fn whatever_is_otherwise_is_found() {
    let (laser, sled) = laser_and_sled();
    let mut tried = 0;
    for case in cases(JOB, &laser, &sled) {
        for (wanted, code) in changed(&case.wanted) {
            let found = faults(&case.plan, &wanted, &laser, DxfVersion::R2000);
            assert!(
                found.contains(&code),
                "{}: {code} not in {found:?}",
                case.plan.what
            );
            tried += 1;
        }
    }
    assert!(tried > 200, "{tried}");
}

/// Labels that changed places tell lies although all of them are there.
#[test]
fn labels_of_each_others_slots_are_found() {
    let (laser, sled) = laser_and_sled();
    for case in cases(JOB, &laser, &sled) {
        for part in 0..case.wanted.len() {
            let texts = &case.wanted[part].engraved.as_ref().unwrap().texts;
            let placed: Vec<usize> = (0..texts.len())
                .filter(|n| texts[*n].about.is_some())
                .collect();
            for pair in placed.windows(2) {
                let mut wanted = case.wanted.clone();
                let texts = &mut wanted[part].engraved.as_mut().unwrap().texts;
                let words = texts[pair[0]].words.clone();
                texts[pair[0]].words = std::mem::replace(&mut texts[pair[1]].words, words);
                let found = faults(&case.plan, &wanted, &laser, DxfVersion::R2000);
                assert!(found.contains(&"words"), "{}: {found:?}", case.plan.what);
            }
        }
    }
}

#[test]
fn sticks_of_another_job_with_strips_as_long_are_not_these() {
    let (laser, sled) = laser_and_sled();
    let (one, other) = (
        cases(JOB, &laser, &sled),
        cases(&turned(JOB), &laser, &sled),
    );
    let found = faults(&one[2].plan, &other[2].wanted, &laser, DxfVersion::R2000);
    assert!(!found.is_empty());
}

const DIAMOND: &str = r#"title = "Screen"

[grid]
kind = "diamond"
pitch = "40 mm"
angle = "60 deg"
stance = "on-point"
region = "rectangle"
width = "300 mm"
height = "260 mm"
overhang = "15 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"

"#;

const TRIANGULAR: &str = r#"title = "Screen"

[grid]
kind = "triangular"
side = "60 mm"
region = "hexagon"
rings = 2
overhang = "15 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"
lap = "least-cut"

"#;

/// Sticks of equal length whose notches stand at equal places, told apart by faces and angles;
/// nodes of three layers, where two notches have the same edges.
#[test]
fn sticks_of_slanting_grids_prove_clean_and_not_for_each_other() {
    let (laser, _) = laser_and_sled();
    let name = |at: usize, _| format!("{at}.dxf");
    for text in [DIAMOND, TRIANGULAR] {
        let job = read_job("job.toml", text).unwrap_or_else(|bad| panic!("{:?}", bad.findings));
        let lattice = job.panel.lattice();
        let sticks = WareBatch::sticks(lattice, &laser, MM).unwrap();
        let (plan, _) = plan_sheets("", "laser", vec![sticks], &laser, &name).unwrap();
        let wanted = gauge_wanted(lattice, laser.fit, MM);
        assert!(wanted.len() > 4);
        assert_eq!(
            faults(&plan, &wanted, &laser, DxfVersion::R2000),
            [] as [&str; 0]
        );
        for at in 0..wanted.len() {
            let mut other = wanted.clone();
            let words = &mut other[at].engraved.as_mut().unwrap().texts[0].words;
            *words = words.replace("60", "61").replace("120", "121");
            let found = faults(&plan, &other, &laser, DxfVersion::R2000);
            assert!(found.contains(&"words"), "{found:?}");
        }
    }
}

/// 38.1 mm are 1.5 in: five notches from 0.75 in on.
#[test]
fn places_are_written_in_inches_where_they_are_read() {
    let (laser, sled) = laser_and_sled();
    let text = "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"1.5 in\"\ncolumns = 4\nrows = 4\noverhang = \"0.75 in\"\n\n\
                [strip]\nthickness = \"0.125 in\"\ndepth = \"0.5 in\"\n";
    let job = read_job("job.toml", text).unwrap_or_else(|bad| panic!("{:?}", bad.findings));
    let lattice = job.panel.lattice();
    let name = |at: usize, _| format!("{at}.dxf");
    for marked_in in [UnitSystem::Inches, MM] {
        let order = RackOrder {
            sled: &sled,
            distances: None,
            marked_in,
        };
        let sticks = WareBatch::sticks(lattice, &laser, marked_in).unwrap();
        let inserts = WareBatch::inserts(lattice, &order, &laser).unwrap();
        for (batch, wanted) in [
            (
                sticks,
                [UnitSystem::Inches, MM].map(|units| gauge_wanted(lattice, laser.fit, units)),
            ),
            (
                inserts,
                [UnitSystem::Inches, MM]
                    .map(|units| rack_wanted(lattice, &sled, laser.fit, None, units)),
            ),
        ] {
            let (plan, _) = plan_sheets("", "laser", vec![batch], &laser, &name).unwrap();
            let [inches, mm] = wanted;
            let (own, other) = match marked_in {
                UnitSystem::Inches => (&inches, &mm),
                UnitSystem::Millimetres => (&mm, &inches),
            };
            let found = |wanted: &[WantedPart]| faults(&plan, wanted, &laser, DxfVersion::R2000);
            assert_eq!(found(own), [] as [&str; 0]);
            assert!(found(other).contains(&"words"));
        }
    }
    let words = |parts: Vec<WantedPart>| -> Vec<String> {
        let texts = parts
            .into_iter()
            .flat_map(|part| part.engraved.unwrap().texts);
        texts.map(|text| text.words).collect()
    };
    let told = words(gauge_wanted(lattice, laser.fit, UnitSystem::Inches));
    let places = ["1 0.7500", "2 2.2500", "3 3.7500", "4 5.2500", "5 6.7500"];
    assert_eq!(
        told,
        [&places[..], &["U1 C1 10 STRIPS INCHES", "50 MM"]].concat()
    );
    let told = words(rack_wanted(
        lattice,
        &sled,
        laser.fit,
        None,
        UnitSystem::Inches,
    ));
    assert!(told.contains(&"1.5000".to_owned()), "{told:?}");
}
