//! What is made of a job.

use super::not_made::Lacking;
use super::plans::Plans;
use super::warnings::Warnings;
use super::workshop::Workshop;
use crate::infill::Pattern;
use crate::instructions::missing::Missing;
use crate::instructions::sheet::SetupSheet;
use crate::reading::Job;
use crate::units::UnitSystem;
use crate::writing::dxf::DxfVersion;
use crate::writing::files::Content;
use crate::writing::html::Renewal;

/// What is to be made, and how it is written.
#[derive(Debug, Clone, Copy)]
pub struct JobOrder<'a> {
    /// The job.
    pub job: &'a Job,
    /// The patterns of its pieces, in the order of [`Job::pattern_names`](crate::reading::Job::pattern_names).
    pub patterns: &'a [Pattern],
    /// The machines that it is made with.
    pub workshop: &'a Workshop,
    /// Of its drawings.
    pub dxf: DxfVersion,
    /// Lengths of sheets and pictures.
    pub units: UnitSystem,
    /// Of the sheet for a screen.
    pub renewal: Renewal,
}

impl<'a> JobOrder<'a> {
    /// A job without pieces; drawings and lengths as they usually are.
    pub fn new(job: &'a Job, workshop: &'a Workshop) -> Self {
        JobOrder {
            job,
            patterns: &[],
            workshop,
            dxf: DxfVersion::default(),
            units: UnitSystem::Millimetres,
            renewal: Renewal::default(),
        }
    }

    /// The same with the patterns of its pieces.
    #[must_use]
    pub fn with_patterns(self, patterns: &'a [Pattern]) -> Self {
        JobOrder { patterns, ..self }
    }
}

/// A job's files, and the plans that they were written from.
#[derive(Debug, Default)]
pub struct Made {
    /// In working order.
    pub files: Vec<MadeFile>,
    /// What the machines have to do.
    pub plans: Plans,
    /// What is unusual with job and machines.
    pub warnings: Warnings,
    /// What the machines cannot make.
    pub lacking: Vec<Lacking>,
    /// The machines' plain sheets, which tell of all that is missing: so they are written last.
    pub(super) plain: Vec<PlainSheet>,
}

/// A file that was made.
#[derive(Debug)]
pub struct MadeFile {
    /// Its name in the job's folder.
    pub name: String,
    /// What it is.
    pub kind: FileKind,
    /// The profile of the machine that it is for; empty where it is for none.
    pub machine: String,
    /// All of it.
    pub content: Content,
}

/// What a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// To be looked at.
    Picture,
    /// Parts at true size.
    Outline,
    /// For a router.
    Program,
    /// Of pieces.
    List,
    /// For people at a machine.
    SetUpSheet,
    /// For programs.
    Figures,
}

impl FileKind {
    /// For people.
    pub fn name(self) -> &'static str {
        match self {
            FileKind::Picture => "picture",
            FileKind::Outline => "outline",
            FileKind::Program => "program",
            FileKind::List => "list",
            FileKind::SetUpSheet => "set-up sheet",
            FileKind::Figures => "figures",
        }
    }
}

/// A sheet and, where there are any, its figures as JSON.
#[derive(Debug)]
pub(super) struct PlainSheet {
    /// The profile's name; empty where it is nobody's.
    pub(super) machine: String,
    pub(super) sheet: SetupSheet,
    pub(super) answer: Option<String>,
}

impl Made {
    /// What is not made.
    pub fn missing(&self) -> Vec<Missing> {
        let all = self.lacking.iter();
        all.map(|lacking| lacking.missing.clone()).collect()
    }

    /// Whether any of it is a machine's.
    pub(super) fn by_machines(&self) -> bool {
        let plain = self.plain.iter().any(|plain| !plain.machine.is_empty());
        plain || self.files.iter().any(|file| !file.machine.is_empty())
    }

    /// Keeps files of a kind for a machine; for none where its name is empty.
    pub(super) fn keep_files<C: Into<Content>>(
        &mut self,
        files: impl IntoIterator<Item = (String, C)>,
        kind: FileKind,
        machine: &str,
    ) {
        let files = files.into_iter().map(|(name, content)| MadeFile {
            name,
            kind,
            machine: machine.to_owned(),
            content: content.into(),
        });
        self.files.extend(files);
    }
}
