//! A joint of two pieces in a stick, seen from above as it lies on the saw.

use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Drawing, Role};
use crate::instructions::mitres::{MitrePlan, MitreSetting, MitreStop, StickFigures};
use crate::instructions::sheet::Picture;
use crate::phrase;

/// What is shown beside the cut's crossing, in thicknesses of the stick.
const BESIDE: f64 = 13.0;

/// The cuts of one angle, by one hand and the other, through a joint of the first sticks that they
/// cut; nothing for sticks' ends.
pub(super) fn picture(settings: &[&MitreSetting], plan: &MitrePlan) -> Option<Picture> {
    let first = settings.first()?;
    let work = first.work.first()?;
    let sticks = plan.sticks.iter().find(|one| one.number == work.sticks)?;
    // Between two pieces rather than beside the first one.
    let at = usize::from(work.stops_mm.len() > 1);
    let bands = settings.iter();
    let bands: Vec<Band> = bands
        .filter_map(|setting| Band::of(setting, work.sticks, at, plan))
        .collect();
    let middles = bands.iter().map(|band| band.at(plan.thickness_mm / 2.0));
    let middle = middles.sum::<f64>() / bands.len() as f64;
    let title = format!("Sticks {} from above, a joint", sticks.number);
    let mut drawing = Drawing::new(title, Point::default(), Point::default());
    draw(&mut drawing, sticks, &bands, (middle, plan.thickness_mm));
    drawing.fit(0.1 * plan.thickness_mm);
    Some(Picture {
        drawing,
        caption: phrase!(
            "Cut {} of sticks {} from above, to scale: the fence below, the stop far to the left; white: kerfs, by their settings.",
            at + 1,
            sticks.number
        ),
    })
}

/// What a kerf takes.
struct Band {
    setting: usize,
    /// Its near side at the fence, from the stick's end.
    near: f64,
    /// Along the fence.
    opens: f64,
    /// How far it moves along the fence for each millimetre away from it.
    lean: f64,
}

impl Band {
    fn of(setting: &MitreSetting, sticks: usize, at: usize, plan: &MitrePlan) -> Option<Band> {
        let work = setting.work.iter().find(|work| work.sticks == sticks)?;
        let stop = *work.stops_mm.get(at)?;
        let lean = 1.0 / setting.fence.cut_angle.tan();
        let board = match plan.stop {
            MitreStop::Block => 0.0,
            MitreStop::Board => (plan.thickness_mm * lean).max(0.0),
        };
        Some(Band {
            setting: setting.number,
            near: stop - board,
            opens: setting.fence.kerf_along_fence_mm,
            lean,
        })
    }

    /// Its middle, so far from the fence.
    fn at(&self, y: f64) -> f64 {
        self.near + self.opens / 2.0 + y * self.lean
    }

    fn ring(&self, low: f64, high: f64) -> Vec<Point> {
        let at = |y: f64, along: f64| Point::new(self.near + along + y * self.lean, y);
        vec![
            at(low, 0.0),
            at(low, self.opens),
            at(high, self.opens),
            at(high, 0.0),
        ]
    }
}

fn draw(
    drawing: &mut Drawing,
    sticks: &StickFigures,
    bands: &[Band],
    (middle, thickness): (f64, f64),
) {
    let left = (middle - BESIDE * thickness).max(0.0);
    let right = (middle + BESIDE * thickness).min(sticks.length_mm);
    let inside = |p: Point| Point::new(p.x.clamp(left, right), p.y);
    let fence = [Point::new(left, -thickness / 2.0), Point::new(right, 0.0)];
    drawing.rectangle(Role::Jig, fence[0], fence[1]);
    let stick = [Point::new(left, 0.0), Point::new(right, thickness)];
    drawing.rectangle(Role::Wood, stick[0], stick[1]);
    for piece in &sticks.pieces {
        let ring: Vec<Point> = piece.outline.iter().map(|p| inside(*p)).collect();
        let seen = piece.outline.iter().any(|p| p.x > left && p.x < right);
        if seen {
            drawing.area(Role::Piece, ring);
        }
    }
    let beyond = 0.2 * thickness;
    for band in bands {
        drawing.area(Role::Cut, band.ring(-beyond, thickness + beyond));
    }
    // Each beside its band's upper end, away from the other one.
    for band in bands {
        let leans_right = band.lean > 0.0;
        let (side, anchor) = if leans_right {
            (band.opens / 2.0 + beyond, Anchor::Start)
        } else {
            (-band.opens / 2.0 - beyond, Anchor::End)
        };
        let height = thickness / 2.0;
        let at = Point::new(band.at(thickness + beyond) + side, thickness + height);
        let words = phrase!("setting {}", band.setting);
        drawing.text_from(Role::Name, anchor, at, height, words);
    }
}
