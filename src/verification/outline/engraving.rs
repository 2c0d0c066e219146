//! Reads what is engraved on a part: marks at their places, words letter by letter, the check
//! line.

use super::near::Nearby;
use super::report::{OutlineFault, TOLERANCE_MM, mm};
use super::rings::vertex_distance;
use super::wanted_part::{Engraved, EngravedText};
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::lettering;

/// Length of the check line, mm.
const CHECK_LINE_MM: f64 = 50.0;

/// Letters drawn from their first stroke's size are off by no more than this, mm.
const LETTER_MM: f64 = 1e-3;

/// Compares the strokes on one part, in the part's frame, with what must be there.
pub(super) fn check(
    name: &str,
    strokes: &[Vec<Point>],
    wanted: &Engraved,
    faults: &mut Vec<OutlineFault>,
) {
    let mut report = |code, text: String| faults.push(OutlineFault::new(code, text));
    let mut rest = Strokes::of(strokes);
    for mark in &wanted.marks {
        match rest.find(mark, TOLERANCE_MM) {
            Some(found) => rest.take(found),
            None => {
                let x = mark.first().map_or(0.0, |point| point.x);
                report("mark-missing", format!("{name}: no mark at {} mm", mm(x)));
            }
        }
    }
    if wanted.check_line {
        let found = rest.left().find(|(_, stroke)| is_check_line(stroke));
        match found.map(|(at, _)| at) {
            Some(found) => rest.take(found),
            None => report("check-line", format!("{name}: no line of 50 mm")),
        }
    }
    // Longer words first: "11" is not to be read out of "11 20.00".
    let mut texts: Vec<&EngravedText> = wanted.texts.iter().collect();
    texts.sort_by_key(|text| std::cmp::Reverse(text.words.len()));
    for text in texts {
        match read(text, &rest) {
            Some(used) => used.into_iter().for_each(|at| rest.take(at)),
            None => report(
                "words",
                format!("{name}: \"{}\" is not where it belongs", text.words),
            ),
        }
    }
    let surplus = rest.left().count();
    if surplus > 0 {
        let text = format!("{name}: {surplus} strokes that nobody asked for");
        report("mark-surplus", text);
    }
}

/// The strokes on a part, and which of them are not read yet.
struct Strokes<'a> {
    all: &'a [Vec<Point>],
    is_left: Vec<bool>,
    nearby: Nearby,
}

impl<'a> Strokes<'a> {
    fn of(all: &'a [Vec<Point>]) -> Self {
        Strokes {
            is_left: vec![true; all.len()],
            nearby: Nearby::of(all.iter().map(|stroke| corners(stroke))),
            all,
        }
    }

    /// Those that are left, each with its number.
    fn left(&self) -> impl Iterator<Item = (usize, &'a [Point])> {
        let all = self.all.iter().map(Vec::as_slice).enumerate();
        all.zip(&self.is_left)
            .filter_map(|(stroke, left)| left.then_some(stroke))
    }

    /// The first that is left and has its vertices where a stroke has them.
    fn find(&self, meant: &[Point], within: f64) -> Option<usize> {
        let near = self.nearby.near(corners(meant), within).into_iter();
        let mut left = near.filter(|at| self.is_left.get(*at) == Some(&true));
        left.find(|at| {
            let stroke = self.all.get(*at);
            stroke.is_some_and(|stroke| vertex_distance(meant, stroke, false) <= within)
        })
    }

    fn take(&mut self, at: usize) {
        if let Some(left) = self.is_left.get_mut(at) {
            *left = false;
        }
    }
}

/// Lower left and upper right corner of a stroke's box.
fn corners(stroke: &[Point]) -> [Point; 2] {
    let (low, high) = bounds(stroke.iter().copied()).unwrap_or_default();
    [low, high]
}

/// A level stroke of 50 mm with its ends turned up.
fn is_check_line(stroke: &[Point]) -> bool {
    let [a, b, c, d] = stroke else { return false };
    let near = |x: f64, y: f64| (x - y).abs() <= TOLERANCE_MM;
    near((c.x - b.x).abs(), CHECK_LINE_MM)
        && near(b.y, c.y)
        && near(a.x, b.x)
        && near(c.x, d.x)
        && a.y > b.y
        && d.y > c.y
}

/// The strokes that are the letters of a text, wherever and however large they are drawn, along x
/// or upward; of several such places the one nearest to where it belongs.
fn read(text: &EngravedText, strokes: &Strokes<'_>) -> Option<Vec<usize>> {
    let letters = lettering::strokes(&text.words, Point::default(), 1.0);
    let (first, others) = letters.split_first()?;
    let mut best: Option<(f64, Vec<usize>)> = None;
    for (at, stroke) in strokes.left() {
        if stroke.len() != first.len() {
            continue;
        }
        let backward: Vec<Point> = stroke.iter().rev().copied().collect();
        for way in [stroke, &backward] {
            let Some(map) = LetterMap::of(first, way) else {
                continue;
            };
            let middle = letters.iter().flat_map(|letter| map.all(letter));
            let (low, high) = bounds(middle)?;
            let off = text
                .about
                .map_or(0.0, |x| (f64::midpoint(low.x, high.x) - x).abs());
            if off > text.within || best.as_ref().is_some_and(|(known, _)| off >= *known) {
                continue;
            }
            if vertex_distance(&map.all(first), stroke, false) > LETTER_MM {
                continue;
            }
            let rest = others
                .iter()
                .map(|letter| strokes.find(&map.all(letter), LETTER_MM));
            let Some(mut used) = rest.collect::<Option<Vec<usize>>>() else {
                continue;
            };
            used.push(at);
            best = Some((off, used));
        }
    }
    best.map(|(_, used)| used)
}

/// From letters of height 1 at the origin to letters on a part: turned by nothing or a quarter to
/// the left, scaled, moved.
struct LetterMap {
    from: Point,
    to: Point,
    along: Vector,
}

impl LetterMap {
    /// The map that takes the first segment of one stroke to that of another.
    fn of(letter: &[Point], stroke: &[Point]) -> Option<LetterMap> {
        let ([a, b, ..], [p, q, ..]) = (letter, stroke) else {
            return None;
        };
        if letter.len() != stroke.len() {
            return None;
        }
        let drawn = p.to(*q);
        let meant = a.to(*b);
        let scale = drawn.length() / meant.length();
        let flat = Vector::new(scale, 0.0);
        let upward = Vector::new(0.0, scale);
        let off = |along: Vector| (turned(meant, along) - drawn).length();
        let along = if off(flat) <= off(upward) {
            flat
        } else {
            upward
        };
        (off(along) <= LETTER_MM).then_some(LetterMap {
            from: *a,
            to: *p,
            along,
        })
    }

    fn all(&self, letter: &[Point]) -> Vec<Point> {
        let place = |point: &Point| self.to + turned(self.from.to(*point), self.along);
        letter.iter().map(place).collect()
    }
}

/// A vector turned and scaled as (1, 0) to `along`.
fn turned(by: Vector, along: Vector) -> Vector {
    Vector::new(
        by.x * along.x - by.y * along.y,
        by.x * along.y + by.y * along.x,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(strokes: &[Vec<Point>], wanted: &Engraved) -> Vec<&'static str> {
        let mut faults = Vec::new();
        check("part", strokes, wanted, &mut faults);
        faults.iter().map(|fault| fault.code).collect()
    }

    fn written(words: &str, x: f64, upward: bool) -> Vec<Vec<Point>> {
        let strokes = lettering::strokes(words, Point::new(x, 3.0), 2.5);
        if !upward {
            return strokes;
        }
        let turn = |p: &Point| Point::new(x - (p.y - 3.0), 3.0 + (p.x - x));
        let stroke = |stroke: &Vec<Point>| stroke.iter().map(turn).collect();
        strokes.iter().map(stroke).collect()
    }

    fn at(words: &str, x: f64, within: f64) -> Engraved {
        Engraved {
            texts: vec![EngravedText::about(words, x, within)],
            ..Engraved::default()
        }
    }

    #[test]
    fn words_are_read_flat_and_upward_and_only_as_they_are_written() {
        for upward in [false, true] {
            let strokes = written("2.85", 20.0, upward);
            let x = if upward { 18.75 } else { 20.0 + 9.1667 / 2.0 };
            assert!(codes(&strokes, &at("2.85", x, 0.1)).is_empty());
            assert_eq!(codes(&strokes, &at("2.86", x, 0.1))[0], "words");
            assert_eq!(codes(&strokes, &at("2.8", x, 9.0)), ["mark-surplus"]);
            assert_eq!(codes(&strokes, &at("2.85", x + 1.0, 0.5))[0], "words");
        }
    }

    #[test]
    fn changed_about_words_are_found() {
        let mut strokes = written("2.85", 20.0, true);
        strokes.extend(written("2.90", 30.0, true));
        let texts = |first, second| Engraved {
            texts: vec![
                EngravedText::about(first, 18.75, 2.0),
                EngravedText::about(second, 28.75, 2.0),
            ],
            ..Engraved::default()
        };
        assert!(codes(&strokes, &texts("2.85", "2.90")).is_empty());
        assert_eq!(
            codes(&strokes, &texts("2.90", "2.85"))[..2],
            ["words", "words"]
        );
    }

    #[test]
    fn marks_stand_where_they_must_and_the_check_line_is_true() {
        let p = Point::new;
        let line = |long: f64| {
            vec![
                p(3.0, 5.0),
                p(3.0, 4.0),
                p(3.0 + long, 4.0),
                p(3.0 + long, 5.0),
            ]
        };
        let mark = vec![p(10.0, 0.2), p(10.0, 6.0)];
        let wanted = Engraved {
            marks: vec![mark.clone()],
            check_line: true,
            ..Engraved::default()
        };
        assert!(codes(&[line(50.0), mark.clone()], &wanted).is_empty());
        assert_eq!(
            codes(&[line(50.001), mark.clone()], &wanted),
            ["check-line", "mark-surplus"]
        );
        let moved = vec![p(10.001, 0.2), p(10.0, 6.0)];
        assert_eq!(
            codes(&[line(50.0), moved], &wanted),
            ["mark-missing", "mark-surplus"]
        );
        assert_eq!(codes(&[line(50.0)], &wanted), ["mark-missing"]);
    }
}
