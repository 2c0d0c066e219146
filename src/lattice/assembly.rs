//! In which order strips are laid on each other.

use super::laps::Face;
use super::strip::{Strip, StripId};
use std::collections::HashMap;

/// Strips in the order in which they can be laid, the back face down: in every step those whose
/// notches are open toward all that lies already, and toward all that comes later.
///
/// It follows from the notches alone: a strip that is open toward the back takes its mate from
/// behind, so that mate lies first.
///
/// # Errors
/// Strips that wait for each other in a ring: straight strips woven like that cannot be put
/// together.
pub fn assembly(strips: &[Strip]) -> Result<Vec<Vec<StripId>>, Vec<StripId>> {
    let mut waits: HashMap<StripId, usize> = HashMap::new();
    let mut frees: HashMap<StripId, Vec<StripId>> = HashMap::new();
    for strip in strips {
        let behind = strip
            .notches
            .iter()
            .filter(|notch| notch.face == Face::Back);
        let mut count = 0;
        for notch in behind {
            let Some(mate) = notch.mate.strip() else {
                continue;
            };
            frees.entry(mate).or_default().push(strip.id);
            count += 1;
        }
        waits.insert(strip.id, count);
    }
    let mut ready: Vec<StripId> = strips.iter().map(|strip| strip.id).collect();
    ready.retain(|id| waits.get(id) == Some(&0));
    let mut steps: Vec<Vec<StripId>> = Vec::new();
    while !ready.is_empty() {
        let mut next = Vec::new();
        for laid in &ready {
            waits.remove(laid);
            for strip in frees.get(laid).into_iter().flatten() {
                if let Some(count) = waits.get_mut(strip) {
                    *count -= 1;
                    if *count == 0 {
                        next.push(*strip);
                    }
                }
            }
        }
        next.sort_unstable();
        steps.push(std::mem::replace(&mut ready, next));
    }
    if waits.is_empty() {
        Ok(steps)
    } else {
        let mut ring: Vec<StripId> = waits.into_keys().collect();
        ring.sort_unstable();
        Err(ring)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::lattice::strip::{Notch, NotchMate};

    /// Two uprights and two cross strips; `front[i][j]` where upright i lies before cross strip j.
    fn woven(front: [[bool; 2]; 2]) -> Vec<Strip> {
        let strip = |family: usize, at: usize| {
            let notch = |mate: usize| {
                let in_front = if family == 0 {
                    front[at][mate]
                } else {
                    !front[mate][at]
                };
                Notch {
                    mate: NotchMate::Strip(StripId {
                        family: 1 - family,
                        number: mate + 1,
                    }),
                    centre: 20.0 + 50.0 * mate as f64,
                    width: 3.0,
                    depth: 6.0,
                    face: if in_front { Face::Back } else { Face::Front },
                    angle: std::f64::consts::FRAC_PI_2,
                }
            };
            Strip {
                id: StripId {
                    family,
                    number: at + 1,
                },
                start: Point::default(),
                end: Point::default(),
                length: 90.0,
                place: 0,
                notches: vec![notch(0), notch(1)],
            }
        };
        vec![strip(0, 0), strip(0, 1), strip(1, 0), strip(1, 1)]
    }

    #[test]
    fn over_and_under_in_turn_cannot_be_put_together() {
        // Every strip alternates along its length.
        let ring = assembly(&woven([[true, false], [false, true]])).unwrap_err();
        assert_eq!(ring.len(), 4);
    }

    #[test]
    fn what_lies_behind_is_laid_first() {
        let id = |family, number| StripId { family, number };
        let plain = assembly(&woven([[true; 2]; 2])).unwrap();
        assert_eq!(plain, [vec![id(1, 1), id(1, 2)], vec![id(0, 1), id(0, 2)]]);
        let turns = assembly(&woven([[true; 2], [false; 2]])).unwrap();
        assert_eq!(
            turns,
            [vec![id(0, 2)], vec![id(1, 1), id(1, 2)], vec![id(0, 1)]]
        );
    }
}
