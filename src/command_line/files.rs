//! Names of output files, and writing them.

use super::answers::{Failure, Outcome};
use super::inputs::Chosen;
use super::products::NamedFile;
use crate::writing::files::Batch;
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

/// The files that a job was read from.
pub(super) fn inputs_of(job: &Path, machines: &[&Chosen]) -> Vec<PathBuf> {
    let profiles = machines.iter().filter_map(|chosen| chosen.file.clone());
    std::iter::once(job.to_owned()).chain(profiles).collect()
}

/// Writes all files or none.
pub(super) fn write(inputs: Vec<PathBuf>, files: &[NamedFile]) -> Outcome {
    let mut batch = Batch::new(inputs);
    for (name, content) in files {
        batch.add(Path::new(name), content).map_err(Failure::from)?;
    }
    batch.commit().map_err(Failure::from)
}
