//! Square cells of any pitch, and cells that fill the inside.

use super::bay_wish::BayWish;
use super::candidate::{Candidate, Ruling};
use crate::geometry::SAME_POSITION_MM;
use crate::opening::size::Size;

/// A pitch that is chosen here, and not asked for or found by a rule, has this many steps in a millimetre:
/// finer than any machine sets it.
const STEPS_PER_MM: f64 = 1000.0;

/// Where no pitch is wanted, cells that fill the inside may be longer than wide by so much, or the other
/// way round: more is not seen as square. Common practice, no source.
const LONGEST_CELL: f64 = 1.25;

pub(super) fn free_candidates(inside: Size, wish: &BayWish) -> Vec<Candidate> {
    let [least, _] = wish.near();
    let mut found = Vec::new();
    let [across, up] = [inside.width, inside.height];
    for columns in wish.counts(wish.columns, across, least) {
        let x = Direction {
            side: across,
            count: columns,
        };
        if !x.may_do(wish) {
            continue;
        }
        for rows in wish.counts(wish.rows, up, least) {
            let y = Direction {
                side: up,
                count: rows,
            };
            let cells = Cells {
                directions: [x, y],
                wish,
            };
            found.extend(cells.square());
            found.extend(cells.filling());
        }
    }
    found
}

/// So many equal bays along a side.
#[derive(Clone, Copy)]
struct Direction {
    side: f64,
    count: usize,
}

impl Direction {
    fn bays(self) -> f64 {
        self.count as f64
    }

    /// The pitch that leaves the least margin.
    fn filling(self, wish: &BayWish) -> f64 {
        (self.side - 2.0 * wish.least_margin) / self.bays()
    }

    /// Least and greatest pitch that leaves margins which will do and is near: `m = (W - n p) / 2`, at
    /// least the least margin and at most the greatest; where that is the least one and a pitch
    /// more, `(W - n p) / 2 <= g + p` gives `p >= (W - 2 g) / (n + 2)`.
    fn pitches(self, wish: &BayWish) -> [f64; 2] {
        let [least, most] = wish.near();
        let narrowest = match wish.most_margin {
            Some(margin) => (self.side - 2.0 * margin) / self.bays(),
            None => (self.side - 2.0 * wish.least_margin) / (self.bays() + 2.0),
        };
        [narrowest.max(least), self.filling(wish).min(most)]
    }

    fn may_do(self, wish: &BayWish) -> bool {
        let [least, most] = self.pitches(wish);
        least <= most + SAME_POSITION_MM || wish.is_near(self.filling(wish))
    }

    fn margin(self, pitch: f64) -> f64 {
        (self.side - self.bays() * pitch) / 2.0
    }
}

struct Cells<'w> {
    directions: [Direction; 2],
    wish: &'w BayWish,
}

impl Cells<'_> {
    /// The best pitches of square cells. What is to be kept small, `|p - w| + |mx - my|`, is a sum of
    /// two valleys over p, with its corners at the wanted pitch w and, since `2 (mx - my) = (W - H) -
    /// (nx - ny) p`, at the pitch that leaves equal margins: it is least at one of these corners or at an
    /// end of what is allowed.
    fn square(&self) -> Vec<Candidate> {
        let [across, up] = self.directions.map(|way| way.pitches(self.wish));
        let (least, most) = (across[0].max(up[0]), across[1].min(up[1]));
        if least > most + SAME_POSITION_MM {
            return Vec::new();
        }
        let within = |pitch: f64| pitch.max(least).min(most);
        let even = self.even_pitch();
        let mut wanted: Vec<f64> = [self.wish.pitch, even].into_iter().flatten().collect();
        if wanted.is_empty() {
            wanted.push(most);
        }
        let mut found: Vec<Candidate> = Vec::new();
        for pitch in wanted.into_iter().map(within) {
            let (ruling, pitch) = self.ruled(pitch, [least, most]);
            let known = |old: &Candidate| (old.pitch[0] - pitch).abs() < SAME_POSITION_MM;
            if !found.iter().any(known) {
                found.push(self.with(ruling, [pitch; 2]));
            }
        }
        found
    }

    /// `(W - H) / (nx - ny)`; nothing where every pitch or none does.
    fn even_pitch(&self) -> Option<f64> {
        let [x, y] = self.directions;
        let pitch = (x.side - y.side) / (x.bays() - y.bays());
        (x.count != y.count && pitch > SAME_POSITION_MM).then_some(pitch)
    }

    /// How a job says this pitch; one that no rule gives is moved to a full thousandth.
    fn ruled(&self, pitch: f64, [least, most]: [f64; 2]) -> (Ruling, f64) {
        let is = |other: f64| (pitch - other).abs() < SAME_POSITION_MM;
        let [across, up] = self.directions.map(|way| way.filling(self.wish));
        let largest = across.min(up);
        if self.wish.pitch.is_some_and(is) {
            return (Ruling::Pitch, pitch);
        }
        if let Some(even) = self.even_pitch().filter(|even| is(*even)) {
            return (Ruling::EvenMargins, even);
        }
        if is(largest) {
            return (Ruling::LeastMargins, largest);
        }
        let steps = pitch * STEPS_PER_MM;
        let full = [steps.ceil(), steps.floor()].map(|steps| steps / STEPS_PER_MM);
        let fits = full.into_iter().find(|full| (least..=most).contains(full));
        (Ruling::LastAllowed, fits.unwrap_or(pitch))
    }

    /// Cells that fill the inside but for the least margins.
    fn filling(&self) -> Option<Candidate> {
        let pitch = self.directions.map(|way| way.filling(self.wish));
        let [across, up] = pitch;
        let all_near = pitch.iter().all(|pitch| self.wish.is_near(*pitch));
        let nearly_square = (1.0 / LONGEST_CELL..=LONGEST_CELL).contains(&(across / up));
        let is_square = (across - up).abs() < SAME_POSITION_MM;
        let will_do = all_near && !is_square && (self.wish.pitch.is_some() || nearly_square);
        will_do.then(|| self.with(Ruling::Fill, pitch))
    }

    fn with(&self, ruling: Ruling, pitch: [f64; 2]) -> Candidate {
        let [x, y] = self.directions;
        Candidate {
            ruling,
            pitch,
            border: pitch,
            columns: x.count,
            rows: y.count,
            margin: [x.margin(pitch[0]), y.margin(pitch[1])],
        }
    }
}
