//! Story sticks: every notch of a strip marked on a stick of its length, to mark out strips and to
//! check them.

use super::super::measured_stock::measured_stock;
use super::batch::WareBatch;
use super::fitted_notches::fitted;
use super::labels::{
    LABEL_MARGIN_MM, across, check_label, check_line, fitting, letter_height, place, plate, upward,
};
use crate::finding::Finding;
use crate::geometry::tolerance::DIRECTION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::instructions::laser::{StickLabels, Ware};
use crate::instructions::outline::CutPart;
use crate::lattice::{Bundle, Face, Lattice, Notch, Turn};
use crate::machines::Laser;
use crate::phrase::counted;
use crate::units::{UnitSystem, decimal};
use float_cmp::ApproxEq;

/// Shorter sticks have no room for the check line, mm.
const SHORTEST_MM: f64 = 60.0;

/// Height of a stick, mm.
const HEIGHT_MM: f64 = 60.0;

/// How far the box of a notch reaches up from the stick's edge, mm.
const BOX_MM: f64 = 6.0;

/// Where marks begin that run to the stick's edge: on the wood, whatever is rounded, mm.
const FOOT_MM: f64 = 0.2;

/// From where to where the notches' labels read upward, mm.
const LABELS_MM: [f64; 2] = [7.0, 48.0];

/// Where the check line lies, mm.
const CHECK_MM: f64 = 49.5;

/// Where the heading stands, mm.
const HEADING_MM: f64 = 54.5;

impl WareBatch {
    /// The sticks as parts: notches are marked as wide as this machine cuts them, which is what the
    /// slot that fitted asks for, where one was tried.
    ///
    /// # Errors
    /// All that keeps them from being cut; fields are those of the laser's profile.
    pub fn sticks(
        lattice: &Lattice,
        laser: &Laser,
        marked_in: UnitSystem,
    ) -> Result<WareBatch, Vec<Finding>> {
        let mut parts: Vec<CutPart> = Vec::new();
        for (at, bundle) in lattice.bundles.iter().enumerate() {
            let twin = |other: &Bundle| serves(bundle, other);
            if lattice.bundles.iter().take(at).any(twin) {
                continue;
            }
            let alike = lattice.bundles.iter().filter(|other| twin(other));
            let notches = bundle.notches.iter();
            let drawn = Bundle {
                notches: notches.map(|notch| fitted(lattice, laser, notch)).collect(),
                ..bundle.clone()
            };
            parts.push(stick(
                &drawn,
                &heading(lattice, alike, marked_in),
                parts.len() + 1,
                (laser, marked_in),
            )?);
        }
        let bundles = &lattice.bundles;
        Ok(WareBatch {
            fitted: true,
            marked_in,
            stick_labels: StickLabels {
                faces: bundles.iter().any(|bundle| bundle.face().is_none()),
                angles: (bundles.iter()).any(|bundle| !bundle.notches.iter().all(is_square)),
            },
            ..WareBatch::new(Ware::Sticks, None, measured_stock(lattice), parts)
        })
    }
}

/// The first strip of each bundle that the stick is for, and how many strips there are.
fn heading<'a>(
    lattice: &Lattice,
    alike: impl Iterator<Item = &'a Bundle>,
    marked_in: UnitSystem,
) -> String {
    let mut text = String::new();
    let mut count = 0;
    for bundle in alike {
        if let Some(first) = bundle.strips.first() {
            text += &format!("{} ", lattice.label(*first));
        }
        count += bundle.strips.len();
    }
    let units = match marked_in {
        UnitSystem::Millimetres => "",
        UnitSystem::Inches => " INCHES",
    };
    format!("{text}{}{units}", counted(count, "strip").to_uppercase())
}

fn stick(
    bundle: &Bundle,
    heading: &str,
    copy: usize,
    (laser, marked_in): (&Laser, UnitSystem),
) -> Result<CutPart, Vec<Finding>> {
    let length = bundle.length.max(SHORTEST_MM);
    let mut strokes: Vec<Vec<Point>> = Vec::new();
    // Two notches of a node may have the same edges.
    for edges in bundle.notches.iter().map(notch_box) {
        let same = |known: &Vec<Point>| {
            let mut pairs = known.iter().zip(&edges);
            pairs.all(|(p, q)| p.to(*q).length() < SAME_POSITION_MM)
        };
        if !strokes.iter().any(same) {
            strokes.push(edges);
        }
    }
    let mut labels: Vec<(f64, String)> = nodes(bundle)
        .into_iter()
        .map(|node| {
            (
                node.first().map_or(0.0, |(_, notch)| notch.centre),
                node_label(bundle, &node, marked_in),
            )
        })
        .collect();
    if length > bundle.length {
        let end = |y| Point::new(bundle.length, y);
        strokes.push(vec![end(FOOT_MM), end(BOX_MM)]);
        labels.push((bundle.length, "END".into()));
    }
    let places = labels.iter().map(|(at, _)| at);
    let steps = places.clone().zip(places.skip(1)).map(|(a, b)| b - a);
    let narrowest = steps.fold(f64::INFINITY, f64::min);
    let [foot, top] = LABELS_MM;
    let mut beside_each_other = narrowest - LABEL_MARGIN_MM - laser.letter_line;
    for (_, text) in &labels {
        beside_each_other = fitting(text, top - foot, beside_each_other);
    }
    let room = length - 6.0;
    let heading_height = fitting(heading, room, 3.5);
    let unreadable = Some(heading_height).filter(|height| *height < laser.least_letters());
    let height = letter_height(
        laser,
        unreadable.unwrap_or(beside_each_other),
        "story sticks",
    )?;
    for (at, text) in &labels {
        strokes.extend(upward(text, *at, foot, height));
    }
    strokes.push(check_line(Point::new(3.0, CHECK_MM)));
    strokes.extend(check_label(Point::new(3.0, CHECK_MM), height));
    let heading_height = heading_height.min(height);
    strokes.extend(across(heading, Point::new(3.0, HEADING_MM), heading_height));
    Ok(CutPart {
        name: format!("story stick {copy}"),
        copy: 1,
        outer: plate(length, HEIGHT_MM),
        holes: Vec::new(),
        strokes,
        laid_edge: true,
    })
}

/// The notch's two edges, joined at the top.
fn notch_box(notch: &Notch) -> Vec<Point> {
    let near = notch.near_edge();
    let far = notch.far_edge();
    let p = Point::new;
    vec![
        p(near, FOOT_MM),
        p(near, BOX_MM),
        p(far, BOX_MM),
        p(far, FOOT_MM),
    ]
}

/// Notches with their numbers from 1, those of one node together.
fn nodes(bundle: &Bundle) -> Vec<Vec<(usize, &Notch)>> {
    let mut nodes: Vec<Vec<(usize, &Notch)>> = Vec::new();
    for (number, notch) in (1..).zip(&bundle.notches) {
        let same = |node: &&mut Vec<(usize, &Notch)>| {
            node.last()
                .is_some_and(|(_, last)| notch.centre - last.centre < SAME_POSITION_MM)
        };
        match nodes.last_mut().filter(same) {
            Some(node) => node.push((number, notch)),
            None => nodes.push(vec![(number, notch)]),
        }
    }
    nodes
}

/// Numbers and centre; the faces where a strip has notches in both, the angles where one is not
/// square.
fn node_label(bundle: &Bundle, node: &[(usize, &Notch)], marked_in: UnitSystem) -> String {
    let joined = |part: &dyn Fn(&(usize, &Notch)) -> String| {
        node.iter().map(part).collect::<Vec<_>>().join("/")
    };
    let numbers = joined(&|(number, notch)| match (bundle.face(), notch.face) {
        (Some(_), _) => number.to_string(),
        (None, Face::Front) => format!("{number} FRONT"),
        (None, Face::Back) => format!("{number} BACK"),
    });
    let centre = node.first().map_or(0.0, |(_, notch)| notch.centre);
    let centre = place(centre, marked_in);
    if node.iter().all(|(_, notch)| is_square(notch)) {
        return format!("{numbers} {centre}");
    }
    let angles = joined(&|(_, notch)| {
        let text = decimal(notch.angle.to_degrees(), 1).unwrap_or_default();
        text.trim_end_matches(".0").to_owned()
    });
    format!("{numbers} {centre} {angles} DEG")
}

fn is_square(notch: &Notch) -> bool {
    notch.angle.cos().approx_eq(0.0, DIRECTION)
}

/// Whether a stick for one bundle says all of another's strips as well: laid as they are, or over
/// their long axis where neither faces nor angles stand on it.
fn serves(bundle: &Bundle, other: &Bundle) -> bool {
    match other.same_part(bundle) {
        Some(Turn::AsIs) => true,
        Some(Turn::Over) => bundle.face().is_some() && bundle.notches.iter().all(is_square),
        Some(Turn::EndForEnd | Turn::OverEndForEnd) | None => false,
    }
}
