//! Warnings where they are read: on the sheet at the machine, not on the screen alone.

use crate::finding::Finding;
use crate::instructions::page::{Booklet, Item, Leaf};
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
pub fn mind_in(booklet: &mut Booklet, part: &str, findings: &[Finding]) {
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
