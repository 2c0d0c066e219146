//! Mitres on the end of a stick: both facets with one setting of the fence, the stick rolled over
//! between them, then the piece is cut off by hand and its other end pared.

use super::kinds::{MadeKind, made_kinds};
use super::order::{HAND_KERF_MM, MitreOrder, Planned, THROUGH_MM};
use super::settings::{MitreSaw, Settings};
use crate::geometry::tolerance::DIRECTION;
use crate::infill::{End, FacetSide};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::mitres::{EndLie, EndWork, LeftBecause, StickFigures};
use crate::planning::sled::slant::Slant;
use float_cmp::ApproxEq;
use std::f64::consts::FRAC_PI_2;

/// Taken off a stick's end at the point, at the most, so that the mitres clean a rough end up;
/// common practice, no source, mm.
const CLEANED_MM: f64 = 1.0;

/// Less than this does not clean it up, mm.
const LEAST_CLEANED_MM: f64 = 0.3;

/// Makes one end of every kind of piece on sticks' ends, as far as the sled reaches.
pub(super) fn stick_ends(order: &MitreOrder<'_>, saw: MitreSaw<'_>) -> Planned {
    let mut planned = Planned::default();
    let mut settings = Settings::new(saw);
    for kind in made_kinds(order.filled) {
        if let Some(left) = kind.all_left(order.filled) {
            planned.left.push(left);
            continue;
        }
        let reached = kind.reached(saw.sled, saw.mitres);
        planned.left.extend(kind.out_of_reach(saw.sled, saw.mitres));
        let Some(end) = blunter(&kind, reached) else {
            continue;
        };
        let here = [end == 0, end == 1];
        let other = [reached[0] && !here[0], reached[1] && !here[1]];
        let work = OnEnd {
            order,
            saw,
            kind,
            end,
        };
        match work.made(planned.sticks.len() + 1) {
            Ok((sticks, cut)) => {
                let at_once = sticks.sticks_per_block;
                settings.add_end(cut.slant, work.depth(), (cut.work, at_once));
                planned.facets_cut += kind.facets_of(here) * kind.made;
                planned.sticks.push(sticks);
                if other != [false, false] {
                    planned.left.push(kind.left(other, LeftBecause::OtherEnd));
                }
            }
            Err(why) => planned.left.push(kind.left(reached, why)),
        }
    }
    planned.settings = settings.in_order(order.stands());
    planned
}

/// The blunter of the ends that are reached: it will stand on the guide's stop.
fn blunter(kind: &MadeKind<'_>, reached: [bool; 2]) -> Option<usize> {
    let [a, b] = kind.kind.figures.ends().map(opening);
    match reached {
        [false, false] => None,
        [true, false] => Some(0),
        [false, true] => Some(1),
        [true, true] => Some(usize::from(b > a)),
    }
}

/// How blunt an end is.
fn opening(end: &End) -> f64 {
    end.facets.iter().map(|facet| facet.jig_angle).sum()
}

/// One kind of piece on sticks' ends.
struct OnEnd<'a> {
    order: &'a MitreOrder<'a>,
    saw: MitreSaw<'a>,
    kind: MadeKind<'a>,
    /// 0 for the first.
    end: usize,
}

struct EndCut {
    slant: Slant,
    work: EndWork,
}

impl OnEnd<'_> {
    fn depth(&self) -> f64 {
        self.order.depth() + THROUGH_MM
    }

    fn made(&self, number: usize) -> Result<(StickFigures, EndCut), LeftBecause> {
        let [first, second] = self.kind.kind.figures.ends();
        let end = if self.end == 0 { first } else { second };
        let facets = end.facets.as_slice();
        let angle = facets.first().map_or(FRAC_PI_2, |facet| facet.jig_angle);
        let alike = |angle_of: f64| angle_of.approx_eq(angle, DIRECTION);
        if angle > FRAC_PI_2 + DIRECTION.epsilon
            || !facets.iter().all(|facet| alike(facet.jig_angle))
        {
            return Err(LeftBecause::TwoAngles);
        }
        let slant = Slant(angle);
        let height = self.depth() + self.saw.sled.height_correction;
        let at_once = self.saw.sticks_at_once(slant, height);
        // Square to the axis, the wood on the fence's side of the point.
        let half = self.saw.thickness / 2.0;
        let ridge = end.ridge_offset.unwrap_or(match facets.first() {
            Some(facet) if facet.side == FacetSide::Left => -half,
            _ => half,
        });
        let sides = facets.iter().map(|facet| facet.side);
        let heights = sides.map(|side| (side, self.fence_to_ridge(side, ridge)));
        let heights: Vec<(FacetSide, f64)> = heights.collect();
        let taken = self.taken(slant, &heights);
        let mut at_fence = taken.0;
        let mut lies = Vec::new();
        for (side, height) in &heights {
            let back = height * slant.lean();
            lies.push(EndLie {
                on_fence: *side,
                stop_mm: at_fence + back,
            });
            at_fence = at_fence.min(self.after_first(slant, *height));
        }
        let letter = if self.end == 0 {
            EndLetter::A
        } else {
            EndLetter::B
        };
        let length = self.kind.kind.figures.length;
        let work = EndWork {
            sticks: number,
            end: letter,
            lies,
            cut_off_mm: length + self.order.allowance() / 2.0,
            taken_mm: taken.0,
            off_cut: taken.1,
        };
        let each = taken.0 + work.cut_off_mm + HAND_KERF_MM;
        let sticks = self.sticks(number, each, at_once, letter);
        Ok((sticks.ok_or(LeftBecause::NoRoom)?, EndCut { slant, work }))
    }

    /// From the fence to the ridge where a side lies on it.
    fn fence_to_ridge(&self, side: FacetSide, ridge: f64) -> f64 {
        let half = self.saw.thickness / 2.0;
        match side {
            FacetSide::Left => half - ridge,
            FacetSide::Right => half + ridge,
            FacetSide::Across => 0.0,
        }
    }

    /// From the point to what stands out farthest on the other side of a stick's end, along it, once a
    /// facet is cut whose ridge lies `height` from the fence: where the cut leaves the stick. Rolled
    /// over, the stick comes to the stop with that, unless its square end stands out less.
    fn after_first(&self, slant: Slant, height: f64) -> f64 {
        (self.saw.thickness - height) * slant.lean()
    }

    /// What is taken off at the point, and whether a piece of wood comes off with it: none where the
    /// kerf reaches the end of the stick all over the part that it frees,
    /// `r <= (k - h cos J) / sin J`.
    fn taken(&self, slant: Slant, heights: &[(FacetSide, f64)]) -> (f64, bool) {
        let kerf = self.saw.sled.blade.kerf;
        let most = heights
            .iter()
            .map(|(_, height)| *height)
            .fold(0.0, f64::max);
        let all_dust = slant.along(kerf) - most * slant.lean();
        if all_dust >= LEAST_CLEANED_MM {
            (all_dust.min(CLEANED_MM), false)
        } else {
            (CLEANED_MM, true)
        }
    }

    /// A stick is used until it is as short as the sled still holds.
    fn sticks(
        &self,
        number: usize,
        each: f64,
        at_once: usize,
        end: EndLetter,
    ) -> Option<StickFigures> {
        let made = self.kind.made;
        let longest = self
            .saw
            .mitres
            .sticks
            .longest
            .min(self.saw.sled.longest_strip);
        let held = self.saw.sled.shortest_strip;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and not below 0
        let most = ((longest - held) / each + 1e-9).floor().max(0.0) as usize;
        if most == 0 || at_once == 0 {
            return None;
        }
        let count = made.div_ceil(most);
        let per_stick = made.div_ceil(count);
        let blocks = count.div_ceil(at_once);
        Some(StickFigures {
            number,
            piece: self.kind.number,
            name: self.kind.kind.name.clone(),
            needed: made,
            count,
            pieces_per_stick: per_stick,
            length_mm: held + per_stick as f64 * each,
            blocks,
            sticks_per_block: count.div_ceil(blocks),
            mirrored: false,
            between_rough_ends_mm: None,
            rough_end_from_point_mm: None,
            cut_ends: vec![end],
            pieces: Vec::new(),
        })
    }
}
