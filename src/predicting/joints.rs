//! Joints of a lattice and the bays between its strips, as figures that are off by known and by random
//! parts. Millimetres.

use super::form::{Form, Sources};
use super::strips_made::{CutNotch, StripsMade, strip_at};
use crate::lattice::{Lattice, Notch};
use crate::machines::PlusMinus;

/// A notch with the strip in it.
#[derive(Debug, Clone)]
pub struct Joint {
    /// Index of the strip that has the notch.
    pub holder: usize,
    /// Index of the notch in it.
    pub notch: usize,
    /// Index of the strip in it.
    pub mate: usize,
    /// Index of the cut that made the notch.
    pub cut: usize,
    /// 1, or -1 where the holder was cut lying the other way round.
    pub sign: f64,
    /// Sine of the angle between the strips.
    pub sine: f64,
    /// Width of the notch less the mate's thickness, square to the mate.
    pub clearance: Form,
    /// How far the notch's middle is off, from the holder's datum end.
    pub place: Form,
    /// How far it is off along the holder's own mate, square to it: what moves the mate.
    pub off: Form,
}

/// A lattice as it comes out.
#[derive(Debug, Clone)]
pub struct Predicted<'a> {
    /// As drawn.
    pub lattice: &'a Lattice,
    /// All that scatters.
    pub sources: Sources,
    /// Distinct cuts.
    pub cuts: Vec<CutNotch>,
    /// Of each strip how far its thickness is off.
    pub thickness: Vec<Form>,
    /// Notch by notch, strip by strip.
    pub joints: Vec<Joint>,
    /// How far each strip can lie to either side in the tightest of its notches.
    pub play: Vec<Form>,
}

impl<'a> Predicted<'a> {
    /// The joints of a lattice whose strips are made so.
    pub fn of(lattice: &'a Lattice, made: StripsMade) -> Predicted<'a> {
        let mut joints = Vec::new();
        for (holder, strip) in lattice.strips.iter().enumerate() {
            for (at, notch) in strip.notches.iter().enumerate() {
                let mate = notch.mate.strip().and_then(|id| strip_at(lattice, id));
                joints
                    .extend(mate.and_then(|mate| joint(lattice, &made, (holder, at, notch), mate)));
            }
        }
        let mut sources = made.sources;
        let thickness: Vec<Form> = made
            .strips
            .into_iter()
            .map(|strip| strip.thickness)
            .collect();
        let mut tightest = vec![f64::INFINITY; lattice.strips.len()];
        for joint in &joints {
            if let Some(least) = tightest.get_mut(joint.mate) {
                *least = least.min(joint.clearance.known);
            }
        }
        let play = tightest.into_iter();
        let play = play.map(|least| {
            let half = if least.is_finite() {
                least.max(0.0) / 2.0
            } else {
                0.0
            };
            sources.form(half, PlusMinus::Limits)
        });
        Predicted {
            lattice,
            play: play.collect(),
            sources,
            cuts: made.cuts,
            thickness,
            joints,
        }
    }
}

fn joint(
    lattice: &Lattice,
    made: &StripsMade,
    (holder, at, notch): (usize, usize, &Notch),
    mate: usize,
) -> Option<Joint> {
    let made_notch = made.strips.get(holder)?.notches.get(at)?;
    let cut = made.cuts.get(made_notch.cut)?;
    let sine = notch.angle.sin();
    let drawn = notch.width * sine - lattice.section.thickness;
    let thickness = &made.strips.get(mate)?.thickness;
    let clearance = Form::of_known(drawn)
        .plus(sine, &cut.wider())
        .plus(-1.0, thickness);
    let place = Form::default().plus(made_notch.sign(), &cut.centre());
    Some(Joint {
        holder,
        notch: at,
        mate,
        cut: made_notch.cut,
        sign: made_notch.sign(),
        sine,
        clearance,
        off: Form::default().plus(sine, &place),
        place,
    })
}

/// Two neighbouring strips of a family, and the opening between their faces.
#[derive(Debug, Clone)]
pub struct Spacing {
    /// Of both.
    pub family: usize,
    /// Indices of the strips.
    pub strips: [usize; 2],
    /// From face to face.
    pub opening: Form,
    /// From centre line to centre line.
    pub centres: Form,
    /// The same as drawn.
    pub drawn: f64,
}

impl Predicted<'_> {
    /// Between all neighbours, family by family. A rigid strip in many notches settles where their middles
    /// say in the mean (least squares, with shifts of the holders, which fall out of a difference).
    pub fn spacings(&self) -> Vec<Spacing> {
        let mut found = Vec::new();
        let strips = &self.lattice.strips;
        for family in 0..self.lattice.families.len() {
            let own: Vec<usize> = (strips.iter().enumerate())
                .filter(|(_, strip)| strip.id.family == family)
                .map(|(at, _)| at)
                .collect();
            for pair in own.windows(2) {
                if let [from, to] = *pair {
                    found.extend(self.spacing(family, [from, to]));
                }
            }
        }
        found
    }

    /// Nothing where no strip crosses both.
    pub fn spacing(&self, family: usize, strips: [usize; 2]) -> Option<Spacing> {
        let of = |mate: usize| self.joints.iter().filter(move |joint| joint.mate == mate);
        let mut distances: Vec<Form> = Vec::new();
        let mut drawn = 0.0;
        for to in of(strips[1]) {
            let Some(from) = of(strips[0]).find(|from| from.holder == to.holder) else {
                continue;
            };
            let centre = |joint: &Joint| {
                let strip = self.lattice.strips.get(joint.holder)?;
                strip.notches.get(joint.notch).map(|notch| notch.centre)
            };
            let along = centre(to)? - centre(from)?;
            drawn = along.abs() * to.sine;
            let way = along.signum();
            distances.push(to.off.plus(-1.0, &from.off));
            if let Some(last) = distances.last_mut() {
                *last = Form::of_known(drawn).plus(way, last);
            }
        }
        if distances.is_empty() {
            return None;
        }
        let mut centres = Form::mean(distances.iter());
        for strip in strips {
            centres = centres.plus(1.0, self.play.get(strip)?);
        }
        let mut opening = centres.plus(1.0, &Form::of_known(-self.lattice.section.thickness));
        for strip in strips {
            opening = opening.plus(-0.5, self.thickness.get(strip)?);
        }
        Some(Spacing {
            family,
            strips,
            opening,
            centres,
            drawn,
        })
    }
}
