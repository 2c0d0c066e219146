//! Whether an SVG file shows what a DXF file of the same sheet does.

use super::contours::Contour;
use super::read_drawing::ReadDrawing;
use super::report::{OutlineFault, TOLERANCE_MM, called};
use super::rings::vertex_distance;
use crate::geometry::Point;
use crate::instructions::outline::CutWork;

/// Checks that an SVG file shows what the DXF file of the same sheet does: reads both and compares
/// them path by path, in order.
///
/// In: the SVG's bytes and the DXF file as it was read; the sheet's length and width, mm. Out: all that differs, nothing where they
/// are the same. Not checked: colours and line widths, and whether the DXF file is right.
///
/// Codes: `svg` for what is no such file, `svg-size` for a size other than the sheet's, `svg-path`
/// for a path that differs.
pub fn check_svg_twin(svg: &[u8], dxf: &ReadDrawing, sheet_mm: [f64; 2]) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    let shown = match read(svg, sheet_mm, &mut faults) {
        Ok(shown) => shown,
        Err(fault) => return vec![fault],
    };
    let drawn = dxf.contours();
    if shown.len() != drawn.len() {
        let text = format!("{} paths, the DXF file has {}", shown.len(), drawn.len());
        faults.push(OutlineFault::new("svg-path", text));
    }
    for (one, other) in shown.iter().zip(drawn) {
        let same = (one.work, one.closed) == (other.work, other.closed)
            && vertex_distance(&other.points, &one.points, false) <= TOLERANCE_MM;
        if !same {
            let name = called(other.work, other.points.first().copied());
            let text = format!("{name} of the DXF file is not in its place");
            faults.push(OutlineFault::new("svg-path", text));
        }
    }
    faults
}

/// The paths of a file: an element a line, nothing but its title and description, groups, polygons and
/// polylines.
fn read(
    svg: &[u8],
    [length, width]: [f64; 2],
    faults: &mut Vec<OutlineFault>,
) -> Result<Vec<Contour>, OutlineFault> {
    let text = str::from_utf8(svg).map_err(|_| strange(1, "not text"))?;
    let mut lines = text.lines().zip(1..);
    let (head, _) = lines.next().ok_or_else(|| strange(1, "nothing"))?;
    if !shows_sheet(head, length, width) {
        let text = "size and view box are not the sheet's in millimetres";
        faults.push(OutlineFault::new("svg-size", text));
    }
    let mut paths = Vec::new();
    let mut group = None;
    for (line, number) in lines {
        let closed = line.starts_with("<polygon ");
        if line.starts_with("<g ") && group.is_none() {
            let id = attribute(line, "id").unwrap_or_default();
            let work = CutWork::IN_ORDER
                .into_iter()
                .find(|work| work.layer() == id);
            group = Some(work.ok_or_else(|| strange(number, "no layer of work"))?);
        } else if line == "</g>" && group.is_some() {
            group = None;
        } else if closed || line.starts_with("<polyline ") {
            let points = attribute(line, "points").and_then(|points| vertices(points, width));
            let points = points.ok_or_else(|| strange(number, "not points"))?;
            let work = group.ok_or_else(|| strange(number, "a path outside of the layers"))?;
            if line.contains("transform") {
                return Err(strange(number, "a path that is moved"));
            }
            paths.push(Contour {
                work,
                closed,
                points,
            });
        } else if line != "</svg>" && !(group.is_none() && is_told(line)) {
            return Err(strange(number, "this does not belong here"));
        }
    }
    Ok(paths)
}

fn strange(line: usize, text: &str) -> OutlineFault {
    OutlineFault::new("svg", format!("line {line}: {text}"))
}

/// Whether an SVG element shows all of the sheet in its true size, a unit a millimetre.
fn shows_sheet(head: &str, length: f64, width: f64) -> bool {
    let view = attribute(head, "viewBox").unwrap_or_default();
    let view: Vec<f64> = view.split(' ').filter_map(|n| n.parse().ok()).collect();
    let wanted = [0.0, 0.0, length, width];
    let boxed = view
        .iter()
        .zip(wanted)
        .all(|(found, wanted)| is_near(*found, wanted));
    view.len() >= wanted.len()
        && boxed
        && millimetres(head, "width").is_some_and(|found| is_near(found, length))
        && millimetres(head, "height").is_some_and(|found| is_near(found, width))
}

fn millimetres(head: &str, name: &str) -> Option<f64> {
    attribute(head, name)?.strip_suffix("mm")?.parse().ok()
}

fn is_near(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() < 1e-6
}

/// Whether a line is a title or a description with nothing but text in it.
fn is_told(line: &str) -> bool {
    ["title", "desc"].into_iter().any(|name| {
        let inside = line
            .strip_prefix(&format!("<{name} "))
            .and_then(|rest| rest.strip_suffix(&format!("</{name}>")));
        inside.is_some_and(|inside| !inside.contains('<'))
    })
}

fn attribute<'a>(line: &'a str, name: &str) -> Option<&'a str> {
    let (_, rest) = line.split_once(&format!(" {name}=\""))?;
    Some(rest.split_once('"')?.0)
}

/// The points of a path, y up from the sheet's lower edge.
fn vertices(text: &str, width: f64) -> Option<Vec<Point>> {
    text.split(' ').map(|pair| vertex(pair, width)).collect()
}

fn vertex(pair: &str, width: f64) -> Option<Point> {
    let (x, y) = pair.split_once(',')?;
    let x: f64 = x.parse().ok()?;
    let y: f64 = y.parse().ok()?;
    (x.is_finite() && y.is_finite()).then(|| Point::new(x, width - y))
}
