//! From boxes to pages. A box is never broken; a heading stays with what follows it; a short section is not
//! broken; a longer one begins where the last one ended, if there is room for what may not be parted.

use super::columns;
use super::layout_box::LayoutBox;
use super::page_element::PageElement;
use super::page_place::PagePlace;
use super::paper::Paper;
use super::typesetter::BETWEEN;

/// Pages that fill from the top.
pub(super) struct Paginator {
    paper: Paper,
    pub(super) pages: Vec<Vec<PageElement>>,
    /// Where sections begin, in their order.
    pub(super) begun: Vec<PagePlace>,
    y: f64,
    scale: f64,
}

/// A section that takes less than this share of a page is not broken.
const SHORT: f64 = 0.3;

impl Paginator {
    /// Pages on which everything is so much smaller than it was set.
    pub(super) fn scaled(paper: Paper, scale: f64) -> Paginator {
        Paginator {
            paper,
            pages: Vec::new(),
            begun: Vec::new(),
            y: 0.0,
            scale,
        }
    }

    /// Begins a new page.
    pub(super) fn page(&mut self) {
        self.pages.push(Vec::new());
        self.y = self.paper.top();
    }

    fn room(&self) -> f64 {
        if self.pages.is_empty() {
            0.0
        } else {
            self.paper.bottom() - self.y
        }
    }

    /// A section: on the page as it is, else on new ones. Tells where it begins.
    pub(super) fn section(&mut self, boxes: &[LayoutBox]) -> PagePlace {
        let whole = self.scale * columns::height(boxes);
        if self.pages.is_empty() || (whole < SHORT * self.full() && whole > self.room()) {
            self.page();
        }
        self.run(boxes)
    }

    /// Boxes one after the other, on as many pages as they need. Tells where they begin.
    pub(super) fn run(&mut self, boxes: &[LayoutBox]) -> PagePlace {
        let mut begin = None;
        let mut rest = boxes;
        while let Some(part) = rest.first() {
            let kept = self.scale * kept_together(rest);
            if kept.min(self.full()) > self.room() && !self.at_top() {
                self.page();
                if let Some(head) = part.head.as_ref().filter(|_| !part.half) {
                    self.place(head);
                }
            }
            begin.get_or_insert(self.here());
            let halves = rest.iter().take_while(|part| part.half).count();
            let placed = if halves > 0 {
                self.place_halves(rest.get(..halves).unwrap_or_default())
            } else {
                self.place(part);
                1
            };
            rest = rest.get(placed..).unwrap_or_default();
        }
        begin.unwrap_or(self.here())
    }

    /// As many boxes as the page has room for in two columns. Tells how many.
    fn place_halves(&mut self, boxes: &[LayoutBox]) -> usize {
        let room = self.room() / self.scale;
        let Some(columns) = columns::dealt_out(boxes, room) else {
            // What belongs together is longer than a page.
            boxes.iter().take(1).for_each(|part| self.place(part));
            return 1;
        };
        let top = self.y;
        let step = (self.paper.column() + self.scale * BETWEEN) / 2.0;
        let (left, right) = boxes.split_at(columns.left);
        let right = right.get(..columns.both - columns.left).unwrap_or_default();
        for (x, column) in [(0.0, left), (step, right)] {
            self.y = top;
            let head = column.first().and_then(|first| first.head.as_ref());
            head.into_iter().for_each(|head| self.place_at(x, head));
            column.iter().for_each(|part| self.place_at(x, part));
        }
        self.y = top + self.scale * columns.height;
        columns.both
    }

    fn full(&self) -> f64 {
        self.paper.bottom() - self.paper.top()
    }

    fn at_top(&self) -> bool {
        self.room() >= self.full()
    }

    fn here(&self) -> PagePlace {
        PagePlace {
            page: self.pages.len().saturating_sub(1),
            x: 0.0,
            y: self.y,
        }
    }

    fn place(&mut self, part: &LayoutBox) {
        self.place_at(0.0, part);
    }

    /// So far from the column's left edge.
    fn place_at(&mut self, x: f64, part: &LayoutBox) {
        let beside = x > 0.0;
        let x = self.paper.left() + x;
        let y = self.y;
        if part.begins {
            self.begun.push(PagePlace {
                x: if beside { x } else { 0.0 },
                ..self.here()
            });
        }
        if let Some(page) = self.pages.last_mut() {
            let elements = part.elements.iter();
            page.extend(elements.map(|element| element.placed(self.scale, x, y)));
        }
        self.y += self.scale * part.height;
    }
}

/// Height of the first box and those that must not be parted from it: of those in two columns as much as begins
/// both.
fn kept_together(boxes: &[LayoutBox]) -> f64 {
    let mut height = 0.0;
    for (at, part) in boxes.iter().enumerate() {
        if part.half {
            let rest = boxes.get(at..).unwrap_or_default();
            return height + columns::both_begun(rest);
        }
        height += part.height;
        if !part.with_next {
            break;
        }
    }
    height
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::writing::theme;
    use float_cmp::approx_eq;
    use std::rc::Rc;

    fn sized(height: f64) -> LayoutBox {
        let low = Point::new(0.0, 0.0);
        let high = Point::new(10.0, height);
        LayoutBox {
            elements: vec![PageElement::filled(low, high, theme::INK.light)],
            height,
            ..LayoutBox::default()
        }
    }

    #[test]
    fn a_short_section_is_not_broken_and_nothing_leaves_the_page() {
        let paper = Paper::A4;
        let mut paginator = Paginator::scaled(paper, 1.0);
        let begun = |place: PagePlace| (place.page, place.y - paper.top());
        assert_eq!(begun(paginator.section(&[sized(150.0)])), (0, 0.0));
        // Of 267 mm 117 are left.
        assert_eq!(begun(paginator.section(&[sized(70.0)])), (0, 150.0));
        assert_eq!(
            begun(paginator.section(&[sized(40.0), sized(39.0)])),
            (1, 0.0)
        );
        let long = vec![sized(60.0); 9];
        assert_eq!(begun(paginator.section(&long)), (1, 79.0));
        assert_eq!(paginator.pages.len(), 4);
        // What may not be parted goes to the next page together.
        let mut kept = vec![sized(60.0); 4];
        kept[0].with_next = true;
        kept[1].with_next = true;
        assert_eq!(begun(paginator.section(&kept)), (4, 0.0));
        for page in &paginator.pages {
            for element in page {
                let PageElement::Fill { ring, .. } = element else {
                    panic!()
                };
                assert!(ring.iter().all(|point| point.y <= paper.bottom() + 1e-9));
            }
        }
    }

    #[test]
    fn a_tables_head_is_said_again_on_the_next_page() {
        let head = Rc::new(sized(7.0));
        let row = LayoutBox {
            head: Some(head.clone()),
            ..sized(50.0)
        };
        let mut paginator = Paginator::scaled(Paper::A4, 1.0);
        let mut boxes = vec![(*head).clone()];
        boxes.extend(vec![row; 8]);
        paginator.section(&boxes);
        assert_eq!(paginator.pages.len(), 2);
        let first = |page: &Vec<PageElement>| {
            let PageElement::Fill { ring, .. } = &page[0] else {
                panic!()
            };
            ring[2].y - ring[0].y
        };
        assert!(paginator.pages.iter().all(|page| approx_eq!(
            f64,
            first(page),
            7.0,
            epsilon = 1e-9
        )));
    }
}
