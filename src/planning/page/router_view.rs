//! A bundle in the router, from above and from its end, in the program's frame. To scale; what the
//! profile does not say (the breadth of stop and clamps) is drawn as wide as is usual.

use super::pencil::{Pencil, drawn};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Role};
use crate::instructions::page::{Picture, Play, PlayStop};
use crate::instructions::router::RouterSetup;
use crate::instructions::tool_path::Motion;
use crate::machines::Router;
use crate::phrase;
use crate::units::Brief;

/// Breadth of end stop and clamps, for drawing.
const CLAMP_MM: f64 = 10.0;

/// The bundle from above with end stop, clamps, zero and notches.
pub(super) fn from_above(setup: &RouterSetup, router: &Router) -> Picture {
    let ([_, length], [front, back]) = (setup.stock.x_mm, setup.stock.y_mm);
    let drawing = drawn(
        &format!("Bundle from above: {} {}", setup.family, setup.strips),
        |pencil| {
            let capitals = pencil.capitals;
            let clear = router.fixture.clear_beside;
            // Wide enough to be written on.
            let clamp = CLAMP_MM.max(2.4 * capitals);
            for y in [front - clear - clamp, back + clear] {
                pencil.rectangle(Role::Jig, (0.0, y), (length, y + clamp));
            }
            strips(pencil, setup);
            pencil.rectangle(Role::Jig, (-CLAMP_MM, front - 4.0), (0.0, back + 4.0));
            pencil.name(
                Anchor::Start,
                (capitals, front - clear - clamp / 2.0),
                "clamps no nearer than this",
            );
            pencil.name(
                Anchor::End,
                (-CLAMP_MM - capitals, f64::midpoint(front, back)),
                "end stop",
            );
            pencil.zero((0.0, front));
            let below = front - clear - clamp;
            pencil.name(
                Anchor::End,
                (-CLAMP_MM - capitals, front - 2.5 * capitals),
                "zero X0 Y0",
            );
            let above = back + clear + clamp + 3.0 * capitals;
            if let Some(first) = setup.notches.first() {
                let text = phrase!("first notch, near edge {}", Brief(first.near_edge_mm));
                pencil.across(
                    (0.0, front),
                    (first.near_edge_mm, front),
                    below - 3.0 * capitals,
                    text,
                    false,
                );
            }
            if let Some(last) = setup.notches.last() {
                let text = phrase!("last notch, near edge {}", Brief(last.near_edge_mm));
                pencil.across(
                    (0.0, front),
                    (last.near_edge_mm, front),
                    below - 6.5 * capitals,
                    text,
                    false,
                );
            }
            pencil.across(
                (0.0, back),
                (length, back),
                above,
                phrase!("{}", Brief(length)),
                false,
            );
            let text = phrase!("{}", Brief(back - front));
            pencil.upward(
                (length, front),
                (length, back),
                length + 3.0 * capitals,
                text,
                false,
            );
        },
    );
    let caption = phrase!(
        "From above, to scale. {} strips on edge, {} face up; X runs to the right, Y away from you. Between bundle and clamps the tool runs out: {} must stay free.",
        setup.strips_per_run,
        setup.face,
        Brief(router.fixture.clear_beside)
    );
    Picture { drawing, caption }
}

/// Strips side by side with the notches of this set-up.
fn strips(pencil: &mut Pencil, setup: &RouterSetup) {
    let ([from, to], [front, back]) = (setup.stock.x_mm, setup.stock.y_mm);
    let count = setup.strips_per_run.max(1);
    let thickness = (back - front) / count as f64;
    for at in 0..count {
        let y = front + at as f64 * thickness;
        pencil.rectangle(Role::Wood, (from, y), (to, y + thickness));
    }
    for notch in &setup.notches {
        let lean = (back - front) / notch.angle.tan();
        let (near, far) = (notch.near_edge_mm, notch.far_edge_mm);
        let ring = [
            (near, front),
            (far, front),
            (far + lean, back),
            (near + lean, back),
        ];
        pencil
            .drawing
            .area(Role::Cut, ring.map(|(x, y)| Point::new(x, y)).to_vec());
    }
}

/// The bundle from its datum end: depth, notches' floor, the tool at its safe height.
pub(super) fn from_the_end(setup: &RouterSetup, router: &Router) -> Picture {
    let ([front, back], [bottom, _]) = (setup.stock.y_mm, setup.stock.z_mm);
    let clear = router.fixture.clear_beside;
    let (low, high) = (front - clear - CLAMP_MM, back + clear + CLAMP_MM);
    let drawing = drawn(
        &format!(
            "Bundle from its datum end: {} {}",
            setup.family, setup.strips
        ),
        |pencil| {
            let capitals = pencil.capitals;
            let table = 2.4 * capitals;
            pencil.rectangle(Role::Ground, (low, bottom - table), (high, bottom));
            let clamp = router.fixture.clamp_height;
            for y in [low, high - CLAMP_MM] {
                pencil.rectangle(Role::Jig, (y, bottom), (y + CLAMP_MM, clamp));
            }
            let count = setup.strips_per_run.max(1);
            let thickness = (back - front) / count as f64;
            for at in 0..count {
                let y = front + at as f64 * thickness;
                pencil.rectangle(Role::Wood, (y, bottom), (y + thickness, 0.0));
            }
            let depth = setup.notches.first().map_or(0.0, |notch| notch.depth_mm);
            pencil.line(
                Role::Path,
                (front - clear / 2.0, -depth),
                (back + clear / 2.0, -depth),
            );
            let (radius, safe) = (setup.tool_diameter_mm / 2.0, setup.safe_z_mm);
            let start = front - router.cutting.run_out - radius;
            let shank = safe + 0.6 * (safe - bottom);
            pencil.rectangle(Role::Tool, (start - radius, safe), (start + radius, shank));
            let tool = phrase!("tool {}", Brief(setup.tool_diameter_mm));
            pencil.name(
                Anchor::End,
                (start - radius - capitals, f64::midpoint(safe, shank)),
                tool,
            );
            pencil.zero((front, 0.0));
            let left = low - 3.0 * capitals;
            pencil.upward(
                (front, 0.0),
                (front, -depth),
                left,
                phrase!("notch {}", Brief(depth)),
                true,
            );
            let text = phrase!("safe height {}", Brief(safe));
            pencil.upward(
                (back, 0.0),
                (start, safe),
                high + 3.0 * capitals,
                text,
                false,
            );
            let middle = f64::midpoint(low, high);
            pencil.name(
                Anchor::Middle,
                (middle, bottom - table / 2.0),
                "table or fixture",
            );
            let text = phrase!("strips {} deep", Brief(-bottom));
            pencil.name(
                Anchor::Middle,
                (middle, bottom - table - 1.5 * capitals),
                text,
            );
        },
    );
    let caption = phrase!(
        "From the datum end, to scale. Zero of Z is the top of the stock; clamps rise no more than {} above it.",
        Brief(router.fixture.clamp_height)
    );
    Picture { drawing, caption }
}

/// The tool's way over the bundle.
pub(super) fn play(setup: &RouterSetup) -> Play {
    let ([from, to], [front, back]) = (setup.stock.x_mm, setup.stock.y_mm);
    let title = format!("Tool's way from above: {} {}", setup.family, setup.strips);
    let drawing = drawn(&title, |pencil| {
        strips(pencil, setup);
        for path in &setup.path.notches {
            let points = path
                .moves
                .iter()
                .map(|step| Point::new(step.to.x, step.to.y));
            pencil.drawing.line(Role::Path, points.collect());
        }
        pencil.zero((0.0, front));
    });
    let mut stops = Vec::new();
    for path in &setup.path.notches {
        stops.extend(path.moves.iter().map(|step| PlayStop {
            at: step.to,
            notch: path.index,
            cuts: matches!(step.motion, Motion::Cut(_)),
        }));
    }
    let caption = phrase!(
        "The tool's way in program {}, from above. Bundle {} across, {} along.",
        &setup.file,
        Brief(back - front),
        Brief(to - from)
    );
    Play {
        picture: Picture { drawing, caption },
        diameter: setup.tool_diameter_mm,
        stops,
    }
}
