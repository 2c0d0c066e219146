//! Patterns side by side: what each needs and how it looks.

use super::drawing::Drawing;
use crate::infill::PatternGroup;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Rad, UnitSystem};

/// What a pattern needs.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternFacts {
    /// Pieces in one cell.
    pub pieces: usize,
    /// Greatest thickness of strips and pieces, as a part of the pitch.
    pub greatest: f64,
    /// The guide blocks' angles, rising, radians; none where all ends are square.
    pub guide_angles: Vec<f64>,
}

impl PatternFacts {
    /// In one line.
    pub fn words(&self) -> Phrase {
        let pieces = match self.pieces {
            1 => "1 piece".to_owned(),
            count => format!("{count} pieces"),
        };
        let greatest = format!("{:.3}", self.greatest);
        let greatest = greatest.trim_end_matches('0');
        let mut words = phrase!("{}; thickness at most {} of the pitch; ", pieces, greatest);
        match self.guide_angles.split_last() {
            None => words.append(Phrase::from("all ends square: no guides")),
            Some((last, others)) => {
                words.append(Phrase::from("guides "));
                for angle in others {
                    let angle = phrase!("{}", Rad(*angle)).text(UnitSystem::Millimetres);
                    words.append(Phrase::from(format!(
                        "{}, ",
                        angle.trim_end_matches(" deg")
                    )));
                }
                words.append(phrase!("{}", Rad(*last)));
            }
        }
        words
    }
}

/// A pattern in a list.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternEntry {
    /// What jobs call it.
    pub name: String,
    /// `square`, `triangle` or `rhomb`.
    pub cell: &'static str,
    /// One line about it.
    pub about: String,
    /// What it is listed among.
    pub group: PatternGroup,
    /// What it needs.
    pub facts: PatternFacts,
    /// It over several cells.
    pub picture: Drawing,
}

/// Patterns, group by group; groups without any are left out.
pub fn in_groups(
    entries: &[PatternEntry],
) -> impl Iterator<Item = (PatternGroup, Vec<&PatternEntry>)> {
    PatternGroup::ALL.into_iter().filter_map(|group| {
        let of_it: Vec<_> = entries
            .iter()
            .filter(|entry| entry.group == group)
            .collect();
        (!of_it.is_empty()).then_some((group, of_it))
    })
}
