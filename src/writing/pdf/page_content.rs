//! A page's elements as its content stream (ISO 32000-1, 8 and 9).

use super::embedded_fonts::name_of;
use super::fonts::{FontWeight, Fonts, as_seen};
use super::glyphs::{UsedGlyphs, UsedLetter};
use super::page_element::{PageElement, rectangle};
use super::paper::Paper;
use super::points::{MM_PER_POINT, points};
use crate::geometry::Point;
use crate::units::NotPrintable;
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Str};

/// The content stream, not packed yet; the glyphs that it uses are noted in `used`.
pub(super) fn content(
    page: &[PageElement],
    paper: Paper,
    fonts: &Fonts,
    used: &mut UsedGlyphs,
) -> Result<Vec<u8>, NotPrintable> {
    let mut writer = ContentWriter {
        content: Content::new(),
        height: paper.size().height,
        fonts,
        used,
    };
    writer.content.set_line_join(LineJoinStyle::RoundJoin);
    writer.content.set_line_cap(LineCapStyle::RoundCap);
    for element in page {
        writer.element(element)?;
    }
    Ok(writer.content.finish().to_vec())
}

struct ContentWriter<'a> {
    content: Content,
    /// Of the page, mm.
    height: f64,
    fonts: &'a Fonts,
    used: &'a mut UsedGlyphs,
}

impl ContentWriter<'_> {
    /// In points from the lower left corner.
    fn at(&self, point: Point) -> Result<(f32, f32), NotPrintable> {
        Ok((points(point.x)?, points(self.height - point.y)?))
    }

    fn element(&mut self, element: &PageElement) -> Result<(), NotPrintable> {
        match element {
            PageElement::Fill { ring, colour } => {
                let [red, green, blue] = colour.channels();
                self.content.set_fill_rgb(red, green, blue);
                self.way(ring, true)?;
                self.content.fill_nonzero();
            }
            PageElement::Line {
                points: way,
                closed,
                colour,
                width,
            } => {
                let [red, green, blue] = colour.channels();
                self.content.set_stroke_rgb(red, green, blue);
                self.content.set_line_width(points(*width)?);
                self.way(way, *closed)?;
                self.content.stroke();
            }
            PageElement::Text { at, style, text } => {
                let [red, green, blue] = style.colour.channels();
                let (x, y) = self.at(*at)?;
                let glyphs = self.glyphs(text, style.weight);
                self.content.set_fill_rgb(red, green, blue);
                self.content.begin_text();
                self.content
                    .set_font(name_of(style.weight), points(style.size * MM_PER_POINT)?);
                self.content.next_line(x, y);
                self.content.show(Str(&glyphs));
                self.content.end_text();
            }
            // Links stand beside the content, as annotations.
            PageElement::Link { .. } => {}
            PageElement::Window {
                low,
                high,
                elements,
            } => {
                self.content.save_state();
                let ring = rectangle(*low, *high);
                self.way(&ring, true)?;
                self.content.clip_nonzero();
                self.content.end_path();
                for element in elements {
                    self.element(element)?;
                }
                self.content.restore_state();
            }
        }
        Ok(())
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

    /// A line's glyphs in the order in which they stand on paper, two bytes each.
    fn glyphs(&mut self, text: &str, weight: FontWeight) -> Vec<u8> {
        let mut bytes = Vec::new();
        let used = self.used.of_mut(weight);
        for letter in as_seen(text).chars() {
            let old = self.fonts.glyph(letter, weight).0;
            let new = used.glyphs.remap(old);
            used.letters
                .entry(new)
                .or_insert(UsedLetter { glyph: old, letter });
            bytes.extend(new.to_be_bytes());
        }
        bytes
    }
}
