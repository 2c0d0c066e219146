//! Bridges that hold a routed part: whether they stand where they may.

use super::contours::Contour;
use super::report::{OutlineFault, TOLERANCE_MM, mm, place};
use super::rings::{Edge, edges};
use crate::geometry::bounds;
use crate::instructions::outline::{CutPart, CutWork};
use crate::machines::{Bridges, Cutter};

/// Gives each bridge to the part on whose outline it lies and checks them: as many on each part as
/// the profile says and as wide, on a side along the grain at the part's lowest or highest y, a
/// cutter's width from every corner; none on a lowest side that is laid against something.
pub(super) fn check_bridges(
    contours: &[Contour],
    parts: &[CutPart],
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    let Bridges { count, width } = cutter.bridges.unwrap_or(Bridges {
        count: 0,
        width: 0.0,
    });
    let mut found = vec![0; parts.len()];
    let bridges = contours.iter();
    for bridge in bridges.filter(|contour| contour.work == CutWork::Bridges) {
        let [from, to] = bridge.points[..] else {
            let text = "a bridge that is no straight stroke";
            faults.push(OutlineFault::new("bridge-place", text));
            continue;
        };
        let stroke = Edge { from, to };
        let on = parts.iter().position(|part| lies_on(&stroke, part));
        let Some((index, part)) = on.and_then(|index| Some((index, parts.get(index)?))) else {
            let text = format!("the bridge at {} is on no outline", place(from));
            faults.push(OutlineFault::new("bridge-place", text));
            continue;
        };
        if let Some(count) = found.get_mut(index) {
            *count += 1;
        }
        let name = &part.name;
        if (stroke.length() - width).abs() > TOLERANCE_MM {
            let text = format!("{name}: a bridge of {} mm", mm(stroke.length()));
            faults.push(OutlineFault::new("bridge-width", text));
        }
        if !may_stand(&stroke, part, cutter.diameter) {
            let text = format!(
                "{name}: the bridge at {} is in or too near a corner, an end or a facet, or on a side that is laid against something",
                place(from)
            );
            faults.push(OutlineFault::new("bridge-place", text));
        }
    }
    for (CutPart { name, .. }, found) in
        parts.iter().zip(found).filter(|(_, found)| *found != count)
    {
        let text = format!("{name}: {found} bridges, {count} wanted");
        faults.push(OutlineFault::new("bridge-count", text));
    }
}

/// Whether a stroke lies on one of the sides of a part's outline.
fn lies_on(stroke: &Edge, part: &CutPart) -> bool {
    edges(&part.outer).any(|side| {
        side.distance(stroke.from) <= TOLERANCE_MM && side.distance(stroke.to) <= TOLERANCE_MM
    })
}

/// Whether a bridge on a part's outline is on a side where one may be, and clear of its corners.
fn may_stand(stroke: &Edge, part: &CutPart, clear: f64) -> bool {
    let ring = &part.outer;
    let (low, high) = bounds(ring.iter().copied()).unwrap_or_default();
    let below = is_level(stroke, low.y) && !part.laid_edge;
    let above = is_level(stroke, high.y);
    let near_corner = ring
        .iter()
        .any(|corner| stroke.distance(*corner) < clear - TOLERANCE_MM);
    (below || above) && !near_corner
}

fn is_level(stroke: &Edge, y: f64) -> bool {
    (stroke.from.y - y).abs() <= TOLERANCE_MM && (stroke.to.y - y).abs() <= TOLERANCE_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::machines::Relief;
    use crate::verification::outline::reliefs::tests::{bar, cutter};

    #[test]
    fn bridges_are_counted_and_kept_from_corners() {
        let bridges_of = |strokes: &[[(f64, f64); 2]], laid_edge: bool| {
            let contour = |stroke: &[(f64, f64); 2]| Contour {
                work: CutWork::Bridges,
                closed: false,
                points: stroke.iter().map(|&(x, y)| Point::new(x, y)).collect(),
            };
            let contours: Vec<Contour> = strokes.iter().map(contour).collect();
            let cutter = Cutter {
                bridges: Some(Bridges {
                    count: 1,
                    width: 3.0,
                }),
                ..cutter(1.5, Relief::Bone)
            };
            let mut faults = Vec::new();
            let part = CutPart {
                name: "bar".into(),
                copy: 1,
                outer: bar(3.0),
                holes: Vec::new(),
                strokes: Vec::new(),
                laid_edge,
            };
            check_bridges(&contours, &[part], &cutter, &mut faults);
            faults.iter().map(|fault| fault.code).collect::<Vec<_>>()
        };
        let bridges = |strokes: &[[(f64, f64); 2]]| bridges_of(strokes, false);
        assert_eq!(
            bridges_of(&[[(5.0, 0.0), (8.0, 0.0)]], true),
            ["bridge-place"]
        );
        assert!(bridges_of(&[[(18.5, 12.0), (21.5, 12.0)]], true).is_empty());
        assert!(bridges(&[[(5.0, 0.0), (8.0, 0.0)]]).is_empty());
        assert!(bridges(&[[(18.5, 12.0), (21.5, 12.0)]]).is_empty());
        assert_eq!(bridges(&[]), ["bridge-count"]);
        assert_eq!(bridges(&[[(5.0, 0.0), (8.1, 0.0)]]), ["bridge-width"]);
        // Nearer than a cutter's width to the notch, or to the end; in the notch; on the end.
        assert_eq!(bridges(&[[(14.5, 0.0), (17.5, 0.0)]]), ["bridge-place"]);
        assert_eq!(bridges(&[[(1.0, 0.0), (4.0, 0.0)]]), ["bridge-place"]);
        assert_eq!(bridges(&[[(18.5, 2.0), (18.5, 5.0)]]), ["bridge-place"]);
        assert_eq!(bridges(&[[(0.0, 4.0), (0.0, 7.0)]]), ["bridge-place"]);
        // In the air: on no outline, and then one is missing.
        assert_eq!(
            bridges(&[[(18.6, 0.0), (21.4, 0.0)]]),
            ["bridge-place", "bridge-count"]
        );
    }
}
