//! What stands against cutting pieces in rows on a router.

use super::super::checks::{Axis, axis_fault};
use super::super::clamps::{clamp_beside, holder_fault};
use super::super::planner::{MOST_PASSES, safe_height};
use super::order::{LaidRow, LappedFaces, RowSticks, no_longer, square_width};
use super::planner::RowPlanner;
use crate::finding::{Document, Finding};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::infill::PieceKind;
use crate::machines::Router;
use crate::phrase;
use crate::units::{AtLeast, Mm};

impl RowPlanner<'_> {
    /// All that stands against mitres on this router, whichever piece it is.
    pub(super) fn faults(&self) -> Vec<Finding> {
        let depth = self.mitre_depth();
        if depth <= SAME_POSITION_MM {
            let text = phrase!(
                "a skin of {} is as thick as the sticks are deep, {}",
                Mm(self.sticks.skin),
                Mm(self.depth)
            );
            let fault = Finding::error("skin-too-thick", "mitres.skin", text);
            return vec![fault.hint("some tenths of a millimetre")];
        }
        let mut faults = self.depth_faults();
        faults.extend(self.room_faults());
        faults.extend(holder_fault(self.router, depth));
        faults
    }

    /// A tool too short for a mitre, or more passes than anybody waits for.
    fn depth_faults(&self) -> Vec<Finding> {
        let Router { tool, cutting, .. } = self.router;
        let depth = self.mitre_depth();
        let mut faults = Vec::new();
        if tool.flute_length < depth - SAME_POSITION_MM {
            let text = phrase!(
                "edges {} long do not reach a mitre's floor, {} below the top of a stick {} deep: the shank would rub",
                Mm(tool.flute_length),
                Mm(depth),
                Mm(self.depth)
            );
            let fault = Finding::error("flute-too-short", "tool.flute_length", text);
            let fault = fault.figure(depth, depth - tool.flute_length);
            faults.push(fault.hint("use a tool with longer edges"));
        }
        if depth > MOST_PASSES * cutting.depth_per_pass {
            let text = phrase!(
                "{} per pass takes hundreds of passes to a depth of {}",
                Mm(cutting.depth_per_pass),
                Mm(depth)
            );
            let fault = Finding::error("too-many-passes", "cutting.depth_per_pass", text);
            let least = AtLeast(depth / MOST_PASSES);
            faults.push(fault.hint(phrase!("make it {} or more", least)));
        }
        faults
    }

    /// Room beside the sticks, and along Y and Z; X is a matter of each kind of piece.
    fn room_faults(&self) -> Vec<Finding> {
        let Router {
            tool,
            travel,
            fixture,
            ..
        } = self.router;
        let mut faults = Vec::new();
        let beyond = tool.diameter / 2.0 + self.run_out;
        let room = beyond + tool.diameter / 2.0;
        if room > fixture.clear_beside + SAME_POSITION_MM {
            let text = phrase!(
                "the tool needs {} beside the sticks to run out; the fixture leaves {}",
                Mm(room),
                Mm(fixture.clear_beside)
            );
            let fault = Finding::error("no-room-beside", "fixture.clear_beside", text);
            let hint = "less run-out, exact-path mode or a slower feed, or a fixture cut away";
            faults.push(fault.hint(hint));
        }
        if self.thickness > fixture.widest_bundle + SAME_POSITION_MM {
            let text = phrase!(
                "a stick {} thick is wider than the fixture's {}",
                Mm(self.thickness),
                Mm(fixture.widest_bundle)
            );
            let field = "fixture.widest_bundle";
            faults.push(Finding::error("bundle-too-wide", field, text));
        }
        let front = fixture.zero_y - beyond;
        let back = fixture.zero_y + self.thickness + beyond;
        faults.extend(axis_fault(
            Axis::y(travel),
            [front, back],
            "another place for the fixture (fixture.zero_y)",
        ));
        faults.extend(axis_fault(
            Axis::z(travel),
            [0.0, safe_height(self.router) + self.mitre_depth()],
            "a lower safe height",
        ));
        faults
    }

    /// What stands against one kind of piece, however many lie on a stick.
    pub(super) fn kind_faults(&self, kind: &PieceKind, sticks: &RowSticks<'_>) -> Vec<Finding> {
        let tool = self.router.tool;
        if LappedFaces::of(&kind.figures.laps) == LappedFaces::Both {
            let text = phrase!(
                "`{}` has laps in both faces: a router cuts from above, and a stick turned over would lie on its laps",
                &kind.name
            );
            let fault = Finding::error("laps-in-both-faces", "infill.pattern", text);
            return vec![
                fault
                    .hint("pare these pieces at the bench, or cut their laps on the sled")
                    .in_document(Document::Job),
            ];
        }
        if kind.figures.ends().iter().any(|end| end.mouth().is_some()) {
            let text = phrase!(
                "`{}` has a bird's mouth: cuts go through the whole stick, and do not stop at its apex",
                &kind.name
            );
            let fault = Finding::error("mouth-in-row", "infill.pattern", text);
            return vec![
                fault
                    .hint("pare these pieces at the bench")
                    .in_document(Document::Job),
            ];
        }
        if !kind.figures.folds.is_empty() {
            let text = phrase!(
                "`{}` is a folded strip: cuts go through the whole stick, and its V leaves a skin",
                &kind.name
            );
            let fault = Finding::error("fold-in-row", "infill.pattern", text);
            return vec![
                fault
                    .hint("pare its ends at the bench, and its V along the block that the list of pieces names")
                    .in_document(Document::Job),
            ];
        }
        let mut faults = Vec::new();
        let one = sticks.laid(1);
        let narrow = one.laps.iter().map(square_width);
        let narrow = narrow.fold(f64::INFINITY, f64::min);
        if tool.diameter > narrow + SAME_POSITION_MM {
            let text = phrase!(
                "a tool of {} does not go into a lap of `{}`, {} wide square to its walls",
                Mm(tool.diameter),
                &kind.name,
                Mm(narrow)
            );
            let fault = Finding::error("tool-too-wide", "tool.diameter", text);
            faults.push(fault.hint("use a thinner tool"));
        }
        if !one.laps.is_empty() {
            faults.extend(lap_beyond_piece(kind, sticks));
        }
        faults
    }

    /// A row of one piece that is too much already.
    pub(super) fn too_long(&self, kind: &PieceKind, row: &LaidRow) -> Vec<Finding> {
        let mut faults = Vec::new();
        if !no_longer(row, self.sticks.longest) {
            let text = phrase!(
                "a stick for one `{}` is {} long, with a grip of {} at either end and the tool's way; {} is the longest",
                &kind.name,
                Mm(row.length),
                Mm(self.sticks.grip),
                Mm(self.sticks.longest)
            );
            let fault = Finding::error("stick-too-long", "mitres.longest_stick", text);
            let hint = phrase!("take sticks of {} or more", AtLeast(row.length));
            faults.push(
                fault
                    .figure(row.length, row.length - self.sticks.longest)
                    .hint(hint),
            );
        }
        let zero = self.router.fixture.zero_x;
        faults.extend(axis_fault(
            Axis::x(&self.router.travel),
            [row.reach[0] + zero, row.reach[1] + zero],
            "pieces longer than this machine reaches: pare them at the bench, or use a longer machine",
        ));
        faults
    }

    /// A clamp in the tool's way on any of the sticks.
    pub(super) fn clamp_faults(
        &self,
        kind: &PieceKind,
        sticks: &RowSticks<'_>,
        row: &LaidRow,
        count: usize,
    ) -> Vec<Finding> {
        let diameter = self.router.tool.diameter;
        let depth = self.mitre_depth();
        let laps = row.laps.iter();
        let laps = laps.map(|lap| (lap.centre_mm, lap.angle, square_width(lap), lap.depth_mm));
        let mitres = row.mitres.iter();
        let mitres = mitres.map(|cut| (cut.centre_mm, cut.angle, diameter, depth));
        let cuts: Vec<_> = laps.chain(mitres).collect();
        for front in self.fronts(count) {
            for (centre, angle, width, depth) in &cuts {
                let way = sticks.way(*centre, *angle, *width);
                let way = way.map(|[x, y]| Point::new(x, y + front));
                let Some((at, clamp)) = clamp_beside(self.router, &way, *depth) else {
                    continue;
                };
                let text = phrase!(
                    "{} stands in the way of the tool or its holder in a cut for `{}` at {} from the sticks' datum ends",
                    &clamp.name,
                    &kind.name,
                    Mm(*centre)
                );
                let field = format!("fixture.clamps[{at}]");
                return vec![Finding::error("clamp-in-the-way", field, text).hint("move it")];
            }
        }
        Vec::new()
    }
}

/// A lap so near an end and so slanted that its way through the stick comes into the next piece.
fn lap_beyond_piece(kind: &PieceKind, sticks: &RowSticks<'_>) -> Option<Finding> {
    let pair = sticks.laid(2);
    let [first, second] = pair.pieces.as_slice() else {
        return None;
    };
    let half = sticks.thickness / 2.0;
    let out = pair.laps.iter().find(|lap| {
        let lean = half * sticks.bed(lap.angle).cotangent().abs() + lap.width_mm / 2.0;
        let [low, high] = [lap.centre_mm - lean, lap.centre_mm + lean];
        if lap.piece == 1 {
            high > second.from_mm
        } else {
            low < first.to_mm
        }
    })?;
    let text = phrase!(
        "the lap of `{}` at {} from the sticks' datum ends would run out into the next piece",
        &kind.name,
        Mm(out.centre_mm)
    );
    let fault = Finding::error("lap-into-next-piece", "infill.pattern", text);
    Some(
        fault
            .hint("pare these pieces at the bench")
            .in_document(Document::Job),
    )
}
