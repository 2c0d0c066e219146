//! What published tables say of woods.

use super::basis::Basis;

/// A wood, and what is known of it.
#[derive(Debug, PartialEq)]
pub struct Wood {
    /// All that it is called, its usual name first. The order of the words does not matter.
    pub names: &'static [&'static str],
    /// How heavy it is.
    pub weight: Option<Sourced<Weight>>,
    /// How it moves.
    pub movement: Option<Sourced<Movement>>,
}

/// A figure, how sure it is, and who says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// How sure it is.
    pub basis: Basis,
    /// Where it comes from.
    pub source: &'static str,
}

/// What a source says of a wood's weight at [`MOISTURE_PERCENT`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Weight {
    /// Specific gravity: oven-dry mass by volume at that moisture, by the density of water.
    SpecificGravity(f64),
    /// Density, kg/m3.
    Density(f64),
}

/// How much wider a wood becomes across its grain for each percent of moisture: parts of its width.
/// Along the grain it hardly moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Movement {
    /// Square to the growth rings.
    pub radial: f64,
    /// Along them.
    pub tangential: f64,
}

/// Water by oven-dry wood, percent: what tables of densities are made for.
pub const MOISTURE_PERCENT: f64 = 12.0;

impl Weight {
    /// Density at M percent moisture is 1000 G (1 + M / 100) kg/m3, G being oven-dry mass by volume at M
    /// percent (Wood Handbook, chapter 4; from memory).
    pub fn kg_per_m3(self) -> f64 {
        match self {
            Weight::SpecificGravity(gravity) => 1000.0 * gravity * (1.0 + MOISTURE_PERCENT / 100.0),
            Weight::Density(density) => density,
        }
    }
}

const GRAVITIES: &str = "Wood Handbook, USDA Forest Products Laboratory, table 5-3";
const GRAVITIES_RETOLD: &str =
    "Wood Handbook, USDA Forest Products Laboratory, table 5-3, as trade pages repeat it";
const MOVEMENTS: &str = "Wood Handbook, USDA Forest Products Laboratory, table 13-5";

/// Specific gravities at 12 % moisture as in the table of mechanical properties of woods grown in the
/// United States (Wood Handbook, FPL-GTR-190 and FPL-GTR-282, table 5-3), and coefficients of dimensional
/// change (table 13-5), each marked for how it was come by; other woods by what is said beside them.
pub const WOODS: &[Wood] = &[
    Wood {
        names: &["western redcedar", "western red cedar", "Thuja plicata"],
        weight: Some(remembered(0.32)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_11, 0.002_34)),
    },
    Wood {
        names: &[
            "yellow-cedar",
            "Alaska yellow-cedar",
            "Alaska cedar",
            "Callitropsis nootkatensis",
        ],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.44),
            basis: Basis::Published,
            source: "technology sheet of the USDA Forest Products Laboratory",
        }),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.000_95, 0.002_08)),
    },
    Wood {
        names: &["Port-Orford-cedar", "Chamaecyparis lawsoniana"],
        weight: Some(remembered(0.43)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_58, 0.002_41)),
    },
    Wood {
        names: &["incense-cedar", "Calocedrus decurrens"],
        weight: Some(remembered(0.37)),
        movement: None,
    },
    Wood {
        names: &["eastern white pine", "Pinus strobus"],
        weight: Some(remembered(0.35)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.000_71, 0.002_12)),
    },
    Wood {
        names: &["western white pine", "Pinus monticola"],
        weight: Some(remembered(0.38)),
        movement: None,
    },
    Wood {
        names: &["sugar pine", "Pinus lambertiana"],
        weight: Some(remembered(0.36)),
        movement: None,
    },
    Wood {
        names: &["Sitka spruce", "Picea sitchensis"],
        weight: Some(remembered(0.40)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_48, 0.002_63)),
    },
    Wood {
        names: &["Engelmann spruce", "Picea engelmannii"],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.35),
            basis: Basis::Published,
            source: "Table of Relative Working and Physical Properties, Oregon State University",
        }),
        movement: None,
    },
    Wood {
        names: &["basswood", "American basswood", "Tilia americana"],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.37),
            basis: Basis::Secondary,
            source: "a trade's guide to species",
        }),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.002_30, 0.003_30)),
    },
    Wood {
        names: &["yellow-poplar", "tulip poplar", "Liriodendron tulipifera"],
        weight: Some(retold(0.42)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_58, 0.002_89)),
    },
    Wood {
        names: &["black cherry", "Prunus serotina"],
        weight: Some(retold(0.50)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_26, 0.002_48)),
    },
    Wood {
        names: &["black walnut", "Juglans nigra"],
        weight: Some(retold(0.55)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_90, 0.002_74)),
    },
    Wood {
        names: &["red maple", "Acer rubrum"],
        weight: Some(remembered(0.54)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_37, 0.002_89)),
    },
    Wood {
        names: &["sugar maple", "hard maple", "Acer saccharum"],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.63),
            basis: Basis::Secondary,
            source: "a flooring trade association's page",
        }),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_65, 0.003_53)),
    },
    Wood {
        names: &["white ash", "Fraxinus americana"],
        weight: Some(remembered(0.60)),
        movement: None,
    },
    Wood {
        names: &["northern red oak", "Quercus rubra"],
        weight: Some(remembered(0.63)),
        movement: Some(moves(
            Basis::Published,
            "Wood Handbook, USDA Forest Products Laboratory, table 13-5, commercial red oaks",
            0.001_58,
            0.003_69,
        )),
    },
    Wood {
        names: &["white oak", "Quercus alba"],
        weight: Some(retold(0.68)),
        movement: Some(moves(
            Basis::Published,
            "Wood Handbook, USDA Forest Products Laboratory, table 13-5, commercial white oaks",
            0.001_80,
            0.003_65,
        )),
    },
    Wood {
        names: &["yellow birch", "Betula alleghaniensis"],
        weight: Some(remembered(0.62)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.002_56, 0.003_38)),
    },
    Wood {
        names: &["American beech", "Fagus grandifolia"],
        weight: Some(remembered(0.72)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_90, 0.004_31)),
    },
    Wood {
        names: &["Norway spruce", "European spruce", "Picea abies"],
        weight: Some(Sourced {
            value: Weight::Density(441.0),
            basis: Basis::Published,
            source: "a timber trade body's page",
        }),
        movement: Some(moves(
            Basis::Published,
            "a German timber trade's table of differential shrinkage",
            0.001_9,
            0.003_9,
        )),
    },
    Wood {
        names: &["linden", "lime", "European lime", "European linden"],
        weight: Some(Sourced {
            value: Weight::Density(485.0),
            basis: Basis::Published,
            source: "between two trade pages, 480 and 490 kg/m3",
        }),
        movement: Some(moves(
            Basis::Secondary,
            "total shrinkage by an encyclopaedia, through the handbook's own rule",
            0.001_9,
            0.003_2,
        )),
    },
    Wood {
        names: &["hinoki", "Japanese cypress", "Chamaecyparis obtusa"],
        weight: None,
        movement: Some(moves(
            Basis::Published,
            "a Japanese society of building materials, sheet on hinoki",
            0.001_2,
            0.002_3,
        )),
    },
];

const fn remembered(gravity: f64) -> Sourced<Weight> {
    Sourced {
        value: Weight::SpecificGravity(gravity),
        basis: Basis::FromMemory,
        source: GRAVITIES,
    }
}

const fn retold(gravity: f64) -> Sourced<Weight> {
    Sourced {
        value: Weight::SpecificGravity(gravity),
        basis: Basis::Secondary,
        source: GRAVITIES_RETOLD,
    }
}

const fn moves(
    basis: Basis,
    source: &'static str,
    radial: f64,
    tangential: f64,
) -> Sourced<Movement> {
    Sourced {
        value: Movement { radial, tangential },
        basis,
        source,
    }
}

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
