//! A program by hand: every fault of one, and a near twin that has it not.

use lapwright::verification::faults::MORTISE_CODES;
use lapwright::verification::{
    ExpectedMortise, Limits, ProgramReport, Tolerances, Workpiece, prove_mortises,
};

/// One mortise of 3.1 by 12 mm, 1 mm deep, with a cutter of 2 mm.
const BY_HAND: &str = "\
G21
G17 G90 G94
G54
G61
G0 Z8.000
S16000 M3
G4 P4.0
G0 X31.000 Y5.000
G1 Z0.000 F300
G1 Y15.000 Z-0.800 F800
G1 Y5.000 Z-1.000
G1 X32.100
G1 Y15.000
G1 X31.000
G1 Y5.000
G0 Z8.000
M5
M2
";

fn prove_by_hand(text: &str, limits: &Limits) -> ProgramReport {
    let mut workpiece = Workpiece::plain(1, 22.0, 50.0, 200.0);
    workpiece.datum_mm = -50.0;
    let pocket = ExpectedMortise {
        index: 1,
        x_mm: [30.0, 33.1],
        y_mm: [4.0, 16.0],
        depth_mm: 1.0,
    };
    let tolerances = Tolerances::default();
    prove_mortises(text.as_bytes(), &workpiece, &[pocket], limits, &tolerances)
}

/// A text of the program by hand, and what stands there instead.
type Swap = (&'static str, &'static str);

/// Codes, the change that makes the fault, and one nearly like it that does not.
const CASES: &[(&str, Swap, Swap)] = &[
    (
        "plunge",
        ("Z0.000 F300", "Z-0.100 F300"),
        ("Z0.000 F300", "Z0.100 F300"),
    ),
    (
        "plunge",
        ("X31.000 Y5.000\n", "X31.000 Y4.990\n"),
        ("X31.000 Y5.000\n", "X31.000 Y4.999\n"),
    ),
    (
        "plunge",
        ("G1 X32.100\n", "G1 Z-1.004\nG1 X32.100\n"),
        (
            "G1 X32.100\n",
            "G1 Z-0.900\nG1 Y15.000 Z-1.000\nG1 Y5.000\nG1 X32.100\n",
        ),
    ),
    (
        "ramp-too-steep",
        ("Z-0.800", "Z-1.003"),
        ("Z-0.800", "Z-0.999"),
    ),
    (
        "mortise-missing",
        (
            "Z-0.800 F800\nG1 Y5.000 Z-1.000",
            "Z0.200 F800\nG1 Y5.000 Z0.100",
        ),
        ("Z-1.000", "Z-1.001"),
    ),
    (
        "mortise-surplus",
        ("X32.100", "X32.110"),
        ("X32.100", "X32.104"),
    ),
    (
        "mortise-surplus",
        ("G1 X31.000\n", "G1 X30.990\n"),
        ("G1 X31.000\n", "G1 X30.996\n"),
    ),
    (
        "mortise-surplus",
        ("Y15.000\nG1 X31", "Y15.010\nG1 X31"),
        ("Y15.000\nG1 X31", "Y15.004\nG1 X31"),
    ),
    (
        "mortise-surplus",
        ("Y5.000\nG0 Z", "Y4.990\nG0 Z"),
        ("Y5.000\nG0 Z", "Y4.996\nG0 Z"),
    ),
    (
        "mortise-surplus",
        ("G0 Z8.000\nM5", "G1 X40.000\nG0 Z8.000\nM5"),
        ("G0 Z8.000\nM5", "G1 X32.000\nG0 Z8.000\nM5"),
    ),
    (
        "mortise-walls",
        ("X32.100", "X32.090"),
        ("X32.100", "X32.096"),
    ),
    ("mortise-walls", ("15.000", "14.990"), ("15.000", "14.996")),
    (
        "mortise-walls",
        (" Y5.000", " Y5.010"),
        ("Y5.000\nG0 Z", "Y5.100\nG0 Z"),
    ),
    // The last side of the way round.
    (
        "mortise-walls",
        ("Y15.000\nG1 X31.000\nG1 Y5.000", "Y15.000\nG1 Y5.000"),
        ("Y5.000\nG0 Z", "Y5.100\nG0 Z"),
    ),
    (
        "mortise-depth",
        ("Z-1.000", "Z-1.010"),
        ("Z-1.000", "Z-1.004"),
    ),
    (
        "mortise-depth",
        ("Z-1.000", "Z-0.990"),
        ("Z-1.000", "Z-0.996"),
    ),
    (
        "mortise-depth",
        ("Y15.000\nG1 X31.000", "Y15.000\nG1 Z-0.990\nG1 X31.000"),
        ("Y15.000\nG1 X31.000", "Y15.000\nG1 Z-0.997\nG1 X31.000"),
    ),
    (
        "rapid-in-stock",
        ("G1 X32.100", "G0 X32.100"),
        ("G1 X32.100", "G1 X32.100"),
    ),
    (
        "spindle-stopped",
        ("S16000 M3\n", ""),
        ("S16000 M3", "S16000M3"),
    ),
    (
        "not-retracted",
        ("Y5.000\nG0 Z8.000", "Y5.000"),
        ("Y5.000\nG0 Z8.000", "Y5.000\nG0 Z7.000"),
    ),
];

#[test]
fn every_fault_is_found_and_its_near_twin_is_not_blamed() {
    let limits = Limits::tool_only(2.0);
    let clean = prove_by_hand(BY_HAND, &limits);
    assert!(clean.ok(), "{:?}", clean.faults);
    for (code, bad, twin) in CASES {
        let swapped = |(old, new): &Swap| {
            assert!(BY_HAND.contains(old), "{old}");
            prove_by_hand(&BY_HAND.replace(old, new), &limits)
        };
        let report = swapped(bad);
        let found = report.faults.iter().any(|fault| fault.code == *code);
        assert!(found && !report.ok(), "{code} {bad:?}: {:?}", report.faults);
        let report = swapped(twin);
        assert!(report.ok(), "{code} {twin:?}: {:?}", report.faults);
    }
    for (code, _) in MORTISE_CODES {
        assert!(CASES.iter().any(|(case, ..)| case == code), "{code}");
    }
}

#[test]
fn corners_in_a_mortise_must_be_exact_or_rested_in() {
    let limits = Limits {
        acceleration: Some(200.0),
        blending_tolerance_mm: Some(0.005),
        unbounded_blend_mm: Some(0.44),
        ..Limits::tool_only(2.0)
    };
    assert!(prove_by_hand(BY_HAND, &limits).ok());
    let blends = BY_HAND.replace("G61\n", "");
    let report = prove_by_hand(&blends, &limits);
    assert!(
        report
            .faults
            .iter()
            .any(|fault| fault.code == "blended-corner")
    );
    let cuts = blends.split_inclusive('\n');
    let rested: String = cuts
        .map(|line| {
            format!(
                "{line}{}",
                if line.starts_with("G1") {
                    "G4 P0.1\n"
                } else {
                    ""
                }
            )
        })
        .collect();
    let report = prove_by_hand(&rested, &limits);
    assert!(report.ok(), "{:?}", report.faults);
    // A corner above the wood is rounded above it, if it is high enough: up to 0.44 / (sqrt 2 - 1) mm
    // of both ways.
    for (height, ok) in [("0.100", false), ("2.000", true)] {
        let rise = format!("G1 Z{height}\nG1 X40.000\nG0 Z8.000\nM5");
        let report = prove_by_hand(&rested.replace("G0 Z8.000\nM5", &rise), &limits);
        assert_eq!(report.ok(), ok, "{:?}", report.faults);
    }
    let one_less = rested.replacen("X32.100\nG4 P0.1\n", "X32.100\n", 1);
    assert!(!prove_by_hand(&one_less, &limits).ok());
}

#[test]
fn a_cutter_wider_than_the_mortise_is_told() {
    let told = |diameter: f64| {
        let report = prove_by_hand(BY_HAND, &Limits::tool_only(diameter));
        report
            .faults
            .iter()
            .any(|fault| fault.code == "tool-too-wide")
    };
    assert!(told(3.2) && !told(3.1));
}
