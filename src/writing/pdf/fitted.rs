//! Pictures give way where that saves a page.

use super::page_element::PageElement;
use super::typesetter::Typesetter;

/// What stands on pages, one after the other.
pub(super) type Pages = Vec<Vec<PageElement>>;

/// How much smaller than usual everything is on the most crowded card: small type is 7.2 points then.
pub(super) const LEAST_SCALE: f64 = 0.9;

/// How much smaller pictures may be, so that their writing keeps 7 points, and how much smaller everything.
const SHARES: [(f64, f64); 5] = [
    (1.0, 1.0),
    (0.9, 1.0),
    (0.9, 0.95),
    (0.8, 0.95),
    (0.8, LEAST_SCALE),
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
