//! A plane along the strips, and what a piece of a move sweeps on it.
//!
//! Most moves go right across the bundle and do the same to all planes: as long as the wood on some of
//! them is the same, they share it, and it is looked at and cut once.

use super::wood_profile::{MetOnPlane, WoodProfile};
use super::wood_step::CutFloor;
use std::ops::Range;
use std::sync::Arc;

/// A plane along the strips.
#[derive(Debug, Clone)]
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
    pub wood: Arc<WoodProfile>,
    /// The same of the wood around it, where less is left there.
    around: Option<Arc<WoodProfile>>,
}

/// Which of a plane's two profiles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum WhichWood {
    /// That of the plane itself.
    OnPlane,
    /// That of its surroundings.
    Around,
}

/// What a piece of a move sweeps on neighbouring planes or around them, or a part of that.
#[derive(Debug, Clone)]
pub(super) struct SweptFloor {
    /// The planes' numbers.
    pub(super) planes: Range<usize>,
    pub(super) wood: WhichWood,
    pub(super) floor: CutFloor,
    /// Along x, mm, with the other parts.
    pub(super) whole: [f64; 2],
    /// Whether it, or another part, is lower than any wood.
    pub(super) cuts: bool,
}

impl SweptFloor {
    /// Whether another is a part of the same.
    #[allow(clippy::float_cmp)] // exact: they were found together
    pub(super) fn goes_with(&self, other: &SweptFloor) -> bool {
        self.planes == other.planes && self.wood == other.wood && self.whole == other.whole
    }
}

impl WoodPlane {
    /// A plane `in_strip` mm behind the front face, y `front`, of a strip that begins at `start`.
    pub(super) fn new(
        front: f64,
        in_strip: f64,
        strip: Option<usize>,
        start: f64,
        wood: &Arc<WoodProfile>,
    ) -> Self {
        WoodPlane {
            y: front + in_strip,
            strip,
            in_strip,
            start,
            wood: Arc::clone(wood),
            around: None,
        }
    }

    /// The least that is left of the wood around the plane, halfway to its neighbours: less than
    /// on the plane where a path ends or an arc turns back between two planes, or a way climbs.
    pub fn around(&self) -> &WoodProfile {
        self.around.as_ref().unwrap_or(&self.wood)
    }

    pub(super) fn profile(&self, which: WhichWood) -> &WoodProfile {
        match which {
            WhichWood::OnPlane => &self.wood,
            WhichWood::Around => self.around(),
        }
    }

    /// Whether it shares all its wood with another.
    fn is_alike(&self, other: &WoodPlane) -> bool {
        Arc::ptr_eq(&self.wood, &other.wood)
            && match (&self.around, &other.around) {
                (Some(a), Some(b)) => Arc::ptr_eq(a, b),
                (None, None) => true,
                (Some(_), None) | (None, Some(_)) => false,
            }
    }
}

/// What floors, parts of what is swept, meet on planes, where at least `wide` mm of a step lie inside.
pub(super) fn highest_met(
    planes: &[WoodPlane],
    swept: &SweptFloor,
    floors: &[CutFloor],
    wide: f64,
) -> MetOnPlane {
    let mut all = MetOnPlane::default();
    for alike in planes.chunk_by(WoodPlane::is_alike) {
        if let Some(plane) = alike.first() {
            let wood = plane.profile(swept.wood);
            all = all.join(wood.met(floors, swept.whole, wide));
        }
    }
    all
}

/// Takes what is above floors, from left to right, away from planes.
pub(super) fn lower_alike(
    planes: &mut [WoodPlane],
    which: WhichWood,
    floors: &[CutFloor],
    line: usize,
) {
    for alike in planes.chunk_by_mut(WoodPlane::is_alike) {
        match which {
            WhichWood::OnPlane => {
                lower_shared(alike, floors, line, |plane| Some(&mut plane.wood));
                lower_shared(alike, floors, line, |plane| plane.around.as_mut());
            }
            WhichWood::Around => {
                lower_shared(alike, floors, line, |plane| {
                    let wood = &plane.wood;
                    Some(plane.around.get_or_insert_with(|| Arc::clone(wood)))
                });
            }
        }
    }
}

/// Lowers wood that planes share, which they do afterwards.
fn lower_shared(
    planes: &mut [WoodPlane],
    floors: &[CutFloor],
    line: usize,
    of: impl Fn(&mut WoodPlane) -> Option<&mut Arc<WoodProfile>>,
) {
    let Some((first, others)) = planes.split_first_mut() else {
        return;
    };
    let Some(wood) = of(first) else { return };
    // Nobody else holds it meanwhile: a copy of all that is left takes longer than most cuts.
    let nothing = Arc::new(WoodProfile::nothing());
    for other in others.iter_mut() {
        if let Some(shared) = of(other) {
            *shared = Arc::clone(&nothing);
        }
    }
    Arc::make_mut(wood).lower_to(floors, line);
    for other in others {
        if let Some(shared) = of(other) {
            *shared = Arc::clone(wood);
        }
    }
}
