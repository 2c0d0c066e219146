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
    let decimals = if named {
        fields.count("decimals", DECIMALS).or(Some(base.decimals))
    } else {
        fields.required_count("decimals", DECIMALS)
    };
    let dwells = [
        ("seconds", DwellUnit::Seconds),
        ("milliseconds", DwellUnit::Milliseconds),
    ];
    let dwell = if named {
        fields.choice("dwell", &dwells).or(Some(base.dwell))
    } else {
        fields.required_choice("dwell", &dwells)
    };
    let ends = [("M2", ProgramEnd::M2), ("M30", ProgramEnd::M30)];
    let program_end = if named {
        let end = fields.choice("program_end", &ends);
        end.or(Some(base.program_end))
    } else {
        fields.required_choice("program_end", &ends)
    };
    let longest_line = if named {
        let length = fields.count("longest_line", LINES);
        length.map_or(Some(base.longest_line), |length| Some(length as usize))
    } else {
        let length = fields.required_count("longest_line", LINES);
        length.map(|length| length as usize)
    };
    let path_modes = [
        ("exact-path", Some(PathMode::ExactPath)),
        ("continuous", Some(PathMode::Continuous)),
        ("none", None),
    ];
    let path_mode = fields.choice("path_mode", &path_modes);
    let set_ups = [("files", SetUps::Files), ("one-file", SetUps::OneFile)];
    let set_ups = fields.choice("set_ups", &set_ups);
    let line_numbers = fields.flag("line_numbers");
    let percent_signs = fields.flag("percent_signs");
    let work_zero = fields.flag("work_zero");
    let cancels = fields.flag("cancels");
    fields.finish();
    Some(Controller {
        decimals: decimals?,
        dwell: dwell?,
        program_end: program_end?,
        path_mode: path_mode.unwrap_or(base.path_mode),
        line_numbers: line_numbers.unwrap_or(base.line_numbers),
        percent_signs: percent_signs.unwrap_or(base.percent_signs),
        longest_line: longest_line?,
        work_zero: work_zero.unwrap_or(base.work_zero),
        cancels: cancels.unwrap_or(base.cancels),
        set_ups: set_ups.unwrap_or(base.set_ups),
    })
}

/// Digits after the point: what such machines resolve.
const DECIMALS: std::ops::RangeInclusive<u32> = 3..=4;

/// Characters in a line.
const LINES: std::ops::RangeInclusive<u32> = 40..=256;
