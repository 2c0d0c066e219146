//! Rows on long sticks at a sled: laps first, then the mitres, a skin holding all together.

use super::kinds::{MadeKind, made_kinds};
use super::lying::Lying;
use super::order::{HAND_KERF_MM, MitreOrder, Planned};
use super::row::{Row, RowCut, RowOrder};
use super::settings::{MitreSaw, Settings};
use crate::geometry::tolerance::DIRECTION;
use crate::infill::PieceLap;
use crate::instructions::end_letter::EndLetter;
use crate::instructions::mitres::{
    LeftBecause, MitreCut, MitreStop, MitreWork, PieceInStick, StickFigures,
};
use crate::instructions::saw::Hand;
use crate::lattice::Face;
use crate::planning::sled::passes::{MOST_PASSES, notch_passes};
use crate::planning::sled::slant::Slant;
use float_cmp::ApproxEq;

/// Puts every kind of piece in rows, as far as the sled reaches.
pub(super) fn rows(order: &MitreOrder<'_>, saw: MitreSaw<'_>) -> Planned {
    let mut planned = Planned::default();
    let mut settings = Settings::new(saw);
    for kind in made_kinds(order.filled) {
        if let Some(left) = kind.all_left(order.filled) {
            planned.left.push(left);
            continue;
        }
        let reached = kind.reached(saw.sled, saw.mitres);
        planned.left.extend(kind.out_of_reach(saw.sled, saw.mitres));
        if reached == [false, false] {
            continue;
        }
        if let Some(why) = kind.lap_out_of_reach(saw.sled, saw.mitres) {
            planned.left.push(kind.left(reached, why));
            continue;
        }
        let work = RowWork {
            order,
            saw,
            kind,
            cut_ends: reached,
        };
        match work.sticks(planned.sticks.len() + 1) {
            Some(sticks) => {
                work.settings(&sticks, &mut settings);
                planned.facets_cut += sticks.facets;
                planned.sticks.push(sticks.figures);
            }
            None => planned.left.push(kind.left(reached, LeftBecause::NoRoom)),
        }
    }
    planned.settings = settings.in_order(order.stands());
    planned
}

/// One kind of piece in rows.
struct RowWork<'a> {
    order: &'a MitreOrder<'a>,
    saw: MitreSaw<'a>,
    kind: MadeKind<'a>,
    cut_ends: [bool; 2],
}

/// Sticks with what is cut of them.
struct Sticks {
    row: Row,
    figures: StickFigures,
    /// Of the pieces that are needed.
    facets: usize,
}

impl RowWork<'_> {
    /// The sticks that give as many pieces as are made, all alike; nothing where no stick takes one.
    fn sticks(&self, number: usize) -> Option<Sticks> {
        let row_order = self.row_order();
        let made = self.kind.made;
        let longest = self
            .saw
            .mitres
            .sticks
            .longest
            .min(self.saw.sled.longest_strip);
        let most = row_order.most(longest);
        let at_once = self.sticks_at_once(&row_order);
        if most == 0 || at_once == 0 {
            return None;
        }
        let count = made.div_ceil(most);
        let row = row_order.row(made.div_ceil(count));
        let blocks = count.div_ceil(at_once);
        let [first, second] = self.cut_ends;
        let letters = EndLetter::BOTH.into_iter().zip([first, second]);
        let facets = self.kind.facets_of(self.cut_ends);
        let pieces = row.pieces.iter().map(|piece| PieceInStick {
            from_mm: piece.from,
            first_end: if piece.lying.reversed {
                Hand::Right
            } else {
                Hand::Left
            },
            on_fence: piece.lying.on_fence(),
            outline: row_order.placed(piece),
        });
        // The first piece's rough end lies toward the grip, the next ones' cut ends together.
        let rough_ends_meet = row.pieces.len() > 2;
        let figures = StickFigures {
            number,
            piece: self.kind.number,
            name: self.kind.kind.name.clone(),
            needed: made,
            count,
            pieces_per_stick: row.pieces.len(),
            length_mm: row.length.max(self.saw.sled.shortest_strip),
            blocks,
            sticks_per_block: count.div_ceil(blocks),
            mirrored: row_order.mirrored,
            between_rough_ends_mm: row_order.between_rough_ends().filter(|_| rough_ends_meet),
            rough_end_from_point_mm: row_order.rough_end_from_point(),
            cut_ends: letters
                .filter(|(_, cut)| *cut)
                .map(|(end, _)| end)
                .collect(),
            pieces: pieces.collect(),
        };
        Some(Sticks {
            row,
            figures,
            facets: facets * made,
        })
    }

    fn row_order(&self) -> RowOrder<'_> {
        let laps = &self.kind.kind.figures.laps;
        RowOrder {
            outline: &self.kind.kind.outline,
            length: self.kind.kind.figures.length,
            thickness: self.saw.thickness,
            cut_ends: self.cut_ends,
            first: self.lying(),
            mirrored: laps.is_empty(),
            kerf: self.saw.sled.blade.kerf,
            rough: self.order.allowance() / 2.0,
            hand_kerf: HAND_KERF_MM,
            grip: self.saw.mitres.sticks.grip,
        }
    }

    /// How the first piece lies: an end that is not cut here to the left, so that every cut end has
    /// a neighbour. A piece without laps takes its heavier cut at the fence. One with laps lies on
    /// the face that they enter, so that the skin stays on the other one.
    fn lying(&self) -> Lying {
        let figures = &self.kind.kind.figures;
        let reversed = self.cut_ends == [true, false];
        let left_away = match figures.laps.first() {
            Some(lap) => (lap.face == Face::Back) != reversed,
            None => {
                let ends = figures.ends().into_iter().zip(self.cut_ends);
                let cut = ends.filter(|(_, cut)| *cut);
                let offsets = cut.filter_map(|(end, _)| end.ridge_offset);
                let widest = offsets.max_by(|a, b| a.abs().total_cmp(&b.abs()));
                widest.unwrap_or(0.0) >= 0.0
            }
        };
        Lying {
            reversed,
            left_away,
        }
    }

    fn height(&self) -> f64 {
        self.order.depth() - self.saw.mitres.sticks.skin
    }

    fn sticks_at_once(&self, row_order: &RowOrder<'_>) -> usize {
        let one = row_order.row(2);
        let mitres = one.cuts.iter().map(|cut| (Slant(cut.angle), self.height()));
        let laps = self.kind.kind.figures.laps.iter();
        let laps = laps.map(|lap| (Slant::new(lap.face, lap.angle), self.lap_depth(lap)));
        let each = mitres.chain(laps);
        let correction = self.saw.sled.height_correction;
        let each = each.map(|(slant, depth)| self.saw.sticks_at_once(slant, depth + correction));
        each.min().unwrap_or(0)
    }

    fn lap_depth(&self, lap: &PieceLap) -> f64 {
        lap.fraction * self.order.depth()
    }

    fn settings(&self, sticks: &Sticks, settings: &mut Settings<'_>) {
        let number = sticks.figures.number;
        let at_once = sticks.figures.sticks_per_block;
        for lap in &self.kind.kind.figures.laps {
            let slant = Slant::new(lap.face, lap.angle);
            let (passes, shift) = notch_passes(lap.width * lap.angle.sin(), self.saw.sled);
            let shift = slant.along(shift);
            let cut = MitreCut::Lap {
                depth_mm: self.lap_depth(lap),
                passes: passes.min(MOST_PASSES),
                pass_shift_along_fence_mm: shift,
            };
            let first = passes.saturating_sub(1) as f64 / 2.0 * shift;
            let half_kerf = slant.along(self.saw.sled.blade.kerf) / 2.0;
            let stops = sticks.row.pieces.iter().map(|piece| {
                let along = if piece.lying.reversed {
                    self.kind.kind.figures.length - lap.centre
                } else {
                    lap.centre
                };
                let middle = slant.at_fence(piece.from + along, self.saw.thickness);
                self.stop_to_kerf(slant, middle - half_kerf - first)
            });
            let work = MitreWork {
                sticks: number,
                face_down: lap.face,
                stops_mm: stops.collect(),
                facets: 0,
            };
            settings.add(slant, cut, self.lap_depth(lap), (work, at_once));
        }
        for (slant, cuts) in by_angle(&sticks.row.cuts) {
            let stops = cuts.iter().map(|cut| self.stop_to_kerf(slant, cut.near));
            let work = MitreWork {
                sticks: number,
                face_down: self.face_down(),
                stops_mm: stops.collect(),
                facets: cuts.iter().map(|cut| cut.facets).sum(),
            };
            settings.add(slant, MitreCut::Facet, self.height(), (work, at_once));
        }
    }

    fn face_down(&self) -> Face {
        // Without laps a piece and its mirror image are one part: the good face is kept from the knife.
        match self.kind.kind.figures.laps.is_empty() {
            true => Face::Front,
            false => self.lying().face_down(),
        }
    }

    /// What stands between stop and kerf where `near` is the kerf's near side from the stick's end.
    ///
    /// A flat stop touches the end of the stick at the fence. A board parallel to the blade touches
    /// it at the corner that stands out toward it: at the fence where the board leans left, else a
    /// thickness farther across, where the board has come `t / tan J` nearer.
    fn stop_to_kerf(&self, slant: Slant, near: f64) -> f64 {
        match self.order.stop() {
            MitreStop::Block => near,
            MitreStop::Board => near + (self.saw.thickness * slant.lean()).max(0.0),
        }
    }
}

/// Cuts by their angles, in the order in which these come first.
fn by_angle(cuts: &[RowCut]) -> Vec<(Slant, Vec<RowCut>)> {
    let mut groups: Vec<(Slant, Vec<RowCut>)> = Vec::new();
    for cut in cuts {
        let same = |(slant, _): &&mut (Slant, Vec<RowCut>)| slant.0.approx_eq(cut.angle, DIRECTION);
        match groups.iter_mut().find(same) {
            Some((_, known)) => known.push(*cut),
            None => groups.push((Slant(cut.angle), vec![*cut])),
        }
    }
    // The right end goes away first.
    groups.sort_by_key(|(slant, _)| !slant.far_end_away());
    groups
}
