//! No input is overwritten: every command that writes, every kind of input, every way to name a file.

use crate::support::cli::{Bench, JOB, shipped, with_line};
use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;

/// A command that writes.
struct Writes {
    /// Its arguments; `{out}` stands for what it is asked to write, `{job}`, `{program}` and others
    /// of [`KINDS`] for the inputs.
    args: &'static str,
    /// What it is asked to write, and one of the files that it writes then.
    out: &'static str,
    file: &'static str,
    /// What it reads, or may not overwrite because the job names it.
    inputs: &'static [&'static str],
}

/// Inputs by what the command line has them for, and what a refusal calls them.
const KINDS: [(&str, &str); 9] = [
    ("job", "the job"),
    ("sled", "a machine's profile"),
    ("laser", "a machine's profile"),
    ("router", "a machine's profile"),
    ("guides", "a machine's profile"),
    ("pattern", "the pattern"),
    ("own-router", "a machine's profile"),
    ("own-sled", "a machine's profile"),
    ("program", "the program or drawing that is proved"),
];

const OF_JOB: &[&str] = &["job", "sled", "laser", "router", "guides", "pattern"];

const COMMANDS: &[Writes] = &[
    Writes {
        args: "outline {job} --what strips -o {out}",
        out: "o/a.dxf",
        file: "o/a.dxf",
        inputs: OF_JOB,
    },
    Writes {
        args: "outline {job} --what pieces -o {out}",
        out: "o/a.svg",
        file: "o/a.svg",
        inputs: &["job", "router", "pattern"],
    },
    Writes {
        args: "outline {job} --what panel -o {out}",
        out: "o/a.svg",
        file: "o/a.svg",
        inputs: &["job", "router", "pattern"],
    },
    Writes {
        args: "outline {job} --what rack --sled {own-sled} -o {out}",
        out: "o/a.dxf",
        file: "o/a.dxf",
        inputs: &["job", "sled", "own-sled"],
    },
    Writes {
        args: "notch {job} -o {out}",
        out: "o/a.nc",
        file: "o/a-2.nc",
        inputs: OF_JOB,
    },
    Writes {
        args: "notch {job} --machine {own-router} -o {out}",
        out: "o/a.nc",
        file: "o/a-1.nc",
        inputs: &["job", "router", "own-router"],
    },
    Writes {
        args: "rails {job} -o {out}",
        out: "o/a.nc",
        file: "o/a-1.nc",
        inputs: &["job", "router", "pattern"],
    },
    Writes {
        args: "pare {job} --csv {out}",
        out: "o/a.csv",
        file: "o/a.csv",
        inputs: &["job", "guides", "router", "pattern"],
    },
    Writes {
        args: "pattern show {pattern} -o {out}",
        out: "o/a.svg",
        file: "o/a.svg",
        inputs: &["pattern"],
    },
    Writes {
        args: "prove {program} {job} --picture {out}",
        out: "o/a.svg",
        file: "o/a.svg",
        inputs: &[
            "job", "sled", "laser", "router", "guides", "pattern", "program",
        ],
    },
    Writes {
        args: "prove {program} {job} --machine {own-router} --picture {out}",
        out: "o/a.svg",
        file: "o/a.svg",
        inputs: &["router", "own-router"],
    },
    Writes {
        args: "prove {program} --stock 70mm,15mm,12mm --tool 2mm --picture {out}",
        out: "o/a.svg",
        file: "o/a.svg",
        inputs: &["program"],
    },
    Writes {
        args: "build {job} -o {out}",
        out: "o",
        file: "o/panel.svg",
        inputs: &["job", "router", "pattern"],
    },
    Writes {
        args: "build {job} -o {out}",
        out: "o/n",
        file: "o/n/notches-1.nc",
        inputs: &["router"],
    },
    Writes {
        args: "build {job} -o {out}",
        out: "o",
        file: "o/manifest.json",
        inputs: &["job"],
    },
    // The folder itself has an input's name.
    Writes {
        args: "build {job} -o {out}",
        out: "o",
        file: "o",
        inputs: &["job", "router", "pattern"],
    },
    Writes {
        args: "sheet {job} -o {out}",
        out: "o/a.html",
        file: "o/a.html",
        inputs: &["job", "router", "pattern"],
    },
    Writes {
        args: "sheet {job} -o {out}",
        out: "o/a.pdf",
        file: "o/a.pdf",
        inputs: &["laser"],
    },
];

/// How the file that would be written and the input are the same.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Same {
    /// The input lies where the output would.
    Path,
    /// The same, by another spelling.
    Detour,
    /// The same, through a link to the folder.
    LinkedFolder,
    /// A symbolic link to the input lies there.
    Link,
    /// A hard link to it.
    HardLink,
}

const WAYS: [Same; 5] = [
    Same::Path,
    Same::Detour,
    Same::LinkedFolder,
    Same::Link,
    Same::HardLink,
];

/// Few cells, so that a run is short; a frame and a pattern, so that all of it is in use.
fn job(bench: &Bench, place: &dyn Fn(&str) -> String) -> String {
    let mut job = with_line(JOB, "columns", "columns = 2");
    job = with_line(&job, "rows", "rows = 3");
    job = with_line(&job, "depth", "depth = \"8 mm\"");
    for kind in ["sled", "laser", "router"] {
        let path = bench.path(&place(kind)).display().to_string();
        job = with_line(&job, kind, &format!("{kind} = {path:?}"));
    }
    let path = |kind: &str| bench.path(&place(kind)).display().to_string();
    job.push_str(&format!("guides = {:?}\n", path("guides")));
    job.push_str("\n[frame]\nthickness = \"20 mm\"\nmortise_depth = \"6 mm\"\n");
    job.push_str(&format!("\n[infill]\npattern = {:?}\n", path("pattern")));
    job
}

fn content(bench: &Bench, kind: &str, place: &dyn Fn(&str) -> String, program: &str) -> String {
    match kind {
        "job" => job(bench, place),
        "program" => program.to_owned(),
        "sled" | "own-sled" => shipped("key-sled"),
        "laser" => shipped("tube-laser"),
        "guides" => shipped("paring-guides"),
        "pattern" => shipped("patterns/single-diagonal"),
        _ => shipped("small-router"),
    }
}

/// A run with one of its inputs where it would write.
fn check(command: &Writes, input: &str, same: Same, program: &str) {
    let bench = Bench::new();
    let apart = |kind: &str| format!("in/{kind}.toml");
    let lies_there = matches!(same, Same::Path | Same::Detour | Same::LinkedFolder);
    let place = |kind: &str| match kind {
        _ if kind == input && lies_there => command.file.to_owned(),
        _ => apart(kind),
    };
    for (kind, _) in KINDS {
        bench.write(&place(kind), content(&bench, kind, &place, program));
    }
    let (source, target) = (bench.path(&apart(input)), bench.path(command.file));
    fs::create_dir_all(target.parent().unwrap()).unwrap();
    match same {
        Same::Link => symlink(&source, &target).unwrap(),
        Same::HardLink => fs::hard_link(&source, &target).unwrap(),
        Same::LinkedFolder => symlink("o", bench.path("linked")).unwrap(),
        Same::Path | Same::Detour => {}
    }
    let out = match same {
        Same::Detour => format!("./in/.././{}", command.out),
        Same::LinkedFolder => command.out.replacen('o', "linked", 1),
        _ => command.out.to_owned(),
    };
    let before = bench.contents();
    let filled = KINDS
        .iter()
        .fold(command.args.to_owned(), |args, (kind, _)| {
            args.replace(&format!("{{{kind}}}"), &place(kind))
        });
    let args: Vec<String> = filled
        .split(' ')
        .map(|word| word.replace("{out}", &out))
        .collect();
    let ran = bench.run(&args.iter().map(String::as_str).collect::<Vec<_>>());
    let told = format!("{input}, {same:?}: {args:?}: {}\n{}", ran.code, ran.err);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{told}");
    let (_, words) = KINDS.iter().find(|(kind, _)| *kind == input).unwrap();
    let name = Path::new(&place(input)).file_name().unwrap().to_owned();
    for said in [words, "never overwritten", name.to_str().unwrap()] {
        assert!(ran.err.contains(said), "{said} is not said: {told}");
    }
    assert!(bench.contents() == before, "{told}");
}

#[test]
fn no_command_overwrites_an_input_by_any_name() {
    let bench = Bench::new();
    let place = |kind: &str| format!("in/{kind}.toml");
    for (kind, _) in KINDS.iter().filter(|(kind, _)| *kind != "program") {
        bench.write(&place(kind), content(&bench, kind, &place, ""));
    }
    bench.ok(&["notch", "in/job.toml", "-o", "a.nc"]);
    let program = bench.read("a-1.nc");
    for command in COMMANDS {
        for input in command.inputs {
            for same in WAYS {
                check(command, input, same, &program);
            }
        }
    }
}

/// Whatever a build writes is looked at, not the first file alone.
#[test]
fn no_file_of_a_build_takes_an_inputs_place() {
    let bench = Bench::new();
    let place = |kind: &str| format!("in/{kind}.toml");
    for (kind, _) in KINDS {
        bench.write(&place(kind), content(&bench, kind, &place, ""));
    }
    bench.ok(&["build", "in/job.toml", "-o", "out"]);
    let written = bench.contents().into_keys();
    let written: Vec<_> = written
        .filter(|path| path.starts_with(bench.path("out")) && path.is_file())
        .collect();
    assert!(written.len() > 10, "{written:?}");
    for path in written {
        let old = fs::read(&path).unwrap();
        fs::remove_file(&path).unwrap();
        fs::hard_link(bench.path("in/router.toml"), &path).unwrap();
        let before = bench.contents();
        let ran = bench.run(&["build", "in/job.toml", "-o", "out"]);
        assert_eq!(ran.code, 2, "{}: {}", path.display(), ran.err);
        assert!(ran.err.contains("router.toml"), "{}", ran.err);
        assert!(bench.contents() == before, "{}", path.display());
        fs::remove_file(&path).unwrap();
        fs::write(&path, old).unwrap();
    }
}

/// Not named by the job and not read: an old output, which is there to be replaced.
#[test]
fn what_is_no_input_is_replaced() {
    let bench = Bench::with_job();
    bench.write("other.toml", shipped("small-router"));
    bench.ok(&[
        "outline",
        "job.toml",
        "--what",
        "strips",
        "-o",
        "other.toml",
    ]);
    assert!(
        bench.read("other.toml").starts_with("999") || bench.read("other.toml").contains("SECTION")
    );
}
