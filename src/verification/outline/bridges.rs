//! Bridges that hold a routed part: whether they stand where they may.

use super::contours::Contour;
use super::report::{OutlineFault, TOLERANCE_MM, mm, place};
use super::rings::{Edge, edges};
use crate::geometry::{Point, bounds};
use crate::instructions::outline::{Part, Work};
use crate::machines::{Bridges, Cutter};

/// Gives each bridge to the part on whose outline it lies and checks them: as many on each part as
/// the profile says and as wide, on a side along the grain at the part's lowest or highest y, a
/// cutter's width from every corner; none on a lowest side that is laid against something.
pub(super) fn check_bridges(
    contours: &[Contour],
    parts: &[Part],
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    let Bridges { count, width } = cutter.bridges.unwrap_or(Bridges {
        count: 0,
        width: 0.0,
    });
    let mut fault = |code, text: String| faults.push(OutlineFault::new(code, text));
    let mut found = vec![0; parts.len()];
    for bridge in contours
        .iter()
        .filter(|contour| contour.work == Work::Bridges)
    {
        let [a, b] = bridge.points[..] else {
            fault("bridge-place", "a bridge that is no straight stroke".into());
            continue;
        };
        let stroke = Edge { from: a, to: b };
        let on = |part: &Part| {
            edges(&part.outer)
                .any(|side| side.distance(a) <= TOLERANCE_MM && side.distance(b) <= TOLERANCE_MM)
        };
        let Some((index, part)) = parts.iter().enumerate().find(|(_, part)| on(part)) else {
            fault(
                "bridge-place",
                format!("the bridge at {} is on no outline", place(a)),
            );
            continue;
        };
        let name = &part.name;
        let ring = &part.outer;
        if let Some(count) = found.get_mut(index) {
            *count += 1;
        }
        if (stroke.length() - width).abs() > TOLERANCE_MM {
            fault(
                "bridge-width",
                format!("{name}: a bridge of {} mm", mm(stroke.length())),
            );
        }
        let (low, high) = bounds(ring.iter().copied()).unwrap_or_default();
        let level = |y: f64| (a.y - y).abs() <= TOLERANCE_MM && (b.y - y).abs() <= TOLERANCE_MM;
        let corner = |p: &Point| stroke.distance(*p) < cutter.diameter - TOLERANCE_MM;
        let below = level(low.y) && !part.laid_edge;
        if !(below || level(high.y)) || ring.iter().any(corner) {
            let text = format!(
                "{name}: the bridge at {} is in or too near a corner, an end or a facet, or on a side that is laid against something",
                place(a)
            );
            fault("bridge-place", text);
        }
    }
    for (Part { name, .. }, found) in parts.iter().zip(found).filter(|(_, found)| *found != count) {
        fault(
            "bridge-count",
            format!("{name}: {found} bridges, {count} wanted"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::Relief;
    use crate::verification::outline::reliefs::tests::{bar, cutter};

    #[test]
    fn bridges_are_counted_and_kept_from_corners() {
        let bridges_of = |strokes: &[[(f64, f64); 2]], laid_edge: bool| {
            let contour = |stroke: &[(f64, f64); 2]| Contour {
                work: Work::Bridges,
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
            let part = Part {
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
