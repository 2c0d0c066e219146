//! The machines' plain sheets: settings in working order, before them what is missing and what to
//! mind.

use super::made::{FileKind, Made, PlainSheet};
use super::safety::safety_at;
use super::workshop::Workshop;
use crate::finding::Finding;
use crate::instructions::missing::Missing;
use crate::instructions::sheet::SetupSheet;
use crate::reading::Job;
use crate::sheets::{mind_section, missing_section};
use crate::units::UnitSystem;
use crate::writing::text;

impl PlainSheet {
    /// For a machine that makes nothing: an old sheet beside it must not be taken for this job's.
    fn without_settings(missing: &Missing, title: &str, workshop: &Workshop) -> Option<Self> {
        let profile = workshop.profile_called(&missing.machine)?;
        Some(PlainSheet {
            machine: missing.machine.clone(),
            sheet: SetupSheet {
                part: missing.part,
                title: format!("{title} - {}", missing.machine),
                heading: missing.machine.clone(),
                safety: safety_at(&profile.machine),
                sections: Vec::new(),
            },
            answer: None,
        })
    }
}

impl Made {
    /// Keeps a sheet, with the warnings of job and machine.
    pub(super) fn keep_sheet(&mut self, job: &Job, own: &[Finding], mut plain: PlainSheet) {
        let findings = [&job.warnings, own].concat();
        plain.sheet.sections.splice(0..0, mind_section(&findings));
        self.plans.told.push((plain.sheet.part, findings));
        self.plain.push(plain);
    }

    /// Writes all of them; one for every machine, whether it makes something or not.
    pub(super) fn write_plain_sheets(&mut self, job: &Job, workshop: &Workshop, units: UnitSystem) {
        let missing = self.missing();
        let mut all = std::mem::take(&mut self.plain);
        for lacking in &missing {
            if !all.iter().any(|plain| plain.sheet.part == lacking.part) {
                let title = &job.panel.design().title;
                all.extend(PlainSheet::without_settings(lacking, title, workshop));
            }
        }
        for mut plain in all {
            let own = missing
                .iter()
                .filter(|lacking| lacking.part == plain.sheet.part);
            plain.sheet.sections.splice(0..0, missing_section(own));
            let text = text::sheet(&plain.sheet, units).into_bytes();
            let name = |ending| format!("{}.{ending}", plain.sheet.part.name());
            self.keep_files([(name("txt"), text)], FileKind::SetUpSheet, &plain.machine);
            let figures = plain
                .answer
                .map(|answer| (name("json"), answer.into_bytes()));
            self.keep_files(figures, FileKind::Figures, &plain.machine);
        }
    }
}
