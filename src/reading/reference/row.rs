//! Which row of a table a field of a file has, and what it says of it to whom it was wrong for.

use super::field::{Field, Reference, Table, When};

impl Reference {
    /// The row of a field by what findings call it, such as `grid.pitches_x[2]` or `infill.legend.A.turn`.
    /// Of several rows of one key the first whose conditions hold, else the first.
    pub(in crate::reading) fn row(
        &self,
        path: &str,
        holds: impl Fn(&When) -> bool,
    ) -> Option<&'static Field> {
        let parts = parts_of(path);
        let (key, parents) = parts.split_last()?;
        let key = key.split('[').next()?;
        let mut tables = self.tables.iter();
        let table: &'static Table = tables.find(|table| is_at(table.path, parents))?;
        let rows = || {
            table
                .fields
                .iter()
                .filter(|row| row.key == key || row.key == "*")
        };
        let fitting = rows().find(|row| row.only.iter().all(&holds));
        fitting.or_else(|| rows().next())
    }
}

/// The names of a path; one in quotes may have points in it.
pub(super) fn parts_of(path: &str) -> Vec<&str> {
    let mut quoted = false;
    let apart = |letter: char| {
        quoted ^= letter == '"';
        letter == '.' && !quoted
    };
    path.split(apart).collect()
}

/// Whether a table of the reference is the one that a file has under this path.
fn is_at(table: &str, path: &[&str]) -> bool {
    let mut own = table.split('.').filter(|name| !name.is_empty());
    let mut found = path.iter().copied();
    loop {
        match (own.next(), found.next()) {
            (None, None) => return true,
            (Some("*"), Some(_)) => {}
            (Some(a), Some(b)) if a.trim_end_matches("[]") == b.split('[').next().unwrap_or(b) => {}
            _ => return false,
        }
    }
}

impl Field {
    /// How its key, called `key` in the file, is written, and what it means: the words of the reference.
    pub(in crate::reading) fn shown(&self, key: &str) -> String {
        let mut letters = self.means.chars();
        let first = letters.next().map(char::to_lowercase);
        let means: String = first.into_iter().flatten().chain(letters).collect();
        format!("`{key} = {}`: {means}", self.example)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{JOB, PATTERN};

    #[test]
    fn rows_are_found_by_what_findings_call_them() {
        let row = |path: &str| JOB.row(path, |_| true).unwrap().example;
        assert_eq!(row("title"), "\"Reading lamp, side panel\"");
        assert_eq!(row("strip.thickness"), "\"3 mm\"");
        assert_eq!(row("frame.rebate.depth"), "\"6 mm\"");
        assert_eq!(row("infill.legend.A.turn"), "\"90 deg\"");
        assert_eq!(row("grid.pitches_x[2]"), row("grid.pitches_x"));
        assert!(JOB.row("strip.nonsense", |_| true).is_none());
        assert!(JOB.row("strip", |_| true).is_none());
        assert!(PATTERN.row("piece[3].from", |_| true).is_some());
    }
}
