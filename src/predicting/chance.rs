//! Chances from counts, and of normal spreads.

/// So many standard deviations hold 95 % of a normal spread.
const NINETY_FIVE: f64 = 1.959_963_984_540_054;

/// Wilson's interval for a chance that came up `hits` times of `draws`, at 95 %: the chances p with
/// `|hits / n - p| <= z sqrt(p (1 - p) / n)` (NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1).
pub fn wilson(hits: f64, draws: f64) -> [f64; 2] {
    if draws <= 0.0 {
        return [0.0, 1.0];
    }
    let z2 = NINETY_FIVE * NINETY_FIVE;
    let share = hits / draws;
    let middle = share + z2 / (2.0 * draws);
    let half = NINETY_FIVE * (share * (1.0 - share) / draws + z2 / (4.0 * draws * draws)).sqrt();
    let all = 1.0 + z2 / draws;
    [
        ((middle - half) / all).max(0.0),
        ((middle + half) / all).min(1.0),
    ]
}

/// The chance that a figure with a normal spread is below zero.
pub fn below_zero(mean: f64, deviation: f64) -> f64 {
    if deviation <= 0.0 {
        return if mean < 0.0 { 1.0 } else { 0.0 };
    }
    0.5 * libm::erfc(mean / deviation / 2.0_f64.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 of 100 at 95 %: 0.0552 to 0.1744, by the formula with a pocket calculator.
    #[test]
    fn wilson_by_hand() {
        let [low, high] = wilson(10.0, 100.0);
        assert!(
            (low - 0.055_229).abs() < 5e-6 && (high - 0.174_366).abs() < 5e-6,
            "{low} {high}"
        );
        assert!(wilson(0.0, 100.0)[0].abs() < 1e-15);
        assert!((wilson(100.0, 100.0)[1] - 1.0).abs() < 1e-15);
    }

    /// Tables of the normal distribution: 0.158655 and 0.022750 below one and two deviations.
    #[test]
    fn normal_tails() {
        assert!((below_zero(1.0, 1.0) - 0.158_655_254).abs() < 1e-9);
        assert!((below_zero(0.2, 0.1) - 0.022_750_132).abs() < 1e-9);
        assert!((below_zero(-0.1, 0.0) - 1.0).abs() < 1e-15);
    }
}
