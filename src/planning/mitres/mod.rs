//! Mitres of pieces by machine: in rows on long sticks, or on a stick's end.

mod lying;
mod row;
