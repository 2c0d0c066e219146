//! A bundle as one program finds it: which face up, stepped how, what was cut before.

use super::bed::{StripBed, program_angle};
use super::sharing::{SharedPart, Sharer, strips_of};
use super::travel_split::SetUpPart;
use crate::instructions::sled::NotchFigures;
use crate::lattice::{Bundle, Clamping, Notch};

/// A bundle in the fixture, those that share its programs, and the notches that one program cuts.
#[derive(Debug, Clone)]
pub(super) struct ClampedBundle<'a> {
    /// The first of those that share; what is said of notches is said of its.
    pub(super) bundle: &'a Bundle,
    /// All of them, itself the first.
    pub(super) sharers: &'a [Sharer<'a>],
    pub(super) clamping: &'a Clamping,
    pub(super) bed: StripBed,
    /// Indices of the bundle's notches that are cut.
    pub(super) cut: Vec<usize>,
    /// Indices of those that an earlier program has cut from the face that lies up.
    pub(super) before: Vec<usize>,
    /// And from the face that lies down now.
    pub(super) below: Vec<usize>,
    /// The notch on the key; none where the strips lie against the end stop.
    pub(super) on_key: Option<NotchOnKey>,
    /// Number of this program for its clamping, from 1.
    pub(super) part: usize,
    /// How many there are for it.
    pub(super) parts: usize,
}

/// The notch that registers the strips where they do not lie against the end stop.
#[derive(Debug, Clone, Copy)]
pub(super) struct NotchOnKey {
    /// Index of the bundle's notch.
    pub(super) notch: usize,
    /// Over how many keys it hangs on the end stop.
    pub(super) hops: usize,
}

impl<'a> ClampedBundle<'a> {
    /// All notches of a clamping in one go, against the end stop, after the clampings `earlier`;
    /// `strips` lie side by side, each `thickness` across.
    pub(super) fn whole(
        shared: &'a SharedPart<'a>,
        clamping: &'a Clamping,
        earlier: &[Clamping],
        strips: usize,
        thickness: f64,
    ) -> Self {
        let bundle = shared.bundle;
        let mut before = Vec::new();
        let mut below = Vec::new();
        for done in earlier {
            let cut = if done.face == clamping.face {
                &mut before
            } else {
                &mut below
            };
            cut.extend_from_slice(&done.notches);
        }
        ClampedBundle {
            bundle,
            sharers: &shared.sharers,
            clamping,
            bed: StripBed {
                strips,
                thickness,
                length: bundle.length,
                angle: program_angle(clamping.face, clamping.angle),
                datum: 0.0,
            },
            cut: clamping.notches.clone(),
            before,
            below,
            on_key: None,
            part: 1,
            parts: 1,
        }
    }

    /// One part of it: part `number` (from 1) of `count`, with the notch on the key at `key`, from
    /// the end stop.
    pub(super) fn part(
        &self,
        part: &SetUpPart,
        number: usize,
        count: usize,
        key: Option<f64>,
    ) -> Self {
        let all = &self.clamping.notches;
        let (from, to) = part.notches;
        let on_key = part.on_key.and_then(|place| all.get(place).copied());
        let mut held = self.clone();
        held.cut = all.get(from..to).unwrap_or_default().to_vec();
        held.before.extend(all.get(..from).unwrap_or_default());
        held.on_key = on_key.map(|notch| NotchOnKey {
            notch,
            hops: part.hops,
        });
        held.part = number;
        held.parts = count;
        let lies = on_key.and_then(|notch| self.bundle.notches.get(notch));
        if let (Some(notch), Some(key)) = (lies, key) {
            held.bed.datum = key - self.at_key(notch);
        }
        held
    }

    /// How many strips there are of all that share.
    pub(super) fn count(&self) -> usize {
        strips_of(self.sharers)
    }

    /// The notches that are cut.
    pub(super) fn notches(&self) -> impl Iterator<Item = &'a Notch> {
        let bundle = self.bundle;
        self.cut
            .iter()
            .filter_map(|index| bundle.notches.get(*index))
    }

    /// Width of a notch between its walls.
    pub(super) fn square_width(&self, notch: &Notch) -> f64 {
        notch.width * self.bed.angle.sin()
    }

    /// Greatest depth.
    pub(super) fn depth(&self) -> f64 {
        self.notches().map(|notch| notch.depth).fold(0.0, f64::max)
    }

    /// Where the notches that are cut lie in the program's frame, on the front strip's centre line.
    pub(super) fn figures(&self) -> Vec<NotchFigures> {
        let mut all = Vec::new();
        for (index, notch) in self.cut.iter().zip(self.notches()) {
            let centre = self.bed.datum + notch.centre;
            all.push(NotchFigures {
                index: index + 1,
                centre_mm: centre,
                near_edge_mm: centre - notch.width / 2.0,
                far_edge_mm: centre + notch.width / 2.0,
                width_mm: notch.width,
                drawn_width_mm: None,
                depth_mm: notch.depth,
                face: notch.face,
                angle: self.bed.angle,
            });
        }
        all
    }

    /// Where a notch's middle meets the bundle's front edge, from the front strip's datum end: the
    /// key is measured there.
    pub(super) fn at_key(&self, notch: &Notch) -> f64 {
        self.bed.slot_x(notch.centre, 0.0, 0.0) - self.bed.datum
    }
}
