//! Rectangles on sheets, in rows, long side along the grain: never turned, always laid out the
//! same way.

mod bounds;
mod rectangle;
mod refusal;
mod rows;
mod shelves;

use crate::geometry::{Point, signed_area};
use crate::instructions::outline::CutPart;
use crate::machines::Sheet;
pub use bounds::{Bounds, LeastRows};
pub use rectangle::{Extent, Placement, Rectangle};
use rectangle::{FITS_BY, between_margins};
pub use refusal::NestError;
use rows::Rows;
use shelves::{Bar, bars, best_fit};
use std::collections::HashSet;

/// What is taken of one sheet.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SheetUse {
    /// Number of parts.
    pub count: usize,
    /// Size along x of the box that holds all parts, from the margin on, mm.
    pub used_length: f64,
    /// Its size along y, mm.
    pub used_width: f64,
    /// True area of the parts over the area of the whole sheet.
    pub utilisation: f64,
}

/// A finished layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// One per rectangle, in the order given.
    pub places: Vec<Placement>,
    /// One per sheet.
    pub sheets: Vec<SheetUse>,
    /// Width across the grain that is taken up: what is used of each sheet, added up, mm.
    pub width: f64,
    /// What no layout can do with less of.
    pub bounds: Bounds,
    /// Where all parts are of one height: in how many rows they lie.
    pub rows: Option<usize>,
}

/// Lays rectangles out on as many sheets as needed, in shelves along the grain.
///
/// In order of height, then length (greatest first), then as given; each goes on the shelf with
/// the least height left over, then the least length left over, then the earliest; else a new
/// shelf on the first sheet with room. What a part leaves free above it is a shelf again, as long
/// as the part. For strips of equal width this is one-dimensional best
/// fit, and the rows can be parted by straight rips.
///
/// Then the same with the tallest parts put together in as few rows as can be found, each row laid
/// out as if it were one part; with the next lower ones in rows too, and so on. The best of these
/// layouts is taken: that with the fewest sheets, then with the least width, then the first. So
/// parts of one height take the fewest rows that were found. The same input always gives the same
/// layout.
///
/// # Errors
/// [`NestError`], naming the first part that does not fit.
pub fn nest(rectangles: &[Rectangle], sheet: &Sheet) -> Result<Layout, NestError> {
    check(rectangles, sheet)?;
    let classes = by_height(rectangles);
    let rows: Vec<Rows> = classes
        .iter()
        .take(MOST_IN_ROWS)
        .map(|class| rows_of(rectangles, class, sheet))
        .collect();
    let bounds = Bounds::of(rectangles, sheet);
    let bounds = match (classes.as_slice(), rows.first()) {
        ([_], Some(rows)) => bounds.with_rows(rows.fewest, sheet),
        _ => bounds,
    };
    let none_in_rows = bars(rectangles, &classes, &[], sheet.gap);
    let mut best = laid_out(rectangles, &none_in_rows, bounds, sheet);
    for in_rows in 1..=rows.len() {
        let rows = rows.get(..in_rows).unwrap_or_default();
        let bars = bars(rectangles, &classes, rows, sheet.gap);
        let other = laid_out(rectangles, &bars, bounds, sheet);
        let before = best.sheets.len();
        let now = other.sheets.len();
        if now < before || (now == before && other.width < best.width - FITS_BY) {
            best = other;
        }
    }
    Ok(best)
}

fn laid_out(rectangles: &[Rectangle], bars: &[Bar], bounds: Bounds, sheet: &Sheet) -> Layout {
    let places = best_fit(rectangles, bars, sheet);
    let sheets = uses(rectangles, &places, sheet);
    Layout {
        width: sheets.iter().map(|used| used.used_width).sum(),
        sheets,
        bounds,
        rows: bounds.rows.map(|_| rows_taken(&places)),
        places,
    }
}

/// Of parts of one height: in how many rows they lie, each at its own place across the grain.
fn rows_taken(places: &[Placement]) -> usize {
    let row = |place: &Placement| (place.sheet, place.corner.y.to_bits());
    let rows: HashSet<(usize, u64)> = places.iter().map(row).collect();
    rows.len()
}

/// Kinds of parts by height that are put in rows before they are laid out: each costs a search and a
/// layout.
const MOST_IN_ROWS: usize = 6;

/// Parts as high as each other, the tallest first; in each the longest first, then as given.
fn by_height(rectangles: &[Rectangle]) -> Vec<Vec<usize>> {
    let mut order: Vec<(usize, &Rectangle)> = rectangles.iter().enumerate().collect();
    order.sort_by(|(_, a), (_, b)| b.height.total_cmp(&a.height));
    let mut classes: Vec<Vec<(usize, &Rectangle)>> = Vec::new();
    for part in order {
        let (_, rectangle) = part;
        let as_high = |class: &&mut Vec<(usize, &Rectangle)>| {
            let tallest = class.first().map_or(0.0, |(_, tallest)| tallest.height);
            tallest - rectangle.height < FITS_BY
        };
        match classes.last_mut().filter(as_high) {
            Some(class) => class.push(part),
            None => classes.push(vec![part]),
        }
    }
    for class in &mut classes {
        class.sort_by(|(at_a, a), (at_b, b)| {
            let longer_first = b.length.total_cmp(&a.length);
            longer_first.then(at_a.cmp(at_b))
        });
    }
    let numbers = |class: Vec<(usize, &Rectangle)>| class.into_iter().map(|(at, _)| at).collect();
    classes.into_iter().map(numbers).collect()
}

/// Parts of one height in rows, a gap between neighbours.
fn rows_of(rectangles: &[Rectangle], class: &[usize], sheet: &Sheet) -> Rows {
    let parts = class.iter().filter_map(|at| rectangles.get(*at));
    let lengths: Vec<f64> = parts.map(|part| part.length + sheet.gap).collect();
    let room = between_margins(sheet).along + sheet.gap;
    let mut rows = Rows::of(&lengths, room);
    for member in rows.rows.iter_mut().flatten() {
        *member = class.get(*member).copied().unwrap_or(*member);
    }
    rows
}

fn check(rectangles: &[Rectangle], sheet: &Sheet) -> Result<(), NestError> {
    let room = between_margins(sheet);
    let Extent { along, across } = room;
    let sound = sheet.margin >= 0.0 && sheet.gap >= 0.0 && sheet.gap.is_finite();
    let roomy = along > 0.0 && across > 0.0 && along.is_finite() && across.is_finite();
    if !(sound && roomy) {
        return Err(NestError::NoRoom(*sheet));
    }
    for rectangle in rectangles {
        let size = Extent {
            along: rectangle.length,
            across: rectangle.height,
        };
        let name = rectangle.name.to_owned();
        if !(size.along > 0.0 && size.across > 0.0) {
            return Err(NestError::NoSize { name });
        }
        if size.along > along + FITS_BY || size.across > across + FITS_BY {
            return Err(NestError::TooLarge { name, size, room });
        }
    }
    Ok(())
}

fn uses(rectangles: &[Rectangle], places: &[Placement], sheet: &Sheet) -> Vec<SheetUse> {
    let count = places.iter().map(|place| place.sheet + 1).max();
    let mut uses = vec![SheetUse::default(); count.unwrap_or(0)];
    let whole = sheet.length * sheet.width;
    for (rectangle, place) in rectangles.iter().zip(places) {
        if let Some(of) = uses.get_mut(place.sheet) {
            let right = place.corner.x - sheet.margin + rectangle.length;
            let top = place.corner.y - sheet.margin + rectangle.height;
            of.count += 1;
            of.used_length = of.used_length.max(right);
            of.used_width = of.used_width.max(top);
            of.utilisation += rectangle.area / whole;
        }
    }
    uses
}

/// Lays whole parts out by the boxes given, each as lower left and upper right corner: one list of
/// parts per sheet, each moved to its place, in the order given, and the layout.
///
/// # Errors
/// [`NestError`], naming the first part that does not fit.
pub fn nest_parts(
    parts: &[CutPart],
    boxes: &[(Point, Point)],
    sheet: &Sheet,
) -> Result<(Vec<Vec<CutPart>>, Layout), NestError> {
    let rectangles: Vec<Rectangle> = parts
        .iter()
        .zip(boxes)
        .map(|(part, (low, high))| Rectangle {
            name: &part.name,
            length: high.x - low.x,
            height: high.y - low.y,
            area: signed_area(&part.outer)
                - part.holes.iter().map(|hole| signed_area(hole)).sum::<f64>(),
        })
        .collect();
    let layout = nest(&rectangles, sheet)?;
    let mut sheets = vec![Vec::new(); layout.sheets.len()];
    for ((part, (low, _)), place) in parts.iter().zip(boxes).zip(&layout.places) {
        if let Some(on_sheet) = sheets.get_mut(place.sheet) {
            on_sheet.push(part.moved(low.to(place.corner)));
        }
    }
    Ok((sheets, layout))
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    const SHEET: Sheet = Sheet {
        length: 100.0,
        width: 50.0,
        margin: 5.0,
        gap: 2.0,
    };

    fn boxes(sizes: &[(f64, f64)]) -> Vec<Rectangle<'static>> {
        let each = |&(length, height)| Rectangle {
            name: "bar",
            length,
            height,
            area: length * height,
        };
        sizes.iter().map(each).collect()
    }

    #[test]
    fn rows_by_hand() {
        // Tallest first: 90 x 10 fills a row; 60 x 8 opens the next, 28 x 8 ends flush with the
        // margin (60 + 2 + 28 = 90); 50 x 5 opens a third.
        let layout = nest(
            &boxes(&[(50.0, 5.0), (28.0, 8.0), (90.0, 10.0), (60.0, 8.0)]),
            &SHEET,
        )
        .unwrap();
        let corners: Vec<(f64, f64)> = layout
            .places
            .iter()
            .map(|p| (p.corner.x, p.corner.y))
            .collect();
        assert_eq!(
            corners,
            [(5.0, 27.0), (67.0, 17.0), (5.0, 5.0), (5.0, 17.0)]
        );
        let used = layout.sheets[0];
        assert_eq!((used.used_length, used.used_width), (90.0, 27.0));
        let area = 50.0 * 5.0 + 28.0 * 8.0 + 90.0 * 10.0 + 60.0 * 8.0;
        assert!(approx_eq!(
            f64,
            used.utilisation,
            area / 5000.0,
            epsilon = 1e-12
        ));
        assert_eq!((layout.sheets.len(), layout.bounds.sheets()), (1, 1));
    }

    #[test]
    fn what_is_free_above_a_low_part_is_used() {
        // Beside 40 x 30 there are 48 mm: two bars of 48 x 12 above each other and 4 mm that none
        // of the others needs; then 3 mm bars above these, each again on what is below it.
        let sizes = [
            (40.0, 30.0),
            (48.0, 12.0),
            (48.0, 12.0),
            (30.0, 1.5),
            (90.0, 3.0),
        ];
        let layout = nest(&boxes(&sizes), &SHEET).unwrap();
        let corners = layout.places.iter().map(|p| (p.corner.x, p.corner.y));
        assert_eq!(
            Vec::from_iter(corners),
            [
                (5.0, 5.0),
                (47.0, 5.0),
                (47.0, 19.0),
                (47.0, 33.0),
                (5.0, 37.0)
            ]
        );
        assert_eq!((layout.width, layout.sheets.len()), (35.0, 1));
    }

    #[test]
    fn the_tightest_shelf_is_taken() {
        // Shelves end up with 30 and 20 left: the 18 goes to the tighter one.
        let layout = nest(&boxes(&[(58.0, 10.0), (68.0, 10.0), (18.0, 10.0)]), &SHEET).unwrap();
        assert_eq!(layout.places[2].corner, Point::new(5.0 + 70.0, 5.0));
    }

    #[test]
    fn long_parts_need_a_sheet_each_where_the_area_alone_would_not() {
        // Three parts of 46 x 15 in 90 x 40: by area 46 * 3 * 15 / 3600 = 0.6, but only two fit
        // above each other.
        let sheet = Sheet { gap: 0.0, ..SHEET };
        let layout = nest(&boxes(&[(46.0, 15.0); 3]), &sheet).unwrap();
        assert_eq!((layout.sheets.len(), layout.bounds.sheets()), (2, 2));
    }

    #[test]
    fn what_does_not_fit_is_named() {
        let error = nest(&boxes(&[(90.0, 40.0), (90.1, 3.0)]), &SHEET).unwrap_err();
        let text = error.phrase().text(crate::units::UnitSystem::Millimetres);
        assert_eq!(
            text,
            "bar takes 90.10 mm along the grain by 3.00 mm, cut path included, but between the sheet's \
             margins its path has 90.00 mm by 40.00 mm"
        );
        assert!(nest(&boxes(&[(0.0, 3.0)]), &SHEET).is_err());
        assert!(nest(&boxes(&[(f64::NAN, 3.0)]), &SHEET).is_err());
        for margin in [25.0, -1.0, f64::NAN] {
            assert!(nest(&[], &Sheet { margin, ..SHEET }).is_err());
        }
        assert_eq!(nest(&[], &SHEET).unwrap().sheets, []);
    }

    #[test]
    fn parts_move_with_all_that_belongs_to_them() {
        let p = Point::new;
        let part = CutPart {
            name: "plate".into(),
            copy: 1,
            outer: vec![p(10.0, 10.0), p(20.0, 10.0), p(20.0, 20.0), p(10.0, 20.0)],
            holes: vec![vec![p(12.0, 12.0), p(14.0, 12.0), p(14.0, 14.0)]],
            strokes: vec![vec![p(15.0, 15.0), p(16.0, 16.0)]],
            laid_edge: false,
        };
        let with_path = [(p(9.0, 8.0), p(21.0, 22.0))];
        let (sheets, layout) = nest_parts(&[part], &with_path, &SHEET).unwrap();
        let moved = &sheets[0][0];
        assert_eq!(moved.outer[0], p(6.0, 7.0));
        assert_eq!(moved.holes[0][0], p(8.0, 9.0));
        assert_eq!(moved.strokes[0][0], p(11.0, 12.0));
        assert_eq!((layout.width, layout.sheets[0].used_length), (14.0, 12.0));
        assert!(approx_eq!(
            f64,
            layout.sheets[0].utilisation,
            98.0 / 5000.0,
            epsilon = 1e-12
        ));
    }

    proptest! {
        #[test]
        fn all_lie_on_their_sheet_apart_from_each_other(
            sizes in prop::collection::vec((0.5..90.0_f64, 0.5..40.0_f64), 0..60),
        ) {
            let boxes = boxes(&sizes);
            let layout = nest(&boxes, &SHEET).unwrap();
            prop_assert_eq!(layout.places.len(), boxes.len());
            prop_assert!(layout.sheets.iter().all(|used| used.count > 0));
            prop_assert_eq!(layout.sheets.iter().map(|s| s.count).sum::<usize>(), boxes.len());
            prop_assert!(layout.bounds.sheets() <= layout.sheets.len());
            prop_assert!(layout.bounds.width(layout.sheets.len()) <= layout.width + 1e-6);
            for (i, (a, at)) in boxes.iter().zip(&layout.places).enumerate() {
                prop_assert!(at.corner.x > 5.0 - 1e-6 && at.corner.y > 5.0 - 1e-6);
                prop_assert!(at.corner.x + a.length < 95.0 + 1e-6);
                prop_assert!(at.corner.y + a.height < 45.0 + 1e-6);
                for (b, other) in boxes.iter().zip(&layout.places).skip(i + 1) {
                    let beside = (at.corner.x + a.length + 2.0 <= other.corner.x + 1e-6)
                        || (other.corner.x + b.length + 2.0 <= at.corner.x + 1e-6);
                    let above = (at.corner.y + a.height + 2.0 <= other.corner.y + 1e-6)
                        || (other.corner.y + b.height + 2.0 <= at.corner.y + 1e-6);
                    prop_assert!(at.sheet != other.sheet || beside || above);
                }
            }
        }
    }
}
