//! Boxes half as wide as the page's column, in two columns: down the left one, then down the right one, both about
//! equally far, or to the page's lower edge where they do not have room on it.

use super::layout_box::LayoutBox;

/// How boxes are dealt out to two columns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Columns {
    /// How many stand in the left one, and in both.
    pub(super) left: usize,
    pub(super) both: usize,
    /// Of the longer one, mm.
    pub(super) height: f64,
}

/// Deals out as many boxes as have room, mm, without parting what belongs together. Nothing where not even the
/// first that belong together have room.
pub(super) fn dealt_out(boxes: &[LayoutBox], room: f64) -> Option<Columns> {
    let balanced = balanced(boxes);
    if balanced.height <= room {
        return Some(balanced);
    }
    let left = fitting(boxes, room);
    let right = fitting(boxes.get(left..)?, room);
    (left > 0).then_some(Columns {
        left,
        both: left + right,
        height: room,
    })
}

/// Height of two columns that have as little in them as may be, of boxes in columns that others may follow.
pub(super) fn both_begun(boxes: &[LayoutBox]) -> f64 {
    let halves = boxes.iter().take_while(|part| part.half);
    let mut groups = [0.0, 0.0];
    let mut group = groups.iter_mut();
    let mut own = group.next();
    for part in halves {
        let Some(height) = own.as_deref_mut() else {
            break;
        };
        *height += part.height;
        if !part.with_next {
            own = group.next();
        }
    }
    groups.into_iter().fold(0.0, f64::max)
}

/// All boxes in two columns, neither longer than it need be.
pub(super) fn balanced(boxes: &[LayoutBox]) -> Columns {
    let heights = |from: usize, to: usize| {
        let part = boxes.get(from..to).unwrap_or_default();
        head(part) + part.iter().map(|part| part.height).sum::<f64>()
    };
    let count = boxes.len();
    let ends = (1..=count).filter(|at| may_end(boxes, *at));
    let columns = ends.map(|left| Columns {
        left,
        both: count,
        height: f64::max(heights(0, left), heights(left, count)),
    });
    // Of two that are alike the one with the longer left column.
    let shortest = columns.rev().min_by(|a, b| a.height.total_cmp(&b.height));
    shortest.unwrap_or(Columns {
        left: count,
        both: count,
        height: heights(0, count),
    })
}

/// How many boxes one column takes; what belongs together is parted only where it alone is too long.
fn fitting(boxes: &[LayoutBox], room: f64) -> usize {
    let mut height = head(boxes);
    let mut whole = 0;
    for (part, count) in boxes.iter().zip(1..) {
        height += part.height;
        if height > room {
            break;
        }
        if may_end(boxes, count) {
            whole = count;
        }
    }
    whole
}

/// Whether a column may end behind so many boxes.
fn may_end(boxes: &[LayoutBox], count: usize) -> bool {
    let last = count.checked_sub(1).and_then(|at| boxes.get(at));
    count == boxes.len() || last.is_none_or(|last| !last.with_next)
}

/// Height of what is said again over boxes that begin a column.
fn head(boxes: &[LayoutBox]) -> f64 {
    let head = boxes.first().and_then(|first| first.head.as_ref());
    head.map_or(0.0, |head| head.height)
}

/// Height of boxes that have all the room that they want: those that are half as wide beside each other.
pub(super) fn height(boxes: &[LayoutBox]) -> f64 {
    let runs = boxes.chunk_by(|a, b| a.half == b.half);
    let of = |run: &[LayoutBox]| match run.first() {
        Some(first) if first.half => balanced(run).height,
        Some(_) | None => run.iter().map(|part| part.height).sum(),
    };
    runs.map(of).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::rc::Rc;

    fn halves(heights: &[f64]) -> Vec<LayoutBox> {
        let half = |height: &f64| LayoutBox {
            height: *height,
            half: true,
            ..LayoutBox::default()
        };
        heights.iter().map(half).collect()
    }

    #[test]
    fn columns_are_about_equally_long_and_part_nothing_that_belongs_together() {
        let mut boxes = halves(&[30.0, 20.0, 10.0, 20.0]);
        let columns = |left, both, height| Columns { left, both, height };
        assert_eq!(balanced(&boxes), columns(2, 4, 50.0));
        boxes[1].with_next = true;
        assert_eq!(balanced(&boxes), columns(1, 4, 50.0));
        assert!((height(&boxes) - 50.0).abs() < 1e-9);
        // A table's head stands over its rows in either column.
        boxes[1].with_next = false;
        boxes[2].head = Some(Rc::new(LayoutBox {
            height: 7.0,
            ..LayoutBox::default()
        }));
        assert_eq!(balanced(&boxes), columns(2, 4, 50.0));
        boxes[3].height = 38.0;
        assert_eq!(balanced(&boxes), columns(2, 4, 55.0));
    }

    #[test]
    fn what_has_no_room_goes_on_elsewhere() {
        let mut boxes = halves(&[30.0, 20.0, 10.0, 20.0]);
        let columns = |left, both, height| Some(Columns { left, both, height });
        assert_eq!(dealt_out(&boxes, 50.0), columns(2, 4, 50.0));
        assert_eq!(dealt_out(&boxes, 35.0), columns(1, 3, 35.0));
        assert_eq!(dealt_out(&boxes, 29.0), None);
        assert!((both_begun(&boxes) - 30.0).abs() < 1e-9);
        boxes[0].with_next = true;
        assert_eq!(dealt_out(&boxes, 49.0), None);
        assert!((both_begun(&boxes) - 50.0).abs() < 1e-9);
    }
}
