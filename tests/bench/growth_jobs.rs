//! Jobs of every size, and machines large enough for them.

use lapwright::geometry::Point;
use lapwright::instructions::outline::{CutPath, CutWork, SheetDrawing};
use lapwright::instructions::safety::SafetyNotes;
use lapwright::machines::Colours;
use lapwright::reading::shipped_machine;
use lapwright::writing::dxf::{DxfVersion, dxf};
use std::path::Path;
use std::process::{Command, Stdio};

/// A job of one size.
#[derive(Clone)]
pub(crate) struct Job {
    pub(crate) name: String,
    pub(crate) cells: usize,
    pub(crate) text: String,
}

/// What is asked of a job.
pub(crate) struct Work {
    pub(crate) what: String,
    pub(crate) arguments: Vec<String>,
    /// What has to be there first.
    pub(crate) before: Option<Before>,
}

/// What is made of a job in a folder, by the program where it takes it.
pub(crate) type Before = fn(&Job, &Path, &str);

const STRIP: &str = "[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\nwood = \"basswood\"\n";

const MACHINES: &str = "[machines]\nsled = \"sled.toml\"\nlaser = \"laser.toml\"\n";

/// What stands in a profile, and what instead of it.
type Changes = &'static [(&'static str, &'static str)];

/// Shipped profiles with figures of a hall instead of a workshop.
const PROFILES: [(&str, &str, Changes); 3] = [
    (
        "sled.toml",
        "stop-sled",
        &[
            ("\"1200 mm\"", "\"11 m\""),
            ("\"1100 mm\"", "\"11 m\""),
            ("\"80 mm\"   # widest", "\"2 m\"   # widest"),
            ("travel = \"400 mm\"", "travel = \"4 m\""),
        ],
    ),
    (
        "laser.toml",
        "tube-laser",
        &[("\"640 mm\"", "\"12 m\""), ("\"430 mm\"", "\"20 m\"")],
    ),
    (
        "router.toml",
        "mid-router",
        &[
            ("x = \"800 mm\"", "x = \"12 m\""),
            ("y = \"600 mm\"", "y = \"3 m\""),
            ("\"150 mm\"", "\"2 m\""),
        ],
    ),
];

/// The machines' profiles, into a folder.
pub(crate) fn write_profiles(folder: &Path) {
    for (file, shipped, changes) in PROFILES {
        let mut text = shipped_machine(shipped).unwrap().text.to_owned();
        for (old, new) in changes {
            assert!(text.contains(old), "{shipped}: {old}");
            text = text.replacen(old, new, 1);
        }
        std::fs::write(folder.join(file), text).unwrap();
    }
}

/// The jobs, each kind from the smallest up, with what is asked of them.
pub(crate) fn series() -> Vec<(Vec<Job>, Vec<Work>)> {
    let door = vec![door(10, 20), door(20, 40), door(40, 80)];
    let grids: Vec<Job> = [50, 100, 200, 500].map(grid).to_vec();
    let rings: Vec<Job> = [15, 30, 60].map(hexagon).to_vec();
    vec![
        (door, whole_works()),
        (grids.clone(), whole_works()),
        (grids, grid_works()),
        (
            rings,
            vec![
                work(
                    "plan at the sled, shorter strips riding along",
                    "sled job.toml --format json",
                ),
                work("strips drawing, shorter strips riding along", STRIPS),
            ],
        ),
        (
            [35, 70, 140].map(gauge).to_vec(),
            vec![work("story sticks", GAUGE)],
        ),
        ([1_250, 2_500, 5_000].map(heap).to_vec(), heap_works()),
    ]
}

const STRIPS: &str = "outline job.toml --what strips -o strips.dxf";
const GAUGE: &str = "outline job.toml --what gauge -o gauge.dxf";

fn whole_works() -> Vec<Work> {
    vec![
        work("show", "show job.toml"),
        work("plan at the sled", "sled job.toml --format json"),
        work("strips drawing", STRIPS),
        work("page (HTML)", "sheet job.toml -o set-up.html"),
        work("document (PDF)", "sheet job.toml -o set-up.pdf"),
        work("build", "build job.toml -o made"),
    ]
}

fn grid_works() -> Vec<Work> {
    vec![
        work(
            "programs",
            "notch job.toml --machine router.toml -o notches.nc",
        ),
        Work {
            before: Some(|_, folder, program| run_before(folder, program, STRIPS)),
            ..work("proof of the strips drawing", "prove strips.dxf job.toml")
        },
    ]
}

fn heap_works() -> Vec<Work> {
    let before: Option<Before> = Some(|job, folder, _| write_heap(job.cells, folder));
    vec![
        Work {
            before,
            ..work("proof of a heap, text", "prove heap.dxf job.toml")
        },
        Work {
            before,
            ..work(
                "proof of a heap, JSON",
                "prove heap.dxf job.toml --format json",
            )
        },
    ]
}

fn work(what: &str, arguments: &str) -> Work {
    Work {
        what: what.to_owned(),
        arguments: arguments.split(' ').map(str::to_owned).collect(),
        before: None,
    }
}

fn run_before(folder: &Path, program: &str, arguments: &str) {
    let mut command = Command::new(program);
    command.current_dir(folder).args(arguments.split(' '));
    command.stdout(Stdio::null()).stderr(Stdio::null());
    assert!(command.status().unwrap().success(), "{arguments}");
}

/// A door with a leaf in every bay.
fn door(columns: usize, rows: usize) -> Job {
    let text = format!(
        "title = \"Door\"\n[grid]\nkind = \"square\"\npitch = \"24 mm\"\ncolumns = {columns}\nrows = {rows}\n\
         overhang = \"15 mm\"\n{STRIP}[infill]\npattern = \"square-hemp-leaf\"\n{MACHINES}router = \"router.toml\"\nguides = \"paring-guides\"\n"
    );
    Job {
        name: format!("door {columns} by {rows}"),
        cells: columns * rows,
        text,
    }
}

/// A square grid without pieces.
fn grid(side: usize) -> Job {
    let text = format!(
        "title = \"Grid\"\n[grid]\nkind = \"square\"\npitch = \"10 mm\"\ncolumns = {side}\nrows = {side}\n\
         overhang = \"15 mm\"\n{STRIP}{MACHINES}"
    );
    Job {
        name: format!("grid {side} by {side}"),
        cells: side * side,
        text,
    }
}

/// Triangles in a hexagon; overhangs longer than the triangles' sides, so that many strips ride along.
fn hexagon(rings: usize) -> Job {
    let text = format!(
        "title = \"Hexagon\"\n[grid]\nkind = \"triangular\"\nside = \"20 mm\"\nregion = \"hexagon\"\nrings = {rings}\n\
         overhang = \"25 mm\"\n{STRIP}bundling = \"runs\"\n{MACHINES}"
    );
    Job {
        name: format!("hexagon, {rings} rings"),
        cells: 6 * rings * rings,
        text,
    }
}

/// A row of bays as long as a story stick of 10 mm a bay.
fn gauge(bays: usize) -> Job {
    let text = format!(
        "title = \"Row\"\n[grid]\nkind = \"square\"\npitch = \"10 mm\"\ncolumns = {bays}\nrows = 1\n\
         overhang = \"15 mm\"\n{STRIP}{MACHINES}"
    );
    Job {
        name: format!("stick of {bays} cm"),
        cells: bays,
        text,
    }
}

/// A small job, for a drawing with far too many parts.
fn heap(count: usize) -> Job {
    Job {
        name: format!("heap of {count}"),
        cells: count,
        text: grid(4).text,
    }
}

/// So many bars, each a little beside the one before it.
fn write_heap(count: usize, folder: &Path) {
    let path = |n: usize| {
        let low = 20.0 + n as f64 * 0.01;
        let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 12.0), (0.0, 12.0)];
        CutPath {
            work: CutWork::Outlines,
            closed: true,
            points: corners.map(|(x, y)| Point::new(low + x, low + y)).to_vec(),
        }
    };
    let drawing = SheetDrawing {
        safety: SafetyNotes::for_laser(),
        paths: (0..count).map(path).collect(),
    };
    let bytes = dxf(&drawing, DxfVersion::R2000, Colours::default()).unwrap();
    std::fs::write(folder.join("heap.dxf"), bytes).unwrap();
}
