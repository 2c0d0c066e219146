//! Paths of files that are written.

use std::path::PathBuf;

/// A folder's path that can be printed.
pub(super) fn folder_path(path: &str) -> Result<PathBuf, String> {
    if path == "-" {
        return Err("standard output is no folder; give the name of one".into());
    }
    text_path(path)
}

/// A path that can be printed and put into a list of files as it is; `-` is standard output.
pub(super) fn text_path(path: &str) -> Result<PathBuf, String> {
    if path.is_empty() {
        return Err("a name is missing".into());
    }
    match path.find(char::is_control) {
        Some(_) => Err("a control character in a file name".into()),
        None => Ok(path.into()),
    }
}
