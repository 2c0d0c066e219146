//! Proof: what was written is read afresh and compared with what was meant. Shares no code with
//! planning or writing.

pub mod outline;
