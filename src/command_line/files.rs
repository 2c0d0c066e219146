//! Names of output files, and writing them.

use super::answers::{Failure, Outcome, print_file};
use crate::inputs::Inputs;
use crate::writing::files::{Content, FileBatch};
use std::path::Path;

/// The name that stands for standard output, and among inputs for standard input.
pub(super) const STANDARD: &str = "-";

/// Refuses a name that no file may get, before any work is done for it: an input's, a folder's, a device's.
/// Whoever writes several files with one name's numbers asks for the name itself.
pub(super) fn spare(inputs: &Inputs, output: &Path) -> Outcome {
    if output == Path::new(STANDARD) {
        return Ok(());
    }
    Ok(FileBatch::new(inputs).may_be_named(output)?)
}

/// Refuses a folder for files where an input has its name.
pub(super) fn spare_folder(inputs: &Inputs, output: &Path) -> Outcome {
    Ok(FileBatch::new(inputs).spare_inputs(output)?)
}

/// Writes all files or none. One file alone may go to standard output: from then on answers go to standard
/// error.
pub(super) fn write<C: Into<Content>>(
    inputs: &Inputs,
    files: impl IntoIterator<Item = (String, C)>,
) -> Outcome {
    let mut files: Vec<(String, C)> = files.into_iter().collect();
    if !files.iter().any(|(name, _)| name == STANDARD) {
        return commit(FileBatch::new(inputs), files);
    }
    match (files.pop(), files.len()) {
        (Some((_, content)), 0) => print_file(content.into()),
        _ => Err(Failure::input(format!(
            "{} files do not fit standard output: give the name of a file",
            files.len() + 1
        ))),
    }
}

/// Writes all files into a folder, or none; the folder is made if it is not there.
pub(super) fn write_into<C: Into<Content>>(
    inputs: &Inputs,
    folder: &Path,
    files: impl IntoIterator<Item = (String, C)>,
) -> Outcome {
    let mut batch = FileBatch::new(inputs);
    batch.folder(folder)?;
    let placed = files
        .into_iter()
        .map(|(name, content)| (folder.join(name).display().to_string(), content));
    commit(batch, placed)
}

/// Writes a profile anew where it was read, whole or not at all.
pub(super) fn rewrite(inputs: &Inputs, profile: &Path, text: Vec<u8>) -> Outcome {
    let mut batch = FileBatch::new(inputs);
    batch.rewrite(profile, text)?;
    batch.commit().map_err(Failure::from)
}

fn commit<C: Into<Content>>(
    mut batch: FileBatch<'_>,
    files: impl IntoIterator<Item = (String, C)>,
) -> Outcome {
    for (name, content) in files {
        let added = batch.add(Path::new(&name), content);
        added.map_err(Failure::from)?;
    }
    batch.commit().map_err(Failure::from)
}
