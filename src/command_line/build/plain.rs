//! The machines' plain sheets: settings in working order, before them what is missing and what to
//! mind.

use super::super::answers::{Shown, Warnings};
use super::super::inputs::Chosen;
use super::{Made, safety};
use crate::instructions::missing::Missing;
use crate::instructions::sheet::SetupSheet;
use crate::planning::{mind_section, missing_section};
use crate::reading::Job;
use crate::writing::text;

/// A sheet and, where there are any, its figures as JSON.
pub(super) struct Plain {
    /// Of the part that it belongs to, and of its files.
    pub(super) name: &'static str,
    pub(super) machine: String,
    sheet: SetupSheet,
    answer: Option<String>,
}

impl Plain {
    pub(super) fn new(
        (name, machine): (&'static str, &str),
        sheet: SetupSheet,
        answer: String,
    ) -> Self {
        Plain {
            name,
            machine: machine.to_owned(),
            sheet,
            answer: Some(answer),
        }
    }

    /// For a machine that makes nothing: an old sheet beside it must not be taken for this job's.
    fn without_settings(missing: &Missing, title: &str, machines: &[Chosen]) -> Option<Self> {
        let is_it = |chosen: &&Chosen| chosen.profile.name == missing.machine;
        let chosen = machines.iter().find(is_it)?;
        Some(Plain {
            name: missing.part,
            machine: missing.machine.clone(),
            sheet: SetupSheet {
                title: title.to_owned(),
                machine: missing.machine.clone(),
                safety: safety(chosen),
                sections: Vec::new(),
            },
            answer: None,
        })
    }
}

impl Made<'_> {
    /// Keeps a sheet, with the warnings of job and machine.
    pub(super) fn keep(
        &mut self,
        job: &Job,
        own: &Warnings<'_>,
        named: (&'static str, &str),
        mut sheet: SetupSheet,
        answer: String,
    ) {
        let findings = [job.warnings.clone(), own.all()].concat();
        sheet.sections.splice(0..0, mind_section(&findings));
        self.plain.push(Plain::new(named, sheet, answer));
        self.plans.told.push((named.0, findings));
    }

    /// Writes all of them; one for every machine, whether it makes something or not.
    pub(super) fn add_plain(&mut self, job: &Job, machines: &[Chosen], shown: Shown) {
        let missing = self.missing();
        let mut all = std::mem::take(&mut self.plain);
        for lacking in &missing {
            if !all.iter().any(|plain| plain.name == lacking.part) {
                let title = &job.panel.design().title;
                all.extend(Plain::without_settings(lacking, title, machines));
            }
        }
        for mut plain in all {
            let own = missing.iter().filter(|lacking| lacking.part == plain.name);
            plain.sheet.sections.splice(0..0, missing_section(own));
            let text = text::sheet(&plain.sheet, shown.units).into_bytes();
            let file = |ending| format!("{}.{ending}", plain.name);
            self.list([(file("txt"), text)], "set-up sheet", &plain.machine);
            let figures = plain
                .answer
                .map(|answer| (file("json"), answer.into_bytes()));
            self.list(figures, "figures", &plain.machine);
        }
    }
}
