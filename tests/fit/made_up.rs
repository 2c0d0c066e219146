//! Jobs and sleds made up for these tests.

use lapwright::machines::{Chosen, Machine, Sled, SledWork};
use lapwright::predicting::{FitOrder, Notcher, USUAL_SEED};
use lapwright::reading::{Job, read_job, read_machine};

/// A square grid of so many bays, 40 mm apart, of strips 3 mm thick.
pub fn job(columns: usize, rows: usize, clearance: &str, more: &str) -> Job {
    let text = job_text(columns, rows, clearance, more);
    read_job("job.toml", &text).unwrap_or_else(|bad| panic!("{:?}", bad.findings))
}

pub fn job_text(columns: usize, rows: usize, clearance: &str, more: &str) -> String {
    format!(
        "title = \"made up\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = {columns}\nrows = {rows}\n\
         overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"{clearance}\"\n{more}"
    )
}

/// A sled of which every plus or minus is said.
pub struct SledText {
    pub kerf: &'static str,
    pub block: &'static str,
    pub stop: &'static str,
    pub rack: &'static str,
    pub spread: &'static str,
}

/// By the stop alone, two passes for 3 mm and what comes on top.
pub const BY_STOP: SledText = SledText {
    kerf: "2.4 mm",
    block: "30 mm",
    stop: "0.03 mm",
    rack: "",
    spread: "kerf = \"0.01 mm\"\nstrip_thickness = \"0.02 mm\"\nheight = \"0.05 mm\"\nseat = \"0.01 mm\"\n",
};

/// Over the key; both slots measured, one of them long.
pub const BY_KEY: SledText = SledText {
    kerf: "2.4 mm",
    block: "12 mm",
    stop: "0.2 mm",
    rack: "[rack]\nslots = [\"40 mm\"]\nmeasured = [\"40.01 mm\"]\nrepeatability = \"0.01 mm\"\n\
           greatest_misfit = \"0.1 mm\"\n",
    spread: "kerf = \"0.01 mm\"\nstrip_thickness = \"0.02 mm\"\nheight = \"0.05 mm\"\nseat = \"0.01 mm\"\n\
             key = \"0.005 mm\"\n",
};

impl SledText {
    pub fn text(&self) -> String {
        format!(
            "about = \"made up\"\nkind = \"sled\"\n[blade]\npowered = true\nkerf = \"{}\"\ntooth = \"flat-top\"\n\
             diameter = \"254 mm\"\nhighest = \"75 mm\"\ntravel = \"500 mm\"\noverlap = \"0.3 mm\"\n\
             [sled]\nbase_thickness = \"12 mm\"\nwidest_block = \"{}\"\nshortest_strip = \"60 mm\"\n\
             longest_strip = \"2000 mm\"\n[stop]\nnearest = \"0 mm\"\nfarthest = \"1500 mm\"\nrepeatability = \"{}\"\n\
             {}[spread]\n{}",
            self.kerf, self.block, self.stop, self.rack, self.spread
        )
    }

    pub fn sled(&self) -> Sled {
        let text = self.text();
        let read = read_machine("sled.toml", &text);
        let profile = read.unwrap_or_else(|bad| panic!("{:?}\n{text}", bad.findings));
        let Machine::Sled(sled) = profile.machine else {
            panic!("no sled")
        };
        sled
    }
}

pub fn order(job: &Job, draws: usize) -> FitOrder<'_> {
    FitOrder {
        panel: &job.panel,
        frame: job.frame.as_ref(),
        pieces: None,
        wishes: job.fit,
        draws: Some(draws),
        seed: USUAL_SEED,
    }
}

pub fn on(sled: &Sled) -> Notcher<'_> {
    worked(sled, SledWork::default())
}

pub fn worked(sled: &Sled, work: SledWork) -> Notcher<'_> {
    let chosen = Chosen {
        name: "made up",
        machine: sled,
    };
    Notcher::Sled(chosen, work)
}

/// Numbers from 0 to 1, by a small generator of the tests' own.
pub struct Numbers(pub u64);

impl Numbers {
    pub fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn about(&mut self, half: f64) -> f64 {
        half * (2.0 * self.next() - 1.0)
    }
}
