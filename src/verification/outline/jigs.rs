//! The parts that are made to measure and to set up by, from the job and the profiles.

use super::rings::{points, vertex_distance};
use super::wanted_part::{Engraved, EngravedText, WantedPart};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{Bundle, Face, Lattice, Notch, Turn};
use crate::machines::{Fit, Sled};
use crate::units::decimal;
use float_cmp::ApproxEq;

pub(super) fn figure(value: f64, places: u32) -> String {
    decimal(value, places).unwrap_or_default()
}

/// One story stick for each list of notches that differs from the others: as long as the strip,
/// 60 mm at least, 60 mm high, the edges of every notch marked from 0.2 to 6 mm above its edge. A
/// stick on which faces and angles need not be told serves strips turned over too. With a fit, a
/// notch is wider than its mate by as much as the slot that was tried than its strip.
pub fn gauge_wanted(lattice: &Lattice, fit: Option<Fit>) -> Vec<WantedPart> {
    let serves = |one: &Bundle, other: &Bundle| {
        let plain = one
            .notches
            .iter()
            .all(|notch| is_square(notch) && Some(notch.face) == one.face());
        match one.same_part(other) {
            Some(Turn::AsIs) => true,
            Some(Turn::Over) => plain,
            Some(Turn::EndForEnd | Turn::OverEndForEnd) | None => false,
        }
    };
    let mut done: Vec<&Bundle> = Vec::new();
    let mut sticks = Vec::new();
    for bundle in &lattice.bundles {
        if done.iter().any(|known| serves(known, bundle)) {
            continue;
        }
        done.push(bundle);
        let twins = lattice.bundles.iter().filter(|twin| serves(bundle, twin));
        sticks.push(stick(lattice, fit, bundle, &twins.collect::<Vec<_>>()));
    }
    sticks
}

fn is_square(notch: &Notch) -> bool {
    notch.angle.cos().approx_eq(0.0, DIRECTION)
}

/// What is written above the notches with this centre.
fn label(bundle: &Bundle, centre: f64) -> String {
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
    let centre = figure(centre, 2);
    if square {
        format!("{numbers} {centre}")
    } else {
        format!("{numbers} {centre} {} DEG", angles.join("/"))
    }
}

fn stick(lattice: &Lattice, fit: Option<Fit>, bundle: &Bundle, twins: &[&Bundle]) -> WantedPart {
    let section = &lattice.section;
    let room = section.thickness + fit.map_or(section.clearance, |fit| fit.slot - fit.strip);
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
        let half = room / notch.angle.sin() / 2.0;
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
    let text = |centre: &f64| EngravedText::about(label(bundle, *centre), *centre, reach);
    let mut texts: Vec<EngravedText> = centres.iter().map(text).collect();
    if length > bundle.length {
        marks.push(points(&[(bundle.length, 0.2), (bundle.length, 6.0)]));
        texts.push(EngravedText::about("END", bundle.length, 1.0));
    }
    let first = |bundle: &&Bundle| bundle.strips.first().map(|id| lattice.label(*id));
    let names: Vec<String> = twins.iter().filter_map(first).collect();
    let count: usize = twins.iter().map(|bundle| bundle.strips.len()).sum();
    let noun = if count == 1 { "STRIP" } else { "STRIPS" };
    let heading = format!("{} {count} {noun}", names.join(" "));
    texts.extend([heading, "50 MM".into()].map(EngravedText::anywhere));
    WantedPart {
        name: format!("story stick of {}", names.join(" ")),
        ring: points(&[(0.0, 0.0), (length, 0.0), (length, 60.0), (0.0, 60.0)]),
        holes: Vec::new(),
        engraved: Some(Engraved {
            marks,
            texts,
            check_line: true,
            or_nothing: false,
        }),
        laid_edge: true,
        count: 1,
    }
}

/// A comb: 12 mm of wood, then slots and teeth of 8 mm in turn, as deep as the deepest notch, under
/// a back of 24 mm; each slot's width stands above it. Without `widths` they are the strips'
/// thickness less 0.2 mm to more 0.2 mm in steps of 0.05 mm.
pub fn comb_wanted(lattice: &Lattice, widths: Option<&[f64]>) -> Vec<WantedPart> {
    let thickness = lattice.section.thickness;
    let usual: Vec<f64> = (0..9)
        .map(|n| thickness - 0.2 + 0.05 * f64::from(n))
        .collect();
    let widths = widths.unwrap_or(&usual);
    let all = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    let depth = all.map(|notch| notch.depth).fold(0.0, f64::max);
    let mut lower = vec![(0.0, 0.0)];
    let mut texts = Vec::new();
    let mut left = 12.0;
    for width in widths {
        let right = left + width;
        lower.extend([(left, 0.0), (left, depth), (right, depth), (right, 0.0)]);
        let three = figure(*width, 3);
        let words = three.strip_suffix('0').unwrap_or(&three);
        texts.push(EngravedText::about(
            words,
            (left + right) / 2.0,
            width / 4.0,
        ));
        left = right + 8.0;
    }
    let length = (left + 4.0).max(60.0);
    lower.extend([(length, 0.0), (length, depth + 24.0), (0.0, depth + 24.0)]);
    texts.push(EngravedText::anywhere("50 MM"));
    vec![WantedPart {
        name: "comb".into(),
        ring: points(&lower),
        holes: Vec::new(),
        engraved: Some(Engraved {
            marks: Vec::new(),
            texts,
            check_line: true,
            or_nothing: false,
        }),
        laid_edge: true,
        count: 1,
    }]
}

/// Centres of the key's slots on each insert: every distance on the first insert on which it is
/// 3 mm of wood away from the one before.
fn inserts(lattice: &Lattice, distances: Option<&[f64]>, slot: f64) -> Vec<Vec<f64>> {
    let mut all: Vec<f64> = match distances {
        Some(distances) => distances.to_vec(),
        None => {
            let centres = |bundle: &Bundle| -> Vec<f64> {
                bundle.notches.iter().map(|notch| notch.centre).collect()
            };
            let steps = |bundle: &Bundle| -> Vec<f64> {
                let at = centres(bundle);
                at.iter()
                    .zip(at.iter().skip(1))
                    .map(|(a, b)| b - a)
                    .collect()
            };
            lattice.bundles.iter().flat_map(steps).collect()
        }
    };
    all.sort_by(f64::total_cmp);
    let mut on: Vec<Vec<f64>> = Vec::new();
    let mut before = f64::NEG_INFINITY;
    for distance in all {
        if distances.is_none() && distance - before < SAME_POSITION_MM {
            continue;
        }
        before = distance;
        let free = |insert: &&mut Vec<f64>| {
            let nearest = insert.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b));
            distance - nearest - slot >= 3.0 - SAME_POSITION_MM
        };
        match on.iter_mut().find(free) {
            Some(insert) => insert.push(distance),
            None => on.push(vec![distance]),
        }
    }
    on
}

/// The base inserts of a rack: the blade's slot 15 mm from the left edge and 10 mm from either end;
/// each key slot at its distance from the blade's, as long as the sled's widest block, all about
/// the same middle. With a fit, a slot is wider than its key by as much as the slot that was tried
/// than its strip.
pub fn rack_wanted(
    lattice: &Lattice,
    sled: &Sled,
    fit: Option<Fit>,
    distances: Option<&[f64]>,
) -> Vec<WantedPart> {
    let notches = || lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    let depth = notches().map(|notch| notch.depth).fold(0.0, f64::max);
    // The key is as wide as the kerf: it fills what one pass cuts, and of several takes up one.
    let kerf = sled.blade.kerf;
    let key = kerf;
    let slot_width = fit.map_or(key, |fit| key + fit.slot - fit.strip);
    let block = sled.widest_block;
    let blade = match sled.blade.powered {
        None => block + 40.0,
        Some(saw) => {
            let radius = saw.diameter / 2.0;
            let over_base = depth + sled.height_correction;
            let half = |height: f64| {
                let below_centre = radius - height;
                (radius * radius - below_centre * below_centre)
                    .max(0.0)
                    .sqrt()
            };
            block + 2.0 * half(over_base) + 2.0 * half(over_base + sled.base_thickness)
        }
    };
    let tall = blade + 20.0;
    let slot = |at: f64, wide: f64, long: f64| {
        let a = at - wide / 2.0;
        let b = at + wide / 2.0;
        let low = (tall - long) / 2.0;
        let high = (tall + long) / 2.0;
        points(&[(a, low), (b, low), (b, high), (a, high)])
    };
    let from = 15.0 + kerf / 2.0;
    let insert = |(distances, number): (Vec<f64>, usize)| {
        let farthest = distances.iter().copied().fold(0.0, f64::max);
        let length = (from + farthest + slot_width / 2.0 + 15.0).max(from + kerf / 2.0 + 59.0);
        let mut holes = vec![slot(from, kerf, blade)];
        holes.extend(
            distances
                .iter()
                .map(|distance| slot(from + distance, slot_width, block)),
        );
        let sizes = format!("KEY {} KERF {}", figure(key, 2), figure(kerf, 2));
        let mut texts = ["BLADE", &sizes, "50 MM"]
            .map(EngravedText::anywhere)
            .to_vec();
        let label =
            |distance: &f64| EngravedText::about(figure(*distance, 2), from + distance, key / 4.0);
        texts.extend(distances.iter().map(label));
        WantedPart {
            name: format!("base insert {number}"),
            ring: points(&[(0.0, 0.0), (length, 0.0), (length, tall), (0.0, tall)]),
            holes,
            engraved: Some(Engraved {
                marks: Vec::new(),
                texts,
                check_line: true,
                or_nothing: false,
            }),
            laid_edge: false,
            count: 1,
        }
    };
    inserts(lattice, distances, slot_width)
        .into_iter()
        .zip(1..)
        .map(insert)
        .collect()
}
