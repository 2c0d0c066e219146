//! Statistics of readings, after the GUM (JCGM 100:2008, Evaluation of measurement data, Guide to the
//! expression of uncertainty in measurement).

use statrs::distribution::{ContinuousCDF, StudentsT};

/// Share of cases in which what was measured lies within the expanded uncertainty of its mean.
pub const COVERAGE: f64 = 0.95;

/// Mean and standard deviation of two readings or more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Statistics {
    count: usize,
    mean: f64,
    deviation: f64,
}

/// A figure's uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertainty {
    /// One standard deviation of the figure.
    pub standard: f64,
    /// Effective degrees of freedom; infinite where nothing was estimated from readings.
    pub freedom: f64,
}

impl Statistics {
    /// Of finite readings; none of fewer than two, which have no deviation.
    ///
    /// Mean: GUM 4.2.1. Deviation: `s^2 = sum (q - mean)^2 / (n - 1)`, 4.2.2. Both from the differences
    /// to the first reading, whose leading digits are alike and would hide the rest.
    pub fn of(readings: &[f64]) -> Option<Statistics> {
        let (first, rest) = readings.split_first()?;
        if rest.is_empty() {
            return None;
        }
        let count = readings.len() as f64;
        let offset = readings.iter().map(|q| q - first).sum::<f64>() / count;
        let differences = || readings.iter().map(|q| (q - first) - offset);
        // What rounding has left of the sum of differences is taken off again.
        let left = differences().sum::<f64>();
        let squares = differences().map(|d| d * d).sum::<f64>() - left * left / count;
        Some(Statistics {
            count: readings.len(),
            mean: first + (offset + left / count),
            deviation: (squares / (count - 1.0)).max(0.0).sqrt(),
        })
    }

    /// Number of readings, two or more.
    pub fn count(&self) -> usize {
        self.count
    }

    /// Arithmetic mean.
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Experimental standard deviation of a single reading.
    pub fn deviation(&self) -> f64 {
        self.deviation
    }

    /// Degrees of freedom of the deviation, n - 1.
    pub fn freedom(&self) -> f64 {
        self.count as f64 - 1.0
    }

    /// Uncertainty of the mean: `s / sqrt n` (GUM 4.2.3), and that of the last digit of what was read,
    /// `step`, whatever the number of readings: `step / sqrt 12` (F.2.2.1), added in squares (5.1.2).
    pub fn of_mean(&self, step: f64) -> Uncertainty {
        let scatter = self.deviation / (self.count as f64).sqrt();
        let digit = step / 12.0_f64.sqrt();
        Uncertainty::of(&[(scatter, self.freedom()), (digit, f64::INFINITY)])
    }

    /// The same with a deviation that is not below that of rounding to `step`, `step / sqrt 12` (GUM
    /// F.2.2.1).
    #[must_use]
    pub fn no_finer_than(self, step: f64) -> Statistics {
        Statistics {
            deviation: self.deviation.max(step / 12.0_f64.sqrt()),
            ..self
        }
    }

    /// Uncertainty of the deviation itself, as a share of it about `1 / sqrt(2 (n - 1))` for readings
    /// that scatter normally (GUM E.4.3): that share is known and not estimated.
    pub fn of_deviation(&self) -> Uncertainty {
        Uncertainty {
            standard: self.deviation / (2.0 * self.freedom()).sqrt(),
            freedom: f64::INFINITY,
        }
    }

    /// Plus or minus how much a single further reading lies about the mean, in 95 % of cases:
    /// `t s sqrt(1 + 1 / n)`, the variance of the difference between a reading and the mean of n others.
    pub fn of_one_more(&self) -> f64 {
        let n = self.count as f64;
        student(COVERAGE, self.freedom()) * self.deviation * (1.0 + 1.0 / n).sqrt()
    }
}

impl Uncertainty {
    /// Independent parts, each with its degrees of freedom, added in squares (GUM 5.1.2); effective
    /// degrees of freedom `u^4 / sum(u_i^4 / v_i)` after Welch and Satterthwaite (G.4.1).
    pub fn of(parts: &[(f64, f64)]) -> Uncertainty {
        let squares: f64 = parts.iter().map(|(u, _)| u * u).sum();
        let fourths: f64 = parts.iter().map(|(u, v)| u.powi(4) / v).sum();
        Uncertainty {
            standard: squares.sqrt(),
            freedom: if fourths > 0.0 {
                squares * squares / fourths
            } else {
                f64::INFINITY
            },
        }
    }

    /// Expanded uncertainty `k u` (GUM 6.2.1), `k` the t factor for the degrees of freedom cut down to
    /// a whole number (G.4.1).
    pub fn expanded(&self) -> f64 {
        student(COVERAGE, self.freedom) * self.standard
    }

    /// The same of a figure that is `factor` times as large.
    #[must_use]
    pub fn times(self, factor: f64) -> Uncertainty {
        Uncertainty {
            standard: self.standard * factor.abs(),
            ..self
        }
    }
}

/// Student's t for a share of cases between -t and t: GUM Table G.2. The degrees of freedom are cut
/// down to a whole number, but not below 1.
pub fn student(share: f64, freedom: f64) -> f64 {
    // Beyond a million the factor is that of the normal distribution to more digits than anybody reads.
    let whole = (freedom + 1e-9).floor().clamp(1.0, 1e6);
    quantile(0.5 + share / 2.0, whole)
}

fn quantile(share: f64, freedom: f64) -> f64 {
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::NAN, |t| t.inverse_cdf(share))
}

/// The reading that lies farthest from the mean, by its index, where Grubbs' test for one outlier on
/// either side tells it from the rest at 5 %: `max |q - mean| / s` above
/// `(n - 1) / sqrt n * sqrt(t^2 / (n - 2 + t^2))`, t with n - 2 degrees of freedom for 5 % / (2 n)
/// (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1). Of three readings it would tell the
/// third one wherever two are alike, so it is not asked of fewer than four.
pub fn outlier(readings: &[f64]) -> Option<usize> {
    if readings.len() < 4 {
        return None;
    }
    let told = Statistics::of(readings)?;
    let apart = |q: &f64| (q - told.mean).abs();
    let (at, farthest) = readings
        .iter()
        .enumerate()
        .max_by(|a, b| apart(a.1).total_cmp(&apart(b.1)))?;
    let g = apart(farthest) / told.deviation;
    (told.deviation > 0.0 && g > greatest_without_outlier(readings.len())?).then_some(at)
}

/// Grubbs' critical value at 5 %, either side; none of fewer than three readings.
fn greatest_without_outlier(count: usize) -> Option<f64> {
    let n = count as f64;
    if count < 3 {
        return None;
    }
    let t = quantile(1.0 - 0.05 / (2.0 * n), n - 2.0);
    Some((n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, wanted: f64, share: f64) {
        assert!(
            (found - wanted).abs() <= share * wanted.abs(),
            "{found} {wanted}"
        );
    }

    /// GUM Table G.2: t for 95 % and other shares, as printed.
    #[test]
    fn factors_are_those_of_the_guide() {
        let shares = [0.6827, 0.90, 0.95, 0.9545, 0.99, 0.9973];
        for (freedom, printed) in [
            (1.0, ["1.84", "6.31", "12.71", "13.97", "63.66", "235.78"]),
            (2.0, ["1.32", "2.92", "4.30", "4.53", "9.92", "19.21"]),
            (3.0, ["1.20", "2.35", "3.18", "3.31", "5.84", "9.22"]),
            (4.0, ["1.14", "2.13", "2.78", "2.87", "4.60", "6.62"]),
            (5.0, ["1.11", "2.02", "2.57", "2.65", "4.03", "5.51"]),
            (9.0, ["1.06", "1.83", "2.26", "2.32", "3.25", "4.09"]),
            (10.0, ["1.05", "1.81", "2.23", "2.28", "3.17", "3.96"]),
            (20.0, ["1.03", "1.72", "2.09", "2.13", "2.85", "3.42"]),
            (
                f64::INFINITY,
                ["1.000", "1.645", "1.960", "2.000", "2.576", "3.000"],
            ),
        ] {
            for (share, printed) in shares.iter().zip(printed) {
                let places = printed.split_once('.').map_or(0, |(_, part)| part.len());
                let half = 0.5 * 0.1_f64.powi(i32::try_from(places).unwrap());
                let wanted: f64 = printed.parse().unwrap();
                let found = student(*share, freedom);
                assert!(
                    (found - wanted).abs() <= half + 1e-4,
                    "{freedom} {share}: {found} {wanted}"
                );
            }
        }
        // G.4.1: the degrees of freedom are cut down, 4.9 to 4.
        near(student(0.95, 4.9), 2.776_445, 1e-6);
    }

    /// NIST Statistical Reference Datasets, univariate summary statistics: certified mean and deviation.
    #[test]
    fn certified_sets_come_out() {
        let ends = [10_000_001.0, 10_000_003.0, 10_000_002.0];
        let told = Statistics::of(&ends).unwrap();
        near(told.mean(), 10_000_002.0, 1e-15);
        near(told.deviation(), 1.0, 1e-15);
        // NumAcc2 to 4: one value x, then 500 times x - 0.1 and x + 0.1. The larger x, the fewer
        // digits of what is added the numbers can hold.
        for (x, first, share) in [
            (1.2, 1.2, 1e-12),
            (1_000_000.2, 1_000_000.2, 1e-8),
            (10_000_000.2, 10_000_000.2, 1e-7),
        ] {
            let mut all = vec![first];
            for _ in 0..500 {
                all.extend([x - 0.1, x + 0.1]);
            }
            let told = Statistics::of(&all).unwrap();
            near(told.mean(), x, 1e-14);
            near(told.deviation(), 0.1, share);
        }
    }

    /// By hand: sum of squares 0.002, s = sqrt(0.002 / 4), u = s / sqrt 5, t = 2.776.
    #[test]
    fn five_readings_by_hand() {
        let told = Statistics::of(&[6.02, 6.05, 5.99, 6.03, 6.01]).unwrap();
        near(told.mean(), 6.02, 1e-12);
        near(told.deviation(), 0.0005_f64.sqrt(), 1e-10);
        let mean = told.of_mean(0.0);
        near(mean.standard, 0.01, 1e-10);
        near(mean.expanded(), 0.027_764_451, 1e-7);
        // With a last digit of 0.01: u^2 = 0.0001 + 0.0001 / 12, v = u^4 / (0.01^4 / 4) = 4.69.
        let read = told.of_mean(0.01);
        near(read.standard, (0.0001_f64 + 0.0001 / 12.0).sqrt(), 1e-10);
        near(read.freedom, 4.0 * (13.0_f64 / 12.0).powi(2), 1e-9);
        near(
            told.of_one_more(),
            2.776_445_1 * 0.0005_f64.sqrt() * 1.2_f64.sqrt(),
            1e-7,
        );
        // GUM Table E.1: the deviation of 10 readings is off by 24 %, of 30 by 13 %.
        let alike = |n: u32| {
            let all: Vec<f64> = (0..n).map(f64::from).collect();
            let told = Statistics::of(&all).unwrap();
            told.of_deviation().standard / told.deviation()
        };
        assert!((alike(10) - 0.24).abs() < 0.005 && (alike(30) - 0.13).abs() < 0.005);
        assert!(Statistics::of(&[1.0]).is_none() && Statistics::of(&[]).is_none());
    }

    /// NIST/SEMATECH e-Handbook 1.3.5.17.1 has this example: G = 2.4687, the last but none.
    #[test]
    fn the_handbooks_outlier_is_found() {
        let uranium = [
            199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57,
        ];
        assert_eq!(outlier(&uranium), Some(7));
        let told = Statistics::of(&uranium).unwrap();
        near((245.57 - told.mean()) / told.deviation(), 2.4687, 5e-5);
        assert_eq!(outlier(&uranium[..7]), None);
        assert_eq!(outlier(&[1.0, 1.0, 1.0]), None);
        assert_eq!(outlier(&[1.0, 900.0]), None);
        assert_eq!(outlier(&[2.605, 2.605, 2.585]), None);
        // Critical values of the published tables (ISO 5725-2, Grubbs' test, 5 %), from memory.
        for (n, printed) in [(3, 1.155), (5, 1.715), (8, 2.126), (10, 2.290), (20, 2.709)] {
            assert!(
                (greatest_without_outlier(n).unwrap() - printed).abs() < 0.001,
                "{n}"
            );
        }
    }
}
