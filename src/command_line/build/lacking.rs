//! What a job's machines cannot make, while the others make theirs.

use super::super::answers::{Failed, Failure, Outcome, Shown};
use super::super::inputs::Chosen;
use super::Made;
use crate::finding::Finding;
use crate::instructions::missing::Missing;
use crate::machines::MachineKind;
use crate::reading::Source;
use serde_json::Value;

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

    /// Whether this machine's work was found wrong, so that none of it is to be trusted.
    pub(super) fn distrusts(&self, chosen: &Chosen) -> bool {
        matches!(self.told, Told::AsIs(_)) && self.missing.machine == chosen.profile.name
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

/// What else a machine was to make, where a proof of its work failed.
pub(super) fn withdrawn<'a>(part: &'static str, chosen: &'a Chosen) -> Lacking<'a> {
    let text = "a part of what was written for this machine was not found right, so nothing of it is given out";
    let failed = Failed::Cannot(vec![Finding::error("not-proved", "", text)]);
    Lacking::new(
        (part, "anything else"),
        chosen,
        failed,
        &chosen.profile.source,
    )
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

impl<'a> Made<'a> {
    /// Whether a proof of this machine's work has failed.
    pub(super) fn distrusts(&self, chosen: &Chosen) -> bool {
        self.lacking.iter().any(|lacking| lacking.distrusts(chosen))
    }

    /// Takes back all that was made for a machine of which a proof has failed.
    pub(super) fn withdraw(&mut self, machines: &'a [Chosen]) {
        for chosen in machines {
            if !self.distrusts(chosen) {
                continue;
            }
            let name = chosen.profile.name.as_str();
            let files = self.files.drain(..).zip(self.listed.drain(..));
            let kept = files.filter(|(_, listed)| listed["machine"] != name);
            (self.files, self.listed) = kept.collect::<Vec<_>>().into_iter().unzip();
            let part = match chosen.profile.machine.kind() {
                MachineKind::Sled => "sled",
                MachineKind::Laser | MachineKind::SheetRouter => "laser",
                MachineKind::Router => "router",
                MachineKind::Guides => "pieces",
            };
            match part {
                "sled" => self.plans.sled = None,
                "laser" => self.plans.laser.clear(),
                "router" => self.plans.router = None,
                _ => {}
            }
            self.plain.retain(|plain| plain.name != part);
            self.plans.told.retain(|(name, _)| *name != part);
            self.lacking.push(withdrawn(part, chosen));
        }
        let named = |file: &Value| file["machine"] != "";
        let plain = self.plain.iter().any(|plain| !plain.machine.is_empty());
        self.by_machines = plain || self.listed.iter().any(named);
    }

    /// Something that a machine does not make, told at its profile.
    pub(super) fn lacks(&mut self, part: (&'static str, &str), chosen: &'a Chosen, failed: Failed) {
        self.lacks_at(part, chosen, failed, &chosen.profile.source);
    }

    /// The same, told elsewhere.
    pub(super) fn lacks_at(
        &mut self,
        part: (&'static str, &str),
        chosen: &Chosen,
        failed: Failed,
        source: &'a Source,
    ) {
        let lacking = Lacking::new(part, chosen, failed, source);
        self.lacking.push(lacking);
    }
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

    #[test]
    fn a_proof_that_fails_stays_an_error_as_it_was_told() {
        let chosen = chosen("small-router");
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
        let chosen = chosen("small-router");
        let failed = || Failed::Cannot(vec![Finding::error("travel-too-short", "travel.x", "x")]);
        let part = ("router", "notching programs");
        let lacking = || Lacking::new(part, &chosen, failed(), &chosen.profile.source);
        let told = outcome(&[lacking()], SHOWN).unwrap_err();
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
        assert_eq!(nothing_made(vec![lacking()], SHOWN).code, 2);
        assert!(outcome(&[], SHOWN).is_ok());
    }

    fn chosen(name: &str) -> Chosen {
        let mut profile = read_machine(name, shipped_machine(name).unwrap().text).unwrap();
        profile.name = name.into();
        Chosen { profile }
    }

    /// A build with a file of each machine, one of nobody's, and a proof that failed.
    fn made(machines: &[Chosen]) -> Made<'_> {
        let mut made = Made::default();
        let file = |name: &str| [(name.to_owned(), b"x".to_vec())];
        made.list(file("a.nc"), "program", "small-router");
        made.list(file("b.dxf"), "outline", "tube-laser");
        made.list(file("panel.svg"), "picture", "");
        let failed = Failed::Wrong(Failure::input("a-2.nc was read back"));
        made.lacks(("rails", "programs for the rails"), &machines[0], failed);
        made
    }

    #[test]
    fn nothing_is_kept_of_a_machine_whose_proof_failed() {
        let machines = [chosen("small-router"), chosen("tube-laser")];
        let mut made = made(&machines);
        assert!(made.distrusts(&machines[0]) && !made.distrusts(&machines[1]));
        made.withdraw(&machines);
        let names: Vec<&str> = made.files.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["b.dxf", "panel.svg"]);
        let listed: Vec<&Value> = made.listed.iter().map(|file| &file["path"]).collect();
        assert_eq!(listed, ["b.dxf", "panel.svg"]);
        assert!(made.by_machines);
        let names: Vec<String> = made.missing().iter().map(Missing::name).collect();
        assert_eq!(
            names,
            [
                "programs for the rails (small-router)",
                "anything else (small-router)"
            ]
        );
        assert_eq!(made.missing()[1].part, "router");
    }

    #[test]
    fn where_nothing_else_was_made_nothing_is() {
        let machines = [chosen("small-router")];
        let mut made = Made::default();
        made.list([("panel.svg".into(), b"x".to_vec())], "picture", "");
        let failed = Failed::Wrong(Failure::input("a-2.nc was read back"));
        made.lacks(("router", "notching programs"), &machines[0], failed);
        made.withdraw(&machines);
        assert!(!made.by_machines);
    }
}
