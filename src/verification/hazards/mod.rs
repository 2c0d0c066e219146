//! What would harm work, cutter, machine or hand: a watch follows a program event by event, cuts the
//! simulated bundle and notes it.

mod collisions;
mod corners;
mod cutting;
pub(super) mod dialect;
mod events;
mod rows;
mod spindle_and_feed;
mod watch;
mod ways_in;

pub(super) use watch::Watch;
pub(super) use ways_in::NotchSlot;
