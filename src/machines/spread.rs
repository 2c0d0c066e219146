//! How far what a machine makes scatters round what it is set to, and how such figures are meant.
//! Millimetres.

/// What "plus or minus" means in a machine's profile.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PlusMinus {
    /// No error is greater; below that all are alike.
    #[default]
    Limits,
    /// Twice the standard deviation of a normal spread.
    Twice,
    /// Once the standard deviation of a normal spread.
    Once,
}

impl PlusMinus {
    /// All of them, in the order in which messages list them.
    pub const ALL: [PlusMinus; 3] = [PlusMinus::Limits, PlusMinus::Twice, PlusMinus::Once];

    /// Its word in files.
    pub const fn name(self) -> &'static str {
        match self {
            PlusMinus::Limits => "limits",
            PlusMinus::Twice => "twice",
            PlusMinus::Once => "once",
        }
    }

    /// Standard deviation of what is known to come out within plus or minus `half`, mm: half / sqrt 3 of
    /// a uniform spread (JCGM 100:2008, 4.3.7), half / 2 or half of a normal one (the same, 4.3.4 to 4.3.6, from memory).
    pub fn deviation(self, half: f64) -> f64 {
        match self {
            PlusMinus::Limits => half / 3.0_f64.sqrt(),
            PlusMinus::Twice => half / 2.0,
            PlusMinus::Once => half,
        }
    }

    /// Plus or minus how much a standard deviation is told as, mm: what [`PlusMinus::deviation`] undoes.
    pub fn half_of(self, deviation: f64) -> f64 {
        match self {
            PlusMinus::Limits => deviation * 3.0_f64.sqrt(),
            PlusMinus::Twice => deviation * 2.0,
            PlusMinus::Once => deviation,
        }
    }
}

/// A figure plus or minus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpreadFigure {
    /// Plus or minus, mm.
    pub half: f64,
    /// Whether nobody gave it, so that a usual one stands in for it: whoever uses it says so.
    pub is_assumed: bool,
}

impl SpreadFigure {
    /// One that stands in until somebody gives their own.
    const fn assumed(half: f64) -> SpreadFigure {
        SpreadFigure {
            half,
            is_assumed: true,
        }
    }

    /// One that somebody gave, mm.
    pub const fn given(half: f64) -> SpreadFigure {
        SpreadFigure {
            half,
            is_assumed: false,
        }
    }
}

/// How far a machine's work scatters beside what its profile's other tables say: plus or minus, all
/// read the way that `plus_minus` says, as are those other tables' figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// How the profile's figures plus or minus are read.
    pub plus_minus: PlusMinus,
    /// Of the groove's width, from cut to cut.
    pub kerf: SpreadFigure,
    /// Of strips' thickness, from strip to strip.
    pub strip_thickness: SpreadFigure,
    /// Of the cut's height, from setting to setting.
    pub height: SpreadFigure,
    /// Of a strip's end on the stop, or of a block's, from push to push; on a key the rack says that.
    pub seat: SpreadFigure,
    /// Of a sled's key, how much thicker or thinner than the kerf it is.
    pub key: SpreadFigure,
    /// Of where a driven axis goes, from cut to cut; of a sled its stop and rack say that.
    pub place: SpreadFigure,
}

impl Spread {
    /// What stands in for figures that no sled's profile gives. Common practice, no source.
    pub const SAWN: Spread = Spread {
        plus_minus: PlusMinus::Limits,
        kerf: SpreadFigure::assumed(0.02),
        strip_thickness: SpreadFigure::assumed(0.03),
        height: SpreadFigure::assumed(0.05),
        seat: SpreadFigure::assumed(0.01),
        key: SpreadFigure::assumed(0.01),
        place: SpreadFigure::assumed(0.0),
    };

    /// What stands in for figures that no router's profile gives. Common practice, no source.
    pub const ROUTED: Spread = Spread {
        plus_minus: PlusMinus::Limits,
        kerf: SpreadFigure::assumed(0.02),
        strip_thickness: SpreadFigure::assumed(0.03),
        height: SpreadFigure::assumed(0.05),
        seat: SpreadFigure::assumed(0.02),
        key: SpreadFigure::assumed(0.0),
        place: SpreadFigure::assumed(0.02),
    };

    /// What stands in for figures that no profile of a machine for sheet gives. Common practice, no
    /// source.
    pub const FROM_SHEET: Spread = Spread {
        plus_minus: PlusMinus::Limits,
        kerf: SpreadFigure::assumed(0.03),
        strip_thickness: SpreadFigure::assumed(0.05),
        height: SpreadFigure::assumed(0.0),
        seat: SpreadFigure::assumed(0.0),
        key: SpreadFigure::assumed(0.0),
        place: SpreadFigure::assumed(0.02),
    };
}

#[cfg(test)]
mod tests {
    use super::PlusMinus;

    /// A rectangle of half width 1 has the deviation 1 / sqrt 3 = 0.57735.
    #[test]
    fn deviations_follow_the_reading() {
        let of = |reading: PlusMinus| reading.deviation(0.06);
        assert!((of(PlusMinus::Limits) - 0.034_641_016).abs() < 1e-9);
        assert!((of(PlusMinus::Twice) - 0.03).abs() < 1e-15);
        assert!((of(PlusMinus::Once) - 0.06).abs() < 1e-15);
        for reading in PlusMinus::ALL {
            assert!((reading.half_of(of(reading)) - 0.06).abs() < 1e-15);
        }
    }
}
