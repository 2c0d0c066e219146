//! Pictures give way where that saves a page.

use super::page_element::PageElement;
use super::tags::Tags;
use super::typesetter::Typesetter;

/// What stands on pages, one after the other.
pub(super) type Pages = Vec<Vec<PageElement>>;

/// How much smaller than usual everything is on the most crowded card: small type is 7.04 points then.
pub(super) const LEAST_SCALE: f64 = 0.88;

/// How far pictures and how far everything are made smaller one after the other: shares of the way to the
/// least picture, and what everything is then.
const STEPS: [(f64, f64); 5] = [
    (0.0, 1.0),
    (0.5, 1.0),
    (0.5, 0.95),
    (1.0, 0.95),
    (1.0, LEAST_SCALE),
];

/// How something is set on the fewest pages.
pub(super) struct Fit<'a> {
    typesetter: Typesetter<'a>,
    /// How many these are.
    pub(super) pages: usize,
}

impl Fit<'_> {
    /// Sets it so.
    pub(super) fn set<T>(&self, set: impl Fn(&Typesetter<'_>) -> (T, Pages)) -> (T, Pages) {
        set(&self.typesetter)
    }
}

/// What takes the fewest pages, with type and pictures as large as these let them be. Pictures may be as low as a
/// share of their usual greatest height, so that their writing keeps 7 points; 1 where there are none.
pub(super) fn fit<'a, T>(
    typesetter: &Typesetter<'a>,
    least_picture: f64,
    set: impl Fn(&Typesetter<'_>) -> (T, Pages),
) -> Fit<'a> {
    let smaller = |(way, everything): (f64, f64)| Typesetter {
        tallest: (1.0 - (1.0 - least_picture) * way) * typesetter.tallest / everything,
        width: typesetter.width / everything,
        scale: everything,
        ..*typesetter
    };
    // What is tried leaves nothing in the document's tree.
    let count = |step: (f64, f64)| {
        let tags = Tags::new();
        let tried = Typesetter {
            tags: &tags,
            under: Tags::ROOT,
            draws: false,
            ..smaller(step)
        };
        set(&tried).1.len()
    };
    let [first, others @ ..] = STEPS;
    let mut best = (first, count(first));
    let mut last = first.1;
    for step in others {
        if best.1 == 1 {
            break;
        }
        // Without pictures there is nothing that is smaller than at the step before.
        if least_picture >= 1.0 && step.1 >= last {
            continue;
        }
        last = step.1;
        let pages = count(step);
        if pages < best.1 {
            best = (step, pages);
        }
    }
    Fit {
        typesetter: smaller(best.0),
        pages: best.1,
    }
}

/// The same, set.
pub(super) fn fitted<T>(
    typesetter: &Typesetter<'_>,
    least_picture: f64,
    set: impl Fn(&Typesetter<'_>) -> (T, Pages),
) -> (T, Pages) {
    fit(typesetter, least_picture, &set).set(&set)
}
