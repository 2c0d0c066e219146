//! Names of several files of a kind.

use std::path::Path;

/// The output's own name for a single file, else with its number, `at` from 0: `strips-2.dxf`.
pub fn numbered(output: &Path, at: usize, count: usize) -> String {
    // Standard output has no numbers.
    if count == 1 || output == Path::new("-") {
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
