//! Reading of programs in RS274/NGC, the language of NISTIR 6556 (Kramer, Proctor, Messina: The
//! NIST RS274NGC Interpreter, Version 3, 17 August 2000), and in the shared part of ISO 6983.
//!
//! Bytes become words ([`lexer`]), words become blocks ([`block`]), and the [`interpreter`] turns
//! blocks into events in the order in which a control would carry them out. Nothing is skipped:
//! what is not known is a [`Fault`](super::faults::Fault) with its place. Memory does not grow
//! with the program.

pub mod arc;
pub mod block;
pub mod codes;
mod drilling_cycle;
pub mod interpreter;
mod letters;
pub mod lexer;
mod plain_word;
pub mod program;
pub mod state;
