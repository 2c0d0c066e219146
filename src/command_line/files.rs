//! Names of output files, and writing them.

use super::answers::{Failure, Outcome};
use super::inputs::Chosen;
use crate::reading::Job;
use crate::writing::files::{Batch, Content};
use std::path::{Path, PathBuf};

/// The output's own name for a single file, else with its number: `strips-2.dxf`.
pub(super) fn numbered(output: &Path, at: usize, count: usize) -> String {
    if count == 1 {
        return output.display().to_string();
    }
    let stem = output
        .file_stem()
        .map(|stem| stem.to_string_lossy().into_owned());
    let mut name = format!("{}-{}", stem.unwrap_or_default(), at + 1);
    if let Some(extension) = output.extension() {
        name.push('.');
        name.push_str(&extension.to_string_lossy());
    }
    output.with_file_name(name).display().to_string()
}

/// The files that a job was read from: its own, the machines in use, and whatever else it names.
pub(super) fn inputs_of(job: &Job, path: &Path, machines: &[&Chosen]) -> Vec<PathBuf> {
    let profiles = machines.iter().filter_map(|chosen| chosen.file.clone());
    let names = &job.machines;
    let machines = [&names.sled, &names.guides, &names.router, &names.laser];
    let pattern = job.panel.infill.as_ref().map(|infill| &infill.pattern);
    let folder = path.parent().unwrap_or(Path::new(""));
    let named = machines.into_iter().flatten().chain(pattern);
    let named = named
        .map(|name| folder.join(name))
        .filter(|file| file.is_file());
    std::iter::once(path.to_owned())
        .chain(profiles)
        .chain(named)
        .collect()
}

/// Writes all files or none.
pub(super) fn write<C: Into<Content>>(
    inputs: Vec<PathBuf>,
    files: impl IntoIterator<Item = (String, C)>,
) -> Outcome {
    let mut batch = Batch::new(inputs);
    for (name, content) in files {
        let added = batch.add(Path::new(&name), content);
        added.map_err(Failure::from)?;
    }
    batch.commit().map_err(Failure::from)
}
