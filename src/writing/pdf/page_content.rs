//! A page's elements as its content stream (ISO 32000-1, 8 and 9).

use super::embedded_fonts::name_of;
use super::fonts::{FontWeight, Fonts, as_seen};
use super::glyphs::{UsedGlyphs, UsedLetter};
use super::page_element::{PageElement, rectangle};
use super::paper::Paper;
use super::points::{MM_PER_POINT, points};
use super::structure::{self, Marks};
use super::tags::{Tag, TagId, TagRole};
use crate::geometry::{Point, bounds};
use crate::units::NotPrintable;
use crate::writing::theme::Colour;
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Finish, Name, Rect, Str, TextStr};

/// Corners of what is seen.
fn corners(element: &PageElement) -> Vec<Point> {
    match element {
        PageElement::Fill { ring, .. } => ring.clone(),
        PageElement::Line { points, .. } => points.clone(),
        PageElement::Text { at, .. } => vec![*at],
        PageElement::Window { low, high, .. } => vec![*low, *high],
        PageElement::Marked { elements, .. } => elements.iter().flat_map(corners).collect(),
        PageElement::Link { .. } => Vec::new(),
    }
}

/// The content stream, not packed yet; the glyphs that it uses are noted in `used`.
pub(super) fn content(
    page: &[PageElement],
    paper: Paper,
    fonts: &Fonts,
    tags: &[Tag],
    (used, marks): (&mut UsedGlyphs, &mut Marks),
) -> Result<Vec<u8>, NotPrintable> {
    marks.pages.push(Vec::new());
    let mut writer = ContentWriter {
        content: Content::new(),
        state: DrawingState::default(),
        height: paper.size().height,
        fonts,
        tags,
        used,
        marks,
    };
    writer.content.set_line_join(LineJoinStyle::RoundJoin);
    writer.content.set_line_cap(LineCapStyle::RoundCap);
    for element in page {
        writer.top(element)?;
    }
    Ok(writer.content.finish().to_vec())
}

/// What is set already for what is drawn next.
#[derive(Clone, Copy, Default)]
struct DrawingState {
    fill: Option<Colour>,
    stroke: Option<Colour>,
    /// Bits of the lines' width.
    width: Option<u32>,
}

struct ContentWriter<'a> {
    content: Content,
    state: DrawingState,
    /// Of the page, mm.
    height: f64,
    fonts: &'a Fonts,
    tags: &'a [Tag],
    used: &'a mut UsedGlyphs,
    marks: &'a mut Marks,
}

impl ContentWriter<'_> {
    /// In points from the lower left corner.
    fn at(&self, point: Point) -> Result<(f32, f32), NotPrintable> {
        Ok((points(point.x)?, points(self.height - point.y)?))
    }

    /// Something on the page: marked as what it is, or as decoration.
    fn top(&mut self, element: &PageElement) -> Result<(), NotPrintable> {
        match element {
            PageElement::Link { .. } => return Ok(()),
            PageElement::Marked { tag, elements } => {
                let role = self.tags.get(tag.0).ok_or(NotPrintable)?.role;
                let mark = self.marks.add(*tag)?;
                let mut begun = self
                    .content
                    .begin_marked_content_with_properties(structure::name_of(role));
                begun.properties().identify(mark);
                begun.finish();
                if role == TagRole::Picture {
                    self.note_room(*tag, elements)?;
                }
                for element in elements {
                    self.element(element)?;
                }
            }
            PageElement::Fill { .. }
            | PageElement::Line { .. }
            | PageElement::Text { .. }
            | PageElement::Window { .. } => {
                self.content.begin_marked_content(Name(b"Artifact"));
                self.element(element)?;
            }
        }
        self.content.end_marked_content();
        Ok(())
    }

    /// Notes the upright box of a picture.
    fn note_room(&mut self, tag: TagId, elements: &[PageElement]) -> Result<(), NotPrintable> {
        let Some((low, high)) = bounds(elements.iter().flat_map(corners)) else {
            return Ok(());
        };
        let (left, top) = self.at(low)?;
        let (right, bottom) = self.at(high)?;
        let room = Rect::new(left, bottom, right, top);
        self.marks.boxes.insert(tag, room);
        Ok(())
    }

    fn element(&mut self, element: &PageElement) -> Result<(), NotPrintable> {
        match element {
            PageElement::Fill { ring, colour } => {
                self.fill_with(*colour);
                self.way(ring, true)?;
                self.content.fill_nonzero();
            }
            PageElement::Line {
                points: way,
                closed,
                colour,
                width,
            } => {
                self.stroke_with(*colour, points(*width)?);
                self.way(way, *closed)?;
                self.content.stroke();
            }
            PageElement::Text { at, style, text } => {
                let (x, y) = self.at(*at)?;
                let glyphs = self.glyphs(text, style.weight);
                self.fill_with(style.colour);
                let spelt = self.is_spelt_by_glyphs(text, style.weight);
                if !spelt {
                    let mut span = self
                        .content
                        .begin_marked_content_with_properties(Name(b"Span"));
                    span.properties().actual_text(TextStr(&as_seen(text)));
                    span.finish();
                }
                self.content.begin_text();
                self.content
                    .set_font(name_of(style.weight), points(style.size * MM_PER_POINT)?);
                self.content.next_line(x, y);
                self.content.show(Str(&glyphs));
                self.content.end_text();
                if !spelt {
                    self.content.end_marked_content();
                }
            }
            // Links stand beside the content, as annotations.
            PageElement::Link { .. } => {}
            PageElement::Marked { elements, .. } => {
                for element in elements {
                    self.element(element)?;
                }
            }
            PageElement::Window {
                low,
                high,
                elements,
            } => {
                let before = self.state;
                self.content.save_state();
                let ring = rectangle(*low, *high);
                self.way(&ring, true)?;
                self.content.clip_nonzero();
                self.content.end_path();
                for element in elements {
                    self.element(element)?;
                }
                self.content.restore_state();
                self.state = before;
            }
        }
        Ok(())
    }

    /// Sets the colour of areas and letters where it is another.
    fn fill_with(&mut self, colour: Colour) {
        if self.state.fill.replace(colour) != Some(colour) {
            let [red, green, blue] = colour.channels();
            self.content.set_fill_rgb(red, green, blue);
        }
    }

    /// The same of lines, with their width in points.
    fn stroke_with(&mut self, colour: Colour, width: f32) {
        if self.state.stroke.replace(colour) != Some(colour) {
            let [red, green, blue] = colour.channels();
            self.content.set_stroke_rgb(red, green, blue);
        }
        let bits = width.to_bits();
        if self.state.width.replace(bits) != Some(bits) {
            self.content.set_line_width(width);
        }
    }

    fn way(&mut self, points: &[Point], closed: bool) -> Result<(), NotPrintable> {
        for (index, point) in points.iter().enumerate() {
            let (x, y) = self.at(*point)?;
            if index == 0 {
                self.content.move_to(x, y);
            } else {
                self.content.line_to(x, y);
            }
        }
        if closed {
            self.content.close_path();
        }
        Ok(())
    }

    /// Whether what is read from a line's glyphs is the line: not where letters lack in the type, or have a
    /// glyph that stands for another letter too. Letters that run from right to left stand on the page as they
    /// are seen; readers turn them about.
    fn is_spelt_by_glyphs(&self, text: &str, weight: FontWeight) -> bool {
        let used = self.used.of(weight);
        let stands_for = |letter: char| {
            let glyph = self.fonts.glyph(letter, weight).0;
            let mut known = used.letters.values();
            known
                .find(|known| known.glyph == glyph)
                .map(|known| known.letter)
        };
        let plain = |letter: char| {
            let glyph = |letter: char| self.fonts.glyph(letter, weight).0;
            (' '..='~').any(|other| glyph(other) == glyph(letter))
        };
        let mut others = text.chars().filter(|letter| !letter.is_ascii());
        self.fonts.lacking(text).is_empty()
            && others.all(|letter| {
                !plain(letter) && stands_for(letter).is_none_or(|known| known == letter)
            })
    }

    /// A line's glyphs in the order in which they stand on paper, two bytes each.
    fn glyphs(&mut self, text: &str, weight: FontWeight) -> Vec<u8> {
        let mut bytes = Vec::new();
        let used = self.used.of_mut(weight);
        for letter in as_seen(text).chars() {
            let old = self.fonts.glyph(letter, weight).0;
            let new = used.glyphs.remap(old);
            let known = used.letters.entry(new);
            let known = known.or_insert(UsedLetter { glyph: old, letter });
            // A hyphen's glyph, say, is that of other letters too: those are spelt out where they stand.
            if letter.is_ascii() {
                known.letter = letter;
            }
            bytes.extend(new.to_be_bytes());
        }
        bytes
    }
}
