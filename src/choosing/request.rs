//! What is to be chosen for, and whether it makes sense.

use super::around::JobAround;
use crate::finding::Finding;
use crate::infill::Pattern;
use crate::lattice::{MOST_BAYS, PieceWay, SHARPEST};
use crate::machines::{Rack, Sled, Station};
use crate::making::Workshop;
use crate::opening::{BayWish, FREE_ANGLES, NodePlace, Size, Slanted, SlantedBayWish, SlantedRest};
use crate::phrase;
use crate::units::{AtMost, Mm, Rad};
use std::f64::consts::PI;

/// What is to be chosen for.
#[derive(Debug, Clone)]
pub struct PanelRequest<'a> {
    /// The job but for its grid.
    pub around: JobAround,
    /// Rhombs or triangles; squares where it is nothing.
    pub slanted: Option<Slanted>,
    /// About this pitch, mm.
    pub pitch: Option<f64>,
    /// So many bays side by side.
    pub columns: Option<usize>,
    /// So many bays above each other.
    pub rows: Option<usize>,
    /// Least margin, mm; where it is not given, what leaves the job's least web outside the last notch
    /// of square cells.
    pub least_margin: Option<f64>,
    /// Greatest margin, mm; where it is not given, one pitch more than the least.
    pub most_margin: Option<f64>,
    /// The machines at hand.
    pub workshop: &'a Workshop,
    /// Of the pieces, in the order in which the job names them.
    pub patterns: &'a [Pattern],
}

impl PanelRequest<'_> {
    /// The rack of the sled at hand.
    pub(super) fn rack(&self) -> Option<&Rack> {
        let sled = self.workshop.machine::<Sled>()?;
        sled.machine.rack.as_ref()
    }

    /// What is wished of the bays. The frame may close the outermost where there is one, no margin is asked
    /// for, and there are no pieces: those of a pattern lie between strips.
    pub(super) fn bay_wish(&self) -> BayWish {
        let slots = self
            .rack()
            .map(|rack| rack.slots.iter().map(|slot| slot.measured).collect());
        let no_margin = self.least_margin.is_none() && self.most_margin.is_none();
        let closes = self.around.has_frame && no_margin && self.patterns.is_empty();
        BayWish {
            pitch: self.pitch,
            columns: self.columns,
            rows: self.rows,
            least_margin: self.least_margin.unwrap_or(self.around.least_margin),
            most_margin: self.most_margin,
            least_pitch: self.around.least_pitch,
            frame_closes: closes.then_some(self.around.thickness),
            slots: slots.unwrap_or_default(),
        }
    }

    /// The same of a slanted grid.
    pub(super) fn slanted_wish(&self, grid: Slanted) -> SlantedBayWish {
        SlantedBayWish {
            grid,
            bays: self.bay_wish(),
            least_margin: self.least_margin,
            thickness: self.around.thickness,
        }
    }

    /// What the least margins leave of the inside.
    fn room(&self, wish: &BayWish) -> Size {
        let inside = self.around.inside;
        let [x, y] = match self.slanted {
            None => [wish.least_margin; 2],
            Some(grid) => grid
                .room(NodePlace::Middle, SlantedRest::CutCells)
                .least_margins(self.least_margin, self.around.thickness),
        };
        Size {
            width: inside.width - 2.0 * x,
            height: inside.height - 2.0 * y,
        }
    }

    /// What makes no sense before anything is looked for, all of it.
    pub(super) fn check(&self, wish: &BayWish) -> Result<(), Vec<Finding>> {
        let mut found = Vec::new();
        let has_rack = !wish.slots.is_empty();
        if wish.pitch.is_none() && wish.columns.is_none() && wish.rows.is_none() && !has_rack {
            let text = "nothing says how large the cells should be";
            let hint = "give --pitch 40mm, which is taken as about 40 mm, or --columns and --rows; a sled with a rack decides by itself";
            found.push(Finding::error("missing", "grid.pitch_about", text).hint(hint));
        }
        if let Some(pitch) = wish.pitch.filter(|pitch| *pitch <= self.around.thickness) {
            let text = phrase!(
                "a pitch of {} leaves no opening between strips {} thick",
                Mm(pitch),
                Mm(self.around.thickness)
            );
            let hint = "pitch is measured from centre line to centre line, square to them";
            found.push(
                Finding::error("pitch-within-thickness", "grid.pitch_about", text).hint(hint),
            );
        }
        found.extend(self.too_wide(wish));
        found.extend(self.too_sharp());
        found.extend(self.no_machine());
        if let Some(most) = wish.most_margin.filter(|most| *most < wish.least_margin) {
            let text = phrase!(
                "the greatest margin, {}, is below the least one, {}",
                Mm(most),
                Mm(wish.least_margin)
            );
            let hint = "both are measured from the inside's edge to the outermost centre line; without --least-margin it is half a strip and the least wood outside a notch";
            found.push(Finding::error("margins-cross", "grid.most_margin", text).hint(hint));
        }
        if found.is_empty() { Ok(()) } else { Err(found) }
    }

    /// An angle at which strips cannot be notched.
    fn too_sharp(&self) -> Option<Finding> {
        let Some(Slanted::Diamond {
            angle: Some(angle), ..
        }) = self.slanted
        else {
            return None;
        };
        if (SHARPEST..=PI - SHARPEST).contains(&angle) {
            return None;
        }
        let text = phrase!("families at {} cross too sharply to be notched", Rad(angle));
        let hint = phrase!("{} to {} can be built", Rad(SHARPEST), Rad(PI - SHARPEST));
        Some(Finding::error("angle-out-of-range", "grid.angle", text).hint(hint))
    }

    /// A way of making mitres whose machine is not at hand.
    fn no_machine(&self) -> Option<Finding> {
        let station = match self.around.way {
            _ if self.patterns.is_empty() => return None,
            PieceWay::Guides => return None,
            PieceWay::Rows | PieceWay::StickEnds => Station::Sled,
            PieceWay::RoutedRows => Station::Router,
        };
        if self.workshop.profile_at(station).is_some() {
            return None;
        }
        let way = self.around.way.name();
        let name = station.name();
        let text = phrase!(
            "`{}` makes the pieces' mitres on a {}, and none is named",
            way,
            name
        );
        let hint = phrase!(
            "add --{}, or `{}` to [machines] of the job; or have them pared: guides",
            name,
            name
        );
        let code = match station {
            Station::Sled => "no-sled",
            _ => "no-router",
        };
        Some(Finding::error(code, "infill.way", text).hint(hint))
    }

    /// A pitch of which not one cell has room.
    fn too_wide(&self, wish: &BayWish) -> Option<Finding> {
        let inside = self.around.inside;
        let room = self.room(wish);
        let largest = room.width.min(room.height);
        let pitch = wish.pitch.filter(|pitch| *pitch > largest)?;
        let text = phrase!(
            "not one cell with a pitch of {} goes into an inside {} by {} with margins of {}",
            Mm(pitch),
            Mm(inside.width),
            Mm(inside.height),
            Mm((inside.width - room.width).max(inside.height - room.height) / 2.0)
        );
        let hint = match self.slanted {
            None => phrase!(
                "the largest square cell that does has a pitch of {}",
                AtMost(largest.max(0.0))
            ),
            Some(_) => phrase!(
                "cells that do have a pitch below {}: it is measured square to the strips",
                AtMost(largest.max(0.0))
            ),
        };
        Some(Finding::error("pitch-too-wide", "grid.pitch_about", text).hint(hint))
    }

    /// Where no candidate is left.
    pub(super) fn nothing_fits(&self, wish: &BayWish) -> Finding {
        let inside = self.around.inside;
        let room = self.room(wish);
        let text = phrase!(
            "no bays of what you want go into an inside {} by {} with margins of {} or more",
            Mm(inside.width),
            Mm(inside.height),
            Mm((inside.width - room.width).max(inside.height - room.height) / 2.0)
        );
        let hint = match (wish.most_margin, self.slanted) {
            (Some(most), _) => phrase!(
                "margins of at most {} rule all of them out: leave out --most-margin, or ask for other bays",
                Mm(most)
            ),
            (None, Some(Slanted::Diamond { angle: Some(_), .. })) => phrase!(
                "leave out the angle: it then follows from whole cells; or ask for smaller cells, or for only one of --columns and --rows; 1 to {} bays in one direction can be built",
                MOST_BAYS
            ),
            (None, Some(Slanted::Diamond { angle: None, .. })) => {
                let [sharp, blunt] = FREE_ANGLES;
                phrase!(
                    "without --angle, families at {} to {} are looked for: give another one, or ask for other bays; 1 to {} in one direction can be built",
                    Rad(sharp),
                    Rad(blunt),
                    MOST_BAYS
                )
            }
            (None, Some(Slanted::Triangular { .. })) => phrase!(
                "triangles fill the width or the height, never both: leave out --columns or --rows; 1 to {} in one direction can be built",
                MOST_BAYS
            ),
            (None, _) => phrase!(
                "ask for fewer bays, another pitch or smaller margins; 1 to {} bays in one direction can be built",
                MOST_BAYS
            ),
        };
        Finding::error("nothing-fits", "grid.pitch_about", text).hint(hint)
    }
}
