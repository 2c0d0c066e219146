//! What a job takes of wood: parts, sticks, boards, and how these are milled; how long it takes.

mod boards;
mod cutting;
mod members;
mod needs;
mod order;
mod part;
mod pieces;
mod plan;
mod rips;
mod sections;
mod spread;
mod steps;
mod time;

pub use order::{StockOrder, TestScraps};
pub use time::{PieceWork, StripWork, TimeOrder, sled_passes};
