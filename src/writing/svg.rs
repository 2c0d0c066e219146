//! Drawings as SVG: files of true size, one user unit to the millimetre, and pictures inside a
//! page, which take their colours from the page's style sheet.

use super::svg_repeats::{self, Look, Outline, Place, Placed};
use super::theme::{self, CAPITALS, ROLES, TYPE_FAMILY, style_of};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Role, Shape};
use crate::instructions::safety::SafetyNotes;
use crate::phrase::Phrase;
use crate::units::{Digits, NotPrintable, UnitSystem, decimal};
use std::fmt::Write;

/// A picture of more corners than this is written by what repeats in it: a few would gain nothing, and are
/// easier to read and to change as they are.
const MOST_WRITTEN_OUT: usize = 10_000;

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
    // Programs that draw know the older name of a link.
    let xlink = match repeats(drawing) {
        true => " xmlns:xlink=\"http://www.w3.org/1999/xlink\"",
        false => "",
    };
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\"{xlink} width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"title\" aria-describedby=\"notes\">"
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
    let texts = |text: &Phrase| vec![("", text.text(units))];
    write_shapes(&mut out, drawing, frame, &texts, "xlink:href")?;
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
    write_shapes(&mut out, drawing, frame, &in_both_units, "href")?;
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

    /// A point in the picture, in thousandths as they are printed.
    fn place(self, point: Point) -> Result<Place, NotPrintable> {
        Ok([
            Digits::of(point.x - self.left, 3)?.units(),
            Digits::of(self.top - point.y, 3)?.units(),
        ])
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

/// Whether a picture is written by what repeats in it.
fn repeats(drawing: &Drawing) -> bool {
    let corners = drawing.shapes.iter().map(|shape| match shape {
        Shape::Area { ring: points, .. }
        | Shape::Face { ring: points, .. }
        | Shape::Line { points, .. } => points.len(),
        Shape::Text { .. } => 1,
    });
    corners.sum::<usize>() > MOST_WRITTEN_OUT
}

/// What is added to the class of what has no edge, or no inside.
const FACE: &str = " face";
const LINE: &str = " line";

/// A phrase's forms, each with what is added to its class.
type Texts<'a> = dyn Fn(&Phrase) -> Vec<(&'static str, String)> + 'a;

/// Writes all shapes of a drawing; `link` is the attribute by which one element names another.
fn write_shapes(
    out: &mut String,
    drawing: &Drawing,
    frame: PictureFrame,
    texts: &Texts<'_>,
    link: &str,
) -> Result<(), NotPrintable> {
    if !repeats(drawing) {
        let mut shapes = drawing.shapes.iter();
        return shapes.try_for_each(|shape| write_shape(out, shape, frame, texts));
    }
    let mut placed = Vec::with_capacity(drawing.shapes.len());
    for shape in &drawing.shapes {
        placed_shapes(&mut placed, shape, frame, texts)?;
    }
    svg_repeats::write(out, &placed, link);
    Ok(())
}

/// A shape as what it is and where it stands; a text in each of its forms.
fn placed_shapes(
    placed: &mut Vec<Placed>,
    shape: &Shape,
    frame: PictureFrame,
    texts: &Texts<'_>,
) -> Result<(), NotPrintable> {
    let mut add = |points: &[Point], role: Role, form: &'static str, look: fn(Outline) -> Look| {
        let corners = points.iter().map(|point| frame.place(*point));
        let corners = corners.collect::<Result<Vec<Place>, NotPrintable>>()?;
        let pairs = corners.iter().zip(corners.iter().skip(1));
        let outline = Outline {
            class: style_of(role).class,
            form,
            steps: pairs
                .map(|([x, y], [to_x, to_y])| [to_x - x, to_y - y])
                .collect(),
            closed: form != LINE,
        };
        placed.extend(corners.first().map(|at| Placed {
            look: look(outline),
            at: *at,
        }));
        Ok(())
    };
    match shape {
        Shape::Area { role, ring } => add(ring, *role, "", Look::Area),
        Shape::Face { role, ring } => add(ring, *role, FACE, Look::Flat),
        Shape::Line { role, points } => add(points, *role, LINE, Look::Flat),
        Shape::Text {
            role,
            anchor,
            at,
            height,
            text,
        } => {
            let class = style_of(*role).class;
            let size = number(height / CAPITALS)?;
            let at = [
                Digits::of(at.x - frame.left, 3)?.units(),
                Digits::of(frame.top - at.y + height / 2.0, 3)?.units(),
            ];
            let anchor = anchor_name(*anchor);
            placed.extend(texts(text).into_iter().map(|(form, text)| {
                let attributes = format!(
                    "class=\"{class}{form}\" font-size=\"{size}\" text-anchor=\"{anchor}\""
                );
                Placed {
                    look: Look::Text(attributes, escaped(&text)),
                    at,
                }
            }));
            Ok(())
        }
    }
}

fn anchor_name(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

/// Writes a shape; `texts` gives a phrase's forms, each with what is added to its class.
fn write_shape(
    out: &mut String,
    shape: &Shape,
    frame: PictureFrame,
    texts: &Texts<'_>,
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
            let anchor = anchor_name(*anchor);
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

    /// Corners of every path, as they are printed, whatever stands where it was written out.
    #[allow(clippy::cast_possible_truncation)] // thousandths of a picture
    fn corners(picture: &str) -> Vec<String> {
        let mut named: Vec<(String, Vec<String>)> = Vec::new();
        let mut all = Vec::new();
        let attribute = |line: &str, name: &str| {
            let (_, rest) = line.split_once(&format!(" {name}=\""))?;
            Some(rest.split_once('"')?.0.to_owned())
        };
        let printed = |class: &str, points: &[[i64; 2]]| {
            let points = points.iter().map(|[x, y]| format!("{x},{y}"));
            format!("{class} {}", points.collect::<Vec<_>>().join(" "))
        };
        let shifted = |one: &String, [x, y]: [i64; 2]| {
            let (class, points) = one.rsplit_once("| ").unwrap();
            let points: Vec<[i64; 2]> = points
                .split(' ')
                .map(|pair| {
                    let (a, b) = pair.split_once(',').unwrap();
                    [a.parse::<i64>().unwrap() + x, b.parse::<i64>().unwrap() + y]
                })
                .collect();
            printed(&format!("{class}|"), &points)
        };
        let thousandths = |text: &str| (text.parse::<f64>().unwrap() * 1000.0).round() as i64;
        for line in picture.lines() {
            let mut own = Vec::new();
            let class = attribute(line, "class").unwrap_or_default() + "|";
            if let Some(points) = attribute(line, "points") {
                let points = points.split(' ').map(|pair| {
                    let (x, y) = pair.split_once(',').unwrap();
                    [thousandths(x), thousandths(y)]
                });
                own.push(printed(&class, &points.collect::<Vec<_>>()));
            } else if let Some(way) = attribute(line, "d") {
                for part in way.split('M').skip(1) {
                    let mut points: Vec<[i64; 2]> = Vec::new();
                    let part = part.trim_end_matches('z');
                    let starts = part.match_indices(['h', 'v', 'l']).map(|(at, _)| at);
                    let starts: Vec<usize> = starts.chain([part.len()]).collect();
                    let (x, y) = part[..starts[0]].split_once(',').unwrap();
                    points.push([thousandths(x), thousandths(y)]);
                    for pair in starts.windows(2) {
                        let (kind, way) = part[pair[0]..pair[1]].split_at(1);
                        let [x, y] = *points.last().unwrap();
                        points.push(match (kind, way.split_once(',')) {
                            ("h", _) => [x + thousandths(way), y],
                            ("v", _) => [x, y + thousandths(way)],
                            (_, Some((a, b))) => [x + thousandths(a), y + thousandths(b)],
                            _ => panic!("{line}"),
                        });
                    }
                    own.push(printed(&class, &points));
                }
            } else if line.starts_with("<use ") {
                let name = attribute(line, "href").unwrap();
                let by = ["x", "y"]
                    .map(|axis| attribute(line, axis).map_or(0, |text| thousandths(&text)));
                let first = named.iter().find(|(known, _)| name[1..] == *known);
                own.extend(first.unwrap().1.iter().map(|one| shifted(one, by)));
            }
            if let Some(id) = attribute(line, "id").filter(|_| line.starts_with("<path")) {
                named.push((id, own.clone()));
            }
            all.extend(own);
        }
        all.sort();
        all
    }

    /// A large picture written by what repeats in it has every corner of the one that is written out.
    #[test]
    fn what_is_written_once_stands_everywhere_it_did() {
        let mut drawing = Drawing::new("x", Point::default(), Point::new(1500.0, 900.0));
        let cells = (0..60).flat_map(|column| (0..50).map(move |row| (column, row)));
        let place = |(column, row): (i32, i32)| {
            let (x, y) = (f64::from(column) * 24.05, f64::from(row) * 17.320_508);
            move |a: f64, b: f64| Point::new(x + a, y + b)
        };
        for at in cells.clone().map(place) {
            let ring = vec![at(2.0, 2.0), at(9.1234, 2.0), at(5.5, 8.75)];
            drawing.face(Role::Piece, ring);
        }
        for at in cells.clone().map(place) {
            let points = vec![at(0.0, 0.0), at(12.0, 0.0), at(12.0, 8.66)];
            drawing.line(Role::Piece, points);
        }
        let some = cells.filter(|(column, row)| (column * row) % 7 == 3);
        for at in some.map(place) {
            drawing.area(
                Role::Wood,
                vec![at(1.0, 1.0), at(3.0, 1.0), at(2.0, 4.4444)],
            );
        }
        assert!(repeats(&drawing));
        let frame = PictureFrame::of(&drawing, 0.0);
        let mut plain = String::new();
        for shape in &drawing.shapes {
            write_shape(&mut plain, shape, frame, &in_both_units).unwrap();
        }
        let once = inline(&drawing, "", "only").unwrap();
        assert!(
            once.len() * 3 < plain.len(),
            "{} of {}",
            once.len(),
            plain.len()
        );
        let (_, shapes) = once.split_once('>').unwrap();
        assert_eq!(corners(shapes), corners(&plain));
    }
}
