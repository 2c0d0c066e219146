//! Bundles: identical strips, held together on edge and notched in one go.

use super::design::{Bundling, StripSection};
use super::laps::Face;
use super::strip::{Notch, Strip, StripId};
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use float_cmp::ApproxEq;
use serde::Serialize;
use std::f64::consts::PI;

/// Strips of one family that are notched as the same part.
#[derive(Debug, Clone, PartialEq)]
pub struct Bundle {
    /// Index of the family.
    pub family: usize,
    /// Its strips, trimmed ones last.
    pub strips: Vec<StripId>,
    /// Those of them that lie in the panel turned end for end.
    pub turned: Vec<StripId>,
    /// Those of them that are notched longer than they are needed.
    pub trims: Vec<Trim>,
    /// Length of each as it is notched, mm.
    pub length: f64,
    /// In order from the datum end; the mates are those of the first strip.
    pub notches: Vec<Notch>,
}

/// A shorter strip that rides in a longer one's bundle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Which one.
    pub strip: StripId,
    /// What is kept of it, from the datum end as it was notched, mm.
    pub kept: [f64; 2],
}

/// Notches that are cut in one clamping: they enter the same face at the same angle.
#[derive(Debug, Clone, PartialEq)]
pub struct Clamping {
    /// The face.
    pub face: Face,
    /// From the strip's direction to the slot's, counter-clockwise seen from the front, radians.
    pub angle: f64,
    /// Indices of the notches, from 0, in order from the datum end.
    pub notches: Vec<usize>,
}

/// How one strip is laid to be the same part as another. Serialises as its [name](Turn::name).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Turn {
    /// As it is.
    #[serde(rename = "as it is")]
    AsIs,
    /// End for end, the same face up: the positions are reckoned from the other end, and a slot
    /// keeps its slant.
    #[serde(rename = "end for end with the same face up")]
    EndForEnd,
    /// Over its long axis: the notches enter the other face, and slant the other way.
    #[serde(rename = "over along its length")]
    Over,
    /// Both.
    #[serde(rename = "over and end for end")]
    OverEndForEnd,
}

impl Turn {
    /// How a strip is turned, after "turn it".
    pub fn name(self) -> &'static str {
        match self {
            Turn::AsIs => "as it is",
            Turn::EndForEnd => "end for end with the same face up",
            Turn::Over => "over along its length",
            Turn::OverEndForEnd => "over and end for end",
        }
    }

    /// Whether its notches enter the other face then.
    pub fn is_over(self) -> bool {
        matches!(self, Turn::Over | Turn::OverEndForEnd)
    }

    /// Whether its datum end lies where the other's far end does then.
    pub fn swaps_ends(self) -> bool {
        matches!(self, Turn::EndForEnd | Turn::OverEndForEnd)
    }
}

impl Bundle {
    /// The face from which the notches enter, where it is the same for all of them.
    pub fn face(&self) -> Option<Face> {
        let first = self.notches.first()?.face;
        (self.notches.iter())
            .all(|notch| notch.face == first)
            .then_some(first)
    }

    /// The clampings that its notches take, in working order: the face with more notches first,
    /// of equals the back; on a face by growing angle.
    pub fn clampings(&self) -> Vec<Clamping> {
        let mut found: Vec<Clamping> = Vec::new();
        for (index, notch) in self.notches.iter().enumerate() {
            let same = |clamping: &&mut Clamping| {
                clamping.face == notch.face && same_angle(clamping.angle, notch.angle)
            };
            match found.iter_mut().find(same) {
                Some(clamping) => clamping.notches.push(index),
                None => found.push(Clamping {
                    face: notch.face,
                    angle: notch.angle,
                    notches: vec![index],
                }),
            }
        }
        let on = |face: Face| {
            self.notches
                .iter()
                .filter(|notch| notch.face == face)
                .count()
        };
        let first = if on(Face::Front) > on(Face::Back) {
            Face::Front
        } else {
            Face::Back
        };
        found.sort_by(|a, b| {
            let later = |clamping: &Clamping| clamping.face != first;
            later(a).cmp(&later(b)).then(a.angle.total_cmp(&b.angle))
        });
        found
    }

    /// How this bundle's strips have to be turned to be the same part as another's, if they can.
    pub fn same_part(&self, other: &Bundle) -> Option<Turn> {
        let wanted = StripPart::of(other.length, &other.notches);
        let own = StripPart::of(self.length, &self.notches);
        [Turn::AsIs, Turn::Over, Turn::EndForEnd, Turn::OverEndForEnd]
            .into_iter()
            .find(|turn| own.turned(*turn).is(&wanted))
    }

    /// Turned so that it is the same part as another: for each of that one's notches, in its order,
    /// the index of the own notch that lies there.
    pub fn notch_for_notch(&self, other: &Bundle, turn: Turn) -> Vec<usize> {
        let own = StripPart::of(self.length, &self.notches).turned(turn);
        let wanted = StripPart::of(other.length, &other.notches);
        let mut pairs: Vec<(usize, usize)> = (wanted.slots.iter().zip(&own.slots))
            .map(|(theirs, own)| (theirs.index, own.index))
            .collect();
        pairs.sort_unstable();
        pairs.into_iter().map(|(_, own)| own).collect()
    }

    /// Wood that is cut off strips that ride along, mm over all of them.
    pub fn trimmed_off(&self) -> f64 {
        let off = |trim: &Trim| self.length - (trim.kept[1] - trim.kept[0]);
        self.trims.iter().map(off).sum()
    }
}

/// A strip seen as a part, apart from who its mates are.
struct StripPart {
    length: f64,
    slots: Vec<PartSlot>,
}

#[derive(Clone, Copy)]
struct PartSlot {
    /// Of the notch.
    index: usize,
    centre: f64,
    width: f64,
    depth: f64,
    face: Face,
    angle: f64,
}

impl PartSlot {
    fn is(&self, other: &PartSlot) -> bool {
        same(self.centre, other.centre)
            && same(self.width, other.width)
            && same(self.depth, other.depth)
            && self.face == other.face
            && same_angle(self.angle, other.angle)
    }
}

impl StripPart {
    fn of(length: f64, notches: &[Notch]) -> StripPart {
        let slot = |(index, notch): (usize, &Notch)| PartSlot {
            index,
            centre: notch.centre,
            width: notch.width,
            depth: notch.depth,
            face: notch.face,
            angle: notch.angle,
        };
        let slots = notches.iter().enumerate().map(slot).collect();
        StripPart { length, slots }.sorted()
    }

    /// Slots at one place in an order that does not depend on their mates.
    fn sorted(mut self) -> StripPart {
        self.slots.sort_by(|a, b| a.centre.total_cmp(&b.centre));
        for node in self.slots.chunk_by_mut(|a, b| same(a.centre, b.centre)) {
            node.sort_by(|a, b| a.face.cmp(&b.face).then(a.angle.total_cmp(&b.angle)));
        }
        self
    }

    fn turned(&self, turn: Turn) -> StripPart {
        let ends = turn.swaps_ends();
        let over = turn.is_over();
        let slot = |slot: &PartSlot| PartSlot {
            centre: if ends {
                self.length - slot.centre
            } else {
                slot.centre
            },
            face: if over {
                slot.face.opposite()
            } else {
                slot.face
            },
            angle: if over { PI - slot.angle } else { slot.angle },
            ..*slot
        };
        let slots = self.slots.iter().map(slot).collect();
        StripPart {
            length: self.length,
            slots,
        }
        .sorted()
    }

    fn is(&self, other: &StripPart) -> bool {
        same(self.length, other.length)
            && self.slots.len() == other.slots.len()
            && self.slots.iter().zip(&other.slots).all(|(a, b)| a.is(b))
    }

    /// Where in a longer part this one can be cut out of, from that one's datum end: its slots
    /// are a run of the longer one's, and no other slot of the longer one touches it.
    fn within(&self, longer: &StripPart, thickness: f64) -> Option<f64> {
        let first = self.slots.first()?;
        let reach = |slot: &PartSlot| slot.width / 2.0 + thickness / 2.0 / slot.angle.tan().abs();
        let longest = longer.slots.iter().map(reach).fold(0.0, f64::max);
        let fits = |start: &f64| {
            let end = start + self.length;
            if *start <= -SAME_POSITION_MM || end >= longer.length + SAME_POSITION_MM {
                return false;
            }
            // Slots are in order: those before the first that can touch need no look.
            let begin = start - SAME_POSITION_MM - longest;
            let before = longer.slots.partition_point(|slot| slot.centre < begin);
            let mut own = self.slots.iter();
            let overlapping = longer.slots.iter().skip(before).filter(|slot| {
                slot.centre + reach(slot) > start - SAME_POSITION_MM
                    && slot.centre - reach(slot) < end + SAME_POSITION_MM
            });
            let mut run = overlapping.map(|slot| PartSlot {
                centre: slot.centre - start,
                ..*slot
            });
            run.all(|slot| own.next().is_some_and(|own| slot.is(own))) && own.next().is_none()
        };
        let mut starts = longer.slots.iter().map(|slot| slot.centre - first.centre);
        starts.find(fits)
    }
}

/// Groups strips into bundles, in the order of their first strip; where the section asks for it,
/// shorter ones ride with longer ones.
pub(super) fn bundles(strips: &[Strip], section: &StripSection) -> Vec<Bundle> {
    let equal = equal_bundles(strips);
    match section.joinery.bundling {
        Bundling::Equal => equal,
        Bundling::Runs => ride(equal, section.thickness),
    }
}

fn equal_bundles(strips: &[Strip]) -> Vec<Bundle> {
    let mut bundles: Vec<(StripPart, Bundle)> = Vec::new();
    for strip in strips {
        let part = StripPart::of(strip.length, &strip.notches);
        let turned = part.turned(Turn::EndForEnd);
        let mut of_family = bundles
            .iter_mut()
            .filter(|(_, bundle)| bundle.family == strip.id.family);
        let found = of_family.find(|(first, _)| part.is(first) || turned.is(first));
        if let Some((first, bundle)) = found {
            bundle.strips.push(strip.id);
            if !part.is(first) {
                bundle.turned.push(strip.id);
            }
        } else {
            let bundle = Bundle {
                family: strip.id.family,
                strips: vec![strip.id],
                turned: Vec::new(),
                trims: Vec::new(),
                length: strip.length,
                notches: strip.notches.clone(),
            };
            bundles.push((part, bundle));
        }
    }
    bundles.into_iter().map(|(_, bundle)| bundle).collect()
}

/// Lets bundles ride in longer ones of their family.
fn ride(mut equal: Vec<Bundle>, thickness: f64) -> Vec<Bundle> {
    let place = |bundle: &Bundle| bundle.strips.first().copied();
    equal.sort_by(|a, b| b.length.total_cmp(&a.length).then(place(a).cmp(&place(b))));
    let mut kept: Vec<(StripPart, Bundle)> = Vec::new();
    for bundle in equal {
        let part = StripPart::of(bundle.length, &bundle.notches);
        let turned = part.turned(Turn::EndForEnd);
        let mut of_family = kept
            .iter_mut()
            .filter(|(_, longer)| longer.family == bundle.family);
        let found = of_family.find_map(|(longer, carrier)| {
            let as_is = part.within(longer, thickness).map(|start| (start, false));
            let found = as_is.or_else(|| Some((turned.within(longer, thickness)?, true)));
            found.map(|(start, turn)| (start, turn, carrier))
        });
        let Some((start, turn, carrier)) = found else {
            kept.push((part, bundle));
            continue;
        };
        for strip in &bundle.strips {
            // A strip that lay turned in its own bundle lies as the bundle does not.
            if turn != bundle.turned.contains(strip) {
                carrier.turned.push(*strip);
            }
            carrier.strips.push(*strip);
            let kept = [start, start + bundle.length];
            carrier.trims.push(Trim {
                strip: *strip,
                kept,
            });
        }
    }
    let mut bundles: Vec<Bundle> = kept.into_iter().map(|(_, bundle)| bundle).collect();
    bundles.sort_by_key(place);
    bundles
}

/// What riding along saves and costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Riding {
    /// Bundles of equal strips.
    pub apart: usize,
    /// Bundles where shorter strips ride with longer ones.
    pub together: usize,
    /// Wood cut off those that ride, mm over all of them.
    pub wood: f64,
}

/// What riding along saves and costs for these strips.
pub(super) fn riding(strips: &[Strip], thickness: f64) -> Riding {
    let equal = equal_bundles(strips);
    let apart = equal.len();
    let together = ride(equal, thickness);
    Riding {
        apart,
        together: together.len(),
        wood: together.iter().map(Bundle::trimmed_off).sum(),
    }
}

fn same(a: f64, b: f64) -> bool {
    a.approx_eq(b, POSITION)
}

fn same_angle(a: f64, b: f64) -> bool {
    a.approx_eq(b, DIRECTION)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::strip::NotchMate;

    fn strip(number: usize, length: f64, centres: &[f64], angle: f64, face: Face) -> Strip {
        let notch = |centre: &f64| Notch {
            mate: NotchMate::Strip(StripId {
                family: 1,
                number: 1,
            }),
            centre: *centre,
            width: 3.0,
            depth: 6.0,
            face,
            angle,
        };
        Strip {
            id: StripId { family: 0, number },
            start: crate::geometry::Point::default(),
            end: crate::geometry::Point::default(),
            length,
            place: 0,
            notches: centres.iter().map(notch).collect(),
        }
    }

    #[test]
    fn a_strip_turned_end_for_end_is_the_same_part() {
        let strips = [
            strip(1, 100.0, &[20.0, 50.0], 1.0, Face::Back),
            strip(2, 100.0, &[50.0, 80.0], 1.0, Face::Back),
            strip(3, 100.0, &[50.0, 80.0], PI - 1.0, Face::Back),
        ];
        let bundles = equal_bundles(&strips);
        assert_eq!(bundles.len(), 2);
        assert_eq!(bundles[0].turned, [strips[1].id]);
        // Turned over it is the other hand, but then its notches enter the other face.
        assert_eq!(bundles[1].same_part(&bundles[0]), None);
        let over = equal_bundles(&[strip(1, 100.0, &[50.0, 80.0], PI - 1.0, Face::Front)]);
        assert_eq!(over[0].same_part(&bundles[0]), Some(Turn::OverEndForEnd));
        let pairs = over[0].notch_for_notch(&bundles[0], Turn::OverEndForEnd);
        assert_eq!(pairs, [1, 0]);
    }

    #[test]
    fn notches_at_one_place_are_told_apart_when_a_strip_is_turned() {
        let mut node = strip(1, 100.0, &[30.0, 30.0, 60.0], 1.0, Face::Back);
        node.notches[1].angle = 2.0;
        let mut over = strip(1, 100.0, &[40.0, 70.0, 70.0], PI - 1.0, Face::Front);
        over.notches[1].angle = PI - 2.0;
        let [node, over] = [node, over].map(|strip| equal_bundles(&[strip]).remove(0));
        assert_eq!(over.same_part(&node), Some(Turn::OverEndForEnd));
        // The slot at 1 rad is the last one's counterpart, that at 2 rad the second one's.
        let pairs = over.notch_for_notch(&node, Turn::OverEndForEnd);
        assert_eq!(pairs, [2, 1, 0]);
    }

    #[test]
    fn runs_ride_and_are_trimmed() {
        let strips = [
            strip(1, 140.0, &[20.0, 70.0, 120.0], 1.0, Face::Back),
            strip(
                2,
                240.0,
                &[20.0, 70.0, 120.0, 170.0, 220.0],
                1.0,
                Face::Back,
            ),
            strip(3, 140.0, &[20.0, 60.0, 120.0], 1.0, Face::Back),
        ];
        let bundles = ride(equal_bundles(&strips), 3.0);
        assert_eq!(bundles.len(), 2);
        assert_eq!(bundles[0].strips, [strips[1].id, strips[0].id]);
        assert_eq!(
            bundles[0].trims,
            [Trim {
                strip: strips[0].id,
                kept: [0.0, 140.0]
            }]
        );
        assert_eq!(bundles[0].trimmed_off(), 100.0);
        // A notch in the overhang of the one that rides keeps it from riding.
        let long = strip(
            1,
            240.0,
            &[20.0, 70.0, 120.0, 135.0, 220.0],
            1.0,
            Face::Back,
        );
        let apart = ride(
            equal_bundles(&[long, strip(2, 140.0, &[20.0, 70.0, 120.0], 1.0, Face::Back)]),
            3.0,
        );
        assert_eq!(apart.len(), 2);
    }

    #[test]
    fn clampings_go_by_face_and_angle() {
        let mut both = strip(1, 140.0, &[20.0, 70.0, 120.0], 1.0, Face::Back);
        both.notches[1].angle = 2.0;
        both.notches[2].face = Face::Front;
        let bundle = &equal_bundles(&[both])[0];
        let found: Vec<_> = bundle
            .clampings()
            .into_iter()
            .map(|c| (c.face, c.notches))
            .collect();
        assert_eq!(
            found,
            [
                (Face::Back, vec![0]),
                (Face::Back, vec![1]),
                (Face::Front, vec![2])
            ]
        );
    }
}
