//! Folded pieces told: their figures in a table, and how the V is cut and the strip bent.

use crate::instructions::folds::{FoldFigures, WallFigures};
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};

/// All bends, where pieces are folded.
pub(super) fn folds_section(plan: &ParePlan) -> Option<Section> {
    let folded = plan.pieces.iter().filter(|piece| piece.made > 0);
    let rows: Vec<Vec<TableCell>> = folded
        .flat_map(|piece| piece.folds.iter().map(move |fold| row(piece, fold)))
        .collect();
    if rows.is_empty() {
        return None;
    }
    let table = Table {
        caption: "One strip each, cut nearly through by a V and bent; all lengths are of the unfolded strip. Outer: along the side that holds, from end to end. From A, from B: along that side, from its corner at that end to where the V's point lies, square across. V: angle between its walls, each half of it from square. Deep: of the cut, from the inner side.".into(),
        columns: vec!["piece", "outer", "side", "from A", "from B", "V", "deep", "skin"],
        rows,
    };
    // Wetting, bending towards the cut, grain along the strip, a try on an off-cut: common practice, no source.
    let remarks = vec![
        phrase!(
            "The V's walls close on each other, whatever the skin does, so the strip is worked out as turned about the V's point: along the outer side it is shorter than its legs as drawn, at each V by twice the skin times the tangent of half the V's angle. By so much at the most, half of it in either leg, the bent piece comes out short where the skin does not stretch and wood is pressed together at the V's point instead: bend one on an off-cut first, and leave the ends as much longer as it lacks. A thicker or thinner skin asks for another length: measure it on the first one (fold_skin in the job's [infill])."
        ),
        phrase!(
            "The grain runs along the strip, straight, without knots: short grain breaks in the skin. A skin that cracks was too thick, too dry, or bent too fast."
        ),
    ];
    Some(Section {
        heading: "Folded pieces".into(),
        blocks: vec![Block::Table(table), Block::Remarks(remarks)],
    })
}

fn row(piece: &PieceFigures, fold: &FoldFigures) -> Vec<TableCell> {
    vec![
        TableCell::Text(format!("{} {}", piece.number, piece.name)),
        TableCell::Length(fold.from_a_mm + fold.from_b_mm),
        TableCell::Text(fold.outer.name().into()),
        TableCell::Length(fold.from_a_mm),
        TableCell::Length(fold.from_b_mm),
        TableCell::Text(Rad(fold.v_angle).text()),
        TableCell::Length(fold.depth_mm),
        TableCell::Length(fold.skin_mm),
    ]
}

/// How a piece's V's are cut, when its ends are finished, and how it is bent.
pub(super) fn fold_steps(piece: &PieceFigures) -> Vec<Phrase> {
    let count = piece.folds.len();
    let mut steps = Vec::new();
    for (at, fold) in piece.folds.iter().enumerate() {
        let name = match count {
            1 => "V".to_owned(),
            _ => format!("V {}", at + 1),
        };
        steps.push(mark(&name, fold));
        steps.push(walls(&name, fold));
    }
    if count > 0 {
        steps.push(bend(&piece.folds));
    }
    steps
}

fn mark(name: &str, fold: &FoldFigures) -> Phrase {
    phrase!(
        "{}: mark it on both faces with a knife. Its point lies {} from the {} side, {} along that side from its corner at end A and {} from that at end B; its walls run from there to the {} side, where they are {} apart.",
        name,
        Mm(fold.skin_mm),
        fold.outer.name(),
        Mm(fold.from_a_mm),
        Mm(fold.from_b_mm),
        fold.inner.name(),
        Mm(fold.width_mm)
    )
}

fn walls(name: &str, fold: &FoldFigures) -> Phrase {
    let [first, second] = &fold.walls;
    let mut step = phrase!(
        "{}: {} side on the fence, block of {}; ",
        name,
        fold.inner.name(),
        Rad(fold.block_angle)
    );
    step.append(wall(first));
    step.append(phrase!("; then the other face up, "));
    step.append(wall(second));
    step.append(phrase!(
        ". Saw inside the marks, well short of the point. Pare with a bevel-edged chisel, its side at the point, in thin shavings, {} deep from the {} side and no farther: {} of skin stay.",
        Mm(fold.depth_mm),
        fold.inner.name(),
        Mm(fold.skin_mm)
    ));
    step
}

fn wall(wall: &WallFigures) -> Phrase {
    let mut words = phrase!(
        "end {} on the stop, stop at {}",
        wall.on_stop.name(),
        Mm(wall.stop_mm)
    );
    if let Some(spacer) = wall.spacer_mm {
        words.append(phrase!(" with a spacer of {} between them", Mm(spacer)));
    }
    if wall.beyond_stop {
        words.append(phrase!(
            " (NOT WITH THESE GUIDES, whose stop does not go there)"
        ));
    }
    words
}

fn bend(folds: &[FoldFigures]) -> Phrase {
    let mut angles: Vec<String> = folds
        .iter()
        .map(|fold| Rad(fold.legs_angle).text())
        .collect();
    angles.dedup();
    let short = folds.iter().map(|fold| fold.short_of_corner_mm);
    phrase!(
        "Wet the outer side at each V with warm water and wait some minutes; thin skins of straight-grained wood bend dry as well. Bend slowly toward the cut until its walls close: the legs then stand at {}. If they gape at the inner side, there is wood at the V's point still: take it off with the chisel's corner. A drop of glue in the V, tape across the outer side, until it is hard. A corner comes out round, up to {} short of the sharp one that is drawn. One that is cut through is glued as a mitre, or made anew.",
        angles.join(", then "),
        Mm(short.fold(0.0, f64::max))
    )
}
