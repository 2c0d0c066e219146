//! Pictures give way where that saves a page.

use super::page_element::PageElement;
use super::typesetter::Typesetter;

/// What stands on pages, one after the other.
pub(super) type Pages = Vec<Vec<PageElement>>;

/// How much smaller than usual pictures may be, and how much smaller everything: small type is 7.2 points
/// then, figures read at arm's length 14.
const SHARES: [(f64, f64); 7] = [
    (1.0, 1.0),
    (0.85, 1.0),
    (0.85, 0.95),
    (0.7, 0.95),
    (0.7, 0.9),
    (0.55, 0.9),
    (0.45, 0.9),
];

/// What takes the fewest pages, with type and pictures as large as these let them be.
pub(super) fn fitted<'a, T>(
    typesetter: &Typesetter<'a>,
    set: impl Fn(&Typesetter<'a>) -> (T, Pages),
) -> (T, Pages) {
    let mut best = set(typesetter);
    for (pictures, everything) in SHARES.iter().skip(1) {
        if best.1.len() == 1 {
            break;
        }
        let other = set(&Typesetter {
            tallest: pictures * typesetter.tallest / everything,
            width: typesetter.width / everything,
            scale: *everything,
            ..*typesetter
        });
        if other.1.len() < best.1.len() {
            best = other;
        }
    }
    best
}
