//! What was measured on a machine, and when. Millimetres.

use std::fmt;

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// A day that there is; nothing where there is none, such as 30 February. Leap years as in the
    /// Gregorian calendar (ISO 8601-1).
    pub fn new(year: u16, month: u8, day: u8) -> Option<Date> {
        let leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
        let days = match month {
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            1..=12 => 31,
            _ => return None,
        };
        ((1..=days).contains(&day) && (1..=9999).contains(&year)).then_some(Date {
            year,
            month,
            day,
        })
    }

    /// A day as text: 2026-11-30.
    pub fn parse(text: &str) -> Option<Date> {
        let mut parts = text.split('-');
        let [year, month, day] = [parts.next()?, parts.next()?, parts.next()?];
        let digits =
            |text: &str, count| text.len() == count && text.bytes().all(|b| b.is_ascii_digit());
        let shaped =
            digits(year, 4) && digits(month, 2) && digits(day, 2) && parts.next().is_none();
        if !shaped {
            return None;
        }
        Date::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }
}

impl fmt::Display for Date {
    /// As ISO 8601-1 has it: 2026-11-30.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// A figure of a profile that was measured: what its record says, and the figure itself.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredFigure {
    /// Where the profile has it: `blade.kerf`, `rack.measured[2]`.
    pub field: String,
    /// What it is called: `kerf`, `slot 38 mm`.
    pub name: String,
    /// What the profile has there.
    pub value: f64,
    /// When.
    pub date: Date,
    /// From how many readings.
    pub readings: usize,
    /// Standard deviation of what the readings gave, one by one.
    pub deviation: f64,
    /// Expanded uncertainty of the figure, coverage 95 %.
    pub uncertainty: f64,
}

#[cfg(test)]
mod tests {
    use super::Date;

    #[test]
    fn days_are_those_of_the_calendar() {
        for (text, there) in [
            ("2026-11-30", true),
            ("2024-02-29", true),
            ("2000-02-29", true),
            ("1900-02-29", false),
            ("2026-02-29", false),
            ("2026-11-31", false),
            ("2026-13-01", false),
            ("2026-00-10", false),
            ("2026-1-01", false),
            ("26-11-30", false),
            ("2026-11-30-1", false),
            ("2026-11-+3", false),
        ] {
            let read = Date::parse(text);
            assert_eq!(read.is_some(), there, "{text}");
            assert!(read.is_none_or(|date| date.to_string() == text));
        }
    }
}
