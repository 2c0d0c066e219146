//! Panels drawn at random, one after the other, and what is counted of them (Monte Carlo; JCGM 101:2008).

use super::closing::{Joints, Verdict, margin, quick_verdict};
use super::form::{Form, Source, Sources};
use super::joints::Predicted;
use super::panel::Direction;
use crate::machines::PlusMinus;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use std::thread;

/// How many panels are drawn, and from which seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draws {
    /// Panels.
    pub count: usize,
    /// Every panel has its own run of random numbers, told by this and its number: how many threads draw
    /// does not change any.
    pub seed: u64,
}

/// What is counted and measured over all draws.
#[derive(Debug, Clone, Default)]
pub struct Tally {
    /// How often each joint's room was below zero.
    pub binds: Vec<u32>,
    /// Panels that go together for certain, and those that do not.
    pub decided: [usize; 2],
    /// Those that were left to the program: how many of them, how many were asked, how many of these close.
    pub left: [usize; 3],
    /// Sum and sum of squares of each watched figure, less its known part.
    pub sums: Vec<[f64; 2]>,
    /// The first watched figures, draw by draw.
    pub samples: Vec<Vec<f64>>,
    /// How often every end met its mortise.
    pub meets: usize,
    /// Draws.
    pub count: usize,
}

/// What is looked at in every draw.
#[derive(Debug, Clone)]
pub struct Watched<'a> {
    /// Figures whose mean and deviation are wanted.
    pub figures: Vec<&'a Form>,
    /// Of these the first ones, whose values are kept.
    pub kept: usize,
    /// Both directions where closing is predicted.
    pub directions: Option<&'a [Direction; 2]>,
    /// What wood gives at a joint, mm.
    pub crush: f64,
    /// Places of ends in a row, and half of the room that they have.
    pub ends: Vec<(Vec<Form>, f64)>,
}

/// Most work for the linear programs, in joints squared: about a second.
const MOST_PROGRAM_WORK: f64 = 2.0e7;

/// Draws panels on all cores.
pub fn draw_panels(predicted: &Predicted<'_>, watched: &Watched<'_>, draws: Draws) -> Tally {
    let threads = thread::available_parallelism()
        .map_or(1, usize::from)
        .min(draws.count.max(1));
    let share = draws.count.div_ceil(threads.max(1)).max(1);
    let parts: Vec<Part> = thread::scope(|scope| {
        let starts = (0..draws.count).step_by(share);
        let running: Vec<_> = starts
            .map(|start| {
                let end = (start + share).min(draws.count);
                scope.spawn(move || drawn(predicted, watched, draws.seed, start..end))
            })
            .collect();
        running
            .into_iter()
            .filter_map(|thread| thread.join().ok())
            .collect()
    });
    let mut tally = Tally::default();
    let mut open = Vec::new();
    for part in parts {
        tally.add(&part.tally);
        open.extend(part.open);
    }
    tally.left[0] = open.len();
    let work = predicted.joints.len().max(1) as f64;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // positive
    let most = ((MOST_PROGRAM_WORK / (work * work)) as usize).max(20);
    open.truncate(most);
    tally.left[1] = open.len();
    tally.left[2] = close_exactly(predicted, watched, draws.seed, &open);
    tally
}

/// How many of these draws close, by the program.
fn close_exactly(
    predicted: &Predicted<'_>,
    watched: &Watched<'_>,
    seed: u64,
    open: &[usize],
) -> usize {
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let share = open.len().div_ceil(threads.max(1)).max(1);
    thread::scope(|scope| {
        let running: Vec<_> = open
            .chunks(share)
            .map(|part| {
                scope.spawn(move || {
                    let closes = |number: &&usize| {
                        let one = OnePanel::drawn(predicted, seed, **number);
                        one.directions(watched)
                            .iter()
                            .all(|joints| margin(joints) >= 0.0)
                    };
                    part.iter().filter(closes).count()
                })
            })
            .collect();
        running
            .into_iter()
            .filter_map(|thread| thread.join().ok())
            .sum()
    })
}

/// What one thread found.
struct Part {
    tally: Tally,
    open: Vec<usize>,
}

fn drawn(
    predicted: &Predicted<'_>,
    watched: &Watched<'_>,
    seed: u64,
    numbers: std::ops::Range<usize>,
) -> Part {
    let mut tally = Tally {
        binds: vec![0; predicted.joints.len()],
        sums: vec![[0.0; 2]; watched.figures.len()],
        samples: vec![Vec::new(); watched.kept],
        ..Tally::default()
    };
    let mut open = Vec::new();
    for number in numbers {
        let one = OnePanel::drawn(predicted, seed, number);
        tally.count += 1;
        for (binds, clearance) in tally.binds.iter_mut().zip(&one.clearance) {
            *binds += u32::from(clearance + watched.crush < 0.0);
        }
        for (at, (figure, sums)) in watched.figures.iter().zip(&mut tally.sums).enumerate() {
            let value = figure.at(&one.values);
            let off = value - figure.known;
            sums[0] += off;
            sums[1] += off * off;
            if let Some(kept) = tally.samples.get_mut(at) {
                kept.push(value);
            }
        }
        let mut rows = watched.ends.iter();
        tally.meets +=
            usize::from(rows.all(|(places, half)| row_meets(places, *half, &one.values)));
        let verdicts = one.directions(watched).map(|joints| quick_verdict(&joints));
        if watched.directions.is_none() {
            continue;
        }
        if verdicts.contains(&Verdict::DoesNot) {
            tally.decided[1] += 1;
        } else if verdicts.contains(&Verdict::Open) {
            open.push(number);
        } else {
            tally.decided[0] += 1;
        }
    }
    Part { tally, open }
}

/// Ends meet a row of mortises where they lie within the room of each other, the panel moved as it may be.
fn row_meets(places: &[Form], half: f64, values: &[f64]) -> bool {
    let mut low = f64::INFINITY;
    let mut high = f64::NEG_INFINITY;
    for place in places {
        let at = place.at(values);
        low = low.min(at);
        high = high.max(at);
    }
    high - low <= 2.0 * half
}

/// One panel as it came out.
struct OnePanel {
    values: Vec<f64>,
    off: Vec<f64>,
    clearance: Vec<f64>,
}

impl OnePanel {
    /// The panel of a number: all its sources are drawn in their order from its own run of numbers.
    fn drawn(predicted: &Predicted<'_>, seed: u64, number: usize) -> OnePanel {
        let values = values(&predicted.sources, seed, number);
        let cuts: Vec<[f64; 2]> = (predicted.cuts.iter())
            .map(|cut| [cut.near.at(&values), cut.far.at(&values)])
            .collect();
        let thickness: Vec<f64> = predicted
            .thickness
            .iter()
            .map(|form| form.at(&values))
            .collect();
        let known = |joint: &super::joints::Joint| {
            let strip = predicted.lattice.strips.get(joint.holder);
            let notch = strip.and_then(|strip| strip.notches.get(joint.notch));
            notch.map_or(0.0, |notch| notch.width) * joint.sine
                - predicted.lattice.section.thickness
        };
        let mut off = Vec::with_capacity(predicted.joints.len());
        let mut clearance = Vec::with_capacity(predicted.joints.len());
        for joint in &predicted.joints {
            let [near, far] = cuts.get(joint.cut).copied().unwrap_or_default();
            off.push(joint.sign * joint.sine * (near + far) / 2.0);
            let thicker = thickness.get(joint.mate).copied().unwrap_or(0.0);
            clearance.push(known(joint) + joint.sine * (far - near) - thicker);
        }
        OnePanel {
            values,
            off,
            clearance,
        }
    }

    fn directions(&self, watched: &Watched<'_>) -> [Joints; 2] {
        let of = |direction: &Direction| direction.drawn(&self.off, &self.clearance, watched.crush);
        watched.directions.map_or_else(Default::default, |both| {
            let [first, second] = both;
            [of(first), of(second)]
        })
    }
}

/// What the sources of a panel come to: uniform between their limits, or normal.
fn values(sources: &Sources, seed: u64, number: usize) -> Vec<f64> {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    random.set_stream(number as u64);
    let drawn = |source: &Source| match source.reading {
        PlusMinus::Limits => source.half * (2.0 * unit(random.next_u64()) - 1.0),
        PlusMinus::Twice | PlusMinus::Once => {
            let normal: f64 = StandardNormal.sample(&mut random);
            source.deviation() * normal
        }
    };
    sources.0.iter().map(drawn).collect()
}

/// From 0 to 1, from the upper 53 of 64 random bits.
fn unit(bits: u64) -> f64 {
    (bits >> 11) as f64 / (1_u64 << 53) as f64
}

impl Tally {
    fn add(&mut self, other: &Tally) {
        if self.count == 0 {
            *self = other.clone();
            return;
        }
        let binds = self.binds.iter_mut().zip(&other.binds);
        binds.for_each(|(own, more)| *own += more);
        for (own, more) in self.sums.iter_mut().zip(&other.sums) {
            own[0] += more[0];
            own[1] += more[1];
        }
        for (own, more) in self.samples.iter_mut().zip(&other.samples) {
            own.extend(more);
        }
        self.decided[0] += other.decided[0];
        self.decided[1] += other.decided[1];
        self.meets += other.meets;
        self.count += other.count;
    }

    /// Standard deviation of a watched figure over the draws, mm.
    pub fn deviation(&self, figure: usize) -> f64 {
        let n = self.count as f64;
        let [sum, squares] = self.sums.get(figure).copied().unwrap_or_default();
        ((squares - sum * sum / n) / (n - 1.0).max(1.0))
            .max(0.0)
            .sqrt()
    }

    /// The share of draws that close, with 95 % limits of it. Of those that were left open only so many were
    /// asked of the program; their share stands for the rest, and its own limits widen the answer's.
    pub fn closing(&self) -> (f64, [f64; 2]) {
        let n = self.count as f64;
        let [open, asked, closed] = self.left.map(|count| count as f64);
        let share = if asked > 0.0 { closed / asked } else { 0.0 };
        let chance = (self.decided[0] as f64 + open * share) / n.max(1.0);
        let [mut low, mut high] = super::chance::wilson(chance * n, n);
        if open > asked {
            let [least, most] = super::chance::wilson(closed, asked);
            low -= open / n * (share - least);
            high += open / n * (most - share);
        }
        (chance, [low.max(0.0), high.min(1.0)])
    }
}
