//! How heavy woods are.

use crate::instructions::overview::{Basis, Density};

/// A wood and its density at [`MOISTURE_PERCENT`].
struct Wood {
    /// All that it is called, its usual name first. The order of the words does not matter.
    names: &'static [&'static str],
    weighed: Weighed,
    basis: Basis,
    source: &'static str,
}

/// What a source says.
#[derive(Clone, Copy)]
enum Weighed {
    /// Specific gravity: oven-dry mass by volume at 12 % moisture, by the density of water.
    SpecificGravity(f64),
    /// Density at 12 % moisture, kg/m3.
    Density(f64),
}

/// Water by oven-dry wood, percent: what wood indoors comes near, and what tables are made for.
const MOISTURE_PERCENT: f64 = 12.0;

const TABLE: &str = "Wood Handbook, USDA Forest Products Laboratory, table 5-3";
const RETOLD: &str =
    "Wood Handbook, USDA Forest Products Laboratory, table 5-3, as trade pages repeat it";

/// Specific gravities at 12 % moisture as in the table of mechanical properties of woods grown in the
/// United States (Wood Handbook, FPL-GTR-190 and FPL-GTR-282, table 5-3), each marked for how it was
/// come by; two European woods by density.
const WOODS: &[Wood] = &[
    remembered(
        &["western redcedar", "western red cedar", "Thuja plicata"],
        0.32,
    ),
    Wood {
        names: &[
            "yellow-cedar",
            "Alaska yellow-cedar",
            "Alaska cedar",
            "Callitropsis nootkatensis",
        ],
        weighed: Weighed::SpecificGravity(0.44),
        basis: Basis::Published,
        source: "technology sheet of the USDA Forest Products Laboratory",
    },
    remembered(&["Port-Orford-cedar", "Chamaecyparis lawsoniana"], 0.43),
    remembered(&["incense-cedar", "Calocedrus decurrens"], 0.37),
    remembered(&["eastern white pine", "Pinus strobus"], 0.35),
    remembered(&["western white pine", "Pinus monticola"], 0.38),
    remembered(&["sugar pine", "Pinus lambertiana"], 0.36),
    remembered(&["Sitka spruce", "Picea sitchensis"], 0.40),
    Wood {
        names: &["Engelmann spruce", "Picea engelmannii"],
        weighed: Weighed::SpecificGravity(0.35),
        basis: Basis::Published,
        source: "Table of Relative Working and Physical Properties, Oregon State University",
    },
    Wood {
        names: &["basswood", "American basswood", "Tilia americana"],
        weighed: Weighed::SpecificGravity(0.37),
        basis: Basis::Secondary,
        source: "a trade's guide to species",
    },
    retold(
        &["yellow-poplar", "tulip poplar", "Liriodendron tulipifera"],
        0.42,
    ),
    retold(&["black cherry", "Prunus serotina"], 0.50),
    retold(&["black walnut", "Juglans nigra"], 0.55),
    remembered(&["red maple", "Acer rubrum"], 0.54),
    Wood {
        names: &["sugar maple", "hard maple", "Acer saccharum"],
        weighed: Weighed::SpecificGravity(0.63),
        basis: Basis::Secondary,
        source: "a flooring trade association's page",
    },
    remembered(&["white ash", "Fraxinus americana"], 0.60),
    remembered(&["northern red oak", "Quercus rubra"], 0.63),
    retold(&["white oak", "Quercus alba"], 0.68),
    remembered(&["yellow birch", "Betula alleghaniensis"], 0.62),
    remembered(&["American beech", "Fagus grandifolia"], 0.72),
    Wood {
        names: &["Norway spruce", "European spruce", "Picea abies"],
        weighed: Weighed::Density(441.0),
        basis: Basis::Published,
        source: "a timber trade body's page",
    },
    Wood {
        // Two pages, 480 and 490 kg/m3: the middle.
        names: &["linden", "lime", "European lime", "European linden"],
        weighed: Weighed::Density(485.0),
        basis: Basis::Published,
        source: "between two trade pages, 480 and 490 kg/m3",
    },
];

const fn remembered(names: &'static [&'static str], gravity: f64) -> Wood {
    Wood {
        names,
        weighed: Weighed::SpecificGravity(gravity),
        basis: Basis::FromMemory,
        source: TABLE,
    }
}

const fn retold(names: &'static [&'static str], gravity: f64) -> Wood {
    Wood {
        names,
        weighed: Weighed::SpecificGravity(gravity),
        basis: Basis::Secondary,
        source: RETOLD,
    }
}

/// What is known of a wood by a name that somebody wrote.
#[derive(Debug, Clone, PartialEq)]
enum KnownWood {
    /// Its density.
    Known(Density),
    /// None is called so; these have all its words in one of their names.
    Unknown(Vec<&'static str>),
}

/// What a job says of a wood: its density goes before the table's.
pub(super) fn weighed(
    wood: Option<&str>,
    kg_per_m3: Option<f64>,
) -> (Option<Density>, Vec<&'static str>) {
    if let Some(kg_per_m3) = kg_per_m3 {
        let given = Density {
            wood: wood.map(str::to_owned),
            kg_per_m3,
            moisture_percent: None,
            basis: Basis::Job,
            source: "the job",
        };
        return (Some(given), Vec::new());
    }
    match wood.map(known_wood) {
        Some(KnownWood::Known(density)) => (Some(density), Vec::new()),
        Some(KnownWood::Unknown(like)) => (None, like),
        None => (None, Vec::new()),
    }
}

/// Looks a wood up, whatever the order of its words, capitals and hyphens.
fn known_wood(name: &str) -> KnownWood {
    let asked = words(name);
    let is_called = |wood: &&Wood| wood.names.iter().any(|name| words(name) == asked);
    if let Some(wood) = WOODS.iter().find(is_called) {
        return KnownWood::Known(density(wood));
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

/// Density at M percent moisture is 1000 G (1 + M / 100) kg/m3, G being oven-dry mass by volume at M
/// percent (Wood Handbook, chapter 4; from memory).
fn density(wood: &Wood) -> Density {
    let kg_per_m3 = match wood.weighed {
        Weighed::SpecificGravity(gravity) => 1000.0 * gravity * (1.0 + MOISTURE_PERCENT / 100.0),
        Weighed::Density(density) => density,
    };
    Density {
        wood: wood.names.first().map(|name| (*name).to_owned()),
        kg_per_m3,
        moisture_percent: Some(MOISTURE_PERCENT),
        basis: wood.basis,
        source: wood.source,
    }
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
    use super::*;
    use float_cmp::approx_eq;
    use std::collections::BTreeSet;

    fn found(name: &str) -> Density {
        match known_wood(name) {
            KnownWood::Known(density) => density,
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
            let density = found(name).kg_per_m3;
            assert!(
                approx_eq!(f64, density, wanted, epsilon = 1e-9),
                "{name}: {density}"
            );
        }
        assert_eq!(found("lime").wood.as_deref(), Some("linden"));
        assert_eq!(found("white ash").basis, Basis::FromMemory);
    }

    #[test]
    fn what_could_be_meant_is_told() {
        assert_eq!(known_wood("ash"), KnownWood::Unknown(vec!["white ash"]));
        let cedars = ["yellow-cedar", "Port-Orford-cedar", "incense-cedar"];
        match known_wood("Cedar") {
            KnownWood::Unknown(like) => assert!(cedars.iter().all(|name| like.contains(name))),
            KnownWood::Known(density) => panic!("{density:?}"),
        }
        for unknown in ["hinoki", "", "-"] {
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
