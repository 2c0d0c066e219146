//! All slanted candidates for what a person would like.

use super::candidate::{Filled, SlantedCandidate, SlantedRuling};
use super::shortest::Lines;
use super::wish::{Slanted, SlantedBayWish};
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::DiamondStance;
use crate::opening::search::bay_wish::BayWish;
use crate::opening::size::Size;
use crate::opening::slanted::free_rhomb;
use crate::opening::wish::{NodePlace, SlantedRest};
use std::f64::consts::{FRAC_PI_3, FRAC_PI_4, PI};

/// Where no angle is wanted, rhombs have one from 45 to 135 degrees: sharper ones are another design, and
/// hard to notch. Common practice, no source.
pub const FREE_ANGLES: [f64; 2] = [FRAC_PI_4, 3.0 * FRAC_PI_4];

/// A slanted grid that is ruled, but not laid out yet.
#[derive(Clone, Copy)]
struct Ruled {
    ruling: SlantedRuling,
    pitch: f64,
    angle: f64,
}

/// All candidates: of each slot that is near, of the pitch that is wanted, of whole columns that fill the
/// width and whole rows that fill the height, and, where the angle is free, of both and of a slot that fills
/// one side at an angle of its own. Each of them with a node in the middle, its edge cells cut or the rest in
/// the margins, and with one at the corner where that leaves the same at opposite sides.
pub fn slanted_candidates(inside: Size, wish: &SlantedBayWish) -> Vec<SlantedCandidate> {
    let looking = Looking { inside, wish };
    let ruled = looking.ruled();
    let laid = ruled.into_iter().flat_map(|ruled| looking.laid(ruled));
    laid.filter(|candidate| looking.will_do(candidate))
        .collect()
}

struct Looking<'w> {
    inside: Size,
    wish: &'w SlantedBayWish,
}

impl Looking<'_> {
    /// What the least margins leave.
    fn room(&self) -> Size {
        let room = (self.wish.grid).room(NodePlace::Middle, SlantedRest::CutCells);
        let [x, y] = room.least_margins(self.wish.least_margin, self.wish.thickness);
        Size {
            width: self.inside.width - 2.0 * x,
            height: self.inside.height - 2.0 * y,
        }
    }

    fn ruled(&self) -> Vec<Ruled> {
        let room = self.room();
        if room.width.min(room.height) <= SAME_POSITION_MM {
            return Vec::new();
        }
        let angle = match self.wish.grid {
            Slanted::Diamond { angle, .. } => angle,
            Slanted::Triangular { .. } => Some(FRAC_PI_3),
        };
        let all = match angle {
            Some(angle) => self.at_angle(room, angle),
            None => self.at_any_angle(room),
        };
        let bays = &self.wish.bays;
        let near = all.into_iter().filter(|one| bays.is_near(one.pitch));
        near.collect()
    }

    fn at_angle(&self, room: Size, angle: f64) -> Vec<Ruled> {
        let bays = &self.wish.bays;
        let [across, up] = self.wish.grid.unit(angle);
        let [least, _] = bays.near();
        let of = |ruling, pitch| Ruled {
            ruling,
            pitch,
            angle,
        };
        let mut all = Vec::new();
        for (slot, &pitch) in bays.slots.iter().enumerate() {
            all.push(of(SlantedRuling::Slot { slot, fills: None }, pitch));
        }
        if let Some(pitch) = bays.pitch {
            all.push(of(SlantedRuling::Pitch, pitch));
        }
        if !self.says_a_size() {
            return all;
        }
        let sides = [
            (Filled::Width, room.width / across, bays.columns),
            (Filled::Height, room.height / up, bays.rows),
        ];
        for (filled, side, wanted) in sides {
            for count in BayWish::counts_within(wanted, side, least) {
                all.push(of(SlantedRuling::Fills(filled), side / count as f64));
            }
        }
        all
    }

    /// Whether anything but a rack says how large the cells are.
    fn says_a_size(&self) -> bool {
        let bays = &self.wish.bays;
        bays.pitch.is_some() || bays.columns.is_some() || bays.rows.is_some()
    }

    fn at_any_angle(&self, room: Size) -> Vec<Ruled> {
        let Slanted::Diamond { stance, .. } = self.wish.grid else {
            return Vec::new();
        };
        let bays = &self.wish.bays;
        let [least, _] = bays.near();
        // A column is no narrower than the pitch, nor is a row lower.
        let columns = BayWish::counts_within(bays.columns, room.width, least);
        let rows = BayWish::counts_within(bays.rows, room.height, least);
        let mut all = Vec::new();
        if self.says_a_size() {
            for &column in &columns {
                let fits = rows.iter().filter_map(|&row| {
                    let fit = free_rhomb(stance, room.width, room.height, column, row)?;
                    Some(Ruled {
                        ruling: SlantedRuling::FillsBoth,
                        pitch: fit.pitch,
                        angle: fit.angle,
                    })
                });
                all.extend(fits);
            }
        }
        for (slot, &pitch) in bays.slots.iter().enumerate() {
            let of = |filled, angle: f64| Ruled {
                ruling: SlantedRuling::Slot {
                    slot,
                    fills: Some(filled),
                },
                pitch,
                angle,
            };
            let wide = columns.iter();
            let wide = wide.filter_map(|count| angle_over(stance, pitch, room.width, *count));
            all.extend(wide.map(|angle| of(Filled::Width, angle)));
            let high = rows.iter();
            let high = high.filter_map(|count| angle_up(stance, pitch, room.height, *count));
            all.extend(high.map(|angle| of(Filled::Height, angle)));
        }
        let [sharp, blunt] = FREE_ANGLES;
        all.retain(|one| (sharp - 1e-9..=blunt + 1e-9).contains(&one.angle));
        all
    }

    /// The same ruling with a node in the middle and at the corner, the rest cut or in the margins.
    fn laid(&self, ruled: Ruled) -> Vec<SlantedCandidate> {
        let ways = [
            (NodePlace::Middle, SlantedRest::CutCells),
            (NodePlace::Middle, SlantedRest::Margins),
            (NodePlace::Corner, SlantedRest::Margins),
        ];
        let mut all: Vec<SlantedCandidate> = Vec::new();
        for (node, rest) in ways {
            let Some(mut one) = self.laid_out(ruled, node, rest) else {
                continue;
            };
            // Where nothing is left over there is no choice about it.
            if one.left_over.iter().all(|left| *left < SAME_POSITION_MM) {
                one.rest = SlantedRest::CutCells;
            }
            let is_known = |old: &SlantedCandidate| {
                let [x, y] = [0, 1].map(|axis| (pick(old.margin, axis), pick(one.margin, axis)));
                let same_edge = [x, y].iter().all(|(a, b)| (a - b).abs() < SAME_POSITION_MM);
                same_edge && self.lies_alike(old, &one)
            };
            if !all.iter().any(is_known) {
                all.push(one);
            }
        }
        all
    }

    /// Whether nodes lie at the same places: in the middle and at the corner they do where as many
    /// half columns as half rows lie between, both odd or both even. Where strips lie along an edge, rows of
    /// nodes are a whole one apart across it, and columns half a one.
    fn lies_alike(&self, old: &SlantedCandidate, new: &SlantedCandidate) -> bool {
        if old.node == new.node {
            return true;
        }
        if old.columns != new.columns || old.rows != new.rows {
            return false;
        }
        let along = self.wish.grid.room(new.node, new.rest).along_edge();
        let odd = match (self.wish.grid, along) {
            (
                Slanted::Diamond {
                    stance: DiamondStance::Upright,
                    ..
                },
                _,
            ) => return false,
            (_, [false, false]) => (old.columns + old.rows) % 2 == 1,
            // Rows between middle and edge, each shifted by half a column.
            (_, [false, true]) => old.rows % 2 == 1 || (old.rows / 2 + old.columns) % 2 == 1,
            (_, [true, _]) => old.columns % 2 == 1 || (old.columns / 2 + old.rows) % 2 == 1,
        };
        !odd
    }

    fn laid_out(
        &self,
        ruled: Ruled,
        node: NodePlace,
        rest: SlantedRest,
    ) -> Option<SlantedCandidate> {
        let open = self.room();
        let unit = self.wish.grid.unit(ruled.angle);
        let cell = unit.map(|unit| unit * ruled.pitch);
        let whole = self.wish.grid.room(node, SlantedRest::Margins);
        let in_whole = whole.filled(open, cell)?;
        let filled = self.wish.grid.room(node, rest).filled(open, cell)?;
        let count = |size: f64, length: f64| {
            let count = ((size + SAME_POSITION_MM) / length).floor().max(0.0);
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            (count as usize)
        };
        let [across, up] = cell;
        let (columns, rows) = (count(in_whole.width, across), count(in_whole.height, up));
        if columns == 0 || rows == 0 {
            return None;
        }
        let at = match node {
            NodePlace::Middle => [0.0, 0.0],
            NodePlace::Corner => [-filled.width / 2.0, -filled.height / 2.0],
        };
        let lines = Lines {
            inside: self.inside,
            filled,
            inclinations: &self.wish.grid.inclinations(ruled.angle),
            pitch: ruled.pitch,
            node: at,
        };
        Some(SlantedCandidate {
            grid: self.wish.grid,
            ruling: ruled.ruling,
            pitch: ruled.pitch,
            angle: ruled.angle,
            cell,
            columns,
            rows,
            node,
            rest,
            margin: [
                (self.inside.width - filled.width) / 2.0,
                (self.inside.height - filled.height) / 2.0,
            ],
            left_over: [
                (open.width - in_whole.width) / 2.0,
                (open.height - in_whole.height) / 2.0,
            ],
            shortest: lines.shortest(),
        })
    }

    /// Counts that are asked for, margins, and no slit between the frame and a strip along it that is
    /// narrower than the margin that square cells have.
    fn will_do(&self, candidate: &SlantedCandidate) -> bool {
        let bays = &self.wish.bays;
        let counted = bays.columns.is_none_or(|count| count == candidate.columns)
            && bays.rows.is_none_or(|count| count == candidate.rows);
        let along = (candidate.grid)
            .room(candidate.node, candidate.rest)
            .along_edge();
        let slit = |axis: usize| {
            let left = pick(candidate.left_over, axis);
            let least = bays.least_margin - self.wish.thickness / 2.0;
            left > SAME_POSITION_MM && left < least - SAME_POSITION_MM
        };
        let mut edges = along.into_iter().enumerate();
        let slits = self.wish.least_margin.is_none() && edges.any(|(axis, has)| has && slit(axis));
        let margins = candidate.rest == SlantedRest::CutCells
            || bays.most_margin.is_none_or(|most| {
                let mut margins = candidate.margin.iter();
                margins.all(|margin| *margin <= most + SAME_POSITION_MM)
            });
        counted && !slits && margins
    }
}

fn pick([x, y]: [f64; 2], axis: usize) -> f64 {
    if axis == 0 { x } else { y }
}

/// The angle at which so many columns of a pitch fill a width: on the point `a = p / cos (f / 2)`, a = W / i;
/// upright a column is the pitch itself, whatever the angle.
fn angle_over(stance: DiamondStance, pitch: f64, width: f64, count: usize) -> Option<f64> {
    let cosine = pitch * count as f64 / width;
    (stance == DiamondStance::OnPoint && cosine < 1.0).then(|| 2.0 * cosine.acos())
}

/// The angle at which so many rows of a pitch fill a height: on the point `b = p / sin (f / 2)`, b = H / j;
/// upright nodes lie `p / sin f` apart.
fn angle_up(stance: DiamondStance, pitch: f64, height: f64, count: usize) -> Option<f64> {
    let sine = pitch * count as f64 / height;
    let angle = match stance {
        DiamondStance::OnPoint => 2.0 * sine.asin(),
        DiamondStance::Upright => sine.asin(),
    };
    (sine < 1.0 && angle < PI).then_some(angle)
}
