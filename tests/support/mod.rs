//! The outside programs that the tests compare with. `tests/run` installs them under
//! `target/reference` and says through the environment where they are.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "each test program uses its own part of this; a test may panic; figures copied \
              unchanged are compared"
)]

pub mod cli;
pub mod cores;
pub mod cutting;
pub mod jobs;
pub mod profiles;
mod python;
pub mod routers;
pub mod slanted;

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use cores::on_all_cores;
use python::run_script;
use serde_json::{Value, json};

/// What the validator of JSON Schemas says of files: the description as `tests/reference/check_schema.py`
/// has it. Panics where a schema is none.
pub fn check_schemas(description: &Value) -> Value {
    run_script("check_schema.py", &[], &description.to_string()).json()
}

/// Margins of panels by scipy's linear programs: the description as `tests/reference/assemble_panels.py`
/// has it.
pub fn assembled_margins(description: &Value) -> Value {
    run_script("assemble_panels.py", &[], &description.to_string()).json()
}

/// Panels that a shop of its own cuts by a sled's steps: the description as `tests/reference/cut_panels.py`
/// has it.
pub fn cut_panels(description: &Value) -> Value {
    run_script("cut_panels.py", &[], &description.to_string()).json()
}

/// The least that each task can be cut with, by scipy's integer program.
pub fn cut_sticks(tasks: &Value) -> Value {
    run_script("cut_sticks.py", &[], &tasks.to_string()).json()
}

/// What a terminal shows of a run that is kept waiting: the description and the answer as in
/// `tests/reference/at_terminal.py`.
pub fn at_terminal(description: &Value) -> Value {
    let program = Path::new(env!("CARGO_BIN_EXE_lapwright"));
    run_script("at_terminal.py", &[program], &description.to_string()).json()
}

/// Leaves of a panel as built against its cells as shapely has them, cell by cell: the description and the
/// answer as in `tests/reference/check_as_built.py`.
pub fn check_as_built(panel: &Value) -> Value {
    run_script("check_as_built.py", &[], &panel.to_string()).json()
}

/// One call that the reference RS274/NGC interpreter makes to a machine. Numbers are printed by it
/// with four decimals, in the units that the program has set.
#[derive(Debug, Clone, PartialEq)]
pub enum Canonical {
    /// Rapid straight move to a point.
    Traverse { x: f64, y: f64, z: f64 },
    /// Straight move to a point at the feed rate.
    Feed { x: f64, y: f64, z: f64 },
    /// Arc at the feed rate to a point, about a centre, in the XY plane. `turns` is 1 for an arc
    /// counter-clockwise of at most a full turn, -1 for a clockwise one.
    Arc {
        x: f64,
        y: f64,
        z: f64,
        center_x: f64,
        center_y: f64,
        turns: i32,
    },
    /// Wait, in seconds.
    Dwell(f64),
    /// Spindle on.
    SpindleOn { clockwise: bool },
    /// Spindle off.
    SpindleOff,
    /// Spindle speed, 1/min.
    SetSpeed(f64),
    /// Feed rate, length units per minute.
    SetFeed(f64),
    /// Units of all lengths that follow.
    UseLengthUnits(LengthUnits),
    /// M2 or M30.
    ProgramEnd,
    /// A comment of the program or of the interpreter (these start with `interpreter: `).
    Comment(String),
    /// Any other call as printed, such as `PROGRAM_STOP()`; an arc in another plane is one too.
    Other(String),
}

/// Units of length of a program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LengthUnits {
    /// G21.
    Millimetres,
    /// G20.
    Inches,
}

/// The calls of a whole program, run by the reference interpreter. Panics with the interpreter's
/// message where it refuses the program.
pub fn rs274(program: &Path) -> Vec<Canonical> {
    try_rs274(program).unwrap_or_else(|refusal| panic!("{}: {refusal}", program.display()))
}

/// As [`rs274`], but gives the interpreter's message and the refused line as an error.
///
/// The calls start where the program does: the interpreter's own first settings are left out.
pub fn try_rs274(program: &Path) -> Result<Vec<Canonical>, String> {
    let output = run(Command::new(tool("LAPWRIGHT_RS274")).arg(program));
    // 1 is the interpreter's own exit status; any other is a fault of the tools.
    match output.status.code() {
        Some(0) => {}
        Some(1) => return Err(text(&output.stderr)),
        _ => panic!("rs274 broke: {}: {}", output.status, text(&output.stderr)),
    }
    Ok(canonical_calls(&text(&output.stdout)))
}

/// What ezdxf (strict) and GDAL see in drawings: an object from each path as given to the readers'
/// findings, described in `tests/reference/read_dxf.py`. Panics where a reader refuses a drawing.
pub fn read_dxf(drawings: &[impl AsRef<Path>]) -> Value {
    let drawings: Vec<&Path> = drawings.iter().map(AsRef::as_ref).collect();
    run_script("read_dxf.py", &drawings, "").json()
}

/// What a browser and axe-core find in a page; form of the answer: `tests/reference/browser.py`.
pub fn browse(page: &Path) -> Value {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/browser.py");
    let mut command = Command::new(tool("LAPWRIGHT_REFERENCE_PYTHON"));
    command.arg(script);
    command.arg(tool("LAPWRIGHT_BROWSER"));
    command.arg(tool("LAPWRIGHT_AXE"));
    let output = run(command.arg(page));
    assert!(output.status.success(), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("browser.py: {error}"))
}

/// What is cut off, too small, over other writing or too pale on screens of several widths; form of the
/// answer: `tests/reference/screens.py`.
pub fn on_screens(page: &Path) -> Value {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/screens.py");
    let mut command = Command::new(tool("LAPWRIGHT_REFERENCE_PYTHON"));
    command.arg("-B").arg(script);
    command.arg(tool("LAPWRIGHT_BROWSER"));
    let output = run(command.arg(page));
    assert!(output.status.success(), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("screens.py: {error}"))
}

/// How a page plays its first program; form of the answer: `tests/reference/player.py`.
pub fn play(page: &Path) -> Value {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/player.py");
    let mut command = Command::new(tool("LAPWRIGHT_REFERENCE_PYTHON"));
    command.arg("-B").arg(script);
    command.arg(tool("LAPWRIGHT_BROWSER"));
    let output = run(command.arg(page));
    assert!(output.status.success(), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("player.py: {error}"))
}

/// Where a document has its writing; form of the answer: `tests/reference/read_writing.py`.
pub fn read_writing(document: &Path) -> Value {
    run_script("read_writing.py", &[document], "").json()
}

/// A document's tree of what stands on its pages; form of the answer: `tests/reference/read_structure.py`.
pub fn read_structure(document: &Path) -> Value {
    run_script("read_structure.py", &[document], "").json()
}

/// What a browser and axe-core find in a page that asks nothing of them; form of the answer:
/// `tests/reference/still_page.py`.
pub fn look_at(page: &Path) -> Value {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/still_page.py");
    let mut command = Command::new(tool("LAPWRIGHT_REFERENCE_PYTHON"));
    command.arg("-B").arg(script);
    command.arg(tool("LAPWRIGHT_BROWSER"));
    command.arg(tool("LAPWRIGHT_AXE"));
    let output = run(command.arg(page));
    assert!(output.status.success(), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("still_page.py: {error}"))
}

/// What a browser shows of a page that loads itself again, once another takes its file's place; form of
/// the answer: `tests/reference/renewed_page.py`.
pub fn renewed(page: &Path, another: &Path) -> Value {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/renewed_page.py");
    let mut command = Command::new(tool("LAPWRIGHT_REFERENCE_PYTHON"));
    command.arg("-B").arg(script);
    command.arg(tool("LAPWRIGHT_BROWSER"));
    let output = run(command.args([page, another]));
    assert!(output.status.success(), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|error| panic!("renewed_page.py: {error}"))
}

/// How far two PNG pictures differ, 0 where they are the same (`tests/reference/same_picture.py`).
pub fn picture_differs(first: &Path, second: &Path) -> f64 {
    let found = run_script("same_picture.py", &[first, second], "").json();
    found["differs"].as_f64().unwrap()
}

/// Outline and links of a PDF, by pypdf (their form: `tests/reference/read_ways.py`).
pub fn read_ways(document: &Path) -> Value {
    run_script("read_ways.py", &[document], "").json()
}

/// What one of poppler's programs, which must be on the path, prints.
pub fn poppler(program: &str, args: &[&str]) -> Vec<u8> {
    let output = run(Command::new(program).args(args));
    assert!(
        output.status.success(),
        "{program}: {}",
        text(&output.stderr)
    );
    output.stdout
}

/// Whether drawings hold exactly the strips of a description or of all in a list (their form:
/// `tests/reference/check_strips.py`), by an independent calculation; else why not.
pub fn check_strips(description: &Value) -> Result<(), String> {
    check("check_strips.py", description)
}

/// Whether panels of pieces fit (form of the description: `tests/reference/check_pieces.py`), by an
/// independent calculation; else why not.
pub fn check_pieces(description: &Value) -> Result<(), String> {
    check_each("check_pieces.py", "panels", description)
}

/// Whether strips and pieces go together as solids (form of the description:
/// `tests/reference/check_solids.py`), by an independent calculation; else why not.
pub fn check_solids(description: &Value) -> Result<(), String> {
    check_each("check_solids.py", "panels", description)
}

/// Whether cells hold the figures that an independent construction has in them (form of the description:
/// `tests/reference/check_figures.py`), and lengths as constructed; else why not.
pub fn check_figures(description: &Value) -> Result<Value, String> {
    let ran = run_script("check_figures.py", &[], &description.to_string());
    if ran.succeeded {
        Ok(ran.json())
    } else {
        Err(ran.err)
    }
}

/// Whether strips that are laid straight bend into their legs (form of the description:
/// `tests/reference/check_folds.py`), and how many; else why not.
pub fn check_folds(description: &Value) -> Result<Value, String> {
    let ran = run_script("check_folds.py", &[], &description.to_string());
    if ran.succeeded {
        Ok(ran.json())
    } else {
        Err(ran.err)
    }
}

/// Whether drawings of panels show what is seen of them (form of the description:
/// `tests/reference/check_panel.py`), by an independent calculation; else why not.
pub fn check_panels(description: &Value) -> Result<(), String> {
    check("check_panel.py", description)
}

/// The finished parts of drawings as shapely measures them; forms of request and answer:
/// `tests/reference/measure_parts.py`.
pub fn measure_parts(request: &Value) -> Value {
    run_script("measure_parts.py", &[], &request.to_string()).json()
}

/// What comes off a virtual saw that does what is told of mitres; forms of request and answer:
/// `tests/reference/play_mitres.py`.
pub fn play_mitres(request: &Value) -> Value {
    run_script("play_mitres.py", &[], &request.to_string()).json()
}

/// Whether lattices go together as solids (form of the description:
/// `tests/reference/check_lattices.py`), by an independent calculation; else why not.
pub fn check_lattices(description: &Value) -> Result<(), String> {
    check_each("check_lattices.py", "lattices", description)
}

/// Whether trimmed strips fit their frame's mortises (form of the description:
/// `tests/reference/check_rails.py`), by an independent calculation; else why not.
pub fn check_rails(description: &Value) -> Result<(), String> {
    check_each("check_rails.py", "frames", description)
}

/// Whether what is told of panels at a glance is what they are, put together (form of the description:
/// `tests/reference/check_overviews.py`), by an independent calculation; else why not.
pub fn check_overviews(description: &Value) -> Result<(), String> {
    check_each("check_overviews.py", "panels", description)
}

/// Whether mitred frames close and their members come off a saw as drawn (form of the description:
/// `tests/reference/check_mitred_frames.py`), by an independent calculation; else why not.
pub fn check_mitred_frames(description: &Value) -> Result<(), String> {
    check_each("check_mitred_frames.py", "frames", description)
}

/// Whether drawings of frames' members are right and go together (form of the description:
/// `tests/reference/check_frame_parts.py`), by an independent calculation; else why not.
pub fn check_frame_parts(description: &Value) -> Result<(), String> {
    check_each("check_frame_parts.py", "frames", description)
}

/// Whether panels for openings have the sizes that are told (form of the description:
/// `tests/reference/check_openings.py`), by an independent calculation; else why not.
pub fn check_openings(description: &Value) -> Result<(), String> {
    check_each("check_openings.py", "openings", description)
}

/// Whether what a router leaves of sticks are the pieces of their rows (form of the description:
/// `tests/reference/check_rows.py`), by an independent calculation; else why not.
pub fn check_rows(description: &Value) -> Result<(), String> {
    check_each("check_rows.py", "rows", description)
}

/// Whether drawings of slanted lattices' strips are right (form of the description:
/// `tests/reference/check_profiles.py`), by an independent calculation; else why not.
pub fn check_profiles(description: &Value) -> Result<(), String> {
    check("check_profiles.py", description)
}

/// Whether drawings of lapped blanks are right, and the pieces that are made of them fit each other
/// (form of the description: `tests/reference/check_blanks.py`), by an independent calculation; else
/// why not.
pub fn check_blanks(description: &Value) -> Result<(), String> {
    check("check_blanks.py", description)
}

/// As [`check`], the members of the description's one list on all cores.
fn check_each(name: &str, list: &str, description: &Value) -> Result<(), String> {
    let members: Vec<&[Value]> = description[list].as_array().unwrap().chunks(4).collect();
    let ends = on_all_cores(&members, |some| check(name, &json!({ list: some })));
    ends.into_iter().collect()
}

fn check(name: &str, description: &Value) -> Result<(), String> {
    let ran = run_script(name, &[], &description.to_string());
    match ran.err.strip_prefix("refused: ") {
        Some(reason) => Err(reason.trim_end().to_owned()),
        None if ran.succeeded => Ok(()),
        None => panic!("{name} broke: {}", ran.err),
    }
}

fn tool(variable: &str) -> PathBuf {
    std::env::var_os(variable)
        .map(PathBuf::from)
        .filter(|path| path.exists())
        .unwrap_or_else(|| {
            panic!("run tests/run: it installs the reference tools ({variable} names none)")
        })
}

/// Red, green and blue that ezdxf shows for the colour numbers 1 to 255.
pub fn colours_of_numbers() -> Vec<[u8; 3]> {
    serde_json::from_value(run_script("colours.py", &[], "").json()).unwrap()
}

/// Runs a command to its end.
fn run(command: &mut Command) -> Output {
    command
        .output()
        .unwrap_or_else(|error| panic!("{}: {error}", command.get_program().display()))
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// Reads lines such as `   14 N..... STRAIGHT_TRAVERSE(0.0000, 0.0000, 5.0000, 0.0000, 0.0000)`.
fn canonical_calls(listing: &str) -> Vec<Canonical> {
    let mut calls: Vec<&str> = listing
        .lines()
        .map(|line| {
            line.trim_start()
                .splitn(3, ' ')
                .nth(2)
                .map(str::trim_start) // a numbered block's number is padded
                .unwrap_or_else(|| panic!("no canonical call: {line:?}"))
        })
        .collect();
    // The interpreter resets itself once before the program and twice after it.
    let start = calls
        .iter()
        .position(|call| *call == "ON_RESET()")
        .unwrap_or_else(|| panic!("no start of a program in:\n{listing}"));
    calls.drain(..=start);
    calls.retain(|call| *call != "ON_RESET()");

    let mut in_xy_plane = true;
    calls
        .into_iter()
        .map(|call| {
            if call.starts_with("SELECT_PLANE(") {
                in_xy_plane = call == "SELECT_PLANE(CANON_PLANE_XY)";
            }
            canonical(call, in_xy_plane).unwrap_or_else(|| Canonical::Other(call.to_owned()))
        })
        .collect()
}

fn canonical(call: &str, in_xy_plane: bool) -> Option<Canonical> {
    let (name, arguments) = call.strip_suffix(')')?.split_once('(')?;
    let numbers: Option<Vec<f64>> = arguments
        .split(", ")
        .map(|number| number.parse().ok())
        .collect();
    let numbers = numbers.unwrap_or_default();
    Some(match (name, numbers.as_slice()) {
        ("STRAIGHT_TRAVERSE", &[x, y, z, ..]) => Canonical::Traverse { x, y, z },
        ("STRAIGHT_FEED", &[x, y, z, ..]) => Canonical::Feed { x, y, z },
        ("ARC_FEED", &[x, y, center_x, center_y, turns, z, ..]) if in_xy_plane => Canonical::Arc {
            x,
            y,
            z,
            center_x,
            center_y,
            turns: format!("{turns}").parse().ok()?,
        },
        ("DWELL", &[seconds]) => Canonical::Dwell(seconds),
        ("START_SPINDLE_CLOCKWISE", _) => Canonical::SpindleOn { clockwise: true },
        ("START_SPINDLE_COUNTERCLOCKWISE", _) => Canonical::SpindleOn { clockwise: false },
        ("STOP_SPINDLE_TURNING", _) => Canonical::SpindleOff,
        ("SET_SPINDLE_SPEED", &[_spindle, speed]) => Canonical::SetSpeed(speed),
        ("SET_FEED_RATE", &[rate]) => Canonical::SetFeed(rate),
        ("USE_LENGTH_UNITS", _) => Canonical::UseLengthUnits(match arguments {
            "CANON_UNITS_MM" => LengthUnits::Millimetres,
            "CANON_UNITS_INCHES" => LengthUnits::Inches,
            _ => return None,
        }),
        ("PROGRAM_END", _) => Canonical::ProgramEnd,
        ("COMMENT", _) => {
            let comment = arguments.strip_prefix('"')?.strip_suffix('"')?;
            Canonical::Comment(comment.to_owned())
        }
        _ => return None,
    })
}
