//! Pictures of sticks as they are cut up.

use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Role, text_width};
use crate::instructions::legible::{Share, for_both};
use crate::instructions::sheet::Picture;
use crate::instructions::stock_plan::{CutStick, StickCut, StockPlan};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Brief;

/// Height of a stick, and from stick to stick, in capitals.
const STICK: f64 = 2.4;
const STEP: f64 = 4.2;

/// More kinds of sticks than this go to a further picture.
const MOST: usize = 18;

/// Every kind of stick, a row each, lengths to scale.
pub(super) fn stick_pictures(plan: &StockPlan) -> Vec<Picture> {
    let numbered: Vec<(usize, &CutStick)> = (1..).zip(&plan.sticks).collect();
    let pages = numbered.chunks(MOST);
    pages.map(picture).collect()
}

fn picture(sticks: &[(usize, &CutStick)]) -> Picture {
    let drawing = for_both(Share::SET_UP, |capitals, _| {
        let mut drawing = Drawing::new(
            "Sticks as they are cut up",
            Point::default(),
            Point::default(),
        );
        for (row, (number, stick)) in sticks.iter().enumerate() {
            let top = -(row as f64) * STEP * capitals;
            draw(&mut drawing, (*number, stick), top, capitals);
        }
        drawing.fit(capitals);
        drawing
    });
    Picture {
        drawing,
        caption: "Sticks by their numbers in the cut list, how many are cut so, and their parts from the end that is trimmed first; lengths to scale, heights not. Where there is no room for more, a part has its number in the list of parts.".into(),
    }
}

fn draw(drawing: &mut Drawing, (number, stick): (usize, &CutStick), top: f64, capitals: f64) {
    let low = top - STICK * capitals;
    let middle = f64::midpoint(top, low);
    let lead = phrase!("{}.  {} x", number, stick.count);
    drawing.text_from(
        Role::Name,
        Anchor::End,
        Point::new(-capitals, middle),
        capitals,
        lead,
    );
    drawing.rectangle(
        Role::Ground,
        Point::new(0.0, low),
        Point::new(stick.stock_mm, top),
    );
    let mut at = stick.trim_mm;
    for cut in &stick.cuts {
        let end = at + cut.length_mm;
        drawing.rectangle(Role::Wood, Point::new(at, low), Point::new(end, top));
        if let Some(text) = label(cut, capitals) {
            drawing.text(
                Role::Label,
                Point::new(f64::midpoint(at, end), middle),
                capitals,
                text,
            );
        }
        at = end + stick.kerf_mm;
    }
    let left = phrase!("{}", Brief(stick.left_mm));
    if text_width(&left, capitals) + capitals < stick.stock_mm - at {
        let middle = Point::new(f64::midpoint(at, stick.stock_mm), middle);
        drawing.text(Role::Name, middle, capitals, left);
    }
}

/// As much as there is room for.
fn label(cut: &StickCut, capitals: f64) -> Option<Phrase> {
    let all = [
        phrase!("{} {}", &cut.what, Brief(cut.length_mm)),
        phrase!("{}", Brief(cut.length_mm)),
        phrase!("{}", cut.need),
    ];
    let room = cut.length_mm - 0.6 * capitals;
    all.into_iter()
        .find(|text| text_width(text, capitals) <= room)
}
