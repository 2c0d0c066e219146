//! The woods, and where every figure comes from.

use super::basis::Basis;
use super::species::{Movement, Sourced, Weight, Wood};
use super::working::{Class, Hardness, Rating, Workability};

const GRAVITIES: &str = "Wood Handbook, USDA Forest Products Laboratory, table 5-3";
const GRAVITIES_RETOLD: &str =
    "Wood Handbook, USDA Forest Products Laboratory, table 5-3, as trade pages repeat it";
const WORKING: &str = "Table of Relative Working and Physical Properties, Oregon State University";
const PLANING: &str = "E. M. Davis, USDA Technical Bulletin 1267, 1962";
const MOVEMENTS: &str = "Wood Handbook, USDA Forest Products Laboratory, table 13-5";

/// Specific gravities and side hardness at 12 % moisture as in the table of mechanical properties of woods grown
/// in the United States (Wood Handbook, FPL-GTR-190 and FPL-GTR-282, table 5-3), and coefficients of dimensional
/// change (table 13-5), each marked for how it was come by; other figures by what is said beside them.
pub const WOODS: &[Wood] = &[
    Wood {
        names: &["western redcedar", "western red cedar", "Thuja plicata"],
        weight: Some(remembered(0.32)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_11, 0.002_34)),
        class: Class::Softwood,
        hardness: Some(hardness_retold(350.0)),
        work: Some(works([Rating::Three, Rating::Three, Rating::Four])),
        planed_well: None,
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
        class: Class::Softwood,
        hardness: Some(hardness_remembered(580.0)),
        work: Some(works([Rating::Four, Rating::Four, Rating::Two])),
        planed_well: None,
    },
    Wood {
        names: &["Port-Orford-cedar", "Chamaecyparis lawsoniana"],
        weight: Some(remembered(0.43)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_58, 0.002_41)),
        class: Class::Softwood,
        hardness: Some(Sourced {
            value: Hardness::JankaPounds(630.0),
            basis: Basis::FromMemory,
            source: "Wood Handbook, USDA Forest Products Laboratory, table 5-3 (a database of woods has 590 lbf)",
        }),
        work: Some(works([Rating::Four, Rating::Four, Rating::Two])),
        planed_well: None,
    },
    Wood {
        names: &["incense-cedar", "Calocedrus decurrens"],
        weight: Some(remembered(0.37)),
        movement: None,
        class: Class::Softwood,
        hardness: Some(hardness_remembered(470.0)),
        work: Some(works([Rating::Four, Rating::Four, Rating::Four])),
        planed_well: None,
    },
    Wood {
        names: &["eastern white pine", "Pinus strobus"],
        weight: Some(remembered(0.35)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.000_71, 0.002_12)),
        class: Class::Softwood,
        hardness: Some(hardness_retold(380.0)),
        work: None,
        planed_well: None,
    },
    Wood {
        names: &["western white pine", "Pinus monticola"],
        weight: Some(remembered(0.38)),
        movement: None,
        class: Class::Softwood,
        hardness: Some(hardness_retold(420.0)),
        work: Some(works([Rating::Four, Rating::Four, Rating::Four])),
        planed_well: None,
    },
    Wood {
        names: &["sugar pine", "Pinus lambertiana"],
        weight: Some(remembered(0.36)),
        movement: None,
        class: Class::Softwood,
        hardness: Some(hardness_retold(380.0)),
        work: Some(works([Rating::Four, Rating::Four, Rating::Three])),
        planed_well: None,
    },
    Wood {
        names: &["Sitka spruce", "Picea sitchensis"],
        weight: Some(remembered(0.40)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_48, 0.002_63)),
        class: Class::Softwood,
        hardness: Some(hardness_retold(510.0)),
        work: Some(works([Rating::Three, Rating::Four, Rating::Four])),
        planed_well: None,
    },
    Wood {
        names: &["Engelmann spruce", "Picea engelmannii"],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.35),
            basis: Basis::Published,
            source: WORKING,
        }),
        movement: None,
        class: Class::Softwood,
        hardness: Some(Sourced {
            value: Hardness::JankaPounds(390.0),
            basis: Basis::Published,
            source: WORKING,
        }),
        work: Some(works([Rating::Three, Rating::Four, Rating::Four])),
        planed_well: None,
    },
    Wood {
        names: &["basswood", "American basswood", "Tilia americana"],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.37),
            basis: Basis::Secondary,
            source: "a trade's guide to species",
        }),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.002_30, 0.003_30)),
        class: Class::Hardwood,
        hardness: Some(Sourced {
            value: Hardness::JankaPounds(410.0),
            basis: Basis::Secondary,
            source: "a trade's guide to species",
        }),
        work: None,
        planed_well: Some(planes(64.0)),
    },
    Wood {
        names: &["yellow-poplar", "tulip poplar", "Liriodendron tulipifera"],
        weight: Some(retold(0.42)),
        movement: Some(moves(Basis::FromMemory, MOVEMENTS, 0.001_58, 0.002_89)),
        class: Class::Hardwood,
        hardness: Some(hardness_remembered(540.0)),
        work: None,
        planed_well: Some(planes(70.0)),
    },
    Wood {
        names: &["black cherry", "Prunus serotina"],
        weight: Some(retold(0.50)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_26, 0.002_48)),
        class: Class::Hardwood,
        hardness: Some(hardness_retold(950.0)),
        work: None,
        planed_well: Some(planes(80.0)),
    },
    Wood {
        names: &["black walnut", "Juglans nigra"],
        weight: Some(retold(0.55)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_90, 0.002_74)),
        class: Class::Hardwood,
        hardness: Some(hardness_retold(1_010.0)),
        work: None,
        planed_well: Some(planes(62.0)),
    },
    Wood {
        names: &["red maple", "Acer rubrum"],
        weight: Some(remembered(0.54)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_37, 0.002_89)),
        class: Class::Hardwood,
        hardness: Some(hardness_remembered(950.0)),
        work: None,
        planed_well: Some(planes(41.0)),
    },
    Wood {
        names: &["sugar maple", "hard maple", "Acer saccharum"],
        weight: Some(Sourced {
            value: Weight::SpecificGravity(0.63),
            basis: Basis::Secondary,
            source: "a flooring trade association's page",
        }),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_65, 0.003_53)),
        class: Class::Hardwood,
        hardness: Some(Sourced {
            value: Hardness::JankaPounds(1_450.0),
            basis: Basis::Secondary,
            source: "a flooring trade association's page",
        }),
        work: None,
        planed_well: Some(planes(54.0)),
    },
    Wood {
        names: &["white ash", "Fraxinus americana"],
        weight: Some(remembered(0.60)),
        movement: None,
        class: Class::Hardwood,
        hardness: Some(hardness_retold(1_320.0)),
        work: None,
        planed_well: Some(planes(75.0)),
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
        class: Class::Hardwood,
        hardness: Some(hardness_retold(1_290.0)),
        work: None,
        planed_well: Some(planes(91.0)),
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
        class: Class::Hardwood,
        hardness: Some(hardness_retold(1_360.0)),
        work: None,
        planed_well: Some(planes(87.0)),
    },
    Wood {
        names: &["yellow birch", "Betula alleghaniensis"],
        weight: Some(remembered(0.62)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.002_56, 0.003_38)),
        class: Class::Hardwood,
        hardness: Some(hardness_retold(1_260.0)),
        work: None,
        planed_well: Some(planes(63.0)),
    },
    Wood {
        names: &["American beech", "Fagus grandifolia"],
        weight: Some(remembered(0.72)),
        movement: Some(moves(Basis::Published, MOVEMENTS, 0.001_90, 0.004_31)),
        class: Class::Hardwood,
        hardness: Some(hardness_retold(1_300.0)),
        work: None,
        planed_well: Some(planes(83.0)),
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
        class: Class::Softwood,
        hardness: Some(Sourced {
            value: Hardness::JankaNewtons(1600.0),
            basis: Basis::Published,
            source: "a timber trade body's page",
        }),
        work: None,
        planed_well: None,
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
        class: Class::Hardwood,
        hardness: Some(Sourced {
            value: Hardness::Brinell(16.0),
            basis: Basis::Published,
            source: "trade pages on European woods",
        }),
        work: None,
        planed_well: None,
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
        class: Class::Softwood,
        hardness: None,
        work: None,
        planed_well: None,
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

const fn hardness_retold(pounds: f64) -> Sourced<Hardness> {
    Sourced {
        value: Hardness::JankaPounds(pounds),
        basis: Basis::Secondary,
        source: GRAVITIES_RETOLD,
    }
}

const fn hardness_remembered(pounds: f64) -> Sourced<Hardness> {
    Sourced {
        value: Hardness::JankaPounds(pounds),
        basis: Basis::FromMemory,
        source: GRAVITIES,
    }
}

/// Machining, resistance to splitting, gluing.
const fn works([machining, splitting, gluing]: [Rating; 3]) -> Sourced<Workability> {
    Sourced {
        value: Workability {
            machining,
            splitting,
            gluing,
        },
        basis: Basis::Published,
        source: WORKING,
    }
}

/// The bulletin's title and contents were seen, its figures were not.
const fn planes(percent: f64) -> Sourced<f64> {
    Sourced {
        value: percent,
        basis: Basis::FromMemory,
        source: PLANING,
    }
}
