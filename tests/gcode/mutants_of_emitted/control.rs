//! A control as plain as can be, for programs as they are written here and their mutants: it knows
//! the words that are written and refuses the rest. It shares nothing with the proof's reader.

/// What a line asks for, in mm, mm/min, 1/min and the control's unit of waiting.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Act {
    /// A straight move to the places given.
    Move { rapid: bool, to: [Option<f64>; 3] },
    /// A wait.
    Wait(f64),
    /// `Some(true)`: clockwise.
    Spindle(Option<bool>),
    /// The end.
    End,
}

/// What has been said so far.
#[derive(Debug, Clone, Default)]
pub(crate) struct Modes {
    pub inches: bool,
    pub relative: bool,
    pub rapid: Option<bool>,
    pub feed: f64,
    pub rpm: f64,
    /// Corners are reached.
    pub exact: bool,
    pub units_said: bool,
    pub distance_said: bool,
    pub feed_mode_said: bool,
    pub zero_said: bool,
}

/// The words of a line, or why it cannot be read. Comments are left out.
fn words(line: &str) -> Result<Vec<(char, String)>, String> {
    let mut words: Vec<(char, String)> = Vec::new();
    let mut in_comment = false;
    for c in line.chars() {
        match (in_comment, c) {
            (true, ')') => in_comment = false,
            (true, _) | (false, ' ') => {}
            (false, '(') => in_comment = true,
            (false, c) if c.is_ascii_uppercase() => words.push((c, String::new())),
            (false, c) if c.is_ascii_digit() || "+-.".contains(c) => {
                let word = words.last_mut().ok_or("a number without a letter")?;
                word.1.push(c);
            }
            _ => return Err(format!("{c} is not written here")),
        }
    }
    if in_comment {
        return Err("an open comment".to_owned());
    }
    Ok(words)
}

impl Modes {
    /// Carries a line out up to what it does; `at` is where the cutter is.
    pub(crate) fn read(&mut self, line: &str, at: [Option<f64>; 3]) -> Result<Vec<Act>, String> {
        let mut acts = Vec::new();
        let mut axes = [None; 3];
        let mut wait = None;
        let mut waits = false;
        for (letter, number) in words(line)? {
            let value: f64 = number.parse().map_err(|_| format!("{letter}{number}"))?;
            let code = format!("{letter}{}", number.trim_start_matches('0'));
            match letter {
                'N' => {}
                'X' | 'Y' | 'Z' => {
                    let axis = "XYZ".find(letter).unwrap_or_default();
                    if axes[axis].replace(value).is_some() {
                        return Err(format!("{letter} twice"));
                    }
                }
                'F' => self.feed = value * if self.inches { 25.4 } else { 1.0 },
                'S' => self.rpm = value,
                'P' => wait = Some(value),
                'G' if value == 0.0 => self.rapid = Some(true),
                'G' | 'M' => waits |= self.code(&code, &mut acts)?,
                _ => return Err(format!("{letter} is not written here")),
            }
        }
        if waits != wait.is_some() {
            return Err("G4 and P go together".to_owned());
        }
        acts.extend(wait.map(Act::Wait));
        if axes != [None; 3] {
            let rapid = self.rapid.ok_or("axis words without a motion")?;
            let scale = if self.inches { 25.4 } else { 1.0 };
            let place = |axis: usize| match axes[axis] {
                None => at[axis],
                Some(value) if self.relative => at[axis].map(|at| at + value * scale),
                Some(value) => Some(value * scale),
            };
            let to = [0, 1, 2].map(place);
            acts.push(Act::Move { rapid, to });
        }
        Ok(acts)
    }

    /// One G or M word; true for a wait.
    fn code(&mut self, code: &str, acts: &mut Vec<Act>) -> Result<bool, String> {
        match code {
            "G1" => self.rapid = Some(false),
            "G4" => return Ok(true),
            "G17" => {}
            "G20" | "G21" => {
                self.inches = code == "G20";
                self.units_said = true;
            }
            "G54" => self.zero_said = true,
            "G61" | "G64" => self.exact = code == "G61",
            "G90" | "G91" => {
                self.relative = code == "G91";
                self.distance_said = true;
            }
            "G94" => self.feed_mode_said = true,
            "M2" | "M30" => acts.push(Act::End),
            "M3" | "M4" => acts.push(Act::Spindle(Some(code == "M3"))),
            "M5" => acts.push(Act::Spindle(None)),
            _ => return Err(format!("{code} is not written here")),
        }
        Ok(false)
    }
}
