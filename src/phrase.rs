//! Sentences with lengths and angles in them that are printed only when the reader's units are
//! known.

use crate::units::{AtLeast, AtMost, Brief, Feed, Fine, Mm, Rad, UnitSystem};

/// One part of a [`Phrase`].
#[derive(Debug, Clone, PartialEq)]
pub enum Word {
    /// Plain text.
    Text(String),
    /// A length in mm.
    Length(Mm),
    /// A length in mm, told without fractions of an inch.
    Brief(Brief),
    /// A length in mm as it was measured.
    Fine(Fine),
    /// The least length that will do, in mm.
    AtLeast(AtLeast),
    /// The most length that will do, in mm.
    AtMost(AtMost),
    /// A speed in mm a minute.
    Feed(Feed),
    /// An angle in rad.
    Angle(Rad),
}

/// A sentence for people, made with [`crate::phrase!`].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Phrase(pub Vec<Word>);

impl Phrase {
    /// A sentence in which each `{}` is replaced by the next of `words`.
    pub fn compose(sentence: &str, words: impl IntoIterator<Item = Word>) -> Phrase {
        let mut words = words.into_iter();
        let mut parts = sentence.split("{}");
        let mut phrase = Phrase(Vec::new());
        phrase.0.extend(parts.next().map(Word::from));
        for part in parts {
            phrase.0.extend(words.next());
            phrase.0.push(part.into());
        }
        phrase.0.retain(|word| *word != Word::Text(String::new()));
        phrase
    }

    /// Adds to the sentence's end.
    pub fn append(&mut self, more: Phrase) {
        self.0.extend(more.0);
    }

    /// The sentence with its quantities in the given units.
    pub fn text(&self, units: UnitSystem) -> String {
        self.told(|quantity| quantity.text(units))
    }

    /// All of it, with quantities as they are to be told.
    fn told(&self, quantity: impl Fn(&Word) -> String) -> String {
        let mut told = String::new();
        for word in &self.0 {
            match word {
                Word::Text(text) => told.push_str(text),
                other => told.push_str(&quantity(other)),
            }
        }
        told
    }

    /// The same to be broken into lines: spaces within a quantity are such that no line ends there.
    pub fn to_be_broken(&self, units: UnitSystem) -> String {
        self.told(|quantity| quantity.to_be_broken(units))
    }
}

/// A space at which no line is broken.
pub const KEPT_SPACE: char = '\u{a0}';

impl Word {
    /// The word with its quantity in the given units.
    pub fn text(&self, units: UnitSystem) -> String {
        match self {
            Word::Text(text) => text.clone(),
            Word::Length(length) => length.text(units),
            Word::Brief(length) => length.text(units),
            Word::Fine(length) => length.text(units),
            Word::AtLeast(length) => length.text(units),
            Word::AtMost(length) => length.text(units),
            Word::Feed(feed) => feed.text(units),
            Word::Angle(angle) => angle.text(),
        }
    }

    /// See [`Phrase::to_be_broken`].
    pub fn to_be_broken(&self, units: UnitSystem) -> String {
        match self {
            Word::Text(text) => text.clone(),
            quantity => quantity
                .text(units)
                .replace(' ', KEPT_SPACE.encode_utf8(&mut [0; 4])),
        }
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

impl From<Brief> for Word {
    fn from(length: Brief) -> Self {
        Word::Brief(length)
    }
}

impl From<Fine> for Word {
    fn from(length: Fine) -> Self {
        Word::Fine(length)
    }
}

impl From<AtMost> for Word {
    fn from(length: AtMost) -> Self {
        Word::AtMost(length)
    }
}

impl From<AtLeast> for Word {
    fn from(length: AtLeast) -> Self {
        Word::AtLeast(length)
    }
}

impl From<Feed> for Word {
    fn from(feed: Feed) -> Self {
        Word::Feed(feed)
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

/// A number and what is counted: one strip is one strip.
pub fn counted(count: usize, noun: &str) -> String {
    format!("{count} {}", plural(count, noun))
}

/// What is counted without its number.
pub fn plural(count: usize, noun: &str) -> String {
    format!("{noun}{}", if count == 1 { "" } else { "s" })
}

/// How many `{}` a sentence has, for [`crate::phrase!`] to count while it compiles.
#[must_use]
pub const fn places(sentence: &str) -> usize {
    let mut rest = sentence.as_bytes();
    let mut count = 0;
    while let [first, after @ ..] = rest {
        rest = after;
        if let (b'{', [b'}', beyond @ ..]) = (*first, after) {
            count += 1;
            rest = beyond;
        }
    }
    count
}

/// A [`phrase::Phrase`](crate::phrase::Phrase) from a sentence and what stands for each `{}` in
/// it: texts, counts, [`Mm`], [`Brief`], [`AtLeast`], [`AtMost`], [`Feed`] and [`Rad`] values.
///
/// ```
/// use lapwright::{phrase, units::{Mm, UnitSystem}};
///
/// let set = phrase!("set the stop {} from the {}", Mm(6.0), "blade");
/// assert_eq!(set.text(UnitSystem::Millimetres), "set the stop 6.00 mm from the blade");
/// ```
///
/// A sentence that is given too little or too much does not compile: a figure that is left out, or
/// that nobody sees, is no small thing in a set-up sheet.
///
/// ```compile_fail,E0080
/// use lapwright::{phrase, units::Mm};
///
/// let set = phrase!("set the stop {} from the {}", Mm(6.0));
/// ```
///
/// ```compile_fail,E0080
/// use lapwright::{phrase, units::Mm};
///
/// let set = phrase!("set the stop {} from the blade", Mm(6.0), Mm(7.0));
/// ```
#[macro_export]
macro_rules! phrase {
    ($sentence:literal $(, $word:expr)* $(,)?) => {{
        const _: () = assert!(
            $crate::phrase::places($sentence) == <[&str]>::len(&[$(stringify!($word)),*]),
            "a sentence needs one value for each `{{}}` in it"
        );
        $crate::phrase::Phrase::compose($sentence, [$($crate::phrase::Word::from($word)),*])
    }};
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_as_they_are_filled() {
        for sentence in ["", "{}", "{}{} and {", "{{}}", "} {}{", "a {} b"] {
            assert_eq!(
                places(sentence),
                sentence.matches("{}").count(),
                "{sentence}"
            );
        }
    }

    #[test]
    fn a_quantity_is_not_broken() {
        let phrase = phrase!("set {} here", Mm(3.0));
        assert_eq!(
            phrase.to_be_broken(UnitSystem::Inches),
            "set 0.1181\u{a0}in\u{a0}[1/8\u{a0}-0.0069] here"
        );
    }

    #[test]
    fn quantities_follow_the_readers_units() {
        let phrase = phrase!("set {} at {}", Mm(12.7), Rad(std::f64::consts::FRAC_PI_8));
        assert_eq!(
            phrase.text(UnitSystem::Millimetres),
            "set 12.70 mm at 22.5 deg"
        );
        assert_eq!(phrase.text(UnitSystem::Inches), "set 1/2 in at 22.5 deg");
    }
}
