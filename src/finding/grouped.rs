//! Findings that repeat, told once: the worst of them, how many there are and where.

use super::record::Finding;
use super::spot::{Extent, FindingPlace, Spot};
use crate::phrase;
use crate::units::Mm;

/// More bundles than this are counted, not named.
const MOST_NAMED: usize = 6;

/// Findings with places, of one code at one field, as one: the worst of them, with their number, the
/// least and the greatest figure and where they are. They come in the order of the first of each
/// kind; findings that are nowhere stay as they are, each once.
pub fn grouped(findings: Vec<Finding>) -> Vec<Finding> {
    let mut kinds: Vec<Vec<Finding>> = Vec::new();
    for finding in findings {
        // A thing said twice; of what has places there are too many to compare.
        if finding.places().is_empty() && kinds.iter().any(|kind| kind.contains(&finding)) {
            continue;
        }
        let alike = |kind: &&mut Vec<Finding>| {
            kind.first().is_some_and(|first| {
                let same = first.code == finding.code && first.field == finding.field;
                same && !first.places().is_empty() && !finding.places().is_empty()
            })
        };
        match kinds.iter_mut().find(alike) {
            Some(kind) => kind.push(finding),
            None => kinds.push(vec![finding]),
        }
    }
    kinds.into_iter().filter_map(together).collect()
}

fn together(kind: Vec<Finding>) -> Option<Finding> {
    let count = kind.len();
    let mut places: Vec<FindingPlace> = kind.iter().flat_map(|one| one.places().to_vec()).collect();
    places.sort_unstable();
    places.dedup();
    let extents = kind.iter().filter_map(Finding::extent);
    let extent = extents.reduce(|all, one| Extent {
        least: all.least.min(one.least),
        greatest: all.greatest.max(one.greatest),
        beyond: all.beyond.max(one.beyond),
    });
    // Of equals the first: they come in working order.
    let mut kind = kind.into_iter();
    let first = kind.next()?;
    let worst = kind.fold(first, |worst, one| {
        if one.beyond() > worst.beyond() {
            one
        } else {
            worst
        }
    });
    if count == 1 {
        return Some(worst);
    }
    let mut message = worst.message.clone();
    message.append(phrase!("; {} of this kind", count));
    let range = extent.filter(|extent| extent.greatest > extent.least);
    if let Some(Extent {
        least, greatest, ..
    }) = range
    {
        let least = Mm(least);
        let greatest = Mm(greatest);
        message.append(phrase!(", {} to {}, this the worst", least, greatest));
    }
    message.append(phrase!(": {}", words(&places)));
    Some(Finding {
        message,
        spot: Some(Box::new(Spot { places, extent })),
        ..worst
    })
}

/// `bundle 1 notches 2-5, 7; bundle 2`.
fn words(places: &[FindingPlace]) -> String {
    let bundles: Vec<&[FindingPlace]> = places.chunk_by(|a, b| a.bundle == b.bundle).collect();
    let named = bundles.iter().take(MOST_NAMED).map(|of_bundle| {
        let bundle = of_bundle.first().map_or(0, |place| place.bundle);
        let notches: Vec<usize> = of_bundle.iter().filter_map(|place| place.notch).collect();
        let runs: Vec<String> = notches.chunk_by(|a, b| a + 1 == *b).map(run).collect();
        match notches.len() {
            0 => format!("bundle {bundle}"),
            1 => format!("bundle {bundle} notch {}", runs.join(", ")),
            _ => format!("bundle {bundle} notches {}", runs.join(", ")),
        }
    });
    let mut all: Vec<String> = named.collect();
    match bundles.len().saturating_sub(MOST_NAMED) {
        0 => {}
        1 => all.push("and 1 more bundle".into()),
        more => all.push(format!("and {more} more bundles")),
    }
    all.join("; ")
}

fn run(numbers: &[usize]) -> String {
    match numbers {
        [] => String::new(),
        [one] => one.to_string(),
        [first, .., last] => format!("{first}-{last}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::UnitSystem;

    fn reach(bundle: usize, notch: usize, mm: f64) -> Finding {
        let text = phrase!("notch {} needs {}", notch, Mm(mm));
        let finding = Finding::error("stop-out-of-reach", "stop.farthest", text);
        let finding = finding.figure(mm, mm - 100.0).at_notch(notch);
        finding.in_bundle(bundle)
    }

    #[test]
    fn findings_of_a_kind_are_told_once_by_the_worst() {
        let other = Finding::error("no-stop", "stop", "no stop");
        let all = vec![
            reach(1, 3, 110.0),
            reach(1, 4, 150.0),
            other.clone(),
            reach(1, 6, 120.0),
            reach(2, 1, 105.0),
            other.clone(),
        ];
        let told = grouped(all);
        assert_eq!(told.len(), 2);
        assert_eq!(told[1], other);
        assert_eq!(
            told[0].message.text(UnitSystem::Millimetres),
            "notch 4 needs 150.00 mm; 4 of this kind, 105.00 mm to 150.00 mm, this the worst: \
             bundle 1 notches 3-4, 6; bundle 2 notch 1"
        );
        assert_eq!(told[0].places().len(), 4);
        let extent = told[0].extent().unwrap();
        assert_eq!((extent.least, extent.greatest), (105.0, 150.0));
    }

    #[test]
    fn one_alone_stays_as_it_is_and_other_fields_stand_apart() {
        let near = Finding {
            field: "stop.nearest".into(),
            ..reach(1, 1, 5.0)
        };
        let all = vec![reach(1, 3, 110.0), near];
        assert_eq!(grouped(all.clone()), all);
    }

    #[test]
    fn many_bundles_are_counted() {
        let told = grouped((1..=9).map(|bundle| reach(bundle, 1, 110.0)).collect());
        let text = told[0].message.text(UnitSystem::Millimetres);
        assert!(
            text.ends_with("bundle 6 notch 1; and 3 more bundles"),
            "{text}"
        );
        assert!(!text.contains("the worst"), "{text}");
    }
}
