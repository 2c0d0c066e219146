//! The files that are damaged: what ships, and what is made of the demo jobs.

use lapwright::reading::{SHIPPED_MACHINES, SHIPPED_PATTERNS, SHIPPED_STARTERS};
use lapwright::{
    JobOrder, Made, Workshop, read_job, read_machine, read_pattern, shipped_machine,
    shipped_pattern,
};
use std::fs;
use std::path::Path;

/// The files of a folder of the repository with this ending.
fn files(folder: &str, ending: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(folder);
    let mut paths: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    let wanted = paths
        .into_iter()
        .filter(|path| path.extension().is_some_and(|own| own == ending));
    wanted.map(|path| fs::read(path).unwrap()).collect()
}

pub fn jobs() -> Vec<Vec<u8>> {
    let mut jobs = files("demo", "toml");
    jobs.extend(
        SHIPPED_STARTERS
            .iter()
            .map(|starter| starter.text.as_bytes().to_owned()),
    );
    jobs
}

pub fn machines() -> Vec<Vec<u8>> {
    SHIPPED_MACHINES
        .iter()
        .map(|machine| machine.text.as_bytes().to_owned())
        .collect()
}

pub fn patterns() -> Vec<Vec<u8>> {
    SHIPPED_PATTERNS
        .iter()
        .map(|pattern| pattern.text.as_bytes().to_owned())
        .collect()
}

/// Readings of a sled, in both forms.
pub fn readings() -> Vec<Vec<u8>> {
    let toml = "date = 2026-11-30\nunit = \"mm\"\nresolution = 0.01\n[grooves]\nacross = [52.63, 48.22, 55.07]\n\
        between = [47.42, 42.98, 49.85]\n[[slot]]\nslot = 23\nsteps = 6\nacross = [140.81, 140.79, 140.84]\n\
        between = [135.58, 135.57, 135.60]\n[stop]\nset = 60\nreadings = [60.04, 60.11, 59.98, 60.07]\n\
        [lap]\ncorrection = 0\ndepth = [12.02, 12.01, 12.02]\nfirst = [5.92, 5.95, 5.90]\nsecond = [5.93, 5.94, 5.92]\n";
    let csv = "date,2026-11-30\nunit,mm\nresolution,0.01\ngrooves.across,52.63,48.22\ngrooves.between,47.42,42.98\n\
        stop.set,60\nstop.readings,60.04,60.11,59.98\n";
    [toml, csv].map(|text| text.as_bytes().to_owned()).to_vec()
}

/// Programs that the reference interpreter is compared on, and those made of a demo job.
pub fn programs() -> Vec<Vec<u8>> {
    let mut programs = files("tests/programs", "ngc");
    programs.extend(made(".nc"));
    programs
}

pub fn drawings() -> Vec<Vec<u8>> {
    let mut drawings = files("tests/data", "dxf");
    drawings.extend(made(".dxf"));
    drawings
}

/// What is made of a small job, by the ending of its name.
fn made(ending: &str) -> Vec<Vec<u8>> {
    let job = read_job("job.toml", super::targets::SMALL_JOB).unwrap();
    let machines = ["key-sled", "tube-laser", "small-router"]
        .map(|name| read_machine(name, shipped_machine(name).unwrap().text).unwrap());
    let workshop = Workshop::new(machines);
    let patterns: Vec<_> = job
        .pattern_names()
        .map(|name| {
            read_pattern(name, shipped_pattern(name).unwrap().text)
                .unwrap()
                .pattern
        })
        .collect();
    let order = JobOrder {
        patterns: &patterns,
        ..JobOrder::new(&job, &workshop)
    };
    let made = Made::of(&order).unwrap();
    let wanted = made
        .files
        .into_iter()
        .filter(|file| file.name.ends_with(ending));
    wanted
        .map(|file| {
            let mut bytes = Vec::new();
            file.content.copy_to(&mut bytes).unwrap();
            bytes
        })
        .collect()
}
