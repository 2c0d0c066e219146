//! Pages of marks as a PDF file (ISO 32000-1).

use super::Sheet;
use super::contents::Chapter;
use super::letters::{Letters, Weight, as_seen};
use super::mark::{MM_PER_POINT, Mark};
use super::outline::{self, Leaves};
use crate::geometry::Point;
use crate::units::NotPrintable;
use miniz_oxide::deflate::{CompressionLevel, compress_to_vec_zlib};
use pdf_writer::types::{CidFontType, FontFlags, PageMode, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;

/// Name of a font in the pages' resources.
fn name_of(weight: Weight) -> Name<'static> {
    match weight {
        Weight::Plain => Name(b"F1"),
        Weight::Bold => Name(b"F2"),
    }
}

/// The glyphs that are used of both fonts.
#[derive(Default)]
struct Glyphs {
    plain: Used,
    bold: Used,
}

impl Glyphs {
    fn of(&self, weight: Weight) -> &Used {
        match weight {
            Weight::Plain => &self.plain,
            Weight::Bold => &self.bold,
        }
    }

    fn of_mut(&mut self, weight: Weight) -> &mut Used {
        match weight {
            Weight::Plain => &mut self.plain,
            Weight::Bold => &mut self.bold,
        }
    }
}

/// The glyphs of a font that are used, under their numbers in the file.
#[derive(Default)]
struct Used {
    glyphs: GlyphRemapper,
    /// New number -> old number and the letter that it stands for.
    letters: BTreeMap<u16, (u16, char)>,
}

/// Writes the file. The same pages give the same bytes.
pub(super) fn write(
    pages: &[Vec<Mark>],
    chapters: &[Chapter],
    sheet: Sheet,
    title: &str,
    letters: &Letters,
) -> Result<Vec<u8>, NotPrintable> {
    let mut used = Glyphs::default();
    let mut contents = Vec::new();
    for page in pages {
        contents.push(content(page, sheet, letters, &mut used)?);
    }
    let mut next = Ref::new(1);
    let (catalog, tree, info) = (next.bump(), next.bump(), next.bump());
    let outline = next.bump();
    let fonts = Weight::ALL.map(|weight| (weight, next.bump()));
    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    root.lang(TextStr("en"));
    root.outlines(outline);
    root.page_mode(PageMode::UseOutlines);
    let mut preferences = root.viewer_preferences();
    // Templates are of use at true size only.
    preferences.pair(Name(b"PrintScaling"), Name(b"None"));
    preferences.pair(Name(b"DisplayDocTitle"), true);
    preferences.finish();
    root.finish();
    pdf.document_info(info).title(TextStr(title));
    let (width, height) = sheet.size();
    let corner = (points(width)?, points(height)?);
    let kids: Vec<(Ref, Ref)> = contents
        .iter()
        .map(|_| (next.bump(), next.bump()))
        .collect();
    let count = i32::try_from(kids.len()).map_err(|_| NotPrintable)?;
    pdf.pages(tree)
        .kids(kids.iter().map(|(page, _)| *page))
        .count(count);
    let leaves = Leaves {
        pages: &kids.iter().map(|(page, _)| *page).collect::<Vec<_>>(),
        height,
    };
    outline::write(&mut pdf, &mut next, outline, chapters, &leaves)?;
    for (((page, stream), content), marks) in kids.into_iter().zip(contents).zip(pages) {
        let links = outline::links(marks);
        let links: Vec<_> = links.into_iter().map(|link| (next.bump(), link)).collect();
        let mut written = pdf.page(page);
        if !links.is_empty() {
            written.annotations(links.iter().map(|(own, _)| *own));
        }
        written.parent(tree);
        written.media_box(Rect::new(0.0, 0.0, corner.0, corner.1));
        written.contents(stream);
        let mut resources = written.resources();
        let mut named = resources.fonts();
        for (weight, font) in fonts {
            named.pair(name_of(weight), font);
        }
        named.finish();
        resources.finish();
        written.finish();
        let packed = packed(&content);
        pdf.stream(stream, &packed).filter(Filter::FlateDecode);
        for (own, link) in links {
            outline::write_link(&mut pdf, own, link, &leaves)?;
        }
    }
    for (weight, font) in fonts {
        write_font(&mut pdf, &mut next, font, weight, letters, used.of(weight))?;
    }
    Ok(pdf.finish())
}

fn packed(bytes: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(bytes, CompressionLevel::DefaultLevel as u8)
}

/// Millimetres to points.
#[allow(clippy::cast_possible_truncation)] // what a PDF holds; a page needs six digits
pub(super) fn points(mm: f64) -> Result<f32, NotPrintable> {
    let points = (mm / MM_PER_POINT) as f32;
    if points.is_finite() {
        Ok(points)
    } else {
        Err(NotPrintable)
    }
}

fn content(
    page: &[Mark],
    sheet: Sheet,
    letters: &Letters,
    used: &mut Glyphs,
) -> Result<Vec<u8>, NotPrintable> {
    let mut pen = Pen {
        content: Content::new(),
        top: sheet.size().1,
        letters,
        used,
    };
    pen.content
        .set_line_join(pdf_writer::types::LineJoinStyle::RoundJoin);
    pen.content
        .set_line_cap(pdf_writer::types::LineCapStyle::RoundCap);
    for mark in page {
        pen.mark(mark)?;
    }
    Ok(pen.content.finish().to_vec())
}

struct Pen<'a> {
    content: Content,
    top: f64,
    letters: &'a Letters,
    used: &'a mut Glyphs,
}

impl Pen<'_> {
    fn at(&self, point: Point) -> Result<(f32, f32), NotPrintable> {
        Ok((points(point.x)?, points(self.top - point.y)?))
    }

    fn mark(&mut self, mark: &Mark) -> Result<(), NotPrintable> {
        match mark {
            Mark::Fill { ring, colour } => {
                let [red, green, blue] = colour.channels();
                self.content.set_fill_rgb(red, green, blue);
                self.way(ring, true)?;
                self.content.fill_nonzero();
            }
            Mark::Line {
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
            Mark::Text {
                at,
                size,
                weight,
                colour,
                text,
            } => {
                let [red, green, blue] = colour.channels();
                let (x, y) = self.at(*at)?;
                let glyphs = self.glyphs(text, *weight);
                self.content.set_fill_rgb(red, green, blue);
                self.content.begin_text();
                self.content
                    .set_font(name_of(*weight), points(size * MM_PER_POINT)?);
                self.content.next_line(x, y);
                self.content.show(Str(&glyphs));
                self.content.end_text();
            }
            Mark::Link { .. } => {}
            Mark::Window { low, high, marks } => {
                self.content.save_state();
                let ring = super::mark::rectangle(*low, *high);
                self.way(&ring, true)?;
                self.content.clip_nonzero();
                self.content.end_path();
                for mark in marks {
                    self.mark(mark)?;
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
    fn glyphs(&mut self, text: &str, weight: Weight) -> Vec<u8> {
        let mut bytes = Vec::new();
        let used = self.used.of_mut(weight);
        for letter in as_seen(text).chars() {
            let old = self.letters.glyph(letter, weight).0;
            let new = used.glyphs.remap(old);
            used.letters.entry(new).or_insert((old, letter));
            bytes.extend(new.to_be_bytes());
        }
        bytes
    }
}

/// How glyphs are numbered: by the font itself.
const IDENTITY: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

fn write_font(
    pdf: &mut Pdf,
    next: &mut Ref,
    font: Ref,
    weight: Weight,
    letters: &Letters,
    used: &Used,
) -> Result<(), NotPrintable> {
    let (cid, descriptor, unicode, file) = (next.bump(), next.bump(), next.bump(), next.bump());
    // Six capitals and a plus sign mark a subset (ISO 32000-1, 9.6.4).
    let name = format!("LAPWRT+{}", weight.font_name());
    let name = Name(name.as_bytes());
    pdf.type0_font(font)
        .base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(unicode);
    let mut written = pdf.cid_font(cid);
    written.subtype(CidFontType::Type2);
    written.base_font(name);
    written.system_info(IDENTITY);
    written.font_descriptor(descriptor);
    written.default_width(0.0);
    written.cid_to_gid_map_predefined(Name(b"Identity"));
    let mut widths = written.widths();
    for (new, (old, _)) in &used.letters {
        #[allow(clippy::cast_possible_truncation)] // thousandths of an em
        let width = letters.advance(ttf_parser::GlyphId(*old), weight) as f32;
        widths.consecutive(*new, [width]);
    }
    widths.finish();
    written.finish();
    describe(pdf, descriptor, name, weight, letters, file);
    let mut cmap = UnicodeCmap::new(Name(b"Letters"), IDENTITY);
    for (new, (_, letter)) in &used.letters {
        cmap.pair(*new, *letter);
    }
    let cmap = packed(&cmap.finish());
    pdf.stream(unicode, &cmap).filter(Filter::FlateDecode);
    let subset = subsetter::subset(weight.file(), 0, &used.glyphs).map_err(|_| NotPrintable)?;
    let length = i32::try_from(subset.len()).map_err(|_| NotPrintable)?;
    let subset = packed(&subset);
    let mut stream = pdf.stream(file, &subset);
    stream.filter(Filter::FlateDecode);
    stream.pair(Name(b"Length1"), length);
    Ok(())
}

fn describe(
    pdf: &mut Pdf,
    descriptor: Ref,
    name: Name<'_>,
    weight: Weight,
    letters: &Letters,
    file: Ref,
) {
    let face = letters.face(weight);
    let em = f32::from(face.units_per_em());
    let thousandths = |units: i16| f32::from(units) * 1000.0 / em;
    let whole = face.global_bounding_box();
    pdf.font_descriptor(descriptor)
        .name(name)
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(
            thousandths(whole.x_min),
            thousandths(whole.y_min),
            thousandths(whole.x_max),
            thousandths(whole.y_max),
        ))
        .italic_angle(0.0)
        .ascent(thousandths(face.ascender()))
        .descent(thousandths(face.descender()))
        .cap_height(thousandths(face.capital_height().unwrap_or_default()))
        .stem_v(if weight == Weight::Bold { 150.0 } else { 90.0 })
        .font_file2(file);
}
