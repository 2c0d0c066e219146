//! Settings of the saw for mitres, the two hands of an angle side by side.

use super::after::after_steps;
use super::{joint_view, row_words, stick_words, stops};
use crate::geometry::tolerance::DIRECTION;
use crate::instructions::mitres::{MitrePlan, MitreSetting, Reach};
use crate::instructions::saw::Wedge;
use crate::instructions::sheet::{Block, Section};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;

/// Stops and steps of half laps and of mitres.
pub(super) fn settings_sections(plan: &MitrePlan) -> Vec<Section> {
    let (laps, mitres): (Vec<_>, Vec<_>) = plan.settings.iter().partition(|one| one.is_lap());
    let mut sections = Vec::new();
    if !laps.is_empty() {
        sections.push(section("Half laps, before the mitres", &laps, plan));
    }
    sections.push(section("Mitres", &mitres, plan));
    sections
}

/// The blade of all mitres, and the travel that the widest block asks for.
pub(super) fn blade_words(plan: &MitrePlan) -> Option<Phrase> {
    let mitres = plan.settings.iter().find(|setting| !setting.is_lap())?;
    let travels = plan.settings.iter().map(|setting| setting.travel_mm);
    Some(phrase!(
        "Blade for mitres: {} over the base, {} over the table (highest tooth). Travel {} at least, for the widest block to come clear of it; all of a block passes the arbor's line.",
        Mm(mitres.height_above_base_mm),
        Mm(mitres.height_above_table_mm),
        Mm(travels.fold(0.0, f64::max))
    ))
}

/// How every wedge is made, once.
fn wedge_remarks(settings: &[&MitreSetting]) -> Vec<Phrase> {
    let mut wedges: Vec<&Wedge> = Vec::new();
    for setting in settings {
        if let Reach::Wedge { wedge, .. } = &setting.fence.reach
            && !(wedges.iter()).any(|known| known.angle.approx_eq(wedge.angle, DIRECTION))
        {
            wedges.push(wedge);
        }
    }
    let Some((first, others)) = wedges.split_first() else {
        return Vec::new();
    };
    let mut words = phrase!(
        "Wedge of {}: on a board with a straight edge mark {} from one end, square to that {}, and saw to the line",
        Rad(first.angle),
        Mm(first.along_mm),
        Mm(first.rise_mm)
    );
    for other in others {
        words.append(phrase!(
            "; of {}: {} and {}",
            Rad(other.angle),
            Mm(other.along_mm),
            Mm(other.rise_mm)
        ));
    }
    words.append(phrase!(
        ". Screwed to the fence from behind it carries sticks and stop; turned over end for end it serves the other hand."
    ));
    vec![words]
}

fn section(heading: &str, settings: &[&MitreSetting], plan: &MitrePlan) -> Section {
    let mut blocks = Vec::new();
    if plan.in_rows() {
        blocks.extend(joint_view::picture(settings, plan).map(Block::Picture));
        blocks.push(Block::Table(stops::table(settings, plan)));
    }
    let mut remarks = wedge_remarks(settings);
    if plan.in_rows() {
        remarks.push(row_words::each_cut(settings, plan));
    }
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    let steps = settings.iter().flat_map(|setting| {
        if plan.in_rows() {
            vec![row_words::step(setting, plan)]
        } else {
            stick_words::steps(setting, plan)
        }
    });
    let mut steps: Vec<Phrase> = steps.collect();
    if settings.iter().any(|setting| !setting.is_lap()) {
        steps.extend(after_steps(plan));
    }
    blocks.push(Block::Steps(steps));
    Section {
        heading: heading.into(),
        blocks,
    }
}
