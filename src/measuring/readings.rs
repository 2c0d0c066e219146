//! Readings as they were taken. Millimetres.

use super::piece::TestPiece;
use crate::machines::Date;

/// What a caliper said.
#[derive(Debug)]
pub struct Readings {
    /// When.
    pub date: Option<Date>,
    /// The last digit that the caliper shows; 0 where nobody said.
    pub step: f64,
    /// Test pieces that were cut and read.
    pub taken: Vec<Taken>,
    /// Test pieces that stand there without any reading, by their tables.
    pub left: Vec<String>,
}

/// One test piece with its readings.
#[derive(Debug)]
pub struct Taken {
    /// Of which kind.
    pub piece: &'static TestPiece,
    /// Where it stands in the file: `grooves`, `slot[1]`.
    pub field: String,
    /// What stands beside the readings, in the order of [`TestPiece::given`].
    pub figures: Vec<f64>,
    /// The readings, in the order of [`TestPiece::series`]: lists of one length, none empty.
    pub series: Vec<Vec<f64>>,
}

impl Taken {
    /// Sets of readings, one reading of each series.
    pub(super) fn sets(&self) -> Vec<Vec<f64>> {
        let count = self.series.iter().map(Vec::len).min().unwrap_or(0);
        let set = |at: usize| {
            self.series
                .iter()
                .filter_map(|list| list.get(at).copied())
                .collect()
        };
        (0..count).map(set).collect()
    }
}
