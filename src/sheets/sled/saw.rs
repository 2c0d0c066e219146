//! Settings of saw and fence.

use super::by_stop::work_by_stop;
use super::setting_words::{checked_first, off, set_words};
use super::steps::work_blocks;
use crate::geometry::tolerance::DIRECTION;
use crate::instructions::rounds::CutOrder;
use crate::instructions::saw::{FenceSetting, Hand, SawSetting, SlantedFence, Wedge};
use crate::instructions::sheet::{Block, Figure, Section, Table, TableCell};
use crate::instructions::sled::{BladeSetting, NotchFigures, SledPlan};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::sled::blade::PRINTED_MM;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;

/// The one setting of a plain plan.
pub(super) fn saw_section(blade: &BladeSetting, powered: bool) -> Section {
    let mut figures = heights(
        blade.height_above_base_mm,
        blade.height_above_table_mm,
        powered,
    );
    let passes = (blade.passes_per_notch, blade.pass_shift_mm);
    figures.push(passes_figure(passes, blade.one_pass_short_mm, powered));
    let mut blocks = vec![Block::Figures(figures)];
    // Nobody sets these: they say whether there is room.
    let mut room = Vec::new();
    room.extend(blade.half_chord_mm.map(|half_chord| {
        phrase!(
            "Half chord {}: arbor's centre line to where the blade leaves the base, at this height.",
            Mm(half_chord)
        )
    }));
    room.extend(blade.travel_mm.map(|travel| {
        phrase!(
            "Travel of the sled {}: least, for the widest block to come clear of the blade on both sides.",
            Mm(travel)
        )
    }));
    blocks.extend((!room.is_empty()).then_some(Block::Remarks(room)));
    Section {
        heading: if powered { "Saw" } else { "Hand saw" }.into(),
        blocks,
    }
}

fn heights(over_base: f64, over_table: f64, powered: bool) -> Vec<Figure> {
    if !powered {
        return vec![Figure::new(
            "depth of the saw cut",
            Mm(over_base),
            "strip's upper face to the notch's floor: set the saw's depth stop to it",
        )];
    }
    vec![
        Figure::new(
            "blade over the base",
            Mm(over_base),
            "top of the sled's base to the top of the highest tooth",
        ),
        Figure::new(
            "blade over the table",
            Mm(over_table),
            "saw table to the top of the highest tooth, sled taken off",
        ),
    ]
}

/// Passes with the shift from one to the next, and what a single one leaves of the drawn width.
fn passes_figure((passes, shift): (usize, f64), short: Option<f64>, powered: bool) -> Figure {
    let words = match (passes, short) {
        (1, Some(short)) => phrase!(
            "the kerf makes the notch, {} narrower than drawn: the stop cannot be set so closely",
            Mm(short)
        ),
        (1, None) => phrase!("the kerf makes the notch"),
        _ if !powered => phrase!("one for each wall; the waste between is pared out"),
        _ => phrase!("each {} from the last", Mm(shift)),
    };
    Figure::new("passes for each notch", passes, words)
}

/// All settings in working order, and how strips lie.
pub(super) fn overview_section(plan: &SledPlan, powered: bool) -> Section {
    let slanted = super::is_slanted(plan);
    let mut columns = vec!["setting"];
    if slanted {
        columns.extend(["from square", "to blade", "goes away"]);
    }
    columns.extend(if powered {
        &["over base", "over table", "half chord"][..]
    } else {
        &["cut depth"][..]
    });
    let row = |setting: &SawSetting| {
        let mut cells = vec![TableCell::Count(setting.number)];
        if slanted {
            let fence = &setting.fence;
            let away = fence.slanted.as_ref().map(|fence| fence.end_away.name());
            cells.extend([
                TableCell::Text(Rad(fence.from_square).text()),
                TableCell::Text(Rad(fence.to_blade).text()),
                TableCell::Text(away.map_or("-".into(), |end| format!("{end} end"))),
            ]);
        }
        cells.push(TableCell::Length(setting.height_above_base_mm));
        if powered {
            cells.push(TableCell::Length(setting.height_above_table_mm));
            cells.push(TableCell::length(setting.half_chord_mm));
        }
        cells
    };
    let table = Table {
        caption: overview_caption(slanted, powered),
        columns,
        rows: plan.settings.iter().map(row).collect(),
    };
    let mut blocks = vec![Block::Table(table)];
    blocks.extend(plan.blade.travel_mm.map(|travel| {
        Block::Figures(vec![Figure::new(
            "travel of the sled",
            Mm(travel),
            "least, for the widest block to come clear of the blade on both sides",
        )])
    }));
    blocks.push(Block::Remarks(lie_words(plan, powered)));
    Section {
        heading: "Settings of saw and fence, in working order".into(),
        blocks,
    }
}

fn overview_caption(slanted: bool, powered: bool) -> Phrase {
    let mut caption = Phrase::default();
    if slanted {
        caption.append(phrase!(
            "From square: how far the fence is turned from square to the blade. To blade: the acute angle between fence and blade, the same setting said the other way. Goes away: the end of the strips that is turned away from you; left is the datum end, at the stop. "
        ));
    }
    caption.append(if powered {
        phrase!("Over base, over table: top of the highest tooth. Half chord: arbor's centre line to where the blade leaves the base.")
    } else {
        phrase!("Cut depth: strip's upper face to the notch's floor.")
    });
    caption
}

/// How strips lie on the sled or the hook.
fn lie_words(plan: &SledPlan, powered: bool) -> Vec<Phrase> {
    let mut words = vec![if powered {
        phrase!(
            "A strip lies with the face that is notched down on the base, its datum end to the left at the stop, one long side on the fence, which stands on your side of the strips. Between the faces roll it over along its length: the datum end stays left."
        )
    } else {
        phrase!(
            "A strip lies with the face that is notched up, its datum end to the left at the stop, one long side on the hook's fence, which stands on the far side of the strips. Between the faces roll it over along its length: the datum end stays left."
        )
    }];
    if super::is_slanted(plan) {
        words.push(phrase!(
            "Stops are measured along the fence, on the strips' side of it: there, and not on the centre line, the strip touches it. Centres and edges of the notches are those on the strip's centre line: marked square across, a slanting slot's edges lie t / (2 tan A) to one side (t: the strips' thickness, A: the acute angle between fence and blade) on one long side of the strip, and as much to the other on the other (slot at the fence, in each setting)."
        ));
    }
    words
}

/// One setting with the notches that are cut with it.
pub(super) fn setting_section(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Section {
    let fence = match &setting.fence.slanted {
        None => "fence square".to_owned(),
        Some(slanted) => format!(
            "fence {} from square, {} end away",
            Rad(setting.fence.from_square).text(),
            slanted.end_away.name()
        ),
    };
    let heading = format!(
        "Setting {} of {}: {fence}",
        setting.number,
        plan.settings.len()
    );
    let mut figures = heights(
        setting.height_above_base_mm,
        setting.height_above_table_mm,
        powered,
    );
    let stands = plan
        .settings
        .iter()
        .any(|other| other.number + 1 == setting.number && other.fence == setting.fence);
    figures.extend(fence_figures(&setting.fence, stands));
    figures.extend(setting.along_blade_mm.map(|room| {
        Figure::new(
            "room in front of the fence",
            Mm(room),
            "what the longest strip cut here takes along the blade's direction: its length times sin T, T the turn from square",
        )
    }));
    let passes = (setting.passes_per_notch, setting.pass_shift_along_fence_mm);
    figures.push(passes_figure(passes, short_of(setting, plan), powered));
    let mut blocks = Vec::from_iter(fence_cleared(setting));
    blocks.push(Block::Figures(figures));
    if let Some(slanted) = &setting.fence.slanted {
        let mut remarks = vec![step_words(slanted, &setting.fence)];
        if let Some(wedge) = slanted.wedge.as_ref().filter(|_| !stands) {
            remarks.push(wedge_words(wedge, wedge_of_before(wedge, setting, plan)));
        }
        blocks.push(Block::Remarks(remarks));
    }
    match plan.order {
        CutOrder::Stops => blocks.extend(work_by_stop(setting, plan, powered)),
        CutOrder::Bundles => {
            let mut set = vec![set_words(setting, plan, powered)];
            set.extend((setting.number == 1).then(checked_first));
            blocks.push(Block::Steps(set));
            blocks.extend(work_blocks(setting, plan, powered));
        }
    }
    Section { heading, blocks }
}

/// What one pass leaves of the drawn width of a setting's notches, where that is seen in print: square to the
/// cut.
fn short_of(setting: &SawSetting, plan: &SledPlan) -> Option<f64> {
    let notch = first_notch(plan, setting)?;
    let short = (notch.drawn_width_mm? - notch.width_mm) * notch.angle.sin();
    (short >= PRINTED_MM).then_some(short)
}

/// The first of the notches that are cut at a setting.
pub(in crate::sheets) fn first_notch<'a>(
    plan: &'a SledPlan,
    setting: &SawSetting,
) -> Option<&'a NotchFigures> {
    let work = setting.work.first()?;
    let bundle = plan.bundles.get(work.bundle.checked_sub(1)?)?;
    let index = work.notches.first()?;
    bundle.notches.iter().find(|notch| notch.index == *index)
}

/// What stands where the fence is to swing.
fn fence_cleared(setting: &SawSetting) -> Option<Block> {
    let away: Vec<&str> = (setting.take_away.iter()).map(|it| off(*it)).collect();
    let words = phrase!("Before you set the fence, take {}.", away.join(" and "));
    (!away.is_empty()).then(|| Block::Remarks(vec![words]))
}

fn fence_figures(fence: &FenceSetting, stands: bool) -> Vec<Figure> {
    let Some(slanted) = &fence.slanted else {
        return vec![Figure::new(
            "fence",
            "square",
            if stands {
                "as it stands"
            } else {
                "to the blade"
            },
        )];
    };
    let mut turned = phrase!(
        "turned so that the strips' {} ends go away from you",
        slanted.end_away.name()
    );
    if stands {
        turned = phrase!("as it stands");
    }
    let shift = slanted.slot_at_fence_mm;
    vec![
        Figure::new("fence from square", Rad(fence.from_square), turned),
        Figure::new(
            "fence to blade",
            Rad(fence.to_blade),
            "the acute angle between them: the same setting said the other way",
        ),
        Figure::new(
            "slot at the fence",
            Mm(shift.abs()),
            phrase!(
                "{} the datum end than on the strip's centre line: t / (2 tan A), t the strips' thickness, A the angle from fence to blade",
                if shift < 0.0 {
                    "nearer"
                } else {
                    "farther from"
                }
            ),
        ),
        Figure::new(
            "kerf along the fence",
            Mm(slanted.kerf_along_fence_mm),
            "k / sin A, k the kerf, A the angle from fence to blade: what the blade opens along the strip",
        ),
    ]
}

/// How a block is stepped so that one straight cut meets all its strips at the same place.
fn step_words(slanted: &SlantedFence, fence: &FenceSetting) -> Phrase {
    let mut words = phrase!(
        "Blocks are stepped: each strip farther from the fence lies {} farther to the {}, {}. A board cut to {} with its slanting edge on the datum ends steps them all at once.",
        Mm(slanted.step_mm),
        slanted.step_toward.name(),
        match slanted.step_toward {
            Hand::Right => "toward its far end",
            Hand::Left => "past the stop",
        },
        Rad(fence.to_blade)
    );
    words.append(match slanted.step_toward {
        Hand::Right => phrase!(" Only the strip at the fence touches the stop."),
        Hand::Left => phrase!(
            " Only the strip at the fence may touch the stop: it must reach no farther from the fence than that strip is thick."
        ),
    });
    words
}

/// An earlier setting whose wedge serves, turned over or not.
fn wedge_of_before(wedge: &Wedge, setting: &SawSetting, plan: &SledPlan) -> Option<usize> {
    let earlier = plan.settings.iter();
    let mut earlier = earlier.take_while(|other| other.number < setting.number);
    let serves = |other: &&SawSetting| {
        let slanted = other.fence.slanted.as_ref();
        let known = slanted.and_then(|slanted| slanted.wedge.as_ref());
        known.is_some_and(|known| known.angle.approx_eq(wedge.angle, DIRECTION))
    };
    earlier.find(serves).map(|other| other.number)
}

/// What a fence needs that does not turn so far. How it is cut and held: common practice, no
/// source.
fn wedge_words(wedge: &Wedge, before: Option<usize>) -> Phrase {
    if let Some(before) = before {
        return phrase!(
            "The wedge of setting {}, turned over end for end: thick end to the {}.",
            before,
            wedge.thick_end.name()
        );
    }
    phrase!(
        "This sled's fence does not turn that far: leave it square and put a wedge of {} between it and the strips, thick end to the {}. On a board with a straight edge, grain along it, mark {} from one end, square to it {}, and saw to the line from the end through that mark, long enough to carry the strips on both sides of the kerf. Screw it to the fence from behind, clear of the kerf; the stop goes on it. Turned over end for end it serves the other hand.",
        Rad(wedge.angle),
        wedge.thick_end.name(),
        Mm(wedge.along_mm),
        Mm(wedge.rise_mm)
    )
}
