//! One job, one truth: whatever is written of a job, by one command or another, as text, page, data, drawing or
//! program, gives the same figures; and the same bytes at every run, wherever and however it is run.

mod damage;
mod machines;
mod made_up;
mod panel;
mod readers;
#[cfg(unix)]
mod same_bytes;
#[allow(
    dead_code,
    unreachable_pub,
    reason = "the saw's own tests use more of it"
)]
#[path = "../../saw/made_up.rs"]
mod slanted_texts;

use crate::support::cli::{Bench, Ran};
use crate::support::cores::on_all_cores;
use crate::support::poppler;
use made_up::{Case, bench, cases};
use readers::{Rows, lines, page_words, table_rows};
use serde_json::Value;
use std::cell::RefCell;
use std::rc::Rc;

/// How many made-up jobs are read back.
const JOBS: usize = 30;

/// All that `build` made of a job, and how the single commands answer.
struct Built<'a> {
    case: &'a Case,
    bench: Rc<Bench>,
    /// The set-up sheet as a page: its tables, all its writing.
    tables: Rows,
    page: Vec<String>,
    /// As a document.
    document: Rows,
    /// The panel at a glance.
    shown: Value,
    /// What was found to differ.
    differs: RefCell<Vec<String>>,
}

/// How often figures were compared, by what holds them.
#[derive(Debug, Default, Clone, Copy)]
struct Compared {
    strips: usize,
    notches: usize,
    stops: usize,
    keys: usize,
    slots: usize,
    outlines: usize,
    pieces: usize,
    blocks: usize,
    sticks: usize,
}

impl Compared {
    fn all(self) -> [usize; 9] {
        let Compared {
            strips,
            notches,
            stops,
            keys,
            slots,
            outlines,
            pieces,
            blocks,
            sticks,
        } = self;
        [
            strips, notches, stops, keys, slots, outlines, pieces, blocks, sticks,
        ]
    }
}

impl<'a> Built<'a> {
    /// Builds a job, without its pieces where these cannot be.
    fn of(case: &'a Case) -> Built<'a> {
        let bench = bench(case);
        let build = || bench.run(&["build", "job.toml", "-o", "out", "--units", case.unit]);
        let mut ran = build();
        if ran.code == 2 {
            let (before, after) = case
                .toml
                .split_once("[infill]")
                .unwrap_or_else(|| panic!("{}: {}", case.name, ran.err));
            let rest = after.split_once("[machines]").unwrap().1;
            bench.write("job.toml", format!("{before}[machines]{rest}"));
            ran = build();
        }
        assert!(ran.code < 2, "{}: {}", case.name, ran.err);
        Built::read(case, Rc::new(bench))
    }

    /// What stands in the folder now.
    fn read_again(&self) -> Built<'a> {
        Built::read(self.case, Rc::clone(&self.bench))
    }

    fn read(case: &'a Case, bench: Rc<Bench>) -> Built<'a> {
        let html = bench.read("out/set-up.html");
        let paper = bench.path("out/set-up.pdf");
        // As it stands on the page, and as it is written: of two tables beside each other the rows of one may lie
        // between those of the other.
        let read = ["-layout", "-raw"].map(|way| {
            let text = poppler("pdftotext", &[way, paper.to_str().unwrap(), "-"]);
            lines(&String::from_utf8_lossy(&text))
        });
        let shown = bench.ok(&["show", "job.toml", "--format", "json"]).json();
        Built {
            case,
            shown,
            tables: table_rows(&html, case.unit),
            page: page_words(&html, case.unit),
            document: read.concat(),
            bench,
            differs: RefCell::default(),
        }
    }

    /// Notes what does not agree; one job tells all of it.
    fn check(&self, agrees: bool, what: impl FnOnce() -> String) {
        if !agrees {
            let told = format!("{}: {}", self.case.name, what());
            self.differs
                .borrow_mut()
                .push(told.chars().take(600).collect());
        }
    }

    fn json(&self, name: &str) -> Option<Value> {
        let path = format!("out/{name}.json");
        self.bench
            .path(&path)
            .is_file()
            .then(|| serde_json::from_str(&self.bench.read(&path)).unwrap())
    }

    fn text(&self, name: &str) -> Rows {
        lines(&self.bench.read(&format!("out/{name}.txt")))
    }

    /// A single command's answer in this form.
    fn alone(&self, command: &[&str], format: &str) -> Ran {
        let flags = ["job.toml", "--units", self.case.unit, "--format", format];
        let ran = self.bench.run(&[command, &flags].concat());
        assert!(ran.code < 2, "{}: {command:?}: {}", self.case.name, ran.err);
        ran
    }

    fn printed(&self, mm: &Value) -> String {
        readers::printed(readers::number(mm), self.case.unit)
    }

    /// Whether sheet, page and document have a row with these words, the first one anywhere before the rest.
    fn all_say(&self, sheet: &Rows, first: &str, words: &[String]) {
        for (what, rows) in [
            ("text", sheet),
            ("page", &self.tables),
            ("document", &self.document),
        ] {
            let said = readers::says_after(rows, first, words);
            self.check(said, || {
                format!("the {what} has no row {first} .. {words:?}")
            });
        }
    }
}

#[test]
fn whatever_is_written_of_a_job_has_the_same_figures() {
    let cases = cases(JOBS);
    let compared = on_all_cores(&cases, |case| {
        let built = Built::of(case);
        let mut compared = Compared::default();
        machines::sled(&built, &mut compared);
        machines::router(&built, &mut compared);
        panel::strips(&built, &mut compared);
        panel::outlines(&built, &mut compared);
        panel::pieces(&built, &mut compared);
        panel::sticks(&built, &mut compared);
        (compared, built.differs.into_inner())
    });
    let differs: Vec<&String> = compared.iter().flat_map(|(_, differs)| differs).collect();
    assert!(
        differs.is_empty(),
        "{} differ: {:#?}",
        differs.len(),
        &differs[..differs.len().min(40)]
    );
    let mut sum = [0; 9];
    for (one, _) in &compared {
        for (sum, count) in sum.iter_mut().zip(one.all()) {
            *sum += count;
        }
    }
    // None of these is left out for want of cases.
    for (least, sum) in [60, 300, 60, 20, 150, 100, 20, 20, 60].iter().zip(sum) {
        assert!(sum >= *least, "{sum:?} of {least}");
    }
}
