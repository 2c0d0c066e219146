//! Drawings as SVG: files of true size, one user unit to the millimetre, and pictures inside a
//! page, which take their colours from the page's style sheet.

use super::theme::{self, CAPITALS, ROLES, TYPE_FAMILY, style_of};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Shape};
use crate::instructions::safety::SafetyNotes;
use crate::phrase::Phrase;
use crate::units::{NotPrintable, UnitSystem, decimal};
use std::fmt::Write;

/// Free margin around a drawing in a file of its own, mm.
const MARGIN_MM: f64 = 4.0;

/// The drawing as an SVG file, the short safety notes its description. Titles and texts are escaped;
/// they cannot hold markup.
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite.
pub fn svg(
    drawing: &Drawing,
    safety: &SafetyNotes,
    units: UnitSystem,
) -> Result<String, NotPrintable> {
    let frame = PictureFrame::of(drawing, MARGIN_MM);
    let mut out = String::new();
    let w = number(frame.width)?;
    let h = number(frame.height)?;
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"title\" aria-describedby=\"notes\">"
    );
    out.push_str(&described(&drawing.title, safety));
    out.push_str("<style>\n");
    for role in ROLES {
        let style = style_of(role);
        let _ = writeln!(
            out,
            ".{}{{fill:{};stroke:{};stroke-width:{};stroke-linejoin:round}}",
            style.class,
            style.fill.light.hex(),
            style.edge.light.hex(),
            style.width
        );
    }
    let _ = writeln!(out, "text{{font-family:{TYPE_FAMILY}}}");
    out.push_str("text,.line{stroke-linecap:round}\ntext{stroke:none!important}\n.line{fill:none}\n.face{stroke:none}\n</style>\n");
    let paper = theme::PAPER.light.hex();
    let _ = writeln!(out, "<rect width=\"{w}\" height=\"{h}\" fill=\"{paper}\"/>");
    for shape in &drawing.shapes {
        write_shape(&mut out, shape, frame, &|text| vec![("", text.text(units))])?;
    }
    out.push_str("</svg>\n");
    Ok(out)
}

/// A file's name and description, as screen readers and other programs find them.
pub(super) fn described(title: &str, safety: &SafetyNotes) -> String {
    format!(
        "<title id=\"title\">{}</title>\n<desc id=\"notes\">Safety: {}</desc>\n",
        escaped(title),
        escaped(&safety.short().join(" "))
    )
}

/// The drawing as a picture inside a page, as wide as the page lets it be. Texts that differ with
/// the units are there twice, with the classes `mm` and `in`, and what is to be seen is said in both. `more` is put over it as it stands; `class` is the
/// picture's own.
///
/// # Errors
/// [`NotPrintable`] where a coordinate is not finite.
pub fn inline(drawing: &Drawing, more: &str, class: &str) -> Result<String, NotPrintable> {
    let frame = PictureFrame::of(drawing, 0.0);
    let mut out = String::new();
    let w = number(frame.width)?;
    let h = number(frame.height)?;
    let mm = drawing.told(UnitSystem::Millimetres);
    let inch = drawing.told(UnitSystem::Inches);
    let told = match mm == inch {
        true => String::new(),
        false => format!(" data-in=\"{}\"", escaped(&inch)),
    };
    let mm = escaped(&mm);
    let _ = write!(
        out,
        "<svg class=\"{class}\" viewBox=\"0 0 {w} {h}\" role=\"img\" aria-label=\"{mm}\"{told}>"
    );
    for shape in &drawing.shapes {
        write_shape(&mut out, shape, frame, &in_both_units)?;
    }
    out.push_str(more);
    out.push_str("</svg>");
    Ok(out)
}

/// A text's forms for a page, each with what is added to its class: one for millimetres and one for
/// inches where they differ.
fn in_both_units(text: &Phrase) -> Vec<(&'static str, String)> {
    let mm = text.text(UnitSystem::Millimetres);
    let inch = text.text(UnitSystem::Inches);
    if mm == inch {
        vec![("", mm)]
    } else {
        vec![(" mm", mm), (" in", inch)]
    }
}

/// Turns y up into y down.
#[derive(Clone, Copy)]
struct PictureFrame {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
}

impl PictureFrame {
    fn of(drawing: &Drawing, margin: f64) -> PictureFrame {
        let Drawing { low, high, .. } = drawing;
        PictureFrame {
            left: low.x - margin,
            top: high.y + margin,
            width: high.x - low.x + 2.0 * margin,
            height: high.y - low.y + 2.0 * margin,
        }
    }

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

/// Writes a shape; `texts` gives a phrase's forms, each with what is added to its class.
fn write_shape(
    out: &mut String,
    shape: &Shape,
    frame: PictureFrame,
    texts: &dyn Fn(&Phrase) -> Vec<(&'static str, String)>,
) -> Result<(), NotPrintable> {
    let written = match shape {
        Shape::Area { role, ring } => {
            let class = style_of(*role).class;
            let points = frame.points(ring)?;
            writeln!(out, "<polygon class=\"{class}\" points=\"{points}\"/>")
        }
        Shape::Face { role, ring } => {
            let class = style_of(*role).class;
            let points = frame.points(ring)?;
            writeln!(out, "<polygon class=\"{class} face\" points=\"{points}\"/>")
        }
        Shape::Line { role, points } => {
            let class = style_of(*role).class;
            let points = frame.points(points)?;
            writeln!(
                out,
                "<polyline class=\"{class} line\" points=\"{points}\"/>"
            )
        }
        Shape::Text {
            role,
            anchor,
            at,
            height,
            text,
        } => {
            let class = style_of(*role).class;
            let size = number(height / CAPITALS)?;
            // The baseline lies half the capitals' height lower.
            let x = number(at.x - frame.left)?;
            let y = number(frame.top - at.y + height / 2.0)?;
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let forms = texts(text);
            forms.iter().try_for_each(|(form, text)| {
                let text = escaped(text);
                writeln!(
                    out,
                    "<text class=\"{class}{form}\" x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\">{text}</text>"
                )
            })
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
    use crate::instructions::drawing::Role;
    use crate::phrase;
    use crate::units::Brief;

    #[test]
    fn y_is_turned_over_and_text_is_no_markup() {
        let mut drawing = Drawing::new("a <b> & c", Point::new(0.0, 0.0), Point::new(10.0, 5.0));
        drawing.rectangle(Role::Wood, Point::new(0.0, 0.0), Point::new(10.0, 2.0));
        drawing.text(Role::Label, Point::new(5.0, 1.0), 2.0, "</text><script>");
        let bench = SafetyNotes::for_assembly();
        let svg = svg(&drawing, &bench, UnitSystem::Millimetres).unwrap();
        assert!(svg.contains("points=\"4,9 14,9 14,7 4,7\""), "{svg}");
        assert!(svg.contains("&lt;/text&gt;&lt;script&gt;") && !svg.contains("<script"));
        assert!(svg.contains("<title id=\"title\">a &lt;b&gt; &amp; c</title>"));
        let [first, last] = bench.short();
        let notes = format!("<desc id=\"notes\">Safety: {first} {last}</desc>");
        assert!(svg.contains(&notes), "{svg}");
        let inline = inline(&drawing, "", "only").unwrap();
        assert!(
            inline.contains("aria-label=\"a &lt;b&gt; &amp; c: ") && !inline.contains("<script")
        );
    }

    #[test]
    fn a_length_stands_in_a_page_in_both_units() {
        let mut drawing = Drawing::new("x", Point::new(0.0, 0.0), Point::new(10.0, 5.0));
        drawing.text(
            Role::Measure,
            Point::new(5.0, 1.0),
            2.0,
            phrase!("{}", Brief(12.0)),
        );
        let inline = inline(&drawing, "", "only").unwrap();
        assert!(
            inline.contains(">12.00 mm<") && inline.contains(">0.4724 in<"),
            "{inline}"
        );
    }
}
