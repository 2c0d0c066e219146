//! What several set-ups have in common is said once; what some of them have alone names them.

use crate::instructions::label_runs;
use crate::instructions::sheet::Figure;
use crate::phrase::Phrase;
use crate::units::UnitSystem;

/// Things that are told of set-ups, by the numbers of these.
type Told<T> = Vec<(T, Vec<usize>)>;

/// Sentences of several, in the order in which they are first said. Those that not all of them have
/// begin with `whose` they are, told by numbers from 1: `Set-ups 1-3: `.
pub(super) fn said_once(lists: &[Vec<Phrase>], whose: impl Fn(&[usize]) -> String) -> Vec<Phrase> {
    let mut told: Told<&Phrase> = Vec::new();
    for (number, sentences) in (1..).zip(lists) {
        // A sentence that is new comes behind the one before it.
        let mut behind = 0;
        for sentence in sentences {
            let known = told.iter().position(|(known, _)| reads_alike(known, sentence));
            match known.and_then(|at| Some((at, told.get_mut(at)?))) {
                Some((at, (_, numbers))) => {
                    numbers.push(number);
                    behind = at + 1;
                }
                None => {
                    told.insert(behind, (sentence, vec![number]));
                    behind += 1;
                }
            }
        }
    }
    let said = told.into_iter().map(|(sentence, numbers)| {
        if numbers.len() == lists.len() {
            return sentence.clone();
        }
        let mut words = Phrase::from(format!("{}: ", whose(&numbers)));
        words.append(sentence.clone());
        words
    });
    said.collect()
}

/// `Set-up 3`, `Set-ups 1-3, 7`.
pub(super) fn set_ups(numbers: &[usize]) -> String {
    let labels: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    let s = if numbers.len() == 1 { "" } else { "s" };
    format!("Set-up{s} {}", label_runs(&labels))
}

/// Figures that all lists have alike, and what is left of each list.
pub(super) fn in_common(lists: &[Vec<Figure>]) -> (Vec<Figure>, Vec<Vec<Figure>>) {
    let Some((first, others)) = lists.split_first() else {
        return (Vec::new(), Vec::new());
    };
    let has = |list: &[Figure], figure: &Figure| list.iter().any(|own| figure_alike(own, figure));
    let mut same = first.clone();
    same.retain(|figure| others.iter().all(|list| has(list, figure)));
    let own = lists.iter().map(|list| {
        let own = list.iter().filter(|figure| !has(&same, figure));
        own.cloned().collect()
    });
    let own = own.collect();
    (same, own)
}

/// Whether two sentences are printed alike.
fn reads_alike(a: &Phrase, b: &Phrase) -> bool {
    let printed =
        |phrase: &Phrase| [UnitSystem::Millimetres, UnitSystem::Inches].map(|units| phrase.text(units));
    printed(a) == printed(b)
}

/// Whether two figures are.
fn figure_alike(a: &Figure, b: &Figure) -> bool {
    let value = |figure: &Figure| Phrase(vec![figure.value.clone()]);
    a.name == b.name && reads_alike(&value(a), &value(b)) && reads_alike(&a.measured, &b.measured)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::phrase;
    use crate::units::Mm;

    fn figures(figures: &[(&str, f64)]) -> Vec<Figure> {
        let figures = figures.iter();
        let figures = figures.map(|(name, mm)| Figure::new(name, Mm(*mm), "from a datum"));
        figures.collect()
    }

    #[test]
    fn what_all_have_in_common_is_said_once_and_nothing_is_lost() {
        let lists = [
            figures(&[("tool", 3.0), ("safe height", 12.0), ("length", 300.0)]),
            figures(&[
                ("tool", 3.0),
                ("safe height", 12.0 + 1e-9),
                ("length", 240.0),
            ]),
            figures(&[("tool", 3.0), ("safe height", 12.0), ("length", 300.0)]),
        ];
        let (same, own) = in_common(&lists);
        assert_eq!(same, figures(&[("tool", 3.0), ("safe height", 12.0)]));
        assert_eq!(own[0], figures(&[("length", 300.0)]));
        assert_eq!(own[1], figures(&[("length", 240.0)]));
        let (same, own) = in_common(&[figures(&[("tool", 3.0)]), figures(&[("tool", 4.0)])]);
        assert!(same.is_empty());
        assert_eq!(own[1], figures(&[("tool", 4.0)]));
    }

    #[test]
    fn sentences_keep_their_order_and_name_whose_they_are() {
        let say = |mm: &[f64]| -> Vec<Phrase> {
            mm.iter().map(|mm| phrase!("set {}", Mm(*mm))).collect()
        };
        let lists = [
            say(&[1.0, 3.0, 4.0]),
            say(&[1.0, 2.0, 4.0]),
            say(&[1.0, 3.0, 4.0, 5.0]),
        ];
        let told: Vec<String> = said_once(&lists, set_ups)
            .iter()
            .map(|said| said.text(UnitSystem::Millimetres))
            .collect();
        assert_eq!(
            told,
            [
                "set 1.00 mm",
                "Set-up 2: set 2.00 mm",
                "Set-ups 1, 3: set 3.00 mm",
                "set 4.00 mm",
                "Set-up 3: set 5.00 mm"
            ]
        );
    }
}
