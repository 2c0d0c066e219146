//! The router's part of the sheet.

use super::machines::ready;
use super::router_view;
use super::work::BookletWork;
use crate::instructions::router::{Registered, RouterPlan, RouterSetup};
use crate::instructions::sheet::{Block, Check, Figure, Picture, Section, SetupSheet, Tally};
use crate::machines::Router;
use crate::phrase;
use crate::phrase::{Phrase, plural};
use crate::sheets::measured_figures::measured_section;
use crate::sheets::measured_stock::stock_section;
use crate::sheets::router::{blank_sheet, setup_section};
use crate::units::{Mm, UnitSystem};

pub(super) fn sheet(work: &BookletWork<'_>, plan: &RouterPlan, router: &Router) -> SetupSheet {
    let mut sections = vec![ready(router_ready(work, plan))];
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.extend(measured_section(&plan.measured_figures));
    let setups = (1..).zip(&plan.setups);
    let mut of_setups: Vec<Section> = setups
        .map(|(number, setup)| setup_section(number, setup, plan))
        .collect();
    sections.extend(same_for_all(&mut of_setups));
    let mut ends: Vec<(usize, Picture)> = Vec::new();
    for ((number, setup), mut section) in (1..).zip(&plan.setups).zip(of_setups) {
        let mut above = router_view::from_above(setup, router);
        let end = router_view::from_the_end(setup, router);
        let known = ends.iter().find(|(_, known)| looks_like(known, &end));
        if let Some((known, _)) = known {
            above.caption.append(phrase!(
                " From the datum end it looks as in set-up {}.",
                *known
            ));
            section.illustrate([above]);
        } else {
            section.illustrate([above, end.clone()]);
            ends.push((number, end));
        }
        section.blocks.extend([
            Block::Tally(Tally {
                what: "bundles run".into(),
                count: setup.runs,
            }),
            Block::Play(router_view::play(setup)),
            Block::Checks(router_checks(setup)),
        ]);
        sections.push(section);
    }
    SetupSheet {
        sections,
        ..blank_sheet(plan)
    }
}

/// Takes what every set-up has in common out of them: what is set once and stays.
fn same_for_all(sections: &mut [Section]) -> Option<Section> {
    let figures = |section: &Section| -> Vec<Figure> {
        let blocks = section.blocks.iter();
        let figures = blocks.filter_map(|block| match block {
            Block::Figures(figures) => Some(figures.clone()),
            _ => None,
        });
        figures.flatten().collect()
    };
    let (first, others) = sections.split_first()?;
    let mut same = figures(first);
    for other in others {
        let known = figures(other);
        same.retain(|figure| known.iter().any(|known| reads_like(known, figure)));
    }
    if others.is_empty() || same.is_empty() {
        return None;
    }
    for block in sections.iter_mut().flat_map(|section| &mut section.blocks) {
        if let Block::Figures(figures) = block {
            figures.retain(|figure| !same.iter().any(|same| reads_like(same, figure)));
        }
    }
    Some(Section {
        heading: "The same in every set-up".into(),
        blocks: vec![Block::Figures(same)],
    })
}

/// Whether two figures are printed alike.
fn reads_like(a: &Figure, b: &Figure) -> bool {
    let printed = |figure: &Figure| {
        [UnitSystem::Millimetres, UnitSystem::Inches]
            .map(|units| (figure.value.text(units), figure.measured.text(units)))
    };
    a.name == b.name && printed(a) == printed(b)
}

/// Whether two pictures differ at most in their titles.
fn looks_like(a: &Picture, b: &Picture) -> bool {
    (&a.drawing.shapes, &a.caption) == (&b.drawing.shapes, &b.caption)
}

fn router_ready(work: &BookletWork<'_>, plan: &RouterPlan) -> Vec<Phrase> {
    let section = &work.lattice.section;
    let strips = |setups: &[RouterSetup]| {
        let setup = setups.first()?;
        let each = setup.lying.iter().map(|one| {
            let family = plural(one.count, one.family);
            format!("{} {family} ({})", one.count, one.strips)
        });
        let mut item = phrase!(
            "{}, {} thick, {} deep",
            each.collect::<Vec<_>>().join(" and "),
            Mm(section.thickness),
            Mm(section.depth)
        );
        let programs: Vec<&str> = setups.iter().map(|one| one.file.as_str()).collect();
        item.append(match setup.after_stop {
            None => phrase!(
                "; {} {} loaded.",
                plural(programs.len(), "program"),
                programs.join(", ")
            ),
            Some(0) => phrase!("; program {} loaded, which has all set-ups.", &setup.file),
            Some(_) => phrase!("."),
        });
        Some(item)
    };
    let bundles = plan.setups.chunk_by(|a, b| a.bundle == b.bundle);
    let mut items: Vec<Phrase> = bundles.filter_map(strips).collect();
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

fn router_checks(setup: &RouterSetup) -> Vec<Check> {
    let mut checks = Vec::new();
    if let Some(first) = setup.notches.first() {
        checks.push(Check {
            what: phrase!("Notch {}: width along the strip", first.index),
            should: Mm(first.width_mm).into(),
            otherwise: phrase!("measure the cutter over its edges and write it into the profile; where that is right, write there what this notch was to be and what it is ([measured] notch_programmed, notch_measured); make the programs again"),
        });
        checks.push(Check {
            what: phrase!("Notch {}: depth", first.index),
            should: Mm(first.depth_mm).into(),
            otherwise: phrase!(
                "set Z again at the top of the stock; see that the bundle lies flat"
            ),
        });
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

#[cfg(test)]
mod tests {
    use super::*;

    fn section(figures: &[(&str, f64)]) -> Section {
        let figures = figures.iter();
        let figures = figures.map(|(name, mm)| Figure::new(name, Mm(*mm), "from a datum"));
        Section {
            heading: "Set-up".into(),
            blocks: vec![Block::Figures(figures.collect())],
        }
    }

    #[test]
    fn what_all_have_in_common_is_said_once_and_nothing_is_lost() {
        let mut sections = [
            section(&[("tool", 3.0), ("safe height", 12.0), ("length", 300.0)]),
            section(&[
                ("tool", 3.0),
                ("safe height", 12.0 + 1e-9),
                ("length", 240.0),
            ]),
            section(&[("tool", 3.0), ("safe height", 12.0), ("length", 300.0)]),
        ];
        let same = same_for_all(&mut sections).unwrap();
        let common = section(&[("tool", 3.0), ("safe height", 12.0)]);
        assert_eq!(same.blocks, common.blocks);
        assert_eq!(sections[0], section(&[("length", 300.0)]));
        assert_eq!(sections[1], section(&[("length", 240.0)]));

        let mut alone = [section(&[("tool", 3.0)])];
        assert!(same_for_all(&mut alone).is_none());
        assert_eq!(alone[0], section(&[("tool", 3.0)]));
        let mut unlike = [section(&[("tool", 3.0)]), section(&[("tool", 4.0)])];
        assert!(same_for_all(&mut unlike).is_none());
    }
}
