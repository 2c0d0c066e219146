//! A three-axis router. Millimetres, millimetres a minute, revolutions a minute, seconds.

use super::long_sticks::LongSticks;
use super::spread::Spread;
use crate::dialects::Controller;

/// A router with the tool that notches.
#[derive(Debug, Clone, PartialEq)]
pub struct Router {
    /// How far its axes move.
    pub travel: Travel,
    /// The cutter.
    pub tool: Tool,
    /// What turns it.
    pub spindle: Spindle,
    /// How it cuts.
    pub cutting: Cutting,
    /// What holds the strips.
    pub fixture: Fixture,
    /// What its controller understands.
    pub controller: Controller,
    /// Rows of pieces on long sticks, where it cuts any; their skin stays over the waste board.
    pub mitres: Option<LongSticks>,
    /// How far its work scatters.
    pub spread: Spread,
}

/// The room that the tool's centre can reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Travel {
    /// Length of the X axis.
    pub x: f64,
    /// Length of the Y axis.
    pub y: f64,
    /// Length of the Z axis.
    pub z: f64,
    /// Greatest feed rate of any axis.
    pub fastest_feed: f64,
    /// Rate of rapid moves.
    pub rapid: f64,
    /// Of every axis, mm/s^2.
    pub acceleration: f64,
}

/// A cylindrical cutter with a flat end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tool {
    /// Width of what it cuts: over its cutting edges, measured, and by how much a test notch came
    /// out wider than programmed.
    pub diameter: f64,
    /// Over its cutting edges, measured.
    pub over_edges: f64,
    /// Number of cutting edges.
    pub flutes: u32,
    /// Length of the edges along the axis.
    pub flute_length: f64,
    /// From its holder to its end, where that is known.
    pub stick_out: Option<f64>,
    /// Of the holder's nut, where that is known.
    pub holder_diameter: Option<f64>,
    /// Young's modulus of what it is made of, N/mm^2.
    pub stiffness: f64,
}

impl Tool {
    /// From the holder to its end, at least: its edges stand out in any case.
    pub fn length(&self) -> f64 {
        self.stick_out.unwrap_or(self.flute_length)
    }
}

/// The spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spindle {
    /// Slowest speed it holds.
    pub slowest: f64,
    /// Fastest.
    pub fastest: f64,
    /// Wanted for the tool.
    pub speed: f64,
    /// Time it needs to come up to speed.
    pub spin_up: f64,
}

/// How the tool is driven through the wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutting {
    /// Feed per cutting edge and turn, mm.
    pub chip_load: f64,
    /// Feed for moves down, in air.
    pub plunge_feed: f64,
    /// Greatest depth taken at once.
    pub depth_per_pass: f64,
    /// How far the tool's edge runs beyond the bundle before and after a cut.
    pub run_out: f64,
    /// Left on each wall by the roughing pass, for the wall passes.
    pub wall_allowance: f64,
    /// Height over the stock for moves from notch to notch.
    pub safe_height: f64,
    /// Left on the floor by the depth passes, for a floor pass; 0 for none.
    pub floor_allowance: f64,
    /// Whether roughing passes all run from the front to the back, instead of there and back.
    pub returns_in_air: bool,
    /// Whether the last passes at full depth are made twice.
    pub spring_pass: bool,
    /// Whether wall passes are driven faster, as thin slices make thinner chips.
    pub chip_thinning: bool,
    /// How far the cutter's end may bend aside without a warning.
    pub most_deflection: f64,
    /// Whether a notch may begin behind the bundle, where the last one ended.
    pub short_ways: bool,
}

/// The jig that the bundle lies in, and where it stands on the machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixture {
    /// Program zero (datum end of the strips, front edge of the bundle) from the low end of X.
    pub zero_x: f64,
    /// Program zero from the low end of Y.
    pub zero_y: f64,
    /// Widest bundle that it holds.
    pub widest_bundle: f64,
    /// Free room before and behind the bundle, at cutting depth, where the tool may run out.
    pub clear_beside: f64,
    /// Free room beyond the bundle's ends, at cutting depth: the end stop is no wider than a strip, so
    /// that the tool may pass beside it.
    pub clear_ends: f64,
    /// Height of clamps above the top of the stock; the safe height must clear it.
    pub clamp_height: f64,
    /// Whether it holds strips one by one instead of side by side.
    pub single: bool,
    /// A bar across the bundle that a notch already cut drops over.
    pub key: Option<Key>,
    /// Width of scrap clamped before and behind the bundle, so that its faces do not break out; 0
    /// for none. Part of the bundle's width.
    pub backers: [f64; 2],
    /// Clamps, screws and whatever else stands in the tool's room.
    pub clamps: Vec<Clamp>,
}

/// A box that the tool must not touch, from program zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Clamp {
    /// What it is.
    pub name: String,
    /// Least and greatest X.
    pub x: [f64; 2],
    /// Least and greatest Y.
    pub y: [f64; 2],
    /// Its top, over the top of the stock; below zero where it is lower.
    pub top: f64,
}

/// The key of a fixture: strips longer than the travel register on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Key {
    /// Its middle at the bundle's front edge, from the low end of X.
    pub x: f64,
    /// Greatest error of a notch's place on it.
    pub error: f64,
}
