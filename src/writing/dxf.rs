//! Drawings as DXF: every contour a polyline, every kind of work a layer, units said in every
//! way the format has.
//!
//! Structure and group codes after the published DXF Reference (HEADER, TABLES, BLOCKS, ENTITIES,
//! OBJECTS; LWPOLYLINE, POLYLINE, VERTEX). ASCII, LF line ends, nothing that depends on time or
//! place: the same drawing always gives the same bytes.

mod skeleton;

use crate::geometry::{Point, bounds};
use crate::instructions::outline::{Path, SheetDrawing, Work};
use crate::machines::Colours;
use crate::units::{Digits, NotPrintable};
use std::num::NonZeroU8;

/// Which form of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DxfVersion {
    /// AC1015 with LWPOLYLINE entities and all required tables and objects.
    #[default]
    R2000,
    /// AC1009 with POLYLINE, VERTEX and SEQEND, for old control programs.
    R12,
}

/// Nothing is done on this layer: yellow.
const TAB_COLOUR: NonZeroU8 = NonZeroU8::MIN.saturating_add(1);

/// Colour number of a kind of work's layer.
pub(super) fn colour(colours: Colours, work: Work) -> NonZeroU8 {
    match work {
        Work::Mark => colours.mark,
        Work::Tab => TAB_COLOUR,
        Work::CutInner => colours.inner,
        Work::CutOuter => colours.outer,
    }
}

/// The drawing as a DXF file in mm, at most 6 decimals; paths grouped by work in the order of
/// [`Work::IN_ORDER`], else in the drawing's order.
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite or 1e9 mm or more.
pub fn dxf(
    drawing: &SheetDrawing,
    version: DxfVersion,
    colours: Colours,
) -> Result<Vec<u8>, NotPrintable> {
    let points = drawing.paths.iter().flat_map(|path| &path.points);
    let extents = bounds(points.copied()).unwrap_or_default();
    let vertices: usize = drawing.paths.iter().map(|path| path.points.len()).sum();
    let per_vertex = match version {
        DxfVersion::R2000 => 30,
        DxfVersion::R12 => 60,
    };
    let room = 6000 + 120 * drawing.paths.len() + per_vertex * vertices;
    let mut file = File(Vec::with_capacity(room));
    let works: Vec<Work> = Work::IN_ORDER
        .into_iter()
        .filter(|work| *work != Work::Tab || drawing.paths.iter().any(|path| path.work == *work))
        .collect();
    let layers = skeleton::Layers {
        works: &works,
        colours,
    };
    skeleton::head(&mut file, version, extents, drawing.paths.len(), &layers)?;
    let mut handle = skeleton::FIRST_ENTITY;
    for work in Work::IN_ORDER {
        for path in drawing.paths.iter().filter(|path| path.work == work) {
            match version {
                DxfVersion::R2000 => lwpolyline(&mut file, path, handle)?,
                DxfVersion::R12 => polyline(&mut file, path)?,
            }
            handle += 1;
        }
    }
    skeleton::tail(&mut file, version);
    Ok(file.0)
}

fn lwpolyline(file: &mut File, path: &Path, handle: u64) -> Result<(), NotPrintable> {
    file.raw("0\nLWPOLYLINE\n5\n");
    file.digits(handle, 16);
    file.raw("\n330\n1F\n100\nAcDbEntity\n8\n");
    file.raw(path.work.layer());
    file.raw("\n100\nAcDbPolyline\n90\n");
    file.digits(path.points.len() as u64, 10);
    file.raw(if path.closed {
        "\n70\n1\n"
    } else {
        "\n70\n0\n"
    });
    for point in &path.points {
        file.raw("10\n");
        file.number(point.x)?;
        file.raw("\n20\n");
        file.number(point.y)?;
        file.raw("\n");
    }
    Ok(())
}

fn polyline(file: &mut File, path: &Path) -> Result<(), NotPrintable> {
    let layer = path.work.layer();
    file.raw("0\nPOLYLINE\n8\n");
    file.raw(layer);
    file.raw("\n66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n");
    file.raw(if path.closed { "1\n" } else { "0\n" });
    for point in &path.points {
        file.raw("0\nVERTEX\n8\n");
        file.raw(layer);
        file.raw("\n10\n");
        file.number(point.x)?;
        file.raw("\n20\n");
        file.number(point.y)?;
        file.raw("\n30\n0.0\n");
    }
    file.raw("0\nSEQEND\n8\n");
    file.raw(layer);
    file.raw("\n");
    Ok(())
}

/// No sheet is so large, mm.
const TOO_LARGE: f64 = 1e9;

/// The bytes so far.
struct File(Vec<u8>);

impl File {
    fn raw(&mut self, text: &str) {
        self.0.extend_from_slice(text.as_bytes());
    }

    /// Tags written as `code value`, parted by semicolons.
    fn tags(&mut self, tags: &str) {
        for tag in tags.split(';') {
            let (code, value) = tag.split_once(' ').unwrap_or((tag, ""));
            self.raw(code);
            self.raw("\n");
            self.raw(value);
            self.raw("\n");
        }
    }

    /// A length or coordinate rounded to 6 decimals, trailing zeros dropped but one.
    fn number(&mut self, value: f64) -> Result<(), NotPrintable> {
        if value.abs() >= TOO_LARGE {
            return Err(NotPrintable);
        }
        Digits::of(value, 6)?.push_to(&mut self.0);
        // Of the six decimals the first stays.
        for _ in 1..6 {
            if self.0.last() != Some(&b'0') {
                break;
            }
            self.0.pop();
        }
        Ok(())
    }

    #[allow(clippy::cast_possible_truncation)] // a digit
    fn digits(&mut self, mut value: u64, base: u64) {
        let mut text = [0; 20];
        let mut start = text.len();
        for place in text.iter_mut().rev() {
            let digit = (value % base) as u8;
            *place = digit + if digit < 10 { b'0' } else { b'A' - 10 };
            start -= 1;
            value /= base;
            if value == 0 {
                break;
            }
        }
        self.0
            .extend_from_slice(text.get(start..).unwrap_or_default());
    }

    fn point(&mut self, codes: [&str; 2], point: Point) -> Result<(), NotPrintable> {
        for (code, value) in codes.into_iter().zip([point.x, point.y]) {
            self.raw(code);
            self.raw("\n");
            self.number(value)?;
            self.raw("\n");
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(value: f64) -> Result<String, NotPrintable> {
        let mut file = File(Vec::new());
        file.number(value)?;
        Ok(String::from_utf8(file.0).unwrap())
    }

    fn colours() -> Colours {
        let of = |aci| NonZeroU8::new(aci).unwrap();
        Colours {
            mark: of(5),
            inner: of(3),
            outer: of(1),
        }
    }

    fn drawing() -> SheetDrawing {
        let p = Point::new;
        let path = |work, closed, points: &[Point]| Path {
            work,
            closed,
            points: points.to_vec(),
        };
        SheetDrawing {
            paths: vec![
                path(
                    Work::CutOuter,
                    true,
                    &[p(-0.075, 0.0), p(20.0, 0.0), p(20.0, 10.5)],
                ),
                path(Work::Mark, false, &[p(1.0, 2.0), p(3.0, 2.0)]),
            ],
        }
    }

    fn text(version: DxfVersion) -> String {
        String::from_utf8(dxf(&drawing(), version, colours()).unwrap()).unwrap()
    }

    #[test]
    fn numbers_are_plain() {
        for (value, wanted) in [
            (0.0, "0.0"),
            (-0.0, "0.0"),
            (-4e-7, "0.0"),
            (-6e-7, "-0.000001"),
            (120.0, "120.0"),
            (80.123_456_789, "80.123457"),
            (-0.075, "-0.075"),
            (0.999_999_6, "1.0"),
            (1.05, "1.05"),
            (999_999_999.5, "999999999.5"),
        ] {
            assert_eq!(number(value).unwrap(), wanted);
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e9, -2e12] {
            assert_eq!(number(bad), Err(NotPrintable));
        }
    }

    #[test]
    fn one_bad_figure_and_there_is_no_file() {
        let mut drawing = drawing();
        drawing.paths[1].points[1].y = f64::NAN;
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            assert_eq!(dxf(&drawing, version, colours()), Err(NotPrintable));
        }
    }

    #[test]
    fn lightweight_polylines_in_the_order_of_work() {
        let text = text(DxfVersion::R2000);
        let entities = text.split_once("2\nENTITIES\n").unwrap().1;
        let wanted = "0\nLWPOLYLINE\n5\n100\n330\n1F\n100\nAcDbEntity\n8\nMARK\n100\n\
                      AcDbPolyline\n90\n2\n70\n0\n10\n1.0\n20\n2.0\n10\n3.0\n20\n2.0\n\
                      0\nLWPOLYLINE\n5\n101\n330\n1F\n100\nAcDbEntity\n8\nCUT_OUTER\n100\n\
                      AcDbPolyline\n90\n3\n70\n1\n10\n-0.075\n20\n0.0\n10\n20.0\n20\n0.0\n\
                      10\n20.0\n20\n10.5\n0\nENDSEC\n";
        assert!(entities.starts_with(wanted), "{entities}");
        assert!(text.contains("9\n$HANDSEED\n5\n102\n"));
    }

    #[test]
    fn old_polylines() {
        let text = text(DxfVersion::R12);
        let entities = text.split_once("2\nENTITIES\n").unwrap().1;
        let wanted = "0\nPOLYLINE\n8\nMARK\n66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n0\n\
                      0\nVERTEX\n8\nMARK\n10\n1.0\n20\n2.0\n30\n0.0\n\
                      0\nVERTEX\n8\nMARK\n10\n3.0\n20\n2.0\n30\n0.0\n0\nSEQEND\n8\nMARK\n";
        assert!(entities.starts_with(wanted), "{entities}");
        // No subclass markers and no handles in this form.
        assert!(!text.contains("AcDb") && !text.contains("HANDSEED"));
    }

    #[test]
    fn units_extents_layers_and_bytes() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let text = text(version);
            assert!(text.contains("9\n$INSUNITS\n70\n4\n9\n$MEASUREMENT\n70\n1\n"));
            assert!(text.contains("9\n$EXTMIN\n10\n-0.075\n20\n0.0\n30\n0.0\n"));
            assert!(text.contains("9\n$EXTMAX\n10\n20.0\n20\n10.5\n30\n0.0\n"));
            for (layer, colour) in [("MARK", 5), ("CUT_INNER", 3), ("CUT_OUTER", 1), ("0", 7)] {
                assert!(text.contains(&format!("2\n{layer}\n70\n0\n62\n{colour}\n")));
            }
            assert!(text.ends_with("0\nENDSEC\n0\nEOF\n"));
            assert!(text.is_ascii() && !text.contains('\r'));
            assert_eq!(text.lines().count() % 2, 0);
        }
    }

    #[test]
    fn handles_are_unique_and_below_the_next_free_one() {
        let text = text(DxfVersion::R2000);
        let lines: Vec<&str> = text.lines().collect();
        let tags = || lines.chunks(2).map(|tag| (tag[0], tag[1]));
        let parse = |text| u64::from_str_radix(text, 16).unwrap();
        let seed = tags()
            .skip_while(|tag| tag.1 != "$HANDSEED")
            .nth(1)
            .unwrap();
        let body = tags().skip_while(|tag| tag.1 != "CLASSES");
        let mut handles: Vec<u64> = body
            .filter(|(code, _)| *code == "5" || *code == "105")
            .map(|(_, value)| parse(value))
            .collect();
        assert!(
            handles
                .iter()
                .all(|handle| (1..parse(seed.1)).contains(handle))
        );
        let count = handles.len();
        handles.sort_unstable();
        handles.dedup();
        assert_eq!(handles.len(), count);
    }
}
