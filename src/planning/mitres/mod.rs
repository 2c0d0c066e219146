//! Mitres of pieces by machine: in rows on long sticks, or on a stick's end.

pub(in crate::planning) mod lying;
pub(in crate::planning) mod row;
