//! Two panels, figure by figure.

use super::lines::{OverviewLine, overview_lines};
use crate::geometry::tolerance::POSITION;
use crate::instructions::overview::Overview;
use crate::phrase::{Phrase, Word};
use crate::units::UnitSystem;
use float_cmp::ApproxEq;

/// What two panels are, figure by figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What is not the same, each with what is said of the first panel and of the second; nothing is
    /// said where only the other has it.
    pub differs: Vec<(String, [Option<Phrase>; 2])>,
    /// What is the same.
    pub equal: Vec<String>,
}

/// Holds two panels side by side.
pub fn compared(panels: [&Overview; 2], units: UnitSystem) -> Compared {
    let [first, second] = panels.map(|panel| overview_lines(panel, units));
    let mut found = Compared {
        differs: Vec::new(),
        equal: Vec::new(),
    };
    let labels = first.iter().chain(&second).map(|line| &line.label);
    let mut known: Vec<&String> = Vec::new();
    for label in labels {
        if known.contains(&label) {
            continue;
        }
        known.push(label);
        match (said(&first, label), said(&second, label)) {
            (Some(a), Some(b)) if is_same(a, b) => found.equal.push(label.clone()),
            (a, b) => {
                let both = [a.cloned(), b.cloned()];
                found.differs.push((label.clone(), both));
            }
        }
    }
    found
}

fn said<'a>(lines: &'a [OverviewLine], label: &str) -> Option<&'a Phrase> {
    let mut lines = lines.iter();
    let line = lines.find(|line| line.label == label)?;
    Some(&line.words)
}

/// Lengths and angles that are the same but for rounding are the same.
fn is_same(a: &Phrase, b: &Phrase) -> bool {
    let same = |(a, b): (&Word, &Word)| match (a, b) {
        (Word::Length(a), Word::Length(b)) => a.0.approx_eq(b.0, POSITION),
        (Word::Brief(a), Word::Brief(b)) => a.0.approx_eq(b.0, POSITION),
        (Word::Angle(a), Word::Angle(b)) => a.0.approx_eq(b.0, POSITION),
        (a, b) => a == b,
    };
    a.0.len() == b.0.len() && a.0.iter().zip(&b.0).all(same)
}
