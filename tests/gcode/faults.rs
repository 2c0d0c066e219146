//! Every code of a fault: a program that has it, and a near twin that has not.

use crate::bench::cases::{cases, swap};
use crate::bench::{limits, notches, workpiece};
use lapwright::verification::faults::CODES;
use lapwright::verification::{Limits, ProgramReport, Tolerances, prove_program};

fn prove(text: &str, limits: &Limits) -> ProgramReport {
    prove_program(
        text.as_bytes(),
        &workpiece(),
        Some(&notches()),
        limits,
        &Tolerances::default(),
    )
}

#[test]
fn every_fault_is_found_and_its_near_twin_is_not_blamed() {
    let mut wrong = Vec::new();
    for (number, case) in cases().iter().enumerate() {
        let bad = prove(&case.bad, &case.limits[0]);
        let twin = prove(&case.twin, &case.limits[1]);
        let name = format!("case {number}, {}", case.code);
        if !bad.faults.iter().any(|fault| fault.code == case.code) || bad.ok() {
            wrong.push(format!("{name}: not found; {:?}", bad.faults));
        }
        if twin.faults.iter().any(|fault| fault.code == case.code) {
            wrong.push(format!("{name}: twin blamed; {:?}", twin.faults));
        } else if case.clean && !twin.ok() {
            wrong.push(format!("{name}: twin not clean; {:?}", twin.faults));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_code_has_a_case_and_every_fault_a_known_code() {
    for (code, meaning) in CODES {
        assert!(cases().iter().any(|case| case.code == *code), "{code}");
        assert!(!meaning.is_empty());
    }
    for case in cases() {
        for fault in prove(&case.bad, &case.limits[0]).faults {
            assert!(
                CODES.iter().any(|(code, _)| *code == fault.code),
                "{fault:?}"
            );
        }
    }
}

/// A fault names the line of the word that is wrong.
#[test]
fn faults_have_their_lines() {
    let text = swap("G1 Y27.500 F900\n", "G0 Y27.500\nF900\n");
    let report = prove(&text, &limits());
    let fault = report
        .faults
        .iter()
        .find(|f| f.code == "rapid-in-stock")
        .unwrap();
    let line = text.lines().position(|line| line == "G0 Y27.500").unwrap() + 1;
    assert_eq!(fault.line, line);
    let text = swap("G1 X14.475", "G1 X#1");
    let report = prove(&text, &limits());
    assert_eq!((report.faults[0].line, report.faults[0].column), (13, 5));
}
