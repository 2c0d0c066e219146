//! A piece at the paring guides: fence, stop, guide block and one facet, to scale.

use super::pencil::{Beside, drawn};
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::drawing::{Anchor, Drawing, Role};
use crate::instructions::page::Picture;
use crate::instructions::pare::{FacetFigures, PieceFigures};
use crate::phrase;
use crate::units::{Brief, Rad};
use std::f64::consts::FRAC_PI_2;

/// One picture for each distinct setting of block and stop that a piece needs.
pub(super) fn settings(piece: &PieceFigures) -> Vec<Picture> {
    let mut told: Vec<(f64, f64)> = Vec::new();
    let mut pictures = Vec::new();
    for (at, end) in piece.ends.iter().enumerate() {
        for facet in &end.facets {
            let setting = (facet.jig_angle, facet.shoulder_mm);
            let known = |other: &(f64, f64)| {
                (other.0 - setting.0).abs() < 1e-9 && (other.1 - setting.1).abs() < 1e-6
            };
            if !told.iter().any(known) {
                told.push(setting);
                pictures.push(picture(piece, at == 0, facet));
            }
        }
    }
    pictures
}

fn picture(piece: &PieceFigures, first_end: bool, facet: &FacetFigures) -> Picture {
    let end = if first_end { "A" } else { "B" };
    let ring = laid(piece, first_end, facet);
    let (_, high) = bounds(ring.iter().copied()).unwrap_or_default();
    let length = high.x;
    let stop = 0.06 * length + 4.0;
    let block = 0.35 * length + 6.0;
    let title = format!(
        "{}, end {end}, {} side at the guides",
        piece.name, facet.side
    );
    let drawing = drawn(&title, |pencil| {
        let capitals = pencil.capitals;
        pencil.rectangle(Role::Jig, (-stop, 0.0), (0.0, high.y + 2.0 * capitals));
        pencil.name(
            Anchor::Middle,
            (-stop / 2.0, high.y + 3.4 * capitals),
            "stop",
        );
        let shoulder = facet.shoulder_mm;
        let face = Vector::new(facet.jig_angle.cos(), facet.jig_angle.sin());
        let tall = 0.22 * length + 3.0;
        let foot = Point::new(shoulder, 0.0);
        let head = foot.plus(face.times(tall / face.y));
        let far = head.x.max(length) + block / 2.0;
        let right = far + 0.1 * block;
        pencil.rectangle(Role::Ground, (-stop, -2.4 * capitals), (right, 0.0));
        pencil.name(Anchor::End, (right - capitals, -1.2 * capitals), "fence");
        if facet.jig_angle < FRAC_PI_2 {
            // The face's foot is the corner at the fence; the block reaches away from the piece.
            let ring = vec![foot, Point::new(far, 0.0), Point::new(far, tall), head];
            pencil.drawing.area(Role::Jig, ring);
        }
        pencil.drawing.area(Role::Piece, ring.clone());
        let beyond = foot.plus(face.times(1.25 * tall / face.y));
        pencil.drawing.line(Role::Tool, vec![foot, beyond]);
        let block = phrase!("guide block {}", Rad(facet.block_angle));
        pencil.name(
            Anchor::Start,
            (beyond.x + 0.5 * capitals, beyond.y + 0.5 * capitals),
            block,
        );
        let text = phrase!("stop's face to guide plane {}", Brief(shoulder));
        pencil.across(
            (0.0, 0.0),
            (shoulder, 0.0),
            -5.0 * capitals,
            text,
            Beside::Right,
        );
        let text = phrase!("over points {}", Brief(piece.length_over_points_mm));
        let above = high.y.max(1.25 * tall) + 4.0 * capitals;
        pencil.across((0.0, high.y), (length, high.y), above, text, Beside::Right);
    });
    let caption = phrase!(
        "End {}, {} side, from above, to scale: that side on the fence, the other end's point on the stop. While the other end is still square, the steps say where the stop stands.",
        end,
        facet.side
    );
    Picture { drawing, caption }
}

/// The finished outline with the far end's point on the stop (x = 0) and the facet's side on the
/// fence (y = 0).
fn laid(piece: &PieceFigures, first_end: bool, facet: &FacetFigures) -> Vec<Point> {
    let length = piece.length_over_points_mm;
    let along = |x: f64| if first_end { length - x } else { x };
    // Turning the piece end for end takes its left side to the right.
    let left_is_up = !first_end;
    let up_is_fence = (facet.side == "left") == left_is_up;
    let across = |y: f64| {
        let y = if first_end { -y } else { y };
        if up_is_fence { -y } else { y }
    };
    let mut ring: Vec<Point> = piece
        .outline_mm
        .iter()
        .map(|[x, y]| Point::new(along(*x), across(*y)))
        .collect();
    let (low, _) = bounds(ring.iter().copied()).unwrap_or_default();
    for point in &mut ring {
        point.y -= low.y;
    }
    ring
}

/// A piece's outline from the front, true shape.
pub(super) fn outline(piece: &PieceFigures) -> Drawing {
    let ring: Vec<Point> = piece
        .outline_mm
        .iter()
        .map(|[x, y]| Point::new(*x, *y))
        .collect();
    let mut drawing = Drawing::new(
        format!("Outline of {}", piece.name),
        Point::default(),
        Point::default(),
    );
    drawing.area(Role::Piece, ring);
    drawing.fit(0.3);
    drawing
}
