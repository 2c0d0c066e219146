//! Sheets as a shop makes them: all kinds of drawings prove against their job, several kinds share
//! a sheet, paths keep gap and margin, labels their distance, and the slot that fitted goes where
//! it belongs. The drawings are read by a reader of the tests' own.

mod guide;
mod kinds;
mod notes;
mod plain;
mod room;
mod router;
mod rows;
