//! The Python that has the outside readers. Loading these takes longer than most of what is asked
//! of them, so that a process is kept for the next script; each script runs in a fork of it.

use super::tool;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::Mutex;

/// A process that waits for requests, in the form of `tests/reference/scripts.py`; it ends when
/// the tests do.
struct Scripts {
    _process: Child,
    requests: ChildStdin,
    answers: BufReader<ChildStdout>,
}

/// Processes that no thread is using.
static IDLE: Mutex<Vec<Scripts>> = Mutex::new(Vec::new());

/// What a script came to.
pub struct Ran {
    pub succeeded: bool,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// What the script printed as JSON. Panics where it failed.
    pub fn json(&self) -> Value {
        assert!(self.succeeded, "{}", self.err);
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}:\n{}", self.out))
    }
}

impl Scripts {
    fn start() -> Self {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference");
        let mut process = Command::new(tool("LAPWRIGHT_REFERENCE_PYTHON"))
            .arg(folder.join("scripts.py"))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        Scripts {
            requests: process.stdin.take().unwrap(),
            answers: BufReader::new(process.stdout.take().unwrap()),
            _process: process,
        }
    }

    fn run(&mut self, request: &Value) -> Ran {
        writeln!(self.requests, "{request}").unwrap();
        let mut answer = String::new();
        self.answers.read_line(&mut answer).unwrap();
        let answer: Value = serde_json::from_str(&answer).expect("scripts.py has ended");
        let text = |key: &str| answer[key].as_str().unwrap().to_owned();
        Ran {
            succeeded: answer["status"] == 0,
            out: text("out"),
            err: text("err"),
        }
    }
}

/// Runs a script of `tests/reference` to its end with a text on its standard input.
pub fn run_script(name: &str, arguments: &[&Path], input: &str) -> Ran {
    let arguments: Vec<&str> = arguments
        .iter()
        .map(|path| path.to_str().unwrap())
        .collect();
    let request = json!({ "script": name, "arguments": arguments, "input": input });
    let idle = IDLE.lock().unwrap().pop();
    let mut scripts = idle.unwrap_or_else(Scripts::start);
    let ran = scripts.run(&request);
    IDLE.lock().unwrap().push(scripts);
    ran
}
