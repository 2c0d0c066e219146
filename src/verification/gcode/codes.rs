//! The G and M numbers that are known, by modal group (NISTIR 6556, table 4), and those that are
//! refused with a reason.

/// Motions (group 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MotionCode {
    /// G0.
    Rapid,
    /// G1.
    Feed,
    /// G2.
    Clockwise,
    /// G3.
    CounterClockwise,
    /// G80: no motion.
    Cancel,
    /// G81.
    Drill,
    /// G82.
    DrillDwell,
    /// G83.
    DrillPeck,
}

impl MotionCode {
    /// Whether it is one of the drilling cycles.
    pub fn is_cycle(self) -> bool {
        matches!(
            self,
            MotionCode::Drill | MotionCode::DrillDwell | MotionCode::DrillPeck
        )
    }
}

/// Plane of arcs (group 2); the third axis stands on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ArcPlane {
    /// G17.
    #[default]
    Xy,
    /// G18.
    Zx,
    /// G19.
    Yz,
}

impl ArcPlane {
    /// The indices of its first, second and third axis (x 0, y 1, z 2), right-handed: first to
    /// second is counter-clockwise as seen from the third's positive end (3.5.3).
    pub fn axes(self) -> [usize; 3] {
        match self {
            ArcPlane::Xy => [0, 1, 2],
            ArcPlane::Zx => [2, 0, 1],
            ArcPlane::Yz => [1, 2, 0],
        }
    }
}

/// Path control (group 13).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PathControl {
    /// G61 or G61.1: corners are reached.
    Exact,
    /// G64: corners may be rounded, by at most so many mm where P says so.
    Blended(Option<f64>),
}

/// Codes that act once (group 0).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NonModal {
    /// G4.
    Dwell,
    /// G10.
    StoreZero,
    /// G28.
    Home,
    /// G30.
    SecondHome,
    /// G53.
    MachineFrame,
    /// G92.
    Rename,
    /// G92.1 and G92.2.
    RenameOff,
}

/// Stops (M group 4).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProgramStop {
    /// M0.
    Always,
    /// M1: if the switch says so.
    Optional,
    /// M2 and M30.
    End,
}

/// Spindle words (M group 7).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpindleTurn {
    /// M3.
    Clockwise,
    /// M4.
    CounterClockwise,
    /// M5.
    Stopped,
}

/// What a G or M word asks for; each kind is a modal group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Code {
    /// Group 1.
    Motion(MotionCode),
    /// Group 2.
    Plane(ArcPlane),
    /// Group 3: G90 (true) or G91.
    Absolute(bool),
    /// G90.1 (true) or G91.1, for the centres of arcs.
    ArcAbsolute(bool),
    /// Group 5: G93 (true) or G94.
    InverseTime(bool),
    /// Group 6: G20 (true) or G21.
    Inches(bool),
    /// Group 7: G40.
    NoRadiusOffset,
    /// Group 8: G43 (true) or G49.
    LengthOffset(bool),
    /// Group 10: G98, back to where it came from (true), or G99, back to R.
    RetractToOld(bool),
    /// Group 12: G54 to G59, as 0 to 5.
    WorkZero(usize),
    /// Group 13: G61 and G61.1 (true) or G64.
    ExactPath(bool),
    /// Group 0.
    NonModal(NonModal),
    /// M group 4.
    Stop(ProgramStop),
    /// M group 6.
    ToolChange,
    /// M group 7.
    Spindle(SpindleTurn),
    /// M group 8: M7, M8 on (true), M9 off.
    Coolant(bool),
}

/// The G code with this number, in tenths.
///
/// # Errors
/// Why it is refused.
pub fn g_code(tenths: u32) -> Result<Code, String> {
    Ok(match tenths {
        0 => Code::Motion(MotionCode::Rapid),
        10 => Code::Motion(MotionCode::Feed),
        20 => Code::Motion(MotionCode::Clockwise),
        30 => Code::Motion(MotionCode::CounterClockwise),
        800 => Code::Motion(MotionCode::Cancel),
        810 => Code::Motion(MotionCode::Drill),
        820 => Code::Motion(MotionCode::DrillDwell),
        830 => Code::Motion(MotionCode::DrillPeck),
        170 => Code::Plane(ArcPlane::Xy),
        180 => Code::Plane(ArcPlane::Zx),
        190 => Code::Plane(ArcPlane::Yz),
        900 | 910 => Code::Absolute(tenths == 900),
        901 | 911 => Code::ArcAbsolute(tenths == 901),
        930 | 940 => Code::InverseTime(tenths == 930),
        200 | 210 => Code::Inches(tenths == 200),
        400 => Code::NoRadiusOffset,
        430 | 490 => Code::LengthOffset(tenths == 430),
        980 | 990 => Code::RetractToOld(tenths == 980),
        540 => Code::WorkZero(0),
        550 => Code::WorkZero(1),
        560 => Code::WorkZero(2),
        570 => Code::WorkZero(3),
        580 => Code::WorkZero(4),
        590 => Code::WorkZero(5),
        610 | 611 => Code::ExactPath(true),
        640 => Code::ExactPath(false),
        40 => Code::NonModal(NonModal::Dwell),
        100 => Code::NonModal(NonModal::StoreZero),
        280 => Code::NonModal(NonModal::Home),
        300 => Code::NonModal(NonModal::SecondHome),
        530 => Code::NonModal(NonModal::MachineFrame),
        920 => Code::NonModal(NonModal::Rename),
        921 | 922 => Code::NonModal(NonModal::RenameOff),
        _ => return Err(refused_g(tenths)),
    })
}

fn refused_g(tenths: u32) -> String {
    let what = match tenths {
        410 | 411 | 420 | 421 => {
            "cutter radius compensation, whose path depends on a figure typed in at the control; \
             program the path of the cutter's centre"
        }
        50..=53 | 332 => "a curve that is not known here; use G1, G2 and G3",
        330 | 331 | 760 => "threading",
        382..=385 => "probing, whose end point nobody can know beforehand",
        431 | 432 => "a length offset given in the program; touch the tool off instead",
        520 | 923 => "a shifted zero; set the work zero once and leave it",
        591..=593 => "a work zero that many controls lack; use G54 to G59",
        680 | 690 => "a turned frame",
        730 | 740 | 840 | 850 | 860 | 870 | 880 | 890 => {
            "a drilling or boring cycle that is not known here; use G81 to G83 or plain moves"
        }
        950 | 960 | 970 => "a feed or speed tied to the spindle's turns",
        _ => "not known here",
    };
    let whole = tenths / 10;
    let part = tenths % 10;
    let point = if part == 0 {
        String::new()
    } else {
        format!(".{part}")
    };
    format!("G{whole}{point} is refused: {what}")
}

/// The M code with this number.
///
/// # Errors
/// Why it is refused.
pub fn m_code(number: u32) -> Result<Code, String> {
    Ok(match number {
        0 => Code::Stop(ProgramStop::Always),
        1 => Code::Stop(ProgramStop::Optional),
        2 | 30 => Code::Stop(ProgramStop::End),
        3 => Code::Spindle(SpindleTurn::Clockwise),
        4 => Code::Spindle(SpindleTurn::CounterClockwise),
        5 => Code::Spindle(SpindleTurn::Stopped),
        6 => Code::ToolChange,
        7 | 8 => Code::Coolant(true),
        9 => Code::Coolant(false),
        _ => {
            let what = match number {
                48 | 49 => "override switches",
                60 => "a pallet change",
                98 | 99 => "a subprogram; write the moves out",
                _ => "not known here",
            };
            return Err(format!("M{number} is refused: {what}"));
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refusals_say_what_they_refuse() {
        assert!(g_code(410).unwrap_err().contains("radius compensation"));
        assert_eq!(
            g_code(51).unwrap_err().split(':').next(),
            Some("G5.1 is refused")
        );
        assert!(m_code(98).unwrap_err().contains("subprogram"));
    }

    #[test]
    fn planes_are_right_handed() {
        for plane in [ArcPlane::Xy, ArcPlane::Zx, ArcPlane::Yz] {
            let [first, second, third] = plane.axes();
            assert_eq!((first + 1) % 3, second);
            assert_eq!((second + 1) % 3, third);
        }
    }
}
