//! What the bench is told about a panel, whichever machine cuts its strips.

use crate::instructions::panel::{
    AlikeBundles, AssemblyStep, LeastSection, PanelFacts, RidingFacts,
};
use crate::instructions::sheet::{Block, Figure, Section};
use crate::lattice::Turn;
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Mm;

/// What the bench must be told, as a part of any machine's sheet.
pub(super) fn panel_section(facts: &PanelFacts) -> Section {
    let least = |least: &LeastSection| {
        Figure::new(
            &format!("{} keeps", least.family),
            Mm(least.depth_kept_mm),
            phrase!(
                "of its depth at the weakest node, {} thick: handle it there with care",
                Mm(least.thickness_mm)
            ),
        )
    };
    let mut blocks = vec![Block::Figures(
        facts.least_sections.iter().map(least).collect(),
    )];
    let remarks = remarks(facts);
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    blocks.push(assembly_block(&facts.assembly));
    Section {
        heading: "Panel".into(),
        blocks,
    }
}

/// In which order the strips are laid.
pub(super) fn assembly_block(assembly: &[AssemblyStep]) -> Block {
    let lay = |step: &AssemblyStep| match step.step {
        1 => phrase!("Assembly: lay {}, the back face down.", &step.strips),
        _ => phrase!("Lay {} into the notches of what lies there.", &step.strips),
    };
    Block::Steps(assembly.iter().map(lay).collect())
}

fn remarks(facts: &PanelFacts) -> Vec<Phrase> {
    let datums = facts.datums.iter().map(|of| {
        phrase!(
            "Of the {} the datum end is the {}; {}1 lies at the {}, seen from the panel's front.",
            format!("{}s", of.family),
            of.datum.name(),
            of.letter.to_string(),
            of.first.name()
        )
    });
    let mut remarks: Vec<Phrase> = datums.collect();
    remarks.extend(facts.alike.iter().map(alike_words));
    remarks.extend(facts.turned.iter().map(|turned| {
        phrase!(
            "In the panel turned end for end, the same face up: {} of bundle {}. Mark which end was the datum.",
            &turned.strips,
            turned.bundle
        )
    }));
    remarks.extend(facts.trims.iter().map(|trim| {
        phrase!(
            "Of bundle {}, trim {} after notching: keep what lies from {} to {}, from the datum end of bundle {}.",
            trim.bundle,
            &trim.strips,
            Mm(trim.kept_from_mm),
            Mm(trim.kept_to_mm),
            trim.bundle
        )
    }));
    remarks.extend(facts.riding.as_ref().map(riding_words));
    remarks
}

fn alike_words(alike: &AlikeBundles) -> Phrase {
    match alike.turn {
        Some(Turn::AsIs) => phrase!(
            "Bundle {} is the same part as bundle {}.",
            alike.bundle,
            alike.like_bundle
        ),
        Some(turn) => phrase!(
            "Bundle {} is the same part as bundle {}: turn a strip {}.{}",
            alike.bundle,
            alike.like_bundle,
            turn.name(),
            ends_words(alike)
        ),
        None => phrase!(
            "Bundle {} is bundle {} with the slots slanting the other way, left-handed to right-handed: no turning makes one the other. Mark them.",
            alike.bundle,
            alike.like_bundle
        ),
    }
}

/// Where the datum end of a part comes to lie that is turned to be another.
pub(super) fn ends_words(alike: &AlikeBundles) -> &'static str {
    if alike.ends_change {
        " Its datum end lies at the other's far end."
    } else {
        ""
    }
}

fn riding_words(riding: &RidingFacts) -> Phrase {
    let apart = riding.bundles_apart;
    let together = counted(riding.bundles_together, "bundle");
    if riding.done {
        phrase!(
            "Shorter strips ride with longer ones: {} to set up for instead of {}, for {} of wood more, which is trimmed off.",
            together,
            apart,
            Mm(riding.wood_mm)
        )
    } else {
        phrase!(
            "Notched as long as longer ones and trimmed (bundling = \"runs\" in the job's [strip]), shorter strips could ride along: {} to set up for instead of {}, for {} of wood more.",
            together,
            apart,
            Mm(riding.wood_mm)
        )
    }
}
