//! Woods by their names.

use super::species::Wood;
use super::table::WOODS;

/// What is known of a wood by a name that somebody wrote.
#[derive(Debug, Clone, PartialEq)]
pub enum KnownWood {
    /// It is in the table.
    Known(&'static Wood),
    /// None is called so; these have all its words in one of their names.
    Unknown(Vec<&'static str>),
}

/// Looks a wood up, whatever the order of its words, capitals and hyphens.
pub fn known_wood(name: &str) -> KnownWood {
    let asked = words(name);
    let is_called = |wood: &&Wood| wood.names.iter().any(|name| words(name) == asked);
    if let Some(wood) = WOODS.iter().find(is_called) {
        return KnownWood::Known(wood);
    }
    let has_words = |wood: &&Wood| {
        let has = |name: &&str| {
            let own = words(name);
            asked.iter().all(|word| own.contains(word))
        };
        !asked.is_empty() && wood.names.iter().any(has)
    };
    let like = WOODS.iter().filter(has_words);
    KnownWood::Unknown(
        like.filter_map(|wood| wood.names.first().copied())
            .collect(),
    )
}

/// In small letters, sorted.
fn words(name: &str) -> Vec<String> {
    let parts = name.split(|letter: char| !letter.is_alphanumeric());
    let parts = parts.filter(|part| !part.is_empty());
    let mut words: Vec<String> = parts.map(str::to_lowercase).collect();
    words.sort_unstable();
    words
}

#[cfg(test)]
mod tests {
    use super::super::basis::Basis;
    use super::super::species::{Movement, Sourced};
    use super::*;
    use float_cmp::approx_eq;
    use std::collections::BTreeSet;

    fn found(name: &str) -> &'static Wood {
        match known_wood(name) {
            KnownWood::Known(wood) => wood,
            KnownWood::Unknown(like) => panic!("{name}: {like:?}"),
        }
    }

    /// By hand: 1000 x 0.37 x 1.12, 1000 x 0.32 x 1.12, 1000 x 0.55 x 1.12.
    #[test]
    fn densities_by_hand() {
        for (name, wanted) in [
            ("Basswood", 414.4),
            ("western redcedar", 358.4),
            ("walnut, black", 616.0),
            ("Norway  spruce", 441.0),
            ("cedar, Port Orford", 481.6),
        ] {
            let density = found(name).weight.unwrap().value.kg_per_m3();
            assert!(
                approx_eq!(f64, density, wanted, epsilon = 1e-9),
                "{name}: {density}"
            );
        }
        assert_eq!(found("lime").names[0], "linden");
        assert_eq!(found("white ash").weight.unwrap().basis, Basis::FromMemory);
    }

    /// The rule that links the handbook's two tables, C = (S / 100 / F) / (1 - (S / 100) (F - 10) / F), with
    /// F the moisture at which shrinkage begins (30 %, 22 % for western redcedar; from memory) and the total
    /// shrinkages of table 4-3 gives the coefficients of table 13-5 to their five decimals.
    #[test]
    fn coefficients_follow_from_total_shrinkage() {
        for (name, begins, radial, tangential) in [
            ("basswood", 30.0, 6.6, 9.3),
            ("western redcedar", 22.0, 2.4, 5.0),
            ("Port-Orford-cedar", 30.0, 4.6, 6.9),
            ("yellow-cedar", 30.0, 2.8, 6.0),
            ("yellow-poplar", 30.0, 4.6, 8.2),
            ("black cherry", 30.0, 3.7, 7.1),
            ("black walnut", 30.0, 5.5, 7.8),
            ("sugar maple", 30.0, 4.8, 9.9),
            ("yellow birch", 30.0, 7.3, 9.5),
            ("American beech", 30.0, 5.5, 11.9),
        ] {
            let rule = |shrinkage: f64| {
                let whole = shrinkage / 100.0;
                whole / begins / (1.0 - whole * (begins - 10.0) / begins)
            };
            let Movement {
                radial: r,
                tangential: t,
            } = found(name).movement.unwrap().value;
            for (is, was) in [(r, rule(radial)), (t, rule(tangential))] {
                assert!((is - was).abs() < 1e-5, "{name}: {is}, {was}");
            }
        }
    }

    #[test]
    fn wood_moves_more_along_the_rings() {
        for wood in WOODS {
            if let Some(Sourced {
                value: movement, ..
            }) = wood.movement
            {
                assert!(
                    0.0 < movement.radial && movement.radial < movement.tangential,
                    "{wood:?}"
                );
            }
        }
    }

    #[test]
    fn what_could_be_meant_is_told() {
        assert_eq!(known_wood("ash"), KnownWood::Unknown(vec!["white ash"]));
        let cedars = ["yellow-cedar", "Port-Orford-cedar", "incense-cedar"];
        match known_wood("Cedar") {
            KnownWood::Unknown(like) => assert!(cedars.iter().all(|name| like.contains(name))),
            KnownWood::Known(wood) => panic!("{wood:?}"),
        }
        for unknown in ["sugi", "", "-"] {
            assert_eq!(
                known_wood(unknown),
                KnownWood::Unknown(Vec::new()),
                "{unknown}"
            );
        }
    }

    #[test]
    fn no_name_stands_for_two_woods() {
        let mut seen = BTreeSet::new();
        for name in WOODS.iter().flat_map(|wood| wood.names) {
            assert!(seen.insert(words(name)), "{name}");
        }
    }
}
