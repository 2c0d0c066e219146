//! Drawings as SVG, true size: one user unit is one millimetre.

use crate::geometry::Point;
use crate::instructions::drawing::{Drawing, Role, Shape};
use crate::units::{NotPrintable, decimal};
use std::fmt::Write;

/// Fill, edge and width of edge, mm, of everything that a drawing shows: woods in three tones from
/// light to dark with the light ones in front, dark ink, petrol for measures, red for faults only.
struct Look {
    class: &'static str,
    fill: &'static str,
    edge: &'static str,
    width: f64,
}

const fn look(class: &'static str, fill: &'static str, edge: &'static str, width: f64) -> Look {
    Look {
        class,
        fill,
        edge,
        width,
    }
}

fn look_of(role: Role) -> Look {
    match role {
        Role::Wood => look("wood", "#e3c592", "#6d5130", 0.15),
        Role::WoodBehind => look("behind", "#c29a62", "#6d5130", 0.15),
        Role::WoodAtBack => look("back", "#a37b46", "#6d5130", 0.15),
        Role::Piece => look("piece", "#f2e1bd", "#6d5130", 0.12),
        Role::Cut => look("cut", "#fbf6ec", "#6d5130", 0.12),
        Role::Path => look("path", "none", "#2d6a74", 0.12),
        Role::Measure => look("measure", "#1d4f58", "#1d4f58", 0.12),
        Role::Label => look("label", "#3a2b1a", "#3a2b1a", 0.12),
        Role::Fault => look("fault", "#b3261e", "#b3261e", 0.3),
    }
}

const ALL: [Role; 9] = [
    Role::Wood,
    Role::WoodBehind,
    Role::WoodAtBack,
    Role::Piece,
    Role::Cut,
    Role::Path,
    Role::Measure,
    Role::Label,
    Role::Fault,
];

/// Free margin around a drawing, mm.
const MARGIN_MM: f64 = 4.0;

/// The drawing as an SVG file. Titles and texts are escaped; they cannot hold markup.
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite.
pub fn svg(drawing: &Drawing) -> Result<String, NotPrintable> {
    let Drawing { low, high, .. } = drawing;
    let (width, height) = (
        high.x - low.x + 2.0 * MARGIN_MM,
        high.y - low.y + 2.0 * MARGIN_MM,
    );
    let frame = Frame {
        left: low.x - MARGIN_MM,
        top: high.y + MARGIN_MM,
    };
    let mut out = String::new();
    let (w, h) = (number(width)?, number(height)?);
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"img\">"
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&drawing.title));
    out.push_str("<style>\n");
    for role in ALL {
        let Look {
            class,
            fill,
            edge,
            width,
        } = look_of(role);
        let _ = writeln!(
            out,
            ".{class}{{fill:{fill};stroke:{edge};stroke-width:{width};stroke-linejoin:round}}"
        );
    }
    out.push_str("text{font-family:\"DejaVu Sans\",Verdana,sans-serif;text-anchor:middle}\ntext,.line{stroke-linecap:round}\ntext{stroke:none!important}\n.line{fill:none}\n</style>\n");
    let _ = writeln!(out, "<rect width=\"{w}\" height=\"{h}\" fill=\"#fffdf8\"/>");
    for shape in &drawing.shapes {
        write_shape(&mut out, shape, frame)?;
    }
    out.push_str("</svg>\n");
    Ok(out)
}

/// Turns y up into y down.
#[derive(Clone, Copy)]
struct Frame {
    left: f64,
    top: f64,
}

impl Frame {
    fn points(self, points: &[Point]) -> Result<String, NotPrintable> {
        let pairs = points.iter().map(|point| {
            Ok(format!(
                "{},{}",
                number(point.x - self.left)?,
                number(self.top - point.y)?
            ))
        });
        Ok(pairs.collect::<Result<Vec<_>, NotPrintable>>()?.join(" "))
    }
}

fn write_shape(out: &mut String, shape: &Shape, frame: Frame) -> Result<(), NotPrintable> {
    let written = match shape {
        Shape::Area { role, ring } => {
            let class = look_of(*role).class;
            writeln!(
                out,
                "<polygon class=\"{class}\" points=\"{}\"/>",
                frame.points(ring)?
            )
        }
        Shape::Line { role, points } => {
            let class = look_of(*role).class;
            writeln!(
                out,
                "<polyline class=\"{class} line\" points=\"{}\"/>",
                frame.points(points)?
            )
        }
        Shape::Text {
            role,
            at,
            height,
            text,
        } => {
            let class = look_of(*role).class;
            // Capitals are about 0.73 of a font's size; the baseline lies half of them lower.
            let size = number(height / 0.73)?;
            let (x, y) = (
                number(at.x - frame.left)?,
                number(frame.top - at.y + height / 2.0)?,
            );
            writeln!(
                out,
                "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" font-size=\"{size}\">{}</text>",
                escaped(text)
            )
        }
    };
    written.map_err(|_| NotPrintable)
}

fn number(value: f64) -> Result<String, NotPrintable> {
    let text = decimal(value, 3)?;
    Ok(text.trim_end_matches('0').trim_end_matches('.').to_owned())
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn y_is_turned_over_and_text_is_no_markup() {
        let mut drawing = Drawing::new("a <b> & c", Point::new(0.0, 0.0), Point::new(10.0, 5.0));
        drawing.rectangle(Role::Wood, Point::new(0.0, 0.0), Point::new(10.0, 2.0));
        drawing.text(Role::Label, Point::new(5.0, 1.0), 2.0, "</text><script>");
        let svg = svg(&drawing).unwrap();
        assert!(svg.contains("points=\"4,9 14,9 14,7 4,7\""), "{svg}");
        assert!(svg.contains("&lt;/text&gt;&lt;script&gt;") && !svg.contains("<script"));
        assert!(svg.contains("<title>a &lt;b&gt; &amp; c</title>"));
    }
}
