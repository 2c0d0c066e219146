//! What stands on one page, as wide as the column, and is never broken.

use super::page_element::PageElement;
use std::rc::Rc;

/// Something that stands on one page, as wide as the column.
#[derive(Debug, Clone, Default)]
pub(super) struct LayoutBox {
    /// From its upper left corner.
    pub(super) elements: Vec<PageElement>,
    /// Height with the room below it, mm.
    pub(super) height: f64,
    /// Not the last on its page.
    pub(super) with_next: bool,
    /// Repeated over it where a page begins with it: a table's head.
    pub(super) head: Option<Rc<LayoutBox>>,
}
