//! What a job's machines cannot make, while the others make theirs.

use super::super::answers::{Failed, Failure, Outcome, Shown};
use super::super::inputs::Chosen;
use crate::finding::Finding;
use crate::instructions::missing::Missing;
use crate::reading::Source;

/// Something missing, and how it is told on the screen.
pub(super) struct Lacking<'a> {
    pub(super) missing: Missing,
    told: Told<'a>,
}

enum Told<'a> {
    /// At the lines of a profile.
    At(&'a Source),
    /// A proof that failed is told as it is.
    AsIs(Failure),
}

impl<'a> Lacking<'a> {
    /// What `chosen` was to make for a part of the sheet; its faults stand in `source`.
    pub(super) fn new(
        (part, what): (&'static str, &str),
        chosen: &Chosen,
        failed: Failed,
        source: &'a Source,
    ) -> Self {
        let (why, told) = match failed {
            Failed::Cannot(faults) => (faults, Told::At(source)),
            Failed::Wrong(failure) => (vec![not_proved()], Told::AsIs(failure)),
        };
        Lacking {
            missing: Missing {
                part,
                what: what.to_owned(),
                machine: chosen.profile.name.clone(),
                why,
            },
            told,
        }
    }

    /// As a part of what is told, beside what was made.
    fn text(&self, shown: Shown) -> String {
        match &self.told {
            Told::At(source) => {
                let lead = format!("no {}: ", self.missing.what);
                let why = self.missing.why.iter().cloned();
                let why: Vec<Finding> = why.map(|fault| fault.led_by(&lead)).collect();
                source.report(&why, shown.units)
            }
            Told::AsIs(failure) => failure.text.clone(),
        }
    }

    /// As all that is told, where nothing was made.
    fn alone(self, shown: Shown) -> Failure {
        match self.told {
            Told::At(source) => Failure::findings(source, &self.missing.why, shown),
            Told::AsIs(failure) => failure,
        }
    }
}

fn not_proved() -> Finding {
    let text = "what was written for it was read back and is not what was meant";
    Finding::error("not-proved", "", text)
        .hint("this is a fault of the program that made it, not of the job or the machine: tell its makers")
}

/// What is missing beside all that was made: done, and the answer is no.
pub(super) fn outcome(all: &[Lacking<'_>], shown: Shown) -> Outcome {
    if all.is_empty() {
        return Ok(());
    }
    let names: Vec<String> = all.iter().map(|lacking| lacking.missing.name()).collect();
    let reasons: String = all.iter().map(|lacking| lacking.text(shown)).collect();
    let names = names.join(", ");
    Err(Failure {
        code: 1,
        text: format!("{reasons}not made: {names}; all else is written\n"),
    })
}

/// Where no machine makes anything, that is all there is to tell.
pub(super) fn nothing_made(all: Vec<Lacking<'_>>, shown: Shown) -> Failure {
    Failure::joined(all.into_iter().map(|one| one.alone(shown)).collect())
}

#[cfg(test)]
mod tests {
    use super::super::super::arguments::Format;
    use super::*;
    use crate::reading::{read_machine, shipped_machine};
    use crate::units::UnitSystem;

    const SHOWN: Shown = Shown {
        format: Format::Text,
        units: UnitSystem::Millimetres,
    };

    fn router() -> Chosen {
        let text = shipped_machine("small-router").unwrap().text;
        let mut profile = read_machine("small-router.toml", text).unwrap();
        profile.name = "small-router".into();
        Chosen { profile }
    }

    #[test]
    fn a_proof_that_fails_stays_an_error_as_it_was_told() {
        let chosen = router();
        let failure = Failure {
            code: 1,
            text: "error: a.nc was read back\n  line 3: tool-too-wide: x\n".into(),
        };
        let lacking = || {
            let failed = Failed::Wrong(Failure {
                text: failure.text.clone(),
                ..failure
            });
            let part = ("router", "notching programs");
            Lacking::new(part, &chosen, failed, &chosen.profile.source)
        };
        let told = outcome(&[lacking()], SHOWN).unwrap_err();
        assert_eq!(told.code, 1);
        let last = "not made: notching programs (small-router); all else is written\n";
        assert_eq!(told.text, format!("{}{last}", failure.text));
        assert_eq!(lacking().missing.why[0].code, "not-proved");
        let alone = nothing_made(vec![lacking()], SHOWN);
        assert_eq!((alone.code, alone.text), (1, failure.text.clone()));
    }

    #[test]
    fn what_a_machine_cannot_is_told_at_its_profile() {
        let chosen = router();
        let failed = || Failed::Cannot(vec![Finding::error("travel-too-short", "travel.x", "x")]);
        let part = ("router", "notching programs");
        let lacking = || Lacking::new(part, &chosen, failed(), &chosen.profile.source);
        let told = outcome(&[lacking()], SHOWN).unwrap_err();
        assert_eq!(told.code, 1);
        for said in [
            "error[travel-too-short]",
            "no notching programs: x",
            "small-router.toml:",
        ] {
            let plain = anstream::adapter::strip_str(&told.text).to_string();
            assert!(plain.contains(said), "{plain}");
        }
        // Where it is all that was asked for, nothing was made and the profile does not do.
        assert_eq!(nothing_made(vec![lacking()], SHOWN).code, 2);
        assert!(outcome(&[], SHOWN).is_ok());
    }
}
