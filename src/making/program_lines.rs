//! Where the moves that a sheet plays stand in their programs: line by line, as the files have them.

use super::made::{FileKind, MadeFile};
use crate::instructions::booklet::Booklet;
use crate::instructions::sheet::{Block, Play, PlayStop};
use crate::instructions::tool_path::Position;
use crate::units::MM_PER_INCH;
use crate::writing::files::Content;
use std::io::BufRead;

/// A program's last digit, in either of its units, and half of the next, mm.
const LAST_DIGIT_MM: f64 = 0.002;

/// A stop is looked for in so many moves; what is not found has no line.
const FARTHEST: usize = 40;

/// The end of a move in a program.
struct Ended {
    line: usize,
    at: Position,
}

/// Says at every stop of the booklet's plays which line of its program it is. What cannot be read is left.
pub(super) fn add_lines(booklet: &mut Booklet, files: &mut [MadeFile]) {
    for file in files
        .iter_mut()
        .filter(|file| file.kind == FileKind::Program)
    {
        let own = booklet
            .sheets
            .iter_mut()
            .flat_map(|sheet| &mut sheet.sections);
        let own = own.flat_map(|section| &mut section.blocks);
        let mut plays = own.filter_map(|block| match block {
            Block::Play(play) if play.file == file.name => Some(play),
            _ => None,
        });
        let Some(first) = plays.next() else { continue };
        let ends = match &mut file.content {
            Content::Whole(bytes) => ends(bytes.as_slice()),
            Content::Spooled(spool) => spool.reader().map(ends).unwrap_or_default(),
        };
        // Set-ups that share a file come one after the other in it.
        let mut from = 0;
        for play in std::iter::once(first).chain(plays) {
            from = number(play, &ends, from);
        }
    }
}

/// Numbers a play's stops from a move of the program on; gives the move behind the last.
fn number(play: &mut Play, ends: &[Ended], mut from: usize) -> usize {
    // Up to the first stop there may be whole runs of another set-up.
    if let Some(first) = play.stops.first() {
        let found = ends.iter().skip(from).position(|end| is_at(end, first));
        from += found.unwrap_or(0);
    }
    for stop in &mut play.stops {
        let ahead = ends.iter().enumerate().skip(from).take(FARTHEST);
        let mut ahead = ahead.filter(|(_, end)| is_at(end, stop));
        // A stop where the last one was is no move of its own.
        let last = from.checked_sub(1).and_then(|at| ends.get(at));
        let stays = last.filter(|end| is_at(end, stop));
        match (stays, ahead.next()) {
            (Some(end), _) => stop.line = Some(end.line),
            (None, Some((at, end))) => {
                stop.line = Some(end.line);
                from = at + 1;
            }
            (None, None) => {}
        }
    }
    from
}

fn is_at(end: &Ended, stop: &PlayStop) -> bool {
    end.at.distance(stop.at) < LAST_DIGIT_MM
}

/// Where the moves of a program end, once all three axes are known.
fn ends(text: impl BufRead) -> Vec<Ended> {
    let mut scale = 1.0;
    let mut known = [None::<f64>; 3];
    let mut ends = Vec::new();
    for (line, text) in (1..).zip(text.lines().map_while(Result::ok)) {
        let code = text.split(['(', ';', '%']).next().unwrap_or_default();
        let mut moved = false;
        for word in code.split_whitespace() {
            let Some((letter, figure)) = word.split_at_checked(1) else {
                continue;
            };
            let figure: Option<f64> = figure.parse().ok();
            let axis = match (letter, word) {
                (_, "G20") => {
                    scale = MM_PER_INCH;
                    continue;
                }
                ("X", _) => 0,
                ("Y", _) => 1,
                ("Z", _) => 2,
                _ => continue,
            };
            if let (Some(place), Some(figure)) = (known.get_mut(axis), figure) {
                *place = Some(figure * scale);
                moved = true;
            }
        }
        if let ([Some(x), Some(y), Some(z)], true) = (known, moved) {
            let at = Position { x, y, z };
            ends.push(Ended { line, at });
        }
    }
    ends
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_end_where_lines_say_in_either_unit() {
        let program = "(x)\nG21\nG0 Z5\nG0 X1 Y2\nG1 Z-1 F60\nM2\n";
        let found: Vec<(usize, f64)> = ends(program.as_bytes())
            .iter()
            .map(|end| (end.line, end.at.z))
            .collect();
        assert_eq!(found, [(4, 5.0), (5, -1.0)]);
        let inches = ends("G20\nG0 X1 Y0 Z0\n".as_bytes());
        assert!((inches[0].at.x - 25.4).abs() < 1e-9);
    }
}
