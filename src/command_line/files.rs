//! Names of output files, and writing them.

use super::answers::{Failure, Outcome};
use crate::inputs::Inputs;
use crate::writing::files::{Content, FileBatch};
use std::path::Path;

/// Refuses a file that is an input before any work is done for it.
pub(super) fn spare(inputs: &Inputs, output: &Path) -> Outcome {
    Ok(FileBatch::new(inputs).spare_inputs(output)?)
}

/// Writes all files or none.
pub(super) fn write<C: Into<Content>>(
    inputs: &Inputs,
    files: impl IntoIterator<Item = (String, C)>,
) -> Outcome {
    commit(FileBatch::new(inputs), files)
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
