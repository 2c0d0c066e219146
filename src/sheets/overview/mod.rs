//! A panel at a glance, told to people: labelled lines, a picture made of letters, and what differs
//! between two panels.

mod compared;
mod dots;
mod letters;
mod lines;
mod picture;
mod room;
mod stations;
mod weights;

pub use compared::{Compared, compared};
pub use lines::{OverviewLine, overview_lines};
pub use picture::{LetterPicture, letter_picture};
pub use room::Room;
pub(super) use weights::figure;
