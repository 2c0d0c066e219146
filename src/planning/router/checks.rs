//! What a router cannot do for a bundle.

use super::clamped_bundle::ClampedBundle;
use super::clamps::holder_fault;
use super::planner::{MOST_PASSES, NotchingPlanner};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::machines::{Router, Travel};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm, Rad};

impl NotchingPlanner<'_> {
    /// All that stands against cutting a clamping's notches, however they are shared out over
    /// set-ups.
    pub(super) fn faults(&self, held: &ClampedBundle<'_>) -> Vec<Finding> {
        let mut faults = self.tool_faults(held);
        faults.extend(self.pass_faults(held));
        faults.extend(self.room_faults(held));
        faults.extend(holder_fault(self.router, held.depth()));
        faults
    }

    /// A strip that the fixture does not hold, a tool that does not do the notches.
    fn tool_faults(&self, held: &ClampedBundle<'_>) -> Vec<Finding> {
        let Router { tool, .. } = self.router;
        let mut faults = Vec::new();
        let thickness = self.lattice.section.thickness;
        if thickness > self.room_across() {
            let text = phrase!(
                "a strip {} thick is wider than the fixture's {}",
                Mm(thickness),
                Mm(self.room_across())
            );
            faults.push(Finding::error(
                "bundle-too-wide",
                "fixture.widest_bundle",
                text,
            ));
        }
        for (at, notch) in held.cut.iter().zip(held.notches()) {
            let width = held.square_width(notch);
            if tool.diameter > width + SAME_POSITION_MM {
                let text = phrase!(
                    "a tool of {} does not go into a notch {} wide",
                    Mm(tool.diameter),
                    Mm(width)
                );
                let fault = Finding::error("tool-too-wide", "tool.diameter", text);
                let fault = fault.figure(width, tool.diameter - width).at_notch(at + 1);
                faults.push(fault.hint("use a thinner tool"));
            }
            if tool.flute_length < notch.depth - SAME_POSITION_MM {
                let text = phrase!(
                    "edges {} long do not reach the floor of a notch {} deep: the shank would rub",
                    Mm(tool.flute_length),
                    Mm(notch.depth)
                );
                let beyond = notch.depth - tool.flute_length;
                let fault = Finding::error("flute-too-short", "tool.flute_length", text);
                let fault = fault.figure(notch.depth, beyond).at_notch(at + 1);
                faults.push(fault.hint("use a tool with longer edges"));
            }
        }
        faults
    }

    /// Notches that would take more passes than anybody waits for.
    fn pass_faults(&self, held: &ClampedBundle<'_>) -> Vec<Finding> {
        let Router { tool, cutting, .. } = self.router;
        let mut faults = Vec::new();
        let depth = held.depth();
        let width = held
            .notches()
            .map(|notch| held.square_width(notch))
            .fold(0.0, f64::max);
        if depth > MOST_PASSES * cutting.depth_per_pass {
            let text = phrase!(
                "{} per pass takes hundreds of passes to a depth of {}",
                Mm(cutting.depth_per_pass),
                Mm(depth)
            );
            let hint = phrase!("make it {} or more", AtLeast(depth / MOST_PASSES));
            faults
                .push(Finding::error("too-many-passes", "cutting.depth_per_pass", text).hint(hint));
        }
        if width > MOST_PASSES * tool.diameter {
            let text = phrase!(
                "a tool of {} takes hundreds of passes for a notch {} wide",
                Mm(tool.diameter),
                Mm(width)
            );
            faults.push(
                Finding::error("too-many-passes", "tool.diameter", text)
                    .hint("use a thicker tool, up to the notch's width"),
            );
        }
        faults
    }

    /// Room beside the bundle, at its ends, and along Y and Z; X is a matter of set-ups.
    fn room_faults(&self, held: &ClampedBundle<'_>) -> Vec<Finding> {
        let Router {
            travel,
            tool,
            fixture,
            ..
        } = self.router;
        let mut faults = Vec::new();
        let room = self.run_out(held.bed.angle) + tool.diameter;
        if room > fixture.clear_beside + SAME_POSITION_MM {
            let text = phrase!(
                "the tool needs {} beside the bundle to run out; the fixture leaves {}",
                Mm(room),
                Mm(fixture.clear_beside)
            );
            faults.push(
                Finding::error("no-room-beside", "fixture.clear_beside", text)
                    .hint("less run-out, exact-path mode or a slower feed, or a fixture cut away at the notches"),
            );
        }
        let [low, high] = held.bed.x();
        let low = low - fixture.clear_ends;
        let high = high + fixture.clear_ends;
        let radius = tool.diameter / 2.0;
        let past_end = held.notches().find(|notch| {
            let [least, most] = self.span(held, notch);
            least - radius < low - SAME_POSITION_MM || most + radius > high + SAME_POSITION_MM
        });
        if let Some(notch) = past_end {
            let text = phrase!(
                "a slot at {} to the strips {}, {} from their datum end, would take the tool past the bundle's end, where the fixture stands",
                Rad(held.bed.angle),
                self.all_labels(held),
                Mm(notch.centre)
            );
            let hint = "a longer overhang, less run-out, or a fixture with room at its ends (fixture.clear_ends)";
            let finding = Finding::error("no-room-at-end", "fixture.clear_ends", text);
            faults.push(finding.hint(hint));
        }
        let [y_low, y_high] = self.turns(held.bed);
        faults.extend(axis_fault(
            Axis::y(travel),
            [y_low + fixture.zero_y, y_high + fixture.zero_y],
            "a narrower bundle (fixture.widest_bundle), or another place for the fixture (fixture.zero_y)",
        ));
        faults.extend(axis_fault(
            Axis::z(travel),
            [0.0, self.safe_height() + held.depth()],
            self.lower_moves(),
        ));
        faults
    }

    /// What would let the moves between notches be lower.
    fn lower_moves(&self) -> Phrase {
        let clamps = self.router.fixture.clamps.iter();
        match clamps.max_by(|a, b| a.top.total_cmp(&b.top)) {
            Some(clamp) if self.safe_height() > self.router.cutting.safe_height => phrase!(
                "a clamp lower than {}, which all moves between notches go over, as a program may begin anywhere",
                &clamp.name
            ),
            _ => "a lower safe height".into(),
        }
    }

    /// Why no set-ups reach all notches along X.
    pub(super) fn reach_fault(&self, held: &ClampedBundle<'_>) -> Option<Finding> {
        if let Some(fault) = self.clamp_fault(held) {
            return Some(fault);
        }
        let Router {
            travel, fixture, ..
        } = self.router;
        let mut low = f64::INFINITY;
        let mut high = f64::NEG_INFINITY;
        for notch in held.notches() {
            let [least, most] = self.span(held, notch);
            low = low.min(least);
            high = high.max(most);
        }
        let hint = match fixture.key {
            None => {
                "a key bar (fixture.key_x and fixture.key_error) lets later set-ups register a notch already cut; or a longer machine, or the sled"
            }
            Some(_) => {
                "no notch that is already cut can lie on the key (fixture.key_x) and bring the next one within reach: a key nearer the low end, a longer machine, or the sled"
            }
        };
        axis_fault(
            Axis::x(travel),
            [low + fixture.zero_x, high + fixture.zero_x],
            hint,
        )
    }
}

/// An axis of the machine.
#[derive(Debug, Clone, Copy)]
pub(super) struct Axis {
    name: &'static str,
    /// Of the profile, where its length stands.
    field: &'static str,
    length: f64,
}

impl Axis {
    pub(super) fn x(travel: &Travel) -> Axis {
        Axis {
            name: "X",
            field: "travel.x",
            length: travel.x,
        }
    }

    pub(super) fn y(travel: &Travel) -> Axis {
        Axis {
            name: "Y",
            field: "travel.y",
            length: travel.y,
        }
    }

    pub(super) fn z(travel: &Travel) -> Axis {
        Axis {
            name: "Z",
            field: "travel.z",
            length: travel.z,
        }
    }
}

/// An axis that does not reach from the least to the greatest place of the tool's centre on it.
pub(super) fn axis_fault(
    axis: Axis,
    [from, to]: [f64; 2],
    hint: impl Into<Phrase>,
) -> Option<Finding> {
    let Axis {
        name,
        field,
        length,
    } = axis;
    if from >= -SAME_POSITION_MM && to <= length + SAME_POSITION_MM {
        return None;
    }
    let text = phrase!(
        "the tool would go to {} and {} on the {} axis, which reaches from {} to {}",
        Mm(from),
        Mm(to),
        name,
        Mm(0.0),
        Mm(length)
    );
    let below = -from;
    let above = to - length;
    let fault = Finding::error("travel-too-short", field, text).hint(hint);
    Some(if below > above {
        fault.figure(from, below)
    } else {
        fault.figure(to, above)
    })
}
