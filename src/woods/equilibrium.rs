//! The moisture that wood comes to in air.

/// Rooms are taken to be so warm: ten degrees more or less change the moisture by about a quarter of a
/// percent.
pub const CELSIUS: f64 = 20.0;

/// Water by oven-dry wood, percent, that wood comes to in air of that relative humidity (parts of one)
/// and temperature (degrees Celsius): Wood Handbook, FPL-GTR-282, equation 4-5 with the coefficients in
/// degrees Celsius. Real wood lies between drying and wetting, a percent or two apart.
pub fn equilibrium_percent(humidity: f64, celsius: f64) -> f64 {
    let t = celsius;
    let weight = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * humidity;
    let dissolved = kh / (1.0 - kh);
    let hydrates = k1 * kh + 2.0 * k1 * k2 * kh * kh;
    let bound = hydrates / (1.0 + k1 * kh + k1 * k2 * kh * kh);
    1800.0 / weight * (dissolved + bound)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows of table 4-2 of the Wood Handbook (from memory, some cells read), 5 to 95 % in steps of five. The
    /// table rounds to a tenth, and ten of its cells the other way.
    #[test]
    fn handbook_rows() {
        let rows: [(f64, [f64; 19]); 4] = [
            (
                30.0,
                [
                    1.4, 2.6, 3.7, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9,
                    16.5, 18.5, 21.0, 24.3,
                ],
            ),
            (
                50.0,
                [
                    1.4, 2.6, 3.6, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.3, 11.2, 12.3, 13.4, 14.8,
                    16.4, 18.4, 20.9, 24.3,
                ],
            ),
            (
                70.0,
                [
                    1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4,
                    16.0, 17.9, 20.5, 23.9,
                ],
            ),
            (
                90.0,
                [
                    1.2, 2.3, 3.4, 4.3, 5.1, 5.9, 6.7, 7.4, 8.1, 8.9, 9.7, 10.5, 11.5, 12.6, 13.9,
                    15.4, 17.3, 19.8, 23.3,
                ],
            ),
        ];
        for (fahrenheit, row) in rows {
            let celsius = (fahrenheit - 32.0) / 1.8;
            for (step, printed) in (1..).zip(row) {
                let percent = equilibrium_percent(f64::from(step) * 0.05, celsius);
                assert!(
                    (percent - printed).abs() < 0.07,
                    "{fahrenheit} F, {step}: {percent}"
                );
            }
        }
    }
}
