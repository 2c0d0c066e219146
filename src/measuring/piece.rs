//! A kind of test piece: what is cut, what is read on it, and which figures of a profile follow.

use super::statistics::{Statistics, Uncertainty};
use crate::machines::{Machine, PlusMinus};

/// A kind of test piece, or of another simple test. All kinds stand in `pieces/`, a row each: sheets, files
/// of readings and what is written into profiles follow from the rows.
#[derive(Debug)]
pub struct TestPiece {
    /// Its table in a file of readings.
    pub name: &'static str,
    /// On sheets.
    pub title: &'static str,
    /// Whether a machine can be measured so.
    pub suits: fn(&Machine) -> bool,
    /// Figures that are told beside the readings.
    pub given: &'static [Given],
    /// What is read: a list each, as many readings in one as in the other.
    pub series: &'static [Series],
    /// How often it is cut and read.
    pub times: usize,
    /// Whether there are several of them, each with other figures beside.
    pub several: bool,
    /// Figures beside the readings as a file of readings is begun with them, one list for each of several; none of
    /// what only the person who cuts knows. The second argument: the longest that the caliper measures, mm.
    pub begun: fn(&Machine, f64) -> Vec<Vec<Option<f64>>>,
    /// What one set of readings, one of each series, comes to. Linear in the readings.
    pub of_one: fn(&Work<'_>, &[f64]) -> f64,
    /// What follows.
    pub fills: &'static [Fills],
    /// How it is cut.
    pub cut: &'static str,
    /// Where to put the caliper.
    pub caliper: &'static str,
}

/// A figure beside the readings.
#[derive(Debug)]
pub struct Given {
    /// Its key.
    pub key: &'static str,
    /// What may stand there.
    pub holds: Holds,
    /// What it is.
    pub means: &'static str,
}

/// What stands behind a key of a file of readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// A length above zero.
    Length,
    /// A length, below zero too.
    Signed,
    /// A whole number, the least and the greatest.
    Count(u32, u32),
    /// One of these words; its index is the figure.
    Word(&'static [&'static str]),
}

impl Holds {
    /// The word that a figure stands for, if it stands for any.
    pub fn word(self, figure: f64) -> Option<&'static str> {
        let Holds::Word(words) = self else {
            return None;
        };
        let mut known = (0_u32..).zip(words);
        let found = known.find(|(at, _)| (f64::from(*at) - figure).abs() < 0.5);
        found.map(|(_, word)| *word)
    }
}

/// A list of readings.
#[derive(Debug)]
pub struct Series {
    /// Its key.
    pub key: &'static str,
    /// Whether they may be zero: a gap, a play.
    pub may_be_none: bool,
    /// What is read.
    pub means: &'static str,
}

/// A figure that follows from readings.
#[derive(Debug)]
pub struct Fills {
    /// Where it goes.
    pub place: Place,
    /// What it is called on sheets.
    pub name: &'static str,
    /// The figure, and how uncertain it is.
    pub figure: fn(&Work<'_>, &Told) -> (f64, Uncertainty),
}

/// Where a figure goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Into this field of the profile, a length; if its table is there.
    Field(&'static str),
    /// Into the rack's list of what its slots measure.
    Slot,
    /// Nowhere: no profile has it. What to do with it is a sentence.
    Told(Unit, &'static str),
}

/// What a figure that is only told is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Length,
    /// Radians.
    Angle,
    /// A share of what it should be.
    Share,
}

/// The figures beside some readings, in the order of the rows that name them.
#[derive(Debug, Clone, Copy)]
pub struct Work<'a> {
    /// Which keys.
    pub given: &'static [Given],
    /// Their figures: mm, counts, or indexes of words.
    pub figures: &'a [f64],
}

impl Work<'_> {
    /// A figure by its key; not a number where there is none, which no reader lets through.
    pub fn of(&self, key: &str) -> f64 {
        let at = self.given.iter().position(|given| given.key == key);
        let figure = at.and_then(|at| self.figures.get(at));
        figure.copied().unwrap_or(f64::NAN)
    }
}

/// What the readings come to.
#[derive(Debug, Clone, Copy)]
pub struct Told {
    /// Of what each set of readings came to.
    pub statistics: Statistics,
    /// The last digit of what was read, in what a set of readings comes to.
    pub step: f64,
    /// How the profile's figures plus or minus are read.
    pub plus_minus: PlusMinus,
}

/// The mean itself.
pub(super) fn mean(_: &Work<'_>, told: &Told) -> (f64, Uncertainty) {
    (told.statistics.mean(), told.statistics.of_mean(told.step))
}

/// Plus or minus how much single ones lie about their mean, as the profile reads such figures: as limits,
/// what a further one keeps in 95 % of cases, since readings that scatter normally have no limits; else
/// twice or once their standard deviation.
pub(super) fn plus_minus(_: &Work<'_>, told: &Told) -> (f64, Uncertainty) {
    // What differs by less than the last digit is not seen: the deviation is taken for that digit's own.
    let statistics = told.statistics.no_finer_than(told.step);
    let half = match told.plus_minus {
        PlusMinus::Limits => statistics.of_one_more(),
        PlusMinus::Twice => 2.0 * statistics.deviation(),
        PlusMinus::Once => statistics.deviation(),
    };
    let deviation = statistics.deviation();
    let factor = if deviation > 0.0 {
        half / deviation
    } else {
        0.0
    };
    (half, statistics.of_deviation().times(factor))
}

/// One list of figures beside the readings: none of them.
pub(super) fn nothing_beside(_: &Machine, _: f64) -> Vec<Vec<Option<f64>>> {
    vec![Vec::new()]
}

/// A reading as it is.
pub(super) fn as_read(_: &Work<'_>, read: &[f64]) -> f64 {
    read.first().copied().unwrap_or(f64::NAN)
}

/// The list that most have.
pub(super) const READINGS: &str = "readings";
