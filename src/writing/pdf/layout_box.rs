//! What stands on one page, as wide as the column or half of it, and is never broken.

use super::page_element::PageElement;
use std::rc::Rc;

/// Something that stands on one page.
#[derive(Debug, Clone, Default)]
pub(super) struct LayoutBox {
    /// From its upper left corner.
    pub(super) elements: Vec<PageElement>,
    /// Height with the room below it, mm.
    pub(super) height: f64,
    /// Not the last on its page.
    pub(super) with_next: bool,
    /// Only half as wide as the column: others may stand beside it.
    pub(super) half: bool,
    /// The first of a section: where it stands is told in contents and bookmarks.
    pub(super) begins: bool,
    /// Repeated over it where a page begins with it: a table's head.
    pub(super) head: Option<Rc<LayoutBox>>,
}

impl LayoutBox {
    /// Boxes below each other as one.
    pub(super) fn stacked(boxes: Vec<LayoutBox>) -> LayoutBox {
        let mut whole = LayoutBox::default();
        for part in boxes {
            let below = whole.height + part.height;
            whole.put(part, 0.0, whole.height);
            whole.height = below;
        }
        whole
    }

    /// Puts another box's elements into this one, its upper left corner there. The height stays.
    pub(super) fn put(&mut self, mut other: LayoutBox, x: f64, y: f64) {
        other.shift(x, y);
        self.elements.append(&mut other.elements);
    }

    /// Without its place in the document's tree.
    pub(super) fn unmarked(self) -> LayoutBox {
        let elements = self.elements.into_iter();
        LayoutBox {
            elements: elements.flat_map(PageElement::unmarked).collect(),
            ..self
        }
    }

    /// Moves all elements. The height stays.
    pub(super) fn shift(&mut self, x: f64, y: f64) {
        for element in &mut self.elements {
            element.place(1.0, x, y);
        }
    }
}
