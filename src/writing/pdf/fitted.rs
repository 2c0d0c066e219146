//! Pictures give way where that saves a page.

use super::page_element::PageElement;
use super::typesetter::Typesetter;

/// What stands on pages, one after the other.
pub(super) type Pages = Vec<Vec<PageElement>>;

/// The greatest heights of pictures that are tried, over the usual one.
const HEIGHTS: [f64; 4] = [1.0, 0.85, 0.7, 0.55];

/// What takes the fewest pages, with its pictures as large as these let them be.
pub(super) fn fitted<'a, T>(
    typesetter: &Typesetter<'a>,
    set: impl Fn(&Typesetter<'a>) -> (T, Pages),
) -> (T, Pages) {
    let mut best = set(typesetter);
    for height in HEIGHTS.iter().skip(1) {
        if best.1.len() == 1 {
            break;
        }
        let other = set(&Typesetter {
            tallest: height * typesetter.tallest,
            ..*typesetter
        });
        if other.1.len() < best.1.len() {
            best = other;
        }
    }
    best
}
