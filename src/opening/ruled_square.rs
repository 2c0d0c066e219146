//! Uprights and cross strips for an inside, as wished.

use super::size::Size;
use super::square::{Edge, border_bays, margin, most_bays, pitch_of};
use super::wish::{Rest, SquareCells, SquareWish, Wanted};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::{MOST_BAYS, Margins};
use crate::phrase;
use crate::units::{AtLeast, AtMost, Mm};

/// Pitches along x and y, and what stays beside them, mm.
pub(super) struct RuledSquare {
    pub(super) pitches_x: Vec<f64>,
    pub(super) pitches_y: Vec<f64>,
    pub(super) margins: Margins,
}

/// One direction's bays, mm.
struct Bays {
    pitches: Vec<f64>,
    margin: f64,
}

/// What is asked for in one direction.
struct Direction<'w> {
    inside: f64,
    count: Option<usize>,
    list: Option<&'w [f64]>,
    names: &'static Names,
}

struct Names {
    count: &'static str,
    count_field: &'static str,
    list_field: &'static str,
    /// What the inside measures there.
    size: &'static str,
}

const ACROSS: Names = Names {
    count: "columns",
    count_field: "grid.columns",
    list_field: "grid.pitches_x",
    size: "wide",
};

const UP: Names = Names {
    count: "rows",
    count_field: "grid.rows",
    list_field: "grid.pitches_y",
    size: "high",
};

/// The bays that a wish makes of an inside.
///
/// # Errors
/// What the inside does not hold, with what it would.
pub(super) fn rule_square(
    inside: Size,
    wish: &SquareWish,
    thickness: f64,
) -> Result<RuledSquare, Vec<Finding>> {
    let margin = wish.least_margin.unwrap_or(thickness / 2.0);
    let edge = if wish.frame_closes {
        Edge::Frame { thickness }
    } else {
        Edge::Strip { margin }
    };
    let ruler = SquareRuler {
        wish,
        edge,
        directions: [
            Direction {
                inside: inside.width,
                count: wish.columns,
                list: wish.pitches_x.as_deref(),
                names: &ACROSS,
            },
            Direction {
                inside: inside.height,
                count: wish.rows,
                list: wish.pitches_y.as_deref(),
                names: &UP,
            },
        ],
        least_margin: margin,
        thickness,
    };
    ruler.ruled()
}

struct SquareRuler<'w> {
    wish: &'w SquareWish,
    edge: Edge,
    directions: [Direction<'w>; 2],
    least_margin: f64,
    thickness: f64,
}

impl SquareRuler<'_> {
    fn ruled(&self) -> Result<RuledSquare, Vec<Finding>> {
        let faults: Vec<Finding> = self.faults();
        if !faults.is_empty() {
            return Err(faults);
        }
        let pitch = match self.wish.cells {
            SquareCells::Fill => None,
            SquareCells::Square(rest) => self.common_pitch(rest)?,
        };
        let [x, y] = &self.directions;
        let is_even = self.wish.cells == SquareCells::Square(Rest::EvenMargins);
        match (self.bays(x, pitch), self.bays(y, pitch)) {
            (Ok(x), Ok(y)) if is_even && (x.margin - y.margin).abs() > SAME_POSITION_MM => {
                Err(vec![self.no_even_margins(None)])
            }
            (Ok(x), Ok(y)) => Ok(RuledSquare {
                pitches_x: x.pitches,
                pitches_y: y.pitches,
                margins: Margins {
                    x: x.margin,
                    y: y.margin,
                },
            }),
            (x, y) => Err([x.err(), y.err()].into_iter().flatten().collect()),
        }
    }

    /// What makes no sense before anything is worked out.
    fn faults(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        let (Wanted::Exactly(pitch) | Wanted::About(pitch)) = self.wish.pitch else {
            return self.room_faults();
        };
        if pitch <= self.thickness {
            let text = phrase!(
                "a pitch of {} leaves no opening between strips {} thick",
                Mm(pitch),
                Mm(self.thickness)
            );
            let hint = "pitch is measured from centre line to centre line";
            found.push(
                Finding::error("pitch-within-thickness", self.pitch_field(), text).hint(hint),
            );
        }
        if let (SquareCells::Fill, Wanted::Exactly(_)) = (self.wish.cells, self.wish.pitch) {
            let text = "cells that fill the opening have the pitch that comes out";
            let hint = "write `pitch_about`, or `columns` and `rows`; or leave out `cells = \"fill\"`: then this pitch is kept";
            found.push(Finding::error("pitch-follows", "grid.pitch", text).hint(hint));
        }
        found.extend(self.room_faults());
        found
    }

    fn room_faults(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        for direction in &self.directions {
            if self.edge.room(direction.inside) <= self.thickness {
                let text = phrase!(
                    "margins of {} leave nothing of an inside {} {}",
                    Mm(self.least_margin),
                    Mm(direction.inside),
                    direction.names.size
                );
                found.push(Finding::error("margin-too-wide", "grid.least_margin", text));
            }
            if let (Edge::Frame { .. }, Some(count @ ..3)) = (self.edge, direction.count) {
                let text = phrase!(
                    "where the frame closes the outermost cells, {} {} leave no bay between strips",
                    count,
                    direction.names.count
                );
                let hint = "3 or more; the two at the frame count";
                found.push(
                    Finding::error("bays-out-of-range", direction.names.count_field, text)
                        .hint(hint),
                );
            }
        }
        found
    }

    fn pitch_field(&self) -> &'static str {
        match self.wish.pitch {
            Wanted::About(_) => "grid.pitch_about",
            _ => "grid.pitch",
        }
    }

    /// Directions whose bays are not given one by one.
    fn open(&self) -> impl Iterator<Item = &Direction<'_>> {
        self.directions
            .iter()
            .filter(|direction| direction.list.is_none())
    }

    /// The count that is given, or that nearest to a wanted pitch.
    fn wanted_count(&self, direction: &Direction<'_>) -> Option<usize> {
        let least = self.least_count();
        let about = match self.wish.pitch {
            Wanted::About(pitch) => Some(nearest(self.edge.room(direction.inside), pitch)),
            _ => None,
        };
        direction.count.or(about.map(|count| count.max(least)))
    }

    fn least_count(&self) -> usize {
        match self.edge {
            Edge::Strip { .. } => 1,
            Edge::Frame { .. } => 3,
        }
    }

    /// The pitch of square cells; none where both directions have lists of their own.
    fn common_pitch(&self, rest: Rest) -> Result<Option<f64>, Vec<Finding>> {
        if self.open().next().is_none() {
            return Ok(None);
        }
        if rest == Rest::EvenMargins {
            return self.even_pitch().map(Some);
        }
        if let Wanted::Exactly(pitch) = self.wish.pitch {
            return Ok(Some(pitch));
        }
        // The largest that leaves the least margin in both directions.
        let counted = self.open().filter_map(|direction| {
            let count = self.wanted_count(direction)?;
            Some(pitch_of(direction.inside, count, self.edge))
        });
        let pitch = counted.fold(f64::INFINITY, f64::min);
        if pitch.is_finite() {
            Ok(Some(pitch))
        } else {
            Err(vec![self.no_measure()])
        }
    }

    fn no_measure(&self) -> Finding {
        let text = "nothing says how large the cells are";
        let hint = "add `columns` and `rows`; or `pitch_about`: the number of bays follows from it; or `pitch`, which is kept as it is";
        Finding::error("missing", "grid.pitch_about", text).hint(hint)
    }

    /// `(W - H) / (nx - ny)`, see [`super::square::equal_margins`].
    fn even_pitch(&self) -> Result<f64, Vec<Finding>> {
        let [x, y] = &self.directions;
        let over = x.inside - y.inside;
        if over.abs() < SAME_POSITION_MM {
            // Every pitch does, with as many columns as rows.
            let count = self.wanted_count(x).or(self.wanted_count(y));
            return match (self.wish.pitch, count) {
                (Wanted::Exactly(pitch), _) => Ok(pitch),
                (_, Some(count)) => Ok(pitch_of(x.inside, count, self.edge)),
                (_, None) => Err(vec![self.no_measure()]),
            };
        }
        let wanted = match (self.wish.pitch, x.count, y.count) {
            (Wanted::Exactly(pitch) | Wanted::About(pitch), ..) => pitch,
            (Wanted::Free, Some(columns), Some(rows)) => over / (columns as f64 - rows as f64),
            (Wanted::Free, ..) => return Err(vec![self.no_measure()]),
        };
        let mut all: Vec<f64> = self.even_pitches(over).collect();
        all.sort_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()));
        let near = all.first().copied();
        let is_wanted = near.is_some_and(|pitch| (pitch - wanted).abs() < SAME_POSITION_MM);
        match (near, self.wish.pitch) {
            (Some(pitch), Wanted::About(_)) => Ok(pitch),
            (Some(pitch), _) if is_wanted => Ok(pitch),
            (near, _) => Err(vec![self.no_even_margins(near)]),
        }
    }

    /// The pitches that leave four equal margins, with the counts that are given.
    fn even_pitches(&self, over: f64) -> impl Iterator<Item = f64> + '_ {
        (1..=MOST_BAYS)
            .map(move |more| (more, over.abs() / more as f64))
            .take_while(|(_, pitch)| *pitch > self.thickness)
            .filter(move |(more, pitch)| self.has_room(over, *more, *pitch))
            .map(|(_, pitch)| pitch)
    }

    /// Whether the longer direction with so many more cells than the shorter one, and the shorter one, hold
    /// the counts that are given, or any.
    fn has_room(&self, over: f64, more: usize, pitch: f64) -> bool {
        let [x, y] = &self.directions;
        let (long, short) = if over > 0.0 { (x, y) } else { (y, x) };
        let most = most_bays(short.inside, pitch, self.edge);
        let from_long = long.count.map(|count| count.saturating_sub(more));
        let count = match (short.count, from_long) {
            (Some(count), Some(other)) if count != other => return false,
            (Some(count), _) | (None, Some(count)) => count,
            (None, None) => most,
        };
        (self.least_count()..=most).contains(&count)
    }

    fn no_even_margins(&self, near: Option<f64>) -> Finding {
        let text = "square cells do not leave four equal margins so";
        let hint = match near {
            Some(pitch) => phrase!(
                "the nearest pitch that does is {}: write `pitch_about`, which takes it; or leave out `rest = \"even-margins\"`",
                Mm(pitch)
            ),
            None => phrase!(
                "no whole numbers of columns and rows do; leave out `rest = \"even-margins\"`"
            ),
        };
        let field = match self.wish.pitch {
            Wanted::Free => "grid.columns",
            _ => self.pitch_field(),
        };
        Finding::error("no-even-margins", field, text).hint(hint)
    }

    /// The bays of one direction, `pitch` that of square cells.
    fn bays(&self, direction: &Direction<'_>, pitch: Option<f64>) -> Result<Bays, Finding> {
        if let Some(pitches) = direction.list {
            return self.listed(direction, pitches);
        }
        let Some(pitch) = pitch else {
            let count = self
                .wanted_count(direction)
                .ok_or_else(|| self.no_measure())?;
            let pitch = pitch_of(direction.inside, count, self.edge);
            return self.counted(direction, pitch, count);
        };
        if let SquareCells::Square(Rest::BorderBays(least)) = self.wish.cells {
            return self.bordered(direction, pitch, least.unwrap_or(pitch / 2.0));
        }
        let count = match (direction.count, self.wish.cells) {
            (Some(count), _) => count,
            (None, SquareCells::Square(Rest::EvenMargins)) => self.even_count(direction, pitch),
            (None, _) => most_bays(direction.inside, pitch, self.edge),
        };
        self.counted(direction, pitch, count)
    }

    /// So many that the margin is that of the other direction.
    fn even_count(&self, direction: &Direction<'_>, pitch: f64) -> usize {
        let counts = self.directions.each_ref().map(|way| {
            let most = most_bays(way.inside, pitch, self.edge);
            (way.inside, way.count.unwrap_or(most))
        });
        // The given count, or the one with which the other direction has room too.
        let base = self.directions.iter().zip(counts);
        let given = base.clone().find(|(way, _)| way.count.is_some());
        let shorter = counts.into_iter().min_by(|a, b| a.0.total_cmp(&b.0));
        let (inside, count) = match (given, shorter) {
            (Some((_, known)), _) | (None, Some(known)) => known,
            (None, None) => return 0,
        };
        let more = ((direction.inside - inside) / pitch).round();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        ((count as f64 + more).max(0.0) as usize)
    }

    fn counted(
        &self,
        direction: &Direction<'_>,
        pitch: f64,
        count: usize,
    ) -> Result<Bays, Finding> {
        if count > MOST_BAYS {
            let text = phrase!("{} bays in one direction", count);
            let hint = phrase!("1 to {} can be built", MOST_BAYS);
            return Err(Finding::error("bays-out-of-range", self.pitch_field(), text).hint(hint));
        }
        let most = most_bays(direction.inside, pitch, self.edge);
        if count < self.least_count() || count > most {
            return Err(self.too_many(direction, pitch, count));
        }
        Ok(Bays {
            pitches: vec![pitch; self.edge.bays(count)],
            margin: margin(direction.inside, pitch, count, self.edge),
        })
    }

    fn too_many(&self, direction: &Direction<'_>, pitch: f64, count: usize) -> Finding {
        let names = direction.names;
        let count = count.max(self.least_count());
        let most = most_bays(direction.inside, pitch, self.edge);
        let text = phrase!(
            "{} {} at a pitch of {} do not go into an inside {} {} with margins of {}",
            count,
            names.count,
            Mm(pitch),
            Mm(direction.inside),
            names.size,
            Mm(self.margin_at(pitch))
        );
        let largest = AtMost(pitch_of(direction.inside, count, self.edge));
        let hint = if most >= self.least_count() {
            phrase!("at most {} do; or a pitch of {} or less", most, largest)
        } else {
            phrase!("a pitch of {} or less would", largest)
        };
        let field = if direction.count.is_some() {
            names.count_field
        } else {
            self.pitch_field()
        };
        Finding::error("opening-too-small", field, text).hint(hint)
    }

    /// The least margin that the outermost strips keep.
    fn margin_at(&self, pitch: f64) -> f64 {
        match self.edge {
            Edge::Strip { margin } => margin,
            Edge::Frame { thickness } => pitch - thickness / 2.0,
        }
    }

    fn bordered(&self, direction: &Direction<'_>, pitch: f64, least: f64) -> Result<Bays, Finding> {
        let names = direction.names;
        let room = direction.inside - 2.0 * self.least_margin;
        let (inner, border) = match direction.count {
            Some(count @ ..2) => {
                let text = phrase!("{} {} has no bay at each side", count, names.count);
                let hint = "with border bays at least 2, and 3 for a bay of the pitch between them";
                return Err(Finding::error("bays-out-of-range", names.count_field, text).hint(hint));
            }
            Some(count) => {
                let inner = count - 2;
                (inner, (room - inner as f64 * pitch) / 2.0)
            }
            None => match border_bays(direction.inside, pitch, self.least_margin, least) {
                Some(fit) => (fit.inner, fit.border),
                None => (0, room / 2.0),
            },
        };
        if border < least - SAME_POSITION_MM {
            let text = phrase!(
                "{} at a pitch of {} leave border bays of {} in an inside {} {}",
                names.count,
                Mm(pitch),
                Mm(border.max(0.0)),
                Mm(direction.inside),
                names.size
            );
            let hint = phrase!(
                "at least {} is asked for: fewer {}, or a smaller pitch",
                AtLeast(least),
                names.count
            );
            return Err(Finding::error("border-too-narrow", self.pitch_field(), text).hint(hint));
        }
        if inner + 2 > MOST_BAYS {
            let text = phrase!("{} bays in one direction", inner + 2);
            let hint = phrase!("1 to {} can be built", MOST_BAYS);
            return Err(Finding::error("bays-out-of-range", self.pitch_field(), text).hint(hint));
        }
        let mut pitches = vec![border];
        pitches.extend(std::iter::repeat_n(pitch, inner));
        pitches.push(border);
        Ok(Bays {
            pitches,
            margin: self.least_margin,
        })
    }

    fn listed(&self, direction: &Direction<'_>, pitches: &[f64]) -> Result<Bays, Finding> {
        let sum: f64 = pitches.iter().sum();
        let margin = (direction.inside - sum) / 2.0;
        if margin < self.least_margin - SAME_POSITION_MM {
            let text = phrase!(
                "these pitches add up to {}, which leaves margins of {} in an inside {} {}",
                Mm(sum),
                Mm(margin),
                Mm(direction.inside),
                direction.names.size
            );
            let hint = phrase!(
                "at least {} is asked for: they may add up to {}",
                Mm(self.least_margin),
                AtMost(direction.inside - 2.0 * self.least_margin)
            );
            let field = direction.names.list_field;
            return Err(Finding::error("opening-too-small", field, text).hint(hint));
        }
        Ok(Bays {
            pitches: pitches.to_vec(),
            margin,
        })
    }
}

/// The whole number of a pitch that comes nearest to a room.
fn nearest(room: f64, pitch: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` saturates
    ((room / pitch).round().max(1.0) as usize)
}
