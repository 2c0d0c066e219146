//! A board's end, with the sticks that come of it.

use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Role};
use crate::instructions::legible::{Share, for_both};
use crate::instructions::milling::{MilledBoard, RippedFrom};
use crate::instructions::sheet::Picture;
use crate::instructions::stock_plan::SectionStock;
use crate::machines::StockWishes;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Brief;

/// Lines that stand for growth rings, over the longer side.
const RINGS: usize = 12;

/// To scale: wood that stays, what the saw takes, what is planed off or left over.
pub(super) fn board_end(
    section: &SectionStock,
    milled: &MilledBoard,
    wishes: &StockWishes,
) -> Picture {
    let drawing = for_both(Share::SET_UP, |capitals, _| {
        let mut drawing = Drawing::new("A board's end", Point::default(), Point::default());
        draw(&mut drawing, (section, milled, wishes), capitals);
        drawing.fit(capitals);
        drawing
    });
    Picture {
        drawing,
        caption: caption(milled),
    }
}

fn draw(
    drawing: &mut Drawing,
    (section, milled, wishes): (&SectionStock, &MilledBoard, &StockWishes),
    capitals: f64,
) {
    let board = &milled.board;
    let (width, thickness) = (board.width_mm, board.thickness_mm);
    drawing.rectangle(Role::Ground, Point::default(), Point::new(width, thickness));
    rings(drawing, (width, thickness), board.sawn == Some("quarter"));
    match milled.ripped.from {
        RippedFrom::Edge | RippedFrom::Members => off_edge(drawing, section, milled, wishes),
        RippedFrom::Blanks => off_blanks(drawing, section, milled, wishes),
    }
    let below = Point::new(width / 2.0, -1.6 * capitals);
    drawing.text(
        Role::Measure,
        below,
        capitals,
        phrase!("{} wide", Brief(width)),
    );
    let beside = Point::new(width + capitals, thickness / 2.0);
    let text = phrase!("{} thick", Brief(thickness));
    drawing.text_from(Role::Measure, Anchor::Start, beside, capitals, text);
}

fn caption(milled: &MilledBoard) -> Phrase {
    let rings = match milled.board.sawn {
        Some(sawn) => format!("{sawn}-sawn, as the lines show"),
        None => "drawn flat-sawn".into(),
    };
    phrase!(
        "The board's end, to scale, {}. The small rectangles are the {} finished sticks. Between them go kerfs and what is planed off; round them what surfacing and straightening take, and what is left over.",
        rings,
        milled.ripped.blanks * milled.ripped.sticks_per_blank
    )
}

/// Along the width of a flat-sawn board, across it of a quarter-sawn one.
fn rings(drawing: &mut Drawing, (width, thickness): (f64, f64), quarter: bool) {
    if quarter {
        for at in 1..RINGS * 2 {
            let x = width * at as f64 / (2 * RINGS) as f64;
            drawing.line(
                Role::Cut,
                vec![Point::new(x, 0.0), Point::new(x, thickness)],
            );
        }
        return;
    }
    for at in 1..4 {
        let low = thickness * f64::from(at) / 4.0 - thickness / 8.0;
        let arc = (0..=RINGS).map(|step| {
            let part = step as f64 / RINGS as f64;
            let rise = (1.0 - (2.0 * part - 1.0).powi(2)) * thickness / 6.0;
            Point::new(width * part, low + rise)
        });
        drawing.line(Role::Cut, arc.collect());
    }
}

/// Side by side along the width, in the middle of the thickness.
fn off_edge(
    drawing: &mut Drawing,
    section: &SectionStock,
    milled: &MilledBoard,
    wishes: &StockWishes,
) {
    let [across, deep] = section.section_mm;
    let ripped = &milled.ripped;
    let off = (milled.board.thickness_mm - deep) / 2.0;
    let planed = (ripped.rough_mm - across) / 2.0;
    let from = wishes.milling.straightening.value / 2.0;
    for at in 0..ripped.sticks_per_blank {
        let x = from + at as f64 * ripped.step_mm + planed;
        let low = Point::new(x, off);
        drawing.rectangle(Role::Wood, low, Point::new(x + across, off + deep));
    }
}

/// Blanks along the width, sticks over each other in them.
fn off_blanks(
    drawing: &mut Drawing,
    section: &SectionStock,
    milled: &MilledBoard,
    wishes: &StockWishes,
) {
    let [across, deep] = section.section_mm;
    let ripped = &milled.ripped;
    let rough = ripped.blank_rough_mm.unwrap_or(deep);
    let from = wishes.milling.straightening.value / 2.0;
    let surfaced = wishes.milling.surfacing.value / 2.0;
    let planed = (ripped.rough_mm - across) / 2.0;
    for blank in 0..ripped.blanks {
        let x = from + blank as f64 * (rough + wishes.milling.kerf.value) + (rough - deep) / 2.0;
        for at in 0..ripped.sticks_per_blank {
            let y = surfaced + at as f64 * ripped.step_mm + planed;
            drawing.rectangle(
                Role::Wood,
                Point::new(x, y),
                Point::new(x + deep, y + across),
            );
        }
    }
}
