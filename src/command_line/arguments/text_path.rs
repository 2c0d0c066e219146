//! Paths of files that are written.

use std::path::PathBuf;

/// A path that can be printed and put into a list of files as it is.
pub(super) fn text_path(path: &str) -> Result<PathBuf, String> {
    if path.is_empty() {
        return Err("a name is missing".into());
    }
    if path == "-" {
        return Err("standard output is for the answer; give the name of a file".into());
    }
    match path.find(char::is_control) {
        Some(_) => Err("a control character in a file name".into()),
        None => Ok(path.into()),
    }
}
