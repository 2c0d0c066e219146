//! A folder of its own in which the program is run.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// A job that every shipped machine of its kinds can make. Tests replace lines of it.
pub const JOB: &str = r#"title = "Tea cupboard door"

[grid]
kind = "square"
pitch = "40 mm"
columns = 4
rows = 5
overhang = "15 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
least_web = "2 mm"
wood = "linden"

[machines]
sled = "key-sled"
laser = "tube-laser"
router = "small-router"
"#;

/// The same 40 mm lattice, slimmer, from flags alone.
pub const FLAGS: [&str; 11] = [
    "sled",
    "--pitch",
    "42mm",
    "--bays",
    "4",
    "--overhang",
    "15mm",
    "--thickness",
    "3mm",
    "--depth",
    "12mm",
];

/// What a run came to.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// The answer, parsed.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}:\n{}", self.out))
    }
}

/// A folder with files.
pub struct Bench {
    folder: TempDir,
}

impl Bench {
    pub fn new() -> Self {
        Bench {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    /// A bench with [`JOB`] as `job.toml`.
    pub fn with_job() -> Self {
        let bench = Bench::new();
        bench.write("job.toml", JOB);
        bench
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, content: impl AsRef<[u8]>) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, content).unwrap();
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// The program, about to be run in the folder.
    pub fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lapwright"));
        command.args(args).current_dir(self.folder.path());
        command.stdin(Stdio::null());
        command
    }

    pub fn run(&self, args: &[&str]) -> Ran {
        let output = self.command(args).output().unwrap();
        Ran {
            code: output.status.code().expect("ended by a signal"),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// A run that must succeed.
    pub fn ok(&self, args: &[&str]) -> Ran {
        let ran = self.run(args);
        assert_eq!(ran.code, 0, "{args:?}:\n{}", ran.err);
        ran
    }

    /// Everything in the folder: folders, and files with their content.
    pub fn contents(&self) -> BTreeMap<PathBuf, Option<Vec<u8>>> {
        let mut found = BTreeMap::new();
        gather(self.folder.path(), &mut found);
        found
    }
}

fn gather(folder: &Path, found: &mut BTreeMap<PathBuf, Option<Vec<u8>>>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(&path, found);
            found.insert(path, None);
        } else {
            let content = fs::read(&path).unwrap();
            found.insert(path, Some(content));
        }
    }
}

/// The text of a shipped profile.
pub fn shipped(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("profiles/{name}.toml"));
    fs::read_to_string(path).unwrap()
}

/// `text` with the line of this key replaced.
pub fn with_line(text: &str, key: &str, line: &str) -> String {
    let number = line_of(text, key);
    let lines = text.lines().enumerate();
    let lines = lines.map(|(at, old)| if at + 1 == number { line } else { old });
    lines.collect::<Vec<_>>().join("\n") + "\n"
}

/// Number of the line that starts with this key or text.
pub fn line_of(text: &str, key: &str) -> usize {
    let starts = |line: &str| {
        line.strip_prefix(key).is_some_and(|rest| {
            key.starts_with('[') || rest.is_empty() || rest.starts_with([' ', '.', '='])
        })
    };
    let at = text.lines().position(starts);
    at.unwrap_or_else(|| panic!("no line starts with {key}")) + 1
}
