//! The fonts that a document carries, with the glyphs that it uses (ISO 32000-1, 9.7 to 9.10).

use super::fonts::{FontWeight, Fonts};
use super::glyphs::FontGlyphs;
use super::stream::packed;
use crate::units::NotPrintable;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};

/// Name of a font in the pages' resources.
pub(super) fn name_of(weight: FontWeight) -> Name<'static> {
    match weight {
        FontWeight::Plain => Name(b"F1"),
        FontWeight::Bold => Name(b"F2"),
    }
}

/// How glyphs are numbered: by the font itself.
const IDENTITY: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

pub(super) fn write_font(
    pdf: &mut Pdf,
    next: &mut Ref,
    font: Ref,
    weight: FontWeight,
    fonts: &Fonts,
    used: &FontGlyphs,
) -> Result<(), NotPrintable> {
    let cid = next.bump();
    let descriptor = next.bump();
    let unicode = next.bump();
    let file = next.bump();
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
    for (new, used) in &used.letters {
        #[allow(clippy::cast_possible_truncation)] // thousandths of an em
        let width = fonts.advance(ttf_parser::GlyphId(used.glyph), weight) as f32;
        widths.consecutive(*new, [width]);
    }
    widths.finish();
    written.finish();
    describe(pdf, descriptor, name, weight, fonts, file);
    let mut cmap = UnicodeCmap::new(Name(b"Letters"), IDENTITY);
    for (new, used) in &used.letters {
        cmap.pair(*new, used.letter);
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
    weight: FontWeight,
    fonts: &Fonts,
    file: Ref,
) {
    let face = fonts.face(weight);
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
        .stem_v(if weight == FontWeight::Bold {
            150.0
        } else {
            90.0
        })
        .font_file2(file);
}
