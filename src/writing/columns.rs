//! Columns of plain text, kept within a width.

/// Between columns.
const GAP: usize = 2;

/// Narrowest column of words.
const NARROWEST: usize = 12;

/// Rows of cells, headings first, as lines of text; all columns end flush right. Where the rows
/// would be wider than `room`, headings take several lines, and then the widest columns of words
/// do (those for which `figures` says no). Figures are never broken: what they need is kept.
pub(super) fn aligned(rows: &[Vec<String>], figures: &[bool], room: usize) -> Vec<String> {
    let mut widths: Vec<usize> = (0..figures.len())
        .map(|column| widest(rows, column))
        .collect();
    if let Some((head, body)) = rows.split_first()
        && needed(&widths) > room
    {
        for (column, width) in widths.iter_mut().enumerate() {
            let words = head.get(column).map_or("", String::as_str).split(' ');
            let longest = words.map(|word| word.chars().count()).max().unwrap_or(0);
            *width = widest(body, column).max(longest);
        }
    }
    for _ in 0..widths.len() {
        let over = needed(&widths).saturating_sub(room);
        let words = widths
            .iter_mut()
            .zip(figures)
            .filter(|(_, figures)| !**figures);
        match words.map(|(width, _)| width).max() {
            Some(width) if over > 0 => {
                *width = width.saturating_sub(over).max(NARROWEST.min(*width));
            }
            Some(_) | None => break,
        }
    }
    rows.iter().flat_map(|row| lines(row, &widths)).collect()
}

/// Characters of a column's longest cell.
fn widest(rows: &[Vec<String>], column: usize) -> usize {
    let cells = rows.iter().filter_map(|row| row.get(column));
    cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
}

/// Characters of a whole line.
fn needed(widths: &[usize]) -> usize {
    widths.iter().sum::<usize>() + GAP * widths.len().saturating_sub(1)
}

/// One row, as many lines as its longest cell takes.
fn lines(row: &[String], widths: &[usize]) -> Vec<String> {
    let cells: Vec<Vec<String>> = row
        .iter()
        .zip(widths)
        .map(|(cell, width)| broken(cell, *width))
        .collect();
    let most = cells.iter().map(Vec::len).max().unwrap_or(0);
    let line = |at: usize| {
        let mut line = String::with_capacity(needed(widths));
        for (column, (cell, width)) in cells.iter().zip(widths).enumerate() {
            let text = cell.get(at).map_or("", String::as_str);
            let gap = if column > 0 { GAP } else { 0 };
            let free = width.saturating_sub(text.chars().count());
            line.extend(std::iter::repeat_n(' ', gap + free));
            line.push_str(text);
        }
        line
    };
    (0..most).map(line).collect()
}

/// A word, in pieces where it is longer than a line.
pub(super) fn pieces(word: &str, room: usize) -> impl Iterator<Item = &str> {
    let mut rest = word;
    std::iter::from_fn(move || {
        // A letter has a byte at least: what has no more bytes than there is room for is whole.
        let end = match rest.len() <= room {
            true => None,
            false => rest.char_indices().nth(room.max(1)),
        };
        let (piece, after) = rest.split_at(end.map_or(rest.len(), |(at, _)| at));
        rest = after;
        (!piece.is_empty()).then_some(piece)
    })
}

/// A cell broken at spaces; a longer word is broken anywhere.
fn broken(cell: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in cell.split(' ') {
        for (at, part) in pieces(word, width).enumerate() {
            match lines.last_mut() {
                Some(line) if line.is_empty() => line.push_str(part),
                Some(line)
                    if at == 0 && line.chars().count() + 1 + part.chars().count() <= width =>
                {
                    line.push(' ');
                    line.push_str(part);
                }
                _ => lines.push(part.to_owned()),
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(rows: &[&[&str]]) -> Vec<Vec<String>> {
        rows.iter()
            .map(|row| row.iter().map(ToString::to_string).collect())
            .collect()
    }

    #[test]
    fn what_fits_stands_on_one_line() {
        let found = aligned(
            &rows(&[&["near edge", "n"], &["1.5", "12"]]),
            &[true; 2],
            20,
        );
        assert_eq!(found, ["near edge   n", "      1.5  12"]);
    }

    #[test]
    fn headings_give_way_first_then_words() {
        let table = rows(&[
            &["piece and end", "near edge"],
            &["long left A, long right B", "1.5"],
        ]);
        let found = aligned(&table, &[false, true], 18);
        assert!(
            found.iter().all(|line| line.chars().count() <= 18),
            "{found:#?}"
        );
        let all = found.join(" ");
        for word in ["piece", "long", "left", "right", "B", "near", "edge", "1.5"] {
            assert!(all.contains(word), "{word}: {found:#?}");
        }
    }

    #[test]
    fn a_word_longer_than_its_column_is_broken() {
        assert_eq!(broken("abcdefgh ij", 4), ["abcd", "efgh", "ij"]);
        assert_eq!(broken("", 4), [""]);
    }
}
