//! Files that are proved.

use super::answers::Failure;
use crate::inputs::{InputKind, Inputs, Unread};
use std::path::Path;

/// Larger files than this are not proved.
const MOST_BYTES: u64 = 1 << 30;

/// All of a file.
pub(super) fn read(inputs: &Inputs, path: &Path) -> Result<Vec<u8>, Failure> {
    let refuse = |why: String| Failure::input(format!("{}: {why}", path.display()));
    let bytes = inputs.read(path, InputKind::Proved, MOST_BYTES);
    bytes.map_err(|unread| match unread {
        Unread::Io(error) => refuse(error.to_string()),
        Unread::NoFile => refuse("a file of at most 1 GB is expected".into()),
    })
}

/// A DXF file starts with a group code 0 or 999; no program has a bare number on its first line.
pub(super) fn is_drawing(bytes: &[u8]) -> bool {
    let first = bytes
        .split(|byte| *byte == b'\n')
        .next()
        .unwrap_or_default();
    matches!(first.trim_ascii(), b"0" | b"999")
}
