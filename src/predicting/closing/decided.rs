//! Bounds first, the program for the rest.

use super::bounds::{Verdict, quick_verdict};
use super::joints::Joints;
use super::program::margin;

/// Whether a panel goes together in a direction, exactly: what the bounds leave open the program decides.
pub fn closes(joints: &Joints) -> bool {
    match quick_verdict(joints) {
        Verdict::Closes => true,
        Verdict::DoesNot => false,
        Verdict::Open => margin(joints) >= 0.0,
    }
}
