//! A small notching job for the tests of the proof: bundle, notches, limits, and a program in the
//! style of a careful generator, written here so that nothing is shared with the project's own.
#![allow(unreachable_pub)]

pub mod cases;
pub mod oracle;

use lapwright::verification::{
    Comments, DwellUnit, ExpectedNotch, KeepOut, Limits, ProgramReport, Tolerances, Workpiece,
    prove_program,
};
use std::f64::consts::FRAC_PI_2;

/// Eight strips of 3 x 12 mm, 150 mm long.
pub fn workpiece() -> Workpiece {
    Workpiece::plain(8, 3.0, 12.0, 150.0)
}

/// Three notches of 3.05 mm, 6 mm deep, 42 mm apart.
pub fn notches() -> Vec<ExpectedNotch> {
    (0..3)
        .map(|index| ExpectedNotch {
            index,
            centre_mm: 15.0 + 42.0 * index as f64,
            width_mm: 3.05,
            depth_mm: 6.0,
            angle_rad: FRAC_PI_2,
        })
        .collect()
}

/// A small router with everything known.
pub fn limits() -> Limits {
    Limits {
        flute_length_mm: Some(8.0),
        shank_diameter_mm: Some(3.175),
        travel_mm: Some([[-300.0, 0.0], [-180.0, 0.0], [-45.0, 0.0]]),
        program_zero_mm: Some([-200.0, -100.0, -20.0]),
        max_feed: Some(1000.0),
        min_feed: Some(500.0),
        max_plunge: Some(300.0),
        max_rpm: Some(24000.0),
        min_rpm: Some(10000.0),
        max_depth_per_pass_mm: Some(3.0),
        spin_up_s: Some(3.0),
        keep_outs: vec![KeepOut {
            name: "front clamp".to_owned(),
            low: [30.0, -30.0, -12.0],
            high: [42.0, -6.0, 4.0],
        }],
        table_z_mm: Some(-12.0),
        clearance_mm: Some(2.0),
        dwell_unit: Some(DwellUnit::Seconds),
        max_line_length: Some(72),
        comments: Some(Comments::Parentheses),
        codes_not_taken: vec![('G', 430), ('M', 60)],
        blending_tolerance_mm: Some(0.01),
        unbounded_blend_mm: Some(0.5),
        ..Limits::tool_only(2.0)
    }
}

pub const HEAD: &str = "\
(three notches, 3.050 wide, 6.000 deep)
G21
G17 G90 G94
G54
G61
G0 Z5.000
S12000 M3
G4 P3.0
";

pub const FOOT: &str = "\
G0 X0.000 Y-5.000
M5
M2
";

/// One notch: two passes down, each one pass in the middle and one along each wall.
pub fn notch_moves(centre: f64) -> String {
    let left = centre - 0.525;
    let right = centre + 0.525;
    let mut text = format!("(notch at {centre:.3})\nG0 X{centre:.3} Y-3.500\n");
    for depth in [3.0, 6.0] {
        text += &format!(
            "G1 Z-{depth:.3} F300\n\
             G1 Y27.500 F900\n\
             G1 X{left:.3}\n\
             G1 Y-3.500\n\
             G1 X{right:.3}\n\
             G1 Y27.500\n\
             G0 Z5.000\n\
             G0 X{centre:.3} Y-3.500\n"
        );
    }
    text
}

pub fn program() -> String {
    let moves: String = notches()
        .iter()
        .map(|notch| notch_moves(notch.centre_mm))
        .collect();
    format!("{HEAD}{moves}{FOOT}")
}

pub fn prove(text: &str) -> ProgramReport {
    prove_bytes(text.as_bytes())
}

pub fn prove_bytes(text: &[u8]) -> ProgramReport {
    prove_program(
        text,
        &workpiece(),
        Some(&notches()),
        &limits(),
        &Tolerances::default(),
    )
}

pub fn codes(report: &ProgramReport) -> Vec<&'static str> {
    let mut codes: Vec<_> = report.faults.iter().map(|fault| fault.code).collect();
    codes.dedup();
    codes
}
