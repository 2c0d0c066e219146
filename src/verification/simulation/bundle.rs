//! The clamped bundle as planes of wood.

use super::interval::distance_outside;
use super::sweep::MovePiece;
use super::wood_profile::WoodProfile;
use crate::verification::workpiece::Workpiece;

/// Contact with wood that is lower, mm, than this above the cutter's end is a brush, not a cut:
/// programs carry three decimals.
pub const BRUSH_HEIGHT_MM: f64 = 0.002;

/// Contact narrower than this, mm, along a strip is a brush as well.
pub const BRUSH_WIDTH_MM: f64 = 0.002;

/// At most this many planes in one strip.
const MOST_PLANES: usize = 200;

/// A plane along the strips.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodPlane {
    /// Its y, program frame, mm.
    pub y: f64,
    /// Number of its strip from 0; `None` in a backer.
    pub strip: Option<usize>,
    /// How far it is from the strip's front face, mm.
    pub in_strip: f64,
    /// x of the strip's datum end, mm.
    pub start: f64,
    /// The wood on the plane itself, exactly.
    pub wood: WoodProfile,
    /// The least that is left of the wood around the plane, halfway to its neighbours: less than
    /// on the plane where a path ends or an arc turns back between two planes.
    pub around: WoodProfile,
}

/// The bundle.
#[derive(Debug, Clone, PartialEq)]
pub struct SimulatedBundle {
    planes: Vec<WoodPlane>,
    radius: f64,
    /// Spreads of y of the whole bundle, backers included.
    y: [f64; 2],
    /// And of x.
    x: [f64; 2],
    /// Whether a path has ended in the wood, where a cut may be narrower than on the planes beside.
    ends_inside: bool,
    /// Room for [`SimulatedBundle::remove`] to work in.
    cuts: Vec<SweptInterval>,
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
    fn planes(&self, depth: f64, apart: f64) -> Vec<WoodPlane> {
        let wood = WoodProfile::new(self.ends, -depth);
        let offsets = offsets(self.wide, apart).into_iter();
        offsets
            .map(|in_strip| WoodPlane {
                y: self.front + in_strip,
                strip: self.strip,
                in_strip,
                start: self.ends[0],
                around: wood.clone(),
                wood: wood.clone(),
            })
            .collect()
    }
}

/// What a piece of a move sweeps on one plane or around it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct SweptInterval {
    /// The plane's number.
    plane: usize,
    wood: WhichWood,
    /// Along x, mm.
    interval: [f64; 2],
}

/// Which of a plane's two profiles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum WhichWood {
    /// That of the plane itself.
    OnPlane,
    /// That of its surroundings.
    Around,
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
        let mut bundle = SimulatedBundle::with_planes(workpiece, radius, radius);
        let start = workpiece.strip_start(0);
        let wood = WoodProfile::new([start, start + workpiece.length_mm], -workpiece.depth_mm);
        bundle.planes.clear();
        for y in ys {
            bundle.planes.push(WoodPlane {
                y: *y,
                strip: Some(0),
                in_strip: *y,
                start,
                around: wood.clone(),
                wood: wood.clone(),
            });
        }
        bundle
    }

    /// Sticks that lie apart, between the workpiece's front and back, with planes `in_stick` mm from
    /// the front edge of each.
    pub fn of_sticks(
        workpiece: &Workpiece,
        radius: f64,
        sticks_y: &[[f64; 2]],
        in_stick: &[f64],
    ) -> Self {
        let mut bundle = SimulatedBundle::at_planes(workpiece, radius, &[]);
        let start = workpiece.strip_start(0);
        let wood = WoodProfile::new([start, start + workpiece.length_mm], -workpiece.depth_mm);
        for (stick, [front, _]) in sticks_y.iter().enumerate() {
            bundle.planes.extend(in_stick.iter().map(|off| WoodPlane {
                y: front + off,
                strip: Some(stick),
                in_strip: *off,
                start,
                around: wood.clone(),
                wood: wood.clone(),
            }));
        }
        bundle
    }

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
        let depth = workpiece.depth_mm;
        let planes = bars.iter().flat_map(|bar| bar.planes(depth, apart));
        let planes = planes.collect();
        let y = [y[0] - front, y[1] + back];
        let mut bundle = SimulatedBundle {
            planes,
            radius,
            y,
            x,
            ends_inside: false,
            cuts: Vec::new(),
        };
        bundle.cut_before(workpiece);
        bundle
    }

    fn cut_before(&mut self, workpiece: &Workpiece) {
        for plane in self.planes.iter_mut().filter(|plane| plane.strip.is_some()) {
            let across = plane.in_strip - workpiece.thickness_mm / 2.0;
            for notch in &workpiece.cut_before {
                let ends = notch.ends(across).map(|x| x + plane.start);
                plane.wood.lower(ends, -notch.depth_mm, 0);
                plane.around.lower(ends, -notch.depth_mm, 0);
            }
        }
    }

    /// The planes from front to back.
    pub fn planes(&self) -> &[WoodPlane] {
        &self.planes
    }

    /// The planes that a piece reaches with a cutter of radius `r`, and what it sweeps on each.
    /// Where the swept area is widest between two planes, as at a path's end, no plane shows how wide:
    /// that counts as the surroundings of the nearest one.
    fn reached(&self, piece: &MovePiece, r: f64, each: &mut dyn FnMut(SweptInterval)) {
        let footprint = &piece.footprint;
        let [low, high] = footprint.y_range();
        let first = self.planes.partition_point(|plane| plane.y < low - r);
        let last = self.planes.partition_point(|plane| plane.y <= high + r);
        let planes = self.planes.iter().enumerate();
        for (place, plane) in planes.take(last).skip(first) {
            footprint.swept(plane.y, r, &mut |interval| {
                each(SweptInterval {
                    plane: place,
                    wood: WhichWood::OnPlane,
                    interval,
                });
            });
        }
        for y in footprint.widest().into_iter().flatten() {
            if let Some(place) = self.nearest(y) {
                footprint.swept(y, r, &mut |interval| {
                    each(SweptInterval {
                        plane: place,
                        wood: WhichWood::Around,
                        interval,
                    });
                });
            }
        }
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

    fn wood(&self, swept: &SweptInterval) -> Option<&WoodProfile> {
        let plane = self.planes.get(swept.plane)?;
        Some(match swept.wood {
            WhichWood::OnPlane => &plane.wood,
            WhichWood::Around => &plane.around,
        })
    }

    /// By how much the wood that a piece touches is higher than the piece, mm; `None` where it
    /// touches none. The cutter is taken `wider` mm larger in radius.
    pub fn contact(&self, piece: &MovePiece, wider: f64) -> Option<f64> {
        let mut tallest: Option<f64> = None;
        self.reached(piece, self.radius + wider, &mut |swept| {
            let wood = self.wood(&swept);
            let height = wood.and_then(|wood| wood.tallest(swept.interval, BRUSH_WIDTH_MM));
            tallest = [tallest, height].into_iter().flatten().reduce(f64::max);
        });
        tallest
            .map(|height| height - piece.z)
            .filter(|height| *height > BRUSH_HEIGHT_MM)
    }

    /// How wide the wood that a piece takes away is along x at most, on any plane, mm.
    pub fn wood_across(&self, piece: &MovePiece) -> f64 {
        let mut widest = 0.0_f64;
        self.reached(piece, self.radius, &mut |swept| {
            let above = piece.z + BRUSH_HEIGHT_MM;
            let wood = self.wood(&swept);
            let across = wood.map_or(0.0, |wood| wood.width_above(swept.interval, above));
            widest = widest.max(across);
        });
        widest
    }

    /// Whether paths have ended in the wood, so that planes must be close together.
    pub fn has_ends_inside(&self) -> bool {
        self.ends_inside
    }

    /// Takes away what a piece sweeps.
    pub fn remove(&mut self, piece: &MovePiece, line: usize) {
        let [low, high] = [self.y[0] - self.radius, self.y[1] + self.radius];
        let mut ends = piece.footprint.widest().into_iter().flatten();
        self.ends_inside |= ends.any(|y| low < y && y < high);
        let mut cuts = std::mem::take(&mut self.cuts);
        self.reached(piece, self.radius, &mut |swept| cuts.push(swept));
        for SweptInterval {
            plane,
            wood,
            interval,
        } in cuts.drain(..)
        {
            let Some(plane) = self.planes.get_mut(plane) else {
                continue;
            };
            plane.around.lower(interval, piece.z, line);
            if wood == WhichWood::OnPlane {
                plane.wood.lower(interval, piece.z, line);
            }
        }
        self.cuts = cuts;
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
        MovePiece {
            footprint: Footprint::Segment(ends),
            z,
        }
    }

    #[test]
    fn a_slot_right_across_is_the_same_on_every_plane() {
        let mut bundle = SimulatedBundle::new(&Workpiece::plain(4, 3.0, 12.0, 200.0), 1.0);
        let slot = piece([[50.0, -2.5], [50.0, 14.5]], -6.0);
        assert_eq!(bundle.contact(&slot, 0.0), Some(6.0));
        bundle.remove(&slot, 7);
        assert_eq!(bundle.contact(&slot, 0.0), None);
        for plane in bundle.planes() {
            let runs = plane.wood.runs_below(-1.0);
            assert_eq!(runs[0].ends, [49.0, 51.0]);
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
