//! What damaged files are handed to.

use crate::corpus;
use crate::damage::Damage;
use lapwright::making::SheetParts;
use lapwright::proving::{ProgramQuestion, prove_alone, prove_drawings, prove_program};
use lapwright::reading::{ReadingsFormat, read_readings};
use lapwright::verification::Workpiece;
use lapwright::verification::gcode::block::GcodeBlock;
use lapwright::{
    Job, JobOrder, Laser, MachineProfile, Made, Router, UnitSystem, Unreadable, Workshop, read_job,
    read_machine, read_pattern, shipped_machine, shipped_pattern,
};

/// The job that programs and drawings are held against.
pub const SMALL_JOB: &str = "title = \"Small\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 2\nrows = 3\n\
    overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"9 mm\"\nclearance = \"0.05 mm\"\n\
    [infill]\npattern = \"square-hemp-leaf\"\n\
    [machines]\nsled = \"key-sled\"\nlaser = \"tube-laser\"\nrouter = \"small-router\"\n";

/// What messages call a damaged file.
const NAME: &str = "damaged.toml";

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    /// Lines of a program.
    Words,
    Programs,
    Drawings,
    Jobs,
    /// Jobs, and all that is made of those that can be read.
    Made,
    Machines,
    Patterns,
    Readings,
}

impl Target {
    const ALL: [(&'static str, Target); 8] = [
        ("words", Target::Words),
        ("programs", Target::Programs),
        ("drawings", Target::Drawings),
        ("jobs", Target::Jobs),
        ("made", Target::Made),
        ("machines", Target::Machines),
        ("patterns", Target::Patterns),
        ("readings", Target::Readings),
    ];

    pub const NAMES: [&'static str; 8] = {
        let mut names = [""; 8];
        let mut at = 0;
        while at < 8 {
            names[at] = Self::ALL[at].0;
            at += 1;
        }
        names
    };

    pub fn named(name: &str) -> Option<Target> {
        Self::ALL
            .iter()
            .find(|(own, _)| *own == name)
            .map(|(_, target)| *target)
    }

    pub fn name(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, target)| *target == self)
            .map_or("", |(name, _)| name)
    }

    pub fn corpus(self) -> Vec<Vec<u8>> {
        match self {
            Target::Words | Target::Programs => corpus::programs(),
            Target::Drawings => corpus::drawings(),
            Target::Jobs | Target::Made => corpus::jobs(),
            Target::Machines => corpus::machines(),
            Target::Patterns => corpus::patterns(),
            Target::Readings => corpus::readings(),
        }
    }

    pub fn case(self, damage: &mut Damage) -> Vec<u8> {
        match self {
            Target::Words => damage.block(),
            _ => damage.file(),
        }
    }

    pub fn bench(self) -> Bench {
        let read = |name: &str| read_machine(name, shipped_machine(name).unwrap().text).unwrap();
        Bench {
            target: self,
            job: read_job("small.toml", SMALL_JOB).unwrap(),
            sled: read("key-sled"),
            workshop: Workshop::new(
                ["key-sled", "tube-laser", "small-router", "paring-guides"].map(read),
            ),
        }
    }
}

/// What stands ready for all cases of a target.
pub struct Bench {
    target: Target,
    job: Job,
    sled: MachineProfile,
    workshop: Workshop,
}

impl Bench {
    /// Whether a file is accepted.
    ///
    /// # Errors
    /// What is wrong with how it is refused.
    pub fn takes(&mut self, bytes: &[u8]) -> Result<bool, String> {
        let text = || String::from_utf8_lossy(bytes);
        match self.target {
            Target::Words => Ok(GcodeBlock::read(bytes, 1).is_ok()),
            Target::Programs => self.program(bytes),
            Target::Drawings => self.drawing(bytes),
            Target::Jobs => placed(read_job(NAME, &text())).map(|job| job.is_some()),
            Target::Made => {
                Ok(placed(read_job(NAME, &text()))?.is_some_and(|job| self.makes(&job)))
            }
            Target::Machines => placed(read_machine(NAME, &text())).map(|read| read.is_some()),
            Target::Patterns => placed(read_pattern(NAME, &text())).map(|read| read.is_some()),
            Target::Readings => {
                let forms = [ReadingsFormat::Toml, ReadingsFormat::Csv];
                let read = forms
                    .map(|form| placed(read_readings(NAME, &text(), form, &self.sled.machine)));
                let [toml, csv] = read;
                Ok(toml?.is_some() | csv?.is_some())
            }
        }
    }

    fn program(&self, bytes: &[u8]) -> Result<bool, String> {
        let stock = Workpiece::plain(1, 15.0, 12.0, 250.0);
        let alone = prove_alone("damaged.nc", bytes, stock, 2.0);
        let question = ProgramQuestion {
            file: "damaged.nc",
            bytes,
            lattice: self.job.panel.lattice(),
            frame: None,
            pieces: None,
            router: self.workshop.machine::<Router>().unwrap(),
            bundle: None,
            rail: None,
            part: None,
        };
        let Ok(beside) = prove_program(&question) else {
            return Err("no answer".into());
        };
        let told = alone.answer.faults.iter().chain(&beside.answer.faults);
        if let Some(fault) = told.clone().find(|fault| fault.text.is_empty()) {
            return Err(format!("a fault without words: {}", fault.code));
        }
        Ok(beside.answer.faults.is_empty())
    }

    fn drawing(&self, bytes: &[u8]) -> Result<bool, String> {
        let laser = self.workshop.machine::<Laser>().unwrap();
        let parts = SheetParts::of_strips(&self.job.panel, self.job.panel.lattice(), laser.machine);
        let names = ["damaged.dxf".to_owned()];
        let proof = prove_drawings(&names, &[bytes], &parts, None, &[]);
        match proof
            .answer
            .faults
            .iter()
            .find(|fault| fault.text.is_empty())
        {
            Some(fault) => Err(format!("a fault without words: {}", fault.code)),
            None => Ok(proof.answer.faults.is_empty()),
        }
    }

    /// Whether something can be made of a job.
    fn makes(&self, job: &Job) -> bool {
        let shipped = |name: &str| {
            Some(
                read_pattern(name, shipped_pattern(name)?.text)
                    .ok()?
                    .pattern,
            )
        };
        let patterns: Option<Vec<_>> = job.pattern_names().map(shipped).collect();
        let Some(patterns) = patterns else {
            return false;
        };
        let order = JobOrder {
            patterns: &patterns,
            ..JobOrder::new(job, &self.workshop)
        };
        Made::of(&order).is_ok_and(|made| !made.files.is_empty())
    }
}

/// What was read, or nothing where it was refused as it should be: with something wrong, in words, each with
/// the file and a field or line.
fn placed<T>(read: Result<T, Unreadable>) -> Result<Option<T>, String> {
    let refused = match read {
        Ok(read) => return Ok(Some(read)),
        Err(refused) => refused,
    };
    if refused.findings.is_empty() {
        return Err("refused, and nothing is wrong".into());
    }
    for finding in &refused.findings {
        let one = std::slice::from_ref(finding);
        let told = refused.source.report(one, UnitSystem::Millimetres);
        let (file, line) = (told.contains(NAME), told.contains(&format!("{NAME}:")));
        let words = !finding
            .message
            .text(UnitSystem::Millimetres)
            .trim()
            .is_empty();
        // What is said of a whole file that is none of the program's needs no line.
        let place = line || !finding.field.is_empty() || refused.is_not_ours();
        if !(words && file && place) {
            return Err(format!(
                "refused without a place or words: {} {}",
                finding.code, told
            ));
        }
    }
    Ok(None)
}
