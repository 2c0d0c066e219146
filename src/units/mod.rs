//! Quantities at the edge of the program: reading them from text, printing them.
//!
//! Inside the program a length is an `f64` in millimetres and an angle an `f64` in
//! radians. Units exist here only.

mod digits;
mod expression;
mod number;
mod parse;
mod print;
mod problem;
mod quantities;

pub use digits::{Digits, NotPrintable};
pub use expression::expression;
pub use parse::{Quantity, parse};
pub use print::{decimal, exact_mm, sixty_fourths};
pub use problem::{Kind, Problem, QuantityError};
pub use quantities::{AtLeast, AtMost, Brief, Feed, Fine, MM_PER_INCH, Mm, Rad, UnitSystem};
