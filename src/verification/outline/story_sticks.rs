//! Story sticks: the notches of a strip marked along an edge, to lay out or to check by.

use super::rings::{points, rectangle, vertex_distance};
use super::wanted_part::{Engraved, EngravedText, WantedPart, figure, written_place};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{Bundle, Face, Lattice, Notch, Turn};
use crate::machines::Fit;
use crate::units::UnitSystem;
use float_cmp::ApproxEq;

/// One story stick for each list of notches that differs from the others: as long as the strip,
/// 60 mm at least, 60 mm high, the edges of every notch marked from 0.2 to 6 mm above its edge. A
/// stick on which faces and angles need not be told serves strips turned over too. With a fit, a
/// notch is wider than its mate by as much as the slot that was tried than its strip.
pub fn gauge_wanted(lattice: &Lattice, fit: Option<Fit>, units: UnitSystem) -> Vec<WantedPart> {
    let mut done: Vec<&Bundle> = Vec::new();
    let mut sticks = Vec::new();
    for bundle in &lattice.bundles {
        if done.iter().any(|known| serves(known, bundle)) {
            continue;
        }
        done.push(bundle);
        let twins = lattice.bundles.iter().filter(|twin| serves(bundle, twin));
        let twins: Vec<&Bundle> = twins.collect();
        sticks.push(stick(lattice, (fit, units), bundle, &twins));
    }
    sticks
}

/// Whether the stick of one bundle does for another.
fn serves(one: &Bundle, other: &Bundle) -> bool {
    match one.same_part(other) {
        Some(Turn::AsIs) => true,
        // Nothing on the stick tells faces and slants apart.
        Some(Turn::Over) => one
            .notches
            .iter()
            .all(|notch| is_square(notch) && Some(notch.face) == one.face()),
        Some(Turn::EndForEnd | Turn::OverEndForEnd) | None => false,
    }
}

fn is_square(notch: &Notch) -> bool {
    notch.angle.cos().approx_eq(0.0, DIRECTION)
}

/// What is written above the notches with this centre.
fn label(bundle: &Bundle, centre: f64, units: UnitSystem) -> String {
    let here = |notch: &Notch| notch.centre.approx_eq(centre, POSITION);
    let both = bundle
        .notches
        .iter()
        .any(|notch| Some(notch.face) != bundle.face());
    let mut numbers = Vec::new();
    let mut angles = Vec::new();
    let mut square = true;
    for (at, notch) in bundle
        .notches
        .iter()
        .enumerate()
        .filter(|(_, notch)| here(notch))
    {
        let face = match notch.face {
            _ if !both => "",
            Face::Front => " FRONT",
            Face::Back => " BACK",
        };
        numbers.push(format!("{}{face}", at + 1));
        let tenths = figure(notch.angle.to_degrees(), 1);
        angles.push(tenths.strip_suffix(".0").unwrap_or(&tenths).to_owned());
        square &= is_square(notch);
    }
    let numbers = numbers.join("/");
    let centre = written_place(centre, units);
    if square {
        format!("{numbers} {centre}")
    } else {
        format!("{numbers} {centre} {} DEG", angles.join("/"))
    }
}

fn stick(
    lattice: &Lattice,
    (fit, units): (Option<Fit>, UnitSystem),
    bundle: &Bundle,
    twins: &[&Bundle],
) -> WantedPart {
    let section = &lattice.section;
    let wider = fit.map_or(0.0, |fit| fit.slot - fit.strip - section.clearance);
    let length = bundle.length.max(60.0);
    let mut centres: Vec<f64> = Vec::new();
    let mut marks: Vec<Vec<Point>> = Vec::new();
    for notch in &bundle.notches {
        if centres
            .last()
            .is_none_or(|last| notch.centre - last >= SAME_POSITION_MM)
        {
            centres.push(notch.centre);
        }
        // As drawn for the strip or piece that lies in it, and what the slot that fitted adds.
        let half = (notch.width + wider / notch.angle.sin()) / 2.0;
        let a = notch.centre - half;
        let b = notch.centre + half;
        let mark = points(&[(a, 0.2), (a, 6.0), (b, 6.0), (b, 0.2)]);
        if !marks
            .iter()
            .any(|known| vertex_distance(known, &mark, false) < SAME_POSITION_MM)
        {
            marks.push(mark);
        }
    }
    let steps = centres
        .iter()
        .zip(centres.iter().skip(1))
        .map(|(a, b)| b - a);
    let reach = (steps.fold(f64::INFINITY, f64::min) / 2.0).min(1.0);
    let text = |centre: &f64| EngravedText::about(label(bundle, *centre, units), *centre, reach);
    let mut texts: Vec<EngravedText> = centres.iter().map(text).collect();
    if length > bundle.length {
        marks.push(points(&[(bundle.length, 0.2), (bundle.length, 6.0)]));
        texts.push(EngravedText::about("END", bundle.length, 1.0));
    }
    let first = |bundle: &&Bundle| bundle.strips.first().map(|id| lattice.label(*id));
    let names: Vec<String> = twins.iter().filter_map(first).collect();
    let count: usize = twins.iter().map(|bundle| bundle.strips.len()).sum();
    let noun = if count == 1 { "STRIP" } else { "STRIPS" };
    let told = if units == UnitSystem::Inches {
        " INCHES"
    } else {
        ""
    };
    let heading = format!("{} {count} {noun}{told}", names.join(" "));
    texts.extend([heading, "50 MM".into()].map(EngravedText::anywhere));
    let name = format!("story stick of {}", names.join(" "));
    WantedPart::plain(name, rectangle(length, 60.0), 1)
        .with_engraving(Engraved::beside_check_line(marks, texts))
        .on_laid_edge()
}
