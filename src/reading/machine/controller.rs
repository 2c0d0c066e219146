//! The `[controller]` table of a router's profile.

use crate::dialects::{Controller, DwellUnit, PathMode, ProgramEnd, SetUps};
use crate::reading::fields::Fields;

const DIALECTS: [(&str, Controller); 3] = [
    ("full", Controller::FULL),
    ("bare", Controller::BARE),
    ("numbered", Controller::NUMBERED),
];

/// A named dialect, and what differs from it; without one, everything that a program depends on.
pub(super) fn read_controller(fields: Fields<'_>) -> Option<Controller> {
    let dialect = fields.choice("dialect", &DIALECTS);
    // A word that is not known is told already; what else is missing then, nobody knows.
    let named = fields.has("dialect");
    let base = dialect.unwrap_or(Controller {
        path_mode: None,
        cancels: false,
        ..Controller::FULL
    });
    let dwells = [
        ("seconds", DwellUnit::Seconds),
        ("milliseconds", DwellUnit::Milliseconds),
    ];
    let ends = [("M2", ProgramEnd::M2), ("M30", ProgramEnd::M30)];
    let path_modes = [
        ("exact-path", Some(PathMode::ExactPath)),
        ("continuous", Some(PathMode::Continuous)),
        ("none", None),
    ];
    let (decimals, dwell, program_end, longest_line) = if named {
        (
            fields.count("decimals", DECIMALS).or(Some(base.decimals)),
            fields.choice("dwell", &dwells).or(Some(base.dwell)),
            fields
                .choice("program_end", &ends)
                .or(Some(base.program_end)),
            fields
                .count("longest_line", LINES)
                .map_or(Some(base.longest_line), |length| Some(length as usize)),
        )
    } else {
        (
            fields.required_count("decimals", DECIMALS),
            fields.required_choice("dwell", &dwells),
            fields.required_choice("program_end", &ends),
            fields
                .required_count("longest_line", LINES)
                .map(|length| length as usize),
        )
    };
    let path_mode = fields.choice("path_mode", &path_modes);
    let set_ups = [("files", SetUps::Files), ("one-file", SetUps::OneFile)];
    let set_ups = fields.choice("set_ups", &set_ups);
    let flag = |key, usual| fields.flag(key).unwrap_or(usual);
    let line_numbers = flag("line_numbers", base.line_numbers);
    let percent_signs = flag("percent_signs", base.percent_signs);
    let work_zero = flag("work_zero", base.work_zero);
    let cancels = flag("cancels", base.cancels);
    fields.finish();
    Some(Controller {
        decimals: decimals?,
        dwell: dwell?,
        program_end: program_end?,
        path_mode: path_mode.unwrap_or(base.path_mode),
        line_numbers,
        percent_signs,
        longest_line: longest_line?,
        work_zero,
        cancels,
        set_ups: set_ups.unwrap_or(base.set_ups),
    })
}

/// Digits after the point: what such machines resolve.
const DECIMALS: std::ops::RangeInclusive<u32> = 3..=4;

/// Characters in a line.
const LINES: std::ops::RangeInclusive<u32> = 40..=256;
