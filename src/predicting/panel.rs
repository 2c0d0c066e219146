//! A panel of two families at right angles: which joints make its two directions, and how large it comes
//! out.

use super::closing::Joints;
use super::form::Form;
use super::joints::{Predicted, Spacing};

/// One direction: joints whose holders place the mates.
#[derive(Debug, Clone)]
pub struct Direction {
    /// Family of the mates, whose places it decides.
    pub family: usize,
    /// Indices of the mates, in order.
    pub mates: Vec<usize>,
    /// Of the holders, along the mates, mm.
    pub along: Vec<f64>,
    /// Indices of joints, holder by holder.
    pub joints: Vec<usize>,
}

impl Predicted<'_> {
    /// Both directions, that of the first family first; nothing where strips do not all cross at right
    /// angles.
    pub fn directions(&self) -> Option<[Direction; 2]> {
        if self.lattice.families.len() != 2
            || self.joints.iter().any(|joint| joint.sine < 1.0 - 1e-12)
        {
            return None;
        }
        Some([self.direction(0)?, self.direction(1)?])
    }

    fn direction(&self, family: usize) -> Option<Direction> {
        let of = |wanted: bool| {
            let strips = self.lattice.strips.iter().enumerate();
            let strips = strips.filter(move |(_, strip)| (strip.id.family == family) == wanted);
            strips.map(|(at, _)| at).collect::<Vec<usize>>()
        };
        let (mates, holders) = (of(true), of(false));
        let first = self.lattice.strips.get(*mates.first()?)?;
        let mut along = Vec::new();
        let mut joints = Vec::new();
        for holder in holders {
            let id = self.lattice.strips.get(holder)?.id;
            let here = first
                .notches
                .iter()
                .find(|notch| notch.mate.strip() == Some(id))?;
            along.push(here.centre);
            for mate in &mates {
                let is =
                    |joint: &super::joints::Joint| joint.holder == holder && joint.mate == *mate;
                joints.push(self.joints.iter().position(is)?);
            }
        }
        Some(Direction {
            family,
            mates,
            along,
            joints,
        })
    }

    /// Over the outer faces of a family's outermost strips.
    pub(super) fn over_faces(&self, direction: &Direction) -> Option<Form> {
        let ends = [*direction.mates.first()?, *direction.mates.last()?];
        let spacing: Spacing = self.spacing(direction.family, ends)?;
        let mut size = spacing
            .centres
            .plus(1.0, &Form::of_known(self.lattice.section.thickness));
        for strip in ends {
            size = size.plus(0.5, self.thickness.get(strip)?);
        }
        Some(size)
    }

    /// How far each mate settles from its drawn place, with all of them moved together so that they lie
    /// as near as they can: what mortises in a row find.
    pub(super) fn settled(&self, direction: &Direction) -> Vec<Form> {
        let places = direction.mates.iter().enumerate().map(|(at, _)| {
            let column = direction
                .joints
                .iter()
                .skip(at)
                .step_by(direction.mates.len());
            let offs: Vec<&Form> = column
                .filter_map(|joint| Some(&self.joints.get(*joint)?.off))
                .collect();
            Form::mean(offs.into_iter())
        });
        let places: Vec<Form> = places.collect();
        let mean = Form::mean(places.iter());
        places.iter().map(|place| place.plus(-1.0, &mean)).collect()
    }
}

impl Direction {
    /// The joints as they come out in one draw: what every cut is off and wider, what every strip is
    /// thicker, and what wood gives at a joint.
    pub(super) fn drawn(&self, off: &[f64], clearance: &[f64], crush: f64) -> Joints {
        let of = |all: &[f64]| -> Vec<f64> {
            let each = self
                .joints
                .iter()
                .map(|at| all.get(*at).copied().unwrap_or(0.0));
            each.collect()
        };
        let half = |clearance: f64| (clearance + crush) / 2.0;
        Joints {
            along: self.along.clone(),
            mates: self.mates.len(),
            off: of(off),
            half_room: of(clearance).into_iter().map(half).collect(),
        }
    }
}
