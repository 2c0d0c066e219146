//! What is not known of a figure, and the expanded uncertainty that comes of it. Millimetres.

use crate::machines::PlusMinus;

/// Share of cases that an expanded uncertainty covers at least.
pub(crate) const COVERAGE: f64 = 0.95;

/// Standard uncertainties to either side that hold [`COVERAGE`] of a normal distribution: JCGM 100:2008,
/// table G.2 (there 1.960).
const FACTOR: f64 = 1.959_964;

/// Spread of a sum of independent errors about nought.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Scatter {
    /// Squares of standard uncertainties add up.
    variance: f64,
    /// No error is greater.
    limit: f64,
}

impl Scatter {
    /// Of a figure plus or minus `half`, as its profile is read: limits hold all of it, a normal spread has
    /// none.
    pub(super) fn of(half: f64, read: PlusMinus) -> Scatter {
        Scatter {
            variance: read.deviation(half).powi(2),
            limit: match read {
                PlusMinus::Limits => half,
                PlusMinus::Twice | PlusMinus::Once => f64::INFINITY,
            },
        }
    }

    /// With another, independent one.
    pub(super) fn and(self, other: Scatter) -> Scatter {
        Scatter {
            variance: self.variance + other.variance,
            limit: self.limit + other.limit,
        }
    }

    /// Of so many times one error.
    pub(super) fn times(self, count: f64) -> Scatter {
        // No limit, not at all, is no figure.
        if count.abs() <= 0.0 {
            return Scatter::default();
        }
        Scatter {
            variance: self.variance * count * count,
            limit: self.limit * count.abs(),
        }
    }

    /// The lesser of both in either figure.
    pub(super) fn least(self, other: Scatter) -> Scatter {
        Scatter {
            variance: self.variance.min(other.variance),
            limit: self.limit.min(other.limit),
        }
    }

    pub(super) fn variance(self) -> f64 {
        self.variance
    }

    pub(super) fn limit(self) -> f64 {
        self.limit
    }

    /// Half of the interval about nought that holds `known` and the scatter in at least [`COVERAGE`] of
    /// all cases. What is known of an error and left in it counts in full. Of a sum of uniform errors
    /// fewer lie beyond the normal distribution's factor than of a normal one, and none beyond the
    /// limit; on the side away from `known` there is more room still.
    pub(super) fn expanded(self, known: f64) -> f64 {
        known.abs() + (FACTOR * self.variance.sqrt()).min(self.limit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn within(limit: f64) -> Scatter {
        Scatter::of(limit, PlusMinus::Limits)
    }
    use float_cmp::approx_eq;

    #[test]
    fn one_uniform_error_has_a_limit_and_two_have_less_than_theirs() {
        let one = within(0.1);
        assert!(approx_eq!(f64, one.expanded(0.0), 0.1, epsilon = 1e-12));
        assert!(approx_eq!(f64, one.expanded(-0.05), 0.15, epsilon = 1e-12));
        // 1.959964 x 0.1 x sqrt(2 / 3).
        let two = one.and(one);
        assert!(approx_eq!(
            f64,
            two.expanded(0.0),
            0.160_030,
            epsilon = 1e-6
        ));
        assert!(approx_eq!(
            f64,
            one.times(-2.0).expanded(0.0),
            0.2,
            epsilon = 1e-12
        ));
    }

    /// 1.959964 x 0.1 / 2 of a figure that is twice a standard deviation; a bias counts in full.
    #[test]
    fn normal_spreads_have_no_limit() {
        let twice = Scatter::of(0.1, PlusMinus::Twice);
        assert!(approx_eq!(
            f64,
            twice.expanded(0.0),
            0.097_998_2,
            epsilon = 1e-6
        ));
        let once = Scatter::of(0.1, PlusMinus::Once);
        assert!(approx_eq!(
            f64,
            once.expanded(-0.2),
            0.395_996_4,
            epsilon = 1e-6
        ));
        let gone = once.and(twice.times(0.0)).expanded(0.0);
        assert!(approx_eq!(f64, gone, 0.195_996_4, epsilon = 1e-6), "{gone}");
    }

    /// Two uniform errors of plus or minus a and b, a the greater, lie together beyond x, a - b <= x <= a + b,
    /// with the chance `(a + b - x)^2 / (4 a b)`: the corners of the rectangle cut off by |u + v| = x.
    #[test]
    fn two_uniform_errors_are_covered() {
        for b in [0.001, 0.01, 0.03, 0.06, 0.1] {
            let a: f64 = 0.1;
            let x = within(a).and(within(b)).expanded(0.0);
            let beyond = if x < a - b {
                1.0 - x / a
            } else {
                (a + b - x).powi(2) / (4.0 * a * b)
            };
            assert!(beyond <= 1.0 - COVERAGE, "{b}: {beyond}");
        }
    }
}
