//! Whether panels go together: the prediction beside scipy's linear programs, a shop that cuts panels
//! by the steps of a sled, closed forms, and the command as a person uses it.
#![allow(
    unreachable_pub,
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss
)]

mod advice;
mod closed_forms;
mod closing;
mod command;
mod made_up;
mod virtual_shop;

#[path = "../support/mod.rs"]
mod support;
