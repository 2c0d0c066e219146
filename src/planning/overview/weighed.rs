//! How heavy a job's wood is.

use crate::instructions::overview::{Basis, Density};
use crate::woods::{KnownWood, MOISTURE_PERCENT, known_wood};

/// What a job says of a wood: its density goes before the table's. With a wood that the table does not
/// have: those that might be meant.
pub(in crate::planning) fn weighed(
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
        Some(KnownWood::Known(known)) => {
            let density = known.weight.map(|weight| Density {
                wood: known.names.first().map(|name| (*name).to_owned()),
                kg_per_m3: weight.value.kg_per_m3(),
                moisture_percent: Some(MOISTURE_PERCENT),
                basis: weight.basis,
                source: weight.source,
            });
            (density, Vec::new())
        }
        Some(KnownWood::Unknown(like)) => (None, like),
        None => (None, Vec::new()),
    }
}
