//! The tree of what stands on pages as objects of a file (ISO 32000-1, 14.7), and what each page's marks
//! belong to.

use super::tags::{Tag, TagId, TagRole};
use crate::units::NotPrintable;
use pdf_writer::types::{StructRole, TableHeaderScope};
use pdf_writer::writers::{StructElement, StructTreeRoot};
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};
use std::collections::BTreeMap;

/// What belongs to an element.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Kid {
    Element(TagId),
    /// What is marked on a page, by its number there.
    Marked {
        page: usize,
        mark: i32,
    },
    /// A link on a page.
    Link {
        page: usize,
        object: Ref,
    },
}

/// What is marked on the pages, page by page, and what it belongs to.
#[derive(Default)]
pub(super) struct Marks {
    /// By page, then by number on it.
    pub(super) pages: Vec<Vec<TagId>>,
    /// Upright boxes of what is marked, points, by element.
    pub(super) boxes: BTreeMap<TagId, Rect>,
    /// By page, in order: links with the elements that they are.
    pub(super) links: Vec<(usize, Ref, TagId)>,
}

impl Marks {
    /// Number of the page's next mark.
    pub(super) fn add(&mut self, tag: TagId) -> Result<i32, NotPrintable> {
        let page = self.pages.last_mut().ok_or(NotPrintable)?;
        page.push(tag);
        i32::try_from(page.len() - 1).map_err(|_| NotPrintable)
    }

    /// Where a page's list, or a link's element, stands in the parent tree.
    pub(super) fn key_of_link(&self, at: usize) -> Result<i32, NotPrintable> {
        i32::try_from(self.pages.len() + at).map_err(|_| NotPrintable)
    }
}

/// Writes the tree. Elements that nothing is marked for are left out.
pub(super) fn write(
    pdf: &mut Pdf,
    next: &mut Ref,
    root: Ref,
    tags: &[Tag],
    marks: &Marks,
    pages: &[Ref],
) -> Result<(), NotPrintable> {
    let kids = kids(tags, marks)?;
    let refs: Vec<Ref> = tags.iter().map(|_| next.bump()).collect();
    let of = |tag: TagId| refs.get(tag.0).copied().ok_or(NotPrintable);
    let lists: Vec<Ref> = marks.pages.iter().map(|_| next.bump()).collect();
    // Written as an object of its own: the top element names it as its parent.
    let mut tree = pdf.indirect(root).start::<StructTreeRoot<'_>>();
    tree.child(of(TagId(0))?);
    let mut entries = tree.parent_tree();
    let mut numbers = entries.nums();
    for (key, list) in (0..).zip(&lists) {
        numbers.insert(key, *list);
    }
    for (at, (_, _, tag)) in marks.links.iter().enumerate() {
        numbers.insert(marks.key_of_link(at)?, of(*tag)?);
    }
    numbers.finish();
    entries.finish();
    tree.parent_tree_next_key(marks.key_of_link(marks.links.len())?);
    tree.finish();
    for (list, page) in lists.iter().zip(&marks.pages) {
        let owners = page.iter().map(|tag| of(*tag));
        let owners: Vec<Ref> = owners.collect::<Result<_, _>>()?;
        pdf.indirect(*list).array().items(owners);
    }
    for ((at, tag), kids) in tags.iter().enumerate().zip(&kids) {
        if kids.is_empty() {
            continue;
        }
        let parent = tag.parent.map_or(Ok(root), of)?;
        let mut element = pdf.struct_element(of(TagId(at))?);
        element.kind(role_of(tag.role)).parent(parent);
        if let Some(alt) = &tag.alt {
            element.alt(TextStr(alt));
        }
        attributes(&mut element, tag.role, marks.boxes.get(&TagId(at)));
        let mut written = element.children();
        for kid in kids {
            match *kid {
                Kid::Element(tag) => {
                    written.struct_element(of(tag)?);
                }
                Kid::Marked { page, mark } => {
                    let page = *pages.get(page).ok_or(NotPrintable)?;
                    written
                        .marked_content_ref()
                        .page(page)
                        .marked_content_id(mark);
                }
                Kid::Link { page, object } => {
                    let page = *pages.get(page).ok_or(NotPrintable)?;
                    written.object_ref().page(page).object(object);
                }
            }
        }
    }
    Ok(())
}

/// What belongs to each element; to those that are heard of nowhere nothing.
fn kids(tags: &[Tag], marks: &Marks) -> Result<Vec<Vec<Kid>>, NotPrintable> {
    let mut kids: Vec<Vec<Kid>> = vec![Vec::new(); tags.len()];
    for (page, owners) in marks.pages.iter().enumerate() {
        for (mark, owner) in (0..).zip(owners) {
            let own = kids.get_mut(owner.0).ok_or(NotPrintable)?;
            own.push(Kid::Marked { page, mark });
        }
    }
    for (page, object, owner) in &marks.links {
        let own = kids.get_mut(owner.0).ok_or(NotPrintable)?;
        let (page, object) = (*page, *object);
        own.push(Kid::Link { page, object });
    }
    // Children come behind their parents, so that whole branches are known to be empty from the end.
    let mut held: Vec<Vec<Kid>> = vec![Vec::new(); tags.len()];
    for (at, tag) in tags.iter().enumerate().rev() {
        let mut own = held.get_mut(at).map(std::mem::take).unwrap_or_default();
        own.reverse();
        own.extend(kids.get(at).into_iter().flatten().copied());
        if let (false, Some(parent)) = (own.is_empty(), tag.parent) {
            let of_parent = held.get_mut(parent.0).ok_or(NotPrintable)?;
            of_parent.push(Kid::Element(TagId(at)));
        }
        if let Some(place) = kids.get_mut(at) {
            *place = own;
        }
    }
    Ok(kids)
}

fn role_of(role: TagRole) -> StructRole {
    match role {
        TagRole::Document => StructRole::Document,
        TagRole::Section => StructRole::Sect,
        TagRole::Heading(1) => StructRole::H1,
        TagRole::Heading(2) => StructRole::H2,
        TagRole::Heading(3) => StructRole::H3,
        TagRole::Heading(_) => StructRole::H4,
        TagRole::Paragraph => StructRole::P,
        TagRole::List => StructRole::L,
        TagRole::Item => StructRole::LI,
        TagRole::Label => StructRole::Lbl,
        TagRole::Body => StructRole::LBody,
        TagRole::Table => StructRole::Table,
        TagRole::Row => StructRole::TR,
        TagRole::ColumnHeading => StructRole::TH,
        TagRole::Cell => StructRole::TD,
        TagRole::Picture => StructRole::Figure,
        TagRole::Contents => StructRole::TOC,
        TagRole::Entry => StructRole::TOCI,
        TagRole::Link => StructRole::Link,
    }
}

/// As a mark on a page has it.
pub(super) fn name_of(role: TagRole) -> Name<'static> {
    role_of(role).to_name()
}

fn attributes(element: &mut StructElement<'_>, role: TagRole, room: Option<&Rect>) {
    match (role, room) {
        (TagRole::ColumnHeading, _) => {
            let mut all = element.attributes();
            all.push().table().scope(TableHeaderScope::Column);
        }
        (TagRole::Picture, Some(room)) => {
            let mut all = element.attributes();
            all.push().layout().bbox(*room);
        }
        _ => {}
    }
}
