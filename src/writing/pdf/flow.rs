//! From boxes to pages. A box is never broken; a heading stays with what follows it; a section that
//! fits on one page is not broken; a longer one begins where the last one ended, if there is room.

use super::Sheet;
use super::mark::Mark;

/// Something that stands on one page, as wide as the column.
#[derive(Debug, Clone, Default)]
pub(super) struct Box {
    /// From its upper left corner.
    pub(super) marks: Vec<Mark>,
    /// Height with the room below it, mm.
    pub(super) height: f64,
    /// Not the last on its page.
    pub(super) with_next: bool,
    /// Repeated over it where a page begins with it: a table's head.
    pub(super) head: Option<std::rc::Rc<Box>>,
}

/// Where something begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    /// Index of the page.
    pub(super) page: usize,
    /// From the page's upper edge, mm.
    pub(super) y: f64,
}

impl Place {
    /// Whether it comes before another one.
    pub(super) fn is_before(self, other: Place) -> bool {
        self.page < other.page || (self.page == other.page && self.y < other.y)
    }
}

/// Pages that fill from the top.
pub(super) struct Flow {
    sheet: Sheet,
    pub(super) pages: Vec<Vec<Mark>>,
    y: f64,
}

/// Share of a page below which no section begins that would be broken.
const LEAST: f64 = 0.4;

impl Flow {
    pub(super) fn new(sheet: Sheet) -> Flow {
        Flow {
            sheet,
            pages: Vec::new(),
            y: 0.0,
        }
    }

    /// Begins a new page.
    pub(super) fn page(&mut self) {
        self.pages.push(Vec::new());
        self.y = self.sheet.top();
    }

    fn room(&self) -> f64 {
        if self.pages.is_empty() {
            0.0
        } else {
            self.sheet.bottom() - self.y
        }
    }

    /// A section: on the page as it is, else on new ones. Tells where it begins.
    pub(super) fn section(&mut self, boxes: &[Box]) -> Place {
        let whole: f64 = boxes.iter().map(|part| part.height).sum();
        let full = self.sheet.bottom() - self.sheet.top();
        let enough = if whole > full { LEAST * full } else { whole };
        if self.room() < enough.min(full) {
            self.page();
        }
        self.run(boxes)
    }

    /// Boxes one after the other, on as many pages as they need. Tells where they begin.
    pub(super) fn run(&mut self, boxes: &[Box]) -> Place {
        let full = self.sheet.bottom() - self.sheet.top();
        let mut begin = None;
        for (at, part) in boxes.iter().enumerate() {
            let kept: f64 = boxes
                .iter()
                .skip(at)
                .scan(true, |go_on, part| {
                    let here = *go_on;
                    *go_on = part.with_next;
                    here.then_some(part.height)
                })
                .sum();
            let at_top = self.room() >= full;
            if kept.min(full) > self.room() && !at_top {
                self.page();
                if let Some(head) = &part.head {
                    self.place(head);
                }
            }
            begin.get_or_insert(self.here());
            self.place(part);
        }
        begin.unwrap_or(self.here())
    }

    fn here(&self) -> Place {
        Place {
            page: self.pages.len().saturating_sub(1),
            y: self.y,
        }
    }

    fn place(&mut self, part: &Box) {
        let (x, y) = (self.sheet.left(), self.y);
        if let Some(page) = self.pages.last_mut() {
            page.extend(part.marks.iter().map(|mark| mark.moved(x, y)));
        }
        self.y += part.height;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::writing::look;
    use crate::writing::pdf::Paper;
    use float_cmp::approx_eq;
    use std::rc::Rc;

    fn sized(height: f64) -> Box {
        let (low, high) = (Point::new(0.0, 0.0), Point::new(10.0, height));
        Box {
            marks: vec![Mark::filled(low, high, look::INK.light)],
            height,
            ..Box::default()
        }
    }

    #[test]
    fn a_section_that_fits_a_page_is_not_broken_and_nothing_leaves_the_page() {
        let sheet = Sheet { paper: Paper::A4 };
        let mut flow = Flow::new(sheet);
        let begun = |place: Place| (place.page, place.y - sheet.top());
        assert_eq!(begun(flow.section(&[sized(150.0)])), (0, 0.0));
        assert_eq!(begun(flow.section(&[sized(80.0), sized(80.0)])), (1, 0.0));
        // Longer than a page of 267 mm: there is room for the first, then four on a page.
        let long = vec![sized(60.0); 9];
        assert_eq!(begun(flow.section(&long)), (1, 160.0));
        assert_eq!(flow.pages.len(), 4);
        // Less than 0.4 of a page is left.
        assert_eq!(begun(flow.section(&long)), (4, 0.0));
        assert_eq!(flow.pages.len(), 7);
        for page in &flow.pages {
            for mark in page {
                let Mark::Fill { ring, .. } = mark else {
                    panic!()
                };
                assert!(ring.iter().all(|point| point.y <= sheet.bottom() + 1e-9));
            }
        }
    }

    #[test]
    fn a_tables_head_is_said_again_on_the_next_page() {
        let head = Rc::new(sized(7.0));
        let row = Box {
            head: Some(head.clone()),
            ..sized(50.0)
        };
        let mut flow = Flow::new(Sheet { paper: Paper::A4 });
        let mut boxes = vec![(*head).clone()];
        boxes.extend(vec![row; 8]);
        flow.section(&boxes);
        assert_eq!(flow.pages.len(), 2);
        let first = |page: &Vec<Mark>| {
            let Mark::Fill { ring, .. } = &page[0] else {
                panic!()
            };
            ring[2].y - ring[0].y
        };
        assert!(
            flow.pages
                .iter()
                .all(|page| approx_eq!(f64, first(page), 7.0, epsilon = 1e-9))
        );
    }
}
