//! All ways over a rack, one after the other. Apart from the planner: every notch's error is a known part and
//! a list of factors, one for each error that comes by chance.

/// How a notch is placed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    Stop,
    Key { on: usize, slot: usize },
}

/// A strip's notches from the datum end, which are cut in that order.
#[derive(Debug, Clone)]
pub struct Strip {
    pub centres: Vec<f64>,
    /// Whether the stop reaches them.
    pub by_stop: Vec<bool>,
    /// What the slots measure.
    pub slots: Vec<f64>,
    pub misfit: f64,
    pub stop: f64,
    pub key: f64,
}

impl Strip {
    fn steps(&self, notch: usize) -> Vec<Step> {
        let mut all = Vec::new();
        for on in 0..notch {
            for (slot, measured) in self.slots.iter().enumerate() {
                let off = measured - (self.centres[notch] - self.centres[on]);
                if off.abs() <= self.misfit + 1e-6 {
                    all.push(Step::Key { on, slot });
                }
            }
        }
        if self.by_stop[notch] {
            all.push(Step::Stop);
        }
        all
    }

    /// All ways, if there are no more than so many.
    pub fn all_ways(&self, most: usize) -> Option<Vec<Vec<Step>>> {
        let mut ways = vec![Vec::new()];
        for notch in 0..self.centres.len() {
            let steps = self.steps(notch);
            let longer = ways.iter().flat_map(|way: &Vec<Step>| {
                steps.iter().map(move |step| {
                    let mut way = way.clone();
                    way.push(*step);
                    way
                })
            });
            ways = longer.collect();
            if ways.is_empty() || ways.len() > most {
                return None;
            }
        }
        Some(ways)
    }

    /// Whether a way is one of these: no spacers in it.
    pub fn can_be(&self, way: &[Step]) -> bool {
        (0..way.len()).all(|notch| self.steps(notch).contains(&way[notch]))
    }

    /// A notch's error from the first notch: the known part, and how often each notch's own error by chance
    /// is in it.
    pub fn place(&self, way: &[Step], notch: usize) -> (f64, Vec<f64>) {
        let mut known = 0.0;
        let mut own = vec![0.0; way.len()];
        let mut at = notch;
        while let Step::Key { on, slot } = way[at] {
            known += self.slots[slot] - (self.centres[at] - self.centres[on]);
            own[at] += 1.0;
            at = on;
        }
        own[at] += 1.0;
        own[0] -= 1.0;
        (known, own)
    }

    /// The known part, plus what scatters: 1.96 times the root of the sum of squares of limit / sqrt 3, but never more than the
    /// limits together.
    pub fn expanded(&self, way: &[Step], (known, own): &(f64, Vec<f64>)) -> f64 {
        let (mut squares, mut limits) = (0.0, 0.0);
        for (step, times) in way.iter().zip(own) {
            let limit = match step {
                Step::Stop => self.stop,
                Step::Key { .. } => self.key,
            };
            squares += (times * limit).powi(2) / 3.0;
            limits += (times * limit).abs();
        }
        known.abs() + f64::min(1.959_964 * f64::sqrt(squares), limits)
    }

    pub fn places(&self, way: &[Step]) -> f64 {
        (0..way.len())
            .map(|notch| self.expanded(way, &self.place(way, notch)))
            .fold(0.0, f64::max)
    }

    /// What the bay from a notch to the next is wider than drawn.
    fn bay(&self, way: &[Step], from: usize) -> (f64, Vec<f64>) {
        less(&self.place(way, from + 1), &self.place(way, from))
    }

    /// The greatest difference of two bays drawn equal.
    pub fn bays(&self, way: &[Step]) -> Option<f64> {
        let drawn = |from: usize| self.centres[from + 1] - self.centres[from];
        let mut greatest: Option<f64> = None;
        for a in 0..way.len() - 1 {
            for b in 0..a {
                if (drawn(a) - drawn(b)).abs() < 1e-6 {
                    let own = less(&self.bay(way, a), &self.bay(way, b));
                    let own = self.expanded(way, &own);
                    greatest = Some(greatest.map_or(own, |known| known.max(own)));
                }
            }
        }
        greatest
    }

    /// Each notch the best way from how those before it were placed, by known part and repeatability times
    /// the root of the hops.
    pub fn notch_by_notch(&self) -> Vec<Step> {
        let mut way = Vec::new();
        for notch in 0..self.centres.len() {
            let error = |step: &Step| {
                let mut tried: Vec<Step> = way.clone();
                tried.push(*step);
                let (known, own) = self.place(&tried, notch);
                let hops: f64 = own.iter().map(|times| times * times).sum();
                known.abs() + self.key * hops.sqrt()
            };
            let steps = self.steps(notch);
            let best = steps
                .iter()
                .min_by(|a, b| error(a).total_cmp(&error(b)))
                .copied();
            way.push(best.unwrap());
        }
        way
    }
}

fn less(a: &(f64, Vec<f64>), b: &(f64, Vec<f64>)) -> (f64, Vec<f64>) {
    let own = a.1.iter().zip(&b.1).map(|(a, b)| a - b);
    (a.0 - b.0, own.collect())
}
