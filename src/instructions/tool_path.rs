//! Paths of a router's tool. Program frame: X along the strips from their datum end, Y across the
//! bundle from its front edge, Z up from the top of the stock; millimetres, mm/min.

use super::safety::SafetyNotes;
use std::fmt;
use std::sync::Arc;

/// A position of the tool's tip centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    /// Along the strips.
    pub x: f64,
    /// Across the bundle.
    pub y: f64,
    /// Up.
    pub z: f64,
}

impl Position {
    /// Straight distance to another position.
    pub fn distance(self, to: Position) -> f64 {
        (to.x - self.x).hypot(to.y - self.y).hypot(to.z - self.z)
    }
}

/// How a move is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Motion {
    /// As fast as the machine can; at the safe height, or straight up.
    Rapid,
    /// At a feed rate, with nothing in the tool's way.
    Air(f64),
    /// At a feed rate, through wood.
    Cut(f64),
    /// Not at all: the tool stands for so many seconds where it is, so that a control that rounds
    /// corners comes to rest in one.
    Rest(f64),
}

/// What a program cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ProgramWork {
    /// Notches in strips.
    #[default]
    Notches,
    /// Mortises in a rail.
    Mortises,
    /// Mitres and laps of pieces in rows on long sticks.
    Mitres,
}

/// One straight move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// How.
    pub motion: Motion,
    /// Where to.
    pub to: Position,
}

/// The moves of one notch or mortise, from the safe height back to it.
#[derive(Debug, Clone, PartialEq)]
pub struct NotchPath {
    /// Its index, from 1.
    pub index: usize,
    /// In order; the first two are rapid.
    pub moves: Vec<Move>,
}

/// Notches or mortises that are worked out one at a time, when somebody asks for them: a program
/// may be of any length and needs no room while it is written.
pub trait Notches: fmt::Debug + Send + Sync {
    /// The moves of one, counted from 0 in the order in which they are cut; `None` behind the last.
    fn notch(&self, at: usize) -> Option<NotchPath>;
}

impl dyn Notches + '_ {
    /// All of them, in order.
    pub fn all(&self) -> impl Iterator<Item = NotchPath> {
        (0..).map_while(|at| self.notch(at))
    }
}

impl Notches for Vec<NotchPath> {
    fn notch(&self, at: usize) -> Option<NotchPath> {
        self.get(at).cloned()
    }
}

/// What is done to one bundle or rail between its clamping and the next.
#[derive(Debug, Clone)]
pub struct ToolPath {
    /// What it cuts.
    pub work: ProgramWork,
    /// Sentences for the head of the program: of the job and the machine.
    pub job: Vec<String>,
    /// And of this set-up.
    pub set_up: Vec<String>,
    /// What is to be minded; a program cannot be made without.
    pub safety: SafetyNotes,
    /// Revolutions a minute, clockwise.
    pub spindle_rpm: f64,
    /// Seconds until the spindle is up to speed.
    pub spin_up_s: f64,
    /// Height over the stock for moves from notch to notch, mm.
    pub safe_height: f64,
    /// Notch by notch, or mortise by mortise.
    pub cuts: Arc<dyn Notches>,
}

impl Default for ToolPath {
    fn default() -> Self {
        ToolPath {
            work: ProgramWork::default(),
            job: Vec::new(),
            set_up: Vec::new(),
            safety: SafetyNotes::for_router(),
            spindle_rpm: 0.0,
            spin_up_s: 0.0,
            safe_height: 0.0,
            cuts: Arc::new(Vec::new()),
        }
    }
}

/// A part of a program: what is done between two stops, once.
#[derive(Debug, Clone)]
pub struct ProgramPart<'a> {
    /// The way of the tool.
    pub path: &'a ToolPath,
    /// What the person at the machine is told at the stop before it.
    pub message: String,
}
