//! The air in which a panel is made, and that in which it hangs.

use super::equilibrium::{CELSIUS, equilibrium_percent};
use super::species::Movement;

/// The moistures that a job's wood goes through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Climate {
    /// Where the strips are measured and cut.
    pub bench: Air,
    /// Where the panel hangs, at the driest of the year.
    pub driest: Air,
    /// The same at the dampest.
    pub dampest: Air,
    /// How the strips' thickness lies to the growth rings, where that is known.
    pub rings: Option<GrowthRings>,
    /// How the wood moves, where the job says so itself.
    pub movement: Option<Movement>,
}

/// Air, by what wood comes to in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Air {
    /// Relative humidity, parts of one; an example where nobody has said so.
    Humidity {
        /// Parts of one.
        humidity: f64,
        /// Whether the job says so.
        is_own: bool,
    },
    /// The wood's own moisture, percent, by a meter.
    Moisture(f64),
}

/// How a strip's thickness lies to the growth rings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GrowthRings {
    /// The thickness is square to them: it moves radially.
    AcrossThickness,
    /// It runs along them: it moves tangentially.
    AlongThickness,
}

impl Air {
    /// Water by oven-dry wood, percent, once wood has come to rest in it.
    pub fn moisture_percent(self) -> f64 {
        match self {
            Air::Humidity { humidity, .. } => equilibrium_percent(humidity, CELSIUS),
            Air::Moisture(percent) => percent,
        }
    }
}

impl Climate {
    /// How much a width of wood changes from bench to that air, by one coefficient: C (M - M bench) of it
    /// (Wood Handbook, equation 13-2, for 6 to 14 % of moisture).
    pub fn strain(&self, air: Air, coefficient: f64) -> f64 {
        coefficient * (air.moisture_percent() - self.bench.moisture_percent())
    }
}

impl Default for Climate {
    /// Examples: rooms are drier in a heated winter than a shop, and hardly damper in summer. Common
    /// practice, no source.
    fn default() -> Self {
        let example = |humidity| Air::Humidity {
            humidity,
            is_own: false,
        };
        Climate {
            bench: example(0.50),
            driest: example(0.30),
            dampest: example(0.65),
            rings: None,
            movement: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The handbook's worked example (chapter 13; the result as printed, 8 and 11 % from memory): a board of
    /// white fir, 232 mm across, flat-grained, coefficient 0.00245, is 1.7 mm wider at 11 % than at 8 %.
    #[test]
    fn a_board_of_white_fir() {
        let climate = Climate {
            bench: Air::Moisture(8.0),
            ..Climate::default()
        };
        let wider = 232.0 * climate.strain(Air::Moisture(11.0), 0.002_45);
        assert!((wider - 1.7).abs() < 0.05, "{wider}");
    }
}
