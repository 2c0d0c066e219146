//! The router's part of the sheet.

use super::machines::ready;
use super::router_view;
use super::work::BookletWork;
use crate::instructions::router::{Registered, RouterPlan, RouterSetup};
use crate::instructions::sheet::{
    Block, Check, Figure, Gallery, Picture, Section, SetupSheet, Tally,
};
use crate::instructions::sled::NotchFigures;
use crate::machines::Router;
use crate::phrase;
use crate::phrase::{Phrase, plural};
use crate::planning::router::lying_words::lying_in_row;
use crate::planning::router::remarks::clamp_words;
use crate::sheets::alike::{in_common, said_once, set_ups};
use crate::sheets::measured_figures::measured_section;
use crate::sheets::measured_stock::stock_section;
use crate::sheets::router::{
    after, blank_sheet, figures, measures_table, places_table, row_steps, setup_section,
    setups_table,
};
use crate::units::Mm;

pub(super) fn sheet(work: &BookletWork<'_>, plan: &RouterPlan, router: &Router) -> SetupSheet {
    let mut sections = vec![ready(router_ready(work, plan))];
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.extend(measured_section(&plan.measured_figures));
    match plan.setups.as_slice() {
        [only] => sections.push(one_setup(plan, only, router)),
        _ => sections.extend(in_rows(plan, router)),
    }
    SetupSheet {
        sections,
        ..blank_sheet(plan)
    }
}

/// Figures that stand in a program and that nobody sets at the machine.
const IN_PROGRAM: [&str; 5] = [
    "safe height",
    "depth per pass",
    "passes",
    "feed",
    "cutting way",
];

/// Takes them out of a list of settings, as a sentence.
fn in_program(figures: &mut Vec<Figure>) -> Option<Phrase> {
    let is_inside = |figure: &Figure| IN_PROGRAM.contains(&figure.name.as_str());
    let inside: Vec<Figure> = figures.extract_if(.., |figure| is_inside(figure)).collect();
    let mut words = Phrase::from("In the program: ");
    for (at, figure) in inside.iter().enumerate() {
        let comma = if at == 0 { "" } else { "; " };
        words.append(phrase!(
            "{}{} {}, ",
            comma,
            &figure.name,
            figure.value.clone()
        ));
        words.append(figure.measured.clone());
    }
    words.append(phrase!("."));
    (!inside.is_empty()).then_some(words)
}

/// A set-up that is alone.
fn one_setup(plan: &RouterPlan, setup: &RouterSetup, router: &Router) -> Section {
    let mut section = setup_section(1, setup, plan);
    let settings = section.blocks.iter_mut().find_map(|block| match block {
        Block::Figures(figures) => Some(figures),
        _ => None,
    });
    let inside = settings.and_then(in_program);
    section
        .blocks
        .splice(1..1, inside.map(|words| Block::Remarks(vec![words])));
    let views = vec![
        router_view::from_above(setup, router),
        router_view::from_the_end(setup, router),
    ];
    section.illustrate_in_rows(views);
    section.blocks.extend([
        runs_tally(plan),
        Block::Play(router_view::play(setup)),
        Block::Checks(router_checks(setup)),
    ]);
    section
}

fn runs_tally(plan: &RouterPlan) -> Block {
    Block::Tally(Tally {
        what: "bundles run".into(),
        count: plan.setups.iter().map(|setup| setup.runs).sum(),
    })
}

/// Several set-ups: settings and steps that they share, a row for each.
fn in_rows(plan: &RouterPlan, router: &Router) -> Vec<Section> {
    let lists: Vec<Vec<Figure>> = plan.setups.iter().map(figures).collect();
    let (mut same, own) = in_common(&lists);
    let mut remarks = Vec::from_iter(in_program(&mut same));
    let own: Vec<Vec<Phrase>> = own.into_iter().map(left_over).collect();
    remarks.extend(said_once(&own, set_ups));
    remarks.extend(plan.clamps.iter().map(clamp_words));
    let all_alike = Section {
        heading: "The same in every set-up".into(),
        blocks: vec![Block::Figures(same), Block::Remarks(remarks)],
    };
    let lying: Vec<Vec<Phrase>> = plan.setups.iter().map(lying_in_row).collect();
    let lying = said_once(&lying, set_ups);
    let mut rows = vec![Block::Table(setups_table(plan))];
    rows.extend((!lying.is_empty()).then_some(Block::Remarks(lying)));
    rows.push(Block::Gallery(Gallery {
        columns: 2,
        pictures: views(plan, router),
    }));
    let steps = plan.setups.iter().map(|setup| row_steps(setup, plan));
    let steps: Vec<Vec<Phrase>> = steps.collect();
    let mut work = vec![Block::Steps(said_once(&steps, set_ups)), runs_tally(plan)];
    let after: Vec<Phrase> = plan.setups.iter().flat_map(after).collect();
    let mut told: Vec<Phrase> = Vec::new();
    for words in after {
        if !told.contains(&words) {
            told.push(words);
        }
    }
    work.extend((!told.is_empty()).then_some(Block::Remarks(told)));
    let mut measured = vec![
        Block::Table(measures_table(plan)),
        Block::Table(places_table(plan)),
        Block::Checks(row_checks(plan)),
    ];
    measured.extend(
        plan.setups
            .iter()
            .map(|setup| Block::Play(router_view::play(setup))),
    );
    vec![
        all_alike,
        Section {
            heading: format!("Set-ups, {} of them, one in a row", plan.setups.len()),
            blocks: rows,
        },
        Section {
            heading: "Steps of every set-up".into(),
            blocks: work,
        },
        Section {
            heading: "What is measured".into(),
            blocks: measured,
        },
    ]
}

/// What of a set-up's own figures no row of a table says.
fn left_over(figures: Vec<Figure>) -> Vec<Phrase> {
    let in_rows = ["program", "bundle", "cutting way"];
    let left = figures.into_iter();
    let left = left.filter(|figure| !in_rows.contains(&figure.name.as_str()));
    let said = left.map(|figure| {
        let mut words = phrase!("{} {}, ", &figure.name, figure.value);
        words.append(figure.measured);
        words.append(phrase!("."));
        words
    });
    said.collect()
}

/// A set-up from above for each way in which strips lie, and from the end where that looks different.
fn views(plan: &RouterPlan, router: &Router) -> Vec<Picture> {
    type Way = (bool, i64, bool);
    let mut ways: Vec<Way> = Vec::new();
    let mut pictures: Vec<Picture> = Vec::new();
    for (number, setup) in (1..).zip(&plan.setups) {
        let keyed = matches!(setup.registered, Registered::Key { .. });
        // Angles of a panel's families are degrees apart.
        #[allow(clippy::cast_possible_truncation)]
        let angle = (setup.angle.to_degrees() * 100.0).round() as i64;
        let way = (keyed, angle, setup.strips_per_run > 1);
        if ways.contains(&way) {
            continue;
        }
        ways.push(way);
        let mut above = router_view::from_above(setup, router);
        let mut whose = phrase!("Set-up {}; others like it look alike. ", number);
        if plan.setups.len() == 1 {
            whose = Phrase::default();
        }
        whose.append(above.caption);
        above.caption = whose;
        pictures.push(above);
        let end = router_view::from_the_end(setup, router);
        if !pictures.iter().any(|known| looks_like(known, &end)) {
            pictures.push(end);
        }
    }
    pictures
}

/// Whether two pictures differ at most in their titles.
fn looks_like(a: &Picture, b: &Picture) -> bool {
    (&a.drawing.shapes, &a.caption) == (&b.drawing.shapes, &b.caption)
}

fn router_ready(work: &BookletWork<'_>, plan: &RouterPlan) -> Vec<Phrase> {
    let section = &work.lattice.section;
    let mut files: Vec<&str> = plan
        .setups
        .iter()
        .map(|setup| setup.file.as_str())
        .collect();
    files.dedup();
    let mut items = vec![
        phrase!(
            "The strips, {} thick, {} deep, cut to their lengths.",
            Mm(section.thickness),
            Mm(section.depth)
        ),
        match files.as_slice() {
            [only] if plan.setups.len() > 1 => {
                phrase!("Program {} loaded, which has all set-ups.", *only)
            }
            [only] => phrase!("Program {} loaded.", *only),
            _ => phrase!("{} programs at hand: {}.", files.len(), files.join(", ")),
        },
    ];
    if let Some(setup) = plan.setups.first() {
        items.push(phrase!(
            "Flat-ended cutter, {} over its edges, measured.",
            Mm(setup.tool.measured_mm())
        ));
    }
    let scrap = plan
        .setups
        .iter()
        .map(|setup| setup.fill_with_scrap)
        .sum::<usize>();
    if scrap > 0 {
        items.push(phrase!(
            "{} {} of scrap of the same section, to fill up the last bundles.",
            scrap,
            plural(scrap, "strip")
        ));
    }
    let keyed = |setup: &&RouterSetup| matches!(setup.registered, Registered::Key { .. });
    items.extend(plan.setups.iter().find(keyed).and_then(|setup| {
        let notch = setup.notches.first()?;
        Some(phrase!("A bar {} wide as the key.", Mm(notch.width_mm)))
    }));
    items.push(phrase!("End stop and clamps; caliper."));
    items
}

/// Width and depth, of each that is another one; places stand in the rows.
fn row_checks(plan: &RouterPlan) -> Vec<Check> {
    let mut told: Vec<(Check, Vec<usize>)> = Vec::new();
    for (number, setup) in (1..).zip(&plan.setups) {
        let Some(first) = setup.notches.first() else {
            continue;
        };
        for check in section_checks(first, "First notch") {
            match told.iter_mut().find(|(known, _)| *known == check) {
                Some((_, numbers)) => numbers.push(number),
                None => told.push((check, vec![number])),
            }
        }
    }
    let of_all = plan.setups.len();
    let mut checks: Vec<Check> = told
        .into_iter()
        .map(|(mut check, numbers)| {
            if numbers.len() < of_all {
                let mut what = Phrase::from(format!("{}: ", set_ups(&numbers)));
                what.append(check.what);
                check.what = what;
            }
            check
        })
        .collect();
    let keyed = |setup: &RouterSetup| matches!(setup.registered, Registered::Key { .. });
    checks.push(Check {
        what: phrase!("Front strip, on its centre line: near edges of the first and the last notch"),
        should: "as its row says".into(),
        otherwise: if plan.setups.iter().any(keyed) {
            phrase!("set X again at the end stop, or see to the key's place and fit; where only the far notch is off, see to the steps per millimetre of X")
        } else {
            phrase!("set X again at the end stop; where only the far notch is off, see to the steps per millimetre of X")
        },
    });
    checks
}

/// Width and depth of a notch.
fn section_checks(notch: &NotchFigures, name: &str) -> [Check; 2] {
    [
        Check {
            what: phrase!("{}: width along the strip", name),
            should: Mm(notch.width_mm).into(),
            otherwise: phrase!(
                "measure the cutter over its edges and write it into the profile; where that is right, write there what this notch was to be and what it is ([measured] notch_programmed, notch_measured); make the programs again"
            ),
        },
        Check {
            what: phrase!("{}: depth", name),
            should: Mm(notch.depth_mm).into(),
            otherwise: phrase!(
                "set Z again at the top of the stock; see that the bundle lies flat"
            ),
        },
    ]
}

fn router_checks(setup: &RouterSetup) -> Vec<Check> {
    let mut checks = Vec::new();
    if let Some(first) = setup.notches.first() {
        checks.extend(section_checks(first, &format!("Notch {}", first.index)));
    }
    let (from, start, otherwise) = match setup.registered {
        Registered::EndStop => ("datum end".to_owned(), 0.0, "set X again at the end stop"),
        Registered::Key {
            on_notch,
            near_edge_mm,
            ..
        } => (
            format!("near edge of notch {on_notch}"),
            near_edge_mm,
            "see to the key's place and fit",
        ),
    };
    let ends = [setup.notches.first(), setup.notches.last()];
    let distinct = if setup.notches.len() > 1 { 2 } else { 1 };
    checks.extend(
        ends.into_iter()
            .take(distinct)
            .flatten()
            .map(|notch| Check {
                what: phrase!(
                    "Front strip, on its centre line: {} to the near edge of notch {}",
                    from.as_str(),
                    notch.index
                ),
                should: Mm(notch.near_edge_mm - start).into(),
                otherwise: phrase!(
                    "{}; where only the far notch is off, see to the steps per millimetre of X",
                    otherwise
                ),
            }),
    );
    checks
}
