//! How long the proof takes for ways of the same length in a mortise: level ones that go down at their
//! ends, ones that fall as they go along the rail or across it, and upright arcs of two radii; and how
//! that grows with the way.

use super::timing::{best, ratio};
use lapwright::verification::{ExpectedMortise, Limits, Tolerances, Workpiece, prove_mortises};
use std::fmt::Write;
use std::time::Duration;

/// Lengths of a way, mm.
const LENGTHS: [usize; 2] = [45, 450];

/// From end to end of a row, mm.
const ROW: usize = 9;

/// How deep a way leads in all, mm.
const DEEP: f64 = 9.0;

/// How a way leads from its beginning to its end.
#[derive(Debug, Clone, Copy)]
enum Way {
    /// To and fro along X; at every end straight down.
    Level,
    /// The same, but down as it goes.
    Falling,
    /// Falling, to and fro along Y.
    FallingAcross,
    /// Half circles of a radius of so many mm, one after the other along X, and back.
    Arcs(usize),
}

impl Way {
    fn name(self) -> String {
        match self {
            Way::Level => "level".into(),
            Way::Falling => "falling along the rail".into(),
            Way::FallingAcross => "falling across it".into(),
            Way::Arcs(radius) => format!("half circles of {radius} mm"),
        }
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // some thousands
    fn program(self, length: usize) -> String {
        let mut text = String::from("G21\nG17 G90 G94\nG54\nG0 Z8\nS16000 M3\nG4 P3\n");
        text += "G0 X50 Y10\nG1 Z0 F600\n";
        let rows = length / ROW;
        for row in 1..=rows {
            let depth = DEEP * row as f64 / rows as f64;
            let end = if row % 2 == 0 { 0.0 } else { ROW as f64 };
            match self {
                Way::Level => write!(text, "G1 X{:.3}\nZ-{depth:.4}\n", 50.0 + end),
                Way::Falling => writeln!(text, "G1 X{:.3} Z-{depth:.4}", 50.0 + end),
                Way::FallingAcross => writeln!(text, "G1 Y{:.3} Z-{depth:.4}", 10.0 + end),
                Way::Arcs(_) => Ok(()),
            }
            .unwrap();
        }
        if let Way::Arcs(radius) = self {
            text += "G18 G91\n";
            let radius = radius as f64;
            let arcs = (length as f64 / (radius * std::f64::consts::PI)).ceil() as usize;
            for arc in 0..arcs {
                let (turn, side) = if arc % 2 == 0 { (2, 1.0) } else { (3, -1.0) };
                let (across, centre) = (2.0 * radius * side, radius * side);
                writeln!(text, "G{turn} X{across} Z0 I{centre} K0").unwrap();
            }
            text += "G90 G17\n";
        }
        text + "G0 Z8\nM5\nM2\n"
    }
}

fn proved(text: &str) -> Duration {
    let workpiece = Workpiece::plain(1, 30.0, 60.0, 400.0);
    let mortise = ExpectedMortise {
        index: 1,
        x_mm: [48.0, 61.0],
        y_mm: [8.0, 21.0],
        depth_mm: DEEP,
    };
    let (limits, tolerances) = (Limits::tool_only(3.0), Tolerances::default());
    let prove = || {
        prove_mortises(
            text.as_bytes(),
            &workpiece,
            &[mortise],
            &limits,
            &tolerances,
        )
    };
    let (taken, report) = best(prove);
    let refused = report.faults.iter().find(|fault| fault.code == "arc");
    assert!(report.moves > 3 && refused.is_none());
    taken
}

/// Times beside level ways of the same length, and growth from length to length.
pub(super) fn print_ways() {
    let level = LENGTHS.map(|length| proved(&Way::Level.program(length)));
    for way in [
        Way::Level,
        Way::Falling,
        Way::FallingAcross,
        Way::Arcs(2),
        Way::Arcs(20),
    ] {
        let taken = LENGTHS.map(|length| proved(&way.program(length)));
        let [short, long] = taken;
        println!(
            "proof of {} mm, {}: {:.2} us a mm, {:.2} times level ones; time from {} mm on over ten times as much {:.2}",
            LENGTHS[1],
            way.name(),
            long.as_secs_f64() * 1e6 / LENGTHS[1] as f64,
            ratio(long, level[1]),
            LENGTHS[0],
            ratio(long, short) / 10.0,
        );
    }
}
