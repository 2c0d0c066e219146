//! Warnings where they are read: on the sheet at the machine, not on the screen alone.

use crate::finding::Finding;
use crate::instructions::missing::Missing;
use crate::instructions::page::{Booklet, Item, Leaf, Part, PartName};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Section};
use crate::phrase;
use crate::phrase::Phrase;

const HEADING: &str = "Mind before you start";

/// Findings as a section of a plain sheet; nothing of none.
pub fn mind_section(findings: &[Finding]) -> Option<Section> {
    (!findings.is_empty()).then(|| Section {
        heading: HEADING.into(),
        blocks: vec![Block::Remarks(findings.iter().map(words).collect())],
    })
}

/// Puts findings first on the part of a booklet that has this name; on the last part where there
/// is none.
pub fn mind_in(booklet: &mut Booklet, part: PartName, findings: &[Finding]) {
    let Some(section) = mind_section(findings) else {
        return;
    };
    let last = booklet.parts.len().saturating_sub(1);
    let at = booklet.parts.iter().position(|known| known.name == part);
    if let Some(part) = booklet.parts.get_mut(at.unwrap_or(last)) {
        let items = section.blocks.into_iter().map(Item::Block).collect();
        let heading = section.heading;
        part.leaves.insert(0, Leaf { heading, items });
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
    let leaf = |lacking: &Missing| Leaf {
        heading: format!("No {}", lacking.name()),
        items: vec![Item::Block(Block::Remarks(
            lacking.why.iter().map(words).collect(),
        ))],
    };
    let part = Part {
        name: PartName::Missing,
        heading: "Not made".into(),
        safety: SafetyNotes::for_other_ways(),
        leaves: missing.iter().map(leaf).collect(),
    };
    booklet.parts.insert(0, part);
}

fn reasons(missing: &Missing) -> impl Iterator<Item = Phrase> {
    missing.why.iter().map(|finding| {
        let mut text = phrase!("No {}: ", missing.what.as_str());
        text.append(words(finding));
        text
    })
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
