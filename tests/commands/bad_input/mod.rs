//! What is wrong is refused: exit code 2, file, line and field (or flag) named, nothing on
//! standard output, nothing written, nothing changed.
//!
//! A row of a table is one case: what is put in for lines of a good file, behind `@` the places
//! that must be named (else the new lines), and after each `|` what else must be said.

mod frame_mitres;
mod grids;
mod maps;
mod mitres;
mod openings;
#[cfg(unix)]
mod overwriting;
mod partly;
mod profiles;
mod stock;

use crate::support::cli::{Bench, FLAGS, JOB, line_of, shipped, with_line};

/// An output that is there already; a refused run leaves it as it is.
const KEPT: &str = "kept from an earlier run\n";

/// A wrong input and what must be said about it.
struct Case {
    files: Vec<(String, Vec<u8>)>,
    args: Vec<String>,
    says: Vec<String>,
}

impl Case {
    /// Arguments alone; there is a good job beside them.
    fn args(args: &[&str], says: &[&str]) -> Case {
        let strings = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
        Case {
            files: vec![("job.toml".into(), JOB.into())],
            args: strings(args),
            says: strings(says),
        }
    }

    /// A whole job file, run through `sled`.
    fn job(text: impl Into<Vec<u8>>, says: &[&str]) -> Case {
        Case::args(&["sled", "job.toml"], says).file("job.toml", text)
    }

    fn file(mut self, name: &str, content: impl Into<Vec<u8>>) -> Case {
        self.files.retain(|(known, _)| known != name);
        self.files.push((name.into(), content.into()));
        self
    }

    /// A row: changes to the text of a file, and what must be said.
    fn row(row: &str, name: &str, text: &str, args: &[&str]) -> Case {
        let (changes, says) = row.split_once('|').unwrap();
        let says: Vec<&str> = says.split('|').map(str::trim).collect();
        let (changes, places) = changes.split_once('@').unwrap_or((changes, ""));
        let mut text = text.to_owned();
        let mut named: Vec<&str> = places.split_whitespace().collect();
        for change in changes.split(";;").map(str::trim) {
            let word = |line: &'_ str| line.split(' ').next().unwrap().to_owned();
            let (old, new) = change.split_once("->").map_or_else(
                || (word(change), change),
                |(old, new)| (old.trim().to_owned(), new.trim()),
            );
            text = with_line(&text, &old, new);
            if places.is_empty() {
                named.push(new.split(' ').next().unwrap());
            }
        }
        let mut case = Case::args(args, &says).file(name, text.clone());
        let lines = named
            .iter()
            .map(|key| format!("{name}:{}:", line_of(&text, key)));
        case.says.extend(lines);
        case
    }

    fn check(&self) -> Result<(), String> {
        let bench = Bench::new();
        bench.write("kept.nc", KEPT);
        for (name, content) in &self.files {
            bench.write(name, content);
        }
        let before = bench.contents();
        let args: Vec<&str> = self.args.iter().map(String::as_str).collect();
        let ran = bench.run(&args);
        let mut faults = Vec::new();
        if ran.code != 2 {
            faults.push(format!("exit code {}", ran.code));
        }
        if !ran.out.is_empty() {
            faults.push("an answer on standard output".into());
        }
        if bench.contents() != before {
            faults.push("the folder has changed".into());
        }
        let unsaid = self.says.iter().filter(|text| !ran.err.contains(*text));
        faults.extend(unsaid.map(|text| format!("not said: {text}")));
        if faults.is_empty() {
            return Ok(());
        }
        Err(format!("{args:?}: {}\n{}", faults.join("; "), ran.err))
    }
}

fn check(cases: &[Case]) {
    assert!(!cases.is_empty());
    let wrong: Vec<String> = cases.iter().filter_map(|case| case.check().err()).collect();
    let (bad, all) = (wrong.len(), cases.len());
    assert!(bad == 0, "{bad} of {all} cases:\n{}", wrong.join("\n"));
}

fn rows(table: &str) -> impl Iterator<Item = &str> {
    table.lines().map(str::trim).filter(|row| !row.is_empty())
}

/// Rows that change the good job, run through `sled`.
fn check_jobs(table: &str) {
    let case = |row| Case::row(row, "job.toml", JOB, &["sled", "job.toml"]);
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn quantities() {
    check_jobs(
        r#"
        pitch = "40"                     | grid.pitch | the number has no unit | job.toml:5:12
        pitch = 40                       | grid.pitch | a bare number has no unit | "40 mm"
        pitch = 40.5                     | grid.pitch | a bare number has no unit | "40.5 mm"
        pitch = nan                      | grid.pitch | a bare number has no unit
        pitch = ""                       | grid.pitch | nothing is written here
        pitch = "wide"                   | grid.pitch | a number should stand here | job.toml:5:10
        pitch = "nan mm"                 | grid.pitch | a number should stand here
        pitch = "inf mm"                 | grid.pitch | a number should stand here
        pitch = "40 kg"                  | grid.pitch | not a unit of length | job.toml:5:13
        pitch = "40 MM"                  | grid.pitch | not a unit of length
        pitch = "4e1 mm"                 | grid.pitch | not a unit of length | job.toml:5:11
        pitch = "40 mm wide"             | grid.pitch | does not belong | job.toml:5:16
        pitch = "40 mm 3 mm"             | grid.pitch | does not belong
        pitch = "-40 mm"                 | grid.pitch | cannot be negative | job.toml:5:10
        pitch = "40,5 mm"                | grid.pitch | a point between digits | job.toml:5:12
        pitch = "40. mm"                 | grid.pitch | a point between digits
        pitch = "1 3/0 in"               | grid.pitch | divides by zero | job.toml:5:12
        pitch = "1 3/8 mm"               | grid.pitch | fractions go with inches
        pitch = "123456789012345678 mm"  | grid.pitch | 17 digits
        pitch = "99999999999 m"          | grid.pitch | larger than anything in a workshop
        thickness = "0.0000000000001 mm" | strip.thickness | at least 0.001 mm
        thickness = "0 mm"               | strip.thickness | leaves no wood
        clearance = "22 deg"             | strip.clearance | not a unit of length
        overhang = ["15 mm"]             | grid.overhang | type array
        "#,
    );
}

#[test]
fn keys_tables_and_types() {
    check_jobs(
        r#"
        title -> titel = "x"             | at the top of the file | did you mean `title`?
        overhang -> overhnag = "15 mm"   | [grid] | did you mean `overhang`?
        thickness -> thicknes = "3 mm"   | [strip] | did you mean `thickness`?
        router -> ruoter = "mid-router"  | [machines] | did you mean `router`?
        [machines] -> [machine]          | did you mean `machines`?
        wood -> colour = 3               | strip.colour | not known in [strip] | known here: bundling, clear
        sled -> saw.x.y = 1 @ saw.x.y    | machines.saw | not known in [machines]
        overhang ->  @ [grid]            | grid.overhang | missing | add `overhang`
        pitch ->  @ [grid]               | grid.pitch | neither `pitch` nor `pitches_x`
        rows ->  @ [grid]                | grid.rows | missing | `rows = 7`
        kind ->  @ [grid]                | grid.kind | missing
        depth ->  @ [strip]              | strip.depth | missing | `depth = "12 mm"`
        [strip] ->  @ thickness          | grid.thickness | strip: this is missing
        title = 3                        | title | type integer | as in `title = "
        columns = "4"                    | grid.columns | type string | as in `columns = 5`
        columns = 4.0                    | grid.columns | type float
        wood = true                      | strip.wood | type boolean
        sled = { x = 1 }                 | machines.sled | type table
        [strip] -> [[strip]]             | strip: | type array | write a table
        wood -> [infill]                 | infill.pattern | missing
        wood -> [infill] ;; sled -> [x] ;; [machines] -> patern = "x" @ patern [x] | did you mean `pattern`?
        "#,
    );
    check(&[
        Case::job("", &["job.toml", "title", "grid", "strip", "missing"]),
        Case::job("title = \"x\"\n", &["job.toml", "grid", "strip", "missing"]),
    ]);
}

#[test]
fn text_that_is_no_toml() {
    check_jobs(
        r#"
        pitch = "40 mm                   | syntax | job.toml:5:15
        pitch = 40 mm                    | syntax
        pitch                            | syntax
        [strip] -> [strip                | syntax
        columns -> pitch = "1" @ [grid]    | grid.columns | job.toml:6:1 | duplicate key
        pitch = ;; depth = "12"          | syntax | strip.depth | no unit
        pitch = "40 µm"                  | job.toml:5:13 | not a unit
        pitch = '大40 mm' # é            | job.toml:5:10 | a number should stand here
        wood -> 木 = 1                   | job.toml:15:1 | strip.木
        "#,
    );
    let crlf = with_line(JOB, "rows", "rows = 0").replace('\n', "\r\n");
    let many: String = (0..3000).map(|n| format!("k{n} = 1\n")).collect();
    check(&[
        Case::job(crlf, &["job.toml:7:8", "grid.rows", "1 to 500"]),
        Case::job(JOB.replace('\n', "\r"), &["job.toml:1:", "carriage return"]),
        Case::job(b"title = \"caf\xe9\"\n", &["job.toml", "not UTF-8"]),
        Case::job(
            "x = ".to_owned() + &"[".repeat(100_000),
            &["job.toml:1:", "recurs"],
        ),
        Case::job(vec![b'#'; (1 << 20) + 1], &["job.toml", "at most 1 MB"]),
        Case::job(
            JOB.to_owned() + &many,
            &["job.toml:21:", "and 2950 more like these"],
        ),
    ]);
}

#[test]
fn texts_for_people() {
    check_jobs(
        r#"
        title = "a\nG0 Z-5"              | title | cannot be printed | U+000A
        title = "a\u001b[31m"            | title | cannot be printed | U+001B
        title = "a\u0000b"               | title | U+0000
        title = "a\u202eb"               | title | U+202E
        title = "a\u2066b"               | title | U+2066
        wood = "oak\u2028"               | strip.wood | U+2028
        sled = "key\u0007sled"           | machines.sled | U+0007
        "#,
    );
    let title = |text: &str| with_line(JOB, "title", &format!("title = '{text}'"));
    check(&[
        Case::job(title("a\u{202e}b"), &["job.toml:1:11", "title", "U+202E"]),
        Case::job(title(&"x".repeat(201)), &["job.toml:1:", "longer than 200"]),
    ]);
}

#[test]
fn lattices_that_cannot_be_built() {
    check_jobs(
        r#"
        kind = "round"                   | grid.kind | `round` is not known | one of: square
        kind = "squre"                   | grid.kind | did you mean `square`?
        columns = 0                      | grid.columns | 1 to 500
        columns = -4                     | grid.columns | 1 to 500
        columns = 501                    | grid.columns | 1 to 500
        rows = 99999999999999999999      | grid.rows | 1 to 500
        pitch = "3 mm"                   | grid.pitch | no opening | 5.05 mm or more
        pitch = "5 mm"                   | grid.pitch | leaves 1.95 mm of wood between notches
        pitch = "3 m"                    | grid.pitch | strips come out | 10000.00 mm
        overhang = "3.5 mm"              | grid.overhang | leaves 1.98 mm | 3.53 mm or more
        overhang = "0 mm"                | grid.overhang | ends within its first notch
        depth = "1.9 mm"                 | strip.depth | keeps 0.95 mm | 2.00 mm deep or more
        clearance = "1.6 mm"             | strip.clearance | more than half
        clearance = "-1.6 mm"            | strip.clearance | more than half
        least_web = "0 mm"               | strip.least_web | leaves no wood
        pitch -> pitches_x = [] @ [grid] | grid.pitch | neither `pitch` nor `pitches_y`
        columns -> pitches_x = []        | grid.pitches_x | 0 bays
        columns -> pitches_x = "40 mm"   | grid.pitches_x | as in `pitches_x = [ | job.toml:6:13
        columns -> pitches_x = ["9 mm", "4 mm"] | grid.pitches_x[1] | 0.95 mm | job.toml:6:22
        columns -> pitches_x = ["9 mm", 30]     | grid.pitches_x[1] | "30 mm" | job.toml:6:22
        pitch -> pitches_x = ["9 mm"] ;; columns = 2 ;; rows -> pitches_y = ["9 mm"] @ columns | grid.columns | 2 bays here, but 1 pitches
        columns -> pitches_x = ["9 mm"] ;; rows -> pitches_y = ["9 mm"] @ pitch | leave it out
        kind = "diamond" @ [grid]        | grid.angle | missing | grid.region | add `region`
        pitch = "4 mm" ;; overhang = "1 mm" ;; depth = "1 mm" | grid.pitch | strip.depth
        title = "\u0007" ;; rows = 0 ;; overhang -> overhagn = "1 mm" ;; depth = "3" ;; sled -> led = "x" | U+0007 | `sled`?
        "#,
    );
    let long = format!("pitches_x = [{}]", "\"9 mm\",".repeat(1001));
    let long = with_line(JOB, "columns", &long);
    check(&[Case::job(
        long,
        &["job.toml:6:", "grid.pitches_x", "1001 values"],
    )]);
}

#[test]
fn names_of_machines() {
    check_jobs(
        r#"
        sled = "key-sleds"               | machines.sled | `key-sleds` | shipped: key-sled
        sled = "small-router"            | machines.sled | is a router; a sled is wanted
        sled = "own.toml"                | machines.sled | own.toml | cannot be read
        sled = "../"                     | machines.sled | this is no profile file
        sled = ""                        | machines.sled | profile
        "#,
    );
    let job = |key, line| with_line(JOB, key, line);
    check(&[
        Case::job(
            job("sled", "sled = \"own.toml\""),
            &["job.toml:18:", "own.toml", "not UTF-8"],
        )
        .file("own.toml", b"\xff\xfe"),
        Case::args(
            &["notch", "job.toml", "-o", "kept.nc"],
            &["job.toml", "no router is named"],
        )
        .file("job.toml", job("router", "")),
        Case::args(
            &["build", "job.toml", "-o", "out"],
            &["job.toml", "names no machine"],
        )
        .file("job.toml", JOB.split("[machines]").next().unwrap()),
    ]);
}

#[test]
fn names_of_patterns() {
    let table = r#"
        pattern = "square-hemp-leaf-2"   | infill.pattern | no pattern is called | shipped: square-hemp
        pattern = "own.toml"             | infill.pattern | own.toml: this pattern file cannot be read
        pattern = "../"                  | infill.pattern | this is no pattern file
        pattern = 3                      | infill.pattern | type integer
        allowance = "-1 mm"              | infill.allowance | cannot be negative
        allowance -> edge = "cut"        | infill.edge | leave, fill
        allowance -> edge = true         | infill.edge | type boolean
        allowance -> length = "4 mm"     | infill.length | not known in [infill]"#;
    let infill = "[infill]\npattern = \"square-hemp-leaf\"\nallowance = \"4 mm\"\n\n[machines]";
    let text = JOB.replace("[machines]", infill);
    let case = |row| Case::row(row, "job.toml", &text, &["pare", "job.toml"]);
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn arguments_and_outputs() {
    let table = r"
        cut                                    | unrecognized subcommand
        sled                                   | --pitch | --bays | --overhang | --depth | missing
        sled job.toml --pitch 40mm             | JOB | --pitch | cannot be used
        sled job.toml --angle 60deg            | JOB | --angle | cannot be used
        sled none.toml                         | none.toml | cannot be read
        sled .                                 | this is no job file
        sled job.toml --units ell              | --units | mm, in
        sled job.toml --machine no             | --machine | `no` | shipped: key-sled
        sled job.toml --machine no.toml        | --machine | no.toml | cannot be read
        sled job.toml --machine tube-laser     | --machine | a sled is wanted here
        machine check job.toml                 | job.toml | about | kind | missing
        machine show nothing                   | `nothing` | shipped: key-sled
        machine new --like none -o new.toml    | --like | `none`
        machine new --like key-sled -o job.toml | job.toml | there already
        notch job.toml                         | --output
        notch job.toml -o none/a.nc            | none/a-1.nc | No such file
        notch job.toml -o out/a.nc             | a-2.nc | a folder or a device
        outline job.toml -o x.dxf              | --what
        outline job.toml --what wall -o x.dxf  | --what | strips
        outline job.toml --what panel -o x.txt | ends in .svg or .dxf
        outline job.toml --what gauge --sled key-sled -o x.dxf | --sled | rack
        outline job.toml --what strips --slots 3mm -o x.dxf | --slots | comb
        outline job.toml --what comb --slots -3mm -o x.dxf | --slots
        outline job.toml --what comb --slots 3 -o x.dxf | no unit
        outline job.toml --what comb --slots 3mm,3mm -o x.dxf | twice
        outline job.toml --what comb --slots 0.1mm -o x.dxf | kerf
        outline job.toml --what rack --slots 3mm -o x.dxf | key-too-near
        outline job.toml --what rack --sled tube-laser -o x.dxf | --sled | a sled is wanted
        outline job.toml --what rack --slots 2000mm -o x.dxf | does-not-fit-sheet
        pare job.toml                          | job.toml | the job has no pieces | [infill]
        pattern show nothing                   | `nothing` | shipped: square-hemp-leaf
        pattern check job.toml                 | job.toml
        pattern check fine-hemp-leaf --pitch 40mm --thickness 6mm | greatest | too-thick | too thick for this figure | 0.12 of the pitch
        prove none.nc job.toml                 | none.nc | No such file
        prove out                              | out | at most 1 GB
        outline job.toml --what strips -o x --dxf r9    | --dxf | r2000
        outline job.toml --what strips -o job.toml      | job.toml | never overwritten
        outline job.toml --what strips -o out/../job.toml | job.toml | never overwritten
        outline job.toml --what strips -o out           | out | a folder or a device
        notch job.toml -o own.toml --machine own-1.toml | own-1.toml | never overwritten
        build job.toml -o kept.nc              | kept.nc
        build job.toml -o job.toml             | job.toml
        build out/sled.txt -o out              | sled.txt | never overwritten";
    let case = |row: &str| {
        let (args, says) = row.split_once('|').unwrap();
        let args: Vec<&str> = args.split_whitespace().collect();
        let says: Vec<&str> = says.split('|').map(str::trim).collect();
        // `out` holds a job, and a folder that stands in the way of a second program.
        Case::args(&args, &says)
            .file("out/sled.txt", JOB)
            .file("out/a-2.nc/x", "")
            .file("own-1.toml", shipped("small-router"))
    };
    check(&rows(table).map(case).collect::<Vec<_>>());
    let flag = |flag: &str, value: &'static str, says: &str| {
        let mut args = FLAGS;
        let at = args.iter().position(|known| *known == flag).unwrap();
        args[at + 1] = value;
        Case::args(&args, &[flag, "command line:1:", says])
    };
    let angle = |value: &'static str, says: &str| {
        let mut args = FLAGS.to_vec();
        args.extend(["--angle", value]);
        Case::args(&args, &["--angle", "command line:1:", says])
    };
    check(&[
        Case::args(&FLAGS[..9], &["--depth", "missing"]),
        flag("--pitch", "42", "no unit"),
        flag("--pitch", "2mm", "no opening"),
        flag("--bays", "0", "1 to 500"),
        flag("--bays", "four", "whole number"),
        flag("--overhang", "1/0in", "divides by zero"),
        flag("--depth", "-5mm", "cannot be negative"),
        angle("60", "no unit"),
        angle("-60deg", "cannot be negative"),
        angle("19.9deg", "cross too sharply"),
        angle("161deg", "cross too sharply"),
        Case::args(
            &["notch", "job.toml", "-o", ""],
            &["--output", "a name is missing"],
        ),
        Case::args(
            &["notch", "job.toml", "-o", "a\n.nc"],
            &["--output", "control character"],
        ),
    ]);
}
