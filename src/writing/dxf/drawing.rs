//! A drawing's paths as entities, and the file around them.

use super::layers::Layers;
use super::skeleton::{self, Extents};
use super::tag_writer::{TagWriter, fits, invalid};
use super::version::DxfVersion;
use crate::geometry::bounds;
use crate::instructions::outline::{CutPath, CutWork, SheetDrawing};
use crate::machines::Colours;
use crate::units::NotPrintable;
use std::io::{self, Write};

/// The drawing as a DXF file in memory: see [`write_dxf`].
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite or 1e9 mm or more.
pub fn dxf(
    drawing: &SheetDrawing,
    version: DxfVersion,
    colours: Colours,
) -> Result<Vec<u8>, NotPrintable> {
    let mut bytes = Vec::new();
    // Memory takes everything: what fails is a figure.
    write_dxf(drawing, version, colours, &mut bytes).map_err(|_| NotPrintable)?;
    Ok(bytes)
}

/// Writes the drawing as a DXF file in mm, at most 6 decimals; paths grouped by work in the order
/// of [`Work::IN_ORDER`], else in the drawing's order. It begins with the short safety notes as
/// comments (group 999). Portion by portion, so that it needs no room
/// of its own that grows with the drawing.
///
/// # Errors
/// [`NotPrintable`] as [`io::ErrorKind::InvalidData`] where a coordinate is not finite or 1e9 mm or
/// more; all are looked at first, so that `out` has got nothing by then. Those of `out`, which may
/// have got a part of the file: write to a temporary one that gets its name at the end only, or none.
pub fn write_dxf(
    drawing: &SheetDrawing,
    version: DxfVersion,
    colours: Colours,
    out: &mut impl Write,
) -> io::Result<()> {
    let extents = extents(drawing).map_err(invalid)?;
    let layers = Layers::of(drawing, colours);
    let mut file = TagWriter::to(out);
    for line in drawing.safety.short() {
        file.comment(line);
    }
    skeleton::head(&mut file, version, &extents, drawing.paths.len(), &layers)?;
    let mut handle = skeleton::FIRST_ENTITY;
    for work in CutWork::IN_ORDER {
        for path in drawing.paths.iter().filter(|path| path.work == work) {
            match version {
                DxfVersion::R2000 => lwpolyline(&mut file, path, handle)?,
                DxfVersion::R12 => polyline(&mut file, path)?,
            }
            file.hand_on_if_full()?;
            handle += 1;
        }
    }
    skeleton::tail(&mut file, version);
    file.hand_on()
}

/// The least and greatest coordinates, where all can be printed.
fn extents(drawing: &SheetDrawing) -> Result<Extents, NotPrintable> {
    let mut printable = true;
    let points = drawing.paths.iter().flat_map(|path| &path.points);
    let looked_at = points.inspect(|p| printable &= fits(p.x) & fits(p.y));
    let (low, high) = bounds(looked_at.copied()).unwrap_or_default();
    if !printable {
        return Err(NotPrintable);
    }
    Ok(Extents { low, high })
}

fn lwpolyline(file: &mut TagWriter<'_>, path: &CutPath, handle: u64) -> io::Result<()> {
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
        file.hand_on_if_full()?;
    }
    Ok(())
}

fn polyline(file: &mut TagWriter<'_>, path: &CutPath) -> io::Result<()> {
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
        file.hand_on_if_full()?;
    }
    file.raw("0\nSEQEND\n8\n");
    file.raw(layer);
    file.raw("\n");
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::instructions::safety::SafetyNotes;
    use crate::writing::dxf::tag_writer::{OVER, PORTION};
    use std::num::NonZeroU8;

    fn colours() -> Colours {
        let of = |aci| NonZeroU8::new(aci).unwrap();
        Colours {
            letters: of(5),
            openings: of(3),
            outlines: of(1),
        }
    }

    fn drawing() -> SheetDrawing {
        let p = Point::new;
        let path = |work, closed, points: &[Point]| CutPath {
            work,
            closed,
            points: points.to_vec(),
        };
        SheetDrawing {
            safety: SafetyNotes::for_sheet_router(),
            paths: vec![
                path(
                    CutWork::Outlines,
                    true,
                    &[p(-0.075, 0.0), p(20.0, 0.0), p(20.0, 10.5)],
                ),
                path(CutWork::Letters, false, &[p(1.0, 2.0), p(3.0, 2.0)]),
            ],
        }
    }

    fn text(version: DxfVersion) -> String {
        String::from_utf8(dxf(&drawing(), version, colours()).unwrap()).unwrap()
    }

    #[test]
    fn one_bad_figure_and_there_is_no_file() {
        let mut drawing = drawing();
        drawing.paths[1].points[1].y = f64::NAN;
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            assert_eq!(dxf(&drawing, version, colours()), Err(NotPrintable));
        }
        // Not even the portions before it.
        let p = Point::new;
        for bad in [p(f64::NAN, 0.0), p(0.0, f64::NAN), p(1e9, 0.0)] {
            let mut drawing = large_drawing();
            drawing.paths.last_mut().unwrap().points[0] = bad;
            for version in [DxfVersion::R2000, DxfVersion::R12] {
                let mut bytes = Vec::new();
                let error = write_dxf(&drawing, version, colours(), &mut bytes).unwrap_err();
                assert_eq!(error.kind(), io::ErrorKind::InvalidData);
                assert!(bytes.is_empty());
            }
        }
    }

    /// More than a portion, in one path and in many.
    fn large_drawing() -> SheetDrawing {
        let mut drawing = drawing();
        let path = drawing.paths[0].clone();
        drawing.paths.resize(2_000, path);
        let corners = drawing.paths[0].points.clone();
        drawing.paths[0].points = corners.into_iter().cycle().take(9_000).collect();
        drawing
    }

    /// Takes a few bytes at a time, `left` at most.
    struct Narrow {
        got: Vec<u8>,
        left: usize,
    }

    impl Write for Narrow {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            let taken = bytes.len().min(7).min(self.left);
            self.got.extend_from_slice(&bytes[..taken]);
            self.left -= taken;
            Ok(taken)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn who_takes_a_few_bytes_at_a_time_gets_them_all() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            for drawing in [drawing(), large_drawing()] {
                let mut narrow = Narrow {
                    got: Vec::new(),
                    left: usize::MAX,
                };
                write_dxf(&drawing, version, colours(), &mut narrow).unwrap();
                assert!(narrow.got == dxf(&drawing, version, colours()).unwrap());
            }
        }
    }

    #[test]
    fn who_can_take_no_more_says_so() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let drawing = large_drawing();
            let whole = dxf(&drawing, version, colours()).unwrap();
            for left in [0, 100_000, whole.len() - 1] {
                let mut full = Narrow {
                    got: Vec::new(),
                    left,
                };
                let error = write_dxf(&drawing, version, colours(), &mut full).unwrap_err();
                assert_eq!(error.kind(), io::ErrorKind::WriteZero);
                assert!(full.got == whole[..left]);
            }
        }
    }

    #[test]
    fn portions_do_not_grow_with_the_drawing() {
        struct Lengths(Vec<usize>);
        impl Write for Lengths {
            fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
                self.0.push(bytes.len());
                Ok(bytes.len())
            }

            fn flush(&mut self) -> io::Result<()> {
                Ok(())
            }
        }
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let mut lengths = Lengths(Vec::new());
            write_dxf(&large_drawing(), version, colours(), &mut lengths).unwrap();
            assert!(lengths.0.len() > 5);
            assert!(lengths.0.iter().all(|length| *length <= PORTION + OVER));
        }
    }

    #[test]
    fn lightweight_polylines_in_the_order_of_work() {
        let text = text(DxfVersion::R2000);
        let entities = text.split_once("2\nENTITIES\n").unwrap().1;
        let wanted = "0\nLWPOLYLINE\n5\n100\n330\n1F\n100\nAcDbEntity\n8\nLETTERS\n100\n\
                      AcDbPolyline\n90\n2\n70\n0\n10\n1.0\n20\n2.0\n10\n3.0\n20\n2.0\n\
                      0\nLWPOLYLINE\n5\n101\n330\n1F\n100\nAcDbEntity\n8\nOUTLINES\n100\n\
                      AcDbPolyline\n90\n3\n70\n1\n10\n-0.075\n20\n0.0\n10\n20.0\n20\n0.0\n\
                      10\n20.0\n20\n10.5\n0\nENDSEC\n";
        assert!(entities.starts_with(wanted), "{entities}");
        assert!(text.contains("9\n$HANDSEED\n5\n102\n"));
    }

    #[test]
    fn the_head_says_what_to_mind() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let text = text(version);
            let notes = SafetyNotes::for_sheet_router().short();
            let wanted = notes.map(|line| format!("999\nSafety: {line}\n")).concat();
            assert!(text.starts_with(&wanted), "{text}");
            assert!(text[wanted.len()..].starts_with("0\nSECTION\n2\nHEADER\n"));
        }
    }

    #[test]
    fn old_polylines() {
        let text = text(DxfVersion::R12);
        let entities = text.split_once("2\nENTITIES\n").unwrap().1;
        let wanted = "0\nPOLYLINE\n8\nLETTERS\n66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n0\n\
                      0\nVERTEX\n8\nLETTERS\n10\n1.0\n20\n2.0\n30\n0.0\n\
                      0\nVERTEX\n8\nLETTERS\n10\n3.0\n20\n2.0\n30\n0.0\n0\nSEQEND\n8\nLETTERS\n";
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
            for (layer, colour) in [("LETTERS", 5), ("OPENINGS", 3), ("OUTLINES", 1), ("0", 7)] {
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
