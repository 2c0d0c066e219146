//! An upright grid in box-drawing letters (Unicode, block 2500 to 257F).

use super::room::Room;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::overview::CellOverview;

/// An upright grid as it is drawn, mm; first along x, then along y.
pub(super) struct LetterGrid<'a> {
    pub(super) pitches: [&'a [f64]; 2],
    /// From the outermost centre lines to the frame's inner faces, or to where the ends are cut off.
    pub(super) margins: [f64; 2],
    /// The same from the outermost strips' faces.
    pub(super) reveals: [f64; 2],
    pub(super) is_framed: bool,
}

/// A drawing.
pub(super) struct Letters {
    pub(super) lines: Vec<String>,
    pub(super) is_to_scale: bool,
}

/// A letter is about twice as high as it is wide.
const HIGHER: f64 = 2.0;

/// No cell is drawn wider than this, letters.
const WIDEST_CELL: f64 = 12.0;

/// Draws a grid; nothing where the room does not do. `mark` gives what stands in a cell.
pub(super) fn letters(
    grid: &LetterGrid<'_>,
    cells: &[CellOverview],
    mark: &dyn Fn(&CellOverview) -> Option<char>,
    room: Room,
) -> Option<Letters> {
    let [across, up] = [grid.ruled(0, room.columns)?, grid.ruled(1, room.lines)?];
    let scale = grid.scale([&across, &up]);
    // Equal bays are equally many letters; a bay that is square stays as nearly so as letters allow.
    let lines = up.whole(scale / HIGHER);
    let scales = [
        across.nearest(lines.map_or(scale, |lines| lines * HIGHER)),
        lines.unwrap_or_default(),
    ];
    let mut is_to_scale = true;
    let mut drawn = Vec::new();
    for (axis, scale) in [across, up].iter().zip(scales) {
        let places = match axis.to_scale(scale) {
            Some(places) => places,
            None => {
                is_to_scale = false;
                axis.closest()?
            }
        };
        drawn.push(places);
    }
    let [xs, ys] = <[Places; 2]>::try_from(drawn).ok()?;
    let mut canvas = Canvas::new(xs.total(), ys.total());
    for x in &xs.strips {
        canvas.vertical(*x, ys.ends);
    }
    for y in &ys.strips {
        canvas.horizontal(*y, xs.ends);
    }
    if grid.is_framed {
        canvas.frame(xs.ends, ys.ends);
    }
    for cell in cells {
        let between = |strips: &[usize], at: usize| {
            let from = strips.get(at.checked_sub(1)?)?;
            Some((from + strips.get(at)?) / 2)
        };
        let place = between(&xs.strips, cell.column).zip(between(&ys.strips, cell.row));
        if let Some(((x, y), mark)) = place.zip(mark(cell)) {
            canvas.mark(x, y, mark);
        }
    }
    Some(Letters {
        lines: canvas.lines(),
        is_to_scale,
    })
}

impl<'a> LetterGrid<'a> {
    /// One axis in its room; nothing where strips cannot stand two letters apart.
    fn ruled(&self, axis: usize, room: usize) -> Option<Axis<'a>> {
        let pitches = *self.pitches.get(axis)?;
        let reveal = self.reveals.get(axis).copied()?;
        let sticks_out = self.is_framed || reveal > SAME_POSITION_MM;
        let axis = Axis {
            pitches,
            margin: self.margins.get(axis).copied()?,
            sticks_out,
            room,
        };
        axis.closest().map(|_| axis)
    }

    /// Letters along x for a millimetre.
    fn scale(&self, [across, up]: [&Axis<'_>; 2]) -> f64 {
        let widest = self.pitches.iter().copied().flatten();
        let widest = widest.copied().fold(0.0, f64::max);
        let cells = WIDEST_CELL / widest.max(f64::MIN_POSITIVE);
        across.most().min(up.most() * HIGHER).min(cells)
    }
}

/// Strips across one direction.
struct Axis<'a> {
    pitches: &'a [f64],
    margin: f64,
    /// Whether a letter or more is drawn beyond the outermost strips.
    sticks_out: bool,
    room: usize,
}

/// Where letters stand, from 0.
#[derive(Debug)]
struct Places {
    strips: Vec<usize>,
    /// First and last letter of the strips that cross these.
    ends: [usize; 2],
}

impl Places {
    fn total(&self) -> usize {
        self.ends[1] + 1
    }
}

impl Axis<'_> {
    /// Letters for a millimetre, if all of them were taken.
    fn most(&self) -> f64 {
        // What sticks out is a letter at least on either side.
        let (beyond, taken) = if self.sticks_out {
            (2.0 * self.margin, 3.0)
        } else {
            (0.0, 1.0)
        };
        let length = self.pitches.iter().sum::<f64>() + beyond;
        (self.room as f64 - taken).max(1.0) / length.max(f64::MIN_POSITIVE)
    }

    /// The narrowest bay, mm.
    fn least(&self) -> f64 {
        let least = self.pitches.iter().copied().fold(f64::INFINITY, f64::min);
        least.max(f64::MIN_POSITIVE)
    }

    /// The greatest scale up to this one at which the narrowest bay is a whole number of letters; nothing
    /// where strips would touch.
    fn whole(&self, scale: f64) -> Option<f64> {
        // What is whole but for rounding is whole.
        let letters = (self.least() * scale + 1e-9).floor();
        (letters >= 2.0).then_some(letters / self.least())
    }

    /// The nearest such scale at which they do not.
    fn nearest(&self, scale: f64) -> f64 {
        (self.least() * scale).round().max(2.0) / self.least()
    }

    /// At so many letters for a millimetre; nothing where strips would touch.
    fn to_scale(&self, scale: f64) -> Option<Places> {
        let mut at = 0.0;
        let mut places = vec![0];
        for pitch in self.pitches {
            at += pitch;
            places.push(letters_for(at * scale));
        }
        let apart = |pair: &[usize]| matches!(pair, [a, b] if b - a >= 2);
        let beyond = letters_for(self.margin * scale).max(1);
        places
            .windows(2)
            .all(apart)
            .then(|| self.placed(&places, beyond))?
    }

    /// Every other letter.
    fn closest(&self) -> Option<Places> {
        let places: Vec<usize> = (0..=self.pitches.len()).map(|at| at * 2).collect();
        self.placed(&places, 1)
    }

    /// With what sticks out; nothing where the room does not do.
    fn placed(&self, places: &[usize], beyond: usize) -> Option<Places> {
        let beyond = if self.sticks_out { beyond } else { 0 };
        let strips: Vec<usize> = places.iter().map(|place| place + beyond).collect();
        let last = strips.last()? + beyond;
        (last < self.room).then_some(Places {
            strips,
            ends: [0, last],
        })
    }
}

/// The nearest whole number of letters.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a screen has few letters
fn letters_for(length: f64) -> usize {
    length.round().max(0.0) as usize
}

/// Which ways lines leave the middle of a letter.
const UP: u8 = 1;
const DOWN: u8 = 2;
const LEFT: u8 = 4;
const RIGHT: u8 = 8;
/// On a frame's double line.
const FRAME: u8 = 16;

/// Letters for the ways, by their sum.
const STRIPS: [char; 16] = [
    ' ', '╵', '╷', '│', '╴', '┘', '┐', '┤', '╶', '└', '┌', '├', '─', '┴', '┬', '┼',
];

struct Canvas {
    width: usize,
    /// Row by row from the bottom.
    ways: Vec<Vec<u8>>,
    marks: Vec<(usize, usize, char)>,
}

impl Canvas {
    fn new(width: usize, height: usize) -> Self {
        Canvas {
            width,
            ways: vec![vec![0; width]; height],
            marks: Vec::new(),
        }
    }

    fn add(&mut self, x: usize, y: usize, ways: u8) {
        if let Some(cell) = self.ways.get_mut(y).and_then(|row| row.get_mut(x)) {
            *cell |= ways;
        }
    }

    fn vertical(&mut self, x: usize, [from, to]: [usize; 2]) {
        for y in from..to {
            self.add(x, y, UP);
            self.add(x, y + 1, DOWN);
        }
    }

    fn horizontal(&mut self, y: usize, [from, to]: [usize; 2]) {
        for x in from..to {
            self.add(x, y, RIGHT);
            self.add(x + 1, y, LEFT);
        }
    }

    /// A double line along the edge; strips keep only their way into it.
    fn frame(&mut self, [left, right]: [usize; 2], [bottom, top]: [usize; 2]) {
        for x in left..=right {
            self.add(x, bottom, FRAME);
            self.add(x, top, FRAME);
        }
        for y in bottom..=top {
            self.add(left, y, FRAME);
            self.add(right, y, FRAME);
        }
    }

    fn mark(&mut self, x: usize, y: usize, mark: char) {
        self.marks.push((x, y, mark));
    }

    fn letter(&self, x: usize, y: usize, ways: u8) -> char {
        let mark = self.marks.iter().find(|(at, up, _)| (*at, *up) == (x, y));
        let inside = STRIPS.get(usize::from(ways & (FRAME - 1))).copied();
        let inside = inside.unwrap_or(' ');
        if ways & FRAME != 0 {
            return self.frame_letter(x, y, ways);
        }
        match mark {
            Some((_, _, mark)) if ways == 0 => *mark,
            _ => inside,
        }
    }

    fn frame_letter(&self, x: usize, y: usize, ways: u8) -> char {
        let ends = |at: usize, last: usize| (at == 0, at == last);
        let last = self.ways.len().saturating_sub(1);
        match (ends(x, self.width.saturating_sub(1)), ends(y, last)) {
            ((true, _), (true, _)) => '╚',
            ((true, _), (_, true)) => '╔',
            ((_, true), (true, _)) => '╝',
            ((_, true), (_, true)) => '╗',
            ((true, _), _) if ways & RIGHT != 0 => '╟',
            ((_, true), _) if ways & LEFT != 0 => '╢',
            (_, (true, _)) if ways & UP != 0 => '╧',
            (_, (_, true)) if ways & DOWN != 0 => '╤',
            ((true, _) | (_, true), _) => '║',
            _ => '═',
        }
    }

    /// From the top.
    fn lines(&self) -> Vec<String> {
        let rows = self.ways.iter().enumerate().rev();
        let line = |(y, row): (usize, &Vec<u8>)| {
            let letters = row.iter().enumerate();
            let text: String = letters.map(|(x, ways)| self.letter(x, y, *ways)).collect();
            text.trim_end().to_owned()
        };
        rows.map(line).collect()
    }
}
