//! Sentences with lengths and angles in them that are printed only when the reader's units are
//! known.

use crate::units::{Mm, Rad, UnitSystem};

/// One part of a [`Phrase`].
#[derive(Debug, Clone, PartialEq)]
pub enum Word {
    /// Plain text.
    Text(String),
    /// A length in mm.
    Length(Mm),
    /// An angle in rad.
    Angle(Rad),
}

/// A sentence for people, made with [`crate::phrase!`].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Phrase(pub Vec<Word>);

impl Phrase {
    /// The sentence with its quantities in the given units.
    pub fn text(&self, units: UnitSystem) -> String {
        self.0
            .iter()
            .map(|word| match word {
                Word::Text(text) => text.clone(),
                Word::Length(length) => length.text(units),
                Word::Angle(angle) => angle.text(),
            })
            .collect()
    }
}

impl From<&str> for Word {
    fn from(text: &str) -> Self {
        Word::Text(text.to_owned())
    }
}

impl From<String> for Word {
    fn from(text: String) -> Self {
        Word::Text(text)
    }
}

impl From<&String> for Word {
    fn from(text: &String) -> Self {
        Word::Text(text.clone())
    }
}

impl From<usize> for Word {
    fn from(count: usize) -> Self {
        Word::Text(count.to_string())
    }
}

impl From<Mm> for Word {
    fn from(length: Mm) -> Self {
        Word::Length(length)
    }
}

impl From<Rad> for Word {
    fn from(angle: Rad) -> Self {
        Word::Angle(angle)
    }
}

impl From<&str> for Phrase {
    fn from(text: &str) -> Self {
        Phrase(vec![text.into()])
    }
}

impl From<String> for Phrase {
    fn from(text: String) -> Self {
        Phrase(vec![text.into()])
    }
}

/// A [`phrase::Phrase`](crate::phrase::Phrase) from texts, counts, [`Mm`] and [`Rad`] values, one
/// after the other.
#[macro_export]
macro_rules! phrase {
    ($($part:expr),* $(,)?) => {
        $crate::phrase::Phrase(vec![$($crate::phrase::Word::from($part)),*])
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_follow_the_readers_units() {
        let phrase = phrase!["set ", Mm(12.7), " at ", Rad(std::f64::consts::FRAC_PI_8)];
        assert_eq!(
            phrase.text(UnitSystem::Millimetres),
            "set 12.70 mm at 22.5 deg"
        );
        assert_eq!(
            phrase.text(UnitSystem::Inches),
            "set 0.5000 in [1/2 +0.0000] at 22.5 deg"
        );
    }
}
