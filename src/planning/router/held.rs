//! A bundle as one program finds it: which face up, stepped how, what was cut before.

use super::bed::{Bed, program_angle};
use super::split::Part;
use crate::instructions::sled::NotchFigures;
use crate::lattice::{Bundle, Clamping, Notch, Turn};

/// A bundle that shares its programs with others.
#[derive(Debug, Clone)]
pub(super) struct Sharer<'a> {
    pub(super) bundle: &'a Bundle,
    /// Its number, from 1.
    pub(super) number: usize,
    /// How its strips lie beside those of the first one.
    pub(super) turn: Turn,
}

/// Bundles that are the same part, together: their strips lie in one block, each turned so that the
/// same cuts are right for all. In the order of the first of each.
pub(super) fn sharing(bundles: &[Bundle]) -> Vec<Vec<Sharer<'_>>> {
    let mut parts: Vec<Vec<Sharer<'_>>> = Vec::new();
    for (number, bundle) in (1..).zip(bundles) {
        let found = parts.iter_mut().find_map(|part| {
            let turn = bundle.same_part(part.first()?.bundle)?;
            Some((part, turn))
        });
        let own = |turn| Sharer {
            bundle,
            number,
            turn,
        };
        match found {
            Some((part, turn)) => part.push(own(turn)),
            None => parts.push(vec![own(Turn::AsIs)]),
        }
    }
    parts
}

/// How many strips there are of all that share.
pub(super) fn count(sharers: &[Sharer<'_>]) -> usize {
    sharers.iter().map(|one| one.bundle.strips.len()).sum()
}

/// A bundle in the fixture, those that share its programs, and the notches that one program cuts.
#[derive(Debug, Clone)]
pub(super) struct Held<'a> {
    /// The first of those that share; what is said of notches is said of its.
    pub(super) bundle: &'a Bundle,
    /// All of them, itself the first.
    pub(super) sharers: &'a [Sharer<'a>],
    pub(super) clamping: &'a Clamping,
    pub(super) bed: Bed,
    /// Indices of the bundle's notches that are cut.
    pub(super) cut: Vec<usize>,
    /// Indices of those that an earlier program has cut from the face that lies up.
    pub(super) before: Vec<usize>,
    /// And from the face that lies down now.
    pub(super) below: Vec<usize>,
    /// The notch of this bundle on the key, and over how many keys it hangs on the end stop.
    pub(super) on_key: Option<(usize, usize)>,
    /// Number of this program for its clamping, from 1, and of how many.
    pub(super) part: (usize, usize),
}

impl<'a> Held<'a> {
    /// All notches of a clamping in one go, against the end stop, after the clampings `earlier`.
    pub(super) fn whole(
        (bundle, sharers): (&'a Bundle, &'a [Sharer<'a>]),
        clamping: &'a Clamping,
        earlier: &[Clamping],
        (strips, thickness): (usize, f64),
    ) -> Self {
        let of = |same: bool| {
            let clampings = earlier
                .iter()
                .filter(|before| (before.face == clamping.face) == same);
            clampings
                .flat_map(|before| before.notches.clone())
                .collect()
        };
        Held {
            bundle,
            sharers,
            clamping,
            bed: Bed {
                strips,
                thickness,
                length: bundle.length,
                angle: program_angle(clamping.face, clamping.angle),
                datum: 0.0,
            },
            cut: clamping.notches.clone(),
            before: of(true),
            below: of(false),
            on_key: None,
            part: (1, 1),
        }
    }

    /// One part of it: part `number` (from 1) of `count`, with the notch on the key at `key`, from
    /// the end stop.
    pub(super) fn part(&self, part: &Part, number: usize, count: usize, key: Option<f64>) -> Self {
        let all = &self.clamping.notches;
        let (from, to) = part.notches;
        let on_key = part.on_key.and_then(|place| all.get(place).copied());
        let mut held = self.clone();
        held.cut = all.get(from..to).unwrap_or_default().to_vec();
        held.before.extend(all.get(..from).unwrap_or_default());
        held.on_key = on_key.map(|notch| (notch, part.hops));
        held.part = (number, count);
        let lies = on_key.and_then(|notch| self.bundle.notches.get(notch));
        if let (Some(notch), Some(key)) = (lies, key) {
            held.bed.datum = key - self.at_key(notch);
        }
        held
    }

    /// How many strips there are of all that share.
    pub(super) fn count(&self) -> usize {
        count(self.sharers)
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
        let figures = |(index, notch): (&usize, &'a Notch)| {
            let centre = self.bed.datum + notch.centre;
            NotchFigures {
                index: index + 1,
                centre_mm: centre,
                near_edge_mm: centre - notch.width / 2.0,
                far_edge_mm: centre + notch.width / 2.0,
                width_mm: notch.width,
                drawn_width_mm: None,
                depth_mm: notch.depth,
                face: notch.face,
                angle: self.bed.angle,
            }
        };
        self.cut.iter().zip(self.notches()).map(figures).collect()
    }

    /// Where a notch's middle meets the bundle's front edge, from the front strip's datum end: the
    /// key is measured there.
    pub(super) fn at_key(&self, notch: &Notch) -> f64 {
        self.bed.slot_x(notch.centre, 0.0, 0.0) - self.bed.datum
    }
}
