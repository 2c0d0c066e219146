//! Sizes and measures by which lumber is sold in the United States.

/// A board foot, m3: 1 in by 12 in by 12 in.
pub const BOARD_FOOT_M3: f64 = 0.002_359_737_216;

/// An inch, mm.
const INCH_MM: f64 = 25.4;

/// Least sizes of softwood lumber that is sold as `nominal`, all in inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dressed {
    /// What it is called.
    pub nominal: f64,
    /// Dry: at most 19 % of moisture.
    pub dry: f64,
    /// Green.
    pub green: f64,
}

const fn dressed(nominal: f64, dry: f64, green: f64) -> Dressed {
    Dressed {
        nominal,
        dry,
        green,
    }
}

/// Thicknesses (NIST Voluntary Product Standard PS 20, American Softwood Lumber Standard, table 3; as two pages
/// repeat it).
pub const SOFTWOOD_THICKNESSES: [Dressed; 9] = [
    dressed(0.75, 0.625, 0.6875),
    dressed(1.0, 0.75, 0.781_25),
    dressed(1.25, 1.0, 1.031_25),
    dressed(1.5, 1.25, 1.281_25),
    dressed(2.0, 1.5, 1.5625),
    dressed(2.5, 2.0, 2.0625),
    dressed(3.0, 2.5, 2.5625),
    dressed(3.5, 3.0, 3.0625),
    dressed(4.0, 3.5, 3.5625),
];

/// Widths of boards, from the same table.
pub const SOFTWOOD_WIDTHS: [Dressed; 13] = [
    dressed(2.0, 1.5, 1.5625),
    dressed(3.0, 2.5, 2.5625),
    dressed(4.0, 3.5, 3.5625),
    dressed(5.0, 4.5, 4.625),
    dressed(6.0, 5.5, 5.625),
    dressed(7.0, 6.5, 6.625),
    dressed(8.0, 7.25, 7.5),
    dressed(9.0, 8.25, 8.5),
    dressed(10.0, 9.25, 9.5),
    dressed(11.0, 10.25, 10.5),
    dressed(12.0, 11.25, 11.5),
    dressed(14.0, 13.25, 13.5),
    dressed(16.0, 15.25, 15.5),
];

/// Hardwood thicknesses, rough and surfaced on two sides, in inches: 4/4, 5/4, 6/4, 8/4 (rules of the National
/// Hardwood Lumber Association, as a page repeats them; not seen in the rules themselves).
pub const SURFACED: [(f64, f64); 4] = [(1.0, 0.8125), (1.25, 1.0625), (1.5, 1.3125), (2.0, 1.75)];

/// Least thickness and width in mm, dry, of softwood that is sold by these inches; nothing where the standard's
/// table has no such size.
pub fn softwood_dressed(thickness_in: f64, width_in: f64) -> Option<[f64; 2]> {
    let dry = |sizes: &[Dressed], inches: f64| {
        let same = |size: &&Dressed| (size.nominal - inches).abs() < NEARLY_IN;
        sizes.iter().find(same).map(|size| size.dry * INCH_MM)
    };
    Some([
        dry(&SOFTWOOD_THICKNESSES, thickness_in)?,
        dry(&SOFTWOOD_WIDTHS, width_in)?,
    ])
}

/// Thickness in mm of hardwood surfaced on two sides that was rough by these inches; nothing for others than 4/4,
/// 5/4, 6/4 and 8/4.
pub fn surfaced_thickness(rough_in: f64) -> Option<f64> {
    let same = |size: &&(f64, f64)| (size.0 - rough_in).abs() < NEARLY_IN;
    SURFACED
        .iter()
        .find(same)
        .map(|(_, surfaced)| surfaced * INCH_MM)
}

/// Sizes this near each other are the same; they lie a quarter of an inch apart.
const NEARLY_IN: f64 = 0.01;

/// Board feet of a piece of softwood: nominal thickness in inches by nominal width in feet by length in feet
/// (PS 20, 2.2; as a page repeats it).
pub fn softwood_board_feet(thickness_in: f64, width_in: f64, length_ft: f64) -> f64 {
    thickness_in * width_in / 12.0 * length_ft
}

/// Board feet of a hardwood board: surface measure, which is width in inches by length in whole feet (rounded
/// down) by 1/12 to the nearest whole number, by thickness in inches; what is thinner than an inch counts as an
/// inch (a page of the export council of American hardwoods; the inch from a dealer's glossary). Which way a
/// half goes they do not say: up, here.
pub fn hardwood_board_feet(thickness_in: f64, width_in: f64, length_ft: f64) -> f64 {
    let surface = (width_in * length_ft.floor() / 12.0).round();
    surface * thickness_in.max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    /// Examples of PS 20, 2.2: 2 x 4 of 8 ft, 2 x 10 of 16 ft, 1 x 12 of 10 ft.
    #[test]
    fn softwood_by_nominal_sizes() {
        for (size, wanted) in [
            ((2.0, 4.0, 8.0), 16.0 / 3.0),
            ((2.0, 10.0, 16.0), 80.0 / 3.0),
            ((1.0, 12.0, 10.0), 10.0),
        ] {
            let feet = softwood_board_feet(size.0, size.1, size.2);
            assert!(
                approx_eq!(f64, feet, wanted, epsilon = 1e-12),
                "{size:?}: {feet}"
            );
        }
    }

    /// The export council's board, 2 in by 6-1/4 in by 8 ft: 4.17 of surface measure are 4, and 8 board feet, where
    /// its volume is 8.33.
    #[test]
    fn hardwood_by_surface_measure() {
        assert_eq!(hardwood_board_feet(2.0, 6.25, 8.0), 8.0);
        let exact = softwood_board_feet(2.0, 6.25, 8.0);
        assert!(approx_eq!(f64, exact, 25.0 / 3.0, epsilon = 1e-12));
        // A length of 8-3/4 ft counts as 8, half an inch as an inch.
        assert_eq!(hardwood_board_feet(2.0, 6.25, 8.75), 8.0);
        assert_eq!(hardwood_board_feet(0.5, 6.25, 8.0), 4.0);
    }

    /// 0.3048 m is a foot, exactly.
    #[test]
    fn a_board_foot_is_a_twelfth_of_a_cubic_foot() {
        let foot = 0.3048_f64;
        assert!(approx_eq!(
            f64,
            BOARD_FOOT_M3,
            foot * foot * foot / 12.0,
            epsilon = 1e-15
        ));
    }

    #[test]
    fn dressed_sizes() {
        let [thickness, width] = softwood_dressed(2.0, 4.0).unwrap();
        assert!(approx_eq!(f64, thickness, 38.1, epsilon = 1e-9));
        assert!(approx_eq!(f64, width, 88.9, epsilon = 1e-9));
        assert_eq!(softwood_dressed(2.0, 13.0), None);
        assert!(approx_eq!(
            f64,
            surfaced_thickness(1.0).unwrap(),
            20.6375,
            epsilon = 1e-9
        ));
        assert_eq!(surfaced_thickness(3.0), None);
        // PS 20 rounds its millimetres half to even, by which green 8 in, 7-1/2 in, is 190: here nothing is rounded.
        let eight = SOFTWOOD_WIDTHS
            .iter()
            .find(|size| size.nominal == 8.0)
            .unwrap();
        assert_eq!((eight.green * INCH_MM).round_ties_even(), 190.0);
    }

    /// What is dressed is less than its name, green more than dry, and tables rise.
    #[test]
    fn tables_rise() {
        for table in [&SOFTWOOD_THICKNESSES[..], &SOFTWOOD_WIDTHS[..]] {
            for size in table {
                assert!(
                    size.dry < size.green && size.green < size.nominal,
                    "{size:?}"
                );
            }
            assert!(
                table
                    .windows(2)
                    .all(|pair| pair[0].nominal < pair[1].nominal && pair[0].dry < pair[1].dry)
            );
        }
    }
}
