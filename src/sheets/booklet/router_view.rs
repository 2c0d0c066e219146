//! A bundle in the router, from above and from its end, in the program's frame. To scale; what the
//! profile does not say (the breadth of stop and clamps) is drawn as wide as is usual.

use super::pencil::{Beside, Pencil, drawn};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Role};
use crate::instructions::router::{Registered, RouterSetup};
use crate::instructions::sheet::{Picture, Play, PlayStop};
use crate::instructions::sled::NotchFigures;
use crate::machines::{Clamp, Router};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Brief;

/// Breadth of end stop and clamps, for drawing.
const CLAMP_MM: f64 = 10.0;

/// The bundle from above with end stop or key, clamps, zero and notches.
pub(super) fn from_above(setup: &RouterSetup, router: &Router) -> Picture {
    let ([from, to], [front, back]) = (setup.stock.x_mm, setup.stock.y_mm);
    let clear = router.fixture.clear_beside;
    let title = format!("Bundle from above: {}", setup.names());
    let drawing = drawn(&title, |pencil| {
        let capitals = pencil.capitals;
        // Wide enough to be written on.
        let clamp = CLAMP_MM.max(2.4 * capitals);
        for y in [front - clear - clamp, back + clear] {
            pencil.rectangle(Role::Jig, (from, y), (to, y + clamp));
        }
        let words = (from + capitals, back + clear + clamp / 2.0);
        pencil.name(Anchor::Start, words, "clamps");
        strips(pencil, setup);
        for clamp in near(router, setup) {
            let ([x0, x1], [y0, y1]) = (clamp.x, clamp.y);
            pencil.rectangle(Role::Jig, (x0, y0), (x1, y1));
        }
        // Clear of the arms of the zero's cross, too.
        let left = (from - CLAMP_MM - capitals).min(-2.0 * capitals);
        let below = front - clear - clamp;
        registered(pencil, setup, left, below);
        pencil.zero((0.0, front));
        pencil.name(Anchor::End, (left, front - 2.5 * capitals), "zero X0 Y0");
        let middle = front + thickness(setup) / 2.0;
        let ends = [
            ("first", setup.notches.first()),
            ("last", setup.notches.last()),
        ];
        for (row, (which, notch)) in (0..).zip(ends) {
            let Some(notch) = notch else { continue };
            // One notch is first and last.
            let which = match (which, setup.notches.len()) {
                ("first", 1) => "notch",
                (_, 1) => continue,
                (which, _) => which,
            };
            let text = phrase!("{} {}", which, Brief(notch.near_edge_mm));
            let y = below - (3.0 + 3.5 * f64::from(row)) * capitals;
            // The last notch's line runs down past the first one's text.
            let other = setup.notches.last().map(|last| last.near_edge_mm);
            pencil.across(
                (0.0, front),
                (notch.near_edge_mm, middle),
                y,
                text,
                other.map_or(Beside::Right, Beside::RightPast),
            );
        }
        let above = back + clear + clamp + 3.0 * capitals;
        let (start, end) = front_strip(setup);
        let text = phrase!("strip {}", Brief(setup.length_mm));
        pencil.across((start, middle), (end, middle), above, text, Beside::Right);
        let text = phrase!("{}", Brief(back - front));
        pencil.upward((to, front), (to, back), to + 3.0 * capitals, text, false);
    });
    let mut caption = phrase!(
        "From above, to scale. {} on edge, {}; X runs to the right, Y away from you. First, last: near edges of these notches. Between bundle and clamps the tool runs out: {} must stay free, no clamp stands nearer.",
        counted(setup.strips_per_run, "strip"),
        setup.faces(),
        Brief(clear)
    );
    let boxes = named_clamps(
        router,
        setup,
        " Grey boxes besides: {}, where the profile says.",
    );
    caption.append(boxes);
    if setup.from_square > 0.0 {
        caption.append(phrase!(
            " Positions are those on the front strip's centre line."
        ));
    }
    Picture { drawing, caption }
}

/// Clamps that the profile names, farther from the bundle than this, mm, are not in its picture.
const NEAR_MM: f64 = 80.0;

fn near<'a>(router: &'a Router, setup: &RouterSetup) -> impl Iterator<Item = &'a Clamp> {
    let x = setup.stock.x_mm;
    let y = setup.stock.y_mm;
    let within = |a: [f64; 2], b: [f64; 2]| a[0] < b[1] + NEAR_MM && a[1] > b[0] - NEAR_MM;
    let clamps = router.fixture.clamps.iter();
    clamps.filter(move |clamp| within(clamp.x, x) && within(clamp.y, y))
}

/// A sentence about the clamps that the profile names, `{}` for their names; nothing where there are
/// none.
fn named_clamps(router: &Router, setup: &RouterSetup, sentence: &'static str) -> Phrase {
    let clamps = near(router, setup);
    let names: Vec<&str> = clamps.map(|clamp| clamp.name.as_str()).collect();
    if names.is_empty() {
        return phrase!("");
    }
    Phrase::from(sentence.replace("{}", &names.join(", ")))
}

/// What the strips lie against; measures stand below `below`, names left of `left`.
fn registered(pencil: &mut Pencil, setup: &RouterSetup, left: f64, below: f64) {
    let ([front, back], capitals) = (setup.stock.y_mm, pencil.capitals);
    match setup.registered {
        Registered::EndStop => {
            // Of a stepped bundle only the front strip touches it.
            let high = if setup.step_back_mm.abs() > 0.0 {
                front + thickness(setup)
            } else {
                back + 4.0
            };
            pencil.rectangle(Role::Jig, (-CLAMP_MM, front - 4.0), (0.0, high));
            pencil.name(Anchor::End, (left, f64::midpoint(front, high)), "end stop");
        }
        Registered::Key { x_mm, .. } => {
            let half = setup
                .notches
                .first()
                .map_or(1.0, |notch| notch.width_mm / 2.0);
            let lean = 1.0 / setup.angle.tan();
            let at = |x: f64, y: f64| Point::new(x + lean * (y - front), y);
            let low = front - 3.0;
            let high = back + 3.0;
            let ring = [(-half, low), (half, low), (half, high), (-half, high)];
            let ring = ring.map(|(x, y)| at(x_mm + x, y)).to_vec();
            pencil.drawing.area(Role::Key, ring);
            let text = phrase!("key {}", Brief(x_mm));
            pencil.across(
                (0.0, front),
                (x_mm, front),
                below - 10.0 * capitals,
                text,
                Beside::Right,
            );
        }
    }
}

fn thickness(setup: &RouterSetup) -> f64 {
    let [front, back] = setup.stock.y_mm;
    (back - front) / setup.strips_per_run.max(1) as f64
}

/// Where the front strip begins and ends along X.
fn front_strip(setup: &RouterSetup) -> (f64, f64) {
    let [from, to] = setup.stock.x_mm;
    if setup.step_back_mm < 0.0 {
        (to - setup.length_mm, to)
    } else {
        (from, from + setup.length_mm)
    }
}

/// Strips side by side, stepped where the slots are slanted, with the notches of this set-up.
fn strips(pencil: &mut Pencil, setup: &RouterSetup) {
    wood(pencil, setup);
    for ring in wanted(setup) {
        pencil.drawing.area(Role::Cut, ring);
    }
}

/// The strips before they are cut.
fn wood(pencil: &mut Pencil, setup: &RouterSetup) {
    let [front, _] = setup.stock.y_mm;
    let (thickness, (start, end)) = (thickness(setup), front_strip(setup));
    for at in 0..setup.strips_per_run.max(1) {
        let y = front + at as f64 * thickness;
        let step = at as f64 * setup.step_back_mm;
        pencil.rectangle(Role::Wood, (start + step, y), (end + step, y + thickness));
    }
}

/// The notches that are wanted, across the bundle.
fn wanted(setup: &RouterSetup) -> Vec<Vec<Point>> {
    let [front, back] = setup.stock.y_mm;
    // Positions hold on the front strip's centre line.
    let middle = front + thickness(setup) / 2.0;
    let ring = |notch: &NotchFigures| {
        let lean = 1.0 / setup.angle.tan();
        let near = notch.near_edge_mm;
        let far = notch.far_edge_mm;
        let ring = [(near, front), (far, front), (far, back), (near, back)];
        let ring = ring.map(|(x, y)| Point::new(x + lean * (y - middle), y));
        ring.to_vec()
    };
    setup.notches.iter().map(ring).collect()
}

/// The bundle from its datum end: depth, notches' floor, the tool at its safe height.
pub(super) fn from_the_end(setup: &RouterSetup, router: &Router) -> Picture {
    let ([front, back], [bottom, _]) = (setup.stock.y_mm, setup.stock.z_mm);
    let clear = router.fixture.clear_beside;
    let low = front - clear - CLAMP_MM;
    let high = back + clear + CLAMP_MM;
    let drawing = drawn(
        &format!("Bundle from its datum end: {}", setup.names()),
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
            let radius = setup.tool.cuts_mm / 2.0;
            let safe = setup.safe_height_mm;
            let start = front - router.cutting.run_out - radius;
            let shank = safe + 0.6 * (safe - bottom);
            pencil.rectangle(Role::Tool, (start - radius, safe), (start + radius, shank));
            let tool = phrase!("tool {}", Brief(setup.tool.cuts_mm));
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
            let text = phrase!("safe {}", Brief(safe));
            pencil.upward(
                (back, 0.0),
                (start, safe),
                high + 3.0 * capitals,
                text,
                false,
            );
            let middle = f64::midpoint(low, high);
            pencil.name(Anchor::Middle, (middle, bottom - table / 2.0), "table");
            let text = phrase!("strips {} deep", Brief(-bottom));
            pencil.name(
                Anchor::Middle,
                (middle, bottom - table - 1.5 * capitals),
                text,
            );
        },
    );
    let mut caption = phrase!(
        "From the datum end, to scale, on the table or fixture. Zero of Z is the top of the stock; the tool goes from notch to notch at the safe height; clamps rise no more than {} above it.",
        Brief(router.fixture.clamp_height)
    );
    let higher = named_clamps(router, setup, " Not so {}: the profile says how high.");
    caption.append(higher);
    Picture { drawing, caption }
}

/// The tool's way over the bundle.
pub(super) fn play(setup: &RouterSetup) -> Play {
    let [front, back] = setup.stock.y_mm;
    let title = format!("Tool's way from above: {}", setup.names());
    let drawing = drawn(&title, |pencil| {
        wood(pencil, setup);
        for mut ring in wanted(setup) {
            ring.extend(ring.first().copied());
            pencil.drawing.line(Role::Measure, ring);
        }
        for path in setup.path.cuts.all() {
            let points = path
                .moves
                .iter()
                .map(|step| Point::new(step.to.x, step.to.y));
            pencil.drawing.line(Role::Path, points.collect());
        }
        pencil.zero((0.0, front));
    });
    let mut stops = Vec::new();
    for path in setup.path.cuts.all() {
        let steps = path.moves.iter();
        stops.extend(steps.map(|step| PlayStop::of(step, path.index)));
    }
    let caption = phrase!(
        "The tool's way in program {}, from above. Bundle {} across, strips {} long.",
        &setup.file,
        Brief(back - front),
        Brief(setup.length_mm)
    );
    Play {
        picture: Picture { drawing, caption },
        diameter: setup.tool.cuts_mm,
        depth: -setup.stock.z_mm[0],
        file: setup.file.clone(),
        stops,
    }
}
