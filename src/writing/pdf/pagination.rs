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
    pub(super) fn section(&mut self, boxes: Vec<LayoutBox>) -> PagePlace {
        let whole = self.scale * columns::height(&boxes);
        if self.pages.is_empty() || (whole < SHORT * self.full() && whole > self.room()) {
            self.page();
        }
        self.run(boxes)
    }

    /// Boxes one after the other, on as many pages as they need. Tells where they begin.
    fn run(&mut self, mut boxes: Vec<LayoutBox>) -> PagePlace {
        let mut begin = None;
        let mut rest = boxes.as_mut_slice();
        while let Some(part) = rest.first() {
            let kept = self.scale * kept_together(rest);
            if kept.min(self.full()) > self.room() && !self.at_top() {
                self.page();
                if let Some(head) = part.head.as_ref().filter(|_| !part.half) {
                    self.place_at(0.0, LayoutBox::clone(head));
                }
            }
            begin.get_or_insert(self.here());
            let halves = rest.iter().take_while(|part| part.half).count();
            let placed = self.place_some(rest, halves);
            rest = std::mem::take(&mut rest)
                .get_mut(placed..)
                .unwrap_or_default();
        }
        begin.unwrap_or(self.here())
    }

    /// The first box, or of so many that are half as wide as the column as many as the page has room for. Tells
    /// how many.
    fn place_some(&mut self, boxes: &mut [LayoutBox], halves: usize) -> usize {
        let halves = boxes.get(..halves).unwrap_or_default();
        let room = self.room() / self.scale;
        let columns = (!halves.is_empty()).then(|| columns::dealt_out(halves, room));
        let Some(columns) = columns.flatten() else {
            // As wide as the column; or what belongs together is longer than a page.
            let first = boxes.iter_mut().take(1);
            first.for_each(|part| self.place_at(0.0, std::mem::take(part)));
            return 1;
        };
        let top = self.y;
        let step = (self.paper.column() + self.scale * BETWEEN) / 2.0;
        let placed = boxes.get_mut(..columns.both).unwrap_or_default();
        let (left, right) = placed.split_at_mut(columns.left);
        for (x, column) in [(0.0, left), (step, right)] {
            self.y = top;
            let head = column.first().and_then(|first| first.head.as_ref());
            head.into_iter()
                .for_each(|head| self.place_at(x, LayoutBox::clone(head)));
            let parts = column.iter_mut();
            parts.for_each(|part| self.place_at(x, std::mem::take(part)));
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

    /// So far from the column's left edge.
    fn place_at(&mut self, x: f64, part: LayoutBox) {
        let beside = x > 0.0;
        let x = self.paper.left() + x;
        let LayoutBox {
            mut elements,
            height,
            begins,
            ..
        } = part;
        if begins {
            self.begun.push(PagePlace {
                x: if beside { x } else { 0.0 },
                ..self.here()
            });
        }
        for element in &mut elements {
            element.place(self.scale, x, self.y);
        }
        if let Some(page) = self.pages.last_mut() {
            page.append(&mut elements);
        }
        self.y += self.scale * height;
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
        assert_eq!(begun(paginator.section(vec![sized(150.0)])), (0, 0.0));
        // Of 267 mm 117 are left.
        assert_eq!(begun(paginator.section(vec![sized(70.0)])), (0, 150.0));
        assert_eq!(
            begun(paginator.section(vec![sized(40.0), sized(39.0)])),
            (1, 0.0)
        );
        let long = vec![sized(60.0); 9];
        assert_eq!(begun(paginator.section(long)), (1, 79.0));
        assert_eq!(paginator.pages.len(), 4);
        // What may not be parted goes to the next page together.
        let mut kept = vec![sized(60.0); 4];
        kept[0].with_next = true;
        kept[1].with_next = true;
        assert_eq!(begun(paginator.section(kept)), (4, 0.0));
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
        paginator.section(boxes);
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
