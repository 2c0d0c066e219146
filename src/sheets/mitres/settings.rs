//! Settings of the saw for mitres, the two hands of an angle side by side.

use super::{in_rows, joint_view, row_words, stick_words};
use crate::geometry::tolerance::DIRECTION;
use crate::instructions::mitres::{
    CrossBoard, MitreCut, MitrePlan, MitreSetting, MitreStop, Reach, StopEnd,
};
use crate::instructions::saw::{Hand, Wedge};
use crate::instructions::sheet::{Block, Figure, Section, Table};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;

/// A section for every angle, with one or two settings.
pub(super) fn settings_sections(plan: &MitrePlan) -> Vec<Section> {
    let mut sections = Vec::new();
    let mut rest = plan.settings.as_slice();
    while let Some(first) = rest.first() {
        let same = |one: &&MitreSetting| {
            one.is_lap() == first.is_lap()
                && one
                    .fence
                    .to_blade
                    .approx_eq(first.fence.to_blade, DIRECTION)
                && (one.height_above_base_mm - first.height_above_base_mm).abs() < 1e-9
        };
        let count = rest.iter().take_while(same).count().clamp(1, 2);
        let (these, others) = rest.split_at(count);
        rest = others;
        sections.push(section(these, plan));
    }
    sections
}

fn section(settings: &[MitreSetting], plan: &MitrePlan) -> Section {
    let these: Vec<&MitreSetting> = settings.iter().collect();
    let numbers: Vec<String> = these.iter().map(|one| one.number.to_string()).collect();
    let Some(first) = these.first() else {
        return Section {
            heading: String::new(),
            blocks: Vec::new(),
        };
    };
    let what = if first.is_lap() {
        "half laps"
    } else {
        "mitres"
    };
    let heading = format!(
        "Setting{} {} of {}: {what}, {} between sticks and blade",
        if these.len() == 1 { "" } else { "s" },
        numbers.join(" and "),
        plan.settings.len(),
        Rad(first.fence.to_blade).text()
    );
    let mut blocks = vec![Block::Figures(figures(first))];
    blocks.extend(joint_view::picture(first, plan).map(Block::Picture));
    if in_rows(plan) {
        blocks.push(Block::Table(stop_table(&these, plan)));
    }
    if in_rows(plan) {
        blocks.push(Block::Remarks(vec![row_words::each_cut()]));
    }
    for setting in &these {
        blocks.push(Block::Steps(if in_rows(plan) {
            row_words::steps(setting, plan)
        } else {
            stick_words::steps(setting, plan)
        }));
    }
    Section { heading, blocks }
}

fn figures(setting: &MitreSetting) -> Vec<Figure> {
    let fence = &setting.fence;
    let mut figures = vec![
        Figure::new(
            "blade over the base",
            Mm(setting.height_above_base_mm),
            "top of the sled's base to the top of the highest tooth",
        ),
        Figure::new(
            "blade over the table",
            Mm(setting.height_above_table_mm),
            "saw table to the top of the highest tooth, sled taken off",
        ),
        Figure::new(
            "sticks to blade",
            Rad(fence.to_blade),
            phrase!(
                "the acute angle between them; {} from square",
                Rad(fence.from_square)
            ),
        ),
    ];
    if fence.step_mm > 0.0 {
        figures.push(Figure::new(
            "step of a block",
            Mm(fence.step_mm),
            "along the fence from stick to stick, t / tan J",
        ));
    }
    figures.push(Figure::new(
        "kerf along the fence",
        Mm(fence.kerf_along_fence_mm),
        "k / sin J: what the blade opens along a stick",
    ));
    figures.push(Figure::new(
        "travel of the sled",
        Mm(setting.travel_mm),
        "least, for the widest block to come clear of the blade; all of it passes the arbor's line",
    ));
    figures
}

fn stop_table(settings: &[&MitreSetting], plan: &MitrePlan) -> Table {
    let from = match plan.stop {
        MitreStop::Block => phrase!("the stop's face"),
        MitreStop::Board => phrase!("the stop board's edge"),
    };
    let mut caption = phrase!("Stops, from ");
    caption.append(from);
    caption.append(phrase!(
        " to the near side of the kerf, along the fence, on the sticks' side of it. "
    ));
    let passes = settings
        .iter()
        .any(|setting| matches!(setting.cut, MitreCut::Lap { passes, .. } if passes > 1));
    if passes {
        caption.append(phrase!("Of each lap the first pass. "));
    }
    for setting in settings {
        caption.append(phrase!("Setting {}: ", setting.number));
        caption.append(match setting.fence.end_away {
            Some(end) => phrase!("{} ends away from you. ", end.name()),
            None => phrase!("sticks square to the blade. "),
        });
    }
    let mut columns = vec!["sticks", "cut"];
    columns.extend(settings.iter().map(|setting| column(setting.number)));
    Table {
        caption,
        columns,
        rows: row_words::stop_rows(settings, plan),
    }
}

macro_rules! headings {
    ($($number:literal)*) => {
        &[$(concat!("stop, setting ", $number)),*]
    };
}

/// Headings of the settings' columns. A setting for each slant of each size of cell: more than these
/// nobody sets.
const HEADINGS: &[&str] = headings![
    1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 29 30 31
    32 33 34 35 36 37 38 39 40 41 42 43 44 45 46 47 48 49 50 51 52 53 54 55 56 57 58 59
    60 61 62 63 64 65 66 67 68 69 70 71 72 73 74 75 76 77 78 79 80 81 82 83 84 85 86 87
    88 89 90 91 92 93 94 95 96
];

/// The heading of a setting's column.
fn column(number: usize) -> &'static str {
    let heading = HEADINGS.get(number.wrapping_sub(1));
    heading.copied().unwrap_or("stop")
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
        Reach::Fence if fence.end_away.is_none() => {
            phrase!("the fence square to it, on your side of the sticks.")
        }
        Reach::Fence => phrase!(
            "the fence {} from square, on your side of the sticks, their {} ends away from you.",
            Rad(fence.from_square),
            away
        ),
        Reach::CrossBoard(board) => board_words(board, away),
        Reach::Wedge {
            fence_from_square,
            wedge,
        } => {
            let mut words = if *fence_from_square > 0.0 {
                phrase!(
                    "the fence {} from square, as far as it turns, its {} end away from you, on your side of the sticks, ",
                    Rad(*fence_from_square),
                    away
                )
            } else {
                phrase!("the fence square, on your side of the sticks, ")
            };
            words.append(wedge_words(wedge, other_hand(setting, plan), away));
            words
        }
    }
}

fn board_words(board: &CrossBoard, away: &'static str) -> Phrase {
    phrase!(
        "the fence {} from square, its {} end away from you; fix a straight board to it, square to it, pointing away from you across the blade's line. Sticks lie along the board, on its {} side, their {} ends away from you, the stop at the end {} you: that board is now the fence.",
        Rad(board.fence_from_square),
        board.fence_end_away.name(),
        board.sticks_on.name(),
        away,
        match board.stop_end {
            StopEnd::Near => "near",
            StopEnd::Far => "far from",
        }
    )
}

/// How a wedge is made and lies; one that the setting before has is turned over end for end.
fn wedge_words(wedge: &Wedge, before: Option<&MitreSetting>, away: &'static str) -> Phrase {
    let mut words = match before {
        Some(before) => phrase!(
            "with the wedge of setting {} turned over end for end, thick end to the {}: ",
            before.number,
            wedge.thick_end.name()
        ),
        None => phrase!(
            "with a wedge of {} between it and the sticks, thick end to the {}: ",
            Rad(wedge.angle),
            wedge.thick_end.name()
        ),
    };
    words.append(phrase!("the sticks' {} ends go away from you.", away));
    if before.is_none() {
        words.append(phrase!(
            " The wedge: on a board with a straight edge mark {} from one end, square to that {}, and saw to the line; screw it to the fence from behind. It is now the fence, and the stop goes on it.",
            Mm(wedge.along_mm),
            Mm(wedge.rise_mm)
        ));
    }
    words
}
