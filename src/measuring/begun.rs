//! A file of readings as it is begun: the test pieces' tables with what stands beside the readings, and
//! empty lists.

use super::piece::{Holds, TestPiece};
use super::pieces::pieces_of;
use super::written::written;
use crate::machines::{Date, Machine};
use crate::units::UnitSystem;
use std::fmt::Write;

/// The text for a machine, TOML; `name` is its profile's, `caliper` the longest that the caliper measures,
/// mm. Figures stand in the units that somebody reads.
pub fn begun(name: &str, machine: &Machine, caliper: f64, date: Date, units: UnitSystem) -> String {
    let (unit, digit) = match units {
        UnitSystem::Millimetres => ("mm", "0.01"),
        UnitSystem::Inches => ("in", "0.0005"),
    };
    let mut text = format!(
        "# Readings taken on {name}, for: lapwright machine measure {name} --from THIS-FILE\n\
         # Type what the caliper said into the lists, in the unit below: across = [62.61, 62.58]\n\
         # A list that stays empty changes nothing. What stands beside lists must be as it was cut.\n\
         date = {date}\n\
         unit = \"{unit}\"\n\
         resolution = {digit}   # the caliper's last digit\n"
    );
    for piece in pieces_of(machine) {
        for beside in (piece.begun)(machine, caliper) {
            // Writing into text cannot fail.
            let _ = table(&mut text, piece, &beside, units);
        }
    }
    text
}

fn table(
    text: &mut String,
    piece: &TestPiece,
    beside: &[Option<f64>],
    units: UnitSystem,
) -> std::fmt::Result {
    let name = piece.name;
    if piece.several {
        writeln!(text, "\n[[{name}]]   # {}", piece.title)?;
    } else {
        writeln!(text, "\n[{name}]   # {}", piece.title)?;
    }
    for (given, figure) in piece.given.iter().zip(beside) {
        let Some(figure) = figure else {
            writeln!(text, "{} = \"\"   # fill in: {}", given.key, given.means)?;
            continue;
        };
        let value = match given.holds {
            Holds::Length | Holds::Signed => {
                let text = written(*figure, units);
                text.split(' ').next().unwrap_or_default().to_owned()
            }
            Holds::Count(..) => format!("{figure}"),
            Holds::Word(_) => format!("\"{}\"", given.holds.word(*figure).unwrap_or_default()),
        };
        writeln!(text, "{} = {value}   # {}", given.key, given.means)?;
    }
    for series in piece.series {
        writeln!(text, "{} = []   # {}", series.key, series.means)?;
    }
    Ok(())
}
