//! The type of documents: DejaVu Sans in two weights, measured, broken into lines and turned into
//! glyphs. The licence of its files stands beside this one, in `LICENSE-FONTS`.

use super::points::MM_PER_POINT;
use crate::phrase::KEPT_SPACE;
use crate::units::NotPrintable;
use std::collections::BTreeSet;
use ttf_parser::{Face, GlyphId};
use unicode_bidi::BidiInfo;

/// How heavy a line of text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FontWeight {
    Plain,
    Bold,
}

impl FontWeight {
    pub(super) const ALL: [FontWeight; 2] = [FontWeight::Plain, FontWeight::Bold];

    /// Name of its font.
    pub(super) fn font_name(self) -> &'static str {
        match self {
            FontWeight::Plain => "DejaVuSans",
            FontWeight::Bold => "DejaVuSans-Bold",
        }
    }

    /// The font's file.
    pub(super) fn file(self) -> &'static [u8] {
        match self {
            FontWeight::Plain => dejavu::sans::regular(),
            FontWeight::Bold => dejavu::sans::bold(),
        }
    }
}

/// Stands for a letter that the type lacks.
const REPLACEMENT: char = '\u{fffd}';

/// A letter as a weight shows it.
#[derive(Clone, Copy)]
struct ShownLetter {
    /// Of one that the type lacks, that of the replacement sign.
    glyph: GlyphId,
    /// In thousandths of the type's size.
    advance: f64,
    lacks: bool,
}

impl ShownLetter {
    fn of(face: &Face<'_>, letter: char) -> ShownLetter {
        let own = face.glyph_index(letter);
        let glyph = own.or_else(|| face.glyph_index(REPLACEMENT));
        let glyph = glyph.unwrap_or_default();
        ShownLetter {
            glyph,
            advance: advance(face, glyph),
            lacks: own.is_none(),
        }
    }
}

/// One weight.
struct FontFace {
    face: Face<'static>,
    /// Letters of ASCII, by number: nearly all are, and each is measured many times.
    ascii: Vec<ShownLetter>,
}

impl FontFace {
    fn load(weight: FontWeight) -> Result<FontFace, NotPrintable> {
        let face = Face::parse(weight.file(), 0).map_err(|_| NotPrintable)?;
        let ascii = ('\0'..='\x7f').map(|letter| ShownLetter::of(&face, letter));
        Ok(FontFace {
            ascii: ascii.collect(),
            face,
        })
    }
}

/// Both weights, ready to be measured.
pub(super) struct Fonts {
    plain: FontFace,
    bold: FontFace,
}

impl Fonts {
    /// Reads the fonts that the program carries.
    pub(super) fn load() -> Result<Fonts, NotPrintable> {
        Ok(Fonts {
            plain: FontFace::load(FontWeight::Plain)?,
            bold: FontFace::load(FontWeight::Bold)?,
        })
    }

    fn of(&self, weight: FontWeight) -> &FontFace {
        match weight {
            FontWeight::Plain => &self.plain,
            FontWeight::Bold => &self.bold,
        }
    }

    pub(super) fn face(&self, weight: FontWeight) -> &Face<'static> {
        &self.of(weight).face
    }

    fn shown(&self, letter: char, weight: FontWeight) -> ShownLetter {
        let FontFace { face, ascii } = self.of(weight);
        let known = ascii.get(letter as usize).copied();
        known.unwrap_or_else(|| ShownLetter::of(face, letter))
    }

    /// The glyph for a letter; of one that the type lacks, that of the replacement sign.
    pub(super) fn glyph(&self, letter: char, weight: FontWeight) -> GlyphId {
        self.shown(letter, weight).glyph
    }

    /// Fonts of a text that the type lacks.
    pub(super) fn lacking(&self, text: &str) -> BTreeSet<char> {
        let lacks = |letter: &char| {
            !unseen(*letter)
                && FontWeight::ALL
                    .iter()
                    .any(|weight| self.shown(*letter, *weight).lacks)
        };
        text.chars().filter(lacks).collect()
    }

    /// Advance of a glyph, in thousandths of the type's size.
    pub(super) fn advance(&self, glyph: GlyphId, weight: FontWeight) -> f64 {
        advance(self.face(weight), glyph)
    }

    /// How long a line of text is, in mm; `size` in points.
    pub(super) fn width(&self, text: &str, size: f64, weight: FontWeight) -> f64 {
        in_mm(self.longer(0.0, text.chars(), weight), size)
    }

    /// A length in thousandths of the type's size, with letters behind it.
    fn longer(&self, from: f64, letters: impl Iterator<Item = char>, weight: FontWeight) -> f64 {
        let seen = letters.filter(|letter| !unseen(*letter));
        seen.fold(from, |sum, letter| sum + self.shown(letter, weight).advance)
    }

    /// A text broken at spaces into lines no longer than `room` mm, but not at those that are to be kept
    /// ([`KEPT_SPACE`]), which are plain ones in the lines; a word that is longer than that is broken
    /// anywhere.
    pub(super) fn lines(
        &self,
        text: &str,
        room: f64,
        size: f64,
        weight: FontWeight,
    ) -> Vec<String> {
        let fits = |long: f64| in_mm(long, size) <= room;
        let plain = |letter: char| match letter {
            KEPT_SPACE => ' ',
            other => other,
        };
        let longer = |from: f64, text: &str| self.longer(from, text.chars().map(plain), weight);
        let mut lines = Vec::new();
        // The line that is being filled, and how long it is.
        let mut line = String::new();
        let mut long = 0.0;
        let breaks = |letter: char| letter.is_whitespace() && letter != KEPT_SPACE;
        let words = text.split(breaks).filter(|word| !word.is_empty());
        // What is longer than a line is not kept together.
        let whole = words.flat_map(|word| {
            let parted = word.contains(KEPT_SPACE) && !fits(longer(0.0, word));
            word.split(move |letter| parted && letter == KEPT_SPACE)
        });
        for word in whole {
            let gap = if line.is_empty() { "" } else { " " };
            let with_word = longer(longer(long, gap), word);
            if fits(with_word) {
                line.push_str(gap);
                line.extend(word.chars().map(plain));
                long = with_word;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            long = 0.0;
            for letter in word.chars().map(plain) {
                let with_letter = |from: f64| self.longer(from, [letter].into_iter(), weight);
                if !line.is_empty() && !fits(with_letter(long)) {
                    lines.push(std::mem::take(&mut line));
                    long = 0.0;
                }
                line.push(letter);
                long = with_letter(long);
            }
        }
        if !line.is_empty() || lines.is_empty() {
            lines.push(line);
        }
        lines
    }
}

/// Advance of a glyph, in thousandths of the type's size.
fn advance(face: &Face<'_>, glyph: GlyphId) -> f64 {
    let units = f64::from(face.units_per_em());
    f64::from(face.glyph_hor_advance(glyph).unwrap_or_default()) * 1000.0 / units
}

/// Thousandths of type of a size in points, in mm.
fn in_mm(thousandths: f64, size: f64) -> f64 {
    thousandths / 1000.0 * size * MM_PER_POINT
}

/// Marks of direction and joining, which have no shape.
fn unseen(letter: char) -> bool {
    matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
        || letter.is_control()
}

/// A line's letters in the order in which they stand on paper: those of right-to-left scripts are
/// turned about. Letters are not joined.
pub(super) fn as_seen(line: &str) -> String {
    let info = BidiInfo::new(line, None);
    let seen: String = info
        .paragraphs
        .iter()
        .map(|paragraph| info.reorder_line(paragraph, paragraph.range.clone()))
        .collect();
    seen.chars().filter(|letter| !unseen(*letter)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn lines_fit_and_lose_nothing() {
        let letters = Fonts::load().unwrap();
        let text = "short words and averyveryverylongwordthatfitsnowhereatall to the end";
        let lines = letters.lines(text, 20.0, 10.0, FontWeight::Plain);
        assert!(lines.len() > 4);
        for line in &lines {
            assert!(
                letters.width(line, 10.0, FontWeight::Plain) <= 20.0,
                "{line}"
            );
        }
        let all: String = lines.concat().split_whitespace().collect();
        assert_eq!(all, text.replace(' ', ""));
    }

    #[test]
    fn digits_are_as_wide_as_the_font_says() {
        let letters = Fonts::load().unwrap();
        // 1303 of 2048 units in DejaVu Sans; 72 pt are an inch.
        let width = letters.width("0123456789", 72.0, FontWeight::Plain);
        assert!(approx_eq!(
            f64,
            width,
            10.0 * 1303.0 / 2048.0 * 25.4,
            epsilon = 1e-9
        ));
    }

    #[test]
    fn right_to_left_letters_are_turned_about() {
        assert_eq!(as_seen("abc"), "abc");
        assert_eq!(as_seen("\u{5d0}\u{5d1}\u{5d2}"), "\u{5d2}\u{5d1}\u{5d0}");
        assert_eq!(as_seen("a \u{5d0}\u{5d1} 12"), "a 12 \u{5d1}\u{5d0}");
        assert_eq!(as_seen("a\u{202e}b"), "ab");
    }

    #[test]
    fn letters_that_the_type_lacks_are_named() {
        let letters = Fonts::load().unwrap();
        assert!(
            letters
                .lacking("Door \u{e9} \u{5d0} \u{2713} \u{bd}")
                .is_empty()
        );
        assert_eq!(letters.lacking("\u{7d44}x"), BTreeSet::from(['\u{7d44}']));
    }
}
