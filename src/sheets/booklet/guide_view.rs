//! The paring guide from above, and a piece at it: fence, stop, guide block, chisel and one facet,
//! to scale.
//!
//! Frame of a setting: x to the right, y away from the worker, the stop's face at x = 0, the front
//! edges of fence and block at y = 0. The piece lies below that line, block and fence above it.

use super::pencil::{Beside, Pencil, drawn};
use crate::geometry::convex::edges;
use crate::geometry::tolerance::DIRECTION;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::instructions::drawing::{Anchor, Drawing, Role};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::pare::{
    FacetFigures, GuideFigures, OnFence, OnStop, ParePlan, PieceFigures,
};
use crate::instructions::sheet::Picture;
use crate::phrase;
use crate::planning::sheet_cutting::{GuidePlan, guide_plan};
use crate::sheets::paring::{in_working_order, is_square};
use crate::units::{Brief, Rad};
use float_cmp::ApproxEq;

/// A chisel's blade in pictures, mm: its width beyond the facet, on the block and in the air, and
/// its thickness.
const CHISEL_MM: [f64; 3] = [10.0, 3.0, 3.0];

/// The whole guide from above, with the sharpest of its blocks; nothing where no block is needed.
pub(super) fn whole(plan: &ParePlan) -> Option<Picture> {
    let guide = &plan.guide;
    let block = plan.blocks.first()?;
    let GuidePlan {
        base,
        slot,
        bolts,
        fence,
        stop,
        block: ring,
    } = guide_plan(guide, block.jig_angle, guide.reach_mm / 2.0);
    let [length, _] = guide.base_mm;
    let corner = guide.corner_mm();
    let front = guide.front_mm();
    let drawing = drawn("The guide from above", |pencil| {
        let capitals = pencil.capitals;
        pencil.drawing.area(Role::Ground, base.clone());
        pencil.drawing.area(Role::Cut, slot.clone());
        for (ring, name) in [(&fence, "fence"), (&ring, "block"), (&stop, "stop")] {
            pencil.drawing.area(Role::Jig, ring.clone());
            let (low, _) = bounds(ring.iter().copied()).unwrap_or_default();
            // Below the holes.
            let at = (low.x + 0.6 * capitals, low.y + 0.9 * capitals);
            pencil.name(Anchor::Start, at, name);
        }
        for hole in &bolts {
            pencil.drawing.area(Role::Cut, hole.clone());
        }
        pencil.name(Anchor::Start, (capitals, capitals), "base");
        let text = phrase!("base {}", Brief(length));
        pencil.across(
            (0.0, 0.0),
            (length, 0.0),
            -2.5 * capitals,
            text,
            Beside::Right,
        );
        let text = phrase!("to corner {}", Brief(corner));
        pencil.across(
            (0.0, 0.0),
            (corner, front),
            -6.0 * capitals,
            text,
            Beside::Right,
        );
        let text = phrase!("{}", Brief(guide.base_mm[1]));
        pencil.upward(
            (0.0, 0.0),
            (0.0, guide.base_mm[1]),
            -2.0 * capitals,
            text,
            true,
        );
        let text = phrase!("{}", Brief(front));
        pencil.upward(
            (length, 0.0),
            (corner, front),
            length + 2.0 * capitals,
            text,
            false,
        );
    });
    let caption = phrase!(
        "The guide from above, to scale, with the guide block of {}; to its sharp corner. Fence flush with the base's left and far edges; block and stop take their places by its right end and its front edge. Upright measures: the base, and from its near edge to the front edges.",
        Rad(block.jig_angle)
    );
    Some(Picture { drawing, caption })
}

/// One picture for each block, of the first piece that needs it, and for each with a spacer.
pub(super) fn of_each_kind(plan: &ParePlan) -> Vec<Picture> {
    let mut told: Vec<(f64, bool)> = Vec::new();
    let mut pictures = Vec::new();
    for piece in &plan.pieces {
        for shown in settings(piece, &plan.guide) {
            let (angle, spacer) = shown.kind;
            let known =
                |(known, with): &(f64, bool)| known.approx_eq(angle, DIRECTION) && *with == spacer;
            if !told.iter().any(known) {
                told.push(shown.kind);
                let mut whose = phrase!("{} {}. ", piece.number, &piece.name);
                let mut picture = shown.picture;
                whose.append(picture.caption);
                picture.caption = whose;
                pictures.push(picture);
            }
        }
    }
    pictures
}

/// All pictures of pieces at the guide: one for each distinct setting of block and stop that a piece
/// needs, piece by piece in working order.
pub fn guide_pictures(plan: &ParePlan) -> Vec<Picture> {
    let pieces = plan.pieces.iter();
    let shown = pieces.flat_map(|piece| settings(piece, &plan.guide));
    shown.map(|shown| shown.picture).collect()
}

/// A picture, and what kind of setting it shows: the block's angle, whether there is a spacer.
struct Shown {
    kind: (f64, bool),
    picture: Picture,
}

fn settings(piece: &PieceFigures, guide: &GuideFigures) -> Vec<Shown> {
    let mut told: Vec<(f64, f64)> = Vec::new();
    let mut pictures = Vec::new();
    if piece.trimmed_from.is_some() {
        return pictures;
    }
    let mut blank = Blank::rough(piece);
    for (letter, end, facet) in in_working_order(piece) {
        let laid = Laid {
            first_end: letter == EndLetter::A,
            rough: match end.on_stop {
                OnStop::SquareEnd => (piece.rough_length_mm - piece.length_over_points_mm) / 2.0,
                OnStop::Point => 0.0,
            },
            facet,
            mouth: end
                .mouth
                .as_ref()
                .map(|_| end.ridge_offset_mm.unwrap_or_default()),
        };
        let setting = (facet.block_angle, facet.stop_mm);
        let known = |other: &(f64, f64)| {
            (other.0 - setting.0).abs() < 1e-9 && (other.1 - setting.1).abs() < 1e-6
        };
        if !told.iter().any(known) && !is_square(facet) {
            told.push(setting);
            pictures.push(Shown {
                kind: (facet.block_angle, facet.spacer_mm.is_some()),
                picture: picture(piece, &laid, &blank, guide),
            });
        }
        blank.pare(&laid, piece);
    }
    pictures
}

/// How a piece lies at the guide.
struct Laid<'a> {
    /// Whether end A is pared.
    first_end: bool,
    /// What the end on the stop is longer than it will be.
    rough: f64,
    facet: &'a FacetFigures,
    /// Of a bird's mouth: its apex, from the axis to the left.
    mouth: Option<f64>,
}

impl Laid<'_> {
    /// From the piece's own frame (axis along x from end A's point, y to the left) to the guide's.
    /// The piece is turned end for end to bring end A to the right, and face down where else the
    /// other side would lie on the fence.
    fn place(&self, piece: &PieceFigures, half: f64, point: Point) -> Point {
        let x = if self.first_end {
            piece.length_over_points_mm - point.x
        } else {
            point.x
        };
        let to_fence = if self.facet.on_fence == OnFence::Left {
            1.0
        } else {
            -1.0
        };
        Point::new(x + self.rough, to_fence * point.y - half)
    }

    /// Along the facet from the fence to a mouth's apex, of a piece that is half as thick.
    fn to_apex(&self, half: f64) -> Option<f64> {
        let to_left = match self.facet.on_fence {
            OnFence::Left => 1.0,
            _ => -1.0,
        };
        let offset = self.mouth?;
        Some((half - to_left * offset) / self.facet.block_angle.sin())
    }

    /// Where the guide plane meets the front edges, and its direction over the piece, away from the
    /// block.
    fn plane(&self) -> (Point, Vector) {
        let angle = self.facet.block_angle;
        (
            Point::new(self.facet.from_far_end_mm(), 0.0),
            Vector::new(angle.cos(), -angle.sin()),
        )
    }
}

/// A piece as it is before a facet is pared, in its own frame, counter-clockwise.
struct Blank {
    ring: Vec<Point>,
    half: f64,
}

impl Blank {
    fn rough(piece: &PieceFigures) -> Blank {
        let corners = piece.outline_mm.iter().map(|[x, y]| Point::new(*x, *y));
        let (low, high) = bounds(corners).unwrap_or_default();
        let half = (high.y - low.y) / 2.0;
        let over = (piece.rough_length_mm - piece.length_over_points_mm) / 2.0;
        let from = -over;
        let to = piece.length_over_points_mm + over;
        let p = Point::new;
        Blank {
            ring: vec![p(from, -half), p(to, -half), p(to, half), p(from, half)],
            half,
        }
    }

    /// Takes off what stands out past the guide plane.
    fn pare(&mut self, laid: &Laid<'_>, piece: &PieceFigures) {
        let (foot, along) = laid.plane();
        let out = |point: &Point| {
            // Left of the plane's direction away from the block is what goes.
            along.cross(foot.to(laid.place(piece, self.half, *point)))
        };
        if let Some(deep) = laid.to_apex(self.half) {
            // In a mouth only down to the apex; there it splits off along the grain.
            let apex = foot + along * deep;
            let before = |point: &Point| laid.place(piece, self.half, *point).y - apex.y;
            self.ring = without_corner(&self.ring, [&out, &before]);
        } else {
            self.ring = kept(&self.ring, &out);
        }
    }
}

/// What of a ring lies outside a half plane, where `out` is above zero.
fn kept(ring: &[Point], out: &dyn Fn(&Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::new();
    for (p, q) in edges(ring) {
        let (here, there) = (out(&p), out(&q));
        if here <= 0.0 {
            kept.push(p);
        }
        if (here < 0.0 && there > 0.0) || (here > 0.0 && there < 0.0) {
            kept.push(p + p.to(q) * (here / (here - there)));
        }
    }
    kept
}

/// What of a ring stays where only what is out of one half plane and before another goes: the part before,
/// cut, and the part past it as it is, joined along the line between them.
fn without_corner(ring: &[Point], [out, before]: [&dyn Fn(&Point) -> f64; 2]) -> Vec<Point> {
    let cut = kept(&kept(ring, &|p: &Point| -before(p)), out);
    let past = kept(ring, before);
    let on_line = |p: Point| before(&p).abs() < SAME_POSITION_MM;
    let mut joined = Vec::new();
    for part in [past, cut].map(without_spikes) {
        // Round it from where it leaves the line to where it comes back.
        let shared = edges(&part).position(|(p, q)| on_line(p) && on_line(q));
        let from = shared.map_or(0, |edge| edge + 1);
        let around = part.iter().cycle().skip(from).take(part.len());
        joined.extend(around.copied());
    }
    without_spikes(joined)
}

/// A ring without corners that do not turn, or that turn right back.
fn without_spikes(mut ring: Vec<Point>) -> Vec<Point> {
    let mut at = 0;
    while ring.len() > 2 && at < ring.len() {
        let count = ring.len();
        let corner = |i: usize| ring.get(i % count).copied().unwrap_or_default();
        let into = corner(at + count - 1).to(corner(at));
        let off = corner(at).to(corner(at + 1));
        if into.cross(off).abs() < SAME_POSITION_MM * into.length().max(off.length()) {
            ring.remove(at);
            at = 0;
        } else {
            at += 1;
        }
    }
    ring
}

fn picture(piece: &PieceFigures, laid: &Laid<'_>, blank: &Blank, guide: &GuideFigures) -> Picture {
    let facet = laid.facet;
    let end = if laid.first_end { "A" } else { "B" };
    let place = |point: &Point| laid.place(piece, blank.half, *point);
    let rough: Vec<Point> = blank.ring.iter().map(place).collect();
    let outline = piece.outline_mm.iter().map(|[x, y]| Point::new(*x, *y));
    let finished: Vec<Point> = outline.map(|point| place(&point)).collect();
    let (low, high) = bounds(rough.iter().copied()).unwrap_or_default();
    let title = format!(
        "{}, end {end}, {} side on the fence",
        piece.name,
        facet.on_fence.name()
    );
    let drawing = drawn(&title, |pencil| {
        let capitals = pencil.capitals;
        holders(pencil, facet, guide, low, high);
        pencil.drawing.area(Role::Cut, rough.clone());
        pencil.drawing.area(Role::Piece, finished.clone());
        let tip = chisel(pencil, laid, -low.y);
        let text = match facet.spacer_mm {
            None => phrase!("stop {}", Brief(facet.stop_mm)),
            Some(spacer) => phrase!(
                "{}, spacer {}",
                Brief(facet.from_far_end_mm()),
                Brief(spacer)
            ),
        };
        // Below the chisel, whose tip would stand in the words.
        let y = (low.y - 3.0 * capitals).min(tip - 1.5 * capitals);
        pencil.across(
            (0.0, low.y),
            (facet.from_far_end_mm(), 0.0),
            y,
            text,
            Beside::Right,
        );
        let (from, to) = bounds(finished.iter().copied()).unwrap_or_default();
        let text = phrase!("over points {}", Brief(piece.length_over_points_mm));
        let y = y - 3.5 * capitals;
        pencil.across((from.x, low.y), (to.x, low.y), y, text, Beside::Right);
    });
    let caption = phrase!(
        "End {}, {} side: {} on the {}{}.",
        end,
        facet.on_fence.name(),
        match laid.rough > 0.0 {
            true => "the other end, still square,",
            false => "the other end's point",
        },
        match facet.spacer_mm {
            None => "stop",
            Some(_) => "spacer; first measure: from the spacer's face",
        },
        match laid.mouth {
            None => "",
            Some(_) => "; no farther than the apex, stop to the block's blunt corner",
        }
    );
    Picture { drawing, caption }
}

/// Fence, block and stop; of long ones the part that is near the piece.
fn holders(
    pencil: &mut Pencil,
    facet: &FacetFigures,
    guide: &GuideFigures,
    low: Point,
    high: Point,
) {
    let capitals = pencil.capitals;
    let broad = (0.2 * high.x + 4.0)
        .max(6.0 * capitals)
        .min(guide.fence_mm[1]);
    let left = -(0.12 * high.x + 10.0 * capitals);
    let corner = facet.from_far_end_mm();
    // The face runs back over the wood that is kept.
    let back = corner - broad / facet.block_angle.tan();
    let square_end = (corner - guide.block_length_mm).max(left);
    let p = Point::new;
    let mut block = vec![p(square_end, 0.0), p(corner, 0.0)];
    if back > square_end {
        block.extend([p(back, broad), p(square_end, broad)]);
    } else {
        block.push(p(
            square_end,
            (corner - square_end) * facet.block_angle.tan(),
        ));
    }
    if square_end > left {
        pencil.rectangle(Role::Jig, (left, 0.0), (square_end, broad));
        if square_end - left > 7.0 * capitals {
            pencil.name(Anchor::Start, (left + capitals, 1.5 * capitals), "fence");
        }
    }
    pencil.drawing.area(Role::Jig, block);
    let text = phrase!("block {}", Rad(facet.block_angle));
    pencil.name(Anchor::Start, (square_end + capitals, 1.5 * capitals), text);
    let deep = (low.y - capitals).min(-4.0 * capitals);
    pencil.rectangle(Role::Jig, (left, deep), (0.0, 0.0));
    let stands = match facet.spacer_mm {
        None => "stop",
        Some(_) => "spacer",
    };
    pencil.name(Anchor::End, (-capitals, deep / 2.0), stands);
}

/// The blade when the facet is finished: its back in the guide plane, over block and facet. Gives the y of
/// its tip.
fn chisel(pencil: &mut Pencil, laid: &Laid<'_>, thickness: f64) -> f64 {
    let (foot, along) = laid.plane();
    let [on_block, beyond, thick] = CHISEL_MM;
    let (facet, beyond) = match laid.to_apex(thickness / 2.0) {
        Some(deep) => (deep, 0.0),
        None => (thickness / laid.facet.block_angle.sin(), beyond),
    };
    let out = Vector::new(-along.y, along.x) * thick;
    let from = foot + along * -on_block;
    let to = foot + along * (facet + beyond);
    let bevel = from + out;
    // In a mouth its bevelled side is toward the other facet.
    let side = match laid.mouth {
        Some(_) => along * thick,
        None => Vector::default(),
    };
    pencil
        .drawing
        .area(Role::Tool, vec![from, to, to + out - side, bevel]);
    let beside = (bevel.x + pencil.capitals, bevel.y);
    pencil.name(Anchor::Start, beside, "chisel");
    to.y.min((to + out).y)
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
