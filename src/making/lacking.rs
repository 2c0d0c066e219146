//! What a job's machines cannot make, while the others make theirs.

use super::made::Made;
use super::not_made::{Lacking, NotMade};
use super::workshop::Workshop;
use crate::finding::{Document, Finding};
use crate::instructions::missing::Missing;
use crate::instructions::sheet::SheetPart;
use crate::machines::Station;
use crate::reading::MachineProfile;

impl Lacking {
    /// What the machine of this profile was to make for a part of the sheet.
    pub(super) fn new(part: SheetPart, what: &str, machine: &str, cause: NotMade) -> Self {
        let why = match &cause {
            NotMade::Cannot(faults) => faults.clone(),
            NotMade::Disproved(_) | NotMade::Unwritable(_) | NotMade::Nothing(_) => {
                vec![not_proved()]
            }
        };
        Lacking {
            missing: Missing {
                part,
                what: what.to_owned(),
                machine: machine.to_owned(),
                why,
            },
            cause,
        }
    }

    /// Whether this machine's work was found wrong, so that none of it is to be trusted.
    fn distrusts(&self, machine: &str) -> bool {
        let found_wrong = !matches!(self.cause, NotMade::Cannot(_));
        found_wrong && self.missing.machine == machine
    }
}

/// What else a machine was to make, where a proof of its work failed.
fn withdrawn(profile: &MachineProfile) -> Lacking {
    let text = "a part of what was written for this machine was not found right, so nothing of it is given out";
    let document = Document::Profile(profile.station());
    let finding = Finding::error("not-proved", "", text).in_document(document);
    let part = part_of(profile.station());
    let cause = NotMade::Cannot(vec![finding]);
    Lacking::new(part, "anything else", &profile.name, cause)
}

fn not_proved() -> Finding {
    let text = "what was written for it was read back and is not what was meant";
    Finding::error("not-proved", "", text)
        .hint("this is a fault of the program that made it, not of the job or the machine: tell its makers")
}

/// The part of the sheet that a machine's own work stands in.
fn part_of(station: Station) -> SheetPart {
    match station {
        Station::Sled => SheetPart::Sled,
        Station::Laser => SheetPart::Laser,
        Station::Router => SheetPart::Router,
        Station::Guides => SheetPart::Pieces,
    }
}

impl Made {
    /// Whether a proof of this machine's work has failed.
    pub(super) fn distrusts(&self, machine: &str) -> bool {
        self.lacking
            .iter()
            .any(|lacking| lacking.distrusts(machine))
    }

    /// Takes back all that was made for a machine of which a proof has failed.
    pub(super) fn withdraw(&mut self, workshop: &Workshop) {
        for profile in workshop.profiles() {
            if !self.distrusts(&profile.name) {
                continue;
            }
            self.files.retain(|file| file.machine != profile.name);
            let station = profile.station();
            match station {
                Station::Sled => self.plans.sled = None,
                Station::Laser => self.plans.laser.clear(),
                Station::Router => self.plans.router = None,
                // The pieces' lists are worked out without them too.
                Station::Guides => {}
            }
            let part = part_of(station);
            self.plain.retain(|plain| plain.sheet.part != part);
            self.plans.told.retain(|(name, _)| *name != part);
            self.lacking.push(withdrawn(profile));
        }
    }

    /// Something that a machine does not make.
    pub(super) fn lacks(&mut self, part: SheetPart, what: &str, machine: &str, cause: NotMade) {
        let lacking = Lacking::new(part, what, machine, cause);
        self.lacking.push(lacking);
    }
}

#[cfg(test)]
mod tests {
    use super::super::made::FileKind;
    use super::super::not_made::Disproved;
    use super::*;
    use crate::reading::{read_machine, shipped_machine};

    fn workshop(names: &[&str]) -> Workshop {
        Workshop::new(names.iter().map(|name| {
            let mut profile = read_machine(name, shipped_machine(name).unwrap().text).unwrap();
            profile.name = (*name).into();
            profile
        }))
    }

    fn disproved() -> NotMade {
        NotMade::Disproved(Disproved {
            what: "a-2.nc was read back".into(),
            faults: vec!["line 3: tool-too-wide: x".into()],
        })
    }

    /// A build with a file of each machine, one of nobody's, and a proof that failed.
    fn made() -> Made {
        let mut made = Made::default();
        let file = |name: &str| [(name.to_owned(), b"x".to_vec())];
        made.keep_files(file("a.nc"), FileKind::Program, "small-router");
        made.keep_files(file("b.dxf"), FileKind::Outline, "tube-laser");
        made.keep_files(file("panel.svg"), FileKind::Picture, "");
        made.lacks(
            SheetPart::Rails,
            "programs for the rails",
            "small-router",
            disproved(),
        );
        made
    }

    #[test]
    fn nothing_is_kept_of_a_machine_whose_proof_failed() {
        let workshop = workshop(&["small-router", "tube-laser"]);
        let mut made = made();
        assert!(made.distrusts("small-router") && !made.distrusts("tube-laser"));
        made.withdraw(&workshop);
        let names: Vec<&str> = made.files.iter().map(|file| file.name.as_str()).collect();
        assert_eq!(names, ["b.dxf", "panel.svg"]);
        assert!(made.by_machines());
        let names: Vec<String> = made.missing().iter().map(Missing::name).collect();
        assert_eq!(
            names,
            [
                "programs for the rails (small-router)",
                "anything else (small-router)"
            ]
        );
        assert_eq!(made.missing()[0].why[0].code, "not-proved");
        assert_eq!(made.missing()[1].part, SheetPart::Router);
    }

    #[test]
    fn where_nothing_else_was_made_nothing_is() {
        let mut made = Made::default();
        let picture = [("panel.svg".to_owned(), b"x".to_vec())];
        made.keep_files(picture, FileKind::Picture, "");
        made.lacks(
            SheetPart::Router,
            "notching programs",
            "small-router",
            disproved(),
        );
        made.withdraw(&workshop(&["small-router"]));
        assert!(!made.by_machines());
    }
}
