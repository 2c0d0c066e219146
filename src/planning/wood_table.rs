//! What is known of woods, side by side.

use crate::instructions::wood_table::{Price, Ratings, Told, WoodRow, WoodTable};
use crate::woods::{
    Basis, Class, Hardness, KnownWood, MOISTURE_PERCENT, Movement, Sourced, WOODS, Weight, Wood,
    Workability, hardness_from_gravity, known_wood,
};

/// A wood that is asked for, with figures of one's own: these come before those of the tables.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OwnWood {
    /// What it is called.
    pub name: String,
    /// At 12 % of moisture, kg/m3.
    pub density: Option<f64>,
    /// On its side, by Janka, newtons.
    pub hardness: Option<f64>,
    /// Parts of its width for each percent of moisture.
    pub movement: Option<Movement>,
    /// How well it works.
    pub work: Option<Workability>,
    /// What it costs.
    pub price: Option<Price>,
}

const JOB: &str = "the job";
const DERIVED: &str = "8590 G^1.49 N for softwoods, 15300 G^2.09 N for hardwoods, from this specific gravity G \
                       (Wood Handbook, table 5-11, from memory)";

impl WoodTable {
    /// The woods that are asked for; all that are in the tables where none is.
    pub fn of(asked: &[OwnWood]) -> WoodTable {
        let every = WOODS
            .iter()
            .filter_map(|wood| wood.names.first())
            .map(|name| OwnWood {
                name: (*name).to_owned(),
                ..OwnWood::default()
            });
        let woods = match asked {
            [] => every.map(|wood| row(&wood)).collect(),
            _ => asked.iter().map(row).collect(),
        };
        WoodTable { woods }
    }
}

fn row(own: &OwnWood) -> WoodRow {
    let (wood, like) = match known_wood(&own.name) {
        KnownWood::Known(wood) => (Some(wood), Vec::new()),
        KnownWood::Unknown(like) => (None, like),
    };
    let name = wood.and_then(|wood| wood.names.first().copied());
    let weight = wood.and_then(|wood| wood.weight);
    let density = given(own.density).or(weight.map(|weight| told(weight, Weight::kg_per_m3)));
    let hardness = wood.and_then(|wood| wood.hardness);
    let brinell = hardness.and_then(|hardness| match hardness.value {
        Hardness::Brinell(value) => Some(told(hardness, |_| value)),
        _ => None,
    });
    WoodRow {
        wood: name.unwrap_or(&own.name).to_owned(),
        like,
        density_kg_m3: density,
        hardness_n: given(own.hardness)
            .or_else(|| newtons(hardness?))
            .or_else(|| expected(wood?.class, density?)),
        brinell_n_mm2: brinell,
        movement_percent: given(own.movement)
            .or(wood.and_then(|wood| wood.movement.map(same)))
            .map(percents),
        work: given(own.work)
            .or(wood.and_then(|wood| wood.work.map(same)))
            .map(ratings),
        planed_well_percent: wood.and_then(|wood: &Wood| wood.planed_well.map(same)),
        price: own.price,
    }
}

fn given<T>(value: Option<T>) -> Option<Told<T>> {
    value.map(|value| Told {
        value,
        basis: Basis::Job,
        source: JOB,
    })
}

fn told<T, U>(figure: Sourced<T>, value: impl Fn(T) -> U) -> Told<U> {
    Told {
        value: value(figure.value),
        basis: figure.basis,
        source: figure.source,
    }
}

fn same<T>(figure: Sourced<T>) -> Told<T> {
    told(figure, |value| value)
}

fn newtons(hardness: Sourced<Hardness>) -> Option<Told<f64>> {
    let newtons = hardness.value.newtons()?;
    Some(told(hardness, |_| newtons))
}

/// Specific gravity is oven-dry mass by volume at 12 %, by the density of water: G = D / (1000 (1 + M / 100)).
fn expected(class: Class, density: Told<f64>) -> Option<Told<f64>> {
    let gravity = density.value / (1000.0 * (1.0 + MOISTURE_PERCENT / 100.0));
    (gravity > 0.0).then(|| Told {
        value: hardness_from_gravity(class, gravity),
        basis: Basis::Derived,
        source: DERIVED,
    })
}

fn percents(movement: Told<Movement>) -> Told<[f64; 2]> {
    let Movement { radial, tangential } = movement.value;
    Told {
        value: [100.0 * radial, 100.0 * tangential],
        basis: movement.basis,
        source: movement.source,
    }
}

fn ratings(work: Told<Workability>) -> Told<Ratings> {
    Told {
        value: Ratings {
            machining: work.value.machining.number(),
            splitting: work.value.splitting.number(),
            gluing: work.value.gluing.number(),
        },
        basis: work.basis,
        source: work.source,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::wood_table::PricedBy;
    use float_cmp::approx_eq;

    fn row_of(own: OwnWood) -> WoodRow {
        WoodTable::of(&[own]).woods.remove(0)
    }

    fn named(name: &str) -> OwnWood {
        OwnWood {
            name: name.into(),
            ..OwnWood::default()
        }
    }

    /// By hand: 1000 x 0.37 x 1.12; 410 lbf x 4.44822; table 13-5.
    #[test]
    fn basswood_by_hand() {
        let row = row_of(named("American basswood"));
        assert_eq!(row.wood, "basswood");
        let density = row.density_kg_m3.unwrap();
        assert!(approx_eq!(f64, density.value, 414.4, epsilon = 1e-9));
        assert_eq!(density.basis, Basis::Secondary);
        let hardness = row.hardness_n.unwrap();
        assert!(
            approx_eq!(f64, hardness.value, 1823.77, epsilon = 0.01),
            "{hardness:?}"
        );
        let [radial, tangential] = row.movement_percent.unwrap().value;
        assert!(approx_eq!(f64, radial, 0.23, epsilon = 1e-12));
        assert!(approx_eq!(f64, tangential, 0.33, epsilon = 1e-12));
        assert_eq!((row.work, row.price), (None, None));
        assert_eq!(row.planed_well_percent.unwrap().basis, Basis::FromMemory);
    }

    /// Linden's hardness is told by Brinell; by Janka 15300 x (485 / 1120)^2.09 = 2661 N is to be expected, and that
    /// is said.
    #[test]
    fn what_is_worked_out_is_said_to_be() {
        let row = row_of(named("linden"));
        assert_eq!(row.brinell_n_mm2.unwrap().value, 16.0);
        let hardness = row.hardness_n.unwrap();
        assert_eq!(hardness.basis, Basis::Derived);
        assert!(
            approx_eq!(f64, hardness.value, 2661.0, epsilon = 1.0),
            "{hardness:?}"
        );
        // Nothing is known of hinoki's weight, so nothing is expected of its hardness.
        let hinoki = row_of(named("hinoki"));
        assert_eq!((hinoki.density_kg_m3, hinoki.hardness_n), (None, None));
        // With a density of one's own it is a softwood of 8590 x (448 / 1120)^1.49 = 2193 N.
        let own = row_of(OwnWood {
            density: Some(448.0),
            ..named("hinoki")
        });
        let hardness = own.hardness_n.unwrap();
        assert!(
            approx_eq!(f64, hardness.value, 2193.0, epsilon = 1.0),
            "{hardness:?}"
        );
        assert_eq!(hardness.basis, Basis::Derived);
    }

    #[test]
    fn own_figures_come_first() {
        let price = Some(Price {
            amount: 9.5,
            per: PricedBy::BoardFoot,
        });
        let row = row_of(OwnWood {
            hardness: Some(1700.0),
            movement: Some(Movement {
                radial: 0.001,
                tangential: 0.002,
            }),
            price,
            ..named("basswood")
        });
        let hardness = row.hardness_n.unwrap();
        assert_eq!(
            (hardness.value, hardness.basis, hardness.source),
            (1700.0, Basis::Job, JOB)
        );
        assert_eq!(row.movement_percent.unwrap().basis, Basis::Job);
        assert_eq!(row.density_kg_m3.unwrap().basis, Basis::Secondary);
        assert_eq!(row.price, price);
    }

    /// Of an unknown wood nothing is said, and no class is guessed.
    #[test]
    fn unknown_is_unknown() {
        let row = row_of(OwnWood {
            density: Some(380.0),
            ..named("sugi")
        });
        assert_eq!(row.wood, "sugi");
        assert_eq!(
            (row.hardness_n, row.work, row.movement_percent),
            (None, None, None)
        );
        let ash = row_of(named("ash"));
        assert_eq!(ash.like, ["white ash"]);
    }

    #[test]
    fn all_where_none_is_asked_for() {
        let all = WoodTable::of(&[]);
        assert_eq!(all.woods.len(), WOODS.len());
        assert!(
            all.woods
                .iter()
                .all(|row| row.movement_percent.is_some() || row.density_kg_m3.is_some())
        );
    }
}
