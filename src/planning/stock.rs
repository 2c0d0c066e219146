//! What a sheet tells of stock that is not as it was drawn.

use crate::instructions::sheet::{Block, Figure, Section};
use crate::instructions::stock::{MeasuredShares, MeasuredStock};
use crate::lattice::{Lattice, Panel};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Brief, Mm};

/// The stock of a lattice, where it is not as drawn.
pub(super) fn measured_stock(lattice: &Lattice) -> Option<MeasuredStock> {
    let section = &lattice.section;
    let drawn = section.drawn.as_ref()?;
    let deeper = section.depth - drawn.depth;
    let shares = drawn.kept.clone().zip(section.joinery.kept.clone());
    let shares = shares.filter(|_| deeper.abs() > 0.0);
    Some(MeasuredStock {
        drawn_thickness_mm: drawn.thickness,
        measured_thickness_mm: section.thickness,
        thicker_mm: section.thickness - drawn.thickness,
        drawn_depth_mm: drawn.depth,
        measured_depth_mm: section.depth,
        deeper_mm: deeper,
        keeps: shares.map(|(drawn_mm, measured_mm)| MeasuredShares {
            drawn_mm,
            measured_mm,
        }),
        centres_as_drawn: lattice.centres_as_drawn,
    })
}

/// The stock of a panel, where it is not as drawn.
pub(super) fn stock_of(panel: &Panel) -> Option<MeasuredStock> {
    panel.design().strip.drawn.as_ref()?;
    measured_stock(panel.lattice())
}

/// The stock as a part of any machine's sheet; nothing where it is as drawn.
pub(super) fn stock_section(stock: Option<&MeasuredStock>) -> Option<Section> {
    let stock = stock?;
    let figures = vec![
        Figure::new(
            "thickness",
            Mm(stock.measured_thickness_mm),
            beside(
                stock.drawn_thickness_mm,
                stock.thicker_mm,
                ["thicker", "thinner"],
            ),
        ),
        Figure::new(
            "depth",
            Mm(stock.measured_depth_mm),
            beside(
                stock.drawn_depth_mm,
                stock.deeper_mm,
                ["deeper", "shallower"],
            ),
        ),
    ];
    let mut remarks = vec![consequence(stock)];
    remarks.extend(stock.keeps.as_ref().map(shares));
    Some(Section {
        heading: "Stock as measured".into(),
        blocks: vec![Block::Figures(figures), Block::Remarks(remarks)],
    })
}

fn beside(drawn: f64, more: f64, [over, under]: [&'static str; 2]) -> Phrase {
    if more == 0.0 {
        return "as drawn".into();
    }
    let which = if more > 0.0 { over } else { under };
    phrase!(
        "by caliper; drawn {}, so the stock is {} {}",
        Brief(drawn),
        Brief(more.abs()),
        which
    )
}

/// What follows from it, in one sentence.
fn consequence(stock: &MeasuredStock) -> Phrase {
    let mut words =
        phrase!("Notches, laps, bundles, mortises and pieces follow the stock as measured");
    if stock.thicker_mm != 0.0 {
        words.append(phrase!(
            "; between neighbouring parallel strips there is {} {} room",
            Brief(stock.thicker_mm.abs()),
            if stock.thicker_mm > 0.0 {
                "less"
            } else {
                "more"
            }
        ));
    }
    words.append(match (stock.centres_as_drawn, stock.thicker_mm == 0.0) {
        (true, true) => phrase!(
            "; centre lines stay where they are drawn, so a story stick for the drawn section still holds."
        ),
        (true, false) => phrase!(
            "; centre lines stay where they are drawn, so a story stick for the drawn section still holds for the notches' middles, but not for their edges."
        ),
        (false, _) => phrase!(
            "; centre lines stay where they are drawn, but strips that lap beyond the panel's edge are longer or shorter than in the drawn section, so its story sticks do not hold: make new ones."
        ),
    });
    words
}

fn shares(shares: &MeasuredShares) -> Phrase {
    let mut words = phrase!("What the layers keep at a node is drawn as ");
    list(&mut words, &shares.drawn_mm);
    words.append(phrase!(
        ", front to back; in the same proportions of the depth as measured it is "
    ));
    list(&mut words, &shares.measured_mm);
    words.append(phrase!("."));
    words
}

fn list(words: &mut Phrase, lengths: &[f64]) {
    for (at, length) in lengths.iter().enumerate() {
        words.append(match at {
            0 => phrase!("{}", Brief(*length)),
            _ if at + 1 == lengths.len() => phrase!(" and {}", Brief(*length)),
            _ => phrase!(", {}", Brief(*length)),
        });
    }
}
