//! A sled from above. To scale; what the profile does not say (the breadth of fence and stop) is drawn as wide as is usual.

use super::pencil::{Beside, Pencil, drawn};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Role, Shape};
use crate::instructions::saw::{Hand, SawSetting};
use crate::instructions::sheet::Picture;
use crate::instructions::sled::{NotchFigures, Register, SledBundle, Step};
use crate::machines::Sled;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Brief, Rad};
use std::f64::consts::FRAC_PI_2;

/// Breadth of the fence and length of the stop block, for drawing.
const FENCE_MM: f64 = 18.0;

/// What is drawn of the blade at most: it is cut off as strips are, and pictures stay low.
const BLADE_MM: f64 = 24.0;

/// How all these pictures are read.
pub(super) fn how_read() -> Phrase {
    phrase!(
        "In the pictures from above the operator stands at the lower edge; notches lie underneath, the datum end on the left; far ends and the blade may be cut off; beside it stands its kerf; measures run along the fence."
    )
}

/// A sled from above, the operator at the lower edge, one notch about to be cut. The blade stands
/// upright on the page; where the fence is slanted, it and the strips are turned.
pub(super) fn from_above(
    bundle: &SledBundle,
    setting: &SawSetting,
    step: &Step,
    sled: &Sled,
) -> Option<Picture> {
    let notch = bundle
        .notches
        .iter()
        .find(|notch| notch.index == step.notch)?;
    let view = View::of(bundle, setting, step, sled, notch);
    let drawing = drawn(&title(bundle, setting, step), |pencil| {
        view.fence(pencil);
        view.strips(pencil);
        view.notches(pencil);
        view.saw(pencil, sled);
        view.register(pencil, step);
        turned(
            &mut pencil.drawing.shapes,
            FRAC_PI_2 - setting.fence.slot_angle,
        );
    });
    Some(Picture {
        drawing,
        caption: view.caption(step),
    })
}

fn title(bundle: &SledBundle, setting: &SawSetting, step: &Step) -> String {
    format!(
        "Sled from above, setting {}: {} {}, notch {} {}",
        setting.number,
        bundle.family,
        bundle.strips,
        step.notch,
        match step.register {
            Register::Stop { .. } => "by the stop",
            Register::Key { .. } => "over the key",
            Register::Spacers { .. } => "by spacers",
        }
    )
}

/// Positions along the fence, from the middle of the kerf at the fence; the datum end lies to the
/// left, strips lie on the far side of the fence.
struct View<'a> {
    bundle: &'a SledBundle,
    setting: &'a SawSetting,
    notch: &'a NotchFigures,
    /// How far the cut moves along the fence for each millimetre away from it.
    lean: f64,
    /// How far each strip lies along the fence from its neighbour nearer the fence.
    step: f64,
    /// Half of what the kerf opens along the fence.
    half_kerf: f64,
    /// Datum end of the strip at the fence.
    datum: f64,
    /// Length of the spacers before it.
    spacer: f64,
    /// What is drawn of the strips.
    right: f64,
}

impl<'a> View<'a> {
    fn of(
        bundle: &'a SledBundle,
        setting: &'a SawSetting,
        step: &Step,
        sled: &Sled,
        notch: &'a NotchFigures,
    ) -> View<'a> {
        let slanted = setting.fence.slanted.as_ref();
        let half_kerf = slanted.map_or(sled.blade.kerf, |fence| fence.kerf_along_fence_mm) / 2.0;
        let lean = 1.0 / setting.fence.slot_angle.tan();
        let shift = slanted.map_or(0.0, |fence| match fence.step_toward {
            Hand::Right => fence.step_mm,
            Hand::Left => -fence.step_mm,
        });
        let thickness = bundle.loads.block_width_mm / bundle.loads.strips_per_block.max(1) as f64;
        let datum = match step.register {
            Register::Stop { stop_to_kerf_mm } => {
                -half_kerf - first_pass(bundle, step, stop_to_kerf_mm)
            }
            Register::Spacers {
                stop_to_kerf_mm,
                spacer_mm,
            } => -half_kerf - first_pass(bundle, step, stop_to_kerf_mm - spacer_mm),
            // The notch's middle on the strip's centre line lies in the middle of the kerf.
            Register::Key { .. } => lean * thickness / 2.0 - notch.centre_mm,
        };
        let ahead = (0.6 * -datum).max(60.0);
        View {
            bundle,
            setting,
            notch,
            lean: if lean.abs() < 1e-12 { 0.0 } else { lean },
            step: shift,
            half_kerf,
            datum,
            spacer: match step.register {
                Register::Spacers { spacer_mm, .. } => spacer_mm,
                _ => 0.0,
            },
            right: (datum + bundle.length_mm).min(ahead),
        }
    }

    fn count(&self) -> usize {
        self.bundle.loads.strips_per_block.max(1)
    }

    fn width(&self) -> f64 {
        self.bundle.loads.block_width_mm
    }

    fn thickness(&self) -> f64 {
        self.width() / self.count() as f64
    }

    /// Whether the strips reach farther than is drawn.
    fn is_cut_off(&self) -> bool {
        self.right < self.datum + self.bundle.length_mm
    }

    fn fence(&self, pencil: &mut Pencil) {
        let steps = self.step * self.count() as f64;
        let left = self.datum - self.spacer + steps.min(0.0) - 2.0 * FENCE_MM;
        let right = self.right + steps.max(0.0) + FENCE_MM;
        pencil.rectangle(Role::Jig, (left, -FENCE_MM), (right, 0.0));
        let at = (right - 4.0 * pencil.capitals, -FENCE_MM / 2.0);
        pencil.name(Anchor::Middle, at, "fence");
    }

    fn strips(&self, pencil: &mut Pencil) {
        for at in 0..self.count() {
            let shift = at as f64 * self.step;
            let low = at as f64 * self.thickness();
            let high = low + self.thickness();
            let left = self.datum + shift;
            let right = self.right + shift;
            let mut ring = vec![
                Point::new(right, high),
                Point::new(left, high),
                Point::new(left, low),
                Point::new(right, low),
            ];
            if self.is_cut_off() {
                let tip = Point::new(right + 0.4 * self.thickness(), f64::midpoint(low, high));
                ring.push(tip);
            }
            pencil.drawing.area(Role::Wood, ring);
        }
    }

    /// The notches that this setting cuts in this face, up to the one at hand.
    fn notches(&self, pencil: &mut Pencil) {
        let done = self
            .bundle
            .steps
            .iter()
            .filter(|step| step.setting == self.setting.number);
        let mut before_now = true;
        for step in done {
            let found = self
                .bundle
                .notches
                .iter()
                .find(|notch| notch.index == step.notch);
            let Some(notch) = found.filter(|notch| before_now && notch.face == self.notch.face)
            else {
                continue;
            };
            before_now = notch.index != self.notch.index;
            // Stated on the centre line of the strip at the fence.
            let back = self.lean * self.thickness() / 2.0;
            let near = self.datum + notch.near_edge_mm;
            let far = self.datum + notch.far_edge_mm;
            if far > self.right {
                continue;
            }
            let high = self.width();
            let ring = [(near, 0.0), (far, 0.0), (far, high), (near, high)];
            let ring = ring.map(|(x, y)| Point::new(x + self.lean * y - back, y));
            pencil.drawing.area(Role::Cut, ring.to_vec());
        }
    }

    /// A place on the way of the cut, `aside` of its middle along the fence.
    fn on_cut(&self, aside: f64, y: f64) -> Point {
        Point::new(aside + self.lean * y, y)
    }

    /// The blade stands clear of the strips, its slot runs through base and fence.
    fn saw(&self, pencil: &mut Pencil, sled: &Sled) {
        let half = self.half_kerf;
        let gap = 0.15 * self.width() + 4.0;
        let chord = self
            .setting
            .half_chord_mm
            .map_or(40.0, |half_chord| 2.0 * half_chord);
        let long = chord * self.setting.fence.slot_angle.sin();
        let low = self.width() + gap;
        let high = self.width() + gap + long.min(BLADE_MM);
        for side in [-half, half] {
            let way = vec![self.on_cut(side, -FENCE_MM), self.on_cut(side, low)];
            pencil.drawing.line(Role::Tool, way);
        }
        let ring = [(-half, low), (half, low), (half, high), (-half, high)];
        let ring = ring.map(|(aside, y)| self.on_cut(aside, y)).to_vec();
        pencil.drawing.area(Role::Tool, ring);
        let beside = self.on_cut(half, f64::midpoint(low, high));
        let word = if sled.blade.powered.is_some() {
            "blade"
        } else {
            "saw"
        };
        let name = phrase!("{}, {}", word, Brief(sled.blade.kerf));
        pencil.name(
            Anchor::Start,
            (beside.x + 1.5 * pencil.capitals, beside.y),
            name,
        );
    }

    fn register(&self, pencil: &mut Pencil, step: &Step) {
        // There the fence goes down to the right, under what would stand there.
        let beside = if self.lean < 0.0 {
            Beside::Left
        } else {
            Beside::Right
        };
        let below = -FENCE_MM - 3.5 * pencil.capitals;
        match step.register {
            Register::Stop { stop_to_kerf_mm } => {
                self.stop(pencil, self.datum);
                let distance = first_pass(self.bundle, step, stop_to_kerf_mm);
                let text = phrase!("stop to kerf {}", Brief(distance));
                let from = (self.datum, 0.0);
                let to = (-self.half_kerf, 0.0);
                pencil.across(from, to, below, text, beside);
            }
            Register::Spacers { spacer_mm, .. } => {
                let face = self.datum - spacer_mm;
                self.stop(pencil, face);
                let high = self.thickness().min(12.0);
                pencil.rectangle(Role::Key, (face, 0.0), (self.datum, high));
                let text = phrase!("spacers {}", Brief(spacer_mm));
                pencil.across((face, 0.0), (self.datum, 0.0), below, text, beside);
            }
            Register::Key {
                key_mm,
                key_along_fence_mm,
                slot_mm,
                ..
            } => {
                let key = key_along_fence_mm.unwrap_or(key_mm);
                let half = self.half_kerf;
                let ring = [
                    (-half, 0.0),
                    (half, 0.0),
                    (half, self.width()),
                    (-half, self.width()),
                ];
                let ring = ring.map(|(aside, y)| self.on_cut(aside - key, y)).to_vec();
                pencil.drawing.area(Role::Key, ring);
                let above = self.width() + 2.0 * pencil.capitals;
                let top = self.on_cut(-key, self.width());
                pencil.line(Role::Name, (top.x, top.y), (top.x, above - pencil.capitals));
                let at = (top.x + 4.0 * pencil.capitals, above);
                pencil.name(Anchor::End, at, phrase!("key, slot {}", Brief(slot_mm)));
                let text = phrase!("{}", Brief(key));
                pencil.across((-key, 0.0), (0.0, 0.0), below, text, beside);
            }
        }
    }

    /// Of a stepped block only the strip at the fence touches the stop.
    fn stop(&self, pencil: &mut Pencil, face: f64) {
        let high = if self.step.abs() > 0.0 {
            self.thickness()
        } else {
            self.width().max(10.0) + 4.0
        };
        pencil.rectangle(Role::Jig, (face - FENCE_MM, 0.0), (face, high));
        // Turned with the left end away, what stands over the stop moves toward the strips.
        let (anchor, aside, above) = if self.lean < 0.0 {
            (Anchor::End, 0.3, 2.5)
        } else {
            (Anchor::Middle, 0.5, 1.5)
        };
        // Strips that are stepped past the stop hang over it.
        let past = self.step.min(0.0) * self.count() as f64;
        let at = (
            face + past - aside * FENCE_MM,
            high + above * pencil.capitals,
        );
        pencil.name(anchor, at, "stop");
    }

    fn caption(&self, step: &Step) -> Phrase {
        let mut caption = phrase!("Notch {} is about to be cut.", self.notch.index);
        caption.append(match step.register {
            Register::Stop { .. } => {
                phrase!(" Measured from the stop's face to the near side of the kerf.")
            }
            Register::Spacers { spacer_mm, .. } => phrase!(
                " Spacers lie between the stop and the datum end; the stop's face stands {} from the near side of the kerf, at the first pass.",
                Brief(spacer_mm - self.half_kerf - self.datum)
            ),
            Register::Key { on_notch, .. } => phrase!(
                " Notch {} lies over the key. Measured from the middle of the key to the middle of the kerf.",
                on_notch
            ),
        });
        if self.setting.fence.slanted.is_some() {
            caption.append(phrase!(
                " The fence is turned {} from square, {} to the blade; only notches of this setting and face are drawn.",
                Rad(self.setting.fence.from_square),
                Rad(self.setting.fence.to_blade)
            ));
        }
        if self.notch.drawn_width_mm.is_some() {
            caption.append(phrase!(" Notches are as wide as the kerf cuts them."));
        }
        caption
    }
}

/// Face of the stop to the near side of the kerf, at a notch's first pass.
fn first_pass(bundle: &SledBundle, step: &Step, single: f64) -> f64 {
    let setting = bundle.by_stop.iter().find(|stop| stop.notch == step.notch);
    let first = setting.and_then(|stop| stop.passes_mm.first());
    first.copied().unwrap_or(single)
}

/// Turns everything about the kerf's middle; writing moves along and stays level.
fn turned(shapes: &mut [Shape], angle: f64) {
    if angle == 0.0 {
        return;
    }
    let (sin, cos) = angle.sin_cos();
    let turn = |point: &mut Point| {
        *point = Point::new(point.x * cos - point.y * sin, point.x * sin + point.y * cos);
    };
    for shape in shapes {
        match shape {
            Shape::Area { ring: points, .. }
            | Shape::Face { ring: points, .. }
            | Shape::Line { points, .. } => {
                points.iter_mut().for_each(turn);
            }
            Shape::Text { at, .. } => turn(at),
        }
    }
}
