//! What a machine is, what it can do and what was measured on it. Millimetres, radians.

mod chosen;
mod guides;
mod kind;
mod laser;
mod long_sticks;
mod measured;
mod rates;
mod router;
mod sled;
mod sled_work;
mod spread;
mod stock;

pub use chosen::Chosen;
pub use guides::Guides;
pub use kind::{AtStation, Machine, MachineKind, Station};
pub use laser::{Bridges, Colours, Cutter, Fit, Laser, Relief, Sheet};
pub use long_sticks::{LongSticks, SledMitres};
pub use measured::{Date, MeasuredFigure};
pub use rates::{Rate, Rates};
pub use router::{Clamp, Cutting, Fixture, Key, Router, Spindle, Tool, Travel};
pub use sled::{Blade, Powered, Rack, RackSlot, Sled, Spacers, Stop, Tooth};
pub use sled_work::{Aim, SledWork, StepOrder};
pub use spread::{PlusMinus, Spread, SpreadFigure};
pub use stock::{
    Board, Milling, OwnWoodFigures, Planer, RipFrom, Sawn, ShopFigure, SoldSticks, SpareShares,
    StickUse, StockAim, StockWishes, ThinBy,
};
