//! The project's own sources, as files and as tokens.

use std::fs;
use std::path::{Path, PathBuf};

use proc_macro2::{Delimiter, TokenTree};

/// The top of the repository.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All Rust files below a folder.
pub(crate) fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
    files
}

/// Whether a token is this sign.
pub(crate) fn is(token: &TokenTree, sign: char) -> bool {
    matches!(token, TokenTree::Punct(punct) if punct.as_char() == sign)
}

/// Whether what follows stands behind `#[cfg(test)]`.
pub(crate) fn is_cfg_test(tokens: &[TokenTree]) -> bool {
    matches!(tokens, [hash, TokenTree::Group(what), ..]
        if is(hash, '#') && what.stream().to_string().replace(' ', "") == "cfg(test)")
}

/// Number of tokens up to the end of an item: its first `{...}` or its semicolon.
pub(crate) fn item_length(tokens: &[TokenTree]) -> usize {
    let end = tokens.iter().position(|token| match token {
        TokenTree::Group(group) => group.delimiter() == Delimiter::Brace,
        other => is(other, ';'),
    });
    end.map_or(tokens.len(), |end| end + 1)
}
