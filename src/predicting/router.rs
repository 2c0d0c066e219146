//! How strips come out of a router, from the set-ups of its plan.
//!
//! What one run of a program cuts is shared by the strips that lie in it. Each wall of a notch has a pass
//! of its own where the cutter is narrower than the notch; a cutter as wide makes both at once.

use super::form::{Form, Sources};
use super::strips_made::{CutNotch, MadeNotch, MadeStrip, StripsMade, in_bundle, strip_at};
use crate::instructions::router::{LyingBundle, Registered, RouterPlan, RouterSetup};
use crate::lattice::{Lattice, Strip};
use crate::machines::{Router, Spread};

/// The strips of a lattice as a router's plan makes them.
pub fn strips_off_the_router(lattice: &Lattice, plan: &RouterPlan, router: &Router) -> StripsMade {
    let mut work = RouterWork {
        lattice,
        router,
        spread: router.spread,
        made: StripsMade {
            sources: Sources::default(),
            cuts: Vec::new(),
            strips: (lattice.strips.iter())
                .map(|strip| MadeStrip {
                    thickness: Form::default(),
                    notches: vec![NOT_CUT; strip.notches.len()],
                })
                .collect(),
        },
    };
    for setup in &plan.setups {
        work.setup(setup);
    }
    for at in 0..work.made.strips.len() {
        let thickness = work.scatter(work.spread.strip_thickness.half);
        if let Some(strip) = work.made.strips.get_mut(at) {
            strip.thickness = thickness;
        }
    }
    work.made
}

const NOT_CUT: MadeNotch = MadeNotch {
    cut: usize::MAX,
    mirrored: false,
};

struct RouterWork<'a> {
    lattice: &'a Lattice,
    router: &'a Router,
    spread: Spread,
    made: StripsMade,
}

/// A strip in a set-up.
struct LyingStrip<'a> {
    index: usize,
    lying: &'a LyingBundle,
    /// For each of its notches, index of its bundle's notch that it is.
    notches: Vec<usize>,
    /// Whether it lies turned end for end in its bundle.
    turned: bool,
}

impl LyingStrip<'_> {
    /// Index of its own notch that the set-up's notch is, both from 0.
    fn own(&self, notch: usize) -> Option<usize> {
        let in_bundle = self.lying.own_number(notch + 1).checked_sub(1)?;
        self.notches.iter().position(|own| *own == in_bundle)
    }

    /// Whether its notches run the other way than the set-up counts them.
    fn mirrored(&self) -> bool {
        let numbers = &self.lying.own_numbers;
        let back = matches!((numbers.first(), numbers.last()), (Some(a), Some(b)) if a > b);
        back != self.turned
    }
}

impl RouterWork<'_> {
    fn scatter(&mut self, half: f64) -> Form {
        self.made.sources.form(half, self.spread.plus_minus)
    }

    fn setup(&mut self, setup: &RouterSetup) {
        let height = self.scatter(self.spread.height.half);
        let all: Vec<LyingStrip<'_>> = (setup.lying.iter())
            .flat_map(|lying| self.lying_strips(lying))
            .collect();
        for run in all.chunks(setup.strips_per_run.max(1)) {
            let start = self.registered(setup, run);
            for notch in &setup.notches {
                let cut = self.cut(setup, &start, &height);
                self.made.cuts.push(cut);
                self.give(run, notch.index - 1);
            }
        }
    }

    /// The cut that was made last is that of a notch of all strips of a run.
    fn give(&mut self, run: &[LyingStrip<'_>], notch: usize) {
        let cut = self.made.cuts.len() - 1;
        for strip in run {
            let made = self.made.strips.get_mut(strip.index);
            let own = strip.own(notch);
            if let Some(place) = made
                .zip(own)
                .and_then(|(made, own)| made.notches.get_mut(own))
            {
                *place = MadeNotch {
                    cut,
                    mirrored: strip.mirrored(),
                };
            }
        }
    }

    fn lying_strips<'b>(&self, lying: &'b LyingBundle) -> Vec<LyingStrip<'b>> {
        let Some(bundle) = self.lattice.bundles.get(lying.bundle - 1) else {
            return Vec::new();
        };
        let found = bundle.strips.iter().filter_map(|id| {
            let index = strip_at(self.lattice, *id)?;
            let strip: &Strip = self.lattice.strips.get(index)?;
            let lies = in_bundle(bundle, strip)?;
            Some(LyingStrip {
                index,
                lying,
                notches: lies.notches,
                turned: lies.turned,
            })
        });
        found.collect()
    }

    /// How far the strips of a run lie off along X: a key takes over the place of the notch on it.
    fn registered(&mut self, setup: &RouterSetup, run: &[LyingStrip<'_>]) -> Form {
        match setup.registered {
            Registered::EndStop => self.scatter(self.spread.seat.half),
            Registered::Key { on_notch, .. } => {
                let error = self.router.fixture.key.map_or(0.0, |key| key.error);
                let own = self.scatter(error);
                let first = run.first();
                let on = first.and_then(|strip| {
                    let notch = strip.own(on_notch - 1)?;
                    let made = self.made.strips.get(strip.index)?.notches.get(notch)?;
                    Some(self.made.cuts.get(made.cut)?.centre())
                });
                on.unwrap_or_default().plus(1.0, &own)
            }
        }
    }

    fn cut(&mut self, setup: &RouterSetup, start: &Form, height: &Form) -> CutNotch {
        let kerf = self.scatter(self.spread.kerf.half);
        let near = self.scatter(self.spread.place.half);
        let far = if setup.passes.walls == 0 {
            near.clone()
        } else {
            self.scatter(self.spread.place.half)
        };
        CutNotch {
            near: start.plus(1.0, &near).plus(-0.5, &kerf),
            far: start.plus(1.0, &far).plus(0.5, &kerf),
            depth: height.clone(),
        }
    }
}
