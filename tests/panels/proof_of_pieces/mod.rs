//! Pieces and guide blocks at scale: what is drawn for made-up jobs proves clean, and not against the
//! pieces of another job.
#![allow(clippy::print_stdout)]

mod at_the_guide;
mod folded;
mod horns_and_laps;
mod mouths;

use crate::support::jobs::{Length, length, quoted, samples};
use lapwright::infill::{CellShape, EdgeCells, fill};
use lapwright::instructions::laser::{LaserPlan, SheetFile};
use lapwright::machines::{Chosen, Guides, Laser, Machine};
use lapwright::planning::{WareBatch, plan_pieces, plan_sheets};
use lapwright::reading::{
    PatternFile, SHIPPED_PATTERNS, read_job, read_machine, read_pattern, shipped_machine,
};
use lapwright::verification::outline::{
    GuideOrder, Labels, WantedPart, pieces_wanted, prove_drawings,
};
use lapwright::writing::dxf::{DxfVersion, dxf};
use proptest::prelude::*;

/// Made-up jobs.
const JOBS: usize = 250;

/// A square panel with infill.
#[derive(Debug, Clone)]
struct Job {
    pitch: Length,
    bays: [usize; 2],
    thickness: Length,
    clearance: Option<Length>,
}

impl Job {
    fn toml(&self, pattern: &str) -> String {
        let clearance = self.clearance.as_ref().map_or_else(String::new, |length| {
            format!("clearance = {}\n", quoted(&length.text))
        });
        format!(
            "title = \"Made up\"\n[grid]\nkind = \"square\"\npitch = {}\ncolumns = {}\n\
             rows = {}\noverhang = \"20 mm\"\n[strip]\nthickness = {}\ndepth = \"8 mm\"\n\
             {clearance}[infill]\npattern = \"{pattern}\"\n",
            quoted(&self.pitch.text),
            self.bays[0],
            self.bays[1],
            quoted(&self.thickness.text),
        )
    }
}

fn infilled() -> impl Strategy<Value = Job> {
    let clearance = prop_oneof![Just(None), length(0.01, 0.06).prop_map(Some)];
    let bays = [1..=3_usize, 1..=3_usize];
    (length(30.0, 90.0), bays, length(1.8, 4.0), clearance).prop_map(
        |(pitch, bays, thickness, clearance)| Job {
            pitch,
            bays,
            thickness,
            clearance,
        },
    )
}

fn machine(name: &str) -> Machine {
    let text = shipped_machine(name).unwrap().text;
    read_machine(name, text).unwrap().machine
}

fn machines() -> (Laser, Guides) {
    match (machine("tube-laser"), machine("paring-guides")) {
        (Machine::Laser(laser), Machine::Guides(guides)) => (laser, guides),
        _ => panic!("other machines"),
    }
}

fn square_patterns() -> Vec<PatternFile> {
    let read = |name, text| read_pattern(name, text).unwrap_or_else(|_| panic!("{name}"));
    let all = SHIPPED_PATTERNS
        .iter()
        .map(|shipped| read(shipped.name, shipped.text));
    all.filter(|file| file.pattern.cell == CellShape::Square)
        .collect()
}

fn proves(plan: &LaserPlan, wanted: &[WantedPart], laser: &Laser, version: DxfVersion) -> bool {
    let write = |file: &SheetFile| dxf(&file.drawing, version, laser.colours).unwrap();
    let files: Vec<Vec<u8>> = plan.files.iter().map(write).collect();
    let bytes: Vec<&[u8]> = files.iter().map(Vec::as_slice).collect();
    let sheet = laser.sheet;
    prove_drawings(&bytes, wanted, laser.kerf, sheet).ok()
}

#[test]
fn drawings_of_pieces_and_guide_blocks_prove_clean() {
    let (laser, guides) = machines();
    let patterns = square_patterns();
    let name = |at: usize, _| format!("{at}.dxf");
    let (mut drawn, mut before): (usize, Option<Vec<WantedPart>>) = (0, None);
    for (number, job) in samples(&infilled(), JOBS).iter().enumerate() {
        let pattern = &patterns[number % patterns.len()];
        let text = job.toml(&pattern.pattern.name);
        let read = read_job("job.toml", &text).unwrap_or_else(|bad| panic!("{:?}", bad.findings));
        // Thick strips do not go into every pattern.
        let Ok(filled) = fill(&read.panel, &pattern.pattern, EdgeCells::Leave) else {
            continue;
        };
        drawn += 1;
        let version = [DxfVersion::R2000, DxfVersion::R12][number / patterns.len() % 2];
        let (plan, _) = plan_sheets(
            "",
            "laser",
            vec![WareBatch::pieces(&read.panel, &filled, &laser)],
            &laser,
            &name,
        )
        .unwrap();
        let wanted = pieces_wanted(&filled, false);
        assert!(proves(&plan, &wanted, &laser, version), "pieces of {text}");
        if let Some(before) = before.replace(wanted) {
            assert!(!proves(&plan, &before, &laser, version), "{text}");
        }
        let (pare, _) = plan_pieces(
            &read.panel,
            &filled,
            4.0,
            Some(Chosen {
                name: "guides",
                machine: &guides,
            }),
        );
        let (plan, _) = plan_sheets(
            "",
            "laser",
            vec![
                WareBatch::blocks(&pare, &laser, 3.0),
                WareBatch::guide(&pare, &laser, 3.0),
            ],
            &laser,
            &name,
        )
        .unwrap();
        let order = GuideOrder {
            filled: &filled,
            allowance: 4.0,
            depth: read.panel.design().strip.depth,
            sheet: 3.0,
            guides: &guides,
        };
        let wanted = [order.blocks(Labels::All), order.rest(Labels::All)].concat();
        assert!(proves(&plan, &wanted, &laser, version), "guide of {text}");
    }
    println!("{drawn} of {JOBS} jobs drawn");
    assert!(drawn > JOBS / 2);
}
