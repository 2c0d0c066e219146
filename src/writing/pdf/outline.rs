//! Ways through the file: its outline (ISO 32000-1, 12.3.3) and links on pages (12.5.6.5), both with
//! explicit destinations (12.3.2.2).

use super::contents::{Chapter, Entry};
use super::file::points;
use super::flow::Place;
use super::mark::Mark;
use crate::geometry::Point;
use crate::units::NotPrintable;
use pdf_writer::types::{AnnotationFlags, AnnotationType};
use pdf_writer::writers::Destination;
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};

/// The pages' references and height: what destinations are made from.
pub(super) struct Leaves<'a> {
    pub(super) pages: &'a [Ref],
    /// Of a page, mm.
    pub(super) height: f64,
}

impl Leaves<'_> {
    /// The page of a place, its upper edge there, the reader's own scale.
    fn aim(&self, to: Place, destination: Destination<'_>) -> Result<(), NotPrintable> {
        let page = self.pages.get(to.page).ok_or(NotPrintable)?;
        let top = points(self.height - to.y)?;
        destination.page(*page).xyz(0.0, top, None);
        Ok(())
    }
}

/// Writes the outline under `root`: chapters, and below each its sections, all unfolded.
pub(super) fn write(
    pdf: &mut Pdf,
    next: &mut Ref,
    root: Ref,
    chapters: &[Chapter],
    leaves: &Leaves<'_>,
) -> Result<(), NotPrintable> {
    let refs: Vec<(Ref, Vec<Ref>)> = chapters
        .iter()
        .map(|chapter| {
            let own = next.bump();
            (own, chapter.sections.iter().map(|_| next.bump()).collect())
        })
        .collect();
    let own: Vec<Ref> = refs.iter().map(|(own, _)| *own).collect();
    let shown = refs.iter().map(|(_, below)| 1 + below.len()).sum();
    let mut outline = pdf.outline(root);
    if let ([first, ..], [.., last]) = (own.as_slice(), own.as_slice()) {
        outline.first(*first).last(*last).count(counted(shown)?);
    }
    outline.finish();
    for (at, (chapter, (parent, below))) in chapters.iter().zip(&refs).enumerate() {
        write_item(pdf, root, &own, at, &chapter.own, below, leaves)?;
        for (row, section) in chapter.sections.iter().enumerate() {
            write_item(pdf, *parent, below, row, section, &[], leaves)?;
        }
    }
    Ok(())
}

fn counted(count: usize) -> Result<i32, NotPrintable> {
    i32::try_from(count).map_err(|_| NotPrintable)
}

/// One of `row`, in which it is number `at`.
fn write_item(
    pdf: &mut Pdf,
    parent: Ref,
    row: &[Ref],
    at: usize,
    entry: &Entry,
    below: &[Ref],
    leaves: &Leaves<'_>,
) -> Result<(), NotPrintable> {
    let own = row.get(at).ok_or(NotPrintable)?;
    let mut item = pdf.outline_item(*own);
    item.title(TextStr(&entry.heading)).parent(parent);
    if let Some(prev) = at.checked_sub(1).and_then(|at| row.get(at)) {
        item.prev(*prev);
    }
    if let Some(next) = row.get(at + 1) {
        item.next(*next);
    }
    if let ([first, ..], [.., last]) = (below, below) {
        let count = counted(below.len())?;
        item.first(*first).last(*last).count(count);
    }
    leaves.aim(entry.place, item.dest())
}

/// The links on a page: their areas and where they lead.
pub(super) fn links(page: &[Mark]) -> Vec<(Point, Point, Place)> {
    let link = |mark: &Mark| match mark {
        Mark::Link { low, high, to } => Some((*low, *high, *to)),
        _ => None,
    };
    page.iter().filter_map(link).collect()
}

/// Writes a link, an annotation without a border.
pub(super) fn write_link(
    pdf: &mut Pdf,
    own: Ref,
    (low, high, to): (Point, Point, Place),
    leaves: &Leaves<'_>,
) -> Result<(), NotPrintable> {
    let mut link = pdf.annotation(own);
    link.subtype(AnnotationType::Link);
    link.rect(Rect::new(
        points(low.x)?,
        points(leaves.height - high.y)?,
        points(high.x)?,
        points(leaves.height - low.y)?,
    ));
    link.border(0.0, 0.0, 0.0, None);
    link.flags(AnnotationFlags::PRINT);
    link.contents(TextStr(&format!("Page {}", to.page + 1)));
    leaves.aim(to, link.insert(Name(b"Dest")).start())
}
