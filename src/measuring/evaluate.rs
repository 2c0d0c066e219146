//! From readings to figures of a profile.

use super::piece::{Fills, Place, Told, Unit, Work};
use super::readings::{Readings, Taken};
use super::statistics::{Statistics, Uncertainty, outlier};
use super::written::written;
use crate::finding::Finding;
use crate::machines::{Machine, PlusMinus};
use crate::phrase;
use crate::units::{Kind, Mm, UnitSystem, parse};

/// A figure for the profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Where it goes.
    pub field: String,
    /// What it is called.
    pub name: &'static str,
    /// What stands there, mm; nothing where nothing does.
    pub before: Option<f64>,
    /// What will stand there, as text with its unit.
    pub text: String,
    /// The same, mm.
    pub after: f64,
    /// What the readings came to, one by one.
    pub statistics: Statistics,
    /// Of the figure.
    pub uncertainty: Uncertainty,
}

impl Figure {
    /// Whether it follows from readings; else it was told beside them: how a test notch was programmed.
    pub fn is_measured(&self) -> bool {
        self.uncertainty.standard > 0.0
    }
}

/// A figure that no profile has.
#[derive(Debug, Clone, PartialEq)]
pub struct ToldFigure {
    /// Where its readings stand.
    pub readings: String,
    /// What it is called.
    pub name: &'static str,
    /// What beside the readings tells it from others of its name: the axis.
    pub of: Option<&'static str>,
    /// mm, rad or a share.
    pub unit: Unit,
    /// The figure.
    pub value: f64,
    /// What the readings came to, one by one.
    pub statistics: Statistics,
    /// Of the figure.
    pub uncertainty: Uncertainty,
    /// What to do with it.
    pub then: &'static str,
}

/// What all readings come to.
#[derive(Debug, Default)]
pub struct Measured {
    /// For the profile.
    pub figures: Vec<Figure>,
    /// For whoever stands at the machine.
    pub told: Vec<ToldFigure>,
    /// Spreads that are left as they are.
    pub too_few: Vec<TooFew>,
    /// Outliers.
    pub warnings: Vec<Finding>,
}

/// A spread that has too few readings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooFew {
    /// Where it would go.
    pub field: String,
    /// How many there are.
    pub count: usize,
}

/// A spread is not written from fewer readings: the deviation of four is off by 42 %, of two by 76 %
/// (GUM Table E.1).
pub const LEAST_FOR_SPREAD: usize = 5;

/// What a profile says before it is changed.
pub trait Before {
    /// A length that it has in a field: mm, and the units that it is written in.
    fn length(&self, field: &str) -> Option<(f64, UnitSystem)>;

    /// Whether it has a table.
    fn has_table(&self, table: &str) -> bool;
}

/// Tables that are made where a profile lacks them; what belongs into any other is left out with it.
const MADE_ANEW: [&str; 3] = ["measured", "fit", "spread"];

/// The only field that may hold a length that is not above zero.
const SIGNED: &str = "sled.height_correction";

/// A figure that differs from the profile's by this factor was read off something else, or is written
/// for another machine.
const GREATEST_CHANGE: f64 = 3.0;

/// What readings come to on a machine whose profile says `before`.
///
/// # Errors
/// All readings that cannot be what they are said to be, at their places in the file of readings.
pub fn evaluate(
    readings: &Readings,
    machine: &Machine,
    before: &dyn Before,
) -> Result<Measured, Vec<Finding>> {
    let mut measured = Measured::default();
    let mut faults = Vec::new();
    if readings.taken.is_empty() {
        let fault = Finding::error("nothing-read", "", "no reading is filled in");
        faults.push(fault.hint("type what the caliper said into the lists"));
    }
    for taken in &readings.taken {
        match told_of(taken, readings.step, machine.plus_minus()) {
            Ok(told) => {
                measured.warnings.extend(outlier_warning(taken, &told));
                for fills in taken.piece.fills {
                    let made = fill(taken, fills, &told, machine, before, &mut measured);
                    faults.extend(made.err());
                }
            }
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() {
        Ok(measured)
    } else {
        Err(faults)
    }
}

/// The series that findings about all of a piece's readings are shown at.
fn first_series(taken: &Taken) -> String {
    let key = taken.piece.series.first().map_or("", |series| series.key);
    format!("{}.{key}", taken.field)
}

fn worth(taken: &Taken) -> Vec<f64> {
    let work = work_of(taken);
    let sets = taken.sets();
    sets.iter()
        .map(|set| (taken.piece.of_one)(&work, set))
        .collect()
}

fn work_of(taken: &Taken) -> Work<'_> {
    Work {
        given: taken.piece.given,
        figures: &taken.figures,
    }
}

fn told_of(taken: &Taken, step: f64, plus_minus: PlusMinus) -> Result<Told, Finding> {
    let all = worth(taken);
    let Some(statistics) = Statistics::of(&all) else {
        let text =
            "one reading has no deviation, so nobody could say how far off the figure may be";
        let fault = Finding::error("one-reading", first_series(taken), text);
        return Err(fault.hint("it lacks a second at least; five are better"));
    };
    let step = step * sensitivity(taken);
    if statistics.deviation() <= 0.0 && step <= 0.0 {
        let text = "all readings are alike: the caliper shows no smaller difference, and the figure would seem to have no uncertainty at all";
        let fault = Finding::error("no-deviation", first_series(taken), text);
        return Err(fault.hint(
            "add the caliper's last digit at the top of the file, such as resolution = \"0.01 mm\"",
        ));
    }
    Ok(Told {
        statistics,
        step,
        plus_minus,
    })
}

/// By how much a set of readings comes to more where each is off by 1, added in squares (GUM 5.1.2): what it comes to is
/// linear in the readings.
fn sensitivity(taken: &Taken) -> f64 {
    let work = work_of(taken);
    let count = taken.series.len();
    let of = |set: &[f64]| (taken.piece.of_one)(&work, set);
    let none = of(&vec![0.0; count]);
    let parts = (0..count).map(|at| {
        let mut set = vec![0.0; count];
        if let Some(one) = set.get_mut(at) {
            *one = 1.0;
        }
        of(&set) - none
    });
    parts.map(|part| part * part).sum::<f64>().sqrt()
}

/// Outliers are pointed out and stay.
fn outlier_warning(taken: &Taken, told: &Told) -> Option<Finding> {
    let all = worth(taken);
    let at = outlier(&all)?;
    let apart = (all.get(at)? - told.statistics.mean()).abs();
    // What the last digit alone can make is no outlier.
    if apart <= told.step {
        return None;
    }
    let far = apart / told.statistics.deviation();
    let text = format!(
        "reading {} lies {:.2} times the standard deviation from the mean of all {}: an outlier by Grubbs' test (5 %); it counts all the same",
        at + 1,
        far,
        all.len()
    );
    let field = format!("{}[{at}]", first_series(taken));
    let warning = Finding::warning("outlier", field, text);
    Some(warning.hint(
        "measure that piece again; take the reading out only where you know what was wrong with it",
    ))
}

fn fill(
    taken: &Taken,
    fills: &Fills,
    told: &Told,
    machine: &Machine,
    before: &dyn Before,
    measured: &mut Measured,
) -> Result<(), Finding> {
    let (value, uncertainty) = (fills.figure)(&work_of(taken), told);
    let field = match fills.place {
        Place::Told(unit, then) => {
            measured.told.push(ToldFigure {
                readings: taken.field.clone(),
                name: fills.name,
                of: taken.axis(),
                unit,
                value,
                statistics: told.statistics,
                uncertainty,
                then,
            });
            return Ok(());
        }
        Place::Field(field) => {
            let table = field.split('.').next().unwrap_or_default();
            if !MADE_ANEW.contains(&table) && !before.has_table(table) {
                return Ok(());
            }
            field.to_owned()
        }
        Place::Slot => slot_field(taken, machine)?,
    };
    if is_spread(&field) && told.statistics.count() < LEAST_FOR_SPREAD {
        measured.too_few.push(TooFew {
            field,
            count: told.statistics.count(),
        });
        return Ok(());
    }
    let there = before
        .length(&field)
        .or_else(|| unmeasured_slot(&field, before));
    let (text, after) = rounded(
        value,
        there.map_or(UnitSystem::Millimetres, |(_, units)| units),
    );
    check_figure(taken, &field, after, there.map(|(mm, _)| mm), fills)?;
    if measured.figures.iter().any(|known| known.field == field) {
        let text = format!("{field} is measured twice in this file");
        let fault = Finding::error("measured-twice", first_series(taken), text);
        return Err(fault
            .hint("keep the readings of one test piece; more readings of it go into its lists"));
    }
    measured.figures.push(Figure {
        field,
        name: fills.name,
        before: there.map(|(mm, _)| mm),
        text,
        after,
        statistics: told.statistics,
        uncertainty,
    });
    Ok(())
}

impl Taken {
    /// The word beside the readings, if there is one: which axis.
    fn axis(&self) -> Option<&'static str> {
        let mut given = self.piece.given.iter().zip(&self.figures);
        given.find_map(|(given, figure)| given.holds.word(*figure))
    }
}

/// A slot that was never measured is taken for what it is called.
fn unmeasured_slot(field: &str, before: &dyn Before) -> Option<(f64, UnitSystem)> {
    let number = field.strip_prefix("rack.measured")?;
    before.length(&format!("rack.slots{number}"))
}

/// A length as it is written, and what is read back.
fn rounded(value: f64, units: UnitSystem) -> (String, f64) {
    let text = written(value, units);
    let read = parse(&text, Kind::SignedLength).map_or(f64::NAN, |read| read.value);
    (text, read)
}

/// Slots are told apart by a tenth of a millimetre at least.
const SAME_SLOT_MM: f64 = 0.05;

fn slot_field(taken: &Taken, machine: &Machine) -> Result<String, Finding> {
    let called = work_of(taken).of("slot");
    let Machine::Sled(sled) = machine else {
        return Err(Finding::error(
            "no-such-slot",
            format!("{}.slot", taken.field),
            "no rack",
        ));
    };
    let slots = sled.rack.iter().flat_map(|rack| &rack.slots);
    let names: Vec<f64> = slots.map(|slot| slot.nominal).collect();
    match names
        .iter()
        .position(|name| (name - called).abs() < SAME_SLOT_MM)
    {
        Some(at) => Ok(format!("rack.measured[{at}]")),
        None => {
            let text = phrase!("the rack has no slot that is called {}", Mm(called));
            let fault = Finding::error("no-such-slot", format!("{}.slot", taken.field), text);
            let mut hint = phrase!("it has ");
            for (at, name) in names.iter().enumerate() {
                hint.append(phrase!("{}{}", if at == 0 { "" } else { ", " }, Mm(*name)));
            }
            Err(fault.hint(hint))
        }
    }
}

/// Whether a field holds plus or minus how much something differs.
fn is_spread(field: &str) -> bool {
    field.ends_with("repeatability") || field.starts_with("mitres.") || field.starts_with("spread.")
}

fn check_figure(
    taken: &Taken,
    field: &str,
    after: f64,
    before: Option<f64>,
    fills: &Fills,
) -> Result<(), Finding> {
    if field == SIGNED {
        return Ok(());
    }
    let spread = is_spread(field);
    if !(after > 0.0 || spread && after >= 0.0) {
        let text = phrase!(
            "{} comes to {}: these readings cannot be right",
            field,
            Mm(after)
        );
        let fault = Finding::error("not-positive", first_series(taken), text);
        return Err(fault.hint("check which list is which, and the unit"));
    }
    let factor = before.map_or(1.0, |before| (after / before).max(before / after));
    // What scatters may well be several times what was thought.
    let fixed = !spread && before.is_some_and(|before| before > 0.0);
    if fixed && factor > GREATEST_CHANGE {
        let text = phrase!(
            "{} comes to {}, the profile says {}: such a difference is a slip of the pen or another machine",
            fills.name,
            Mm(after),
            Mm(before.unwrap_or_default())
        );
        let fault = Finding::error("too-far", first_series(taken), text);
        return Err(fault.hint(format!(
            "check readings, unit and what stands beside them; if they are right, write a nearer figure into the profile ({field}) first"
        )));
    }
    Ok(())
}
