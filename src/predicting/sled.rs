//! How strips come out of a sled, from the steps of its plan.
//!
//! A pass leaves a groove in every strip of a block at once, so its errors are shared by all of them:
//! where the block was pushed against the stop, how wide the kerf was. A setting of the stop is shared
//! by all blocks that are cut with it, of all bundles: by stops that is one for each place in a round, bundle by
//! bundle each sets its own. What strips share moves them alike, and their mates with them. A notch by two passes
//! has two settings, so its width scatters by the root of two of the stop's.
//!
//! Over the key, centre to centre D from the kerf, with a kerf k and a key K thick: by one pass the
//! middle lies D from the middle of the notch on the key, plus how it landed. By two the notch is pushed
//! to either side of the key: its near wall on the key's gives the near edge `near + D + (K - k) / 2`,
//! its far wall the far edge `far + D - (K - k) / 2`. So a notch takes over the width of the one it
//! hangs on, plus kerf less key and two landings.

use super::form::{Form, Sources};
use super::strips_made::{CutNotch, MadeNotch, MadeStrip, StripsMade, in_bundle};
use crate::geometry::tolerance::POSITION;
use crate::instructions::rounds::{Place, PlaceCut, PlaceSet};
use crate::instructions::sled::{Register, SledBundle, SledPlan, Step};
use crate::lattice::{Bundle, Lattice, Notch};
use crate::machines::{Sled, Spread};
use float_cmp::ApproxEq;

/// The strips of a lattice as a sled's plan makes them.
pub fn strips_off_the_sled(lattice: &Lattice, plan: &SledPlan, sled: &Sled) -> StripsMade {
    let mut work = SledWork::new(lattice, plan, sled);
    for setting in &plan.settings {
        let single = setting.passes_per_notch == 1;
        for place in setting.rounds.iter().flat_map(|round| &round.places) {
            work.place(place, single);
        }
    }
    work.strips();
    work.made
}

/// What is known while the steps are gone through.
struct SledWork<'a> {
    lattice: &'a Lattice,
    plan: &'a SledPlan,
    sled: &'a Sled,
    spread: Spread,
    made: StripsMade,
    /// By setting.
    heights: Vec<Form>,
    /// How much thicker the key is than the kerf.
    key: Form,
    /// The number of the stop's last setting.
    stop: Option<(usize, StopAt)>,
    /// For each bundle and block, the cut of each notch.
    blocks: Vec<Vec<Vec<usize>>>,
}

/// The outer passes of a notch: where the stop stood, pass by pass.
#[derive(Clone, Default)]
struct StopAt {
    first: Form,
    last: Form,
}

impl<'a> SledWork<'a> {
    fn new(lattice: &'a Lattice, plan: &'a SledPlan, sled: &'a Sled) -> SledWork<'a> {
        let spread = sled.spread;
        let mut sources = Sources::default();
        let reading = spread.plus_minus;
        let heights = (plan.settings.iter())
            .map(|_| sources.form(spread.height.half, reading))
            .collect();
        SledWork {
            lattice,
            plan,
            sled,
            spread,
            heights,
            key: sources.form(spread.key.half, reading),
            made: StripsMade {
                sources,
                ..StripsMade::default()
            },
            stop: None,
            blocks: (plan.bundles.iter().zip(&lattice.bundles))
                .map(|(plan, bundle)| {
                    vec![vec![usize::MAX; bundle.notches.len()]; plan.loads.blocks]
                })
                .collect(),
        }
    }

    fn scatter(&mut self, half: f64) -> Form {
        self.made.sources.form(half, self.spread.plus_minus)
    }

    /// The bundles that are cut with this one, itself the first; nothing for one that is cut with another.
    fn cut_together(&self, at: usize) -> Vec<usize> {
        let own = self
            .plan
            .bundles
            .get(at)
            .map(|bundle| bundle.same_as_bundle);
        if own != Some(None) {
            return Vec::new();
        }
        let twins = self.plan.bundles.iter().enumerate();
        let twins = twins.filter(|(_, other)| other.same_as_bundle == Some(at + 1));
        std::iter::once(at)
            .chain(twins.map(|(twin, _)| twin))
            .collect()
    }

    /// All that is cut at one place of stop, spacers or key.
    fn place(&mut self, place: &Place, single: bool) {
        let stop = self.stop(&place.set, single);
        for cut in &place.cuts {
            self.notch(cut, &stop);
        }
    }

    /// One notch, in every block of the bundles that are cut together.
    fn notch(&mut self, cut: &PlaceCut, stop: &StopAt) {
        let at = cut.bundle - 1;
        let (Some(plan), Some(bundle)) = (self.plan.bundles.get(at), self.lattice.bundles.get(at))
        else {
            return;
        };
        let step = plan.steps.iter().find(|step| step.notch == cut.notch);
        let (Some(step), Some(notch)) = (step, bundle.notches.get(cut.notch - 1)) else {
            return;
        };
        for other in self.cut_together(at) {
            let blocks = self.blocks.get(other).map_or(0, Vec::len);
            for block in 0..blocks {
                let made = self.cut(step, notch, plan, (other, block), stop);
                self.made.cuts.push(made);
                let index = self.made.cuts.len() - 1;
                let cuts = self.blocks.get_mut(other);
                let cuts = cuts.and_then(|all| all.get_mut(block));
                if let Some(place) = cuts.and_then(|cuts| cuts.get_mut(cut.notch - 1)) {
                    *place = index;
                }
            }
        }
    }

    fn passes(&self, step: &Step) -> usize {
        let setting = self.plan.settings.get(step.setting - 1);
        setting.map_or(1, |setting| setting.passes_per_notch)
    }

    /// Where the stop stands, and the spacers before it, of which all blocks have the same.
    fn stop(&mut self, set: &PlaceSet, single: bool) -> StopAt {
        match *set {
            PlaceSet::Key { .. } => StopAt::default(),
            PlaceSet::Stop { stop_setting, .. } => self.stands(stop_setting, single),
            PlaceSet::Spacers { stop_setting, .. } => {
                let tolerance = self.sled.spacers.map_or(0.0, |spacers| spacers.tolerance);
                let spacer = self.scatter(tolerance);
                let stop = self.stands(stop_setting, single);
                StopAt {
                    first: stop.first.plus(1.0, &spacer),
                    last: stop.last.plus(1.0, &spacer),
                }
            }
        }
    }

    /// The stop at its setting of a number, which is set anew where that is another one than before.
    fn stands(&mut self, number: usize, single: bool) -> StopAt {
        match &self.stop {
            Some((before, stop)) if *before == number => stop.clone(),
            _ => {
                let repeats = self.sled.stop.map_or(0.0, |stop| stop.repeatability);
                let stop = self.set_anew(repeats, single);
                self.stop = Some((number, stop.clone()));
                stop
            }
        }
    }

    fn set_anew(&mut self, repeats: f64, single: bool) -> StopAt {
        let first = self.scatter(repeats);
        let last = if single {
            first.clone()
        } else {
            self.scatter(repeats)
        };
        StopAt { first, last }
    }

    /// A notch of one block.
    fn cut(
        &mut self,
        step: &Step,
        notch: &Notch,
        plan: &SledBundle,
        (bundle, block): (usize, usize),
        stop: &StopAt,
    ) -> CutNotch {
        let depth = self
            .heights
            .get(step.setting - 1)
            .cloned()
            .unwrap_or_default();
        let opens = 1.0 / notch.angle.sin();
        let single = self.passes(step) == 1;
        let first_kerf = self.scatter(self.spread.kerf.half * opens);
        let last_kerf = if single {
            first_kerf.clone()
        } else {
            self.scatter(self.spread.kerf.half * opens)
        };
        let seat = match step.register {
            Register::Key { .. } => self
                .sled
                .rack
                .as_ref()
                .map_or(0.0, |rack| rack.repeatability * opens),
            _ => self.spread.seat.half,
        };
        let first_seat = self.scatter(seat);
        let last_seat = if single {
            first_seat.clone()
        } else {
            self.scatter(seat)
        };
        let (near, far) = match step.register {
            Register::Key {
                key_mm,
                slot_mm,
                on_notch,
                ..
            } => {
                let on = self.cut_of(bundle, block, on_notch - 1);
                let off = (self.slot(slot_mm).unwrap_or(key_mm) - key_mm) * opens;
                let off = Form::of_known(off);
                if single {
                    let middle = on.centre().plus(1.0, &off);
                    let wider = known_edges(plan, step, notch);
                    (
                        middle.plus(1.0, &Form::of_known(wider.0)),
                        middle.plus(1.0, &Form::of_known(wider.1)),
                    )
                } else {
                    let key = self.key.clone();
                    (
                        on.near.plus(1.0, &off).plus(0.5 * opens, &key),
                        on.far.plus(1.0, &off).plus(-0.5 * opens, &key),
                    )
                }
            }
            _ => {
                let (near, far) = known_edges(plan, step, notch);
                (
                    Form::of_known(near).plus(1.0, &stop.first),
                    Form::of_known(far).plus(1.0, &stop.last),
                )
            }
        };
        CutNotch {
            near: near.plus(1.0, &first_seat).plus(-0.5, &first_kerf),
            far: far.plus(1.0, &last_seat).plus(0.5, &last_kerf),
            depth,
        }
    }

    /// What the slot called so measures.
    fn slot(&self, called: f64) -> Option<f64> {
        let rack = self.sled.rack.as_ref()?;
        let slot = rack
            .slots
            .iter()
            .find(|slot| slot.nominal.approx_eq(called, POSITION))?;
        Some(slot.measured)
    }

    fn cut_of(&self, bundle: usize, block: usize, notch: usize) -> CutNotch {
        let cuts = self.blocks.get(bundle).and_then(|blocks| blocks.get(block));
        let cut = cuts.and_then(|cuts| cuts.get(notch));
        let cut = cut.and_then(|cut| self.made.cuts.get(*cut));
        cut.cloned().unwrap_or_default()
    }

    /// Which cut made which notch of every strip.
    fn strips(&mut self) {
        let lattice = self.lattice;
        let mut strips = vec![MadeStrip::default(); lattice.strips.len()];
        for (at, bundle) in lattice.bundles.iter().enumerate() {
            let Some(plan) = self.plan.bundles.get(at) else {
                continue;
            };
            let twin = plan
                .same_as_bundle
                .and_then(|twin| lattice.bundles.get(twin - 1));
            let (as_twin, swapped) = as_cut(bundle, twin);
            for (number, id) in bundle.strips.iter().enumerate() {
                let block = number / plan.loads.strips_per_block.max(1);
                let found = super::strips_made::strip_at(lattice, *id);
                let Some((index, strip)) =
                    found.and_then(|index| Some((index, lattice.strips.get(index)?)))
                else {
                    continue;
                };
                let Some(lies) = in_bundle(bundle, strip) else {
                    continue;
                };
                let cuts = self.blocks.get(at).and_then(|blocks| blocks.get(block));
                let notches = lies.notches.iter().map(|own| MadeNotch {
                    cut: (as_twin.get(*own))
                        .and_then(|cut| cuts?.get(*cut).copied())
                        .unwrap_or(usize::MAX),
                    mirrored: lies.turned != swapped,
                });
                if let Some(made) = strips.get_mut(index) {
                    made.notches = notches.collect();
                }
            }
        }
        for strip in &mut strips {
            strip.thickness = self.scatter(self.spread.strip_thickness.half);
        }
        self.made.strips = strips;
    }
}

/// Of the bundle that another one is cut as: for each own notch the index of the one there, and whether it
/// lies end for end.
fn as_cut(bundle: &Bundle, twin: Option<&Bundle>) -> (Vec<usize>, bool) {
    let same = || (0..bundle.notches.len()).collect();
    let Some((twin, turn)) = twin.and_then(|twin| Some((twin, bundle.same_part(twin)?))) else {
        return (same(), false);
    };
    let mut theirs: Vec<usize> = same();
    for (at, own) in bundle.notch_for_notch(twin, turn).into_iter().enumerate() {
        if let Some(place) = theirs.get_mut(own) {
            *place = at;
        }
    }
    (theirs, turn.swaps_ends())
}

/// How far a notch's edges as cut lie from those drawn.
fn known_edges(plan: &SledBundle, step: &Step, notch: &Notch) -> (f64, f64) {
    plan.notches.get(step.notch - 1).map_or((0.0, 0.0), |cut| {
        (
            cut.near_edge_mm - notch.near_edge(),
            cut.far_edge_mm - notch.far_edge(),
        )
    })
}
