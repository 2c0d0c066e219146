//! What to do at the saw, place by place: a table of what is set, and all that is cut before it is moved.

use super::setting_words::{checked_first, set_words};
use super::steps::{datum_ends, first_pass, pushed};
use crate::geometry::tolerance::POSITION;
use crate::instructions::rounds::{Place, PlaceCut, PlaceSet, Round};
use crate::instructions::saw::{Obstacle, SawSetting};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::instructions::sled::{Register, SledBundle, SledPlan, Step};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::sled::blade::PRINTED_MM;
use crate::units::Mm;
use float_cmp::ApproxEq;

/// The work of a plain plan's one setting.
pub(super) fn work_section(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Section {
    Section {
        heading: "Work, stop by stop".into(),
        blocks: work_by_stop(setting, plan, powered),
    }
}

/// All that is cut at one setting: how, once; then a table for each round.
pub(super) fn work_by_stop(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Vec<Block> {
    let mut steps = vec![set_words(setting, plan, powered)];
    steps.extend((setting.number == 1).then(checked_first));
    steps.push(block_words(setting, plan, powered));
    let cutting = cut_words(setting, plan, powered);
    let earlier = (plan.settings.iter()).take_while(|other| other.number < setting.number);
    let known = earlier.filter(|other| cut_words(other, plan, powered) == cutting);
    let known = known.map(|other| other.number).next();
    steps.push(match known {
        None => phrase!(
            "Go down the table. Set what a row names once, cut all blocks of that row and of the rows under it that name nothing, and only then go on: strips that are cut at one setting share its error, which helps the panel to close."
        ),
        Some(known) => phrase!("As in setting {}, go down the table.", known),
    });
    let mut blocks = vec![Block::Steps(steps)];
    let mut remarks = Vec::from_iter(rounds_words(setting));
    remarks.extend(cutting.into_iter().filter(|_| known.is_none()));
    remarks.extend(alike_words(setting));
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    for (number, round) in (1..).zip(&setting.rounds) {
        if let (Some(face), true) = (round.face, setting.rounds.len() > 1) {
            let round = phrase!("Round {}, {} faces:", number, face.name());
            blocks.push(Block::Remarks(vec![round]));
        }
        blocks.push(Block::Table(round_table(round, setting, plan)));
    }
    blocks
}

/// How strips are laid, whatever the row.
fn block_words(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Phrase {
    // Parts that are cut as another bundle's stand in its rows, with blocks of their own.
    let is_cut = |bundle| setting.work.iter().any(|work| work.bundle == bundle);
    let bundles = (1..).zip(&plan.bundles).filter_map(|(index, bundle)| {
        is_cut(bundle.same_as_bundle.unwrap_or(index)).then_some(bundle.loads.strips_per_block > 1)
    });
    let (blocks, single): (Vec<bool>, Vec<bool>) = bundles.partition(|in_blocks| *in_blocks);
    let lies = if powered { "down" } else { "up" };
    if blocks.is_empty() {
        return phrase!(
            "Lay one strip at a time along the fence, the face that the table names {}, datum end to the left; mark the datum ends.",
            lies
        );
    }
    let mut words = phrase!(
        "Clamp or tape the strips of each bundle into rigid blocks, as many in each as the table says, the face that it names {}, ",
        lies
    );
    words.append(datum_ends(setting));
    words.append(phrase!("; mark the datum ends."));
    if !single.is_empty() {
        words.append(phrase!(" Lay one strip at a time where it says single."));
    }
    words
}

/// Why there are two rounds, and what they set twice.
fn rounds_words(setting: &SawSetting) -> Option<Phrase> {
    let [first, second] = setting.rounds.as_slice() else {
        return None;
    };
    let known = |place: &&Place| {
        let is_again = |before: &Place| {
            stop_at(before)
                .zip(stop_at(place))
                .is_some_and(|(a, b)| a.approx_eq(b, POSITION))
                && before.set.stop_setting() != place.set.stop_setting()
        };
        first.places.iter().any(is_again)
    };
    let mut again: Vec<usize> = (second.places.iter().filter(known))
        .filter_map(|place| place.set.stop_setting())
        .collect();
    again.dedup();
    let face = |round: &Round| round.face.map_or("", |face| face.name());
    let mut words = phrase!(
        "Two rounds, since a block that is stepped for one face is stepped the wrong way when it is rolled over: first all {} faces, then the blocks are clamped anew for the {} faces",
        face(first),
        face(second)
    );
    words.append(match again.len() {
        0 => phrase!("."),
        1 => phrase!("; one stop is set a second time."),
        several => phrase!("; {} stops are set a second time.", several),
    });
    Some(words)
}

fn stop_at(place: &Place) -> Option<f64> {
    match place.set {
        PlaceSet::Stop {
            stop_to_kerf_mm, ..
        }
        | PlaceSet::Spacers {
            stop_to_kerf_mm, ..
        } => Some(stop_to_kerf_mm),
        PlaceSet::Key { .. } => None,
    }
}

fn places(setting: &SawSetting) -> impl Iterator<Item = &Place> {
    setting.rounds.iter().flat_map(|round| &round.places)
}

/// How a notch is cut by each of the ways that the setting has.
fn cut_words(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Vec<Phrase> {
    let any = |of: fn(&PlaceSet) -> bool| places(setting).any(|place| of(&place.set));
    let mut words = Vec::new();
    let spaced = any(|set| matches!(set, PlaceSet::Spacers { .. }));
    if spaced || any(|set| matches!(set, PlaceSet::Stop { .. })) {
        words.push(at_end_words(setting, spaced, powered));
    }
    if any(|set| matches!(set, PlaceSet::Key { .. })) {
        let mut over = phrase!(
            "Key: in the slot that is called so; drop the notch named last over it and cut"
        );
        if setting.passes_per_notch > 1 {
            over.append(pushed(setting.passes_per_notch, setting, plan));
        }
        over.append(phrase!("."));
        over.append(bearing_words(setting, plan));
        words.push(over);
    }
    words
}

/// From the strip's end, pass by pass.
fn at_end_words(setting: &SawSetting, spaced: bool, powered: bool) -> Phrase {
    let passes = setting.passes_per_notch;
    let mut words = phrase!(
        "Stop: its face from the near side of the kerf{}{}; push the datum end {} and cut",
        if setting.fence.slanted.is_some() {
            ", along the fence"
        } else {
            ""
        },
        if passes > 1 {
            ", at the first pass"
        } else {
            ""
        },
        if spaced {
            "against it, or against the row's spacers before it,"
        } else {
            "against it"
        }
    );
    let shift = Mm(setting.pass_shift_along_fence_mm);
    words.append(match passes {
        0 | 1 => phrase!("."),
        _ if !powered => phrase!(
            " one wall of all blocks; move the stop {} farther and saw the other; pare out the waste.",
            shift
        ),
        2 => phrase!(
            " all blocks; then move the stop {} farther and cut all again.",
            shift
        ),
        _ => phrase!(
            " all blocks; then {} times more, the stop moved {} farther each time.",
            passes - 1,
            shift
        ),
    });
    words
}

/// Walls that are cut away in part where a notch drops over the key.
fn bearing_words(setting: &SawSetting, plan: &SledPlan) -> Phrase {
    let shares = places(setting)
        .flat_map(|place| &place.cuts)
        .filter_map(|cut| match step_of(cut, plan)?.register {
            Register::Key { bearing_share, .. } => bearing_share,
            Register::Stop { .. } | Register::Spacers { .. } => None,
        });
    match shares.reduce(f64::min) {
        None => Phrase::default(),
        Some(least) => phrase!(
            " Where another slot crosses that notch, no more than {} % of its walls bear on the key: press it home gently, or use the stop.",
            format!("{:.0}", 100.0 * least)
        ),
    }
}

/// Stops that print alike and are not one.
fn alike_words(setting: &SawSetting) -> Option<Phrase> {
    let mut stops: Vec<(usize, f64)> = (places(setting))
        .filter_map(|place| Some((place.set.stop_setting()?, stop_at(place)?)))
        .collect();
    stops.sort_by(|a, b| a.1.total_cmp(&b.1));
    let near = |pair: &&[(usize, f64)]| match pair {
        [(_, a), (_, b)] => a.approx_ne(*b, POSITION) && (a - b).abs() < 2.0 * PRINTED_MM,
        _ => false,
    };
    let pairs: Vec<String> = (stops.windows(2).filter(near))
        .filter_map(|pair| Some(format!("{} and {}", pair.first()?.0, pair.last()?.0)))
        .collect();
    (!pairs.is_empty()).then(|| {
        phrase!(
            "Stops {} differ by less than is printed: each is a setting of its own.",
            pairs.join(", ")
        )
    })
}

fn step_of<'a>(cut: &PlaceCut, plan: &'a SledPlan) -> Option<&'a Step> {
    let bundle = plan.bundles.get(cut.bundle.checked_sub(1)?)?;
    bundle.steps.iter().find(|step| step.notch == cut.notch)
}

/// A round's places in working order: what is set, which strips, which notch, which face.
pub(in crate::sheets) fn round_table(
    round: &Round,
    setting: &SawSetting,
    plan: &SledPlan,
) -> Table {
    let shown = Shown {
        away: (round.places.iter()).any(|place| !away(place, plan).is_empty()),
        spacers: (round.places.iter()).any(|place| matches!(place.set, PlaceSet::Spacers { .. })),
    };
    let mut columns = Vec::new();
    columns.extend(shown.away.then_some("first take"));
    columns.extend(["set", "at"]);
    columns.extend(shown.spacers.then_some("spacer"));
    columns.extend(["bundle", "strips", "blocks", "notch", "face"]);
    let rows = round.places.iter().flat_map(|place| {
        let own = place
            .cuts
            .chunk_by(|a, b| a.bundle == b.bundle && a.face == b.face);
        own.enumerate().map(|(at, cuts)| {
            let mut row = set_cells((at == 0).then_some(place), shown, setting, plan);
            row.extend(cuts_cells(cuts, plan));
            row
        })
    });
    Table {
        caption: phrase!("Blocks: how many, of up to how many strips."),
        columns,
        rows: rows.collect(),
    }
}

/// Which columns there are besides those that always are.
#[derive(Clone, Copy)]
struct Shown {
    away: bool,
    spacers: bool,
}

/// What has to come away before a place is set.
fn away<'a>(place: &Place, plan: &'a SledPlan) -> &'a [Obstacle] {
    let step = place.cuts.first().and_then(|cut| step_of(cut, plan));
    step.map_or(&[], |step| &step.take_away)
}

/// What is set; empty cells under it.
fn set_cells(
    place: Option<&Place>,
    shown: Shown,
    setting: &SawSetting,
    plan: &SledPlan,
) -> Vec<TableCell> {
    let mut cells = Vec::new();
    if shown.away {
        let things = place.into_iter().flat_map(|place| away(place, plan));
        let things: Vec<&str> = things.map(|thing| taken(*thing)).collect();
        cells.push(match things.as_slice() {
            [] => TableCell::Empty,
            things => TableCell::Text(things.join(", ")),
        });
    }
    let first = |at: f64| TableCell::Length(first_pass(at, setting));
    let stop = |number: usize| {
        let stands = place.is_some_and(|place| stands(number, place, plan));
        let words = if stands { ", as it stands" } else { "" };
        TableCell::Text(format!("stop {number}{words}"))
    };
    let (set, at, spacer) = match place.map(|place| place.set) {
        None => (TableCell::Empty, TableCell::Empty, TableCell::Empty),
        Some(PlaceSet::Key { slot_mm }) => (
            TableCell::Text("key".into()),
            TableCell::Length(slot_mm),
            TableCell::Empty,
        ),
        Some(PlaceSet::Stop {
            stop_setting,
            stop_to_kerf_mm,
        }) => (stop(stop_setting), first(stop_to_kerf_mm), TableCell::Empty),
        Some(PlaceSet::Spacers {
            stop_setting,
            stop_to_kerf_mm,
            spacer_mm,
        }) => (
            stop(stop_setting),
            first(stop_to_kerf_mm),
            TableCell::Length(spacer_mm),
        ),
    };
    cells.extend([set, at]);
    cells.extend(shown.spacers.then_some(spacer));
    cells
}

/// Whether the stop was set by an earlier place.
fn stands(number: usize, place: &Place, plan: &SledPlan) -> bool {
    let mut all = plan.settings.iter().flat_map(places);
    let first = all.find(|other| other.set.stop_setting() == Some(number));
    first.is_some_and(|first| first != place)
}

fn taken(thing: Obstacle) -> &'static str {
    match thing {
        Obstacle::Key => "key out",
        Obstacle::Spacers => "spacers out",
        Obstacle::Stop => "stop away",
    }
}

/// One bundle's cuts at a place, with those that are cut as it.
fn cuts_cells(cuts: &[PlaceCut], plan: &SledPlan) -> Vec<TableCell> {
    let Some(first) = cuts.first() else {
        return Vec::new();
    };
    let own: Vec<(usize, &SledBundle)> = ((1..).zip(&plan.bundles))
        .filter(|(number, bundle)| {
            *number == first.bundle || bundle.same_as_bundle == Some(first.bundle)
        })
        .collect();
    let joined = |of: fn(&(usize, &SledBundle)) -> String, by: &str| {
        let each: Vec<String> = own.iter().map(of).collect();
        TableCell::Text(each.join(by))
    };
    vec![
        joined(|(number, _)| number.to_string(), ", "),
        joined(|(_, bundle)| bundle.strips.clone(), ", "),
        joined(|(_, bundle)| blocks_words(bundle), ", "),
        TableCell::Text(notch_words(cuts)),
        TableCell::Text(first.face.name().into()),
    ]
}

/// `2 of 5`; one by one they are strips.
fn blocks_words(bundle: &SledBundle) -> String {
    let loads = &bundle.loads;
    match loads.strips_per_block {
        0 | 1 => format!("{} single", loads.blocks),
        several => format!("{} of {several}", loads.blocks),
    }
}

/// Notches in the order in which they are cut, over the key with those that drop over it.
fn notch_words(cuts: &[PlaceCut]) -> String {
    let follows = |a: &PlaceCut, b: &PlaceCut| b.notch == a.notch + 1 && is_next(a) && is_next(b);
    let run = |run: &[PlaceCut]| match run {
        [first, _, .., last] => {
            format!(
                "{} to {}, each over the one before",
                first.notch, last.notch
            )
        }
        run => {
            let each: Vec<String> = run.iter().map(one_notch).collect();
            each.join(", ")
        }
    };
    let runs: Vec<String> = cuts.chunk_by(follows).map(run).collect();
    runs.join(", ")
}

/// Whether it hangs on its neighbour.
fn is_next(cut: &PlaceCut) -> bool {
    cut.on_notch.is_some_and(|on| on + 1 == cut.notch)
}

fn one_notch(cut: &PlaceCut) -> String {
    match cut.on_notch {
        Some(on) => format!("{} over {on}", cut.notch),
        None => cut.notch.to_string(),
    }
}
