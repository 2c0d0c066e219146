//! Every code of a fault: a program that has it, and a near twin that has not.

use super::{FOOT, HEAD, limits, notch_moves, program};
use lapwright::verification::{DwellUnit, Limits};

/// A program that has a fault, and a near twin that has not.
pub struct Case {
    pub code: &'static str,
    pub bad: String,
    pub twin: String,
    pub limits: [Limits; 2],
    /// Whether the twin has nothing wrong at all.
    pub clean: bool,
}

fn case(code: &'static str, bad: impl Into<String>, twin: impl Into<String>) -> Case {
    Case {
        code,
        bad: bad.into(),
        twin: twin.into(),
        limits: [limits(), limits()],
        clean: true,
    }
}

impl Case {
    fn with(mut self, change: impl Fn(&mut Limits, bool)) -> Self {
        change(&mut self.limits[0], true);
        change(&mut self.limits[1], false);
        self
    }

    fn unclean(mut self) -> Self {
        self.clean = false;
        self
    }
}

/// The good program with one text replaced by another, once.
pub fn swap(old: &str, new: &str) -> String {
    let text = program();
    assert!(text.contains(old), "{old}");
    text.replacen(old, new, 1)
}

/// The good program with lines put in where the spindle still runs, parked beside the bundle at
/// X0 Y-5 Z5.
fn late(lines: &str) -> String {
    swap("M5\n", &format!("{lines}M5\n"))
}

/// The good program with a middle notch moved.
fn moved(by: f64) -> String {
    let moves: String = [15.0, 57.0 + by, 99.0].map(notch_moves).concat();
    format!("{HEAD}{moves}{FOOT}")
}

/// The good program with its first notch turned: x grows by `slope` for each mm of y.
fn turned(slope: f64) -> String {
    let mut text = HEAD.to_owned();
    let x = |y: f64, off: f64| 15.0 + off + slope * (y - 12.0);
    for depth in [3.0, 6.0] {
        text += &format!("G0 X{:.4} Y-3.5\nG1 Z-{depth} F300\nF900\n", x(-3.5, 0.0));
        for (off, y, back) in [(0.0, -3.5, 27.5), (-0.525, 27.5, -3.5), (0.525, -3.5, 27.5)] {
            text += &format!("G1 X{:.4}\nG1 X{:.4} Y{back}\n", x(y, off), x(back, off));
        }
        text += "G0 Z5\n";
    }
    text + &notch_moves(57.0) + &notch_moves(99.0) + FOOT
}

fn reading_cases() -> Vec<Case> {
    let line = "G1 X14.475";
    let comment = |length: usize| format!("({}\n", "x".repeat(length - 2) + ")");
    vec![
        case(
            "character",
            swap("(notch at 15.000)", "(notch at 15.000!)"),
            swap("(notch at 15.000)", "(notch at 15.000.)"),
        ),
        case(
            "number",
            swap(line, "G1 X14.4.75"),
            swap(line, "G1 X14.4 75"),
        ),
        case(
            "comment",
            swap("15.000)", "15.000"),
            swap("15.000)", "15.000,)"),
        ),
        case(
            "percent",
            program().replace("M2\n", "%\n"),
            format!("%\n{}", program().replace("M2\n", "%\n")),
        ),
        case("parameter", swap(line, "G1 X#1"), program()),
        case("expression", swap(line, "G1 X[14.475]"), program()),
        case(
            "subprogram",
            format!("O100\n{}", program()),
            format!("N100\n{}", program()),
        ),
        case(
            "block-delete",
            swap(line, "/G1 X14.475"),
            swap(line, "G1 X14.475 (/)"),
        ),
        case(
            "axis",
            swap(line, "G1 X14.475 A1"),
            swap(line, "G1 X14.475 T1"),
        ),
        case(
            "words",
            swap(line, "G1 X14.475 I1"),
            swap(line, "G1 X14.475 F900"),
        ),
        case(
            "modal-group",
            swap(line, "G0 G1 X14.475"),
            swap(line, "G0\nG1 X14.475"),
        ),
        case(
            "unknown-code",
            swap(line, "G41\nG1 X14.475"),
            swap(line, "G40\nG1 X14.475"),
        ),
        case("code-not-taken", late("T1 M6\n"), late("T1\n")),
        case(
            "line-too-long",
            format!("{}{}", comment(73), program()),
            format!("{}{}", comment(72), program()),
        ),
        case(
            "line-end",
            program().replace('\n', "\r"),
            program().replace('\n', "\r\n"),
        ),
        case("line-end", swap("G54\n", "G54\r"), swap("G54\n", "G54\r\n")),
        case("last-line-open", program().trim_end(), program()),
        case(
            "arc",
            late("G2 X20.000 Y-5.000 I10.100 J0 F600\n"),
            late("G2 X20.000 Y-5.000 I10.000 J0 F600\n"),
        ),
        case(
            "arc-rounding",
            late("G2 X20.000 Y-5.000 R10.001 F600\n"),
            late("G2 X20.000 Y-5.000 R12.000 F600\n"),
        ),
        case(
            "cycle",
            late("G81 X20.000 Z6.000 F300\nG80\n"),
            late("G81 X20.000 Z6.000 R7.000 F300\nG80\n"),
        ),
    ]
}

fn beginning_and_end_cases() -> Vec<Case> {
    let arc = "G2 X20.000 Y-5.000 R12.000 F600\n";
    let no_plane = |text: String| text.replace("G17 G90 G94", "G90 G94");
    vec![
        case("units-unstated", swap("G21\n", ""), swap("G21\n", "g 21\n")),
        case(
            "distance-unstated",
            swap("G17 G90 G94", "G17 G94"),
            program(),
        ),
        case("plane-unstated", no_plane(late(arc)), no_plane(program())),
        case(
            "feed-mode-unstated",
            swap("G17 G90 G94", "G17 G90"),
            program(),
        ),
        case(
            "work-zero-unstated",
            swap("G54\n", ""),
            swap("G54\n", "G54 (zero)\n"),
        ),
        case("units-changed", late("G20\nG21\n"), late("G21\n")),
        case(
            "feed-before-units",
            swap("G21\n", "G21 F300\n"),
            swap("G21\n", "G21\nF300\n"),
        ),
        case("no-end", swap("M2\n", ""), swap("M2\n", "M30\n")),
        case(
            "text-after-end",
            program() + "G0 Z9.000\n",
            program() + "\n(nothing)\nN9 M30\n",
        ),
        case(
            "text-after-end",
            format!("%\n{}%\nG0 Z9.000\n", program()),
            format!("%\n{}%\n\n%\n", program()),
        ),
        case(
            "not-retracted",
            late("G1 Z-1.000 F300\n"),
            late("G1 Z3.000 F300\n"),
        ),
    ]
}

fn zero_cases() -> Vec<Case> {
    vec![
        case("position-unknown", swap("G0 Z5.000\n", ""), program()),
        case(
            "position-unknown",
            swap("G0 Z5.000\n", "G0 Z1.000\n"),
            swap("G0 Z5.000\n", "G0 Z4.000\n"),
        ),
        case(
            "position-unknown",
            swap("G0 Z5.000\n", "G0 X0 Z5.000\n"),
            program(),
        ),
        case(
            "position-unknown",
            late("G53 G0 Z-1.000\nG0 X5.000\n"),
            late("G0 Z19.000\nG0 X5.000\n"),
        )
        .with(|limits, _| limits.program_zero_mm = None),
        case(
            "position-unknown",
            late("G53 G0 Z-1.000\n"),
            late("G53 G0 Z-1.000\n"),
        )
        .with(|limits, bad| limits.zero_is_nominal = bad),
        case("home", late("G28 Z5.000\n"), late("G53 G0 Z-1.000\n")),
        case("renamed-zero", late("G92 X0\n"), program()),
        case("stored-zero", late("G10 L20 P2 X0\n"), program()),
        case("other-zero", late("G55\n"), late("G54\n")),
        case("tool-length", late("G43 H1\n"), late("G49\n")),
        case(
            "tool-change",
            late("T2 M6\n"),
            swap("S12000 M3\n", "T2 M6\nS12000 M3\n"),
        )
        .with(|limits, _| limits.codes_not_taken.clear()),
    ]
}

fn process_cases() -> Vec<Case> {
    let cut = "G1 Y27.500 F900\n";
    let start = "S12000 M3\n";
    let restart = "M5\nS12000 M3\nG4 P3\n";
    // Through the first notch once more, where all wood is gone.
    let again = |before: &str, x: &str, z: &str| {
        late(&format!(
            "{before}G0 X{x} Y-3.500\nG1 Z{z} F300\nG1 Y27.500 F900\nG0 Z5.000\n"
        ))
    };
    let inside = |then: &str| {
        late(&format!(
            "G0 X15.525 Y-3.500\nG1 Z-6.000 F300\nG1 Y12.000 F900\n{then}G0 Z5.000\n"
        ))
    };
    vec![
        // Along a wall, along the floor; clear of both.
        case(
            "spindle-stopped",
            again("M5\n", "15.525", "-6.000"),
            again("", "15.525", "-6.000"),
        ),
        case(
            "spindle-stopped",
            again("M5\n", "15.510", "-5.000"),
            again("M5\n", "15.500", "-5.000"),
        ),
        case(
            "spindle-stopped",
            again("M5\n", "15.000", "-6.000"),
            again("M5\n", "15.000", "-5.900"),
        ),
        // Straight up out of it, at full speed.
        case("spindle-stopped", inside("M5\n"), inside("")),
        case(
            "spindle-backwards",
            again("M5\nM4\nG4 P3\n", "15.525", "-6.000"),
            again("M5\nM3\nG4 P3\n", "15.525", "-6.000"),
        ),
        case(
            "no-spin-up",
            again("M5\nM3\nG4 P2.9\n", "15.525", "-6.000"),
            again("M5\nM3\nG4 P3\n", "15.525", "-6.000"),
        ),
        case(
            "no-feed",
            swap("S12000 M3\n", "G1\nG0\nS12000 M3\n"),
            swap("S12000 M3\n", "F300\nG1\nG0\nS12000 M3\n"),
        ),
        case("spindle-stopped", swap(start, ""), program()),
        case(
            "spindle-stopped",
            swap(cut, &format!("S0\n{cut}")),
            program(),
        ),
        case("spindle-backwards", swap(start, "S12000 M4\n"), program()),
        case(
            "no-spindle-speed",
            swap(start, "M3\n"),
            swap(start, "S12000\nM3\n"),
        ),
        case(
            "spindle-speed",
            swap(start, "S24001 M3\n"),
            swap(start, "S24000 M3\n"),
        ),
        case(
            "spindle-speed",
            swap(start, "S9999 M3\n"),
            swap(start, "S10000 M3\n"),
        ),
        case(
            "no-spin-up",
            swap("G4 P3.0", "G4 P2.9"),
            swap("G4 P3.0", "G4 P1.5\nG4 P1.5"),
        ),
        case(
            "no-spin-up",
            swap("S12000 M3\nG4 P3.0", "G4 P3.0\nS12000 M3"),
            program(),
        ),
        case(
            "spindle-switched-in-stock",
            swap(cut, &format!("G1 Y12.000 F900\n{restart}G1 Y27.500\n")),
            swap(cut, &format!("{cut}{restart}")),
        ),
        case("no-spindle-stop", swap("M5\n", ""), swap("M5\n", "M05\n")),
        case("stop-while-turning", late("M0\n"), swap("M5\n", "M5\nM0\n")),
        case(
            "dwell-unit",
            swap("G4 P3.0", "G4 P3000"),
            swap("G4 P3.0", "G4 P30"),
        ),
        case(
            "dwell-unit",
            swap("G4 P3.0", "G4 P3.0"),
            swap("G4 P3.0", "G4 P3000"),
        )
        .with(|limits, _| {
            limits.dwell_unit = Some(DwellUnit::Milliseconds);
        }),
        case(
            "no-feed",
            swap("G1 Z-3.000 F300", "G1 Z-3.000"),
            swap("G1 Z-3.000 F300", "F300\nG1 Z-3.000"),
        ),
        case(
            "feed-too-fast",
            swap("F900", "F1001"),
            swap("F900", "F1000"),
        ),
        // 900 mm/min at 12000 turns a minute is 0.075 mm a turn.
        case("chip-too-thick", program(), program()).with(|limits, bad| {
            limits.max_feed_per_turn_mm = Some(if bad { 0.0749 } else { 0.075 });
        }),
        case("feed-too-slow", swap("F900", "F499"), swap("F900", "F500")),
        case(
            "plunge-too-fast",
            swap("F300", "F301"),
            swap("F300", "F200"),
        ),
    ]
}

/// The first notch begun along a ramp from before the bundle to behind it, 31 mm long, then level.
fn ramped(x: &str, from: &str) -> String {
    swap(
        "G0 X15.000 Y-3.500\nG1 Z-3.000 F300\nG1 Y27.500 F900\n",
        &format!(
            "G0 X{x} Y-3.500\nG1 Z{from} F300\nG1 Y27.500 Z-3.000 F900\nG1 Y-3.500\nG1 Y27.500\n"
        ),
    )
}

fn ramp_cases() -> Vec<Case> {
    let extra = |x: &str| {
        late(&format!(
            "G0 X{x} Y-3.500\nG1 Z0.100 F300\nG1 Y27.500 Z-3.000 F900\nG0 Z5.000\n"
        ))
    };
    let in_steps = "G0 X15.000 Y-3.500\nG1 Z-3.000 F300\nG1 Y27.500 F900\n";
    let stairs = |way: &str| {
        let level = "G1 Y27.500\nG1 Y-3.500\nG1 Y27.500\n";
        swap(
            in_steps,
            &format!("G0 X15.000 Y-3.500\nG1 Z0.000 F300\n{way}{level}"),
        )
    };
    vec![
        case(
            "ramp-too-steep",
            ramped("15.000", "0.444"),
            ramped("15.000", "0.100"),
        ),
        case(
            "ramp-too-steep",
            ramped("15.000", "0.107"),
            ramped("15.000", "0.102"),
        ),
        // Beside the notch, and where there is none.
        case(
            "plunge",
            ramped("15.530", "0.100"),
            ramped("15.526", "0.100"),
        ),
        case("plunge", extra("120.000"), extra("15.000")),
        // To and fro inside the bundle; a step straight down is none.
        case(
            "plunge",
            stairs(
                "G1 Y5.000 F900\nG1 Z-0.100\nG1 Y15.000 Z-1.100\nG1 Y5.000 Z-2.000\nG1 Y15.000 Z-3.000\n",
            ),
            stairs("G1 Y5.000 F900\nG1 Y15.000 Z-1.000\nG1 Y5.000 Z-2.000\nG1 Y15.000 Z-3.000\n"),
        ),
        case(
            "rapid-in-stock",
            ramped("15.000", "0.100")
                .replace("G1 Y27.500 Z-3.000 F900", "G0 Y27.500 Z-3.000\nF900"),
            ramped("15.000", "0.100"),
        ),
    ]
}

fn space_cases() -> Vec<Case> {
    let cut = "G1 Y27.500 F900\n";
    let corner = "G1 Y12.000 F900\nG1 X15.200\nG1 Y14.000\nG1 X15.000\nG1 Y27.500\n";
    let beside = |way: &str| format!("G0 X-8.000\nG0 Y2.000\nG1 Z-1.000 F300\n{way}G0 Z5.000\n");
    let around = |way: &str| format!("G0 X25.000\nG0 Y-20.000\nG1 Z3.000 F300\n{way}G0 Z5.000\n");
    let over = |z: &str| late(&format!("G0 Z{z}\nG0 Y30.000\nG0 Z5.000\n"));
    let down = |z: &str| {
        late(&format!(
            "G0 X120.000\nG0 Y10.000\nG1 Z{z} F300\nG0 Z5.000\n"
        ))
    };
    let deep = |z: &str| late(&format!("G1 Z{z} F300\nG0 Z5.000\n"));
    let clamp =
        |x: &str, z: &str| late(&format!("G0 X{x}\nG0 Y-10.000\nG1 Z{z} F300\nG0 Z5.000\n"));
    vec![
        case("rapid-in-stock", swap(cut, "G0 Y27.500\nF900\n"), program()),
        case(
            "rapid-in-stock",
            late("G0 X20.000 Y-3.500\nG1 Z-1.000 F300\nG0 X0.000 Y1.000\n"),
            late("G0 X20.000 Y-3.500\nG1 Z-1.000 F300\nG1 X0.000 F900\nG0 Z5.000\n"),
        ),
        // Beside the bundle it meets no wood, but whatever holds the bundle stands there.
        case(
            "low-rapid",
            late("G0 X20.000 Y-3.500\nG1 Z-1.000 F300\nG0 X0.000\nG0 Z5.000\n"),
            late("G0 X20.000 Y-3.500\nG1 Z-1.000 F300\nG1 X0.000 F900\nG0 Z5.000\n"),
        ),
        // Straight it passes the bundle's corner; each axis at its own speed, it may not.
        case(
            "rapid-in-stock",
            late(&beside("G0 X2.000 Y-8.000\n")),
            late(&beside("G1 Y-8.000 F900\nG1 X2.000\n")),
        ),
        case("low-rapid", over("1.000"), over("2.000")),
        case("plunge", down("-0.500"), down("0.500")),
        case("pass-too-deep", swap("Z-3.000", "Z-3.100"), program()),
        case("shank-in-stock", program(), program())
            .with(|limits, bad| limits.flute_length_mm = Some(if bad { 5.9 } else { 6.0 })),
        case("into-table", deep("-12.001"), deep("-12.000")),
        case(
            "keep-out",
            clamp("36.000", "3.999"),
            clamp("36.000", "4.000"),
        ),
        case(
            "keep-out",
            clamp("43.500", "-1.000"),
            clamp("43.600", "-1.000"),
        ),
        case(
            "outside-travel",
            late("G0 Y-80.010\n"),
            late("G0 Y-80.000\n"),
        ),
        case(
            "keep-out",
            late(&around("G0 X36.000 Y-4.000\n")),
            late(&around("G0 Y-4.000\nG0 X36.000\n")),
        ),
        case("outside-travel", late("G0 Z20.010\n"), late("G0 Z20.000\n")),
        case("outside-travel", late("G0 Z39.010\n"), late("G0 Z39.000\n"))
            .with(|limits, _| limits.zero_is_nominal = true),
        case(
            "blended-corner",
            swap(cut, corner).replace("G61", "G64"),
            swap(cut, corner),
        ),
        case("blended-corner", swap(cut, corner), swap(cut, corner)).with(ignoring_exact_path),
        case(
            "blended-corner",
            swap(cut, corner).replace("G61", "G64 P0.02"),
            swap(cut, corner).replace("G61", "G64 P0.01"),
        ),
        // 900 mm/min is 15 mm/s: 15 * 15 / 2a is 0.01 where a is 11250.
        case(
            "blended-corner",
            swap(cut, corner).replace("G61", "G64"),
            swap(cut, corner).replace("G61", "G64"),
        )
        .with(|limits, bad| limits.acceleration = Some(if bad { 11_200.0 } else { 11_300.0 })),
    ]
}

fn ignoring_exact_path(limits: &mut Limits, bad: bool) {
    limits.exact_path_ignored = bad;
}

fn notch_cases() -> Vec<Case> {
    let two = format!("{HEAD}{}{}{FOOT}", notch_moves(15.0), notch_moves(57.0));
    let four = program().replace(FOOT, &(notch_moves(130.0) + FOOT));
    let deeper = |z: &str| program().replace("Z-6.000", z);
    let wider = |x: &str| program().replace("X14.475", x);
    vec![
        case("tool-too-wide", program(), program())
            .with(|limits, bad| limits.tool_diameter_mm = if bad { 3.06 } else { 3.05 })
            .unclean(),
        case("notch-missing", two, program()),
        case("notch-surplus", four, program()),
        case("notch-centre", moved(0.01), moved(0.002)),
        case("notch-width", wider("X14.465"), wider("X14.472")),
        case("notch-width", wider("X14.485"), wider("X14.478")),
        case("notch-depth", deeper("Z-5.990"), deeper("Z-5.998")),
        case("notch-depth", deeper("Z-6.010"), deeper("Z-6.002")),
        case("notch-angle", turned(0.004), turned(0.0001)),
        case("thin-web", moved(-0.02), moved(-0.002)),
    ]
}

/// All of them.
pub fn cases() -> Vec<Case> {
    let mut all = reading_cases();
    all.extend(beginning_and_end_cases());
    all.extend(zero_cases());
    all.extend(process_cases());
    all.extend(space_cases());
    all.extend(ramp_cases());
    all.extend(notch_cases());
    all
}
