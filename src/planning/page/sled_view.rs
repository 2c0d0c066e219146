//! A sled from above, and its blade against a strip's section. To scale; what the profile does not
//! say (the breadth of fence and stop) is drawn as wide as is usual.

use super::pencil::{Pencil, drawn};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Role, Shape};
use crate::instructions::page::Picture;
use crate::instructions::sled::{NotchFigures, Register, SledBundle, SledPlan, Step};
use crate::machines::Sled;
use crate::phrase;
use crate::units::{Brief, Rad};
use std::f64::consts::FRAC_PI_2;

/// Breadth of the fence and length of the stop block, for drawing.
const FENCE_MM: f64 = 18.0;

/// A sled from above, the operator at the lower edge, one notch about to be cut. The blade stands
/// upright on the page; where the notch is slanted, fence and strip are turned.
pub(super) fn from_above(
    plan: &SledPlan,
    bundle: &SledBundle,
    step: &Step,
    sled: &Sled,
) -> Option<Picture> {
    let notch = bundle
        .notches
        .iter()
        .find(|notch| notch.index == step.notch)?;
    let view = View::of(plan, bundle, step, sled, notch);
    let drawing = drawn(&title(bundle, step), |pencil| {
        view.fence_and_strips(pencil);
        view.saw(pencil, plan, sled);
        view.register(pencil, step);
        turned(&mut pencil.drawing.shapes, view.slant);
    });
    let mut caption = phrase!(
        "From above, the operator stands at the lower edge. Notch {} is about to be cut; notches lie underneath, the datum end is on the left.",
        notch.index
    );
    caption.append(match step.register {
        Register::Stop { .. } => phrase!(" Measured from the stop's face to the near side of the kerf."),
        Register::Spacers { .. } => phrase!(" Spacers lie between the stop and the datum end."),
        Register::Key { on_notch, .. } => phrase!(
            " Notch {} lies over the key. Measured from the middle of the key to the middle of the kerf.",
            on_notch
        ),
    });
    if view.slant.abs() > 1e-9 {
        caption.append(phrase!(
            " The fence is turned: {} between fence and blade.",
            Rad(notch.angle.min(std::f64::consts::PI - notch.angle))
        ));
    }
    if view.right < view.end {
        caption.append(phrase!(
            " The far end of the strips is cut off in the picture."
        ));
    }
    Some(Picture { drawing, caption })
}

fn title(bundle: &SledBundle, step: &Step) -> String {
    format!(
        "Sled from above: {} {}, notch {} {}",
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

/// Positions along the fence, from the middle of the kerf; the datum end lies to the left.
struct View<'a> {
    bundle: &'a SledBundle,
    notch: &'a NotchFigures,
    /// Half the kerf's width along the strip.
    half_kerf: f64,
    /// Datum end of the strips.
    datum: f64,
    /// Their other end.
    end: f64,
    /// What is drawn of the sled.
    left: f64,
    right: f64,
    /// From where the strip would be cut squarely, to the left.
    slant: f64,
}

impl<'a> View<'a> {
    fn of(
        plan: &SledPlan,
        bundle: &'a SledBundle,
        step: &Step,
        sled: &Sled,
        notch: &'a NotchFigures,
    ) -> View<'a> {
        let half_kerf = sled.blade.kerf / 2.0 / notch.angle.sin();
        let datum = match step.register {
            // The first pass takes the notch's near side.
            Register::Stop { .. } | Register::Spacers { .. } => -half_kerf - notch.near_edge_mm,
            Register::Key { .. } => -notch.centre_mm,
        };
        let end = datum + bundle.length_mm;
        let ahead = (0.6 * -datum).max(12.0 * plan.blade.pass_shift_mm.max(10.0));
        View {
            bundle,
            notch,
            half_kerf,
            datum,
            end,
            left: datum - 2.0 * FENCE_MM,
            right: end.min(ahead),
            slant: FRAC_PI_2 - notch.angle,
        }
    }

    fn width(&self) -> f64 {
        self.bundle.loads.block_width_mm
    }

    fn fence_and_strips(&self, pencil: &mut Pencil) {
        let (left, right) = (self.left, self.right + FENCE_MM);
        pencil.rectangle(Role::Jig, (left, -FENCE_MM), (right, 0.0));
        let count = self.bundle.loads.strips_per_block.max(1);
        let thickness = self.width() / count as f64;
        let cut_off = self.right < self.end;
        for at in 0..count {
            let (low, high) = (at as f64 * thickness, (at + 1) as f64 * thickness);
            let mut ring = vec![Point::new(self.right, high), Point::new(self.datum, high)];
            ring.extend([Point::new(self.datum, low), Point::new(self.right, low)]);
            if cut_off {
                ring.push(Point::new(
                    self.right + 0.4 * thickness,
                    f64::midpoint(low, high),
                ));
            }
            pencil.drawing.area(Role::Wood, ring);
        }
        for notch in &self.bundle.notches {
            let beyond = self.datum + notch.far_edge_mm > self.right;
            if notch.index <= self.notch.index && !beyond {
                let lean = 1.0 / notch.angle.tan() * self.width();
                let (near, far) = (
                    self.datum + notch.near_edge_mm,
                    self.datum + notch.far_edge_mm,
                );
                let ring = [
                    (near, 0.0),
                    (far, 0.0),
                    (far + lean, self.width()),
                    (near + lean, self.width()),
                ];
                let ring = ring.map(|(x, y)| Point::new(x, y)).to_vec();
                pencil.drawing.area(Role::Cut, ring);
            }
        }
        let name = pencil.capitals;
        pencil.name(Anchor::End, (right - name, -FENCE_MM / 2.0), "fence");
    }

    /// The blade stands clear of the strips, its slot runs through base and fence.
    fn saw(&self, pencil: &mut Pencil, plan: &SledPlan, sled: &Sled) {
        let lean = 1.0 / self.notch.angle.tan();
        let half = self.half_kerf;
        let at = |x: f64, y: f64| Point::new(x + lean * y, y);
        let gap = 0.15 * self.width() + 4.0;
        let long = plan
            .blade
            .half_chord_mm
            .map_or(40.0, |half_chord| 2.0 * half_chord);
        let (low, high) = (self.width() + gap, self.width() + gap + long.min(120.0));
        for side in [-half, half] {
            pencil
                .drawing
                .line(Role::Tool, vec![at(side, -FENCE_MM), at(side, low)]);
        }
        let ring = vec![
            at(-half, low),
            at(half, low),
            at(half, high),
            at(-half, high),
        ];
        pencil.drawing.area(Role::Tool, ring);
        let beside = at(half, f64::midpoint(low, high));
        let word = if sled.blade.powered.is_some() {
            "blade"
        } else {
            "saw"
        };
        let name = phrase!("{}, kerf {}", word, Brief(sled.blade.kerf));
        pencil.name(
            Anchor::Start,
            (beside.x + 1.5 * pencil.capitals, beside.y),
            name,
        );
    }

    fn register(&self, pencil: &mut Pencil, step: &Step) {
        let below = -FENCE_MM - 3.5 * pencil.capitals;
        match step.register {
            Register::Stop { .. } => {
                self.stop(pencil, self.datum, "stop");
                let passes = self
                    .bundle
                    .by_stop
                    .iter()
                    .find(|stop| stop.notch == step.notch);
                let first = passes.and_then(|stop| stop.passes_mm.first().copied());
                let Register::Stop { stop_to_kerf_mm } = step.register else {
                    return;
                };
                let distance = first.unwrap_or(stop_to_kerf_mm);
                let text = phrase!("stop to kerf {}", Brief(distance));
                pencil.across((self.datum, 0.0), (-self.half_kerf, 0.0), below, text, None);
            }
            Register::Spacers { spacer_mm, .. } => {
                let face = self.datum - spacer_mm;
                self.stop(pencil, face, "stop");
                pencil.rectangle(Role::Key, (face, 0.0), (self.datum, self.width().min(12.0)));
                let text = phrase!("spacers {}", Brief(spacer_mm));
                pencil.across((face, 0.0), (self.datum, 0.0), below, text, None);
            }
            Register::Key {
                key_mm, slot_mm, ..
            } => {
                let key = key_mm / self.notch.angle.sin();
                let half = self.half_kerf;
                pencil.rectangle(Role::Key, (-key - half, 0.0), (-key + half, self.width()));
                let name = phrase!("key in slot {}", Brief(slot_mm));
                let above = self.width() + 2.0 * pencil.capitals;
                pencil.line(
                    Role::Name,
                    (-key, self.width()),
                    (-key, above - pencil.capitals),
                );
                pencil.name(Anchor::End, (-key + 4.0 * pencil.capitals, above), name);
                let text = phrase!("middle to middle {}", Brief(key_mm));
                pencil.across((-key, 0.0), (0.0, 0.0), below, text, None);
            }
        }
    }

    fn stop(&self, pencil: &mut Pencil, face: f64, name: &'static str) {
        let high = self.width().max(10.0) + 4.0;
        pencil.rectangle(Role::Jig, (face - FENCE_MM, 0.0), (face, high));
        let at = (face - FENCE_MM / 2.0, high + 1.5 * pencil.capitals);
        pencil.name(Anchor::Middle, at, name);
    }
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
            Shape::Area { ring: points, .. } | Shape::Line { points, .. } => {
                points.iter_mut().for_each(turn);
            }
            Shape::Text { at, .. } => turn(at),
        }
    }
}

/// The blade over the sled's base beside a strip of `thickness` by `depth`, seen from the operator.
pub(super) fn blade(plan: &SledPlan, sled: &Sled, depth: f64) -> Option<Picture> {
    sled.blade.powered?;
    let (setting, base, kerf) = (&plan.blade, sled.base_thickness, sled.blade.kerf);
    let half = 1.2 * (base + depth).max(24.0);
    let notch = plan.bundles.first()?.notches.first()?;
    let (left, rim) = (-half, 0.15 * half);
    let drawing = drawn("Blade against a strip's section", |pencil| {
        let capitals = pencil.capitals;
        let below = -base - 0.35 * half;
        pencil.rectangle(Role::Ground, (left, below), (half, -base));
        pencil.rectangle(Role::Ground, (left, -base), (half, 0.0));
        pencil.rectangle(Role::Wood, (left + rim, 0.0), (half - rim, depth));
        let wide = notch.width_mm / 2.0;
        pencil.rectangle(Role::Cut, (-wide, 0.0), (wide, notch.depth_mm));
        // Of several passes the first one is shown.
        let at = if setting.passes_per_notch > 1 {
            kerf / 2.0 - wide
        } else {
            0.0
        };
        let top = setting.height_above_base_mm;
        pencil.rectangle(Role::Tool, (at - kerf / 2.0, below), (at + kerf / 2.0, top));
        let text = phrase!("over the base {}", Brief(top));
        pencil.upward(
            (half, 0.0),
            (kerf / 2.0 + at, top),
            half + 3.0 * capitals,
            text,
            false,
        );
        let text = phrase!("over the table {}", Brief(setting.height_above_table_mm));
        let from = (at - kerf / 2.0, top);
        pencil.upward((left, -base), from, left - 3.0 * capitals, text, true);
        let text = phrase!("notch {}", Brief(notch.width_mm));
        pencil.across(
            (-wide, depth),
            (wide, depth),
            depth + 5.0 * capitals,
            text,
            None,
        );
        pencil.name(
            Anchor::Start,
            (half + 5.0 * capitals, -base / 2.0),
            "sled's base",
        );
        pencil.name(
            Anchor::Start,
            (half + 5.0 * capitals, f64::midpoint(below, -base)),
            "saw table",
        );
        let text = phrase!("strip, {} deep", Brief(depth));
        pencil.name(
            Anchor::Start,
            (wide + capitals, depth + 1.5 * capitals),
            text,
        );
    });
    let caption = phrase!(
        "From the operator's place, to scale: the strip lies with its {} face down on the base.",
        notch.face
    );
    Some(Picture { drawing, caption })
}
