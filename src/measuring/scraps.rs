//! Wood that test pieces take: scraps of the strips' section.

use super::piece::{Place, TestPiece};
use super::pieces::pieces_of;
use crate::machines::Machine;

/// Scraps of one test piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Scraps {
    /// What is measured on them.
    pub title: &'static str,
    /// How many.
    pub count: usize,
    /// Each, mm.
    pub length: f64,
}

/// Longest that a usual caliper measures, mm; common practice, no source.
const CALIPER_MM: f64 = 150.0;

/// A scrap that is held beside a cut or two. Common practice, no source, mm.
const SCRAP_MM: f64 = 100.0;

/// What a machine's figures that nobody has measured yet take of strips. Test pieces of other wood, and those on
/// the job's own strips, are not counted.
pub fn scraps_of(machine: &Machine) -> Vec<Scraps> {
    let wanted = pieces_of(machine)
        .into_iter()
        .filter(|piece| lacks(machine, piece));
    wanted.filter_map(|piece| scraps(machine, piece)).collect()
}

/// Whether a figure of a profile that follows from it has not been measured.
fn lacks(machine: &Machine, piece: &TestPiece) -> bool {
    let is_known = |field: &str| {
        machine
            .measured()
            .iter()
            .any(|figure| figure.field == field)
    };
    let mut places = piece.fills.iter().map(|fills| fills.place);
    places.any(|place| match place {
        Place::Field(field) => !is_known(field),
        Place::Slot => !machine
            .measured()
            .iter()
            .any(|figure| figure.field.starts_with("rack.")),
        Place::Told(..) => false,
    })
}

fn scraps(machine: &Machine, piece: &TestPiece) -> Option<Scraps> {
    let kinds = (piece.begun)(machine, CALIPER_MM).len();
    let (each, length) = match piece.name {
        "grooves" | "groove" | "stop" | "stop-seat" | "cut-depth" => (piece.times, SCRAP_MM),
        // Two to a lap; a pair of notches on one.
        "lap" => (2 * piece.times, SCRAP_MM),
        "notch" => (piece.times, SCRAP_MM),
        // A strip's two edges do for two slots.
        "slot" => {
            return Some(Scraps {
                title: piece.title,
                count: piece.times * kinds.div_ceil(2),
                length: CALIPER_MM,
            });
        }
        "seat" => (1, CALIPER_MM),
        _ => return None,
    };
    Some(Scraps {
        title: piece.title,
        count: each * kinds,
        length,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{read_machine, shipped_machine};

    fn scraps_for(name: &str, more: &str) -> Vec<(&'static str, usize)> {
        let shipped = shipped_machine(name).unwrap();
        let text = format!("{}{more}", shipped.text);
        let machine = read_machine(name, &text).unwrap().machine;
        scraps_of(&machine)
            .into_iter()
            .map(|scraps| (scraps.title, scraps.count))
            .collect()
    }

    /// As the pieces' own texts ask: 5 scraps for the kerf, 5 pairs of laps.
    #[test]
    fn scraps_are_those_that_the_sheet_asks_for() {
        let all = scraps_for("key-sled", "");
        let count = |title: &str| {
            all.iter()
                .find(|(known, _)| *known == title)
                .map(|(_, count)| *count)
        };
        assert_eq!(
            (count("Kerf"), count("Height")),
            (Some(5), Some(10)),
            "{all:?}"
        );
        assert!(scraps_for("paring-guides", "").is_empty());
        assert!(scraps_for("tube-laser", "").is_empty());
    }
}
