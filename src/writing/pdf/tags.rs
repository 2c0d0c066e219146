//! What stands on pages, for those who hear it: a tree of headings, paragraphs, lists, tables and pictures
//! (ISO 32000-1, 14.7 and 14.8). What has no place in it is decoration.

use std::cell::RefCell;

/// What an element of the tree is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TagRole {
    Document,
    /// A part of the sheet, or of a part.
    Section,
    /// A heading, from 1, the title.
    Heading(u8),
    Paragraph,
    List,
    Item,
    /// Of an item: its number.
    Label,
    /// Of an item: what it says.
    Body,
    Table,
    Row,
    ColumnHeading,
    Cell,
    Picture,
    Contents,
    Entry,
    Link,
}

/// One element of the tree.
#[derive(Debug, Clone)]
pub(super) struct Tag {
    pub(super) role: TagRole,
    /// The root has none.
    pub(super) parent: Option<TagId>,
    /// What is to be seen, for those who do not see it.
    pub(super) alt: Option<String>,
}

/// Which element of the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct TagId(pub(super) usize);

/// The tree, which grows while pages are set; what is opened first is heard first.
#[derive(Debug)]
pub(super) struct Tags(RefCell<Vec<Tag>>);

impl Tags {
    /// The whole document.
    pub(super) const ROOT: TagId = TagId(0);

    pub(super) fn new() -> Tags {
        let root = Tag {
            role: TagRole::Document,
            parent: None,
            alt: None,
        };
        Tags(RefCell::new(vec![root]))
    }

    /// A new element behind all others of its parent.
    pub(super) fn open(&self, role: TagRole, parent: TagId) -> TagId {
        self.add(Tag {
            role,
            parent: Some(parent),
            alt: None,
        })
    }

    /// A picture, and what is to be seen in it.
    pub(super) fn picture(&self, alt: String, parent: TagId) -> TagId {
        self.add(Tag {
            role: TagRole::Picture,
            parent: Some(parent),
            alt: Some(alt),
        })
    }

    fn add(&self, tag: Tag) -> TagId {
        let mut tags = self.0.borrow_mut();
        tags.push(tag);
        TagId(tags.len() - 1)
    }

    /// All of them, by number.
    pub(super) fn all(&self) -> Vec<Tag> {
        self.0.borrow().clone()
    }
}
