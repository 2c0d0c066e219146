//! What all set-ups of a lattice's strips share on a router: how many strips lie side by side, how
//! high and how far out the tool goes between cuts.

use super::bed::StripBed;
use super::clamped_bundle::ClampedBundle;
use super::cutting::CuttingData;
use super::notch_path::wall_slice;
use crate::dialects::PathMode;
use crate::lattice::{Lattice, Notch};
use crate::machines::Router;
use std::f64::consts::FRAC_PI_2;

/// More passes than this beside or below each other, for one notch, are a slip of the pen.
pub(super) const MOST_PASSES: f64 = 100.0;

/// Coordinates have at least three decimals: rounding takes less than this off a run-out.
const LAST_PLACE_MM: f64 = 0.01;

/// Least height of rapid moves over a clamp. Common practice, no source.
const OVER_CLAMPS_MM: f64 = 1.0;

/// Height of moves from cut to cut: over all clamps, as a program may begin anywhere.
pub(super) fn safe_height(router: &Router) -> f64 {
    let clamps = router.fixture.clamps.iter();
    let over = clamps.map(|clamp| clamp.top + OVER_CLAMPS_MM);
    over.fold(router.cutting.safe_height, f64::max)
}

/// What all set-ups share.
pub(super) struct NotchingPlanner<'a> {
    pub(super) lattice: &'a Lattice,
    pub(super) router: &'a Router,
    pub(super) data: CuttingData,
    /// Fastest feed in wood, mm/min.
    pub(super) fastest_cut: f64,
}

/// How the strips of a bundle are shared out over runs of the program.
pub(super) struct Runs {
    pub(super) runs: usize,
    pub(super) strips: usize,
    pub(super) scrap: usize,
}

impl<'a> NotchingPlanner<'a> {
    pub(super) fn new(lattice: &'a Lattice, router: &'a Router, data: CuttingData) -> Self {
        let mut planner = NotchingPlanner {
            lattice,
            router,
            data,
            fastest_cut: data.feed,
        };
        planner.fastest_cut = planner.fastest_wall_feed();
        planner
    }

    /// Over all notches, no slower than roughing.
    fn fastest_wall_feed(&self) -> f64 {
        let notches = self
            .lattice
            .bundles
            .iter()
            .flat_map(|bundle| &bundle.notches);
        let feeds = notches.map(|notch| self.wall_feed(notch.width * notch.angle.sin()));
        feeds.fold(self.data.feed, f64::max)
    }

    pub(super) fn wall_feed(&self, square_width: f64) -> f64 {
        let diameter = self.router.tool.diameter;
        let left = self.router.cutting.wall_allowance;
        // The slice lies between two passes whose places are written rounded, half a last place each.
        let last_place = 0.1_f64.powf(f64::from(self.router.controller.decimals));
        let slice = wall_slice(square_width, diameter, left).map(|slice| slice + last_place);
        self.data.wall_feed(self.router, slice)
    }

    /// Runs of equal width, so that one program serves all of them.
    pub(super) fn runs(&self, count: usize) -> Runs {
        let fixture = &self.router.fixture;
        let room = self.room_across() / self.lattice.section.thickness;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
        let most = if fixture.single {
            1
        } else {
            ((room + 1e-9).floor() as usize).max(1)
        };
        let runs = count.div_ceil(most).max(1);
        let strips = count.div_ceil(runs).max(1);
        Runs {
            runs,
            strips,
            scrap: runs * strips - count,
        }
    }

    /// Room for strips across the fixture, beside the backers.
    pub(super) fn room_across(&self) -> f64 {
        let fixture = &self.router.fixture;
        fixture.widest_bundle - fixture.backers.iter().sum::<f64>()
    }

    /// Height of moves from notch to notch: over all clamps, as a program may begin anywhere.
    pub(super) fn safe_height(&self) -> f64 {
        safe_height(self.router)
    }

    /// How far the tool's edge runs beyond the bundle, square to its sides: as the profile says, or
    /// as far as a corner may be rounded, whichever is more. A control that keeps its feed v through
    /// a corner leaves it by up to e = v^2 / 2a. The circle that touches both legs of a corner of
    /// angle p then leaves the path's straight legs e cos(p/2) / (1 - sin(p/2)) before it, which is
    /// e / (sqrt 2 - 1) for a right angle. A slot at `angle` makes corners of `angle` and of what it
    /// lacks to a straight line with the ways beside the bundle, and right angles with those down.
    /// In exact path mode no corner is rounded.
    pub(super) fn run_out(&self, angle: f64) -> f64 {
        let rounded = match self.router.controller.path_mode {
            Some(PathMode::ExactPath) => 0.0,
            Some(PathMode::Continuous) | None => {
                let speed = self.fastest_cut / 60.0;
                let off_corner = speed * speed / (2.0 * self.router.travel.acceleration);
                // The blunter of both corners takes longer legs.
                let half = (FRAC_PI_2 - angle).abs() / 2.0 + FRAC_PI_2 / 2.0;
                let leg = off_corner * half.cos() / (1.0 - half.sin());
                let right = off_corner / (2.0_f64.sqrt() - 1.0);
                right.max(leg * angle.sin()) + LAST_PLACE_MM
            }
        };
        self.router.cutting.run_out.max(rounded)
    }

    /// Y at which the tool's centre turns round, before and behind the bundle.
    pub(super) fn turns(&self, bed: StripBed) -> [f64; 2] {
        let beyond = self.router.tool.diameter / 2.0 + self.run_out(bed.angle);
        let [front, back] = self.router.fixture.backers;
        [-front - beyond, bed.width() + back + beyond]
    }

    /// Least and greatest X of the tool's centre for a notch.
    pub(super) fn span(&self, held: &ClampedBundle<'_>, notch: &Notch) -> [f64; 2] {
        let wall = (held.square_width(notch) - self.router.tool.diameter).max(0.0) / 2.0;
        let mut span = [f64::INFINITY, f64::NEG_INFINITY];
        for y in self.turns(held.bed) {
            for offset in [-wall, wall] {
                let x = held.bed.slot_x(notch.centre, offset, y);
                span = [span[0].min(x), span[1].max(x)];
            }
        }
        span
    }
}
