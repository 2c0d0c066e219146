//! What is cut from a sheet, as SVG: the same paths as in the DXF file, a group for each layer, true size,
//! one user unit a millimetre.

use super::colour_index::rgb;
use super::dxf::layer_colour;
use super::svg::described;
use crate::geometry::Point;
use crate::instructions::outline::{CutPath, CutWork, SheetDrawing};
use crate::machines::Colours;
use crate::units::{NotPrintable, decimal};
use std::fmt::Write;

/// Width of the lines, mm.
const LINE_MM: f64 = 0.1;

/// The drawing on a sheet of this length and width, mm, with at most 6 decimals. Paths stand in the
/// order of [`CutWork::IN_ORDER`], else in the drawing's; colours are those of the DXF file's layers.
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite.
pub fn cut_sheet_svg(
    drawing: &SheetDrawing,
    length: f64,
    width: f64,
    colours: Colours,
) -> Result<String, NotPrintable> {
    let title = format!(
        "Outlines on a sheet of {} mm by {} mm",
        coordinate(length)?,
        coordinate(width)?
    );
    outlines_svg(drawing, &title, [length, width], colours)
}

/// The same under a title of its own; `size` is how far it reaches from its lower left corner.
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite.
pub fn outlines_svg(
    drawing: &SheetDrawing,
    title: &str,
    [length, width]: [f64; 2],
    colours: Colours,
) -> Result<String, NotPrintable> {
    let long = coordinate(length)?;
    let wide = coordinate(width)?;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{long}mm\" height=\"{wide}mm\" viewBox=\"0 0 {long} {wide}\" role=\"img\" aria-labelledby=\"title\" aria-describedby=\"notes\">\n"
    );
    out.push_str(&described(title, &drawing.safety));
    for work in CutWork::IN_ORDER {
        let mut paths = drawing
            .paths
            .iter()
            .filter(|path| path.work == work)
            .peekable();
        if paths.peek().is_none() {
            continue;
        }
        let [red, green, blue] = rgb(layer_colour(colours, work));
        let written = writeln!(
            out,
            "<g id=\"{}\" fill=\"none\" stroke=\"#{red:02x}{green:02x}{blue:02x}\" stroke-width=\"{LINE_MM}\">",
            work.layer()
        );
        written.map_err(|_| NotPrintable)?;
        for path in paths {
            element(&mut out, path, width)?;
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    Ok(out)
}

/// y points down in this format.
fn element(out: &mut String, path: &CutPath, width: f64) -> Result<(), NotPrintable> {
    out.push_str(if path.closed {
        "<polygon points=\""
    } else {
        "<polyline points=\""
    });
    for (at, Point { x, y }) in path.points.iter().enumerate() {
        if at > 0 {
            out.push(' ');
        }
        out.push_str(&coordinate(*x)?);
        out.push(',');
        out.push_str(&coordinate(width - y)?);
    }
    out.push_str("\"/>\n");
    Ok(())
}

fn coordinate(value: f64) -> Result<String, NotPrintable> {
    let text = decimal(value, 6)?;
    Ok(text.trim_end_matches('0').trim_end_matches('.').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::safety::SafetyNotes;
    use std::num::NonZeroU8;

    #[test]
    fn a_group_for_each_layer_and_y_turned_over() {
        let p = Point::new;
        let path = |work, closed, points: &[Point]| CutPath {
            work,
            closed,
            points: points.to_vec(),
        };
        let drawing = SheetDrawing {
            safety: SafetyNotes::for_laser(),
            paths: vec![
                path(
                    CutWork::Outlines,
                    true,
                    &[p(1.0, 0.25), p(9.5, 0.25), p(5.0, 4.123_456_7)],
                ),
                path(CutWork::Letters, false, &[p(2.0, 1.0), p(3.0, 1.0)]),
            ],
        };
        let number = |n| NonZeroU8::new(n).unwrap();
        let colours = Colours {
            letters: number(3),
            openings: number(4),
            outlines: number(6),
        };
        let svg = cut_sheet_svg(&drawing, 20.0, 10.0, colours).unwrap();
        let wanted = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" \
                      viewBox=\"0 0 20 10\" role=\"img\" aria-labelledby=\"title\" \
                      aria-describedby=\"notes\">\n\
                      <title id=\"title\">Outlines on a sheet of 20 mm by 10 mm</title>\n\
                      <desc id=\"notes\">Safety: {first} {last}</desc>\n\
                      <g id=\"LETTERS\" fill=\"none\" stroke=\"#00ff00\" stroke-width=\"0.1\">\n\
                      <polyline points=\"2,9 3,9\"/>\n</g>\n\
                      <g id=\"OUTLINES\" fill=\"none\" stroke=\"#ff00ff\" stroke-width=\"0.1\">\n\
                      <polygon points=\"1,9.75 9.5,9.75 5,5.876543\"/>\n</g>\n</svg>\n";
        let [first, last] = SafetyNotes::for_laser().short();
        let wanted = wanted.replace("{first}", first).replace("{last}", last);
        assert_eq!(svg, wanted);
        let mut drawing = drawing;
        drawing.paths[1].points[0].y = f64::NAN;
        assert!(cut_sheet_svg(&drawing, 20.0, 10.0, colours).is_err());
    }
}
