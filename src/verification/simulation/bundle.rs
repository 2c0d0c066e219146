//! The clamped bundle as planes of wood.

use super::interval::distance_outside;
use super::piece::MovePiece;
use super::plane::{SweptFloor, WhichWood, WoodPlane, highest_met, lower_alike};
use super::wood_profile::{Floors, MetOnPlane, WoodProfile};
use super::wood_step::CutFloor;
use crate::verification::workpiece::Workpiece;
use std::ops::Range;
use std::sync::Arc;

/// Contact with wood that is lower, mm, than this above the cutter's end is a brush, not a cut:
/// programs carry three decimals.
pub const BRUSH_HEIGHT_MM: f64 = 0.002;

/// Contact narrower than this, mm, along a strip is a brush as well.
pub const BRUSH_WIDTH_MM: f64 = 0.002;

/// At most this many planes in one strip.
const MOST_PLANES: usize = 200;

/// The bundle.
#[derive(Debug, Clone)]
pub struct SimulatedBundle {
    planes: Vec<WoodPlane>,
    radius: f64,
    /// Spreads of y of the whole bundle, backers included.
    y: [f64; 2],
    /// And of x.
    x: [f64; 2],
    /// Whether a path has ended in the wood, where a cut may be narrower than on the planes beside.
    ends_inside: bool,
    /// Room for [`SimulatedBundle::cut`] to work in.
    swept: Vec<SweptFloor>,
}

/// A strip or a backer before anything is cut.
struct Bar {
    /// y of its front face, mm.
    front: f64,
    /// How thick it is, mm.
    wide: f64,
    strip: Option<usize>,
    /// Where it begins and ends along x, mm.
    ends: [f64; 2],
}

impl Bar {
    fn planes(&self, wood: &Arc<WoodProfile>, apart: f64) -> impl Iterator<Item = WoodPlane> {
        offsets(self.wide, apart)
            .into_iter()
            .map(|in_strip| WoodPlane::new(self.front, in_strip, self.strip, self.ends[0], wood))
    }
}

/// What a piece of a move meets.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MetByPiece {
    /// By how much the wood that it takes away is higher than what it leaves, mm; `None` where it
    /// takes none.
    pub height: Option<f64>,
    /// How wide the wood that it takes away is along x at most, on any plane, mm; 0 where nobody asks.
    pub across: f64,
}

impl SimulatedBundle {
    /// Uncut strips (but for what was cut before), and the radius of the cutter. Its planes stand
    /// a radius apart, which is enough for paths that run right across.
    pub fn new(workpiece: &Workpiece, radius: f64) -> Self {
        SimulatedBundle::with_planes(workpiece, radius, radius)
    }

    /// The same with planes close together. Two paths whose ends face each other over a gap g
    /// leave cusps of r - sqrt(r*r - g*g/4) on both walls; where no plane stands in the gap, g is
    /// at most r/12, and a cusp less than 0.001 r.
    pub fn with_close_planes(workpiece: &Workpiece, radius: f64) -> Self {
        SimulatedBundle::with_planes(workpiece, radius, radius / 12.0)
    }

    /// A single piece of wood with planes at the given y, from front to back, mm.
    pub fn at_planes(workpiece: &Workpiece, radius: f64, ys: &[f64]) -> Self {
        let whole = [0.0, workpiece.thickness_mm * workpiece.count as f64];
        SimulatedBundle::of_sticks(workpiece, radius, &[whole], ys)
    }

    /// Sticks that lie apart, between the workpiece's front and back, with planes `in_stick` mm from
    /// the front edge of each.
    pub fn of_sticks(
        workpiece: &Workpiece,
        radius: f64,
        sticks_y: &[[f64; 2]],
        in_stick: &[f64],
    ) -> Self {
        let mut bundle = SimulatedBundle::with_planes(workpiece, radius, radius);
        let start = workpiece.strip_start(0);
        let ends = [start, start + workpiece.length_mm];
        let wood = Arc::new(WoodProfile::new(ends, -workpiece.depth_mm));
        bundle.planes.clear();
        for (stick, [front, _]) in sticks_y.iter().enumerate() {
            let planes = in_stick.iter();
            let planes = planes.map(|off| WoodPlane::new(*front, *off, Some(stick), start, &wood));
            bundle.planes.extend(planes);
        }
        bundle
    }

    #[allow(clippy::float_cmp)] // exact: bars that lie alike are given alike
    fn with_planes(workpiece: &Workpiece, radius: f64, apart: f64) -> Self {
        let [x, y] = workpiece.hull();
        let [front, back] = workpiece.backers_mm;
        let t = workpiece.thickness_mm;
        let mut bars = vec![Bar {
            front: -front,
            wide: front,
            strip: None,
            ends: x,
        }];
        for strip in 0..workpiece.count {
            let start = workpiece.strip_start(strip);
            bars.push(Bar {
                front: strip as f64 * t,
                wide: t,
                strip: Some(strip),
                ends: [start, start + workpiece.length_mm],
            });
        }
        bars.push(Bar {
            front: y[1],
            wide: back,
            strip: None,
            ends: x,
        });
        let mut planes: Vec<WoodPlane> = Vec::new();
        // Bars that begin and end alike share their wood until something cuts them apart.
        for alike in bars.chunk_by(|a, b| a.ends == b.ends) {
            let ends = alike.first().map_or(x, |bar| bar.ends);
            let wood = Arc::new(WoodProfile::new(ends, -workpiece.depth_mm));
            planes.extend(alike.iter().flat_map(|bar| bar.planes(&wood, apart)));
        }
        let y = [y[0] - front, y[1] + back];
        let mut bundle = SimulatedBundle {
            planes,
            radius,
            y,
            x,
            ends_inside: false,
            swept: Vec::new(),
        };
        bundle.cut_before(workpiece);
        bundle
    }

    #[allow(clippy::float_cmp)] // exact: what is cut alike was worked out alike
    fn cut_before(&mut self, workpiece: &Workpiece) {
        for notch in &workpiece.cut_before {
            let ends = |plane: &WoodPlane| {
                let across = plane.in_strip - workpiece.thickness_mm / 2.0;
                notch.ends(across).map(|x| x + plane.start)
            };
            let alike = |a: &WoodPlane, b: &WoodPlane| {
                a.strip.is_some() == b.strip.is_some() && ends(a) == ends(b)
            };
            for planes in self.planes.chunk_by_mut(alike) {
                if let Some(first) = planes.first().filter(|plane| plane.strip.is_some()) {
                    let floor = CutFloor::level(ends(first), -notch.depth_mm);
                    lower_alike(planes, WhichWood::OnPlane, &[floor], 0);
                }
            }
        }
    }

    /// The planes from front to back.
    pub fn planes(&self) -> &[WoodPlane] {
        &self.planes
    }

    /// The planes that a piece reaches with a cutter of radius `r`, and the floor that it leaves on each.
    /// Where the swept area is widest between two planes, as at a path's end, no plane shows how wide:
    /// that counts as the surroundings of the nearest one.
    fn reached(&self, piece: &MovePiece, r: f64, each: &mut dyn FnMut(SweptFloor)) {
        let footprint = &piece.footprint;
        let path = footprint.y_range();
        let reach = self.planes_in([path[0] - r, path[1] + r]);
        let floors = piece.floors(r);
        let mut add = |planes: Range<usize>, wood: WhichWood, y: f64| {
            floors.on(y, &mut |floor, whole| {
                let planes = planes.clone();
                each(SweptFloor {
                    planes,
                    wood,
                    floor,
                    whole,
                    cuts: false,
                });
            });
        };
        // A level way square to the strips sweeps the same on all planes that it crosses.
        let across = if piece.is_straight_across() {
            self.planes_in(path)
        } else {
            reach.start..reach.start
        };
        if !across.is_empty() {
            add(across.clone(), WhichWood::OnPlane, path[0]);
        }
        let lower = piece.lower_y();
        for place in (reach.start..across.start).chain(across.end..reach.end) {
            let Some(plane) = self.planes.get(place) else {
                continue;
            };
            add(place..place + 1, WhichWood::OnPlane, plane.y);
            // Beside a plane the floor of a way that climbs across it is lower than on it.
            if let Some(lower) = lower {
                let [near, far] = self.surroundings(place, plane);
                let [near, far] = [near.max(path[0]), far.min(path[1])];
                if near <= far {
                    let y = lower.clamp(near, far);
                    add(place..place + 1, WhichWood::Around, y);
                }
            }
        }
        for y in footprint.widest().into_iter().flatten() {
            if let Some(place) = self.nearest(y) {
                add(place..place + 1, WhichWood::Around, y);
            }
        }
    }

    /// The planes from one y to another, both included.
    fn planes_in(&self, [low, high]: [f64; 2]) -> Range<usize> {
        let first = self.planes.partition_point(|plane| plane.y < low);
        let behind = self.planes.partition_point(|plane| plane.y <= high);
        first..behind.max(first)
    }

    /// From half way to the plane before to half way to the one behind, where these are of the same
    /// strip.
    fn surroundings(&self, place: usize, plane: &WoodPlane) -> [f64; 2] {
        let half_way = |other: Option<&WoodPlane>| {
            let other = other.filter(|other| other.strip == plane.strip);
            other.map_or(plane.y, |other| f64::midpoint(plane.y, other.y))
        };
        let before = place.checked_sub(1).and_then(|at| self.planes.get(at));
        [half_way(before), half_way(self.planes.get(place + 1))]
    }

    /// The plane next to a y inside the bundle; none between sticks that lie apart.
    fn nearest(&self, y: f64) -> Option<usize> {
        let after = self.planes.partition_point(|plane| plane.y < y);
        let before = after.checked_sub(1)?;
        let a = self.planes.get(before)?;
        let b = self.planes.get(after)?;
        if a.strip != b.strip {
            return None;
        }
        Some(if y - a.y < b.y - y { before } else { after })
    }

    /// By how much the wood that a piece touches is higher than the piece, mm; `None` where it
    /// touches none. The cutter is taken `wider` mm larger in radius.
    pub fn contact(&self, piece: &MovePiece, wider: f64) -> Option<f64> {
        let mut met = MetOnPlane::default();
        self.reached(piece, self.radius + wider, &mut |swept| {
            met = met.join(highest_met(
                self.swept_planes(&swept),
                &swept,
                &[swept.floor],
                BRUSH_WIDTH_MM,
            ));
        });
        met.higher.filter(|height| *height > BRUSH_HEIGHT_MM)
    }

    /// Whether paths have ended in the wood, so that planes must be close together.
    pub fn has_ends_inside(&self) -> bool {
        self.ends_inside
    }

    /// Takes away what a piece sweeps, and tells what that was; how wide it was only to who asks to
    /// `measure` it.
    pub fn cut(&mut self, piece: &MovePiece, line: usize, measure: bool) -> MetByPiece {
        self.note_ends(piece);
        let mut swept = std::mem::take(&mut self.swept);
        self.reached(piece, self.radius, &mut |one| swept.push(one));
        let mut met = MetOnPlane::default();
        // All is looked at before anything is gone.
        for parts in swept.chunk_by_mut(SweptFloor::goes_with) {
            let floors: Floors = parts.iter().map(|part| part.floor).collect();
            let Some(first) = parts.first_mut() else {
                continue;
            };
            let planes = self.planes.get(first.planes.clone()).unwrap_or_default();
            let here = highest_met(planes, first, &floors, BRUSH_WIDTH_MM);
            met = met.join(here);
            first.cuts = here.any;
        }
        let across = if measure { self.across(&swept) } else { 0.0 };
        for parts in swept.chunk_by(SweptFloor::goes_with) {
            let Some(first) = parts.first().filter(|first| first.cuts) else {
                continue;
            };
            let floors: Floors = parts.iter().map(|part| part.floor).collect();
            if let Some(planes) = self.planes.get_mut(first.planes.clone()) {
                lower_alike(planes, first.wood, &floors, line);
            }
        }
        swept.clear();
        self.swept = swept;
        let height = met.higher.filter(|height| *height > BRUSH_HEIGHT_MM);
        MetByPiece { height, across }
    }

    fn swept_planes(&self, swept: &SweptFloor) -> &[WoodPlane] {
        self.planes.get(swept.planes.clone()).unwrap_or_default()
    }

    /// How wide the wood above some floors is on any plane at most.
    fn across(&self, swept: &[SweptFloor]) -> f64 {
        let mut widest = 0.0_f64;
        for parts in swept.chunk_by(SweptFloor::goes_with) {
            let Some(first) = parts.first().filter(|first| first.cuts) else {
                continue;
            };
            for plane in self.swept_planes(first) {
                let wood = plane.profile(first.wood);
                let wide = |part: &SweptFloor| wood.width_above(&part.floor, BRUSH_HEIGHT_MM);
                widest = widest.max(parts.iter().map(wide).sum());
            }
        }
        widest
    }

    /// Takes note of paths that end in the wood. A way that climbs in it ends at every height.
    fn note_ends(&mut self, piece: &MovePiece) {
        let [low, high] = [self.y[0] - self.radius, self.y[1] + self.radius];
        let inside = |y: f64| low < y && y < high;
        let mut ends = piece.footprint.widest().into_iter().flatten();
        self.ends_inside |= ends.any(inside);
        let [near, far] = piece.footprint.y_range();
        self.ends_inside |= piece.is_slanted() && near < high && low < far;
    }

    /// Whether a tool of radius `r` on its way through this rectangle can touch the bundle.
    pub fn is_near(&self, [x, y]: [[f64; 2]; 2], r: f64) -> bool {
        let apart = |a: [f64; 2], b: [f64; 2]| a[0] - r > b[1] || a[1] + r < b[0];
        !apart(x, self.x) && !apart(y, self.y)
    }

    /// Whether a cutter at this place, seen from above, overlaps the bundle with its backers.
    pub fn is_over(&self, [x, y]: [f64; 2]) -> bool {
        distance_outside(x, self.x).hypot(distance_outside(y, self.y)) < self.radius
    }
}

/// Where planes stand in a strip of the given width: on both faces, and between them at most so
/// far apart. None for no width.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
fn offsets(wide: f64, apart: f64) -> Vec<f64> {
    if wide <= 0.0 {
        return Vec::new();
    }
    let count = (wide / apart).ceil().clamp(1.0, MOST_PLANES as f64) as usize;
    (0..=count)
        .map(|plane| wide * plane as f64 / count as f64)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::footprint::Footprint;
    use super::*;

    fn piece(ends: [[f64; 2]; 2], z: f64) -> MovePiece {
        MovePiece::level(Footprint::Segment(ends), z)
    }

    #[test]
    fn a_slot_right_across_is_the_same_on_every_plane() {
        let mut bundle = SimulatedBundle::new(&Workpiece::plain(4, 3.0, 12.0, 200.0), 1.0);
        let slot = piece([[50.0, -2.5], [50.0, 14.5]], -6.0);
        assert_eq!(bundle.contact(&slot, 0.0), Some(6.0));
        assert_eq!(bundle.cut(&slot, 7, true).across, 2.0);
        assert_eq!(bundle.contact(&slot, 0.0), None);
        for plane in bundle.planes() {
            let runs = plane.wood.runs_below(-1.0);
            assert_eq!(runs[0].ends, [49.0, 51.0]);
        }
    }

    #[test]
    fn planes_share_wood_only_while_it_is_alike() {
        let mut workpiece = Workpiece::plain(3, 3.0, 12.0, 200.0);
        workpiece.step_back_mm = 1.0;
        for stepped in [false, true] {
            workpiece.step_back_mm = if stepped { 1.0 } else { 0.0 };
            let mut bundle = SimulatedBundle::new(&workpiece, 1.0);
            // Right across, a stop in the second strip, along the third, slanted across all.
            let pieces = [
                piece([[50.0, -2.0], [50.0, 11.0]], -6.0),
                piece([[80.0, 11.0], [80.0, 4.4]], -3.0),
                piece([[60.0, 8.0], [70.0, 8.0]], -2.0),
                piece([[90.0, -2.0], [110.0, 11.0]], -1.0),
                piece([[50.5, -2.0], [50.5, 11.0]], -7.0),
            ];
            for (line, piece) in (1..).zip(&pieces) {
                bundle.cut(piece, line, false);
            }
            for plane in bundle.planes() {
                // A bundle with this plane alone shares with nobody.
                let start = workpiece.strip_start(plane.strip.unwrap());
                let mut alone = WoodProfile::new([start, start + 200.0], -12.0);
                for (line, piece) in (1..).zip(&pieces) {
                    piece.footprint.swept(plane.y, 1.0, &mut |interval| {
                        alone.lower(interval, piece.lowest(), line);
                    });
                }
                assert_eq!(plane.wood.steps(), alone.steps(), "{}", plane.y);
            }
        }
    }

    #[test]
    fn a_small_cutter_cannot_hide_inside_a_strip() {
        let bundle = SimulatedBundle::new(&Workpiece::plain(2, 6.0, 12.0, 200.0), 0.4);
        for step in 0..120 {
            let y = f64::from(step) * 0.1;
            let plunge = piece([[20.0, y]; 2], -1.0);
            assert!(bundle.contact(&plunge, 0.0).is_some(), "{y}");
            // Nor nibble at a strip's end between two planes.
            let nibble = piece([[200.395, y]; 2], -1.0);
            assert!(bundle.contact(&nibble, 0.0).is_some(), "{y}");
            let miss = piece([[200.4, y]; 2], -1.0);
            assert!(bundle.contact(&miss, 0.0).is_none(), "{y}");
        }
    }

    #[test]
    fn a_way_ends_in_the_wood_where_its_round_end_reaches_it() {
        // Four strips from 0 to 12, a cutter 2 across: within 1 of them.
        for (y, wanted) in [(-1.1, false), (-0.9, true), (0.5, true), (6.0, true)] {
            for end in [y, 12.0 - y] {
                let mut bundle = SimulatedBundle::new(&Workpiece::plain(4, 3.0, 12.0, 200.0), 1.0);
                let begin = if end < 6.0 { 14.5 } else { -2.5 };
                bundle.cut(&piece([[50.0, begin], [50.0, end]], -6.0), 1, false);
                assert_eq!(bundle.has_ends_inside(), wanted, "{end}");
            }
        }
    }

    #[test]
    fn stepped_strips_and_backers_lie_where_they_should() {
        let mut workpiece = Workpiece::plain(2, 3.0, 12.0, 100.0);
        workpiece.step_back_mm = 2.0;
        workpiece.backers_mm = [5.0, 0.0];
        let bundle = SimulatedBundle::new(&workpiece, 1.0);
        assert!(
            bundle
                .contact(&piece([[50.0, -5.5]; 2], -1.0), 0.0)
                .is_some()
        );
        assert!(
            bundle
                .contact(&piece([[50.0, -6.5]; 2], -1.0), 0.0)
                .is_none()
        );
        // Beside the second strip's datum end there is only the first strip.
        assert!(bundle.contact(&piece([[0.5, 4.5]; 2], -1.0), 0.0).is_none());
        assert!(
            bundle
                .contact(&piece([[101.5, 4.5]; 2], -1.0), 0.0)
                .is_some()
        );
        assert!(bundle.is_over([50.0, 6.9]) && !bundle.is_over([50.0, 7.1]));
    }
}
