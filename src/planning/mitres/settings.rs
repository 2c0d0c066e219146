//! Settings of fence and blade for mitres and laps, each found once.

use super::reach::{fence, reach};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::instructions::mitres::{EndWork, MitreCut, MitreSetting, MitreWork};
use crate::machines::{Powered, Sled, SledMitres};
use crate::planning::sled::blade::half_chord;
use crate::planning::sled::slant::Slant;
use float_cmp::ApproxEq;

/// A sled with a motor, and what it cuts.
#[derive(Clone, Copy)]
pub(super) struct MitreSaw<'a> {
    pub(super) sled: &'a Sled,
    pub(super) mitres: &'a SledMitres,
    pub(super) powered: Powered,
    /// Of the sticks.
    pub(super) thickness: f64,
}

impl MitreSaw<'_> {
    /// How many sticks are cut at once at a slant with the blade so high over the base; none where
    /// not even one is.
    pub(super) fn sticks_at_once(&self, slant: Slant, height: f64) -> usize {
        let clear = self.travel(slant, height, 0);
        let room = f64::min(self.sled.widest_block, self.powered.travel - clear);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and not below 0
        let most = (room / slant.along(self.thickness) + 1e-9).floor().max(0.0) as usize;
        most
    }

    /// Travel that so many sticks need to come clear of the blade on both sides.
    pub(super) fn travel(&self, slant: Slant, height: f64, sticks: usize) -> f64 {
        let chord = half_chord(self.powered.diameter / 2.0, height);
        let width = sticks as f64 * self.thickness;
        slant.cut_length(width, self.sled.blade.kerf) + 2.0 * chord
    }
}

/// Settings in the order in which they were asked for.
pub(super) struct Settings<'a> {
    saw: MitreSaw<'a>,
    found: Vec<MitreSetting>,
}

impl<'a> Settings<'a> {
    pub(super) fn new(saw: MitreSaw<'a>) -> Self {
        Settings {
            saw,
            found: Vec::new(),
        }
    }

    /// Adds the cuts of a row at a slant, `depth` deep, in blocks of so many sticks. Slants that are out of reach
    /// were sorted out before.
    pub(super) fn add(&mut self, slant: Slant, cut: MitreCut, depth: f64, row: (MitreWork, usize)) {
        let (work, at_once) = row;
        if let Some(setting) = self.setting(slant, cut, depth, at_once) {
            let alike = |known: &&mut MitreWork| {
                known.sticks == work.sticks && known.face_down == work.face_down
            };
            // Pieces with several laps of one angle: their sticks are laid once, and cut at all stops.
            match setting.work.iter_mut().find(alike) {
                Some(known) => {
                    known.stops_mm.extend(work.stops_mm);
                    known.stops_mm.sort_by(f64::total_cmp);
                    known.facets += work.facets;
                }
                None => setting.work.push(work),
            }
        }
    }

    /// Adds a stick's end.
    pub(super) fn add_end(&mut self, slant: Slant, depth: f64, end: (EndWork, usize)) {
        let (work, at_once) = end;
        if let Some(setting) = self.setting(slant, MitreCut::Facet, depth, at_once) {
            setting.ends.push(work);
        }
    }

    fn setting(
        &mut self,
        slant: Slant,
        cut: MitreCut,
        depth: f64,
        at_once: usize,
    ) -> Option<&mut MitreSetting> {
        let height = depth + self.saw.sled.height_correction;
        let is_it = |known: &MitreSetting| {
            slant.0.approx_eq(known.fence.cut_angle, DIRECTION)
                && known.height_above_base_mm.approx_eq(height, POSITION)
                && same_kind(known.cut, cut)
        };
        let at = match self.found.iter().position(is_it) {
            Some(at) => at,
            None => {
                self.found.push(self.saw.setting(slant, cut, height)?);
                self.found.len() - 1
            }
        };
        let travel = self.saw.travel(slant, height, at_once);
        let setting = self.found.get_mut(at)?;
        setting.travel_mm = setting.travel_mm.max(travel);
        Some(setting)
    }

    /// All of them, laps before mitres; of mitres the two hands of an angle one after the other. The
    /// angle at which the fence stands already comes first.
    pub(super) fn in_order(self, stands: Option<Slant>) -> Vec<MitreSetting> {
        let Settings { found, .. } = self;
        let mut order: Vec<(SettingRank, MitreSetting)> = Vec::with_capacity(found.len());
        for setting in &found {
            order.push((SettingRank::of(setting, &found, stands), setting.clone()));
        }
        // Settings of one rank stay as they were asked for.
        order.sort_by_key(|(rank, _)| *rank);
        let numbered = (1..).zip(order);
        numbered
            .map(|(number, (_, setting))| MitreSetting { number, ..setting })
            .collect()
    }
}

/// Where a setting comes among the others; the lowest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct SettingRank {
    is_mitre: bool,
    /// Whether the fence would have to be set to this angle anew.
    is_new: bool,
    /// Place of the first setting with this angle.
    first: usize,
    /// Whether the fence would have to swing to the other hand.
    is_other_hand: bool,
}

impl SettingRank {
    fn of(setting: &MitreSetting, all: &[MitreSetting], stands: Option<Slant>) -> SettingRank {
        let to_blade = setting.fence.to_blade;
        let same = |one: &MitreSetting| one.fence.to_blade.approx_eq(to_blade, DIRECTION);
        let at_angle = stands.is_some_and(|at| at.to_blade().approx_eq(to_blade, DIRECTION));
        let at_hand = stands.is_some_and(|at| at.0.approx_eq(setting.fence.cut_angle, DIRECTION));
        SettingRank {
            is_mitre: !setting.is_lap(),
            is_new: !at_angle,
            first: all.iter().position(same).unwrap_or(all.len()),
            is_other_hand: at_angle && !at_hand,
        }
    }
}

impl MitreSaw<'_> {
    fn setting(&self, slant: Slant, cut: MitreCut, height: f64) -> Option<MitreSetting> {
        let reached = reach(slant, self.sled, self.mitres)?;
        Some(MitreSetting {
            number: 0,
            cut,
            fence: fence(slant, reached, self.thickness, self.sled.blade.kerf),
            height_above_base_mm: height,
            height_above_table_mm: self.sled.base_thickness + height,
            half_chord_mm: half_chord(self.powered.diameter / 2.0, height),
            travel_mm: 0.0,
            work: Vec::new(),
            ends: Vec::new(),
        })
    }
}

fn same_kind(one: MitreCut, other: MitreCut) -> bool {
    matches!(
        (one, other),
        (MitreCut::Facet, MitreCut::Facet) | (MitreCut::Lap { .. }, MitreCut::Lap { .. })
    )
}
