//! Printing of numbers: rounded once, never `-0.00`, never `NaN`.

use super::digits::{Digits, NotPrintable, TIE_NOISE};
use super::quantities::{AtLeast, AtMost, Brief, Feed, Fine, MM_PER_INCH, Mm, Rad, UnitSystem};

/// `value` with exactly `places` decimals (at most 9), ties away from zero, without a negative
/// zero.
///
/// # Errors
/// [`NotPrintable`] for values that are not finite or whose magnitude is 9e9 or more.
pub fn decimal(value: f64, places: u32) -> Result<String, NotPrintable> {
    let mut text = Vec::new();
    Digits::of(value, places)?.push_to(&mut text);
    String::from_utf8(text).map_err(|_| NotPrintable)
}

/// A length as text that reads back as the same bits: the shortest decimal, with its unit.
pub fn exact_mm(mm: f64) -> String {
    format!("{} mm", mm + 0.0)
}

/// The nearest 1/64 inch to a length, ties away from zero, as text without a unit (`1-21/32`,
/// `3/64`, `2`), and what taking it instead would cost: fraction less true length, in mm.
#[allow(clippy::cast_possible_truncation)] // a length in sixty-fourths of an inch fits
pub fn sixty_fourths(mm: f64) -> (String, f64) {
    let count = (mm / MM_PER_INCH * 64.0).round();
    let cost = count * MM_PER_INCH / 64.0 - mm;
    let total = count as i64;
    let sign = if total < 0 { "-" } else { "" };
    let whole = total.abs() / 64;
    let mut top = total.abs() % 64;
    let mut bottom = 64;
    while top != 0 && top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    let text = match (whole, top) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{bottom}"),
        (whole, top) => format!("{sign}{whole}-{top}/{bottom}"),
    };
    (text, cost)
}

fn or_refusal(text: Result<String, NotPrintable>) -> String {
    text.unwrap_or_else(|_| "(not a number)".into())
}

/// Twelve feet.
const LONGEST_RULE_MM: f64 = 12.0 * 12.0 * MM_PER_INCH;

/// What a length is beside the marks of a rule.
enum OnARule {
    /// On a mark of 1/64 inch, as far as four decimals tell.
    Mark(String),
    /// Beside the nearest mark: that one, and what has to be added to it to come out true, in inches.
    Beside(String, String),
    /// Less than the finest mark, or more than a rule is long: nobody reads sixty-fourths there.
    OffTheRule,
}

impl OnARule {
    fn of(mm: f64) -> OnARule {
        let (fraction, cost) = sixty_fourths(mm);
        let rest = or_refusal(decimal(-cost / MM_PER_INCH, 4));
        if rest == "0.0000" {
            return OnARule::Mark(fraction);
        }
        if mm.abs() < MM_PER_INCH / 64.0 || mm.abs() > LONGEST_RULE_MM {
            return OnARule::OffTheRule;
        }
        let sign = if rest.starts_with('-') { "" } else { "+" };
        OnARule::Beside(fraction, format!("{sign}{rest}"))
    }
}

impl Mm {
    /// The length with its unit, rounded for reading: two decimals of a millimetre. In inches a fraction
    /// alone where it is true to the fourth decimal (`1/2 in`), else four decimals with the nearest 1/64
    /// and what has to be added to it to come out true (`1.6535 in [1-21/32 -0.0027]`), or without these
    /// where it is less than 1/64 or more than 12 feet.
    pub fn text(self, units: UnitSystem) -> String {
        let brief = Brief(self.0).text(units);
        let note = match units {
            UnitSystem::Millimetres => None,
            UnitSystem::Inches => self.fraction_note(),
        };
        match note {
            Some(note) => format!("{brief} {note}"),
            None => brief,
        }
    }

    /// The rounded figure alone, for table cells whose heading names the unit.
    pub fn figure(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Millimetres => or_refusal(decimal(self.0, 2)),
            UnitSystem::Inches => or_refusal(decimal(self.0 / MM_PER_INCH, 4)),
        }
    }

    /// The length as a fraction of an inch, where it is one to the fourth decimal.
    pub fn true_fraction(self) -> Option<String> {
        match OnARule::of(self.0) {
            OnARule::Mark(fraction) => Some(fraction),
            OnARule::Beside(..) | OnARule::OffTheRule => None,
        }
    }

    /// The nearest 1/64 inch in brackets with what has to be added to it, in inches: both together
    /// are the length. Nothing where the length is a fraction, less than 1/64 or more than 12 feet.
    pub fn fraction_note(self) -> Option<String> {
        match OnARule::of(self.0) {
            OnARule::Beside(fraction, rest) => Some(format!("[{fraction} {rest}]")),
            OnARule::Mark(_) | OnARule::OffTheRule => None,
        }
    }
}

impl Brief {
    /// The length with its unit, rounded like [`Mm::text`].
    pub fn text(self, units: UnitSystem) -> String {
        let length = Mm(self.0);
        match units {
            UnitSystem::Millimetres => format!("{} mm", length.figure(units)),
            UnitSystem::Inches => match length.true_fraction() {
                Some(fraction) => format!("{fraction} in"),
                None => format!("{} in", length.figure(units)),
            },
        }
    }
}

impl Feed {
    /// The speed with its unit: whole millimetres a minute, or tenths of an inch.
    pub fn text(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Millimetres => format!("{} mm/min", or_refusal(decimal(self.0, 0))),
            UnitSystem::Inches => {
                format!("{} in/min", or_refusal(decimal(self.0 / MM_PER_INCH, 1)))
            }
        }
    }
}

impl Fine {
    /// The length with its unit: three decimals of a millimetre or five of an inch.
    pub fn text(self, units: UnitSystem) -> String {
        match units {
            UnitSystem::Millimetres => format!("{} mm", or_refusal(decimal(self.0, 3))),
            UnitSystem::Inches => format!("{} in", or_refusal(decimal(self.0 / MM_PER_INCH, 5))),
        }
    }
}

impl AtLeast {
    /// The length with its unit, rounded up to two decimals of a millimetre or four of an inch.
    pub fn text(self, units: UnitSystem) -> String {
        let unit = match units {
            UnitSystem::Millimetres => "mm",
            UnitSystem::Inches => "in",
        };
        format!("{} {unit}", self.figure(units))
    }

    /// The rounded figure alone, for table cells whose heading names the unit.
    pub fn figure(self, units: UnitSystem) -> String {
        // A figure that is whole but for binary noise is not pushed up.
        let up = |value: f64, places: u32| {
            let scale = 10_f64.powi(places.cast_signed());
            or_refusal(decimal((value * scale - TIE_NOISE).ceil() / scale, places))
        };
        match units {
            UnitSystem::Millimetres => up(self.0, 2),
            UnitSystem::Inches => up(self.0 / MM_PER_INCH, 4),
        }
    }
}

impl AtMost {
    /// The length with its unit, rounded down to two decimals of a millimetre or four of an inch.
    pub fn text(self, units: UnitSystem) -> String {
        // A figure that is whole but for binary noise is not pushed down.
        let down = |value: f64, places: u32| {
            let scale = 10_f64.powi(places.cast_signed());
            or_refusal(decimal((value * scale + TIE_NOISE).floor() / scale, places))
        };
        match units {
            UnitSystem::Millimetres => format!("{} mm", down(self.0, 2)),
            UnitSystem::Inches => format!("{} in", down(self.0 / MM_PER_INCH, 4)),
        }
    }
}

impl Rad {
    /// The angle in degrees, at most three decimals, trailing zeros dropped.
    pub fn text(self) -> String {
        let text = or_refusal(decimal(self.0.to_degrees(), 3));
        let text = text.trim_end_matches('0').trim_end_matches('.');
        format!("{text} deg")
    }

    /// The angle in degrees, no finer than the first digit of what it may be off by, `within`
    /// radians: between one and three decimals.
    pub fn text_within(self, within: f64) -> String {
        let told = |places: u32| within.to_degrees() * 10_f64.powi(places.cast_signed()) >= 1.0;
        let places = (1..3).find(|places| told(*places)).unwrap_or(3);
        format!("{} deg", or_refusal(decimal(self.0.to_degrees(), places)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Kind, parse};
    use float_cmp::approx_eq;

    #[test]
    fn decimals_have_no_negative_zero_and_refuse_what_is_not_finite() {
        assert_eq!(decimal(-0.0004, 3).unwrap(), "0.000");
        assert_eq!(decimal(-0.0006, 3).unwrap(), "-0.001");
        assert_eq!(decimal(41.6667, 3).unwrap(), "41.667");
        assert_eq!(decimal(12.0, 0).unwrap(), "12");
        assert_eq!(decimal(16.525, 2).unwrap(), "16.53");
        assert_eq!(decimal(-13.475, 2).unwrap(), "-13.48");
        for bad in [f64::NAN, f64::INFINITY, 1e10] {
            assert!(decimal(bad, 3).is_err());
        }
    }

    #[test]
    fn what_is_enough_is_still_enough_as_printed() {
        let text = |mm, units| AtLeast(mm).text(units);
        assert_eq!(text(3.5201, UnitSystem::Millimetres), "3.53 mm");
        assert_eq!(text(2.0 + 3.05, UnitSystem::Millimetres), "5.05 mm");
        assert_eq!(text(25.401, UnitSystem::Inches), "1.0001 in");
        assert_eq!(text(25.4, UnitSystem::Inches), "1.0000 in");
    }

    #[test]
    fn inches_are_fractions_where_these_are_true_and_never_beside_nothing() {
        for (mm, text) in [
            (12.7, "1/2 in"),
            (25.4, "1 in"),
            // 1/64 in is 0.015625 in: four decimals would round it.
            (25.4 / 64.0, "1/64 in"),
            (42.0, "1.6535 in [1-21/32 -0.0027]"),
            // 0.00008 in off is seen in the fourth decimal, 0.00004 in is not.
            (12.702, "0.5001 in [1/2 +0.0001]"),
            (12.701, "1/2 in"),
            (0.16, "0.0063 in"),
            (-0.16, "-0.0063 in"),
            (-0.9, "-0.0354 in [-1/32 -0.0042]"),
            (0.0, "0 in"),
            (3657.9, "144.0118 in"),
        ] {
            assert_eq!(Mm(mm).text(UnitSystem::Inches), text);
        }
        assert_eq!(Brief(12.7).text(UnitSystem::Inches), "1/2 in");
        assert_eq!(Brief(42.0).text(UnitSystem::Inches), "1.6535 in");
    }

    #[test]
    fn feeds_follow_the_units() {
        assert_eq!(Feed(1270.4).text(UnitSystem::Millimetres), "1270 mm/min");
        assert_eq!(Feed(1270.4).text(UnitSystem::Inches), "50.0 in/min");
    }

    #[test]
    fn an_angle_has_no_digits_below_what_it_may_be_off_by() {
        for (within, text) in [
            (2.0, "7.6 deg"),
            (0.19, "7.6 deg"),
            (0.1, "7.6 deg"),
            (0.09, "7.63 deg"),
            (0.004, "7.628 deg"),
            (0.0, "7.628 deg"),
        ] {
            let angle = Rad(7.628_15_f64.to_radians());
            assert_eq!(angle.text_within(f64::to_radians(within)), text, "{within}");
        }
        let whole = Rad(8_f64.to_radians());
        assert_eq!(whole.text_within(0.19_f64.to_radians()), "8.0 deg");
    }

    #[test]
    fn sixty_fourths_and_their_cost() {
        // 6 mm is 15/64 in less 0.047 mm, 10 mm is 25/64 less 0.078, 3 mm is 1/8 plus 0.175:
        // computed from 1 in = 25.4 mm.
        for (mm, text, cost) in [
            (6.0, "15/64", -0.046_875),
            (10.0, "25/64", -0.078_125),
            (3.0, "1/8", 0.175),
            (33.0, "1-19/64", -0.059_375),
            (50.8, "2", 0.0),
        ] {
            let (got, found) = sixty_fourths(mm);
            assert_eq!(got, text);
            assert!(
                approx_eq!(f64, found, cost, epsilon = 1e-12),
                "{mm}: {found}"
            );
        }
    }

    #[test]
    fn printed_lengths_read_back() {
        // The last four have more than 17 digits with their zeros.
        let long = [25.4 / 102.0, -25.4 / 960.0, 1e-20 / 3.0, 1e20 / 3.0];
        let short = [0.1, 41.666_666_666_666_664, 34.925, 1e-3, 2032.0, -0.05];
        for mm in short.into_iter().chain(long) {
            let back = parse(&exact_mm(mm), Kind::SignedLength).unwrap().value;
            assert_eq!(back.to_bits(), mm.to_bits());
        }
    }
}
