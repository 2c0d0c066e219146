//! What a sheet tells of its machine's figures that were measured.

use crate::instructions::measured::MeasuredNote;
use crate::instructions::sheet::{Block, Section};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Fine;

/// Slots of a rack: of these there may be many.
const SLOTS: &str = "rack.measured[";

/// The figures as a part of a machine's sheet; nothing where none was measured.
pub(super) fn measured_section(figures: &[MeasuredNote]) -> Option<Section> {
    if figures.is_empty() {
        return None;
    }
    Some(Section {
        heading: "Machine as measured".into(),
        blocks: vec![Block::Remarks(lines(figures))],
    })
}

/// A line for each; slots that were measured alike have one together.
fn lines(figures: &[MeasuredNote]) -> Vec<Phrase> {
    let mut told: Vec<&MeasuredNote> = Vec::new();
    let mut lines = Vec::new();
    for figure in figures {
        if told.contains(&figure) {
            continue;
        }
        let alike = figures
            .iter()
            .filter(|other| are_alike_slots(figure, other));
        let alike: Vec<&MeasuredNote> = alike.collect();
        if figure.field.starts_with(SLOTS) {
            lines.push(slots_line(&alike));
            told.extend(alike);
        } else {
            lines.push(line(figure));
        }
    }
    lines
}

fn are_alike_slots(one: &MeasuredNote, other: &MeasuredNote) -> bool {
    [one, other]
        .iter()
        .all(|figure| figure.field.starts_with(SLOTS))
        && one.date == other.date
        && one.readings == other.readings
}

fn line(figure: &MeasuredNote) -> Phrase {
    phrase!(
        "{} {}, measured {} from {}, +-{} (95 %)",
        &figure.name,
        Fine(figure.value_mm),
        &figure.date,
        counted(figure.readings, "reading"),
        Fine(figure.expanded_uncertainty_mm)
    )
}

fn slots_line(slots: &[&MeasuredNote]) -> Phrase {
    let most = slots.iter().map(|slot| slot.expanded_uncertainty_mm);
    let most = most.fold(0.0, f64::max);
    let (date, readings) = slots
        .first()
        .map_or(("", 0), |slot| (slot.date.as_str(), slot.readings));
    let mut words = phrase!(
        "{}, measured {} from {} each, at most +-{} (95 %): ",
        counted(slots.len(), "slot"),
        date,
        counted(readings, "reading"),
        Fine(most)
    );
    for (at, slot) in slots.iter().enumerate() {
        let name = slot.name.trim_start_matches("slot ");
        let comma = if at == 0 { "" } else { ", " };
        words.append(phrase!("{}{} is {}", comma, name, Fine(slot.value_mm)));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::UnitSystem;

    fn note(field: &str, name: &str, value_mm: f64, uncertainty: f64) -> MeasuredNote {
        MeasuredNote {
            field: field.into(),
            name: name.into(),
            value_mm,
            date: "2026-11-30".into(),
            readings: 5,
            deviation_mm: 0.012,
            expanded_uncertainty_mm: uncertainty,
        }
    }

    #[test]
    fn every_figure_has_its_date_and_slots_are_one_line() {
        let figures = [
            note("blade.kerf", "kerf", 2.613, 0.015),
            note("rack.measured[0]", "slot 23 mm", 23.021, 0.004),
            note("rack.measured[1]", "slot 31 mm", 30.984, 0.006),
        ];
        let told: Vec<String> = lines(&figures)
            .iter()
            .map(|line| line.text(UnitSystem::Millimetres))
            .collect();
        assert_eq!(
            told,
            [
                "kerf 2.613 mm, measured 2026-11-30 from 5 readings, +-0.015 mm (95 %)",
                "2 slots, measured 2026-11-30 from 5 readings each, at most +-0.006 mm (95 %): 23 mm is 23.021 mm, 31 mm is 30.984 mm",
            ]
        );
        assert!(measured_section(&[]).is_none());
    }
}
