//! Stops of rows on long sticks, the two hands of an angle side by side.

use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::instructions::mitres::{MitreCut, MitrePlan, MitreSetting, MitreStop, MitreWork};
use crate::instructions::saw::Hand;
use crate::instructions::sheet::{Table, TableCell};
use crate::lattice::Face;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Rad;
use float_cmp::ApproxEq;

/// The stops of one cut of one kind of sticks, by the end that goes away; of square cuts the first.
struct Stops {
    sticks: usize,
    face_down: Face,
    to_blade: f64,
    cut: usize,
    by_hand: [Option<f64>; 2],
}

impl Stops {
    /// Whether both are of the same sticks, lying alike, at the same angle.
    fn is_beside(&self, other: &Stops) -> bool {
        self.sticks == other.sticks
            && self.face_down == other.face_down
            && self.to_blade.approx_eq(other.to_blade, DIRECTION)
    }
}

/// A row for each cut of each kind of sticks at each angle.
pub(super) fn table(settings: &[&MitreSetting], plan: &MitrePlan) -> Table {
    let all = stops(settings);
    let alike = all.iter().all(|stops| match stops.by_hand {
        [Some(one), Some(other)] => one.approx_eq(other, POSITION),
        // A stop of one hand alone, among those of both, would be taken for both hands'.
        _ => !all
            .iter()
            .any(|other| other.is_beside(stops) && !other.by_hand.contains(&None)),
    });
    // Laps may be cut into both faces of the same sticks.
    let by_face = all.iter().any(|one| {
        all.iter()
            .any(|other| one.sticks == other.sticks && one.face_down != other.face_down)
    });
    let row = |stops: &Stops| {
        let mut cells = vec![
            TableCell::Count(stops.sticks),
            TableCell::Text(Rad(stops.to_blade).text()),
        ];
        if by_face {
            cells.push(TableCell::Text(stops.face_down.name().to_owned()));
        }
        cells.extend([TableCell::Count(stops.cut)]);
        let [right, left] = stops.by_hand;
        if alike {
            cells.push(TableCell::length(right.or(left)));
        } else {
            cells.extend([right, left].map(TableCell::length));
        }
        cells
    };
    let mut columns = vec!["sticks", "angle"];
    columns.extend(by_face.then_some("face down"));
    columns.push("cut");
    columns.extend(if alike {
        &["stop"][..]
    } else {
        &["right", "left"]
    });
    Table {
        caption: caption(settings, plan, alike),
        columns,
        rows: all.iter().map(row).collect(),
    }
}

fn caption(settings: &[&MitreSetting], plan: &MitrePlan, alike: bool) -> Phrase {
    let mut caption = match plan.stop {
        MitreStop::Block => phrase!("Stop: from its face"),
        MitreStop::Board => phrase!("Stop: from the edge of the stop board"),
    };
    caption.append(phrase!(
        " to the near side of the kerf, along the fence's face"
    ));
    caption.append(if alike {
        phrase!(", the same whichever end goes away. Angle: to the blade.")
    } else {
        phrase!(", by the end that goes away from you. Angle: to the blade.")
    });
    let several =
        |one: &&MitreSetting| matches!(one.cut, MitreCut::Lap { passes, .. } if passes > 1);
    if settings.iter().any(several) {
        caption.append(phrase!(" Of each lap the first pass."));
    }
    caption
}

/// All stops: angle by angle in working order, of each the sticks in theirs.
fn stops(settings: &[&MitreSetting]) -> Vec<Stops> {
    let mut all: Vec<Stops> = Vec::new();
    for setting in settings {
        for work in &setting.work {
            for (cut, stop) in (1..).zip(&work.stops_mm) {
                add(&mut all, setting, (work, cut), *stop);
            }
        }
    }
    all
}

/// Adds a stop to the row of its cut, where the other hand has one already, or to a new row.
fn add(all: &mut Vec<Stops>, setting: &MitreSetting, of: (&MitreWork, usize), stop: f64) {
    let (
        &MitreWork {
            sticks, face_down, ..
        },
        cut,
    ) = of;
    let to_blade = setting.fence.to_blade;
    let hand = usize::from(setting.fence.end_away == Some(Hand::Left));
    let place = |by_hand: &mut [Option<f64>; 2]| {
        if let Some(place) = by_hand.get_mut(hand) {
            *place = Some(stop);
        }
    };
    let same = |known: &&mut Stops| {
        known.sticks == sticks
            && known.face_down == face_down
            && known.cut == cut
            && known.to_blade.approx_eq(to_blade, DIRECTION)
            && known.by_hand.get(hand) == Some(&None)
    };
    if let Some(known) = all.iter_mut().find(same) {
        place(&mut known.by_hand);
        return;
    }
    let mut by_hand = [None, None];
    place(&mut by_hand);
    all.push(Stops {
        sticks,
        face_down,
        to_blade,
        cut,
        by_hand,
    });
}
