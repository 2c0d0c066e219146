//! What can be measured on a machine from cheap test cuts, and what its readings come to.

mod begun;
mod evaluate;
mod piece;
mod pieces;
mod readings;
mod scraps;
mod statistics;
mod written;

pub use begun::begun;
pub use evaluate::{Before, Figure, LEAST_FOR_SPREAD, Measured, ToldFigure, TooFew, evaluate};
pub use piece::{Fills, Given, Holds, Place, Series, TestPiece, Told, Unit, Work};
pub use pieces::{name_of, pieces_of};
pub use readings::{Readings, Taken};
pub use scraps::{Scraps, scraps_of};
pub use statistics::{COVERAGE, Statistics, Uncertainty, outlier, student};
pub use written::{written, written_up};
