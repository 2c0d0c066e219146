//! Text as any controller takes it in a comment.

use deunicode::deunicode;

/// Text as it may stand in a comment: letters of other alphabets as they are written in plain ones.
pub(super) fn plain_text(text: &str) -> String {
    deunicode(text).chars().filter_map(plain).collect()
}

/// A character as it may stand in a comment; apostrophes go without leaving a gap.
fn plain(character: char) -> Option<char> {
    match character {
        '\'' => None,
        ';' | ':' => Some(','),
        c if c.is_ascii_alphanumeric() || ".,-+=/".contains(c) => Some(c),
        _ => Some(' '),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_keep_their_letters() {
        assert_eq!(
            plain_text("Gr\u{f6}\u{df}e (T\u{fc}r), \u{2116} 5"),
            "Grosse  Tur , No 5"
        );
        assert_eq!(plain_text("\u{969c}\u{5b50}"), "Zhang Zi");
    }
}
