//! Ways through the file: its outline (ISO 32000-1, 12.3.3) and links on pages (12.5.6.5), both with
//! explicit destinations (12.3.2.2).

use super::chapters::{Chapter, ContentsEntry};
use super::page_element::PageElement;
use super::page_place::PagePlace;
use super::points::points;
use super::tags::TagId;
use crate::geometry::Point;
use crate::units::NotPrintable;
use pdf_writer::types::{AnnotationFlags, AnnotationType};
use pdf_writer::writers::Destination;
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};

/// The pages' references and height: what destinations are made from.
pub(super) struct PageRefs<'a> {
    pub(super) pages: &'a [Ref],
    /// Of a page, mm.
    pub(super) height: f64,
}

impl PageRefs<'_> {
    /// The page of a place, its upper left corner there, the reader's own scale.
    fn aim(&self, to: PagePlace, destination: Destination<'_>) -> Result<(), NotPrintable> {
        let page = self.pages.get(to.page).ok_or(NotPrintable)?;
        let top = points(self.height - to.y)?;
        destination.page(*page).xyz(points(to.x)?, top, None);
        Ok(())
    }
}

/// A chapter's item of the outline, and those of its sections.
struct ItemRefs {
    chapter: Ref,
    sections: Vec<Ref>,
}

/// Writes the outline under `root`: chapters, and below each its sections, all unfolded.
pub(super) fn write_outline(
    pdf: &mut Pdf,
    next: &mut Ref,
    root: Ref,
    chapters: &[Chapter],
    page_refs: &PageRefs<'_>,
) -> Result<(), NotPrintable> {
    let mut items = Vec::new();
    for chapter in chapters {
        items.push(ItemRefs {
            chapter: next.bump(),
            sections: chapter.sections.iter().map(|_| next.bump()).collect(),
        });
    }
    let top: Vec<Ref> = items.iter().map(|item| item.chapter).collect();
    let shown = items.iter().map(|item| 1 + item.sections.len()).sum();
    let mut outline = pdf.outline(root);
    if let ([first, ..], [.., last]) = (top.as_slice(), top.as_slice()) {
        outline.first(*first).last(*last).count(counted(shown)?);
    }
    outline.finish();
    for (at, (chapter, item)) in chapters.iter().zip(&items).enumerate() {
        write_item(pdf, root, &top, at, &chapter.own, &item.sections, page_refs)?;
        for (row, section) in chapter.sections.iter().enumerate() {
            write_item(
                pdf,
                item.chapter,
                &item.sections,
                row,
                section,
                &[],
                page_refs,
            )?;
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
    entry: &ContentsEntry,
    below: &[Ref],
    page_refs: &PageRefs<'_>,
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
    page_refs.aim(entry.place, item.dest())
}

/// A link: the area on its page, and where it leads.
pub(super) struct PageLink {
    low: Point,
    high: Point,
    to: PagePlace,
    /// The element of the document's tree that it is.
    pub(super) tag: TagId,
}

/// The links on a page.
pub(super) fn links(page: &[PageElement]) -> Vec<PageLink> {
    let mut links = Vec::new();
    for element in page {
        match *element {
            PageElement::Link { low, high, to, tag } => links.push(PageLink { low, high, to, tag }),
            PageElement::Fill { .. }
            | PageElement::Line { .. }
            | PageElement::Text { .. }
            | PageElement::Marked { .. }
            | PageElement::Window { .. } => {}
        }
    }
    links
}

/// Writes a link, an annotation without a border.
pub(super) fn write_link(
    pdf: &mut Pdf,
    (own, key): (Ref, i32),
    link: &PageLink,
    page_refs: &PageRefs<'_>,
) -> Result<(), NotPrintable> {
    let mut annotation = pdf.annotation(own);
    annotation.subtype(AnnotationType::Link);
    annotation.rect(Rect::new(
        points(link.low.x)?,
        points(page_refs.height - link.high.y)?,
        points(link.high.x)?,
        points(page_refs.height - link.low.y)?,
    ));
    annotation.border(0.0, 0.0, 0.0, None);
    annotation.struct_parent(key);
    annotation.flags(AnnotationFlags::PRINT);
    annotation.contents(TextStr(&format!("Page {}", link.to.page + 1)));
    page_refs.aim(link.to, annotation.insert(Name(b"Dest")).start())
}
