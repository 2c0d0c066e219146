//! What a way of working makes of a lattice's strips: how far each notch comes out of what is drawn.
//! Millimetres along the strip.

use super::form::{Form, Sources};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::lattice::{Bundle, Lattice, Notch, Strip, StripId};
use float_cmp::ApproxEq;

/// A lattice's strips as they come out.
#[derive(Debug, Clone, Default)]
pub struct StripsMade {
    /// All that scatters.
    pub sources: Sources,
    /// Distinct cuts: what is cut in one pass over a block is one for all of its strips.
    pub cuts: Vec<CutNotch>,
    /// In the order of the lattice's strips.
    pub strips: Vec<MadeStrip>,
}

/// How far a notch comes out of what is drawn.
#[derive(Debug, Clone, Default)]
pub struct CutNotch {
    /// Of the edge nearer the datum end of the strip as it was cut.
    pub near: Form,
    /// Of the farther edge.
    pub far: Form,
    /// Of the depth.
    pub depth: Form,
}

impl CutNotch {
    /// Of its middle.
    pub fn centre(&self) -> Form {
        Form::default().plus(0.5, &self.near).plus(0.5, &self.far)
    }

    /// Of its width.
    pub fn wider(&self) -> Form {
        self.far.plus(-1.0, &self.near)
    }
}

/// A strip as it comes out.
#[derive(Debug, Clone, Default)]
pub struct MadeStrip {
    /// How far its thickness is off.
    pub thickness: Form,
    /// For each of its notches the cut that made it.
    pub notches: Vec<MadeNotch>,
}

/// Which cut made a notch.
#[derive(Debug, Clone, Copy, Default)]
pub struct MadeNotch {
    /// Its index.
    pub cut: usize,
    /// Whether the strip lies in the panel the other way round than it was cut: what was cut too far to
    /// the right lies too far to the left.
    pub mirrored: bool,
}

impl MadeNotch {
    /// 1, or -1 where it lies the other way round.
    pub fn sign(self) -> f64 {
        if self.mirrored { -1.0 } else { 1.0 }
    }
}

/// How a strip lies in the bundle that it is cut with.
#[derive(Debug, Clone)]
pub(super) struct LiesInBundle {
    /// For each of its notches, index of the bundle's notch that it is.
    pub(super) notches: Vec<usize>,
    /// Whether it lies there turned end for end.
    pub(super) turned: bool,
}

/// Where a strip's notches are in its bundle; nothing where it is no strip of that bundle.
pub(super) fn in_bundle(bundle: &Bundle, strip: &Strip) -> Option<LiesInBundle> {
    let trim = bundle.trims.iter().find(|trim| trim.strip == strip.id);
    let [low, high] = trim.map_or([0.0, bundle.length], |trim| trim.kept);
    let turned = bundle.turned.contains(&strip.id);
    let is = |own: &Notch, of_bundle: &Notch| {
        let at = if turned {
            high - own.centre
        } else {
            low + own.centre
        };
        at.approx_eq(of_bundle.centre, POSITION)
            && own.face == of_bundle.face
            && own.angle.approx_eq(of_bundle.angle, DIRECTION)
    };
    let places = strip.notches.iter();
    let places = places.map(|own| bundle.notches.iter().position(|other| is(own, other)));
    Some(LiesInBundle {
        notches: places.collect::<Option<Vec<usize>>>()?,
        turned,
    })
}

/// Index of a strip of a lattice.
pub(super) fn strip_at(lattice: &Lattice, id: StripId) -> Option<usize> {
    lattice.strips.iter().position(|strip| strip.id == id)
}
