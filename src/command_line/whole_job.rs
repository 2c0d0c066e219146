//! What `build` and `sheet` share: a job with all its machines, and how it is told what they lack.

use super::answers::{Failure, Outcome, Shown, tell};
use super::inputs::{self, MachineFlags, PatternFiles};
use crate::finding::Finding;
use crate::infill::Pattern;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::Station;
use crate::making::{JobOrder, Lacking, Made, NotMade, Workshop, advice};
use crate::reading::{Documents, Job, MachineProfile};
use crate::sheets::advice_words;
use crate::units::UnitSystem;
use crate::writing::dxf::DxfVersion;
use crate::writing::html::Renewal;
use crate::writing::text;
use std::path::Path;

/// A job with all that it names.
pub(super) struct WholeJob {
    pub(super) job: Job,
    pub(super) workshop: Workshop,
    patterns: PatternFiles,
}

impl WholeJob {
    /// # Errors
    /// All problems of the job; all of its machines' profiles at once; those of its patterns.
    pub(super) fn read(inputs: &Inputs, path: &Path, shown: Shown) -> Result<Self, Failure> {
        let job = inputs::job(inputs, path, shown)?;
        let whole = Self::of(inputs, job, path, shown)?;
        if whole.workshop.profiles().next().is_none() {
            return Err(Failure::input(format!(
                "{}: the job names no machine: add a table [machines], such as sled = \"key-sled\"",
                path.display()
            )));
        }
        Ok(whole)
    }

    /// The same of a job that was read and need not name a machine.
    ///
    /// # Errors
    /// All problems of its machines' profiles at once; those of its pattern.
    pub(super) fn of(
        inputs: &Inputs,
        job: Job,
        path: &Path,
        shown: Shown,
    ) -> Result<Self, Failure> {
        let workshop = workshop(inputs, &job, path, shown)?;
        let patterns = inputs::patterns_if_any(inputs, &job, path, shown)?;
        Ok(WholeJob {
            job,
            workshop,
            patterns,
        })
    }

    /// The patterns of its pieces, in the order in which the job names them; none where it has no pieces.
    pub(super) fn patterns(&self) -> &[Pattern] {
        &self.patterns.patterns
    }

    /// What is to be made of it.
    pub(super) fn order(
        &self,
        dxf: DxfVersion,
        units: UnitSystem,
        renewal: Renewal,
    ) -> JobOrder<'_> {
        JobOrder {
            job: &self.job,
            patterns: &self.patterns.patterns,
            workshop: &self.workshop,
            dxf,
            units,
            renewal,
        }
    }

    /// Tells what would change the work most.
    pub(super) fn advise(&self, shown: Shown) {
        if let Some(advice) = advice(&self.job, &self.workshop) {
            let words = advice_words(&advice).text(shown.units);
            tell(&format!("note: {words}\n"));
        }
    }

    /// All that can be made of it.
    pub(super) fn made(&self, order: &JobOrder<'_>, shown: Shown) -> Result<Made, Failure> {
        Made::of(order).map_err(|error| Failure::not_made(error, &self.documents(), shown))
    }

    /// The texts that findings may be about.
    pub(super) fn documents(&self) -> Documents<'_> {
        let of_patterns = self.patterns.sources();
        let mut documents = Documents::of_job(&self.job.source).with_patterns(of_patterns);
        for profile in self.workshop.profiles() {
            documents = documents.with_profile(profile.station(), &profile.source);
        }
        documents
    }

    /// The safety notes of all machines, each once.
    pub(super) fn all_safety(&self) -> Vec<&'static str> {
        let mut all = Vec::new();
        for notes in self.workshop.safety() {
            for note in notes.notes() {
                if !all.contains(note) {
                    all.push(*note);
                }
            }
        }
        all
    }

    /// The short ones under an answer for people.
    pub(super) fn short_safety(&self) -> String {
        text::safety_in_short(&SafetyNotes::short_of(&self.workshop.safety()))
    }

    /// Whether all was made: done, else done and the answer is no.
    pub(super) fn outcome(&self, made: &Made, shown: Shown) -> Outcome {
        outcome(&made.lacking, &self.documents(), shown)
    }
}

/// The machines that the job names; all problems at once.
fn workshop(inputs: &Inputs, job: &Job, path: &Path, shown: Shown) -> Result<Workshop, Failure> {
    let mut found: Vec<MachineProfile> = Vec::new();
    let mut failures = Vec::new();
    let flags = MachineFlags::default();
    for station in Station::ALL {
        if job.machines.at(station).is_none() {
            continue;
        }
        match inputs::profile_for(inputs, station, &flags, Some((job, path)), shown) {
            Ok(profile) => found.push(profile),
            Err(failure) => failures.push(failure),
        }
    }
    if !failures.is_empty() {
        return Err(Failure::joined(failures));
    }
    Ok(Workshop::new(found))
}

/// What is missing beside all that was made.
fn outcome(all: &[Lacking], documents: &Documents<'_>, shown: Shown) -> Outcome {
    if all.is_empty() {
        return Ok(());
    }
    let names: Vec<String> = all.iter().map(|lacking| lacking.missing.name()).collect();
    let reasons: String = all
        .iter()
        .map(|lacking| reason(lacking, documents, shown))
        .collect();
    let names = names.join(", ");
    Err(Failure {
        code: 1,
        text: format!("{reasons}not made: {names}; all else is written\n"),
    })
}

/// As a part of what is told, beside what was made.
fn reason(lacking: &Lacking, documents: &Documents<'_>, shown: Shown) -> String {
    match &lacking.cause {
        NotMade::Cannot(faults) => {
            let lead = format!("no {}: ", lacking.missing.what);
            let led = faults.iter().cloned().map(|fault| fault.led_by(&lead));
            documents.report(&led.collect::<Vec<Finding>>(), shown.units)
        }
        // A proof that failed is told as it is.
        wrong @ (NotMade::Disproved(_) | NotMade::Unwritable(_) | NotMade::Nothing(_)) => {
            Failure::not_made(wrong.clone(), documents, shown).text
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::arguments::Format;
    use super::*;
    use crate::finding::Document;
    use crate::instructions::missing::Missing;
    use crate::instructions::sheet::SheetPart;
    use crate::making::Disproved;
    use crate::reading::{read_machine, shipped_machine};

    const SHOWN: Shown = Shown {
        format: Format::Text,
        units: UnitSystem::Millimetres,
    };

    fn lacking(why: Vec<Finding>, cause: NotMade) -> Lacking {
        Lacking {
            missing: Missing {
                part: SheetPart::Router,
                what: "notching programs".into(),
                machine: "small-router".into(),
                why,
            },
            cause,
        }
    }

    #[test]
    fn a_proof_that_fails_stays_an_error_as_it_was_told() {
        let cause = NotMade::Disproved(Disproved {
            what: "a.nc was read back".into(),
            faults: vec!["line 3: tool-too-wide: x".into()],
        });
        let lacking = lacking(Vec::new(), cause);
        let text = "error: a.nc was read back\n  line 3: tool-too-wide: x\n";
        let documents = Documents::default();
        let told = outcome(std::slice::from_ref(&lacking), &documents, SHOWN).unwrap_err();
        assert_eq!(told.code, 1);
        let last = "not made: notching programs (small-router); all else is written\n";
        assert_eq!(told.text, format!("{text}{last}"));
        let nothing = NotMade::Nothing(vec![lacking]);
        let alone = Failure::not_made(nothing, &documents, SHOWN);
        assert_eq!((alone.code, alone.text), (1, text.to_owned()));
    }

    #[test]
    fn what_a_machine_cannot_is_told_at_its_profile() {
        let text = shipped_machine("small-router").unwrap().text;
        let profile = read_machine("small-router", text).unwrap();
        let documents = Documents::default().with_profile(Station::Router, &profile.source);
        let fault = Finding::error("travel-too-short", "travel.x", "x")
            .in_document(Document::Profile(Station::Router));
        let lacking = lacking(vec![fault.clone()], NotMade::Cannot(vec![fault]));
        let told = outcome(std::slice::from_ref(&lacking), &documents, SHOWN).unwrap_err();
        assert_eq!(told.code, 1);
        for said in [
            "error[travel-too-short]",
            "no notching programs: x",
            "small-router:",
        ] {
            let plain = anstream::adapter::strip_str(&told.text).to_string();
            assert!(plain.contains(said), "{plain}");
        }
        // Where it is all that was asked for, nothing was made and the profile does not do.
        let nothing = NotMade::Nothing(vec![lacking]);
        assert_eq!(Failure::not_made(nothing, &documents, SHOWN).code, 2);
        assert!(outcome(&[], &documents, SHOWN).is_ok());
    }
}
