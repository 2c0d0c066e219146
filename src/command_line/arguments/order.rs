//! By what the steps at a saw are put in order.

use crate::machines::StepOrder;
use clap::ValueEnum;

/// Orders of the steps at one setting of the saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum Order {
    /// Each stop is set once, for all bundles that it serves
    Stops,
    /// One bundle after the other
    Bundles,
}

impl From<Order> for StepOrder {
    fn from(order: Order) -> StepOrder {
        match order {
            Order::Stops => StepOrder::Stops,
            Order::Bundles => StepOrder::Bundles,
        }
    }
}
