//! The whole proof on a small job: clean where it should be, exact where it measures.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod gcode_bench;

use gcode_bench::{FOOT, HEAD, codes, limits, notches, program, prove, workpiece};
use lapwright::verification::inputs::{ExpectedNotch, Limits, Tolerances, Workpiece};
use lapwright::verification::prove_program;

#[test]
fn a_good_program_is_clean_and_measured_to_a_micrometre() {
    let report = prove(&program());
    assert_eq!(report.faults, []);
    assert!(report.ok());
    assert_eq!(report.notches.len(), 3);
    for notch in &report.notches {
        assert!(notch.centre_error_mm.unwrap().abs() < 1e-9);
        assert!(notch.width_error_mm.abs() < 1e-9);
        assert!(notch.depth_error_mm.abs() < 1e-9);
        assert!(notch.angle_error_rad.unwrap().abs() < 1e-9);
        assert!(notch.ok);
    }
    assert_eq!(report.slots.len(), 3);
    assert_eq!(report.slots[1].strips, [0, 7]);
    // Down 5 + 3 and 5 + 6, three times across, two steps aside; three notches.
    let cutting = 3.0 * (8.0 + 11.0 + 2.0 * (3.0 * 31.0 + 0.525 + 1.05));
    assert!((report.cutting_mm - cutting).abs() < 1e-9);
}
