//! Patterns taught on one figure, step by step, from an empty file to a proof.
//!
//! A step is a text of its own. The steps are played in order by a test (`tests/commands/lesson.rs`):
//! what is set in goes into the files, and the program has to answer as the text says.

/// The steps, in order. One more is one more file, put where its words are first needed.
pub const PATTERN_LESSON: &[&str] = &[
    include_str!("lesson/piece.txt"),
    include_str!("lesson/lap.txt"),
    include_str!("lesson/mirror.txt"),
    include_str!("lesson/horn.txt"),
    include_str!("lesson/junction.txt"),
    include_str!("lesson/mouth.txt"),
    include_str!("lesson/thickness.txt"),
    include_str!("lesson/over.txt"),
    include_str!("lesson/proof.txt"),
];
