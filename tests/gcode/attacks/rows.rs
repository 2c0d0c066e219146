//! Harmful programs by what they play with, each with the code that must name it.

use super::{Bench, Row, in_inches, row};

/// Zeros and frames.
pub(super) fn frames(bench: &Bench) -> Vec<Row> {
    let (late, between) = (|l: &str| bench.late(l), |l: &str| bench.between(l));
    let in_machine_frame = |text: &str| {
        // Where the stock's top should be if the safe height were the top of the travel.
        text.replacen("G1 Z-6.000", "G53 G1 Z-14.000", 1)
    };
    vec![
        row("renamed-zero", "zero renamed", between("G92 X75.000\n")),
        row("renamed-zero", "and renamed off", between("G92.1\n")),
        row("stored-zero", "G10 L20", between("G10 L20 P1 X75.000\n")),
        row("stored-zero", "G10 L2", between("G10 L2 P1 X15.000\n")),
        row("other-zero", "G55 in between", between("G55\n")),
        row("unknown-code", "G52", between("G52 X1.000\n")),
        row(
            "position-unknown",
            "depth in the machine's frame",
            in_machine_frame(bench.good()),
        ),
        row(
            "position-unknown",
            "through the stock in the machine's frame",
            late("G53 G0 X45.000 Y33.000 Z-10.000\n"),
        ),
        row("tool-length", "G43 H1", between("G43 H1\n")),
        row("unknown-code", "G43.1", between("G43.1 Z1.000\n")),
        row("unknown-code", "G41 D1", between("G41 D1\n")),
        row("unknown-code", "G68", between("G68 X0 Y0 R1\n")),
        row("unknown-code", "G51", between("G51 X1.01\n")),
        row("home", "G28", late("G28 Z1.000\n")),
        row("home", "G30", late("G30\n")),
        row("units-changed", "inches for a while", between("G20\nG21\n")),
        row(
            "feed-before-units",
            "a feed in old units",
            bench.swap("G21\n", "F300 G21\n"),
        ),
        row(
            "work-zero-unstated",
            "whatever zero is in force",
            bench.swap("G54\n", ""),
        ),
    ]
}

/// Bytes, lines and words.
pub(super) fn spelling(bench: &Bench) -> Vec<Row> {
    let (late, low) = (|l: &str| bench.late(l), |l: &str| bench.low(l));
    let good = bench.good();
    let over = |line: &str| late(&format!("G0 X30.000 Y3.000\n{line}\n"));
    let with = |bytes: &[u8]| [bytes, good.as_bytes()].concat();
    vec![
        row(
            "rapid-in-stock",
            "behind a comment",
            over("(up) G0 Z-2.000"),
        ),
        row(
            "rapid-in-stock",
            "between comments",
            over("(up)G0(there)Z-2.(!)").replace("(!)", "(x)"),
        ),
        row("rapid-in-stock", "in small letters", over("g0z-2.000")),
        row("rapid-in-stock", "with blanks", over("G 0 Z - 2 . 0")),
        row("rapid-in-stock", "with leading zeros", over("G00 Z-002.0")),
        row("rapid-in-stock", "behind a number", over("N10G0Z-2.")),
        row("rapid-in-stock", "a code nearly G0", over("G0.00001 Z-2.")),
        row("words", "two numbers", over("N10 N20 G0 Z-2.000")),
        row("words", "a number at the end", over("G0 Z9.000 N10")),
        row("words", "two X", low("G1 X15.325 X45.325\n")),
        row("words", "an I in a straight line", low("G1 X15.325 I2\n")),
        row("modal-group", "two motions", low("G0 G1 X15.325\n")),
        row("number", "an exponent", low("G1 X1.5325E1\n")),
        row("number", "a huge number", low("G1 X99999999.000\n")),
        row("number", "two points", low("G1 X15.32.5\n")),
        row("number", "two signs", late("G0 Z--9.000\n")),
        row("character", "a comma", low("G1 X15,325\n")),
        row("axis", "a fourth axis", low("G1 A90.000\n")),
        row("axis", "steps by U", low("G1 U-1.000\n")),
        row("parameter", "a parameter", low("G1 X#1\n")),
        row("parameter", "setting one", late("#5221=10\n")),
        row("expression", "an expression", low("G1 X[15+0.325]\n")),
        row("subprogram", "O word", format!("O100\n{good}")),
        row("unknown-code", "M98", late("M98 P100\n")),
        row("unknown-code", "G65", late("G65 P100\n")),
        row("unknown-code", "M62", late("M62 P1\n")),
        row(
            "block-delete",
            "perhaps",
            bench.swap("G0 Z8.000", "/G0 Z8.000"),
        ),
        row("comment", "never closed", late("(up now\nG0 X0.000\n")),
        row("comment", "one in another", late("(a (b) G0 Z-2.000)\n")),
        row("comment", "a command in one", late("(PRINT, done)\n")),
        row("comment", "a semicolon", late("; done\n")),
        row(
            "character",
            "a comment with a dash",
            late("(a \u{2013} b)\n"),
        ),
        row("character", "a live byte in a comment", late("(go!)\n")),
        row("character", "a NUL", late("G0\0 Z9.000\n")),
        row("line-end", "CR alone", good.replace('\n', "\r")),
        row(
            "line-end",
            "CR before LF is lost once",
            good.replacen('\n', "\r", 1),
        ),
        row("character", "an escape", late("(a\x1b[2J)\n")),
        row("character", "a byte order mark", with(b"\xef\xbb\xbf")),
        row("character", "UTF-16", with(b"\xff\xfe")),
        row("percent", "% in mid-program", late("%\n")),
        row(
            "text-after-end",
            "% that ends it early",
            format!("%\n{}", late("%\n")),
        ),
        row("text-after-end", "M30 early", late("M5\nM30\n")),
        row("text-after-end", "more behind", format!("{good}G0 Z-2.0\n")),
        row("no-end", "cut short", good.replace("M30\n", "")),
        row("no-end", "an empty file", ""),
        row(
            "line-too-long",
            "a long comment",
            late(&format!("({})\n", "x".repeat(300))),
        ),
        row(
            "line-too-long",
            "codes beyond the end of a line",
            late(&format!("({}) G0 Z-2.000\n", "x".repeat(70))),
        ),
    ]
}

/// Spindle, waits, feeds.
pub(super) fn process(bench: &Bench) -> Vec<Row> {
    let swap = |old: &str, new: &str| bench.swap(old, new);
    let (start, wait, cut) = ("S16000 M3\n", "G4 P4.0\n", "G1 Y8.500 F800\n");
    // Along the first notch's wall, when all is cut.
    let again = |before: &str, end: &str| {
        bench.late(&format!(
            "{before}G0 X15.525 Y-2.500\nG1 Z-6.000 F300\nG1 Y{end} F800\n"
        ))
    };
    vec![
        row(
            "spindle-stopped",
            "a finished notch, stopped",
            again("M5\n", "8.500\nG0 Z8.000"),
        ),
        row(
            "spindle-backwards",
            "a finished notch, backwards",
            again("M5\nM4\nG4 P4.0\n", "8.500\nG0 Z8.000"),
        ),
        row(
            "spindle-stopped",
            "up out of a finished notch",
            again("", "3.000 (there)\nM5\nG0 Z8.000").replace("G54\n", "G54\nG61\n"),
        ),
        row(
            "spindle-stopped",
            "at full speed along it",
            again("M5\n", "3.000\nG0 Y8.500\nG0 Z8.000"),
        ),
        row(
            "no-feed",
            "G1 before any F",
            swap("G0 Z8.000\n", "G1\nG0 Z8.000\n"),
        ),
        row("no-spin-up", "no wait", swap(wait, "")),
        row("no-spin-up", "no time", swap(wait, "G4 P0\n")),
        row("dwell-unit", "milliseconds", swap(wait, "G4 P4000\n")),
        row(
            "no-spin-up",
            "wait, then start",
            swap("S16000 M3\nG4 P4.0\n", "G4 P4.0\nS16000 M3\n"),
        ),
        row("no-spindle-speed", "S0", swap(start, "S0 M3\n")),
        row("no-spindle-speed", "no S", swap(start, "M3\n")),
        row("spindle-speed", "too fast", swap(start, "S24100 M3\n")),
        row("spindle-speed", "too slow", swap(start, "S1600 M3\n")),
        row("spindle-backwards", "M4", swap(start, "S16000 M4\n")),
        row("spindle-stopped", "never started", swap(start, "")),
        row(
            "spindle-switched-in-stock",
            "stopped and started in the cut",
            swap(cut, "G1 Y3.000 F800\nM5\nM3\nG4 P4.0\nG1 Y8.500 F800\n"),
        ),
        row(
            "spindle-stopped",
            "stopped in the cut for good",
            swap(cut, "G1 Y3.000 F800\nM5\nG1 Y8.500 F800\n"),
        ),
        row("no-spin-up", "a new start", bench.between("M5\nM3\n")),
        row("no-spin-up", "a new speed", bench.between("S20000\n")),
        row("stop-while-turning", "M0", bench.between("M0\n")),
        row("stop-while-turning", "M1", bench.between("M1\n")),
        row("no-spindle-stop", "runs on", swap("M5\n", "")),
        row(
            "tool-change",
            "another tool",
            bench.between("M5\nT2 M6\nM3\nG4 P4.0\n"),
        ),
        row("no-feed", "F0", swap(cut, "G1 Y8.500 F0\n")),
        row("feed-too-fast", "F3000", swap(cut, "G1 Y8.500 F3000\n")),
        row("chip-too-thick", "F1600", swap(cut, "G1 Y8.500 F1600\n")),
        row(
            "chip-too-thick",
            "half the speed",
            swap(start, "S8000 M3\n"),
        ),
        row("feed-too-slow", "F80", swap(cut, "G1 Y8.500 F80\n")),
        row(
            "plunge-too-fast",
            "down at the feed of cuts",
            swap("G1 Z-1.500 F300\n", "G1 Z-1.500 F800\n"),
        ),
        row(
            "feed-too-fast",
            "inverse time",
            swap(cut, "G93\nG1 Y8.500 F800\nG94 F800\n"),
        ),
        row(
            "unknown-code",
            "feed tied to the turns",
            swap(cut, "G95\nG1 Y8.500 F0.05\nG94 F800\n"),
        ),
    ]
}

/// Where the tool goes and what it cuts.
pub(super) fn paths(bench: &Bench) -> Vec<Row> {
    let (swap, late, low) = (
        |old: &str, new: &str| bench.swap(old, new),
        |l: &str| bench.late(l),
        |l: &str| bench.low(l),
    );
    let beside = |lines: &str| {
        late(&format!(
            "G0 X30.000 Y-2.500\nG1 Z-1.000 F300\n{lines}G0 Z8.000\n"
        ))
    };
    let turned_inside = bench.good().replace("Y8.500", "Y7.000");
    let skin = {
        let at = bench.good().rfind("G1 X84.475\n").unwrap();
        let mut text = bench.good().to_owned();
        text.replace_range(at..at + 10, "G1 X84.675");
        text
    };
    vec![
        row(
            "plunge",
            "down again at the end",
            late("G0 X30.000 Y3.000\nG1 Z-3.000 F300\nG0 Z8.000\n"),
        ),
        row(
            "plunge",
            "down a ramp",
            late("G0 X30.000 Y-2.500\nG1 Y3.000 Z-1.000 F300\nG0 Z8.000\n"),
        ),
        row(
            "plunge",
            "a drilling cycle",
            late("G81 X30.000 Y3.000 Z-4.000 R1.000 F300\nG80\n"),
        ),
        row(
            "plunge",
            "a pecking cycle repeated",
            late("G0 X30.000 Y3.000\nG91 G83 X1.000 Z-5.000 R-6.000 Q1.000 L3 F300\nG80\nG90\n"),
        ),
        row(
            "plunge",
            "an upright arc",
            late("G0 X20.000 Y3.000\nG18 G2 X40.000 Z8.000 I10.000 K0 F300\nG17\n"),
        ),
        row(
            "notch-surplus",
            "an arc into the side",
            beside("G2 X36.000 Y-2.500 I3.000 J0 F800\n"),
        ),
        row(
            "notch-surplus",
            "a whole circle",
            beside("G2 X30.000 Y-2.500 I0 J2.000 F800\n"),
        ),
        row(
            "notch-surplus",
            "a slot too many",
            beside("G1 Y8.500 F800\n"),
        ),
        row(
            "arc",
            "an arc that misses its end",
            beside("G2 X36.000 Y-2.500 I3.100 J0 F800\n"),
        ),
        row(
            "pass-too-deep",
            "two passes in one, the total right",
            swap("G1 Z-1.500 F300", "G1 Z-3.000 F300"),
        ),
        row(
            "notch-depth",
            "too deep",
            bench.good().replace("Z-6.000", "Z-6.010"),
        ),
        row(
            "notch-depth",
            "too shallow",
            bench.good().replace("Z-6.000", "Z-5.990"),
        ),
        row("notch-width", "a wall left standing", skin),
        row(
            "notch-missing",
            "one strip only",
            bench.good().replace("Y8.500", "Y1.000"),
        ),
        row(
            "blended-corner",
            "turned too near the bundle",
            turned_inside,
        ),
        row(
            "blended-corner",
            "far rounded corners",
            swap("G54\n", "G54\nG64 P5.000\n").replace("Y8.500", "Y7.300"),
        ),
        row(
            "keep-out",
            "into the fixture in front",
            low("G1 Y-9.000 F800\nG1 Y-2.500\n"),
        ),
        row(
            "keep-out",
            "into the fixture behind",
            low("G1 Y15.000 F800\nG1 Y-2.500\n"),
        ),
        row(
            "keep-out",
            "off the datum end",
            low("G1 X-7.100 F800\nG1 X14.675\n"),
        ),
        row(
            "keep-out",
            "into the stop at the datum end",
            low("G1 X-3.000 F800\nG1 Y3.000\nG1 Y-2.500\nG1 X14.675\n"),
        ),
        row(
            "keep-out",
            "off the far end",
            low("G1 X108.000 F800\nG1 X14.675\n"),
        ),
        row("into-table", "into the table", beside("G1 Z-12.100 F300\n")),
        row("outside-travel", "beyond X", late("G0 X286.000\n")),
        row("outside-travel", "beyond Y", late("G0 Y-31.000\n")),
        row(
            "outside-travel",
            "more up and down than Z has",
            late("G0 Z44.100\n"),
        ),
        row(
            "low-rapid",
            "sideways just over the wood",
            late("G0 X30.000\nG0 Z1.000\nG0 Y8.500\nG0 Z8.000\n"),
        ),
        row(
            "low-rapid",
            "sideways beside the bundle",
            low("G0 X10.000\nG1 X14.675 F800\n"),
        ),
        row(
            "low-rapid",
            "back through the notch",
            swap("G1 X15.325\nG1 Y-2.500\n", "G0 Y-2.500\nG1 X15.325\n"),
        ),
        row(
            "rapid-in-stock",
            "the first pass at full speed",
            swap("G1 Y8.500 F800\n", "G0 Y8.500\nF800\n"),
        ),
        row(
            "position-unknown",
            "all axes at once",
            swap("G0 Z8.000\n", "G0 X10.000 Y-2.500 Z8.000\n"),
        ),
        row(
            "position-unknown",
            "not over the clamps",
            swap("G0 Z8.000\n", "G0 Z2.000\n"),
        ),
        row(
            "position-unknown",
            "sideways first",
            swap("G0 Z8.000\n", "G0 X10.000 Y-2.500\nG0 Z8.000\n"),
        ),
        row(
            "distance-unstated",
            "no G90",
            swap("G17 G90 G94\n", "G17 G94\n"),
        ),
        row("units-unstated", "no G21", swap("G21\n", "")),
        row(
            "not-retracted",
            "ends down",
            bench.good().replace("G0 Z8.000\nG0 Z8.000\nM5", "M5"),
        ),
        row(
            "notch-missing",
            "the other bundle's notches",
            bench.programs[1].clone(),
        ),
        row(
            "notch-centre",
            "inches with two decimals",
            in_inches(bench.good(), 2),
        ),
    ]
}
