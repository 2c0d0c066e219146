//! What a router's controller takes and wants, beyond the portable core of RS274/NGC
//! (NISTIR 6556) and ISO 6983-1.

/// How a program has to be spelt for a controller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Controller {
    /// Digits after the decimal point of coordinates, 2 to 4. Three in mm is the usual least
    /// unit, 0.001 mm (from memory).
    pub decimals: u32,
    /// What the `P` of a dwell (G4) counts. NISTIR 6556, 3.5.4: seconds; some controllers count
    /// milliseconds (from memory).
    pub dwell: DwellUnit,
    /// The word that ends a program; both reset the machine (NISTIR 6556, 3.6.1).
    pub program_end: ProgramEnd,
    /// Path control to ask for, if any (NISTIR 6556, 3.5.14); no cut depends on it, as corners of
    /// the path lie in air.
    pub path_mode: Option<PathMode>,
    /// Number the blocks (N words; NISTIR 6556, 3.3.1).
    pub line_numbers: bool,
    /// Put a line with a percent sign before and after the program (NISTIR 6556, 3.1).
    pub percent_signs: bool,
    /// Longest line it takes, characters. NISTIR 6556, 3.3: 256.
    pub longest_line: usize,
    /// State the work zero, G54 (NISTIR 6556, 3.5.13); a controller without such zeros has the one
    /// that was set.
    pub work_zero: bool,
    /// Cancel what an earlier program may have left on: radius compensation, length offset, cycles
    /// (G40, G49, G80; NISTIR 6556, 3.5.10, 3.5.11, 3.5.15), each in a block of its own.
    pub cancels: bool,
    /// Where one set-up ends and the next begins.
    pub set_ups: SetUps,
}

impl Controller {
    /// All of RS274/NGC.
    pub const FULL: Controller = Controller {
        decimals: 3,
        dwell: DwellUnit::Seconds,
        program_end: ProgramEnd::M2,
        path_mode: Some(PathMode::ExactPath),
        line_numbers: false,
        percent_signs: false,
        longest_line: 72,
        work_zero: true,
        cancels: true,
        set_ups: SetUps::Files,
    };

    /// No cycles, no tool change, no offsets: straight moves, spindle, waits.
    pub const BARE: Controller = Controller {
        program_end: ProgramEnd::M30,
        path_mode: None,
        work_zero: false,
        cancels: false,
        ..Controller::FULL
    };

    /// Numbered blocks between percent signs, as ISO 6983-1 has them.
    pub const NUMBERED: Controller = Controller {
        program_end: ProgramEnd::M30,
        path_mode: None,
        line_numbers: true,
        percent_signs: true,
        ..Controller::FULL
    };
}

/// Unit of a dwell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DwellUnit {
    /// As the standard says.
    Seconds,
    /// As some controllers do.
    Milliseconds,
}

/// The last word of a program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProgramEnd {
    /// End.
    M2,
    /// End, and rewind on tape.
    M30,
}

/// Path control modes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PathMode {
    /// G61.
    ExactPath,
    /// G64.
    Continuous,
}

/// How set-ups are parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SetUps {
    /// Each has a program of its own.
    #[default]
    Files,
    /// One program has them all and stops between them (M0; NISTIR 6556, 3.6.1).
    OneFile,
}
