//! Parts cut out of sticks, with as few, as cheap or as little wood as can be: lengths only, whatever is made
//! of them.

mod bound;
mod columns;
mod dive;
mod fault;
mod greedy;
mod knapsack;
mod order;
mod pattern;
mod plan;
mod search;
mod solve;
mod task;
mod whole;

pub use fault::CutFault;
pub use plan::{Counted, CutPlan, SticksAlike, cut_plan};
pub use task::{Aim, CutTask, Part, Saw, Stock, Supply};
