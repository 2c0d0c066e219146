//! Warnings where they are read: on the sheet at the machine, not on the screen alone.

use crate::finding::Finding;
use crate::instructions::booklet::Booklet;
use crate::instructions::missing::Missing;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Section, SetupSheet, SheetPart};
use crate::phrase;
use crate::phrase::{Phrase, Word};

const HEADING: &str = "Mind before you start";

/// Findings as a section of a plain sheet; nothing of none.
pub fn mind_section(findings: &[Finding]) -> Option<Section> {
    (!findings.is_empty()).then(|| Section {
        heading: HEADING.into(),
        blocks: vec![Block::Remarks(findings.iter().map(sentence).collect())],
    })
}

/// Puts findings first on the part of a booklet that has this name; on the last part where there
/// is none.
pub fn mind_in(booklet: &mut Booklet, part: SheetPart, findings: &[Finding]) {
    let Some(section) = mind_section(findings) else {
        return;
    };
    let last = booklet.sheets.len().saturating_sub(1);
    let at = booklet.sheets.iter().position(|known| known.part == part);
    if let Some(sheet) = booklet.sheets.get_mut(at.unwrap_or(last)) {
        sheet.sections.insert(0, section);
    }
}

/// What is not made and why, as a section of a plain sheet; nothing where nothing is missing.
pub fn missing_section<'a>(missing: impl IntoIterator<Item = &'a Missing>) -> Option<Section> {
    let remarks: Vec<Phrase> = missing.into_iter().flat_map(reasons).collect();
    (!remarks.is_empty()).then(|| Section {
        heading: "Not made".into(),
        blocks: vec![Block::Remarks(remarks)],
    })
}

/// Begins a booklet with what is not made, each thing with its reasons.
pub fn missing_first(booklet: &mut Booklet, missing: &[Missing]) {
    if missing.is_empty() {
        return;
    }
    let section = |lacking: &Missing| Section {
        heading: format!("No {}", lacking.name()),
        blocks: vec![Block::Remarks(lacking.why.iter().map(sentence).collect())],
    };
    let sheet = SetupSheet {
        part: SheetPart::Missing,
        title: booklet.title.clone(),
        heading: "Not made".into(),
        safety: SafetyNotes::for_other_ways(),
        sections: missing.iter().map(section).collect(),
    };
    booklet.sheets.insert(0, sheet);
}

fn reasons(missing: &Missing) -> impl Iterator<Item = Phrase> {
    missing.why.iter().map(|finding| {
        let mut text = phrase!("No {}: ", missing.what.as_str());
        text.append(words(finding));
        text
    })
}

/// A finding as sentences, begun as such.
fn sentence(finding: &Finding) -> Phrase {
    let mut words = words(finding);
    if let Some(Word::Text(text)) = words.0.first_mut() {
        *text = begun(text);
    }
    words
}

fn words(finding: &Finding) -> Phrase {
    let mut words = finding.message.clone();
    if let Some(hint) = &finding.hint {
        words.append(phrase!(" ("));
        words.append(hint.clone());
        words.append(phrase!(")"));
    }
    words.append(phrase!("."));
    words
}

/// A text with a capital letter at its beginning, but for a key of a file or a name, which are written so.
fn begun(text: &str) -> String {
    let first = text.split_whitespace().next().unwrap_or_default();
    let plain = first
        .chars()
        .all(|letter| letter.is_alphabetic() || letter == ',' || letter == '-');
    let mut letters = text.chars();
    match letters.next() {
        Some(letter) if plain => letter.to_uppercase().chain(letters).collect(),
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_begins_with_a_capital_letter_and_a_key_stays_as_it_is() {
        assert_eq!(begun("a second pass"), "A second pass");
        assert_eq!(begun("4 short lines"), "4 short lines");
        assert_eq!(begun("`rack.slots` lacks"), "`rack.slots` lacks");
        assert_eq!(begun("strip.depth is"), "strip.depth is");
        assert_eq!(begun(""), "");
    }
}
