//! All that is told of a panel as one machine would make it.

use super::bending::bending;
use super::chance::below_zero;
use super::closing::margin;
use super::draws::{Draws, Tally, Watched, draw_panels};
use super::form::{Form, Sources};
use super::joints::{Joint, Predicted, Spacing};
use super::order::{FitOrder, Notcher};
use super::panel::Direction;
use super::pieces::{Openings, piece_fits};
use super::spreads::spreads;
use crate::instructions::fit::{
    BayFit, Closing, ComparedFigure, JointFit, MortiseFit, Off, PanelFit, WayFit,
};
use crate::planning::lap_racking;
use std::f64::consts::FRAC_PI_2;

/// What is answered.
pub(super) struct Answer<'a> {
    pub(super) order: &'a FitOrder<'a>,
    pub(super) notcher: Notcher<'a>,
    pub(super) predicted: &'a Predicted<'a>,
    pub(super) draws: Draws,
}

/// A figure that is told by formula and by draws.
struct Compared {
    kind: &'static str,
    what: String,
    form: Form,
}

impl Compared {
    fn new(kind: &'static str, what: String, form: &Form) -> Compared {
        Compared {
            kind,
            what,
            form: form.clone(),
        }
    }
}

/// How far a figure is off.
pub(super) fn off(form: &Form, sources: &Sources) -> Off {
    Off {
        known_mm: form.known,
        worst_mm: form.worst(sources),
        expanded_mm: form.expanded(sources),
    }
}

pub(super) fn answer(asked: &Answer<'_>) -> WayFit {
    let predicted = asked.predicted;
    let sources = &predicted.sources;
    let spacings = predicted.spacings();
    let directions = predicted.directions();
    let crush = asked.order.wishes.crush;
    let compared = asked.compared(&spacings, directions.as_ref());
    let rows = asked.rows_of_ends(directions.as_ref());
    let watched = Watched {
        figures: compared.iter().map(|one| &one.form).collect(),
        kept: compared.len(),
        directions: directions.as_ref(),
        crush,
        ends: rows.clone(),
    };
    let mut tally = draw_panels(predicted, &watched, asked.draws);
    let closes = directions.as_ref().map(|both| asked.closes(both, &tally));
    let least = asked.order.wishes.least_chance;
    WayFit {
        way: asked.notcher.way(),
        machine: asked.notcher.name().to_owned(),
        plus_minus: asked.notcher.spread().plus_minus.name(),
        spreads: spreads(asked.notcher),
        draws: tally.count,
        compared: told_beside(&compared, sources, &mut tally),
        joints: asked.joints(&tally),
        flush_mm: flush(predicted),
        bays: asked.bays(&spacings, directions.is_some()),
        pieces: match (asked.order.pieces, directions.is_some()) {
            (Some((filled, patterns)), true) => {
                let openings = Openings::of(predicted, &spacings);
                piece_fits(filled, patterns, &openings, asked.order.wishes.batch)
            }
            _ => Vec::new(),
        },
        panel: asked.panel(directions.as_ref()),
        mortises: mortises(&rows, sources, &tally),
        not_predicted: not_predicted(asked, directions.is_some()),
        advice: Vec::new(),
        ok: closes.as_ref().is_none_or(|closes| closes.chance >= least),
        closes,
    }
}

/// What this prediction leaves out.
fn not_predicted(asked: &Answer<'_>, square: bool) -> Vec<&'static str> {
    let mut left =
        vec!["moisture, bow, uneven thickness along a strip, blade or fence out of square"];
    if !square {
        left.push(
            "whether a slanted grid goes together: clearances and openings between neighbours are predicted, closing, size and pieces are not",
        );
    }
    let filled = asked
        .order
        .pieces
        .is_some_and(|(filled, _)| !filled.crossed.is_empty());
    if filled {
        left.push("pieces that run over strips, and their notches");
    }
    left
}

impl Answer<'_> {
    /// A few figures that are told by formula and by draws.
    fn compared(&self, spacings: &[Spacing], directions: Option<&[Direction; 2]>) -> Vec<Compared> {
        let predicted = self.predicted;
        let sources = &predicted.sources;
        let mut all = Vec::new();
        let far = |joint: &&Joint| joint.place.known.abs() + joint.place.expanded(sources);
        let worst = predicted
            .joints
            .iter()
            .max_by(|a, b| far(a).total_cmp(&far(b)));
        if let Some(joint) = worst {
            let text = format!(
                "notch {} of {}, from its datum end",
                joint.notch + 1,
                self.label(joint.holder)
            );
            all.push(Compared::new("place", text, &joint.place));
        }
        let tight = |joint: &&Joint| joint.clearance.known - joint.clearance.expanded(sources);
        let tightest = predicted
            .joints
            .iter()
            .min_by(|a, b| tight(a).total_cmp(&tight(b)));
        if let Some(joint) = tightest {
            let text = format!(
                "{} in notch {} of {}",
                self.label(joint.mate),
                joint.notch + 1,
                self.label(joint.holder)
            );
            all.push(Compared::new("clearance", text, &joint.clearance));
        }
        let spread = |spacing: &&Spacing| {
            (spacing.centres.known - spacing.drawn).abs() + spacing.opening.expanded(sources)
        };
        if let Some(bay) = spacings
            .iter()
            .max_by(|a, b| spread(a).total_cmp(&spread(b)))
        {
            let [from, to] = bay.strips.map(|strip| self.label(strip));
            let text = format!("between {from} and {to}");
            all.push(Compared::new("opening", text, &bay.opening));
        }
        let names = ["width", "height"];
        for (direction, name) in directions.into_iter().flatten().zip(names) {
            if let Some(form) = predicted.over_faces(direction) {
                all.push(Compared::new(
                    name,
                    "over the outer faces".to_owned(),
                    &form,
                ));
            }
        }
        all
    }

    fn label(&self, strip: usize) -> String {
        let lattice = self.predicted.lattice;
        let strip = lattice.strips.get(strip);
        strip.map_or_else(String::new, |strip| lattice.label(strip.id))
    }

    fn joints(&self, tally: &Tally) -> Vec<JointFit> {
        let predicted = self.predicted;
        let sources = &predicted.sources;
        let crush = self.order.wishes.crush;
        let told = predicted
            .joints
            .iter()
            .zip(&tally.binds)
            .filter_map(|(joint, binds)| {
                let strip = predicted.lattice.strips.get(joint.holder)?;
                let deviation = joint.clearance.deviation(sources);
                Some(JointFit {
                    family: predicted.lattice.family_name(strip.id.family),
                    strip: predicted.lattice.label(strip.id),
                    notch: joint.notch + 1,
                    mate: self.label(joint.mate),
                    place_error_mm: off(&joint.place, sources),
                    clearance_mm: joint.clearance.known,
                    clearance_uncertainty_mm: joint.clearance.expanded(sources),
                    bind_chance: f64::from(*binds) / tally.count.max(1) as f64,
                    bind_chance_by_formula: below_zero(joint.clearance.known + crush, deviation),
                })
            });
        told.collect()
    }

    /// Cell by cell on square grids, else between neighbours.
    fn bays(&self, spacings: &[Spacing], square: bool) -> Vec<BayFit> {
        let sources = &self.predicted.sources;
        let thickness = self.predicted.lattice.section.thickness;
        let expanded = |spacing: &Spacing| spacing.opening.expanded(sources);
        let of = |family: usize| {
            spacings
                .iter()
                .filter(move |spacing| spacing.family == family)
        };
        let mut all = Vec::new();
        if !square {
            for spacing in spacings {
                all.push(BayFit {
                    column: None,
                    row: None,
                    between: spacing.strips.map(|strip| self.label(strip)).into(),
                    opening_mm: vec![spacing.opening.known],
                    drawn_mm: vec![spacing.drawn - thickness],
                    uncertainty_mm: vec![expanded(spacing)],
                });
            }
            return all;
        }
        for (row, y) in (1..).zip(of(1)) {
            for (column, x) in (1..).zip(of(0)) {
                all.push(BayFit {
                    column: Some(column),
                    row: Some(row),
                    between: Vec::new(),
                    opening_mm: vec![x.opening.known, y.opening.known],
                    drawn_mm: vec![x.drawn - thickness, y.drawn - thickness],
                    uncertainty_mm: vec![expanded(x), expanded(y)],
                });
            }
        }
        all
    }

    fn closes(&self, directions: &[Direction; 2], tally: &Tally) -> Closing {
        let predicted = self.predicted;
        let crush = self.order.wishes.crush;
        let off: Vec<f64> = predicted
            .joints
            .iter()
            .map(|joint| joint.off.known)
            .collect();
        let clearance: Vec<f64> = predicted
            .joints
            .iter()
            .map(|joint| joint.clearance.known)
            .collect();
        let spare = directions
            .iter()
            .map(|one| margin(&one.drawn(&off, &clearance, crush)));
        let tightest = clearance.iter().copied().fold(f64::INFINITY, f64::min);
        let (chance, chance_within) = tally.closing();
        Closing {
            margin_mm: spare.fold(f64::INFINITY, f64::min),
            crush_mm: crush,
            squeeze_mm: (-tightest).max(0.0),
            chance,
            chance_within,
            decided_by_bounds: tally.decided.iter().sum(),
            decided_by_program: tally.left[1],
            left_open: tally.left[0] - tally.left[1],
            bending: bending(predicted, directions),
        }
    }

    fn panel(&self, directions: Option<&[Direction; 2]>) -> PanelFit {
        let predicted = self.predicted;
        let section = &predicted.lattice.section;
        let rack = if predicted.lattice.families.len() > 2 {
            0.0
        } else {
            let each = predicted.joints.iter().map(|joint| {
                let width = section.thickness + joint.clearance.known;
                let acute = if joint.sine < 1.0 {
                    joint.sine.asin()
                } else {
                    FRAC_PI_2
                };
                lap_racking(width, section.thickness, acute)
            });
            each.reduce(f64::min).unwrap_or(0.0)
        };
        let sizes: Vec<Form> = (directions.into_iter().flatten())
            .filter_map(|direction| predicted.over_faces(direction))
            .collect();
        let diagonals = match sizes.as_slice() {
            [width, height] => {
                let [w, h] = [width, height].map(|size| size.known - section.thickness);
                Some(diagonal_difference(w, h, rack))
            }
            _ => None,
        };
        PanelFit {
            size_mm: sizes.iter().map(|size| size.known).collect(),
            size_uncertainty_mm: (sizes.iter())
                .map(|size| size.expanded(&predicted.sources))
                .collect(),
            rack,
            diagonal_difference_mm: diagonals,
        }
    }

    /// Places of ends that go into mortises, and half of the room there: both directions. The mortises
    /// are taken as drawn.
    fn rows_of_ends(&self, directions: Option<&[Direction; 2]>) -> Vec<(Vec<Form>, f64)> {
        let Some(frame) = self.order.frame else {
            return Vec::new();
        };
        let half = (frame.clearance + self.order.wishes.crush) / 2.0;
        let both = directions.into_iter().flatten();
        both.map(|direction| (self.predicted.settled(direction), half))
            .collect()
    }
}

/// A parallelogram of sides w and h whose corners are off by `rack` from square: its diagonals are
/// `sqrt(w^2 + h^2 +- 2 w h sin rack)`, by the rule of cosines.
fn diagonal_difference(w: f64, h: f64, rack: f64) -> f64 {
    let square = w * w + h * h;
    let skew = 2.0 * w * h * rack.sin();
    (square + skew).sqrt() - (square - skew).max(0.0).sqrt()
}

/// The greatest of them all, whichever way round the depths add: what both notches of a lap are deeper
/// than drawn together sets their faces apart.
fn flush(predicted: &Predicted<'_>) -> Option<Off> {
    if predicted.lattice.families.len() != 2 {
        return None;
    }
    let all = predicted.joints.iter().filter_map(|joint| {
        let back = |other: &&Joint| other.holder == joint.mate && other.mate == joint.holder;
        let other = predicted.joints.iter().find(back)?;
        let [one, two] = [joint.cut, other.cut].map(|cut| predicted.cuts.get(cut));
        Some(one?.depth.plus(1.0, &two?.depth))
    });
    // Settings and blocks repeat: the first hundreds have seen all of them.
    let all = all.take(MOST_LAPS);
    let off = all.map(|form| off(&form, &predicted.sources));
    off.max_by(|a, b| (a.known_mm.abs() + a.worst_mm).total_cmp(&(b.known_mm.abs() + b.worst_mm)))
}

const MOST_LAPS: usize = 400;

fn mortises(rows: &[(Vec<Form>, f64)], sources: &Sources, tally: &Tally) -> Option<MortiseFit> {
    let half = rows.first()?.1;
    let all = rows.iter().flat_map(|(places, _)| places);
    let off = all.map(|place| off(place, sources));
    let far = |off: &Off| off.known_mm.abs() + off.expanded_mm;
    let worst = off.max_by(|a, b| far(a).total_cmp(&far(b)))?;
    Some(MortiseFit {
        off_mm: worst,
        half_room_mm: half,
        chance: tally.meets as f64 / tally.count.max(1) as f64,
    })
}

fn told_beside(compared: &[Compared], sources: &Sources, tally: &mut Tally) -> Vec<ComparedFigure> {
    let told = compared.iter().enumerate().map(|(at, one)| {
        let Off {
            known_mm,
            worst_mm,
            expanded_mm,
        } = off(&one.form, sources);
        let samples = tally.samples.get_mut(at);
        ComparedFigure {
            kind: one.kind,
            what: one.what.clone(),
            value_mm: known_mm,
            worst_mm,
            expanded_mm,
            drawn_mm: samples.map_or(0.0, |samples| half_of_shortest(samples)),
        }
    });
    told.collect()
}

/// Half of the shortest span that holds 95 % of the values (JCGM 101:2008, 7.7).
fn half_of_shortest(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let held = values.len() * 95 / 100;
    let spans = values
        .iter()
        .zip(values.iter().skip(held))
        .map(|(low, high)| high - low);
    spans.reduce(f64::min).unwrap_or(0.0) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rhomb of side a whose corners are off by r has diagonals 2 a cos(45 deg -+ r / 2), which differ by
    /// 2 sqrt 2 a sin(r / 2).
    #[test]
    fn diagonals_of_a_rhomb() {
        for rack in [0.0, 0.01, 0.1_f64] {
            let wanted = 2.0 * 2.0_f64.sqrt() * 100.0 * (rack / 2.0).sin();
            assert!((diagonal_difference(100.0, 100.0, rack) - wanted).abs() < 1e-9);
        }
    }

    /// Of 0 to 99 any 96 in a row hold 95 % and span 95; nine tenths of which lie close are found.
    #[test]
    fn the_shortest_span_is_found() {
        let mut even: Vec<f64> = (0..100).map(f64::from).collect();
        assert!((half_of_shortest(&mut even) - 47.5).abs() < 1e-12);
        let mut far: Vec<f64> = (0..100)
            .map(|at| if at < 4 { 1e3 } else { f64::from(at) / 100.0 })
            .collect();
        assert!(half_of_shortest(&mut far) < 0.5);
    }
}
