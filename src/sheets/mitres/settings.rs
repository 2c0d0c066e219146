//! Settings of the saw for mitres, the two hands of an angle side by side.

use super::{in_rows, joint_view, row_words, stick_words};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::instructions::mitres::{MitreCut, MitrePlan, MitreSetting, MitreStop, Reach};
use crate::instructions::saw::Hand;
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;

/// All settings in a table, then the stops and steps of every angle.
pub(super) fn settings_sections(plan: &MitrePlan) -> Vec<Section> {
    let mut sections = vec![overview(plan)];
    let mut rest = plan.settings.as_slice();
    while let Some(first) = rest.first() {
        let same = |one: &&MitreSetting| {
            one.is_lap() == first.is_lap()
                && (one.fence.to_blade).approx_eq(first.fence.to_blade, DIRECTION)
                && (one.height_above_base_mm).approx_eq(first.height_above_base_mm, POSITION)
        };
        let count = rest.iter().take_while(same).count().clamp(1, 2);
        let (these, others) = rest.split_at(count);
        sections.push(section(these, plan));
        rest = others;
    }
    sections
}

/// What is set, setting by setting.
fn overview(plan: &MitrePlan) -> Section {
    let row = |setting: &MitreSetting| {
        let fence = &setting.fence;
        vec![
            TableCell::Count(setting.number),
            TableCell::Text(if setting.is_lap() { "laps" } else { "mitres" }.into()),
            TableCell::Text(Rad(fence.to_blade).text()),
            TableCell::Text(Rad(fence.from_square).text()),
            TableCell::Text(fence.end_away.map_or("-", Hand::name).into()),
            TableCell::Length(setting.height_above_base_mm),
            TableCell::Length(setting.height_above_table_mm),
            TableCell::Length(fence.kerf_along_fence_mm),
            TableCell::Length(fence.step_mm),
            TableCell::Length(setting.travel_mm),
        ]
    };
    let table = Table {
        caption: phrase!(
            "To blade, J: the acute angle between sticks and blade; from square: the same said the other way. Away: the end of the sticks that goes away from you. Over base, over table: top of the highest tooth. Kerf: what it opens along the fence, k / sin J. Step: along the fence from stick to stick of a block, t / tan J. Travel: least, for the widest block to come clear of the blade; all of a block has to pass the arbor's line."
        ),
        columns: vec![
            "setting",
            "for",
            "to blade",
            "from square",
            "away",
            "over base",
            "over table",
            "kerf",
            "step",
            "travel",
        ],
        rows: plan.settings.iter().map(row).collect(),
    };
    let mut blocks = vec![Block::Table(table)];
    let wedges = wedge_remarks(plan);
    if !wedges.is_empty() {
        blocks.push(Block::Remarks(wedges));
    }
    Section {
        heading: "Settings of saw and fence, in working order".into(),
        blocks,
    }
}

/// How every wedge is made, once.
fn wedge_remarks(plan: &MitrePlan) -> Vec<Phrase> {
    let mut angles: Vec<f64> = Vec::new();
    let mut remarks = Vec::new();
    for setting in &plan.settings {
        let Reach::Wedge { wedge, .. } = &setting.fence.reach else {
            continue;
        };
        if angles
            .iter()
            .any(|known| known.approx_eq(wedge.angle, DIRECTION))
        {
            continue;
        }
        angles.push(wedge.angle);
        remarks.push(phrase!(
            "Wedge of {}: on a board with a straight edge mark {} from one end, square to that {}, and saw to the line, long enough to carry the sticks on both sides of the kerf. Screw it to the fence from behind: it is now the fence, and the stop goes on it. Turned over end for end it serves the other hand.",
            Rad(wedge.angle),
            Mm(wedge.along_mm),
            Mm(wedge.rise_mm)
        ));
    }
    remarks
}

fn section(settings: &[MitreSetting], plan: &MitrePlan) -> Section {
    let these: Vec<&MitreSetting> = settings.iter().collect();
    let numbers: Vec<String> = these.iter().map(|one| one.number.to_string()).collect();
    let first = these.first();
    let what = if first.is_some_and(|first| first.is_lap()) {
        "half laps"
    } else {
        "mitres"
    };
    let heading = format!(
        "Setting{} {}: {what}, {} to the blade",
        if these.len() == 1 { "" } else { "s" },
        numbers.join(" and "),
        Rad(first.map_or(0.0, |first| first.fence.to_blade)).text()
    );
    let mut blocks = Vec::new();
    if in_rows(plan) {
        if first.is_some_and(|first| first.number == 1) {
            blocks.extend(joint_view::picture(&these, plan).map(Block::Picture));
        }
        blocks.push(Block::Table(stop_table(&these, plan)));
    }
    let steps = these.iter().flat_map(|setting| {
        if in_rows(plan) {
            row_words::steps(setting, plan)
        } else {
            stick_words::steps(setting, plan)
        }
    });
    blocks.push(Block::Steps(steps.collect()));
    Section { heading, blocks }
}

fn stop_table(settings: &[&MitreSetting], plan: &MitrePlan) -> Table {
    let from = match plan.stop {
        MitreStop::Block => phrase!("the stop's face"),
        MitreStop::Board => phrase!("the stop board's edge"),
    };
    let mut caption = phrase!("Stop: from ");
    caption.append(from);
    caption.append(phrase!(
        " to the near side of the kerf, along the fence, on the sticks' side of it."
    ));
    if settings.first().is_some_and(|first| !first.is_lap()) {
        caption.append(phrase!(" "));
        caption.append(row_words::each_cut());
    }
    let passes = settings
        .iter()
        .any(|setting| matches!(setting.cut, MitreCut::Lap { passes, .. } if passes > 1));
    if passes {
        caption.append(phrase!(" Of each lap the first pass."));
    }
    let mut columns = vec!["sticks", "cut"];
    columns.extend(settings.iter().map(|setting| column(setting.number)));
    Table {
        caption,
        columns,
        rows: row_words::stop_rows(settings, plan),
    }
}

/// The heading of a setting's column.
fn column(number: usize) -> &'static str {
    const NAMES: [&str; 12] = [
        "stop, setting 1",
        "stop, setting 2",
        "stop, setting 3",
        "stop, setting 4",
        "stop, setting 5",
        "stop, setting 6",
        "stop, setting 7",
        "stop, setting 8",
        "stop, setting 9",
        "stop, setting 10",
        "stop, setting 11",
        "stop, setting 12",
    ];
    NAMES.get(number.wrapping_sub(1)).copied().unwrap_or("stop")
}

/// The setting before, where it cuts the same angle by the other hand.
pub(super) fn other_hand<'a>(
    setting: &MitreSetting,
    plan: &'a MitrePlan,
) -> Option<&'a MitreSetting> {
    let before = |one: &&MitreSetting| {
        one.number + 1 == setting.number
            && one.is_lap() == setting.is_lap()
            && one
                .fence
                .to_blade
                .approx_eq(setting.fence.to_blade, DIRECTION)
    };
    plan.settings.iter().find(before)
}

/// How the fence is set so that sticks lie at their angle.
pub(super) fn reach_words(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let fence = &setting.fence;
    let away = fence.end_away.map_or("right", Hand::name);
    match &fence.reach {
        Reach::Fence if fence.end_away.is_none() => phrase!("fence square."),
        Reach::Fence => phrase!(
            "fence {} from square, {} ends away from you{}.",
            Rad(fence.from_square),
            away,
            if setting.number == 1 && plan.as_it_stands {
                ", as it stands after the strips"
            } else {
                ""
            }
        ),
        Reach::CrossBoard(board) => phrase!(
            "fence {} from square, its {} end away from you, and a straight board fixed to it, square to it, that points away from you across the blade's line: sticks lie along this board, on its {} side, {} ends away from you.",
            Rad(board.fence_from_square),
            board.fence_end_away.name(),
            board.sticks_on.name(),
            away
        ),
        Reach::Wedge {
            fence_from_square,
            wedge,
        } => {
            let mut words = if *fence_from_square > 0.0 {
                phrase!(
                    "fence {} from square, as far as it turns, its {} end away from you, ",
                    Rad(*fence_from_square),
                    away
                )
            } else {
                phrase!("fence square, ")
            };
            words.append(phrase!(
                "on it the wedge of {}, thick end to the {}: {} ends away from you.",
                Rad(wedge.angle),
                wedge.thick_end.name(),
                away
            ));
            words
        }
    }
}
