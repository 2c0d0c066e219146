//! Putting the panel together: its picture, its pieces, the order of strips and pieces.

use super::guide_view;
use super::work::BookletWork;
use crate::geometry::tolerance::POSITION;
use crate::infill::Infilling;
use crate::instructions::drawing::Drawing;
use crate::instructions::panel::PanelFacts;
use crate::instructions::pare::{ParePlan, PieceFigures, PieceWood};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{
    Block, DrawnPiece, Figure, Picture, Section, SetupSheet, SheetPart,
};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::measured_stock::measured_stock;
use crate::planning::panel_facts::panel_facts;
use crate::sheets::measured_stock::stock_section;
use crate::sheets::panel::panel_section;
use crate::sheets::panel_drawing;
use crate::sheets::panel_picture::{kinds_drawing, panel_alone};
use crate::sheets::panel_size::trim_figures;
use crate::sheets::paring::cells_section;
use crate::units::Mm;
use float_cmp::ApproxEq;

pub(super) fn sheet(work: &BookletWork<'_>) -> SetupSheet {
    let mut sections = Vec::new();
    let stock = measured_stock(work.lattice);
    sections.extend(stock_section(stock.as_ref()));
    if let Some(plan) = work.pare {
        sections.push(Section {
            heading: "List of pieces".into(),
            blocks: vec![Block::Pieces(pieces(plan))],
        });
    }
    sections.extend(kinds_of_cells(work));
    let facts = panel_facts(work.lattice);
    // Its steps are said below, with what else is done at each; which settings are the trims'.
    let mut figures: Vec<Figure> = work.size.map(trim_figures).unwrap_or_default();
    let mut blocks = Vec::new();
    for block in panel_section(&facts).blocks {
        match block {
            Block::Figures(least) => figures.splice(0..0, least).for_each(drop),
            Block::Steps(_) => {}
            other => blocks.push(other),
        }
    }
    blocks.insert(0, Block::Figures(figures));
    blocks.push(Block::Steps(steps(work, &facts)));
    sections.push(Section {
        heading: "Putting it together".into(),
        blocks,
    });
    SetupSheet {
        part: SheetPart::Assembly,
        title: work.lattice.title.clone(),
        heading: "Bench: putting the panel together".into(),
        safety: SafetyNotes::for_assembly(),
        sections,
    }
}

/// The whole panel. Its enlarged cells stand apart where there are several kinds of them.
pub(super) fn panel(work: &BookletWork<'_>, drawn: Option<Drawing>) -> Picture {
    let mut caption = phrase!(
        "From the front, to scale. Strips of the front layer are light, those behind dark."
    );
    let several = work.pare.is_some_and(|plan| plan.cell_kinds.len() > 1);
    let drawing = if several {
        caption.append(phrase!(" Roman numerals are kinds of cells."));
        panel_alone(work.lattice, work.filled, work.frame)
    } else {
        drawn.unwrap_or_else(|| panel_drawing(work.lattice, work.filled, work.frame))
    };
    Picture { drawing, caption }
}

/// Which cells take which pieces, with a picture of each kind, where there are several.
fn kinds_of_cells(work: &BookletWork<'_>) -> Option<Section> {
    let mut section = work.pare.and_then(cells_section)?;
    let drawings = work
        .filled
        .map(|filled| kinds_drawing(work.lattice, filled));
    let picture = |drawing| Picture {
        drawing,
        caption: phrase!("One cell of each kind from the front."),
    };
    section.illustrate(drawings.into_iter().flatten().map(picture));
    Some(section)
}

fn pieces(plan: &ParePlan) -> Vec<DrawnPiece> {
    let piece = |(at, piece): (usize, &PieceFigures)| DrawnPiece {
        number: at + 1,
        name: piece.name.clone(),
        count: piece.count,
        length: piece.length_over_points_mm,
        outline: guide_view::outline(piece),
    };
    plan.pieces.iter().enumerate().map(piece).collect()
}

/// Strips first without glue, then glued in the same order; pieces in the order of their list.
fn steps(work: &BookletWork<'_>, facts: &PanelFacts) -> Vec<Phrase> {
    let mut steps = Vec::new();
    for laid in &facts.assembly {
        let strips = laid.strips.as_str();
        steps.push(if laid.step == 1 {
            phrase!("Dry fit, without glue: lay {} flat, back face down.", strips)
        } else {
            phrase!("Press {} onto them, back face down, notch over notch; tap with a block, never a bare hammer.", strips)
        });
    }
    steps.push(phrase!("Lay a straight edge over the laps: no strip may stand proud. Measure both diagonals: equal ones mean square."));
    if work.filled.is_some() && !work.lattice.strips_are_cut {
        steps.push(phrase!("Measure the clear opening of some cells. Where they differ from the picture's, work out the pieces again for what was measured: of one cell with pare --cell-opening, of all with the bays as measured under [as_built] in the job of a square grid."));
    }
    steps.push(phrase!("Take it apart in the reverse order. Glue the laps thinly, in the same order as before; square it by its diagonals before the glue sets; let it dry flat under weight."));
    if let Some(filled) = work.filled {
        steps.extend(run_over(filled));
    }
    if let Some(plan) = work.pare {
        steps.extend(plan.wood.as_ref().and_then(spacers));
        steps.push(fill_one(plan));
        steps.extend(over_each_other(plan));
        steps.extend(fit_locks(plan));
        steps.push(phrase!("Then cell by cell in the same order, a drop of glue on facets only; wipe off what comes out."));
    }
    let overhang = work.lattice.overhang;
    if overhang > 0.0 {
        // On slanted grids a strip may leave the panel between two nodes.
        let at_first = work.lattice.strips.iter().all(|strip| {
            let first = strip.notches.first();
            first.is_some_and(|notch| notch.centre.approx_eq(overhang, POSITION))
        });
        steps.push(if work.rails.is_some() {
            phrase!(
                "When the glue is hard, trim the ends to the lengths under Trim, with the frame's rails: they are let into the mortises."
            )
        } else if work.size.is_some() && at_first {
            phrase!(
                "When the glue is hard, trim the overhangs: what comes off each end stands above."
            )
        } else if at_first {
            phrase!(
                "When the glue is hard, trim the overhangs: {} from each strip's end to the middle of its first notch; cut to what the opening asks for.",
                Mm(overhang)
            )
        } else {
            phrase!(
                "When the glue is hard, trim the overhangs: {} from a strip's end to the panel's edge, more where strips lap beyond it; cut to what the opening asks for.",
                Mm(overhang)
            )
        });
    }
    steps
}

/// Pieces that run over the strips go into the glued grid from the front.
fn run_over(filled: &Infilling) -> Option<Phrase> {
    let named = |kinds: &Vec<usize>| {
        let kinds = kinds
            .iter()
            .filter_map(|at| Some((at, filled.kinds.get(*at)?)));
        let names = kinds.map(|(at, kind)| format!("{} (number {})", kind.name, at + 1));
        names.collect::<Vec<_>>().join(", ")
    };
    let (first, rest) = filled.going_in.split_first()?;
    let mut order = named(first);
    for kinds in rest {
        order = format!("{order}; over them {}", named(kinds));
    }
    Some(phrase!(
        "Pieces that run over the strips come first, from the front, notch over notch: {}. Without glue; then take them out and put a drop of glue into each lap.",
        order
    ))
}

/// Pieces that do not reach to the back of the strips lie on something while they go in.
fn spacers(wood: &PieceWood) -> Option<Phrase> {
    if wood.behind_mm < POSITION.epsilon {
        return None;
    }
    Some(phrase!(
        "Lay spacers {} thick under the cells, less broad than they are, with the panel's back face down: pieces that stand on them lie {} behind the strips' front face.",
        Mm(wood.behind_mm),
        Mm(wood.setback_mm)
    ))
}

/// Pieces with half laps: those notched from the front lie below.
fn over_each_other(plan: &ParePlan) -> Option<Phrase> {
    let laps = plan.pieces.iter().any(|piece| !piece.laps.is_empty());
    laps.then(|| {
        phrase!("Where two of them lap, first goes the one notched from the front, over it the one notched from the back.")
    })
}

/// What closes a cell is left a hair too long and fitted (common practice, no source).
fn fit_locks(plan: &ParePlan) -> Option<Phrase> {
    let locks = plan.pieces.iter().filter(|piece| piece.locks);
    let locks: Vec<String> = locks.map(numbered).collect();
    if locks.is_empty() {
        return None;
    }
    Some(phrase!(
        "Last of all go the locks, which hold the rest: {}. Leave them a hair too long at the end pared second, and take it off here until they close the cell without bending what they hold.",
        locks.join(", ")
    ))
}

/// `lock (number 3)`.
fn numbered(piece: &PieceFigures) -> String {
    format!("{} (number {})", piece.name, piece.number)
}

/// How the first cells are filled.
fn fill_one(plan: &ParePlan) -> Phrase {
    if plan.cell_kinds.len() > 1 {
        return phrase!(
            "Fill one cell of each kind without glue, its pieces in the order of the list under Kinds of cells. Pare until they close without force."
        );
    }
    let order: Vec<String> = plan.pieces.iter().map(numbered).collect();
    phrase!(
        "Fill one cell without glue, in this order: {}. Pare until it closes without force.",
        order.join(", ")
    )
}
