//! Reading the fields of a TOML table, all problems collected, unknown keys answered with the
//! nearest known one.
//!
//! Every accessor of [`Fields`] notes where its value stands and reports what is wrong with it; it
//! returns `None` then, so that a reader can go on and tell all problems of a file at once.

mod asked;
mod document;
mod limits;
mod lists;
mod log;
mod parts;
mod quantities;
mod table;
mod words;

#[cfg(test)]
pub(super) use asked::{Asked, taken};
pub(super) use document::with_document;
pub(super) use limits::Bound;
pub(super) use lists::{FieldValue, every};
pub(super) use log::LengthRead;
pub(super) use table::Fields;
