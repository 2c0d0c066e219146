//! Single-stroke letters for labels that a beam or a cutter follows once: this project's own
//! design on a cell 4 units wide and 6 high.

use crate::geometry::Point;

/// Height of a letter in units.
const HEIGHT: f64 = 6.0;

/// From one letter's left side to the next one's, in units: the cell and a space of 2.
const ADVANCE: f64 = 6.0;

/// What stands for a character that has no shape here: an empty box, so that the reader sees that
/// something is missing.
const BOX: &str = "00 40 46 06 00";

/// Strokes of a capital, digit or sign: vertices `xy` in units, strokes parted by commas; round
/// shapes have their corners cut off.
fn shape(character: char) -> Option<&'static str> {
    Some(match character {
        'A' => "00 26 40,12 32",
        'B' => "00 06 36 45 44 33 03,33 42 41 30 00",
        'C' => "45 36 16 05 01 10 30 41",
        'D' => "00 06 26 44 42 20 00",
        'E' => "46 06 00 40,03 33",
        'F' => "46 06 00,03 33",
        'G' => "45 36 16 05 01 10 30 41 43 23",
        'H' => "00 06,40 46,03 43",
        'I' => "10 30,16 36,20 26",
        'J' => "16 46,36 31 20 10 01",
        'K' => "00 06,46 03 40",
        'L' => "06 00 40",
        'M' => "00 06 23 46 40",
        'N' => "00 06 40 46",
        'O' => "10 01 05 16 36 45 41 30 10",
        'P' => "00 06 36 45 44 33 03",
        'Q' => "10 01 05 16 36 45 41 30 10,22 40",
        'R' => "00 06 36 45 44 33 03,23 40",
        'S' => "45 36 16 05 04 13 33 42 41 30 10 01",
        'T' => "06 46,26 20",
        'U' => "06 01 10 30 41 46",
        'V' => "06 20 46",
        'W' => "06 10 23 30 46",
        'X' => "00 46,06 40",
        'Y' => "06 23 46,23 20",
        'Z' => "06 46 00 40",
        '0' => "10 01 05 16 36 45 41 30 10,11 35",
        '1' => "05 26 20,00 40",
        '2' => "05 16 36 45 44 00 40",
        '3' => "06 46 23 33 42 41 30 10 01",
        '4' => "30 36 02 42",
        '5' => "46 06 03 33 42 41 30 10 01",
        '6' => "36 16 04 01 10 30 41 42 33 03",
        '7' => "06 46 10,13 33",
        '8' => "13 04 05 16 36 45 44 33 13 02 01 10 30 41 42 33",
        '9' => "10 30 42 45 36 16 05 04 13 43",
        '-' => "13 33",
        '+' => "03 43,21 25",
        '/' => "00 46",
        '.' => "10 20 21 11 10",
        ' ' => "",
        _ => return None,
    })
}

/// The characters of `text` that [`strokes`] can only draw as an empty box, for a warning. Small
/// letters are drawn as capitals and are not among them.
pub fn lacking(text: &str) -> impl Iterator<Item = char> + '_ {
    text.chars()
        .filter(|character| shape(character.to_ascii_uppercase()).is_none())
}

/// Length of `text` in mm, when drawn `height_mm` high, from the left side of the first letter to
/// the right side of the last.
pub fn width(text: &str, height_mm: f64) -> f64 {
    let letters = text.chars().count() as f64;
    let space_after_last = ADVANCE - 4.0;
    (letters * ADVANCE - space_after_last).max(0.0) * height_mm / HEIGHT
}

/// Open strokes of `text` in mm, reading along x: `corner` is the lower left corner of the first
/// letter, `height_mm` the height of a capital. Small letters become capitals; a character that
/// has no shape becomes an empty box.
pub fn strokes(text: &str, corner: Point, height_mm: f64) -> Vec<Vec<Point>> {
    let unit = height_mm / HEIGHT;
    let mut strokes = Vec::new();
    for (place, character) in text.chars().enumerate() {
        let shape = shape(character.to_ascii_uppercase()).unwrap_or(BOX);
        let left = corner.x + place as f64 * ADVANCE * unit;
        let at = |vertex: &[u8]| match vertex {
            [x, y] => Some(Point::new(
                left + f64::from(x - b'0') * unit,
                corner.y + f64::from(y - b'0') * unit,
            )),
            _ => None,
        };
        let stroke = |text: &str| -> Vec<Point> {
            let vertices = text.split_whitespace().map(str::as_bytes);
            vertices.filter_map(at).collect()
        };
        strokes.extend(shape.split(',').map(stroke).filter(|s| s.len() > 1));
    }
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-+/.";

    #[test]
    fn every_shape_is_well_formed_and_inside_its_cell() {
        for character in ALL.chars() {
            let text = shape(character).unwrap();
            for stroke in text.split(',') {
                let vertices: Vec<&str> = stroke.split(' ').collect();
                assert!(vertices.len() > 1, "{character}");
                for pair in vertices.windows(2) {
                    assert_ne!(pair[0], pair[1], "{character}");
                }
                for vertex in vertices {
                    let [x, y] = vertex.as_bytes() else {
                        panic!("{character}: {vertex}")
                    };
                    assert!((b'0'..=b'4').contains(x) && (b'0'..=b'6').contains(y));
                }
            }
        }
    }

    #[test]
    fn no_two_characters_look_the_same() {
        let mut shapes: Vec<_> = ALL.chars().chain([' ']).filter_map(shape).collect();
        shapes.sort_unstable();
        shapes.dedup();
        assert_eq!(shapes.len(), ALL.len() + 1);
    }

    #[test]
    fn size_and_place() {
        let found = strokes("L/", Point::new(10.0, 20.0), 3.0);
        let p = Point::new;
        assert_eq!(
            found,
            [
                vec![p(10.0, 23.0), p(10.0, 20.0), p(12.0, 20.0)],
                vec![p(13.0, 20.0), p(15.0, 23.0)],
            ]
        );
        assert_eq!(width("L/", 3.0), 5.0);
        assert_eq!(width("", 3.0), 0.0);
    }

    #[test]
    fn small_letters_are_capitals_and_unknown_ones_boxes() {
        let at = Point::default();
        assert_eq!(strokes("upright 2", at, 6.0), strokes("UPRIGHT 2", at, 6.0));
        assert_eq!(strokes("\u{e9}", at, 6.0)[0].len(), 5);
        assert_eq!(lacking("a-\u{e9}1%").collect::<String>(), "\u{e9}%");
        assert!(strokes(" ", at, 6.0).is_empty());
    }
}
