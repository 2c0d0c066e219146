//! What a panel weighs, in words.

use crate::instructions::overview::{Density, FrameWeight, Overview, Weight};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{UnitSystem, decimal};

/// The lattice's weight, and the frame's where there is one; their sum where both are known.
pub(super) fn weight_lines(overview: &Overview, units: UnitSystem) -> Vec<(&'static str, Phrase)> {
    let weight = &overview.weight;
    let wood = overview.section.wood.as_deref();
    let mut lines = vec![("weight", lattice_words(weight, wood, units))];
    match &weight.frame {
        Some(frame) => lines.push(("with frame", frame_words(overview, frame, units))),
        None if overview.frame.is_some() => lines.push((
            "with frame",
            "not known: the job does not say how wide the frame's members are".into(),
        )),
        None => {}
    }
    lines
}

fn lattice_words(weight: &Weight, wood: Option<&str>, units: UnitSystem) -> Phrase {
    let volume = figure(weight.volume_cm3, 1);
    let of = if weight.frame.is_some() {
        "frame, "
    } else {
        ""
    };
    match weight.kg.zip(weight.density.as_ref()) {
        Some((kg, density)) => phrase!(
            "about {} without {}glue, finish: {} cm3 of {}",
            weighed(kg, units),
            of,
            volume,
            density_words(density)
        ),
        None => {
            let mut words = phrase!("not known; {} cm3 of wood stay in the panel. ", volume);
            words.append(unknown_words(&weight.like, wood, "[strip]"));
            words
        }
    }
}

fn frame_words(overview: &Overview, frame: &FrameWeight, units: UnitSystem) -> Phrase {
    let volume = figure(frame.volume_cm3, 1);
    let weight = &overview.weight;
    let Some((kg, density)) = frame.kg.zip(frame.density.as_ref()) else {
        let Some(wood) = frame.wood.as_deref() else {
            return phrase!(
                "not known; {} cm3 of the same wood stay in the frame",
                volume
            );
        };
        let wood = Some(wood);
        let mut words = phrase!("not known; {} cm3 of wood stay in the frame. ", volume);
        words.append(unknown_words(&frame.like, wood, "[frame]"));
        return words;
    };
    let mut words = match weight.kg {
        Some(lattice) => phrase!("about {}; ", weighed(lattice + kg, units)),
        None => Phrase::default(),
    };
    words.append(phrase!("frame {}: {} cm3 of ", weighed(kg, units), volume));
    let same = weight.density.as_ref() == Some(density);
    words.append(if same {
        "the same wood".into()
    } else {
        phrase!("{}", density_words(density))
    });
    words
}

fn unknown_words(like: &[&str], wood: Option<&str>, table: &str) -> Phrase {
    match wood {
        None => phrase!(
            "Name the wood in {}: wood = \"...\", or say density = \"450 kg/m3\"",
            table
        ),
        Some(wood) if like.is_empty() => phrase!(
            "No density is known here for `{}`: say density = \"450 kg/m3\" in {}",
            wood,
            table
        ),
        Some(wood) => phrase!(
            "`{}` is not in the table; {} would be, or say density = \"450 kg/m3\" in {}",
            wood,
            like.join(", "),
            table
        ),
    }
}

fn density_words(density: &Density) -> String {
    let wood = density.wood.as_deref().unwrap_or("wood");
    let figure_of = figure(density.kg_per_m3, 0);
    match density.moisture_percent {
        Some(moisture) => format!(
            "{wood}, {figure_of} kg/m3 at {} % moisture ({}: {})",
            figure(moisture, 0),
            density.basis.words(),
            density.source
        ),
        None => format!(
            "{wood}, {figure_of} kg/m3 ({} by {})",
            density.basis.words(),
            density.source
        ),
    }
}

/// Grams or kilograms, or pounds: 1 lb = 0.45359237 kg, exactly.
fn weighed(kg: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Millimetres if kg < 1.0 => format!("{} g", figure(kg * 1e3, 0)),
        UnitSystem::Millimetres => format!("{} kg", figure(kg, 2)),
        UnitSystem::Inches => format!("{} lb", figure(kg / 0.453_592_37, 2)),
    }
}

/// A number with so many decimals.
pub(in crate::sheets) fn figure(value: f64, places: u32) -> String {
    decimal(value, places).unwrap_or_else(|_| "(not a number)".into())
}
